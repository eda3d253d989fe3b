//! What lies at places away from home, worked by hand: ten carts made, six sent to the gift shop, three sold there (one comes back to it), one taken
//! home again, one missing in a count: 6 + 1 brought, 3 sold, 1 taken away, 1 otherwise, 2 left, 90.00 at 45.00 each. Two sales are not paid.

use kerfbook::reports::report_places;
use kerfbook::year::Books;

use crate::compiled::compile_texts;

pub(crate) const BOOK: &str = "\
shop \"Wren & Gable Woodshop\"
    currency USD
place bench \"Bench\"
    home
place gift-shop \"Gift shop\"
product cart \"Cart\"
    price 45.00
channel gift-shop \"Gift shop\"
    consignment 40%
opened 2026-01-01
    10 cart for 100.00
sent 2026-01-02 to gift-shop
    6 cart
sold 2026-01-10 via gift-shop order \"G-1\"
    2 cart
sold 2026-01-20 via gift-shop order \"G-2\"
    1 cart
returned 2026-01-22 order \"G-1\" at gift-shop
    1 cart, refunded 45.00, back to stock
brought-back 2026-01-25 from gift-shop
    1 cart
counted 2026-01-30 at gift-shop
    2 cart
";

#[test]
fn a_place_s_list_says_what_was_brought_sold_taken_away_and_is_there_and_what_is_owed() {
    let compiled = compile_texts(&[("book.kerf", BOOK)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &compiled.costed };
    let report = report_places(books, None, None, None).expect("small figures");
    let [place] = report.places.as_slice() else { panic!("{:#?}", report.places) };
    assert_eq!((place.name.as_str(), place.is_channel, place.last_count.as_deref()), ("gift-shop", true, Some("2026-01-30")));
    let [row] = place.rows.as_slice() else { panic!("{:#?}", place.rows) };
    let figures = [&row.brought, &row.sold, &row.taken_away, &row.otherwise, &row.left].map(String::as_str);
    assert_eq!(figures, ["7", "3", "1", "1", "2"]);
    assert_eq!(
        (row.asked.as_deref(), row.left_at_price.as_deref(), place.left_at_price.as_str()),
        (Some("45.00"), Some("90.00"), "90.00")
    );
    // G-1: 90.00 less 40 % is 54.00; the refund of 45.00 lowers what the shop owes to 9.00. G-2: 27.00.
    let owes: Vec<(&str, &str, i64)> = place.owes.iter().map(|one| (one.order.as_str(), one.open.as_str(), one.days)).collect();
    assert_eq!(owes, [("G-1", "9.00", 20), ("G-2", "27.00", 10)]);
    assert_eq!(place.owed, "36.00");
    // Nothing was ever paid, so nobody knows how late that is.
    assert!(place.usual_days.is_none() && place.owes.iter().all(|one| one.days_late.is_none()));
    // Six sent, three sold, one back from a buyer, one taken away: the books had three, two were counted.
    let [count] = place.count.as_slice() else { panic!("{:#?}", place.count) };
    assert_eq!([&count.counted, &count.booked, &count.difference], ["2", "3", "-1"]);
    // The slip is that of what was sent: 6 at 45.00.
    let slip = place.slip.as_ref().expect("sent");
    assert_eq!((slip.date.as_str(), slip.terms.as_deref()), ("2026-01-02", Some("Gift shop keeps 40 % of each price")));
    let [row] = slip.rows.as_slice() else { panic!("{:#?}", slip.rows) };
    assert_eq!((row.quantity.as_str(), row.price.as_deref(), row.together.as_deref()), ("6", Some("45.00"), Some("270.00")));
    assert_eq!(slip.together, "270.00");
}

#[test]
fn a_payment_is_late_beyond_the_days_that_the_place_took_before() {
    // Two sales paid after 20 and 31 days: 25.5, so 26 as a rule. On 2026-06-10 the sale of 1 May is open for 40 days, 14 more; that of 1 June for 9.
    let more = "received 2026-02-09 from gift-shop\n    27.00 for order \"G-2\"\n\
                sold 2026-03-01 via gift-shop order \"G-3\"\n    1 cart\n\
                received 2026-04-01 from gift-shop\n    27.00 for order \"G-3\"\n\
                sent 2026-04-05 to gift-shop\n    2 cart\n\
                sold 2026-05-01 via gift-shop order \"G-4\"\n    1 cart\n\
                sold 2026-06-01 via gift-shop order \"G-5\"\n    1 cart\n\
                noted 2026-06-10 \"asked them\"\n";
    let text = format!("{BOOK}{more}");
    let compiled = compile_texts(&[("book.kerf", &text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &compiled.costed };
    let report = report_places(books, None, None, None).expect("small figures");
    let place = &report.places[0];
    assert_eq!(place.usual_days, Some(26));
    let late: Vec<_> = place.owes.iter().map(|one| (one.order.as_str(), one.days, one.days_late)).collect();
    assert_eq!(late, [("G-1", 151, Some(125)), ("G-4", 40, Some(14)), ("G-5", 9, Some(0))]);
    assert_eq!(place.slip.as_ref().map(|slip| (slip.date.as_str(), slip.together.as_str())), Some(("2026-04-05", "90.00")));
}

#[test]
fn what_a_place_owed_before_the_book_began_is_owed_until_it_comes_and_days_count_to_today() {
    // 24.00 owed for an order before the book, 10.00 of it came: 14.00. With the 36.00 of this year 50.00.
    let owed =
        "opened 2026-01-01\n    24.00 owed by gift-shop for order \"OLD\"\n    7.00 owed by \"Somebody\" for order \"S-1\"\n";
    let text = format!("{BOOK}{owed}received 2026-02-02 from gift-shop\n    10.00 for order \"OLD\"\n");
    let compiled = compile_texts(&[("book.kerf", &text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &compiled.costed };
    let day = |text: &str| Some(text.parse::<chrono::NaiveDate>().expect("a day"));
    let on = |today: &str| {
        let report = report_places(books, None, day(today), None).expect("small figures");
        let place = &report.places[0];
        let owes = place.owes.iter().map(|one| (one.order.clone(), one.open.clone(), one.days)).collect::<Vec<_>>();
        (report.days_to.clone(), place.owed.clone(), place.usual_days, owes)
    };
    let row = |order: &str, open: &str, days: i64| (order.to_owned(), open.to_owned(), days);
    let (days_to, owed, usual, owes) = on("2026-02-12");
    assert_eq!((days_to.as_deref(), owed.as_str(), usual), (Some("2026-02-12"), "50.00", None));
    assert_eq!(owes, [row("OLD", "14.00", 42), row("G-1", "9.00", 33), row("G-2", "27.00", 23)]);
    // A day before the last of the book is no day to count to.
    let (days_to, _, _, owes) = on("2026-01-15");
    assert_eq!(days_to.as_deref(), Some("2026-02-02"));
    assert_eq!(owes[0], row("OLD", "14.00", 32));
}

#[test]
fn what_a_count_finds_missing_has_its_cost_and_what_the_place_would_owe_and_is_asked_about() {
    // One cart of 10.00 is missing; at 45.00 less the shop's 40 % it would bring 27.00.
    let place_of = |text: &str| {
        let compiled = compile_texts(&[("book.kerf", text)]);
        assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
        let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &compiled.costed };
        report_places(books, None, None, None).expect("small figures").places.remove(0)
    };
    let place = place_of(BOOK);
    let short = place.shortage.expect("a cart is missing");
    let [row] = short.rows.as_slice() else { panic!("{:#?}", short.rows) };
    assert_eq!((row.missing.as_str(), row.paid.as_str(), row.price.as_deref()), ("1", "10.00", Some("45.00")));
    assert_eq!((row.would_owe.as_deref(), short.missing_owed.as_deref()), (Some("27.00"), Some("27.00")));
    assert_eq!((short.date.as_str(), short.missing_paid.as_str()), ("2026-01-30", "10.00"));
    assert!(short.question.is_some_and(|question| question.contains("`sold 2026-01-30 via gift-shop`")));
    // A wholesale shop pays 60 % of the list price: the same 27.00. One that has no part agreed owes nothing that is known.
    let wholesale = place_of(&BOOK.replace("consignment 40%", "wholesale 60%")).shortage.expect("missing");
    assert_eq!(wholesale.missing_owed.as_deref(), Some("27.00"));
    let unknown = place_of(&BOOK.replace("    consignment 40%\n", "")).shortage.expect("missing");
    assert_eq!((unknown.missing_owed, unknown.missing_paid.as_str()), (None, "10.00"));
    // What was agreed stands in a note, and is asked no more; what was sold before the count is not missing.
    let noted = place_of(&BOOK.replace("    2 cart\n", "    2 cart\n    note \"the loss is mine\"\n")).shortage.expect("missing");
    assert_eq!((noted.question, noted.notes), (None, vec!["the loss is mine".to_owned()]));
    let sold = BOOK.replace("counted 2026-01-30", "sold 2026-01-30 via gift-shop order \"G-9\"\n    1 cart\ncounted 2026-01-30");
    let sold = place_of(&sold);
    assert!(sold.shortage.is_none());
    assert_eq!(sold.owed, "63.00");
}

#[test]
fn what_is_missing_would_owe_by_all_terms_as_if_it_were_sold() {
    // A cart at 45.00 and a top at 1.50 are missing: 46.50 less 25 %, 11.63, and 0.50 for each of the two: 33.87, which is what a sale of them owes.
    // By value the cart bears 11.25 and 0.97, the top 0.38 and 0.03.
    let text = BOOK
        .replace("consignment 40%", "consignment 25%\n    fee 0.50 per item")
        .replace("channel gift", "product top \"Top\"\n    price 1.50\nchannel gift")
        .replace("    10 cart for 100.00\n", "    10 cart for 100.00\n    5 top for 5.00\n")
        .replace("    6 cart\n", "    6 cart\n    3 top\n");
    let missing = format!("{text}    2 top\n");
    let of = |text: &str| {
        let compiled = compile_texts(&[("book.kerf", text)]);
        assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
        let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &compiled.costed };
        report_places(books, None, None, None).expect("small figures").places.remove(0)
    };
    let place = of(&missing);
    let short = place.shortage.as_ref().expect("two are missing");
    let rows: Vec<_> = short.rows.iter().map(|row| (row.name.as_str(), row.would_owe.as_deref())).collect();
    assert_eq!(rows, [("cart", Some("32.78")), ("top", Some("1.09"))]);
    assert_eq!(short.missing_owed.as_deref(), Some("33.87"));
    let terms = Some("Gift shop keeps 25 % of each price, and $0.50 for each piece");
    assert_eq!((short.terms.as_deref(), place.slip.as_ref().and_then(|slip| slip.terms.as_deref())), (terms, terms));
    let sale = "sold 2026-01-30 via gift-shop order \"G-9\"\n    1 cart\n    1 top\n";
    let sold = of(&missing.replace("counted 2026-01-30", &format!("{sale}counted 2026-01-30")));
    let of_sale = sold.owes.iter().find(|one| one.order == "G-9").map(|one| one.total.as_str());
    assert_eq!((of_sale, sold.shortage.is_none()), (Some("33.87"), true));
    // With a fee of the sale and a part of it: 46.50 · 2 % = 0.93, and 1.00.
    let more = missing.replace("fee 0.50 per item", "fee 2% of goods\n    fee 1.00 per sale");
    let short = of(&more).shortage.expect("two are missing");
    assert_eq!(short.missing_owed.as_deref(), Some("32.94"));
    let terms = "Gift shop keeps 25 % of each price, and 2 % of each sale as a fee and $1.00 for each sale";
    assert_eq!(short.terms.as_deref(), Some(terms));
}

#[test]
fn the_slip_of_a_day_can_be_asked_for_and_the_others_are_kept() {
    let text = format!("{BOOK}sent 2026-02-05 to gift-shop\n    2 cart\n");
    let compiled = compile_texts(&[("book.kerf", &text)]);
    let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &compiled.costed };
    let on = |day: Option<&str>| {
        let day = day.map(|day| day.parse().expect("a day"));
        let place = report_places(books, None, None, day).expect("small figures").places.remove(0);
        let dates = |slips: &[kerfbook::reports::PlaceSlip]| slips.iter().map(|slip| slip.date.clone()).collect::<Vec<_>>();
        (place.slip.map(|slip| (slip.date, slip.together)), dates(&place.other_slips))
    };
    let slip = |day: &str, together: &str| Some((day.to_owned(), together.to_owned()));
    assert_eq!(on(None), (slip("2026-02-05", "90.00"), vec!["2026-01-02".to_owned()]));
    assert_eq!(on(Some("2026-01-02")), (slip("2026-01-02", "270.00"), vec!["2026-02-05".to_owned()]));
    assert_eq!(on(Some("2026-01-03")).0, None);
}
