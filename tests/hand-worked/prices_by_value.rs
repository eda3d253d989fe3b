//! What a price bears of what a channel takes itself: by value, and none where the channel took more than it brought in; worked by hand.
//!
//! A top and a peg cost 2.00 and 3 min each, at 20.00 an hour 3.00 in all; the top is listed at 10.00, the peg at 6.00. A chest cost 20.00 and 30 min and is listed at
//! 50.00. At the fair 12 tops and 4 chests brought in 320.00; its booth took 60.00 and the owner 5 h.

use kerfbook::names::ThingId;
use kerfbook::render::text::{Look, text_price};
use kerfbook::reports::{ChannelPrice, Period, PriceReport, Wanted, report_price};
use kerfbook::units::Fixed6;

use crate::compiled::compile_texts;

const SHOP: &str = "\
shop \"Wren & Gable Woodshop\"
    currency USD
    owner time 20.00 per h
place bench \"Bench\"
    home
step selling \"At the booth\"
product top \"Top\"
    price 10.00
product peg \"Peg\"
    price 6.00
product chest \"Chest\"
    price 50.00
channel fair \"Fair\"
channel web \"Web page\"
expense booth-fee \"Booth and stall fees\"
opened 2026-01-01
    20 top for 40.00, 1h
    20 peg for 40.00, 1h
    10 chest for 200.00, 5h
sold 2026-03-07 via fair
    12 top
    4 chest
worked 2026-03-07
    5h selling on fair
paid 2026-03-07 to the-hall
    60.00 for booth-fee on fair
";

fn money(text: &str) -> Fixed6 {
    Fixed6::from_decimal_exact(text.parse().expect("a decimal")).expect("small")
}

fn price(book: &str, product: &str, wanted: Wanted) -> PriceReport {
    let compiled = compile_texts(&[("book.kerf", book)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let at = compiled.book.things.iter().position(|thing| thing.named.name == product).expect("defined");
    let product = ThingId(u32::try_from(at).expect("few"));
    report_price(compiled.books(), product, (Period::default(), &|_| None), wanted).expect("a report")
}

fn fair(report: &PriceReport) -> &ChannelPrice {
    report.channels.iter().find(|one| one.name == "fair").expect("the channel")
}

/// Money and minutes that the list price bears, what an hour earns at it, and the least price for the hour.
fn borne(report: &PriceReport) -> [&str; 4] {
    let at = fair(report).at_list_price.as_ref().expect("a list price");
    let earning = fair(report).floors.earning.as_deref();
    [&at.own_expenses, &at.own_minutes, at.per_hour.as_deref().expect("hours"), earning.unwrap_or("none")]
}

#[test]
fn a_cheap_piece_bears_little_of_a_fair_and_a_dear_one_much() {
    // 60.00 / 320.00 = 18.75 %; 300 min / 320.00 = 93.75 min for 100.00. With 5 h at 20.00 the fair took 160.00, half of what it brought in.
    let top = price(SHOP, "top", Wanted::default());
    let selling = &fair(&top).selling;
    assert_eq!((selling.expenses_percent.as_deref(), selling.minutes_per_hundred.as_deref()), (Some("18.75"), Some("93.75")));
    // 10.00 bear 1.875 and 9.375 min: (10.00 − 2.00 − 1.875) / 12.375 min · 60 = 29.697; 3.00 / (1 − 50 %).
    assert_eq!(borne(&top), ["1.875", "9.375", "29.70", "6.00"]);
    // 50.00 bear 9.375 and 46.875 min: (50.00 − 20.00 − 9.375) / 76.875 min · 60 = 16.0976; 30.00 / (1 − 50 %).
    assert_eq!(borne(&price(SHOP, "chest", Wanted::default())), ["9.375", "46.875", "16.10", "60.00"]);
    // The parts add up to the fair: 12 · 1.875 + 4 · 9.375 = 60.00, 12 · 9.375 + 4 · 46.875 = 300.
    let told = "`fair` itself took $60.00 and 5 h of yours for $320.00 of sales of all products; a price there bears that by value: 18.75 % of what it brings in, and 93.8 min for each 100.00 of it";
    assert!(top.notes.iter().any(|note| note == told), "{:#?}", top.notes);
    let text = text_price(&top, Look::default()).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("12 pieces of this product, all sales there"), "{text}");
    // The web page takes nothing itself.
    let web = top.channels.iter().find(|one| one.name == "web").expect("the channel");
    let at = web.at_list_price.as_ref().expect("a list price");
    assert_eq!((at.own_expenses.as_str(), at.own_minutes.as_str(), web.floors.earning.as_deref()), ("0.00", "0", Some("3.00")));
}

#[test]
fn at_the_least_price_so_many_pieces_meet_the_fair_as_its_sales_come_to() {
    // A peg at 6.00, its least price, leaves 3.00: 160.00 / 3.00 = 53.3, which are sold for 320.00, what the fair brought in.
    let wanted = Wanted { fixed: Some((money("60.00"), money("300"))), ..Wanted::default() };
    let peg = price(SHOP, "peg", wanted);
    assert_eq!(fair(&peg).floors.earning.as_deref(), Some("6.00"));
    assert_eq!(fair(&peg).break_even.as_ref().expect("asked").pieces_with_hours.as_deref(), Some("54"));
}

#[test]
fn where_a_fair_took_more_than_its_sales_leave_no_price_carries_it() {
    // 220.00 and 100.00 for the hours are all of 320.00; a cent less of a booth, and there is a price: 3.00 · 320.00 / 0.01.
    let with_booth =
        |booth: &str| price(&SHOP.replace("60.00 for booth-fee", &format!("{booth} for booth-fee")), "top", Wanted::default());
    let poor = with_booth("220.00");
    assert_eq!(borne(&poor)[3], "none");
    let told = ". With your hours at $20.00 that is $320.00, more than such sales leave after fees: no price earns the hour there, since a dearer piece bears more of it, too";
    assert!(poor.notes.iter().any(|note| note.ends_with(told)), "{:#?}", poor.notes);
    assert!(fair(&poor).says.contains("but not the hour you want"), "{}", fair(&poor).says);
    assert!(text_price(&poor, Look::default()).contains("no price"));
    assert_eq!(borne(&with_booth("219.99"))[3], "96000.00");
}

#[test]
fn a_fair_that_sold_nothing_is_borne_by_no_price_and_says_so() {
    let nothing = SHOP.replace("sold 2026-03-07 via fair\n    12 top\n    4 chest\n", "");
    let top = price(&nothing, "top", Wanted::default());
    assert_eq!(borne(&top), ["0.00", "0", "160.00", "3.00"]);
    let told =
        "`fair` itself took $60.00 and 5 h of yours and brought in nothing in these days: no price there bears any of that";
    assert!(top.notes.iter().any(|note| note == told), "{:#?}", top.notes);
    assert_eq!(fair(&top).selling.expenses_percent, None);
}
