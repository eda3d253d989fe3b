//! Packs and conversions of one thing: `1 bag = 50 ea`, `1 can = 473 ml`, `1 bf = 3.6 lb`.
//!
//! In: a thing's lines. Out: [`Pack`]s, each with what it holds in the thing's own unit, and the way from one unit to another
//! that they make. A conversion goes from one dimension to another; within a dimension the units' own factors stand.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::diagnostics::Diagnostics;
use crate::names::definition_lines::DefinitionLines;
use crate::names::errors::packing;
use crate::names::plural::{plurals_of, singulars_of};
use crate::names::spelling::unit_words;
use crate::names::{Dated, Pack};
use crate::sources::{SourceSet, Span};
use crate::syntax::{Amount, AmountKind, Detail, DetailKind, is_name};
use crate::units::conversion::factor_between;
use crate::units::quantity::mul_div_to_nine;
use crate::units::{Dimension, NumberError, Unit, checked_mul_exact};

/// Why a quantity can't be brought to another unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum NoConversion {
    /// Nothing says how.
    Dimension,
    /// Too large, or too many digits.
    Number(NumberError),
}

/// The ways between units that a thing's own lines make.
#[derive(Clone, Copy)]
pub(crate) struct Conversions<'p> {
    packs: &'p [Pack],
}

/// A factor that is multiplied and divided by only once, at the end of the way.
#[derive(Clone, Copy)]
struct Factor {
    times: Decimal,
    over: Decimal,
}

impl Factor {
    const ONE: Self = Self { times: Decimal::ONE, over: Decimal::ONE };

    fn then(self, times: Decimal, over: Decimal) -> Result<Self, NumberError> {
        Ok(Self { times: checked_mul_exact(self.times, times)?, over: checked_mul_exact(self.over, over)? })
    }

    fn between(self, from: Unit, to: Unit) -> Result<Self, NoConversion> {
        let (times, over) = factor_between(from, to).ok_or(NoConversion::Dimension)?;
        let whole = |number| Decimal::try_from_i128_with_scale(number, 0).map_err(|_| NumberError::Overflow);
        let both = whole(times).and_then(|times| Ok((times, whole(over)?)));
        both.and_then(|(times, over)| self.then(times, over)).map_err(NoConversion::Number)
    }
}

impl<'p> Conversions<'p> {
    pub(crate) const fn of(packs: &'p [Pack]) -> Self {
        Self { packs }
    }

    /// A quantity of one unit in another: exact where finite, else rounded once to 9 places.
    pub(crate) fn convert(self, quantity: Decimal, from: Unit, to: Unit) -> Result<Decimal, NoConversion> {
        if from == to {
            return Ok(quantity);
        }
        let mut passed = vec![from.dimension()];
        let factor = self.way(from, to, Factor::ONE, &mut passed)?;
        mul_div_to_nine(quantity, factor.times, factor.over).map_err(NoConversion::Number)
    }

    /// Whether there is a way.
    pub(crate) fn connects(self, from: Unit, to: Unit) -> bool {
        let mut passed = vec![from.dimension()];
        !matches!(self.way(from, to, Factor::ONE, &mut passed), Err(NoConversion::Dimension))
    }

    /// Walks from dimension to dimension, none of them twice, so at most five steps deep.
    fn way(self, from: Unit, to: Unit, so_far: Factor, passed: &mut Vec<Dimension>) -> Result<Factor, NoConversion> {
        if from.dimension() == to.dimension() {
            return so_far.between(from, to);
        }
        for pack in self.packs {
            let Some(one) = Unit::parse(&pack.name) else { continue };
            let (number, other) = pack.written;
            let forward = one.dimension() == from.dimension();
            let next = if forward { other } else { one };
            if !(forward || other.dimension() == from.dimension()) || passed.contains(&next.dimension()) {
                continue;
            }
            let step = if forward {
                so_far.between(from, one)?.then(number, Decimal::ONE)
            } else {
                so_far.between(from, other)?.then(Decimal::ONE, number)
            };
            passed.push(next.dimension());
            match self.way(next, to, step.map_err(NoConversion::Number)?, passed) {
                Err(NoConversion::Dimension) => {}
                way => return way,
            }
        }
        Err(NoConversion::Dimension)
    }
}

/// The pack of a name.
pub(crate) fn pack_named<'p>(packs: &'p [Pack], name: &str) -> Option<&'p Pack> {
    packs.iter().find(|pack| pack.name == name)
}

/// A line `1 UNIT = AMOUNT`, read but not yet followed.
struct PackLine<'s> {
    name: String,
    unit: Span,
    holds: &'s Amount,
    span: Span,
}

/// The packs of a thing measured in `own`, and their changes. A change replaces the pack of its name.
pub(crate) fn resolve_packs(
    sources: &SourceSet,
    lines: DefinitionLines<'_>,
    own: Unit,
    found: &mut Diagnostics,
) -> Dated<Vec<Pack>> {
    let (base, changes) = lines.groups(found, |detail| matches!(detail.kind, DetailKind::Conversion { .. }));
    let mut standing = Vec::new();
    take_lines(sources, &base, &mut standing, found);
    let first = follow_all(sources, &standing, own, None, found);
    let mut packs = Dated::new(first);
    for (day, details) in changes {
        let mut changed = Vec::new();
        take_lines(sources, &details, &mut changed, found);
        let new: Vec<String> = changed.iter().map(|line| line.name.clone()).collect();
        standing.retain(|line| !new.contains(&line.name));
        standing.extend(changed);
        let followed = follow_all(sources, &standing, own, Some((day, &new)), found);
        packs.change(day, followed);
    }
    packs
}

fn take_lines<'s>(sources: &SourceSet, details: &[&'s Detail], standing: &mut Vec<PackLine<'s>>, found: &mut Diagnostics) {
    for detail in details {
        let DetailKind::Conversion { unit, holds } = &detail.kind else { continue };
        let words = unit_words(sources.text(*unit)).into_owned();
        if Unit::parse(&words).is_none() && !is_name(&words) {
            found.push(packing::no_pack_name(&words, *unit));
            continue;
        }
        let same = |line: &&PackLine<'_>| {
            line.name == words || plurals_of(&line.name).contains(&words) || singulars_of(&line.name).contains(&words)
        };
        if let Some(first) = standing.iter().find(same) {
            found.push(packing::pack_said_twice(&words, detail.span, first.span));
            continue;
        }
        standing.push(PackLine { name: words, unit: *unit, holds, span: detail.span });
    }
}

/// Follows every line to the thing's own unit. Of a change only the new lines' mistakes are told.
fn follow_all(
    sources: &SourceSet,
    lines: &[PackLine<'_>],
    own: Unit,
    change: Option<(NaiveDate, &[String])>,
    found: &mut Diagnostics,
) -> Vec<Pack> {
    let mut unheard = Diagnostics::default();
    // Conversions between units come first: packs may lean on them.
    let mut packs: Vec<Pack> = Vec::new();
    for units_only in [true, false] {
        for line in lines.iter().filter(|line| Unit::parse(&line.name).is_some() == units_only) {
            let heard = change.is_none_or(|(_, new)| new.contains(&line.name));
            let told = if heard { &mut *found } else { &mut unheard };
            let pack = match Unit::parse(&line.name) {
                Some(unit) => conversion(sources, line, unit, told),
                None => pack(sources, line, lines, own, &packs, told),
            };
            packs.extend(pack);
        }
    }
    for pack in &packs {
        let useless = Unit::parse(&pack.name).is_some_and(|unit| !Conversions::of(&packs).connects(unit, own));
        if useless && change.is_none_or(|(_, new)| new.contains(&pack.name)) {
            found.push(packing::leads_nowhere(pack, own));
        }
    }
    packs.sort_by(|a, b| a.name.cmp(&b.name));
    packs
}

/// `1 bf = 3.6 lb`: from one dimension to another.
fn conversion(sources: &SourceSet, line: &PackLine<'_>, unit: Unit, found: &mut Diagnostics) -> Option<Pack> {
    let other = match line.holds.kind {
        AmountKind::Measured { unit } => Unit::parse(&unit_words(sources.text(unit))),
        AmountKind::Time => Some(Unit::Minute),
        // A number without a unit was told where the line was read.
        AmountKind::Count { .. } => return None,
    };
    let wrong = match other {
        None => packing::no_unit(sources, line.holds),
        Some(other) if [unit, other].iter().any(|unit| unit.dimension() == Dimension::Time) => packing::no_time(line.span),
        Some(other) if other.dimension() == unit.dimension() => packing::known_already(unit, other, line.span),
        Some(_) if line.holds.value.is_zero() => packing::holds_nothing(line.holds.span),
        Some(other) => {
            let written = (line.holds.value, other);
            return Some(Pack { name: line.name.clone(), holds: None, written, span: line.span });
        }
    };
    found.push(wrong);
    None
}

/// `1 bag = 50 ea`, `1 case = 12 can`: down to the thing's own unit.
fn pack(
    sources: &SourceSet,
    line: &PackLine<'_>,
    lines: &[PackLine<'_>],
    own: Unit,
    conversions: &[Pack],
    found: &mut Diagnostics,
) -> Option<Pack> {
    let mut number = Decimal::ONE;
    let mut at = line;
    // A pack of packs is followed down; more steps than lines is a ring.
    for _ in 0..=lines.len() {
        if at.holds.value.is_zero() {
            found.push(packing::holds_nothing(at.holds.span));
            return None;
        }
        let unit = match at.holds.kind {
            AmountKind::Measured { unit } => unit,
            // A number without a unit was told where the line was read.
            AmountKind::Count { .. } => return None,
            AmountKind::Time => {
                found.push(packing::no_time(at.span));
                return None;
            }
        };
        number = match checked_mul_exact(number, at.holds.value) {
            Ok(product) => product,
            Err(error) => {
                found.push(packing::number(line.holds.span, error));
                return None;
            }
        };
        let words = unit_words(sources.text(unit));
        if let Some(unit) = Unit::parse(&words) {
            return match Conversions::of(conversions).convert(number, unit, own) {
                Ok(holds) => Some(Pack { name: line.name.clone(), holds: Some(holds), written: (number, unit), span: line.span }),
                Err(NoConversion::Dimension) => {
                    found.push(packing::pack_in_wrong_dimension(&line.name, at.holds.span, unit, own));
                    None
                }
                Err(NoConversion::Number(error)) => {
                    found.push(packing::number(line.holds.span, error));
                    None
                }
            };
        }
        let plural = if at.holds.value == Decimal::ONE { Vec::new() } else { singulars_of(&words) };
        match lines.iter().find(|other| other.name == words || plural.contains(&other.name)) {
            Some(next) => at = next,
            None => {
                found.push(packing::unknown_pack_unit(&words, unit, lines.iter().map(|line| line.name.as_str())));
                return None;
            }
        }
    }
    found.push(packing::ring_of_packs(&line.name, line.unit));
    None
}
