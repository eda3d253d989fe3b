//! Numbers, times and sizes that read as something else than was meant, each told at its place.

use super::read;

/// The code, place and message of the only finding below `bought`.
fn told(line: &str) -> (u16, String, String) {
    let book = read(&format!("bought 2026-03-02\n    {line}\n"));
    assert_eq!(book.found.len(), 1, "{line}: {:?}", book.found);
    let found = &book.found[0];
    assert_eq!(book.syntax.entries[0].unread.len(), 1, "{line}");
    (found.code.0, book.text(found.primary.span).to_owned(), found.message.clone())
}

fn fixed(line: &str) -> String {
    let book = read(&format!("bought 2026-03-02\n    {line}\n"));
    let fix = &book.found[0].fixes[0];
    let (before, after) = (fix.span.start as usize, fix.span.end as usize);
    let whole = book.sources.whole();
    format!("{}{}{}", &whole[..before], fix.replacement, &whole[after..]).lines().nth(1).expect("a line").trim().to_owned()
}

#[test]
fn a_number_that_is_too_long_is_told() {
    let (code, place, _) = told("12345678901234567890123456789 bf oak");
    assert_eq!((code, place.as_str()), (105, "12345678901234567890123456789"));
    assert_eq!(told("1 bf oak for 0.00000000000000000000000000001").0, 105);
    assert_eq!(told("total 12345678901234567890123456789").0, 105);
}

#[test]
fn a_fraction_without_an_exact_decimal_is_told() {
    let (code, place, message) = told("1/3 ea oak");
    assert_eq!((code, place.as_str(), message.as_str()), (106, "1/3", "a third has no exact decimal"));
    assert_eq!(told("1 1/7 bf oak").0, 106);
    assert_eq!(told("1/0 bf oak").0, 106);
}

#[test]
fn an_improper_fraction_is_told_with_the_mixed_number_that_was_meant() {
    let (code, place, _) = told("4 boards walnut, 4/4 x 61/2 x 48 in for 9.00");
    assert_eq!((code, place.as_str()), (107, "61/2"));
    assert_eq!(fixed("4 boards walnut, 4/4 x 61/2 x 48 in for 9.00"), "4 boards walnut, 4/4 x 6 1/2 x 48 in for 9.00");
    assert_eq!(fixed("113/4 bf oak"), "11 3/4 bf oak");
    assert_eq!(told("17/4 bf oak").0, 107);
}

#[test]
fn quarters_of_lumber_after_a_count_are_told() {
    let (code, place, _) = told("4 5/4 boards walnut for 9.00");
    assert_eq!((code, place.as_str()), (108, "4 5/4"));
}

#[test]
fn a_unit_joined_to_its_number_is_told() {
    let (code, place, _) = told("used 80ml oil");
    assert_eq!((code, place.as_str()), (109, "80ml"));
    assert_eq!(fixed("used 80ml oil"), "used 80 ml oil");
    let book = read("drove 2026-03-02 38mi on fair\n");
    assert_eq!(book.found.len(), 1);
}

#[test]
fn a_thickness_over_eight_inches_or_over_the_width_is_told() {
    let (code, place, _) = told("1 board walnut, 44 x 60 x 48 in");
    assert_eq!((code, place.as_str()), (111, "44"));
    assert_eq!(fixed("1 board walnut, 44 x 60 x 48 in"), "1 board walnut, 4/4 x 60 x 48 in");
    let (code, _, message) = told("1 board walnut, 6 x 4 x 48 in");
    assert_eq!((code, message.as_str()), (111, "the board is thicker than it is wide"));
    assert_eq!(told("1 board walnut, 0 x 4 x 48 in").0, 111);
    assert_eq!(told("1 board walnut, 1 x 4 x 48 x 2 in").0, 111);
    assert_eq!(told("1 board walnut, 1 x 4 x 48 furlong").0, 111);
}

#[test]
fn quarters_come_first_of_three_whatever_the_unit() {
    assert_eq!(told("1 piece ply, 5/4 x 48 in").0, 111);
    let book = read("bought 2026-03-02\n    1 board oak, 3/4 x 150 x 2400 mm for 5.00\n");
    assert_eq!(book.found, []);
    assert_eq!(book.detail(&book.syntax.entries[0].details[0]), "Bare: 1 [board] oak (0.75q x 150 x 2400 mm), For(5.00)");
}

#[test]
fn feet_at_the_end_of_sizes_need_each_sides_own_unit() {
    let (code, place, _) = told("4 boards walnut, 4/4 x 6 1/2 x 8 ft");
    assert_eq!((code, place.as_str()), (112, "6 1/2"));
    assert_eq!(told("1 piece ply, 2 x 4 m").0, 112);
    assert_eq!(told("1 piece ply, 2 x 4 yd").0, 112);
    assert_eq!(told("4 boards walnut, 4/4 x 6 x 48").0, 112);
    assert_eq!(fixed("4 boards walnut, 4/4 x 6 x 48 for 5.00"), "4 boards walnut, 4/4 x 6 x 48 in for 5.00");
}

#[test]
fn a_price_after_sizes_says_per_what() {
    let (code, place, _) = told("4 boards walnut, 4/4 x 6 x 48 in, at 11.20");
    assert_eq!((code, place.as_str()), (113, "at 11.20"));
    assert_eq!(told("4 boards walnut at 11.20, 4/4 x 6 x 48 in").0, 113);
}

#[test]
fn the_same_said_twice_of_an_item_is_told() {
    assert_eq!(told("1 bf oak for 5.00, for 6.00").0, 114);
    assert_eq!(told("1 bf oak at 5.00 at 6.00 per bf").0, 114);
    assert_eq!(told("1 piece oak, 2 x 3 in, 4 x 5 in").0, 114);
}

#[test]
fn a_unit_without_a_thing_is_told() {
    let (code, place, message) = told("5 bf for 9.00");
    assert_eq!((code, place.as_str(), message.as_str()), (115, "5 bf", "`5 bf` of what? the thing's name follows its unit"));
    assert_eq!(told("2 sq ft for 9.00").0, 115);
}

#[test]
fn a_bare_number_stands_only_where_a_thing_follows() {
    for (head, line, right) in [
        ("product a \"A\"", "needs 1 sheet ply per 18", "needs 1 sheet ply per 18 ea"),
        ("material a \"A\"", "reorder at 20", "reorder at 20 ea"),
        ("material a \"A\"", "1 bag = 50", "1 bag = 50 ea"),
        ("pattern a \"A\"", "allows 50 for sale", "allows 50 ea for sale"),
    ] {
        let book = read(&format!("{head}\n    {line}\n"));
        assert_eq!(book.found.len(), 1, "{line}");
        assert_eq!(book.found[0].code.0, 119, "{line}");
        assert_eq!(read(&format!("{head}\n    {right}\n")).found, [], "{right}");
    }
}

#[test]
fn rates_are_said_per_hour_and_per_piece() {
    for line in ["owner time 24.00 per day", "costs 18.00 per ea", "royalty 0.50 per h", "lasts 18 months", "2 bags = 50 ea"] {
        let book = read(&format!("shop \"A\"\n    {line}\n"));
        assert_eq!(book.found.len(), 1, "{line}");
        assert_eq!(book.found[0].code.0, 118, "{line}");
    }
}

#[test]
fn dates_are_days_of_the_calendar() {
    for line in ["paid 2026-02-29", "available 2026-13-01", "paid 5.00 on 2026-04-31", "5.00 for oil, meant for 2026-00-10"] {
        assert_eq!(told(line).0, 110, "{line}");
    }
}

#[test]
fn a_number_is_refused_that_has_a_comma_a_sign_or_a_loose_point() {
    for line in [
        "1,250.00 for oil",
        "1.250,00 for oil",
        "2 bf oak at 5,90",
        "2 bf oak at 12.",
        "2 bf oak at .50",
        "2 bf oak at -5.00",
        "2 bf oak at $5.90",
        "2 bf oak at 5.90/bf",
        "2 bf oak at 1_000",
        "1 250.00 for oil",
        "12. bf oak",
        "total 5.00.1",
        "1½ bf oak",
        "took 1:48 cutting",
        "took 1h48m cutting",
        "took 48m 1h cutting",
        "1.5 1/2 bf oak",
        "fee 3% of",
        "sales-tax 6%",
        "sales-tax 6 included",
        "fee 3",
        "made 10",
        "lot \"x\"",
        "1 oak lot \"x\"",
        "1 oak lot certificate \"x\"",
        "took 90 for x",
    ] {
        let book = read(&format!("bought 2026-03-02\n    {line}\n"));
        if line == "fee 3" {
            assert_eq!(book.found, []);
        } else {
            assert_eq!(book.found.len(), 1, "{line}");
        }
    }
}
