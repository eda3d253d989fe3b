//! Hours of `worked` entries: which batch they join, and from where their wear is taken.

use crate::compiled::{Compiled, compile_texts};

const BENCH: &str = "\
shop \"Made by hand\"
    currency USD
    owner time 20.00 per h
place bench \"Bench\"
    home
place cellar \"Cellar\"
material blade \"Blade\"
    measured in ea
    as wear
step cutting \"Cutting\"
    wears 1 blade per 60 min
step design \"Design\"
line toys \"Toys\"
product cart \"Cart\"
    line toys
";

fn compiled(text: &str) -> Compiled {
    let compiled = compile_texts(&[("book.kerf", text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    assert!(compiled.costed.proof.holds());
    compiled
}

/// What is left of blades, as `place quantity`.
fn blades(compiled: &Compiled) -> Vec<String> {
    let stock = compiled.costed.stock.iter().filter(|lot| !lot.quantity.is_zero());
    let named = stock.filter(|lot| compiled.book.thing(lot.thing).named.name == "blade");
    named.map(|lot| format!("{} {}", compiled.book.places[lot.place.index()].named.name, lot.quantity.normalize())).collect()
}

#[test]
fn hours_on_a_batch_wear_what_is_at_home_and_a_batch_s_own_entry_what_is_at_its_place() {
    let text = format!(
        "{BENCH}opened 2026-01-01\n    5 blade for 10.00\nopened 2026-01-01 at cellar\n    5 blade for 10.00\n\
         started 2026-02-01 batch C-1 at cellar\n    took 1h cutting\n\
         worked 2026-02-02\n    2h cutting on C-1\n\
         continued 2026-02-03 batch C-1\n    took 1h cutting\n\
         finished 2026-02-04 batch C-1 at cellar\n    made 2 cart\n"
    );
    // One hour in the cellar; two of `worked` and one of an entry without a place at home: a blade each.
    let mut left = blades(&compiled(&text));
    left.sort();
    assert_eq!(left, ["bench 2", "cellar 4"]);
}

#[test]
fn hours_on_a_product_join_the_batch_that_is_built_on_that_very_day_and_none_on_the_day_after() {
    let text = format!(
        "{BENCH}built 2026-02-01 batch C-1\n    took 1h design\n    made 2 cart\n\
         worked 2026-02-01\n    30m design on cart\nworked 2026-02-02\n    15m design on cart\n"
    );
    let compiled = compiled(&text);
    let minutes: Vec<String> = compiled.costed.batches[0].time.iter().map(|time| time.minutes.to_string()).collect();
    assert_eq!(minutes, ["30", "60"]);
    assert_eq!(compiled.costed.hours.iter().map(|hour| hour.minutes.to_string()).collect::<Vec<_>>(), ["15"]);
}

#[test]
fn hours_count_in_a_book_without_a_home_place_too() {
    let compiled = compiled(
        "shop \"Made by hand\"\n    currency USD\nstep general \"General\"\n    indirect\nworked 2026-02-01\n    2h general\n",
    );
    assert_eq!(compiled.costed.hours.iter().map(|hour| hour.minutes.to_string()).collect::<Vec<_>>(), ["120"]);
}
