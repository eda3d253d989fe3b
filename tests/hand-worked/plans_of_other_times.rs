//! What a plan learns of hours where the recipe says other times by now than when the last batches were made; worked by hand.

use kerfbook::costing::{CostOptions, cost_book};
use kerfbook::diagnostics::Diagnostics;
use kerfbook::names::ThingId;
use kerfbook::reports::{Derived, FigureName, HowDeep, PlanAsked, PlanReport, WhyStep, report_plan, report_why};
use kerfbook::year::Books;
use rust_decimal::Decimal;

use crate::compiled::{Compiled, compile_texts};

/// A basket took 90 min of weaving and 15 of trimming by its recipe. B1 made four of them in 360 and 60 min, 60 of the weaving by Amy for 12.00; B2 made
/// three in 270 and 40.
const BOOK: &str = "\
shop \"Wren & Gable Woodshop\"
    currency USD
    owner time 10.00 per h
place bench \"Bench\"
    home
step weaving \"Weaving\"
step trimming \"Trimming\"
step oiling \"Oiling\"
material willow \"Willow\"
    measured in g
product basket \"Basket\"
    needs 100 g willow
    takes 90 min weaving, 15 min trimming
helper amy \"Amy\"
    contractor
    costs 12.00 per h
bought 2026-01-02 from grower
    9000 g willow for 90.00
built 2026-01-10 batch B1
    used 400 g willow
    took 5h weaving, 1h trimming
    took 1h weaving by amy
    made 4 basket
";

const SECOND: &str =
    "built 2026-01-20 batch B2\n    used 300 g willow\n    took 4h 30m weaving, 40m trimming\n    made 3 basket\n";

/// From February on a basket takes an hour of weaving, and is not trimmed.
const CHANGED: &str = "changed 2026-02-01 basket\n    takes 60 min weaving\n";

const THIRD: &str = "built 2026-02-10 batch B3\n    used 200 g willow\n    took 2h 10m weaving\n    made 2 basket\n";

fn with_books<T>(text: &str, asked: i64, told: impl FnOnce(Books<'_>, Vec<(ThingId, Decimal)>) -> T) -> T {
    let compiled: Compiled = compile_texts(&[("book.kerf", text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let at = compiled.book.things.iter().position(|thing| thing.named.name == "basket").expect("defined");
    let builds = vec![(ThingId(u32::try_from(at).expect("few")), Decimal::from(asked))];
    let options = CostOptions { keep_trace: true, ..CostOptions::default() };
    let costed = cost_book(&compiled.log, &compiled.book, &options, &mut Diagnostics::default());
    told(Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &costed }, builds)
}

fn plan(text: &str, asked: i64) -> PlanReport {
    with_books(text, asked, |books, builds| report_plan(books, &PlanAsked { builds, by: None }).expect("a plan"))
}

/// Of each step: planned, expected, best.
fn steps(report: &PlanReport) -> Vec<(&str, &str, &str, Option<&str>)> {
    let step =
        report.steps.iter().map(|one| (one.name.as_str(), one.planned.as_str(), one.expected.as_str(), one.best.as_deref()));
    step.collect()
}

fn told(report: &PlanReport, words: &str) {
    assert!(report.notes.iter().any(|note| note.contains(words)), "{words}: {:#?}", report.notes);
}

#[test]
fn what_earlier_batches_took_counts_in_the_measure_of_the_recipe_of_today() {
    // 60 of 90 min: B1's 360 are 240, B2's 270 are 180, and B3 took its 130. For five of nine: 550 · 5/9; the best took 60 each. Trimming is no more.
    let report = plan(&format!("{BOOK}{SECOND}{CHANGED}{THIRD}"), 5);
    assert_eq!(steps(&report), [("weaving", "300", "305.555556", Some("300"))]);
    told(
        &report,
        "the recipe of Basket says other times since 2026-02-01: what earlier batches took at Weaving counts as much longer or shorter as the recipe now \
         says; what earlier batches took at Trimming is left out, since the recipe has it no more",
    );
    // Amy's part goes along: of B1's 240 min 40 are hers, for 8.00.
    let report = plan(&format!("{BOOK}{CHANGED}noted 2026-02-02 \"end\"\n"), 4);
    assert_eq!(steps(&report), [("weaving", "240", "240", Some("240"))]);
    assert_eq!((report.helper_minutes.as_str(), report.helper_pay.as_str(), report.own_minutes.as_str()), ("40", "8.00", "200"));
    // Where the recipe says what it said, nothing is other, and nothing is told: (360 + 270) · 7/7 and (60 + 40) · 7/7.
    let report = plan(&format!("{BOOK}{SECOND}"), 7);
    assert_eq!(steps(&report), [("trimming", "105", "100", Some("93.333333")), ("weaving", "630", "630", Some("630"))]);
    assert!(!report.notes.iter().any(|note| note.contains("other times")), "{:#?}", report.notes);
}

#[test]
fn a_step_that_the_recipe_got_since_takes_as_it_says_until_a_batch_shows_it() {
    let oiled = CHANGED.replace("weaving", "weaving, 10 min oiling");
    let report = plan(&format!("{BOOK}{SECOND}{oiled}noted 2026-02-02 \"end\"\n"), 7);
    assert_eq!(steps(&report), [("oiling", "70", "70", None), ("weaving", "420", "420", Some("420"))]);
    told(&report, "the time at Oiling is the recipe's, which got it since");
    // B3 oiled two in 16 min; what was never oiled doesn't lower that: 8 each, for seven 56.
    let third = THIRD.replace("10m weaving", "10m weaving, 16m oiling");
    let report = plan(&format!("{BOOK}{SECOND}{oiled}{third}"), 7);
    assert_eq!(steps(&report)[0], ("oiling", "70", "56", Some("56")));
    assert!(!report.notes.iter().any(|note| note.contains("Oiling")), "{:#?}", report.notes);
}

#[test]
fn the_derivation_says_by_which_times_what_a_batch_took_was_turned() {
    let text = format!("{BOOK}{SECOND}{CHANGED}{THIRD}");
    let says = with_books(&text, 5, |books, _| {
        let of = Derived::of(books, &[]).expect("costed with its trace");
        let figure = "plan/5_basket/step/weaving/expected";
        let (of, spelled) = of.asking(figure, None).expect("a plan");
        let name = FigureName::read(&spelled, of.names()).expect("a figure");
        let report = report_why(&of, name, HowDeep::Deep).expect("it fits");
        let mut says = Vec::new();
        report.steps.iter().for_each(|step| gather(step, &mut says));
        says
    });
    let in_b1 = ["weaving in batch B1 240", "weaving in all of batch B1 360"];
    let recipes = ["so long as the recipe of the plan's day says 240", "where it said on the batch's day 360"];
    for one in in_b1.iter().chain(&recipes) {
        assert!(says.iter().any(|says| says == one), "{one}: {says:#?}");
    }
}

fn gather(step: &WhyStep, out: &mut Vec<String>) {
    out.push(format!("{} {}", step.says, step.paid));
    step.steps.iter().for_each(|below| gather(below, out));
}
