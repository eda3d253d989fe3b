//! What the numbers of a plan stand on: what each build wants by its recipe and its last batches, the lots that are there, the last purchases.

use rust_decimal::Decimal;

use super::plan_figure::is_packed;
use super::plan_hours::made_at;
use super::{Step, Sum, Telling};
use crate::names::{BatchId, ThingId};
use crate::reports::period::quantity_text;
use crate::reports::planning::{Build, LearntBatch, NeededFor, Planned};
use crate::reports::{BatchFigure, FigureName, LotFigure, PlanPart, WhyRule};

impl<'d> Telling<'d> {
    /// What each build wants of a part.
    pub(super) fn wanted_by(&mut self, p: &Planned<'d>, part: ThingId, level: usize) -> Option<Vec<Step>> {
        let unit = p.books.book.thing(part).unit.as_str();
        let mut steps = Vec::new();
        for one in &p.build(part)?.wanted_by {
            if let Some(batch) = one.finishing {
                steps.push(self.to_finish(p, (one.build, batch), "").counted(one.pieces, unit));
                continue;
            }
            let mut step = Step::nowhere(format!("for {}", self.name(one.build)), Sum::default(), WhyRule::Figured);
            step = step.counted(one.pieces, unit);
            step.steps = self.pieces(p, one.build, PlanPart::ToBegin, level.saturating_add(1))?;
            step.steps.extend(self.recipe(p, one.build, part));
            if one.learnt {
                step.steps.extend(self.used_last(p.build(one.build)?, part, unit)?);
            }
            steps.push(step);
        }
        Some(steps)
    }

    /// What finishing an open batch takes: what all that it aims at takes, less what it used and took so far, for the pieces that the plan takes.
    pub(super) fn to_finish(&self, p: &Planned<'d>, (build, batch): (ThingId, BatchId), what: &str) -> Step {
        let book = p.books.book;
        let says = format!("{what}to finish {} of batch {}", self.name(build), book.batch(batch).name);
        let figure = FigureName::Batch(BatchFigure { batch, part: None });
        Step::nowhere(says, Sum::default(), WhyRule::Said).named(figure)
    }

    /// Good pieces of a build that the plan comes to: those expected of what is begun, and those from the bench.
    pub(super) fn coming(&mut self, p: &Planned<'d>, build: ThingId, level: usize) -> Option<Vec<Step>> {
        let mut steps = self.pieces(p, build, PlanPart::ExpectedGood, level)?;
        let unit = p.books.book.thing(build).unit.as_str();
        for open in &p.build(build)?.finishing {
            let figure = FigureName::Batch(BatchFigure { batch: open.batch, part: None });
            let says = format!("taken from the bench of batch {}", p.books.book.batch(open.batch).name);
            steps.push(Step::nowhere(says, Sum::default(), WhyRule::Said).counted(open.pieces, unit).named(figure));
        }
        steps.retain(|step| !step.shows_nothing());
        Some(steps)
    }

    /// What a build needs of a thing.
    pub(super) fn needed_for(
        &mut self,
        p: &Planned<'d>,
        thing: ThingId,
        one: NeededFor,
        part: PlanPart,
        level: usize,
    ) -> Option<Step> {
        let below = level.saturating_add(1);
        let book = p.books.book;
        let unit = book.thing(thing).unit.as_str();
        let much = if part == PlanPart::Needed { one.needed } else { one.by_recipe };
        let build = p.build(one.build)?;
        if let Some(step) = one.worn_at {
            let says = format!("worn at {} for {}", book.step(step).named.name, self.name(one.build));
            let mut worn = Step::nowhere(says, Sum::default(), WhyRule::Figured).counted(much, unit);
            worn.steps.push(self.build_minutes(p, (build, one.finishing), step, PlanPart::Expected, below)?);
            for wear in book.step(step).wears.on(p.ground.day).iter().filter(|wear| wear.thing == thing) {
                let says = format!("each {} minutes", quantity_text(wear.per_minutes));
                let said = Step::new(says, Sum::default(), WhyRule::Said, wear.span);
                worn.steps.push(said.counted(wear.quantity, unit));
            }
            return Some(worn);
        }
        if let Some(batch) = one.finishing {
            return Some(self.to_finish(p, (one.build, batch), "").counted(much, unit));
        }
        let mut step = Step::nowhere(format!("for {}", self.name(one.build)), Sum::default(), WhyRule::Figured);
        step = step.counted(much, unit);
        step.steps = self.pieces(p, one.build, PlanPart::ToBegin, below)?;
        step.steps.extend(self.recipe(p, one.build, thing));
        if one.beyond && part == PlanPart::Needed {
            let used = |batch: &LearntBatch| Some(batch.beyond.get(&thing).copied().unwrap_or_default());
            step.steps.push(self.of_batches(build, "used in the last batches, beyond the recipe", unit, used)?);
            let pieces = book.thing(one.build).unit.as_str();
            step.steps.push(self.of_batches(build, "pieces begun in them", pieces, LearntBatch::begun)?);
        } else if one.learnt && part == PlanPart::Needed {
            step.steps.extend(self.used_last(build, thing, unit)?);
        }
        Some(step)
    }

    /// What the last batches used of a thing, and what their recipes allow for it.
    fn used_last(&self, build: &Build, thing: ThingId, unit: &'static str) -> Option<[Step; 2]> {
        let used = |of: fn(&(Decimal, Decimal)) -> Decimal| {
            move |batch: &LearntBatch| Some(batch.used.get(&thing).map_or(Decimal::ZERO, of))
        };
        Some([
            self.of_batches(build, "used in the last batches", unit, used(|(used, _)| *used))?,
            self.of_batches(build, "what the recipe allows for them", unit, used(|(_, allowed)| *allowed))?,
        ])
    }

    /// The pieces by which the yield of the last batches is judged.
    pub(super) fn judged(&self, build: &Build, says: &str, unit: &'static str) -> Option<Step> {
        let is_all = build.learnt.from.iter().all(|one| one.charged_off.is_zero());
        let says = if is_all { says.to_owned() } else { format!("{says}, without those charged off") };
        self.of_batches(build, &says, unit, LearntBatch::judged)
    }

    /// The lines of a recipe that ask for a thing.
    fn recipe(&self, p: &Planned<'d>, build: ThingId, thing: ThingId) -> Vec<Step> {
        let book = p.books.book;
        let unit = book.thing(thing).unit.as_str();
        let needs = book.thing(build).needs.on(p.ground.day).iter().filter(|need| need.thing == thing);
        needs
            .map(|need| {
                let says = match need.per == Decimal::ONE {
                    true => "for each piece, by the recipe".to_owned(),
                    false => format!("for each {} pieces, by the recipe", quantity_text(need.per)),
                };
                Step::new(says, Sum::default(), WhyRule::Said, need.span).counted(need.quantity, unit)
            })
            .collect()
    }

    /// A number of the last batches, batch by batch.
    pub(super) fn of_batches(
        &self,
        build: &Build,
        says: &str,
        unit: &'static str,
        number: impl Fn(&LearntBatch) -> Option<Decimal>,
    ) -> Option<Step> {
        let mut steps = Vec::new();
        for one in &build.learnt.from {
            let account = self.of.books.costed.batches.get(one.batch.index())?;
            let named = format!("batch {}", self.of.books.book.batch(one.batch).name);
            let at = made_at(account, build.thing);
            let figure = FigureName::Batch(BatchFigure { batch: one.batch, part: None });
            steps.push(Step::new(named, Sum::default(), WhyRule::Said, at).counted(number(one)?, unit).named(figure));
        }
        let mut sum = Step::sum_of(says, steps)?;
        sum.count = sum.count.or(Some((Decimal::ZERO, unit)));
        Some(sum)
    }

    /// Lots at home, or those elsewhere.
    pub(super) fn lots_of_plan(&self, p: &Planned<'d>, thing: ThingId, at_home: bool) -> Option<Vec<Step>> {
        let of = self.of;
        let unit = p.books.book.thing(thing).unit.as_str();
        let mut steps = Vec::new();
        for lot in of.index.stock(of.books.costed, thing) {
            if (Some(lot.place) == p.books.book.shop.home) != at_home {
                continue;
            }
            let number = lot.origin.number;
            let place = &p.books.book.place(lot.place).named.name;
            let name = of.names.lot(number).split_once('/').map_or("", |(_, which)| which);
            let at = of.trace.lot(number)?.line;
            let figure = FigureName::Lot(LotFigure { number, part: None });
            let step = Step::new(format!("of lot {name} at {place}"), Sum::default(), WhyRule::Said, at);
            steps.push(step.counted(lot.quantity, unit).named(figure));
        }
        Some(steps)
    }

    /// How much a pack holds, by the line of the last purchase; nothing where it is bought by its own unit.
    pub(super) fn holds(&self, p: &Planned<'d>, thing: ThingId) -> Option<Option<Step>> {
        let buy = p.buys.iter().find(|buy| buy.thing == thing)?;
        let unit = p.books.book.thing(thing).unit.as_str();
        let Some(last) = buy.last.filter(|_| is_packed(buy, unit)) else { return Some(None) };
        let how = if last.swapped { "got in a swap" } else { "bought" };
        let says = format!("in a {}, as it was {how} on {}", buy.pack, last.date);
        Some(Some(Step::new(says, Sum::default(), WhyRule::Said, last.line).counted(buy.holds, unit)))
    }

    /// The last purchase of a thing.
    pub(super) fn last_lot(&mut self, p: &Planned<'d>, thing: ThingId, level: usize) -> Option<Step> {
        let bought = p.last.of_thing(thing)?;
        let mut lots = self.of.index.lots(self.of.trace, thing);
        let lot = lots.find(|lot| (lot.origin.event, lot.line) == (bought.event, bought.line));
        // A purchase of which a part was issued before it came left a smaller lot.
        match lot.filter(|lot| lot.quantity == bought.quantity && lot.cost.full() == Some(bought.cost)) {
            Some(lot) => self.lot(lot.origin.number, level),
            None => {
                let how = if bought.swapped { "got in a swap" } else { "bought" };
                let says = format!("{}, {how} on {}", self.amount_of(thing, bought.quantity), bought.date);
                Some(Step::new(says, Sum::of_amounts(bought.amounts)?, WhyRule::Said, bought.line))
            }
        }
    }
}
