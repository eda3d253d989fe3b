//! Every number of the example's site: that it leads to what it is made of, and that tables of sales and of the proof add up to their last row.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use crate::shop::example;
use crate::site::site_of;

/// The text between tags, with the links left out.
fn outside_links(html: &str) -> String {
    let mut text = String::new();
    let mut in_link = false;
    for part in html.split('<') {
        let (tag, rest) = part.split_once('>').unwrap_or(("", part));
        match tag {
            tag if tag.starts_with("a ") => in_link = true,
            "/a" => in_link = false,
            _ => {}
        }
        if !in_link {
            text.push_str(rest);
        }
    }
    text
}

/// The cells of a row, each with its tag: up to the next cell or the end of the row, since ends may go unsaid.
fn cells(row: &str) -> Vec<&str> {
    let starts: Vec<usize> = row.match_indices("<td").chain(row.match_indices("<th ")).map(|(at, _)| at).collect();
    let mut starts = starts;
    starts.sort_unstable();
    let ends = starts.iter().skip(1).copied().chain([row.len()]);
    starts.iter().zip(ends).map(|(start, end)| &row[*start..end]).collect()
}

/// The tables of a page, each from its caption on.
fn tables(page: &str) -> Vec<&str> {
    page.split("<caption>").skip(1).map(|rest| rest.split("</table>").next().unwrap_or("")).collect()
}

fn rows(table: &str) -> Vec<&str> {
    table.split("<tr ").skip(1).map(|rest| rest.split("</tbody>").next().unwrap_or("")).collect()
}

/// Whether a text has a number other than zero.
fn has_number(text: &str) -> bool {
    text.bytes().any(|byte| byte.is_ascii_digit() && byte != b'0')
}

#[test]
fn every_number_in_a_table_or_an_answer_leads_to_what_it_is_made_of() {
    let numbers = numbers_that_lead(&site_of(&example(), &["--today", "2027-02-01"]));
    assert!(numbers > 15_000, "{numbers}");
}

/// Holds that each number in a table or an answer leads somewhere. Gives how many there are.
pub(crate) fn numbers_that_lead(site: &BTreeMap<String, String>) -> usize {
    let (mut numbers, mut loose) = (0_usize, Vec::new());
    for (page, text) in site.iter().filter(|(page, _)| page.ends_with(".html")) {
        for table in tables(text) {
            for cell in rows(table).into_iter().flat_map(cells) {
                let tag = cell.split('>').next().unwrap_or("");
                if !tag.starts_with("<td") || ["class=\"w", "class=w", "class=d"].iter().any(|words| tag.contains(words)) {
                    continue;
                }
                numbers += 1;
                if has_number(&outside_links(cell)) {
                    loose.push(format!("{page}: {cell}"));
                }
            }
        }
        for answer in text.split("<p class=\"answer\">").skip(1).filter_map(|rest| rest.split("</p>").next()) {
            for figure in answer.split("<strong>").skip(1).filter_map(|rest| rest.split("</strong>").next()) {
                numbers += 1;
                if has_number(&outside_links(figure)) {
                    loose.push(format!("{page}: {figure} in the answer"));
                }
            }
        }
    }
    assert!(loose.is_empty(), "{} of {numbers} lead nowhere:\n{}", loose.len(), loose[..loose.len().min(20)].join("\n"));
    numbers
}

/// The number that a cell shows.
fn number(cell: &str) -> Option<Decimal> {
    let inside = cell.split_once('>').map_or("", |(_, rest)| rest);
    let mut text = String::new();
    for part in inside.split('<') {
        text.push_str(part.split_once('>').map_or(part, |(_, rest)| rest));
    }
    let plain: String = text.chars().filter(|letter| letter.is_ascii_digit() || *letter == '.').collect();
    let sum: Decimal = plain.parse().ok()?;
    Some(if text.contains('\u{2212}') || text.contains('-') { -sum } else { sum })
}

/// Holds that in a table's columns of these headings the rows add up to the last; counts the columns.
fn adds_up(page: &str, table: &str, is_summed: impl Fn(&str) -> bool) -> usize {
    let rows = rows(table);
    let (Some(head), Some(last)) = (rows.first(), rows.last()) else { return 0 };
    let headings: Vec<String> = cells(head).into_iter().map(outside_links).collect();
    let mut columns = 0;
    for (at, heading) in headings.iter().enumerate().filter(|(at, heading)| *at > 0 && is_summed(heading.trim())) {
        let of = |row: &&str| cells(row).get(at).and_then(|cell| number(cell));
        let whole = of(last).unwrap_or_else(|| panic!("{page}: no sum of {heading}"));
        let sum: Decimal = rows[1..rows.len() - 1].iter().filter_map(of).sum();
        assert_eq!(sum, whole, "{page}: {heading}");
        columns += 1;
    }
    columns
}

#[test]
fn tables_of_sales_of_months_and_of_the_proof_add_up_to_their_last_row() {
    let site = site_of(&example(), &["--today", "2027-02-01"]);
    let mut columns: BTreeMap<&str, usize> = BTreeMap::new();
    for (page, text) in &site {
        for table in text.split(" id=\"table-").skip(1) {
            let table = table.split("</table>").next().unwrap_or("");
            let is_sales = table.starts_with("sales\"");
            if is_sales {
                let money = |heading: &str| !matches!(heading, "Day" | "Your time");
                *columns.entry("sales").or_default() += adds_up(page, table, money);
            } else if page.starts_with("pays-months-") {
                *columns.entry("months").or_default() += adds_up(page, table, |_| true);
            } else if page.starts_with("proof-") {
                // What came before the first year stands in no row.
                if !table.starts_with("at_start") {
                    *columns.entry("proof").or_default() += adds_up(page, table, |_| true);
                }
            }
        }
    }
    assert!(columns["sales"] > 150 && columns["months"] == 28 && columns["proof"] > 100, "{columns:?}");
}

#[test]
fn a_figure_s_home_says_what_the_report_says() {
    let site = site_of(&example(), &["--today", "2027-02-01"]);
    let home = |page: &str, id: &str| {
        let text = &site[page];
        let (_, rest) = text.split_once(&format!("id=\"{id}\">")).unwrap_or_else(|| panic!("{page} has no {id}"));
        outside_tags(rest.split("<t").next().unwrap_or(""))
    };
    for (page, id) in [("line/kitchen-and-garden.html", "pays.paid-margin"), ("channel/gift-shop.html", "pays.revenue")] {
        let shown = home(page, id);
        let link = format!("<a href={page}#{id}>{shown}</a>");
        let pays = site["pays.html"].replace("&#x2f;", "/");
        assert!(pays.contains(&link), "pays.html has no {link}");
    }
    let sold = home("proof-2026.html", "proof.materials.2026.sold");
    assert!(site["proof.html"].replace("&#x2f;", "/").contains("href=proof-2026.html#proof.materials.2026.sold>"));
    assert!(has_number(&sold), "{sold}");
}

fn outside_tags(html: &str) -> String {
    html.split('<').map(|part| part.split_once('>').map_or(part, |(_, rest)| rest)).collect::<String>().trim().to_owned()
}
