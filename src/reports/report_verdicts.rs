//! Judges what pays: each row of the report held against the owner's rate and against the best other use of the same hours.
//!
//! What dropping would save are costs that are the group's own: its fees, postage, packing, expenses on it and the paid cost of what it sold. Overhead
//! in its goods is spent all the same, and so are hours on nothing in particular; its own hours would be free. Compared are exact figures.

use crate::costing::Component;
use crate::names::ResolvedBook;
use crate::reports::margin::{Margin, per_hour};
use crate::reports::pays_part::PaysOf;
use crate::reports::period::{minutes_text, money_text, said_money};
use crate::reports::without_hours::WithoutHours;
use crate::reports::{IfDropped, OtherUse, PaysGroup, PaysVerdict, Verdict};
use crate::units::Fixed6;

/// A row of the report with its exact sums.
#[derive(Clone, Copy)]
pub(crate) struct Judged<'m> {
    pub(crate) of: PaysOf,
    pub(crate) row: &'m PaysGroup,
    pub(crate) margin: &'m Margin,
}

/// What an hour of a group earned; `None` inside where hours are unknown or there are none. The outer `None` is overflow.
fn earned(margin: &Margin) -> Option<Option<Fixed6>> {
    let left = margin.paid_margin()?.checked_sub(margin.sold.get(Component::Overhead))?;
    Some(margin.own_minutes()?.and_then(|minutes| per_hour(left, minutes)))
}

/// Judges every row against the others of its kind. `None` where a figure is too large to be carried.
pub(crate) fn report_verdicts(
    book: &ResolvedBook,
    rate: Option<Fixed6>,
    rows: &[Judged<'_>],
    without_hours: &WithoutHours,
) -> Option<Vec<PaysVerdict>> {
    let hours = rows.iter().map(|one| earned(one.margin)).collect::<Option<Vec<_>>>()?;
    let mut verdicts = Vec::with_capacity(rows.len());
    for (at, one) in rows.iter().enumerate() {
        let others = rows.iter().zip(&hours).enumerate().filter(|(other, (row, _))| *other != at && row.row.by == one.row.by);
        let mut best: Option<(&PaysGroup, Fixed6)> = None;
        for (_, (other, hour)) in others {
            if let Some(hour) = hour.filter(|hour| best.is_none_or(|(_, most)| *hour > most)) {
                best = Some((other.row, hour));
            }
        }
        let unknown = without_hours.says(book, one.of);
        verdicts.push(judge(book, rate, *one, hours.get(at).copied().flatten(), best, unknown)?);
    }
    Some(verdicts)
}

fn judge(
    book: &ResolvedBook,
    rate: Option<Fixed6>,
    Judged { row, margin, .. }: Judged<'_>,
    hour: Option<Fixed6>,
    best: Option<(&PaysGroup, Fixed6)>,
    unknown: Option<String>,
) -> Option<PaysVerdict> {
    let money = |sum: Fixed6| said_money(book, sum);
    let left = read_printed(&row.sums.paid_margin)?;
    let minutes = margin.own_minutes()?;
    let verdict = match (minutes, hour, rate) {
        _ if left.is_negative() => Verdict::Loses,
        (None, ..) => Verdict::HoursUnknown,
        (Some(_), None, _) => Verdict::Pays,
        (_, Some(_), None) => Verdict::NoRate,
        (_, Some(hour), Some(rate)) if hour < rate => Verdict::BelowRate,
        _ => Verdict::Pays,
    };
    let over_rate = match (hour, rate) {
        (Some(hour), Some(rate)) => Some(hour.checked_sub(rate)?),
        _ => None,
    };
    let mut says = match (verdict, hour, rate, over_rate) {
        (Verdict::Loses, ..) => format!("it does not pay: it brought {} less than was paid for it", money(left.checked_neg()?)),
        (Verdict::HoursUnknown, ..) => format!(
            "whether it pays your hour is not known: it left {} after what was paid, and no hours are known of {}",
            money(left),
            unknown.as_deref().unwrap_or("some of what was sold")
        ),
        (_, None, ..) => format!("it pays: it left {} after what was paid, and took no hour of yours", money(left)),
        (_, Some(hour), Some(rate), Some(over)) if over.is_negative() => format!(
            "it does not pay your hour: one in it earned {}{}, {} less than your rate of {}",
            money(hour),
            on_pieces(row),
            money(over.checked_neg()?),
            money(rate)
        ),
        (_, Some(hour), Some(rate), Some(over)) => {
            let on = on_pieces(row);
            format!("it pays: an hour in it earned {}{on}, {} more than your rate of {}", money(hour), money(over), money(rate))
        }
        (_, Some(hour), ..) => {
            let on = on_pieces(row);
            format!("it left {}, {} for an hour{on}; the shop states no rate to hold that against", money(left), money(hour))
        }
    };
    if let (Some((other, most)), Some(hour)) = (best, hour) {
        let (title, on) = (&other.title, on_pieces(other));
        says.push_str(&match most > hour {
            true => format!("; the best other use of your hours, {title}, earned {}{on}", money(most)),
            false => format!("; no other {} earned more: the next, {title}, earned {}{on}", kind_of(other), money(most)),
        });
    }
    Some(PaysVerdict {
        by: row.by.clone(),
        name: row.name.clone(),
        title: row.title.clone(),
        verdict,
        says,
        over_rate: over_rate.map(|sum| money_text(book, sum)),
        best_other: best.map(|(other, most)| OtherUse {
            by: other.by.clone(),
            name: other.name.clone(),
            title: other.title.clone(),
            earned_per_hour: money_text(book, most),
        }),
        if_dropped: if_dropped(book, row, margin)?,
    })
}

/// What a group of sales is, as one speaks of another.
fn kind_of(row: &PaysGroup) -> &str {
    if row.by == "line" { "product line" } else { &row.by }
}

/// What would be otherwise without a group. Figures that the row prints are taken from it, so that both say the same.
fn if_dropped(book: &ResolvedBook, row: &PaysGroup, margin: &Margin) -> Option<IfDropped> {
    let left = read_printed(&row.sums.paid_margin)?;
    let revenue = read_printed(&row.sums.revenue)?;
    let saves = revenue.checked_sub(left)?;
    let ends = match left.is_negative() {
        true => format!("you would be {} better off", said_money(book, left.checked_neg()?)),
        false => format!("you would be {} worse off", said_money(book, left)),
    };
    let overhead = margin.sold.get(Component::Overhead);
    let stays = match overhead.is_zero() {
        true => String::new(),
        false => format!("{} of overhead would stay", said_money(book, read_printed(&row.sums.overhead)?)),
    };
    let hours = match margin.own_minutes()? {
        Some(minutes) if minutes.is_positive() => "its hours would be yours for something else",
        Some(_) => "",
        None => "its hours, as many as they are, would be yours for something else",
    };
    let rest: Vec<&str> = [stays.as_str(), hours].into_iter().filter(|words| !words.is_empty()).collect();
    let rest = if rest.is_empty() { String::new() } else { format!("; {}", rest.join(" and ")) };
    let where_else = match row.by.as_str() {
        "channel" | "fair" => ", unless its goods sell elsewhere",
        _ => "",
    };
    Some(IfDropped {
        loses: row.sums.revenue.clone(),
        says: format!(
            "without it {} of revenue would not come and {} of its own costs would not arise, so {ends}{where_else}{rest}",
            said_money(book, revenue),
            said_money(book, saves)
        ),
        saves: money_text(book, saves),
        overhead_stays: row.sums.overhead.clone(),
        frees_minutes: margin.own_minutes()?.map(minutes_text),
    })
}

/// On how many pieces an hour's earnings rest: ` on 9 pieces`; nothing of a line or channel that sold no pieces alone.
fn on_pieces(row: &PaysGroup) -> String {
    row.sold_in_words().map_or_else(String::new, |sold| format!(" on {sold}"))
}

/// A figure as the row prints it, whose parts were rounded so that they add up: a sentence about the row says the same.
pub(crate) fn read_printed(printed: &str) -> Option<Fixed6> {
    Fixed6::from_decimal_exact(printed.parse().ok()?)
}

/// Costs that are a group's own. `None` on overflow.
pub(crate) fn own_costs(margin: &Margin) -> Option<Fixed6> {
    Fixed6::checked_sum([margin.fees, margin.postage, margin.packing, margin.direct, margin.sold.paid()?])
}
