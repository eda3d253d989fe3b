//! `changed` entries.

use rust_decimal::Decimal;

use super::*;

fn dec(text: &str) -> Decimal {
    text.parse().expect("a decimal")
}

#[test]
fn a_change_holds_from_its_day_and_the_past_stays() {
    let read = read("changed 2026-07-01 pull-cart\n    price 45.00\nchanged 2026-09-01 pull-cart\n    price 48.00\n");
    assert_eq!(messages(&read.found), [""; 0]);
    let price = &read.thing("pull-cart").price;
    let on = |text: &str| price.on(day(text)).map(|price| price.to_string());
    assert_eq!(on("2026-06-30").as_deref(), Some("42.00"));
    assert_eq!(on("2026-07-01").as_deref(), Some("45.00"));
    assert_eq!(on("2026-12-31").as_deref(), Some("48.00"));
}

#[test]
fn all_lines_of_a_word_are_replaced_together() {
    let text = "changed 2026-07-01 pull-cart\n    needs 1 bf red-oak\n    needs 12 ml clear-oil\n    takes 20 min cutting\n\
        changed 2026-07-01 web-page\n    fee 4% of total\n";
    let read = read(text);
    assert_eq!(
        messages(&read.found),
        [
            "K901: from 2026-07-01 on `pull-cart` no longer needs `wheel-40`",
            "K901: from 2026-07-01 on `pull-cart` no longer takes `sanding`"
        ]
    );
    let cart = read.thing("pull-cart");
    assert_eq!((cart.needs.first().len(), cart.needs.on(day("2026-07-01")).len()), (3, 2));
    assert_eq!((cart.takes.first().len(), cart.takes.on(day("2026-07-02")).len()), (2, 1));
    let Some(Known::Channel(page)) = read.book.table.get("web-page") else { panic!("no channel") };
    let fees = &read.book.channel(*page).fees;
    assert_eq!(*fees.first(), [FeeRule::PerSale(dec("0.25"))]);
    assert_eq!(*fees.on(day("2026-07-01")), [FeeRule::OfTotal(dec("4"))]);
}

#[test]
fn costing_basis_and_stock_change_on_a_new_year_only() {
    assert_eq!(told("changed 2027-01-01 shop\n    costing average\n    owner time 26.00 per h\n"), [""; 0]);
    for line in ["costing average", "cash basis", "stock kept as supplies"] {
        let told = told(&format!("changed 2026-07-01 shop\n    {line}\n    owner time 26.00 per h\n"));
        assert_eq!(told, ["K217: this changes with a year only, not on 2026-07-01"], "{line}");
    }
}

#[test]
fn what_is_said_once_and_for_all_does_not_change() {
    for (name, line) in [
        ("red-oak", "measured in lb"),
        ("red-oak", "as wear"),
        ("band-saw", "recovered over 5 years"),
        ("bench", "home"),
        ("shop", "currency EUR"),
        ("shop", "tax form other"),
    ] {
        let told = told(&format!("changed 2026-07-01 {name}\n    {line}\n"));
        assert_eq!(told, ["K216: this is said once and for all; it can't change from a day on"], "{name} {line}");
    }
}

#[test]
fn a_change_takes_lines_of_the_definition_of_its_name() {
    assert_eq!(told("changed 2026-07-01 red-oak\n    price 45.00\n"), ["K216: this line is none of a material's definition"]);
    assert_eq!(told("changed 2026-07-01 gift-shop\n    home\n"), ["K216: this line is none of a channel's definition"]);
    assert_eq!(told("changed 2026-07-01 pul-cart\n    price 45.00\n"), ["K200: `pul-cart` is not defined, so it can't change"]);
    assert_eq!(corrected("changed 2026-07-01 pul-cart\n    price 45.00\n"), "changed 2026-07-01 pull-cart\n    price 45.00\n");
}

#[test]
fn two_changes_of_a_word_on_one_day_are_a_mistake() {
    let text = "changed 2026-07-01 pull-cart\n    price 45.00\nchanged 2026-07-01 pull-cart\n    price 46.00\n";
    assert_eq!(told(text), ["K218: this is changed twice on 2026-07-01"]);
    assert_eq!(told(&text.replace("price 46.00", "takes 20 min cutting, 10 min sanding")), [""; 0]);
}

#[test]
fn a_pack_that_changes_moves_the_recipes_that_count_in_it() {
    let text = "product tray \"T\"\n    needs 1 sheet baltic-6 per 5 ea\nchanged 2026-07-01 baltic-6\n    1 sheet = 32 sq ft\n";
    let read = read(text);
    assert_eq!(messages(&read.found), [""; 0]);
    let needs = &read.thing("tray").needs;
    assert_eq!(needs.on(day("2026-06-30"))[0].quantity, dec("25"));
    assert_eq!(needs.on(day("2026-07-01"))[0].quantity, dec("32"));
    assert_eq!(read.thing("baltic-6").packs.on(day("2026-07-01"))[0].holds, Some(dec("32")));
}

#[test]
fn a_channel_that_turns_to_consignment_pays_later_from_that_day() {
    let read = read("changed 2026-07-01 craft-fair\n    consignment 30%\n");
    let Some(Known::Channel(fair)) = read.book.table.get("craft-fair") else { panic!("no channel") };
    let later = &read.book.channel(*fair).pays_later;
    assert!(!later.on(day("2026-06-30")) && *later.on(day("2026-07-01")));
}
