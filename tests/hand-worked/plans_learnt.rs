//! What a plan learns of the last batches beside their yield: charged-off pieces, materials that no recipe has, parts that were spoilt; worked by hand.

use kerfbook::costing::{CostOptions, cost_book};
use kerfbook::diagnostics::Diagnostics;
use kerfbook::names::ThingId;
use kerfbook::reports::{Derived, FigureName, HowDeep, PlanAsked, PlanReport, WhyReport, WhyStep, report_plan, report_why};
use kerfbook::year::Books;
use rust_decimal::Decimal;

use crate::compiled::{Compiled, compile_texts};

/// Handles: H1 began ten and burnt two of them, H2 began ten, H3 ten and split one. 3.3 bf and 140 min went into these thirty. Ladles: L1 began six and L2
/// five, and split one; glue stands in no recipe, and 5 ml and 4 ml of it were used.
const BOOK: &str = "\
shop \"Wren & Gable Woodshop\"
    currency USD
    owner time 20.00 per h
place bench \"Bench\"
    home
step carving \"Carving\"
material walnut \"Walnut\"
    measured in bf
material walnut-offcut \"Walnut offcut\"
    measured in bf
    from walnut
material oil \"Oil\"
    measured in ml
material glue \"Glue\"
    measured in ml
    1 tube = 50 ml
product handle \"Handle\"
    needs 0.1 bf walnut
    takes 6 min carving
product ladle \"Ladle\"
    needs 1 handle, 5 ml oil
    takes 10 min carving
bought 2026-01-02 from yard
    100 bf walnut for 500.00
bought 2026-01-03 from \"Tansy Hardware\"
    1000 ml oil for 10.00
    1 tube glue for 4.00
built 2026-01-05 batch H1
    used 1.2 bf walnut
    took 50m carving
    made 8 handle
    lost 2 handle, charged off \"fire\"
built 2026-01-06 batch H2
    used 1.0 bf walnut
    took 40m carving
    made 10 handle
built 2026-01-07 batch H3
    used 1.1 bf walnut
    took 50m carving
    made 9 handle
    lost 1 handle
built 2026-01-08 batch L1
    used 6 handle, 30 ml oil, 5 ml glue
    took 60m carving
    made 6 ladle
built 2026-01-09 batch L2
    used 5 handle, 25 ml oil, 4 ml glue
    took 50m carving
    made 4 ladle
    lost 1 ladle
";

fn compiled(text: &str) -> Compiled {
    let compiled = compile_texts(&[("book.kerf", text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    compiled
}

fn plan(text: &str, asked: &[(&str, i64)]) -> PlanReport {
    let compiled = compiled(text);
    let thing = |name: &str| {
        let at = compiled.book.things.iter().position(|thing| thing.named.name == name).expect("defined");
        ThingId(u32::try_from(at).expect("few"))
    };
    let builds = asked.iter().map(|(name, count)| (thing(name), Decimal::from(*count))).collect();
    let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &compiled.costed };
    report_plan(books, &PlanAsked { builds, by: None }).expect("a plan")
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

fn told(report: &PlanReport, words: &str) {
    assert!(report.notes.iter().any(|note| note.contains(words)), "{words}: {:#?}", report.notes);
}

/// What a build says: for parts, to build, to begin, lost.
fn build<'r>(report: &'r PlanReport, name: &str) -> [&'r str; 4] {
    let one = report.builds.iter().find(|one| one.name == name).expect("built");
    [&one.for_parts, &one.to_build, &one.to_begin, &one.lost_percent].map(String::as_str)
}

/// What is needed of a material by the recipe and in all, what is short, and whence that is known.
fn material<'r>(report: &'r PlanReport, name: &str) -> [&'r str; 4] {
    let one = report.materials.iter().find(|one| one.name == name).expect("needed");
    [&one.by_recipe, &one.needed, &one.short, &one.learnt_from].map(String::as_str)
}

fn numbers(steps: &[WhyStep]) -> Vec<(&str, &str)> {
    steps.iter().map(|one| (one.says.as_str(), one.paid.as_str())).collect()
}

#[test]
fn what_was_charged_off_is_no_waste_to_expect_but_took_its_material_and_time() {
    // Of 28 handles that nothing burnt one was lost: 1/28 = 3.57 %. For 27 good ones 27 · 28/27 = 28 are begun. They take as those thirty did:
    // 28 · 0.1 · 3.3/3.0 = 3.08 bf, and 28 · 140/30 = 130.666667 min.
    let report = plan(BOOK, &[("handle", 27)]);
    assert_eq!(build(&report, "handle"), ["0", "27", "28", "3.57"]);
    assert_eq!(material(&report, "walnut"), ["2.8", "3.08", "0", "the last batches"]);
    assert_eq!(report.steps[0].expected, "130.666667");
    let begin = why(BOOK, "plan/27_handle/build/handle/to-begin");
    assert_eq!(
        numbers(&begin.steps[0].steps)[1..],
        [("pieces begun in the last batches, without those charged off", "28"), ("good ones of these", "27")]
    );
    // All of H1 that is not good was burnt: alone, it lets nothing be lost.
    let only = BOOK.split("built 2026-01-06").next().expect("the first batch");
    assert_eq!(build(&plan(only, &[("handle", 5)]), "handle"), ["0", "5", "5", "0"]);
}

#[test]
fn what_the_last_batches_used_beyond_the_recipe_is_needed_as_they_used_it() {
    // One of eleven ladles was lost: for 80 good ones 88 are begun. Glue: 9 ml for eleven, 72 for 88; 41 ml are on hand, and 31 short: a tube of 50 for
    // 4.00. The 72 ml cost 0.08 each, 5.76 over 80 ladles = 0.072.
    let report = plan(BOOK, &[("ladle", 80)]);
    assert_eq!(build(&report, "ladle"), ["0", "80", "88", "9.09"]);
    assert_eq!(material(&report, "glue"), ["0", "72", "31", "not in the recipe; the last batches used it"]);
    let glue = report.buys.iter().find(|one| one.name == "glue").expect("bought");
    assert_eq!((glue.packs.as_str(), glue.pack.as_str(), glue.cost.as_deref()), ("1", "tube", Some("4.00")));
    told(&report, "what the last batches used beyond the recipe is counted as they used it: 72 ml Glue for Ladle");
    let without = plan(&BOOK.replace(", 5 ml glue", "").replace(", 4 ml glue", ""), &[("ladle", 80)]);
    let materials = |report: &PlanReport| report.costs[0].per_unit.materials.parse::<Decimal>().expect("a number");
    assert_eq!((materials(&report) - materials(&without)).to_string(), "0.072000");
    let needed = why(BOOK, "plan/80_ladle/material/glue/needed");
    assert_eq!(
        numbers(&needed.steps[0].steps[0].steps)[1..],
        [("used in the last batches, beyond the recipe", "9"), ("pieces begun in them", "11")]
    );
}

#[test]
fn a_recipe_that_says_it_is_asked_first() {
    let has_glue =
        |text: &str| plan(text, &[("ladle", 80)]).materials.iter().find(|one| one.name == "glue").map(|one| one.needed.clone());
    let later = |text: &str, needs: &str| {
        format!("{text}changed 2026-01-10 ladle\n    needs {needs}\nused-up 2026-01-11\n    1 ml oil\n")
    };
    // Glue was in the recipe, and was taken out of it: the last batches used it by the old one.
    let old = BOOK.replace("needs 1 handle, 5 ml oil\n", "needs 1 handle, 5 ml oil, 1 ml glue\n");
    assert_eq!(has_glue(&old).as_deref(), Some("72"));
    assert_eq!(has_glue(&later(&old, "1 handle, 5 ml oil")), None);
    // It came into it since: then it counts by the recipe, 88 · 2.
    assert_eq!(has_glue(&later(BOOK, "1 handle, 5 ml oil, 2 ml glue")).as_deref(), Some("176"));
    // An offcut stands for its material.
    let offcut = BOOK.replace(
        "built 2026-01-09 batch L2\n",
        "found 2026-01-09\n    3 bf walnut-offcut\nbuilt 2026-01-09 batch H4\n    used 0.5 bf walnut-offcut, 0.5 bf walnut\n    made 10 handle\n\
         built 2026-01-09 batch L2\n",
    );
    assert!(plan(&offcut, &[("handle", 27)]).materials.iter().all(|one| one.name != "walnut-offcut"));
}

#[test]
fn of_a_batch_of_several_products_each_has_its_part_of_what_no_recipe_has() {
    // An hour went into two bowls with a share of 3 and two dishes with a share of 1: 45 and 15 min. Of 8 ml of glue six are the bowls': twelve for four.
    let text = BOOK.replace(
        "bought 2026-01-02",
        "product bowl \"Bowl\"\n    takes 20 min carving\nproduct dish \"Dish\"\n    takes 5 min carving\nbought 2026-01-02",
    );
    let joint =
        "built 2026-01-12 batch J\n    used 8 ml glue\n    took 1h carving\n    made 2 bowl, share 3\n    made 2 dish, share 1\n";
    let report = plan(&format!("{text}{joint}"), &[("bowl", 4)]);
    assert_eq!(material(&report, "glue")[..2], ["0", "12"]);
    // What has a recipe of its own is not planned so, and told: a part can't be bought.
    let with_part = joint.replace("used 8 ml glue", "used 8 ml glue, 3 handle");
    let report = plan(&format!("{text}{with_part}"), &[("bowl", 4)]);
    assert!(report.builds.iter().all(|one| one.name != "handle"));
    told(
        &report,
        "parts that the last batches used beyond the recipe are not counted, say in `needs` how many go in: Handle for Bowl",
    );
}

/// R1 took 75 beads for twelve rattles, and lost one of these; R2 took 30 for five. The recipe has six for one.
const RATTLES: &str = "\
product bead \"Bead\"
    needs 0.02 bf walnut
product rattle \"Rattle\"
    needs 6 bead
built 2026-02-01 batch B1
    used 4 bf walnut
    made 200 bead
built 2026-02-02 batch R1
    used 75 bead
    made 11 rattle
    lost 1 rattle
built 2026-02-03 batch R2
    used 30 bead
    made 5 rattle
";

#[test]
fn parts_are_wanted_as_the_last_batches_used_them_in_whole_pieces() {
    // For 13 good rattles 13 · 17/16 = 13.8, so 14 are begun. 105 beads went into 17, where the recipe allows 102: 14 · 6 · 105/102 = 86.47, so 87.
    // 95 are on hand; for 26 rattles 28 are begun: 168 · 105/102 = 172.9, so 173, and 78 are built.
    let text = format!("{BOOK}{RATTLES}");
    let report = plan(&text, &[("rattle", 13)]);
    assert_eq!(build(&report, "bead"), ["87", "0", "0", "0"]);
    told(&report, "parts are counted as the last batches used them: 87 Bead for Rattle, where the recipe says 84");
    let report = plan(&text, &[("rattle", 26)]);
    assert_eq!(build(&report, "bead"), ["173", "78", "78", "0"]);
    // 78 beads take 1.56 bf, at 5.00 a foot, and those on hand cost 0.10 each too: 173 · 0.10 / 26.352941 rattles expected (28 · 16/17).
    assert_eq!(material(&report, "walnut")[1], "1.56");
    assert_eq!(report.costs[0].per_unit.materials, "0.656473");
    let wanted = why(&text, "plan/26_rattle/build/bead/for-parts");
    let steps = numbers(&wanted.steps[0].steps[0].steps);
    assert_eq!(steps[2..], [("used in the last batches", "105"), ("what the recipe allows for them", "102")]);
    // Where they used as many as the recipe has, nothing is told.
    let even = plan(&text.replace("used 75 bead", "used 72 bead"), &[("rattle", 26)]);
    assert_eq!(build(&even, "bead")[0], "168");
    assert!(even.notes.iter().all(|note| !note.contains("parts are counted")), "{:#?}", even.notes);
}

#[test]
fn what_has_no_price_is_not_costed_by_what_is_on_hand() {
    // Three of four heads that lay there at 1.00 went into dolls. Eight dolls need eight: one is on hand, and seven more were never bought and have no
    // price. Buttons: 16 at 0.50. So 1.00 + 8.00 over eight dolls, 1.125 at least.
    let dolls = "product head \"Head\"\nmaterial button \"Button\"\n    measured in ea\nproduct doll \"Doll\"\n    needs 1 head, 2 button\n    \
        takes 15 min carving\nopened 2026-01-01\n    4 head for 4.00\nbought 2026-03-01\n    6 button for 3.00\n\
        built 2026-03-02 batch D1\n    used 3 head, 6 button\n    took 45m carving\n    made 3 doll\n";
    let text = format!("{BOOK}{dolls}");
    let report = plan(&text, &[("doll", 8)]);
    let cost = &report.costs[0];
    let least = |report: &PlanReport, part: &str| report.costs[0].at_least.iter().any(|one| one == part);
    assert_eq!(cost.per_unit.materials, "1.125");
    assert!(["materials", "paid", "full"].iter().all(|part| least(&report, part)), "{:?}", cost.at_least);
    assert_eq!((report.cash_needed.as_str(), report.unpriced), ("8.00", 1));
    let of_cost = why(&text, "plan/8_doll/cost/doll/materials");
    assert_eq!(of_cost.answer, "In one doll are at least 1.125 of materials to be expected.");
    let says: Vec<&str> = of_cost.steps[0].steps[0].steps.iter().map(|one| one.says.as_str()).collect();
    assert_eq!(says, ["1 head from what is on hand", "16 button at the last price"]);
    assert_eq!(why(&text, "plan/8_doll/cash-needed").answer, "The money that it takes is at least 8.00.");
    // Of what is all on hand, nothing is left open.
    let one = plan(&text, &[("doll", 1)]);
    assert!(!least(&one, "materials") && !least(&one, "paid"), "{:?}", one.costs[0].at_least);
    assert_eq!(why(&text, "plan/1_doll/cash-needed").answer, "The money that it takes is 1.00.");
}
