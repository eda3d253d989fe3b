//! Slips of small words: a missing `on`, `shared` or `of`, `batch` for `lot`, a discount in an item.

use super::name::memo_in_between;
use super::remark::is_remark_word;
use super::slip::{Slip, SlipRule};
use super::sums::less_percent;
use super::time::time_at;
use super::typed::{Typed, Word, is_digits, is_name, is_number};
use crate::diagnostics::edits;
use crate::syntax::slip_errors::{OWN_LINE, SMALL_WORD};
use crate::syntax::{Verb, words};

pub(super) const RULES: &[SlipRule] = &[
    per_word,
    on_missing,
    step_last,
    consignment_in_words,
    shared_missing,
    of_missing,
    discount_in_item,
    lot_not_batch,
    batch_of_made,
    of_between,
    some_left,
    left_in_count,
    for_missing,
    for_not_on,
    orders_of_one,
    other_small_word,
    orders_of_several,
    comma_before_memo,
    memo_before_more,
    paid_how,
    licence_missing,
    years_missing,
    packed_with,
    nothing_else,
    as_planned_alone,
];

pub(super) fn tell(typed: &Typed<'_>, words: std::ops::Range<usize>, message: String, right: &str) -> Slip {
    Slip::new(SMALL_WORD, typed.range(words.clone()), message).fix("write it so", typed.with(words, right))
}

/// `wears 1 blade every 40 min`, `wears 1 blade 40 min`, `needs 1 sheet baltic-6 for 18 ea`
pub(super) fn per_word(typed: &Typed<'_>) -> Option<Slip> {
    let list = typed.word(0);
    if !typed.is_detail() || !list.is_one_of(&["wears", "needs", "takes"]) {
        return None;
    }
    let (at, end) = (3..typed.words.len()).find_map(|at| {
        let (before, word, figure) = (typed.word(at - 1), typed.word(at), typed.word(at + 1));
        let parted = before.is("per") || !is_name(before.text);
        let time = time_at(typed, at + 1);
        let other = (word.is_one_of(&["every", "each", "in", "for", "to"]) || edits(word.text, "per") == 1)
            && (time > 0 || figure.is_number());
        let bare = list.is("wears") && time_at(typed, at) > 0;
        match () {
            () if parted || word.comma => None,
            () if other && !before.comma => Some((at, at + 1 + if time > 0 { time } else { 2 })),
            () if bare => Some((at, at + time_at(typed, at))),
            () => None,
        }
    })?;
    let from = if time_at(typed, at) > 0 { at } else { at + 1 };
    let right = format!("per {}", typed.slice(from..end));
    let message = match list.text {
        "wears" => format!("how often it is worn is said with `per`: `{right}`"),
        _ => format!("for how many that is is said with `per`: `{right}`"),
    };
    Some(tell(typed, at..end, message, &right))
}

/// `45m sanding PC-014`
fn on_missing(typed: &Typed<'_>) -> Option<Slip> {
    let is_time = |text: &str| text.strip_suffix(['h', 'm']).is_some_and(is_number) || text == "min" || text == "h";
    let at = (2..typed.words.len()).find(|at| {
        let (time, step, what) = (typed.word(at - 2), typed.word(at - 1), typed.word(*at));
        is_time(time.text)
            && step.is_name()
            && !step.comma
            && !what.quoted
            && is_code(what.text)
            && !what.is_one_of(&["by", "on", "per"])
            // `fine sanding` is as likely a step of two words.
            && !what.text.chars().all(char::is_lowercase)
    })?;
    if typed.verb() != Some(Verb::Worked) || !typed.is_detail() {
        return None;
    }
    let what = typed.word(at).text;
    Some(tell(typed, at..at + 1, "what for? `on` stands before it".to_owned(), &format!("on {what}")))
}

/// `2h on SB-003 sanding`
fn step_last(typed: &Typed<'_>) -> Option<Slip> {
    let time = time_at(typed, 0);
    let (on, what, step) = (typed.word(time), typed.word(time + 1), typed.word(time + 2));
    let fits = time > 0 && on.is("on") && !what.quoted && is_code(what.text) && !what.comma && step.is_name();
    if typed.verb() != Some(Verb::Worked) || !typed.is_detail() || !fits || typed.words.len() != time + 3 || step.is("by") {
        return None;
    }
    let right = format!("{} on {}", step.text, what.text);
    Some(tell(typed, time..time + 3, format!("the step comes first: `{right}`"), &right))
}

/// `consignment, keeps 40%`, `consignment at 40%`
fn consignment_in_words(typed: &Typed<'_>) -> Option<Slip> {
    let share = typed.words.iter().skip(1).find(|word| word.text.strip_suffix('%').is_some_and(is_number))?;
    if !typed.word(0).is("consignment") || typed.words.len() > 5 || !typed.is_detail() {
        return None;
    }
    let right = format!("consignment {}", share.text);
    Some(tell(typed, 0..typed.words.len(), format!("what the channel keeps is said with `{right}`"), &right))
}

fn is_code(text: &str) -> bool {
    is_name(text) || text.contains('-') && text.chars().all(|letter| letter.is_alphanumeric() || letter == '-')
}

/// `freight 18.00 by value`
fn shared_missing(typed: &Typed<'_>) -> Option<Slip> {
    let at = (1..typed.words.len()).find(|at| {
        typed.word(*at).is("by") && typed.word(at + 1).is_one_of(&["value", "quantity", "weight", "price", "count"])
    })?;
    if typed.word(at - 1).is("shared") {
        return None;
    }
    let how = typed.word(at + 1).text;
    let start = if typed.word(at - 1).is_one_of(&["split", "spread", "divided", "allocated"]) { at - 1 } else { at };
    let right = format!("shared by {how}");
    Some(tell(typed, start..at + 2, format!("how it is shared is said with `{right}`"), &right))
}

/// `fee 3% total`, `fee 3%`, `fee 0.25 a sale`
fn of_missing(typed: &Typed<'_>) -> Option<Slip> {
    let figure = typed.word(1);
    let is_part = figure.text.strip_suffix('%').is_some_and(is_number);
    if !typed.word(0).is("fee") || !(is_part || figure.is_number()) {
        return None;
    }
    let base = typed.word(2);
    let of = ["total", "goods", "card"].into_iter().find(|of| base.is(of));
    let per = ["sale", "item", "order", "piece"].into_iter().find(|per| base.is(per) || typed.word(3).is(per));
    match (of, per) {
        (Some(of), _) => {
            Some(tell(typed, 2..3, format!("of what the fee is a part is said with `of {of}`"), &format!("of {of}")))
        }
        (None, Some(per)) if !is_part && !base.is("per") || per == "order" || per == "piece" => {
            let per = if matches!(per, "sale" | "order") { "sale" } else { "item" };
            let end = if typed.word(3).text.is_empty() { 3 } else { 4 };
            Some(tell(typed, 2..end, format!("how often the fee is charged is said with `per {per}`"), &format!("per {per}")))
        }
        (None, None) if is_part && base.text.is_empty() => {
            let slip = Slip::new(
                SMALL_WORD,
                typed.range(1..2),
                format!("{} of what? of the order's total, its goods, or what was paid by card", figure.text),
            );
            let fixes = ["total", "goods", "card"].map(|of| (format!("of the {of}"), format!("{} of {of}", typed.text)));
            Some(fixes.into_iter().fold(slip, |slip, (what, line)| slip.fix(what, line)))
        }
        _ => None,
    }
}

/// `2 ea pull-cart at 42.00, discount 10%`
fn discount_in_item(typed: &Typed<'_>) -> Option<Slip> {
    let at = (2..typed.words.len())
        .find(|at| typed.word(*at).is_one_of(&["discount", "less", "shipping", "sales-tax", "postage", "freight", "fee"]))?;
    let word = typed.word(at);
    let starts_with_number = typed.word(0).text.starts_with(|letter: char| letter.is_ascii_digit());
    if !typed.is_detail() || !starts_with_number || !typed.word(at + 1).text.starts_with(|letter: char| letter.is_ascii_digit()) {
        return None;
    }
    let before = typed.text.get(..typed.word(at - 1).end())?;
    let tail = typed.text.get(typed.word(at + 1).start..)?;
    let own = if word.is("less") { "discount" } else { word.text };
    let article = if own == "discount" { "a discount is".to_owned() } else { format!("`{own}` is") };
    let slip = Slip::new(OWN_LINE, word.start..typed.text.len(), format!("{article} a line of its own"));
    let slip = if own == "discount" { slip.note("or give the price that was paid, after the discount") } else { slip };
    // `10 boxes clay at 32.00, discount 10%`
    let percent = tail.strip_suffix('%').filter(|percent| own == "discount" && is_number(percent));
    let price = percent.and_then(|percent| {
        let word = typed.word(at - 2);
        let less = less_percent(typed.word(at - 1).text, percent).filter(|_| word.is_one_of(&["at", "for"]))?;
        Some(format!("{} {less}", typed.slice(0..at - 1)))
    });
    let slip = match price {
        Some(price) => slip
            .fix("off this item alone, in its price", price)
            .fix("or off all goods, on a line of its own", format!("{before}\n{own} {tail}")),
        None => slip.fix("begin a line with it", format!("{before}\n{own} {tail}")),
    };
    Some(slip)
}

/// `2 pull-cart batch PC-014`
fn lot_not_batch(typed: &Typed<'_>) -> Option<Slip> {
    let at =
        (2..typed.words.len()).find(|at| typed.word(*at).is_one_of(&["batch", "from"]) && !typed.word(at + 1).text.is_empty())?;
    let starts = typed.word(0).text.starts_with(|letter: char| letter.is_ascii_digit())
        || typed.word(0).is_one_of(&["used", "gave", "got"]);
    // `1 pull-cart of batch PC-014`
    let from = if typed.word(at).is("batch") && typed.word(at - 1).is("of") && at > 2 { at - 1 } else { at };
    let named_before = typed.word(from - 1).is_name();
    if !typed.is_detail() || !starts || !named_before || typed.word(from - 1).is("on") {
        return None;
    }
    let code = typed.word(at + 1);
    // `1 hat from the club` names no lot.
    let rest = typed.words.get(at + 1..)?;
    let spoken = code.is_one_of(&["the", "my", "our", "a", "an", "her", "his", "their", "last"]);
    if typed.word(at).is("from") && spoken {
        let right = format!("\"{}\"", typed.slice(at..typed.words.len()));
        let plain = !rest.iter().any(|word| word.quoted || word.comma || word.is_one_of(&["at", "for"]));
        return plain.then(|| tell(typed, at..typed.words.len(), format!("a remark stands in quotes: `{right}`"), &right));
    }
    let right = format!("lot {}", code.text);
    let message = if typed.word(at).is("batch") {
        format!("a batch's name is the lot of its pieces: `{right}`")
    } else {
        format!("the lot from which it comes is said with `{right}`")
    };
    Some(tell(typed, from..at + 2, message, &right))
}

/// `made 1 pull-cart batch PC-014`, where the head says a batch or another line was told to be put there
fn batch_of_made(typed: &Typed<'_>) -> Option<Slip> {
    let at = typed.words.len().checked_sub(2).filter(|at| *at >= 3 && typed.word(*at).is("batch"))?;
    let made = typed.word(0).is_one_of(&["made", "lost", "took", "kept", "aims"]);
    (made && typed.is_detail()).then(|| {
        let at = typed.word(at - 1).end()..typed.text.len();
        let line = typed.with_range(at.clone(), "");
        let slip = Slip::new(SMALL_WORD, at, "the head says which batch it is, for all lines of the entry");
        slip.fix("leave it out here", line)
    })
}

/// `600.00 receipt A-1182`, `412.88 orders "M-1", "M-2"`
fn for_missing(typed: &Typed<'_>) -> Option<Slip> {
    let (sum, word, number) = (typed.word(0), typed.word(1), typed.word(2));
    let settles = matches!(typed.verb(), Some(Verb::Paid | Verb::Received)) && typed.is_detail();
    if !settles
        || !is_number(sum.text)
        || !word.is_one_of(&["receipt", "order", "orders", "bought", "sold"])
        || number.text.is_empty()
    {
        return None;
    }
    let right = format!("for {}", word.text);
    Some(tell(typed, 1..2, format!("what a sum settles stands behind `for`: `{} {right} …`", sum.text), &right))
}

/// `1h sanding for PC-1`
fn for_not_on(typed: &Typed<'_>) -> Option<Slip> {
    let at = (1..typed.words.len()).find(|at| typed.word(*at).is("for"))?;
    let what = typed.word(at + 1);
    let timed = time_at(typed, 0) > 0 && typed.verb() == Some(Verb::Worked) && typed.is_detail();
    let right = format!("on {}", what.text);
    let message = format!("what the time was for is said with `on`: `{right}`");
    (timed && !what.quoted && is_code(what.text) && !words::is_reserved(what.text))
        .then(|| tell(typed, at..at + 2, message, &right))
}

/// `60.00 for orders "M-1"`, `60.00 for orders "M-1" "M-2"`
fn orders_of_one(typed: &Typed<'_>) -> Option<Slip> {
    let (order, behind) = (typed.word(3), typed.word(4));
    let many = typed.is_detail() && typed.word(1).is("for") && typed.word(2).is("orders");
    if !many || order.text.is_empty() || order.comma {
        return None;
    }
    let (at, message) = (typed.range(2..4), "`orders` names several, with a comma between them; one is an `order`");
    let slip = Slip::new(SMALL_WORD, at, message);
    let slip = match behind.quoted {
        true => slip.fix("if both are orders", typed.with_range(order.end()..behind.start, ", ")),
        false => slip,
    };
    Some(slip.fix("for one order", typed.with(2..3, "order")))
}

/// `aims for 20 stool`, `in use since 2026-03-01`, `the batch's rest 35%`, `packed with box-small`
fn other_small_word(typed: &Typed<'_>) -> Option<Slip> {
    let first = typed.word(0);
    let said = |words: std::ops::Range<usize>, right: &str| {
        Some(tell(typed, words, format!("this is written `{right}`"), right)).filter(|_| typed.is_detail())
    };
    if first.is("aims") && typed.word(1).is_one_of(&["for", "to"]) {
        return said(0..2, "aims at");
    }
    if first.is("in") && typed.word(1).is("use") && typed.word(2).is_one_of(&["since", "on", "at", "as"]) {
        return said(0..3, "in use from");
    }
    if first.is("packed") && typed.word(1).is("with") && typed.word(2).is_name() {
        return said(2..3, &format!("1 {}", typed.word(2).text));
    }
    let at = (1..typed.words.len()).find(|at| typed.word(*at).is("rest") && !typed.word(at - 1).is("the"))?;
    let percent = typed.word(at + 1).text.strip_suffix('%').is_some_and(is_number);
    if first.is("made") && percent { said(at..at + 1, "the rest") } else { None }
}

/// `60.00 for order "M-1", "M-2"`
fn orders_of_several(typed: &Typed<'_>) -> Option<Slip> {
    let word = typed.word(2);
    let orders = typed.words.get(3..)?;
    let settles = is_number(typed.word(0).text) && typed.word(1).is("for") && word.is("order");
    // Each order is parted from the next; what stands behind the last of them is said of the sum.
    let several = orders.iter().take_while(|order| order.comma).count();
    let is_order = |order: &Word<'_>| order.quoted || words::is_code(order.text) && !words::is_reserved(order.text);
    if !typed.is_detail() || !settles || several == 0 || !orders.get(..=several)?.iter().all(is_order) {
        return None;
    }
    let right = format!("for orders {}", typed.slice(3..several + 4));
    Some(tell(typed, 1..several + 4, format!("several orders stand behind `orders`: `{right}`"), &right))
}

/// `2 bf poplar, "worm"`
fn comma_before_memo(typed: &Typed<'_>) -> Option<Slip> {
    let last = typed.words.len().checked_sub(1).filter(|last| *last >= 2)?;
    let (before, memo) = (typed.word(last - 1), typed.word(last));
    // What stands behind a text in quotes is no memo but the next of a list: `"M-1", "M-2"`.
    (typed.is_detail() && memo.quoted && before.comma && !before.quoted).then(|| {
        let between = before.end()..memo.start;
        let slip = Slip::new(SMALL_WORD, between.clone(), "no comma stands before a memo");
        slip.fix("leave it out", typed.with_range(between, " "))
    })
}

/// `lost 1 pull-cart "split", charged off`
fn memo_before_more(typed: &Typed<'_>) -> Option<Slip> {
    let at = (2..typed.words.len()).find(|at| typed.is_detail() && memo_in_between(typed, *at))?;
    let memo = typed.word(at);
    let slip = Slip::new(SMALL_WORD, memo.start..memo.end(), "a memo ends the line");
    let (before, after) = (typed.slice(0..at), typed.slice(at + 1..typed.words.len()));
    Some(slip.fix("write it last", format!("{}, {} {}", before.trim_end(), after.trim(), memo.text)))
}

/// `2 bags of wheel-40`, `used 80 ml of clear-oil`, `2 bottles of PVA glue at 12.00`
fn of_between(typed: &Typed<'_>) -> Option<Slip> {
    let at = (2..typed.words.len()).find(|at| {
        let counted = is_number(typed.word(at - 2).text) && is_name(typed.word(at - 1).text) && !typed.word(at - 1).comma;
        typed.word(*at).is("of") && counted && typed.word(at + 1).is_name()
    })?;
    // `fee 3 percent of total`: there `of` is right.
    if typed.word(0).is("fee") || !typed.is_detail() {
        return None;
    }
    let goes_on = |at: usize| !typed.word(at - 1).comma && typed.word(at).is_name() && !is_remark_word(typed.word(at).text);
    let mut end = at + 2;
    while goes_on(end) {
        end += 1;
    }
    let thing = typed.word(at + 1).text;
    if end == at + 2 {
        let right = format!("{} {thing}", typed.slice(at - 2..at));
        let message = format!("no `of` stands between a unit and the thing: `{right}`");
        return Some(tell(typed, at - 2..at + 2, message, &right));
    }
    let name = typed.slice(at + 1..end).split_whitespace().collect::<Vec<_>>().join("-").to_lowercase();
    let right = format!("{} {name}", typed.slice(at - 2..at));
    let message = format!("no `of` stands between a unit and the thing, whose name is one word: `{right}`");
    let slip = Slip::new(SMALL_WORD, typed.range(at - 2..end), message);
    Some(slip.fix_joined("write it so", typed.with(at - 2..end, &right), name))
}

/// `7 pull-cart at 42.00, 3 left` in a sale
fn some_left(typed: &Typed<'_>) -> Option<Slip> {
    let at = (2..typed.words.len()).find(|at| {
        let count = typed.word(at - 1);
        typed.word(*at).is_one_of(&["left", "unsold", "returned", "remaining"])
            && is_digits(count.text)
            && typed.word(at - 2).comma
    })?;
    let right = format!("{} back", typed.word(at - 1).text);
    let sale = typed.verb() == Some(Verb::Sold) && typed.is_detail();
    sale.then(|| tell(typed, at - 1..at + 1, format!("what came home unsold is said with `{right}`"), &right))
}

/// `2 step-stool left` in a count
fn left_in_count(typed: &Typed<'_>) -> Option<Slip> {
    let last = typed.words.len().checked_sub(1).filter(|last| *last >= 2)?;
    let word = typed.word(last);
    let said =
        word.is_one_of(&["left", "remaining", "there", "here"]) && typed.word(0).is_number() && typed.word(last - 1).is_name();
    (said && typed.is_detail() && typed.verb() == Some(Verb::Counted)).then(|| {
        let message = format!("what is counted is what is there: nothing like `{}` follows", word.text);
        let slip = Slip::new(SMALL_WORD, word.start..word.end(), message);
        slip.fix("leave it out", typed.slice(0..last).to_owned())
    })
}

/// `paid cash`, `paid by card`, `paid with check`, `paid in full`
fn paid_how(typed: &Typed<'_>) -> Option<Slip> {
    let how = typed.words.get(1..)?;
    let means = how.iter().find(|word| {
        word.is_one_of(&[
            "cash",
            "card",
            "check",
            "cheque",
            "full",
            "online",
            "transfer",
            "bank",
            "credit-card",
            "debit-card",
            "debit",
            "phone",
        ])
    })?;
    let only_words = how.iter().all(|word| !word.quoted && is_name_like(word.text));
    if !typed.is_detail() || !typed.word(0).is("paid") || !only_words {
        return None;
    }
    let slip = Slip::new(SMALL_WORD, typed.range(1..typed.words.len()), "`paid` alone says that all of it was paid that day");
    let slip = match means.text {
        "cash" | "card" | "check" => slip.note(format!("how much came as {0} at a fair is said with `{0} 200.00`", means.text)),
        _ => slip,
    };
    Some(
        slip.fix("leave out how it was paid", "paid")
            .fix("or keep it as a memo", format!("paid \"{}\"", typed.slice(1..typed.words.len()))),
    )
}

fn is_name_like(text: &str) -> bool {
    text.chars().all(|letter| letter.is_alphabetic() || letter == '-')
}

/// `1 license for cart-pattern`
fn licence_missing(typed: &Typed<'_>) -> Option<Slip> {
    let (word, small, name) = (typed.word(1), typed.word(2), typed.word(3));
    let is_licence = word.is_one_of(&["licence", "license", "licences", "licenses"]);
    if !is_digits(typed.word(0).text) || !is_licence || !small.is_one_of(&["for", "of", "to"]) || !name.is_name() {
        return None;
    }
    let right = name.text.to_owned();
    Some(tell(typed, 2..4, format!("the pattern follows the licence: `{} {} {right}`", typed.word(0).text, word.text), &right))
}

/// `recovered over 7`, `lasts 10`, `for children from 3`, `hours 12`
fn years_missing(typed: &Typed<'_>) -> Option<Slip> {
    let last = typed.words.len().checked_sub(1)?;
    let (first, figure) = (typed.word(0), typed.word(last));
    let over = first.is("recovered") && typed.word(1).is("over") && last == 2;
    let children = first.is("for") && typed.word(1).is("children") && last == 3;
    let right = match () {
        () if over || children || first.is("lasts") && last == 1 => format!("{} years", figure.text),
        () if first.is("hours") && last == 1 => format!("{} per week", figure.text),
        () => return None,
    };
    figure.is_number().then(|| tell(typed, last..last + 1, format!("the unit is missing: `{right}`"), &right))
}

/// `packed 1 box-small`, `packed in 1 box-small`
fn packed_with(typed: &Typed<'_>) -> Option<Slip> {
    let second = typed.word(1);
    let small = second.is_one_of(&["in", "using", "into"]);
    let number = second.text.starts_with(|letter: char| letter.is_ascii_digit());
    if !typed.word(0).is("packed") || !(small || number) {
        return None;
    }
    let end = if small { 2 } else { 1 };
    Some(tell(typed, 0..end, "packing is said with `packed with`".to_owned(), "packed with"))
}

/// `nothing more`, `that is all`
fn nothing_else(typed: &Typed<'_>) -> Option<Slip> {
    let all = typed.text.to_lowercase();
    let known = ["nothing more", "nothing left", "no more", "that is all", "that's all", "all done", "nothing"];
    (typed.is_detail() && known.contains(&all.as_str()))
        .then(|| tell(typed, 0..typed.words.len(), "that nothing follows is said with `nothing else`".to_owned(), "nothing else"))
}

/// `as planned` on a line of its own
fn as_planned_alone(typed: &Typed<'_>) -> Option<Slip> {
    let batch = typed.verb().is_some_and(Verb::is_of_a_batch);
    let alone = typed.word(0).is("as") && typed.word(1).is("planned") && typed.words.len() == 2;
    (batch && alone && typed.is_detail()).then(|| {
        let slip = Slip::new(SMALL_WORD, 0..typed.text.len(), "what went as planned? what was used, the time it took, or both");
        slip.fix("both", "used as planned\ntook as planned")
    })
}
