//! What of all sales stands in no product line, in no channel, or on no product: the rows that make each block of the report add up to all sales.
//!
//! In: a part of the margins. Out: for each kind of group in which it has none, why it has none.

use crate::reports::pays_part::{PaysOf, PaysPart};

/// The kinds of groups, in the order of the report.
pub(crate) const KINDS: [&str; 3] = ["line", "channel", "product"];

/// Why a part of all sales stands in no group of a kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum PaysRest {
    /// Goods of no product line.
    NoLine,
    /// Goods that left in a swap, by no channel.
    Swapped,
    /// What is spent, driven and worked for a product line as a whole.
    ForLines,
    /// What is spent, driven and worked for a channel as a whole, and shipments that go there.
    ForChannels,
    /// Shipments to a place that is no channel.
    ForPlaces,
}

impl PaysRest {
    /// All of them.
    pub(crate) const ALL: [Self; 5] = [Self::NoLine, Self::Swapped, Self::ForLines, Self::ForChannels, Self::ForPlaces];

    /// Its key in JSON.
    pub(crate) fn key(self) -> &'static str {
        match self {
            Self::NoLine => "no_line",
            Self::Swapped => "swapped",
            Self::ForLines => "for_lines",
            Self::ForChannels => "for_channels",
            Self::ForPlaces => "for_places",
        }
    }

    /// The head of its row.
    pub(crate) fn title(self) -> &'static str {
        match self {
            Self::NoLine => "Goods in no product line",
            Self::Swapped => "Swapped, by no channel",
            Self::ForLines => "For product lines as a whole",
            Self::ForChannels => "For channels as a whole",
            Self::ForPlaces => "Shipments to places",
        }
    }

    /// Why a part that counts in all sales stands in no group of a kind; `None` where it stands in one, or counts in no margin.
    pub(crate) fn of(part: &PaysPart<'_>, kind: &str) -> Option<Self> {
        let is_of = |group: &PaysOf| match group {
            PaysOf::Line(_) => kind == "line",
            PaysOf::Channel(_) => kind == "channel",
            PaysOf::Product(_) => kind == "product",
            // A fair is of its channel.
            PaysOf::Fair(..) => false,
        };
        if part.is_indirect() || part.groups.iter().any(is_of) {
            return None;
        }
        let is_goods = part.groups.iter().any(|group| matches!(group, PaysOf::Product(_)));
        Some(match (is_goods, kind, part.groups.first()) {
            (true, "line", _) => Self::NoLine,
            (true, ..) => Self::Swapped,
            (false, _, Some(PaysOf::Line(_))) => Self::ForLines,
            (false, _, Some(_)) => Self::ForChannels,
            (false, _, None) => Self::ForPlaces,
        })
    }
}
