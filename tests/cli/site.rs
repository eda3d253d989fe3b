//! `kerfbook site`: that every link leads to a place that is there, that numbers lead to their derivation, and that no name of a book leads astray.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use rust_decimal::Decimal;

use crate::shop::{book, book_of, example, run_in};

fn text(path: &Path) -> &str {
    path.to_str().expect("plain names")
}

/// The files of a site, by their names within it.
fn files_of(site: &Path) -> BTreeMap<String, String> {
    let mut files = BTreeMap::new();
    for entry in fs::read_dir(site).expect("a folder") {
        let path = entry.expect("an entry").path();
        let name = path.file_name().and_then(|name| name.to_str()).expect("plain names").to_owned();
        if path.is_dir() {
            files.extend(files_of(&path).into_iter().map(|(file, text)| (format!("{name}/{file}"), text)));
        } else if name != ".kerfbook-site" {
            files.insert(name, fs::read_to_string(&path).expect("text"));
        }
    }
    files
}

/// Writes the site of a book and reads it back.
pub(crate) fn site_of(book: &Path, further: &[&str]) -> BTreeMap<String, String> {
    let above = tempfile::tempdir().expect("a folder");
    let out = above.path().join("site");
    let ran = run_in(book, &[&["site", "--out", text(&out)], further].concat());
    assert_eq!(ran.status, Some(0), "{ran:?}");
    files_of(&out)
}

/// The links of a page, in quotes or without.
fn links_on(whole: &str) -> impl Iterator<Item = &str> {
    whole.split(" href=").skip(1).filter_map(|rest| match rest.strip_prefix('"') {
        Some(quoted) => quoted.split('"').next(),
        None => rest.split(['>', ' ']).next(),
    })
}

/// The texts that follow a word, each up to the next quote.
fn parts<'t>(whole: &'t str, word: &'t str) -> impl Iterator<Item = &'t str> {
    whole.split(word).skip(1).filter_map(|rest| rest.split('"').next())
}

/// The file to which a link of a page leads, and the place in it.
fn led_to(page: &str, link: &str) -> (String, Option<String>) {
    let link = link.replace("&#x2f;", "/");
    let (file, place) = link.split_once('#').map_or((link.as_str(), None), |(file, place)| (file, Some(place.to_owned())));
    let folder = page.split_once('/').map(|(folder, _)| folder);
    let file = match (file.strip_prefix("../"), folder) {
        _ if file.is_empty() => page.to_owned(),
        (Some(rest), Some(_)) => rest.to_owned(),
        (None, Some(folder)) => format!("{folder}/{file}"),
        (_, None) => file.to_owned(),
    };
    (file, place)
}

/// Holds that every link leads to a place that is there, and counts them.
fn links_hold(files: &BTreeMap<String, String>) -> usize {
    let mut places: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for (page, whole) in files {
        let here = places.entry(page).or_default();
        for id in parts(whole, " id=\"") {
            assert!(here.insert(id), "{page}: the id `{id}` twice");
        }
    }
    let mut links = 0;
    for (page, whole) in files {
        for link in links_on(whole).filter(|link| *link != "data:,") {
            let (file, place) = led_to(page, link);
            let there = places.get(file.as_str());
            assert!(there.is_some(), "{page}: `{link}` leads nowhere");
            let is_there = place.is_none_or(|place| there.is_some_and(|ids| ids.contains(place.as_str())));
            assert!(is_there, "{page}: `{link}` names no place on its page");
            links += 1;
        }
    }
    links
}

#[test]
fn a_site_is_the_same_bytes_each_time_and_its_links_lead_somewhere() {
    let one = site_of(&example(), &["--today", "2027-02-01"]);
    assert!(links_hold(&one) > 20_000);
    assert_eq!(one, site_of(&example(), &["--today", "2027-02-01"]));
    let size: usize = one.values().map(String::len).sum();
    assert!(size < 5_000_000, "{size} bytes");
}

#[test]
fn the_site_of_a_year_or_of_any_time_has_no_link_that_leads_nowhere() {
    for period in [&["--year", "2026"][..], &["--from", "2026-02-01", "--to", "2026-05-31"], &["--to", "2026-06-30"]] {
        assert!(links_hold(&site_of(&example(), &[period, &["--today", "2027-02-01"]].concat())) > 1_000, "{period:?}");
    }
}

#[test]
fn a_number_of_the_cost_page_leads_to_its_derivation_and_that_to_the_book_s_line() {
    let files = site_of(book().path(), &[]);
    let cost = &files["cost.html"];
    assert!(cost.contains("<a href=thing/pull-cart.html#cost>4.72</a>"), "{cost}");
    let thing = &files["thing/pull-cart.html"];
    assert!(thing.contains("<details class=why id=\"cost\" open>"), "{thing}");
    assert!(thing.contains("../batch/pc-014.html>made in PC-014"), "{thing}");
    let batch = &files["batch/pc-014.html"];
    assert!(batch.contains("<code>    used 4.8 bf red-oak</code>"), "{batch}");
    assert!(batch.contains("<code>built 2026-03-09 batch PC-014</code>"), "{batch}");
    assert!(files["order/w-0031.html"].contains("$84.00"), "{}", files["order/w-0031.html"]);
}

#[test]
fn names_that_differ_little_or_that_a_disk_keeps_for_itself_have_pages_of_their_own() {
    let shop = r#"
shop "Shop"
    currency USD
place bench "Bench"
    home
material con "Reserved"
    measured in ea
material crème "With a mark"
    measured in ea
material creme "Without"
    measured in ea
product 木 "Wood"
channel web "Web"
bought 2026-03-02 from yard
    20 con at 1.00, lot a/b
    20 crème at 1.00
    20 creme at 1.00
built 2026-03-09 batch X-1
    used 2 con
    made 6 木
built 2026-03-10 batch x-1
    used 2 creme
    made 6 木
sold 2026-03-20 via web order "X-1"
    2 木 at 5.00
sold 2026-03-20 via web order "<script>"
    1 木 at 5.00
sold 2026-03-20 via web
    1 木 at 5.00
"#;
    let files = site_of(book_of(shop).path(), &[]);
    assert!(links_hold(&files) > 100);
    let mut names: Vec<String> = files.keys().map(|name| name.to_lowercase()).collect();
    names.sort();
    names.dedup();
    assert_eq!(names.len(), files.len());
    let plain = |name: &String| name.bytes().all(|byte| matches!(byte, b'a'..=b'z' | b'0'..=b'9' | b'-' | b'/' | b'.'));
    assert!(files.keys().all(plain), "{:?}", files.keys());
    for page in [
        "thing/con-x.html",
        "thing/creme.html",
        "thing/creme-2.html",
        "thing/u6728.html",
        "batch/x-1-2.html",
        "order/-script-.html",
    ] {
        assert!(files.contains_key(page), "{page}: {:?}", files.keys());
    }
    assert!(files.values().all(|page| !page.contains("<script")));
}

#[test]
fn a_template_of_one_s_own_changes_the_pages_of_things_and_a_broken_one_is_told_with_its_place() {
    let folder = book();
    fs::create_dir(folder.path().join("own")).expect("made");
    let own = folder.path().join("own/sheet.html");
    fs::write(&own, "{{ sheet.word }} {{ sheet.title }}: {{ tables|length }} tables\n").expect("written");
    let files = site_of(folder.path(), &["--templates", "own"]);
    assert_eq!(
        files["thing/red-oak.html"].lines().next(),
        Some("material Red oak &lt;script&gt;alert(1)&lt;&#x2f;script&gt;: 4 tables")
    );
    fs::write(&own, "x\n{{ sheet.nothing }}").expect("written");
    let ran = run_in(folder.path(), &["site", "--out", "pages", "--templates", "own"]);
    assert_eq!((ran.status, ran.out.as_str()), (Some(2), ""));
    assert!(ran.err.contains("sheet.html:2"), "{}", ran.err);
    assert!(!folder.path().join("pages").exists());
}

#[test]
fn the_example_of_the_templates_readme_makes_pages() {
    let readme = Path::new(env!("CARGO_MANIFEST_DIR")).join("report-templates/README.md");
    let readme = fs::read_to_string(readme).expect("there");
    let (_, after) = readme.split_once("`my-templates/sheet.html`:\n\n").expect("the example");
    let lines = after.lines().take_while(|line| line.is_empty() || line.starts_with("    "));
    let example: String = lines.map(|line| format!("{}\n", line.strip_prefix("    ").unwrap_or(line))).collect();
    let folder = book();
    fs::create_dir(folder.path().join("my-templates")).expect("made");
    fs::write(folder.path().join("my-templates/sheet.html"), example).expect("written");
    let files = site_of(folder.path(), &["--templates", "my-templates"]);
    links_hold(&files);
    let batch = &files["batch/pc-014.html"];
    assert!(batch.contains("<h1>Run PC-014</h1>"), "{batch}");
    assert!(batch.find("table-gave") < batch.find("table-collected") && batch.contains("table-collected"), "{batch}");
}

#[test]
fn an_order_s_derivation_leaves_what_its_page_says() {
    let folder = tempfile::tempdir().expect("a folder");
    let site = folder.path().join("site");
    let book = example();
    let asked = ["site", "--book", book.to_str().expect("text"), "--today", "2027-02-01", "--out", site.to_str().expect("text")];
    assert_eq!(run_in(folder.path(), &asked).status, Some(0));
    let plain = |money: &str| money.replace(['$', ','], "").replace('\u{2212}', "-");
    let linked = |text: &str| text.split_once("</a>").and_then(|(link, _)| link.rsplit_once('>')).map(|(_, money)| plain(money));
    let mut orders = 0;
    for page in std::fs::read_dir(site.join("order")).expect("a folder of orders") {
        let path = page.expect("a page").path();
        let text = std::fs::read_to_string(&path).expect("text");
        let Some((_, after)) = text.split_once("and left <strong>") else { continue };
        let (_, of_margin) = text.split_once("From revenue to margin").expect("a table");
        let (above, told) = of_margin.split_once("<td role=cell id=\"order\">").expect("the figure is told in it");
        let rows = above.split("<td role=cell><a").skip(1).filter_map(linked);
        let sum: Decimal = rows.map(|money| money.parse::<Decimal>().expect("a number")).sum();
        assert_eq!((linked(after), linked(told)), (Some(sum.to_string()), Some(sum.to_string())), "{}", path.display());
        orders += 1;
    }
    // What `why` derives of one with a return, and of one without.
    for order in ["W-0332", "S-43"] {
        let text = std::fs::read_to_string(site.join(format!("order/{}.html", order.to_lowercase()))).expect("a page");
        let ran = run_in(&book, &["why", &format!("order/{order}"), "--today", "2027-02-01"]);
        let said = ran.out.replace('\n', " ");
        let derived = said.split_once("which leaves ").and_then(|(_, rest)| rest.split_once(" before"));
        let derived = derived.map(|(money, _)| plain(money.trim()));
        assert!(derived.is_some(), "{}", ran.out);
        assert_eq!(text.split_once("<td role=cell id=\"order\">").and_then(|(_, told)| linked(told)), derived, "{order}");
    }
    assert!(orders > 90, "{orders}");
}

#[test]
fn what_a_deposit_bore_and_what_lies_on_work_is_in_no_margin_of_an_order() {
    // 5 % of 60.00 are on the piece, 1.00 of it fixed by the deposit of 20.00: 60.00 - 3.00 - 6.00 leave 51.00. Of the other order the work
    // of 100.00 bears its own fee, and neither is in a margin.
    let folder = book_of(
        "shop \"S\"\n    currency USD\nplace bench \"B\"\n    home\nproduct p \"P\"\n    price 60.00\nincome teach \"T\"\n\
         channel web \"W\"\n    fee 5% of total\nopened 2026-03-01\n    5 p for 30.00\nreceived 2026-03-13 from \"Q\" via web\n    20.00 for order \"D-3\"\n\
         sold 2026-03-14 via web order \"D-3\"\n    1 p\nsold 2026-03-15 via web order \"D-1\"\n    1 p\n    100.00 for teach\n",
    );
    for order in ["order/D-3", "order/D-1"] {
        let ran = run_in(folder.path(), &["why", order]);
        assert!(ran.out.replace('\n', " ").contains("which leaves 51.00"), "{order}: {} {}", ran.out, ran.err);
    }
}

#[test]
fn a_book_without_a_sale_leads_to_no_list_that_is_not_there() {
    let folder = book_of(
        "shop \"S\"\n    currency USD\nplace bench \"B\"\n    home\nproduct p \"P\"\nchannel web \"W\"\nopened 2026-03-01\n    5 p for 30.00\n",
    );
    assert_eq!(run_in(folder.path(), &["site", "--out", "site"]).status, Some(0));
    let channel = std::fs::read_to_string(folder.path().join("site/channel/web.html")).expect("a page");
    assert!(!channel.contains("channels.html"), "{channel}");
}
