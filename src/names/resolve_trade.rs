//! Channels, expenses and incomes: where the shop sells, what it spends besides goods, what it earns without them.

use crate::diagnostics::Diagnostics;
use crate::names::changes::Changes;
use crate::names::declare::Declared;
use crate::names::definition_lines::{DefinitionLines, Reading};
use crate::names::errors::defining;
use crate::names::resolve_shop::part_of_hundred;
use crate::names::spelling::normalised;
use crate::names::{Category, Channel, ChannelShare, CountsAs, Dated, FeeRule};
use crate::sources::SourceSet;
use crate::syntax::{DefinitionWord, Detail, DetailKind, FeeBase, Figure, Plain};
use rust_decimal::Decimal;

/// Channels, in the order of their ids. A channel with `consignment` or `wholesale` pays later.
pub(crate) fn resolve_channels(
    sources: &SourceSet,
    declared: &Declared<'_>,
    changes: &Changes<'_>,
    found: &mut Diagnostics,
) -> Vec<Channel> {
    let mut channels = Vec::new();
    for declaration in declared.of(DefinitionWord::Channel) {
        let lines = DefinitionLines::new(&declaration.definition.details, changes.of_name(&declaration.name));
        let share = lines.dated(ChannelShare::None, found, |detail, found| {
            let (percent, share): (_, fn(Decimal) -> ChannelShare) = match detail.kind {
                DetailKind::Consignment(percent) => (percent, ChannelShare::Consignment),
                DetailKind::Wholesale(percent) => (percent, ChannelShare::Wholesale),
                _ => return Reading::Other,
            };
            Reading::of(part_of_hundred(percent, detail.span, found).map(share))
        });
        let said_later = lines.dated(false, found, |detail, _| is(&detail.kind, Plain::PaysLater));
        channels.push(Channel {
            named: declaration.named(sources),
            place: declared.place_table.get(&declaration.name).copied(),
            fees: fees(lines, found),
            pays_later: pays_later(&said_later, &share),
            share,
            collects_sales_tax: lines.dated(false, found, |detail, _| is(&detail.kind, Plain::SalesTaxCollectedByChannel)),
            prices_include_tax: lines.dated(None, found, |detail, found| match detail.kind {
                DetailKind::PricesInclude(percent) => Reading::of(part_of_hundred(percent, detail.span, found).map(Some)),
                _ => Reading::Other,
            }),
        });
    }
    channels
}

fn is(kind: &DetailKind, word: Plain) -> Reading<bool> {
    if matches!(kind, DetailKind::Plain(said) if *said == word) { Reading::Is(true) } else { Reading::Other }
}

/// Said, or by consignment or wholesale, on each day on which either changes.
fn pays_later(said: &Dated<bool>, share: &Dated<ChannelShare>) -> Dated<bool> {
    let mut later = Dated::new(*said.first() || *share.first() != ChannelShare::None);
    let days = said.changes().iter().map(|(day, _)| day).chain(share.changes().iter().map(|(day, _)| day));
    for day in days {
        later.change(*day, *said.on(*day) || *share.on(*day) != ChannelShare::None);
    }
    later
}

fn fees(lines: DefinitionLines<'_>, found: &mut Diagnostics) -> Dated<Vec<FeeRule>> {
    let (base, changes) = lines.groups(found, |detail| matches!(detail.kind, DetailKind::Fee(..)));
    let mut fees = Dated::new(fee_rules(&base, found));
    for (day, details) in changes {
        fees.change(day, fee_rules(&details, found));
    }
    fees
}

fn fee_rules(details: &[&Detail], found: &mut Diagnostics) -> Vec<FeeRule> {
    let mut rules = Vec::new();
    for detail in details {
        let DetailKind::Fee(figure, base) = detail.kind else { continue };
        let rule = match (figure, base) {
            (Figure::Percent(percent), FeeBase::Total) => part(percent, detail, found).map(FeeRule::OfTotal),
            (Figure::Percent(percent), FeeBase::Goods) => part(percent, detail, found).map(FeeRule::OfGoods),
            (Figure::Percent(percent), FeeBase::Card) => part(percent, detail, found).map(FeeRule::OfCard),
            (Figure::Money(money), FeeBase::PerSale) => Some(FeeRule::PerSale(money)),
            (Figure::Money(money), FeeBase::PerItem) => Some(FeeRule::PerItem(money)),
            (Figure::Percent(_), FeeBase::PerSale | FeeBase::PerItem) => {
                found.push(defining::percent_per_piece(detail.span));
                None
            }
            (Figure::Money(_), FeeBase::Total | FeeBase::Goods | FeeBase::Card) => {
                found.push(defining::money_of_total(detail.span));
                None
            }
        };
        rules.extend(rule);
    }
    rules
}

fn part(percent: Decimal, detail: &Detail, found: &mut Diagnostics) -> Option<Decimal> {
    part_of_hundred(percent, detail.span, found)
}

/// Expenses or incomes, in the order of their ids. Where the book names a tax form, an expense needs `form line`.
pub(crate) fn resolve_categories(
    sources: &SourceSet,
    declared: &Declared<'_>,
    changes: &Changes<'_>,
    word: DefinitionWord,
    tax_form: Option<&str>,
    found: &mut Diagnostics,
) -> Vec<Category> {
    let mut categories = Vec::new();
    for declaration in declared.of(word) {
        let definition = declaration.definition;
        let lines = DefinitionLines::new(&definition.details, changes.of_name(&declaration.name));
        let form_line = lines.dated(None, found, |detail, _| match detail.kind {
            DetailKind::FormLine(line) => Reading::Is(Some(normalised(sources.text(line)).into_owned())),
            _ => Reading::Other,
        });
        let named = declaration.named(sources);
        let counts_as = lines.dated(CountsAs::Unassigned, found, |detail, _| match detail.kind {
            DetailKind::Plain(Plain::CountsAsOverhead) => Reading::Is(CountsAs::Overhead),
            DetailKind::Plain(Plain::CountsAsHouseCost) => Reading::Is(CountsAs::HouseCost),
            _ => Reading::Other,
        });
        // A house cost counts through the home workshop, which has its line or is asked.
        let is_house_cost = *counts_as.first() == CountsAs::HouseCost
            && counts_as.changes().iter().all(|(_, counts)| *counts == CountsAs::HouseCost);
        if let Some(form) = tax_form
            && word == DefinitionWord::Expense
            && form_line.first().is_none()
            && !is_house_cost
            && !named.incomplete
        {
            found.push(defining::form_line_missing(definition, &declaration.name, form));
        }
        if let Some(form) = tax_form
            && word == DefinitionWord::Income
            && form_line.first().is_none()
            && form_line.changes().is_empty()
            && !named.incomplete
        {
            found.push(defining::income_without_line(definition, &declaration.name, form));
        }
        categories.push(Category { named, form_line, business_use: business_use(lines, found), counts_as });
    }
    categories
}

/// The business part; all of it where not said.
pub(crate) fn business_use(lines: DefinitionLines<'_>, found: &mut Diagnostics) -> Dated<Decimal> {
    lines.dated(Decimal::ONE_HUNDRED, found, |detail, found| match detail.kind {
        DetailKind::BusinessUse(percent) => Reading::of(part_of_hundred(percent, detail.span, found)),
        _ => Reading::Other,
    })
}
