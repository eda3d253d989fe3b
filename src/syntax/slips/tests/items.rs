//! Items: their quantities, units, sizes and names.

use super::Under::{Bought, Built, Counted, Material, Nothing, Paid, Product, Sold, Worked};
use super::{check, told};

#[test]
fn a_figure_before_its_word_is_turned_round() {
    check(&[
        (Sold, "8.40 sales-tax", "sales-tax 8.40"),
        (Sold, "10% discount", "discount 10%"),
        (Bought, "red-oak 31.5 bf at 5.90", "31.5 bf red-oak at 5.90"),
        (Bought, "baltic-6 25 sq ft for 40.00", "25 sq ft baltic-6 for 40.00"),
        (Built, "used red-oak 5.2 bf", "used 5.2 bf red-oak"),
        (Sold, "pull-cart 2", "2 pull-cart"),
        (Sold, "2 x pull-cart", "2 pull-cart"),
        (Sold, "2x pull-cart at 40.00", "2 pull-cart at 40.00"),
        (Sold, "pull-cart x 2", "2 pull-cart"),
        (Paid, "shop-supplies 18.40", "18.40 for shop-supplies"),
        (Worked, "sanding 45m on PC-014", "45m sanding on PC-014"),
    ]);
}

#[test]
fn units_are_written_as_the_language_does() {
    check(&[
        (Built, "used 2 board feet red-oak", "used 2 bf red-oak"),
        (Bought, "2 sq. ft. baltic-6 for 3.00", "2 sq ft baltic-6 for 3.00"),
        (Nothing, "drove 2026-03-02 38mi on craft-fair", "drove 2026-03-02 38 mi on craft-fair"),
        (Bought, "2bags wheel-40 for 23.00", "2 bags wheel-40 for 23.00"),
    ]);
}

#[test]
fn sizes_stand_after_the_name_with_blanks_and_a_unit() {
    check(&[
        (Bought, "4 boards walnut, 4/4x6x48 in, at 11.20 per bf", "4 boards walnut, 4/4 x 6 x 48 in, at 11.20 per bf"),
        (Bought, "4 boards walnut, 5/4x9x62in, for 90.00", "4 boards walnut, 5/4 x 9 x 62 in, for 90.00"),
        (Bought, "4 boards walnut, 4/4\" x 6\" x 48\", for 90.00", "4 boards walnut, 4/4 x 6 x 48 in, for 90.00"),
        (Bought, "1 piece baltic-6, 5 1/2\" x 7', for 9.00", "1 piece baltic-6, 5 1/2 in x 7 ft, for 9.00"),
        (Bought, "4 boards walnut, 4/4 by 6 by 48 in, for 90.00", "4 boards walnut, 4/4 x 6 x 48 in, for 90.00"),
        (Built, "used 12 x 24 in baltic-6", "used 1 piece baltic-6, 12 x 24 in"),
        (Bought, "4 boards 5/4 x 6 x 48 in walnut for 90.00", "4 boards walnut, 5/4 x 6 x 48 in for 90.00"),
        (Bought, "4 5/4 boards walnut for 90.00", "4 boards walnut, 5/4 x WIDTH x LENGTH in for 90.00"),
        (Bought, "4 boards 5/4 walnut for 90.00", "4 boards walnut, 5/4 x WIDTH x LENGTH in for 90.00"),
    ]);
}

#[test]
fn numbers_in_one_sign_are_written_out() {
    check(&[
        (Built, "used 1½ bf red-oak", "used 1 1/2 bf red-oak"),
        (Built, "used ½ bf red-oak", "used 1/2 bf red-oak"),
        (Bought, "4 boards walnut, 4/4 x 6½ x 48 in, for 90.00", "4 boards walnut, 4/4 x 6 1/2 x 48 in, for 90.00"),
    ]);
}

#[test]
fn a_name_is_one_word() {
    check(&[
        (Built, "used 5.2 bf red oak", "used 5.2 bf red-oak"),
        (Built, "used 5.2 bf \"red oak\"", "used 5.2 bf red-oak"),
        (Built, "used 5.2 bf red_oak", "used 5.2 bf red-oak"),
        (Built, "used 5.2 bf 4/4-oak", "used 5.2 bf oak-4/4"),
        (Built, "used 5.2 bf red-oak.", "used 5.2 bf red-oak"),
        (Built, "used 2 80-grit", "used 2 grit-80"),
        (Bought, "6 2x4 for 10.00", "6 stud-2x4 for 10.00"),
        (Bought, "3 bf walnut @4,50 ea.", "3 bf walnut at 4.50"),
        (Nothing, "sold 2026-03-20 via web page", "sold 2026-03-20 via web-page"),
        (Nothing, "material red oak \"Red oak\"", "material red-oak \"Red oak\""),
    ]);
}

#[test]
fn a_missing_quantity_time_or_sum_is_asked_for() {
    let rows = [
        (Bought, "red-oak for 10.00", 160, "how many? a quantity stands before `red-oak`"),
        (Bought, "2 bf walnut at 11.20, red-oak at 5.90", 160, "how many? a quantity stands before `red-oak`"),
        (Sold, "pull-cart", 160, "how many? a quantity stands before `pull-cart`"),
        (Sold, "pull-cart, 2 stool", 160, "how many? a quantity stands before `pull-cart`"),
        (Sold, "pull-cart \"the red one\"", 160, "how many? a quantity stands before `pull-cart`"),
        (Counted, "blade", 160, "how many? a quantity stands before `blade`"),
        (Built, "used red-oak", 160, "how many? a quantity stands before `red-oak`"),
        (Built, "used 2 bf walnut, red-oak lot RO-1", 160, "how many? a quantity stands before `red-oak`"),
        (Built, "made pull-cart", 160, "how many? a quantity stands before `pull-cart`"),
        (Built, "made nothing for \"x\"", 172, "`made nothing` is written like `made nothing \"both tries burnt\"`"),
        (Built, "took cutting", 160, "how long? a time stands before `cutting`"),
        (Product, "takes cutting", 160, "how long? a time stands before `cutting`"),
        (Product, "needs red-oak", 160, "how many? a quantity stands before `red-oak`"),
        (Worked, "sanding on PC-014", 160, "how long? a time stands before `sanding`"),
        (Paid, "booth-fee", 160, "how much? a sum of money stands before `for booth-fee`"),
        (Bought, "20 bf red-oak at", 151, "the money is missing after `at`"),
        (Bought, "20 bf red-oak for, lot RO-1", 151, "the money is missing after `for`"),
        (Sold, "2 pull-cart at \"the fair\"", 151, "the money is missing after `at`"),
        (Paid, "85.00 for", 152, "85.00 for what?"),
        (Bought, "16 bf maple at 6.80, MP-1", 100, "`16 bf maple at 6.80, MP-1` does not read as a line of `bought`"),
        // What has a form of its own is told by that.
        (
            Product,
            "expensed under section 179 five hundred",
            172,
            "`expensed under section 179` stands alone or is written like `expensed under section 179 500.00`",
        ),
        (Sold, "total", 172, "`total` is written like `total 276.90`"),
        (Counted, "total122.50", 100, "`total122.50` does not read as a line of `counted`"),
        (Built, "pull-cart", 100, "`pull-cart` does not read as a line of `built`"),
    ];
    for (under, typed, code, message) in rows {
        let (found, _) = told(under, typed);
        let found: Vec<_> = found.iter().map(|one| (one.code.0, one.message.as_str())).collect();
        assert_eq!(found, [(code, message)], "{typed}");
    }
}

#[test]
fn a_letter_in_a_number_is_the_figure_that_it_looks_like() {
    check(&[
        (Paid, "15O for rent", "150 for rent"),
        (Paid, "1l0.00 for rent", "110.00 for rent"),
        (Bought, "2 bf walnut for 2O.50", "2 bf walnut for 20.50"),
        (Bought, "5l clear-oil for 20.00", "5 l clear-oil for 20.00"),
    ]);
}

#[test]
fn an_item_among_others_is_told_for_itself() {
    check(&[
        (Product, "needs 3.5 bf maple, quarter sheet of plywood, 2 oz oil", "needs 3.5 bf maple, 0.25 sheet plywood, 2 oz oil"),
        (Built, "used 11 bf cherry, half a sheet plywood", "used 11 bf cherry, 0.5 sheet plywood"),
        (Built, "used 11 bf cherry 2 fl oz oil", "used 11 bf cherry, 2 fl oz oil"),
        (Counted, "2 stool left", "2 stool"),
    ]);
    for (under, typed, code, message) in [
        (Built, "used 2 bf walnut, some glue", 172, "`some glue` does not read as an item"),
        (
            Product,
            "needs 3.5 bf maple plus 25% waste",
            100,
            "the quantity in `needs` has the waste in it; there is no line for it",
        ),
        (Material, "lasts 200 stools", 100, "what is worn out by so many pieces stands in their recipe, not here"),
    ] {
        let (found, lines) = told(under, typed);
        let found: Vec<_> = found.iter().map(|one| (one.code.0, one.message.as_str())).collect();
        assert_eq!((found, lines), (vec![(code, message)], Vec::new()), "{typed}");
    }
}
