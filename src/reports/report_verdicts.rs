//! Judges what pays: each row of the report held against the owner's rate and against the best other use of the same hours. Like is held against like, a channel against
//! other channels, a product against other products, a line against other lines, a fair against other fairs and the channels that are not its own, so that no sale is
//! on both sides.
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

/// The most that an hour of a group can have earned of which not all hours are known: as if there were no others than those that are. `None` inside where all are
/// known or none, where it left nothing, or where something came back, with which hours go that may be unknown. The outer `None` is overflow.
fn at_most(margin: &Margin) -> Option<Option<Fixed6>> {
    if margin.own_minutes()?.is_some() || margin.came_back {
        return Some(None);
    }
    let left = margin.paid_margin()?.checked_sub(margin.sold.get(Component::Overhead))?;
    let known = margin.sold.own_minutes()?.checked_add(margin.minutes_on)?;
    Some(per_hour(left, known).filter(|_| left.is_positive()))
}

/// Whether a group is another use of the hours of one: of its kind, or for a fair another channel, too.
fn is_other_use(other: PaysOf, of: PaysOf) -> bool {
    match (other, of) {
        (PaysOf::Channel(other), PaysOf::Channel(of)) => other != of,
        (PaysOf::Product(other), PaysOf::Product(of)) => other != of,
        (PaysOf::Line(other), PaysOf::Line(of)) => other != of,
        (PaysOf::Fair(..), PaysOf::Fair(..)) => other != of,
        (PaysOf::Channel(other), PaysOf::Fair(channel, _)) => other != channel,
        _ => false,
    }
}

/// Judges every row against the others of its kind. The rate is the owner's; whether the book keeps hours of the owner's at all stands beside it. `None` where a figure is too large to be carried.
pub(crate) fn report_verdicts(
    book: &ResolvedBook,
    (rate, keeps_hours): (Option<Fixed6>, bool),
    rows: &[Judged<'_>],
    without_hours: &WithoutHours,
) -> Option<Vec<PaysVerdict>> {
    let hours = rows.iter().map(|one| earned(one.margin)).collect::<Option<Vec<_>>>()?;
    let mut verdicts = Vec::with_capacity(rows.len());
    for (at, one) in rows.iter().enumerate() {
        let others = rows.iter().zip(&hours).filter(|(other, _)| is_other_use(other.of, one.of));
        let mut best: Option<(&PaysGroup, Fixed6)> = None;
        let mut all_have_hours = true;
        for (other, hour) in others {
            all_have_hours &= hour.is_some() || !other.margin.paid_margin()?.is_positive();
            if let Some(hour) = hour.filter(|hour| best.is_none_or(|(_, most)| *hour > most)) {
                best = Some((other.row, hour));
            }
        }
        let unknown = without_hours.says(book, one.of);
        verdicts.push(judge(book, (rate, keeps_hours), *one, hours.get(at).copied().flatten(), (best, all_have_hours), unknown)?);
    }
    Some(verdicts)
}

fn judge(
    book: &ResolvedBook,
    (rate, keeps_hours): (Option<Fixed6>, bool),
    Judged { of, row, margin }: Judged<'_>,
    hour: Option<Fixed6>,
    (best, all_have_hours): (Option<(&PaysGroup, Fixed6)>, bool),
    unknown: Option<String>,
) -> Option<PaysVerdict> {
    let left = read_printed(&row.sums.paid_margin)?;
    let minutes = margin.own_minutes()?;
    let stays_sold = Goods::of(row, margin)? == Goods::Sold;
    let at_most = at_most(margin)?.filter(|_| stays_sold);
    let verdict = match (minutes, hour, rate) {
        _ if left.is_negative() => Verdict::Loses,
        _ if !stays_sold => Verdict::NothingLeft,
        (None, ..) if left.is_zero() => Verdict::NothingLeft,
        (None, ..) if at_most.zip(rate).is_some_and(|(most, rate)| most < rate) => Verdict::BelowRate,
        (None, ..) => Verdict::HoursUnknown,
        (Some(_), None, _) if left.is_zero() => Verdict::NothingLeft,
        (Some(_), None, _) if !keeps_hours => Verdict::HoursUnknown,
        (Some(_), None, _) if left < read_printed(&row.sums.overhead)? => Verdict::BelowRate,
        (Some(_), None, _) => Verdict::Pays,
        (_, Some(_), None) => Verdict::NoRate,
        (_, Some(hour), Some(rate)) if hour < rate => Verdict::BelowRate,
        _ => Verdict::Pays,
    };
    let over_rate = match (hour, rate) {
        (Some(hour), Some(rate)) => Some(hour.checked_sub(rate)?),
        _ => None,
    };
    let mut says = match stays_sold {
        true => why(book, (verdict, row, left), (hour, at_most, rate), unknown.as_deref())?,
        false => without_sales(book, row, margin)?,
    };
    if let (Some((other, most)), Some(hour)) = (best.filter(|_| stays_sold), hour) {
        let kind = match of {
            PaysOf::Line(_) => "product line",
            PaysOf::Channel(_) => "channel",
            PaysOf::Product(_) => "product",
            PaysOf::Fair(..) => "fair or channel",
        };
        let known = if all_have_hours { "" } else { " of which hours of yours are known" };
        let (title, earned) = (&other.title, earned_in_words(book, most, &on_pieces(other))?);
        says.push_str(&match (most > hour, most.is_positive()) {
            (true, true) => format!("; the best other {kind}, {title}, {earned}"),
            (true, false) => format!(
                "; no other {kind}{known} earned anything for your hours either: {title}, which lost least of them, {earned}"
            ),
            (false, _) => format!("; no other {kind}{known} earned your hour more: the next, {title}, {earned}"),
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

/// Why something pays of which goods stay sold, in a sentence. `None` on overflow.
fn why(
    book: &ResolvedBook,
    (verdict, row, left): (Verdict, &PaysGroup, Fixed6),
    (hour, at_most, rate): (Option<Fixed6>, Option<Fixed6>, Option<Fixed6>),
    unknown: Option<&str>,
) -> Option<String> {
    let money = |sum: Fixed6| said_money(book, sum);
    let on = on_pieces(row);
    Some(match (verdict, hour, rate) {
        (Verdict::Loses, hour, _) => {
            let lost = hour.map(|hour| earned_in_words(book, hour, &on)).map_or(Some(None), |words| words.map(Some))?;
            let an_hour = lost.map_or_else(String::new, |lost| format!(", and an hour in it {lost}"));
            format!("it does not pay: it brought {} less than was paid for it{an_hour}", money(left.checked_neg()?))
        }
        (Verdict::NothingLeft, ..) => "it neither pays nor loses: it brought as much as was paid for it".to_owned(),
        (Verdict::HoursUnknown, ..) => {
            let left = money(left);
            let none = "the book keeps no hours of yours".to_owned();
            let why = row
                .sums
                .own_minutes
                .is_none()
                .then(|| format!("no hours are known of {}", unknown.unwrap_or("some of what was sold")));
            let most = at_most.map_or_else(String::new, |most| format!(", an hour in it earned at most {}", money(most)));
            format!(
                "whether it pays your hour is not known: it left {left} after what was paid{most}, and {}",
                why.unwrap_or(none)
            )
        }
        (Verdict::BelowRate, None, _) if at_most.is_none() => format!(
            "it pays what was laid out, and not the overhead in its goods: it left {} after what was paid, {} less than that overhead, and no hour of yours is put down for it",
            money(left),
            money(read_printed(&row.sums.overhead)?.checked_sub(left)?)
        ),
        (Verdict::BelowRate, None, Some(rate)) => {
            let most = at_most?;
            format!(
                "it does not pay your hour: one in it earned at most {}{on}, {} less than your rate of {}; no hours are known of {}",
                money(most),
                money(rate.checked_sub(most)?),
                money(rate),
                unknown.unwrap_or("some of what was sold")
            )
        }
        (_, None, _) => format!("it pays: it left {} after what was paid, and no hour of yours is put down for it", money(left)),
        (_, Some(hour), Some(rate)) if !hour.is_positive() && hour < rate => format!(
            "it does not pay your hour: it left {}, and after the overhead in its goods an hour in it {}, where your rate is {}",
            if left.is_zero() { "nothing".to_owned() } else { money(left) },
            earned_in_words(book, hour, &on)?,
            money(rate)
        ),
        (_, Some(hour), Some(rate)) if hour < rate => format!(
            "it does not pay your hour: one in it earned {}{on}, {} less than your rate of {}",
            money(hour),
            money(rate.checked_sub(hour)?),
            money(rate)
        ),
        (_, Some(hour), Some(rate)) if hour == rate => {
            format!("it pays: an hour in it earned {}{on}, which is your rate", money(hour))
        }
        (_, Some(hour), Some(rate)) => {
            let over = money(hour.checked_sub(rate)?);
            format!("it pays: an hour in it earned {}{on}, {over} more than your rate of {}", money(hour), money(rate))
        }
        (_, Some(hour), None) if hour.is_positive() => {
            format!("it left {}, {} for an hour{on}; the shop states no rate to hold that against", money(left), money(hour))
        }
        (_, Some(hour), None) => {
            let earned = earned_in_words(book, hour, &on)?;
            format!("it left {}, and after the overhead in its goods an hour in it {earned}", money(left))
        }
    })
}

/// What became of a group's goods.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Goods {
    /// Some of them stay sold.
    Sold,
    /// None was sold.
    NoneSold,
    /// All that was sold came back.
    AllBack,
    /// More came back than was sold: the sale stands in an earlier time.
    MoreBack,
}

impl Goods {
    /// `None` on overflow.
    fn of(row: &PaysGroup, margin: &Margin) -> Option<Self> {
        let paid = margin.sold.paid()?;
        let is_less = paid.is_negative() || margin.units < rust_decimal::Decimal::ZERO;
        Some(match (margin.went_out, margin.came_back) {
            (false, false) => Self::NoneSold,
            (_, true) if is_less => Self::MoreBack,
            (true, true) if row.units == "0" && paid.is_zero() => Self::AllBack,
            (false, true) => Self::MoreBack,
            _ => Self::Sold,
        })
    }
}

/// What there is to say of a group of which no goods stay sold. `None` on overflow.
fn without_sales(book: &ResolvedBook, row: &PaysGroup, margin: &Margin) -> Option<String> {
    let money = |sum: Fixed6| said_money(book, sum);
    let left = read_printed(&row.sums.paid_margin)?;
    let revenue = read_printed(&row.sums.revenue)?;
    let spent = revenue.checked_sub(left)?;
    let hours = match margin.own_minutes()?.filter(|minutes| minutes.is_positive()) {
        Some(minutes) => format!(" and {} of your time went into it", said_time(minutes)?),
        None => String::new(),
    };
    let pays = if left.is_negative() { "it does not pay: " } else { "" };
    let happened = match Goods::of(row, margin)? {
        Goods::AllBack => "all that was sold of it came back",
        Goods::MoreBack => "more of it came back than was sold",
        Goods::NoneSold | Goods::Sold => "nothing of it was sold",
    };
    let money_moved = match (left.is_negative(), left.is_zero()) {
        (true, _) if revenue.is_zero() => format!(", {} were spent on it{hours}", money(spent)),
        (true, _) => format!(", which with its costs came to {} less than nothing{hours}", money(left.checked_neg()?)),
        (_, true) if hours.is_empty() => ", and nothing was left or lost".to_owned(),
        (_, true) => hours,
        _ => format!(", which left {}{hours}", money(left)),
    };
    Some(format!("{pays}{happened}{money_moved}"))
}

/// `earned $4.00 on 9 pieces`, `earned nothing on one piece`, `lost $2.00 on 9 pieces`. `None` on overflow.
fn earned_in_words(book: &ResolvedBook, hour: Fixed6, on: &str) -> Option<String> {
    Some(match (hour.is_negative(), hour.is_zero()) {
        (true, _) => format!("lost {}{on}", said_money(book, hour.checked_neg()?)),
        (_, true) => format!("earned nothing{on}"),
        _ => format!("earned {}{on}", said_money(book, hour)),
    })
}

/// Minutes as one says them, rounded to whole ones: `4h`, `1h 20m`, `45m`. `None` on overflow.
fn said_time(minutes: Fixed6) -> Option<String> {
    let whole = minutes.round_to(0).micros().checked_div(1_000_000)?;
    let (hours, minutes) = (whole.checked_div(60)?, whole.checked_rem(60)?);
    Some(match (hours, minutes) {
        (0, minutes) => format!("{minutes}m"),
        (hours, 0) => format!("{hours}h"),
        (hours, minutes) => format!("{hours}h {minutes}m"),
    })
}

/// What would be otherwise without a group. Figures that the row prints are taken from it, so that both say the same.
fn if_dropped(book: &ResolvedBook, row: &PaysGroup, margin: &Margin) -> Option<IfDropped> {
    let money = |sum: Fixed6| said_money(book, sum);
    let left = read_printed(&row.sums.paid_margin)?;
    let revenue = read_printed(&row.sums.revenue)?;
    let saves = revenue.checked_sub(left)?;
    let ends = match (left.is_negative(), left.is_zero()) {
        (true, _) => format!("you would be {} better off", money(left.checked_neg()?)),
        (_, true) => "you would be neither better nor worse off".to_owned(),
        _ => format!("you would be {} worse off", money(left)),
    };
    let mut moved = Vec::new();
    match (revenue.is_negative(), revenue.is_zero()) {
        (true, _) => moved.push(format!("{} of refunds would not arise", money(revenue.checked_neg()?))),
        (_, true) => {}
        _ => moved.push(format!("{} of revenue would not come", money(revenue))),
    }
    match (saves.is_negative(), saves.is_zero()) {
        (true, _) => moved.push(format!("{} of cost would not come back with goods", money(saves.checked_neg()?))),
        (_, true) => {}
        _ => moved.push(format!("{} of its own costs would not arise", money(saves))),
    }
    let moved = if moved.is_empty() { "no money would move otherwise".to_owned() } else { moved.join(" and ") };
    let overhead = margin.sold.get(Component::Overhead);
    let stays = match overhead.is_positive() {
        false => String::new(),
        true => format!("{} of overhead would stay", money(read_printed(&row.sums.overhead)?)),
    };
    let hours = match margin.own_minutes()? {
        Some(minutes) if minutes.is_positive() => "its hours would be yours for something else",
        Some(_) => "",
        None => "its hours, as many as they are, would be yours for something else",
    };
    let rest: Vec<&str> = [stays.as_str(), hours].into_iter().filter(|words| !words.is_empty()).collect();
    let rest = if rest.is_empty() { String::new() } else { format!("; {}", rest.join(" and ")) };
    let where_else = match row.by.as_str() {
        "channel" | "fair" if revenue.is_positive() => ", unless its goods sell elsewhere",
        _ => "",
    };
    Some(IfDropped {
        loses: row.sums.revenue.clone(),
        says: format!("without it {moved}, so {ends}{where_else}{rest}"),
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
