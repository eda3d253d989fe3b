//! Helpers and patterns: to whom the shop owes money for time, and for a design.

use rust_decimal::Decimal;

use crate::diagnostics::Diagnostics;
use crate::names::changes::Changes;
use crate::names::declare::Declared;
use crate::names::definition_lines::{DefinitionLines, Reading};
use crate::names::errors::quantities;
use crate::names::spelling::unit_words;
use crate::names::{Helper, Pattern};
use crate::sources::SourceSet;
use crate::syntax::{Amount, AmountKind, DefinitionWord, DetailKind, Plain};
use crate::units::{Unit, convert};

/// Helpers, in the order of their ids.
pub(crate) fn resolve_helpers(
    sources: &SourceSet,
    declared: &Declared<'_>,
    changes: &Changes<'_>,
    found: &mut Diagnostics,
) -> Vec<Helper> {
    let mut helpers = Vec::new();
    for declaration in declared.of(DefinitionWord::Helper) {
        let lines = DefinitionLines::new(&declaration.definition.details, changes.of_name(&declaration.name));
        helpers.push(Helper {
            named: declaration.named(sources),
            employee: lines.dated(false, found, |detail, _| match detail.kind {
                DetailKind::Plain(Plain::Employee) => Reading::Is(true),
                DetailKind::Plain(Plain::Contractor) => Reading::Is(false),
                _ => Reading::Other,
            }),
            costs: lines.dated(None, found, |detail, _| match detail.kind {
                DetailKind::Costs(rate) => Reading::Is(Some(rate)),
                _ => Reading::Other,
            }),
            paid_later: lines.dated(false, found, |detail, _| paid_later(&detail.kind)),
        });
    }
    helpers
}

/// Patterns, in the order of their ids.
pub(crate) fn resolve_patterns(
    sources: &SourceSet,
    declared: &Declared<'_>,
    changes: &Changes<'_>,
    found: &mut Diagnostics,
) -> Vec<Pattern> {
    let mut patterns = Vec::new();
    for declaration in declared.of(DefinitionWord::Pattern) {
        let lines = DefinitionLines::new(&declaration.definition.details, changes.of_name(&declaration.name));
        patterns.push(Pattern {
            named: declaration.named(sources),
            allows: lines.dated(None, found, |detail, found| match &detail.kind {
                DetailKind::Allows(amount) => Reading::of(pieces(sources, amount, found).map(Some)),
                _ => Reading::Other,
            }),
            royalty: lines.dated(None, found, |detail, _| match detail.kind {
                DetailKind::Royalty(rate) => Reading::Is(Some(rate)),
                _ => Reading::Other,
            }),
            paid_later: lines.dated(false, found, |detail, _| paid_later(&detail.kind)),
        });
    }
    patterns
}

const fn paid_later(kind: &DetailKind) -> Reading<bool> {
    match kind {
        DetailKind::Plain(Plain::PaidLater) => Reading::Is(true),
        _ => Reading::Other,
    }
}

/// A whole number of pieces above zero, with its unit (`50 ea`, `2 dozen`); else that is told.
pub(crate) fn pieces(sources: &SourceSet, amount: &Amount, found: &mut Diagnostics) -> Option<Decimal> {
    let unit = match amount.kind {
        AmountKind::Measured { unit } => Unit::parse(&unit_words(sources.text(unit))),
        // A number without a unit was told where it was read.
        AmountKind::Count { .. } => return None,
        AmountKind::Time => None,
    };
    let count = unit.and_then(|unit| convert(amount.value, unit, Unit::Each).ok());
    let whole = count.filter(|count| count.is_integer() && !count.is_zero());
    if whole.is_none() {
        found.push(quantities::no_whole_pieces(sources, amount));
    }
    whole
}
