//! On a terminal of 60 columns, or of 40, a message says all that it says on a wide one, whatever letters stand in the book.

use kerfbook::diagnostics::{Diagnostic, TextStyle, corrected_lines, render_each};
use kerfbook::sources::{SourceSet, Span};

use crate::cases::{cases, compile_case};
use crate::compiled::{Asked, compile};

/// What is lacking of a finding as it is drawn on a terminal of some columns.
fn lacking(sources: &SourceSet, one: &Diagnostic, width: usize) -> Vec<String> {
    let drawn = render_each(sources, std::slice::from_ref(one), TextStyle { colours: false, width }).concat();
    // Labels and notes of several lines are drawn with a margin of their own.
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let drawn = words(&drawn);
    let labels = std::iter::once(&one.primary).chain(&one.secondary).map(|label| label.text.clone());
    let fixes = one.fixes.iter().flat_map(|fix| {
        let lines = corrected_lines(sources, fix).text;
        // Of a very long line a stretch is drawn.
        let lines = lines.lines().map(str::to_owned).filter(|line| line.len() < 200);
        lines.chain([fix.message.clone()]).collect::<Vec<_>>()
    });
    let said = std::iter::once(one.message.clone()).chain(labels).chain(one.notes.iter().cloned()).chain(fixes);
    said.filter(|said| !drawn.contains(&words(said))).collect()
}

#[test]
fn every_case_says_all_of_it_in_sixty_columns_and_in_forty() {
    let mut seen = 0;
    for folder in cases() {
        let compiled = compile_case(&folder);
        for one in &compiled.found {
            for width in [40, 60] {
                let lacking = lacking(&compiled.sources, one, width);
                assert!(lacking.is_empty(), "{}: of `{}` in {width} columns: {lacking:#?}", folder.display(), one.message);
            }
            seen += 1;
        }
    }
    assert!(seen > 200, "only {seen}");
}

/// A book with a mistake on a line with letters that are wide or combined. (Those that join others or turn the direction are drawn as signs of their own,
/// so that nothing hides in a book.)
fn with_letters(letters: &str) -> (SourceSet, Vec<Diagnostic>) {
    let text = format!(
        "shop \"{letters}\"\n    currency USD\nplace bench \"Bench\"\n    home\nmaterial red-oak \"{letters}\"\n    measured in bf\n\
         bought 2026-03-02 from \"{letters}\"\n    2 bf red-oka at 5.90 \"{letters}\"\n"
    );
    let mut sources = SourceSet::default();
    sources.add(format!("{letters}.kerf"), &text).expect("added");
    let loaded = kerfbook::sources::Loaded { sources, damaged: Vec::new() };
    let compiled = compile(loaded, Asked { today: None, file_exists: &|_| false, tax_year: None });
    (compiled.sources, compiled.found)
}

#[test]
fn wide_and_combining_letters_move_no_mark_and_lose_no_word() {
    let all = ["橡木板橡木板橡木板橡木板橡木板橡木板", "e\u{301}e\u{301}bene\u{308}", "🔧 🪵🪵🪵", "עץ אלון"];
    for letters in all {
        let (sources, found) = with_letters(letters);
        let misspelled = found.iter().find(|one| one.message.contains("red-oka")).expect("told");
        for width in [40, 60] {
            assert_eq!(lacking(&sources, misspelled, width), Vec::<String>::new(), "{letters} in {width}");
        }
        let at = Span::new(misspelled.primary.span.start, misspelled.primary.span.end);
        assert_eq!(sources.text(at), "red-oka", "{letters}");
        // What stands before the name on its line is plain, so the mark stands below it.
        let drawn = render_each(&sources, std::slice::from_ref(misspelled), TextStyle { colours: false, width: 60 }).concat();
        let lines: Vec<&str> = drawn.lines().collect();
        let line = lines.iter().position(|line| line.contains("red-oka") && line.contains('|')).expect("the line");
        let column = lines[line].find("red-oka").expect("there");
        assert!(lines[line + 1].get(column..).is_some_and(|mark| mark.starts_with("^^^^^^^")), "{drawn}");
    }
}
