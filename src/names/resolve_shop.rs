//! The shop, the choices of a tax year, and the place that is home.
//!
//! Left out of `shop`: fifo, cash basis, stock kept as inventory, cents, short stock an error, no owner time, no overhead. A book
//! without `shop`, or a shop without `currency`, is warned of: then these are assumed, and US dollars.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use crate::diagnostics::Diagnostics;
use crate::names::changes::Changes;
use crate::names::definition_lines::{DefinitionLines, Reading};
use crate::names::errors::defining;
use crate::names::spelling::{normalised, unit_words};
use crate::names::{Basis, Choices, CostingMethod, Dated, HomeWorkshop, OverheadRule, Shop, StockKept};
use crate::sources::{SourceSet, Span};
use crate::syntax::{Amount, AmountKind, Definition, DefinitionWord, Detail, DetailKind, MoneyWord, Plain, SyntaxFile};
use crate::units::{Currency, Fixed6, Unit, convert};

/// The shop of a book, with its defaults.
pub(crate) fn resolve_shop(sources: &SourceSet, syntax: &SyntaxFile, changes: &Changes<'_>, found: &mut Diagnostics) -> Shop {
    let mut shops = syntax.definitions.iter().filter(|one| one.word == DefinitionWord::Shop);
    let definition = shops.next();
    if let Some(first) = definition {
        for other in shops {
            found.push(defining::second_shop(other, first));
        }
        if first.title.is_empty() && !first.damaged {
            found.push(defining::shop_without_title(first));
        }
    } else if let Some(place) = first_block(syntax) {
        found.push(defining::no_shop(place, true));
    } else if let Some(file) = sources.files().first().filter(|_| !found.has_errors()) {
        found.push(defining::no_shop(Span::new(file.span.start, file.span.start), false));
    }
    let details = definition.map_or(&[][..], |definition| &definition.details);
    let lines = DefinitionLines::new(details, changes.of_shop());
    tell_not_on_new_year(changes, found);
    Shop {
        title: definition.map_or_else(String::new, |one| sources.text(one.title).to_owned()),
        span: definition.map_or(Span::default(), |one| one.head),
        currency: currency(sources, definition, lines, found),
        costing: words(lines, CostingMethod::Fifo, found, |word| match word {
            Plain::CostingFifo => Some(CostingMethod::Fifo),
            Plain::CostingAverage => Some(CostingMethod::Average),
            _ => None,
        }),
        owner_time: lines.dated(None, found, |detail, _| match detail.kind {
            DetailKind::OwnerTime(rate) => Reading::Is(Some(rate)),
            _ => Reading::Other,
        }),
        overhead: lines.dated(OverheadRule::None, found, |detail, _| match detail.kind {
            DetailKind::OverheadRate(rate) => Reading::Is(OverheadRule::PerHour(rate)),
            DetailKind::Plain(Plain::OverheadFromExpenses) => Reading::Is(OverheadRule::FromExpenses),
            _ => Reading::Other,
        }),
        tax_form: tax_form(sources, lines, found),
        basis: words(lines, Basis::Cash, found, |word| match word {
            Plain::CashBasis => Some(Basis::Cash),
            Plain::AccrualBasis => Some(Basis::Accrual),
            _ => None,
        }),
        stock_kept: words(lines, StockKept::Inventory, found, |word| match word {
            Plain::StockAsInventory => Some(StockKept::Inventory),
            Plain::StockAsSupplies => Some(StockKept::Supplies),
            _ => None,
        }),
        whole_dollars: words(lines, false, found, |word| match word {
            Plain::WholeDollars => Some(true),
            Plain::Cents => Some(false),
            _ => None,
        }),
        short_stock_is_a_warning: words(lines, false, found, |word| match word {
            Plain::ShortStockWarning => Some(true),
            Plain::ShortStockError => Some(false),
            _ => None,
        }),
        sales_tax_to: lines.dated(None, found, |detail, _| match detail.kind {
            DetailKind::SalesTaxTo(name) => Reading::Is(Some(normalised(sources.text(name)).into_owned())),
            _ => Reading::Other,
        }),
        home_workshop: lines.dated(None, found, |detail, found| home_workshop(sources, detail, found)),
        hours_per_week: lines.dated(None, found, |detail, _| match detail.kind {
            DetailKind::HoursPerWeek(hours) => Reading::Is(Some(hours)),
            _ => Reading::Other,
        }),
        home: None,
    }
}

/// Words of which one excludes the others, and which may change.
fn words<T: Clone>(
    lines: DefinitionLines<'_>,
    default: T,
    found: &mut Diagnostics,
    read: impl Fn(Plain) -> Option<T>,
) -> Dated<T> {
    lines.dated(default, found, |detail, _| match detail.kind {
        DetailKind::Plain(word) => read(word).map_or(Reading::Other, Reading::Is),
        _ => Reading::Other,
    })
}

/// The place at which a missing `shop` is told: the first block of the book.
fn first_block(syntax: &SyntaxFile) -> Option<Span> {
    let definition = syntax.definitions.first().map(|one| one.head);
    // Lines before the first head of a file are an entry without one.
    let entry = syntax.entries.iter().map(|one| one.head).find(|head| !head.is_empty());
    definition.into_iter().chain(entry).min()
}

fn currency(sources: &SourceSet, shop: Option<&Definition>, lines: DefinitionLines<'_>, found: &mut Diagnostics) -> Currency {
    let mut said = false;
    let currency = lines.once(found, |detail, found| {
        let DetailKind::Currency(code) = detail.kind else { return Reading::Other };
        said = true;
        let known = Currency::parse(sources.text(code));
        if known.is_none() {
            found.push(defining::unknown_currency(sources.text(code), code));
        }
        Reading::of(known)
    });
    if let Some(shop) = shop
        && !said
        && shop.unread.is_empty()
    {
        found.push(defining::no_currency(shop));
    }
    currency.map_or(Currency::USD, |(currency, _)| currency)
}

fn tax_form(sources: &SourceSet, lines: DefinitionLines<'_>, found: &mut Diagnostics) -> Option<String> {
    let form = lines.once(found, |detail, _| match detail.kind {
        DetailKind::TaxForm(name) => Reading::Is(normalised(sources.text(name)).into_owned()),
        _ => Reading::Other,
    });
    form.map(|(name, _)| name)
}

fn home_workshop(sources: &SourceSet, detail: &Detail, found: &mut Diagnostics) -> Reading<Option<HomeWorkshop>> {
    let DetailKind::HomeWorkshop { area, percent, from } = &detail.kind else { return Reading::Other };
    let workshop = match (area, percent) {
        (Some(area), _) => {
            square_feet(sources, area, found).map(|square_feet| HomeWorkshop::Simplified { square_feet, from: *from })
        }
        (None, Some(percent)) => {
            part_of_hundred(*percent, detail.span, found).map(|percent| HomeWorkshop::PartOfHouseCosts { percent, from: *from })
        }
        (None, None) => None,
    };
    workshop.map_or(Reading::Bad, |workshop| Reading::Is(Some(workshop)))
}

fn square_feet(sources: &SourceSet, area: &Amount, found: &mut Diagnostics) -> Option<Decimal> {
    let unit = match area.kind {
        AmountKind::Measured { unit } => Unit::parse(&unit_words(sources.text(unit))),
        AmountKind::Count { .. } | AmountKind::Time => None,
    };
    let feet = unit.and_then(|unit| convert(area.value, unit, Unit::SquareFoot).ok());
    if feet.is_none() {
        found.push(defining::no_area(sources.text(area.span), area.span));
    }
    feet
}

/// A percentage, if it is one of 0 to 100; else that is told.
pub(crate) fn part_of_hundred(percent: Decimal, line: Span, found: &mut Diagnostics) -> Option<Decimal> {
    let fits = percent <= Decimal::ONE_HUNDRED && !percent.is_sign_negative();
    if !fits {
        found.push(defining::percent_out_of_range(percent, line));
    }
    fits.then_some(percent)
}

/// A sum of money, if it has no more digits than the currency; else that is told.
pub(crate) fn sum_of(money: Decimal, currency: Currency, place: Span, found: &mut Diagnostics) -> Option<Decimal> {
    let fits = Fixed6::from_decimal_exact(money).is_some_and(|sum| sum.has_at_most(currency.digits()));
    if !fits {
        found.push(defining::too_many_digits(money, currency, place));
    }
    fits.then_some(money)
}

/// Costing, basis and stock kept change a whole year or nothing.
fn tell_not_on_new_year(changes: &Changes<'_>, found: &mut Diagnostics) {
    for change in changes.of_shop() {
        if change.day.ordinal() == 1 {
            continue;
        }
        for detail in change.details {
            let yearly = matches!(
                detail.kind,
                DetailKind::Plain(
                    Plain::CostingFifo
                        | Plain::CostingAverage
                        | Plain::CashBasis
                        | Plain::AccrualBasis
                        | Plain::StockAsInventory
                        | Plain::StockAsSupplies
                )
            );
            if yearly {
                let next = NaiveDate::from_ymd_opt(change.day.year().saturating_add(1), 1, 1);
                found.push(defining::only_on_new_year(detail.span, change.day, next));
            }
        }
    }
}

/// The choices of each tax year.
pub(crate) fn resolve_choices(syntax: &SyntaxFile, currency: Currency, found: &mut Diagnostics) -> BTreeMap<i32, Choices> {
    let mut by_year: BTreeMap<i32, Choices> = BTreeMap::new();
    for definition in syntax.definitions.iter().filter(|one| one.word == DefinitionWord::Choices) {
        let Some(year) = definition.year else { continue };
        if let Some(first) = by_year.get(&year) {
            found.push(defining::choices_twice(year, definition.head, first.span));
            continue;
        }
        let lines = DefinitionLines::new(&definition.details, &[]);
        let de_minimis = lines.has(found, |detail| matches!(detail.kind, DetailKind::Plain(Plain::DeMinimisElected)));
        let wages = lines.once(found, |detail, found| match detail.kind {
            DetailKind::Sum(MoneyWord::WagesElsewhere, money, place) => Reading::of(sum_of(money, currency, place, found)),
            _ => Reading::Other,
        });
        let wages_elsewhere = wages.map(|(money, _)| money);
        by_year.insert(year, Choices { year, span: definition.head, de_minimis, wages_elsewhere });
    }
    by_year
}
