//! Wording: what reads well and moves other goods or money than its words say.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::diagnostics::Diagnostic;
use crate::events::errors as code;
use crate::events::hired_time::HiredTime;
use crate::events::slips_of_pairs::Singles;
use crate::sources::Span;

/// A booth or table that is put to no channel; `channel`: the only one that sold something on that day.
pub(crate) fn booth_on_no_channel(line: Span, expense: &str, channel: Option<&str>) -> Diagnostic {
    let message = format!("`{expense}` is paid for no channel, so no fair seems to have cost it");
    let told = Diagnostic::new(code::CHANNEL_PAID, line, message);
    let end = Span::new(line.end, line.end);
    let told = match channel {
        Some(channel) => told.fix("if it was for what was sold on that day", end, format!(" on {channel}")),
        None => told.note(format!("a cost of selling has its channel behind it: `60.00 for {expense} on CHANNEL`")),
    };
    told.note("if it is for no channel, a line `expected \"why\"` in the entry says so; told once for each such expense")
}

/// A drive to a fair that is put to no channel.
pub(crate) fn drive_on_no_channel(head: Span, channel: Option<&str>) -> Diagnostic {
    let message = "this drive is put to no channel, so no fair seems to have cost it";
    let told = Diagnostic::new(code::CHANNEL_PAID, head, message);
    let channel = channel.unwrap_or("CHANNEL");
    told.note(format!(
        "a drive to a fair has its channel behind the miles: `drove DATE 46 mi on {channel} \"to the fair and back\"`"
    ))
    .note("if it is for no channel, a line `expected \"why\"` in the entry says so; told once")
}

/// `2.30h`, which may be meant for 2 hours and 30 minutes. `minutes`: what the figure is.
pub(crate) fn time_like_a_clock(time: Span, text: &str, (hours, part): (&str, &str), minutes: Decimal) -> Diagnostic {
    let minutes = minutes.normalize();
    let as_clock = if hours == "0" { format!("{part}m") } else { format!("{hours}h {part}m") };
    Diagnostic::new(code::TIME_LIKE_A_CLOCK, time, format!("`{text}` is a part of an hour: {minutes} minutes"))
        .fix(format!("if {part} minutes are meant"), time, as_clock)
        .note("if it is the part of an hour, a line `expected \"why\"` in the entry says so")
}

/// `there`: how many the count says; the remark and the day.
pub(crate) fn counted_as_damaged(line: Span, there: Decimal, name: &str, (remark, day): (&str, NaiveDate)) -> Diagnostic {
    let message = format!("this count says that {there} of `{name}` are there, and its remark says `{remark}`");
    Diagnostic::new(code::CALLED_DAMAGED, line, message)
        .note(format!("a count says how many good ones are there, and no difference: what is short or over the book tells; what is no good any more is an entry of its own, `scrapped {day}` with a line `{there} {name} \"{remark}\"`"))
        .note("if so many good ones are there, a line `expected \"why\"` in the entry says so")
}

/// Goods that come back from a place, with a remark that they are no good.
pub(crate) fn back_as_damaged(line: Span, name: &str, (remark, day): (&str, NaiveDate)) -> Diagnostic {
    let message =
        format!("`{name}` comes back to the shelf as good as the others, and its remark says that something is wrong with it");
    Diagnostic::new(code::CALLED_DAMAGED, line, message)
        .note(format!("what can't be sold any more is thrown away in an entry of its own, from where it lies: `scrapped {day}` with a line `1 {name} \"{remark}\"`"))
        .note("if it can still be sold, a line `expected \"why\"` in the entry says so")
}

/// Goods that a buyer sends back, of which nothing says what becomes of them, with a remark that they are no good. `item` as written.
pub(crate) fn returned_as_damaged(line: Span, name: &str, item: &str, remark: &str) -> Diagnostic {
    let message =
        format!("`{name}` comes back to the shelf as good as the others, and its remark says that something is wrong with it");
    let item = item.trim_end_matches(remark).trim_end_matches(['"', '\u{201c}', '\u{201d}', ' ', ',']);
    Diagnostic::new(code::CALLED_DAMAGED, line, message)
        .note(format!(
            "what can't be sold any more says so behind its name, and is a loss of that day: `{item}, scrapped \"{remark}\"`"
        ))
        .note(
            "if it can still be sold, the words `back to stock` in that place say so, or a line `expected \"why\"` in the entry",
        )
}

/// A present to somebody of the family as a cost of the shop.
pub(crate) fn given_to_family(head: Span, to: &str, day: NaiveDate) -> Diagnostic {
    Diagnostic::new(code::GIVEN_TO_FAMILY, head, format!("what is given to `{to}` stands here as a cost of the shop"))
        .note(format!(
            "what family and friends get is taken home: `took-home {day}`, with the same lines, and is no cost of the year"
        ))
        .note("if it was given for the shop's business, a line `expected \"why\"` in the entry says so")
}

/// A sum for an expense that is put to a batch. `sum` as written, `line` the whole of it.
pub(crate) fn expense_on_batch(line: Span, sum: &str, expense: &str, batch: &str) -> Diagnostic {
    let message = format!(
        "an expense reaches no piece: `{expense}` is put to batch `{batch}`, and what is made there costs no cent more by it"
    );
    Diagnostic::new(code::EXPENSE_ON_BATCH, line, message)
        .fix("money that goes straight into the batch", line, format!("{sum} on batch {batch} \"{expense}\""))
        .note("such a line stands in `bought`; then the pieces bear it, and the year has it among the cost of goods")
        .note("if it is to stay an expense, a line `expected \"why\"` in the entry says so; told once for each expense")
}

/// A line of a consigned sale at just what the channel leaves of a price. `texts`: the line's value, that price of it, what would then be left; `whose`: which price, with what stands before it.
pub(crate) fn share_taken_off_before(line: Span, texts: [&str; 3], whose: &str, channel: &str) -> Diagnostic {
    let [value, price, left] = texts;
    let message = format!(
        "{value} is just what `{channel}` leaves you of {whose}{price}, and its share is taken off again: {left} is left"
    );
    Diagnostic::new(code::SHARE_TAKEN_OFF_BEFORE, line, message)
        .note("a consigned line has the price that the customer paid; without one it has the list price")
        .note(format!("what the channel pays out may stand in a line of its own, `settled {value}`, which is checked"))
        .note("if the customer paid so little, a line `expected \"why\"` in the entry says so")
}

/// Several things in a row of which only the last says a price.
pub(crate) fn price_of_the_last(line: Span, last: &str, price: &str) -> Diagnostic {
    let message = format!("`{price}` is for `{last}` alone; what stands before it on this line has its list price");
    Diagnostic::new(code::PRICE_OF_THE_LAST, line, message)
        .note("a sum for several things together is divided by you: each has its own price, or the whole order a line `discount`")
        .note("if each is right, a line `expected \"why\"` in the entry says so")
}

/// An order for which one paid ahead and another pays too.
pub(crate) fn two_payers(line: Span, order: &str, [first, second]: [&str; 2], before: (NaiveDate, Span)) -> Diagnostic {
    let message =
        format!("order `{order}` was paid ahead by `{first}` on {}, and this is from `{second}`: the sale takes both", before.0);
    Diagnostic::new(code::TWO_PAYERS, line, message)
        .also(before.1, "the money before")
        .note("each order has a name of its own")
        .note("if it is one order that two pay for, a line `expected \"why\"` in the entry says so")
}

/// Card fees paid beside a channel that takes them of each sale.
pub(crate) fn card_fees_twice(line: Span, expense: &str, channel: &str) -> Diagnostic {
    let message = format!("`{expense}` may be the fees that `{channel}` takes of each card sale, counted a second time");
    Diagnostic::new(code::CARD_FEES_TWICE, line, message)
        .note(format!("where `channel {channel}` has its `fee … of card`, the statement's fees are in the sales already: leave one of the two out"))
        .note("if it is for something else, a line `expected \"why\"` in the entry says so; told once for each such expense")
}

/// Time at a step of the making that is put to no batch, line or channel.
pub(crate) fn hours_on_nothing(line: Span, time: &str, step: &str, product: &str) -> Diagnostic {
    Diagnostic::new(code::HOURS_ON_NOTHING, line, format!("this time at `{step}` is put to nothing, so no piece bears it"))
        .note(format!("what it was for stands behind the step, a batch, a product or a channel: `{time} {step} on {product}`"))
        .note("if it was for no piece, a line `expected \"why\"` in the entry says so; told once for each step")
}

/// Goods given and got that are of the same kind.
pub(crate) fn swapped_for_the_same(line: Span, name: &str) -> Diagnostic {
    Diagnostic::new(code::SWAPPED_FOR_THE_SAME, line, format!("`{name}` is given for `{name}`, so it counts as sold and as bought at its price"))
        .note(format!("where a buyer changes a piece, it is `returned` with a line `1 {name}, refunded 38.00, back to stock`, and the other one is `sold`"))
        .note("if it was barter, a line `expected \"why\"` in the entry says so")
}

/// `figures`: the good pieces that are left of that day, and how many broke.
pub(crate) fn scrapped_as_made(line: Span, batch: Span, thing: &str, (good, broken): (Decimal, Decimal)) -> Diagnostic {
    let message = format!("`{thing}` was made on this very day, and what is thrown away here is a loss apart from its batch");
    let made = if good.is_zero() { "made nothing \"why\"".to_owned() } else { format!("made {good} {thing}") };
    let lines = if good.is_zero() { format!("`{made}`") } else { format!("`{made}` and `lost {broken} {thing}`") };
    Diagnostic::new(code::SCRAPPED_AS_MADE, line, message)
        .also(batch, "made here")
        .note(format!("what breaks in the making stands in its batch instead of here, {lines}: then its good pieces bear it"))
        .note("if it broke afterwards, a line `expected \"why\"` in the entry says so")
}

/// `count` and `unit` as written: `10` and `pairs`.
pub(crate) fn in_pairs(line: Span, name: &str, count: &str, unit: &str) -> Diagnostic {
    Diagnostic::new(code::IN_PAIRS, line, format!("a pair of `{name}` is two of it, each with its recipe and its price"))
        .note(format!("where one `{name}` is a pair by itself, it is counted without the word, `{count} {name}` and not `{count} {unit} {name}`, and its recipe and price are those of a pair"))
        .note("if one of it is a single piece, a line `expected \"why\"` in the entry says so; told once for each product")
}

/// A dozen, a gross or single pieces of a material that is measured in pairs; `pairs`: what comes in.
pub(crate) fn singles_of_pairs(singles: &Singles<'_>, name: &str, pairs: Decimal) -> Diagnostic {
    let Singles { words, place, pieces } = singles;
    let (pieces, pairs) = (pieces.normalize(), pairs.normalize());
    let message = match words.ends_with("ea") {
        true => format!("`{name}` is measured in pairs, and {words} are {pairs} pair of it"),
        false => format!("`{name}` is measured in pairs, and {words} are {pieces} single ones: {pairs} pair of it"),
    };
    Diagnostic::new(code::IN_PAIRS, *place, message)
        .fix(format!("if {pieces} pairs came"), *place, format!("{pieces} pair"))
        .note("if it is right, a line `expected \"why\"` in the entry says so; told once for each material")
}

/// A batch that no entry began, at the one that continues or finishes it; `open`: those that are on the bench, with their heads.
pub(crate) fn never_begun(head: Span, batch: &str, open: &[(&str, Span)]) -> Diagnostic {
    let told = Diagnostic::new(
        code::NEVER_BEGUN,
        head,
        format!("batch `{batch}` was never started, and other batches are on the bench"),
    );
    let names: Vec<String> = open.iter().map(|(name, _)| format!("`{name}`")).collect();
    let told = open.iter().take(3).fold(told, |told, (_, begun)| told.also(*begun, "on the bench"));
    told.note(format!("is it one of those, {}? else all that went into it stays with them", names.join(", ")))
        .note("if it is a batch of its own, a line `expected \"why\"` in the entry says so")
}

/// A sale of an order whose name holds that of one for which a deposit came, or stands in it. `names`: the deposit's, the sale's.
pub(crate) fn deposit_not_taken(sale: Span, [paid, sold]: [&str; 2], money: &str, deposit: Span) -> Diagnostic {
    let message = format!("the {money} that came before for order `{paid}` is not taken off this sale of order `{sold}`");
    Diagnostic::new(code::DEPOSIT_NOT_TAKEN, sale, message)
        .also(deposit, format!("order `{paid}` is sold nowhere"))
        .note(format!("if both are one order, write one name in both entries: `order \"{paid}\"`"))
        .note("if that one is still to be sold, a line `expected \"why\"` in this entry says so")
}

/// Work on a product of which no batch is open, shortly before one begins. `texts`: the time and step as written, the product, its line where it has one, the batch.
pub(crate) fn worked_ahead(
    line: Span,
    texts: (&str, &str, Option<&str>, &str),
    paid: bool,
    begins: (NaiveDate, Span),
) -> Diagnostic {
    let (time, product, of_line, batch) = texts;
    let what = if paid { "this time and its pay" } else { "this time" };
    let goes =
        of_line.map_or_else(|| "count for no piece".to_owned(), |line| format!("count for the line `{line}` and for no piece"));
    let goes = if paid { goes } else { goes.replacen("count", "counts", 1) };
    let message = format!("no batch of `{product}` is open on this day, so {what} {goes}");
    // A batch without a name of its own is called by its product and day.
    let name = if batch.contains('/') { "NAME" } else { batch };
    Diagnostic::new(code::WORKED_AHEAD, line, message)
        .also(begins.1, format!("this batch begins on {}", begins.0))
        .note(format!("where it was for that batch, it says so by the batch's name, which then begins with it: `{time} on {name}` here and `batch {name}` in the head there; or `started DATE batch {name}` stands before it"))
        .note("if it was for no batch, a line `expected \"why\"` in the entry says so; told once for each product")
}

/// An expense of just the sum that a helper's time costs in a batch or in `worked`.
pub(crate) fn helper_paid_twice(line: Span, time: &HiredTime, name: &str, money: &str) -> Diagnostic {
    let day = time.date;
    let (message, also) = match time.paid_later {
        true => (format!("{money} is just what the time of `{name}` of {day} costs, and that is still owed"), "owed already"),
        false => {
            (format!("{money} is just what the time of `{name}` of {day} costs, and that is paid already"), "paid on its day")
        }
    };
    let told = Diagnostic::new(code::HELPER_PAID_TWICE, line, message).also(time.line, also);
    let told = match time.paid_later {
        true => {
            told.fix("to pay what is owed for that time, and not to count it a second time", line, format!("{money} for {name}"))
        }
        false => told.note("where it is this payment, leave the line out: work stands where it was done, with what it cost"),
    };
    told.note("if it is for something else, a line `expected \"why\"` in the entry says so")
}
