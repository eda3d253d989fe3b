//! What would explain a total that its lines don't come to: swapped digits, a point that slipped, a price that is for the whole line, a line
//! too many, one that lacks.
//!
//! In: the parts of an entry's total, and what the paper says. Out: notes and corrections for the finding. Must not: choose among them.

use std::ops::Range;

use rust_decimal::Decimal;

use crate::diagnostics::Diagnostic;
use crate::events::entry_money::Coin;
use crate::sources::{SourceSet, Span};
use crate::syntax::Verb;
use crate::units::{Fixed6, read_decimal};

/// What a part of a total is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum PartKind {
    /// Goods, and what a sum is for.
    Goods,
    /// What a supplier charges for carriage, or a buyer pays for it.
    Freight,
    /// Sales tax on top.
    SalesTax,
    /// What is taken off.
    Discount,
}

/// A part of a total.
#[derive(Clone, Copy, Debug)]
pub(crate) struct TotalPart {
    /// What it is.
    pub(crate) kind: PartKind,
    /// Where it is written: an item, or a line.
    pub(crate) line: Span,
    /// As the paper writes it, never below zero.
    pub(crate) sum: Fixed6,
}

/// A total and its parts.
pub(crate) struct Total<'t> {
    /// What the paper says, and where.
    pub(crate) stated: (Fixed6, Span),
    /// What the parts come to.
    pub(crate) comes_to: Fixed6,
    /// The parts, as they are written.
    pub(crate) parts: &'t [TotalPart],
    /// The entry's verb.
    pub(crate) verb: Verb,
    /// Whether it is what came in, of which a part may stand elsewhere, and no total of a paper.
    pub(crate) came_in: bool,
}

/// How many explanations are told.
const MOST: usize = 3;

/// Adds to a finding how the total was reckoned, and what would explain the difference.
pub(crate) fn explain_total(told: Diagnostic, total: &Total<'_>, coin: &Coin, sources: &SourceSet) -> Diagnostic {
    let text = |money: Fixed6| money.to_fixed_text(coin.written_in().digits(), 6);
    let told = match total.parts {
        [] | [_] => told,
        parts => told.note(reckoned(parts, total.verb, &text)),
    };
    let Some(apart) = total.stated.0.checked_sub(total.comes_to).filter(|apart| !apart.is_zero()) else { return told };
    let mut found: Vec<Explained> = in_the_total(total, coin, sources);
    for part in total.parts {
        found.extend(in_a_part(part, apart, coin, sources));
        found.extend(as_percent(part, apart, total.parts, coin, sources));
    }
    if found.is_empty() {
        found.extend(total.parts.iter().filter_map(|part| too_many_or_few(part, apart, sources)));
    }
    if found.is_empty() && !(total.came_in && apart.is_negative()) {
        found.extend(one_that_lacks(total, apart, &text));
    }
    found.truncate(MOST);
    found.into_iter().fold(told, |told, one| match one {
        Explained::Written(what, span, replacement) => told.fix(what, span, replacement),
        Explained::Said(note) => told.note(note),
    })
}

/// Something that would explain the difference.
enum Explained {
    /// A figure that may be another, where it stands.
    Written(String, Span, String),
    /// Anything else.
    Said(String),
}

impl PartKind {
    fn word(self, verb: Verb) -> &'static str {
        match (self, verb) {
            (Self::Goods, Verb::Paid) => "sums",
            (Self::Goods, Verb::Sold) => "goods and work",
            (Self::Goods, _) => "goods and sums",
            (Self::Freight, Verb::Sold) => "shipping",
            (Self::Freight, _) => "freight",
            (Self::SalesTax, _) => "sales tax",
            (Self::Discount, _) => "less discount",
        }
    }
}

/// `goods 112.00, freight 4.00, less discount 2.00`
fn reckoned(parts: &[TotalPart], verb: Verb, text: &impl Fn(Fixed6) -> String) -> String {
    let kinds = [PartKind::Goods, PartKind::Discount, PartKind::Freight, PartKind::SalesTax];
    let said = kinds.into_iter().filter_map(|kind| {
        let sums: Vec<String> = parts.iter().filter(|part| part.kind == kind).map(|part| text(part.sum)).collect();
        (!sums.is_empty()).then(|| format!("{} {}", kind.word(verb), sums.join(" + ")))
    });
    format!("reckoned as {}", said.collect::<Vec<_>>().join(", "))
}

/// The total's own figure, miswritten.
fn in_the_total(total: &Total<'_>, coin: &Coin, sources: &SourceSet) -> Vec<Explained> {
    let mut found = Vec::new();
    for (at, figure) in figures(sources.text(total.stated.1)) {
        for (other, how) in miswritten(figure) {
            let sum = |figure: &str| read_decimal(figure).ok().and_then(|sum| coin.total(sum).ok());
            // Where the total is a sum of several figures, this one alone would be another.
            let meant = sum(figure).and_then(|sum| sum.written.checked_sub(total.stated.0)?.checked_add(total.comes_to));
            if meant.is_some() && sum(&other).map(|sum| sum.written) == meant {
                found.push(Explained::Written(format!("if {how}"), within(total.stated.1, at.clone()), other));
            }
        }
    }
    found
}

/// `discount 10` where a tenth of the goods was taken off.
fn as_percent(part: &TotalPart, apart: Fixed6, parts: &[TotalPart], coin: &Coin, sources: &SourceSet) -> Option<Explained> {
    let line = sources.text(part.line);
    let (at, figure) = figures(line).next().filter(|_| part.kind == PartKind::Discount && !line.contains('%'))?;
    let mut goods = parts.iter().filter(|part| part.kind == PartKind::Goods);
    let goods = goods.try_fold(Fixed6::ZERO, |sum, part| sum.checked_add(part.sum))?.to_decimal()?;
    let off = read_decimal(figure).ok()?.checked_mul(goods)?.checked_div(Decimal::ONE_HUNDRED)?;
    let meant = coin.total(off).ok()?.written;
    (Some(meant) == part.sum.checked_sub(apart))
        .then(|| Explained::Written(format!("if {figure}% is meant"), within(part.line, at), format!("{figure}%")))
}

/// A figure of a part that, written otherwise, would make up for the difference.
fn in_a_part(part: &TotalPart, apart: Fixed6, coin: &Coin, sources: &SourceSet) -> Vec<Explained> {
    let line = sources.text(part.line);
    let wanted = match part.kind {
        PartKind::Discount => part.sum.checked_sub(apart),
        _ => part.sum.checked_add(apart),
    };
    let Some(wanted) = wanted.filter(|wanted| wanted.is_positive()) else { return Vec::new() };
    let written: Vec<(Range<usize>, &str, Decimal)> =
        figures(line).filter_map(|(at, figure)| Some((at, figure, read_decimal(figure).ok()?))).collect();
    let sum_of = |money: Decimal, count: Decimal| coin.line(money, count).ok().map(|sum| sum.written);
    // The figure is the sum itself, or one of two whose product it is.
    let mut factors: Vec<(usize, Decimal)> = Vec::new();
    for (at, (_, _, figure)) in written.iter().enumerate() {
        if sum_of(*figure, Decimal::ONE) == Some(part.sum) {
            factors.push((at, Decimal::ONE));
        }
    }
    if factors.is_empty() {
        for (at, (_, _, figure)) in written.iter().enumerate() {
            for (other, (_, _, by)) in written.iter().enumerate() {
                if at != other && factors.is_empty() && sum_of(*figure, *by) == Some(part.sum) {
                    factors.extend([(at, *by), (other, *figure)]);
                }
            }
        }
    }
    let mut found = Vec::new();
    for (at, by) in &factors {
        let Some((place, figure, _)) = written.get(*at) else { continue };
        for (other, how) in miswritten(figure) {
            let sum = read_decimal(&other).ok().and_then(|other| sum_of(other, *by));
            if sum == Some(wanted) {
                found.push(Explained::Written(format!("if {how}"), within(part.line, place.clone()), other));
            }
        }
    }
    found.extend(for_or_at(part, wanted, &written, (line, coin)));
    found
}

/// `for` that may be `at`, and the other way round.
fn for_or_at(
    part: &TotalPart,
    wanted: Fixed6,
    written: &[(Range<usize>, &str, Decimal)],
    (line, coin): (&str, &Coin),
) -> Option<Explained> {
    let (_, _, count) = written.first()?;
    let (place, figure, price) = written.get(1)?;
    let before = line.get(..place.start)?.trim_end();
    let (word, other, sum, what) = if before.ends_with(" for") {
        ("for", "at", coin.line(*price, *count), "is the price of one")
    } else if before.ends_with(" at") {
        ("at", "for", coin.line(*price, Decimal::ONE), "is for the whole line")
    } else {
        return None;
    };
    let start = before.len().checked_sub(word.len())?;
    (sum.ok()?.written == wanted).then(|| {
        Explained::Written(format!("if {figure} {what}"), within(part.line, start..place.end), format!("{other} {figure}"))
    })
}

/// A part that the paper doesn't have, or has twice.
fn too_many_or_few(part: &TotalPart, apart: Fixed6, sources: &SourceSet) -> Option<Explained> {
    let effect = if part.kind == PartKind::Discount { part.sum.checked_neg()? } else { part.sum };
    let line = sources.text(part.line);
    if effect.checked_neg()? == apart {
        Some(Explained::Said(format!("without `{line}` the total would be right")))
    } else if effect == apart {
        Some(Explained::Said(format!("with `{line}` twice the total would be right")))
    } else {
        None
    }
}

/// A line that would make up for the difference, of a kind that the entry has none of.
fn one_that_lacks(total: &Total<'_>, apart: Fixed6, text: &impl Fn(Fixed6) -> String) -> Option<Explained> {
    let size = text(if apart.is_negative() { apart.checked_neg()? } else { apart });
    let lacks = |kind: PartKind| total.parts.iter().all(|part| part.kind != kind);
    let mut lines = Vec::new();
    // A discount takes a part off, and a tax or a carriage is a part beside.
    let is_part = |of: i128| {
        let sum =
            apart.checked_mul_int(of).map(|sum| if sum.is_negative() { sum.checked_neg().unwrap_or_default() } else { sum });
        sum.is_some_and(|sum| sum <= total.comes_to)
    };
    match (total.verb, apart.is_negative()) {
        (Verb::Bought | Verb::Sold, true) if lacks(PartKind::Discount) && is_part(3) => lines.push(format!("`discount {size}`")),
        (Verb::Bought | Verb::Sold, false) if is_part(3) => {
            if lacks(PartKind::Freight) {
                lines.push(format!("`{} {size}`", PartKind::Freight.word(total.verb)));
            }
            if lacks(PartKind::SalesTax) && is_part(7) {
                lines.push(format!("`sales-tax {size}`"));
            }
        }
        _ => {}
    }
    let goods = if apart.is_negative() { None } else { Some(format!("something for {size} that no line says")) };
    lines.extend(goods);
    (!lines.is_empty()).then(|| Explained::Said(format!("what may lack: {}", lines.join(", or "))))
}

/// The figures of a text with their places, up to a remark.
fn figures(text: &str) -> impl Iterator<Item = (Range<usize>, &str)> {
    let text = text.split(['"', '#']).next().unwrap_or_default();
    let words = text.split_inclusive(char::is_whitespace).scan(0, |at, word| {
        let start = *at;
        *at += word.len();
        Some((start, word.trim_end().trim_end_matches(',')))
    });
    words.filter_map(|(start, word)| {
        let digits = word.bytes().any(|byte| byte.is_ascii_digit());
        let is_figure = digits && word.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
        is_figure.then_some((start..start + word.len(), word))
    })
}

/// How else a figure may have been meant: two neighbouring digits the other way round, the point a place or two away.
fn miswritten(figure: &str) -> Vec<(String, &'static str)> {
    let mut others = Vec::new();
    let digits: Vec<usize> = figure.bytes().enumerate().filter(|(_, byte)| byte.is_ascii_digit()).map(|(at, _)| at).collect();
    for pair in digits.windows(2) {
        let [first, second] = *pair else { continue };
        let mut swapped = figure.as_bytes().to_vec();
        swapped.swap(first, second);
        if let Ok(swapped) = String::from_utf8(swapped)
            && swapped != figure
            && !(swapped.starts_with('0') && digits.len() > 1 && !swapped.starts_with("0."))
        {
            others.push((swapped, "two digits are swapped"));
        }
    }
    let Ok(value) = read_decimal(figure) else { return others };
    for times in [10, 100] {
        let times = Decimal::from(times);
        for moved in [value.checked_mul(times), value.checked_div(times)] {
            if let Some(moved) = moved.filter(|moved| moved.scale() <= 6) {
                let short = moved.normalize();
                let as_written = figure.contains('.') && short.scale() < 2;
                others.push((if as_written { format!("{short:.2}") } else { short.to_string() }, "the point slipped"));
            }
        }
    }
    others
}

/// The place of a part of a text that stands at a span.
fn within(whole: Span, part: Range<usize>) -> Span {
    let at = |offset: usize| whole.start.saturating_add(u32::try_from(offset).unwrap_or(u32::MAX)).min(whole.end);
    Span::new(at(part.start), at(part.end))
}
