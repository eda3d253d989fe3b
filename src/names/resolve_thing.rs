//! Materials and products: unit, class and packs first, then what names other things.
//!
//! The first pass needs no other name; the second looks up lines, patterns and what a material is an offcut of.

use crate::diagnostics::Diagnostics;
use crate::names::changes::Changes;
use crate::names::declare::{Declaration, Declared};
use crate::names::definition_lines::{DefinitionLines, Reading};
use crate::names::errors::defining;
use crate::names::packs::resolve_packs;
use crate::names::spelling::unit_words;
use crate::names::{CountRule, Counting, Dated, Known, LineId, Lookup, PatternId, Tallied, Thing, ThingId, ThingKind};
use crate::sources::SourceSet;
use crate::syntax::{DefinitionWord, DetailKind, MoneyWord, Plain};
use crate::units::{Dimension, Unit};
use rust_decimal::Decimal;

/// Materials and products in the order of their ids, without what names other things; and those whose unit is not known, which
/// has been told.
pub(crate) fn resolve_things(
    sources: &SourceSet,
    declared: &Declared<'_>,
    changes: &Changes<'_>,
    found: &mut Diagnostics,
) -> (Vec<Thing>, Vec<String>) {
    let (mut things, mut unmeasured) = (Vec::new(), Vec::new());
    for declaration in declared.of(DefinitionWord::Material) {
        let lines = DefinitionLines::new(&declaration.definition.details, changes.of_name(&declaration.name));
        let product = declaration.definition.word == DefinitionWord::Product;
        let unit = if product { Some(Unit::Each) } else { measured_in(sources, declaration, lines, found) };
        let own = unit.unwrap_or(Unit::Each);
        // Where the unit is not known, what leans on it stays silent.
        let mut unheard = Diagnostics::default();
        let told = if unit.is_some() { &mut *found } else { &mut unheard };
        let packs = resolve_packs(sources, lines, own, told);
        if unit.is_none() {
            unmeasured.push(declaration.name.clone());
        }
        things.push(Thing {
            named: declaration.named(sources),
            kind: if product { ThingKind::Product } else { class(lines, found) },
            unit: own,
            packs,
            tallied: lines.dated(Tallied::Exactly, found, |detail, _| match detail.kind {
                DetailKind::Plain(Plain::TalliedExactly) => Reading::Is(Tallied::Exactly),
                DetailKind::Plain(Plain::TalliedBySurfaceMeasure) => Reading::Is(Tallied::BySurfaceMeasure),
                _ => Reading::Other,
            }),
            reorder_at: Dated::new(None),
            from: None,
            line: Dated::new(None),
            needs: Dated::new(Vec::new()),
            takes: Dated::new(Vec::new()),
            price: lines.dated(None, found, |detail, _| match detail.kind {
                DetailKind::Sum(MoneyWord::Price, money, _) => Reading::Is(Some(money)),
                _ => Reading::Other,
            }),
            recipe_incomplete: declaration.named(sources).incomplete,
            pattern: Dated::new(None),
            for_children_from_months: lines.dated(None, found, |detail, _| match detail.kind {
                DetailKind::ForChildren { from_months } => Reading::Is(Some(from_months)),
                _ => Reading::Other,
            }),
        });
    }
    (things, unmeasured)
}

/// The unit of a material; `None` after the reason was told.
fn measured_in(
    sources: &SourceSet,
    declaration: &Declaration<'_>,
    lines: DefinitionLines<'_>,
    found: &mut Diagnostics,
) -> Option<Unit> {
    let mut said = false;
    let unit = lines.once(found, |detail, found| {
        let DetailKind::MeasuredIn(words) = detail.kind else { return Reading::Other };
        said = true;
        let spelled = unit_words(sources.text(words));
        match Unit::parse(&spelled) {
            Some(unit) if unit.dimension() != Dimension::Time => Reading::Is(unit),
            Some(_) => {
                found.push(defining::measured_in_time(&spelled, words));
                Reading::Bad
            }
            None => {
                found.push(defining::measured_in_no_unit(&spelled, words));
                Reading::Bad
            }
        }
    });
    let definition = declaration.definition;
    if !said && !definition.damaged && definition.unread.is_empty() {
        let unit = unit_beside(sources, &declaration.name).unwrap_or(Unit::Each);
        found.push(defining::measured_in_missing(definition, &declaration.name, unit));
    }
    unit.map(|(unit, _)| unit)
}

/// The unit that stands before a name in the text of the book, behind a number: `lb` where it says `10 lb soy-wax`. A large book is not
/// searched.
fn unit_beside(sources: &SourceSet, name: &str) -> Option<Unit> {
    const LARGEST: usize = 4_000_000;
    let text = Some(sources.whole()).filter(|text| text.len() <= LARGEST)?;
    let is_joint = |letter: char| letter.is_alphanumeric() || matches!(letter, '-' | '/');
    text.match_indices(name).find_map(|(at, _)| {
        let behind = text.get(at.checked_add(name.len())?..)?;
        let line = text.get(..at)?.rsplit('\n').next()?;
        if behind.starts_with(is_joint) || !line.ends_with(' ') {
            return None;
        }
        let mut words = line.split_whitespace().rev();
        let (unit, before) = (words.next()?, words.next()?);
        let is_number = |word: &str| word.starts_with(|first: char| first.is_ascii_digit());
        let (unit, number) = match before {
            "sq" | "cu" | "fl" => (format!("{before} {unit}"), words.next()?),
            _ => (unit.to_owned(), before),
        };
        Unit::parse(&unit).filter(|unit| is_number(number) && unit.dimension() != Dimension::Time)
    })
}

fn class(lines: DefinitionLines<'_>, found: &mut Diagnostics) -> ThingKind {
    let class = lines.once(found, |detail, _| match detail.kind {
        DetailKind::Plain(Plain::AsWear) => Reading::Is(ThingKind::Wear),
        DetailKind::Plain(Plain::AsPacking) => Reading::Is(ThingKind::Packing),
        _ => Reading::Other,
    });
    class.map_or(ThingKind::Material, |(class, _)| class)
}

/// What a thing says of other names, on each day.
pub(crate) struct ThingLinks {
    pub(crate) reorder_at: Dated<Option<Decimal>>,
    pub(crate) from: Option<ThingId>,
    pub(crate) line: Dated<Option<LineId>>,
    pub(crate) pattern: Dated<Option<PatternId>>,
}

/// Looks up what a thing says of other names.
pub(crate) fn link_thing(
    lookup: &Lookup<'_>,
    id: ThingId,
    lines: DefinitionLines<'_>,
    is_measured: bool,
    found: &mut Diagnostics,
) -> ThingLinks {
    let counting = Counting { day: None, rule: CountRule::UnitStays };
    let from = lines.once(found, |detail, found| {
        let DetailKind::FromMaterial(name) = detail.kind else { return Reading::Other };
        let from = lookup.find(name, &[DefinitionWord::Material], None, found);
        match from {
            Some(Known::Thing(from)) if from == id => {
                found.push(defining::from_itself(&lookup.book.thing(id).named.name, name));
                Reading::Bad
            }
            Some(Known::Thing(from)) => Reading::Is(from),
            _ => Reading::Bad,
        }
    });
    ThingLinks {
        reorder_at: lines.dated(None, found, |detail, found| match &detail.kind {
            // Where its own unit is not known, that has been told.
            DetailKind::ReorderAt(_) if !is_measured => Reading::Bad,
            DetailKind::ReorderAt(amount) => Reading::of(lookup.quantity(amount, None, id, counting, found).map(Some)),
            _ => Reading::Other,
        }),
        from: from.map(|(from, _)| from),
        line: lines.dated(None, found, |detail, found| match detail.kind {
            DetailKind::Line(name) => Reading::of(lookup.line(name, found).map(Some)),
            _ => Reading::Other,
        }),
        pattern: lines.dated(None, found, |detail, found| match detail.kind {
            DetailKind::Pattern(name) => Reading::of(lookup.pattern(name, found).map(Some)),
            _ => Reading::Other,
        }),
    }
}
