//! What a run of builds would take, worked by hand.
//!
//! A set needs four blocks, a bag and 10 ml of oil, and takes 12 min of packing; a block needs 0.5 bf of maple and takes 6 min of sawing. Four
//! batches taught: blocks B1 (8 good, 2 lost, 6 bf, 60 min) and B2 (10 good, none lost, 5 bf, 50 min); sets S1 (2 good, 8 blocks, 24 ml, 30 min).
//! So of 20 blocks begun 2 were lost: 10 %; 11 bf were used where the recipe allows 10 for what was begun; 110 min for 18 good ones.
//!
//! Six sets are asked for. Each needs four blocks: 24, of which 10 are on hand (18 made, 8 used) and none is on the bench: 14 to build, 14 / 0.9
//! = 15.6, so 16 to begin, of which 16 · 0.9 = 14.4 are expected good. These need 16 · 0.5 · 11/10 = 8.8 bf, and 110 · 16/20 = 88 min (110 min for 20
//! begun); at their best (50 min for ten) 80.
//! Sets: oil 6 · 10 · 24/20 = 72 ml, six bags, packing 6 · 15 = 90 min. On hand are 1 bf of maple (12 − 11), 26 ml of oil, 1 bag.
//! Short: 7.8 bf, bought by boards of 2 bf: 4 boards of 8.00, one with a quarter of the freight; 46 ml, in cans of 50; 5 bags, in packs of 4: 2.

use chrono::NaiveDate;
use kerfbook::costing::{CostOptions, cost_book};
use kerfbook::diagnostics::Diagnostics;
use kerfbook::reports::{
    Derived, FigureName, HowDeep, PlanAsked, PlanFault, PlanReport, WhyReport, WhyStep, report_plan, report_why,
};
use kerfbook::year::Books;
use rust_decimal::Decimal;

use crate::compiled::{Compiled, compile_texts};

const BOOK: &str = "\
shop \"Wren & Gable Woodshop\"
    currency USD
    owner time 24.00 per h
    overhead 6.00 per h
    hours 7 per week
place bench \"Bench\"
    home
place shed \"Shed\"
step sawing \"Sawing\"
    wears 1 blade per 30 min
step packing \"Packing\"
step sweeping \"Sweeping\"
    indirect
material maple \"Maple\"
    measured in bf
material maple-offcut \"Maple offcut\"
    measured in bf
    from maple
material oil \"Oil\"
    measured in ml
    1 can = 50 ml
material bag \"Bag\"
    measured in ea
    1 pack = 4 ea
material blade \"Blade\"
    measured in ea
    as wear
pattern set-plan \"Plan of the set\"
    royalty 0.50 per ea
product block \"Block\"
    needs 0.5 bf maple
    takes 6m sawing
product block-set \"Set of blocks\"
    needs 4 block, 1 bag, 10 ml oil
    takes 12m packing
    pattern set-plan
opened 2026-01-01
    2 bf maple-offcut for 4.00
    10 blade for 10.00
bought 2026-01-02 from yard receipt \"Y-1\"
    6 boards maple, 4/4 x 6 x 48 in, for 48.00
    freight 12.00
bought 2026-01-03 from \"Tansy Hardware\"
    1 can oil for 5.00
    1 pack bag for 8.00
built 2026-01-05 batch B1
    used 6 bf maple
    took 60m sawing
    made 8 block
    lost 2 block \"split\"
built 2026-01-06 batch B2
    used 5 bf maple
    took 50m sawing
    made 10 block
built 2026-01-07 batch S1
    used 8 block, 2 bag, 24 ml oil
    took 30m packing
    made 2 block-set
used-up 2026-01-07
    1 bag
worked 2026-01-08
    14m sweeping
";

fn compiled(text: &str) -> Compiled {
    let compiled = compile_texts(&[("book.kerf", text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    compiled
}

fn planned(compiled: &Compiled, asked: &[(&str, i64)], by: Option<(&str, &str)>) -> Result<PlanReport, PlanFault> {
    let thing = |name: &str| {
        let at = compiled.book.things.iter().position(|thing| thing.named.name == name).expect("defined");
        kerfbook::names::ThingId(u32::try_from(at).expect("few"))
    };
    let day = |text: &str| text.parse::<NaiveDate>().expect("a day");
    let asked = PlanAsked {
        builds: asked.iter().map(|(name, count)| (thing(name), Decimal::from(*count))).collect(),
        by: by.map(|(from, by)| (day(from), day(by))),
    };
    let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &compiled.costed };
    report_plan(books, &asked)
}

fn six_sets() -> PlanReport {
    planned(&compiled(BOOK), &[("block-set", 6)], None).expect("a plan")
}

#[test]
fn parts_are_held_against_the_shelf_and_what_is_lost_is_begun_beside() {
    let report = six_sets();
    let builds: Vec<[&str; 6]> = report
        .builds
        .iter()
        .map(|one| [&one.name, &one.for_parts, &one.on_hand, &one.to_build, &one.to_begin, &one.lost_percent].map(String::as_str))
        .collect();
    assert_eq!(builds, [["block", "24", "10", "14", "16", "10"], ["block-set", "0", "2", "6", "6", "0"]]);
    assert_eq!((report.builds[0].learnt_from_batches, report.builds[0].expected_good.as_str()), (2, "14.4"));
    assert!(report.notes.iter().any(|note| note.starts_with("of 16 Block begun 14.4 are expected")), "{:#?}", report.notes);
}

#[test]
fn materials_are_as_the_last_batches_used_them_and_bought_in_whole_packs() {
    let report = six_sets();
    let needs: Vec<[&str; 5]> = report
        .materials
        .iter()
        .map(|one| [&one.name, &one.by_recipe, &one.needed, &one.on_hand, &one.short].map(String::as_str))
        .collect();
    // Blades: 88 min at one for 30 min. By recipe: maple 16 · 0.5, for all that are begun; oil 6 · 10.
    assert_eq!(
        needs,
        [
            ["bag", "6", "6", "1", "5"],
            ["blade", "2.933333333", "2.933333333", "6.333333333", "0"],
            ["maple", "8", "8.8", "1", "7.8"],
            ["oil", "60", "72", "26", "46"],
        ]
    );
    let buys: Vec<String> = report
        .buys
        .iter()
        .map(|one| {
            let from = one.supplier.as_deref().unwrap_or("nobody");
            format!("{} {} of {} from {from}: {}", one.packs, one.pack, one.name, one.cost.as_deref().unwrap_or("no price"))
        })
        .collect();
    // A board of 2 bf cost 8.00 and 2.00 of freight: 10.00.
    assert_eq!(
        buys,
        [
            "2 pack of bag from Tansy Hardware: 16.00",
            "1 can of oil from Tansy Hardware: 5.00",
            "4 board of maple from yard: 40.00",
        ]
    );
    // With 61.00 for these, and six royalties of 0.50.
    assert_eq!((report.cash_needed.as_str(), report.royalties.as_str()), ("64.00", "3.00"));
    let offcuts: Vec<&str> = report.offcuts.iter().map(|one| one.name.as_str()).collect();
    assert_eq!(offcuts, ["maple-offcut"]);
}

#[test]
fn what_was_bought_by_its_own_unit_is_bought_to_the_last_digit_though_that_unit_is_converted() {
    let text = BOOK
        .replace("    measured in bf\nmaterial maple-offcut", "    measured in bf\n    1 bf = 3.6 lb\nmaterial maple-offcut")
        .replace("    6 boards maple, 4/4 x 6 x 48 in, for 48.00\n", "    12.5 bf maple, counted 12 bf, for 48.00\n");
    let report = planned(&compiled(&text), &[("block-set", 6)], None).expect("a plan");
    let maple = report.buys.iter().find(|one| one.name == "maple").expect("short");
    assert_eq!((maple.short.as_str(), maple.packs.as_str(), maple.pack.as_str()), ("7.8", "7.8", "bf"));
}

#[test]
fn hours_are_planned_expected_and_at_their_best() {
    let report = six_sets();
    let steps: Vec<(&str, &str, &str, Option<&str>)> = report
        .steps
        .iter()
        .map(|one| (one.name.as_str(), one.planned.as_str(), one.expected.as_str(), one.best.as_deref()))
        .collect();
    // Planned for those begun: 16 · 6, and 6 · 12.
    assert_eq!(steps, [("packing", "72", "90", Some("90")), ("sawing", "96", "88", Some("80"))]);
    assert_eq!(report.own_minutes, "178");
}

#[test]
fn the_expected_cost_is_of_what_is_on_the_shelf_and_of_what_is_bought_at_the_last_price() {
    let report = six_sets();
    let [cost] = report.costs.as_slice() else { panic!("one was asked for") };
    // Maple is 5.00 a foot wherever it comes from. The ten blocks on hand: 11 bf for 18 good ones, 55.00, less the 8 used, oldest first (B1: 6 bf
    // for 8, 30.00), leave B2's ten for 25.00, with 1.666667 of wear, 20.00 of own time and 5.00 of overhead. The sixteen begun: 8.8 bf 44.00,
    // wear 2.933333, own time 35.20, overhead 8.80, over 14.4 good ones; of these the sets have fourteen: 42.777778, 2.851852, 34.222222 and
    // 8.555556. Oil 72 ml at 0.10: 7.20; six bags at 2.00: 12.00. Packing 90 min: own time 36.00, overhead 9.00. Royalty 3.00.
    // Materials 25 + 42.777778 + 7.20 + 12 = 86.977778 over 6.
    assert_eq!(cost.per_unit.materials, "14.496296");
    assert_eq!(cost.per_unit.royalty, "0.50");
    // (1.666667 + 2.851852) / 6 = 0.753087; (20 + 34.222222 + 36) / 6 = 15.037037; (5 + 8.555556 + 9) / 6 = 3.759259.
    assert_eq!((cost.per_unit.wear.as_str(), cost.per_unit.own_time.as_str()), ("0.753087", "15.037037"));
    assert_eq!(cost.per_unit.overhead, "3.759259");
    // (50 + 85.555556 + 90) / 6.
    assert_eq!(cost.minutes_per_unit, "37.592593");
}

#[test]
fn hours_fit_or_do_not_by_a_day_with_the_general_work_counted_in() {
    // 140 min at other steps and 14 of sweeping: 10 %. 178 · 1.1 = 195.8 are needed; an hour a day is 180 in three, 240 in four.
    let compiled = compiled(BOOK);
    let three = planned(&compiled, &[("block-set", 6)], Some(("2026-02-01", "2026-02-03"))).expect("a plan").by.expect("asked");
    assert_eq!((three.there_are.as_str(), three.needed.as_str(), three.fits), ("180", "195.8", Some(false)));
    let four = planned(&compiled, &[("block-set", 6)], Some(("2026-02-01", "2026-02-04"))).expect("a plan").by.expect("asked");
    assert_eq!(four.fits, Some(true));
}

#[test]
fn what_is_asked_for_twice_and_as_a_part_is_gathered() {
    // Two blocks asked for beside the sets' 24: 2 + 14 to build.
    let report = planned(&compiled(BOOK), &[("block", 2), ("block-set", 6)], None).expect("a plan");
    let block = &report.builds[0];
    assert_eq!((block.asked.as_str(), block.for_parts.as_str(), block.to_build.as_str()), ("2", "24", "16"));
}

#[test]
fn what_lies_elsewhere_is_named_and_not_counted() {
    let text = format!("{BOOK}sent 2026-01-09 to shed\n    4 block\n");
    let report = planned(&compiled(&text), &[("block-set", 6)], None).expect("a plan");
    let block = &report.builds[0];
    assert_eq!((block.on_hand.as_str(), block.elsewhere.as_str(), block.to_build.as_str()), ("6", "4", "18"));
}

#[test]
fn what_is_on_the_bench_counts_as_coming() {
    let text = format!("{BOOK}started 2026-01-09 batch B3\n    aims at 5 block\n    used 1 bf maple\n");
    let report = planned(&compiled(&text), &[("block-set", 6)], None).expect("a plan");
    let block = &report.builds[0];
    // Of the five that B3 aims at 5 · 0.9 = 4.5, so four whole ones, are expected good: 24 less ten on hand and these.
    assert_eq!((block.on_the_bench.as_str(), block.to_build.as_str()), ("4", "10"));
}

#[test]
fn a_thing_without_a_recipe_and_a_recipe_that_needs_itself_are_refused() {
    let compiled_book = compiled(BOOK);
    assert!(matches!(planned(&compiled_book, &[("oil", 1)], None), Err(PlanFault::NoRecipe(_))));
    let text = BOOK.replace("    takes 6m sawing\n", "    takes 6m sawing\n    needs 1 block-set\n");
    let round = compile_texts(&[("book.kerf", &text)]);
    if round.has_mistakes() {
        // Then the book says it before any plan does.
        assert!(round.found.iter().any(|one| one.message.contains("itself")), "{:#?}", round.found);
    } else {
        assert!(matches!(planned(&round, &[("block", 1)], None), Err(PlanFault::Round(names)) if names.len() == 3));
    }
}

#[test]
fn a_batch_of_several_products_teaches_each_its_share() {
    // 3 to 1 a piece: 48 blocks weigh 144, 24 wedges 24, so of 168 min of sawing the blocks had 144 and the wedges 24. The recipes allow 24 bf for
    // 48 blocks and 6 bf for 24 wedges; of 33 bf the blocks had 33 · 24/30 = 26.4, the wedges 6.6: a tenth more than they allow.
    let joint = "product wedge \"Wedge\"\n    needs 0.25 bf maple\n    takes 2m sawing\n\
                 opened 2026-02-01\n    100 bf maple for 400.00\n\
                 built 2026-02-02 batch J1\n    used 33 bf maple\n    took 168m sawing\n    made 48 block, share 3\n    made 24 wedge, share 1\n";
    let before = BOOK.split("built 2026-01-05").next().expect("the shop");
    let compiled = compiled(&format!("{before}{joint}"));
    // 12 blocks: 144 · 12/48 = 36 min, and 6 · 1.1 = 6.6 bf; 12 wedges: 24 · 12/24 = 12 min, and 3 · 1.1 = 3.3 bf.
    for (name, minutes, maple) in [("block", "36", "6.6"), ("wedge", "12", "3.3")] {
        let report = planned(&compiled, &[(name, 12)], None).expect("a plan");
        assert_eq!(report.builds[0].learnt_from_batches, 1, "{name}");
        assert_eq!((report.steps[0].expected.as_str(), report.steps[0].best.as_deref()), (minutes, Some(minutes)), "{name}");
        let needed = report.materials.iter().find(|one| one.name == "maple").expect("maple");
        assert_eq!((needed.needed.as_str(), needed.learnt_from.as_str()), (maple, "the last batches"), "{name}");
        assert!(report.notes.iter().any(|note| note.contains("its share of the hours")), "{:?}", report.notes);
    }
}

#[test]
fn a_step_that_some_batches_left_out_is_a_step_of_so_many_pieces_as_had_it() {
    // Painting took 30 min of the two sets of S1, and none of the four of S2, which took 40 min of packing: 5 min a set, and at best none. Packing:
    // 20 + 40 min for six sets, at best 10 min a set.
    let text = BOOK
        .replace("step packing", "step painting \"Painting\"\nstep packing")
        .replace("    took 30m packing\n", "    took 20m packing, 30m painting\n");
    let more = "bought 2026-02-01\n    2 packs bag for 16.00\nbuilt 2026-02-02 batch B3\n    used 1 bf maple\n    took 30m sawing\n    made 6 block\n\
                built 2026-02-03 batch S2\n    used 16 block, 4 bag, 20 ml oil\n    took 40m packing\n    made 4 block-set\n";
    let report = planned(&compiled(&format!("{text}{more}")), &[("block-set", 6)], None).expect("a plan");
    let of = |name: &str| {
        let step = report.steps.iter().find(|step| step.name == name).expect("a step");
        (step.expected.clone(), step.best.clone().expect("seen"))
    };
    assert_eq!((of("packing"), of("painting")), (("60".into(), "60".into()), ("30".into(), "0".into())));
}

#[test]
fn a_helper_who_worked_in_one_of_three_batches_is_paid_for_so_many_pieces() {
    // M1 took 50 min of Sam's sanding at 18.00 an hour: 15.00. It was shared by price, 4 · 30.00 to 6 · 10.00, so that the big ones had 33.333333 min
    // and 10.00, the small ones 16.666667 and 5.00. Nine big ones came of M1, M2 and M3, fourteen small ones of M1 and M2:
    // 33.333333 · 5/9 + 16.666667 · 3/14 = 18.518518 + 3.571429 min; 10.00 / 9 and 5.00 / 14 for one.
    let text = "shop \"Aitch\"\n    currency USD\n    owner time 20.00 per h\nplace bench \"Workshop\"\n    home\nstep cutting \"Cutting\"\nstep sanding \"Sanding\"\n\
        material oak \"Oak\"\n    measured in bf\nproduct big \"Big\"\n    needs 2 bf oak\n    takes 30 min cutting\n    price 30.00\n\
        product small \"Small\"\n    needs 0.5 bf oak\n    takes 10 min cutting\n    price 10.00\n\
        helper sam \"Sam\"\n    employee\n    costs 18.00 per h\n\
        bought 2026-01-02 from yard\n    40 bf oak for 200.00\n\
        built 2026-01-05 batch M1\n    used 10 bf oak\n    took 1h 40m cutting\n    took 50m sanding by sam\n    made 4 big\n    made 6 small\n    shared by price\n\
        built 2026-02-05 batch M2\n    used 10 bf oak\n    took 2h cutting\n    made 4 big, 8 small, shared by count\n\
        built 2027-01-25 batch M3\n    used 2 bf oak\n    took 30m cutting\n    made 1 big\n";
    let report = planned(&compiled(text), &[("big", 5), ("small", 3)], None).expect("a plan");
    let sanding = report.steps.iter().find(|step| step.name == "sanding").expect("sanding");
    let figures = (sanding.expected.as_str(), sanding.by_helpers.as_str(), sanding.best.as_deref());
    assert_eq!(figures, ("22.089948", "22.089948", Some("0")));
    let bought_in: Vec<&str> = report.costs.iter().map(|one| one.per_unit.bought_in_time.as_str()).collect();
    assert_eq!(bought_in, ["1.111111", "0.357143"]);
}

#[test]
fn materials_hours_and_costs_are_all_of_what_is_begun() {
    // Nine carts came good and one was lost: 10 %. Of 11 bf, 240 min and one royalty a good piece, one cart asked for wants 1 / 0.9 = 1.1, so two begun:
    // 2.2 bf, 48 min (planned 40), 2 bf by the recipe, and of these 1.8 are expected good. One costs 11 bf at 5.00 over nine: 6.111111; own
    // time 240 min at 20.00 an hour over nine: 8.888889.
    let text = "shop \"Small\"\n    currency USD\n    owner time 20.00 per h\nplace bench \"Bench\"\n    home\nstep cutting \"Cutting\"\n\
        material oak \"Oak\"\n    measured in bf\nproduct cart \"Cart\"\n    needs 1 bf oak\n    takes 20 min cutting\n    pattern cp\n\
        pattern cp \"Pattern\"\n    royalty 0.50 per ea\n\
        bought 2026-01-05 from yard\n    20 bf oak for 100.00\n\
        built 2026-01-10 batch C1\n    used 11 bf oak\n    took 4h cutting\n    made 9 cart\n    lost 1 cart \"split\"\n";
    let report = planned(&compiled(text), &[("cart", 1)], None).expect("a plan");
    let build = &report.builds[0];
    assert_eq!([&build.to_build, &build.to_begin, &build.expected_good].map(String::as_str), ["1", "2", "1.8"]);
    let (oak, cutting, cost) = (&report.materials[0], &report.steps[0], &report.costs[0]);
    assert_eq!((oak.by_recipe.as_str(), oak.needed.as_str()), ("2", "2.2"));
    assert_eq!((cutting.planned.as_str(), cutting.expected.as_str(), cutting.best.as_deref()), ("40", "48", Some("48")));
    let unit = &cost.per_unit;
    assert_eq!([&unit.materials, &unit.royalty, &unit.own_time].map(String::as_str), ["6.111111", "0.50", "8.888889"]);
    assert_eq!(cost.minutes_per_unit, "26.666667");
}

#[test]
fn a_batch_that_tells_no_time_at_all_teaches_none() {
    // Packing took 30 min of the two sets of S1; of the four of S2 nobody wrote down any time. So it stays at 15 min a set.
    let more = "bought 2026-02-01\n    2 packs bag for 16.00\nbuilt 2026-02-02 batch B3\n    used 1 bf maple\n    took 30m sawing\n    made 6 block\n\
                built 2026-02-03 batch S2\n    used 16 block, 4 bag, 20 ml oil\n    made 4 block-set\n";
    let report = planned(&compiled(&format!("{BOOK}{more}")), &[("block-set", 6)], None).expect("a plan");
    let packing = report.steps.iter().find(|step| step.name == "packing").expect("packing");
    assert_eq!((packing.expected.as_str(), packing.best.as_deref()), ("90", Some("90")));
}

#[test]
fn what_is_built_takes_of_the_licences_that_are_left() {
    let text = BOOK.replace("    royalty 0.50 per ea\n", "    royalty 0.50 per ea\n    allows 4 ea for sale\n").replace(
        "built 2026-01-05 batch B1",
        "bought 2026-01-04 from designer\n    1 licence set-plan for 12.00\nbuilt 2026-01-05 batch B1",
    );
    let report = planned(&compiled(&text), &[("block-set", 6)], None).expect("a plan");
    // A licence of four for 12.00; S1's two took 6.00, so two of the six take the other 6.00 and four take a
    // licence that is to be bought, at 12.00 again: (6 x 0.50 + 6.00 + 12.00) / 6.
    assert_eq!(report.costs[0].per_unit.royalty, "3.50");
    let [licence] = report.licences.as_slice() else { panic!("one pattern") };
    let figures = [&licence.needed, &licence.left, &licence.short, &licence.buy].map(String::as_str);
    assert_eq!(figures, ["6", "2", "4", "1"]);
    assert_eq!((licence.supplier.as_deref(), licence.cost.as_deref()), (Some("designer"), Some("12.00")));
    // The goods that are short, 61.00, the licence, and six royalties of 0.50.
    assert_eq!((report.cash_needed.as_str(), report.unpriced), ("76.00", 0));
    assert!(
        report.notes.iter().any(|note| note.contains("the licences of Plan of the set permit 2 more pieces")),
        "{:#?}",
        report.notes
    );
}

fn why(text: &str, figure: &str) -> WhyReport {
    let compiled = compiled(text);
    let options = CostOptions { keep_trace: true, ..CostOptions::default() };
    let costed = cost_book(&compiled.log, &compiled.book, &options, &mut Diagnostics::default());
    let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &costed };
    let of = Derived::of(books, &[]).expect("costed with its trace");
    let (of, spelled) = of.asking(figure, None).expect("a plan");
    let figure = FigureName::read(&spelled, of.names()).expect("a figure");
    report_why(&of, figure, HowDeep::Fold).expect("fits")
}

/// The steps right below a step, each by its amount and the figure or the line to which it leads.
fn below(step: &WhyStep) -> Vec<(String, String)> {
    let line = |one: &WhyStep| one.at.as_ref().map(|at| at.text.clone()).unwrap_or_default();
    let leads = |one: &WhyStep| one.figure.clone().unwrap_or_else(|| line(one));
    step.steps.iter().map(|one| (one.paid.clone(), leads(one))).collect()
}

fn pairs<const N: usize>(pairs: [(&str, &str); N]) -> Vec<(String, String)> {
    pairs.map(|(amount, to)| (amount.to_owned(), to.to_owned())).to_vec()
}

#[test]
fn the_money_of_a_plan_is_told_down_to_the_last_purchases() {
    let cash = why(BOOK, "plan/6_block-set/cash-needed");
    assert_eq!(cash.answer, "The money that it takes is 64.00.");
    assert_eq!(
        below(&cash.steps[0]),
        pairs([
            ("16.00", "plan/6_block-set/buy/bag/cost"),
            ("40.00", "plan/6_block-set/buy/maple/cost"),
            ("5.00", "plan/6_block-set/buy/oil/cost"),
            ("3.00", "plan/6_block-set/royalties"),
        ])
    );
    // 8 bf in four boards, of 12 bf for 48.00 and 12.00 of freight.
    let maple = why(BOOK, "plan/6_block-set/buy/maple/cost");
    assert_eq!(below(&maple.steps[0]), pairs([("8", "plan/6_block-set/buy/maple/buy"), ("60.00", "lot/maple/2026-01-02")]));
    let packs = why(BOOK, "plan/6_block-set/buy/maple/packs");
    assert_eq!(
        below(&packs.steps[0]),
        pairs([("7.8", "plan/6_block-set/buy/maple/short"), ("2", "6 boards maple, 4/4 x 6 x 48 in, for 48.00")])
    );
}

#[test]
fn what_is_built_and_needed_and_worked_is_told_down_to_the_recipe_and_the_last_batches() {
    // 0 asked, 24 for the sets, less the 10 on hand.
    let build = why(BOOK, "plan/6_block-set/build/block/to-build");
    assert_eq!(build.steps[0].paid, "14");
    assert_eq!(below(&build.steps[0]), pairs([("24", "plan/6_block-set/build/block/for-parts"), ("-10", "")]));
    // 16 begun, half a foot each, and 11 bf used where 10 are allowed.
    let maple = why(BOOK, "plan/6_block-set/material/maple/needed");
    assert_eq!((maple.steps[0].paid.as_str(), maple.steps[0].unit.as_deref()), ("8.8", Some("bf")));
    let of_blocks = &maple.steps[0].steps[0];
    let numbers: Vec<(&str, usize)> = of_blocks.steps.iter().map(|one| (one.paid.as_str(), one.steps.len())).collect();
    assert_eq!(numbers, [("16", 0), ("0.5", 0), ("11", 2), ("10", 2)]);
    // 16 begun, of 110 min for 20.
    let sawing = why(BOOK, "plan/6_block-set/step/sawing/expected");
    assert_eq!(sawing.answer, "The time at sawing as the last batches took is 88 minutes.");
    let of_blocks = &sawing.steps[0].steps[0];
    let numbers: Vec<&str> = of_blocks.steps.iter().map(|one| one.paid.as_str()).collect();
    assert_eq!(numbers, ["16", "110", "20"]);
    assert_eq!(below(&of_blocks.steps[1]), pairs([("50", "batch/B2/minutes"), ("60", "batch/B1/minutes")]));
}

#[test]
fn the_expected_cost_is_told_down_to_the_shelf_the_last_prices_and_what_is_built_first() {
    let cost = why(BOOK, "plan/6_block-set/cost/block-set/materials");
    assert_eq!(cost.steps[0].paid, "14.496296");
    let all = &cost.steps[0].steps[0];
    assert_eq!(all.paid, "86.977778");
    // Blocks: ten from the shelf, fourteen built; bags: one on hand and five at the last price; oil: 26 ml on hand and 46 at the last price.
    let numbers: Vec<&str> = all.steps.iter().map(|one| one.paid.as_str()).collect();
    assert_eq!(numbers, ["25.00", "42.777778", "2.00", "10.00", "2.60", "4.60"]);
    let to: Vec<&str> = all.steps.iter().filter_map(|one| one.steps.first()?.figure.as_deref()).collect();
    assert_eq!(
        to,
        [
            "stock/block",
            "plan/6_block-set/cost/block/materials",
            "stock/bag",
            "lot/bag/2026-01-03/materials",
            "stock/oil",
            "lot/oil/2026-01-03/materials",
        ]
    );
}

#[test]
fn builds_that_need_one_material_share_what_is_on_the_shelf() {
    // 8 bf that were found lie there, at nothing, and the last foot that was bought was 6.00. Four stools and two seats need 8 bf each: of these
    // 16 half is from the shelf and half is bought, and so is half of each build's, whichever is asked for first.
    let text = "shop \"Shelf\"
    currency USD
place bench \"Bench\"
    home
material oak \"Oak\"
    measured in bf
product stool \"Stool\"
    needs 2 bf oak
product seat \"Seat\"
    needs 4 bf oak
bought 2026-01-01
    1 bf oak for 6.00
used-up 2026-01-02
    1 bf oak
found 2026-01-03
    8 bf oak
";
    let compiled = compiled(text);
    for asked in [[("stool", 4), ("seat", 2)], [("seat", 2), ("stool", 4)]] {
        let report = planned(&compiled, &asked, None).expect("a plan");
        let cost = |name: &str| {
            let cost = report.costs.iter().find(|one| one.name == name).expect("asked for");
            cost.per_unit.materials.clone()
        };
        // 4 bf at 6.00 are 24.00, over four stools and over two seats.
        assert_eq!((cost("stool").as_str(), cost("seat").as_str()), ("6.00", "12.00"));
        assert_eq!(report.cash_needed, "48.00");
    }
}

#[test]
fn what_is_there_and_not_taken_is_told_and_so_is_the_rate_of_the_hour() {
    let text = format!("{BOOK}sent 2026-01-09 to shed\n    4 block\n");
    let report = planned(&compiled(&text), &[("block-set", 6)], None).expect("a plan");
    let told = |report: &PlanReport, words: &str| report.notes.iter().any(|note| note.contains(words));
    assert!(told(&report, "built beside what there is of it: Set of blocks (2 on hand)"), "{:#?}", report.notes);
    assert!(told(&report, "what lies elsewhere is not taken: 4 ea Block"), "{:#?}", report.notes);
    assert!(told(&report, "your hour counts at 24.00 in what one will cost, the one rate"), "{:#?}", report.notes);
    let later = format!("{BOOK}changed 2026-01-09 shop\n    owner time 30.00 per h\nworked 2026-01-10\n    14m sweeping\n");
    let report = planned(&compiled(&later), &[("block-set", 6)], None).expect("a plan");
    assert!(
        told(&report, "your hour counts at 30.00") && told(&report, "since 2026-01-09 (24.00 before)"),
        "{:#?}",
        report.notes
    );
}
