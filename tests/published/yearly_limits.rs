//! The limits of 2022 to 2026: what is charged off at once, helpers' payments, gross receipts, meals, gifts.
//!
//! Each is held against a book on both sides of it, where a book can show it. Section 179, bonus and wage bases are in
//! `tax_year`. The limits of Form 1099-K (over 20,000 and over 200 sales, P.L. 119-21 section 70432) decide nothing in a book:
//! income is income whether or not a form comes, so the program holds none, and a channel's statement is compared whatever it
//! says.

use crate::compiled::compile_with_mistakes;
use crate::tax_year::{book, figures, forms_of, text, year};
use kerfbook::year::Forms;

/// Limits from which a payment to a helper is reported. VERIFIED (3rd-party): P.L. 119-21 section 70433, joneskolb.com and
/// daytraderscpa.com.
#[test]
fn a_helper_is_reported_from_600_and_from_2026_on_from_2000() {
    let forms = forms_of(2022..2024, "");
    for (of, limit) in [(2022, "600"), (2023, "600"), (2024, "600"), (2025, "600"), (2026, "2000")] {
        assert_eq!(figures(&forms).helper_payments(of).expect("a limit").limit.0.to_string(), limit, "{of}");
        let listed = |paid: &str| {
            let shop = book(
                "",
                &format!(
                    "step sanding \"Sanding\"\nworked {of}-03-01\n    10h sanding by lee for {paid}\nnoted {of}-12-31 \"done\"\n"
                ),
            );
            let sheet = year(&shop, &forms, of);
            let part = sheet.cut_off.iter().find(|part| part.name == "helpers over the reporting limit").expect("a part");
            part.rows.len()
        };
        let below: u32 = limit.parse::<u32>().expect("a number") - 1;
        assert_eq!([listed(&format!("{below}.99")), listed(&format!("{limit}.00"))], [0, 1], "{of}");
    }
}

/// IRC 448(c), 471(c): average gross receipts of a small taxpayer. 2022 and 2026 FROM MEMORY (Rev. Proc. 2021-45, 2025-32); 2023
/// VERIFIED at irs.gov (Rev. Proc. 2022-38, 3.31); 2024 and 2025 VERIFIED (3rd-party),
/// legalclarity.org/what-is-the-gross-receipts-test-under-section-448c and -448c-2.
#[test]
fn above_the_gross_receipts_of_a_small_taxpayer_the_sheet_is_no_filing_figure() {
    let forms = forms_of(2022..2024, "");
    let limits = [(2022, 27_000_000), (2023, 29_000_000), (2024, 30_000_000), (2025, 31_000_000), (2026, 32_000_000)];
    for (of, limit) in limits {
        let before = of - 1;
        let asked = |received: &str| {
            let income =
                format!("income work \"Work\"\n    form line 1\nreceived {before}-06-01 from a-buyer\n    {received} for work\n");
            let shop = book("", &format!("{income}noted {of}-12-31 \"done\"\n"));
            year(&shop, &forms, of).open_questions().any(|question| question.name == "stock/small-taxpayer")
        };
        assert_eq!([asked(&format!("{limit}.00")), asked(&format!("{limit}.01"))], [false, true], "{of}");
    }
}

/// Meals: half of them. 2024 VERIFIED (2024 Schedule C instructions, ses.stf.com), taken over for 2023, 2025 and 2026. In 2022
/// restaurant meals counted in full (FROM MEMORY); a book does not say where a meal was eaten, so that half is taken then too.
#[test]
fn meals_count_by_half() {
    let forms = forms_of(2022..2024, "");
    for of in 2022..=2026 {
        let shop =
            book("", &format!("expense lunch \"Lunch\"\n    form line 24b\npaid {of}-06-01 to an-inn\n    81.00 for lunch\n"));
        let sheet = year(&shop, &forms, of);
        assert_eq!(sheet.line("24b").expect("a line").cents.to_string(), "40.5", "{of}");
    }
}

/// Business gifts: 25 a person and year, IRC 274(b)(1) (FROM MEMORY).
#[test]
fn the_question_about_gifts_names_the_limit() {
    let shop = book("", "opened 2026-01-01\n    2 good for 20.00\ngave 2026-03-01 to a-friend as gift\n    1 good\n");
    let sheet = year(&shop, &Forms::built_in(), 2026);
    let question = sheet.open_questions().find(|question| question.name == "gifts/limit").expect("asked");
    assert!(question.question.contains(" of 25 a person"), "{}", question.question);
}

/// 26 CFR 1.162-3: a unit of at most 200 (VERIFIED (3rd-party), deandorton.com). 26 CFR 1.263(a)-1(f) and Notice 2015-82: at most
/// 2,500 an item on the invoice where it is elected (VERIFIED (3rd-party), currentfederaltaxdevelopments.com, 1040abroad.com).
/// Five computers at 2,495, with and without delivery, are in
/// `hand-worked/equipment`.
#[test]
fn two_hundred_and_where_elected_two_thousand_five_hundred_are_charged_off_and_a_cent_more_is_not() {
    let forms = Forms::built_in();
    let line_22 = |cost: &str, elected: &str| {
        let bought = format!("tool saw \"Saw\"\n    expensed at once\nbought 2026-03-01 from dealer\n    1 saw for {cost}\n");
        let (shop, mistakes) = compile_with_mistakes(&text("", &format!("{elected}{bought}")));
        let codes: Vec<&str> = mistakes.iter().map(|one| &one[..4]).collect();
        if codes.is_empty() { year(&shop, &forms, 2026).line("22").expect("a line").cents.to_string() } else { codes.join(" ") }
    };
    let elected = "choices 2026\n    de minimis elected\n";
    assert_eq!([line_22("200.00", ""), line_22("200.01", "")], ["200", "K508"]);
    assert_eq!([line_22("2500.00", elected), line_22("2500.01", elected), line_22("2500.00", "")], ["2500", "K508", "K508"]);
}
