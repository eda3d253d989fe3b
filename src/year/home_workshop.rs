//! The home workshop, figured last: it can't make or raise a loss.
//!
//! Simplified (Rev. Proc. 2013-13): money per square foot times the average area of the twelve months, each month at most 300
//! square feet and zero where it had fewer than fifteen days; nothing is carried to another year. By a share of the house costs:
//! limited likewise, the excess listed.

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use crate::diagnostics::Diagnostics;
use crate::names::HomeWorkshop;
use crate::units::{Fixed6, Percent, checked_add_exact, checked_mul_exact, mul_div_round};
use crate::year::books::BooksOfYear;
use crate::year::errors::no_figure;
use crate::year::expenses::Left;
use crate::year::questions::Questions;
use crate::year::tax_year::{HomeFeet, HomeYear, Item};
use crate::year::{Feed, Rule};

/// What the home workshop comes to before its limit: to the cent, in words, with the items behind it.
#[derive(Clone, Debug)]
pub(crate) struct BeforeLimit {
    pub(crate) year: HomeYear,
    pub(crate) items: Vec<Item>,
}

/// Figures the home workshop before the limit; `Some(None)` where there is none. `None` on overflow.
pub(crate) fn figure_home(
    of: &BooksOfYear<'_>,
    left: &Left,
    questions: &mut Questions,
    found: &mut Diagnostics,
) -> Option<Option<BeforeLimit>> {
    let shop = &of.book().shop;
    let house_items = || left.house.iter().flat_map(|(_, items)| items.iter().copied());
    let is_simplified = day_of_year(of, |rule| matches!(rule, HomeWorkshop::Simplified { .. }));
    let has_share = day_of_year(of, |rule| matches!(rule, HomeWorkshop::PartOfHouseCosts { .. }));
    if !has_share && !left.house.is_empty() {
        let entries = house_items().map(|item| item.span).collect();
        let question = match is_simplified {
            true => "house costs are kept beside the simplified home workshop and count nowhere: is that meant?",
            false => "house costs are kept, and the shop says no `home workshop`: they count nowhere; is that meant?",
        };
        questions.ask(
            "home-workshop/house-costs",
            question.to_owned(),
            Rule::HouseCosts,
            "home workshop 12% of house costs, in `shop`",
            entries,
        );
    }
    if is_simplified && has_share {
        let question = "the home workshop was figured by two methods in one year; the form takes one a year: which?".to_owned();
        questions.ask("home-workshop/method", question, Rule::HouseCosts, "changed … shop from a 1 January", vec![shop.span]);
    }
    if is_simplified {
        let Some(rule) = of.figures.home_simplified(of.year) else {
            if of.form.asked_of(Feed::HomeWorkshop).is_some() {
                return Some(Some(not_figured(of)));
            }
            found.push(no_figure(shop.span, of.form, "home_simplified", "the shop has a home workshop by that method"));
            return Some(None);
        };
        let mut feet = Decimal::ZERO;
        let mut by_month = Vec::with_capacity(12);
        for month in 1..=12 {
            let area = area_of_month(of, month, rule.fewest_days_of_a_month).min(rule.most_square_feet.0);
            feet = checked_add_exact(feet, area).ok()?;
            by_month.push(area);
        }
        let months = by_month.iter().filter(|area| !area.is_zero()).count();
        // Money times twelve months' feet, over twelve: multiplied first, rounded once.
        let twelve_times = checked_mul_exact(feet, rule.per_square_foot.0).ok()?;
        let step = 10i128.checked_pow(6u32.saturating_sub(of.digits()))?;
        let steps = mul_div_round(Fixed6::round_from_decimal(twelve_times)?.micros(), 1, step.checked_mul(12)?)?;
        let before_limit = Fixed6::from_micros(steps.checked_mul(step)?);
        let how = format!(
            "{} a square foot × {} square feet on an average of twelve months, {months} {} in use",
            rule.per_square_foot.0.normalize(),
            average_feet(feet)?,
            if months == 1 { "month" } else { "months" }
        );
        let by_feet = Some(HomeFeet { per_square_foot: rule.per_square_foot.0, months: by_month, source: rule.note() });
        let year = HomeYear { simplified: true, how, by_feet, ..not_limited(before_limit) };
        return Some(Some(BeforeLimit { year, items: Vec::new() }));
    }
    if !has_share {
        return Some(None);
    }
    let mut exact = Fixed6::ZERO;
    let (mut items, mut percents) = (Vec::new(), Vec::new());
    for (id, cost_items) in &left.house {
        let category = of.book().expense(*id);
        for item in cost_items {
            let percent = share_on(of, item.date);
            let own = Percent::new(*category.business_use.on(item.date)).of_exact(percent).ok()?;
            let amount = Percent::new(own).of_rounded(item.amount, 6)?;
            exact = exact.checked_add(amount)?;
            items.push(Item { amount, ..*item });
            if !percents.contains(&percent) {
                percents.push(percent);
            }
        }
    }
    let before_limit = exact.round_to(of.digits());
    let percents: Vec<_> = percents.iter().map(|percent| format!("{}%", percent.normalize())).collect();
    let how = format!("{} of the house costs", if percents.is_empty() { "a share".to_owned() } else { percents.join(" and ") });
    let year = HomeYear { how, ..not_limited(before_limit) };
    Some(Some(BeforeLimit { year, items }))
}

/// A workshop of so many square feet, where the form asks for it and its data has no amount for one.
fn not_figured(of: &BooksOfYear<'_>) -> BeforeLimit {
    let mut areas: Vec<Decimal> = (1..=12).map(|month| area_of_month(of, month, 1)).filter(|area| !area.is_zero()).collect();
    areas.dedup();
    let areas: Vec<String> = areas.iter().map(|area| format!("{} sq ft", area.normalize())).collect();
    let year = HomeYear { simplified: true, how: areas.join(", then "), ..not_limited(Fixed6::ZERO) };
    BeforeLimit { year, items: Vec::new() }
}

/// A share of house costs that no limit has cut yet.
fn not_limited(before_limit: Fixed6) -> HomeYear {
    HomeYear {
        simplified: false,
        how: String::new(),
        before_limit,
        amount: before_limit,
        excess: Fixed6::ZERO,
        limit: None,
        by_feet: None,
    }
}

/// A twelfth of the square feet of twelve months, to two digits at most.
fn average_feet(feet: Decimal) -> Option<Decimal> {
    let whole = Fixed6::round_from_decimal(feet)?;
    let average = Fixed6::from_micros(mul_div_round(whole.micros(), 1, 12)?).round_to(2);
    average.to_decimal().map(|average| average.normalize())
}

/// Limits it by the form's own line: at most that, at least nothing.
pub(crate) fn limit_home(home: &mut HomeYear, (line, limit): (usize, Fixed6)) -> Option<()> {
    home.limit = Some(line);
    home.amount = home.before_limit.min(limit).max(Fixed6::ZERO);
    home.excess = home.before_limit.checked_sub(home.amount)?;
    Some(())
}

/// Whether on some day of the year a rule holds.
fn day_of_year(of: &BooksOfYear<'_>, wanted: impl Fn(&HomeWorkshop) -> bool) -> bool {
    of.first.iter_days().take_while(|day| *day <= of.last).any(|day| in_use(of, day).is_some_and(|rule| wanted(&rule)))
}

/// The rule in force on a day, where the workshop is in use by then: from its own `from`, else from 1 January of the book's first
/// year.
pub(crate) fn in_use(of: &BooksOfYear<'_>, day: NaiveDate) -> Option<HomeWorkshop> {
    let rule = (*of.book().shop.home_workshop.on(day))?;
    let (HomeWorkshop::Simplified { from, .. } | HomeWorkshop::PartOfHouseCosts { from, .. }) = rule;
    let from = from.or_else(|| NaiveDate::from_ymd_opt(of.books.log.first_day?.year(), 1, 1))?;
    (from <= day).then_some(rule)
}

fn share_on(of: &BooksOfYear<'_>, day: NaiveDate) -> Decimal {
    match in_use(of, day) {
        Some(HomeWorkshop::PartOfHouseCosts { percent, .. }) => percent,
        _ => Decimal::ZERO,
    }
}

/// The area of a month: what was in force on the most of its days, and nothing where fewer than `fewest` days were in use.
fn area_of_month(of: &BooksOfYear<'_>, month: u32, fewest: u32) -> Decimal {
    let Some(first) = NaiveDate::from_ymd_opt(of.year, month, 1) else { return Decimal::ZERO };
    let mut areas: Vec<(u32, Decimal)> = Vec::new();
    for day in first.iter_days().take_while(|day| day.month() == month) {
        if let Some(HomeWorkshop::Simplified { square_feet, .. }) = in_use(of, day) {
            match areas.iter_mut().find(|(_, area)| *area == square_feet) {
                Some((days, _)) => *days += 1,
                None => areas.push((1, square_feet)),
            }
        }
    }
    let days: u32 = areas.iter().map(|(days, _)| days).sum();
    let most = areas.iter().max_by_key(|(days, _)| *days);
    most.filter(|_| days >= fewest).map_or(Decimal::ZERO, |(_, area)| *area)
}
