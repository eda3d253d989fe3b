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
        assert_eq!((by.needed.as_str(), by.fits), ("128", Some(fits)));
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

/// A tray takes 10 min sawing and 20 min packing by its recipe, and 1 bf. T1 made five: 100 min of sawing, 40 of them Sam's at 18.00 an hour
/// (12.00), 50 min of packing, and 6 bf. So a tray takes 20 min sawing, 8 of them Sam's for 2.40, 10 min packing and 1.2 bf.
const HELPED: &str = "\
helper sam \"Sam\"
    contractor
    costs 18.00 per h
product tray \"Tray\"
    needs 1 bf maple
    takes 10m sawing, 20m packing
bought 2026-01-02 from yard
    30 bf maple for 150.00
built 2026-01-05 batch T1
    used 6 bf maple
    took 1h sawing, 40m sawing by sam, 50m packing
    made 5 tray
";

#[test]
fn what_helpers_did_in_the_last_batches_is_their_time_and_not_yours() {
    // Ten trays: 200 min sawing, of them Sam's 80, and 100 min packing: 220 are yours, and at an hour a day they want the fourth day. Of a tray
    // 6.00 is maple, 2.40 Sam's, and 22 min at 0.40 are 8.80.
    let text = format!("{SHOP}{HELPED}");
    let report = plan(&text, &[("tray", 10)], Some(("2026-02-01", "2026-02-03")));
    let sawing = report.steps.iter().find(|step| step.name == "sawing").expect("worked");
    assert_eq!([&sawing.planned, &sawing.expected, &sawing.by_helpers].map(String::as_str), ["100", "200", "80"]);
    assert_eq!((report.own_minutes.as_str(), report.helper_minutes.as_str()), ("220", "80"));
    let unit = &report.costs[0].per_unit;
    let parts = [&unit.materials, &unit.bought_in_time, &unit.paid, &unit.own_time, &unit.full].map(String::as_str);
    assert_eq!(parts, ["6.00", "2.40", "8.40", "8.80", "17.20"]);
    assert_eq!(report.costs[0].minutes_per_unit, "22");
    let by = report.by.as_ref().expect("asked");
    assert_eq!((by.there_are.as_str(), by.needed.as_str(), by.fits), ("180", "220", Some(false)));
    told(&report, "80 min are counted as helpers'");
    assert_eq!(plan(&text, &[("tray", 10)], Some(("2026-02-01", "2026-02-04"))).by.expect("asked").fits, Some(true));
    // Nobody helps with what nobody has made yet.
    let report = plan(&format!("{SHOP}{OPEN}"), &[("stool", 4)], None);
    assert_eq!(report.helper_minutes, "0");
    assert!(!report.notes.iter().any(|note| note.contains("helper")), "{:#?}", report.notes);
}

#[test]
fn finishing_an_open_batch_takes_as_the_last_batches_took() {
    // T2 aims at ten trays: they take 12 bf, 200 min sawing (two fifths of them Sam's) and 100 min packing. It has used 5 bf and taken 150 min of
    // sawing: 7 bf, 50 min sawing (20 of them Sam's, 6.00) and 100 min packing are to come. By the recipe it would be 5 bf, no sawing and 200 min packing.
    // A shelf needs one tray and takes 12 min packing; five take half of this: 3.5 bf, 25 min sawing (Sam's 10) and 50 min packing, and 60 min packing.
    let text = format!(
        "{SHOP}{HELPED}product shelf \"Shelf\"\n    needs 1 tray\n    takes 12m packing\nsold 2026-01-06 via web\n    5 tray for 50.00\nchannel web \"Web\"\n\
         started 2026-01-07 batch T2\n    aims at 10 tray\n    used 5 bf maple\n    took 2h 30m sawing\n"
    );
    let report = plan(&text, &[("shelf", 5)], None);
    let [open] = report.finishing.as_slice() else { panic!("one batch") };
    let figures = [&open.pieces, &open.materials[0].quantity, &open.minutes, &open.by_helpers].map(String::as_str);
    assert_eq!(figures, ["5", "3.5", "75", "10"]);
    assert_eq!((report.own_minutes.as_str(), report.helper_minutes.as_str()), ("125", "10"));
    let step = |name: &str| {
        let step = report.steps.iter().find(|step| step.name == name).expect("worked");
        [step.planned.clone(), step.expected.clone()]
    };
    assert_eq!((step("sawing"), step("packing")), (["0", "25"].map(str::to_owned), ["160", "110"].map(str::to_owned)));
    let maple = report.materials.iter().find(|one| one.name == "maple").expect("needed");
    assert_eq!([&maple.by_recipe, &maple.needed, &maple.learnt_from].map(String::as_str), ["2.5", "3.5", "the last batches"]);
    // A shelf: half of the 25.00 of maple and of the 60.00 (150 min) that T2 holds, with 17.50, 3.00 and 65 min + 60 min at 0.40, over five.
    let unit = &report.costs[0].per_unit;
    let parts = [&unit.materials, &unit.bought_in_time, &unit.own_time].map(String::as_str);
    assert_eq!(parts, ["6.00", "0.60", "16.00"]);
}

/// A house and a tree of one board, 3 to 1; a village needs two houses. H1 made them together. H2 aims at six houses and six trees and holds 24.00 of maple.
fn village(share: (&str, &str), end: &str, more: &str) -> String {
    format!(
        "{SHOP}product house \"House\"\n    needs 1 bf maple\n    price 9.00\nproduct tree \"Tree\"\n    needs 1 bf maple\n    price 1.00\n\
         product village \"Village\"\n    needs 2 house\nbought 2026-01-02 from yard\n    40 bf maple for 80.00\nbuilt 2026-01-03 batch H1\n\
         \x20   used 2 bf maple\n    made 1 house{}, 1 tree{}\n{end}started 2026-01-05 batch H2\n    aims at 6 house, 6 tree\n    used 12 bf maple\n{more}",
        share.0, share.1
    )
}

#[test]
fn what_a_joint_batch_holds_is_shared_as_its_pieces_share_it() {
    // Two villages take four houses, one of which H1 left (H1 holds 4.00: 3.00 the house, 1.00 the tree), three of H2's six. H2's 24.00 go by
    // 6·3 + 6·1 = 24 shares: a house is 3.00. Two villages: 3.00 + 9.00, 6.00 each.
    let by_share = village((", share 3", ", share 1"), "", "");
    assert_eq!(plan(&by_share, &[("village", 2)], None).costs[0].per_unit.materials, "6.00");
    // By price: 9 to 1. H1's house is 3.60, and a house of H2 24.00 · 9 / 60 = 3.60.
    let by_price = village(("", ""), "    shared by price\n", "");
    assert_eq!(plan(&by_price, &[("village", 2)], None).costs[0].per_unit.materials, "7.20");
    // What H2 itself says goes before: two houses and two trees took 1 to 1, 2.00 each, so 16.00 are left for four and four. Three houses are there (H1's at
    // 3.00), one comes of H2 at 2.00: 3.00 + 4.00 + 2.00 over two villages.
    let own = village(
        (", share 3", ", share 1"),
        "",
        "finished 2026-01-06 batch H2\n    made 2 house, share 1\n    made 2 tree, share 1\n",
    );
    assert_eq!(plan(&own, &[("village", 2)], None).costs[0].per_unit.materials, "4.50");
}

#[test]
fn what_is_asked_for_and_lies_on_the_bench_as_a_part_is_told() {
    // Two stools take six legs of L1; four legs are asked for and built beside. A leg from the bench: 11.25 + 12.00 + 3.75 + 12.00 over six, 6.50; a
    // new one: 0.5 bf at 5.00 and 10 min at 0.40, 6.50.
    let report = plan(&format!("{SHOP}{OPEN}"), &[("leg", 4), ("stool", 2)], None);
    assert_eq!((report.builds[0].to_build.as_str(), report.costs[0].per_unit.full.as_str()), ("4", "6.50"));
    told(&report, "one is expected to cost the mean of the 4 good ones expected of those begun and the 6 from the bench");
}

/// A box needs four sides, and a side 1 bf of maple at 1.00. Of forty sides that S1 began four were lost: 10 %. S2 aims at forty, and twenty are done: of
/// its 40.00 they took 20/40.
const SIDES: &str = "\
product side \"Side\"
    needs 1 bf maple
product box \"Box\"
    needs 4 side
bought 2026-01-02 from yard
    100 bf maple for 100.00
built 2026-01-05 batch S1
    used 40 bf maple
    made 36 side
    lost 4 side
started 2026-01-10 batch S2
    aims at 40 side
    used 40 bf maple
finished 2026-01-12 batch S2
    made 20 side
";

/// What a plan says of sides: on the bench, to build, to begin.
fn sides(report: &PlanReport) -> [&str; 3] {
    let side = report.builds.iter().find(|one| one.name == "side").expect("wanted");
    [&side.on_the_bench, &side.to_build, &side.to_begin].map(String::as_str)
}

#[test]
fn of_an_open_batch_as_many_good_pieces_are_expected_as_the_last_batches_gave() {
    // Of the forty that S2 began 40 · 36/40 = 36 are expected good, and twenty are done: sixteen are to come. 56 are on hand. Eighteen boxes take all
    // of these 72: 40.00 of S1, 20.00 of S2 and 20.00 of its bench, over eighteen.
    let text = format!("{SHOP}{SIDES}");
    let report = plan(&text, &[("box", 18)], None);
    assert_eq!(sides(&report), ["16", "0", "0"]);
    assert_eq!((report.finishing[0].pieces.as_str(), report.costs[0].per_unit.materials.as_str()), ("16", "4.444444"));
    told(
        &report,
        "16 Side are taken from the bench, where batch S2 is open and of its 20 pieces 16 are expected to come out good;",
    );
    // Nineteen boxes want four more: 4 / 0.9 = 4.4, so five are begun, of which 4.5 are expected. All that comes, 20.5, costs 20.00 and five feet; twenty of
    // it with the 60.00 on hand, over nineteen: (60.00 + 25.00 · 20/20.5) / 19.
    let report = plan(&text, &[("box", 19)], None);
    assert_eq!((sides(&report), report.costs[0].per_unit.materials.as_str()), (["16", "4", "5"], "4.441592"));
    // Two sides that are asked for beside the seventy-two want three begun, of which 2.7 are expected.
    let report = plan(&text, &[("side", 2), ("box", 18)], None);
    told(&report, "one is expected to cost the mean of the 2.7 good ones expected of those begun and the 16 from the bench");
    // Five were lost already: no more than the fifteen that are open can come. What was charged off was never to come: of 35 that are left to judge
    // 31.5, so 31, are expected good, and eleven are to come.
    let lost = |how: &str| format!("{}    lost 5 side{how}\n", text);
    assert_eq!(sides(&plan(&lost(""), &[("box", 18)], None))[0], "15");
    assert_eq!(sides(&plan(&lost(", charged off \"fire\""), &[("box", 18)], None))[0], "11");
    // Where nothing was lost, all that is open is expected.
    let none = text.replace("    made 36 side\n    lost 4 side\n", "    made 40 side\n");
    assert_eq!(sides(&plan(&none, &[("box", 18)], None))[0], "20");
}
