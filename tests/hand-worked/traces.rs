//! Where goods came from and where they went, followed by hand.
//!
//! Oak comes on two receipts, oil with a certificate. Batch A takes 4 bf of the first oak and 1 of the second, makes six wheels and keeps half a
//! foot as an offcut; batch B takes four of the wheels and oil, and makes two carts; batch C takes the offcut and makes one peg. A cart goes to
//! the gift shop and is sold there, the other is sold on the web and comes back. A wheel is taken home.

use kerfbook::costing::{CostOptions, CostedBook, cost_book};
use kerfbook::diagnostics::Diagnostics;
use kerfbook::reports::{FigureNames, TraceFault, TraceKind, TraceReport, TraceStep, report_trace};
use kerfbook::year::Books;

use crate::compiled::compile_texts;

const BOOK: &str = "\
shop \"Wren & Gable Woodshop\"
    currency USD
place bench \"Bench\"
    home
place gift-shop \"Gift shop\"
step turning \"Turning\"
material oak \"Oak\"
    measured in bf
material oak-offcut \"Oak offcut\"
    measured in bf
    from oak
material oil \"Clear oil\"
    measured in ml
product wheel \"Wheel\"
product peg \"Peg\"
product cart \"Cart\"
    for children from 18 months
channel gift-shop \"Gift shop\"
    consignment 40%
channel web \"Web page\"
bought 2026-01-02 from yard receipt \"Y-1\"
    4 bf oak for 20.00
bought 2026-01-03 from yard receipt \"Y-2\"
    4 bf oak for 24.00, lot O-2
bought 2026-01-03 from \"Tansy Hardware\" receipt \"T-1\"
    100 ml oil for 10.00, lot 26-01, certificate \"certs/oil.pdf\"
built 2026-01-05 batch A
    used 5 bf oak
    made 6 wheel
    kept 0.5 bf oak-offcut worth 1.00
built 2026-01-06 batch B
    used 4 wheel
    used 20 ml oil
    made 2 cart
built 2026-01-07 batch C
    used 0.5 bf oak-offcut
    made 1 peg
sent 2026-01-08 to gift-shop
    1 cart
sold 2026-01-20 via gift-shop
    1 cart at 40.00
sold 2026-01-21 via web order \"W-1\"
    1 cart at 45.00
    to \"J. in Dover\"
returned 2026-01-28 order \"W-1\"
    1 cart, refunded 45.00, back to stock
took-home 2026-01-29
    1 wheel
";

pub(crate) fn traced(text: &str, asked: &str) -> Result<TraceReport, TraceFault> {
    let compiled = compile_texts(&[("book.kerf", text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let options = CostOptions { keep_links: true, ..CostOptions::default() };
    let costed: CostedBook = cost_book(&compiled.log, &compiled.book, &options, &mut Diagnostics::default());
    let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &costed };
    report_trace(books, &FigureNames::of(books, &[]), asked)
}

fn trace(asked: &str) -> TraceReport {
    traced(BOOK, asked).expect("it stands for one thing")
}

/// What a tree says, each level further in.
pub(crate) fn said(steps: &[TraceStep]) -> Vec<String> {
    let mut lines = Vec::new();
    for step in steps {
        let above = if step.above { ", as above" } else { "" };
        lines.push(format!("{}{above}", step.says));
        lines.extend(said(&step.steps).into_iter().map(|line| format!("  {line}")));
    }
    lines
}

#[test]
fn a_batch_came_from_the_lots_that_it_used_down_to_their_receipts() {
    let report = trace("B");
    assert_eq!(
        said(&report.came_from),
        [
            "20 ml oil, bought on 2026-01-03 from Tansy Hardware, receipt T-1, certificate `certs/oil.pdf`",
            "4 wheel, made in batch A on 2026-01-05",
            "  4 bf oak, bought on 2026-01-02 from yard, receipt Y-1",
            "  1 bf oak, bought on 2026-01-03 from yard, receipt Y-2",
        ]
    );
    let sources: Vec<&str> = report.sources.iter().map(|one| one.lot.as_str()).collect();
    assert_eq!(sources, ["oak/2026-01-02", "oil/26-01", "oak/O-2"]);
    assert_eq!(report.sources[1].certificate.as_deref(), Some("certs/oil.pdf"));
}

#[test]
fn a_lot_went_through_its_batches_to_places_buyers_and_back() {
    let report = trace("O-2");
    assert_eq!(
        said(&report.went_to),
        [
            "4 bf oak, bought on 2026-01-03 from yard, receipt Y-2",
            "  1 bf oak used on 2026-01-05 by batch A",
            "    0.5 bf oak-offcut, kept of batch A on 2026-01-05",
            "      0.5 bf oak-offcut used on 2026-01-07 by batch C",
            "        1 peg, made in batch C on 2026-01-07",
            "          1 peg left at bench",
            "    6 wheel, made in batch A on 2026-01-05",
            "      4 wheel used on 2026-01-06 by batch B",
            "        2 cart, made in batch B on 2026-01-06",
            "          1 cart taken to gift-shop on 2026-01-08",
            "          1 cart sold on 2026-01-20 with order 2026-01-20 via gift-shop",
            "          1 cart sold on 2026-01-21 with order W-1 via web to J. in Dover",
            "          1 cart came back on 2026-01-28 from order W-1 via web",
            "          1 cart left at bench",
            "      1 wheel taken home on 2026-01-29",
            "      1 wheel left at bench",
            "  3 bf oak left at bench",
        ]
    );
    let batches: Vec<&str> = report.batches.iter().map(|one| one.name.as_str()).collect();
    assert_eq!(batches, ["A", "B", "C"]);
    let orders: Vec<(&str, &str, &str)> =
        report.orders.iter().map(|one| (one.order.as_str(), one.sold.as_str(), one.came_back.as_str())).collect();
    assert_eq!(orders, [("2026-01-20", "1", "0"), ("W-1", "1", "1")]);
    assert_eq!(report.orders[1].buyer.as_deref(), Some("J. in Dover"));
    let gone: Vec<(&str, &str)> = report.gone.iter().map(|one| (one.how.as_str(), one.lot.as_str())).collect();
    assert_eq!(gone, [("taken home", "wheel/A")]);
    let left: Vec<(&str, &str)> = report.on_hand.iter().map(|one| (one.lot.as_str(), one.quantity.as_str())).collect();
    assert_eq!(left, [("cart/B", "1"), ("oak/O-2", "3"), ("peg/C", "1"), ("wheel/A", "1")]);
}

#[test]
fn an_order_came_from_its_pieces_lots() {
    let report = trace("W-1");
    let lines = said(&report.came_from);
    assert_eq!(lines[0], "order W-1 of 2026-01-21 via web to J. in Dover");
    // The cart came back, and where it came from is told all the same.
    assert_eq!(lines[1], "  1 cart, made in batch B on 2026-01-06");
    assert!(lines.iter().any(|line| line.contains("receipt Y-1")), "{lines:#?}");
    assert_eq!(report.went_to.len(), 1);
    assert_eq!(report.went_to[0].kind, TraceKind::Order);
    assert_eq!(
        said(&report.went_to),
        [
            "order W-1 of 2026-01-21 via web to J. in Dover",
            "  1 cart sold on 2026-01-21 with order W-1 via web to J. in Dover",
            "  1 cart came back on 2026-01-28 from order W-1 via web",
            "    back in stock as lot cart/B: `kerfbook trace lot/cart/B` tells where that went on",
        ]
    );
}

#[test]
fn a_receipt_a_supplier_and_a_buyer_can_be_asked_about() {
    assert_eq!(trace("Y-1").is, "lot oak/2026-01-02");
    assert_eq!(trace("yard").is, "what came from yard, 2 lots");
    assert_eq!(trace("J. in Dover").is, "what J. in Dover bought");
    assert_eq!(trace("cart").is, "lot cart/B");
    assert_eq!(trace("lot/oak/O-2").is, "lot oak/O-2");
}

#[test]
fn at_an_order_the_way_ends_and_its_answer_says_nothing_of_where_it_went() {
    let answer = |asked: &str| {
        let text = kerfbook::render::text::text_trace(&trace(asked), kerfbook::render::text::Look::default());
        text.split("\n\n").nth(1).expect("an answer").replace('\n', " ")
    };
    assert!(answer("W-1").starts_with("You asked about order W-1: it came from "), "{}", answer("W-1"));
    assert!(!answer("W-1").contains("on hand") && answer("W-1").contains(", through "), "{}", answer("W-1"));
    assert!(answer("lot/oak/O-2").contains(" and into "), "{}", answer("lot/oak/O-2"));
}

#[test]
fn a_name_that_stands_for_several_is_asked_back_and_an_unknown_one_has_near_ones() {
    let twice = BOOK.replace("order \"W-1\"", "order \"A\"");
    let told = traced(&twice, "A").expect_err("a batch and an order");
    assert!(told.0.contains("`batch/A` (batch A)") && told.0.contains("`order/A` (order A)"), "{}", told.0);
    assert_eq!(traced(&twice, "order/A").expect("said which").is, "order A");
    let told = traced(BOOK, "O-3").expect_err("unknown");
    assert!(told.0.contains("there is no lot, batch, order, receipt, supplier, buyer, channel or thing `O-3`"), "{}", told.0);
    assert!(told.0.contains("`O-2`"), "{}", told.0);
}

#[test]
fn a_channel_is_asked_for_by_all_that_was_sold_through_it() {
    for asked in ["web", "channel/web"] {
        let report = traced(BOOK, asked).expect("a channel");
        assert_eq!(report.is, "what was sold through web");
        assert_eq!(report.orders.iter().map(|one| one.order.as_str()).collect::<Vec<_>>(), ["W-1"]);
    }
    let told = |book: &str, asked: &str| traced(book, asked).expect_err("nothing to follow").0;
    let idle = format!("{BOOK}channel market \"Market\"\n");
    assert_eq!(told(&idle, "market"), "nothing was sold through the channel `market`, so there is nothing to follow");
}

#[test]
fn an_order_that_is_only_paid_ahead_is_told_with_what_was_received() {
    let ahead = format!("{BOOK}received 2026-01-29 from \"Jo\"\n    20.00 for order \"W-9\"\n");
    let told = traced(&ahead, "order/W-9").expect_err("no sale yet").0;
    assert_eq!(
        told,
        "the order `W-9` is not sold yet, so no goods can be followed; received for it: 20.00 on 2026-01-29; its sale will say `order \"W-9\"`"
    );
}

#[test]
fn a_lot_that_is_not_said_is_asked_for_with_the_lots_that_there_are() {
    let told = |asked: &str| traced(BOOK, asked).expect_err("it says no lot").0;
    assert_eq!(
        told("lot/oak"),
        "`lot/oak` does not say which lot of `oak`; it has 2 lots, the newest first: `lot/oak/O-2`, `lot/oak/2026-01-02`; `thing/oak` follows all of them"
    );
    assert_eq!(told("lot/oak/"), told("lot/oak"));
    assert_eq!(
        told("lot/oak/O-3"),
        "there is no lot `O-3` of `oak`; did you mean `O-2`?; it has 2 lots, the newest first: `lot/oak/O-2`, `lot/oak/2026-01-02`; \
         `thing/oak` follows all of them"
    );
    assert!(told("lot/oka").ends_with("`lot/oka`; did you mean `oak`?"), "{}", told("lot/oka"));
    // Of a code alone, as a name that stands for several is told to be asked for.
    assert_eq!(trace("lot/O-2").is, "lot oak/O-2");
    let unused = BOOK.replace("product peg", "product top \"Top\"\nproduct peg");
    let told = traced(&unused, "top").expect_err("none was ever made");
    assert_eq!(told.0, "no lot of `top` ever came, so there is nothing to follow");
    // Of many lots the newest are told.
    let mut many = BOOK.to_owned();
    for day in 1..=20 {
        many.push_str(&format!("bought 2026-02-{day:02} from yard\n    1 bf oak for 5.00\n"));
    }
    let told = traced(&many, "lot/oak").expect_err("it says no lot");
    assert!(
        told.0.contains("it has 22 lots, the newest 12 of them are `lot/oak/2026-02-20`, `lot/oak/2026-02-19`"),
        "{}",
        told.0
    );
    assert!(told.0.contains("`lot/oak/2026-02-09`; ") && !told.0.contains("2026-02-08"), "{}", told.0);
}

#[test]
fn from_a_pool_each_piece_still_has_its_lot() {
    let pooled = BOOK.replace("    currency USD\n", "    currency USD\n    costing average\n");
    let report = traced(&pooled, "O-2").expect("it stands for one thing");
    assert_eq!(said(&report.went_to)[1], "  1 bf oak used on 2026-01-05 by batch A");
}

#[test]
fn the_record_of_goods_for_children_says_what_is_in_them_and_what_is_missing() {
    let records = trace("B").records.expect("carts are for children");
    assert!(records.caution.contains("does not decide whether a product is safe or lawful"));
    let [record] = records.records.as_slice() else { panic!("{records:#?}") };
    assert_eq!((record.batch.as_str(), record.product.as_str(), record.age.as_str()), ("B", "cart", "from 18 months"));
    assert_eq!((record.first.as_str(), record.last.as_str(), record.pieces.as_str()), ("2026-01-06", "2026-01-06", "2"));
    // Five years from the last piece, by the data of records.
    assert_eq!(record.keep_until.as_deref(), Some("2031-01-06"));
    assert_eq!(record.label, ["Wren & Gable Woodshop", "Cart, made 2026-01", "batch B"]);
    let lots: Vec<&str> = record.materials.iter().map(|one| one.lot.as_str()).collect();
    assert_eq!(lots, ["oak/2026-01-02", "oil/26-01", "oak/O-2"]);
    assert!(record.missing.iter().all(|line| !line.contains("oil/26-01")), "{:#?}", record.missing);
    // Of a batch of wheels, which are for nobody in particular, there is no record.
    assert!(trace("A").records.is_none());
}

#[test]
fn a_finish_without_a_certificate_and_an_offcut_of_unknown_source_are_missing() {
    let found = "found 2026-01-04\n    1 bf oak-offcut\nbuilt 2026-01-06 batch B\n    used 0.2 bf oak-offcut\n";
    let text = BOOK.replace(", certificate \"certs/oil.pdf\"", "").replace("built 2026-01-06 batch B\n", found);
    let records = traced(&text, "B").expect("it stands for one thing").records.expect("carts are for children");
    let missing = &records.records[0].missing;
    assert!(missing.iter().any(|line| line.starts_with("no certificate stands with lot `oil/26-01`")), "{missing:#?}");
    assert!(missing.iter().any(|line| line.starts_with("the source is unknown of lot `oak-offcut/2026-01-04`")), "{missing:#?}");
}

#[test]
fn an_order_says_what_of_it_came_back_and_what_became_of_that() {
    // Both carts are sold with one order; one comes back to stock, the other is scrapped.
    let text = BOOK
        .replace("sold 2026-01-20 via gift-shop\n    1 cart at 40.00\n", "")
        .replace("sent 2026-01-08 to gift-shop\n    1 cart\n", "");
    let text = text.replace("    1 cart at 45.00\n", "    2 cart at 45.00\n").replace(
        "    1 cart, refunded 45.00, back to stock\n",
        "    1 cart, refunded 45.00, back to stock\n    1 cart, refunded 45.00, scrapped\n",
    );
    for asked in ["W-1", "buyer/J. in Dover"] {
        let report = traced(&text, asked).expect("it stands for one thing");
        let lines = said(&report.went_to);
        assert_eq!(lines[1], "  2 cart sold on 2026-01-21 with order W-1 via web to J. in Dover", "{lines:#?}");
        assert_eq!(lines[2], "  1 cart came back on 2026-01-28 from order W-1 via web");
        assert!(lines[3].starts_with("    back in stock as lot cart/B"), "{lines:#?}");
        assert_eq!(lines[4..], ["  1 cart came back on 2026-01-28 from order W-1 via web", "    1 cart scrapped on 2026-01-28"]);
        let [order] = report.orders.as_slice() else { panic!("{:#?}", report.orders) };
        assert_eq!((order.order.as_str(), order.sold.as_str(), order.came_back.as_str()), ("W-1", "2", "2"));
        let [gone] = report.gone.as_slice() else { panic!("{:#?}", report.gone) };
        assert_eq!((gone.how.as_str(), gone.quantity.as_str(), gone.lot.as_str()), ("scrapped", "1", "cart/B"));
        let text = kerfbook::render::text::text_trace(&report, kerfbook::render::text::Look::default());
        assert!(text.replace('\n', " ").contains("through 2 batches; of 2 cart, 2 came back."), "{text}");
    }
}

#[test]
fn what_a_batch_that_is_not_done_used_is_on_the_bench() {
    // Of the six wheels four are in the carts, one is taken home, one is in batch D.
    let text = format!("{BOOK}started 2026-01-30 batch D\n    used 1 wheel\n    aims at 2 peg\n");
    let on_bench = |report: &TraceReport| {
        let in_batch = report.on_hand.iter().filter(|one| one.batch.is_some());
        in_batch.map(|one| (one.lot.clone(), one.quantity.clone(), one.batch.clone())).collect::<Vec<_>>()
    };
    let wheel = ("wheel/A".to_owned(), "1".to_owned(), Some("D".to_owned()));
    for asked in ["O-2", "D", "A"] {
        let report = traced(&text, asked).expect("it stands for one thing");
        assert_eq!(on_bench(&report), std::slice::from_ref(&wheel), "{asked}");
    }
    let report = traced(&text, "D").expect("it stands for one thing");
    assert_eq!(said(&report.went_to), ["1 wheel of lot wheel/A on the bench in batch D, which is not done"]);
    let lines = said(&traced(&text, "O-2").expect("it stands for one thing").went_to);
    assert!(
        lines.iter().any(|line| line.ends_with("1 wheel used on 2026-01-30 by batch D, which is on the bench")),
        "{lines:#?}"
    );
    // One of the two is done: nobody knows whose part of the wheel is in it.
    let part = format!("{text}finished 2026-01-31 batch D\n    made 1 peg\n");
    let report = traced(&part, "D").expect("it stands for one thing");
    assert_eq!(on_bench(&report), [wheel]);
    assert!(said(&report.went_to).iter().any(|line| line.contains("or in what it gave so far")), "{report:#?}");
    // A part of what it used has left with the pieces that are done, so nobody is told that all of it is there.
    let bench: Vec<&str> = report.on_hand.iter().filter(|left| left.batch.is_some()).map(|left| left.place.as_str()).collect();
    assert!(!bench.is_empty() && bench.iter().all(|place| *place == "on the bench or in what it gave so far"), "{bench:?}");
    // All of it is done.
    let done = format!("{text}finished 2026-01-31 batch D\n    made 2 peg\n");
    assert!(on_bench(&traced(&done, "D").expect("it stands for one thing")).is_empty());
}

#[test]
fn a_panel_and_a_finish_are_asked_for_where_they_are_one_and_else_asked_about() {
    let defined = "material felt \"Wool felt\"\n    measured in sq ft\nmaterial birch \"Birch plywood\"\n    measured in sq ft\n\
        material sand \"Sand\"\n    measured in g\nmaterial wax \"Wax\"\n    measured in g\nmaterial log \"Log\"\n    measured in cu ft\n";
    let came = "bought 2026-01-04 from yard\n    1 sq ft felt for 1.00\n    1 sq ft birch for 1.00\n    1 g sand for 1.00\n    \
        1 g wax for 1.00\n    1 cu ft log for 1.00\n";
    let used = "    used 1 sq ft felt, 1 sq ft birch, 1 g sand, 1 g wax, 1 cu ft log\n    made 2 cart\n";
    let text = BOOK.replace("product wheel", &format!("{defined}product wheel"));
    let text = text.replace("built 2026-01-05 batch A\n", &format!("{came}built 2026-01-05 batch A\n"));
    let text = text.replace("    made 2 cart\n", used);
    let missing =
        &traced(&text, "B").expect("it stands for one thing").records.expect("carts are for children").records[0].missing;
    let begins = |begin: &str| missing.iter().any(|line| line.starts_with(begin));
    assert!(begins("if lot `felt/2026-01-04` is a panel, its certificate or label is missing"), "{missing:#?}");
    assert!(begins("no label facts stand with panel `birch/2026-01-04`"), "{missing:#?}");
    assert!(begins("if lot `sand/2026-01-04` is a coating, oil, paint or glue, its certificate"), "{missing:#?}");
    assert!(begins("no certificate stands with lot `wax/2026-01-04`"), "{missing:#?}");
    assert!(missing.iter().all(|line| !line.contains("log/")), "{missing:#?}");
}

#[test]
fn a_jig_is_traced_by_its_name_to_the_batches_that_made_it() {
    // Batch J takes a foot of oak for a jig; a saw was bought.
    let tools = "tool axle-jig \"Axle jig\"\n    expensed at once\ntool saw \"Saw\"\n    expensed at once\nbought 2026-01-08 from yard receipt \"Y-9\"\n    1 saw for 90.00\n";
    let text = format!("{BOOK}{tools}built 2026-01-09 batch J\n    used 1 bf oak\n    made 1 axle-jig\n");
    for asked in ["axle-jig", "tool/axle-jig"] {
        let report = traced(&text, asked).expect("it stands for one thing");
        assert_eq!(report.is, "axle-jig, made in batch J");
        assert_eq!(said(&report.came_from), ["1 bf oak, bought on 2026-01-03 from yard, receipt Y-2"]);
        assert_eq!(said(&report.went_to), ["1 axle-jig made on 2026-01-09 as a tool of the shop"]);
    }
    let told = traced(&text, "saw").expect_err("no batch made it");
    assert!(told.0.starts_with("`saw` is a tool that no batch made"), "{}", told.0);
    let two = format!("{text}built 2026-01-10 batch K\n    used 1 bf oak\n    made 1 axle-jig\n");
    let told = traced(&two, "axle-jig").expect_err("two batches made it");
    assert!(told.0.contains("`batch/J` (axle-jig, made in batch J), `batch/K`"), "{}", told.0);
}

#[test]
fn a_label_has_the_town_where_the_place_of_making_says_it() {
    let record = |text: &str| {
        traced(text, "B").expect("it stands for one thing").records.expect("carts are for children").records[0].clone()
    };
    let of_town = record(&BOOK.replace("place bench \"Bench\"", "place bench \"Workshop, Troy, New York, USA\""));
    assert_eq!(of_town.label, ["Wren & Gable Woodshop", "Cart, made 2026-01", "Workshop, Troy, New York, USA", "batch B"]);
    assert!(of_town.missing.iter().all(|line| !line.contains("town")), "{:#?}", of_town.missing);
    let missing = record(BOOK).missing;
    assert!(missing.iter().any(|line| line.contains("`place bench \"Workshop, Troy, New York, USA\"`")), "{missing:#?}");
    assert!(missing.iter().any(|line| line.contains("`file \"…\"` in an entry of the batch")), "{missing:#?}");
}

#[test]
fn a_record_lists_the_papers_of_its_batches_and_of_its_product() {
    let text = BOOK
        .replace("    for children from 18 months\n", "    for children from 18 months\n    file \"certs/cart.pdf\"\n")
        .replace("    made 2 cart\n", "    made 2 cart\n    note \"two wheels turned anew\"\n    file \"tests/b.pdf\"\n")
        .replace("    made 6 wheel\n", "    made 6 wheel\n    file \"tests/a.pdf\"\n");
    let records = traced(&text, "B").expect("it stands for one thing").records.expect("carts are for children");
    let papers: Vec<_> = records.records[0]
        .papers
        .iter()
        .map(|one| (one.of.as_str(), one.date.as_deref(), one.file.as_deref(), one.note.as_deref()))
        .collect();
    assert_eq!(
        papers,
        [
            ("product cart", None, Some("certs/cart.pdf"), None),
            ("batch B", Some("2026-01-06"), None, Some("two wheels turned anew")),
            ("batch B", Some("2026-01-06"), Some("tests/b.pdf"), None),
            ("batch A", Some("2026-01-05"), Some("tests/a.pdf"), None),
        ]
    );
    assert!(records.records[0].missing.iter().any(|one| one.contains("the book does not know")));
    assert!(trace("B").records.expect("carts are for children").records[0].papers.is_empty());
}

#[test]
fn a_lot_of_a_batch_that_is_called_by_its_product_and_day_is_called_so_too() {
    let text = BOOK.replace("built 2026-01-06 batch B\n", "built 2026-01-06\n");
    let by_thing = traced(&text, "thing/cart").expect("it stands for one thing");
    assert_eq!(by_thing.is, "lot cart/2026-01-06");
    assert_eq!(by_thing.came_from[0].figure.as_deref(), Some("lot/cart/2026-01-06"));
    assert_eq!(traced(&text, "lot/cart/2026-01-06").map(|one| one.is), Ok("lot cart/2026-01-06".to_owned()));
    // As the book calls the batch, and as figures do.
    for asked in ["cart/2026-01-06", "batch/cart/2026-01-06", "batch/cart_2026-01-06"] {
        assert_eq!(traced(&text, asked).map(|one| one.is), Ok("batch cart/2026-01-06".to_owned()), "{asked}");
    }
}
