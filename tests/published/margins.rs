//! Margins of a line with its own fixed expenses: where it breaks even, and what it earns beside.
//!
//! OpenStax, *Principles of Accounting, Volume 2: Managerial Accounting*, chapter 3 (modules m68115, m68116, m68119, m68120), CC BY-NC-SA 4.0. VERIFIED.
//! Variable cost is the paid cost of a piece, fixed cost an expense on the line; its paid margin is the publication's income.

use crate::compiled::compile_whole;

/// The margin of a line that sells pieces of one or several kinds: how many, at what price, at what variable cost in all.
fn income(fixed: &str, kinds: &[(u64, &str, &str)]) -> String {
    let mut text = "shop \"Break-even\"
    currency USD
place bench \"Bench\"
    home
channel counter \"Over the counter\"
line goods \"Goods\"
expense rent \"Fixed costs\"
"
    .to_owned();
    for at in 0..kinds.len() {
        text.push_str(&format!("product kind-{at} \"Kind {at}\"\n    line goods\n"));
    }
    text.push_str("bought 2026-01-02\n");
    for (at, (count, _, variable)) in kinds.iter().enumerate() {
        text.push_str(&format!("    {count} kind-{at} at {variable}\n"));
    }
    text.push_str(&format!("paid 2026-01-03 to landlord\n    {fixed} for rent on goods\nsold 2026-01-31 via counter\n"));
    for (at, (count, price, _)) in kinds.iter().enumerate() {
        text.push_str(&format!("    {count} kind-{at} at {price}\n"));
    }
    compile_whole(&text).group("line", "goods").sums.paid_margin
}

fn one(fixed: &str, count: u64, price: &str, variable: &str) -> String {
    income(fixed, &[(count, price, variable)])
}

#[test]
fn hicks_breaks_even_at_225_and_reaches_its_targets() {
    let at = |count| one("18000.00", count, "100.00", "20.00");
    let printed = [(225, "0.00"), (175, "-4000.00"), (300, "6000.00"), (425, "16000.00"), (725, "40000.00")];
    for (count, income) in printed {
        assert_eq!(at(count), income, "{count}");
    }
    assert_eq!(one("23000.00", 500, "100.00", "20.00"), "17000.00");
    assert_eq!(one("23000.00", 750, "100.00", "20.00"), "37000.00");
}

#[test]
fn others_break_even_where_it_is_printed() {
    let printed = [
        ("14000.00", 56, "400.00", "150.00", "0.00"),
        ("14000.00", 96, "400.00", "150.00", "10000.00"),
        ("100000.00", 500, "500.00", "300.00", "0.00"),
        ("100000.00", 750, "500.00", "300.00", "50000.00"),
        ("16800.00", 42, "1250.00", "850.00", "0.00"),
        ("700.00", 100, "25.00", "15.50", "250.00"),
        ("700.00", 200, "25.00", "15.50", "1200.00"),
        ("85000.00", 1700, "90.00", "40.00", "0.00"),
    ];
    for (fixed, count, price, variable, income) in printed {
        assert_eq!(one(fixed, count, price, variable), income, "{count} at {price}");
    }
}

#[test]
fn a_mix_of_three_to_one_breaks_even_at_30000_and_10000() {
    assert_eq!(income("220000.00", &[(30_000, "10.00", "4.00"), (10_000, "9.00", "5.00")]), "0.00");
}

#[test]
fn a_mix_of_five_three_two_breaks_even_between_its_rounded_numbers() {
    // The publication rounds each kind from 4,715.45 composite units: 23,577, 14,146 and 9,431, which is 1.50 short. COMPUTED: 4,716 whole
    // composite units earn 17.00.
    let west = |counts: [u64; 3]| {
        let [a, b, c] = counts;
        income("145000.00", &[(a, "6.25", "3.25"), (b, "7.75", "4.50"), (c, "9.25", "6.25")])
    };
    assert_eq!(west([23_577, 14_146, 9_431]), "-1.50");
    assert_eq!(west([23_580, 14_148, 9_432]), "17.00");
}
