//! Looking up what entries name.

use super::*;
use crate::syntax::{HeadPart, SaidWhat, Verb};

/// What is told of the `on NAME` of a worked line, and what it is.
fn on(text: &str) -> (Option<Target>, Vec<String>) {
    let read = read(text);
    let mut found = Diagnostics::default();
    let entry =
        read.syntax.entries.iter().rev().find(|entry| entry.verb == Verb::Drove || entry.verb == Verb::Worked).expect("an entry");
    let name = entry.parts.iter().find_map(|(part, _)| match part {
        HeadPart::On(name) => Some(*name),
        _ => None,
    });
    let items = read.items();
    let said = items.iter().flat_map(|item| &item.said).find_map(|said| match said.what {
        SaidWhat::On(name) => Some(name),
        _ => None,
    });
    let target = read.lookup().target(name.or(said).expect("a name"), entry.date, &mut found);
    (target, messages(found.as_slice()))
}

#[test]
fn on_names_a_batch_line_channel_or_product() {
    assert!(matches!(on("worked 2026-03-08\n    45m sanding on PC-1\nbuilt 2026-03-09 batch PC-1\n    made 1 pull-cart\nworked 2026-03-08\n    45m sanding on PC-1\n").0, Some(Target::Batch(_))));
    assert!(matches!(on("drove 2026-03-08 3 mi on rolling-toys\n").0, Some(Target::Line(_))));
    assert!(matches!(on("drove 2026-03-08 3 mi on craft-fair\n").0, Some(Target::Channel(_))));
    assert!(matches!(on("drove 2026-03-08 3 mi on pull-cart\n").0, Some(Target::Product(_))));
    assert_eq!(on("drove 2026-03-08 3 mi on red-oak\n"), (None, vec!["K201: `red-oak` is a material".to_owned()]));
    assert_eq!(on("drove 2026-03-08 3 mi on craft-fare\n"), (None, vec!["K200: `craft-fare` is not known".to_owned()]));
}

#[test]
fn near_names_are_only_those_that_may_stand_there_by_then() {
    let read = read(
        "built 2026-05-01 batch PC-LATE\n    made 1 pull-cart\nbuilt 2026-03-01 batch PC-LATER\n    made 1 pull-cart\n\
        drove 2026-03-08 3 mi on PC-LATX\n",
    );
    let mut found = Diagnostics::default();
    let entry = read.syntax.entries.last().expect("an entry");
    let Some((HeadPart::On(name), _)) = entry.parts.iter().find(|(part, _)| matches!(part, HeadPart::On(_))) else {
        panic!("no name")
    };
    assert_eq!(read.lookup().target(*name, entry.date, &mut found), None);
    let fixes: Vec<_> = found.as_slice()[0].fixes.iter().map(|fix| fix.replacement.as_str()).collect();
    assert_eq!(fixes, ["PC-LATER"]);
}

#[test]
fn a_shared_name_is_a_place_where_a_place_belongs() {
    let read = read("sold 2026-03-08 via gift-shop at gift-shop\n    1 pull-cart\n");
    let entry = read.syntax.entries.last().expect("an entry");
    let mut found = Diagnostics::default();
    for (part, _) in &entry.parts {
        match part {
            HeadPart::Via(name) => assert!(read.lookup().channel(*name, &mut found).is_some()),
            HeadPart::At(name) => assert!(read.lookup().place(*name, &mut found).is_some()),
            other => panic!("{other:?}"),
        }
    }
    assert_eq!(messages(found.as_slice()), [""; 0]);
}

#[test]
fn labels_are_found_by_their_text() {
    let read = read("bought 2026-03-08 from \"Ridgeline Lumber\" receipt \"A-1\"\n    2 bf red-oak for 9.00, lot 23-1\n");
    for text in ["Ridgeline Lumber", "A-1", "23-1", "sam", "web-page"] {
        let label = read.book.label_id(text).unwrap_or_else(|| panic!("{text}"));
        assert_eq!(read.book.label(label), text);
    }
    assert_eq!(read.book.label_id("B-1"), None);
    assert!(read.book.labels.is_sorted());
}
