//! What goods on consignment are marked at, worked by hand: the same on a place's list, its slips, what a count found missing, and where a price is held
//! against it.
//!
//! A notebook is listed at 18.00. Seven are brought to the corner shop on 5 February, which keeps 40 % of each price.

use kerfbook::costing::{CostOptions, cost_book};
use kerfbook::diagnostics::Diagnostics;
use kerfbook::names::ThingId;
use kerfbook::reports::{Derived, FigureName, HowDeep, Period, PlaceList, Wanted, report_places, report_price, report_why};
use kerfbook::year::Books;

use crate::compiled::compile_texts;

const BOOK: &str = "\
shop \"Wren & Gable Woodshop\"
    currency USD
place bench \"Bench\"
    home
place corner \"Corner shop\"
product notebook \"Notebook\"
    price 18.00
channel corner \"Corner shop\"
    consignment 40%
channel web \"Web page\"
opened 2026-01-01
    20 notebook for 60.00, 10h
sent 2026-02-05 to corner
    7 notebook
";

/// The corner shop's list, and what the price is warned of, where the web page asks 17.00 on the last day.
fn told(entries: &str) -> (PlaceList, Vec<String>) {
    let text = format!("{BOOK}{entries}sold 2026-12-31 via web\n    1 notebook at 17.00\n");
    let compiled = compile_texts(&[("book.kerf", &text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let report = report_places(compiled.books(), None, None, None).expect("small figures");
    let notebook = compiled.book.things.iter().position(|thing| thing.named.name == "notebook").expect("defined");
    let notebook = ThingId(u32::try_from(notebook).expect("few"));
    let price = report_price(compiled.books(), notebook, (Period::default(), &|_| None), Wanted::default()).expect("a report");
    let warned = price.notes.into_iter().filter(|note| note.contains("on consignment")).collect();
    (report.places.into_iter().next().expect("the corner shop"), warned)
}

/// What is asked, all that is there at that, and the price of the newest slip.
fn marks(entries: &str) -> (String, String, String, Vec<String>) {
    let (place, warned) = told(entries);
    let row = place.rows.into_iter().next().expect("the notebook");
    let slip = place.slip.and_then(|slip| slip.rows.into_iter().next()).expect("sent");
    let or_none = |text: Option<String>| text.expect("a price");
    (or_none(row.asked), or_none(row.left_at_price), or_none(slip.price), warned)
}

fn warning(there: &str) -> Vec<String> {
    vec![format!("`web` asks 17.00, less than the {there} `corner` which has it on consignment; look at your agreement with it")]
}

const SOLD: &str = "sold 2026-03-01 via corner order \"C-1\"\n    3 notebook at 20.00\n";

#[test]
fn what_is_left_of_a_delivery_is_marked_as_it_was_sold_in_every_report() {
    // Never sold there: 7 at 18.00.
    let row = |asked: &str, together: &str, slip: &str, there: &str| {
        (asked.to_owned(), together.to_owned(), slip.to_owned(), warning(there))
    };
    assert_eq!(marks(""), row("18.00", "126.00", "18.00", "18.00 at which it lies at"));
    // Three sold at 20.00: the four that are left are marked 20.00. The slip of February was handed over before.
    assert_eq!(marks(SOLD), row("20.00", "80.00", "18.00", "20.00 of"));
    let (place, _) = told(SOLD);
    assert_eq!(place.notes, ["Notebook is marked 20.00 there, as it was sold on 2026-03-01; your list price is 18.00."]);
    assert_eq!(
        (place.rows[0].asked_by_sale_of.as_deref(), place.rows[0].list_price.as_deref()),
        (Some("2026-03-01"), Some("18.00"))
    );
    // Two more are brought to lie beside the four: they are marked as these are, six at 20.00.
    let brought = format!("{SOLD}sent 2026-05-02 to corner\n    2 notebook\n");
    assert_eq!(marks(&brought), row("20.00", "120.00", "20.00", "20.00 of"));
    // Where all four were sold, taken home, or missing in a count before, the two are marked by the list: 36.00.
    let sent = "sent 2026-05-02 to corner\n    2 notebook\n";
    for gone in [
        "sold 2026-04-01 via corner order \"C-2\"\n    4 notebook at 20.00\n",
        "brought-back 2026-04-01 from corner\n    4 notebook\n",
        "counted 2026-04-01 at corner\n    nothing else\n",
        "scrapped 2026-04-01 at corner\n    4 notebook \"wet\"\n",
    ] {
        let anew = format!("{SOLD}{gone}{sent}");
        assert_eq!(marks(&anew), row("18.00", "36.00", "18.00", "18.00 at which it lies at"), "{gone}");
        let sold = if gone.starts_with("sold") { "2026-04-01" } else { "2026-03-01" };
        let note = format!(
            "Notebook was sold there last at 20.00 on {sold}; by your list it is 18.00 for what was brought on 2026-05-02, when none was there."
        );
        assert_eq!(told(&anew).0.notes, [note]);
    }
    // Listed at 19.00 since: that is the mark of the four, and the old price is not lost.
    let listed = format!("{SOLD}changed 2026-05-02 notebook\n    price 19.00\n");
    assert_eq!(marks(&listed), row("19.00", "76.00", "18.00", "19.00 at which it lies at"));
    assert_eq!(
        told(&listed).0.notes,
        ["Notebook was sold there last at 20.00 on 2026-03-01; by your list it is 19.00 since 2026-05-02."]
    );
    // Three for 50.00 together are 16.666667 each, and four of these 66.67; the web page asks more.
    let odd = "sold 2026-03-01 via corner order \"C-1\"\n    3 notebook for 50.00\n";
    assert_eq!(marks(odd), ("16.666667".to_owned(), "66.67".to_owned(), "18.00".to_owned(), Vec::new()));
}

#[test]
fn what_a_count_found_missing_would_owe_what_it_was_marked_at_on_that_day() {
    // One of four is missing on 1 April, marked 20.00: less 40 % it would owe 12.00, whatever is asked from May on.
    let text = format!("{SOLD}counted 2026-04-01 at corner\n    3 notebook\nchanged 2026-05-02 notebook\n    price 19.00\n");
    let (place, _) = told(&text);
    let short = place.shortage.expect("one is missing");
    assert_eq!((short.rows[0].price.as_deref(), short.missing_owed.as_deref()), (Some("20.00"), Some("12.00")));
}

#[test]
fn what_a_shop_sells_without_consignment_is_marked_at_the_list_price() {
    let text = BOOK.replace("    consignment 40%\n", "") + SOLD;
    let compiled = compile_texts(&[("book.kerf", &text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let report = report_places(compiled.books(), None, None, None).expect("small figures");
    let [place] = report.places.as_slice() else { panic!("{:#?}", report.places) };
    assert_eq!((place.left_at_price.as_str(), place.notes.len()), ("72.00", 0));
}

#[test]
fn why_goods_at_a_place_come_to_so_much_leads_to_the_sale_that_marks_them() {
    let asked_by = |entries: &str| asked(&format!("{BOOK}{SOLD}{entries}"));
    assert_eq!(asked_by(""), ("$80.00".to_owned(), "asked: 20.00, as it was sold there on 2026-03-01".to_owned()));
    let listed = "changed 2026-05-02 notebook\n    price 19.00\n";
    let since = "asked: 19.00 by the list since 2026-05-02; it was sold there last at 20.00 on 2026-03-01";
    assert_eq!(asked_by(listed), ("$76.00".to_owned(), since.to_owned()));
}

/// What goods at the corner shop come to, and what is asked for one.
fn asked(text: &str) -> (String, String) {
    let compiled = compile_texts(&[("book.kerf", text)]);
    let options = CostOptions { keep_trace: true, ..CostOptions::default() };
    let costed = cost_book(&compiled.log, &compiled.book, &options, &mut Diagnostics::default());
    let of = Derived::of(Books { costed: &costed, ..compiled.books() }, &[]).expect("costed with its trace");
    let figure = FigureName::read("places/corner/notebook/left-at-price", of.names()).expect("a name");
    let why = report_why(&of, figure, HowDeep::Fold).expect("fits");
    let top = why.steps.first().expect("a step");
    let comes_to = why.answer.split_whitespace().find(|word| word.starts_with('$')).expect("money").to_owned();
    (comes_to, top.steps.last().expect("what is asked").says.clone())
}

#[test]
fn what_was_sold_at_a_place_and_came_home_is_told_on_its_list() {
    // C-1: 60.00 less 40 % is 36.00. One comes home for 20.00, of which the shop gives its 8.00 back: 24.00 is owed.
    let back = "returned 2026-03-10 order \"C-1\"\n    1 notebook, refunded 20.00, back to stock\n    fee back 8.00\n";
    let (place, _) = told(&format!("{SOLD}{back}"));
    assert_eq!((place.rows[0].sold.as_str(), place.rows[0].left.as_str(), place.owes[0].total.as_str()), ("3", "4", "24.00"));
    let wanted = [
        "1 Notebook of order C-1 came back to Bench on 2026-03-10, for $20.00: it stays among what was sold here, and is not there.",
        "C-1 came to 36.00 at first; what went back for it took 12.00 off that: 24.00.",
    ];
    assert_eq!(place.notes[1..], wanted);
    // What comes back to the shop itself is brought there again, and needs no word; the money does.
    let there = back.replace("order \"C-1\"\n", "order \"C-1\" at corner\n");
    let (place, _) = told(&format!("{SOLD}{there}"));
    assert_eq!((place.rows[0].brought.as_str(), place.rows[0].left.as_str()), ("8", "5"));
    assert_eq!(place.notes[1..], wanted[1..]);
}
