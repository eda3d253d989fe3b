//! Batches and work.

use crate::events::tests::{Read, money, number, read};
use crate::events::{BatchWork, EventKind, Output, TimeLine, Worker, errors};
use crate::names::Target;

impl Read {
    fn batch(&self, at: usize) -> &BatchWork {
        let batches = self.log.events.iter().filter_map(|event| match &event.kind {
            EventKind::Batch(work) => Some(work.as_ref()),
            _ => None,
        });
        batches.into_iter().nth(at).expect("a batch entry")
    }

    fn worked(&self) -> Vec<&TimeLine> {
        let lines = self.log.events.iter().filter_map(|event| match &event.kind {
            EventKind::Worked(lines) => Some(lines),
            _ => None,
        });
        lines.flatten().collect()
    }

    fn on(&self, line: &TimeLine) -> String {
        match line.on {
            None => "nothing".to_owned(),
            Some(Target::Batch(batch)) => format!("batch {}", self.book.batch(batch).name),
            Some(Target::Product(thing)) => format!("product {}", self.book.thing(thing).named.name),
            Some(Target::Line(line)) => format!("line {}", self.book.line(line).name),
            Some(Target::Channel(channel)) => format!("channel {}", self.book.channel(channel).named.name),
        }
    }
}

#[test]
fn a_built_batch_of_every_kind_of_line_is_read() {
    let read = read(
        "built 2026-03-09 batch PC-014
    used 5.2 bf red-oak lot RO-1, 24 wheel-40
    used 80 ml clear-oil
    took 1h 48m cutting, 1h 10m sanding
    took 25m packing by sam
    took 40m packing by jamie at 18.00 per h
    took 20m packing by jamie for 45.00
    made 6 pull-cart
    lost 1 pull-cart \"split at the axle hole\"
    kept 0.6 bf walnut worth 1.20
",
    );
    read.is_clean();
    let batch = read.batch(0);
    assert!(batch.ends && batch.owner_rate == Some(number("24.00")));
    assert_eq!(batch.used.len(), 3);
    let cutting = batch.took.iter().find(|line| line.minutes == money("108")).expect("the time at the saw");
    assert_eq!(cutting.worker, Worker::Owner(Some(number("24.00"))));
    let pay = batch.took.iter().filter_map(|line| match line.worker {
        Worker::Hired { pay, paid_later, helper, .. } => Some((pay, paid_later, helper.is_some())),
        Worker::Owner(_) => None,
    });
    assert_eq!(
        pay.collect::<Vec<_>>(),
        // Lines stand in the order of their steps and minutes, however they were written.
        [(money("45.00"), false, false), (money("7.50"), true, true), (money("12.00"), false, false)]
    );
    assert_eq!(batch.made[0].list_price, Some(number("42.00")));
    assert_eq!((batch.lost[0].quantity, batch.lost[0].charged_off), (number("1"), false));
    assert_eq!(batch.kept[0].worth, money("1.20"));
}

#[test]
fn a_batch_without_a_name_is_known_by_product_and_day() {
    let read =
        read("built 2026-02-07\n    used 2 bf poplar\n    made 1 axle-jig\nbuilt 2026-02-07\n    made 3 pull-carts as planned\n");
    read.is_clean();
    let names: Vec<_> = (0..2).map(|at| read.book.batch(read.batch(at).batch).name.clone()).collect();
    assert_eq!(names, ["axle-jig/2026-02-07", "pull-cart/2026-02-07"]);
    assert!(matches!(read.batch(0).made[0].what, Output::Tool(_)));
    assert!(read.batch(1).used_as_planned.is_some() && read.batch(1).took_as_planned.is_some());
}

#[test]
fn as_planned_needs_a_recipe() {
    read("built 2026-02-07\n    used as planned\n    made 3 serving-board\n").only(errors::NO_RECIPE);
    read("built 2026-02-07\n    took as planned\n    made 3 block-house\n").only(errors::NO_RECIPE);
    read("built 2026-02-07\n    made 3 serving-board as planned\n").only(errors::NO_RECIPE);
    read("built 2026-02-07\n    made 3 block-house as planned\n").is_clean();
    let started = "started 2026-02-07 batch SB-1\n    aims at 3 serving-board\n    used as planned\n";
    read(started).only(errors::NO_RECIPE);
}

#[test]
fn time_without_a_step_is_one_mistake_that_lists_the_steps() {
    let read = read("built 2026-02-07\n    took 3h\n    made 3 serving-board\n");
    assert_eq!(read.found.len(), 1, "{:#?}", read.told());
    let text = format!("{:?}", read.found[0]);
    assert!(text.contains("cutting") && text.contains("sanding"), "{text}");
}

#[test]
fn several_products_need_a_share_each_or_one_rule() {
    let entry = |lines: &str| read(&format!("built 2026-03-14 batch VB-003\n    used 6.0 bf poplar\n{lines}"));
    entry("    made 48 block-house, 24 block-tree\n").only(errors::NEEDS_SHARE);
    entry("    made 48 block-house, share 3, 24 block-tree, share 1\n").is_clean();
    entry("    made 48 block-house, 24 block-tree\n    shared by count\n").is_clean();
    entry("    made 48 pull-cart, 24 block-tree\n    shared by price\n").only(errors::NEEDS_SHARE);
    entry("    made 48 pull-cart, 24 village-set\n    shared by price\n").is_clean();
}

#[test]
fn a_batch_that_ends_says_what_came_of_it() {
    read("built 2026-03-14 batch VB-003\n    used 6.0 bf poplar\n").only(errors::NOTHING_MADE);
    read("built 2026-03-14 batch VB-003\n    used 6.0 bf poplar\n    made nothing \"both tries burnt\"\n").is_clean();
    read("started 2026-03-14 batch VB-003\n    made 2 village-set\n").only(errors::MADE_BEFORE_FINISHED);
}

#[test]
fn a_batch_is_started_once_and_first() {
    let early = read(
        "started 2026-12-18 batch VS-020
    aims at 2 village-set
continued 2026-01-06 batch VS-020
    took 45m packing
finished 2027-01-20 batch VS-020
    made 2 village-set
",
    );
    let told = early.only(errors::BATCH_COURSE);
    assert_eq!(told.fixes[0].replacement, "2027-01-06");
    assert_eq!(early.log.events.len(), 2);
    let twice = "started 2026-12-18 batch VS-020\n    took 45m packing\nstarted 2026-12-19 batch VS-020\n    took 45m packing\n";
    read(twice).only(errors::BATCH_COURSE);
}

#[test]
fn a_batch_is_built_once_and_the_next_free_name_is_offered() {
    let built = |day: &str, name: &str| format!("built {day} batch {name}\n    used 1 bf poplar\n    made 2 serving-board\n");
    let read = read(&[built("2026-02-01", "CB-001"), built("2026-02-02", "CB-002"), built("2026-02-03", "CB-001")].concat());
    assert_eq!(read.only(errors::BUILT_TWICE).fixes[0].replacement, "CB-003");
    assert_eq!(read.log.events.len(), 2);
    assert_eq!(read.log.doubts.batches.len(), 1);
}

#[test]
fn work_on_a_product_joins_its_one_open_batch() {
    let entries = "started 2026-03-05 batch VS-1
    aims at 4 village-set
finished 2026-03-07 batch VS-1
    made 3 village-set
finished 2026-03-09 batch VS-1
    made 1 village-set
started 2026-03-08 batch VS-2
    aims at 4 village-set
worked 2026-03-04
    45m sanding on village-set
worked 2026-03-06
    45m sanding on village-set
worked 2026-03-08
    45m sanding on village-set
worked 2026-03-10
    45m sanding on village-set
    1h 20m cutting on rolling-toys
    6h selling on craft-fair
    30m general
    10m packing on VS-2
";
    let read = read(entries);
    read.is_clean();
    let on: Vec<String> = read.worked().into_iter().map(|line| read.on(line)).collect();
    assert_eq!(
        on,
        [
            "product village-set",
            "batch VS-1",
            "product village-set",
            "line rolling-toys",
            "nothing",
            "batch VS-2",
            "batch VS-2",
            "channel craft-fair",
        ]
    );
}

#[test]
fn hired_time_needs_a_pay_that_is_known() {
    let took = |line: &str| read(&format!("worked 2026-02-07\n    {line}\n"));
    took("40m sanding on pull-cart by jamie").only(errors::PAY_NOT_KNOWN);
    took("40m sanding on pull-cart by jamie at 18.00").only(errors::PAY_NOT_KNOWN);
    took("40m sanding on pull-cart at 18.00 per h").only(errors::PAY_NOT_KNOWN);
    took("40m sanding on pull-cart by jamie at 0.30 per min").is_clean();
    took("40m sanding on pull-cart by sam at 20.00 per h").is_clean();
}

#[test]
fn a_batch_aims_finishes_in_parts_and_says_nothing_else() {
    let read = read(
        "started 2026-12-18 batch VS-020
    aims at 20 village-set
    used 160 block-house, 80 block-tree
    took 1h packing
finished 2027-01-06 batch VS-020
    made 12 village-set, the rest 35%
finished 2027-01-20 batch VS-020
    used as planned
    nothing else
",
    );
    read.is_clean();
    assert_eq!(read.batch(0).aims.len(), 1);
    assert_eq!(read.batch(1).made[0].rest_worked, number("35"));
    assert_eq!((read.batch(1).ends, read.batch(2).ends), (false, true));
}

#[test]
fn a_share_beside_one_rule_for_all_has_no_effect() {
    let entry = "built 2026-03-14 batch VB-003\n    used 6.0 bf poplar\n    made 48 block-house, share 3\n    made 24 block-tree\n    shared by count\n";
    read(entry).only(errors::NO_EFFECT_HERE);
}

#[test]
fn only_work_joins_a_products_open_batch() {
    let read = read(
        "started 2026-03-05 batch VS-1
    aims at 4 village-set
paid 2026-03-06 to \"a town\"
    20.00 for booth-fee on village-set
",
    );
    read.is_clean();
    let on = match read.paid().lines[0].what {
        crate::events::PaidFor::Expense { on, .. } => on,
        _ => None,
    };
    assert!(matches!(on, Some(Target::Product(_))));
}
