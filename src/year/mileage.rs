//! Miles by date, times the rate in force.
//!
//! Miles at one rate are summed first; the products are summed exactly and rounded once, to the cent.

use rust_decimal::Decimal;

use crate::diagnostics::Diagnostics;
use crate::sources::Span;
use crate::units::{Fixed6, checked_add_exact, checked_mul_exact};
use crate::year::Feed;
use crate::year::Rule;
use crate::year::books::BooksOfYear;
use crate::year::errors::no_figure;
use crate::year::ledger::Ledger;
use crate::year::questions::Questions;
use crate::year::tax_year::{Item, Mileage, MilesAtRate, Sum, SumOf};

/// Adds up the year's miles and puts them on their line. `None` on overflow.
pub(crate) fn fill_mileage(
    of: &BooksOfYear<'_>,
    ledger: &mut Ledger,
    questions: &mut Questions,
    found: &mut Diagnostics,
) -> Option<Mileage> {
    let mut rates: Vec<MilesAtRate> = of
        .figures
        .mileage_of_year(of.year)
        .map(|rate| MilesAtRate {
            from: rate.from.0,
            to: rate.to.0,
            rate: rate.per_mile.0,
            miles: Decimal::ZERO,
            source: rate.note(),
        })
        .collect();
    rates.sort_by_key(|rate| rate.from);
    let (mut miles, mut items, mut entries) = (Decimal::ZERO, Vec::new(), Vec::new());
    for drive in of.costed().miles.iter().filter(|drive| of.has(drive.date)) {
        let span = of.head(drive.event);
        entries.push(span);
        miles = checked_add_exact(miles, drive.miles).ok()?;
        if of.form.asked_of(Feed::Miles).is_some() {
            continue;
        }
        let Some(rate) = rates.iter_mut().find(|rate| rate.from <= drive.date && drive.date <= rate.to) else {
            found.push(no_figure(span, of.form, "mileage", "miles were driven on this day"));
            continue;
        };
        rate.miles = checked_add_exact(rate.miles, drive.miles).ok()?;
        let amount = Fixed6::round_from_decimal(checked_mul_exact(drive.miles, rate.rate).ok()?)?;
        items.push(Item { date: drive.date, amount, event: Some(drive.event), span });
    }
    let mut exact = Decimal::ZERO;
    for rate in &rates {
        exact = checked_add_exact(exact, checked_mul_exact(rate.miles, rate.rate).ok()?).ok()?;
    }
    let amount = Fixed6::round_from_decimal(exact)?.round_to(of.digits());
    if let Some(line) = of.form.line_of(Feed::Miles).filter(|_| !items.is_empty()) {
        let name = "miles at the standard rate".to_owned();
        let whole = Fixed6::round_from_decimal(exact)?;
        ledger.add(line, Sum { of: SumOf::Feed(Feed::Miles), name, amount, whole, share: String::new(), items });
        ask(of, ledger, line, entries, questions);
    }
    rates.retain(|rate| !rate.miles.is_zero());
    Some(Mileage { miles, rates, amount })
}

fn ask(of: &BooksOfYear<'_>, ledger: &Ledger, line: usize, entries: Vec<Span>, questions: &mut Questions) {
    let actual: Vec<Span> = (ledger.sums(line).iter())
        .filter(|sum| matches!(sum.of, SumOf::Expense(_)))
        .flat_map(|sum| sum.items.iter().map(|item| item.span))
        .collect();
    if !actual.is_empty() {
        let question = format!(
            "miles at the standard rate and costs of a car both stand on line {}: are those costs parking and tolls, or another vehicle?",
            of.form.lines.get(line).map_or("", |line| line.number.as_str())
        );
        questions.ask(
            "mileage/actual-costs",
            question,
            Rule::MileageRate,
            "answered … \"mileage/actual-costs\" \"…\", or move the costs to another line",
            actual,
        );
    }
    let question = "was the standard rate chosen in the first year in which the car was used for the shop?".to_owned();
    questions.ask_to_confirm(
        "mileage/first-year",
        question,
        Rule::MileageRate,
        (
            "answered … \"mileage/first-year\" \"yes, from the first year on\"",
            "the car's costs as an expense on its line, in place of the drives",
        ),
        entries,
    );
}
