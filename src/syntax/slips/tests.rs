//! The rows of the slip table: what is typed, and the line that is handed over for it. Here stands what all rows are checked with.

mod beside;
mod heads;
mod items;
mod known_once;
mod lines;
mod spoken;
mod strangers;
mod sums;
mod terms;
mod times;
mod trade;

use crate::diagnostics::{Diagnostic, corrected_lines};
use crate::sources::SourceSet;
use crate::syntax::{parse_book, parse_lines};

/// The head under which a detail is typed.
#[derive(Clone, Copy)]
enum Under {
    Opened,
    Bought,
    Returned,
    Swapped,
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
    Pattern,
    Place,
    Expense,
    Income,
    Tool,
    Shop,
    /// At column 1, after an entry of 2026-03-01.
    Nothing,
}

use Under::{
    Bought, Built, Channel, Counted, Expense, Finished, Helper, Income, Material, Nothing, Opened, Paid, Pattern, Place, Product,
    Received, Returned, Shop, Sold, Swapped, Tool, Worked,
};

fn head(under: Under) -> &'static str {
    match under {
        Opened => "opened 2026-01-02",
        Returned => "returned 2026-03-25 via web-page",
        Swapped => "swapped 2026-03-26 with \"a potter\"",
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
        Pattern => "pattern duck-pattern \"Duck pattern\"",
        Place => "place gift-shop \"Shelf at the gift shop\"",
        Expense => "expense phone \"Telephone\"",
        Income => "income engraving \"Engraving\"",
        Tool => "tool band-saw \"14-inch band saw\"",
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
    if matches!(under, Material | Product | Channel | Helper | Pattern | Place | Expense | Income | Tool | Shop) {
        // What reads and may not stand there is told by the placement table.
        let _ = parse_book(&sources, &mut found);
    } else {
        let _ = parse_lines(&sources, &mut found);
    }
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
        let expected: Vec<_> = if right.is_empty() { Vec::new() } else { right.split(" || ").collect() };
        if found.len() != 1 || lines != expected {
            let messages: Vec<_> = found.iter().map(|one| format!("{} {}", one.code, one.message)).collect();
            wrong.push(format!("`{typed}`\n     wanted {expected:?}\n     got    {lines:?}\n     told   {messages:?}"));
        }
    }
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), rows.len(), wrong.join("\n"));
}
