//! A batch as a whole: what it collected, and what it gave. The two are the same sum, which is the proof of a batch.

use super::amount::part_of;
use super::cost::words_of;
use super::{Step, Sum, Telling};
use crate::costing::{BatchAccount, BatchState};
use crate::events::Output;
use crate::reports::period::{minutes_text, quantity_text, unit_cost_text};
use crate::reports::{BatchFigure, CostPart, WhyRule};

impl Telling<'_> {
    /// What a batch collected, item by item, and what it gave.
    pub(super) fn batch(&mut self, figure: BatchFigure) -> Option<(String, Vec<Step>)> {
        let BatchFigure { batch, part } = figure;
        let of = self.of;
        let account = of.books.costed.batches.get(batch.index())?;
        let name = &of.books.book.batch(batch).name;
        let mut items = self.bench((batch, u32::MAX), 0, None, 2)?;
        if let Some((last, _)) = of.index.last_finish(of.trace, batch) {
            // What its finishes found on the bench stands here.
            self.benches.insert(batch, last);
        }
        let mut gave = Vec::new();
        for output in &account.outputs {
            // What of its cost did not come off the bench.
            let share = self.share_of(account, output.event, (output.what, output.line));
            let share = share.map_or(Some(Sum::default()), |part| Sum::of_amounts(part.share))?;
            let royalty = Sum::of(&output.vector)?.minus(share)?;
            if !royalty.is_nothing() {
                let says = format!("royalty and licence for {}", self.output_text(output.what, output.quantity));
                items.push(Step::new(says, royalty, WhyRule::Said, output.line));
            }
            gave.push(match output.what {
                Output::Thing(thing) => self.lot(of.index.lot_of_line(output.event, output.line, thing)?, 2)?,
                Output::Tool(_) => {
                    let says = format!("{} for the shop, {}", self.output_text(output.what, output.quantity), output.date);
                    Step::new(says, Sum::of(&output.vector)?, WhyRule::Said, output.line)
                }
            });
        }
        for loss in account.losses.iter().filter(|loss| loss.charged_off) {
            let what = loss.what.map_or_else(|| "pieces".to_owned(), |what| self.output_text(what, loss.quantity));
            let says = format!("{what} lost on {}, charged off", loss.date);
            gave.push(Step::new(says, Sum::of(&loss.vector)?, WhyRule::Said, loss.line));
        }
        for movement in of.index.given_up(of.books.costed, batch) {
            let says = format!("lost on {}: what was on the bench", movement.date);
            gave.push(Step::new(says, Sum::of(&movement.vector)?, WhyRule::Said, movement.line));
        }
        let bench = Sum::of(&account.on_the_bench)?;
        if !bench.is_nothing() {
            gave.push(Step::nowhere("still on the bench", bench, WhyRule::Said));
        }
        let collected = Step::sum_of(format!("what went into batch {name}"), items)?;
        let gave = Step::sum_of(format!("where that went{}", state_words(account)), gave)?;
        let answer = self.answer_of_batch(account, name, part, collected.sum);
        Some((answer, vec![collected, gave]))
    }

    /// So much of what a batch makes.
    fn output_text(&self, what: Output, quantity: rust_decimal::Decimal) -> String {
        match what {
            Output::Thing(thing) => self.amount_of(thing, quantity),
            Output::Tool(tool) => format!("{} {}", quantity_text(quantity), self.of.books.book.tool(tool).named.name),
        }
    }

    fn answer_of_batch(&self, account: &BatchAccount, name: &str, part: Option<CostPart>, sum: Sum) -> String {
        let made: Vec<String> = account.outputs.iter().map(|one| self.output_text(one.what, one.quantity)).collect();
        let gave = match made.len() {
            0 => String::new(),
            1..=4 => format!(" and made {}", made.join(", ")),
            many => format!(" and made pieces in {many} finishes"),
        };
        match part {
            None => {
                format!("Batch {name} cost {} paid and {} full{gave}.", unit_cost_text(sum.paid), unit_cost_text(sum.full))
            }
            Some(part) if part_of(sum, part).is_zero() => format!("Batch {name} cost no {}.", words_of(part)),
            Some(CostPart::Minutes) => {
                format!("Batch {name} took {} minutes of yours{gave}.", minutes_text(part_of(sum, CostPart::Minutes)))
            }
            Some(part) => {
                format!("Batch {name} cost {} of {}{gave}.", unit_cost_text(part_of(sum, part)), words_of(part))
            }
        }
    }
}

fn state_words(account: &BatchAccount) -> &'static str {
    match account.state {
        BatchState::OnTheBench | BatchState::NotBegun => " so far",
        BatchState::Done | BatchState::GivenUp => "",
    }
}
