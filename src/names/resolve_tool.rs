//! Tools: when they came into use, how their cost is recovered, how long they last.

use crate::diagnostics::Diagnostics;
use crate::names::changes::Changes;
use crate::names::declare::Declared;
use crate::names::definition_lines::{DefinitionLines, Reading};
use crate::names::errors::defining;
use crate::names::resolve_shop::sum_of;
use crate::names::resolve_trade::business_use;
use crate::names::{Recovery, Tool};
use crate::sources::SourceSet;
use crate::syntax::{DefinitionWord, Detail, DetailKind, Plain};
use crate::units::Currency;
use rust_decimal::Decimal;

/// Tools, in the order of their ids.
pub(crate) fn resolve_tools(
    sources: &SourceSet,
    declared: &Declared<'_>,
    changes: &Changes<'_>,
    currency: Currency,
    found: &mut Diagnostics,
) -> Vec<Tool> {
    let mut tools = Vec::new();
    for declaration in declared.of(DefinitionWord::Tool) {
        let lines = DefinitionLines::new(&declaration.definition.details, changes.of_name(&declaration.name));
        let in_use_from = lines.once(found, |detail, _| match detail.kind {
            DetailKind::InUseFrom(day) => Reading::Is(day),
            _ => Reading::Other,
        });
        let recovery = recovery(lines, currency, found);
        let lasts = lines.once(found, |detail, found| match detail.kind {
            DetailKind::Lasts(years) => Reading::of(above_zero(years, detail, found)),
            _ => Reading::Other,
        });
        tools.push(Tool {
            named: declaration.named(sources),
            in_use_from: in_use_from.map(|(day, _)| day),
            recovery,
            no_bonus: lines.has(found, |detail| matches!(detail.kind, DetailKind::Plain(Plain::NoBonus))),
            mid_quarter: lines.has(found, |detail| matches!(detail.kind, DetailKind::Plain(Plain::MidQuarter))),
            business_use: business_use(lines, found),
            lasts_years: lasts.map(|(years, _)| years),
        });
    }
    tools
}

/// How its cost is recovered. A part under section 179 may stand beside the years over which the rest is recovered.
fn recovery(lines: DefinitionLines<'_>, currency: Currency, found: &mut Diagnostics) -> Option<Recovery> {
    let years = lines.once(found, |detail, found| match detail.kind {
        DetailKind::RecoveredOver(years) => Reading::of(above_zero(years, detail, found)),
        _ => Reading::Other,
    });
    let years = years.map(|(years, _)| years);
    let beside = lines.once(found, |detail, found| match detail.kind {
        DetailKind::Section179(None) => Reading::Is(Recovery::Section179 { stated: None, rest_over: years }),
        DetailKind::Section179(Some(money)) => {
            let money = sum_of(money, currency, detail.span, found);
            Reading::of(money.map(|money| Recovery::Section179 { stated: Some(money), rest_over: years }))
        }
        DetailKind::Plain(Plain::ExpensedAtOnce) => Reading::Is(Recovery::AtOnce),
        _ => Reading::Other,
    });
    beside.map(|(recovery, _)| recovery).or(years.map(Recovery::OverYears))
}

fn above_zero(years: Decimal, detail: &Detail, found: &mut Diagnostics) -> Option<Decimal> {
    if years.is_zero() {
        found.push(defining::no_years(detail.span));
    }
    (!years.is_zero()).then_some(years)
}
