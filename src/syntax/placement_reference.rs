//! The placement table as the reference prints it: entries, definitions, and what may be said of an item.

use crate::syntax::placement_heads::{Need, head_row, head_words};
use crate::syntax::placement_said::SAID;
use crate::syntax::placement_table::{DEFINITIONS, LINES, LineKind, LineRow, VERBS};
use crate::syntax::slips::{definition_form, other_forms};
use crate::syntax::{DefinitionWord, Verb};

/// The table of what may stand where, as three Markdown tables: entries, definitions, and what is said of an item. It is made
/// from the rows that the check applies; `?` marks what may be left out of a head, `*` a line that may repeat.
#[must_use]
pub fn placement_table_markdown() -> String {
    let mut out = String::from("| entry | its head | its lines |\n|---|---|---|\n");
    for (word, verb) in VERBS {
        out.push_str(&format!("| `{word}` | {} | {} |\n", head_cell(verb), lines_of_entry(verb)));
    }
    out.push_str(
        "\nAny entry may have `note` \\* and `file` \\*, `expected`, a line `1 EUR = 1.0842`, and `receipt` where its head has none.\n",
    );
    out.push_str("\n| definition | its head | its lines |\n|---|---|---|\n");
    for (word, definition) in DEFINITIONS {
        out.push_str(&format!("| `{word}` | `{}` | {} |\n", definition_form(definition), lines_of_definition(definition)));
    }
    out.push_str(
        "\nAny definition may have `note` \\* and `file` \\*. Of lines parted by `or` only one may stand, but for `recovered over`: it may stand \
         beside\n`expensed under section 179` with an amount, and says over how many years the rest is recovered.\n",
    );
    out.push_str("\n| said of an item or a sum | example | where |\n|---|---|---|\n");
    for row in &SAID {
        let places: Vec<_> = row.places().iter().map(|place| format!("`{place}`")).collect();
        out.push_str(&format!("| {} | `{}` | {} |\n", named(row.words), row.form, places.join(", ")));
    }
    out.push_str("\n| line | examples |\n|---|---|\n");
    for row in &LINES {
        let forms = std::iter::once(&row.form).chain(other_forms(row.kind)).map(|form| format!("`{form}`"));
        out.push_str(&format!("| {} | {} |\n", named(row.words), forms.collect::<Vec<_>>().join(", ")));
    }
    out
}

/// Words as code, unless they describe.
fn named(words: &str) -> String {
    if words.starts_with("a ") || words.starts_with("an ") || words == "sizes" { words.to_owned() } else { format!("`{words}`") }
}

fn head_cell(verb: Verb) -> String {
    let row = head_row(verb);
    let either: Vec<_> = row.parts.iter().filter(|(_, need)| *need == Need::Either).collect();
    let mut parts: Vec<String> = Vec::new();
    if !either.is_empty() {
        parts.push(either.iter().map(|(kind, _)| named(head_words(*kind).0)).collect::<Vec<_>>().join(" or "));
    }
    for (kind, need) in row.parts {
        let words = named(head_words(*kind).0);
        match need {
            Need::Must => parts.push(words),
            Need::May => parts.push(format!("{words}?")),
            Need::Times(times) => parts.push(format!("{words}, {times} times")),
            Need::Either => {}
        }
    }
    let parts = if parts.is_empty() { String::new() } else { format!(": {}", parts.join(", ")) };
    format!("`{}`{parts}", row.form)
}

/// Lines that every entry or definition may have are said once below the table.
fn is_said_below(row: &LineRow) -> bool {
    matches!(row.kind, LineKind::Note | LineKind::Expected | LineKind::File | LineKind::Receipt | LineKind::ExchangeRate)
}

fn lines_of_entry(verb: Verb) -> String {
    if verb == Verb::Changed {
        return "any lines of the definition".to_owned();
    }
    let rows = LINES.iter().filter(|row| row.blocks.has_verb(verb) && !is_said_below(row));
    cell(rows.map(|row| (row, row.repeats.has_verb(verb))))
}

fn lines_of_definition(word: DefinitionWord) -> String {
    let rows = LINES.iter().filter(|row| row.blocks.has_definition(word) && !is_said_below(row));
    cell(rows.map(|row| (row, row.repeats.has_definition(word))))
}

/// Rows side by side; those that answer the same question are parted by `or`.
fn cell<'t>(rows: impl Iterator<Item = (&'t LineRow, bool)>) -> String {
    let mut cells: Vec<(LineKind, String)> = Vec::new();
    for (row, repeats) in rows {
        let words = format!("{}{}", named(row.words), if repeats { " \\*" } else { "" });
        match cells.iter_mut().find(|(slot, _)| *slot == row.slot) {
            Some((_, text)) => text.push_str(&format!(" or {words}")),
            None => cells.push((row.slot, words)),
        }
    }
    cells.into_iter().map(|(_, text)| text).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::syntax::corrected_line::reads;
    use crate::syntax::placement_table::Blocks;

    #[test]
    fn the_reference_names_every_entry_definition_and_line() {
        let printed = placement_table_markdown();
        for word in VERBS.iter().map(|(word, _)| *word).chain(DEFINITIONS.iter().map(|(word, _)| *word)) {
            assert!(printed.contains(&format!("| `{word}` |")), "{word}");
        }
        assert!(
            printed.contains(
                "| `sent` | `sent 2026-04-01 to gift-shop`: `from`?, `to` | an item \\*, `packed with` \\*, `postage` |"
            ),
            "{printed}"
        );
        assert!(printed.contains("| `worth` | `worth 42.00` | `gave`, `contributed`, `kept` |"), "{printed}");
        assert!(printed.contains("`cash basis` or `accrual basis`"), "{printed}");
        assert!(LINES.iter().all(|row| row.blocks != Blocks::NONE));
    }

    #[test]
    fn every_example_in_the_table_reads() {
        for row in &LINES {
            for form in std::iter::once(&row.form).chain(other_forms(row.kind)) {
                assert!(reads(form, false, None), "{form}");
            }
        }
        for (_, word) in DEFINITIONS {
            assert!(reads(&definition_form(word), true, None));
        }
    }
}
