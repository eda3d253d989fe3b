//! The bridge: from the paid margins of all products to the form's net profit, to the last digit.
//!
//! Σ paid margins + other income − losses in cost of goods − expenses not in a margin − home workshop ± named timing = net profit. It
//! is built from postings and movements on one side and from the form's lines on the other. The rounding of lines to cents is reckoned
//! line by line, apart from all else, and with it the bridge has to close to the last digit.

use crate::costing::Flow;
use crate::names::StockKept;
use crate::units::Fixed6;
use crate::year::Feed;
use crate::year::books::BooksOfYear;
use crate::year::forms::form_check::reached_from;
use crate::year::goods::cost_of_goods::Goods;
use crate::year::goods::goods_cost::waiting_cost;
use crate::year::income::Counted;
use crate::year::tax_year::{BridgeSum, Sum, SumOf, TaxLine};

/// Builds it. `None` on overflow.
pub(crate) fn build_bridge(
    of: &BooksOfYear<'_>,
    counted: &Counted,
    goods: &Goods,
    (lines, asked): (&[TaxLine], &[(Feed, Sum)]),
    net: Fixed6,
) -> Option<Vec<BridgeSum>> {
    let (cost, ways) = (&goods.cost, &goods.ways_out);
    let (mut sold, mut sold_waiting) = (Fixed6::ZERO, Fixed6::ZERO);
    for movement in of.costed().movements.iter().filter(|one| one.flow == Flow::Sold && of.has(one.date)) {
        sold = sold.checked_add(movement.vector.paid()?)?;
        sold_waiting = sold_waiting.checked_add(waiting_cost(&movement.vector, of.stock())?)?;
    }
    let (mut income, mut expenses, mut home) = (Fixed6::ZERO, Fixed6::ZERO, Fixed6::ZERO);
    for sum in lines.iter().flat_map(|line| &line.sums).chain(asked.iter().map(|(_, sum)| sum)) {
        match side_of(sum.of) {
            Side::Income(sign) => income = income.checked_add(sum.amount.checked_mul_int(sign)?)?,
            Side::Expense => expenses = expenses.checked_add(sum.amount)?,
            Side::Home => home = home.checked_add(sum.amount)?,
            Side::Goods => {}
        }
    }
    let went = &cost.went_to;
    let losses = Fixed6::checked_sum([went.scrapped, went.missing, went.abnormal, went.donated, went.price_difference])?;
    let mut bridge = Vec::new();
    let mut put = |name: &str, amount: Fixed6, always: bool| {
        if always || !amount.is_zero() {
            bridge.push(BridgeSum { name: name.to_owned(), amount });
        }
    };
    put("paid margins of all products", counted.margin_dated.checked_sub(sold)?.checked_sub(counted.packing_in_margins)?, true);
    put("income beside the goods", income.checked_sub(counted.margin_revenue)?, true);
    put("losses in cost of goods", losses.checked_neg()?, true);
    let packing = counted.packing_in_margins.checked_sub(ways.packing_not_paid)?.checked_add(ways.packing_paid_now)?;
    let outside = expenses.checked_sub(counted.margin_selling)?.checked_sub(packing)?;
    put("expenses not in a margin", outside.checked_neg()?, true);
    put("home workshop", home.checked_neg()?, true);
    put("margins of other years, counted in this", counted.margin_of_other_years, false);
    let of_this_year = counted.margin_counted.checked_sub(counted.margin_of_other_years)?;
    put("margins of this year, counted in another", of_this_year.checked_sub(counted.margin_dated)?, false);
    put("goods gone but not yet paid for", cost.gone_not_paid, false);
    put("goods gone in earlier years and paid for now", cost.gone_paid_now.checked_neg()?, false);
    put("packing used but not yet paid for", ways.packing_not_paid, false);
    put("packing used in earlier years and paid for now", ways.packing_paid_now.checked_neg()?, false);
    if of.stock() == StockKept::Supplies {
        put("wear, hired time and royalties in goods sold, deducted apart", sold.checked_sub(sold_waiting)?, true);
    }
    put("issued without stock, not in cost of goods", cost.unrecorded, false);
    put("change of stock method", cost.method_change.checked_neg()?, false);
    // What the form has no line for is in the sums above, and comes off again by the name of its question.
    let mut not_on_form: Vec<(&str, Fixed6)> = Vec::new();
    for (feed, sum) in asked {
        let name = of.form.asked_of(*feed)?.name.as_str();
        let effect = sum.amount.checked_mul_int(i128::from(feed.sign_in_profit()))?;
        match not_on_form.iter_mut().find(|(known, _)| *known == name) {
            Some((_, off)) => *off = off.checked_sub(effect)?,
            None => not_on_form.push((name, effect.checked_neg()?)),
        }
    }
    for (name, off) in not_on_form {
        put(&format!("not on this form: {name}"), off, false);
    }
    bridge.push(BridgeSum { name: "rounding of lines to cents".to_owned(), amount: rounding_of_lines(of, lines)? });
    bridge.push(BridgeSum { name: "net profit or loss".to_owned(), amount: net });
    Some(bridge)
}

/// What rounding each line that is fed to its cents does to the net profit. `None` on overflow.
fn rounding_of_lines(of: &BooksOfYear<'_>, lines: &[TaxLine]) -> Option<Fixed6> {
    let mut rounding = Fixed6::ZERO;
    for (line, sign) in lines.iter().zip(reached_from(of.form, of.form.net_profit)).filter(|(line, _)| line.adds.is_empty()) {
        let exact = Fixed6::checked_sum(line.sums.iter().map(|sum| sum.amount))?;
        rounding = rounding.checked_add(line.cents.checked_sub(exact)?.checked_mul_int(i128::from(sign))?)?;
    }
    Some(rounding)
}

/// What the steps of a bridge come to, without its last line, the net profit. `None` on overflow.
pub(crate) fn sum_of_steps(bridge: &[BridgeSum]) -> Option<Fixed6> {
    Fixed6::checked_sum(bridge.iter().take(bridge.len().checked_sub(1)?).map(|line| line.amount))
}

enum Side {
    Income(i128),
    Expense,
    Home,
    Goods,
}

const fn side_of(of: SumOf) -> Side {
    match of {
        SumOf::Income(_) => Side::Income(1),
        SumOf::Expense(_) => Side::Expense,
        SumOf::Feed(Feed::Refunds) => Side::Income(-1),
        SumOf::Feed(Feed::HomeWorkshop) => Side::Home,
        SumOf::Feed(feed) if feed.is_income() => Side::Income(1),
        SumOf::Feed(feed) if feed.is_of_goods() => Side::Goods,
        SumOf::Feed(_) => Side::Expense,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn steps(amounts: &[i128]) -> Vec<BridgeSum> {
        amounts.iter().map(|amount| BridgeSum { name: String::new(), amount: Fixed6::from_micros(*amount) }).collect()
    }

    #[test]
    fn the_steps_of_a_bridge_are_all_but_its_end() {
        assert_eq!(sum_of_steps(&steps(&[16_666_667, 3_333, 16_670_000])), Some(Fixed6::from_micros(16_670_000)));
        // A cent that no step explains is not taken for rounding.
        assert_eq!(sum_of_steps(&steps(&[16_666_667, 3_333, 16_680_000])), Some(Fixed6::from_micros(16_670_000)));
        assert_eq!(sum_of_steps(&[]), None);
    }
}
