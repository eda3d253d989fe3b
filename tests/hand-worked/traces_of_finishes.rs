//! A batch that is finished in parts, followed by hand: what it used on a day is in what it gave on that day or later, and in nothing before.
//!
//! TR1 uses maple M-1 on 20 February, and is finished three times: four trucks on 28 February with oil L-1, two on 12 March with oil L-2 that was bought
//! two days before, and two on 20 March with oil L-3. Ann buys the first four, Cy the next two, Di one of 20 March.
//!
//! | finish | holds |
//! |---|---|
//! | 28 February | M-1, L-1 |
//! | 12 March | M-1, L-1, L-2 |
//! | 20 March | M-1, L-1, L-2, L-3 |

use kerfbook::reports::TraceReport;

use crate::traces::{said, traced};

const BOOK: &str = "\
shop \"Wren & Gable Woodshop\"
    currency USD
place bench \"Workshop, Troy, New York, USA\"
    home
material maple \"Maple\"
    measured in bf
material oil \"Clear oil\"
    measured in ml
product wheel \"Wheel\"
product truck \"Truck\"
    for children from 18 months
product crate \"Crate\"
    for children from 18 months
channel web \"Web page\"
bought 2026-01-02 from yard receipt \"Y-1\"
    10 bf maple at 6.00, lot M-1
    100 ml oil for 8.00, lot L-1
started 2026-02-20 batch TR1
    aims at 8 truck
    used 2.4 bf maple
finished 2026-02-28 batch TR1
    used 20 ml oil
    made 4 truck
sold 2026-03-01 via web order \"W-1\"
    4 truck at 25.00
    to \"Ann\"
bought 2026-03-10 from yard receipt \"Y-2\"
    100 ml oil for 9.00, lot L-2
finished 2026-03-12 batch TR1
    used 10 ml oil lot L-2
    made 2 truck
sold 2026-03-13 via web order \"W-2\"
    2 truck at 25.00
    to \"Cy\"
bought 2026-03-15 from yard receipt \"Y-3\"
    100 ml oil for 9.00, lot L-3
";

const LAST: &str = "\
finished 2026-03-20 batch TR1
    used 10 ml oil lot L-3
    made 2 truck
sold 2026-03-21 via web order \"W-3\"
    1 truck at 25.00
    to \"Di\"
";

fn trace(asked: &str) -> TraceReport {
    traced(&format!("{BOOK}{LAST}"), asked).expect("it stands for one thing")
}

/// The lots from outside, and those sold.
fn lists(report: &TraceReport) -> (Vec<&str>, Vec<&str>) {
    let sources = report.sources.iter().map(|one| one.lot.as_str()).collect();
    (sources, report.orders.iter().map(|one| one.lot.as_str()).collect())
}

#[test]
fn what_a_batch_used_is_in_what_it_gave_from_that_day_on() {
    // L-2 came in on 10 March, and was used on 12 March: the trucks of 28 February, and Ann, never saw it.
    let report = trace("L-2");
    assert_eq!(
        said(&report.went_to),
        [
            "100 ml oil, bought on 2026-03-10 from yard, receipt Y-2",
            "  10 ml oil used on 2026-03-12 by batch TR1",
            "    2 truck, made in batch TR1 on 2026-03-12",
            "      2 truck sold on 2026-03-13 with order W-2 via web to Cy",
            "    2 truck, made in batch TR1 on 2026-03-20",
            "      1 truck sold on 2026-03-21 with order W-3 via web to Di",
            "      1 truck left at bench",
            "  90 ml oil left at bench",
        ]
    );
    assert_eq!(lists(&report).1, ["truck/TR1-2", "truck/TR1-3"]);
    let left: Vec<&str> = report.on_hand.iter().map(|one| one.lot.as_str()).collect();
    assert_eq!(left, ["oil/L-2", "truck/TR1-3"]);
    // L-3 is in the last two alone, L-1 and M-1 in all.
    assert_eq!(lists(&trace("L-3")).1, ["truck/TR1-3"]);
    for all in ["L-1", "M-1"] {
        assert_eq!(lists(&trace(all)).1, ["truck/TR1", "truck/TR1-2", "truck/TR1-3"], "{all}");
    }
}

#[test]
fn what_a_batch_gave_is_of_what_it_used_up_to_that_day() {
    let report = trace("Ann");
    assert_eq!(
        said(&report.came_from),
        [
            "order W-1 of 2026-03-01 via web to Ann",
            "  4 truck, made in batch TR1 on 2026-02-28",
            "    2.4 bf maple, bought on 2026-01-02 from yard, receipt Y-1",
            "    20 ml oil, bought on 2026-01-02 from yard, receipt Y-1",
        ]
    );
    assert_eq!(lists(&report).0, ["maple/M-1", "oil/L-1"]);
    assert_eq!(lists(&trace("Cy")).0, ["maple/M-1", "oil/L-1", "oil/L-2"]);
    assert_eq!(lists(&trace("Di")).0, ["maple/M-1", "oil/L-1", "oil/L-2", "oil/L-3"]);
    // The record is of the whole batch, and says what of it Ann's pieces can't have.
    let lots: Vec<&str> = report.records.as_ref().expect("trucks are for children").records[0]
        .materials
        .iter()
        .map(|one| one.lot.as_str())
        .collect();
    assert_eq!(lots, ["maple/M-1", "oil/L-1", "oil/L-2", "oil/L-3"]);
    assert_eq!(
        report.notes,
        [
            "batch TR1 was finished in parts, and its record is of all of it: `oil/L-2`, `oil/L-3` went into it only after what you asked about was made"
        ]
    );
    assert!(trace("Di").notes.is_empty() && trace("TR1").notes.is_empty());
}

#[test]
fn of_several_finishes_each_has_its_own_below_it() {
    // Cy and Di buy nothing, and a crate takes three trucks: two of 12 March and one of 20 March.
    let text = format!("{BOOK}{LAST}built 2026-03-25 batch C\n    used 3 truck\n    made 1 crate\n");
    let text = text.replace("sold 2026-03-13 via web order \"W-2\"\n    2 truck at 25.00\n    to \"Cy\"\n", "");
    let text = text.replace("sold 2026-03-21 via web order \"W-3\"\n    1 truck at 25.00\n    to \"Di\"\n", "");
    let report = traced(&text, "C").expect("it stands for one thing");
    assert_eq!(
        said(&report.came_from),
        [
            "2 truck, made in batch TR1 on 2026-03-12",
            "  2.4 bf maple, bought on 2026-01-02 from yard, receipt Y-1",
            "  20 ml oil, bought on 2026-01-02 from yard, receipt Y-1",
            "  10 ml oil, bought on 2026-03-10 from yard, receipt Y-2",
            "1 truck, made in batch TR1 on 2026-03-20",
            "  2.4 bf maple, bought on 2026-01-02 from yard, receipt Y-1",
            "  20 ml oil, bought on 2026-01-02 from yard, receipt Y-1",
            "  10 ml oil, bought on 2026-03-10 from yard, receipt Y-2",
            "  10 ml oil, bought on 2026-03-15 from yard, receipt Y-3",
        ]
    );
    // All oil of yard: each use is followed to the finishes that can have it, and each lot of trucks is told once.
    let lines = said(&traced(&text, "yard").expect("it stands for one thing").went_to);
    let of_l3 = lines.iter().position(|line| line.starts_with("  10 ml oil used on 2026-03-20")).expect("L-3 was used");
    assert_eq!(lines[of_l3 + 1], "    2 truck, made in batch TR1 on 2026-03-20, as above", "{lines:#?}");
    assert!(!lines[of_l3 + 2].contains("truck"), "{lines:#?}");
}

#[test]
fn in_an_open_batch_what_was_used_after_its_last_finish_is_on_the_bench() {
    // Two trucks are still to come, and L-3 was used for them: all of it is there, while M-1, L-1 and L-2 are partly in the six that are done.
    let open = format!("{BOOK}continued 2026-03-20 batch TR1\n    used 10 ml oil lot L-3\n");
    let report = traced(&open, "TR1").expect("it stands for one thing");
    let bench = |report: &TraceReport| -> Vec<(String, String)> {
        let in_batch = report.on_hand.iter().filter(|left| left.batch.is_some());
        in_batch.map(|left| (left.lot.clone(), left.place.clone())).collect()
    };
    let [there, partly] = ["on the bench", "on the bench or in what it gave so far"].map(str::to_owned);
    let of = |lot: &str, place: &str| (lot.to_owned(), place.to_owned());
    assert_eq!(bench(&report), [of("oil/L-3", &there), of("maple/M-1", &partly), of("oil/L-1", &partly), of("oil/L-2", &partly)]);
    let lines = said(&report.went_to);
    assert!(
        lines.iter().any(|line| line == "10 ml oil of lot oil/L-3 on the bench in batch TR1, which is not done"),
        "{lines:#?}"
    );
    assert!(
        lines.iter().any(|line| line == "10 ml oil of lot oil/L-2 on the bench in batch TR1, or in what it gave so far"),
        "{lines:#?}"
    );
    let of_l3 = traced(&open, "L-3").expect("it stands for one thing");
    assert_eq!(bench(&of_l3), [of("oil/L-3", &there)]);
    assert!(of_l3.orders.is_empty(), "{:#?}", of_l3.orders);
    assert_eq!(said(&of_l3.went_to)[1], "  10 ml oil used on 2026-03-20 by batch TR1, which is on the bench, a part of it done");
    let of_l2 = traced(&open, "L-2").expect("it stands for one thing");
    assert_eq!((bench(&of_l2), lists(&of_l2).1), (vec![of("oil/L-2", &partly)], vec!["truck/TR1-2"]));
}

#[test]
fn a_part_that_no_batch_of_the_book_made_is_missing_in_the_record() {
    // Four wheels lay there when the book began, two were counted beyond what was booked; nobody knows what they are made of.
    let wheels = "opened 2026-01-01\n    4 wheel for 2.00\ncounted 2026-01-03 at bench\n    6 wheel\n";
    let text = format!("{BOOK}{LAST}").replace("bought 2026-01-02", &format!("{wheels}bought 2026-01-02"));
    let text = text.replace("    used 2.4 bf maple\n", "    used 2.4 bf maple, 6 wheel\n");
    let records = traced(&text, "TR1").expect("it stands for one thing").records.expect("trucks are for children");
    let missing = &records.records[0].missing;
    for lot in ["wheel/2026-01-01", "wheel/2026-01-03"] {
        let says = format!(
            "no batch of the book made lot `{lot}`: of which wood it is, with which finish and of which batch is unknown, so no test or certificate \
             speaks of it (component part testing, 16 CFR 1109.5)"
        );
        assert!(missing.contains(&says), "{missing:#?}");
    }
    // With a paper of its own it is asked no more.
    let papers = text.replace("4 wheel for 2.00", "4 wheel for 2.00, certificate \"papers/wheels.pdf\"");
    let records = traced(&papers, "TR1").expect("it stands for one thing").records.expect("trucks are for children");
    assert!(records.records[0].missing.iter().all(|line| !line.contains("wheel/2026-01-01")), "{records:#?}");
}
