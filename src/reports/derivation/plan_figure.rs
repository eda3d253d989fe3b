//! A plan's figures: pieces and materials down to the recipes, the shelf and the last batches; money to buy with down to the last purchases.
//!
//! What the numbers stand on is told in `plan_goods.rs`, what a piece is expected to cost in `plan_cost.rs`, what the hours are in `plan_hours.rs`.

use rust_decimal::Decimal;

use super::amount::Shown;
use super::{Step, Sum, Telling};
use crate::names::ThingId;
use crate::reports::period::{minutes_text, money_text, quantity_text, unit_cost_text};
use crate::reports::planning::{Planned, ToBuy};
use crate::reports::{BatchFigure, CostPart, FigureName, PlanFigure, PlanPart, PlanRow, WhyRule};
use crate::units::{checked_add_exact, checked_sub_exact};

/// What a figure of a plan shows, and which part of a cost.
pub(super) fn shown_of(figure: PlanFigure) -> (Shown, Option<CostPart>) {
    match figure {
        PlanFigure::Cost(_, part) => (Shown::of_cost(part), part),
        PlanFigure::OwnMinutes
        | PlanFigure::HelperMinutes
        | PlanFigure::Row(PlanRow::Step(_), _)
        | PlanFigure::Row(PlanRow::By, PlanPart::ThereAre | PlanPart::Needed) => (Shown::Part(CostPart::Minutes), None),
        PlanFigure::CashNeeded | PlanFigure::HelperPay | PlanFigure::Royalties | PlanFigure::DueLater | PlanFigure::Row(..) => {
            (Shown::Money, None)
        }
    }
}

/// Whether a figure of a plan is a number of pieces or of another unit.
pub(super) fn is_counted(figure: PlanFigure) -> bool {
    match figure {
        PlanFigure::Row(PlanRow::Buy(_) | PlanRow::Licence(_), PlanPart::PackCost | PlanPart::Cost) => false,
        PlanFigure::Row(..) => shown_of(figure).0 == Shown::Money,
        PlanFigure::CashNeeded | PlanFigure::HelperPay | PlanFigure::Royalties | PlanFigure::DueLater => false,
        PlanFigure::OwnMinutes | PlanFigure::HelperMinutes | PlanFigure::Cost(..) => false,
    }
}

impl<'d> Telling<'d> {
    /// A figure of the plan that was asked for.
    pub(super) fn plan(&mut self, figure: PlanFigure) -> Option<(String, Vec<Step>)> {
        let planned = self.of.names.planned()?;
        let top = match figure {
            PlanFigure::Cost(thing, part) => return self.plan_cost(planned, thing, part),
            _ => self.plan_step(planned, figure, 0)?,
        };
        let what = self.words_of_plan(planned, figure);
        let least = if is_at_least(planned, figure) { "at least " } else { "" };
        let Some(top) = top else {
            return Some((format!("There is no figure for the {what}: {}.", why_none(figure)), Vec::new()));
        };
        let is = match (top.count, shown_of(figure).0, figure) {
            (Some((count, "ea" | "%")), _, PlanFigure::Row(_, PlanPart::LostPercent)) => format!("{} %", quantity_text(count)),
            (Some((count, "ea")), _, _) => quantity_text(count),
            (Some((count, unit)), _, _) => format!("{} {unit}", quantity_text(count)),
            (None, Shown::Part(_), _) => format!("{} minutes", minutes_text(top.sum.parts.own_minutes())),
            (None, _, PlanFigure::CashNeeded | PlanFigure::HelperPay | PlanFigure::Royalties | PlanFigure::DueLater) => {
                money_text(self.of.books.book, top.sum.paid)
            }
            (None, _, _) => unit_cost_text(top.sum.paid),
        };
        Some((format!("The {what} is {least}{is}."), vec![top]))
    }

    /// A figure that is no cost of a piece; nothing inside where there is none. The outer `None` is overflow.
    pub(super) fn plan_step(&mut self, p: &Planned<'d>, figure: PlanFigure, level: usize) -> Option<Option<Step>> {
        let mut step = match figure {
            PlanFigure::CashNeeded => self.money_step(p, figure, p.cash),
            PlanFigure::HelperPay => self.money_step(p, figure, p.helper_pay),
            PlanFigure::Royalties => self.money_step(p, figure, p.royalties),
            PlanFigure::DueLater => self.money_step(p, figure, p.due_later),
            PlanFigure::OwnMinutes => self.minutes_step(p, figure, p.own_minutes, WhyRule::SumOf),
            PlanFigure::HelperMinutes => self.minutes_step(p, figure, p.helper_minutes, WhyRule::SumOf),
            PlanFigure::Cost(thing, _) => return self.build_cost(p, thing, level).map(Some),
            PlanFigure::Row(row @ (PlanRow::Step(_) | PlanRow::By), part) => match self.first_of_hours(p, row, part)? {
                Some(first) => first,
                None => return Some(None),
            },
            PlanFigure::Row(PlanRow::Licence(pattern), part) => match self.first_of_licence(p, pattern, part)? {
                Some(first) => first,
                None => return Some(None),
            },
            PlanFigure::Row(row, part) => match self.first_of_row(p, row, part)? {
                Some(first) => first,
                None => return Some(None),
            },
        };
        if !self.enters(&mut step, FigureName::Plan(figure), level) {
            return Some(Some(step));
        }
        let below = level.saturating_add(1);
        let steps = match figure {
            PlanFigure::CashNeeded => {
                let costs = p.buys.iter().map(|buy| PlanFigure::Row(PlanRow::Buy(buy.thing), PlanPart::Cost));
                let licences = p.licences_to_buy().map(|need| PlanFigure::Row(PlanRow::Licence(need.pattern), PlanPart::Cost));
                let mut steps = self.plan_steps(p, costs.chain(licences), below)?;
                for (money, figure) in [(p.helper_pay, PlanFigure::HelperPay), (p.royalties, PlanFigure::Royalties)] {
                    if !money.is_zero() {
                        steps.extend(self.plan_step(p, figure, below)?);
                    }
                }
                steps
            }
            PlanFigure::HelperPay | PlanFigure::Royalties | PlanFigure::DueLater => self.paid_for(p, figure, below)?,
            PlanFigure::OwnMinutes => {
                let steps = p.steps.iter().map(|one| PlanFigure::Row(PlanRow::Step(one.step), PlanPart::Expected));
                let mut steps = self.plan_steps(p, steps, below)?;
                if !p.helper_minutes.is_zero() {
                    steps.push(self.less_helpers(p, p.helper_minutes, [PlanFigure::HelperMinutes], below)?);
                }
                steps
            }
            PlanFigure::HelperMinutes => {
                let steps = p.steps.iter().map(|one| PlanFigure::Row(PlanRow::Step(one.step), PlanPart::ByHelpers));
                self.plan_steps(p, steps, below)?
            }
            PlanFigure::Cost(..) => Vec::new(),
            PlanFigure::Row(row @ (PlanRow::Step(_) | PlanRow::By), part) => self.parts_of_hours(p, row, part, below)?,
            PlanFigure::Row(PlanRow::Licence(pattern), part) => self.parts_of_licence(p, pattern, part, below)?,
            PlanFigure::Row(row, part) => self.parts_of_row(p, row, part, below)?,
        };
        step.steps = steps.into_iter().filter(|step| !step.shows_nothing()).collect();
        if step.steps.is_empty() {
            step.rule = WhyRule::Said;
        }
        Some(Some(step))
    }

    /// Several figures, but for those that there are not.
    pub(super) fn plan_steps(
        &mut self,
        p: &Planned<'d>,
        figures: impl IntoIterator<Item = PlanFigure>,
        level: usize,
    ) -> Option<Vec<Step>> {
        let mut steps = Vec::new();
        for figure in figures {
            steps.extend(self.plan_step(p, figure, level)?);
        }
        Some(steps)
    }

    /// Pieces of a build, as a step.
    pub(super) fn pieces(&mut self, p: &Planned<'d>, build: ThingId, part: PlanPart, level: usize) -> Option<Vec<Step>> {
        self.plan_steps(p, [PlanFigure::Row(PlanRow::Build(build), part)], level)
    }

    /// The first step of a row that is counted or money; nothing inside where there is no figure.
    fn first_of_row(&self, p: &Planned<'d>, row: PlanRow, part: PlanPart) -> Option<Option<Step>> {
        let says = self.words_of_plan(p, PlanFigure::Row(row, part));
        let (PlanRow::Build(thing) | PlanRow::Material(thing) | PlanRow::Buy(thing) | PlanRow::Offcut(thing)) = row else {
            return Some(None);
        };
        let unit = p.books.book.thing(thing).unit.as_str();
        let count = |much: Decimal, rule| Step::nowhere(says.clone(), Sum::default(), rule).counted(much, unit);
        let build = p.build(thing);
        let needed = p.needs.get(&thing);
        let buy = p.buys.iter().find(|buy| buy.thing == thing);
        Some(match (row, part) {
            (PlanRow::Build(_), PlanPart::Asked) => Some(count(build?.asked, WhyRule::Said)),
            (PlanRow::Build(_), PlanPart::ForParts) => Some(count(build?.for_parts, WhyRule::SumOf)),
            (PlanRow::Build(_), PlanPart::OnTheBench) => Some(count(p.there.on_the_bench(thing), WhyRule::SumOf)),
            (PlanRow::Build(_), PlanPart::ToBuild) => Some(count(build?.good, WhyRule::SumOf)),
            (PlanRow::Build(_), PlanPart::ToBegin) => Some(count(build?.begun, WhyRule::Figured)),
            (PlanRow::Build(_), PlanPart::ExpectedGood) => Some(count(build?.expected_good, WhyRule::Figured)),
            (PlanRow::Build(_), PlanPart::LostPercent) => {
                let percent = build?.learnt.lost_percent()?;
                Some(Step::nowhere(says, Sum::default(), WhyRule::Figured).counted(percent, "%"))
            }
            (PlanRow::Build(_), PlanPart::LearntFromBatches) => {
                let batches = Decimal::from(build?.learnt.from.len());
                Some(Step::nowhere(says, Sum::default(), WhyRule::SumOf).counted(batches, "batches"))
            }
            (PlanRow::Material(_), PlanPart::ByRecipe) => Some(count(needed?.by_recipe, WhyRule::SumOf)),
            (PlanRow::Material(_), PlanPart::Needed) => Some(count(needed?.needed, WhyRule::SumOf)),
            (PlanRow::Material(_) | PlanRow::Buy(_), PlanPart::Short) => Some(count(p.short(thing), WhyRule::SumOf)),
            (PlanRow::Offcut(_), PlanPart::OnHand) => {
                let rest = p.offcuts().find(|(offcut, _, _)| *offcut == thing).map(|(_, _, rest)| rest);
                Some(count(rest?, WhyRule::SumOf))
            }
            (_, PlanPart::OnHand) => Some(count(p.there.at_home(thing), WhyRule::SumOf)),
            (_, PlanPart::Elsewhere) => Some(count(p.there.elsewhere(thing), WhyRule::SumOf)),
            (PlanRow::Buy(_), PlanPart::Packs) => {
                let unit = if is_packed(buy?, unit) { "packs" } else { unit };
                Some(Step::nowhere(says, Sum::default(), WhyRule::Figured).counted(buy?.packs, unit))
            }
            (PlanRow::Buy(_), PlanPart::Buy) => Some(count(buy?.buy, WhyRule::Figured)),
            (PlanRow::Buy(_), PlanPart::PackCost) => {
                buy?.pack_cost.map(|cost| Step::nowhere(says, Sum::both(cost), WhyRule::Figured))
            }
            (PlanRow::Buy(_), PlanPart::Cost) => buy?.cost.map(|cost| Step::nowhere(says, Sum::both(cost), WhyRule::Figured)),
            _ => None,
        })
    }

    /// What such a row is made of.
    fn parts_of_row(&mut self, p: &Planned<'d>, row: PlanRow, part: PlanPart, level: usize) -> Option<Vec<Step>> {
        let (PlanRow::Build(thing) | PlanRow::Material(thing) | PlanRow::Buy(thing) | PlanRow::Offcut(thing)) = row else {
            return Some(Vec::new());
        };
        let unit = p.books.book.thing(thing).unit.as_str();
        let of_row = row;
        let row = |part| PlanFigure::Row(of_row, part);
        match part {
            PlanPart::ForParts => self.wanted_by(p, thing, level),
            PlanPart::OnHand => {
                let mut steps = self.lots_of_plan(p, thing, true)?;
                if matches!(of_row, PlanRow::Offcut(_)) {
                    let needed = [PlanFigure::Row(PlanRow::Material(thing), PlanPart::Needed)];
                    let taken = p.taken(thing);
                    if !taken.is_zero() {
                        steps.push(self.less(p, "less what the plan itself takes", (taken, unit), needed, level)?);
                    }
                    let unknown = p.unknown(thing);
                    if !unknown.is_zero() {
                        let says = "less what is of unknown source, since goods for children are built";
                        let unknown = Decimal::ZERO.checked_sub(unknown)?;
                        steps.push(Step::nowhere(says, Sum::default(), WhyRule::Said).counted(unknown, unit));
                    }
                }
                Some(steps)
            }
            PlanPart::Elsewhere => self.lots_of_plan(p, thing, false),
            PlanPart::OnTheBench => Some(
                p.there
                    .by_batch(thing)
                    .iter()
                    .map(|one| {
                        let name = &p.books.book.batch(one.batch).name;
                        let says = match one.good < one.open {
                            true => format!("good ones to expect of {} that are open in batch {name}", quantity_text(one.open)),
                            false => format!("still aimed at by batch {name}"),
                        };
                        let figure = FigureName::Batch(BatchFigure { batch: one.batch, part: None });
                        Step::nowhere(says, Sum::default(), WhyRule::Said).counted(one.good, unit).named(figure)
                    })
                    .collect(),
            ),
            PlanPart::ToBuild => {
                let build = p.build(thing)?;
                let mut steps = self.plan_steps(p, [row(PlanPart::Asked), row(PlanPart::ForParts)], level)?;
                let taken = checked_sub_exact(checked_add_exact(build.asked, build.for_parts).ok()?, build.good).ok()?;
                let there = [row(PlanPart::OnHand), row(PlanPart::OnTheBench)];
                steps.push(self.less(p, "less those that are there and coming", (taken, unit), there, level)?);
                Some(steps)
            }
            PlanPart::ToBegin => {
                let build = p.build(thing)?;
                let mut steps = self.pieces(p, thing, PlanPart::ToBuild, level)?;
                if build.begun != build.good {
                    steps.push(self.judged(build, "pieces begun in the last batches", unit)?);
                    steps.push(self.of_batches(build, "good ones of these", unit, |one| Some(one.good))?);
                }
                Some(steps)
            }
            PlanPart::ExpectedGood => {
                let build = p.build(thing)?;
                let mut steps = self.pieces(p, thing, PlanPart::ToBegin, level)?;
                if build.expected_good != build.begun {
                    steps.push(self.of_batches(build, "good ones of the last batches", unit, |one| Some(one.good))?);
                    steps.push(self.judged(build, "pieces begun in them", unit)?);
                }
                Some(steps)
            }
            PlanPart::LostPercent => {
                let build = p.build(thing)?;
                let lost = self.of_batches(build, "pieces lost in the last batches", unit, |one| Some(one.lost))?;
                if lost.shows_nothing() {
                    return Some(Vec::new());
                }
                Some(vec![lost, self.judged(build, "pieces begun in them", unit)?])
            }
            PlanPart::LearntFromBatches => {
                let learnt = self.of_batches(p.build(thing)?, "", "batches", |_| Some(Decimal::ONE))?;
                Some(learnt.steps)
            }
            PlanPart::ByRecipe | PlanPart::Needed => {
                let needed = p.needs.get(&thing)?;
                let mut steps = Vec::new();
                for one in &needed.wanted_by {
                    steps.push(self.needed_for(p, thing, *one, part, level)?);
                }
                Some(steps)
            }
            PlanPart::Short => {
                let needed = p.needs.get(&thing)?.needed;
                let material = |part| PlanFigure::Row(PlanRow::Material(thing), part);
                let mut steps = self.plan_steps(p, [material(PlanPart::Needed)], level)?;
                let taken = checked_sub_exact(needed, p.short(thing)).ok()?;
                steps.push(self.less(p, "less what is on hand", (taken, unit), [material(PlanPart::OnHand)], level)?);
                Some(steps)
            }
            PlanPart::Packs => {
                let mut steps = self.plan_steps(p, [row(PlanPart::Short)], level)?;
                steps.extend(self.holds(p, thing)?);
                Some(steps)
            }
            PlanPart::Buy => {
                let mut steps = self.plan_steps(p, [row(PlanPart::Packs)], level)?;
                steps.extend(self.holds(p, thing)?);
                Some(steps)
            }
            PlanPart::PackCost => {
                let mut steps: Vec<Step> = self.holds(p, thing)?.into_iter().collect();
                steps.push(self.last_lot(p, thing, level)?);
                Some(steps)
            }
            PlanPart::Cost => {
                let mut steps = self.plan_steps(p, [row(PlanPart::Buy)], level)?;
                steps.push(self.last_lot(p, thing, level)?);
                Some(steps)
            }
            _ => Some(Vec::new()),
        }
    }

    /// Something that is taken off a number: less than nothing, figured from others.
    pub(super) fn less<const N: usize>(
        &mut self,
        p: &Planned<'d>,
        says: &str,
        (taken, unit): (Decimal, &'static str),
        from: [PlanFigure; N],
        level: usize,
    ) -> Option<Step> {
        let mut step = Step::nowhere(says, Sum::default(), WhyRule::Figured).counted(Decimal::ZERO.checked_sub(taken)?, unit);
        if !taken.is_zero() {
            step.steps = self.plan_steps(p, from, level.saturating_add(1))?;
            step.steps.retain(|step| !step.shows_nothing());
        }
        Some(step)
    }

    fn money_step(&self, p: &Planned<'d>, figure: PlanFigure, money: crate::units::Fixed6) -> Step {
        Step::nowhere(self.words_of_plan(p, figure), Sum::both(money), WhyRule::SumOf)
    }

    pub(super) fn name(&self, thing: ThingId) -> &'d str {
        &self.of.books.book.thing(thing).named.name
    }

    /// A step of minutes.
    pub(super) fn minutes_step(&self, p: &Planned<'d>, figure: PlanFigure, minutes: crate::units::Fixed6, rule: WhyRule) -> Step {
        let says = self.words_of_plan(p, figure);
        Step::nowhere(says, Sum::own_minutes(minutes), rule).showing(Shown::Part(CostPart::Minutes))
    }

    /// A figure in words.
    pub(super) fn words_of_plan(&self, p: &Planned<'d>, figure: PlanFigure) -> String {
        let (row, part) = match figure {
            PlanFigure::CashNeeded => return "money that it takes".to_owned(),
            PlanFigure::HelperPay => return "money for helpers on the day of their work".to_owned(),
            PlanFigure::Royalties => return "money for royalties when the pieces are made".to_owned(),
            PlanFigure::DueLater => return "money for helpers and royalties that are paid later".to_owned(),
            PlanFigure::OwnMinutes => return "time of yours that all takes".to_owned(),
            PlanFigure::HelperMinutes => return "time of helpers that all takes".to_owned(),
            PlanFigure::Cost(thing, _) => return format!("expected cost of one {}", self.name(thing)),
            PlanFigure::Row(row, part) => (row, part),
        };
        let of = match row {
            PlanRow::Build(thing) | PlanRow::Material(thing) | PlanRow::Buy(thing) | PlanRow::Offcut(thing) => self.name(thing),
            PlanRow::Step(step) => &self.of.books.book.step(step).named.name,
            PlanRow::Licence(pattern) => &self.of.books.book.pattern(pattern).named.name,
            PlanRow::By => "",
        };
        match (row, part) {
            (PlanRow::Licence(_), PlanPart::Needed) => format!("number of good pieces that are made by {of}"),
            (_, PlanPart::Left) => format!("number of pieces that the licences of {of} still permit"),
            (PlanRow::Licence(_), PlanPart::OnTheBench) => {
                format!("number of pieces by {of} that open batches still make beside the plan")
            }
            (PlanRow::Licence(_), PlanPart::Short) => format!("number of pieces for which there is no licence of {of}"),
            (PlanRow::Licence(_), PlanPart::Buy) => format!("number of licences of {of} to buy, rounded up"),
            (PlanRow::Licence(_), _) => format!("cost of the licences of {of} to buy, at the last price"),
            (PlanRow::Offcut(_), _) => format!("amount of {of} on hand at home that may serve"),
            (PlanRow::Build(_), PlanPart::Asked) => format!("number of {of} that are asked for"),
            (_, PlanPart::ForParts) => format!("number of {of} that other builds need"),
            (_, PlanPart::OnHand) => format!("amount of {of} on hand at home"),
            (_, PlanPart::OnTheBench) => format!("number of {of} still to come from the bench"),
            (_, PlanPart::Elsewhere) => format!("amount of {of} at other places"),
            (_, PlanPart::ToBuild) => format!("number of good {of} to build"),
            (_, PlanPart::ToBegin) => format!("number of {of} to begin, so that so many come out good, rounded up"),
            (_, PlanPart::ExpectedGood) => format!("number of good {of} that are expected of those begun"),
            (_, PlanPart::LostPercent) => format!("part of {of} that was lost of those begun"),
            (_, PlanPart::LearntFromBatches) => format!("number of batches of {of} from which is learnt"),
            (_, PlanPart::ByRecipe) => format!("amount of {of} by the recipes alone"),
            (PlanRow::Material(_), _) if part == PlanPart::Needed => format!("amount of {of} that is needed"),
            (_, PlanPart::Short) => format!("amount of {of} that is short"),
            (_, PlanPart::Packs) => match p.buys.iter().find(|buy| self.name(buy.thing) == of) {
                Some(buy) if is_packed(buy, p.books.book.thing(buy.thing).unit.as_str()) => {
                    format!("number to buy of {of} by the {}, rounded up", buy.pack)
                }
                _ => format!("number to buy of {of}"),
            },
            (_, PlanPart::Buy) => format!("amount of {of} to buy"),
            (_, PlanPart::PackCost) => match p.buys.iter().find(|buy| self.name(buy.thing) == of) {
                Some(buy) => format!("last price of a {} of {of}, freight and tax included", buy.pack),
                None => format!("last price of {of}"),
            },
            (_, PlanPart::Cost) => format!("cost of the {of} to buy, at the last price"),
            (_, PlanPart::Planned) => format!("time at {of} by the recipes"),
            (_, PlanPart::Expected) => format!("time at {of} as the last batches took"),
            (_, PlanPart::ByHelpers) => format!("time of helpers at {of}, as in the last batches"),
            (_, PlanPart::Best) => format!("time at {of} as the best batch took"),
            (_, PlanPart::HoursPerWeek) => "number of hours in a week".to_owned(),
            (_, PlanPart::ThereAre) => "time that there is by then".to_owned(),
            (_, _) => "time that all takes, general work counted in".to_owned(),
        }
    }
}

/// Whether something is bought in packs and not by its own unit.
pub(super) fn is_packed(buy: &ToBuy, unit: &str) -> bool {
    buy.pack != unit
}

/// Whether a figure is only what is known of it: something to buy has no price, or something to build no hours.
fn is_at_least(p: &Planned<'_>, figure: PlanFigure) -> bool {
    match figure {
        PlanFigure::CashNeeded => p.unpriced() > 0,
        PlanFigure::OwnMinutes | PlanFigure::Row(PlanRow::By, PlanPart::Needed) => p.without_hours().next().is_some(),
        _ => false,
    }
}

fn why_none(figure: PlanFigure) -> &'static str {
    match figure {
        PlanFigure::Row(PlanRow::Licence(_), _) => "none is to be bought, or none ever was, so there is no price",
        PlanFigure::Row(PlanRow::Buy(_), _) => "it was never bought, so there is no price",
        PlanFigure::Row(PlanRow::Step(_), _) => "no batch of one of its builds was worked at it yet",
        _ => "there is no such row",
    }
}
