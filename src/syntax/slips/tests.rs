//! The rows of the slip table: what is typed, and the line that is handed over for it.

use super::*;
use crate::diagnostics::{Code, corrected_lines};
use crate::syntax::parse_lines;
use crate::syntax::slip_errors as code;

/// The head under which a detail is typed.
#[derive(Clone, Copy)]
enum Under {
    Bought,
    Built,
    Finished,
    Sold,
    Worked,
    Paid,
    Received,
    Counted,
    Product,
    Material,
    Channel,
    Helper,
    Shop,
    /// At column 1, after an entry of 2026-03-01.
    Nothing,
}

use Under::{Bought, Built, Channel, Counted, Finished, Helper, Material, Nothing, Paid, Product, Received, Shop, Sold, Worked};

fn head(under: Under) -> &'static str {
    match under {
        Bought => "bought 2026-03-02 from ridgeline-lumber",
        Built => "built 2026-03-09 batch PC-014",
        Finished => "finished 2026-03-12 batch PC-014",
        Sold => "sold 2026-03-20 via web-page",
        Worked => "worked 2026-03-08",
        Paid => "paid 2026-03-05 to county-fair",
        Received => "received 2026-03-31 from web-page",
        Counted => "counted 2026-12-31",
        Material => "material wheel-40 \"Wheels\"",
        Product => "product pull-cart \"Pull-along cart\"",
        Channel => "channel web-page \"Own web page\"",
        Helper => "helper sam \"Sam\"",
        Shop => "shop \"Wren & Gable Woodshop\"",
        Nothing => "noted 2026-03-01 \"x\"",
    }
}

/// What is told of a line, and the corrected lines.
fn told(under: Under, typed: &str) -> (Vec<Diagnostic>, Vec<String>) {
    let indent = if matches!(under, Nothing) { "" } else { "    " };
    let mut sources = SourceSet::default();
    sources.add("book.kerf", &format!("{}\n{indent}{typed}\n", head(under))).expect("short");
    let mut found = crate::diagnostics::Diagnostics::default();
    let _ = parse_lines(&sources, &mut found);
    let found = found.into_sorted();
    let lines = found.iter().flat_map(|one| &one.fixes).map(|fix| corrected_lines(&sources, fix).text);
    let lines = lines.map(|line| line.lines().map(str::trim_start).collect::<Vec<_>>().join(" | ")).collect();
    (found, lines)
}

/// Checks rows of what is typed and the corrected lines, parted by `||` where there are several.
fn check(rows: &[(Under, &str, &str)]) {
    let mut wrong = Vec::new();
    for (under, typed, right) in rows {
        let (found, lines) = told(*under, typed);
        let expected: Vec<_> = right.split(" || ").filter(|line| !line.is_empty()).collect();
        if found.len() != 1 || lines != expected {
            let messages: Vec<_> = found.iter().map(|one| format!("{} {}", one.code, one.message)).collect();
            wrong.push(format!("`{typed}`\n     wanted {expected:?}\n     got    {lines:?}\n     told   {messages:?}"));
        }
    }
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), rows.len(), wrong.join("\n"));
}

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
fn money_is_a_bare_number() {
    check(&[
        (Bought, "31.5 bf red-oak at $5.90", "31.5 bf red-oak at 5.90"),
        (Bought, "31.5 bf red-oak at 5,90", "31.5 bf red-oak at 5.90"),
        (Bought, "total 1,250.00", "total 1250.00"),
        (Bought, "total 1 250.00", "total 1250.00"),
        (Bought, "total 1.250,00", "total 1250.00"),
        (Bought, "total $1,250.00", "total 1250.00"),
        (Bought, "total 1,250", "total 1250 || total 1.250"),
        (Bought, "total .50", "total 0.50"),
        (Bought, "total 12.", "total 12"),
        (Bought, "discount -5.00", "discount 5.00"),
        (Bought, "total 12.00 EUR", "total 12.00"),
        (Bought, "total USD 58", "total 58"),
        (Bought, "31.5 bf red-oak at 5.90/bf", "31.5 bf red-oak at 5.90 per bf"),
        (Bought, "31.5 bf red-oak 9.40/bf", "31.5 bf red-oak at 9.40 per bf"),
        (Bought, "31.5 bf red-oak @ 5.90", "31.5 bf red-oak at 5.90"),
        (Bought, "31.5 bf red-oak @5.90", "31.5 bf red-oak at 5.90"),
        (Bought, "31.5 bf red-oak @ $5,90", "31.5 bf red-oak at 5.90"),
        (Bought, "31.5 bf red-oak at 5.90 a bf", "31.5 bf red-oak at 5.90 per bf"),
        (Sold, "2 pull-cart 40.00 each", "2 pull-cart at 40.00"),
        (Bought, "60 cotton-bag 1.10 at", "60 cotton-bag at 1.10"),
        (Bought, "9 bf walnut 99.00 for \"dry\"", "9 bf walnut for 99.00 \"dry\""),
        (Bought, "24 bf for cedar 60.00", "24 bf cedar for 60.00"),
        (Bought, "31.5 bf red-oak 5.90", "31.5 bf red-oak at 5.90 || 31.5 bf red-oak for 5.90"),
        (Sold, "discount 10 %", "discount 10%"),
        (Channel, "consignment 40", "consignment 40%"),
        (Paid, "$85.00 for booth-fee", "85.00 for booth-fee"),
        (Paid, "85.00 to booth-fee", "85.00 for booth-fee"),
    ]);
}

#[test]
fn a_time_is_hours_and_minutes() {
    check(&[
        (Built, "took 1h48m cutting", "took 1h 48m cutting"),
        (Built, "took 1:48 cutting", "took 1h 48m cutting"),
        (Built, "took 1h 48 cutting", "took 1h 48m cutting"),
        (Built, "took 1h30 cutting", "took 1h 30m cutting"),
        (Built, "took 1 hr 30 cutting", "took 1h 30m cutting"),
        (Worked, "1 hour and 20 minutes sanding on PC-014", "1h 20m sanding on PC-014"),
        (Worked, "45m sanding PC-014", "45m sanding on PC-014"),
        (Worked, "1h48m sanding PC-014", "1h 48m sanding on PC-014"),
        (Worked, "1h fine sanding", "1h fine-sanding || 1h fine on sanding"),
        (Worked, "1h 20m fine sanding on PC-014", "1h 20m fine-sanding on PC-014"),
        (Worked, "1h fine sanding PC-014", "1h fine-sanding on PC-014"),
        (Worked, "45 min rip cut, 1h sanding", "45 min rip-cut, 1h sanding || 45 min rip on cut, 1h sanding"),
        (Worked, "45m sanding stool", "45m sanding-stool || 45m sanding on stool"),
        (Built, "took 1h fine sanding", "took 1h fine-sanding"),
        (Product, "takes 20 min fine sanding per 18 ea", "takes 20 min fine-sanding per 18 ea"),
        (Shop, "owner time 24.00 per hour", "owner time 24.00 per h"),
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
fn small_words_are_handed_over() {
    check(&[
        (Bought, "freight 18.00 by value", "freight 18.00 shared by value"),
        (Sold, "sales tax 8.40", "sales-tax 8.40"),
        (Sold, "tax 8.40", "sales-tax 8.40"),
        (Sold, "2 pull-cart at 42.00, discount 10%", "2 pull-cart at 42.00 | discount 10%"),
        (Sold, "2 pull-cart batch PC-014", "2 pull-cart lot PC-014"),
        (Sold, "paid cash", "paid || paid \"cash\""),
        (Sold, "paid by card", "paid || paid \"by card\""),
        (Sold, "2 pull-cart and 1 village-set", "2 pull-cart, 1 village-set"),
        (Sold, "packed in 1 box-small", "packed with 1 box-small"),
        (Channel, "fee 3% total", "fee 3% of total"),
        (Channel, "fee 3%", "fee 3% of total || fee 3% of goods || fee 3% of card"),
        (Product, "for children from 3", "for children from 3 years"),
        (Sold, "Total 276.90", "total 276.90"),
        (Sold, "dicsount 5.00", "discount 5.00"),
        (Sold, "to 'J. in Dover'", "to \"J. in Dover\""),
        (Sold, "note \"oiled twice", "note \"oiled twice\""),
        (Sold, "- 2 pull-cart", "2 pull-cart"),
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
fn no_corrected_line_is_one_that_may_not_stand_in_its_block() {
    check(&[
        (Counted, "3 pull-cart and 5 ea", ""),
        // Without its sign it would be a second expense, or a second purchase.
        (Paid, "-50.00 for shop-supplies", ""),
        (Bought, "-50.00 for shop-supplies", ""),
        (Bought, "2 bf walnut for -22.40", ""),
        (Counted, "hours 12.00", ""),
        (Paid, "hours 12.00", "12.00 for hours"),
        (Shop, "hours 12", "hours 12 per week"),
        (Built, "3 pull-cart and 2 serving-board", ""),
        (Material, "1 bag is 50 ea", ""),
        (Nothing, "    3 pull-cart and 5 ea", ""),
    ]);
}

#[test]
fn a_rate_is_told_as_it_is_written() {
    let (found, lines) = told(Channel, "fee 3 percent of total");
    assert_eq!((found[0].message.as_str(), lines), ("a part of a hundred is written `3%`", vec!["fee 3% of total".to_owned()]));
    let (found, lines) = told(Helper, "costs 18.00 an hour");
    assert_eq!(
        (found[0].message.as_str(), lines),
        ("a price per unit is written `18.00 per h`", vec!["costs 18.00 per h".to_owned()])
    );
    let (found, _) = told(Bought, "31.5 bf red-oak at 5.90/bf");
    assert_eq!(found[0].message, "a price per unit is written `at 5.90 per bf`");
}

#[test]
fn a_date_is_year_month_day() {
    check(&[
        (Nothing, "bought 3/20/2026 from ada", "bought 2026-03-20 from ada"),
        (Nothing, "bought 3/9/2026 from ada", "bought 2026-03-09 from ada || bought 2026-09-03 from ada"),
        (Nothing, "bought 2026-3-20 from ada", "bought 2026-03-20 from ada"),
        (Nothing, "bought 20.03.2026 from ada", "bought 2026-03-20 from ada"),
        (Nothing, "bought 2026/03/20 from ada", "bought 2026-03-20 from ada"),
        (Nothing, "bought 26-03-02 from ada", "bought 2026-03-02 from ada"),
        (Nothing, "bought 02-03-26 from ada", ""),
        (Sold, "paid 26-03-22", "paid 2026-03-22"),
        (Nothing, "bought Mar 9 from ada", "bought 2026-03-09 from ada"),
        (Nothing, "bought 9 March from ada", "bought 2026-03-09 from ada"),
        (Nothing, "bought March 9th, 2026 from ada", "bought 2026-03-09 from ada"),
        (Nothing, "bought 2026–03–09 from ada", "bought 2026-03-09 from ada"),
        (Sold, "paid 3/22/2026", "paid 2026-03-22"),
        (Nothing, "bought from ridgeline-lumber 2026-03-02", "bought 2026-03-02 from ridgeline-lumber"),
        (Nothing, "worked 1h general 2026-03-02", "worked 2026-03-02 | 1h general"),
        (Nothing, "worked", "worked 2026-03-01"),
    ]);
}

#[test]
fn a_head_has_its_words_and_quotes() {
    check(&[
        (Nothing, "bought 2026-03-02 from Ridgeline Lumber", "bought 2026-03-02 from \"Ridgeline Lumber\""),
        (
            Nothing,
            "bought 2026-03-02 from Ridgeline Lumber receipt \"A-1\"",
            "bought 2026-03-02 from \"Ridgeline Lumber\" receipt \"A-1\"",
        ),
        (Nothing, "sold 2026-03-20 vai web-page", "sold 2026-03-20 via web-page"),
        (Nothing, "sold 2026-03-20 via web-page odrer \"W-1\"", "sold 2026-03-20 via web-page order \"W-1\""),
        (Nothing, "sold 2026-03-20 Via web-page", "sold 2026-03-20 via web-page"),
        (Nothing, "built 2026-03-09 btach X1", "built 2026-03-09 batch X1"),
        (Nothing, "retired 2026-03-09 band-saw fro 350.00", "retired 2026-03-09 band-saw for 350.00"),
        (Nothing, "bought 2026-03-09 from wood form oak", "bought 2026-03-09 from \"wood form oak\""),
        (Nothing, "sold 2026-03-20 via web-page order\"W-1\"", "sold 2026-03-20 via web-page order \"W-1\""),
        (Nothing, "built 2026-03-09 PC-014", "built 2026-03-09 batch PC-014"),
        (Nothing, "paid 2026-03-05 85.00 for booth-fee", "paid 2026-03-05 to NAME | 85.00 for booth-fee"),
        (Nothing, "paid 2026-03-05 to county-fair 85.00 for booth-fee", "paid 2026-03-05 to county-fair | 85.00 for booth-fee"),
        (Nothing, "sold 2026-03-20 via web-page:", "sold 2026-03-20 via web-page"),
        (Nothing, "sold 2026-03-20, via web-page", "sold 2026-03-20 via web-page"),
        (Nothing, "sold 2026-03-20 via web-page order #1042", "sold 2026-03-20 via web-page order \"1042\""),
        (Nothing, "product pull-cart Pull-along cart", "product pull-cart \"Pull-along cart\""),
        (Nothing, "material red-oak", "material red-oak \"Red oak\""),
        (Nothing, "material \"Red oak\"", "material red-oak \"Red oak\""),
        (Nothing, "noted 2026-02-10 drum sander borrowed", "noted 2026-02-10 \"drum sander borrowed\""),
        (Nothing, "closed 2026-12-31", "closed 2026"),
    ]);
}

#[test]
fn what_a_tired_maker_types_is_turned_into_the_line_that_was_meant() {
    check(&[
        (Sold, "1 serving-board at the market", "1 serving-board \"at the market\""),
        (Worked, "2h on SB-003 sanding", "2h sanding on SB-003"),
        (Channel, "consignment, keeps 40%", "consignment 40%"),
        (Nothing, "changed 2026-12-11 serving-board price 42.00", "changed 2026-12-11 serving-board | price 42.00"),
        (
            Nothing,
            "gave 2026-12-08 to \"the school raffle\" as a donation",
            "gave 2026-12-08 to \"the school raffle\" as donation",
        ),
        (
            Nothing,
            "gave 2026-12-08 1 serving-board to the school raffle as a donation",
            "gave 2026-12-08 to \"the school raffle\" as donation | 1 serving-board",
        ),
        (Nothing, "used 2026-12-12", "used-up 2026-12-12 || built 2026-12-12"),
        (Built, "took 45 min sanding extra", "took 45 min sanding-extra"),
        (Bought, "1 serving-board because it cracked", "1 serving-board \"because it cracked\""),
        (Worked, "45m sanding it was hard", "45m sanding \"it was hard\""),
        (Nothing, "paid 2026-12-07 for stall-fee 15.00", "paid 2026-12-07 to NAME | 15.00 for stall-fee"),
        (Nothing, "paid 2026-12-07 to county-fair for stall-fee 15.00", "paid 2026-12-07 to county-fair | 15.00 for stall-fee"),
        (Nothing, "bought 2026-12-13 tool \"Band saw\" for 450.00", "bought 2026-12-13 | 1 band-saw for 450.00"),
        (Nothing, "bought 2026-12-13 from yard bar clamps for 24.00", "bought 2026-12-13 from yard | 1 bar-clamps for 24.00"),
        (Bought, "2 bags of wheel-40 for 23.00", "2 bags wheel-40 for 23.00"),
        (Built, "used 80 ml of clear-oil", "used 80 ml clear-oil"),
        (Built, "cutting 1h 48m", "took 1h 48m cutting"),
        (Built, "sanding 70 min", "took 70 min sanding"),
        (Built, "as planned", "used as planned | took as planned"),
        (Built, "made 12 serving-board, rest 35%", ""),
        (Finished, "made 12 serving-board, rest 35%", "made 12 serving-board, the rest 35%"),
        (Built, "made 2 pull-cart batch PC-014", "made 2 pull-cart"),
        (Sold, "7 pull-cart at 42.00, 3 left", "7 pull-cart at 42.00, 3 back"),
        (Sold, "payed 2026-03-22", "paid 2026-03-22"),
        (Worked, "1h sanding for PC-1", "1h sanding on PC-1"),
        (Worked, "1h 20 min for stool", "1h 20 min on stool"),
        (Sold, "to J. in Dover", "to \"J. in Dover\""),
        (Sold, "1 pull-cart at 20% off", "1 pull-cart | discount 20%"),
        (Sold, "packed with box-small", "packed with 1 box-small"),
        (Sold, "2 pull-cart, \"red ones\"", "2 pull-cart \"red ones\""),
        (Paid, "600.00 receipt A-1182", "600.00 for receipt A-1182"),
        (Received, "60.00 for order \"W-3\", \"W-4\"", "60.00 for orders \"W-3\", \"W-4\""),
        (Received, "60.00 for order W-3, W-4, W-5 \"May\"", "60.00 for orders W-3, W-4, W-5 \"May\""),
        (Received, "60.00 order W-3, W-4", "60.00 for orders W-3, W-4"),
        (Paid, "60.00 for receipt \"A-1\", \"A-2\"", ""),
        (Nothing, "gave 2026-03-22 1 pull-cart to school raffle", "gave 2026-03-22 to \"school raffle\" | 1 pull-cart"),
        (Nothing, "drove 2026-03-02 38 miles to the fair", "drove 2026-03-02 38 mi \"to the fair\""),
        (
            Nothing,
            "bought 2026-03-02 from Ridgeline Lumber invoice A-1182",
            "bought 2026-03-02 from \"Ridgeline Lumber\" receipt \"A-1182\"",
        ),
        (Nothing, "sanded 2026-03-03 1h", "worked 2026-03-03 | 1h sanding"),
        (Nothing, "glued 2026-03-03 batch PC-014", "worked 2026-03-03 | 1h gluing on PC-014"),
        (Sold, "2 serving-board, pull-cart", ""),
        (Bought, "12 sticks, dowel-6 for 18.60", "12 sticks dowel-6 for 18.60"),
        (Received, "red-oak for order \"G-12\"", ""),
        (Sold, "2, pull-cart at 42.00", "2 pull-cart at 42.00"),
        (Built, "used 9.7 bf red-oak, 12 ft, dowel-6", "used 9.7 bf red-oak, 12 ft dowel-6"),
        (Built, "took 1h 10m, turning", "took 1h 10m turning"),
        (Bought, "9 bf walnut for, 99.00", "9 bf walnut for 99.00"),
        (Bought, "58 m pull-cord pull-cord for 8.70", "58 m pull-cord-pull-cord for 8.70"),
        (Sold, "note\"oiled twice\"", "note \"oiled twice\""),
        (Sold, "paid2026-07-20", "paid 2026-07-20"),
        (Sold, "settled139.20", "settled 139.20"),
        (Bought, "5 bf \"red-oak\" at 5.90", "5 bf red-oak at 5.90"),
        (Bought, "5 bf red oka at 5.90", "5 bf red-oka at 5.90"),
    ]);
}

#[test]
fn another_verb_leads_to_the_word_of_the_language() {
    let rows = [
        ("sell", "sold"),
        ("sale", "sold"),
        ("Sold", "sold"),
        ("sodl", "sold"),
        ("buy", "bought"),
        ("purchase", "bought"),
        ("make", "built"),
        ("made", "built"),
        ("build", "built"),
        ("used", "used-up"),
        ("finish", "finished"),
        ("donate", "gave"),
        ("lost", "scrapped"),
        ("refunded", "returned"),
        ("move", "sent"),
        ("ordered", "bought"),
    ];
    for (typed, right) in rows {
        let rest = match right {
            "sold" => "2026-03-20 via web-page",
            "finished" => "2026-03-20 batch PC-1",
            "gave" => "2026-03-20 to \"x\" as gift",
            "sent" => "2026-03-20 to gift-shop",
            "returned" => "2026-03-20 order \"x\"",
            _ => "2026-03-20",
        };
        let (found, lines) = told(Nothing, &format!("{typed} {rest}"));
        assert_eq!(lines.first(), Some(&format!("{right} {rest}")), "{typed}: {found:?}");
    }
    check(&[
        (Nothing, "borrowed 2026-02-10 drum sander", "noted 2026-02-10 \"borrowed drum sander\""),
        (Nothing, "took home 2026-12-20", "took-home 2026-12-20"),
        (Nothing, "sanding 2026-03-02", "worked 2026-03-02 | 1h sanding on BATCH"),
    ]);
}

#[test]
fn an_unfinished_merge_is_told_once_with_both_sides() {
    let text = "noted 2026-03-01 \"x\"\n<<<<<<< ours\nnoted 2026-03-02 \"y\"\n=======\nnoted 2026-03-02 \"z\"\n>>>>>>> theirs\nnoted 2026-03-03 \"w\"\n";
    let mut sources = SourceSet::default();
    sources.add("book.kerf", text).expect("short");
    let mut found = crate::diagnostics::Diagnostics::default();
    let syntax = parse_lines(&sources, &mut found);
    let found = found.into_sorted();
    assert_eq!(found.iter().map(|one| (one.code, one.secondary.len())).collect::<Vec<_>>(), [(code::MERGE_MARKS, 2)]);
    assert_eq!(syntax.entries.iter().filter(|entry| !entry.damaged).count(), 4);
}

#[test]
fn what_fits_nothing_is_told_with_what_belongs_there() {
    let (found, _) = told(Sold, "the red one for my neighbour");
    assert_eq!(found.iter().map(|one| one.code).collect::<Vec<_>>(), [code::UNREAD_LINE]);
    assert!(found[0].notes.iter().any(|note| note.contains("`packed with 1 box-small`")), "{found:?}");
    let (found, _) = told(Sold, "discount by ten");
    assert_eq!(found[0].code, code::DETAIL_FORM);
    assert_eq!(found[0].message, "`discount` is written like `discount 5.00`");
    let (found, _) = told(Worked, "a while at the bench");
    assert!(found[0].notes.iter().any(|note| note.contains("`worked`: `45m sanding on PC-014`")), "{found:?}");
    let (found, _) = told(Received, "29.40");
    assert_eq!((found[0].code, found[0].message.as_str()), (code::SUM_WITHOUT_FOR, "29.40 for what?"));
    let (found, _) = told(Nothing, "xyzzy 2026-03-02");
    assert_eq!(found[0].code, code::UNREAD_LINE);
}

#[test]
fn no_line_is_a_panic_and_no_line_is_told_without_a_place() {
    let words = [
        "1",
        "½",
        "$5",
        "\"",
        "x",
        "4/4",
        "in",
        "red",
        "#",
        ",",
        "@",
        "1h",
        "–",
        "2026-02-30",
        "at",
        "é",
        "<<<<<<<",
        "made",
        "'",
        "%",
        "Mar",
        "EUR",
    ];
    let mut state = 7_usize;
    for _ in 0..200 {
        let mut line = String::new();
        for _ in 0..(state % 7 + 1) {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            line.push_str(words[(state >> 33) % words.len()]);
            line.push_str(if state.is_multiple_of(3) { "" } else { " " });
        }
        for context in [
            None,
            Some(BlockWord::Entry(crate::syntax::Verb::Sold)),
            Some(BlockWord::Definition(crate::syntax::DefinitionWord::Step)),
        ] {
            for column_one in [false, true] {
                let mut sources = SourceSet::default();
                sources.add("a.kerf", &line).expect("short");
                let span = Span::new(0, u32::try_from(line.len()).expect("short"));
                let found = explain_bad_line(&sources, span, LineContext { column_one, block: context });
                assert!(found.code >= Code(100) && !found.message.is_empty() && found.primary.span.end <= span.end + 1, "{line}");
                for fix in &found.fixes {
                    let _ = corrected_lines(&sources, fix);
                }
            }
        }
    }
}

#[test]
fn of_very_many_unread_lines_only_the_first_are_looked_at_closely() {
    let mut sources = SourceSet::default();
    sources.add("book.kerf", &format!("sold 2026-03-20 via web-page\n{}", "    sales tax 8.40\n".repeat(300))).expect("short");
    let mut found = crate::diagnostics::Diagnostics::default();
    let _ = parse_lines(&sources, &mut found);
    let found = found.into_sorted();
    assert_eq!(found.len(), 300);
    assert_eq!(found.iter().filter(|one| !one.fixes.is_empty()).count(), 100);
}

#[test]
fn where_a_correction_can_mean_two_things_both_are_offered() {
    check(&[
        (Bought, "12 bf cherry $84", "12 bf cherry at 84 || 12 bf cherry for 84"),
        (Bought, "12 bf cherry 84 USD", "12 bf cherry at 84 || 12 bf cherry for 84"),
        // Of one both are the same.
        (Bought, "1 qt clear-oil 27.50", "1 qt clear-oil for 27.50"),
        (Bought, "1 qt clear-oil $27.50", "1 qt clear-oil for 27.50"),
        (
            Nothing,
            "came back 2026-03-02 from gift-shop",
            "brought-back 2026-03-02 from gift-shop || returned 2026-03-02 from gift-shop",
        ),
    ]);
    for typed in ["12 bf cherry $84", "1 qt clear-oil $27.50", "pull-cart 2"] {
        assert!(told(Bought, typed).0.iter().all(|one| one.sure_fix().is_none()), "{typed}");
    }
}

#[test]
fn a_word_and_a_figure_in_an_entry_of_money_are_a_sum() {
    check(&[
        (Paid, "clamps 34", "34 for clamps"),
        (Paid, "sharpening 15.00", "15.00 for sharpening"),
        (Received, "deposit 100", "100 for order \"NAME\""),
    ]);
}

#[test]
fn heads_typed_as_they_are_spoken_are_taken_apart() {
    check(&[
        (Nothing, "paid 2026-01-01 to landlord every month", "paid 2026-01-01 to landlord"),
        (Nothing, "paid monthly to landlord", "paid 2026-03-01 to landlord"),
        (
            Nothing,
            "received 2026-03-15 $35 commission from tool company",
            "received 2026-03-15 from \"tool company\" | 35 for commission",
        ),
        (Nothing, "paid 2026-03-05 85.00 for booth-fee to county-fair", "paid 2026-03-05 to county-fair | 85.00 for booth-fee"),
        (Nothing, "sold 2026-03-01 at Winter Fair", "sold 2026-03-01 via winter-fair"),
        (Nothing, "sold 2026-03-01 to Mrs. Dell order \"DELL\"", "sold 2026-03-01 via NAME order \"DELL\" | to \"Mrs. Dell\""),
        (Nothing, "sold 2026-03-01 via web-page to Mrs. Dell", "sold 2026-03-01 via web-page | to \"Mrs. Dell\""),
        (Nothing, "built 2026-01-12 4 step-stools", "built 2026-01-12 | made 4 step-stools"),
        (Nothing, "ordered 2026-02-02 by \"Mrs. Dell\"", "received 2026-02-02 from \"Mrs. Dell\""),
        (Nothing, "order 2026-02-02 from Mrs. Dell", "received 2026-02-02 from \"Mrs. Dell\""),
        (Nothing, "paid 2026-03-05 $60 to county fair for booth", "paid 2026-03-05 to \"county fair\" | 60 for booth"),
        (Nothing, "took home 2026-03-01 1 stool", "took-home 2026-03-01 | 1 stool"),
        (Nothing, "opened 2026-01-1l", "opened 2026-01-11"),
        (Nothing, "threw away 2026-03-01", "scrapped 2026-03-01"),
        (Nothing, "threw 2026-03-01 away 1 stool", "scrapped 2026-03-01 | 1 stool"),
        (Nothing, "take 2026-03-01", "took-home 2026-03-01 || worked 2026-03-01"),
        (Nothing, "paid 2026-O1-12 to landlord", "paid 2026-01-12 to landlord"),
    ]);
}

#[test]
fn times_are_written_as_they_are_spoken() {
    check(&[
        (Built, "took an hour cutting, half an hour sanding", "took 1h cutting, 30m sanding"),
        (Product, "takes an hour and a half cutting", "takes 1h 30m cutting"),
        (Worked, "a quarter of an hour sanding on PC-014", "15m sanding on PC-014"),
        (Helper, "costs 18.00 an hour", "costs 18.00 per h"),
        (Nothing, "worked 2026-03-05 half an hour cutting", "worked 2026-03-05 | 30m cutting"),
    ]);
}

#[test]
fn all_times_of_a_line_are_mended_at_once() {
    check(&[(
        Built,
        "took 1.5h cutting, 3 hours assembling, 45 minutes sanding, 1h20 finishing",
        "took 1.5h cutting, 3h assembling, 45m sanding, 1h 20m finishing",
    )]);
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

#[test]
fn what_may_stand_in_a_block_is_listed_once() {
    let (found, _) = told(Sold, "blah blub bli\n    hm ho hu");
    let notes: Vec<&str> = found.iter().filter_map(|one| one.notes.first()).map(String::as_str).collect();
    assert!(notes.first().is_some_and(|note| note.starts_with("what may stand in `sold`: ")), "{notes:?}");
    assert_eq!(notes.get(1), Some(&"what may stand in `sold` is told above"));
}
