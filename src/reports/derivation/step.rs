//! A step of a derivation while it is told: its sum as figures, its place as a span.
//!
//! Text is made of it in one place, when all is told, so that signs are turned and sums are made of figures only.

use crate::costing::{CostVector, LotMade, PaidAndFull, ShelfEntry};
use crate::reports::{WhyPlace, WhyRule, WhyStep};
use crate::sources::{LineIndex, SourceSet, Span};
use crate::units::Fixed6;

/// Paid and full cost.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Sum {
    pub(super) paid: Fixed6,
    pub(super) full: Fixed6,
}

impl Sum {
    pub(super) fn of(vector: &CostVector) -> Option<Self> {
        vector.paid_and_full().map(Self::of_sums)
    }

    pub(super) fn of_sums(sums: PaidAndFull) -> Self {
        Self { paid: sums.paid, full: sums.full }
    }

    /// What a lot cost when it came.
    pub(super) fn of_lot(lot: &LotMade) -> Self {
        Self { paid: lot.paid, full: lot.full }
    }

    /// What moved onto a shelf; below zero: off it.
    pub(super) fn of_entry(entry: &ShelfEntry) -> Self {
        Self { paid: entry.paid, full: entry.full }
    }

    /// Money that is paid and full cost alike.
    pub(super) fn both(money: Fixed6) -> Self {
        Self { paid: money, full: money }
    }

    /// Money that is full cost only: own time and overhead.
    pub(super) fn unpaid(money: Fixed6) -> Self {
        Self { paid: Fixed6::ZERO, full: money }
    }

    pub(super) fn plus(self, other: Self) -> Option<Self> {
        Some(Self { paid: self.paid.checked_add(other.paid)?, full: self.full.checked_add(other.full)? })
    }

    pub(super) fn minus(self, other: Self) -> Option<Self> {
        Some(Self { paid: self.paid.checked_sub(other.paid)?, full: self.full.checked_sub(other.full)? })
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
    /// The line that says it; empty where none does.
    pub(super) at: Span,
    pub(super) steps: Vec<Step>,
}

impl Step {
    /// A step with nothing below it yet.
    pub(super) fn new(says: impl Into<String>, sum: Sum, rule: WhyRule, at: Span) -> Self {
        Self { says: says.into(), sum, rule, at, steps: Vec::new() }
    }

    /// A step that no line says, with nothing below it yet.
    pub(super) fn nowhere(says: impl Into<String>, sum: Sum, rule: WhyRule) -> Self {
        Self::new(says, sum, rule, Span::default())
    }

    /// Puts what a step is made of below it. A single part of the same line and sum needs no step of its own: it is told with the step's own first
    /// words.
    pub(super) fn made_of(&mut self, first: &str, mut parts: Vec<Self>) {
        if let [one] = parts.as_mut_slice()
            && (one.at, one.sum) == (self.at, self.sum)
        {
            self.says = format!("{first} {}", one.says);
            self.rule = one.rule;
            self.steps = std::mem::take(&mut one.steps);
        } else {
            self.steps = parts;
        }
    }

    /// Writes it down.
    pub(super) fn write(self, lines: &LineIndex<'_>, sources: &SourceSet) -> WhyStep {
        let text = |money: Fixed6| money.to_fixed_text(2, 6);
        WhyStep {
            says: self.says,
            paid: text(self.sum.paid),
            full: text(self.sum.full),
            rule: self.rule,
            at: place_of(self.at, lines, sources),
            steps: self.steps.into_iter().map(|step| step.write(lines, sources)).collect(),
        }
    }
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
