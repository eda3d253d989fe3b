//! Quantities of things, and the slips at which a corrected line is handed over.

use super::*;
use crate::syntax::SaidWhat;

const BRINGING: Counting = Counting { day: None, rule: CountRule::Bringing };
const PLAIN: Counting = Counting { day: None, rule: CountRule::Plain };

/// The quantities of the items of a `bought` entry, or what is told of them.
fn counted(line: &str, counting: Counting) -> Result<Vec<String>, Vec<String>> {
    let read = read(&format!("bought 2026-03-02\n    {line}\n"));
    assert_eq!(messages(&read.found), [""; 0], "{line}");
    let mut found = Diagnostics::default();
    let wanted = &[DefinitionWord::Material, DefinitionWord::Product, DefinitionWord::Tool, DefinitionWord::Pattern];
    let items = read.items();
    assert!(!items.is_empty(), "{line}");
    let quantities = items.iter().filter_map(|item| {
        let what = read.lookup().item(item, wanted, counting, &mut found)?;
        Some(match what {
            Countable::Thing(thing, quantity) => {
                format!("{} {} {}", quantity.normalize(), read.book.thing(thing).unit, read.book.thing(thing).named.name)
            }
            Countable::Tool(tool, count) => format!("{count} {}", read.book.tool(tool).named.name),
            Countable::Licence(pattern, count) => format!("{count} licence {}", read.book.pattern(pattern).named.name),
        })
    });
    let quantities: Vec<String> = quantities.collect();
    let found = found.into_sorted();
    if found.is_empty() { Ok(quantities) } else { Err(messages(&found)) }
}

/// The line after the first fix of the only finding.
fn mended(line: &str) -> String {
    let text = format!("bought 2026-03-02\n    {line}\n");
    let read = read(&text);
    let mut found = Diagnostics::default();
    let wanted = &[DefinitionWord::Material, DefinitionWord::Product, DefinitionWord::Tool, DefinitionWord::Pattern];
    for item in read.items() {
        read.lookup().item(item, wanted, BRINGING, &mut found);
    }
    let found = found.into_sorted();
    let [one] = found.as_slice() else { panic!("{line}: {:#?}", messages(&found)) };
    let fix = one.fixes.first().expect("a fix");
    let after = crate::diagnostics::corrected_lines(&read.sources, fix).text;
    after.trim().to_owned()
}

fn one(line: &str) -> String {
    counted(line, PLAIN).expect("a quantity").join(", ")
}

fn wrong(line: &str) -> Vec<String> {
    counted(line, BRINGING).expect_err("a mistake")
}

#[test]
fn units_packs_and_counts_come_to_the_own_unit() {
    assert_eq!(one("31.5 bf red-oak at 5.90"), "31.5 bf red-oak");
    assert_eq!(one("2 bags wheel-40 for 23.00"), "100 ea wheel-40");
    assert_eq!(one("2 bag wheel-40 for 23.00"), "100 ea wheel-40");
    assert_eq!(one("1/2 can clear-oil for 9.00"), "236.5 ml clear-oil");
    assert_eq!(one("1 qt clear-oil for 9.00"), "946.352946 ml clear-oil");
    assert_eq!(one("2 dozen pull-cart for 9.00"), "24 ea pull-cart");
    assert_eq!(one("9 pull-cart for 9.00"), "9 ea pull-cart");
    assert_eq!(one("1 cu ft red-oak for 9.00"), "12 bf red-oak");
    assert_eq!(one("1 band-saw for 899.00"), "1 band-saw");
    assert_eq!(one("1 licence cart-pattern for 12.00"), "1 licence cart-pattern");
    assert_eq!(one("1 sq m baltic-6 for 9.00"), "10.763910417 sq ft baltic-6");
}

#[test]
fn sizes_are_tallied_exactly_or_by_surface_measure() {
    assert_eq!(one("4 boards walnut, 4/4 x 6 x 48 in, at 11.20 per bf"), "8 bf walnut");
    assert_eq!(one("1 piece baltic-6, 12 x 24 in, for 3.00"), "2 sq ft baltic-6");
    assert_eq!(one("1 board walnut, 5/4 x 150 x 2400 mm, for 3.00"), "4.843759688 bf walnut");
    let read = read(
        "material ash \"Ash\"\n    measured in bf\n    tallied by surface measure\nbought 2026-03-02 from yard\n    5 boards ash, 4/4 x 6 x 5 ft, for 40.00\n",
    );
    // Each board is 2.5 feet by surface measure: down, up, down, up, down (King; see `tests/published/board_tally.rs`).
    assert!(read.found.iter().any(|one| one.code.0 == 112), "{:#?}", messages(&read.found));
}

#[test]
fn exact_halves_of_surface_measure_go_down_and_up_in_turn() {
    let text = "material ash \"Ash\"\n    measured in bf\n    tallied by surface measure\nbought 2026-03-02\n    5 boards ash, 4/4 x 6 in x 5 ft, for 40.00\n";
    let read = read(text);
    assert_eq!(messages(&read.found), [""; 0]);
    let mut found = Diagnostics::default();
    let goods = read
        .items()
        .iter()
        .filter_map(|item| read.lookup().goods(item, PLAIN, &mut found))
        .map(|(_, quantity)| quantity)
        .collect::<Vec<_>>();
    // 2.5 feet each: 2 + 3 + 2 + 3 + 2 (C. A. King, "Elements of Woodwork": halves in turn to the lower and the higher figure).
    assert_eq!(goods, ["12".parse().expect("a decimal")]);
}

#[test]
fn a_number_needs_its_unit_where_the_thing_is_not_counted() {
    assert_eq!(wrong("31.5 red-oak at 5.90"), ["K252: red-oak is measured in bf: `31.5 bf red-oak`"]);
    assert_eq!(mended("31.5 red-oak at 5.90"), "31.5 bf red-oak at 5.90");
    assert_eq!(
        wrong("1.5 pull-cart for 9.00"),
        ["K253: without a unit, `pull-cart` is counted in whole numbers, and `1.5` is none"]
    );
    assert_eq!(mended("2.0 pull-cart for 9.00"), "2 pull-cart for 9.00");
    assert_eq!(one("1.5 ea blade-no7 for 9.00"), "1.5 ea blade-no7");
}

#[test]
fn what_comes_in_packs_names_its_unit_when_it_comes_in() {
    assert_eq!(wrong("2 wheel-40 for 23.00"), ["K254: wheel-40 comes in bags: is this `2 ea` or so many bags?"]);
    assert_eq!(mended("2 wheel-40 for 23.00"), "2 ea wheel-40 for 23.00");
    assert_eq!(one("2 wheel-40 for 23.00"), "2 ea wheel-40");
    assert_eq!(counted("2 bags wheel-40 for 23.00", BRINGING), Ok(vec!["100 ea wheel-40".to_owned()]));
}

#[test]
fn another_dimension_names_both_units_and_what_would_convert() {
    let read = read("bought 2026-03-02\n    6 oz clear-oil for 9.00\n");
    let mut found = Diagnostics::default();
    for item in read.items() {
        assert_eq!(read.lookup().goods(item, PLAIN, &mut found), None);
    }
    let found = found.into_sorted();
    assert_eq!(messages(&found), ["K250: `6 oz` is a weight, and `clear-oil` is measured in ml, a volume"]);
    assert_eq!(found[0].notes, ["a line of its definition would make it convertible: `1 oz = … ml`"]);
    assert_eq!(mended("6 oz clear-oil for 9.00"), "6 fl oz clear-oil for 9.00");
    assert_eq!(mended("6 ft baltic-6 for 9.00"), "6 sq ft baltic-6 for 9.00");
}

#[test]
fn no_conversion_is_proposed_between_a_length_and_what_is_not_counted() {
    let notes = |line: &str| -> Vec<String> {
        let read = read(&format!("bought 2026-03-02\n    {line}\n"));
        let mut found = Diagnostics::default();
        for item in read.items() {
            assert_eq!(read.lookup().goods(item, PLAIN, &mut found), None);
        }
        found.into_sorted().into_iter().flat_map(|told| told.notes).collect()
    };
    assert_eq!(notes("6 in clear-oil for 9.00"), [""; 0]);
    assert_eq!(notes("6 ft baltic-6 for 9.00"), [""; 0]);
    assert_eq!(notes("6 kg wheel-40 for 9.00"), ["a line of its definition would make it convertible: `1 ea = … kg`"]);
    assert_eq!(notes("6 in wheel-40 for 9.00"), ["a line of its definition would make it convertible: `1 ea = … in`"]);
    let packed = read("material felt \"Felt\"\n    measured in sq ft\n    1 bolt = 40 ft\n    1 roll = 3 kg\n");
    let notes: Vec<&[String]> = packed.found.iter().map(|told| told.notes.as_slice()).collect();
    assert_eq!(notes, [&[][..], &["a further line would make it convertible: `1 sq ft = … kg`".to_owned()][..]]);
}

#[test]
fn the_things_own_conversion_leads_to_another_dimension() {
    let text = "material ash \"Ash\"\n    measured in bf\n    1 bf = 3.6 lb\nbought 2026-03-02\n    36 lb ash for 9.00, 1 kg ash for 1.00\n";
    let read = read(text);
    let mut found = Diagnostics::default();
    let goods: Vec<_> = read.items().iter().filter_map(|item| read.lookup().goods(item, PLAIN, &mut found)).collect();
    assert_eq!(messages(found.as_slice()), [""; 0]);
    // 1 kg is 2.2046226218… lb (1 lb = 453.59237 g), by 3.6: rounded once.
    assert_eq!(goods.iter().map(|(_, quantity)| quantity.to_string()).collect::<Vec<_>>(), ["10", "0.612395173"]);
    let ash = goods[0].0;
    let pounds = read.lookup().measured_in(ash, goods[0].1, crate::units::Unit::Pound, day("2026-03-02"));
    assert_eq!(pounds.map(|pounds| pounds.normalize().to_string()).as_deref(), Some("36"));
    assert_eq!(read.lookup().measured_in(ash, goods[0].1, crate::units::Unit::SquareFoot, day("2026-03-02")), None);
}

#[test]
fn slips_hand_over_the_corrected_line() {
    for (typed, code, line) in [
        ("18.40 shop-supplies", "K221", "18.40 for shop-supplies"),
        ("12 sam", "K221", "12 for sam"),
        ("9.50 shipping", "K221", "shipping 9.50"),
        ("200.00 cash", "K221", "cash 200.00"),
        ("5 board, 4/4 x 6 x 48 in", "K223", ""),
        ("1 can for 9.00", "K223", "1 can clear-oil for 9.00"),
        ("2 cans for 9.00", "K223", "2 cans clear-oil for 9.00"),
        ("6 piece for 9.00", "K223", ""),
        ("2 dozen for 9.00", "K223", ""),
        ("4 walnut, 4/4 x 6 x 48 in", "K256", "4 boards walnut, 4/4 x 6 x 48 in"),
        ("5 boards walnut for 9.00", "K256", ""),
        ("1 cart-pattern for 12.00", "K222", "1 licence cart-pattern for 12.00"),
        ("5.2 red-oak bf at 9.00", "K255", "5.2 bf red-oak at 9.00"),
        ("2 board feet for 9.00", "K251", "2 bf for 9.00"),
        ("2 lbs red-oak for 9.00", "K251", "2 lb red-oak for 9.00"),
        ("3 sqft baltic-6 for 9.00", "K251", "3 sq ft baltic-6 for 9.00"),
        ("2 bagz wheel-40 for 9.00", "K251", "2 bags wheel-40 for 9.00"),
        ("4 bf walnut, 4/4 x 6 x 48 in", "K257", "4 boards walnut, 4/4 x 6 x 48 in"),
        ("2 boards walnut, 6 x 48 in", "K257", ""),
        ("2 boards clear-oil, 4/4 x 6 x 48 in", "K257", ""),
        ("2 pieces baltic-6, 1/4 x 6 x 48 in", "K257", ""),
        ("2.5 boards walnut, 4/4 x 6 x 48 in", "K253", ""),
        ("1.5 band-saw for 899.00", "K253", ""),
        ("2 lb band-saw for 899.00", "K253", ""),
        ("31.5 bf red-oka at 5.90", "K200", "31.5 bf red-oak at 5.90"),
        ("31.5 bf RED-OAK at 5.90", "K200", "31.5 bf red-oak at 5.90"),
        ("4 rolling-toys for 1.00", "K201", ""),
        ("40m red-oak for 1.00", "K258", ""),
        ("40m sanding for 1.00", "K258", ""),
        ("40m for 1.00", "K258", ""),
    ] {
        let told = wrong(typed);
        assert_eq!(told.len(), 1, "{typed}: {told:#?}");
        assert!(told[0].starts_with(code), "{typed}: {told:#?}");
        if !line.is_empty() {
            assert_eq!(mended(typed), line, "{typed}");
        }
    }
}

#[test]
fn a_number_beyond_the_limit_is_told_at_its_place() {
    let too_large = wrong("9999999999999999999999999999 bags wheel-40 for 1.00");
    assert_eq!(too_large, ["K260: `9999999999999999999999999999 bags` in ea: the result is too large"]);
    let lost = wrong("1234567890123456789012345.678 cans clear-oil for 1.00");
    assert_eq!(lost, ["K260: `1234567890123456789012345.678 cans` in ml: the result has more digits than can be kept"]);
}

#[test]
fn after_a_count_other_than_one_a_plural_is_understood() {
    assert_eq!(one("6 pull-carts for 9.00"), "6 ea pull-cart");
    assert_eq!(one("0 pull-carts for 9.00"), "0 ea pull-cart");
    assert_eq!(one("2 band-saws for 9.00"), "2 band-saw");
    assert_eq!(one("2 dozen pull-carts for 9.00"), "24 ea pull-cart");
    assert_eq!(wrong("1 pull-carts for 9.00"), ["K200: `pull-carts` is not defined"]);
    assert_eq!(mended("1 pull-carts for 9.00"), "1 pull-cart for 9.00");
    assert_eq!(wrong("3 ml clear-oils for 9.00"), ["K200: `clear-oils` is not defined"]);
}

#[test]
fn the_exact_name_comes_first_but_only_of_what_is_counted() {
    let read = read("product cart \"C\"\nline carts \"C\"\nfound 2026-03-02\n    6 carts\n");
    let mut found = Diagnostics::default();
    let items = read.items();
    let goods: Vec<_> = items.iter().filter_map(|item| read.lookup().goods(item, PLAIN, &mut found)).collect();
    assert_eq!(messages(found.as_slice()), [""; 0]);
    assert_eq!(read.book.thing(goods[0].0).named.name, "cart");
}

#[test]
fn a_price_is_per_unit_as_written_or_per_the_unit_it_names() {
    let priced = |line: &str| -> Result<String, Vec<String>> {
        let read = read(&format!("bought 2026-03-02\n    {line}\n"));
        let mut found = Diagnostics::default();
        let items = read.items();
        let item = items.first().expect("an item");
        let (thing, own) = read.lookup().goods(item, PLAIN, &mut found).expect("goods");
        let per = item.said.iter().find_map(|said| match said.what {
            SaidWhat::AtPer(_, per) => Some(per),
            _ => None,
        });
        let quantity =
            read.lookup().priced_quantity(&item.amount, item.sizes.as_deref(), thing, own, per, day("2026-03-02"), &mut found);
        quantity.map(|quantity| quantity.normalize().to_string()).ok_or_else(|| messages(found.as_slice()))
    };
    assert_eq!(priced("2 bags wheel-40 at 11.50").as_deref(), Ok("2"));
    assert_eq!(priced("2 bags wheel-40 at 0.23 per ea").as_deref(), Ok("100"));
    assert_eq!(priced("2 bags wheel-40 at 11.50 per bag").as_deref(), Ok("2"));
    assert_eq!(priced("100 ea wheel-40 at 11.50 per bag").as_deref(), Ok("2"));
    assert_eq!(priced("1 gal clear-oil at 20.00 per qt").as_deref(), Ok("4"));
    assert_eq!(priced("4 boards walnut, 4/4 x 6 x 48 in, at 11.20 per bf").as_deref(), Ok("8"));
    assert_eq!(priced("4 boards walnut, 4/4 x 6 x 48 in, at 11.20 per board").as_deref(), Ok("4"));
    assert_eq!(
        priced("4 bf walnut at 11.20 per lb"),
        Err(vec!["K250: `lb` is a weight, and `walnut` is measured in bf, a volume".to_owned()])
    );
    assert_eq!(
        priced("4 bf walnut at 11.20 per bord"),
        Err(vec!["K251: `bord` is no unit of `walnut` in which this can be priced".to_owned()])
    );
}
