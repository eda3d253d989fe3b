//! Sums that a correction works out: a count times a price, a price less a part of it.

use rust_decimal::Decimal;

use crate::units::read_decimal;

/// A count times a price, where that comes out in cents.
pub(crate) fn product(count: &str, price: &str) -> Option<String> {
    in_cents(read_decimal(count).ok()?.checked_mul(read_decimal(price).ok()?)?)
}

/// A number times another, without zeros at its end.
pub(super) fn times(count: &str, figure: &str) -> Option<String> {
    Some(read_decimal(count).ok()?.checked_mul(read_decimal(figure).ok()?)?.normalize().to_string())
}

/// A count times the price of so many, where that comes out in cents.
pub(super) fn product_per(count: &str, price: &str, per: u32) -> Option<String> {
    in_cents(read_decimal(count).ok()?.checked_mul(read_decimal(price).ok()?)?.checked_div(Decimal::from(per))?)
}

/// A sum less so many percent of it, where that comes out in cents.
pub(super) fn less_percent(sum: &str, percent: &str) -> Option<String> {
    let kept = Decimal::ONE_HUNDRED.checked_sub(read_decimal(percent).ok()?).filter(|kept| !kept.is_sign_negative())?;
    in_cents(read_decimal(sum).ok()?.checked_mul(kept)?.checked_div(Decimal::ONE_HUNDRED)?)
}

/// Several sums together, each with whether it is taken off.
pub(super) fn total<'s>(sums: impl Iterator<Item = (&'s str, bool)>) -> Option<String> {
    let mut total = Decimal::ZERO;
    for (sum, off) in sums {
        let sum = read_decimal(sum).ok()?;
        total = if off { total.checked_sub(sum)? } else { total.checked_add(sum)? };
    }
    in_cents(total).filter(|_| !total.is_sign_negative())
}

/// A sum with two decimals; `None` where it has more.
fn in_cents(sum: Decimal) -> Option<String> {
    let mut sum = sum.normalize();
    (sum.scale() <= 2).then(|| {
        sum.rescale(2);
        sum.to_string()
    })
}

#[cfg(test)]
mod tests {
    use super::{less_percent, product, product_per, total};

    #[test]
    fn a_sum_is_given_where_it_comes_out_in_cents() {
        assert_eq!(product("10", "2.50").as_deref(), Some("25.00"));
        assert_eq!(product("2.5", "0.01"), None);
        assert_eq!(product_per("40", "8.00", 100).as_deref(), Some("3.20"));
        assert_eq!(product_per("41", "8.01", 1000), None);
        assert_eq!(less_percent("38.00", "20").as_deref(), Some("30.40"));
        assert_eq!(less_percent("38.00", "120"), None);
        assert_eq!(total([("30", false), ("2.40", false), ("1.00", true)].into_iter()).as_deref(), Some("31.40"));
        assert_eq!(total([("1", false), ("2", true)].into_iter()), None);
    }

    #[test]
    fn what_is_beyond_all_measure_is_no_sum() {
        let most = "9999999999999999999999999999";
        assert_eq!((product(most, most), product_per(most, most, 100)), (None, None));
    }
}
