//! What can be asked with `kerfbook why`: every name that is listed can be typed into a shell, whatever the book calls its things, and what has no figures
//! is told why.

use std::path::Path;

use crate::shop::{Ran, book, book_of, example, run_in};

/// A book in which a product is called as a kind of stock is, a line as the totals are, and orders as nobody should.
const CLASHES: &str = r#"
shop "Clash & Sons"
    currency USD
    owner time 24.00 per h
place bench "Home workshop"
    home
step cutting "Cutting"
material red-oak "Red oak"
    measured in bf
line all "All of it"
product materials "Box of materials"
    line all
    needs 0.80 bf red-oak
    price 42.00
product totals "A tally"
    line all
    needs 0.80 bf red-oak
    price 42.00
channel web-page "Own web page"

bought 2026-03-02 from ridgeline-lumber receipt "A-1182"
    20 bf red-oak at 5.90
built 2026-03-09
    used 4.8 bf red-oak
    took 1h 48m cutting
    made 6 materials
built 2026-03-10 batch T-1
    used 4 bf red-oak
    took 1h cutting
    made 3 totals
sold 2026-03-20 via web-page order "Ann's 5 $ box"
    2 materials
sold 2026-03-21 via web-page order "2026/17"
    1 materials
received 2026-03-22 from "E. in Troy"
    60.00 for order "C-07"
received 2026-03-22 from "E. in Troy"
    10.00 for order "C-08"
returned 2026-03-25 order "C-07"
    refunded 60.00
"#;

fn why(folder: &Path, figure: &str) -> Ran {
    run_in(folder, &["why", figure, "--today", "2026-12-31"])
}

fn answer(folder: &Path, figure: &str) -> String {
    let run = why(folder, figure);
    assert_eq!(run.status, Some(0), "{figure}: {}", run.err);
    run.out.lines().nth(3).unwrap_or_default().to_owned()
}

#[test]
fn a_kind_and_a_thing_of_one_name_are_both_asked() {
    let folder = book_of(CLASHES);
    let folder = folder.path();
    assert!(answer(folder, "stock/materials").starts_with("3 materials on hand"), "{}", answer(folder, "stock/materials"));
    assert!(answer(folder, "stock/totals/materials").starts_with("Materials on "));
    assert!(answer(folder, "stock/totals/materials/2026-03-05").starts_with("Materials on 2026-03-05: 118.00 paid"));
    assert!(answer(folder, "stock/totals").starts_with("3 totals on hand"));
    assert!(answer(folder, "stock/totals/2026-03-11").starts_with("3 totals on hand on 2026-03-11"));
    // Where nothing clashes, both spellings are one figure.
    assert_eq!(answer(folder, "stock/totals/all"), answer(folder, "stock/all"));
    let told = why(folder, "stock/totals/material").err;
    assert!(told.contains("did you mean `stock/totals/materials`?"), "{told}");
}

#[test]
fn a_line_that_is_called_as_the_totals_are_is_asked_too() {
    let folder = book_of(CLASHES);
    let folder = folder.path();
    assert_eq!(answer(folder, "pays/all/revenue"), "The revenue of the whole shop is 126.00.");
    assert_eq!(answer(folder, "pays/groups/all/revenue"), "The revenue of all is 126.00.");
    assert_eq!(answer(folder, "pays/groups/all/2026"), answer(folder, "pays/groups/all/2026/paid-margin"));
    let all = run_in(folder, &["why", "pays", "--today", "2026-12-31"]).out;
    assert!(all.contains("kerfbook why pays/groups"), "{all}");
}

#[test]
fn names_that_a_shell_would_take_apart_are_listed_in_quotes_and_a_slash_is_found() {
    let folder = book_of(CLASHES);
    let folder = folder.path();
    let orders = why(folder, "order/").out;
    assert!(orders.contains(r"kerfbook why 'order/Ann'\''s 5 $ box'"), "{orders}");
    assert!(orders.contains("kerfbook why order/2026_17\n"), "{orders}");
    assert!(answer(folder, "order/Ann's 5 $ box").starts_with("Order Ann's 5 $ box brought in"));
    for (typed, meant) in [
        ("order/2026/17", "`order/2026_17`"),
        ("order/2026/17/margin", "`order/2026_17/margin`"),
        ("batch/materials/2026-03-09", "`batch/materials_2026-03-09`"),
        ("lot/materials/materials/2026-03-09/paid", "`lot/materials/2026-03-09/paid`"),
    ] {
        let told = why(folder, typed);
        assert!(told.status == Some(2) && told.err.contains(&format!("did you mean {meant}?")), "{}", told.err);
    }
}

#[test]
fn what_has_no_figures_is_told_why() {
    let folder = book_of(CLASHES);
    let told = |figure: &str| why(folder.path(), figure).err;
    assert!(told("order/C-07").contains("the money that came for it was handed back"), "{}", told("order/C-07"));
    assert!(told("order/C-08").contains("yet: money came for it, which is a deposit"), "{}", told("order/C-08"));
    assert!(told("year").contains("`shop` names no `tax form`"), "{}", told("year"));
    for month in ["pays/month/2026-13", "pays/month/2026-13/income", "pays/month/26-03/cost"] {
        assert!(told(month).contains("is no month"), "{}", told(month));
    }
    let month = why(folder.path(), "pays/month/2026-03").out;
    assert!(month.contains("why pays/month/2026-03/income") && month.contains("why pays/month/2026-03/cost"), "{month}");
    let empty = book_of(
        "shop \"S\"\n    currency USD\nplace bench \"Home\"\n    home\nmaterial oak \"Oak\"\n    measured in bf\nbought 2026-03-02 from y\n    2 bf oak at 5.00\n",
    );
    for (kind, why_none) in
        [("cost", "nothing was finished in a batch"), ("batch/", "no batch was begun"), ("order", "nothing was sold")]
    {
        let told = why(empty.path(), kind);
        assert!(told.status == Some(2) && told.err.contains(why_none), "{}", told.err);
    }
}

#[test]
fn a_list_is_whole_however_long_it_is() {
    let list = |figure: &str| {
        let run = run_in(&example(), &["why", figure, "--today", "2027-02-01", "--as", "json"]);
        serde_json::from_str::<serde_json::Value>(&run.out).expect("json")
    };
    for begins in ["year/2026/", "order", "lot", "proof/", "cost"] {
        let list = list(begins);
        let rows =
            list["groups"].as_array().expect("groups").iter().flat_map(|group| group["rows"].as_array().expect("rows").clone());
        let counted: u64 = rows.map(|row| row["count"].as_u64().expect("a count")).sum();
        assert_eq!(Some(counted), list["count"].as_u64(), "{begins}");
    }
    let lines = run_in(&example(), &["why", "year/2026/", "--today", "2027-02-01"]).out;
    for line in ["line-1", "line-42", "bridge/", "mileage"] {
        assert!(lines.contains(&format!("why year/2026/{line}")), "{line}: {lines}");
    }
    assert!(!lines.contains("more"), "{lines}");
    let small = book();
    assert!(run_in(small.path(), &["why", "--today", "2026-12-31"]).out.contains("stock/totals/materials"));
}

#[test]
fn figures_of_a_plan_are_told_listed_and_found_by_near_names() {
    let why = |args: &[&str]| run_in(&example(), &[&["why"], args, &["--today", "2027-02-01"]].concat());
    let told = |figure: &str| {
        let run = why(&[figure]);
        assert_eq!(run.status, Some(0), "{figure}: {}", run.err);
        run.out
    };
    let cash = told("plan/60_pull-cart+40_village-set/cash-needed");
    assert!(cash.contains("> kerfbook why plan/60_pull-cart+40_village-set/buy/wheel-40/cost"), "{cash}");
    // What the plan prints is what is derived, and it says how its figures are asked for.
    let plan = run_in(&example(), &["plan", "60", "pull-cart", "40", "village-set", "--today", "2027-02-01"]).out;
    assert!(plan.contains("plan/60_pull-cart+40_village-set`"), "{plan}");
    let all = plan.lines().find(|line| line.trim_start().starts_with("All ")).expect("a total");
    let sum = all.split_whitespace().last().expect("money");
    assert!(cash.contains(&format!("The money that it takes is {sum}.")), "{all}: {cash}");
    // Pieces of one thing are gathered, and there is one spelling.
    let gathered = told("plan/50_pull-cart+40_village-set+10_pull-cart/cash-needed");
    assert_eq!(gathered, cash);
    let json = why(&["plan/60_pull-cart+40_village-set/cash-needed", "--as", "json"]).out;
    assert!(json.contains(r#""figure": "plan/60_pull-cart+40_village-set/cash-needed""#), "{json}");
    let list = told("plan/6_pull-cart");
    assert!(list.contains("kerfbook why plan/6_pull-cart/cash-needed"), "{list}");
    let by = told("plan/6_pull-cart/by/2027-03-01/needed");
    assert!(by.contains("general work in the last twelve months"), "{by}");
    for (typed, wants) in [
        ("plan", "say which plan, as in `kerfbook why plan/6_pull-cart+4_village-set`"),
        ("plan/6_pull-cat/cash-needed", "there is no product or material `pull-cat`; did you mean `pull-cart`?"),
        ("plan/6_pull-cart/cash-neded", "did you mean `plan/6_pull-cart/cash-needed`?"),
        ("plan/6_pull-cart/step/sandig/expected", "did you mean `plan/6_pull-cart/step/sanding/expected`?"),
        ("plan/6_pull-cart/build/pull-cart/begin", "its parts are asked, for-parts"),
        ("plan/6_pull-cart/buy/red-oak/cost", "`red-oak` need not be bought for this plan"),
        ("plan/pull-cart/cash-needed", "`pull-cart` is no number of pieces with a name"),
        ("plan/0_pull-cart/cash-needed", "`0_pull-cart` is no number of pieces"),
        ("plan/2000000_pull-cart/cash-needed", "a plan is made for at most 1000000 pieces"),
        ("plan/6_red-oak/cash-needed", "`red-oak` is bought and has no recipe"),
        ("plan/6_pull-cart/by/2027-01-01/needed", "`by/2027-01-01` is before 2027-02-01"),
    ] {
        let run = why(&[typed]);
        assert!(run.status == Some(2) && run.err.contains(wants), "{typed}: {}", run.err);
        assert_eq!(run.out, "", "{typed}");
    }
}

#[test]
fn figures_of_a_price_are_asked_with_what_is_wanted_of_it() {
    let why = |figure: &str| run_in(&example(), &["why", figure, "--today", "2027-02-01"]);
    let price = &["price", "pull-cart", "--earn", "25", "--margin", "30%", "--fixed", "120", "--hours", "16h"];
    let price = run_in(&example(), &[price.as_slice(), &["--today", "2027-02-01"]].concat()).out;
    let begins = "price/pull-cart+earn_25+margin_30%+fixed_120+hours_16h/craft-fair";
    for (column, table) in [("least-for-earning", "52.00"), ("least-for-margin", "42.56"), ("break-even-pieces", "5")] {
        let run = why(&format!("{begins}/{column}"));
        assert!(run.out.contains(&format!("is {table}.")), "{column}: {} {}", run.out, run.err);
        let fair = price.lines().filter(|line| line.trim_start().starts_with("Booth at fairs"));
        assert!(fair.flat_map(str::split_whitespace).any(|word| word == table), "{column}: {price}");
    }
    assert!(price.contains("price/pull-cart+earn_25+margin_30%+fixed_120+hours_16h/`"), "{price}");
    let none = why("price/pull-cart/gift-shop/break-even-pieces").out;
    assert!(none.contains("no fixed cost was asked about and no fair is to learn from"), "{none}");
    let learnt = why("price/pull-cart/craft-fair/break-even-money").out;
    assert!(learnt.contains("is 27.55."), "{learnt}");
    // What is offered for a name that is none is a name: nothing is joined into the wishes.
    let near = why("price/pull-cart+earn_25+margin_30%/fair/hour").err;
    assert!(near.contains("there is no channel `fair`") && !near.contains("30%_"), "{near}");
    for (typed, wants) in [
        ("price/pull-cart+earn_much/craft-fair/least-for-earning", "`earn_much` is nothing that can be wanted"),
        ("price/pull-cart+earn_25+earn_26/craft-fair/least-for-earning", "`earn_26` is nothing that can be wanted once"),
        ("price/pull-cart+margin_100%/craft-fair/least-for-margin", "`margin_100%` is nothing"),
        ("price/pull-cat+earn_25/paid", "there is no material or product `pull-cat`"),
    ] {
        let run = why(typed);
        assert!(run.status == Some(2) && run.err.contains(wants), "{typed}: {}", run.err);
    }
}

#[test]
fn a_price_and_a_place_are_told_down_to_the_entries() {
    let told = |figure: &str| {
        let run = run_in(&example(), &["why", figure, "--deep", "--today", "2027-02-01"]);
        assert_eq!(run.status, Some(0), "{figure}: {}", run.err);
        run.out
    };
    let least = told("price/pull-cart/gift-shop/least-for-full");
    assert!(least.contains("least price that covers the full cost") && least.contains("kerf:"), "{least}");
    let margin = told("price/pull-cart/gift-shop/list-paid-margin");
    assert!(margin.contains("less what of it does not reach you") && margin.contains("less paid cost"), "{margin}");
    let left = told("places/gift-shop/left-at-price");
    assert!(left.contains("at the asked price") && left.contains("left of what came"), "{left}");
    assert!(told("places/gift-shop/owed").contains("gift-shop owes") || told("places/gift-shop/owed").contains(" owes "));
    let home = run_in(&example(), &["why", "places/bench/owed", "--today", "2027-02-01"]);
    assert!(home.status == Some(2) && home.err.contains("is home"), "{}", home.err);
    let no_part = run_in(&example(), &["why", "price/pull-cart/gift-shop/least", "--today", "2027-02-01"]);
    assert!(no_part.err.contains("its parts are least-for-paid"), "{}", no_part.err);
}
