//! Donations: what of their cost was in the shop when the year began, which travels with the cost, and what was not.

use crate::year::{Year, shop, year_from};

const TRADE: &str = "\
material maple \"Maple\"
    measured in bf
step sanding \"Sanding\"
product board \"Board\"
product stool \"Stool\"
helper sam \"Sam\"
    contractor
    costs 20.00 per h
";

fn lines(year: &Year) -> [String; 4] {
    [year.line("35"), year.line("36"), year.line("41"), year.line("42")]
}

/// Ten board feet for 100.00 lie there over the year's end; in 2026 they and ten more for 140.00 become four boards of 60.00 each.
const BOARDS: &str = "\
bought 2025-12-05 from the-yard
    10 bf maple for 100.00
bought 2026-01-10 from the-yard
    10 bf maple for 140.00
built 2026-02-01 batch B
    used 20 bf maple
    made 4 board
";

#[test]
fn of_a_board_made_this_year_the_wood_of_last_year_was_carried_in() {
    let gave = "gave 2026-03-01 to \"the raffle\" as donation\n    1 board worth 90.00\n";
    let year = year_from(&format!("{}{TRADE}{BOARDS}{gave}", shop("    accrual basis\n")), 2026);
    // A quarter of 240.00 is given: 60.00, of which 25.00 was wood of last year. 35: 100 − 25. 42: 75 + 140 − 180 = 35, this year's part.
    assert_eq!(lines(&year), ["75.00", "140.00", "180.00", "35.00"]);
}

#[test]
fn under_average_every_piece_carries_the_same_part_in() {
    let gave = "gave 2026-03-01 to \"the raffle\" as donation\n    5 bf maple worth 90.00\n";
    let text = BOARDS.replace("built 2026-02-01 batch B\n    used 20 bf maple\n    made 4 board\n", "");
    let year = year_from(&format!("{}{TRADE}{text}{gave}", shop("    accrual basis\n    costing average\n")), 2026);
    // The pool of 20 for 240.00 holds 100.00 of last year. Five of it: 60.00, of which 25.00.
    assert_eq!(lines(&year), ["75.00", "140.00", "180.00", "35.00"]);
}

/// Two stools for 60.00, sold; one comes back in 2026 and is given away.
fn stool_back(opened: &str, sold: &str) -> crate::year::Year {
    let text = format!(
        "opened {opened}\n    2 stool for 60.00\nsold {sold} via counter order \"S-1\"\n    2 stool at 80.00\n\
         returned 2026-02-01 order \"S-1\"\n    1 stool, refunded 80.00, back to stock\n\
         gave 2026-03-01 to \"the raffle\" as donation\n    1 stool worth 80.00\n"
    );
    year_from(&format!("{}{TRADE}{text}", shop("    accrual basis\n")), 2026)
}

#[test]
fn what_came_back_of_an_earlier_year_s_sale_was_not_in_the_shop_when_the_year_began() {
    let year = stool_back("2025-01-01", "2025-06-01");
    // The stool of 30.00 comes back and is given: nothing of it was in line 35. 42: −30 sold + 30 donated.
    assert_eq!(lines(&year), ["0.00", "0.00", "0.00", "0.00"]);
    let went = &year.figures().cost_of_goods.went_to;
    assert_eq!([went.sold, went.donated].map(|sum| sum.to_string()), ["-30", "30"]);
}

#[test]
fn what_came_back_of_this_year_s_sale_was_there_when_the_year_began() {
    let year = stool_back("2026-01-01", "2026-01-20");
    // One stays sold; the other was in the opening stock of 60.00 and leaves it.
    assert_eq!(lines(&year), ["30.00", "0.00", "0.00", "30.00"]);
}

#[test]
fn on_the_cash_basis_only_what_was_paid_by_then_was_in_the_opening_stock() {
    let text = BOARDS.replace(
        "    10 bf maple for 100.00\nbought 2026",
        "    10 bf maple for 100.00\n    paid 40.00 on 2025-12-05\npaid 2026-01-15 to the-yard\n    60.00 for bought 2025-12-05\nbought 2026",
    );
    let gave = "gave 2026-03-01 to \"the raffle\" as donation\n    1 board worth 90.00\n";
    let year = year_from(&format!("{}{TRADE}{text}{gave}", shop("    cash basis\n")), 2026);
    // 35: 40 paid by then, a quarter of which leaves with the board: 30. 36: 60 + 140. 41: 180. 42: 30 + 200 − 180 = 50 = 60 − 10.
    assert_eq!(lines(&year), ["30.00", "200.00", "180.00", "50.00"]);
}

#[test]
fn kept_as_supplies_only_the_wood_is_in_the_opening_stock() {
    let text = "\
bought 2025-12-05 from the-yard
    4 bf maple for 40.00
built 2025-12-10 batch B
    used 4 bf maple
    took 1h sanding by sam
    made 2 board
gave 2026-03-01 to \"the raffle\" as donation
    1 board worth 90.00
";
    let year = year_from(&format!("{}{TRADE}{text}", shop("    accrual basis\n    stock kept as supplies\n")), 2026);
    // Sam's 20.00 counted in 2025. Of the two boards 40.00 of wood waits; the one that is given takes 20.00 off line 35.
    assert_eq!(lines(&year), ["20.00", "0.00", "20.00", "0.00"]);
}

#[test]
fn of_what_is_given_the_licence_of_an_earlier_year_was_carried_in() {
    let text = "\
pattern plan \"Plan\"
    allows 50 ea for sale
product duck \"Duck\"
    pattern plan
bought 2025-12-05 from designer
    1 licence plan for 100.00
bought 2026-01-10 from the-yard
    4 bf maple for 40.00
built 2026-02-01 batch B
    used 4 bf maple
    made 4 duck
gave 2026-03-01 to \"the raffle\" as donation
    1 duck worth 20.00
";
    let year = year_from(&format!("{}{TRADE}{text}", shop("    accrual basis\n")), 2026);
    // A duck is 10.00 of wood and 2.00 of the licence, which lay there when the year began. 35: 100 − 2. 41: three ducks of 12.00 and 46 pieces
    // of the licence for 92.00. 42: 98 + 40 − 128 = 10, the wood.
    assert_eq!(lines(&year), ["98.00", "40.00", "128.00", "10.00"]);
}

#[test]
fn what_is_opened_in_the_middle_of_a_year_was_not_in_the_shop_when_it_began() {
    let year = stool_back("2026-01-15", "2026-01-20");
    // The two of 60.00 are this year's, on line 36. One stays sold and one is given: nothing of it was in line 35, so nothing leaves that line.
    assert_eq!(lines(&year), ["0.00", "60.00", "0.00", "60.00"]);
}
