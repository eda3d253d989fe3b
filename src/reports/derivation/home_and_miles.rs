//! The home workshop and the miles of a tax year: the rate with its source, what it is taken of, and what a limit cuts.

use chrono::Datelike;
use rust_decimal::Decimal;

use super::equipment_figure::told_in_full;
use super::self_employment_figure::sourced;
use super::{Step, Sum, Telling};
use crate::costing::MileItem;
use crate::reports::WhyRule;
use crate::reports::period::{money_text, quantity_text};
use crate::units::{Fixed6, checked_mul_exact};
use crate::year::{Feed, HomeYear, SumOf, TaxYear};

impl Telling<'_> {
    /// The home workshop.
    pub(super) fn home_workshop(&mut self, year: &TaxYear) -> Option<(String, Vec<Step>)> {
        let Some(home) = &year.home else {
            return Some((format!("The form of {} has no amount for a home workshop.", year.year), Vec::new()));
        };
        let mut top = self.home_amount(year, home)?;
        let mut cut = String::new();
        if !home.excess.is_zero() {
            if let (Some(at), Some(less)) = (home.limit, top.steps.last_mut()) {
                less.rule = WhyRule::Figured;
                less.steps.push(self.line_once(year, at, 2)?);
            }
            let excess = money_text(self.of.books.book, home.excess);
            cut = format!(": {excess} is cut off, since {}", self.limit_of_home(year, home));
        }
        let amount = money_text(self.of.books.book, home.amount);
        let answer = format!("The home workshop counts with {amount} in {}{cut}.", year.year);
        Some((answer, vec![top]))
    }

    /// What the home workshop may be at most, in words.
    fn limit_of_home(&self, year: &TaxYear, home: &HomeYear) -> String {
        let line = home.limit.and_then(|at| year.lines.get(at));
        let (number, limit) = line.map_or(("", Fixed6::ZERO), |line| (line.number.as_str(), line.cents));
        match limit.is_positive() {
            true => format!("line {number}, the profit before it, is {}", money_text(self.of.books.book, limit)),
            false => format!("line {number} has no profit before it"),
        }
    }

    /// The home workshop before its limit, and what that cuts.
    pub(super) fn home_amount(&self, year: &TaxYear, home: &HomeYear) -> Option<Step> {
        let book = self.of.books.book;
        let says = format!("home workshop in {}", year.year);
        let mut top = Step::nowhere(says, Sum::both(home.amount), WhyRule::SumOf);
        let mut before = Step::nowhere(home.how.clone(), Sum::both(home.before_limit), WhyRule::Figured);
        if let Some(feet) = &home.by_feet {
            let rate = Fixed6::round_from_decimal(feet.per_square_foot)?;
            let says = format!("for each square foot{}", sourced(Some(&feet.source)));
            before.steps.push(Step::nowhere(says, Sum::both(rate), WhyRule::Said));
            let at = book.shop.span;
            let mut all = Decimal::ZERO;
            let mut months = Vec::with_capacity(feet.months.len());
            for (month, area) in (1..).zip(&feet.months) {
                all = crate::units::checked_add_exact(all, *area).ok()?;
                let says = format!("that count in {:04}-{month:02}", year.year);
                months.push(Step::new(says, Sum::default(), WhyRule::Said, at).counted(*area, "sq ft"));
            }
            let mut of_months =
                Step::nowhere("the twelve months together, of which a twelfth counts", Sum::default(), WhyRule::SumOf);
            of_months = of_months.counted(all, "sq ft");
            of_months.steps = months;
            before.steps.push(of_months);
        } else {
            before.rule = WhyRule::SumOf;
            let sums = year.lines.iter().flat_map(|line| &line.sums);
            for item in sums.filter(|sum| sum.of == SumOf::Feed(Feed::HomeWorkshop)).flat_map(|sum| &sum.items) {
                let says = format!("{} the share of that day", item.date);
                before.steps.push(Step::new(says, Sum::both(item.amount), WhyRule::Said, item.span));
            }
            told_in_full(&mut before, "rounded to the cent")?;
        }
        top.steps.push(before);
        if !home.excess.is_zero() {
            let reached = self.limit_of_home(year, home);
            let says = format!("less what is cut off, since a home workshop can't make or raise a loss: {reached}");
            top.steps.push(Step::nowhere(says, Sum::both(home.excess.checked_neg()?), WhyRule::Said));
        }
        Some(top)
    }

    /// Miles at their rates, drive by drive.
    pub(super) fn mileage(&self, year: &TaxYear) -> Option<(String, Vec<Step>)> {
        let books = self.of.books;
        let mileage = &year.mileage;
        let drives = books.costed.miles.iter().filter(|drive| drive.date.year() == year.year);
        let mut of_rate: Vec<(Fixed6, Vec<Step>)> = vec![(Fixed6::ZERO, Vec::new()); mileage.rates.len()];
        for drive in drives {
            let at = self.head(drive.event);
            let rate = mileage.rates.iter().position(|rate| rate.from <= drive.date && drive.date <= rate.to);
            if let Some((rate, slot)) = rate.and_then(|at| Some((mileage.rates.get(at)?, of_rate.get_mut(at)?))) {
                let money = Fixed6::round_from_decimal(checked_mul_exact(drive.miles, rate.rate).ok()?)?;
                let says = format!("{} {} mi x {}", drive.date, quantity_text(drive.miles), rate.rate.normalize());
                slot.0 = slot.0.checked_add(money)?;
                slot.1.push(Step::new(says, Sum::both(money), WhyRule::Said, at));
            }
        }
        let mut top = Step::nowhere(format!("miles of {} at their rates", year.year), Sum::both(mileage.amount), WhyRule::SumOf);
        for (rate, (money, drives)) in mileage.rates.iter().zip(of_rate) {
            let says = format!(
                "{} mi from {} to {} x {}{}",
                quantity_text(rate.miles),
                rate.from,
                rate.to,
                rate.rate.normalize(),
                sourced(Some(&rate.source))
            );
            let mut step = Step::nowhere(says, Sum::both(money), WhyRule::SumOf);
            step.steps = drives;
            top.steps.push(step);
        }
        told_in_full(&mut top, "rounded to the cent")?;
        let mut miles = Step::nowhere(format!("miles of {}", year.year), Sum::default(), WhyRule::SumOf);
        miles = miles.counted(mileage.miles, "mi");
        miles.steps = self.drives(year);
        let answer = format!(
            "{} miles were driven in {} for {}.",
            quantity_text(mileage.miles),
            year.year,
            money_text(books.book, mileage.amount)
        );
        Some((answer, vec![top, miles]))
    }

    /// The miles of a year, drive by drive.
    pub(super) fn drives(&self, year: &TaxYear) -> Vec<Step> {
        let drives = self.of.books.costed.miles.iter().filter(|drive| drive.date.year() == year.year);
        let step = |drive: &MileItem| {
            let at = self.head(drive.event);
            Step::new(drive.date.to_string(), Sum::default(), WhyRule::Said, at).counted(drive.miles, "mi")
        };
        drives.map(step).collect()
    }
}
