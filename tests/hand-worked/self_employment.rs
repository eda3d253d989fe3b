//! Self-employment tax around its floor, in cents and in whole dollars, and every line that its lines add.

use crate::year::{Year, shop, year_from};

fn with_profit(switches: &str, profit: &str, more: &str) -> Year {
    let book = format!("income work \"Work\"\n    form line 1\nreceived 2026-06-01 from a-buyer\n    {profit} for work\n{more}");
    year_from(&format!("{}{book}", shop(switches)), 2026)
}

/// A line of the schedule as printed.
fn printed(year: &Year, number: &str) -> String {
    let lines = &year.figures().self_employment;
    lines.iter().find(|line| line.number == number).expect("a line of the schedule").printed.to_fixed_text(0, 2)
}

#[test]
fn a_profit_of_433_14_owes_tax_and_one_a_cent_below_does_not_in_either_unit() {
    // 433.13 × 92.35 % is 399.995555, less than 400, and 433.14 × 92.35 % is 400.00479. Either profit is 433 in whole dollars, of which
    // 92.35 % is 399.8755 and would be printed as 400: below the floor it is printed as 399, so that the sheet says why it stops.
    for switches in ["    cents\n", "    whole dollars\n"] {
        let below = with_profit(switches, "433.13", "");
        assert_eq!(["6", "10", "11", "12", "13"].map(|line| printed(&below, line)), ["0"; 5], "{switches}");
        let net = if switches.contains("cents") { "399.99" } else { "399" };
        assert_eq!(["4a", "4c"].map(|line| printed(&below, line)), [net; 2], "{switches}");
        assert!(below.figures().notes.iter().any(|note| note.contains("399.995555")), "{:?}", below.figures().notes);
    }
    // 400 × 12.4 % is 49.60 and × 2.9 % is 11.60: 50 and 12 in whole dollars.
    let cents = with_profit("    cents\n", "433.14", "");
    assert_eq!(
        ["4a", "4c", "6", "10", "11", "12"].map(|line| printed(&cents, line)),
        ["400", "400", "400", "49.6", "11.6", "61.2"]
    );
    let whole = with_profit("    whole dollars\n", "433.14", "");
    assert_eq!(
        ["2", "4a", "4c", "6", "10", "11", "12", "13"].map(|line| printed(&whole, line)),
        ["433", "400", "400", "400", "50", "12", "62", "31"]
    );
    assert!(!whole.figures().notes.iter().any(|note| note.contains("line 4a")));
}

#[test]
fn a_printed_profit_that_rounding_moved_stands_on_its_own_side_of_the_floor() {
    // 1,000.49 less four expenses of 141.60 is 434.09, of which 92.35 % is 400.88: tax is owed. In whole dollars it is 1,000 less four of 142,
    // 432, of which 92.35 % is 398.95: printed as 400, the least from which tax is owed.
    let expenses: String = [("8", "a"), ("15", "b"), ("17", "c"), ("25", "d")]
        .iter()
        .map(|(line, name)| {
            format!("expense {name} \"{name}\"\n    form line {line}\npaid 2026-03-01 to telco\n    141.60 for {name}\n")
        })
        .collect();
    let year = with_profit("    whole dollars\n", "1000.49", &expenses);
    assert_eq!([year.line("31"), year.printed("31")], ["434.09", "432"]);
    assert_eq!(["2", "4a", "4c", "6", "12"].map(|line| printed(&year, line)), ["432", "400", "400", "400", "62"]);
}

#[test]
fn every_line_that_a_line_of_the_schedule_adds_is_printed() {
    let year = with_profit("    whole dollars\n", "50000.00", "choices 2026\n    wages elsewhere 31000.00\n");
    let lines = ["1a", "1b", "2", "3", "4a", "4b", "4c", "5a", "5b", "6", "7", "8a", "8b", "8c", "8d", "9"];
    // 50,000 × 92.35 %; 184,500 less 31,000.
    let amounts = lines.map(|line| printed(&year, line));
    assert_eq!(
        amounts,
        ["0", "0", "50000", "50000", "46175", "0", "46175", "0", "0", "46175", "184500", "31000", "0", "0", "31000", "153500"]
    );
}
