//! The wording of what stands in the wrong place. Codes K180 to K189.

use crate::diagnostics::{Code, Diagnostic};
use crate::sources::Span;
use crate::syntax::Verb;

/// A line that belongs in another entry or definition.
pub(crate) const MISPLACED_LINE: Code = Code(180);
/// A part of a head that belongs in another head.
pub(crate) const MISPLACED_PART: Code = Code(181);
/// A line, or a part of a head, that may stand once and stands twice.
pub(crate) const REPEATED: Code = Code(182);
/// Something said of an item where it has no meaning.
pub(crate) const MISPLACED_SAID: Code = Code(183);
/// An item without its word in a batch.
pub(crate) const BARE_ITEM_IN_BATCH: Code = Code(184);
/// A head without a part that it needs.
pub(crate) const HEAD_PART_MISSING: Code = Code(185);

/// Words between backticks, parted by commas, the last by `or`.
fn either(words: &[&str]) -> String {
    let quoted: Vec<_> = words.iter().map(|word| format!("`{word}`")).collect();
    match quoted.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, first)) => format!("{} or {last}", first.join(", ")),
        None => String::new(),
    }
}

/// Words between backticks unless they describe instead of quoting.
fn named(words: &str) -> String {
    if words.starts_with("a ") || words.starts_with("an ") || words == "sizes" { words.to_owned() } else { format!("`{words}`") }
}

/// The entries that are written most, the commonest first: where a line has a place in many, three of these are told.
const LIKELIEST: [&str; 7] = ["bought", "sold", "paid", "built", "sent", "counted", "received"];

/// A line of another block; where it belongs in many, the three likeliest are told.
pub(crate) fn misplaced_line(line: Span, words: &str, block: &str, belongs: &[&str]) -> Diagnostic {
    let likely: Vec<&str> = LIKELIEST.into_iter().filter(|word| belongs.contains(word)).take(3).collect();
    let places = if belongs.len() > 4 && likely.len() == 3 { &likely } else { belongs };
    let message = format!("{} belongs in {}, not in `{block}`", named(words), either(places));
    Diagnostic::new(MISPLACED_LINE, line, message)
}

/// Lines of another block, one below another.
pub(crate) fn misplaced_lines(first: Span, count: usize, block: &str, belongs: &[&str]) -> Diagnostic {
    let likely: Vec<&str> = LIKELIEST.into_iter().filter(|word| belongs.contains(word)).take(3).collect();
    let places = if belongs.len() > 4 && !likely.is_empty() { &likely } else { belongs };
    let message = format!("this line and those below it, {count} in all, belong in {}, not in `{block}`", either(places));
    Diagnostic::new(MISPLACED_LINE, first, message).note("is the line missing with which their entry begins?")
}

/// What is added where a line of another block stands at column 1.
pub(crate) const AT_COLUMN_ONE: &str = "a line at column 1 that begins no entry is read as one of the block above";

/// A part of another head.
pub(crate) fn misplaced_part(part: Span, words: &str, verb: &str, belongs: &[&str]) -> Diagnostic {
    let message = format!("{} belongs in the head of {}, not of `{verb}`", named(words), either(belongs));
    Diagnostic::new(MISPLACED_PART, part, message)
}

/// The same answered twice in one block.
pub(crate) fn repeated(second: Span, first: Span, words: &str, first_words: &str, block: &str) -> Diagnostic {
    let message = if words == first_words {
        format!("{} stands twice in one `{block}`", named(words))
    } else {
        format!("`{first_words}` and `{words}` exclude each other in one `{block}`")
    };
    Diagnostic::new(REPEATED, second, message).label("again").also(first, "said here first")
}

/// What is added where all of a cost is taken under section 179, and years are said too.
pub(crate) const A_PART_BESIDE: &str =
    "beside a part under section 179 the rest may be recovered over years: `expensed under section 179 500.00`";

/// A part of a head twice.
pub(crate) fn repeated_part(second: Span, first: Span, words: &str, verb: &str) -> Diagnostic {
    Diagnostic::new(REPEATED, second, format!("{} stands twice in the head of one `{verb}`", named(words)))
        .label("again")
        .also(first, "said here first")
}

/// The receipt both in the head and on a line.
pub(crate) fn receipt_in_head(line: Span, head: Span) -> Diagnostic {
    Diagnostic::new(REPEATED, line, "the receipt stands in the head already").label("again").also(head, "said here first")
}

/// Something said of an item that can't be said of it.
pub(crate) fn misplaced_said(said: Span, words: &str, where_it_is: &str, belongs: &[&str]) -> Diagnostic {
    let message = format!("{} is said in {}, not in `{where_it_is}`", named(words), either(belongs));
    Diagnostic::new(MISPLACED_SAID, said, message)
}

/// Whether a misplaced `on …` is meant for a bill that is paid later.
pub(crate) fn is_on_account(words: &str) -> bool {
    let mut words = words.split_whitespace();
    words.next() == Some("on") && matches!(words.next(), Some("account" | "credit" | "tick")) && words.next().is_none()
}

/// `on account`, in the head or on a line.
pub(crate) fn on_account(words: Span, code: Code) -> Diagnostic {
    Diagnostic::new(code, words, "what is paid later has a line of its own: `unpaid`")
        .note("it stands below the goods, indented as they are")
}

/// Whether a word is a day of the week, or a day near.
fn is_day(word: &str) -> bool {
    let word = word.to_lowercase();
    ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday", "yesterday"].contains(&word.as_str())
}

/// Something misplaced of an item, with what was probably meant: `worth 84` for its price, `by card` for how it was paid.
pub(crate) fn with_said_meant(told: Diagnostic, said: &str, verb: Verb) -> Diagnostic {
    let words = told.primary.span;
    match said.split_once(' ').map(|(word, rest)| (word, rest.trim())) {
        Some(("worth", sum)) if matches!(verb, Verb::Opened | Verb::Bought | Verb::Sold) => {
            told.fix("the money for the whole line", words, format!("for {sum}"))
        }
        Some(("on", day)) if verb.is_of_a_batch() && is_day(day) => told
            .note("the time of a batch is of the day of its entry; a batch over several days is `started`, `continued` and `finished`, with the same name, a day each")
            .fix("where the day does not matter", Span::new(words.start.saturating_sub(1), words.end), ""),
        Some((sum, "back")) if matches!(verb, Verb::SentBack | Verb::Returned) => {
            told.fix("the money that comes back for it", words, format!("refunded {sum}"))
        }
        Some(("worth", sum)) if verb == Verb::Swapped => told
            .note("in a swap the worth stands behind what you got: `got 2 bowls for 24.00`; what you gave then brought as much")
            .fix("behind what you got, the money for the whole line", words, format!("for {sum}")),
        Some(("by", how @ ("card" | "cash" | "check"))) if verb == Verb::Sold => {
            told.note(format!("how much came as {how} is a line of its own, below the goods: `{how} 85.00`")).fix(
                "without it",
                Span::new(words.start.saturating_sub(1), words.end),
                "",
            )
        }
        Some(("for", sum)) if matches!(verb, Verb::SentBack | Verb::Returned) => {
            told.fix("the money that comes back for it", words, format!("refunded {sum}"))
        }
        // Goods that go to a place are not sold there yet.
        Some(("at", price)) if verb == Verb::Sent => told
            .note("goods that are sent keep what they cost; the price there is the product's `price`, unless their sale says another")
            .note(format!("what they are sold for is said in that sale: `sold 2026-03-31 via NAME`, and below it `1 pull-cart at {price}`"))
            .fix("without the price", Span::new(words.start.saturating_sub(1), words.end), ""),
        _ => told,
    }
}

/// An item of a batch without its word; `indent` is what its line lacks of indentation.
pub(crate) fn bare_item_in_batch(line: Span, is_time: bool, verb: Verb, indent: &str) -> Diagnostic {
    let start = Span::new(line.start, line.start);
    let told = Diagnostic::new(BARE_ITEM_IN_BATCH, line, "a batch line begins with used, took, made, lost or kept");
    if is_time {
        return told.fix("time that it took", start, format!("{indent}took "));
    }
    let told = match verb {
        Verb::Started => told.fix("if it is what the batch is to make", start, format!("{indent}aims at ")),
        _ => told,
    };
    told.fix("if it was used up", start, format!("{indent}used ")).fix("if it was made", start, format!("{indent}made ")).fix(
        "if it was spoiled",
        start,
        format!("{indent}lost "),
    )
}

/// `2 cracked`, `2 mugs cracked` in a batch: what was spoiled.
pub(crate) fn spoiled_in_batch(line: Span, (count, name, how): (&str, &str, &str), indent: &str) -> Diagnostic {
    let right = format!("lost {count} {name} \"{how}\"");
    Diagnostic::new(BARE_ITEM_IN_BATCH, line, format!("what was spoiled is said with `lost`: `{right}`"))
        .note("`made` counts the good ones alone")
        .fix("write it so", line, format!("{indent}{right}"))
}

/// What is added where a sale names no channel.
pub(crate) const CHANNEL_OF_ITS_OWN: &str =
    "a channel of your own is defined in any file, as for sales from the shop: `channel direct \"Direct\"`";

/// A head that needs more.
pub(crate) fn head_part_missing(head: Span, verb: &str, parts: &[&str], example: &str) -> Diagnostic {
    let parts: Vec<String> = parts.iter().map(|part| named(part)).collect();
    Diagnostic::new(HEAD_PART_MISSING, head, format!("`{verb}` needs {} in its head", parts.join(" or ")))
        .note(format!("as in `{example}`"))
}

/// `paid 2026-03-05` at column 1 with sums below it: an entry that doesn't say who was paid. `memo` is a text behind the day.
pub(crate) fn payee_missing(head: Span, memo: Option<Span>, example: &str) -> Diagnostic {
    let told = head_part_missing(head, "paid", &["to"], example);
    match memo {
        Some(memo) => told.fix("if that is who was paid", Span::new(memo.start, memo.start), "to "),
        None => told.fix("say who was paid", Span::new(head.end, head.end), " to NAME"),
    }
}

/// A supplier or channel after `at`.
pub(crate) fn no_place_after_at(part: Span, name: &str, what: &str, meant: &str) -> Diagnostic {
    Diagnostic::new(MISPLACED_PART, part, format!("`at` is a place of the shop, and `{name}` is none; {what}")).fix(
        format!("write `{meant}`"),
        part,
        format!("{meant} {name}"),
    )
}
