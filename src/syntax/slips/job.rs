//! Slips of work that is sold and makes no product: `repaired a clasp 25.00`, `taught 2026-08-22 a class, 120.00`, `6 people at 45.00`.

use super::money::SIGNS;
use super::no_entry::{as_text, day_of};
use super::slip::{Slip, SlipRule};
use super::spoken::sum_of;
use super::sums::product;
use super::time::time_at;
use super::typed::{Typed, is_number};
use crate::syntax::Verb;
use crate::syntax::slip_errors::{SUM_WITHOUT_FOR, UNKNOWN_HEAD};

pub(super) const RULES: &[SlipRule] = &[work_as_a_head, work_for_a_customer, people_with_sum, so_many_for, sum_alone];

/// With what a head of such work begins.
const HEADS_OF_WORK: [&str; 14] = [
    "repaired",
    "mended",
    "fixed",
    "restored",
    "refinished",
    "engraved",
    "rebound",
    "resized",
    "taught",
    "class",
    "lesson",
    "workshop",
    "tutored",
    "demonstrated",
];
/// Those who are taught.
const PEOPLE: [&str; 16] = [
    "people",
    "persons",
    "person",
    "students",
    "student",
    "participants",
    "participant",
    "attendees",
    "attendee",
    "pupils",
    "pupil",
    "guests",
    "guest",
    "seats",
    "adults",
    "kids",
];

const WHAT_NAME_IS: &str = "NAME behind `for` is an income of the shop, defined in any file, as in `income repairs \"Repairs\"`";

/// Whether a head says work for a customer: its word, and no time without money, which is time that was worked.
pub(super) fn is_work(text: &str) -> bool {
    let first = text.split_whitespace().next().unwrap_or("").to_lowercase();
    let typed = Typed::of(text, crate::syntax::line_context::LineContext { column_one: true, block: None }, None);
    HEADS_OF_WORK.contains(&first.as_str())
        && (sum_of_head(&typed).is_some() || (1..typed.words.len()).all(|at| time_at(&typed, at) == 0))
}

/// The sum at the end of a head, and where it stands.
fn sum_of_head<'t>(typed: &Typed<'t>) -> Option<(usize, &'t str)> {
    let last = typed.words.len().checked_sub(1).filter(|last| *last > 0)?;
    let sum = sum_of(typed, last).filter(|_| !typed.word(last).is_date())?;
    Some((last, sum))
}

/// `repaired 2026-06-10 bible for Mr. Voss 85.00`, `taught 2026-08-22 class, 3 hours, 120.00`
fn work_as_a_head(typed: &Typed<'_>) -> Option<Slip> {
    if !typed.context.column_one || !is_work(typed.text) {
        return None;
    }
    let day = day_of(typed);
    let message = "work for a customer that makes no product is a sale of an income: `sold DATE via CHANNEL`, and below it `120.00 for NAME`";
    let slip = Slip::new(UNKNOWN_HEAD, typed.range(0..1), message).note(WHAT_NAME_IS);
    let slip = slip.note(format!(
        "your time for it is `worked {day}` with a line `2h STEP on CHANNEL`, what it took `used-up {day} on CHANNEL`"
    ));
    let head = format!("sold {day} via NAME");
    let begins = 1;
    let Some((at, sum)) = sum_of_head(typed) else {
        let text = as_text(typed, begins..typed.words.len());
        let text = if text.is_empty() { text } else { format!("\nnote \"{text}\"") };
        return Some(slip.fix("write it so", format!("{head}{text}")));
    };
    let (sum, end) = match many(typed, at) {
        Some((sum, _)) => (sum, at + 1),
        None => (sum.to_owned(), at - usize::from(typed.word(at - 1).is_one_of(&["for", "at", "=", "-"]))),
    };
    let text = as_text(typed, begins..end);
    let text = if text.is_empty() { text } else { format!(" \"{text}\"") };
    Some(slip.fix("write it so", format!("{head}\n{sum} for NAME{text}")))
}

/// The whole sum of so many people at a price, and where their count stands: `6 people at 45.00`, where the price is at a place.
fn many(typed: &Typed<'_>, price: usize) -> Option<(String, usize)> {
    let at = price.checked_sub(3)?;
    let people = typed.word(at).is_number()
        && typed.word(at + 1).is_one_of(&PEOPLE)
        && typed.word(at + 2).is_one_of(&["at", "x", "paid", "for"]);
    let sum = sum_of(typed, price).filter(|_| people)?;
    let sum = if typed.word(at + 2).is("for") { sum.to_owned() } else { product(typed.word(at).text, sum)? };
    Some((sum, at))
}

/// `6 people at 45.00`, `6 people at 45.00 each = 270.00` below `sold` or `received`
pub(super) fn people_with_sum(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && matches!(typed.verb(), Some(Verb::Sold | Verb::Received));
    let (sum, _) = many(typed, 3).filter(|_| here)?;
    let each = usize::from(typed.word(4).is_one_of(&["each", "apiece", "per"]));
    let rest = typed.words.get(4 + each..)?;
    let whole = match rest {
        // It reads as goods there, and the names say which incomes there are.
        [] if typed.verb() == Some(Verb::Sold) => return None,
        [] => sum,
        [memo] if memo.quoted => sum,
        [is, whole] if is.is_one_of(&["=", "is", "makes"]) && is_number(whole.text.trim_matches(SIGNS)) => {
            whole.text.trim_matches(SIGNS).to_owned()
        }
        _ => return None,
    };
    let text = as_text(typed, 0..typed.words.len());
    let message = format!("what people paid to be taught is the sum for an income: `{whole} for NAME`");
    let slip = Slip::new(SUM_WITHOUT_FOR, 0..typed.text.len(), message).note(WHAT_NAME_IS);
    Some(slip.fix("write it so", format!("{whole} for NAME \"{text}\"")))
}

/// `6 at 55 for classes`, `6 people at 55 for class` below `received` or `sold`
fn so_many_for(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && matches!(typed.verb(), Some(Verb::Sold | Verb::Received));
    let at = 1 + usize::from(typed.word(1).is_one_of(&PEOPLE));
    let each = usize::from(typed.word(at + 2).is_one_of(&["each", "apiece"]));
    let begins = here && typed.word(0).is_number() && typed.word(at).is_one_of(&["at", "x"]);
    let price = sum_of(typed, at + 1).filter(|_| begins && typed.word(at + 2 + each).is("for"))?;
    let name = typed.word(at + 3 + each);
    if !name.is_name() || typed.words.len() != at + 4 + each {
        return None;
    }
    let sum = product(typed.word(0).text, price)?;
    let (name, text) = (name.text, typed.slice(0..at + 2));
    let right = format!("{sum} for {name}");
    let slip = Slip::new(
        SUM_WITHOUT_FOR,
        typed.range(0..at + 2),
        format!("an amount of money stands before `for`, and how many it was may follow as a remark: `{right}`"),
    );
    Some(slip.fix("write it so", format!("{right} \"{text}\"")))
}

/// With what such a line begins.
const WORK: [&str; 27] = [
    "repaired",
    "repair",
    "repairs",
    "repairing",
    "mended",
    "mending",
    "fixed",
    "fixing",
    "restored",
    "restoring",
    "sharpened",
    "sharpening",
    "refinished",
    "engraved",
    "engraving",
    "rebound",
    "rebinding",
    "resized",
    "taught",
    "teaching",
    "class",
    "lesson",
    "lessons",
    "tuition",
    "workshop",
    "demonstration",
    "demo",
];

/// Whether a word says that something of a customer's was worked on: `sharpened`, `reupholstered`.
pub(crate) fn is_work_word(word: &str) -> bool {
    let done_again = word.len() > 7 && word.starts_with("re") && word.ends_with("ed");
    let kept = [
        "recycled",
        "reclaimed",
        "returned",
        "received",
        "reserved",
        "reduced",
        "refunded",
        "requested",
        "rejected",
        "released",
        "rewarded",
    ];
    WORK.iter().any(|known| word.eq_ignore_ascii_case(known)) || done_again && !kept.contains(&word)
}

/// `repaired a clasp 25.00`, `taught a class for 6 people, 180.00`
fn work_for_a_customer(typed: &Typed<'_>) -> Option<Slip> {
    let last = typed.words.len().checked_sub(1).filter(|last| *last > 0)?;
    if !typed.is_detail() || !matches!(typed.verb(), Some(Verb::Sold | Verb::Received)) || !is_work_word(typed.word(0).text) {
        return None;
    }
    let how = typed.word(last).is_one_of(&["cash", "card", "check"]);
    let each = typed.word(last).is_one_of(&["each", "apiece"]);
    let at = if how || each { last - 1 } else { last };
    let sum = typed.word(at).text.trim_matches(SIGNS);
    let before = if at > 1 && typed.word(at - 1).is_one_of(&["for", "at", "at:", "=", "-"]) { at - 1 } else { at };
    let said = typed.slice(0..before).trim_end_matches([',', ' ']);
    if !is_number(sum) || before == 0 || said.contains('"') {
        return None;
    }
    // `sharpened 11 knives at 8`: so many at a price.
    let priced = each || before < at && typed.word(before).is_one_of(&["at", "at:"]);
    let counts: Vec<&str> = (1..before).map(|at| typed.word(at).text).filter(|word| is_number(word)).collect();
    let (sum, said) = match counts.as_slice() {
        [count] if priced => (product(count, sum)?, as_text(typed, 0..at + 1)),
        [_, _, ..] if priced => return None,
        _ => (sum.to_owned(), said.to_owned()),
    };
    let message = format!("money for work that makes no product says what it is for: `{sum} for NAME`");
    let slip = Slip::new(SUM_WITHOUT_FOR, typed.range(0..last + 1), message).note(WHAT_NAME_IS);
    let line = format!("{sum} for NAME \"{said}\"");
    let line = if how { format!("{line}\n{} {sum}", typed.word(last).text) } else { line };
    Some(slip.fix("write it so", line))
}

/// `85.00` below `sold`
fn sum_alone(typed: &Typed<'_>) -> Option<Slip> {
    let sum = sum_of(typed, 0).filter(|_| typed.is_detail() && typed.verb() == Some(Verb::Sold))?;
    let is_money = typed.word(0).text.contains(['.', '$']);
    let rest = typed.words.get(1..)?;
    let memo = match rest {
        [] => String::new(),
        [memo] if memo.quoted => format!(" {}", memo.text),
        _ => return None,
    };
    is_money.then(|| {
        let slip =
            Slip::new(SUM_WITHOUT_FOR, typed.range(0..1), format!("{sum} for what? money that is for no goods names an income"));
        slip.note(WHAT_NAME_IS).fix("with the income's name", format!("{sum} for NAME{memo}"))
    })
}
