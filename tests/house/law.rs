//! No country's law stands in the code of the tax year: it is the data of a form.

use crate::source_file::{SourceFile, sources};

/// How one country's law and forms are quoted.
const QUOTED: [&str; 10] =
    ["IRC ", "IRS", "CFR", "Rev. Proc.", "Pub. ", "Publication", "Form 4797", "Schedule C", "Schedule SE", "1099"];

fn of_the_year() -> impl Iterator<Item = SourceFile> {
    sources().into_iter().filter(|file| matches!(file.stage(), Some("year" | "reports")) && !file.is_test())
}

#[test]
fn the_law_is_quoted_in_a_forms_data_and_never_in_code() {
    let mut wrong = Vec::new();
    for file in of_the_year() {
        let code = file.without_tests().lines().filter(|line| !line.trim_start().starts_with("//"));
        for line in code.filter(|line| QUOTED.iter().any(|law| line.contains(law))) {
            wrong.push(format!("{}: {}", file.path, line.trim()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn on_every_rule_of_the_data_some_question_or_note_rests() {
    let (own, others): (Vec<_>, Vec<_>) = of_the_year().partition(|file| file.path.ends_with("year/forms/rule.rs"));
    let listed = own.iter().flat_map(|file| file.text.lines()).filter_map(|line| line.trim().strip_prefix("Self::"));
    let rules: Vec<_> = listed.filter_map(|line| line.strip_suffix(',')).filter(|name| !name.contains(' ')).collect();
    assert!(rules.len() > 20, "{rules:?}");
    let used = |rule: &str| {
        let named = format!("Rule::{rule}");
        others.iter().any(|file| {
            file.without_tests()
                .match_indices(&named)
                .any(|(at, _)| file.text[at + named.len()..].chars().next().is_none_or(|next| !next.is_ascii_alphanumeric()))
        })
    };
    let unused: Vec<_> = rules.into_iter().filter(|rule| !used(rule)).collect();
    assert!(unused.is_empty(), "{}", unused.join(", "));
}
