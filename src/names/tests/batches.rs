//! The names of batches, and names that are never defined.

use super::*;

fn batches(text: &str) -> Vec<String> {
    let read = read(text);
    assert_eq!(messages(&read.found), [""; 0]);
    read.book.batches.iter().map(|batch| batch.name.clone()).collect()
}

#[test]
fn batches_are_named_by_whatever_names_them_first() {
    let text = "opened 2026-01-01\n    61.50 on batch VS-019\nbought 2026-01-02\n    3.50 on batch JIG-1 \"hinge\"\nstarted 2026-01-03 batch VS-020\n    \
        aims at 2 pull-cart\nworked 2026-01-04\n    45m sanding on VS-021\n    45m sanding on rolling-toys\nbuilt 2026-01-05 batch VS-021\n    made 1 pull-cart\n";
    assert_eq!(batches(text), ["JIG-1", "VS-019", "VS-020", "VS-021"]);
}

#[test]
fn a_batch_without_a_name_is_known_by_product_and_day() {
    let text = "built 2026-01-05\n    made 2 pull-carts\nbuilt 2026-01-06\n    made 1 band-saw\n";
    assert_eq!(batches(text), ["band-saw/2026-01-06", "pull-cart/2026-01-05"]);
    let read = read(text);
    let built: Vec<_> = read.syntax.entries.iter().filter_map(|entry| read.lookup().batch_of(entry)).collect();
    assert_eq!(built, [BatchId(1), BatchId(0)]);
    assert!(read.book.label_id("pull-cart/2026-01-05").is_some());
}

#[test]
fn a_batch_needs_a_name_where_product_and_day_do_not_tell_it() {
    assert_eq!(
        told("built 2026-01-05\n    made 2 pull-cart\nbuilt 2026-01-05\n    made 3 pull-cart\n"),
        ["K220: a second batch of that day needs a name; `pull-cart/2026-01-05` is the first"]
    );
    let several = "built 2026-01-05\n    made 2 pull-cart, share 1\n    made 1 serving-board, share 2\n";
    assert_eq!(
        told(several),
        ["K220: a batch that makes several things needs a name; this one makes `pull-cart` and `serving-board`"]
    );
    assert_eq!(corrected(several), several.replace("01-05\n", "01-05 batch PC-001\n"));
    assert_eq!(
        told("built 2026-01-05\n    used 1 bf red-oak\n    made nothing \"burnt\"\n"),
        ["K220: a batch that makes nothing has no product to be known by, so it needs a name"]
    );
    let read = read("built 2026-01-05\n    made 2 pul-cart\n");
    assert_eq!(messages(&read.found), [""; 0]);
    assert_eq!(read.lookup().batch_of(read.syntax.entries.last().expect("an entry")), None);
}

#[test]
fn a_batch_is_not_named_like_a_line_product_or_channel() {
    for (name, kind) in [("rolling-toys", "a line"), ("pull-cart", "a product"), ("craft-fair", "a channel")] {
        assert_eq!(
            told(&format!("built 2026-01-05 batch {name}\n    made 2 pull-cart\n")),
            [format!("K219: a batch can't be named `{name}`, which is {kind}")]
        );
    }
    assert_eq!(told("built 2026-01-05 batch red-oak\n    made 2 pull-cart\n"), [""; 0]);
    assert_eq!(told("built 2026-01-05 batch bf\n    made 2 pull-cart\n"), ["K205: `bf` is a unit, so it can't be a code"]);
}

#[test]
fn a_batch_that_only_worked_entries_name_warns_with_near_names() {
    let text = "built 2026-01-05 batch PC-014\n    made 2 pull-cart\nworked 2026-01-04\n    45m sanding on PC-O14\n    1h sanding on rolling-toy\n";
    let read = read(text);
    assert_eq!(
        messages(&read.found),
        ["K905: only `worked` entries name the batch `PC-O14`", "K905: only `worked` entries name the batch `rolling-toy`"]
    );
    let fixes: Vec<_> = read.found.iter().filter_map(|one| one.fixes.first()).map(|fix| fix.replacement.as_str()).collect();
    assert_eq!(fixes, ["PC-014", "rolling-toys"]);
}

#[test]
fn nearly_the_same_names_warn() {
    let twice = "bought 2026-01-05 from ridgeline-lumber\n    2 bf red-oak for 9.00\nbought 2026-01-06 from ridgline-lumber\n    2 bf red-oak for 9.00\n";
    assert_eq!(told(twice), ["K906: the name `ridgline-lumber` is nearly `ridgeline-lumber`"]);
    assert_eq!(told(&twice.replace("ridgline-lumber", "\"Ridgeline Lumber\"")).len(), 1);
    assert_eq!(told(&twice.replace("ridgline-lumber", "ridgeline-lumber")), [""; 0]);
    let batches = "built 2026-01-05 batch PC-014\n    made 2 pull-cart\nbuilt 2026-01-06 batch PC-14\n    made 2 pull-cart\n";
    assert_eq!(told(batches), ["K906: the batch `PC-14` is nearly `PC-014`"]);
    assert_eq!(told(&batches.replace("PC-14", "PC-015")), [""; 0]);
    assert_eq!(
        told("received 2026-01-05 from craft-fairs\n    9.00 for engraving\n"),
        ["K906: the name `craft-fairs` is nearly `craft-fair`"]
    );
}
