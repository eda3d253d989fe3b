//! The lines of definitions, their defaults and what is wrong with them.

use rust_decimal::Decimal;

use super::*;
use crate::units::{Currency, Unit};

fn dec(text: &str) -> Decimal {
    text.parse().expect("a decimal")
}

#[test]
fn what_the_shop_leaves_out_has_its_default() {
    let read = read_files(&["shop \"S\"\n    currency EUR\n"]);
    let shop = &read.book.shop;
    assert_eq!(shop.currency, Currency::parse("EUR").expect("euro"));
    assert_eq!(*shop.costing.first(), CostingMethod::Fifo);
    assert_eq!(*shop.basis.first(), Basis::Cash);
    assert_eq!(*shop.stock_kept.first(), StockKept::Inventory);
    assert!(!shop.whole_dollars.first() && !shop.short_stock_is_a_warning.first());
    assert_eq!(*shop.owner_time.first(), None);
    assert_eq!(*shop.overhead.first(), OverheadRule::None);
    assert_eq!((&shop.tax_form, shop.home_workshop.first()), (&None, &None));
}

#[test]
fn every_line_of_the_shop_is_read() {
    let text = "shop \"S\"\n    currency USD\n    costing average\n    owner time 24.00 per h\n    overhead 3.50 per h\n    \
        tax form us-schedule-c\n    accrual basis\n    stock kept as supplies\n    whole dollars\n    short stock is a warning\n    \
        sales-tax to ny-state\n    home workshop 200 sq ft, simplified\nchoices 2026\n    de minimis elected\n    wages elsewhere 31000.00\n";
    let read = read_files(&[text]);
    assert_eq!(messages(&read.found), [""; 0]);
    let shop = &read.book.shop;
    assert_eq!(*shop.costing.first(), CostingMethod::Average);
    assert_eq!(*shop.owner_time.first(), Some(dec("24.00")));
    assert_eq!(*shop.overhead.first(), OverheadRule::PerHour(dec("3.50")));
    assert_eq!(shop.tax_form.as_deref(), Some("us-schedule-c"));
    assert_eq!(*shop.basis.first(), Basis::Accrual);
    assert_eq!(*shop.stock_kept.first(), StockKept::Supplies);
    assert!(*shop.whole_dollars.first() && *shop.short_stock_is_a_warning.first());
    assert_eq!(shop.sales_tax_to.first().as_deref(), Some("ny-state"));
    assert_eq!(*shop.home_workshop.first(), Some(HomeWorkshop::Simplified { square_feet: dec("200"), from: None }));
    let choices = &read.book.choices[&2026];
    assert!(choices.de_minimis);
    assert_eq!(choices.wages_elsewhere, Some(dec("31000.00")));
    assert!(read.book.label_id("ny-state").is_some());
}

#[test]
fn what_is_wrong_with_the_shop_is_told_at_its_line() {
    let shop = |line: &str| messages(&read_files(&[&format!("shop \"S\"\n    currency USD\n    {line}\n")]).found);
    assert_eq!(messages(&read_files(&["shop \"S\"\n    currency USS\n"]).found), ["K210: `USS` is no currency"]);
    assert_eq!(shop("currency EUR"), ["K182: `currency` stands twice in one `shop`"]);
    assert_eq!(shop("home workshop 112% of house costs"), ["K214: 112% is more than the whole"]);
    assert_eq!(shop("home workshop 20 bf, simplified"), ["K214: `20 bf` is no area"]);
    assert!(shop("hours 12 per week").is_empty());
    assert_eq!(shop("whole dollars\n    cents"), ["K182: `whole dollars` and `cents` exclude each other in one `shop`"]);
    assert_eq!(shop("note \"n\"\nchoices 2026\n    wages elsewhere 1.005\n"), ["K215: 1.005 has more digits than USD has"]);
    let twice = "choices 2026\n    de minimis elected\nchoices 2026\n    de minimis elected\n";
    assert_eq!(shop(&format!("cents\n{twice}")), ["K207: the choices of 2026 stand in two places"]);
}

#[test]
fn a_material_says_in_what_it_is_measured() {
    assert_eq!(told("material ash \"Ash\"\n"), ["K209: the material `ash` doesn't say in what it is measured"]);
    assert_eq!(told("material ash \"Ash\"\n    measured in board-feet\n"), ["K209: `board-feet` is no unit of measure"]);
    assert_eq!(told("material ash \"Ash\"\n    measured in h\n"), ["K209: a material can't be measured in `h`, which is a time"]);
    assert_eq!(corrected("material ash \"Ash\"\n    measured in lbs\n"), "material ash \"Ash\"\n    measured in lb\n");
    assert_eq!(read("").thing("pull-cart").unit, Unit::Each);
}

#[test]
fn a_material_without_a_known_unit_stays_silent_elsewhere() {
    let text = "material ash \"Ash\"\n    measured in bag\n    1 bag = 4 lb\n    reorder at 3 bf\nproduct tray \"T\"\n    needs 3 bf ash\n";
    assert_eq!(told(text), ["K209: `bag` is no unit of measure"]);
}

#[test]
fn packs_hold_so_much_of_the_own_unit() {
    let text = "material ash \"Ash\"\n    measured in bf\n    1 bf = 3.6 lb\n    1 bundle = 36 lb\n    1 pallet = 10 bundle\n    1 l = 0.5 kg\n";
    let read = read(text);
    assert_eq!(messages(&read.found), [""; 0]);
    let packs = read.thing("ash").packs.first();
    let holds = |name: &str| packs.iter().find(|pack| pack.name == name).expect("a pack").holds;
    assert_eq!(holds("bf"), None);
    assert_eq!(holds("bundle"), Some(dec("10")));
    assert_eq!(holds("pallet"), Some(dec("100")));
}

#[test]
fn a_pack_that_says_nothing_is_a_mistake() {
    let pack = |line: &str| told(&format!("material ash \"Ash\"\n    measured in bf\n    {line}\n"));
    assert_eq!(pack("1 ft = 12 in"), ["K262: `ft` and `in` are both a length: how they convert is known already"]);
    assert_eq!(pack("1 dozen = 13 ea"), ["K262: `dozen` and `ea` are both a count: how they convert is known already"]);
    assert_eq!(pack("1 ft = 2 lb"), ["K262: neither `ft` nor `lb` leads to bf, in which it is measured"]);
    assert_eq!(pack("1 bag = 0 bf"), ["K262: it must hold more than nothing"]);
    assert_eq!(pack("1 bag = 3 lb"), ["K250: a `bag` holds a weight, `lb`, but this is measured in bf, a volume"]);
    assert_eq!(pack("1 bag = 3 boxes"), ["K251: `boxes` is neither a unit nor another pack of this thing"]);
    assert_eq!(pack("1 bag = 3 sack\n    1 sack = 2 bag").len(), 2);
    assert_eq!(pack("1 bag = 3 bf\n    1 bags = 4 bf"), ["K208: what one `bags` holds is said twice"]);
    assert_eq!(pack("1 bag = 3 h"), ["K262: a quantity can't be converted to a time"]);
    assert_eq!(pack("1 bf = 3 bag"), ["K251: `3 bag` is in no unit of measure"]);
    assert_eq!(pack("1 bag = 9999999999999999999999999999 case\n    1 case = 9999999999999999999999999999 bf").len(), 1);
}

#[test]
fn every_line_of_a_product_is_read() {
    let text = "line blocks \"Blocks\"\nproduct set \"Set\"\n    line blocks\n    needs 2 pull-cart, 1 sheet baltic-6 per 18 ea\n    \
        takes 18 min cutting, 1h 30m sanding per 6 ea\n    price 68.00\n    pattern cart-pattern\n    for children from 3 years\n";
    let read = read(text);
    assert_eq!(messages(&read.found), [""; 0]);
    let set = read.thing("set");
    assert_eq!(read.book.line(set.line.first().expect("a line")).title, "Blocks");
    let needs: Vec<_> = set.needs.first().iter().map(|need| (need.quantity, need.per)).collect();
    assert_eq!(needs, [(dec("2"), dec("1")), (dec("25"), dec("18"))]);
    let takes: Vec<_> = set.takes.first().iter().map(|take| (take.minutes, take.per)).collect();
    assert_eq!(takes, [(dec("18"), dec("1")), (dec("90"), dec("6"))]);
    assert_eq!(*set.price.first(), Some(dec("68.00")));
    assert_eq!(*set.for_children_from_months.first(), Some(36));
    assert!(set.pattern.first().is_some());
}

#[test]
fn what_is_wrong_with_a_recipe_is_told_at_its_item() {
    let product = |line: &str| told(&format!("product tray \"T\"\n    {line}\n"));
    assert_eq!(product("needs 2 oak"), ["K200: `oak` is not defined"]);
    assert_eq!(product("needs 2 bf rolling-toys"), ["K201: `rolling-toys` is a line"]);
    assert_eq!(product("needs 3 sq ft red-oak"), ["K250: `3 sq ft` is an area, and `red-oak` is measured in bf, a volume"]);
    assert_eq!(product("needs 1 ea wheel-40 per 0.5 ea"), ["K263: a whole number of pieces belongs here, and `0.5 ea` is none"]);
    assert_eq!(product("takes 18 min"), ["K223: `18 min` of what?"]);
    assert_eq!(product("takes 18 cutting"), ["K258: a time belongs here, and `18` is none"]);
    assert_eq!(product("takes 18 min cuting"), ["K200: `cuting` is not defined"]);
    assert_eq!(product("line toys"), ["K200: `toys` is not defined"]);
    assert_eq!(product("pattern rolling-toys"), ["K201: `rolling-toys` is a line"]);
    assert_eq!(product("price 4.00\n    price 5.00"), ["K182: `price` stands twice in one `product`"]);
}

#[test]
fn a_recipe_for_the_most_pieces_is_kept_or_told() {
    let dowel = "material dowel \"Dowel\"\n    measured in in\nmaterial belt \"Belt\"\n    measured in in\n    as wear\n";
    let most = "9".repeat(28);
    // 4 mm are 20/127 in: 20 in for 127 times as many, where that can be kept, else rounded to 9 places.
    for (per, expected) in [("6", ("20", "762")), (most.as_str(), ("0.157480315", most.as_str()))] {
        let text = format!(
            "{dowel}product rack \"R\"\n    needs 4 mm dowel per {per} ea\nstep turning \"T\"\n    wears 4 mm belt per {per} min\n"
        );
        let read = read(&text);
        assert_eq!(messages(&read.found), [""; 0], "{per}");
        let needs: Vec<_> = read.thing("rack").needs.first().iter().map(|need| (need.quantity, need.per)).collect();
        assert_eq!(needs, [(dec(expected.0), dec(expected.1))]);
        let Some(Known::Step(step)) = read.book.table.get("turning") else { panic!("no step") };
        let wears: Vec<_> = read.book.step(*step).wears.first().iter().map(|wear| (wear.quantity, wear.per_minutes)).collect();
        assert_eq!(wears, [(dec(expected.0), dec(expected.1))]);
    }
}

#[test]
fn a_recipe_may_not_need_itself() {
    assert_eq!(told("product a \"A\"\n    needs 1 a\n"), ["K213: `a` needs itself"]);
    let ring = read("product a \"A\"\n    needs 1 b\nproduct b \"B\"\n    needs 1 c\nproduct c \"C\"\n    needs 2 a\n");
    assert_eq!(messages(&ring.found), ["K213: `a` needs itself"]);
    assert_eq!(ring.found[0].notes, ["`a` needs `b` needs `c` and again `a`"]);
}

#[test]
fn a_ring_that_is_never_in_force_at_once_is_none() {
    let text = "product a \"A\"\n    needs 1 b\nproduct b \"B\"\n    needs 1 wheel-40\nchanged 2026-03-01 a\n    needs 1 wheel-40\n\
        changed 2026-04-01 b\n    needs 1 a, 1 wheel-40\n";
    assert_eq!(told(text), ["K901: from 2026-03-01 on `a` no longer needs `b`"]);
    let overlapping = text.replace("2026-04-01", "2026-02-01");
    assert_eq!(told(&overlapping).iter().filter(|one| one.starts_with("K213")).count(), 1);
}

#[test]
fn a_chain_of_parts_may_be_very_long() {
    use std::fmt::Write;
    let mut text = String::from("shop \"S\"\n    currency USD\nproduct p-0 \"P\"\n");
    for n in 1..20_000 {
        writeln!(text, "product p-{n} \"P\"\n    needs 1 p-{}", n - 1).expect("written");
    }
    assert_eq!(messages(&read_files(&[&text]).found), [""; 0]);
}

#[test]
fn an_offcut_comes_from_another_material() {
    let text = "material oak-offcut \"O\"\n    measured in bf\n    from red-oak\n";
    let read = read(text);
    assert_eq!(messages(&read.found), [""; 0]);
    let from = read.thing("oak-offcut").from.expect("a source");
    assert_eq!(read.book.thing(from).named.name, "red-oak");
    assert_eq!(told(&text.replace("from red-oak", "from oak-offcut")), ["K213: `oak-offcut` can't be an offcut of itself"]);
    assert_eq!(told(&text.replace("from red-oak", "from pull-cart")), ["K201: `pull-cart` is a product"]);
    let ring = "material a \"A\"\n    measured in bf\n    from b\nmaterial b \"B\"\n    measured in bf\n    from a\n";
    assert_eq!(told(ring), ["K213: `a` is an offcut of itself"]);
}

#[test]
fn a_step_wears_things_by_the_time() {
    let read = read("step planing \"P\"\n    wears 1 blade-no7 per 40 min\n    wears 2 blade-no7 per 1h 30m\n    indirect\n");
    assert_eq!(messages(&read.found), [""; 0]);
    let Some(Known::Step(step)) = read.book.table.get("planing") else { panic!("no step") };
    let step = read.book.step(*step);
    let wears: Vec<_> = step.wears.first().iter().map(|wear| (wear.quantity, wear.per_minutes)).collect();
    assert_eq!(wears, [(dec("1"), dec("40")), (dec("2"), dec("90"))]);
    assert!(*step.indirect.first());
    let step = |line: &str| told(&format!("step planing \"P\"\n    {line}\n"));
    assert_eq!(step("wears 1 blade-no7"), ["K263: `1 blade-no7` in how much time?"]);
    assert_eq!(step("wears 1 blade-no7 per 4 ea"), ["K263: a time above zero belongs here, and `4 ea` is none"]);
    assert_eq!(step("wears 1 wheel-40 per 40 min"), ["K903: `wheel-40` is worn here, but its definition doesn't say `as wear`"]);
    assert_eq!(
        told("material disc \"D\"\n    measured in ea\n    as wear\n"),
        ["K902: `disc` is `as wear`, but no step wears it"]
    );
    let needed = "material disc \"D\"\n    measured in ea\n    as wear\nproduct q \"Q\"\n    needs 1 disc per 200 ea\n";
    assert_eq!(told(needed), [""; 0]);
}

#[test]
fn consignment_and_wholesale_pay_later() {
    let text = "channel a \"A\"\n    wholesale 50%\nchannel b \"B\"\n    pays later\n    sales-tax collected by channel\n\
        channel c \"C\"\n    fee 3% of total\n    fee 0.25 per sale\n    prices include sales-tax 6%\n";
    let read = read(text);
    assert_eq!(messages(&read.found), [""; 0]);
    let channel = |name: &str| match read.book.table.get(name) {
        Some(Known::Channel(id)) => read.book.channel(*id),
        other => panic!("{other:?}"),
    };
    assert!(*channel("a").pays_later.first() && *channel("b").pays_later.first() && !channel("c").pays_later.first());
    assert!(*channel("gift-shop").pays_later.first());
    assert!(*channel("b").collects_sales_tax.first());
    assert_eq!(*channel("a").share.first(), ChannelShare::Wholesale(dec("50")));
    assert_eq!(*channel("c").fees.first(), [FeeRule::OfTotal(dec("3")), FeeRule::PerSale(dec("0.25"))]);
    assert_eq!(*channel("c").prices_include_tax.first(), Some(dec("6")));
    let channel = |line: &str| told(&format!("channel d \"D\"\n    {line}\n"));
    assert_eq!(channel("consignment 140%"), ["K214: 140% is more than the whole"]);
    assert_eq!(
        channel("consignment 40%\n    wholesale 50%"),
        ["K182: `consignment` and `wholesale` exclude each other in one `channel`"]
    );
    assert_eq!(channel("fee 101% of total"), ["K214: 101% is more than the whole"]);
}

#[test]
fn an_expense_needs_its_line_where_the_book_names_a_form() {
    assert_eq!(told("expense phone \"P\"\n    business use 60%\n"), ["K211: the expense `phone` has no `form line`"]);
    assert_eq!(told("income tips \"T\"\n"), ["K907: the income `tips` has no `form line`"]);
    let without_form =
        read_files(&["shop \"S\"\n    currency USD\nexpense phone \"P\"\n    business use 60%\n    counts as overhead\n"]);
    assert_eq!(messages(&without_form.found), [""; 0]);
    assert_eq!(*without_form.book.expenses[0].business_use.first(), dec("60"));
    assert_eq!(*without_form.book.expenses[0].counts_as.first(), CountsAs::Overhead);
}

#[test]
fn every_line_of_a_tool_is_read() {
    let text = "tool saw \"S\"\n    in use from 2026-03-02\n    expensed under section 179 500.00\n    no bonus\n    business use 90%\n    lasts 10 years\n";
    let read = read(text);
    assert_eq!(messages(&read.found), [""; 0]);
    let Some(Known::Tool(saw)) = read.book.table.get("saw") else { panic!("no tool") };
    let saw = read.book.tool(*saw);
    assert_eq!(saw.in_use_from, Some(day("2026-03-02")));
    assert_eq!(saw.recovery, Some(Recovery::Section179 { stated: Some(dec("500.00")), rest_over: None }));
    assert!(saw.no_bonus && !saw.mid_quarter);
    assert_eq!((*saw.business_use.first(), saw.lasts_years), (dec("90"), Some(dec("10"))));
    let tool = |line: &str| told(&format!("tool saw \"S\"\n    {line}\n"));
    let both = super::read("tool saw \"S\"\n    recovered over 7 years\n    expensed under section 179 500.00\n");
    assert_eq!(messages(&both.found), [""; 0]);
    let Some(Known::Tool(both_saw)) = both.book.table.get("saw") else { panic!("no tool") };
    assert_eq!(
        both.book.tool(*both_saw).recovery,
        Some(Recovery::Section179 { stated: Some(dec("500.00")), rest_over: Some(dec("7")) })
    );
    assert_eq!(tool("lasts 0 years"), ["K214: a cost can't be spread over no years"]);
    assert_eq!(tool("expensed under section 179 500.001"), ["K215: 500.001 has more digits than USD has"]);
    assert_eq!(
        tool("recovered over 7 years\n    expensed at once"),
        ["K182: `recovered over` and `expensed at once` exclude each other in one `tool`"]
    );
}

#[test]
fn helpers_and_patterns_are_read() {
    let read = read(
        "helper ann \"A\"\n    employee\n    costs 18.00 per h\n    paid later\npattern duck \"D\"\n    allows 2 dozen for sale\n    royalty 0.50 per ea\n    paid later\n",
    );
    assert_eq!(messages(&read.found), [""; 0]);
    let ann = &read.book.helpers[0];
    assert!(*ann.employee.first() && *ann.paid_later.first());
    assert_eq!(*ann.costs.first(), Some(dec("18.00")));
    let duck = &read.book.patterns[1];
    assert_eq!(*duck.allows.first(), Some(dec("24")));
    assert_eq!(*duck.royalty.first(), Some(dec("0.50")));
    assert!(*duck.paid_later.first());
    assert_eq!(
        told("pattern duck \"D\"\n    allows 3 ml for sale\n"),
        ["K263: a whole number of pieces belongs here, and `3 ml` is none"]
    );
}
