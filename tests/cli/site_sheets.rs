//! What pages of a site say above their folds: of what came back, of a batch's goods and pieces, of a product without a price, of what needs a decision.

use std::collections::BTreeMap;
use std::path::PathBuf;

use rust_decimal::Decimal;

use crate::shop::{book_of, example};
use crate::site::site_of;

fn site() -> BTreeMap<String, String> {
    site_of(&example(), &["--today", "2027-02-01"])
}

/// A page's text without its tags, cells apart.
fn plain(html: &str) -> String {
    let mut text = String::new();
    for part in html.split('<') {
        text.push(' ');
        text.push_str(part.split_once('>').map_or(part, |(_, rest)| rest));
    }
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A table of a sheet, by its name.
fn table<'p>(page: &'p str, name: &str) -> Option<&'p str> {
    page.split(&format!(" id=\"table-{name}\"")).nth(1)?.split("</table>").next()
}

/// The rows of a table, each as its cells' texts; every digit of a cost is left out.
fn rows(table: &str) -> Vec<Vec<String>> {
    let body = table.split("<tbody").nth(1).unwrap_or("");
    let cell = |cell: &str| plain(&format!("<{}", cell.split(" <small>").next().unwrap_or(""))).replace(',', "");
    body.split("<tr ").skip(1).map(|row| row.replace("<th ", "<td ").split("<td ").skip(1).map(cell).collect()).collect()
}

fn number(text: &str) -> Decimal {
    let plain: String = text.replace('\u{2212}', "-").chars().filter(|one| one.is_ascii_digit() || ".-".contains(*one)).collect();
    plain.parse().unwrap_or_else(|_| panic!("`{text}` is no number"))
}

#[test]
fn what_came_back_of_a_sale_and_what_became_of_it_stands_above_the_folds() {
    let book = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("ledger-examples/returns");
    let site = site_of(&book, &[]);
    let page = &site["order/w-1.html"];
    let above = plain(page.split("<details").next().expect("before the folds"));
    // 3 carts and 2 spoons are 162.00, shipping 12.00; 42.00 + 42.00 + 18.00 + 5.00 + 6.00 went back.
    for said in [
        "brought in $61.00 after $113.00 was given back, and left",
        "Goods and shipping 174.00 less what was given back \u{2212}113.00",
        "less fees and shares \u{2212}5.76 and fees that came back 3.06",
        "Pull-along cart 2026-03-14 1 back to stock 42.00",
        "Pull-along cart 2026-03-14 1 scrapped, a loss of 10.60 42.00",
        "Cooking spoon 2026-03-14 1 left with the buyer 18.00",
        "A refund without goods 2026-03-14 money alone 5.00",
        "Shipping 2026-03-14 money alone 6.00 Together 113.00",
        "given back to the buyer home-state 2026-03-14 \u{2212}6.12 Left of what the shop collected 3.60",
        // 3 carts at 10.60 and 2 spoons at 2.20, less 2 carts.
        "Together 15.00",
    ] {
        assert!(above.contains(said), "{said}: {above}");
    }
    // A return that names no order stands with the last sale of its channel.
    assert!(plain(&site["order/2026-03-21.html"]).contains("Cooking spoon 2026-03-22 1 back to stock 18.00"));
}

#[test]
fn a_sale_s_entries_are_shown_whole() {
    let page = &site()["order/w-0332.html"];
    let book = plain(page.split("id=\"book\"").nth(1).expect("what the book says"));
    for line in ["shipping 14.00", "sales-tax 8.16", "postage 12.90", "packed with 1 box-large", "fee back 2.04"] {
        assert!(book.contains(line), "{line}: {book}");
    }
}

#[test]
fn a_batch_says_what_went_in_and_where_its_pieces_are() {
    let site = site();
    let (mut of_pieces, mut of_goods) = (0, 0);
    for (file, page) in site.iter().filter(|(file, _)| file.starts_with("batch/") && !file.contains(".why-")) {
        if let Some(went_in) = table(page, "went-in") {
            let rows = rows(went_in);
            let (last, rest) = rows.split_last().expect("a row");
            if !rest.is_empty() {
                let sum: Decimal = rest.iter().map(|row| number(&row[3])).sum();
                assert_eq!(sum, number(&last[3]), "{file}");
                of_goods += 1;
            }
        }
        let (Some(gave), Some(now)) = (table(page, "gave"), table(page, "now")) else { continue };
        let good = rows(gave).into_iter().filter(|row| !row[0].contains("lost"));
        let made: Decimal = good.map(|row| number(&row[2])).sum();
        let there = rows(now).into_iter().filter(|row| row[0] != "Together");
        let sum: Decimal = there.map(|row| number(&row[2])).sum();
        assert_eq!(sum, made, "{file}: {}", plain(now));
        of_pieces += 1;
    }
    assert!(of_pieces > 50 && of_goods > 50, "{of_pieces} and {of_goods} batches");
}

#[test]
fn a_product_without_a_price_says_so_in_the_same_words_everywhere() {
    let site = site();
    for (file, from) in [("thing/oak-peg.html", "List price"), ("products.html", "Oak peg"), ("cost.html", "Oak peg")] {
        // A picture says the name too.
        let page = plain(site[file].rsplit("<caption>What one piece costs").next().expect("a table"));
        let said = page.split(from).nth(1).expect("the peg").chars().take(120).collect::<String>();
        assert!(said.contains("no price set") && !said.contains("unknown"), "{file}: {said}");
    }
}

#[test]
fn what_a_piece_costs_has_the_same_cents_in_the_sentence_and_in_the_tables() {
    let site = site();
    let page = &site["thing/pull-cart.html"];
    let answer = plain(page.split("<p class=\"answer\">").nth(1).and_then(|rest| rest.split("</p>").next()).expect("an answer"));
    let of_table = rows(table(page, "cost").expect("its parts"));
    for part in ["Laid out", "Full cost"] {
        let row = of_table.iter().find(|row| row[0] == part).expect("a part");
        assert!(answer.contains(&format!("${} ", row[1])), "{part} {}: {answer}", row[1]);
    }
}

#[test]
fn the_sums_within_a_product_s_cost_look_like_sums() {
    let page = &site()["thing/pull-cart.html"];
    let cost = table(page, "cost").expect("its parts");
    for sum in ["Laid out", "Full cost"] {
        assert!(cost.contains(&format!("<tr role=row class=total><th role=rowheader>{sum}")), "{sum}: {cost}");
    }
}

#[test]
fn hours_at_a_step_are_told_by_what_they_were_worked_for() {
    let site = site();
    let hours = rows(table(&site["pays-hours.html"], "hours").expect("a table"));
    let of_report = site["pays.html"].split("Hours worked at each step").nth(1).expect("a table").split("</table>").next();
    let of_report = rows(of_report.expect("a table"));
    let sums: BTreeMap<String, Vec<String>> = hours
        .iter()
        .filter(|row| row[0].ends_with("together"))
        .map(|row| (row[0].trim_end_matches(" together").to_owned(), row[2..].to_vec()))
        .collect();
    assert!(of_report.len() > 5);
    for row in of_report {
        assert_eq!(sums[&row[0]], row[1..], "{}", row[0]);
    }
}

#[test]
fn the_first_page_names_what_needs_a_decision_each_with_its_page() {
    let page = &site()["index.html"];
    let decide = page.split("id=\"decide\"").nth(1).expect("a section").split("</section>").next().expect("its end");
    for (link, said) in [
        ("channel/corner-store.html", "short of its full cost"),
        ("thing/bird-house.html", "short of its full cost"),
        ("place/gift-shop.html", "last counted on 2026-08-31, 142 days before the book&#x27;s end"),
        ("thing/maple.html", "at 15 bf or less"),
    ] {
        let item = decide
            .split("<li>")
            .find(|item| item.contains(&format!("href=\"{link}\"")))
            .unwrap_or_else(|| panic!("{link}: {decide}"));
        assert!(plain(item).contains(said), "{said}: {item}");
    }
    // Where there is nothing to decide, nothing is asked.
    let quiet = book_of(
        "shop \"Quiet\"\n    currency USD\nplace bench \"Bench\"\n    home\nproduct cart \"Cart\"\n    price 45.00\nchannel door \"At the door\"\nopened 2026-01-01\n    10 cart for 100.00\nsold 2026-01-10 via door\n    2 cart\n",
    );
    let page = &site_of(quiet.path(), &[])["index.html"];
    let decide = page.split("id=\"decide\"").nth(1).expect("a section").split("</section>").next().expect("its end");
    assert_eq!(plain(&format!("<{decide}")), "What needs a decision Nothing.");
}

/// The number of a table's last row in a column.
fn of_last(table: &str, column: usize) -> Decimal {
    rows(table).last().map_or(Decimal::ZERO, |row| number(&row[column]))
}

#[test]
fn of_every_thing_what_came_is_what_went_and_what_is_left() {
    let site = site();
    let (mut tried, mut off) = (0, Vec::new());
    for (file, page) in site.iter().filter(|(file, _)| file.starts_with("thing/")) {
        let (Some(came), Some(went)) = (table(page, "lots"), table(page, "went")) else { continue };
        let left: Decimal = rows(came).iter().filter(|row| row[0] != "All lots").map(|row| number(&row[5])).sum();
        let there = of_last(came, 2) - of_last(went, 2) - left;
        let places = table(page, "stock").map(rows).unwrap_or_default();
        let held: Decimal = places.iter().map(|place| number(&place[2])).sum();
        let cost = of_last(came, 3) - of_last(went, 3) - held;
        if there.abs() > Decimal::new(1, 6) || cost.abs() > Decimal::new(3, 2) {
            off.push(format!("{file}: {there} of it, {cost} of its cost"));
        }
        tried += 1;
    }
    assert!(tried > 30, "{tried}");
    assert!(off.is_empty(), "{}", off.join("\n"));
}

#[test]
fn what_lies_long_has_a_page_with_all_goods_by_age() {
    let site = site();
    let page = &site["slow.html"];
    let by_age: Vec<Decimal> = rows(table(page, "ages").expect("all goods by age")).iter().map(|row| number(&row[1])).collect();
    assert_eq!(by_age.len(), 5, "{by_age:?}");
    assert_eq!(by_age[..4].iter().sum::<Decimal>(), by_age[4]);
    let long = rows(table(page, "list").expect("what lies long"));
    let sum: Decimal = long.iter().map(|row| number(&row[1])).sum();
    assert!((by_age[2] + by_age[3] - sum).abs() < Decimal::ONE, "{sum} {by_age:?}");
    let answer = format!("Of $ {} laid out", by_age[4]).replace("$ ", "$");
    assert!(plain(page).replace(',', "").contains(&answer), "{answer}");
    assert_eq!(long[0][0], "Red oak kiln dried material");
    assert!(site["index.html"].contains("slow.html") && site["pays.html"].contains("slow.html"));
}
