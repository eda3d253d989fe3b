//! What a price comes to: a least price from what it has to cover, and what a price leaves, each down to the sales and hours from which it was learnt.
//!
//! A price less what the channel keeps, its fees, postage and packing is what reaches the maker; that less paid cost the paid margin; that less overhead
//! and own time the full one. A least price is asked back the same way and rounded up.

use rust_decimal::Decimal;

use super::amount::{Shown, part_of};
use super::by_months::{by_months, month_of};
use super::cost::each;
use super::price_words::{says_of, why_none};
use super::step::taken_off;
use super::{Step, Sum, Telling};
use crate::costing::Account;
use crate::names::{ChannelId, ChannelShare, ThingId};
use crate::reports::pays_part::PaysOf;
use crate::reports::period::{minutes_text, quantity_text, said_money, unit_cost_text};
use crate::reports::pricing::{Earned, PriceIndex, Priced, PricedProduct, Reckoned, Whence, terms_in_words, worth};
use crate::reports::{CostPart, FigureName, PaysColumn, Period, PriceColumn, PriceFault, PriceFigure, PriceOf, Wanted, WhyRule};
use crate::sources::Span;
use crate::units::Fixed6;

/// A product, and a channel with all that was reckoned of it.
pub(super) struct Here<'h, 'd> {
    pub(super) thing: ThingId,
    pub(super) product: &'h PricedProduct<'d>,
    pub(super) channel: ChannelId,
    pub(super) priced: &'h Priced<'d>,
    pub(super) reckoned: &'h Reckoned<'d>,
}

impl<'d> Telling<'d> {
    /// A figure of a price.
    pub(super) fn price(&mut self, figure: PriceFigure) -> Option<(String, Vec<Step>)> {
        let books = self.of.books;
        let name = &books.book.thing(figure.thing).named.name;
        let wanted = self.of.names.price().filter(|_| figure.asked).map_or_else(Wanted::default, |(_, wanted)| wanted);
        let rates = self.of;
        let mile_rate = |day| rates.mile_rate(day);
        let index = PriceIndex::of(books, Period::default(), &mile_rate)?;
        // Where no fixed cost is asked about, the last fair's is to be met.
        let index = if wanted.fixed.is_none() { index.with_fairs(&mile_rate)? } else { index };
        let product = match PricedProduct::of(&index, figure.thing, wanted) {
            Ok(product) => product,
            Err(PriceFault::TooLarge) => return None,
            Err(fault) => return Some((as_sentence(&fault.says(books.book, figure.thing)), Vec::new())),
        };
        self.plan = product.piece.planned().cloned();
        let (channel, column) = match figure.of {
            PriceOf::Piece(part) => {
                let top = self.one_piece((figure.thing, &product), part, 0)?;
                return Some(self.answer_of_piece(figure.thing, &product, part, top));
            }
            PriceOf::Pieces => {
                let (name, from) = (name.clone(), product.piece.from.clone());
                let top = self.pieces_of_cost(figure.thing, &product)?;
                let pieces = quantity_text(product.piece.pieces);
                return Some((format!("What one {name} costs is that of {pieces}, shared alike ({from})."), vec![top]));
            }
            PriceOf::ListPrice => {
                let Some(price) = product.list_price else { return Some((format!("`{name}` has no list price."), Vec::new())) };
                let top = self.list_price(figure.thing, Fixed6::round_from_decimal(price)?);
                return Some((format!("The list price of {name} is {}.", unit_cost_text(top.sum.paid)), vec![top]));
            }
            PriceOf::OwnerRate => {
                let Some((rate, day)) = product.rate.zip(product.day) else {
                    return Some(("There is no figure: the shop states no `owner time`.".to_owned(), Vec::new()));
                };
                let says = format!("the owner’s hour, as the shop states it on {day}");
                let top = Step::new(says, Sum::both(rate), WhyRule::Said, books.book.shop.span).showing(Shown::Money);
                let top = top.named(self.of_price(figure.thing, PriceOf::OwnerRate));
                return Some((format!("An hour of yours is {} on {day}.", said_money(books.book, rate)), vec![top]));
            }
            PriceOf::Channel(channel, column) => (channel, column),
        };
        let priced = product.in_channel(channel);
        let reckoned = priced.reckon()?;
        let here = Here { thing: figure.thing, product: &product, channel, priced: &priced, reckoned: &reckoned };
        let title = &priced.channel.named.title;
        let says = format!("{}, for {name} by {title}", says_of(column));
        Some(match self.column_of_price(&here, column, 0)? {
            None => (format!("There is no figure for the {says}: {}.", why_none(&here, column)), Vec::new()),
            Some(top) => {
                let is = match (top.count, column) {
                    (Some((count, "ea")), _) => quantity_text(count),
                    (Some((count, unit)), _) => format!("{} {unit}", quantity_text(count)),
                    (None, column) if column.is_minutes() => format!("{} minutes", minutes_text(top.sum.parts.own_minutes())),
                    (None, _) => unit_cost_text(top.sum.paid),
                };
                (format!("The {says} is {is}."), vec![top])
            }
        })
    }

    /// A figure of a price, asked as the figure that is derived was.
    pub(super) fn of_price(&self, thing: ThingId, of: PriceOf) -> FigureName {
        let asked = matches!(self.figure, FigureName::Price(PriceFigure { asked: true, .. }));
        FigureName::Price(PriceFigure { thing, of, asked })
    }

    fn answer_of_piece(
        &self,
        thing: ThingId,
        product: &PricedProduct<'_>,
        part: Option<CostPart>,
        top: Step,
    ) -> (String, Vec<Step>) {
        let name = &self.of.books.book.thing(thing).named.name;
        let from = &product.piece.from;
        let costs = if product.piece.planned().is_some() { "is expected to cost" } else { "costs" };
        let answer = match part {
            None => format!(
                "One {name} {costs} {} paid and {} full ({from}).",
                unit_cost_text(top.sum.paid),
                unit_cost_text(top.sum.full)
            ),
            Some(CostPart::Minutes) if product.one.hours.is_none() => {
                let why = match product.piece.planned() {
                    Some(_) => "its recipe says no time, or it takes what was there without its hours",
                    None => "some was there without its hours",
                };
                return (format!("The minutes in a {name} are not known: {why}."), Vec::new());
            }
            Some(CostPart::Minutes) => {
                format!("In one {name} are {} minutes of yours ({from}).", minutes_text(top.sum.parts.own_minutes()))
            }
            Some(part) => {
                format!(
                    "In one {name} are {} of {} ({from}).",
                    unit_cost_text(part_of(top.sum, part)),
                    super::cost::words_of(part)
                )
            }
        };
        (answer, vec![top])
    }

    /// What a piece costs, or a part of it: the whole over the pieces, lot by lot.
    pub(super) fn one_piece(
        &mut self,
        (thing, product): (ThingId, &PricedProduct<'d>),
        part: Option<CostPart>,
        level: usize,
    ) -> Option<Step> {
        let piece = &product.piece;
        let name = &self.of.books.book.thing(thing).named.name;
        let whole = Sum::of_amounts(piece.cost)?;
        let words = part.map_or("cost", super::cost::words_of);
        let says = format!("{words} of one {name} ({})", piece.from);
        let mut step = Step::nowhere(says, each(whole, piece.pieces)?, WhyRule::PerUnit).showing(Shown::of_cost(part));
        let figure = self.of_price(thing, PriceOf::Piece(part));
        if !self.enters(&mut step, figure, level) {
            return Some(step);
        }
        let (told, before) = (self.forget_told(), std::mem::replace(&mut self.part, part));
        let of = self.of;
        let below = level.saturating_add(2);
        let all = match &piece.whence {
            Whence::Finished(days) => {
                let mut made: Vec<_> = of.index.outputs(of.books.costed, thing).filter(|item| days.covers(item.date)).collect();
                made.sort_by_key(|item| (item.date, item.event));
                let (_, steps) = self.made(thing, made, below)?;
                Step::sum_of(self.amount_of(thing, piece.pieces), steps)?
            }
            Whence::OnHand => self.stock_of(thing, None, below)?,
            Whence::Expected(planned) => self.priced_cost(planned, thing, below)?,
        };
        self.part = before;
        self.remember_told(told);
        step.steps = vec![all];
        Some(step)
    }

    /// The pieces over which the cost of one is taken.
    fn pieces_of_cost(&self, thing: ThingId, product: &PricedProduct<'d>) -> Option<Step> {
        let (of, piece) = (self.of, &product.piece);
        let unit = of.books.book.thing(thing).unit.as_str();
        let counted =
            |says: String, pieces: Decimal, at| Step::new(says, Sum::default(), WhyRule::Said, at).counted(pieces, unit);
        let mut steps = Vec::new();
        match &piece.whence {
            Whence::Finished(days) => {
                let mut made: Vec<_> = of.index.outputs(of.books.costed, thing).filter(|item| days.covers(item.date)).collect();
                made.sort_by_key(|item| (item.date, item.event));
                for item in made {
                    let says = format!("finished on {}", item.date);
                    steps.push((month_of(item.date), counted(says, item.quantity, self.head(item.event))));
                }
            }
            Whence::OnHand => {
                let day = of.books.costed.until.unwrap_or_default();
                for lot in of.books.costed.stock.iter().filter(|lot| lot.thing == thing) {
                    let says = format!("on hand at {}", of.books.book.place(lot.place).named.name);
                    steps.push((month_of(day), counted(says, lot.quantity, Span::default())));
                }
            }
            Whence::Expected(_) => {}
        }
        let mut top = counted(format!("number that the cost is taken over ({})", piece.from), piece.pieces, Span::default());
        top.steps = by_months(steps)?.into_iter().filter(|step| !step.shows_nothing()).collect();
        top.rule = if top.steps.is_empty() { WhyRule::Said } else { WhyRule::SumOf };
        Some(top.named(self.of_price(thing, PriceOf::Pieces)))
    }

    pub(super) fn list_price(&self, thing: ThingId, price: Fixed6) -> Step {
        let named = &self.of.books.book.thing(thing).named;
        let figure = self.of_price(thing, PriceOf::ListPrice);
        Step::new(format!("the list price of {}", named.name), Sum::both(price), WhyRule::Said, named.span).named(figure)
    }

    /// A figure of a channel; nothing inside where there is none. The outer `None` is overflow.
    pub(super) fn column_of_price(&mut self, here: &Here<'_, 'd>, column: PriceColumn, level: usize) -> Option<Option<Step>> {
        let Some(mut step) = first_step(here, column)? else { return Some(None) };
        let figure = self.of_price(here.thing, PriceOf::Channel(here.channel, column));
        if !self.enters(&mut step, figure, level) {
            return Some(Some(step));
        }
        let below = level.saturating_add(1);
        let r = here.reckoned;
        if matches!(column, PriceColumn::OwnExpenses | PriceColumn::OwnMinutes) && !r.brought_in_by.is_of_sales() {
            step.says.push_str(" beside the rest");
        }
        step.steps = match column {
            PriceColumn::LeastForPaid
            | PriceColumn::LeastForFull
            | PriceColumn::LeastForEarning
            | PriceColumn::LeastForMargin => {
                let wanted = self.wanted(here, column, below)?;
                let mut steps = vec![wanted];
                steps.extend(self.columns(
                    here,
                    &[PriceColumn::FixedFees, PriceColumn::Postage, PriceColumn::Packing, PriceColumn::LeavesPercent],
                    below,
                )?);
                if let (PriceColumn::LeastForMargin, Some(margin)) = (column, here.priced.asked.margin) {
                    let says = "of the revenue, the margin that is wanted";
                    steps.push(Step::nowhere(says, Sum::default(), WhyRule::Said).counted(margin, "%"));
                }
                steps
            }
            PriceColumn::BreakEvenPieces => self.break_even(here, false, below)?,
            PriceColumn::BreakEvenWithHours => self.break_even(here, true, below)?,
            PriceColumn::BreakEvenTakings => {
                let pieces = self.column_of_price(here, PriceColumn::BreakEvenPieces, below)??;
                vec![pieces, self.judged_price(here, below)?]
            }
            PriceColumn::LeavesPercent => Vec::new(),
            PriceColumn::FixedFees => self.fixed_fees(here)?,
            PriceColumn::Postage => {
                let sold = r.postage_paid.checked_sub(r.sent_postage)?;
                let mut steps = vec![self.learnt(here, Account::Postage, "postage", sold)?];
                steps.extend(self.sent(here, PaysColumn::Postage, r.sent_postage, below)?);
                if !r.shipping_charged.is_zero() {
                    let charged = self.learnt(here, Account::ShippingCharged, "shipping charged", r.shipping_charged)?;
                    steps.push(taken_off("less shipping charged", charged)?);
                }
                steps
            }
            PriceColumn::Packing if r.sent_packing.is_zero() => vec![self.learnt_whole(here, Account::Packing)?],
            PriceColumn::Packing => {
                let sold = r.packing.checked_sub(r.sent_packing)?;
                let mut steps = vec![self.learnt(here, Account::Packing, "packing", sold)?];
                steps.extend(self.sent(here, PaysColumn::Packing, r.sent_packing, below)?);
                steps
            }
            PriceColumn::SellingPieces => self.selling_pieces(here)?,
            PriceColumn::SentPieces if r.sent_pieces().is_zero() => Vec::new(),
            PriceColumn::SentPieces => self.sent_pieces(here)?,
            PriceColumn::ChannelExpenses => self.on_the_channel(here, PaysColumn::DirectExpenses, below)?,
            PriceColumn::ChannelMinutes => self.on_the_channel(here, PaysColumn::OwnMinutes, below)?,
            PriceColumn::ChannelRevenue if r.own.revenue.is_zero() => Vec::new(),
            PriceColumn::ChannelRevenue => {
                vec![self.column((Some(PaysOf::Channel(here.channel)), None), PaysColumn::Revenue, below)?]
            }
            PriceColumn::BringsIn => self.brings_in(here, below)?,
            PriceColumn::OwnExpenses if r.own_expenses.is_zero() => Vec::new(),
            PriceColumn::OwnMinutes if r.own_minutes.is_zero() => Vec::new(),
            PriceColumn::OwnExpenses => {
                self.columns(here, &[PriceColumn::BringsIn, PriceColumn::ChannelExpenses, PriceColumn::ChannelRevenue], below)?
            }
            PriceColumn::OwnMinutes => {
                self.columns(here, &[PriceColumn::BringsIn, PriceColumn::ChannelMinutes, PriceColumn::ChannelRevenue], below)?
            }
            PriceColumn::BreakEvenMoney => self.met_by(here, PaysColumn::DirectExpenses, below)?,
            PriceColumn::BreakEvenMinutes => self.met_by(here, PaysColumn::OwnMinutes, below)?,
            PriceColumn::LastPrice => self.last_sale(here)?,
            PriceColumn::ListReceives => {
                let price = self.list_price(here.thing, r.list?.price);
                self.received(here, price, r.list?, below)?
            }
            PriceColumn::LastReceives => {
                let price = self.column_of_price(here, PriceColumn::LastPrice, below)??;
                self.received(here, price, r.last?, below)?
            }
            PriceColumn::ListPaidMargin => self.less_parts(here, PriceColumn::ListReceives, &[CostPart::Paid], below)?,
            PriceColumn::LastPaidMargin => self.less_parts(here, PriceColumn::LastReceives, &[CostPart::Paid], below)?,
            PriceColumn::ListFullMargin => {
                self.less_parts(here, PriceColumn::ListPaidMargin, &[CostPart::Overhead, CostPart::OwnTime], below)?
            }
            PriceColumn::LastFullMargin => {
                self.less_parts(here, PriceColumn::LastPaidMargin, &[CostPart::Overhead, CostPart::OwnTime], below)?
            }
            PriceColumn::ListPerHour => self.over_hours(here, true, below)?,
            PriceColumn::LastPerHour => self.over_hours(here, false, below)?,
        };
        // A fee or a postage of nothing has nothing below it.
        step.steps.retain(|step| !step.shows_nothing());
        if step.rule == WhyRule::Said {
            // What stands on a channel that sold no piece is on no piece.
            step.steps.clear();
        }
        if step.steps.is_empty() {
            step.rule = WhyRule::Said;
        }
        Some(Some(step))
    }

    pub(super) fn columns(&mut self, here: &Here<'_, 'd>, columns: &[PriceColumn], level: usize) -> Option<Vec<Step>> {
        let mut steps = Vec::new();
        for column in columns {
            steps.extend(self.column_of_price(here, *column, level)?);
        }
        Some(steps)
    }

    /// What a least price has to bring in.
    fn wanted(&mut self, here: &Here<'_, 'd>, column: PriceColumn, level: usize) -> Option<Step> {
        let piece = (here.thing, here.product);
        match column {
            PriceColumn::LeastForFull | PriceColumn::LeastForMargin => self.one_piece(piece, Some(CostPart::Full), level),
            PriceColumn::LeastForEarning => {
                let earning = here.priced.to_earn(here.reckoned)??;
                let rate = here.priced.asked.per_hour?;
                let below = level.saturating_add(1);
                let mut steps = Vec::new();
                for part in [CostPart::Paid, CostPart::Overhead] {
                    steps.push(self.one_piece(piece, Some(part), below)?);
                }
                let hour = worth(rate, here.product.one.hours?.1)?;
                let says = format!("your hour at {}, for its minutes", rate.to_fixed_text(2, 6));
                let mut hour = Step::nowhere(says, Sum::both(hour), WhyRule::Figured);
                hour.steps.push(self.one_piece(piece, Some(CostPart::Minutes), below.saturating_add(1))?);
                steps.push(hour);
                steps.extend(self.column_of_price(here, PriceColumn::OwnExpenses, below)?);
                let there = worth(rate, here.reckoned.own_minutes)?;
                let says = "the same hour, for the minutes that it bears of the channel";
                let mut there = Step::nowhere(says, Sum::both(there), WhyRule::Figured);
                there.steps.extend(self.column_of_price(here, PriceColumn::OwnMinutes, below.saturating_add(1))?);
                steps.push(there);
                let mut top = Step::nowhere("what it is to leave", Sum::both(earning), WhyRule::SumOf);
                top.steps = steps.into_iter().filter(|step| !step.shows_nothing()).collect();
                Some(top)
            }
            _ => self.one_piece(piece, Some(CostPart::Paid), level),
        }
    }

    /// The price at which the fixed cost is met: the list price, else the last.
    pub(super) fn judged_price(&mut self, here: &Here<'_, 'd>, level: usize) -> Option<Step> {
        match here.reckoned.list {
            Some(list) => Some(self.list_price(here.thing, list.price)),
            None => self.column_of_price(here, PriceColumn::LastPrice, level)?,
        }
    }

    /// What reaches the maker of a price: the price, less what the channel keeps of it and what it costs beside.
    fn received(&mut self, here: &Here<'_, 'd>, price: Step, at: Earned, level: usize) -> Option<Vec<Step>> {
        let r = here.reckoned;
        let kept = at.price.checked_sub(at.receives)?.checked_sub(r.terms.for_a_piece())?;
        let words = terms_in_words(self.of.books.book, r.fees, r.share, r.tax_within);
        let says = format!("less what of it does not reach you: {words}");
        let mut steps =
            vec![price, Step::new(says, Sum::both(kept.checked_neg()?), WhyRule::Said, here.priced.channel.named.span)];
        for column in [PriceColumn::FixedFees, PriceColumn::Postage, PriceColumn::Packing] {
            let step = self.column_of_price(here, column, level)??;
            steps.push(taken_off(&format!("less {}", says_of(column)), step)?);
        }
        Some(steps)
    }

    /// A column less parts of what a piece costs.
    pub(super) fn less_parts(
        &mut self,
        here: &Here<'_, 'd>,
        from: PriceColumn,
        parts: &[CostPart],
        level: usize,
    ) -> Option<Vec<Step>> {
        let mut steps = vec![self.column_of_price(here, from, level)??];
        for part in parts {
            let step = self.one_piece((here.thing, here.product), Some(*part), level)?;
            let whole = Step { sum: Sum::both(part_of(step.sum, *part)), ..Step::nowhere("", Sum::default(), step.rule) };
            let mut less = taken_off(&format!("less {}", super::cost::words_of(*part)), Step { figure: step.figure, ..whole })?;
            if step.rule == WhyRule::PerUnit {
                (less.rule, less.steps) = (WhyRule::PartOf, vec![step]);
            }
            steps.push(less);
        }
        Some(steps)
    }
}

/// What is said of a report, as a sentence of an answer.
fn as_sentence(says: &str) -> String {
    let mut letters = says.chars();
    let first = letters.next().map(|first| first.to_uppercase().collect::<String>()).unwrap_or_default();
    format!("{first}{}.", letters.as_str())
}

/// A column's own step, before what it is made of; nothing inside where it has no figure. The outer `None` is overflow.
fn first_step(here: &Here<'_, '_>, column: PriceColumn) -> Option<Option<Step>> {
    let r = here.reckoned;
    let says = says_of(column);
    let money =
        |money: Option<Fixed6>, rule| money.map(|money| Step::nowhere(says, Sum::both(money), rule).showing(Shown::Money));
    let listed = |part: fn(&Earned) -> Option<Fixed6>| r.list.as_ref().and_then(part);
    let last = |part: fn(&Earned) -> Option<Fixed6>| r.last.as_ref().and_then(part);
    let minutes = |minutes: Option<Fixed6>, rule| {
        let step = minutes.map(|minutes| Step::nowhere(says, Sum::own_minutes(minutes), rule));
        step.map(|step| step.showing(Shown::Part(CostPart::Minutes)))
    };
    let counted = |number: Option<Decimal>, unit, rule| {
        number.map(|number| Step::nowhere(says, Sum::default(), rule).counted(number, unit))
    };
    let pieces = |pieces: Option<i128>| counted(Decimal::try_from_i128_with_scale(pieces?, 0).ok(), "ea", WhyRule::Figured);
    let to_meet = here.priced.fixed()?.filter(|_| r.break_even.is_some());
    let has_pieces = |pieces: Decimal| if pieces > Decimal::ZERO { WhyRule::PerUnit } else { WhyRule::Said };
    Some(match column {
        PriceColumn::LeastForPaid => money(r.least_for_paid, WhyRule::Figured),
        PriceColumn::LeastForFull => money(r.least_for_full, WhyRule::Figured),
        PriceColumn::LeastForEarning => money(r.least_for_earning, WhyRule::Figured),
        PriceColumn::LeavesPercent => {
            let channel = here.priced.channel.named.span;
            Some(Step::new(says, Sum::default(), WhyRule::Said, channel).counted(r.leaves_percent()?, "%"))
        }
        PriceColumn::FixedFees => money(Some(r.fixed_fees), WhyRule::SumOf),
        PriceColumn::Postage => money(Some(r.postage), WhyRule::SumOf),
        PriceColumn::Packing => {
            money(Some(r.packing), if r.sent_packing.is_zero() { has_pieces(r.learnt.pieces) } else { WhyRule::SumOf })
        }
        PriceColumn::SellingPieces => counted(Some(r.learnt.pieces), "ea", WhyRule::SumOf),
        PriceColumn::SentPieces => counted(Some(r.sent_pieces()), "ea", WhyRule::SumOf),
        PriceColumn::ChannelExpenses => money(Some(r.own.expenses), WhyRule::SumOf),
        PriceColumn::ChannelMinutes => minutes(Some(r.own.minutes), WhyRule::SumOf),
        PriceColumn::ChannelRevenue => money(Some(r.own.revenue), WhyRule::SumOf),
        PriceColumn::BringsIn => {
            money(Some(r.brings_in), if r.brought_in_by.is_of_sales() { WhyRule::PerUnit } else { WhyRule::Figured })
        }
        PriceColumn::OwnExpenses => money(Some(r.own_expenses), WhyRule::Figured),
        PriceColumn::OwnMinutes => minutes(Some(r.own_minutes), WhyRule::Figured),
        PriceColumn::BreakEvenMoney => money(to_meet.map(|(money, _)| money), WhyRule::SumOf),
        PriceColumn::BreakEvenMinutes => minutes(to_meet.map(|(_, minutes)| minutes), WhyRule::SumOf),
        PriceColumn::ListReceives => money(listed(|at| Some(at.receives)), WhyRule::SumOf),
        PriceColumn::ListPaidMargin => money(listed(|at| Some(at.paid_margin)), WhyRule::SumOf),
        PriceColumn::ListFullMargin => money(listed(|at| at.full_margin), WhyRule::SumOf),
        PriceColumn::ListPerHour => money(listed(|at| at.per_hour), WhyRule::Figured),
        PriceColumn::LastPrice => {
            let rule = if matches!(r.share, ChannelShare::Wholesale(_)) { WhyRule::Figured } else { WhyRule::PerUnit };
            money(last(|at| Some(at.price)), rule)
        }
        PriceColumn::LastReceives => money(last(|at| Some(at.receives)), WhyRule::SumOf),
        PriceColumn::LastPaidMargin => money(last(|at| Some(at.paid_margin)), WhyRule::SumOf),
        PriceColumn::LastFullMargin => money(last(|at| at.full_margin), WhyRule::SumOf),
        PriceColumn::LastPerHour => money(last(|at| at.per_hour), WhyRule::Figured),
        PriceColumn::LeastForMargin => money(r.least_for_margin, WhyRule::Figured),
        PriceColumn::BreakEvenPieces => pieces(r.break_even.and_then(|met| met.pieces)),
        PriceColumn::BreakEvenTakings => money(r.break_even.and_then(|met| met.takings), WhyRule::Figured),
        PriceColumn::BreakEvenWithHours => pieces(r.break_even.and_then(|met| met.with_hours)),
    })
}
