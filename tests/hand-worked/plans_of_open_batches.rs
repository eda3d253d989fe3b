//! What a run of builds would take where batches are open, licences run short, parts are made without a recipe, and hours change; worked by hand.

use chrono::NaiveDate;
use kerfbook::names::{ThingId, ThingKind};
use kerfbook::reports::{PlanAsked, PlanReport, report_plan};
use kerfbook::year::Books;
use rust_decimal::Decimal;

use crate::compiled::compile_texts;

const SHOP: &str = "\
shop \"Wren & Gable Woodshop\"
    currency USD
    owner time 24.00 per h
    hours 7 per week
place bench \"Bench\"
    home
step sawing \"Sawing\"
step packing \"Packing\"
material maple \"Maple\"
    measured in bf
";

fn plan(text: &str, asked: &[(&str, i64)], by: Option<(&str, &str)>) -> PlanReport {
    let compiled = compile_texts(&[("book.kerf", text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let thing = |name: &str| {
        let is = |thing: &kerfbook::names::Thing| thing.named.name == name && thing.kind == ThingKind::Product;
        let at = compiled.book.things.iter().position(is).expect("defined");
        ThingId(u32::try_from(at).expect("few"))
    };
    let day = |text: &str| text.parse::<NaiveDate>().expect("a day");
    let asked = PlanAsked {
        builds: asked.iter().map(|(name, count)| (thing(name), Decimal::from(*count))).collect(),
        by: by.map(|(from, by)| (day(from), day(by))),
    };
    let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &compiled.costed };
    report_plan(books, &asked).expect("a plan")
}

fn told(report: &PlanReport, words: &str) {
    assert!(report.notes.iter().any(|note| note.contains(words)), "{words}: {:#?}", report.notes);
}

/// A stool needs three legs, and 12 min of packing. A leg needs 0.5 bf and 10 min. Eight legs are open: 3 bf of the 4 that they need are used,
/// at 5.00, and 40 of their 80 min are worked, at 0.40 a minute.
const OPEN: &str = "\
product leg \"Leg\"
    needs 0.5 bf maple
    takes 10m sawing
product stool \"Stool\"
    needs 3 leg
    takes 12m packing
bought 2026-01-02 from yard
    4 bf maple for 20.00
started 2026-01-05 batch L1
    aims at 8 leg
    used 3 bf maple
    took 40m sawing
";

#[test]
fn parts_on_the_bench_cost_what_they_collected_and_what_finishing_them_takes() {
    // Two stools take six of the eight legs: 6/8 of the 15.00 and 16.00 that L1 collected, of 1 bf and of 40 min: 11.25, 12.00, 0.75 bf (3.75), 30 min
    // (12.00). Packing is 24 min (9.60). Materials 15.00 / 2, own time 33.60 / 2; minutes (6/8 of 40 + 30 + 24) / 2.
    let report = plan(&format!("{SHOP}{OPEN}"), &[("stool", 2)], None);
    let unit = &report.costs[0].per_unit;
    assert_eq!((unit.materials.as_str(), unit.own_time.as_str()), ("7.50", "16.80"));
    assert_eq!(report.costs[0].minutes_per_unit, "42");
    assert_eq!(report.own_minutes, "54");
    let maple = report.materials.iter().find(|one| one.name == "maple").expect("needed");
    assert_eq!((maple.needed.as_str(), maple.on_hand.as_str(), maple.short.as_str()), ("0.75", "1", "0"));
    let [open] = report.finishing.as_slice() else { panic!("one batch") };
    let figures = (open.batch.as_str(), open.pieces.as_str(), open.minutes.as_str());
    assert_eq!((figures, open.materials[0].quantity.as_str()), (("L1", "6", "30"), "0.75"));
    told(&report, "6 Leg are taken from the bench, where batch L1 is open");
}

#[test]
fn what_finishing_takes_counts_in_the_hours_by_a_day() {
    // An hour a day. Four stools: all eight legs are taken (40 min), four more are built (40 min), 48 min of packing: 128 min.
    let text = format!("{SHOP}{OPEN}");
    for (last, fits) in [("2026-02-02", false), ("2026-02-03", true)] {
        let by = plan(&text, &[("stool", 4)], Some(("2026-02-01", last))).by.expect("asked");
        assert_eq!((by.needed.as_str(), by.fits), ("128", fits));
    }
}

#[test]
fn a_part_of_an_open_batch_wants_the_parts_that_it_still_lacks() {
    // A bench needs two stools. T1 aims at two stools and has used two of their six legs: four more are wanted, and L1's eight are open.
    let more = "product seat \"Seat\"\n    needs 2 stool\nopened 2026-01-01\n    2 leg for 4.00\n\
                started 2026-01-06 batch T1\n    aims at 2 stool\n    used 2 leg\n";
    let report = plan(&format!("{SHOP}{OPEN}{more}"), &[("seat", 1)], None);
    let leg = report.builds.iter().find(|one| one.name == "leg").expect("wanted");
    assert_eq!((leg.for_parts.as_str(), leg.to_build.as_str()), ("4", "0"));
    // 24 min of packing, and four of L1's eight: 20 min of sawing.
    assert_eq!(report.own_minutes, "44");
    let open: Vec<(&str, &str)> = report.finishing.iter().map(|one| (one.batch.as_str(), one.pieces.as_str())).collect();
    assert_eq!(open, [("L1", "4"), ("T1", "2")]);
}

#[test]
fn two_products_of_one_pattern_share_its_licences() {
    // A licence permits five pieces; 3 of 5 are left of one for 10.00. Two boxes and four trays need six: three take what is left (6.00), three a new
    // one at 2.00 a piece. Each build has its share: a box (6.00 + 6.00) / 6.
    let text = format!(
        "{SHOP}pattern lid \"Lid\"\n    allows 5 ea for sale\nproduct box \"Box\"\n    needs 1 bf maple\n    pattern lid\n\
         product tray \"Tray\"\n    needs 1 bf maple\n    pattern lid\nbought 2026-01-02 from yard\n    20 bf maple for 20.00\n\
         bought 2026-01-02 from designer\n    1 licence lid for 10.00\nbuilt 2026-01-03 batch B1\n    used 2 bf maple\n    made 2 box\n"
    );
    let report = plan(&text, &[("box", 2), ("tray", 4)], None);
    let royalties: Vec<&str> = report.costs.iter().map(|one| one.per_unit.royalty.as_str()).collect();
    assert_eq!(royalties, ["2.00", "2.00"]);
    let [lid] = report.licences.as_slice() else { panic!("one pattern") };
    assert_eq!([&lid.needed, &lid.left, &lid.short, &lid.buy].map(String::as_str), ["6", "3", "3", "1"]);
    assert_eq!(report.cash_needed, "10.00");
    // Where they go round, none is bought.
    let report = plan(&text, &[("tray", 3)], None);
    assert_eq!((report.licences[0].buy.as_str(), report.cash_needed.as_str()), ("0", "0.00"));
    assert_eq!(report.costs[0].per_unit.royalty, "2.00");
}

#[test]
fn what_was_never_bought_is_counted_and_what_was_made_here_costs_as_it_did_last() {
    // Ten pegs were made of 2 bf (10.00), 1.00 each, and used up. A toy needs three pegs, and a bell that was never bought.
    let text = format!(
        "{SHOP}material peg \"Peg\"\n    measured in ea\nmaterial bell \"Bell\"\n    measured in ea\nproduct toy \"Toy\"\n    needs 3 peg, 1 bell\n\
         bought 2026-01-02 from yard\n    4 bf maple for 20.00\nbuilt 2026-01-03 batch P1\n    used 2 bf maple\n    made 10 peg\n\
         used-up 2026-01-04\n    10 peg\n"
    );
    let report = plan(&text, &[("toy", 4)], None);
    let buys: Vec<&str> = report.buys.iter().map(|one| one.name.as_str()).collect();
    assert_eq!((buys, report.unpriced), (vec!["bell"], 1));
    let [peg] = report.makes.as_slice() else { panic!("one") };
    let figures = [&peg.name, &peg.short, &peg.batch, &peg.last_made, &peg.unit_cost].map(String::as_str);
    assert_eq!(figures, ["peg", "12", "P1", "2026-01-03", "1.00"]);
    assert_eq!(report.costs[0].per_unit.materials, "3.00");
    told(&report, "made here and without a recipe");
}

#[test]
fn the_hours_of_a_week_change_on_their_day() {
    // From the 25th of February to the 5th of March: four days of an hour, then five days of two: 14 h.
    let text = format!("{SHOP}{OPEN}changed 2026-03-01 shop\n    hours 14 per week\n");
    let by = plan(&text, &[("stool", 1)], Some(("2026-02-25", "2026-03-05"))).by.expect("asked");
    assert_eq!((by.there_are.as_str(), by.hours_per_week.as_str()), ("840", "7"));
}

#[test]
fn an_offcut_serves_as_far_as_the_plan_does_not_take_it_and_for_children_only_where_its_source_is_known() {
    // 3 bf of offcut: 1 was kept, 2 were found. A badge takes 0.5 of it.
    let book = |age: &str| {
        format!(
            "{SHOP}material scrap \"Scrap\"\n    measured in bf\n    from maple\nproduct badge \"Badge\"\n    needs 0.5 bf scrap, 1 bf maple\n{age}\
             bought 2026-01-02 from yard\n    9 bf maple for 45.00\nbuilt 2026-01-03 batch B1\n    used 2 bf maple\n    made 1 badge\n    kept 1 bf scrap worth 1.00\n\
             found 2026-01-04\n    2 bf scrap\n"
        )
    };
    let serves = |report: &PlanReport| report.offcuts.iter().map(|one| one.on_hand.clone()).collect::<Vec<_>>();
    assert_eq!(serves(&plan(&book(""), &[("badge", 1)], None)), ["2.5"]);
    assert_eq!(serves(&plan(&book(""), &[("badge", 6)], None)), Vec::<String>::new());
    assert_eq!(serves(&plan(&book("    for children from 3 years\n"), &[("badge", 1)], None)), ["0.5"]);
}

#[test]
fn what_is_there_costs_as_the_oldest_of_it_where_these_go_first() {
    // 4 bf at 5.00 and 6 at 10.00; three legs at 2 bf each take the first four and two of the others: 40.00. At the mean of 8.00 they are 48.00.
    let book = |method: &str| {
        let shop = SHOP.replace("    currency USD\n", &format!("    currency USD\n{method}"));
        format!(
            "{shop}product leg \"Leg\"\n    needs 2 bf maple\nbought 2026-01-02 from yard\n    4 bf maple for 20.00\nbought 2026-01-03 from yard\n    6 bf maple for 60.00\n"
        )
    };
    for (method, materials) in [("    costing fifo\n", "13.333333"), ("    costing average\n", "16.00")] {
        assert_eq!(plan(&book(method), &[("leg", 3)], None).costs[0].per_unit.materials, materials);
    }
}
