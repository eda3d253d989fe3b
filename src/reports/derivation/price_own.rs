//! What a price bears of what its channel takes itself, by value, and how many pieces meet a fair, told down to the sales and hours.

use super::amount::Shown;
use super::price_figure::Here;
use super::step::taken_off;
use super::{Step, Sum, Telling};
use crate::reports::pays_part::{PaysOf, PaysPart, PaysWhat};
use crate::reports::period::minutes_text;
use crate::reports::pricing::worth;
use crate::reports::{CostPart, PaysColumn, PriceColumn, WhyRule};

impl<'d> Telling<'d> {
    /// What a price bears of a channel's expenses or minutes: its own revenue, and these of all revenue there.
    pub(super) fn borne(
        &mut self,
        here: &Here<'_, 'd>,
        receives: PriceColumn,
        of: PriceColumn,
        level: usize,
    ) -> Option<Vec<Step>> {
        let r = here.reckoned;
        let all = if of == PriceColumn::ChannelExpenses { r.own.expenses } else { r.own.minutes };
        if all.is_zero() || !r.own.revenue.is_positive() {
            return Some(Vec::new());
        }
        let (at, price) = match receives {
            PriceColumn::ListReceives => (r.list?, self.list_price(here.thing, r.list?.price)),
            _ => (r.last?, self.column_of_price(here, PriceColumn::LastPrice, level.saturating_add(1))??),
        };
        let beside = if r.shipping_charged.is_zero() { "" } else { ", with the shipping that is charged" };
        let says = format!("the revenue of that price{beside}");
        let mut revenue = Step::nowhere(says, Sum::both(r.revenue_of(at.price)?), WhyRule::Figured).showing(Shown::Money);
        revenue.steps = vec![price];
        let mut steps = vec![revenue];
        for column in [of, PriceColumn::ChannelRevenue] {
            steps.extend(self.column_of_price(here, column, level)?);
        }
        Some(steps)
    }

    /// Of the revenue of a price, what the channel takes itself, with the owner's hours there as money; nothing where it takes nothing.
    pub(super) fn of_the_revenue(&mut self, here: &Here<'_, 'd>, level: usize) -> Option<Option<Step>> {
        let (own, rate) = (here.reckoned.own, here.priced.asked.per_hour?);
        if own.is_nothing() || !own.revenue.is_positive() {
            return Some(None);
        }
        let below = level.saturating_add(1);
        let mut parts: Vec<Step> = self.column_of_price(here, PriceColumn::ChannelExpenses, below)?.into_iter().collect();
        let says = format!("your hours there at {} an hour", rate.to_fixed_text(2, 6));
        let mut hours = Step::nowhere(says, Sum::both(worth(rate, own.minutes)?), WhyRule::Figured);
        hours.steps.extend(self.column_of_price(here, PriceColumn::ChannelMinutes, below.saturating_add(1))?);
        parts.push(hours);
        parts.retain(|step| !step.shows_nothing());
        let took = Step::nowhere("what the channel took itself", Sum::both(own.money(rate)?), WhyRule::SumOf);
        let took = Step { steps: parts, ..took };
        let says = "of its revenue, what the channel takes itself with your hours";
        let mut step = Step::nowhere(says, Sum::default(), WhyRule::Figured).counted(own.money_percent(rate)?, "%");
        step.steps = vec![took];
        step.steps.extend(self.column_of_price(here, PriceColumn::ChannelRevenue, below)?);
        Some(Some(step))
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

    /// What is left of a paid margin after overhead and what the price bears of the channel's own expenses, over the minutes of the piece and those it bears of
    /// the channel.
    pub(super) fn over_hours(&mut self, here: &Here<'_, 'd>, of_list: bool, level: usize) -> Option<Vec<Step>> {
        let below = level.saturating_add(1);
        let r = here.reckoned;
        let (margin, expenses, own_minutes, at) = match of_list {
            true => (PriceColumn::ListPaidMargin, PriceColumn::ListOwnExpenses, PriceColumn::ListOwnMinutes, r.list?),
            false => (PriceColumn::LastPaidMargin, PriceColumn::LastOwnExpenses, PriceColumn::LastOwnMinutes, r.last?),
        };
        let mut steps = self.less_parts(here, margin, &[CostPart::Overhead], below)?;
        let expenses = self.column_of_price(here, expenses, below)??;
        steps.push(taken_off("less its part of the channel’s own expenses", expenses)?);
        let steps: Vec<Step> = steps.into_iter().filter(|step| !step.shows_nothing()).collect();
        let mut left = Step::sum_of("what is left for the hours", steps)?;
        left.rule = if left.steps.is_empty() { WhyRule::Said } else { WhyRule::SumOf };
        let mut minutes = vec![self.one_piece((here.thing, here.product), Some(CostPart::Minutes), below)?];
        minutes.extend(self.column_of_price(here, own_minutes, below)?);
        let all = here.product.one.hours?.1.checked_add(at.own_minutes)?;
        let mut worked =
            Step::nowhere("its minutes and those that it bears of the channel", Sum::own_minutes(all), WhyRule::SumOf)
                .showing(Shown::Part(CostPart::Minutes));
        worked.steps = minutes.into_iter().filter(|step| !step.shows_nothing()).collect();
        Some(vec![left, worked])
    }
}
