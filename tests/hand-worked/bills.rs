//! Bills, payouts, deposits and expenses over a year's end, on either basis.

use crate::year::{shop, year_from};

const TRADE: &str = "\
material maple \"Maple\"
    measured in bf
product board \"Board\"
product stool \"Stool\"
channel market \"Market\"
    fee 10% of total
    pays later
expense phone \"Telephone\"
    form line 25
opened 2025-01-01
    2 stool for 60.00
";

/// 80 of 200 paid in December, the rest in January; made into boards on a day, which are sold in the words of `sold`.
fn open_bill(built: &str, sold: &str) -> String {
    format!(
        "bought 2025-12-10 from the-yard receipt \"Y-1\"\n    20 bf maple for 200.00\n    paid 80.00 on 2025-12-20\n\
         paid 2026-01-15 to the-yard\n    120.00 for receipt \"Y-1\"\nbuilt {built} batch B\n    used 20 bf maple\n    made 4 board\n\
         sold {sold}\n"
    )
}

/// Nothing used in 2025, all of it sold in 2026.
fn open_bill_used_later() -> String {
    open_bill("2026-02-01", "2026-03-01 via counter\n    4 board at 75.00")
}

#[test]
fn on_the_cash_basis_unpaid_stock_is_in_neither_line_36_nor_line_41() {
    let text = format!("{}{TRADE}{}", shop("    cash basis\n    stock kept as inventory\n"), open_bill_used_later());
    let first = year_from(&text, 2025);
    // 36: the 80 paid. 41: stools 60 and maple 200, less 120 not paid.
    assert_eq!([first.line("35"), first.line("36"), first.line("41"), first.line("42")], ["60.00", "80.00", "140.00", "0.00"]);
    let second = year_from(&text, 2026);
    assert_eq!(
        [second.line("35"), second.line("36"), second.line("41"), second.line("42")],
        ["140.00", "120.00", "60.00", "200.00"]
    );
}

#[test]
fn on_the_accrual_basis_the_bill_counts_on_its_own_day() {
    let text = format!("{}{TRADE}{}", shop("    accrual basis\n"), open_bill_used_later());
    let first = year_from(&text, 2025);
    assert_eq!([first.line("36"), first.line("41"), first.line("42")], ["200.00", "260.00", "0.00"]);
    let second = year_from(&text, 2026);
    assert_eq!(
        [second.line("35"), second.line("36"), second.line("41"), second.line("42")],
        ["260.00", "0.00", "60.00", "200.00"]
    );
}

#[test]
fn unpaid_goods_that_were_made_into_something_still_here_are_all_on_hand() {
    let text =
        format!("{}{TRADE}{}", shop("    cash basis\n"), open_bill("2025-12-22", "2026-03-01 via counter\n    4 board at 75.00"));
    let first = year_from(&text, 2025);
    assert_eq!([first.line("36"), first.line("41"), first.line("42")], ["80.00", "140.00", "0.00"]);
}

#[test]
fn unpaid_goods_that_are_gone_count_when_they_are_paid() {
    let text =
        format!("{}{TRADE}{}", shop("    cash basis\n"), open_bill("2025-12-22", "2025-12-23 via counter\n    4 board at 75.00"));
    let first = year_from(&text, 2025);
    // 36: the 80 paid. All 200 is gone, 120 of it not paid for.
    assert_eq!([first.line("36"), first.line("41"), first.line("42")], ["80.00", "60.00", "80.00"]);
    let cost = &first.figures().cost_of_goods;
    assert_eq!([cost.went_to.sold, cost.gone_not_paid].map(|sum| sum.to_string()), ["200", "120"]);
    let second = year_from(&text, 2026);
    assert_eq!(
        [second.line("35"), second.line("36"), second.line("41"), second.line("42")],
        ["60.00", "120.00", "60.00", "120.00"]
    );
    let cost = &second.figures().cost_of_goods;
    assert_eq!([cost.went_to.sold, cost.gone_paid_now].map(|sum| sum.to_string()), ["0", "120"]);
}

#[test]
fn of_unpaid_goods_half_gone_the_unpaid_part_goes_along() {
    // 40 % is paid by the year's end. Of four boards one is sold: 50, of which 30 not paid; three are here: 150, of which 90.
    let text =
        format!("{}{TRADE}{}", shop("    cash basis\n"), open_bill("2025-12-22", "2025-12-23 via counter\n    1 board at 75.00"));
    let first = year_from(&text, 2025);
    assert_eq!([first.line("36"), first.line("41"), first.line("42")], ["80.00", "120.00", "20.00"]);
    let second = year_from(&text, 2026);
    assert_eq!(
        [second.line("35"), second.line("36"), second.line("41"), second.line("42")],
        ["120.00", "120.00", "210.00", "30.00"]
    );
}

#[test]
fn a_return_in_the_new_year_brings_the_unpaid_part_back() {
    // All four boards are sold in December, 120 of their 200 not paid; one comes back in January, before the bill is paid.
    let text = format!(
        "{}{TRADE}{}{}",
        shop("    cash basis\n"),
        open_bill("2025-12-22", "2025-12-23 via counter order \"C-1\"\n    4 board at 75.00"),
        "returned 2026-01-05 order \"C-1\"\n    1 board, refunded 75.00, back to stock\n"
    );
    let second = year_from(&text, 2026);
    // 36: 120 paid now. 41: stools 60 and the board 50. 42: 60 + 120 − 110 = 70 = −50 sold + 120 gone last year and paid now.
    assert_eq!(
        [second.line("35"), second.line("36"), second.line("41"), second.line("42")],
        ["60.00", "120.00", "110.00", "70.00"]
    );
}

#[test]
fn unpaid_packing_counts_when_it_is_used_and_paid() {
    let text = format!(
        "{}{TRADE}{}",
        shop("    cash basis\n"),
        "\
material box \"Box\"
    measured in ea
    as packing
bought 2025-12-01 from the-mill receipt \"B-1\"
    10 box for 20.00
    unpaid
sold 2025-12-10 via counter
    1 stool at 90.00
    packed with 4 box
paid 2026-01-15 to the-mill
    20.00 for receipt \"B-1\"
"
    );
    let first = year_from(&text, 2025);
    assert_eq!(first.line("27b"), "0.00");
    let second = year_from(&text, 2026);
    assert_eq!(second.line("27b"), "8.00");
    assert_eq!([second.line("36"), second.line("42")], ["0.00", "0.00"]);
}

#[test]
fn a_bill_open_over_two_years_ends_counts_as_it_is_paid() {
    let text = format!(
        "{}{TRADE}{}",
        shop("    cash basis\n"),
        open_bill("2025-12-22", "2025-12-23 via counter\n    4 board at 75.00").replace("    120.00 for", "    50.00 for")
    ) + "paid 2027-01-20 to the-yard\n    70.00 for receipt \"Y-1\"\n";
    let lines = [2025, 2026].map(|year| year_from(&text, year).line("42").to_owned());
    assert_eq!(lines, ["80.00", "50.00"]);
}

#[test]
fn a_sale_paid_out_in_january_counts_when_it_is_paid_or_could_be_had() {
    let sale = |available: &str| {
        format!(
            "{}{TRADE}sold 2025-12-28 via market order \"M-1\"\n    1 stool at 90.00\n{available}received 2026-01-04 from market\n    81.00 for order \"M-1\"\n",
            shop("    cash basis\n")
        )
    };
    let paid = [year_from(&sale(""), 2025), year_from(&sale(""), 2026)];
    assert_eq!([paid[0].line("1"), paid[0].line("10"), paid[0].line("42")], ["0.00", "0.00", "30.00"]);
    // The fee counts with the payout that it is taken from.
    assert_eq!([paid[1].line("1"), paid[1].line("10"), paid[1].line("42")], ["90.00", "9.00", "0.00"]);
    let had = [year_from(&sale("    available 2025-12-30\n"), 2025), year_from(&sale("    available 2025-12-30\n"), 2026)];
    assert_eq!([had[0].line("1"), had[0].line("10")], ["90.00", "9.00"]);
    assert_eq!([had[1].line("1"), had[1].line("10")], ["0.00", "0.00"]);
    let bridge = |year: &crate::year::Year, name: &str| {
        year.figures().bridge.iter().find(|line| line.name == name).map(|line| line.amount.to_string())
    };
    assert_eq!(bridge(&paid[0], "margins of this year, counted in another").as_deref(), Some("-81"));
    assert_eq!(bridge(&paid[1], "margins of other years, counted in this").as_deref(), Some("81"));
}

#[test]
fn an_expense_billed_in_december_counts_then_or_when_it_is_paid() {
    let text = |basis: &str| {
        format!(
            "{}{TRADE}paid 2025-12-15 to telco receipt \"T-9\"\n    50.00 for phone\n    unpaid\npaid 2026-01-05 to telco\n    50.00 for receipt \"T-9\"\n",
            shop(&format!("    {basis} basis\n"))
        )
    };
    let lines = |basis: &str| [2025, 2026].map(|year| year_from(&text(basis), year).line("25"));
    assert_eq!(lines("accrual"), ["50.00", "0.00"]);
    assert_eq!(lines("cash"), ["0.00", "50.00"]);
}

#[test]
fn a_deposit_is_cash_income_on_its_day_with_its_fee() {
    let text = |basis: &str| {
        format!(
            "{}{TRADE}received 2025-12-20 from \"E. in Troy\" via market\n    50.00 for order \"C-7\"\nsold 2026-01-20 via market order \"C-7\"\n    \
             1 stool at 90.00\nreceived 2026-02-01 from market\n    36.00 for order \"C-7\"\n",
            shop(&format!("    {basis} basis\n"))
        )
    };
    // The fee of ten per cent: 5 on the deposit, on its day on either basis, and 4 with the rest.
    let lines = |basis: &str| {
        [2025, 2026].map(|year| {
            let year = year_from(&text(basis), year);
            format!("{} {}", year.line("1"), year.line("10"))
        })
    };
    assert_eq!(lines("cash"), ["50.00 5.00", "40.00 4.00"]);
    assert_eq!(lines("accrual"), ["0.00 5.00", "90.00 4.00"]);
}

#[test]
fn a_debt_from_before_the_book_is_cash_income_and_no_income_by_accrual() {
    let text = |basis: &str| {
        format!(
            "{}product stool \"Stool\"\nopened 2026-01-01\n    1 stool for 30.00\n    88.20 owed by market for order \"G-11\"\n\
             received 2026-01-09 from market\n    88.20 for order \"G-11\"\n",
            shop(&format!("    {basis} basis\n"))
        )
    };
    assert_eq!(year_from(&text("cash"), 2026).line("1"), "88.20");
    assert_eq!(year_from(&text("accrual"), 2026).line("1"), "0.00");
}

#[test]
fn royalties_and_hired_time_paid_later_wait_for_their_payment_where_the_goods_do_not() {
    let text = format!(
        "{}{TRADE}step cutting \"Cutting\"\npattern plan \"Plan\"\n    royalty 0.50 per ea\n    paid later\nproduct duck \"Duck\"\n    pattern plan\n\
         helper sam \"Sam\"\n    contractor\n    costs 18.00 per h\n    paid later\nbuilt 2025-12-03 batch D\n    took 1h cutting by sam\n    made 6 duck\n\
         sold 2025-12-09 via counter\n    6 duck at 9.00\npaid 2026-01-20 to sam\n    18.00 for sam\npaid 2026-01-20 to \"the plan's maker\"\n    3.00 for plan\n",
        shop("    cash basis\n    stock kept as supplies\n")
    );
    let lines = |year: i32| {
        let year = year_from(&text, year);
        assert!(!year.open().contains(&"bills/unpaid-goods"));
        format!("{} {} {}", year.line("11"), year.line("27b"), year.line("42"))
    };
    assert_eq!(lines(2025), "0.00 0.00 0.00");
    assert_eq!(lines(2026), "18.00 3.00 0.00");
}

#[test]
fn goods_sent_back_of_a_bill_paid_in_part_leave_nothing_in_the_cost_of_goods_of_a_year_without_sales() {
    // Ten for 100.00, 40.00 of it paid; five go back for 50.00: 10.00 is open on five, which are worth 50.00.
    let text = format!(
        "{}product ark \"Ark\"\nbought 2025-12-02 from mill receipt \"M-1\"\n    10 ark at 10.00\n    paid 40.00 on 2025-12-02\n\
         sent-back 2025-12-10 to mill receipt \"M-1\"\n    5 ark, refunded 50.00\npaid 2026-01-15 to mill\n    10.00 for receipt \"M-1\"\n\
         sold 2026-03-01 via counter\n    5 ark at 40.00\n",
        shop("    cash basis\n    stock kept as inventory\n")
    );
    let first = year_from(&text, 2025);
    assert_eq!(["36", "41", "42"].map(|number| first.line(number)), ["40.00", "40.00", "0.00"]);
    let second = year_from(&text, 2026);
    assert_eq!(["35", "36", "41", "42"].map(|number| second.line(number)), ["40.00", "10.00", "0.00", "50.00"]);
}

/// The book ends in 2025 with 120 of the maple's bill unpaid and all of it sold. A year after the book's end counts nothing of it: only 60 of stools are still there.
#[test]
fn a_year_after_the_books_end_counts_nothing_of_what_is_still_unpaid() {
    let bill = open_bill("2025-12-20", "2025-12-24 via counter\n    4 board at 75.00");
    let unpaid = bill.replace("paid 2026-01-15 to the-yard\n    120.00 for receipt \"Y-1\"\n", "");
    let text = format!("{}{TRADE}{unpaid}", shop("    cash basis\n    stock kept as inventory\n"));
    let lines = |year| {
        let of = year_from(&text, year);
        ["35", "36", "41", "42"].map(|line| of.line(line))
    };
    assert_eq!(lines(2025), ["60.00", "80.00", "60.00", "80.00"]);
    assert_eq!(lines(2026), ["60.00", "0.00", "60.00", "0.00"]);
}

#[test]
fn what_goes_back_of_a_sale_that_is_still_owed_lowers_the_income_when_the_rest_is_paid() {
    // A stool of 90.00, its fee 9.00: 81.00 are owed. 20.00 go back in December while nothing is paid: 61.00 come in January.
    let text = |basis: &str| {
        format!(
            "{}{TRADE}sold 2025-12-10 via market order \"M-1\"\n    1 stool at 90.00\nreturned 2025-12-20 order \"M-1\"\n    \
             refunded 20.00 \"a scratch\"\nreceived 2026-01-10 from market\n    61.00 for order \"M-1\"\n",
            shop(&format!("    {basis} basis\n"))
        )
    };
    let lines = |basis: &str| {
        [2025, 2026].map(|year| {
            let year = year_from(&text(basis), year);
            format!("{} {} {}", year.line("1"), year.line("2"), year.line("10"))
        })
    };
    assert_eq!(lines("accrual"), ["90.00 20.00 9.00", "0.00 0.00 0.00"]);
    // On the cash basis what was never paid is neither income nor a refund: 70.00 less the fee of 9.00 are the 61.00.
    assert_eq!(lines("cash"), ["0.00 0.00 0.00", "70.00 0.00 9.00"]);
}

#[test]
fn a_licence_without_limit_and_an_expense_on_a_bill_count_when_they_are_paid() {
    // A pattern of 30.00 that allows any number, and 12.00 of telephone cards, on one bill of 42.00 that is paid in January.
    let text = |basis: &str| {
        format!(
            "{}{TRADE}pattern plan \"Plan\"\nbought 2025-12-15 from designer receipt \"D-1\"\n    1 licence plan for 30.00\n    \
             12.00 for phone\n    unpaid\npaid 2026-01-05 to designer\n    42.00 for receipt \"D-1\"\n",
            shop(&format!("    {basis} basis\n"))
        )
    };
    let lines = |basis: &str| {
        [2025, 2026].map(|year| {
            let year = year_from(&text(basis), year);
            format!("{} {}", year.line("27b"), year.line("25"))
        })
    };
    assert_eq!(lines("accrual"), ["30.00 12.00", "0.00 0.00"]);
    assert_eq!(lines("cash"), ["0.00 0.00", "30.00 12.00"]);
}

#[test]
fn an_open_bill_leaves_overhead_from_expenses_as_it_is() {
    // Six boards of 60.00 of oak, half of it not paid; the rent is overhead. Sold were three: 30.00, of which 15.00 not paid.
    let text = format!(
        "{}step cutting \"Cutting\"\nmaterial oak \"Oak\"\n    measured in bf\nproduct board \"Board\"\nexpense rent \"Rent\"\n    \
         form line 20b\n    counts as overhead\nbought 2025-12-01 from mill receipt \"M-1\"\n    6 bf oak at 10.00\n    \
         paid 30.00 on 2025-12-01\npaid 2025-12-02 to landlord\n    40.00 for rent\nbuilt 2025-12-03 batch B\n    used 6 bf oak\n    \
         took 2h cutting\n    made 6 board\nsold 2025-12-20 via counter\n    3 board at 50.00\npaid 2026-01-15 to mill\n    \
         30.00 for receipt \"M-1\"\n",
        shop("    cash basis\n    stock kept as inventory\n    overhead from expenses\n")
    );
    let first = year_from(&text, 2025);
    assert_eq!(["36", "41", "42"].map(|number| first.line(number)), ["30.00", "15.00", "15.00"]);
    let second = year_from(&text, 2026);
    assert_eq!(["35", "36", "41", "42"].map(|number| second.line(number)), ["15.00", "30.00", "30.00", "15.00"]);
}

#[test]
fn a_sale_that_went_back_before_it_was_paid_was_never_income_on_the_cash_basis_and_its_fee_no_expense() {
    // 90.00 less the fee of 9.00 are owed; all of it goes back, and the channel gives its fee back: nothing is owed.
    let text = |basis: &str| {
        format!(
            "{}{TRADE}sold 2025-12-10 via market order \"M-1\"\n    1 stool at 90.00\nreturned 2025-12-20 order \"M-1\"\n    \
             1 stool, refunded 90.00, back to stock\n    fee back 9.00\nnoted 2026-12-31 \"done\"\n",
            shop(&format!("    {basis} basis\n"))
        )
    };
    let lines = |basis: &str| {
        [2025, 2026].map(|year| {
            let year = year_from(&text(basis), year);
            format!("{} {} {}", year.line("1"), year.line("2"), year.line("10"))
        })
    };
    assert_eq!(lines("accrual"), ["90.00 90.00 0.00", "0.00 0.00 0.00"]);
    assert_eq!(lines("cash"), ["0.00 0.00 0.00", "0.00 0.00 0.00"]);
}

#[test]
fn a_credit_on_a_bill_that_is_open_lowers_what_is_still_to_be_paid() {
    // Ten for 100.00, 40.00 of it paid; 20.00 are credited: 80.00 was owed, 40.00 are left. By the year's end 40.00 of the goods' 80.00 are paid.
    let text = format!(
        "{}product ark \"Ark\"\nbought 2025-12-02 from mill receipt \"M-1\"\n    10 ark at 10.00\n    paid 40.00 on 2025-12-02\n\
         credited 2025-12-10 by mill receipt \"M-1\"\n    20.00 off ark\npaid 2026-01-15 to mill\n    40.00 for receipt \"M-1\"\n\
         sold 2026-03-01 via counter\n    10 ark at 40.00\n",
        shop("    cash basis\n    stock kept as inventory\n")
    );
    let first = year_from(&text, 2025);
    assert_eq!(["36", "41", "42"].map(|number| first.line(number)), ["40.00", "40.00", "0.00"]);
    let second = year_from(&text, 2026);
    assert_eq!(["35", "36", "41", "42"].map(|number| second.line(number)), ["40.00", "40.00", "0.00", "80.00"]);
    // Where nothing was paid by then, nothing counts yet, the credit neither.
    let text =
        text.replace("    paid 40.00 on 2025-12-02\n", "    unpaid\n").replace("    40.00 for receipt", "    80.00 for receipt");
    let first = year_from(&text, 2025);
    assert_eq!(["36", "41", "42"].map(|number| first.line(number)), ["0.00", "0.00", "0.00"]);
    assert!(first.figures().line("36").expect("a line").sums.iter().all(|sum| sum.amount.is_zero()));
    let second = year_from(&text, 2026);
    assert_eq!(["35", "36", "41", "42"].map(|number| second.line(number)), ["0.00", "80.00", "0.00", "80.00"]);
}

#[test]
fn goods_sent_back_of_which_more_was_paid_than_is_left_lower_what_is_owed_for_the_rest_of_the_bill() {
    // Ten arks for 10.00 and oak for 30.00, half of it paid: 5.00 and 15.00. Eight arks go back for 8.00: the two that stay cost 2.00, all of it
    // paid, and 3.00 of what was paid for arks is now paid for oak. At the year's end 12.00 are open, all of oak; the two arks are sold.
    let text = format!(
        "{}product ark \"Ark\"\nmaterial oak \"Oak\"\n    measured in bf\nbought 2025-12-02 from mill receipt \"M-1\"\n    \
         10 ark for 10.00\n    3 bf oak for 30.00\n    paid 20.00 on 2025-12-02\nsent-back 2025-12-10 to mill receipt \"M-1\"\n    \
         8 ark, refunded 8.00\nsold 2025-12-12 via counter\n    2 ark at 40.00\npaid 2026-01-15 to mill\n    12.00 for receipt \"M-1\"\n\
         scrapped 2026-03-01\n    3 bf oak\n",
        shop("    cash basis\n    stock kept as inventory\n")
    );
    let first = year_from(&text, 2025);
    assert_eq!(["36", "41", "42"].map(|number| first.line(number)), ["20.00", "18.00", "2.00"]);
    let second = year_from(&text, 2026);
    assert_eq!(["35", "36", "41", "42"].map(|number| second.line(number)), ["18.00", "12.00", "0.00", "30.00"]);
}

#[test]
fn hired_hours_outside_a_batch_count_when_they_are_paid() {
    // Two hours of sweeping at 18.00, worked in December and paid in January.
    let text = |basis: &str| {
        format!(
            "{}{TRADE}step sweeping \"Sweeping\"\nhelper sam \"Sam\"\n    contractor\n    costs 18.00 per h\n    paid later\n\
             worked 2025-12-20\n    2h sweeping by sam\npaid 2026-01-10 to sam\n    36.00 for sam\n",
            shop(&format!("    {basis} basis\n"))
        )
    };
    let lines = |basis: &str| [2025, 2026].map(|year| year_from(&text(basis), year).line("11"));
    assert_eq!(lines("accrual"), ["36.00", "0.00"]);
    assert_eq!(lines("cash"), ["0.00", "36.00"]);
}
