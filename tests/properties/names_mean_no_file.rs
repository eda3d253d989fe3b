//! Names on random books, right and wrong: no panic, findings within the text, and the order of blocks and files means nothing.

use kerfbook::diagnostics::Diagnostics;
use kerfbook::events::build_events;
use kerfbook::names::{ResolvedBook, resolve_book};
use kerfbook::sources::SourceSet;
use kerfbook::syntax::parse_book;
use proptest::prelude::*;

use crate::how_many::books;

const NAMES: [&str; 14] =
    ["oak", "oaks", "Oak", "ash", "cart", "carts", "box", "boxes", "bag", "fair", "bench", "cutting", "café", "cafe\u{301}"];
const UNITS: [&str; 13] = ["", "bf", "ea", "sq ft", "ml", "lb", "oz", "bag", "bags", "boards", "pieces", "dozen", "lbs"];
const NUMBERS: [&str; 9] =
    ["0", "1", "2", "2.5", "1/2", "4 1/2", "9999999999999999999999999999", "0.0000000000000000000000000001", "7.0"];
const SIZES: [&str; 5] = ["", ", 4/4 x 6 x 48 in", ", 12 x 24 in", ", 5/4 x 150 x 2400 mm", ", 6 in x 7 ft"];
const DATES: [&str; 4] = ["2026-01-01", "2026-03-02", "2026-03-02", "2027-01-01"];

fn pick(from: &'static [&'static str]) -> impl Strategy<Value = String> {
    prop::sample::select(from).prop_map(str::to_owned)
}

fn name() -> impl Strategy<Value = String> {
    pick(&NAMES)
}

/// `2 bags oak, 12 x 24 in`.
fn item() -> impl Strategy<Value = String> {
    (pick(&NUMBERS), pick(&UNITS), name(), pick(&SIZES)).prop_map(|(number, unit, name, sizes)| {
        if unit.is_empty() { format!("{number} {name}{sizes}") } else { format!("{number} {unit} {name}{sizes}") }
    })
}

/// `1 bag = 2.5 bf`.
fn pack() -> impl Strategy<Value = String> {
    (pick(&UNITS[1..]), pick(&NUMBERS), pick(&UNITS[1..])).prop_map(|(one, number, unit)| format!("1 {one} = {number} {unit}"))
}

fn block() -> impl Strategy<Value = String> {
    let material = (name(), pick(&UNITS[1..]), pack(), pack(), name()).prop_map(|(name, unit, a, b, from)| {
        format!("material {name} \"M\"\n    measured in {unit}\n    {a}\n    {b}\n    from {from}\n")
    });
    let product = (name(), item(), item(), name()).prop_map(|(name, a, b, step)| {
        format!("product {name} \"P\"\n    needs {a}\n    needs {b} per 6 ea\n    takes 5 min {step}\n")
    });
    let step = (name(), item()).prop_map(|(name, worn)| format!("step {name} \"S\"\n    wears {worn} per 40 min\n"));
    let other = (pick(&["place", "line", "channel", "tool", "pattern", "helper", "income"]), name())
        .prop_map(|(word, name)| format!("{word} {name} \"T\"\n"));
    let changed = (pick(&DATES), name(), item(), pack())
        .prop_map(|(date, name, item, pack)| format!("changed {date} {name}\n    needs {item}\n    {pack}\n    price 5.00\n"));
    let bought = (pick(&DATES), name(), item(), item(), name()).prop_map(|(date, from, a, b, batch)| {
        format!("bought {date} from {from}\n    {a} for 3.00\n    {b} at 1.00 per bf\n    3.50 on batch {batch}\n")
    });
    let built = (pick(&DATES), prop::option::of(name()), item(), item()).prop_map(|(date, batch, used, made)| {
        let batch = batch.map_or_else(String::new, |name| format!(" batch {name}"));
        format!("built {date}{batch}\n    used {used}\n    took 20 min cutting\n    made {made}\n")
    });
    let worked = (pick(&DATES), name(), name()).prop_map(|(date, step, on)| format!("worked {date}\n    45m {step} on {on}\n"));
    let sold = (pick(&DATES), name(), item()).prop_map(|(date, via, item)| format!("sold {date} via {via}\n    {item}\n"));
    prop_oneof![4 => material, 4 => product, 2 => step, 4 => other, 2 => changed, 2 => bought, 3 => built, 2 => worked, 1 => sold]
}

/// A book of files, and what is told of it, without places, sorted.
fn read(files: &[String]) -> (ResolvedBook, Vec<String>) {
    let mut sources = SourceSet::default();
    for (at, file) in files.iter().enumerate() {
        sources.add(format!("{at}.kerf"), file).expect("a short text fits");
    }
    let mut found = Diagnostics::default();
    let syntax = parse_book(&sources, &mut found);
    let book = resolve_book(&sources, &syntax, &mut found);
    let _ = build_events(&sources, syntax, &book, None, &|_| true, &mut found);
    let found = found.into_sorted();
    for one in &found {
        let places = std::iter::once(one.primary.span)
            .chain(one.secondary.iter().map(|label| label.span))
            .chain(one.fixes.iter().map(|fix| fix.span));
        for span in places {
            assert!(span.start <= span.end && sources.whole().get(span.range()).is_some(), "{one:?}");
        }
    }
    let mut told: Vec<String> = found.iter().map(|one| format!("{} {}", one.code, one.message)).collect();
    told.sort_unstable();
    (book, told)
}

proptest! {
    #![proptest_config(books(400))]

    #[test]
    fn a_book_of_any_names_resolves(blocks in prop::collection::vec(block(), 0..14)) {
        read(&blocks);
    }

    #[test]
    fn order_and_files_mean_nothing(kinds in prop::collection::vec((0..7_u8, 0..9_usize), 1..9), turn in any::<prop::sample::Index>()) {
        let shop = "shop \"S\"\n    currency USD\nplace home \"H\"\n    home\nstep cutting \"C\"\nmaterial oak \"O\"\n    measured in bf\n\
            material box \"B\"\n    measured in ea\n    1 bag = 12 ea\nproduct cart \"C\"\n    needs 2 bf oak\n    price 5.00\n\
            channel fair \"F\"\n".to_owned();
        let blocks = kinds.iter().enumerate().map(|(at, (kind, other))| right_block(at, *kind, *other));
        let mut blocks: Vec<String> = std::iter::once(shop).chain(blocks).collect();
        let (one, told) = read(&[blocks.concat()]);
        prop_assert!(told.iter().all(|one| one.starts_with("K9")), "{told:?}");
        let turned = turn.index(blocks.len());
        blocks.rotate_left(turned);
        let (other, told_again) = read(&blocks);
        prop_assert_eq!(told, told_again);
        prop_assert_eq!(&one.table, &other.table);
        prop_assert_eq!(&one.labels, &other.labels);
        prop_assert_eq!(names(&one), names(&other));
    }
}

/// A block without a mistake, the `at`-th of its book.
fn right_block(at: usize, kind: u8, other: usize) -> String {
    let day = at + 1;
    match kind {
        0 => format!("material m-{at} \"M\"\n    measured in sq ft\n    1 sheet = 25 sq ft\n"),
        1 => format!("product p-{at} \"P\"\n    needs 2 bags box per 6 ea, 1 cart\n    takes 5 min cutting\n"),
        2 => format!("changed 2026-02-0{day} cart\n    price {other}.00\n    needs 3 bf oak\n"),
        3 => format!("bought 2026-03-0{day} from seller-{other} receipt \"R-{at}\"\n    2 bags box for 3.00, lot L-{other}\n"),
        4 => format!("built 2026-03-0{day}\n    used 2 bf oak\n    made 2 carts\n"),
        5 => format!("worked 2026-04-0{day}\n    45m cutting on B-{other}\n"),
        _ => format!("sold 2026-05-0{day} via fair order \"W-{at}\"\n    2 carts\n"),
    }
}

/// Everything that has an id, in the order of the ids.
fn names(book: &ResolvedBook) -> Vec<String> {
    let things = book.things.iter().map(|thing| format!("{} {:?} {:?}", thing.named.name, thing.unit, thing.kind));
    let batches = book.batches.iter().map(|batch| format!("{} {:?}", batch.name, batch.first_day));
    things.chain(batches).collect()
}
