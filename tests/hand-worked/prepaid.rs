//! What is paid ahead for a later day: the accrual basis and the margins have it on that day, the cash basis when it is paid.

use rust_decimal::Decimal;

use crate::year::{Year, shop, year_from};
use kerfbook::reports::{Period, report_pays};

/// Two fees of a fair, paid in November 2025: 85.00 for a fair of that month, 60.00 for one in February 2026.
const FEES: &str = "\
channel craft-fair \"Booth at fairs\"
expense booth-fee \"Booth fees\"
    form line 25
    counts as overhead
paid 2025-11-05 to county-fair
    85.00 for booth-fee on craft-fair
    60.00 for booth-fee on craft-fair, meant for 2026-02-14
";

fn of(basis: &str, settled: &str, year: i32) -> Year {
    let text = format!("{}{FEES}{settled}noted 2026-12-31 \"done\"\n", shop(&format!("    {basis} basis\n")));
    year_from(&text, year)
}

fn prepaid(year: &Year) -> &[String] {
    &year.figures().cut_off.iter().find(|part| part.name == "prepaid").expect("a part").rows
}

#[test]
fn on_the_accrual_basis_it_counts_on_the_day_it_is_meant_for() {
    let (first, second) = (of("accrual", "", 2025), of("accrual", "", 2026));
    assert_eq!([first.line("25"), second.line("25")], ["85.00", "60.00"]);
    assert_eq!(prepaid(&first), ["2025-11-05: 60.00 for `booth-fee`, meant for 2026-02-14, where it counts"]);
    assert!(prepaid(&second).is_empty());
}

#[test]
fn on_the_cash_basis_it_counts_when_it_is_paid_and_is_listed_as_prepaid() {
    let (first, second) = (of("cash", "", 2025), of("cash", "", 2026));
    assert_eq!([first.line("25"), second.line("25")], ["145.00", "0.00"]);
    assert_eq!(prepaid(&first), ["2025-11-05: 60.00 for `booth-fee`, meant for 2026-02-14"]);
}

#[test]
fn a_bill_that_is_paid_in_parts_moves_nothing_of_that_on_the_accrual_basis_and_its_parts_on_the_cash_basis() {
    // 100.00 of 145.00 are paid in 2025, the other 45.00 in January.
    let settled = "    unpaid\npaid 2025-11-30 to county-fair\n    100.00 for bought 2025-11-05\n\
                   paid 2026-01-10 to county-fair\n    45.00 for bought 2025-11-05\n";
    let lines = |basis: &str| [of(basis, settled, 2025).line("25"), of(basis, settled, 2026).line("25")];
    assert_eq!(lines("accrual"), ["85.00", "60.00"]);
    assert_eq!(lines("cash"), ["100.00", "45.00"]);
}

#[test]
fn margins_and_overhead_have_it_on_the_day_of_its_fair_on_either_basis() {
    for basis in ["accrual", "cash"] {
        let year = of(basis, "", 2025);
        let compiled = &year.compiled;
        for (of_year, fee) in [(2025, "85.00"), (2026, "60.00")] {
            let period = Period::year(of_year);
            let pays =
                report_pays(&compiled.book, &compiled.log, &compiled.costed, period, &|_| None::<Decimal>, &[]).expect("fits");
            let fair = pays.groups.iter().find(|group| group.name == "craft-fair").expect("the fair");
            assert_eq!(fair.sums.direct_expenses, fee, "{basis} {of_year}");
            assert_eq!(pays.unassigned.overhead_under_applied, fee, "{basis} {of_year}");
        }
    }
}

#[test]
fn a_day_that_is_not_later_has_no_effect_and_is_warned_of() {
    let text = format!("{}{}", shop("    accrual basis\n"), FEES.replace("2026-02-14", "2025-10-31"));
    let year = year_from(&text, 2025);
    assert_eq!(year.line("25"), "145.00");
    let told: Vec<_> = year.compiled.found.iter().map(|one| one.message.as_str()).collect();
    assert_eq!(
        told,
        ["`meant for` has no effect here: it is for what is paid ahead, and no day after the entry's own stands here"]
    );
}

#[test]
fn a_fee_on_a_bill_with_goods_is_meant_for_its_day_too() {
    let text = |basis: &str| {
        format!(
            "{}expense booth-fee \"Booth fees\"\n    form line 25\nmaterial oak \"Oak\"\n    measured in bf\n\
             bought 2025-11-05 from county-fair receipt \"F-1\"\n    2 bf oak for 10.00\n    \
             60.00 for booth-fee, meant for 2026-02-14\nnoted 2026-12-31 \"done\"\n",
            shop(&format!("    {basis} basis\n"))
        )
    };
    let lines = |basis: &str| [2025, 2026].map(|year| year_from(&text(basis), year).line("25"));
    assert_eq!(lines("accrual"), ["0.00", "60.00"]);
    assert_eq!(lines("cash"), ["60.00", "0.00"]);
}

#[test]
fn on_the_cash_basis_only_what_is_paid_is_prepaid_in_the_year_in_which_it_is_paid() {
    assert!(prepaid(&of("cash", "    unpaid\n", 2025)).is_empty());
    // Of 145.00 100.00 are paid in December: 60/145 of it, 41.38, is for the fair of 2027; the rest of that fee comes in January 2026.
    let settled = "    unpaid\npaid 2025-12-30 to county-fair\n    100.00 for bought 2025-11-05\npaid 2026-01-10 to county-fair\n    \
                   45.00 for bought 2025-11-05\n";
    let of_2027 = |year: i32| {
        let text =
            format!("{}{FEES}{settled}noted 2027-12-31 \"done\"\n", shop("    cash basis\n")).replace("2026-02-14", "2027-02-14");
        prepaid(&year_from(&text, year)).to_vec()
    };
    assert_eq!(of_2027(2025), ["2025-12-30: 41.38 for `booth-fee`, meant for 2027-02-14"]);
    assert_eq!(of_2027(2026), ["2026-01-10: 18.62 for `booth-fee`, meant for 2027-02-14"]);
}
