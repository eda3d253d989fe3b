//! What a piece bears of what a channel takes itself: by what it brings in, the same at whatever price; worked by hand.
//!
//! A top and a peg cost 2.00 and 3 min each, at 20.00 an hour 3.00 in all; the top is listed at 10.00, the peg at 6.00. A chest cost 20.00 and 30 min and is listed at
//! 50.00. At the fair 12 tops and 4 chests brought in 320.00; its booth took 60.00 and the owner 5 h.

use kerfbook::names::ThingId;
use kerfbook::render::text::{Look, text_price};
use kerfbook::reports::{ChannelPrice, Period, PriceReport, Wanted, report_price};

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

/// Money and minutes that one bears, what an hour earns at the list price, and the least price for the hour.
fn borne(report: &PriceReport) -> [&str; 4] {
    let (selling, at) = (&fair(report).selling, fair(report).at_list_price.as_ref());
    let per_hour = at.and_then(|at| at.per_hour.as_deref());
    let earning = fair(report).floors.earning.as_deref();
    [&selling.own_expenses, &selling.own_minutes, per_hour.unwrap_or("none"), earning.unwrap_or("none")]
}

#[test]
fn a_cheap_piece_bears_little_of_a_fair_and_a_dear_one_much() {
    let top = price(SHOP, "top", Wanted::default());
    // 60.00 · 10.00 / 320.00 = 1.875 and 300 · 10.00 / 320.00 = 9.375 min: (10.00 − 2.00 − 1.875) / 12.375 min · 60 = 29.697; 2.00 + 1.875 + 12.375 min = 4.125.
    assert_eq!(borne(&top), ["1.875", "9.375", "29.70", "8.00"]);
    // 9.375 and 46.875 min: (50.00 − 20.00 − 9.375) / 76.875 min · 60 = 16.0976; 20.00 + 9.375 + 76.875 min = 25.625.
    assert_eq!(borne(&price(SHOP, "chest", Wanted::default())), ["9.375", "46.875", "16.10", "55.00"]);
    // The parts add up to the fair: 12 · 1.875 + 4 · 9.375 = 60.00, 12 · 9.375 + 4 · 46.875 = 300. So do the prices to the cost and the wanted hours:
    // 12 · 8.00 + 4 · 55.00 = 316.00; 24.00 + 80.00 + 60.00 and 36 + 120 + 300 min, 152.00.
    let told = "`fair` itself took $60.00 and 5 h of yours for $320.00 of sales of all products; one of this product brought in 10.00 there, so it bears 1.875 and 9.4 min of that, whatever is asked for it";
    assert!(top.notes.iter().any(|note| note == told), "{:#?}", top.notes);
    let text = text_price(&top, Look::default()).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("12 pieces of this product, all sales there"), "{text}");
    // The web page takes nothing itself.
    let web = top.channels.iter().find(|one| one.name == "web").expect("the channel");
    let own = (web.selling.own_expenses.as_str(), web.selling.own_minutes.as_str(), web.floors.earning.as_deref());
    assert_eq!(own, ("0.00", "0", Some("3.00")));
}

#[test]
fn what_a_piece_bears_does_not_grow_with_the_price_that_is_asked() {
    // One spoon: 1.875 and 24 min at 24.00. Six at 18.00 at a fair that took 15.00 and 3 h: 2.50 and 30 min each. 1.875 + 2.50 + 54 min · 24.00 = 21.60.
    // Put to the proof: (6 · 25.98 − 15.00 − 11.25) / 5.4 h = 24.005.
    let spoons = SHOP
        .replace("owner time 20.00 per h", "owner time 24.00 per h")
        .replace("price 10.00", "price 18.00")
        .replace("20 top for 40.00, 1h", "8 top for 15.00, 192m")
        .replace("    12 top\n    4 chest\n", "    6 top\n")
        .replace("5h selling on fair", "3h selling on fair")
        .replace("60.00 for booth-fee", "15.00 for booth-fee");
    // At 18.00: (108.00 − 15.00 − 11.25) / 5.4 h = 15.138889.
    assert_eq!(borne(&price(&spoons, "top", Wanted::default())), ["2.50", "30", "15.14", "25.98"]);
    // Listed at what it must fetch, it must fetch that still, and an hour of it earns what is wanted: a fair costs what it costs.
    let dearer = format!("{spoons}changed 2026-04-01 top\n    price 25.98\ncounted 2026-04-02\n    2 top\n");
    assert_eq!(borne(&price(&dearer, "top", Wanted::default())), ["2.50", "30", "24.01", "25.98"]);
    // Sold at 9.00 in the second of two such fairs: 162.00 of twelve, and still 30.00 and 6 h by the half of it each.
    let again = "sold 2026-05-02 via fair\n    6 top at 9.00\nworked 2026-05-02\n    3h selling on fair\n\
                 paid 2026-05-02 to the-hall\n    15.00 for booth-fee on fair\n";
    let twice = format!("{}{again}", spoons.replace("8 top for 15.00, 192m", "16 top for 30.00, 384m"));
    assert_eq!(borne(&price(&twice, "top", Wanted::default())), ["2.50", "30", "15.14", "25.98"]);
}

#[test]
fn what_was_not_sold_there_bears_as_its_price_would() {
    // A peg at 6.00 would bring in 6.00 beside 320.00: 60.00 · 6 / 326 and 300 · 6 / 326; 2.00 + 1.104294 + 8.521472 min at 20.00 = 5.944785.
    let peg = price(SHOP, "peg", Wanted::default());
    assert_eq!(borne(&peg), ["1.104294", "5.521472", "20.39", "5.95"]);
    assert_eq!(fair(&peg).selling.brought_in_by, "its list price");
    let told = "one of this product, not sold there, would bring in 6.00 more by its list price, so it bears 1.104294 and 5.5 min of that, whatever is asked for it";
    assert!(peg.notes.iter().any(|note| note.ends_with(told)), "{:#?}", peg.notes);
    // Without a list price, by its full cost of 3.00: 60.00 · 3 / 323 and 300 · 3 / 323; 2.00 + 0.557276 + 5.786378 min = 4.486069.
    let unlisted = SHOP.replace("product peg \"Peg\"\n    price 6.00\n", "product peg \"Peg\"\n");
    let peg = price(&unlisted, "peg", Wanted::default());
    assert_eq!(borne(&peg), ["0.557276", "2.786378", "none", "4.49"]);
    assert_eq!(fair(&peg).selling.brought_in_by, "the least price that covers its cost");
}

#[test]
fn what_came_back_brought_in_nothing() {
    // Two of twelve tops come back for all their money: 300.00 in all; one brought in 10.00: 60.00 · 10.00 / 300.00 and 10 min.
    let back = format!("{SHOP}returned 2026-03-10 via fair\n    2 top, refunded 20.00\n");
    let top = price(&back, "top", Wanted::default());
    assert_eq!((borne(&top)[0], borne(&top)[1]), ("2.00", "10"));
    // All of them: 200.00, and one would bring in its list price: 60.00 · 10 / 210 and 300 · 10 / 210.
    let back = format!("{SHOP}returned 2026-03-10 via fair\n    12 top, refunded 120.00\n");
    let top = price(&back, "top", Wanted::default());
    assert_eq!((borne(&top)[0], borne(&top)[1]), ("2.857143", "14.285714"));
    assert_eq!(fair(&top).selling.brought_in_by, "its list price");
}

#[test]
fn a_fair_that_took_more_than_its_sales_leave_asks_more_of_each_piece() {
    // 220.00 of 320.00: 6.875 and 9.375 min of a top; 2.00 + 6.875 + 4.125.
    let poor = price(&SHOP.replace("60.00 for booth-fee", "220.00 for booth-fee"), "top", Wanted::default());
    assert_eq!(borne(&poor), ["6.875", "9.375", "5.45", "13.00"]);
    assert!(fair(&poor).says.contains("but not the hour you want"), "{}", fair(&poor).says);
}

#[test]
fn a_fair_that_sold_nothing_is_borne_by_no_piece_and_says_so() {
    let nothing = SHOP.replace("sold 2026-03-07 via fair\n    12 top\n    4 chest\n", "");
    let top = price(&nothing, "top", Wanted::default());
    assert_eq!(borne(&top), ["0.00", "0", "160.00", "3.00"]);
    let told =
        "`fair` itself took $60.00 and 5 h of yours and brought in nothing in these days: no piece there bears any of that";
    assert!(top.notes.iter().any(|note| note == told), "{:#?}", top.notes);
}
