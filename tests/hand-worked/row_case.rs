//! A row of the table of flows as a page: a small book, prose that derives its figures by hand, and a table of the form's lines for each year.
//!
//! Read strictly: what is not understood is a fault, never skipped, so that no figure of a page goes unchecked. `tests/hand-worked/rows/README.md` says what a
//! page looks like.

use std::collections::BTreeMap;

/// The two switches of a column: how stock is kept, and the basis.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Combination {
    pub(crate) stock: &'static str,
    pub(crate) basis: &'static str,
}

/// All four, in the order of the columns.
pub(crate) const COMBINATIONS: [Combination; 4] = [
    Combination { stock: "inventory", basis: "accrual" },
    Combination { stock: "inventory", basis: "cash" },
    Combination { stock: "supplies", basis: "accrual" },
    Combination { stock: "supplies", basis: "cash" },
];

impl Combination {
    pub(crate) fn title(self) -> String {
        format!("{} + {}", self.stock, self.basis)
    }

    /// The book under this combination: the switches stand in `shop`, and `{other stock}` and `{other basis}` are those that it has not.
    pub(crate) fn put_into(self, book: &str) -> String {
        let other = |of: &str, words: [&'static str; 2]| if of == words[0] { words[1] } else { words[0] };
        let switches = format!("    {} basis\n    stock kept as {}\n", self.basis, self.stock);
        let mut text = String::new();
        for line in book.lines() {
            text.push_str(line);
            text.push('\n');
            if line.starts_with("shop ") {
                text.push_str(&switches);
            }
        }
        text.replace("{other stock}", other(self.stock, ["inventory", "supplies"]))
            .replace("{other basis}", other(self.basis, ["accrual", "cash"]))
    }
}

/// Something that is said below a table of all columns or of some.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Said {
    /// Words of the switches that a column must have; empty for all four.
    only: Vec<String>,
    pub(crate) of: String,
    pub(crate) text: String,
}

impl Said {
    pub(crate) fn is_of(&self, combination: Combination) -> bool {
        self.only.iter().all(|word| word == combination.stock || word == combination.basis)
    }
}

/// One tax year of a page.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct RowYear {
    pub(crate) year: i32,
    /// By number of the form's line: the cents of each column.
    pub(crate) lines: BTreeMap<String, [String; 4]>,
    pub(crate) said: Vec<Said>,
}

/// A page.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct RowCase {
    pub(crate) row: String,
    pub(crate) event: String,
    pub(crate) book: String,
    /// Codes of the warnings that the book is told of.
    pub(crate) warns: Vec<String>,
    pub(crate) years: Vec<RowYear>,
}

/// Reads a page. The fault says what is wrong with it.
pub(crate) fn parse_row(page: &str) -> Result<RowCase, String> {
    let mut case = RowCase::default();
    let mut lines = page.lines();
    let head = lines.next().unwrap_or("");
    let named = head.strip_prefix("# Row ").and_then(|named| named.split_once(": "));
    let (row, event) = named.ok_or_else(|| format!("expected `# Row NUMBER: EVENT`, found `{head}`"))?;
    (case.row, case.event) = (row.to_owned(), event.to_owned());
    let mut prose = 0;
    while let Some(line) = lines.next() {
        if line == "```kerf" {
            if !case.book.is_empty() {
                return Err("two books".to_owned());
            }
            for line in lines.by_ref().take_while(|line| *line != "```") {
                case.book.push_str(line);
                case.book.push('\n');
            }
        } else if let Some(year) = line.strip_prefix("## ") {
            let year = year.parse().map_err(|_| format!("`{year}` is no year"))?;
            case.years.push(RowYear { year, ..RowYear::default() });
        } else if let Some(year) = case.years.last_mut() {
            parse_of_year(line, year)?;
        } else if let Some(codes) = line.strip_prefix("- warns: ") {
            case.warns = codes.split(", ").map(str::to_owned).collect();
        } else {
            prose += usize::from(!line.is_empty());
        }
    }
    let whole = [(case.book.is_empty(), "a book"), (prose == 0, "prose"), (case.years.is_empty(), "a table")];
    if let Some((_, what)) = whole.iter().find(|(missing, _)| *missing) {
        return Err(format!("no page without {what}"));
    }
    match case.years.iter().find(|year| !year.lines.contains_key("42") || !asks_in_all(year)) {
        Some(year) => Err(format!("{} lacks a table with line 42, or what is asked in each column", year.year)),
        None => Ok(case),
    }
}

fn asks_in_all(year: &RowYear) -> bool {
    COMBINATIONS.iter().all(|one| year.said.iter().any(|said| said.of == "asks" && said.is_of(*one)))
}

fn parse_of_year(line: &str, year: &mut RowYear) -> Result<(), String> {
    if let Some(cells) = line.strip_prefix("| ").and_then(|line| line.strip_suffix(" |")) {
        let cells: Vec<&str> = cells.split(" | ").collect();
        let [number, columns @ ..] = cells.as_slice() else { return Err(format!("`{line}` has no cells")) };
        let columns: [&str; 4] =
            columns.try_into().map_err(|_| format!("`{line}` has {} columns, four were expected", columns.len()))?;
        if *number == "line" {
            let titles = COMBINATIONS.map(Combination::title);
            return if columns == titles.each_ref().map(String::as_str) {
                Ok(())
            } else {
                Err(format!("the columns are `{}`, expected were `{}`", columns.join("`, `"), titles.join("`, `")))
            };
        }
        let amounts = columns.map(parse_cents);
        if let Some(wrong) = columns.iter().zip(&amounts).find(|(_, amount)| amount.is_none()) {
            return Err(format!("`{}` is no amount to the cent, nor `–`", wrong.0));
        }
        if *number != "42" && amounts.iter().flatten().all(|amount| amount == "0.00") {
            return Err(format!("line {number} is zero in every column: leave it out"));
        }
        return match year.lines.insert((*number).to_owned(), amounts.map(Option::unwrap_or_default)) {
            Some(_) => Err(format!("line {number} stands twice")),
            None => Ok(()),
        };
    }
    if let Some(said) = line.strip_prefix("- ") {
        let (of, text) = said.split_once(": ").ok_or_else(|| format!("`{line}` says nothing"))?;
        let (of, only) = of.split_once(" in ").map_or((of, Vec::new()), |(of, only)| (of, only.split(" + ").collect()));
        if let Some(unknown) = only.iter().find(|word| COMBINATIONS.iter().all(|one| one.stock != **word && one.basis != **word))
        {
            return Err(format!("`{unknown}` is no switch"));
        }
        let only = only.into_iter().map(str::to_owned).collect();
        year.said.push(Said { only, of: of.to_owned(), text: text.to_owned() });
        return Ok(());
    }
    if line.is_empty() || line == "|---|---|---|---|---|" { Ok(()) } else { Err(format!("`{line}` stands between tables")) }
}

fn parse_cents(cell: &str) -> Option<String> {
    if cell == "–" {
        return Some("0.00".to_owned());
    }
    let (whole, cents) = cell.strip_prefix('-').unwrap_or(cell).split_once('.')?;
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    (digits(whole) && digits(cents) && cents.len() == 2).then(|| cell.to_owned())
}

const PAGE: &str = "\
# Row 2: an expense
```kerf
shop \"S\"
```
Why.
## 2026

| line | inventory + accrual | inventory + cash | supplies + accrual | supplies + cash |
|---|---|---|---|---|
| 25 | 1.00 | – | 1.00 | – |
| 42 | – | – | – | – |

- asks: nothing
";

#[test]
fn a_page_of_a_row_is_read_whole() {
    let case = parse_row(PAGE).expect("a page");
    assert_eq!((case.row.as_str(), case.event.as_str(), case.years.len()), ("2", "an expense", 1));
    assert_eq!(case.years[0].lines["25"], ["1.00", "0.00", "1.00", "0.00"]);
    assert_eq!(COMBINATIONS[3].put_into(&case.book), "shop \"S\"\n    cash basis\n    stock kept as supplies\n");
}

#[test]
fn a_page_with_a_wrong_column_or_without_its_table_is_refused() {
    let refused = |from: &str, to: &str| {
        assert!(PAGE.contains(from), "{from}");
        parse_row(&PAGE.replace(from, to)).expect_err(from)
    };
    assert!(refused("supplies + cash |\n", "supplies + credit |\n").starts_with("the columns are"));
    assert!(refused(" supplies + accrual |", "").contains("four were expected"));
    assert!(refused("| 25 | 1.00 | –", "| 25 | 1.00").contains("four were expected"));
    assert!(refused("| 25 | 1.00 |", "| 25 | 1.0 |").contains("no amount"));
    assert!(refused("| 25 | 1.00 | – | 1.00 | – |", "| 25 | – | – | – | – |").contains("zero in every column"));
    assert!(refused("| 42 | –", "| 43 | 1.00").contains("line 42"));
    assert!(refused("- asks: nothing", "").contains("asked"));
    assert!(refused("- asks: nothing", "- asks in cash: nothing").contains("asked"));
    assert!(refused("- asks: nothing", "- asks in credit: nothing").contains("no switch"));
    assert!(refused("- asks: nothing", "Asks nothing.").contains("between tables"));
    assert!(refused("# Row 2: an", "# An").contains("expected `# Row"));
    assert!(refused("Why.\n", "").contains("prose"));
    assert_eq!(parse_row(PAGE.split("## ").next().expect("a part")), Err("no page without a table".to_owned()));
}
