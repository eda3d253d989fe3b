//! Figures of the proof: `proof/materials/2026`, `proof/own-minutes`, and their flows: `proof/materials/2026/sold`.

use super::errors::{FigureFault, unknown};
use super::read_year;
use crate::costing::{Component, CostVector, Flow, Proof};
use crate::units::Fixed6;

/// What is proved: a component of cost, or minutes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ProofOf {
    /// A component of cost.
    Component(Component),
    /// The owner's minutes.
    OwnMinutes,
    /// Bought-in minutes.
    BoughtInMinutes,
}

impl ProofOf {
    /// All of them, in the order of the report.
    pub const ALL: [Self; 9] = [
        Self::Component(Component::Materials),
        Self::Component(Component::Freight),
        Self::Component(Component::Wear),
        Self::Component(Component::BoughtInTime),
        Self::Component(Component::Royalty),
        Self::Component(Component::OwnTime),
        Self::Component(Component::Overhead),
        Self::OwnMinutes,
        Self::BoughtInMinutes,
    ];

    /// Its name in the report.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Component(Component::Materials) => "materials",
            Self::Component(Component::Freight) => "freight",
            Self::Component(Component::Wear) => "wear",
            Self::Component(Component::BoughtInTime) => "bought_in_time",
            Self::Component(Component::Royalty) => "royalty",
            Self::Component(Component::OwnTime) => "own_time",
            Self::Component(Component::Overhead) => "overhead",
            Self::OwnMinutes => "own_minutes",
            Self::BoughtInMinutes => "bought_in_minutes",
        }
    }

    /// In words.
    pub(crate) const fn says(self) -> &'static str {
        match self {
            Self::Component(Component::Materials) => "materials",
            Self::Component(Component::Freight) => "freight",
            Self::Component(Component::Wear) => "wear",
            Self::Component(Component::BoughtInTime) => "bought-in time",
            Self::Component(Component::Royalty) => "royalty",
            Self::Component(Component::OwnTime) => "own time",
            Self::Component(Component::Overhead) => "overhead",
            Self::OwnMinutes => "own minutes",
            Self::BoughtInMinutes => "bought-in minutes",
        }
    }

    /// Its figure in a vector. `None` on overflow.
    pub(crate) fn in_vector(self, vector: &CostVector) -> Option<Fixed6> {
        match self {
            Self::Component(component) => Some(vector.get(component)),
            Self::OwnMinutes => vector.own_minutes(),
            Self::BoughtInMinutes => vector.bought_in_minutes(),
        }
    }
}

/// What of a proof.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ProofFlow {
    /// What was there at the start.
    AtStart,
    /// What came in or went out by a flow.
    Flow(Flow),
    /// What is there at the end.
    AtEnd,
}

impl ProofFlow {
    /// All of them, in the order of the proof's line.
    pub(crate) fn all() -> impl Iterator<Item = Self> {
        let flows = Flow::ALL.into_iter().map(Self::Flow);
        std::iter::once(Self::AtStart).chain(flows).chain(std::iter::once(Self::AtEnd))
    }

    /// Its name in the report.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::AtStart => "at_start",
            Self::AtEnd => "at_end",
            Self::Flow(flow) => flow_name(flow),
        }
    }
}

const fn flow_name(flow: Flow) -> &'static str {
    match flow {
        Flow::Opened => "opened",
        Flow::Bought => "bought",
        Flow::Contributed => "contributed",
        Flow::Time => "time",
        Flow::Royalty => "royalty",
        Flow::Overhead => "overhead",
        Flow::Unrecorded => "unrecorded",
        Flow::Credited => "credited",
        Flow::SentBack => "sent_back",
        Flow::Sold => "sold",
        Flow::PackingUsed => "packing_used",
        Flow::UsedInShop => "used_in_shop",
        Flow::MadeForShop => "made_for_shop",
        Flow::TakenHome => "taken_home",
        Flow::Sample => "samples",
        Flow::Gift => "gifts",
        Flow::Donated => "donated",
        Flow::Scrapped => "scrapped",
        Flow::Missing => "missing",
        Flow::AbnormalLoss => "abnormal_loss",
        Flow::PriceDifference => "price_difference",
    }
}

/// The proof of a component, or one of its flows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ProofFigure {
    /// What is proved.
    pub of: ProofOf,
    /// The year; `None` for the whole book.
    pub year: Option<i32>,
    /// One of its flows; else the whole proof.
    pub flow: Option<ProofFlow>,
}

impl ProofFigure {
    /// One of its flows.
    pub(crate) fn with(self, flow: ProofFlow) -> Self {
        Self { flow: Some(flow), ..self }
    }

    pub(super) fn read(of: &str, rest: &[&str]) -> Result<Self, FigureFault> {
        let found = ProofOf::ALL.into_iter().find(|one| spelled(one.name()) == of);
        let of = found.ok_or_else(|| unknown("component", of))?;
        let flow = |typed: &str| {
            let found = ProofFlow::all().find(|one| spelled(one.name()) == typed);
            found.map(Some).ok_or_else(|| unknown("flow", typed))
        };
        let is_year = |typed: &str| typed.starts_with(|letter: char| letter.is_ascii_digit());
        match rest {
            [] => Ok(Self { of, year: None, flow: None }),
            [year] if is_year(year) => Ok(Self { of, year: Some(read_year(year)?), flow: None }),
            [typed] => Ok(Self { of, year: None, flow: flow(typed)? }),
            [year, typed, ..] => Ok(Self { of, year: Some(read_year(year)?), flow: flow(typed)? }),
        }
    }

    /// All of a book: the proof of each component and its flows, over all and of each year.
    pub(super) fn all(proof: &Proof) -> Vec<Self> {
        let mut all = Vec::new();
        let mut over_all = std::collections::BTreeSet::new();
        for (year, sums) in &proof.years {
            over_all.extend(sums.flows.keys().copied());
            put_all(Some(*year), sums.flows.keys().copied(), &mut all);
        }
        if !all.is_empty() {
            put_all(None, over_all.into_iter(), &mut all);
        }
        all
    }

    pub(super) fn text(self) -> String {
        let mut text = format!("proof/{}", spelled(self.of.name()));
        if let Some(year) = self.year {
            text.push_str(&format!("/{year:04}"));
        }
        if let Some(flow) = self.flow {
            text.push('/');
            text.push_str(&spelled(flow.name()));
        }
        text
    }
}

fn put_all(year: Option<i32>, flows: impl Iterator<Item = Flow>, all: &mut Vec<ProofFigure>) {
    let flows: Vec<Flow> = flows.collect();
    for of in ProofOf::ALL {
        let figure = ProofFigure { of, year, flow: None };
        all.push(figure);
        all.push(figure.with(ProofFlow::AtStart));
        all.extend(flows.iter().map(|flow| figure.with(ProofFlow::Flow(*flow))));
        all.push(figure.with(ProofFlow::AtEnd));
    }
}

/// A name of the report as it stands in a figure's name.
fn spelled(name: &str) -> String {
    name.replace('_', "-")
}
