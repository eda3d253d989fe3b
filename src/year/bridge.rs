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
use crate::year::tax_year::{BridgeOf, BridgePart, BridgeSum, Sum, SumOf, TaxLine};

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
    let (mut income, mut expenses, mut home) = (Vec::new(), Vec::new(), Vec::new());
    let on_lines = (0..).zip(lines).flat_map(|(at, line)| line.sums.iter().map(move |sum| (Some(at), sum)));
    for (line, sum) in on_lines.chain(asked.iter().map(|(_, sum)| (None, sum))) {
        let (to, sign) = match side_of(sum.of) {
            Side::Income(sign) => (&mut income, sign),
            Side::Expense => (&mut expenses, -1),
            Side::Home => (&mut home, -1),
            Side::Goods => continue,
        };
        to.push(BridgePart {
            says: sum.name.clone(),
            amount: sum.amount.checked_mul_int(sign)?,
            of: line.map_or(BridgeOf::Itself, BridgeOf::Line),
        });
    }
    let went = &cost.went_to;
    let mut bridge = Vec::new();
    let mut put = |name: &str, parts: Vec<BridgePart>, always: bool| {
        let amount = Fixed6::checked_sum(parts.iter().map(|part| part.amount))?;
        if always || !amount.is_zero() {
            bridge.push(BridgeSum { name: name.to_owned(), amount, parts });
        }
        Some(())
    };
    put(
        "paid margins of all products",
        vec![
            part("what the products sold brought in, less fees and postage", counted.margin_dated, BridgeOf::Sales),
            part("less the paid cost of what was sold", sold.checked_neg()?, BridgeOf::GoodsSold),
            part("less the packing of these sales", counted.packing_in_margins.checked_neg()?, BridgeOf::Packing),
        ],
        true,
    )?;
    income.push(part("less what of it stands in the margins", counted.margin_revenue.checked_neg()?, BridgeOf::Itself));
    put("income beside the goods", income, true)?;
    let losses = [
        ("scrapped", went.scrapped),
        ("missing, less what was found", went.missing),
        ("losses beyond the usual", went.abnormal),
        ("donated, out of this year's cost", went.donated),
        ("refunds and credits against cost", went.price_difference),
    ];
    let losses = losses.into_iter().map(|(says, amount)| Some(part(says, amount.checked_neg()?, BridgeOf::CostOfGoods)));
    put("losses in cost of goods", losses.collect::<Option<_>>()?, true)?;
    expenses.push(part("what of it stands in the margins: fees, shares and postage", counted.margin_selling, BridgeOf::Itself));
    let packing = counted.packing_in_margins.checked_sub(ways.packing_not_paid)?.checked_add(ways.packing_paid_now)?;
    expenses.push(part("what of it stands in the margins: packing", packing, BridgeOf::Itself));
    put("expenses not in a margin", expenses, true)?;
    put("home workshop", home, true)?;
    let mut put_one = |name: &str, amount: Fixed6, always: bool| put(name, vec![part(name, amount, BridgeOf::Itself)], always);
    put_one("margins of other years, counted in this", counted.margin_of_other_years, false)?;
    let of_this_year = counted.margin_counted.checked_sub(counted.margin_of_other_years)?;
    put_one("margins of this year, counted in another", of_this_year.checked_sub(counted.margin_dated)?, false)?;
    put_one("goods gone but not yet paid for", cost.gone_not_paid, false)?;
    put_one("goods gone in earlier years and paid for now", cost.gone_paid_now.checked_neg()?, false)?;
    put_one("packing used but not yet paid for", ways.packing_not_paid, false)?;
    put_one("packing used in earlier years and paid for now", ways.packing_paid_now.checked_neg()?, false)?;
    if of.stock() == StockKept::Supplies {
        let apart = sold.checked_sub(sold_waiting)?;
        put_one("wear, hired time and royalties in goods sold, deducted apart", apart, true)?;
    }
    put_one("issued without stock, not in cost of goods", cost.unrecorded, false)?;
    put_one("change of stock method", cost.method_change.checked_neg()?, false)?;
    // What the form has no line for is in the sums above, and comes off again by the name of its question.
    let mut not_on_form: Vec<(&str, Vec<BridgePart>)> = Vec::new();
    for (feed, sum) in asked {
        let name = of.form.asked_of(*feed)?.name.as_str();
        let effect = sum.amount.checked_mul_int(i128::from(feed.sign_in_profit()))?.checked_neg()?;
        let off = part(&sum.name, effect, BridgeOf::Itself);
        match not_on_form.iter_mut().find(|(known, _)| *known == name) {
            Some((_, parts)) => parts.push(off),
            None => not_on_form.push((name, vec![off])),
        }
    }
    for (name, parts) in not_on_form {
        put(&format!("not on this form: {name}"), parts, false)?;
    }
    let rounding = rounding_of_lines(of, lines)?;
    put("rounding of lines to cents", rounding, true)?;
    bridge.push(BridgeSum { name: "net profit or loss".to_owned(), amount: net, parts: Vec::new() });
    Some(bridge)
}

fn part(says: &str, amount: Fixed6, of: BridgeOf) -> BridgePart {
    BridgePart { says: says.to_owned(), amount, of }
}

/// What rounding each line that is fed to its cents does to the net profit, line by line. `None` on overflow.
fn rounding_of_lines(of: &BooksOfYear<'_>, lines: &[TaxLine]) -> Option<Vec<BridgePart>> {
    let mut parts = Vec::new();
    let reached = (0..).zip(lines).zip(reached_from(of.form, of.form.net_profit));
    for ((at, line), sign) in reached.filter(|((_, line), _)| line.adds.is_empty()) {
        let exact = Fixed6::checked_sum(line.sums.iter().map(|sum| sum.amount))?;
        let amount = line.cents.checked_sub(exact)?.checked_mul_int(i128::from(sign))?;
        if !amount.is_zero() {
            parts.push(BridgePart { says: format!("line {}, {}", line.number, line.label), amount, of: BridgeOf::Line(at) });
        }
    }
    Some(parts)
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
        let sum = |amount: &i128| BridgeSum { name: String::new(), amount: Fixed6::from_micros(*amount), parts: Vec::new() };
        amounts.iter().map(sum).collect()
    }

    #[test]
    fn the_steps_of_a_bridge_are_all_but_its_end() {
        assert_eq!(sum_of_steps(&steps(&[16_666_667, 3_333, 16_670_000])), Some(Fixed6::from_micros(16_670_000)));
        // A cent that no step explains is not taken for rounding.
        assert_eq!(sum_of_steps(&steps(&[16_666_667, 3_333, 16_680_000])), Some(Fixed6::from_micros(16_670_000)));
        assert_eq!(sum_of_steps(&[]), None);
    }
}
