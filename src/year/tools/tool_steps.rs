//! The ten steps by which a tool's year is figured, each with what it says and what it adds to the year.
//!
//! Steps stand in the design's order. One that does not apply keeps its place without words, so that a reader sees that it was not
//! forgotten. What steps three to nine add is the tool's year.

use crate::units::Fixed6;
use crate::year::Feed;
use crate::year::tax_year::{ToolStep, ToolYear};

/// The steps, first to last.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Step {
    /// What it cost, with its tax and delivery.
    LandedCost,
    /// Of that, what is for the business.
    BusinessPart,
    /// Cheap enough an item to be supplies.
    Supplies,
    /// Cheap enough an item for the year's election.
    DeMinimis,
    /// Section 179.
    Section179,
    /// Half-year or mid-quarter.
    Convention,
    /// Bonus.
    Bonus,
    /// The table.
    Table,
    /// What the year of sale takes off that.
    YearOfSale,
    /// Gain or loss, on no line of the form.
    Gain,
}

impl Step {
    /// All of them.
    pub const ALL: [Self; 10] = [
        Self::LandedCost,
        Self::BusinessPart,
        Self::Supplies,
        Self::DeMinimis,
        Self::Section179,
        Self::Convention,
        Self::Bonus,
        Self::Table,
        Self::YearOfSale,
        Self::Gain,
    ];

    /// Its name, as printed.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::LandedCost => "landed cost",
            Self::BusinessPart => "business part",
            Self::Supplies => "as supplies, by what an item cost",
            Self::DeMinimis => "de minimis, by what an item cost",
            Self::Section179 => "section 179",
            Self::Convention => "convention",
            Self::Bonus => "bonus",
            Self::Table => "by the table",
            Self::YearOfSale => "year of sale",
            Self::Gain => "gain or loss of the sale",
        }
    }

    /// Whether what it says is added to the tool's year.
    #[must_use]
    pub const fn is_added(self) -> bool {
        matches!(self, Self::Supplies | Self::DeMinimis | Self::Section179 | Self::Bonus | Self::Table | Self::YearOfSale)
    }
}

impl ToolYear {
    /// Writes down a step.
    pub(crate) fn says(&mut self, step: Step, how: impl Into<String>, amount: Option<Fixed6>) {
        self.steps.push(ToolStep { step, how: how.into(), amount });
    }

    /// Whether another tool of the same line is charged off at once by the same steps, so that one row tells of both.
    pub(crate) fn is_like(&self, other: &Self) -> bool {
        let same_steps = self.steps.len() == other.steps.len()
            && self
                .steps
                .iter()
                .zip(&other.steps)
                .all(|(a, b)| (a.step, &a.how, a.amount.is_some()) == (b.step, &b.how, b.amount.is_some()));
        let same_years = self.life.iter().map(|one| one.year).eq(other.life.iter().map(|one| one.year));
        let still_here = self.disposed.is_none() && other.disposed.is_none();
        let same = (self.line, self.feed, &self.method) == (other.line, other.feed, &other.method);
        self.feed == Some(Feed::ToolsAtOnce) && same && still_here && same_steps && same_years
    }

    /// Takes another tool's row into this one. `None` on overflow.
    pub(crate) fn join(&mut self, other: &Self) -> Option<()> {
        self.count = self.count.checked_add(other.count)?;
        self.of_line = (1, 1);
        self.cost = self.cost.checked_add(other.cost)?;
        self.before = self.before.checked_add(other.before)?;
        self.amount = self.amount.checked_add(other.amount)?;
        self.left = self.left.checked_add(other.left)?;
        for (step, more) in self.steps.iter_mut().zip(&other.steps) {
            if let (Some(amount), Some(more)) = (&mut step.amount, more.amount) {
                *amount = amount.checked_add(more)?;
            }
        }
        for (year, more) in self.life.iter_mut().zip(&other.life) {
            year.at_once = year.at_once.checked_add(more.at_once)?;
            year.left = year.left.checked_add(more.left)?;
        }
        Some(())
    }

    /// Gives every step its place.
    pub(crate) fn close_steps(&mut self) {
        for step in Step::ALL {
            if !self.steps.iter().any(|one| one.step == step) {
                self.steps.push(ToolStep { step, how: String::new(), amount: None });
            }
        }
        self.steps.sort_by_key(|one| one.step);
    }
}
