//! A product in one channel: what it must fetch there, and what a price earns.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::last_fair::LastFair;
use super::own_share::{BroughtInBy, OwnShare};
use super::piece::One;
use super::selling::{Sold, Sums, for_one};
use super::terms::{Stated, Terms, pieces_to_meet};
use crate::names::{Channel, ChannelShare, FeeRule, ResolvedBook};
use crate::reports::margin::per_hour;
use crate::reports::period::{minutes_text, money_text, quantity_text, unit_cost_text};
use crate::reports::report_cost::price_text;
use crate::reports::{BreakEven, ChannelPrice, FloorPrices, PriceEarns, SellingCosts};
use crate::units::{Fixed6, mul_div_round, part_of};

/// What is asked of every channel.
#[derive(Clone, Copy)]
pub(crate) struct Asked {
    pub(crate) per_hour: Option<Fixed6>,
    pub(crate) margin: Option<Decimal>,
    pub(crate) fixed: Option<(Fixed6, Fixed6)>,
}

/// A product in one channel.
pub(crate) struct Priced<'a> {
    pub(super) book: &'a ResolvedBook,
    pub(crate) channel: &'a Channel,
    pub(super) day: Option<NaiveDate>,
    pub(super) sold: Sold,
    pub(crate) one: One,
    pub(crate) asked: Asked,
    /// Its last fair, where no other fixed cost was asked about.
    pub(crate) fair: Option<LastFair>,
    pub(super) list_price: Option<Decimal>,
}

/// What a piece does in a channel, in exact figures.
#[derive(Clone, Debug)]
pub(crate) struct Reckoned<'a> {
    pub(crate) fees: &'a [FeeRule],
    pub(crate) share: ChannelShare,
    pub(crate) tax_within: Decimal,
    pub(crate) terms: Terms,
    /// From what postage and packing were learnt: the pieces, and the sums that stand on them.
    pub(crate) learnt: Sums,
    pub(crate) learnt_from: &'static str,
    pub(crate) pieces_a_sale: Decimal,
    /// What the channel took itself, of all that it brought in.
    pub(crate) own: OwnShare,
    /// What one brings in there, and from what that is known.
    pub(crate) brings_in: Fixed6,
    pub(crate) brought_in_by: BroughtInBy,
    /// What one bears of the channel's own expenses and of the owner's minutes there, whatever its price.
    pub(crate) own_expenses: Fixed6,
    pub(crate) own_minutes: Fixed6,
    pub(crate) shipping_charged: Fixed6,
    pub(crate) postage_paid: Fixed6,
    /// Postage less shipping charged.
    pub(crate) postage: Fixed6,
    pub(crate) packing: Fixed6,
    /// What bringing goods to the channel's place cost, over the pieces sent there; of one of them postage and packing, which are in the two above.
    pub(crate) sent: Sums,
    pub(crate) sent_postage: Fixed6,
    pub(crate) sent_packing: Fixed6,
    pub(crate) fixed_fees: Fixed6,
    pub(crate) least_for_paid: Option<Fixed6>,
    pub(crate) least_for_full: Option<Fixed6>,
    pub(crate) least_for_earning: Option<Fixed6>,
    pub(crate) list: Option<Earned>,
    pub(crate) last: Option<Earned>,
    pub(crate) least_for_margin: Option<Fixed6>,
    /// When the fixed cost that was asked about is met, where one was and there is a price.
    pub(crate) break_even: Option<Met>,
}

/// When a fixed cost is met.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Met {
    pub(crate) pieces: Option<i128>,
    pub(crate) takings: Option<Fixed6>,
    pub(crate) with_hours: Option<i128>,
}

/// What a price earns, in exact figures.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Earned {
    pub(crate) price: Fixed6,
    pub(crate) receives: Fixed6,
    pub(crate) paid_margin: Fixed6,
    pub(crate) full_margin: Option<Fixed6>,
    pub(crate) per_hour: Option<Fixed6>,
}

impl<'a> Priced<'a> {
    /// Reckons it. `None` where a figure is too large to be carried.
    pub(crate) fn reckon(&self) -> Option<Reckoned<'a>> {
        let (fees, share, tax_within) = self.stated();
        let (learnt, learnt_from) = self.sold.learnt_from();
        let shipping_charged = for_one(learnt.shipping, learnt.pieces)?;
        let sent = self.sold.sent;
        let sent_postage = for_one(sent.postage, sent.pieces)?;
        let sent_packing = for_one(sent.packing, sent.pieces)?;
        let postage_paid = for_one(learnt.postage, learnt.pieces)?.checked_add(sent_postage)?;
        let packing = for_one(learnt.packing, learnt.pieces)?.checked_add(sent_packing)?;
        let pieces_a_sale = self.sold.pieces_a_sale()?;
        let sent_for = postage_paid.checked_add(packing)?;
        let terms = Terms::of(Stated { fees, share, tax_within, pieces_a_sale, shipping_charged, sent_for })?;
        let postage = postage_paid.checked_sub(shipping_charged)?;
        let mut here = Reckoned {
            fees,
            share,
            tax_within,
            terms,
            learnt,
            learnt_from,
            pieces_a_sale,
            own: self.sold.own,
            brings_in: Fixed6::ZERO,
            brought_in_by: BroughtInBy::Nothing,
            own_expenses: Fixed6::ZERO,
            own_minutes: Fixed6::ZERO,
            shipping_charged,
            postage_paid,
            postage,
            packing,
            sent,
            sent_postage,
            sent_packing,
            fixed_fees: terms.for_a_piece().checked_sub(postage)?.checked_sub(packing)?,
            least_for_paid: None,
            least_for_full: None,
            least_for_earning: None,
            list: None,
            last: None,
            least_for_margin: None,
            break_even: None,
        };
        let digits = self.book.shop.currency.digits();
        let least = |wanted: Option<Fixed6>| terms.least_price(wanted?, Decimal::ZERO, digits);
        here.least_for_paid = least(Some(self.one.paid));
        here.least_for_full = least(self.one.full()?);
        let (list, last) = (self.list_price.and_then(Fixed6::round_from_decimal), self.last_price(share)?);
        (here.brings_in, here.brought_in_by) = self.brings_in(&here, list, last)?;
        (here.own_expenses, here.own_minutes) = here.own.borne_by((here.brings_in, here.brought_in_by))?;
        here.least_for_earning = least(self.to_earn(&here)?);
        here.list = inside_out(list.map(|price| self.earns(&here, price)))?;
        here.last = inside_out(last.map(|price| self.earns(&here, price)))?;
        let margin = self.one.full()?.zip(self.asked.margin);
        here.least_for_margin = margin.and_then(|(full, margin)| terms.least_price(full, margin, digits));
        here.break_even = match (self.fixed()?, here.list.or(here.last)) {
            (Some(fixed), Some(at)) => Some(self.break_even(&here, at.price, fixed)?),
            _ => None,
        };
        Some(here)
    }

    /// The fixed cost that was asked about, else that of the last fair: money, and the owner's minutes. The outer `None` is overflow.
    pub(crate) fn fixed(&self) -> Option<Option<(Fixed6, Fixed6)>> {
        match (self.asked.fixed, self.fair) {
            (None, Some(fair)) => Some(Some((fair.money()?, fair.minutes))),
            (asked, _) => Some(asked),
        }
    }

    /// What is to reach the maker of a piece to earn the wanted hour, for its own minutes and for those that it bears of the channel; nothing where none is wanted or
    /// hours are unknown. The outer `None` is overflow.
    pub(crate) fn to_earn(&self, here: &Reckoned<'_>) -> Option<Option<Fixed6>> {
        let (Some((_, minutes)), Some(rate)) = (self.one.hours, self.asked.per_hour) else { return Some(None) };
        let hours = worth(rate, minutes)?.checked_add(worth(rate, here.own_minutes)?)?;
        self.one.paid.checked_add(self.one.overhead)?.checked_add(here.own_expenses)?.checked_add(hours).map(Some)
    }

    /// What one brings in: as those did that were sold there; where none was, as its price would. `None` on overflow.
    fn brings_in(&self, here: &Reckoned<'_>, list: Option<Fixed6>, last: Option<Fixed6>) -> Option<(Fixed6, BroughtInBy)> {
        let (revenue, kept) = self.sold.brought_in;
        if revenue.is_positive() && kept > Decimal::ZERO {
            return Some((for_one(revenue, kept)?, BroughtInBy::Sales(revenue, kept)));
        }
        let least = here.least_for_full.or(here.least_for_paid);
        let prices = [(list, BroughtInBy::ListPrice), (last, BroughtInBy::LastPrice), (least, BroughtInBy::LeastPrice)];
        match prices.into_iter().find_map(|(price, by)| Some((price?, by))) {
            Some((price, by)) => Some((here.revenue_of(price)?, by)),
            None => Some((Fixed6::ZERO, BroughtInBy::Nothing)),
        }
    }

    /// Writes it down. `None` where a figure is too large to be carried.
    pub(super) fn write(&self) -> Option<ChannelPrice> {
        let here = self.reckon()?;
        let selling = SellingCosts {
            fixed_fees: unit_cost_text(here.fixed_fees),
            postage: unit_cost_text(here.postage),
            packing: unit_cost_text(here.packing),
            channel_expenses: unit_cost_text(here.own.expenses),
            channel_minutes: minutes_text(here.own.minutes),
            channel_revenue: unit_cost_text(here.own.revenue),
            brings_in: unit_cost_text(here.brings_in),
            brought_in_by: here.brought_in_by.text().to_owned(),
            own_expenses: unit_cost_text(here.own_expenses),
            own_minutes: minutes_text(here.own_minutes),
            learnt_from: here.learnt_from.to_owned(),
            pieces: quantity_text(here.learnt.pieces),
            sent_pieces: quantity_text(here.sent_pieces()),
        };
        let floors = self.floors(&here);
        let earns = |earned: Option<Earned>| earned.map(|earned| self.written(earned));
        let (at_list_price, at_last_price) = (earns(here.list), earns(here.last));
        let count = |pieces: Option<i128>| pieces.map(|pieces| pieces.to_string());
        let fixed = self.fixed()?.unwrap_or_default();
        let break_even = here.break_even.map(|met| BreakEven {
            money: money_text(self.book, fixed.0),
            minutes: minutes_text(fixed.1),
            learnt_from: self.fair.filter(|_| self.asked.fixed.is_none()).map(|fair| fair.named()),
            pieces: count(met.pieces),
            takings: met.takings.map(|money| money_text(self.book, money)),
            pieces_with_hours: count(met.with_hours),
        });
        let says = self.says(&floors, at_list_price.as_ref().or(at_last_price.as_ref()));
        Some(ChannelPrice {
            name: self.channel.named.name.clone(),
            title: self.channel.named.title.clone(),
            terms: terms_in_words(self.book, here.fees, here.share, here.tax_within),
            leaves_percent: here.leaves_percent()?.to_string(),
            selling,
            floors,
            at_list_price,
            at_last_price,
            break_even,
            says,
        })
    }

    /// Its terms on the last day covered.
    fn stated(&self) -> (&'a [FeeRule], ChannelShare, Decimal) {
        let Some(day) = self.day else { return (&[], ChannelShare::None, Decimal::ZERO) };
        let tax = (*self.channel.prices_include_tax.on(day)).unwrap_or_default();
        (self.channel.fees.on(day), *self.channel.share.on(day), tax)
    }

    /// The price of the last sale there; of a wholesale channel, the list price of which it paid its part. The outer `None` is overflow.
    fn last_price(&self, share: ChannelShare) -> Option<Option<Fixed6>> {
        let Some((value, pieces, _)) = self.sold.last else { return Some(None) };
        let each = part_of(value, Decimal::ONE, pieces)?;
        match share {
            ChannelShare::Wholesale(percent) => part_of(each, Decimal::ONE_HUNDRED, percent).map(Some),
            ChannelShare::None | ChannelShare::Consignment(_) => Some(Some(each)),
        }
    }

    fn floors(&self, here: &Reckoned<'_>) -> FloorPrices {
        let text = |price: Option<Fixed6>| price.map(|price| money_text(self.book, price));
        FloorPrices {
            paid: text(here.least_for_paid),
            full: text(here.least_for_full),
            earning: text(here.least_for_earning),
            margin: text(here.least_for_margin),
        }
    }

    fn earns(&self, here: &Reckoned<'_>, price: Fixed6) -> Option<Earned> {
        let One { paid, overhead, hours, .. } = self.one;
        let receives = here.terms.received(price)?;
        let paid_margin = receives.checked_sub(paid)?;
        let (mut full_margin, mut hourly) = (None, None);
        if let Some((own_time, minutes)) = hours {
            full_margin = Some(paid_margin.checked_sub(overhead)?.checked_sub(own_time)?);
            let left = paid_margin.checked_sub(overhead)?.checked_sub(here.own_expenses)?;
            hourly = per_hour(left, minutes.checked_add(here.own_minutes)?);
        }
        Some(Earned { price, receives, paid_margin, full_margin, per_hour: hourly })
    }

    fn written(&self, at: Earned) -> PriceEarns {
        PriceEarns {
            price: unit_cost_text(at.price),
            receives: unit_cost_text(at.receives),
            paid_margin: unit_cost_text(at.paid_margin),
            full_margin: at.full_margin.map(unit_cost_text),
            per_hour: at.per_hour.map(|money| money_text(self.book, money)),
        }
    }

    /// The fixed cost over what a piece leaves at a price; with the hours, over what it leaves when its own time and overhead are paid too.
    fn break_even(&self, here: &Reckoned<'_>, price: Fixed6, (money, minutes): (Fixed6, Fixed6)) -> Option<Met> {
        let One { paid, overhead, hours, .. } = self.one;
        let left = here.terms.received(price)?.checked_sub(paid)?;
        let pieces = pieces_to_meet(money, left);
        let takings = match pieces {
            Some(pieces) => Some(price.checked_mul_int(pieces)?),
            None => None,
        };
        let with_hours = match (hours, self.asked.per_hour) {
            (Some((_, of_piece)), Some(rate)) => {
                let each = left.checked_sub(overhead)?.checked_sub(worth(rate, of_piece)?)?;
                pieces_to_meet(money.checked_add(worth(rate, minutes)?)?, each)
            }
            _ => None,
        };
        Some(Met { pieces, takings, with_hours })
    }

    /// What the channel does with the piece at its price, in a sentence.
    fn says(&self, floors: &FloorPrices, at: Option<&PriceEarns>) -> String {
        let Some(at) = at else {
            return "no price to judge: it has no list price and was not sold here".to_owned();
        };
        let below = |floor: &Option<String>| floor.as_deref().is_none_or(|floor| is_below(&at.price, floor));
        if below(&floors.paid) {
            return format!("at {} it brings less than was laid out for it", at.price);
        }
        if self.one.hours.is_none() {
            return format!("at {} it pays what was laid out; its hours are unknown", at.price);
        }
        let hour = at.per_hour.as_deref().map_or_else(String::new, |hour| format!(", {hour} for an hour"));
        let wants_hour = self.asked.per_hour.is_some();
        match (wants_hour, below(&floors.earning)) {
            (true, true) => format!("at {} it pays what was laid out, but not the hour you want{hour}", at.price),
            (true, false) => format!("at {} it pays, the hour you want among it{hour}", at.price),
            (false, _) if below(&floors.full) => {
                format!("at {} it pays what was laid out, but not its full cost{hour}", at.price)
            }
            (false, _) => format!("at {} it pays its full cost{hour}", at.price),
        }
    }
}

impl Reckoned<'_> {
    /// The pieces over which the way there is spread; nothing where it cost nothing.
    pub(crate) fn sent_pieces(&self) -> Decimal {
        if self.sent_postage.is_zero() && self.sent_packing.is_zero() { Decimal::ZERO } else { self.sent.pieces }
    }

    /// What a price brings in: its own revenue, and the shipping that is charged with it. `None` on overflow.
    pub(crate) fn revenue_of(&self, price: Fixed6) -> Option<Fixed6> {
        self.terms.revenue_of(price)?.checked_add(self.shipping_charged)
    }

    /// What of a price reaches the maker, in percent; nothing where less than nothing does.
    pub(crate) fn leaves_percent(&self) -> Option<Decimal> {
        Some(self.terms.leaves_percent()?.max(Decimal::ZERO))
    }
}

/// So many minutes at a rate for an hour, rounded half away from zero to six digits.
pub(crate) fn worth(rate: Fixed6, minutes: Fixed6) -> Option<Fixed6> {
    mul_div_round(rate.micros(), minutes.micros(), 60_000_000).map(Fixed6::from_micros)
}

pub(super) fn is_below(price: &str, floor: &str) -> bool {
    match (price.parse::<Decimal>(), floor.parse::<Decimal>()) {
        (Ok(price), Ok(floor)) => price < floor,
        _ => false,
    }
}

pub(crate) fn terms_in_words(book: &ResolvedBook, fees: &[FeeRule], share: ChannelShare, tax_within: Decimal) -> String {
    let money = |money: Decimal| price_text(book, money);
    let mut words: Vec<String> = Vec::new();
    match share {
        ChannelShare::None => {}
        ChannelShare::Consignment(percent) => words.push(format!("it keeps {} %", percent.normalize())),
        ChannelShare::Wholesale(percent) => words.push(format!("it pays {} % of the list price", percent.normalize())),
    }
    words.extend(fees.iter().map(|fee| match *fee {
        FeeRule::OfTotal(percent) => format!("{} % of the total", percent.normalize()),
        FeeRule::OfGoods(percent) => format!("{} % of the goods", percent.normalize()),
        FeeRule::OfCard(percent) => format!("{} % of what is paid by card", percent.normalize()),
        FeeRule::PerSale(sum) => format!("{} a sale", money(sum)),
        FeeRule::PerItem(sum) => format!("{} a piece", money(sum)),
    }));
    if !tax_within.is_zero() {
        words.push(format!("{} % sales tax within the price", tax_within.normalize()));
    }
    if words.is_empty() { "no fees".to_owned() } else { words.join(", ") }
}

/// No figure stays no figure; one that can't be carried is a failure.
fn inside_out<T>(figure: Option<Option<T>>) -> Option<Option<T>> {
    match figure {
        None => Some(None),
        Some(inner) => inner.map(Some),
    }
}
