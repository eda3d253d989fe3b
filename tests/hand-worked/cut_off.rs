//! The cut-off list of a year after which the book goes on.

use crate::year::{Year, shop, year_from};

/// Seven stools at 10 were there in 2024; one was sold and two were sent out in 2025; in 2026 all the others went.
fn stools() -> String {
    format!(
        "{}place gift-shop \"Gift shop\"\nproduct stool \"Stool\"\nopened 2024-06-01\n    7 stool for 70.00\n\
         sold 2025-03-02 via counter\n    1 stool at 30.00\nsent 2025-11-02 to gift-shop\n    2 stool\n\
         brought-back 2026-02-01 from gift-shop\n    2 stool\nsold 2026-02-02 via counter\n    6 stool at 30.00\n",
        shop("")
    )
}

fn rows<'y>(year: &'y Year, part: &str) -> &'y [String] {
    &year.figures().cut_off.iter().find(|one| one.name == part).expect("a part").rows
}

#[test]
fn goods_out_and_old_stock_are_those_of_the_year_s_end_though_the_book_goes_on() {
    let year = year_from(&stools(), 2025);
    // On 31 December 2025 six of the seven were left, two of them out.
    assert_eq!(rows(&year, "goods out by place"), ["gift-shop: 20.00 paid cost"]);
    let mut old = rows(&year, "old stock").to_vec();
    old.sort();
    assert_eq!(old, ["2 stool of 2024-06-01: 20.00", "4 stool of 2024-06-01: 40.00"]);
}

#[test]
fn what_left_after_the_year_s_end_is_on_the_list_of_neither_later_year() {
    let year = year_from(&stools(), 2026);
    assert_eq!([rows(&year, "goods out by place"), rows(&year, "old stock")], [&[] as &[String]; 2]);
}

#[test]
fn what_is_on_the_bench_is_what_was_put_there_less_what_was_taken() {
    // 100.00 of oak in ten toys, eight of them made with a royalty of 2.00 each, which never lay on the bench: two are left, 20.00.
    let text = format!(
        "{}material oak \"Oak\"\n    measured in bf\npattern duck \"Duck\"\n    royalty 2.00 per ea\nproduct toy \"Toy\"\n    pattern duck\n\
         bought 2026-01-02 from mill\n    10 bf oak at 10.00\nstarted 2026-12-01 batch T1\n    aims at 10 toy\n    used 10 bf oak\n\
         finished 2026-12-20 batch T1\n    made 8 toy\n",
        shop("")
    );
    let year = year_from(&text, 2026);
    assert_eq!(rows(&year, "batches on the bench"), ["T1, begun 2026-12-01: 20.00 paid cost"]);
}
