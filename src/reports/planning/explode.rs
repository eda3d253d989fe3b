//! From what is asked for to what must be built and had: down the recipes, level by level, each part held against what is there.
//!
//! What is asked for is built, whatever is on hand; of a part, only what is short. Every need of a thing is gathered before its own recipe is
//! opened, so a part that several builds share is held against the shelf once.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::{Decimal, RoundingStrategy};

use super::finishing::{Finishing, RestOfMaterial, finishing};
use super::learnt::Learnt;
use super::there::There;
use crate::costing::CostedBook;
use crate::events::EventLog;
use crate::names::{BatchId, ResolvedBook, StepId, ThingId};
use crate::units::quantity::mul_div_to_nine;
use crate::units::{Unit, checked_add_exact};

/// A thing to build.
#[derive(Clone, Debug)]
pub(crate) struct Build {
    pub(crate) thing: ThingId,
    pub(crate) asked: Decimal,
    pub(crate) for_parts: Decimal,
    /// What of these each build wants.
    pub(crate) wanted_by: Vec<WantedBy>,
    pub(crate) good: Decimal,
    pub(crate) begun: Decimal,
    /// Good pieces that are expected of those begun: `good`, and what whole pieces to begin make beyond these.
    pub(crate) expected_good: Decimal,
    pub(crate) learnt: Learnt,
    /// What the plan takes from the bench, batch by batch.
    pub(crate) finishing: Vec<Finishing>,
}

impl Build {
    /// Good pieces that the plan comes to: those expected of what it begins, and those that it takes from the bench.
    pub(crate) fn coming(&self) -> Option<Decimal> {
        let mut sum = self.expected_good;
        for one in &self.finishing {
            sum = checked_add_exact(sum, one.pieces).ok()?;
        }
        Some(sum)
    }
}

/// What wants pieces of a part.
#[derive(Clone, Copy, Debug)]
pub(crate) struct WantedBy {
    pub(crate) build: ThingId,
    /// The open batch that is to be finished; else it is for those that are begun.
    pub(crate) finishing: Option<BatchId>,
    pub(crate) pieces: Decimal,
    /// By the recipe alone.
    pub(crate) by_recipe: Decimal,
    /// Whether the last batches said how many are used.
    pub(crate) learnt: bool,
}

/// A thing to be had.
#[derive(Clone, Debug, Default)]
pub(crate) struct Needed {
    pub(crate) by_recipe: Decimal,
    pub(crate) needed: Decimal,
    /// Whether the last batches said how much is used.
    pub(super) learnt: bool,
    /// For what, build by build.
    pub(crate) wanted_by: Vec<NeededFor>,
}

/// What a build needs of a thing: by its recipe, or worn at one of its steps.
#[derive(Clone, Copy, Debug)]
pub(crate) struct NeededFor {
    pub(crate) build: ThingId,
    /// The open batch that is to be finished; else it is for those that are begun.
    pub(crate) finishing: Option<BatchId>,
    pub(crate) worn_at: Option<StepId>,
    pub(crate) by_recipe: Decimal,
    pub(crate) needed: Decimal,
    /// Whether the last batches said how much is used.
    pub(crate) learnt: bool,
    /// Whether the recipe has nothing of it, and the last batches used it.
    pub(crate) beyond: bool,
}

impl Needed {
    /// Whether no recipe has it, and the last batches used it.
    pub(super) fn is_beyond(&self) -> bool {
        let mut by_recipes = self.wanted_by.iter().filter(|one| one.worn_at.is_none()).peekable();
        by_recipes.peek().is_some() && by_recipes.all(|one| one.beyond)
    }

    /// Adds what a build needs, rounded half away from zero to nine digits. `None` where a sum is too large to be carried.
    pub(super) fn add(&mut self, one: NeededFor) -> Option<()> {
        let to_nine = |much: Decimal| much.round_dp_with_strategy(9, RoundingStrategy::MidpointAwayFromZero);
        let one = NeededFor { by_recipe: to_nine(one.by_recipe), needed: to_nine(one.needed), ..one };
        self.by_recipe = checked_add_exact(self.by_recipe, one.by_recipe).ok()?;
        self.needed = checked_add_exact(self.needed, one.needed).ok()?;
        self.learnt |= one.learnt;
        self.wanted_by.push(one);
        Some(())
    }
}

/// What a plan comes to.
#[derive(Clone, Debug, Default)]
pub(super) struct Exploded {
    /// Parts first.
    pub(super) builds: Vec<Build>,
    pub(super) needs: BTreeMap<ThingId, Needed>,
}

/// Why a plan can't be made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum ExplodeFault {
    /// A recipe needs itself: the round of names.
    Round(Vec<ThingId>),
    /// A figure is too large.
    TooLarge,
}

/// The plan's ground: the book on a day.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Ground<'a> {
    pub(crate) book: &'a ResolvedBook,
    pub(super) costed: &'a CostedBook,
    pub(super) log: &'a EventLog,
    pub(crate) day: NaiveDate,
}

impl Ground<'_> {
    /// Whether a thing is built by a recipe.
    pub(crate) fn is_built(self, thing: ThingId) -> bool {
        let thing = self.book.thing(thing);
        !thing.needs.on(self.day).is_empty() || !thing.takes.on(self.day).is_empty()
    }
}

/// Opens the recipes of what is asked for.
pub(super) fn explode(ground: Ground<'_>, asked: &[(ThingId, Decimal)], there: &There) -> Result<Exploded, ExplodeFault> {
    let mut order = Vec::new();
    let mut marks: BTreeMap<ThingId, Mark> = BTreeMap::new();
    for (thing, _) in asked {
        visit(ground, *thing, &mut marks, &mut order)?;
    }
    open(ground, asked, there, &order).ok_or(ExplodeFault::TooLarge)
}

fn open(ground: Ground<'_>, asked: &[(ThingId, Decimal)], there: &There, order: &[ThingId]) -> Option<Exploded> {
    let mut wanted: BTreeMap<ThingId, Vec<WantedBy>> = BTreeMap::new();
    let mut out = Exploded::default();
    // What needs a part comes before it.
    for thing in order.iter().rev().copied() {
        let mut of_thing = Decimal::ZERO;
        for (_, count) in asked.iter().filter(|(one, _)| *one == thing) {
            of_thing = checked_add_exact(of_thing, *count).ok()?;
        }
        let wanted_by = wanted.remove(&thing).unwrap_or_default();
        let mut for_parts = Decimal::ZERO;
        for one in &wanted_by {
            for_parts = checked_add_exact(for_parts, one.pieces).ok()?;
        }
        let beyond = |taken: Decimal| for_parts.saturating_sub(taken.max(Decimal::ZERO)).max(Decimal::ZERO);
        let on_hand = checked_add_exact(there.at_home(thing), there.on_the_bench(thing)).ok()?;
        let short = beyond(on_hand);
        let from_bench = beyond(there.at_home(thing)).saturating_sub(short);
        let good = checked_add_exact(of_thing, short).ok()?;
        if good.is_zero() && of_thing.is_zero() && for_parts.is_zero() {
            continue;
        }
        let learnt = Learnt::of(ground, thing)?;
        let begun = learnt.to_begin(good)?;
        let expected_good = learnt.expected_good(begun, good)?;
        for need in ground.book.thing(thing).needs.on(ground.day) {
            let for_begun = mul_div_to_nine(begun, need.quantity, need.per).ok()?;
            let (build, by_recipe, finishing) = (thing, for_begun, None);
            if ground.is_built(need.thing) {
                let (pieces, learnt) = parts_needed(ground, &learnt, need.thing, for_begun)?;
                wanted.entry(need.thing).or_default().push(WantedBy { build, finishing, pieces, by_recipe, learnt });
            } else {
                let (needed, learnt) = learnt.needed(need.thing, for_begun)?;
                let one = NeededFor { build, finishing, worn_at: None, by_recipe, needed, learnt, beyond: false };
                out.needs.entry(need.thing).or_default().add(one)?;
            }
        }
        for (need, needed) in learnt.needed_beyond(ground, begun)? {
            let (by_recipe, finishing, worn_at) = (Decimal::ZERO, None, None);
            let one = NeededFor { build: thing, finishing, worn_at, by_recipe, needed, learnt: true, beyond: true };
            out.needs.entry(need).or_default().add(one)?;
        }
        let finishing = finishing(ground, (thing, &learnt), from_bench, there)?;
        for open in &finishing {
            for (need, rest) in &open.materials {
                let (build, finishing) = (thing, Some(open.batch));
                let RestOfMaterial { planned: by_recipe, needed, learnt, beyond } = *rest;
                if ground.is_built(*need) {
                    let pieces = whole(ground, *need, needed);
                    wanted.entry(*need).or_default().push(WantedBy { build, finishing, pieces, by_recipe, learnt });
                } else {
                    let one = NeededFor { build, finishing, worn_at: None, by_recipe, needed, learnt, beyond };
                    out.needs.entry(*need).or_default().add(one)?;
                }
            }
        }
        out.builds.push(Build { thing, asked: of_thing, for_parts, wanted_by, good, begun, expected_good, learnt, finishing });
    }
    out.builds.reverse();
    Some(out)
}

/// Pieces of a part that are needed where the recipe says so many: as many more or fewer as the last batches used, in whole pieces. Whether they said it.
pub(super) fn parts_needed(ground: Ground<'_>, learnt: &Learnt, part: ThingId, by_recipe: Decimal) -> Option<(Decimal, bool)> {
    let (needed, learnt) = learnt.needed(part, by_recipe)?;
    Some((if learnt { whole(ground, part, needed) } else { needed }, learnt))
}

/// Pieces are whole ones.
fn whole(ground: Ground<'_>, part: ThingId, much: Decimal) -> Decimal {
    if is_whole(ground, part) { much.ceil() } else { much }
}

/// Whether a thing comes in whole pieces.
pub(super) fn is_whole(ground: Ground<'_>, thing: ThingId) -> bool {
    ground.book.thing(thing).unit == Unit::Each
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Mark {
    Open,
    Done,
}

/// Goes down the recipes, parts before what needs them. A chain of recipes may be long, so the way down is a list, not a call in a call.
fn visit(
    ground: Ground<'_>,
    first: ThingId,
    marks: &mut BTreeMap<ThingId, Mark>,
    order: &mut Vec<ThingId>,
) -> Result<(), ExplodeFault> {
    let mut way: Vec<(ThingId, usize)> = Vec::new();
    if marks.contains_key(&first) {
        return Ok(());
    }
    marks.insert(first, Mark::Open);
    way.push((first, 0));
    while let Some((thing, next)) = way.last_mut() {
        let needs = ground.book.thing(*thing).needs.on(ground.day);
        let Some(need) = needs.get(*next) else {
            marks.insert(*thing, Mark::Done);
            order.push(*thing);
            way.pop();
            continue;
        };
        *next = next.saturating_add(1);
        if !ground.is_built(need.thing) {
            continue;
        }
        match marks.get(&need.thing) {
            Some(Mark::Done) => {}
            Some(Mark::Open) => {
                let mut round: Vec<ThingId> =
                    way.iter().map(|(thing, _)| *thing).skip_while(|thing| *thing != need.thing).collect();
                round.push(need.thing);
                return Err(ExplodeFault::Round(round));
            }
            None => {
                marks.insert(need.thing, Mark::Open);
                way.push((need.thing, 0));
            }
        }
    }
    Ok(())
}
