//! Every row of the table of flows under all four combinations of the two switches: `rows/` holds a page for each.
//!
//! The numbers are those of the design's table of where each flow lands (its section 1.3), then its rows that were added later
//! (`added/1` in their order), and the conditions of its section 2.2 that are no row of the table.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use kerfbook::diagnostics::Diagnostics;
use kerfbook::reports::{Period, report_pays};
use kerfbook::units::Fixed6;
use kerfbook::year::{Books, Forms, TaxYear, year_of};

use crate::compiled::{Compiled, compile_texts};
use crate::row_case::{COMBINATIONS, Combination, RowCase, RowYear, parse_row};

const ROWS: [&str; 68] = [
    "1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "10b", "11", "11b", "12", "13", "14", "15", "16", "17", "18", "18b", "19",
    "20", "21", "22", "23", "24", "24b", "25", "26", "27", "28", "29", "30", "31", "32", "33", "34", "35", "36", "37", "38",
    "39", "39b", "40", "40b", "40c", "41", "42", "43", "44", "45", "45b", "46", "47", "added/1", "added/2", "added/3", "added/4",
    "added/5", "added/6", "2.2/6", "2.2/8", "2.2/11", "2.2/12", "2.2/17", "2.2/19", "2.2/20",
];

/// The conditions of section 2.2, from 1, and the row whose pages hold each.
const CONDITIONS: [&str; 20] = [
    "5", "11", "14", "6", "28", "2.2/6", "7", "2.2/8", "46", "31", "2.2/11", "2.2/12", "11b", "45b", "44", "35", "2.2/17", "26",
    "2.2/19", "2.2/20",
];

fn pages() -> Vec<(String, RowCase)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/hand-worked/rows");
    let mut pages = Vec::new();
    for entry in fs::read_dir(folder).expect("a folder of rows") {
        let path = entry.expect("an entry").path();
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        if name != "README.md" {
            let text = fs::read_to_string(&path).expect("a page");
            let case = parse_row(&text).unwrap_or_else(|fault| panic!("{name}: {fault}"));
            pages.push((name, case));
        }
    }
    pages.sort_by(|one, other| one.0.cmp(&other.0));
    pages
}

#[test]
fn every_row_of_the_table_of_flows_has_a_page_and_every_page_a_row() {
    let pages = pages();
    let paged: BTreeSet<&str> = pages.iter().map(|(_, case)| case.row.as_str()).collect();
    let missing: Vec<&str> = ROWS.into_iter().filter(|row| !paged.contains(row)).collect();
    assert!(missing.is_empty(), "rows without a page: {missing:?}");
    for (condition, row) in (1..).zip(CONDITIONS) {
        assert!(ROWS.contains(&row), "condition {condition} has no row {row}");
        let own = format!("2.2/{condition}");
        assert_eq!(ROWS.contains(&own.as_str()), row == own, "condition {condition}");
    }
    for (name, case) in &pages {
        assert!(ROWS.contains(&case.row.as_str()), "{name}: the table has no row {}", case.row);
        assert_eq!(*name, file_name(case), "a page is named by its row and event");
    }
}

/// The row with two digits, then the event's words.
fn file_name(case: &RowCase) -> String {
    let (part, number) = case.row.rsplit_once('/').map_or(("", case.row.as_str()), |(part, number)| (part, number));
    let digits = number.trim_end_matches(char::is_alphabetic).len();
    let row = format!("{part} {}{number}", if digits < 2 { "0" } else { "" });
    let words = format!("{row} {}", case.event).to_lowercase();
    let words: Vec<&str> =
        words.split(|sign: char| !sign.is_alphanumeric() && sign != '.').filter(|word| !word.is_empty()).collect();
    format!("{}.md", words.join("-"))
}

#[test]
fn every_row_of_the_table_of_flows_lands_where_its_page_says() {
    let forms = Forms::built_in();
    let mut faults = Vec::new();
    for (name, case) in pages() {
        for combination in COMBINATIONS {
            let mut told = Vec::new();
            run(&case, combination, &forms, &mut told);
            faults.extend(told.into_iter().map(|fault| format!("{name}, {}: {fault}", combination.title())));
        }
    }
    assert!(faults.is_empty(), "{} differences\n{}", faults.len(), faults.join("\n"));
}

fn run(case: &RowCase, combination: Combination, forms: &Forms, faults: &mut Vec<String>) {
    let compiled = compile_texts(&[("book.kerf", &combination.put_into(&case.book))]);
    let codes: Vec<String> = compiled.found.iter().map(|one| one.code.to_string()).collect();
    if codes != case.warns {
        let told: Vec<String> = compiled.found.iter().map(|one| format!("{} {}", one.code, one.message)).collect();
        faults.push(format!("told were {told:?}, expected were {:?}", case.warns));
    }
    if compiled.has_mistakes() {
        return;
    }
    if !compiled.costed.proof.holds() {
        faults.push("the proof does not hold".to_owned());
    }
    for expected in &case.years {
        let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &compiled.costed };
        let mut found = Diagnostics::default();
        let year = year_of(books, expected.year, forms, &mut found);
        let found: Vec<String> = found.into_sorted().iter().map(|one| format!("{} {}", one.code, one.message)).collect();
        let mut told = found;
        match &year {
            Some(year) => compare(expected, combination, &compiled, year, &mut told),
            None => told.push("there is no tax year".to_owned()),
        }
        faults.extend(told.into_iter().map(|fault| format!("{}: {fault}", expected.year)));
    }
}

fn compare(expected: &RowYear, combination: Combination, compiled: &Compiled, year: &TaxYear, faults: &mut Vec<String>) {
    let column = COMBINATIONS.iter().position(|one| *one == combination).expect("a column");
    let shown: Vec<_> = year.lines.iter().filter(|line| line.adds.is_empty() || line.number == "42").collect();
    for number in expected.lines.keys().filter(|number| shown.iter().all(|line| line.number != **number)) {
        faults.push(format!("line {number} is none of the form's that is fed"));
    }
    for line in shown {
        let wanted = expected.lines.get(&line.number).map_or("0.00", |columns| columns[column].as_str());
        if cents(line.cents) != wanted {
            faults.push(format!("line {} is {}, expected was {wanted}", line.number, cents(line.cents)));
        }
    }
    compare_questions(expected, combination, year, faults);
    for said in expected.said.iter().filter(|said| said.of != "asks" && said.is_of(combination)) {
        match facts(&said.of, compiled, year) {
            None => faults.push(format!("`{}` is nothing that a page can say", said.of)),
            Some(facts) if said.text == "nothing" && facts.is_empty() => {}
            Some(facts) if facts.contains(&said.text) => {}
            Some(facts) => faults.push(format!("{}: `{}` is not among {facts:?}", said.of, said.text)),
        }
    }
}

/// What is asked of every book alike is left out of the pages: a count of each place at the year's end, and wages from elsewhere of who
/// has a profit. Inventory on the cash basis is asked about in that column and in no other.
fn compare_questions(expected: &RowYear, combination: Combination, year: &TaxYear, faults: &mut Vec<String>) {
    let of_all = |name: &str| name.ends_with("/count") || name == "self-employment/wages-elsewhere";
    let asked: BTreeSet<&str> = year.open_questions().map(|one| one.name.as_str()).filter(|name| !of_all(name)).collect();
    let said = expected.said.iter().filter(|said| said.of == "asks" && said.is_of(combination));
    let mut wanted: BTreeSet<&str> = said.flat_map(|said| said.text.split(", ")).filter(|name| *name != "nothing").collect();
    if matches!((year.stock, year.basis), (kerfbook::names::StockKept::Inventory, kerfbook::names::Basis::Cash)) {
        wanted.insert("stock/inventory-with-cash");
    }
    if asked != wanted {
        faults.push(format!("asked is {asked:?}, expected was {wanted:?}"));
    }
}

/// `TakenHome` as `taken home`.
fn in_words(name: &str) -> String {
    let words = name.chars().flat_map(|sign| sign.is_uppercase().then_some(' ').into_iter().chain(sign.to_lowercase()));
    words.collect::<String>().trim_start().to_owned()
}

fn cents(amount: Fixed6) -> String {
    amount.to_fixed_text(2, 2)
}

/// What a page may check beside the lines, as texts; `None` for what is nothing to check.
fn facts(of: &str, compiled: &Compiled, year: &TaxYear) -> Option<Vec<String>> {
    let cost = &year.cost_of_goods;
    if let Some(part) = of.strip_prefix("listed under ") {
        return year.cut_off.iter().find(|one| one.name == part).map(|one| one.rows.clone());
    }
    if let Some(number) = of.strip_prefix("line ") {
        let shared = |share: &str| if share.is_empty() { String::new() } else { format!(", {share}") };
        let sums = &year.line(number)?.sums;
        return Some(sums.iter().map(|sum| format!("{} {}{}", sum.name, cents(sum.amount), shared(&sum.share))).collect());
    }
    if let Some(name) = of.strip_prefix("batch ") {
        let batch = compiled.costed.batches.iter().find(|batch| compiled.book.batch(batch.batch).name == name)?;
        let (paid, full) = (batch.collected.paid()?, batch.collected.full()?);
        return Some(vec![format!("paid {}, full {}", cents(paid), cents(full))]);
    }
    if let Some(name) = of.strip_prefix("pays ") {
        let period = Period::year(year.year);
        let pays = report_pays(&compiled.book, &compiled.log, &compiled.costed, period, &|_| None, &[])?;
        let group = pays.groups.into_iter().find(|group| group.name == name)?;
        let (revenue, paid, full) = (group.sums.revenue, group.sums.paid_margin, group.sums.full_margin);
        return Some(vec![format!("revenue {revenue}, paid margin {paid}, full margin {full}")]);
    }
    if let Some(way) = of.strip_prefix("full view of ") {
        let mut flows = compiled.costed.proof.years.get(&year.year)?.flows.iter();
        let (_, vector) = flows.find(|(flow, _)| in_words(&format!("{flow:?}")) == way)?;
        let (paid, full, minutes) = (vector.paid()?, vector.full()?, vector.own_minutes()?);
        return Some(vec![format!("paid {}, full {}, {minutes} min of own time", cents(paid), cents(full))]);
    }
    Some(match of {
        "note" => year.notes.clone(),
        "left otherwise" => cost.other_ways_out.iter().map(|(name, amount)| format!("{name} {}", cents(*amount))).collect(),
        "gone and not paid for" => vec![cents(cost.gone_not_paid)],
        "gone before and paid for now" => vec![cents(cost.gone_paid_now)],
        "exact" => vec![format!("{}, rounding {}", cost.exact, cost.rounding)],
        "went to" => {
            let went = &cost.went_to;
            let ways = [("sold", went.sold), ("scrapped", went.scrapped), ("missing", went.missing), ("abnormal", went.abnormal)];
            let others = [("donated", went.donated), ("price difference", went.price_difference)];
            let ways = ways.iter().chain(&others).filter(|(_, amount)| !amount.is_zero());
            vec![ways.map(|(name, amount)| format!("{name} {}", cents(*amount))).collect::<Vec<_>>().join(", ")]
        }
        "sales tax" => year
            .sales_tax
            .iter()
            .filter(|one| one.period == year.year.to_string())
            .map(|one| {
                let sums = [one.collected, one.refunded, one.paid_over, one.allowed, one.owed, one.by_channels].map(cents);
                let [collected, refunded, paid_over, allowed, owed, by_channels] = sums;
                format!(
                    "collected {collected}, refunded {refunded}, paid over {paid_over}, allowed {allowed}, owed {owed}, by channels {by_channels}"
                )
            })
            .collect(),
        "home" => year
            .home
            .iter()
            .map(|home| format!("before the limit {}, cut off {}", cents(home.before_limit), cents(home.excess)))
            .collect(),
        "tool" => year
            .equipment
            .iter()
            .map(|tool| {
                let name = &compiled.book.tool(tool.tool).named.name;
                let gone = tool.disposed.map_or_else(String::new, |gone| {
                    format!(", left on {} for {} with a gain of {}", gone.date, cents(gone.proceeds), cents(gone.gain.expect("known")))
                });
                format!("{name}: {}, left {}{gone}", tool.method, cents(tool.left))
            })
            .collect(),
        _ => return None,
    })
}
