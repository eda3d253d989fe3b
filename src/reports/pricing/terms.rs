//! What a channel leaves of a price: a part of it, less a sum for each piece. Both are exact, so a price can be asked back from a cost.

use rust_decimal::Decimal;

use crate::names::{ChannelShare, FeeRule};
use crate::units::{Fixed6, checked_add_exact, checked_mul_exact, checked_sub_exact, mul_div_floor, mul_div_round};

/// What reaches the maker of a price that a channel's customers pay: `price · leaves / whole − for_a_piece`; and what of the price is revenue.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Terms {
    leaves: i128,
    revenue: i128,
    whole: i128,
    for_a_piece: Fixed6,
}

/// What is known of a channel's terms.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stated<'a> {
    pub(crate) fees: &'a [FeeRule],
    pub(crate) share: ChannelShare,
    /// Sales tax within the price, in parts of a hundred.
    pub(crate) tax_within: Decimal,
    /// Pieces that go into a sale, at least one.
    pub(crate) pieces_a_sale: Decimal,
    /// What a piece's buyer is charged for shipping.
    pub(crate) shipping_charged: Fixed6,
    /// Postage and packing of a piece.
    pub(crate) sent_for: Fixed6,
}

impl Terms {
    /// Works the terms out. What is paid is taken as paid by card. `None` where a figure is too large to be carried.
    ///
    /// With t of a hundred as tax within the price, p of it as fees and share, and w of it as what a wholesale buyer pays, a price of 100 leaves
    /// w/100 · (100 · 100/(100 + t) − p); fees of the total are on shipping charged, too.
    pub(crate) fn of(stated: Stated<'_>) -> Option<Self> {
        let hundred = Decimal::ONE_HUNDRED;
        let (mut percent, mut of_total) = (Decimal::ZERO, Decimal::ZERO);
        let mut for_a_piece = stated.sent_for.checked_sub(stated.shipping_charged)?;
        for rule in stated.fees {
            match *rule {
                FeeRule::OfTotal(part) => {
                    percent = checked_add_exact(percent, part).ok()?;
                    of_total = checked_add_exact(of_total, part).ok()?;
                }
                FeeRule::OfCard(part) => {
                    percent = checked_add_exact(percent, part).ok()?;
                    of_total = checked_add_exact(of_total, part).ok()?;
                }
                FeeRule::OfGoods(part) => percent = checked_add_exact(percent, part).ok()?,
                FeeRule::PerItem(money) => for_a_piece = for_a_piece.checked_add(Fixed6::from_decimal_exact(money)?)?,
                FeeRule::PerSale(money) => {
                    let each = Fixed6::round_from_decimal(money.checked_div(stated.pieces_a_sale)?)?;
                    for_a_piece = for_a_piece.checked_add(each)?;
                }
            }
        }
        let on_shipping = checked_mul_exact(stated.shipping_charged.to_decimal()?, of_total).ok()?;
        for_a_piece = for_a_piece.checked_add(Fixed6::round_from_decimal(on_shipping.checked_div(hundred)?)?)?;
        let charged = match stated.share {
            ChannelShare::Wholesale(part) => part,
            ChannelShare::None => hundred,
            ChannelShare::Consignment(part) => {
                percent = checked_add_exact(percent, part).ok()?;
                hundred
            }
        };
        let with_tax = checked_add_exact(hundred, stated.tax_within).ok()?;
        let kept = checked_mul_exact(percent, with_tax).ok()?;
        let square = checked_mul_exact(hundred, hundred).ok()?;
        let leaves = checked_mul_exact(checked_sub_exact(square, kept).ok()?, charged).ok()?;
        let revenue = checked_mul_exact(square, charged).ok()?;
        let whole = checked_mul_exact(square, with_tax).ok()?;
        let scale = leaves.scale().max(revenue.scale()).max(whole.scale());
        Some(Self { leaves: scaled(leaves, scale)?, revenue: scaled(revenue, scale)?, whole: scaled(whole, scale)?, for_a_piece })
    }

    /// Fees and postage that are a sum for each piece, less shipping charged.
    pub(crate) fn for_a_piece(self) -> Fixed6 {
        self.for_a_piece
    }

    /// What of a price reaches the maker, in parts of a hundred with two digits, rounded half away from zero.
    pub(crate) fn leaves_percent(self) -> Option<Decimal> {
        let hundredths = mul_div_round(self.leaves, 10_000, self.whole)?;
        Some(Decimal::from_i128_with_scale(hundredths, 2).normalize())
    }

    /// What reaches the maker of a price, rounded half away from zero to six digits.
    pub(crate) fn received(self, price: Fixed6) -> Option<Fixed6> {
        mul_div_round(price.micros(), self.leaves, self.whole).map(Fixed6::from_micros)?.checked_sub(self.for_a_piece)
    }

    /// The revenue of a price, rounded half away from zero to six digits.
    pub(crate) fn revenue_of(self, price: Fixed6) -> Option<Fixed6> {
        mul_div_round(price.micros(), self.revenue, self.whole).map(Fixed6::from_micros)
    }

    /// The least price, in so many digits, of which at least `wanted` reaches the maker, and beside it `margin` parts of a hundred of the revenue.
    /// `None` where no price does.
    pub(crate) fn least_price(self, wanted: Fixed6, margin: Decimal, digits: u32) -> Option<Fixed6> {
        let hundred = 100_i128.checked_mul(10_i128.checked_pow(margin.scale())?)?;
        let left = self.leaves.checked_mul(hundred)?.checked_sub(self.revenue.checked_mul(margin.mantissa())?)?;
        if left <= 0 {
            return None;
        }
        let needed = wanted.checked_add(self.for_a_piece)?.micros().max(0);
        rounded_up(needed, (self.whole.checked_mul(hundred)?, left), digits)
    }
}

/// How many pieces it takes until `each` of them has met `fixed`: rounded up to whole ones. `None` where a piece leaves nothing.
///
/// Break-even in units: fixed costs over the contribution margin of a unit (OpenStax, *Principles of Accounting, Volume 2*, 3.2).
pub(crate) fn pieces_to_meet(fixed: Fixed6, each: Fixed6) -> Option<i128> {
    if !each.is_positive() {
        return None;
    }
    ceiling(fixed.micros().max(0), 1, each.micros())
}

/// `value · num / den`, rounded up.
fn ceiling(value: i128, num: i128, den: i128) -> Option<i128> {
    mul_div_floor(value.checked_neg()?, num, den)?.checked_neg()
}

/// `value · num / den` micros, rounded up to so many digits.
fn rounded_up(value: i128, (num, den): (i128, i128), digits: u32) -> Option<Fixed6> {
    let unit = 10_i128.checked_pow(6_u32.checked_sub(digits)?)?;
    ceiling(ceiling(value, num, den)?, 1, unit)?.checked_mul(unit).map(Fixed6::from_micros)
}

fn scaled(value: Decimal, scale: u32) -> Option<i128> {
    value.mantissa().checked_mul(10_i128.checked_pow(scale.checked_sub(value.scale())?)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn money(text: &str) -> Fixed6 {
        Fixed6::from_decimal_exact(text.parse().expect("a decimal")).expect("small")
    }

    fn percent(text: &str) -> Decimal {
        text.parse().expect("a decimal")
    }

    fn stated(fees: &[FeeRule]) -> Stated<'_> {
        Stated {
            fees,
            share: ChannelShare::None,
            tax_within: Decimal::ZERO,
            pieces_a_sale: Decimal::ONE,
            shipping_charged: Fixed6::ZERO,
            sent_for: Fixed6::ZERO,
        }
    }

    #[test]
    fn a_wholesale_buyer_pays_its_part_of_the_list_price() {
        // Ours, illustrative: a full cost of 14.82 wants a list price of 29.64 at half, and of 24.70 where 40 % are kept.
        let terms = |share| Terms::of(Stated { share, ..stated(&[]) }).expect("small");
        let half = terms(ChannelShare::Wholesale(percent("50")));
        assert_eq!(half.least_price(money("14.82"), Decimal::ZERO, 2), Some(money("29.64")));
        let kept = terms(ChannelShare::Consignment(percent("40")));
        assert_eq!(kept.least_price(money("14.82"), Decimal::ZERO, 2), Some(money("24.70")));
        assert_eq!(half.received(money("34.00")), Some(money("17.00")));
        assert_eq!(kept.received(money("34.00")), Some(money("20.40")));
    }

    #[test]
    fn fees_are_parts_of_the_price_and_sums_for_a_sale_and_a_piece() {
        // Ours, illustrative: 34.00 at a fair leaves 34 − 2.9 % − 0.30 = 32.714.
        let fees = [FeeRule::OfCard(percent("2.9")), FeeRule::PerSale(percent("0.30"))];
        let fair = Terms::of(stated(&fees)).expect("small");
        assert_eq!(fair.received(money("34.00")), Some(money("32.714")));
        // Online: 6.5 % + 3 % + 0.25 + 0.20 and 1.50 lost on shipping: 28.82.
        let fees = [
            FeeRule::OfTotal(percent("6.5")),
            FeeRule::OfTotal(percent("3")),
            FeeRule::PerSale(percent("0.25")),
            FeeRule::PerItem(percent("0.20")),
        ];
        let online = Terms::of(Stated { sent_for: money("1.50"), ..stated(&fees) }).expect("small");
        assert_eq!(online.received(money("34.00")), Some(money("28.82")));
    }

    #[test]
    fn tax_within_the_price_never_reaches_the_maker_and_fees_are_on_it() {
        // 106.00 with 6 % within: 100.00 of goods, less 5 % of 106.00.
        let fees = [FeeRule::OfGoods(percent("5"))];
        let terms = Terms::of(Stated { tax_within: percent("6"), ..stated(&fees) }).expect("small");
        assert_eq!(terms.received(money("106.00")), Some(money("94.70")));
        assert_eq!(terms.least_price(money("94.70"), Decimal::ZERO, 2), Some(money("106.00")));
    }

    #[test]
    fn the_least_price_covers_and_a_cent_less_does_not() {
        let fees = [FeeRule::OfTotal(percent("7.25")), FeeRule::PerItem(percent("0.33"))];
        let terms = Terms::of(Stated { tax_within: percent("8.875"), ..stated(&fees) }).expect("small");
        for wanted in ["0.00", "0.01", "12.345678", "999.99"] {
            let least = terms.least_price(money(wanted), Decimal::ZERO, 2).expect("a price");
            assert!(terms.received(least) >= Some(money(wanted)), "{wanted}");
            let less = least.checked_sub(money("0.01")).expect("small");
            assert!(terms.received(less) < Some(money(wanted)), "{wanted}");
        }
    }

    #[test]
    fn a_wanted_margin_is_a_part_of_what_is_charged() {
        // 70 % of 100.00 is the cost of 70.00; at wholesale of a list price of 200.00.
        let terms = Terms::of(stated(&[])).expect("small");
        assert_eq!(terms.least_price(money("70.00"), percent("30"), 2), Some(money("100.00")));
        let half = Terms::of(Stated { share: ChannelShare::Wholesale(percent("50")), ..stated(&[]) }).expect("small");
        assert_eq!(half.least_price(money("70.00"), percent("30"), 2), Some(money("200.00")));
        assert_eq!(terms.least_price(money("70.00"), percent("100"), 2), None);
    }

    #[test]
    fn a_channel_that_keeps_all_has_no_price() {
        let fees = [FeeRule::OfTotal(percent("100"))];
        assert_eq!(Terms::of(stated(&fees)).expect("small").least_price(money("1.00"), Decimal::ZERO, 2), None);
    }

    #[test]
    fn pieces_that_meet_a_fixed_cost_are_rounded_up_to_whole_ones() {
        // Published cases stand in `tests/published/break_even.rs`.
        assert_eq!(pieces_to_meet(money("160"), money("80")), Some(2));
        assert_eq!(pieces_to_meet(money("160.000001"), money("80")), Some(3));
        assert_eq!(pieces_to_meet(Fixed6::ZERO, money("80")), Some(0));
        assert_eq!(pieces_to_meet(money("1"), Fixed6::ZERO), None);
    }
}
