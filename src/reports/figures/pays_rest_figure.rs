//! Figures of what stands in no group of what pays: `pays/rest/line/no-line/2026/revenue`, `pays/rest/fair/craft-fair/no-fair`, and of the block of fairs together:
//! `pays/rest/fair/all/paid-margin`.
//!
//! Fairs are told whole, whatever days are asked about, so that what is beside them is of the whole book, too.

use super::errors::{FigureFault, no_part};
use super::name_table::segment;
use crate::names::{ChannelId, ResolvedBook};
use crate::reports::fair_rest::FairRest;
use crate::reports::pays_rest::{KINDS, PaysRest};

/// A row of what pays that is of no group.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum PaysBeside {
    /// What stands in no group of a kind, `line`, `channel` or `product`, and why.
    Kind(&'static str, PaysRest),
    /// What stands on a channel beside its fairs, and why.
    Fairs(ChannelId, FairRest),
    /// The channels that have fairs, together.
    AllFairs,
}

/// What stands behind `pays/` before such a row.
pub(super) const REST: &str = "rest";
const FAIR: &str = "fair";
const ALL: &str = "all";

impl PaysBeside {
    /// Reads what stands behind `pays/rest/`, as far as it names the row; gives what follows. `None` where it begins as no such row does.
    pub(super) fn read<'p>(parts: &'p [&'p str], book: &ResolvedBook) -> Option<Result<(Self, &'p [&'p str]), FigureFault>> {
        match *parts {
            [FAIR, ALL, ref rest @ ..] if rest.first().is_none_or(|why| fair_rest(why).is_none()) => {
                Some(Ok((Self::AllFairs, rest)))
            }
            [FAIR, channel, why, ref rest @ ..] => {
                let at = book.channels.iter().position(|one| segment(&one.named.name) == channel);
                let channel = ChannelId(u32::try_from(at?).ok()?);
                let known = FairRest::NAMED.map(|one| one.key().replace('_', "-"));
                let known: Vec<&str> = known.iter().map(String::as_str).collect();
                Some(fair_rest(why).map(|why| (Self::Fairs(channel, why), rest)).ok_or_else(|| no_part(why, &known)))
            }
            [kind, why, ref rest @ ..] => {
                let kind = KINDS.into_iter().find(|one| *one == kind)?;
                let known = PaysRest::ALL.map(|one| one.key().replace('_', "-"));
                let at = known.iter().position(|one| one == why);
                let found = at.and_then(|at| PaysRest::ALL.get(at).copied());
                let known: Vec<&str> = known.iter().map(String::as_str).collect();
                Some(found.map(|why| (Self::Kind(kind, why), rest)).ok_or_else(|| no_part(why, &known)))
            }
            _ => None,
        }
    }

    /// As it stands behind `pays/`.
    pub(super) fn text(self, book: &ResolvedBook) -> String {
        let dashed = |key: &str| key.replace('_', "-");
        match self {
            Self::Kind(kind, why) => format!("{REST}/{kind}/{}", dashed(why.key())),
            Self::Fairs(channel, why) => {
                format!("{REST}/{FAIR}/{}/{}", segment(&book.channel(channel).named.name), dashed(why.key()))
            }
            Self::AllFairs => format!("{REST}/{FAIR}/{ALL}"),
        }
    }

    /// Whether it has figures of single years.
    pub(super) fn has_years(self) -> bool {
        matches!(self, Self::Kind(..))
    }
}

fn fair_rest(typed: &str) -> Option<FairRest> {
    FairRest::NAMED.into_iter().find(|one| one.key().replace('_', "-") == typed)
}
