//! Every case finds what its comments say, and nothing else.

use std::fs;
use std::path::{Path, PathBuf};

use kerfbook::diagnostics::{Severity, corrected_lines, explain_preamble, render_short};
use kerfbook::sources::{LineIndex, SourceSet, exists_in_book, load_book};
use kerfbook::year::Forms;

use crate::compiled::{Asked, Compiled, compile};
use crate::expected::{Finding, expected_in, expected_in_list};

/// Every case's folder, in order.
pub(crate) fn cases() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/diagnostics");
    let entries = fs::read_dir(folder).expect("the cases").map(|entry| entry.expect("an entry").path());
    let mut cases: Vec<_> = entries.filter(|path| path.is_dir()).collect();
    cases.sort();
    cases
}

/// Compiles a case, on the shop of the explain pages where it has none of its own. The day that counts as today is the one of a
/// line `# today is 2026-03-31`. For the codes of a tax year, that of 2026 is figured.
pub(crate) fn compile_case(folder: &Path) -> Compiled {
    let mut loaded = load_book(folder).expect("a book");
    let whole = loaded.sources.whole();
    let today = whole.lines().find_map(|line| line.strip_prefix("# today is ")).map(|day| day.parse().expect("a day"));
    if !whole.lines().any(|line| line.starts_with("shop ")) && loaded.damaged.is_empty() {
        let mut on_the_shop = SourceSet::default();
        on_the_shop.add("the-shop-of-the-pages.kerf", explain_preamble()).expect("added");
        for file in loaded.sources.files() {
            on_the_shop.add(file.path.clone(), loaded.sources.text(file.span)).expect("added");
        }
        loaded.sources = on_the_shop;
    }
    let of_a_tax_year = folder.file_name().is_some_and(|name| name.to_string_lossy().starts_with("k5"));
    let forms = forms_of(folder);
    let asked =
        Asked { today, file_exists: &|path| exists_in_book(folder, path), tax_year: of_a_tax_year.then_some((2026, &forms)) };
    compile(loaded, asked)
}

/// The forms that are built in, and those of a case's own folder `forms/`.
fn forms_of(folder: &Path) -> Forms {
    let mut forms = Forms::built_in();
    for path in ["us-schedule-c/2026.toml", "us-schedule-c/figures.toml"] {
        if let Ok(text) = fs::read_to_string(folder.join("forms").join(path)) {
            forms.add(path, &text);
        }
    }
    forms
}

/// Labels, notes and corrected lines of a finding; the lines of one correction parted by ` | `, without indentation and comments.
fn says_besides(compiled: &Compiled, one: &kerfbook::diagnostics::Diagnostic) -> Vec<String> {
    let labels = std::iter::once(&one.primary).chain(&one.secondary).map(|label| label.text.clone());
    let lines = one.fixes.iter().map(|fix| corrected_lines(&compiled.sources, fix).text);
    let bare = |line: &str| line.split(" # ").next().unwrap_or(line).trim().to_owned();
    let lines = lines.map(|text| {
        let lines: Vec<String> = text.lines().map(bare).filter(|line| !line.is_empty() && !line.starts_with('#')).collect();
        format!("`{}`", lines.join(" | "))
    });
    labels.chain(one.notes.iter().cloned()).chain(lines).collect()
}

fn found_by(compiled: &Compiled) -> Vec<Finding> {
    let index = LineIndex::of(&compiled.sources);
    let grave = |severity| match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Question => "question",
    };
    let finding = |one: &kerfbook::diagnostics::Diagnostic| {
        let place = index.place(one.primary.span.start).expect("every finding has a place");
        Finding {
            path: place.path.to_owned(),
            line: place.line,
            code: format!("{}[{}]", grave(one.severity), one.code),
            words: one.message.clone(),
            says: says_besides(compiled, one),
        }
    };
    compiled.found.iter().map(finding).collect()
}

/// What is wrong with a case; `None` where it holds.
fn broken(folder: &Path) -> Option<String> {
    let name = folder.file_name()?.to_string_lossy().into_owned();
    let compiled = compile_case(folder);
    let mut expected: Vec<_> = match fs::read_to_string(folder.join("found.txt")) {
        Ok(list) => expected_in_list(&list),
        Err(_) => {
            compiled.sources.files().iter().flat_map(|file| expected_in(&file.path, compiled.sources.text(file.span))).collect()
        }
    };
    let mut surplus = Vec::new();
    for found in found_by(&compiled) {
        match expected.iter().position(|one| one.is_met_by(&found)) {
            Some(at) => drop(expected.remove(at)),
            None => surplus.push(found),
        }
    }
    let shows_code = name
        .split_once('-')
        .is_some_and(|(code, _)| compiled.found.iter().any(|one| one.code.to_string().eq_ignore_ascii_case(code)));
    let holds = expected.is_empty() && surplus.is_empty() && shows_code;
    (!holds).then(|| {
        let missing: Vec<_> =
            expected.iter().map(|one| format!("  not found: {}:{} {} {}", one.path, one.line, one.code, one.words)).collect();
        format!(
            "{name}{}\n{}\n  what was found:\n{}",
            if shows_code { "" } else { ": its own code is not among them" },
            missing.join("\n"),
            render_short(&compiled.sources, &compiled.found)
        )
    })
}

#[test]
fn every_case_finds_what_its_comments_say() {
    let cases = cases();
    let broken: Vec<_> = cases.iter().filter_map(|folder| broken(folder)).collect();
    assert!(broken.is_empty(), "{} of {} cases:\n{}", broken.len(), cases.len(), broken.join("\n"));
    assert!(cases.len() > 100, "only {} cases", cases.len());
}

#[test]
fn every_case_is_named_after_its_code() {
    for case in cases() {
        let name = case.file_name().expect("a name").to_string_lossy().into_owned();
        let (code, slug) = name.split_once('-').unwrap_or((&name, ""));
        let is_code = code.len() == 4 && code.starts_with('k') && code[1..].bytes().all(|byte| byte.is_ascii_digit());
        assert!(is_code && slug.len() > 3, "`{name}`");
    }
}
