//! What a batch cost otherwise than planned, in words; worked by hand.

use kerfbook::reports::{Period, report_cost};

use crate::compiled::compile_texts;

#[test]
fn a_part_that_was_made_is_not_said_to_be_bought() {
    // Oak is 1.00 a foot. House H1 took 4 bf, and H2 6 bf: 6.00 is what a house cost last before wall W, which takes the one of 4.00 and a foot of oak at
    // 1.50, of which the last foot before it cost 2.00.
    let text = "shop \"Wren & Gable Woodshop\"
    currency USD
place bench \"Bench\"
    home
material oak \"Oak\"
    measured in bf
product house \"House\"
product wall \"Wall\"
    needs 1 house, 1 bf oak
bought 2026-01-01
    10 bf oak for 10.00
built 2026-01-02 batch H1
    used 4 bf oak
    made 1 house
built 2026-01-03 batch H2
    used 6 bf oak
    made 1 house
bought 2026-01-04
    1 bf oak for 1.50
bought 2026-01-05
    1 bf oak for 2.00
built 2026-01-06 batch W
    used 1 house, 1 bf oak
    made 1 wall
";
    let compiled = compile_texts(&[("book.kerf", text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let cost =
        report_cost(&compiled.book, &compiled.log, &compiled.costed, Period::default(), Some("wall")).expect("small figures");
    let variances = cost.products.iter().flat_map(|product| &product.batches).flat_map(|batch| &batch.variances);
    let told: Vec<(&str, &str, &str)> =
        variances.map(|one| (one.name.as_str(), one.amount.as_str(), one.says.as_str())).collect();
    assert_eq!(
        told,
        [
            ("part price", "-2.00", "Parts were cheaper than those of the batch that made them last before it"),
            ("material price", "-0.50", "Materials were cheaper than when last bought before it"),
        ]
    );
}
