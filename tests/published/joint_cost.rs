//! Joint cost over several products of one batch.
//!
//! JOINT-1: answer.ya.guru/questions/5179340. VERIFIED. JOINT-3: ACCA F2 text, online.flipbuilder.com/bmcx/nlve, page 163. VERIFIED.
//! JOINT-5, the lumber company: OpenStax, *Principles of Accounting, Volume 2: Managerial Accounting*, section 10.5 (module m68085),
//! CC BY-NC-SA 4.0. VERIFIED.

use kerfbook::reports::report_stock;

use crate::compiled::{compile, text};

const GRADES: &str = "material log \"Lumber\"
    measured in kg
material firsts \"Firsts and seconds\"
    measured in bf
material no-1 \"No. 1 common\"
    measured in bf
material no-2 \"No. 2 common\"
    measured in bf
material no-3 \"No. 3 common\"
    measured in bf
bought 2026-01-02
    1 kg log for 900000.00
";

#[test]
fn joint_1_by_physical_measure_gives_180000_360000_225000_135000() {
    let book = compile(&format!(
        "{GRADES}built 2026-01-03 batch G-1
    used 1 kg log
    made 1500000 bf firsts
    made 3000000 bf no-1
    made 1875000 bf no-2
    made 1125000 bf no-3
    shared by count
"
    ));
    let costs = ["firsts", "no-1", "no-2", "no-3"].map(|name| text(book.output("G-1", name).full()));
    assert_eq!(costs, ["180000.00", "360000.00", "225000.00", "135000.00"]);
}

#[test]
fn joint_1_by_sales_value_gives_270000_405000_157500_67500() {
    // The prices 300, 225, 140 and 100 stand as shares, piece by piece.
    let book = compile(&format!(
        "{GRADES}built 2026-01-03 batch G-1
    used 1 kg log
    made 1500000 bf firsts, share 300
    made 3000000 bf no-1, share 225
    made 1875000 bf no-2, share 140
    made 1125000 bf no-3, share 100
"
    ));
    let costs = ["firsts", "no-1", "no-2", "no-3"].map(|name| text(book.output("G-1", name).full()));
    assert_eq!(costs, ["270000.00", "405000.00", "157500.00", "67500.00"]);
}

#[test]
fn joint_3_shares_50000_by_price_and_loses_no_digit() {
    // Printed 27,778 and 22,222; exact 27,777.77… and 22,222.22….
    let book = compile(
        "material base \"Base\"
    measured in kg
product ex \"X\"
    price 15.00
product wy \"Y\"
    price 8.00
bought 2026-01-02
    1 kg base for 50000.00
built 2026-01-03 batch J-3
    used 1 kg base
    made 5000 ex
    made 7500 wy
    shared by price
",
    );
    assert_eq!(text(book.output("J-3", "ex").full()), "27777.777778");
    assert_eq!(text(book.output("J-3", "wy").full()), "22222.222222");
    // In the cents of a report, which foot: COMPUTED 27,777.78 and 22,222.22.
    let stock = report_stock(&book.book, &book.log, &book.costed, None).expect("small figures");
    let shown: Vec<(&str, &str)> = stock.items.iter().map(|item| (item.name.as_str(), item.paid.as_str())).collect();
    assert_eq!(shown, [("ex", "27777.78"), ("wy", "22222.22")]);
    assert_eq!(stock.totals.paid, "50000.00");
}

/// A lumber company's joint cost is 1,100,000: 1,000,000 on the boards, 100,000 on scraps and sawdust.
fn lumber(scraps: &str) -> crate::compiled::Compiled {
    compile(&format!(
        "material log \"Logs\"
    measured in kg
material board \"Boards\"
    measured in bf
material scrap \"Scraps and sawdust\"
    measured in kg
bought 2026-01-02
    1 kg log for 1100000.00
built 2026-01-03 batch L-1
    used 1 kg log
    made 1000 bf board, share 10
{scraps}"
    ))
}

#[test]
fn joint_5_boards_bear_1000000_beside_scraps_and_all_of_it_where_scraps_are_worthless() {
    let both = lumber("    made 1000 kg scrap, share 1\n");
    assert_eq!(text(both.output("L-1", "board").full()), "1000000.00");
    assert_eq!(text(both.output("L-1", "scrap").full()), "100000.00");
    let worthless = lumber("    lost 1000 kg scrap\n");
    assert_eq!(text(worthless.output("L-1", "board").full()), "1100000.00");
}
