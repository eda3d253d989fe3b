//! Publication 946, Appendix A, Tables, against what others print of them and against the formula behind them.
//!
//! The publication's own pages give these tables as pictures; what could be read are transcriptions, named beside each check.

use kerfbook::year::{Convention, DepreciationTable, Forms};
use rust_decimal::Decimal;

/// Conventions, with the part of a year that the first one counts, in eighths.
const CONVENTIONS: [(Convention, u32); 5] = [
    (Convention::HalfYear, 4),
    (Convention::MidQuarter(1), 7),
    (Convention::MidQuarter(2), 5),
    (Convention::MidQuarter(3), 3),
    (Convention::MidQuarter(4), 1),
];

fn each_table(mut check: impl FnMut(&DepreciationTable, u32)) {
    let forms = Forms::built_in();
    let figures = forms.figures("us-schedule-c").expect("figures");
    let years = figures.depreciation_years();
    assert_eq!(years, [3, 5, 7]);
    for over in years {
        for (convention, eighths) in CONVENTIONS {
            check(figures.depreciation(over.into(), convention).expect("a table"), eighths);
        }
    }
}

#[test]
fn every_column_sums_to_a_hundred_percent() {
    each_table(|table, _| {
        let sum: Decimal = table.percent.iter().map(|percent| percent.0).sum();
        assert_eq!(sum, Decimal::ONE_HUNDRED, "{} years, {:?}", table.years, table.convention);
    });
}

/// COMPUTED: 200 % declining balance, changed to the straight line where that gives more, from the middle of the half-year or quarter
/// (26 U.S.C. 168(b)(1), (d)(4), FROM MEMORY). The publication rounds as it goes: its figures are within 0.014 of the formula.
#[test]
fn every_percentage_is_that_of_the_formula_but_for_its_rounding() {
    let most = Decimal::new(14, 3);
    each_table(|table, eighths| {
        let first = Decimal::from(eighths) / Decimal::from(8);
        let twice = Decimal::TWO / Decimal::from(table.years);
        let mut left = Decimal::ONE_HUNDRED;
        let mut life = Decimal::from(table.years);
        for (at, percent) in table.percent.iter().enumerate() {
            let part = match at {
                0 => left * twice * first,
                _ if life <= Decimal::ONE => left,
                _ => left * twice.max(Decimal::ONE / life),
            };
            let off = (part - percent.0).abs();
            assert!(off <= most, "{} years, {:?}, year {}: {part} is not {}", table.years, table.convention, at + 1, percent.0);
            left -= part;
            life -= if at == 0 { first } else { Decimal::ONE };
        }
    });
}

fn begins_with(over: u32, quarter: u8, column: &str) {
    let forms = Forms::built_in();
    let figures = forms.figures("us-schedule-c").expect("figures");
    let table = figures.depreciation(over.into(), Convention::MidQuarter(quarter)).expect("a table");
    let count = column.split(' ').count();
    let percents: Vec<String> = table.percent.iter().take(count).map(|percent| percent.0.to_string()).collect();
    assert_eq!(percents.join(" "), column, "{over} years, quarter {quarter}");
}

/// Table A-2, whole. VERIFIED (3rd-party): fkco.com/tax_resources/depreciationtable2.html.
#[test]
fn table_a_2_is_as_printed() {
    begins_with(3, 1, "58.33 27.78 12.35 1.54");
    begins_with(5, 1, "35.00 26.00 15.60 11.01 11.01 1.38");
    begins_with(7, 1, "25.00 21.43 15.31 10.93 8.75 8.74 8.75 1.09");
}

/// Table A-3, the first five years. VERIFIED (3rd-party): cxp.cengage.com/contentservice/assets/T=1586447785969/whitf38h/images/ch08/table_8-4.html. The later years are
/// those of tables in public programs, which agree with each other and with the sum, but for one that ends with 3.33.
#[test]
fn table_a_3_is_as_printed() {
    begins_with(3, 2, "41.67 38.89 14.14 5.30");
    begins_with(5, 2, "25.00 30.00 18.00 11.37 11.37");
    begins_with(7, 2, "17.85 23.47 16.76 11.97 8.87");
}

/// Table A-4. VERIFIED (3rd-party): fkco.com/tax_resources/depreciationtable4.html, which ends the seven years with 5.83, so that they come to 100.30; tables in
/// public programs have 5.53.
#[test]
fn table_a_4_is_as_printed() {
    begins_with(3, 3, "25.00 50.00 16.67 8.33");
    begins_with(5, 3, "15.00 34.00 20.40 12.24 11.30 7.06");
    begins_with(7, 3, "10.71 25.51 18.22 13.02 9.30 8.85 8.86");
}

/// Table A-5. VERIFIED (3rd-party): taxprotesttx.com/datasets/macrs-tables-pub-946.json for five and seven years, the page named at Table A-3 for three.
#[test]
fn table_a_5_is_as_printed() {
    begins_with(3, 4, "8.33 61.11 20.37 10.19");
    begins_with(5, 4, "5.00 38.00 22.80 13.68 10.94 9.58");
    begins_with(7, 4, "3.57 27.55 19.68 14.06 10.04 8.73 8.73 7.64");
}
