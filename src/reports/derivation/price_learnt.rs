//! What a price learnt from the book's own sales: fees, postage and packing, what a channel bears, the last sale.

use rust_decimal::{Decimal, RoundingStrategy};

use super::by_months::{by_months, month_of};
use super::price_figure::Here;
use super::{Step, Sum, Telling};
use crate::costing::{Account, Flow, Movement};
use crate::events::EventKind;
use crate::names::FeeRule;
use crate::reports::pays_part::{PaysOf, PaysPart};
use crate::reports::period::{quantity_text, unit_cost_text};
use crate::reports::pricing::{OnChannel, on_channel};
use crate::reports::{PaysColumn, WhyRule};
use crate::units::{Fixed6, Unit, checked_add_exact};

impl<'d> Telling<'d> {
    /// Fees that are a sum: for a piece, for a sale over its pieces, and on the shipping that is charged.
    pub(super) fn fixed_fees(&self, here: &Here<'_, 'd>) -> Option<Vec<Step>> {
        let r = here.reckoned;
        let at = here.priced.channel.named.span;
        let mut left = r.fixed_fees;
        let mut steps = Vec::new();
        for rule in r.fees {
            let (says, money) = match *rule {
                FeeRule::PerItem(money) => ("a piece".to_owned(), Fixed6::from_decimal_exact(money)?),
                FeeRule::PerSale(money) => {
                    let pieces = r.pieces_a_sale;
                    let each = Fixed6::round_from_decimal(money.checked_div(pieces)?)?;
                    let says = format!(
                        "{} a sale, of {} pieces on average",
                        quantity_text(money),
                        quantity_text(pieces.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero))
                    );
                    (says, each)
                }
                FeeRule::OfTotal(_) | FeeRule::OfGoods(_) | FeeRule::OfCard(_) => continue,
            };
            left = left.checked_sub(money)?;
            steps.push(Step::new(says, Sum::both(money), WhyRule::Said, at));
        }
        if !left.is_zero() {
            let says = format!("fees on {} of shipping charged", unit_cost_text(r.shipping_charged));
            steps.push(Step::new(says, Sum::both(left), WhyRule::Said, at));
        }
        Some(steps)
    }

    /// What stands on the pieces from which it was learnt, for one of them.
    pub(super) fn learnt(&self, here: &Here<'_, 'd>, account: Account, words: &str, each: Fixed6) -> Option<Step> {
        let whole = self.learnt_whole(here, account)?;
        let mut step = Step::nowhere(format!("{words} of a piece"), Sum::both(each), WhyRule::PerUnit);
        if whole.steps.is_empty() {
            step.rule = WhyRule::Said;
        } else {
            step.steps = vec![whole];
        }
        Some(step)
    }

    /// All that stands on those pieces.
    pub(super) fn learnt_whole(&self, here: &Here<'_, 'd>, account: Account) -> Option<Step> {
        let books = self.of.books;
        let of_product = here.reckoned.learnt_from == "this product";
        let mut steps = Vec::new();
        let counts = |channel, thing| channel == Some(here.channel) && (!of_product || thing == Some(here.thing));
        for posting in books
            .costed
            .postings
            .iter()
            .filter(|one| one.account == account && one.order.is_some() && counts(one.channel, one.thing))
        {
            let step = Step::new(posting.date.to_string(), Sum::both(posting.money), WhyRule::Said, posting.line);
            steps.push((month_of(posting.date), step));
        }
        let pieces = quantity_text(here.reckoned.learnt.pieces);
        let noun = if pieces == "1" { "piece" } else { "pieces" };
        Step::sum_of(format!("of {pieces} {noun} of {}", here.reckoned.learnt_from), by_months(steps)?)
    }

    /// What bringing goods to the channel's place cost, for one of them; nothing where it cost nothing.
    pub(super) fn sent(&mut self, here: &Here<'_, 'd>, column: PaysColumn, each: Fixed6, level: usize) -> Option<Option<Step>> {
        if each.is_zero() {
            return Some(None);
        }
        let pieces = quantity_text(here.reckoned.sent.pieces);
        let whole = Step::sum_of(format!("on {pieces} of the pieces sent there"), self.on_the_channel(here, column, level)?)?;
        let mut step = Step::nowhere("of a piece, for the way there", Sum::both(each), WhyRule::PerUnit);
        step.steps = vec![whole];
        Some(Some(step))
    }

    /// What stands on the channel itself, part by part as what pays tells it.
    pub(super) fn on_the_channel(&mut self, here: &Here<'_, 'd>, column: PaysColumn, level: usize) -> Option<Vec<Step>> {
        let (of, group) = (self.of, PaysOf::Channel(here.channel));
        let (pays, last) = (of.pays()?, of.books.costed.until);
        let all = pays.years().flat_map(|year| pays.of_group(group, year));
        let parts: Vec<&PaysPart<'_>> =
            all.filter(|part| !matches!(on_channel(part, last), None | Some((_, OnChannel::Ahead(_))))).collect();
        self.parts(&parts, Some(group), column, level)
    }

    /// The pieces from which postage and packing were learnt, sale by sale: those that came back among them.
    pub(super) fn selling_pieces(&self, here: &Here<'_, 'd>) -> Option<Vec<Step>> {
        let of_product = here.reckoned.learnt_from == "this product";
        self.sold_pieces(here, |movement| {
            movement.quantity > Decimal::ZERO && (!of_product || movement.thing == Some(here.thing))
        })
    }

    /// The pieces over which the way to the channel's place is spread; where all were taken away again, those sold meanwhile.
    pub(super) fn sent_pieces(&self, here: &Here<'_, 'd>) -> Option<Vec<Step>> {
        let books = self.of.books;
        let place = here.priced.channel.place;
        let mut steps = Vec::new();
        let mut all = Decimal::ZERO;
        for event in &books.log.events {
            let EventKind::Moved(moved) = &event.kind else { continue };
            for (at, sign, says) in [(moved.to, Decimal::ONE, "sent there"), (moved.from, Decimal::NEGATIVE_ONE, "taken away")] {
                let lines =
                    moved.lines.iter().filter(|line| place == Some(at) && books.book.thing(line.thing).unit == Unit::Each);
                for line in lines {
                    let pieces = line.quantity.checked_mul(sign)?;
                    all = checked_add_exact(all, pieces).ok()?;
                    let says = format!("{} {} {says}", event.date, self.amount_of(line.thing, line.quantity));
                    let step = Step::new(says, Sum::default(), WhyRule::Said, event.head).counted(pieces, "ea");
                    steps.push((month_of(event.date), step));
                }
            }
        }
        if all > Decimal::ZERO {
            return by_months(steps);
        }
        self.sold_pieces(here, |_| true)
    }

    fn sold_pieces(&self, here: &Here<'_, 'd>, counts: impl Fn(&Movement) -> bool) -> Option<Vec<Step>> {
        let books = self.of.books;
        let mut steps = Vec::new();
        for movement in books.costed.movements.iter().filter(|one| one.flow == Flow::Sold && counts(one)) {
            let order = movement.order.and_then(|order| books.costed.orders.get(order as usize));
            let is_here = order.and_then(|order| order.channel) == Some(here.channel);
            let is_counted =
                movement.thing.is_some_and(|thing| thing == here.thing || books.book.thing(thing).unit == Unit::Each);
            if is_here && is_counted {
                let says = format!("{} {}", movement.date, self.moved_what(movement));
                let step = Step::new(says, Sum::default(), WhyRule::Said, movement.line);
                steps.push((month_of(movement.date), step.counted(movement.quantity, "ea")));
            }
        }
        by_months(steps)
    }

    /// The last sale of the product in the channel.
    pub(super) fn last_sale(&self, here: &Here<'_, 'd>) -> Option<Vec<Step>> {
        let mut last = None;
        for (order, account) in (0_u32..).zip(&self.of.books.costed.orders) {
            let mut lines = account.lines.iter().filter(|line| line.thing == here.thing && line.quantity > Decimal::ZERO);
            if let Some(line) = lines.next_back().filter(|_| account.channel == Some(here.channel)) {
                last = Some((order, line));
            }
        }
        let (order, line) = last?;
        let name = self.of.names.order(order);
        let says = format!("{} charged on {} with order {name}", self.amount_of(here.thing, line.quantity), line.date);
        let whole = Step::new(says, Sum::both(line.value), WhyRule::Said, line.span);
        Some(vec![whole])
    }
}
