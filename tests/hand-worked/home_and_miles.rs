//! The home workshop, miles, meals, business shares, sales tax.

use crate::year::{Year, shop, year_from};

const SOLD: &str =
    "product stool \"Stool\"\nopened 2026-01-01\n    9 stool for 90.00\nsold 2026-02-02 via counter\n    9 stool at 310.00\n";

fn year(switches: &str, rest: &str) -> Year {
    year_from(&format!("{}{SOLD}{rest}", shop(switches)), 2026)
}

#[test]
fn the_simplified_workshop_averages_twelve_months_of_at_most_300_square_feet() {
    // In use from 17 March: fifteen days, so March counts. Ten months of 300 of the 400 square feet, over twelve, at 5: 1,250.
    let march = year("    home workshop 400 sq ft, simplified, from 2026-03-17\n", "");
    assert_eq!(march.line("30"), "1250.00");
    // From the 18th March has fourteen days and is nothing.
    let later = year("    home workshop 400 sq ft, simplified, from 2026-03-18\n", "");
    assert_eq!(later.line("30"), "1125.00");
}

#[test]
fn the_workshop_makes_no_loss_and_nothing_is_carried() {
    let cheap = SOLD.replace("310.00", "60.00");
    let year = year_from(&format!("{}{cheap}", shop("    home workshop 200 sq ft, simplified\n")), 2026);
    // 540 − 90 of goods leave 450 on line 29; 1,000 is limited to that.
    assert_eq!([year.line("29"), year.line("30"), year.line("31")], ["450.00", "450.00", "0.00"]);
    let home = year.figures().home.as_ref().expect("a workshop");
    assert_eq!((home.before_limit.to_string(), home.excess.to_string()), ("1000".into(), "550".into()));
    let loss =
        year_from(&format!("{}{}", shop("    home workshop 200 sq ft, simplified\n"), SOLD.replace("310.00", "1.00")), 2026);
    assert_eq!([loss.line("29"), loss.line("30"), loss.line("31")], ["-81.00", "0.00", "-81.00"]);
}

#[test]
fn a_share_of_the_house_costs_stands_on_line_30_only() {
    let rent =
        "expense rent \"Rent\"\n    form line 30\n    counts as house cost\npaid 2026-03-01 to landlord\n    1000.00 for rent\n";
    let year = year("    home workshop 12% of house costs\n", rent);
    assert_eq!([year.line("30"), year.line("20b"), year.line("28")], ["120.00", "0.00", "0.00"]);
}

#[test]
fn house_costs_without_a_workshop_that_takes_a_share_are_asked_about() {
    let rent =
        "expense rent \"Rent\"\n    form line 30\n    counts as house cost\npaid 2026-03-01 to landlord\n    1000.00 for rent\n";
    let year = year("    home workshop 200 sq ft, simplified\n", rent);
    assert_eq!(year.line("30"), "1000.00");
    assert!(year.open().contains(&"home-workshop/house-costs"));
}

#[test]
fn miles_are_summed_at_their_rate_and_rounded_once() {
    // 0.1 + 0.1 + 0.1 mi at 72.5 cents are 0.2175, not three times 0.07.
    let year = year("", "drove 2026-03-01 0.1 mi\ndrove 2026-03-02 0.1 mi\ndrove 2026-03-03 0.1 mi\n");
    assert_eq!(year.line("9"), "0.22");
    assert!(year.open().contains(&"mileage/first-year") && year.open().contains(&"odometer/readings"));
}

#[test]
fn a_share_is_taken_of_the_year_s_total_and_meals_of_that() {
    let costs = "expense phone \"Telephone\"\n    form line 25\n    business use 33%\nexpense lunch \"Lunch at fairs\"\n    form line 24b\n    business use 80%\n\
                 paid 2026-03-01 to a\n    10.05 for phone\n    12.35 for lunch\npaid 2026-04-01 to a\n    10.05 for phone\n";
    let year = year("", costs);
    // 20.10 × 33 % = 6.633; month by month it would be 3.32 twice. 12.35 × 80 % × 50 % = 4.94.
    assert_eq!([year.line("25"), year.line("24b")], ["6.63", "4.94"]);
}

#[test]
fn a_share_or_line_that_changes_holds_from_its_day() {
    let costs = "expense phone \"Telephone\"\n    form line 25\n    business use 50%\nchanged 2026-07-01 phone\n    form line other\n    business use 10%\n\
                 paid 2026-03-01 to a\n    10.00 for phone\npaid 2026-08-01 to a\n    10.00 for phone\n";
    let year = year("", costs);
    assert_eq!([year.line("25"), year.line("27b"), year.line("48")], ["5.00", "1.00", "1.00"]);
}

#[test]
fn sales_tax_is_a_debt_by_quarter_and_its_allowance_is_income() {
    let taxed = "sold 2026-05-02 via counter\n    120.00 for engraving\n    sales-tax 7.20\npaid 2026-07-15 to \"the state\"\n    7.00 for sales-tax, allowed 0.15\n";
    let year = year("    sales-tax to home-state\n", &format!("income engraving \"Engraving\"\n    form line 1\n{taxed}"));
    assert_eq!([year.line("1"), year.line("6"), year.line("23")], ["2910.00", "0.15", "0.00"]);
    let rows: Vec<String> = (year.figures().sales_tax.iter())
        .map(|row| format!("{} {} {} {} {} {}", row.to, row.period, row.collected, row.paid_over, row.allowed, row.owed))
        .collect();
    assert_eq!(rows, ["home-state 2026-Q2 7.2 0 0 7.2", "home-state 2026-Q3 0 7 0.15 0.05", "home-state 2026 7.2 7 0.15 0.05"]);
}

#[test]
fn fewer_miles_on_the_odometer_than_were_driven_for_the_shop_are_asked_about() {
    // 100 on the day of the first reading and 37 after it; the readings are 70 apart.
    let drives = "drove 2026-01-01 100 mi\ndrove 2026-02-28 37 mi\nodometer 2026-01-01 41230 mi\n";
    let at = |end: u32| year("", &format!("{drives}odometer 2026-12-31 {end} mi\n"));
    let short = at(41300);
    let asked = short.figures().questions.iter().find(|one| one.name == "odometer/too-few").expect("asked");
    assert_eq!(
        (asked.question.as_str(), asked.entries.len()),
        ("from 2026-01-01 to 2026-12-31 the odometer turned by 70 miles, and 137 were driven for the shop: which is right?", 2)
    );
    // A reading leaves the part of a mile out.
    assert!(at(41365).open().contains(&"odometer/too-few") && !at(41366).open().contains(&"odometer/too-few"));
}

#[test]
fn a_no_to_the_first_year_of_the_rate_leaves_the_question_open_and_says_what_is_to_be_written() {
    let answered =
        |said: &str| year("", &format!("drove 2026-03-01 10 mi\nanswered 2026-12-31 \"mileage/first-year\" \"{said}\"\n"));
    for said in ["no", "No, actual costs", "never"] {
        let no = answered(said);
        assert!(no.open().contains(&"mileage/first-year"), "{said}");
        let note = no.figures().notes.iter().find(|note| note.contains("mileage/first-year")).expect("a note");
        assert!(note.ends_with("what settles it is the car's costs as an expense on its line, in place of the drives"), "{note}");
    }
    assert!(!answered("yes, from the first year on").open().contains(&"mileage/first-year"));
    assert!(!answered("noted in the log of 2024: yes").open().contains(&"mileage/first-year"));
}

#[test]
fn a_row_of_sales_tax_begins_with_what_was_owed_before_it() {
    // 8.40 collected in December and paid over in April; 2.00 collected in May.
    let sold = "sold 2025-12-01 via counter\n    1 stool for 100.00\n    sales-tax 8.40\npaid 2026-04-20 to state\n    \
                8.40 for sales-tax\nsold 2026-05-01 via counter\n    1 stool for 30.00\n    sales-tax 2.00\n";
    let stool = "product stool \"Stool\"\nopened 2025-01-01\n    9 stool for 90.00\n";
    let year = year_from(&format!("{}{stool}{sold}", shop("")), 2026);
    let rows: Vec<_> = (year.figures().sales_tax.iter())
        .map(|row| {
            (row.period.as_str(), [row.owed_before, row.collected, row.paid_over, row.owed].map(|sum| sum.to_fixed_text(2, 2)))
        })
        .collect();
    let row = |period, sums: [&str; 4]| (period, sums.map(str::to_owned));
    assert_eq!(rows, [row("2026-Q2", ["8.40", "2.00", "8.40", "2.00"]), row("2026", ["8.40", "2.00", "8.40", "2.00"])]);
    assert!(rows.iter().all(|_| year.report().schedules.sales_tax.iter().all(|row| row.owed_before == "8.40")));
}
