//! The groups of what pays, year beside year.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::costing::CostedBook;
use crate::names::ResolvedBook;
use crate::reports::pays_part::PaysOf;
use crate::reports::period::money_text;
use crate::reports::report_pays::Margins;
use crate::reports::{PaysGroup, PaysTrend, TrendYear};
use crate::units::Fixed6;

/// Each line, channel and product that ever had something, whatever days are asked about: its years from the first on, up to the last of the book. A year between or
/// after without any of it is one of zeros, so that what is no longer sold shows. `None` on overflow.
pub(super) fn trend(
    book: &ResolvedBook,
    costed: &CostedBook,
    ever: &[(PaysOf, PaysGroup)],
    by_year: &BTreeMap<i32, Margins>,
) -> Option<Vec<PaysTrend>> {
    let mut rows: BTreeMap<PaysOf, Vec<TrendYear>> = BTreeMap::new();
    let years = by_year.keys().next().zip(by_year.keys().next_back()).map(|(first, last)| *first..=*last);
    for year in years.into_iter().flatten() {
        let so_far = costed.until < NaiveDate::from_ymd_opt(year, 12, 31);
        if let Some(margins) = by_year.get(&year) {
            for (of, row) in margins.rows(book)?.groups {
                rows.entry(of).or_default().push(TrendYear {
                    year,
                    so_far,
                    revenue: row.sums.revenue,
                    paid_margin: row.sums.paid_margin,
                    full_margin: row.sums.full_margin,
                    own_minutes: row.sums.own_minutes,
                    earned_per_hour: row.earned_per_hour,
                });
            }
        }
        for years in rows.values_mut().filter(|years| years.last().is_some_and(|last| last.year < year)) {
            years.push(nothing_in(book, year, so_far));
        }
    }
    let of_groups = ever.iter().filter(|(of, _)| !matches!(of, PaysOf::Fair(..)));
    let trends = of_groups.map(|(of, row)| PaysTrend {
        by: row.by.clone(),
        name: row.name.clone(),
        title: row.title.clone(),
        years: rows.remove(of).unwrap_or_default(),
    });
    Some(trends.collect())
}

fn nothing_in(book: &ResolvedBook, year: i32, so_far: bool) -> TrendYear {
    let zero = || money_text(book, Fixed6::ZERO);
    TrendYear {
        year,
        so_far,
        revenue: zero(),
        paid_margin: zero(),
        full_margin: zero(),
        own_minutes: Some("0".to_owned()),
        earned_per_hour: None,
    }
}
