//! What a form of the language is, in a few lines: an entry, a definition, or a line of one.
//!
//! It is made from the rows that the check applies, so that it can't differ from what is read. The examples of whole entries are
//! those of the reference and are added by whoever prints it.

use crate::syntax::line_context::BlockWord;
use crate::syntax::placement_heads::{Need, head_row, head_words};
use crate::syntax::placement_table::{Blocks, DEFINITIONS, LINES, LineKind, LineRow, VERBS};
use crate::syntax::slips::{definition_form, other_forms};
use crate::syntax::words::head_word;

/// The column in which is said what a line is.
const SAID_AT: usize = 52;

/// The first words of all entries, definitions and lines, of which [`form_help`] can be asked.
pub fn form_words() -> impl Iterator<Item = &'static str> {
    let heads = VERBS.iter().map(|(word, _)| *word).chain(DEFINITIONS.iter().map(|(word, _)| *word));
    heads.chain(LINES.iter().filter(|row| is_a_word(row)).map(|row| row.words))
}

/// Whether a word begins an entry or a definition.
#[must_use]
pub fn begins_block(word: &str) -> bool {
    head_word(word).is_some()
}

/// What a form is, ended by a line break; `None` where no form begins so.
#[must_use]
pub fn form_help(word: &str) -> Option<String> {
    let mut parts: Vec<String> = Vec::new();
    match head_word(word) {
        Some(BlockWord::Entry(verb)) => {
            let row = head_row(verb);
            let mut out = format!("`{word}` begins an entry: what happened on a day.\n\n    {}\n", row.form);
            let said = |need: Need| match need {
                Need::Must => "always",
                Need::Either => "one of these",
                Need::Times(_) => "several",
                Need::May => "where it is wanted",
            };
            for (kind, need) in row.parts {
                out.push_str(&line(&format!("        {}", head_words(*kind).0), said(*need)));
            }
            out.push_str(&lines_of(|row| row.blocks.has_verb(verb), |row| row.repeats.has_verb(verb)));
            parts.push(out);
        }
        Some(BlockWord::Definition(known)) => {
            let form = definition_form(known);
            let mut out = format!("`{word}` begins a definition: what is known once.\n\n    {form}\n");
            out.push_str(&lines_of(|row| row.blocks.has_definition(known), |row| row.repeats.has_definition(known)));
            parts.push(out);
        }
        None => {}
    }
    let rows: Vec<&LineRow> = LINES.iter().filter(|row| is_a_word(row) && begins_so(row, word)).collect();
    for row in rows {
        let mut out = format!("`{}` begins a line below the head of: {}\n\n", row.words, places(row.blocks));
        for form in std::iter::once(&row.form).chain(other_forms(row.kind)) {
            out.push_str(&format!("    {form}\n"));
        }
        if let Some(part) = whose_part(row.kind) {
            out.push_str(&format!("\nthe percent is {part}\n"));
        }
        parts.push(out);
    }
    (!parts.is_empty()).then(|| parts.join("\n"))
}

/// Whether a row is named by words of the language and not by what it is.
fn is_a_word(row: &LineRow) -> bool {
    row.form.starts_with(row.words)
}

/// Whether a row begins with some words.
fn begins_so(row: &LineRow, words: &str) -> bool {
    row.words == words || row.words.split(' ').next() == Some(words)
}

/// The lines of a block with an example each.
fn lines_of(has: impl Fn(&LineRow) -> bool, repeats: impl Fn(&LineRow) -> bool) -> String {
    let mut out = String::new();
    for row in LINES.iter().filter(|row| has(row)) {
        let what = if is_a_word(row) { whose_part(row.kind).unwrap_or_default() } else { row.words };
        let often = if repeats(row) { "may repeat" } else { "" };
        let parted = if what.is_empty() || often.is_empty() { "" } else { ", " };
        out.push_str(&line(&format!("        {}", row.form), &format!("{what}{parted}{often}")));
    }
    if out.is_empty() { out } else { format!("\n    below it, indented, in any order:\n{out}") }
}

/// Of what a percent is, and whose that part is, where a line can be read as the one or the other.
fn whose_part(kind: LineKind) -> Option<&'static str> {
    match kind {
        LineKind::Consignment => Some("what the channel keeps of its customers' prices"),
        LineKind::Wholesale => Some("what the reseller pays of the list price"),
        _ => None,
    }
}

fn line(form: &str, said: &str) -> String {
    let gap = if said.is_empty() { 0 } else { SAID_AT.saturating_sub(form.chars().count()).max(2) };
    format!("{form}{}{said}\n", " ".repeat(gap))
}

/// The blocks in which a line may stand.
fn places(blocks: Blocks) -> String {
    let entries = VERBS.iter().filter(|(_, verb)| blocks.has_verb(*verb)).map(|(word, _)| *word);
    let definitions = DEFINITIONS.iter().filter(|(_, word)| blocks.has_definition(*word)).map(|(word, _)| *word);
    let (entries, definitions): (Vec<&str>, Vec<&str>) = (entries.collect(), definitions.collect());
    let named = |words: &[&str], all: usize, every: &str| match words.len() {
        len if len == all => vec![every.to_owned()],
        _ => words.iter().map(|word| format!("`{word}`")).collect(),
    };
    let entries = named(&entries, VERBS.len(), "any entry");
    let definitions = named(&definitions, DEFINITIONS.len(), "any definition");
    entries.into_iter().chain(definitions).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_form_is_told_with_an_example() {
        for word in form_words() {
            let told = form_help(word).unwrap_or_else(|| panic!("{word}"));
            assert!(told.contains("\n\n    ") && told.ends_with('\n'), "{told}");
        }
        assert_eq!(form_help("bougth"), None);
        let sent = form_help("sent").expect("an entry");
        assert!(sent.contains("    sent 2026-04-01 to gift-shop\n") && sent.contains("packed with 1 box-small"), "{sent}");
        let freight = form_help("freight").expect("a line");
        assert!(freight.starts_with("`freight` begins a line below the head of: `bought`"), "{freight}");
        // Whose part a percent is stands on the line's own page and on that of its block.
        for (word, part) in [
            ("wholesale", "what the reseller pays of the list price"),
            ("consignment", "what the channel keeps of its customers' prices"),
        ] {
            let told = form_help(word).expect("a line");
            assert!(told.contains(&format!("the percent is {part}\n")), "{told}");
            let channel = form_help("channel").expect("a definition");
            let row = channel.lines().find(|row| row.trim_start().starts_with(word)).expect("a row");
            assert!(row.ends_with(part), "{channel}");
        }
        assert!(form_help("note").expect("a line").contains("any entry, any definition"));
        assert!(
            form_help("line").expect("both").contains("begins a definition")
                && form_help("line").expect("both").contains("`product`")
        );
    }
}
