//! What a piece bears of what its channel takes itself, by what it brings in, and how many pieces meet a fair, told down to the sales and hours.

use super::amount::Shown;
use super::by_months::{by_months, month_of};
use super::price_figure::Here;
use super::step::taken_off;
use super::{Step, Sum, Telling};
use crate::reports::margin::Margin;
use crate::reports::pays_part::{PaysOf, PaysPart, PaysWhat};
use crate::reports::period::minutes_text;
use crate::reports::pricing::{BroughtInBy, worth};
use crate::reports::{CostPart, PaysColumn, PriceColumn, WhyRule};

impl<'d> Telling<'d> {
    /// What one brings in: what all that were sold there and stayed brought in, posting by posting; where none was, the price by which it would.
    pub(super) fn brings_in(&mut self, here: &Here<'_, 'd>, level: usize) -> Option<Vec<Step>> {
        let r = here.reckoned;
        match r.brought_in_by {
            BroughtInBy::Sales(revenue, kept) => {
                let mut steps = Vec::new();
                for posting in self.of.books.costed.postings.iter().filter(|one| one.order.is_some()) {
                    if posting.channel == Some(here.channel) && posting.thing == Some(here.thing) {
                        let mut of_sale = Margin::default();
                        of_sale.post(posting)?;
                        let step = Step::new(posting.date.to_string(), Sum::both(of_sale.revenue), WhyRule::Said, posting.line);
                        steps.push((month_of(posting.date), step));
                    }
                }
                steps.retain(|(_, step)| !step.shows_nothing());
                let says = format!("what {} brought in that stayed with their buyers", self.amount_of(here.thing, kept));
                let mut whole = Step::nowhere(says, Sum::both(revenue), WhyRule::SumOf).showing(Shown::Money);
                whole.steps = by_months(steps)?;
                Some(vec![whole])
            }
            BroughtInBy::ListPrice => Some(vec![self.list_price(here.thing, r.list?.price)]),
            BroughtInBy::LastPrice => Some(self.column_of_price(here, PriceColumn::LastPrice, level)?.into_iter().collect()),
            BroughtInBy::LeastPrice => {
                let column = if r.least_for_full.is_some() { PriceColumn::LeastForFull } else { PriceColumn::LeastForPaid };
                Some(self.column_of_price(here, column, level)?.into_iter().collect())
            }
            BroughtInBy::Nothing => Some(Vec::new()),
        }
    }

    /// What pieces are to meet: as it was asked about, else what stands on the last fair itself, part by part.
    pub(super) fn met_by(&mut self, here: &Here<'_, 'd>, column: PaysColumn, level: usize) -> Option<Vec<Step>> {
        let Some(fair) = here.priced.fair else { return Some(Vec::new()) };
        let (of, group) = (self.of, PaysOf::Fair(here.channel, fair.last));
        let pays = of.pays()?;
        let years: Vec<i32> = pays.years().collect();
        let stands = |part: &&PaysPart<'_>| !matches!(part.what, PaysWhat::Posting(_) | PaysWhat::Sold(_));
        let parts: Vec<&PaysPart<'_>> = years.into_iter().flat_map(|year| pays.of_group(group, year)).filter(stands).collect();
        self.parts(&parts, Some(group), column, level)
    }

    /// Pieces that meet a fixed cost: that cost, and what a piece leaves for it; with the hours both at the wanted hour.
    pub(super) fn break_even(&mut self, here: &Here<'_, 'd>, with_hours: bool, level: usize) -> Option<Vec<Step>> {
        let (_, minutes) = here.priced.fixed()??;
        let below = level.saturating_add(1);
        let margin = if here.reckoned.list.is_some() { PriceColumn::ListPaidMargin } else { PriceColumn::LastPaidMargin };
        let fixed = self.column_of_price(here, PriceColumn::BreakEvenMoney, below)??;
        if !with_hours {
            return Some(vec![fixed, self.column_of_price(here, margin, level)??]);
        }
        let rate = here.priced.asked.per_hour?;
        let says = format!("{} minutes of yours at {} an hour", minutes_text(minutes), rate.to_fixed_text(2, 6));
        let mut hours = Step::nowhere(says, Sum::both(worth(rate, minutes)?), WhyRule::Figured);
        hours.steps.extend(self.column_of_price(here, PriceColumn::BreakEvenMinutes, below.saturating_add(1))?);
        let parts = [fixed, hours].into_iter().filter(|step| !step.shows_nothing()).collect();
        let to_meet = Step::sum_of("what is to be met", parts)?;
        let mut left = self.less_parts(here, margin, &[CostPart::Overhead], below)?;
        let (_, of_piece) = here.product.one.hours?;
        let own = worth(rate, of_piece)?;
        let mut own = Step::nowhere("less its minutes at that hour", Sum::both(own.checked_neg()?), WhyRule::Figured);
        own.steps.push(self.one_piece((here.thing, here.product), Some(CostPart::Minutes), below.saturating_add(1))?);
        if !own.shows_nothing() {
            left.push(own);
        }
        left.retain(|step| !step.shows_nothing());
        Some(vec![to_meet, Step::sum_of("what a piece leaves for it", left)?])
    }

    /// What is left of a paid margin after overhead and what a piece bears of the channel's own expenses, over the minutes of the piece and those it bears of
    /// the channel.
    pub(super) fn over_hours(&mut self, here: &Here<'_, 'd>, of_list: bool, level: usize) -> Option<Vec<Step>> {
        let below = level.saturating_add(1);
        let r = here.reckoned;
        let margin = if of_list { PriceColumn::ListPaidMargin } else { PriceColumn::LastPaidMargin };
        let mut steps = self.less_parts(here, margin, &[CostPart::Overhead], below)?;
        let expenses = self.column_of_price(here, PriceColumn::OwnExpenses, below)??;
        steps.push(taken_off("less its part of the channel’s own expenses", expenses)?);
        let steps: Vec<Step> = steps.into_iter().filter(|step| !step.shows_nothing()).collect();
        let mut left = Step::sum_of("what is left for the hours", steps)?;
        left.rule = if left.steps.is_empty() { WhyRule::Said } else { WhyRule::SumOf };
        let mut minutes = vec![self.one_piece((here.thing, here.product), Some(CostPart::Minutes), below)?];
        minutes.extend(self.column_of_price(here, PriceColumn::OwnMinutes, below)?);
        let all = here.product.one.hours?.1.checked_add(r.own_minutes)?;
        let mut worked =
            Step::nowhere("its minutes and those that it bears of the channel", Sum::own_minutes(all), WhyRule::SumOf)
                .showing(Shown::Part(CostPart::Minutes));
        worked.steps = minutes.into_iter().filter(|step| !step.shows_nothing()).collect();
        Some(vec![left, worked])
    }
}
