//! What lies in licences for pieces that are not made yet, and overhead of a year that is not over, worked by hand.

use kerfbook::reports::{Period, report_cost, report_stock};

use crate::compiled::compile_texts;
use crate::year::shop;

/// A licence of 12.00 for ten pieces is bought in January; four are made in February of 8.00 of wood.
const LICENCE: &str = "\
pattern duck-pattern \"Duck on wheels\"
    allows 10 ea for sale
material oak \"Oak\"
    measured in bf
product duck \"Duck\"
    pattern duck-pattern
bought 2026-01-10 from \"The yard\"
    20 bf oak for 20.00
    1 licence duck-pattern for 12.00
built 2026-02-05 batch D-1
    used 8 bf oak
    made 4 duck
";

#[test]
fn stock_month_by_month_is_what_stands_on_the_shelf_without_licences_of_pieces_not_made() {
    let text = format!("{}{LICENCE}", shop(""));
    let compiled = compile_texts(&[("book.kerf", &text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let report = report_stock(&compiled.book, &compiled.log, &compiled.costed, None).expect("small figures");
    // January: 20.00 of wood. February: 12.00 of wood, and four ducks of 8.00 of wood and 4 · 1.20 of the licence.
    let months: Vec<(&str, &str)> = report.over_time.iter().map(|(month, paid)| (month.as_str(), paid.as_str())).collect();
    assert_eq!(months, [("2026-01", "20.00"), ("2026-02", "24.80")]);
    assert_eq!(report.totals.paid, "24.80");
    assert_eq!(report.notes, ["$7.20 paid for licences of pieces that are not made yet is in none of these sums"]);
}

/// Rent of 90.00 in the whole of 2026 over 60 hours, and 30.00 in January 2027 over 2 hours.
const RENT: &str = "\
expense rent \"Rent of the corner\"
    form line 20b
    counts as overhead
step cutting \"Cutting\"
material oak \"Oak\"
    measured in bf
product stool \"Stool\"
opened 2026-01-01
    20 bf oak for 20.00
paid 2026-06-01 to \"The landlord\"
    90.00 for rent
built 2026-07-01 batch S-1
    used 8 bf oak
    took 60h cutting
    made 4 stool
";

const JANUARY: &str = "\
paid 2027-01-05 to \"The landlord\"
    30.00 for rent
built 2027-01-10 batch S-2
    used 8 bf oak
    took 2h cutting
    made 4 stool
";

fn notes(entries: &str) -> Vec<String> {
    let text = format!("{}{RENT}{entries}", shop("    owner time 20.00 per h\n    overhead from expenses\n"));
    let compiled = compile_texts(&[("book.kerf", &text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    report_cost(&compiled.book, &compiled.log, &compiled.costed, Period::default(), None).expect("small figures").notes
}

#[test]
fn overhead_of_a_year_that_is_not_over_is_said_with_its_numbers() {
    // 30.00 over 2 h is 15.00; over 2026 it was 90.00 / 60 h = 1.50.
    assert_eq!(
        notes(JANUARY),
        [
            "overhead comes from expenses, and 2027 is in the book only to 2027-01-10: 30.00 spread over 2 h of work is 15.00 an hour so \
          far; over the year before it was 1.50. It changes with every bill and every hour until the year is over"
        ]
    );
    let whole_year = format!("{JANUARY}noted 2027-12-31 \"closed\"\n");
    assert_eq!(notes(&whole_year), [""; 0]);
}
