//! Heads: their words, parts and verbs.

use super::Under::Nothing;
use super::{check, told};

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
fn a_day_before_its_head_is_put_behind_the_verb() {
    check(&[
        (Nothing, "2026-03-02 bought from ridgeline-lumber", "bought 2026-03-02 from ridgeline-lumber"),
        (Nothing, "3/24/2026 paid to landlord", "paid 2026-03-24 to landlord"),
        (Nothing, "Mar 9, 2026: sold via web-page", "sold 2026-03-09 via web-page"),
        (Nothing, "9 March 2026 - worked", "worked 2026-03-09"),
        (Nothing, "2026-03-02 buy from Ridgeline Lumber", "bought 2026-03-02 from \"Ridgeline Lumber\""),
        (Nothing, "2026-03-02 worked 2h sanding", "worked 2026-03-02 | 2h sanding"),
        (Nothing, "2026-03-02 material ash \"Ash\"", "material ash \"Ash\""),
        (
            Nothing,
            "2026-03-02 bought 10 bf ash from Mill Lane for $50",
            "bought 2026-03-02 from \"Mill Lane\" | 10 bf ash for 50",
        ),
    ]);
}

#[test]
fn a_batch_on_one_line_has_a_line_for_each_word() {
    check(&[
        (
            Nothing,
            "Mar 9: made 4 hats, used 9 ea skein and 11h knitting",
            "built 2026-03-09 | made 4 hats | used 9 ea skein | took 11h knitting",
        ),
        (
            Nothing,
            "built 2026-03-09 4 stool, used 9 bf oak, 1 sheet ply, took 2h cutting, 1h sanding, lost 1 stool \"split\"",
            "built 2026-03-09 | made 4 stool | used 9 bf oak, 1 sheet ply | took 2h cutting, 1h sanding | lost 1 stool \"split\"",
        ),
        (
            Nothing,
            "finished 2026-03-09 batch S-1 made 4 stool, 2h cutting",
            "finished 2026-03-09 batch S-1 | made 4 stool | took 2h cutting",
        ),
    ]);
}
