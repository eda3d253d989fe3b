//! Slips of units, and of words joined to what follows: `board feet`, `lbs`, `sqft`, `80ml`, `at60.00`, `order"W-1"`.

use rust_decimal::Decimal;

use super::slip::{Slip, SlipRule};
use super::typed::{Typed, is_digits, is_number, is_quote};
use crate::syntax::errors::{JOINED_UNIT, UNIT_OF_WHAT};
use crate::syntax::slip_errors::UNIT_SPELLING;
use crate::units::{Unit, canonical_unit, read_date, read_decimal};

pub(super) const RULES: &[SlipRule] = &[two_units, other_spelling, joined_unit, joined_word, joined_text];

/// `2 board feet red-oak`, `3 lbs`, `2 sqft`, `4 ft²`, `38 miles`
fn other_spelling(typed: &Typed<'_>) -> Option<Slip> {
    for at in 1..typed.words.len() {
        let before = typed.word(at - 1);
        let after_number = !before.comma && (before.is_number() || before.is_fraction())
            || before.is("per")
            || at == 2 && before.is("in") && typed.word(0).is("measured");
        if !after_number || typed.word(at).quoted {
            continue;
        }
        let two = !typed.word(at).comma && typed.words.len() > at + 1;
        let found = two.then(|| typed.slice(at..at + 2)).and_then(|words| Some((at..at + 2, words, canonical_unit(words)?)));
        let found = found.or_else(|| {
            let word = typed.word(at).text;
            Some((at..at + 1, word, canonical_unit(word)?))
        });
        let Some((words, spelled, unit)) = found.filter(|(_, _, unit)| !matches!(unit, Unit::Hour | Unit::Minute)) else {
            continue;
        };
        let slip = Slip::new(UNIT_SPELLING, typed.range(words.clone()), format!("the unit `{spelled}` is written `{unit}`"));
        return Some(slip.fix("write it so", typed.with(words, unit.as_str())).sure());
    }
    None
}

/// `6 lb 3 oz beeswax`, `3 ft 6 in ribbon`: one quantity in two units, and how it is said in the smaller
fn two_units(typed: &Typed<'_>) -> Option<Slip> {
    let unit_at = |at: usize| Unit::parse(typed.word(at).text).or_else(|| canonical_unit(typed.word(at).text));
    let sized = typed.words.iter().any(|word| word.is("x"));
    let (at, end, right) = (0..typed.words.len()).filter(|_| !sized).find_map(|at| {
        let and = usize::from(typed.word(at + 2).is("and"));
        let (figure, second) = (typed.word(at), typed.word(at + 2 + and));
        let (large, small) = (unit_at(at + 1)?, unit_at(at + 3 + and)?);
        let commas = (at..at + 2 + and).any(|at| typed.word(at).comma);
        if !figure.is_number() || !second.is_number() || commas || large.dimension() != small.dimension() {
            return None;
        }
        let right = in_smaller(figure.text, large, second.text, small)?;
        Some((at, at + 4 + and, format!("{right} {small}")))
    })?;
    let slip = Slip::new(UNIT_OF_WHAT, typed.range(at..end), format!("a quantity has one unit: `{right}`"));
    Some(slip.fix("write it so", typed.with(at..end, &right)))
}

/// So many of a larger unit and so many of a smaller, in the smaller; `None` where one of the larger is no whole number of these.
fn in_smaller(many: &str, large: Unit, few: &str, small: Unit) -> Option<String> {
    let ((a, b), (c, d)) = (large.factor(), small.factor());
    let (above, below) = (a.checked_mul(d)?, b.checked_mul(c)?);
    let each = above.checked_div(below).filter(|each| *each > 1 && each.checked_mul(below) == Some(above))?;
    let each = Decimal::from(i64::try_from(each).ok()?);
    let sum = read_decimal(many).ok()?.checked_mul(each)?.checked_add(read_decimal(few).ok()?)?;
    Some(sum.normalize().to_string())
}

/// `80ml clear-oil`, `38mi`, `2bags`, `5.2bf`, `40min`
fn joined_unit(typed: &Typed<'_>) -> Option<Slip> {
    typed.words.iter().enumerate().filter(|(_, word)| !word.quoted).find_map(|(at, word)| {
        let number = word.text.trim_end_matches(|letter: char| letter.is_alphabetic() || letter == '²');
        let unit = word.text.get(number.len()..)?;
        let whole =
            is_number(number) || number.split_once('/').is_some_and(|(above, below)| is_digits(above) && is_digits(below));
        if !whole
            || unit.is_empty()
            || matches!(unit, "h" | "m" | "x")
            || at > 0 && typed.word(at - 1).is_one_of(&["lot", "batch", "on", "line"])
        {
            return None;
        }
        let unit = canonical_unit(unit).map_or(unit, |unit| unit.as_str());
        let right = format!("{number} {unit}");
        let slip =
            Slip::new(JOINED_UNIT, word.start..word.end(), format!("a blank stands between a number and its unit: `{right}`"));
        let slip = slip.note("only a time may be joined, as in `45m`");
        // `85p` is no quantity.
        let known = Unit::parse(unit).is_some();
        Some(slip.fix("put a blank between them", typed.with(at..at + 1, &right)).sure_if(known))
    })
}

/// `at60.00`, `for18.40`, `total276.90`
pub(super) fn joined_word(typed: &Typed<'_>) -> Option<Slip> {
    const WORDS: [&str; 32] = [
        "at",
        "for",
        "share",
        "worth",
        "refunded",
        "per",
        "paid",
        "fee",
        "total",
        "shipping",
        "freight",
        "discount",
        "postage",
        "sales-tax",
        "cash",
        "card",
        "check",
        "price",
        "used",
        "made",
        "took",
        "lost",
        "kept",
        "needs",
        "takes",
        "settled",
        "over",
        "short",
        "credit",
        "gross",
        "net",
        "counted",
    ];
    typed.words.iter().enumerate().filter(|(_, word)| !word.quoted).find_map(|(at, word)| {
        let letters =
            word.text.len() - word.text.trim_start_matches(|letter: char| letter.is_alphabetic() || letter == '-').len();
        let (name, figure) = word.text.split_at(letters);
        let day = name == "paid" && read_date(figure).is_ok();
        if !WORDS.contains(&name) || !(is_number(figure) || day) {
            return None;
        }
        let right = format!("{name} {figure}");
        let slip = Slip::new(UNIT_SPELLING, word.start..word.end(), format!("a blank stands after `{name}`: `{right}`"));
        Some(slip.fix("put a blank between them", typed.with(at..at + 1, &right)).sure())
    })
}

/// `order"W-1"`, `note"oiled twice"`
fn joined_text(typed: &Typed<'_>) -> Option<Slip> {
    const WORDS: [&str; 10] = ["order", "receipt", "note", "file", "seal", "certificate", "to", "from", "by", "with"];
    typed.words.iter().filter(|word| !word.quoted).find_map(|word| {
        let name = WORDS.into_iter().find(|name| word.text.strip_prefix(name).is_some_and(|rest| rest.starts_with(is_quote)))?;
        let at = word.start + name.len();
        let slip = Slip::new(UNIT_SPELLING, word.start..word.end(), format!("a blank stands after `{name}`, before the text"));
        Some(slip.fix("put a blank between them", typed.with_range(at..at, " ")).sure())
    })
}
