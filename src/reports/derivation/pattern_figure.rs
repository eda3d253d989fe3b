//! A pattern: what was made by it entry by entry, what its licences permit line by line, and its royalties bill by bill.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::place_figure::less_paid;
use super::{Step, Sum, Telling};
use crate::costing::{Bill, usual_batch};
use crate::names::PatternId;
use crate::reports::pattern_uses::{PatternUses, Quarter, pattern_uses, quarter_text};
use crate::reports::period::{quantity_text, said_money};
use crate::reports::{FigureName, PatternFigure, PatternOf, PatternPart, RoyaltyPart, WhyRule};
use crate::sources::Span;

/// Licences permit pieces.
const EACH: &str = "ea";
/// Entries by whose mean a usual batch is known.
const LAST: usize = 3;

impl Telling<'_> {
    /// A figure of a pattern.
    pub(super) fn pattern(&mut self, figure: PatternFigure) -> Option<(String, Vec<Step>)> {
        let books = self.of.books;
        let title = books.book.pattern(figure.pattern).named.title.clone();
        let (Some(last), mut all) = (books.costed.until, pattern_uses(books.book, books.log, books.costed, books.costed.until)?)
        else {
            return Some(("There is no entry yet, so there is nothing to tell of a pattern.".to_owned(), Vec::new()));
        };
        let uses = all.remove(&figure.pattern).unwrap_or_default();
        let has_limit = books.book.pattern(figure.pattern).allows.on(last).is_some();
        let top = match figure.of {
            PatternOf::All(PatternPart::Permitted | PatternPart::Left) if !has_limit => {
                return Some((format!("{title} has no limit, so as many pieces as you like may be made."), Vec::new()));
            }
            PatternOf::All(PatternPart::UsualBatch) => match self.usual(figure, &uses) {
                Some(top) => top,
                None => return Some((format!("Nothing was made by {title}, so no usual batch is known."), Vec::new())),
            },
            PatternOf::All(part) => self.of_pattern(figure.pattern, part, &uses, last)?,
            PatternOf::Quarter(quarter, part) => self.of_quarter(figure.pattern, (quarter, part), &uses, last, 0)?,
        };
        let answer = match top.count {
            Some((count, _)) => format!("{title}, {}: {}.", top.says, quantity_text(count)),
            None => format!("{title}, {}: {}.", top.says, said_money(books.book, top.sum.paid)),
        };
        Some((answer, vec![top]))
    }

    /// Pieces of a usual batch: the mean of the last entries, rounded up.
    fn usual(&self, figure: PatternFigure, uses: &PatternUses<'_>) -> Option<Step> {
        let usual = usual_batch(&uses.sizes())?;
        let says = format!("pieces of a usual batch: the mean of the last {LAST} entries that made some, rounded up");
        let mut top = Step::nowhere(says, Sum::default(), WhyRule::Figured).counted(usual, EACH);
        top.figure = Some(FigureName::Pattern(figure));
        let from = uses.made.len().saturating_sub(LAST);
        top.steps = made_steps(uses.made.get(from..)?.iter().map(|one| (one.quantity, one.date, one.line)));
        Some(top)
    }

    /// A part of a pattern that is a sum.
    fn of_pattern(&mut self, pattern: PatternId, part: PatternPart, uses: &PatternUses<'_>, last: NaiveDate) -> Option<Step> {
        let (says, steps) = match part {
            PatternPart::Made | PatternPart::UsualBatch => {
                ("pieces made by it", made_steps(uses.made.iter().map(|one| (one.quantity, one.date, one.line))))
            }
            PatternPart::Permitted => {
                let steps = uses.licences.iter().map(|one| {
                    let says = format!("{} licence bought", one.date);
                    Step::new(says, Sum::default(), WhyRule::Said, one.line).counted(one.pieces, EACH)
                });
                ("pieces that its licences permit", steps.collect())
            }
            PatternPart::Left => {
                let lots = self.of.books.costed.licences.iter().filter(|lot| lot.pattern == pattern);
                let steps = lots.map(|lot| {
                    let line = uses.licences.iter().find(|one| one.date == lot.date).map_or_else(Span::default, |one| one.line);
                    let says = format!("left of the licence of {}", lot.date);
                    Step::new(says, Sum::default(), WhyRule::Said, line).counted(lot.left, EACH)
                });
                ("pieces that may still be made", steps.collect())
            }
            PatternPart::Due => {
                let mut steps = Vec::new();
                for quarter in uses.quarters() {
                    steps.push(self.of_quarter(pattern, (quarter, RoyaltyPart::Due), uses, last, 1)?);
                }
                ("royalties that are due", steps)
            }
        };
        let mut top = Step::sum_of(says, steps)?;
        if part != PatternPart::Due {
            top.count = top.count.or(Some((Decimal::ZERO, EACH)));
        }
        Some(top.named(FigureName::Pattern(PatternFigure { pattern, of: PatternOf::All(part) })))
    }

    /// A part of a quarter's royalties.
    fn of_quarter(
        &mut self,
        pattern: PatternId,
        (quarter, part): (Quarter, RoyaltyPart),
        uses: &PatternUses<'_>,
        last: NaiveDate,
        level: usize,
    ) -> Option<Step> {
        let when = quarter.map_or_else(|| "owed before the book".to_owned(), |_| format!("of {}", quarter_text(quarter)));
        let mut steps = Vec::new();
        let says = match part {
            RoyaltyPart::Pieces => {
                steps = made_steps(uses.made_in(quarter).map(|(one, _)| (one.quantity, one.date, one.line)));
                format!("pieces with a royalty {when}")
            }
            RoyaltyPart::Royalty => {
                for (one, royalty) in uses.made_in(quarter) {
                    let says = format!("{} on {} pieces", one.date, quantity_text(one.quantity));
                    steps.push(Step::new(says, Sum::both(royalty), WhyRule::Said, one.line));
                }
                for bill in uses.bills_of(quarter).filter(|bill| bill.opened) {
                    let says = format!("owed when the book began on {}", bill.date);
                    steps.push(Step::new(says, Sum::both(bill.total_on(last)?), WhyRule::Said, bill.line));
                }
                format!("royalty {when}")
            }
            RoyaltyPart::Due => {
                for bill in uses.bills_of(quarter) {
                    steps.push(open_royalty(bill, last)?);
                }
                format!("royalty due {when}")
            }
        };
        let mut step = Step::sum_of(says, steps)?;
        if part == RoyaltyPart::Pieces {
            step.count = step.count.or(Some((Decimal::ZERO, EACH)));
        }
        let steps = std::mem::take(&mut step.steps);
        let figure = FigureName::Pattern(PatternFigure { pattern, of: PatternOf::Quarter(quarter, part) });
        if self.enters(&mut step, figure, level) {
            step.steps = steps;
        }
        Some(step)
    }
}

fn made_steps(made: impl Iterator<Item = (Decimal, NaiveDate, Span)>) -> Vec<Step> {
    made.map(|(quantity, date, line)| {
        Step::new(format!("{date} made"), Sum::default(), WhyRule::Said, line).counted(quantity, EACH)
    })
    .collect()
}

/// A royalty's bill: what it came to, less what was paid.
fn open_royalty(bill: &Bill, last: NaiveDate) -> Option<Step> {
    let whole = Step::new(format!("{} owed", bill.date), Sum::both(bill.total_on(last)?), WhyRule::Said, bill.line);
    less_paid(bill, last, whole, format!("{} still owed", bill.date))
}
