//! A step of a derivation while it is told: its sum as figures, its place as a span, its name as a figure.
//!
//! Text is made of it in one place, when all is told, so that signs are turned and sums are made of figures only. Which amounts are written is said
//! there too: paid and full cost, or one part, where steps without any of it fall away.

use rust_decimal::Decimal;

use super::amount::Shown;
use crate::costing::{Amounts, Component, CostVector, LotMade, ShelfEntry};
use crate::reports::period::quantity_text;
use crate::reports::{FigureName, FigureNames, WhyMeasure, WhyPlace, WhyRule, WhyStep};
use crate::sources::{LineIndex, SourceSet, Span};
use crate::units::{Fixed6, checked_add_exact};

/// Paid and full cost, and of costs what they are made of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Sum {
    pub(super) paid: Fixed6,
    pub(super) full: Fixed6,
    /// Nothing for money of a form and of sales, which has no components.
    pub(super) parts: Amounts,
}

impl Sum {
    pub(super) fn of(vector: &CostVector) -> Option<Self> {
        Self::of_amounts(Amounts::of(vector)?)
    }

    pub(super) fn of_amounts(parts: Amounts) -> Option<Self> {
        Some(Self { paid: parts.paid()?, full: parts.full()?, parts })
    }

    /// What a lot cost when it came.
    pub(super) fn of_lot(lot: &LotMade) -> Option<Self> {
        Self::of_amounts(lot.cost)
    }

    /// What moved onto a shelf; below zero: off it.
    pub(super) fn of_entry(entry: &ShelfEntry) -> Option<Self> {
        Self::of_amounts(entry.cost)
    }

    /// Money of one component of cost.
    pub(super) fn of_component(component: Component, money: Fixed6) -> Option<Self> {
        Self::of_amounts(Amounts::of_component(component, money))
    }

    /// Money that is no cost of goods: paid and full alike.
    pub(super) fn both(money: Fixed6) -> Self {
        Self { paid: money, full: money, parts: Amounts::default() }
    }

    /// The owner's minutes, and no money.
    pub(super) fn own_minutes(minutes: Fixed6) -> Self {
        Self { parts: Amounts::default().with_minutes(true, minutes), ..Self::default() }
    }

    pub(super) fn plus(self, other: Self) -> Option<Self> {
        Some(Self {
            paid: self.paid.checked_add(other.paid)?,
            full: self.full.checked_add(other.full)?,
            parts: self.parts.plus(&other.parts)?,
        })
    }

    pub(super) fn minus(self, other: Self) -> Option<Self> {
        Some(Self {
            paid: self.paid.checked_sub(other.paid)?,
            full: self.full.checked_sub(other.full)?,
            parts: self.parts.minus(&other.parts)?,
        })
    }

    pub(super) fn negated(self) -> Option<Self> {
        Self::default().minus(self)
    }

    pub(super) fn is_nothing(self) -> bool {
        self == Self::default()
    }
}

/// A step, and what is below it.
#[derive(Clone, Debug)]
pub(super) struct Step {
    pub(super) says: String,
    pub(super) sum: Sum,
    pub(super) rule: WhyRule,
    /// The figure at which it is told in full, where it stands for one.
    pub(super) figure: Option<FigureName>,
    /// The line that says it; empty where none does.
    pub(super) at: Span,
    /// What is shown of it and of all below, where that is not what the step above shows.
    pub(super) shown: Option<Shown>,
    /// So many of a unit, where it is no money and no minutes.
    pub(super) count: Option<(Decimal, &'static str)>,
    /// The year and month of which it is the sum, where a long list is told by them.
    pub(super) month: Option<(i32, u32)>,
    pub(super) steps: Vec<Step>,
}

impl Step {
    /// A step with nothing below it yet.
    pub(super) fn new(says: impl Into<String>, sum: Sum, rule: WhyRule, at: Span) -> Self {
        Self { says: says.into(), sum, rule, figure: None, at, shown: None, count: None, month: None, steps: Vec::new() }
    }

    /// A step that no line says, with nothing below it yet.
    pub(super) fn nowhere(says: impl Into<String>, sum: Sum, rule: WhyRule) -> Self {
        Self::new(says, sum, rule, Span::default())
    }

    /// The sum of steps, which no line says; of steps that are counted, all in one unit. `None` on overflow.
    pub(super) fn sum_of(says: impl Into<String>, steps: Vec<Self>) -> Option<Self> {
        let sum = steps.iter().try_fold(Sum::default(), |sum, step| sum.plus(step.sum))?;
        let mut count: Option<(Decimal, &'static str)> = None;
        for (number, unit) in steps.iter().filter_map(|step| step.count) {
            let before = count.map_or(Decimal::ZERO, |(before, _)| before);
            count = Some((checked_add_exact(before, number).ok()?, unit));
        }
        Some(Self { count, steps, ..Self::nowhere(says, sum, WhyRule::SumOf) })
    }

    /// The step with the name of the figure at which it is told in full.
    pub(super) fn named(self, figure: FigureName) -> Self {
        Self { figure: Some(figure), ..self }
    }

    /// The step as it is taken off: less than nothing, and so is all that it is the sum of. That of which something is a part stays whole. `None` on
    /// overflow.
    pub(super) fn negated(self) -> Option<Self> {
        let is_sum = self.rule == WhyRule::SumOf;
        let below = self.steps.into_iter().map(|step| if is_sum { step.negated() } else { Some(step) });
        Some(Self { sum: self.sum.negated()?, steps: below.collect::<Option<_>>()?, ..self })
    }

    /// Puts what a step is made of below it. A single part of the same line and sum needs no step of its own: it is told with the step's own first
    /// words.
    pub(super) fn made_of(&mut self, first: &str, mut parts: Vec<Self>) {
        if let [one] = parts.as_mut_slice()
            && (one.at, one.sum) == (self.at, self.sum)
        {
            self.says = format!("{first} {}", one.says);
            self.rule = one.rule;
            self.figure = one.figure;
            self.steps = std::mem::take(&mut one.steps);
        } else {
            self.steps = parts;
        }
    }

    /// The step with amounts of its own kind, as all below it has.
    pub(super) fn showing(self, shown: Shown) -> Self {
        Self { shown: Some(shown), ..self }
    }

    /// The step as so many of a unit, in place of money.
    pub(super) fn counted(self, number: Decimal, unit: &'static str) -> Self {
        Self { count: Some((number, unit)), ..self }
    }

    /// Whether nothing is shown of it: no money, no minutes, no pieces.
    pub(super) fn shows_nothing(&self) -> bool {
        match (self.count, self.shown) {
            (Some((number, _)), _) => number.is_zero(),
            (None, Some(shown)) => shown.amounts(self.sum)[0].is_zero(),
            (None, None) => self.sum.is_nothing(),
        }
    }

    /// Writes it down. Below the first step, those of which nothing is shown are left out where one part is.
    pub(super) fn write(self, with: &Writing<'_>) -> WhyStep {
        let shown = self.shown.unwrap_or(with.shown);
        let [paid, full] = shown.amounts(self.sum).map(|amount| shown.text(amount));
        let counted = self.count.map(|(number, unit)| (quantity_text(number), unit.to_owned()));
        let measure = if counted.is_some() { WhyMeasure::Units } else { shown.measure() };
        let (paid, full, unit) = match counted {
            Some((number, unit)) => (number.clone(), number, Some(unit)),
            None => (paid, full, None),
        };
        let below = Writing { shown, ..*with };
        let is_shown = |step: &Self| step.count.is_some() || step.shown.unwrap_or(shown).shows(step.sum);
        let whole = self.steps.first().map(|whole| whole.shown.unwrap_or(shown).amounts(whole.sum));
        let (mut rule, mut steps) = (self.rule, self.steps);
        // What was taken of a pool, or came back to it, may have more of one part of its cost than the lot it is named after.
        let is_more = |whole: [Fixed6; 2]| {
            shown
                .amounts(self.sum)
                .into_iter()
                .zip(whole)
                .any(|(part, whole)| part.micros().unsigned_abs() > whole.micros().unsigned_abs())
        };
        let is_part = rule == WhyRule::PartOf && matches!(shown, Shown::Part(_) | Shown::Proof(_));
        // Of nothing there is nothing to go down to.
        let of_nothing = matches!(rule, WhyRule::PartOf | WhyRule::PerUnit) && !steps.iter().any(&is_shown);
        if is_part && whole.is_none_or(is_more) || of_nothing {
            (rule, steps) = (WhyRule::Said, Vec::new());
        }
        WhyStep {
            says: self.says,
            paid,
            full,
            measure: Some(measure).filter(|measure| *measure != with.measure),
            unit,
            rule,
            figure: self.figure.map(|figure| figure.text(with.names)),
            month: self.month.map(|(year, month)| format!("{year:04}-{month:02}")),
            at: place_of(self.at, with.lines, with.sources),
            steps: steps.into_iter().filter(is_shown).map(|step| step.write(&below)).collect(),
        }
    }
}

/// With what steps are written down.
#[derive(Clone, Copy, Debug)]
pub(super) struct Writing<'w> {
    pub(super) names: &'w FigureNames<'w>,
    pub(super) lines: &'w LineIndex<'w>,
    pub(super) sources: &'w SourceSet,
    pub(super) shown: Shown,
    /// What the amounts of the report are, where a step says nothing else.
    pub(super) measure: WhyMeasure,
}

/// The line of the book at which a span begins.
fn place_of(at: Span, lines: &LineIndex<'_>, sources: &SourceSet) -> Option<WhyPlace> {
    if at.is_empty() {
        return None;
    }
    let place = lines.place(at.start)?;
    let text = sources.text(sources.lines_of(at));
    let text = text.lines().next().unwrap_or("").trim().to_owned();
    Some(WhyPlace { file: place.path.to_owned(), line: place.line, text })
}

/// A sum that is taken off: less than nothing, with the sum itself below it. The parts of the sum stay as they were said.
pub(super) fn taken_off(says: &str, step: Step) -> Option<Step> {
    let mut less = Step::nowhere(says, step.sum.negated()?, WhyRule::PartOf);
    (less.figure, less.shown) = (step.figure, step.shown);
    if step.steps.is_empty() {
        less.rule = step.rule;
    } else {
        less.steps = vec![step];
    }
    Some(less)
}
