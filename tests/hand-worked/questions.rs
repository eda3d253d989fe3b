//! Open questions, their answers, statements, gifts and donations.

use crate::year::{shop, year_from};

const STOOLS: &str = "product stool \"Stool\"\n    price 40.00\nopened 2026-01-01\n    5 stool for 50.00\n";

#[test]
fn a_question_is_open_until_an_answer_names_it() {
    let text = format!("{}{STOOLS}", shop("    cash basis\n    stock kept as inventory\n"));
    assert!(year_from(&text, 2026).open().contains(&"stock/inventory-with-cash"));
    for day in ["2026-12-31", "2027-03-14"] {
        let answered = year_from(&format!("{text}answered {day} \"stock/inventory-with-cash\" \"yes, since 2019\"\n"), 2026);
        assert!(!answered.open().contains(&"stock/inventory-with-cash"));
        let question = answered.report().open_questions.into_iter().find(|one| one.name == "stock/inventory-with-cash");
        assert_eq!(question.and_then(|one| one.answer).as_deref(), Some("yes, since 2019"));
    }
    let text = text.replace("2026-01-01", "2025-01-01");
    let old = year_from(&format!("{text}answered 2025-12-31 \"stock/inventory-with-cash\" \"yes\"\n"), 2026);
    assert!(old.open().contains(&"stock/inventory-with-cash"));
}

#[test]
fn an_answer_of_the_year_itself_stands_before_one_of_the_next() {
    let text = format!("{}{STOOLS}", shop("    cash basis\n    stock kept as inventory\n"));
    let answer = |day: &str, said: &str| format!("answered {day} \"stock/inventory-with-cash\" \"{said}\"\n");
    let given = |text: &str| {
        let asked = year_from(text, 2026).report().open_questions.into_iter();
        asked.filter(|one| one.name == "stock/inventory-with-cash").filter_map(|one| one.answer).collect::<Vec<_>>()
    };
    let of_both = format!("{text}{}{}", answer("2026-12-31", "of 2026"), answer("2027-01-10", "of 2027"));
    assert_eq!(given(&of_both), ["of 2026"]);
    // Of answers of one year the later counts, whether that is the year's own or the next.
    let twice = format!("{text}{}{}", answer("2026-11-30", "first"), answer("2026-12-31", "second"));
    assert_eq!(given(&twice), ["second"]);
    let while_prepared = format!("{text}{}{}", answer("2027-01-10", "first"), answer("2027-02-10", "second"));
    assert_eq!(given(&while_prepared), ["second"]);
}

#[test]
fn an_answer_to_no_question_is_told() {
    let year =
        year_from(&format!("{}{STOOLS}answered 2026-12-31 \"stock/nothing\" \"yes\"\n", shop("    accrual basis\n")), 2026);
    assert!(year.figures().notes.iter().any(|note| note.contains("stock/nothing")));
}

#[test]
fn a_sample_a_gift_and_a_donation_leave_in_their_own_ways() {
    let gone = "gave 2026-03-01 to a-shop as sample\n    1 stool\ngave 2026-03-02 to a-friend as gift\n    1 stool\n\
                gave 2026-03-03 to \"the raffle\" as donation\n    1 stool worth 8.00\n";
    let year = year_from(&format!("{}{STOOLS}{gone}", shop("    accrual basis\n")), 2026);
    // 10 each: off 36 to 8; off 36 to other expenses; of the donation, all in the opening stock, its value of 8 off 35, and 2 stay in 42.
    assert_eq!(
        [year.line("8"), year.line("27b"), year.line("35"), year.line("36"), year.line("41"), year.line("42")],
        ["10.00", "10.00", "42.00", "-20.00", "20.00", "2.00"]
    );
    // Nothing was bought: the sample and the gift make line 36 negative, which is said.
    let below: Vec<&String> = year.figures().notes.iter().filter(|note| note.contains("less than nothing")).collect();
    assert_eq!(below.len(), 1, "{below:#?}");
    assert!(below[0].starts_with("line 36 comes to -20.00, less than nothing: ") && below[0].contains("(-10.00)"), "{below:#?}");
    assert!(below[0].ends_with(" is more than the 0.00 that was added"), "{below:#?}");
    assert!(year.open().contains(&"gifts/limit") && !year.open().contains(&"donations/value"));
    // Five at 10.00 when the book began: the line is compared before the donation.
    let sentence = "50.00 at the start, in the book's first year: it must be the line of last year's closing stock; 8.00 of it was donated, so that line 35 is 42.00";
    assert_eq!(start_against_last_year(&year), [sentence]);
    let without = year_from(&format!("{}{STOOLS}{}", shop("    accrual basis\n"), gone.replace(" worth 8.00", "")), 2026);
    assert!(without.open().contains(&"donations/value"));
    // The list price of 40 is the guess; the cost of 10 is less.
    assert_eq!(without.line("35"), "40.00");
}

#[test]
fn opening_stock_after_the_first_day_stands_with_the_purchases_and_is_asked_about() {
    let text = format!("{}{}", shop("    accrual basis\n"), STOOLS.replace("2026-01-01", "2026-03-01"));
    let year = year_from(&text, 2026);
    assert_eq!([year.line("35"), year.line("36"), year.line("41"), year.line("42")], ["0.00", "50.00", "50.00", "0.00"]);
    assert!(year.open().contains(&"stock/opened-later"));
}

#[test]
fn a_statement_is_held_against_the_books() {
    let sold = "channel market \"Market\"\nsold 2026-05-02 via market\n    2 stool at 40.00\n    shipping 9.00\n";
    let with =
        |gross: &str| year_from(&format!("{}{STOOLS}{sold}statement 2026 from market\n    gross {gross}\n", shop("")), 2026);
    let row = |year: &crate::year::Year| {
        let part = year.figures().cut_off.iter().find(|part| part.name == "statements").expect("the part");
        part.rows.join("; ")
    };
    assert_eq!(row(&with("80.00")), "market says 80.00, the books 80.00: they agree");
    assert_eq!(row(&with("89.00")), "market says 89.00, the books 80.00: the difference is shipping 9.00");
    let off = with("95.00");
    assert_eq!(row(&off), "market says 95.00, the books 80.00: 15.00 is not explained");
    assert!(off.open().contains(&"market/statement"));
}

#[test]
fn goods_issued_without_stock_are_left_out_of_the_cost_of_goods() {
    let text = format!(
        "{}{STOOLS}sold 2026-02-01 via counter\n    7 stool at 40.00\n",
        shop("    accrual basis\n    short stock is a warning\n")
    );
    let year = year_from(&text, 2026);
    // Seven sold at 10; two of them never came.
    assert_eq!([year.line("35"), year.line("41"), year.line("42")], ["50.00", "0.00", "50.00"]);
    assert_eq!(year.figures().cost_of_goods.unrecorded.to_string(), "20");
    assert!(year.open().contains(&"stock/unrecorded"));
}

#[test]
fn a_count_after_goods_went_out_unrecorded_leaves_what_was_counted() {
    let text = format!(
        "{}{STOOLS}sold 2026-02-01 via counter\n    7 stool at 40.00\ncounted 2026-02-28\n    3 stool\n",
        shop("    accrual basis\n    short stock is a warning\n")
    );
    let year = year_from(&text, 2026);
    // Five at 10 were there and seven are sold; three are counted, so five more came than the book has, two of which went into the sale. The 70
    // that was sold less the 50 that was found is 20, as 50 at the start less 30 at the end.
    assert_eq!([year.line("35"), year.line("41"), year.line("42")], ["50.00", "30.00", "20.00"]);
    assert_eq!(year.figures().cost_of_goods.unrecorded.to_string(), "0");
    assert!(!year.open().contains(&"stock/unrecorded"));
}

#[test]
fn a_change_of_stock_method_keeps_last_year_s_closing_stock_and_names_the_difference() {
    let text = format!(
        "{}material oak \"Oak\"\n    measured in bf\nmaterial blade \"Blade\"\n    measured in ea\n    as wear\nstep cutting \"Cutting\"\n    wears 1 blade per 1h\n\
         step sanding \"Sanding\"\nproduct stool \"Stool\"\nbuilt 2025-04-01 batch B\n    took 1h sanding by kim for 20.00\n    made 1 stool\n\
         bought 2025-03-01 from dealer\n    4 bf oak for 40.00\n    4 blade for 8.00\nchanged 2026-01-01 shop\n    stock kept as supplies\n",
        shop("    accrual basis\n    stock kept as inventory\n")
    );
    let year = year_from(&text, 2026);
    // 68 closed 2025; by the new method 40 of it waits, 20 of hired time fall into the cost of goods, and 8 of blades wait outside until they are used.
    assert_eq!(["35", "38", "41", "42"].map(|line| year.line(line)), ["68.00", "-8.00", "40.00", "20.00"]);
    assert_eq!(year.figures().cost_of_goods.method_change.to_string(), "20");
    assert!(year.open().contains(&"method/stock"));
}

fn stools_of_2025() -> String {
    STOOLS.replace("2026-01-01", "2025-01-01")
}

fn start_against_last_year(year: &crate::year::Year) -> &[String] {
    &year.figures().cut_off.iter().find(|part| part.name == "stock at start against last year's closing").expect("a part").rows
}

#[test]
fn the_opening_stock_is_held_against_last_year_s_closing_before_what_of_it_was_donated() {
    // Five at 10.00 in both years; one is donated in the second. Line 41 of the first is 50.00, line 35 of the second 40.00.
    let gone = "gave 2026-03-03 to \"the raffle\" as donation\n    1 stool worth 25.00\n";
    let year = year_from(&format!("{}{}{gone}", shop("    accrual basis\n"), stools_of_2025()), 2026);
    assert_eq!(year.line("35"), "40.00");
    let sentence =
        "50.00 at the start, 50.00 by last year's closing stock: the same; 10.00 of it was donated, so that line 35 is 40.00";
    assert_eq!(start_against_last_year(&year), [sentence]);
}

#[test]
fn on_the_cash_basis_the_closing_stock_is_compared_without_its_unpaid_part() {
    // 50.00 of stools and 30.00 of maple that is paid in January: line 41 and the next line 35 are 50.00.
    let bill = "material maple \"Maple\"\n    measured in bf\nbought 2025-12-20 from the-yard receipt \"Y-1\"\n    10 bf maple for 30.00\n    paid 2026-01-10\n";
    let text = format!("{}{}{bill}", shop("    cash basis\n"), stools_of_2025());
    assert_eq!([year_from(&text, 2025).line("41"), year_from(&text, 2026).line("35")], ["50.00", "50.00"]);
    assert_eq!(
        start_against_last_year(&year_from(&text, 2026)),
        ["50.00 at the start, 50.00 by last year's closing stock: the same"]
    );
}

#[test]
fn an_unpaid_bill_is_named_by_the_helper_the_pattern_or_the_channel_that_it_is_with() {
    let owed = "step sanding \"Sanding\"\nhelper sam \"Sam\"\n    contractor\n    costs 18.00 per h\n    paid later\n\
                pattern cart-pattern \"Pattern\"\n    royalty 0.50 per ea\n    paid later\n\
                product cart \"Cart\"\n    pattern cart-pattern\n\
                channel market \"Market\"\n    pays later\n\
                built 2026-06-01 batch C-1\n    took 1h sanding by sam\n    took 1h sanding by kim for 20.00\n    made 2 cart\n\
                sold 2026-07-01 via market\n    1 stool for 40.00\nsold 2026-07-02 via market order \"M-1\"\n    to \"E. in Troy\"\n    1 stool for 40.00\n";
    let year = year_from(&format!("{}{STOOLS}{owed}", shop("    accrual basis\n")), 2026);
    let part = year.figures().cut_off.iter().find(|part| part.name == "unpaid bills").expect("a part");
    assert_eq!(
        part.rows,
        [
            "owed by the shop to Sam, 2026-06-01: 18.00",
            "owed by the shop to Pattern, 2026-06-01: 1.00",
            "owed to the shop by Market, 2026-07-01: 40.00",
            "owed to the shop by E. in Troy M-1, 2026-07-02: 40.00"
        ]
    );
}

#[test]
fn hired_time_in_what_is_taken_home_is_asked_about_where_an_earlier_year_may_have_deducted_it() {
    // Two stools of 2025, each with 50.00 of hired time; one made in 2026 too. Stock is kept as supplies.
    let made = |date: &str, batch: &str| {
        format!("built {date} batch {batch}\n    took 5h cutting by \"Lee\" for 100.00\n    made 2 stool\n")
    };
    let text = |taken: &str| {
        format!(
            "{}step cutting \"Cutting\"\nproduct stool \"Stool\"\n{}{}took-home {taken}\n    1 stool\n",
            shop("    accrual basis\n    stock kept as supplies\n"),
            made("2025-06-01", "A"),
            made("2026-06-01", "B")
        )
    };
    let asked = |year: &crate::year::Year| {
        let question = year.report().open_questions.into_iter().find(|one| one.name == "taken-home/earlier-years");
        question.map(|one| one.question)
    };
    let told = asked(&year_from(&text("2026-03-01"), 2026)).expect("asked");
    assert!(told.starts_with("50.00 of wear, hired time and royalties"), "{told}");
    // In the same year nothing was deducted before.
    assert_eq!(asked(&year_from(&text("2025-07-01"), 2025)), None);
}

#[test]
fn the_limit_of_gifts_is_asked_in_the_year_in_which_a_gift_counts() {
    let text = format!(
        "{}material oak \"Oak\"\n    measured in bf\nbought 2025-02-01 from mill receipt \"1\"\n    10 bf oak for 100.00\n    \
         unpaid\ngave 2025-03-01 to a-friend as gift\n    2 bf oak\npaid 2026-02-01 to mill\n    100.00 for receipt \"1\"\n",
        shop("    cash basis\n")
    );
    let asks = |text: &str, year: i32| year_from(text, year).open().contains(&"gifts/limit");
    assert_eq!([asks(&text, 2025), asks(&text, 2026)], [false, true]);
    assert_eq!([year_from(&text, 2025).line("27b"), year_from(&text, 2026).line("27b")], ["0.00", "20.00"]);
    let accrual = text.replace("cash basis", "accrual basis");
    assert_eq!([asks(&accrual, 2025), asks(&accrual, 2026)], [true, false]);
}

#[test]
fn a_no_to_the_bonus_leaves_it_open_since_only_the_definition_takes_it_away() {
    let text = format!(
        "{}tool saw \"Saw\"\n    recovered over 7 years\nbought 2025-03-01 from mill\n    1 saw for 1000.00\n\
         answered 2025-12-31 \"saw/bonus\" \"no, I decline it\"\n",
        shop("")
    );
    let no = year_from(&text, 2025);
    assert!(no.open().contains(&"saw/bonus"));
    assert!(no.figures().notes.iter().any(|note| note.ends_with("what settles it is `no bonus`, in the tool's definition")));
    assert!(!year_from(&text.replace("no, I", "yes, I don't"), 2025).open().contains(&"saw/bonus"));
}

#[test]
fn a_book_in_another_currency_than_its_form_s_is_asked_at_which_rate_it_is_turned_into_that() {
    let text = format!("{}{STOOLS}", shop(""));
    assert!(!year_from(&text, 2026).open().contains(&"form-currency"));
    let euros = year_from(&text.replace("currency USD", "currency EUR"), 2026);
    let asked = euros.figures().questions.iter().find(|one| one.name == "form-currency").expect("asked");
    assert!(asked.question.contains("in EUR, and the form takes amounts in USD"), "{}", asked.question);
}

#[test]
fn a_number_that_held_something_else_on_older_forms_is_asked_about_and_a_name_is_not() {
    let asks = |line: &str| {
        let fee = format!("expense dues \"Dues\"\n    form line {line}\nexpense more \"More dues\"\n    form line {line}\n");
        let paid = "paid 2026-02-01 to guild\n    10.00 for dues\n";
        let year = year_from(&format!("{}{STOOLS}{fee}{paid}", shop("")), 2026);
        year.figures().questions.iter().find(|one| one.name == "line-27a").map(|one| (one.rule.clone(), one.entries.len()))
    };
    let (rule, entries) = asks("27a").expect("asked");
    assert!(rule.contains("up to 2023 line 27a held other expenses") && entries == 2, "{rule} {entries}");
    assert_eq!((asks("energy-efficient-buildings"), asks("other")), (None, None));
}
