//! What is written about the code is true of it: links lead somewhere, and every crate, stage and folder of tests is spoken of.

use std::fs;

use crate::source_file::{files_below, root};

/// The papers.
const PAPERS: [&str; 4] = ["README.md", "DEVELOPERS.md", "grammar/README.md", "ledger-examples/README.md"];

fn paper(path: &str) -> String {
    fs::read_to_string(root().join(path)).expect("a paper")
}

/// A heading as a link names it: lowercase, blanks as hyphens, other signs left out.
fn anchor(heading: &str) -> String {
    let kept = heading.trim().chars().filter(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '_'));
    kept.map(|c| if c == ' ' { '-' } else { c }).collect::<String>().to_lowercase()
}

#[test]
fn every_link_leads_to_a_file_and_a_heading() {
    let mut wrong = Vec::new();
    for path in PAPERS {
        let text = paper(path);
        let folder = root().join(path).parent().expect("a folder").to_path_buf();
        for (at, _) in text.match_indices("](") {
            let target = text[at + 2..].split(')').next().unwrap_or("");
            if target.starts_with("http") {
                continue;
            }
            let (file, heading) = target.split_once('#').unwrap_or((target, ""));
            let there = if file.is_empty() { root().join(path) } else { folder.join(file) };
            let has_heading = || {
                let text = fs::read_to_string(&there).unwrap_or_default();
                text.lines()
                    .filter_map(|line| line.trim_start_matches('#').strip_prefix(' ').filter(|_| line.starts_with('#')))
                    .any(|line| anchor(line) == heading)
            };
            if !there.exists() || !heading.is_empty() && !has_heading() {
                wrong.push(format!("{path}: ({target})"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_crate_every_stage_and_every_folder_of_tests_is_spoken_of() {
    let developers = paper("DEVELOPERS.md");
    let manifest = paper("Cargo.toml");
    let mut section = "";
    let mut missing = Vec::new();
    for line in manifest.lines() {
        if line.starts_with('[') {
            section = line;
        } else if let Some((name, _)) = line.split_once(" = ").filter(|_| section.ends_with("dependencies]"))
            && !developers.contains(name)
        {
            missing.push(name.to_owned());
        }
    }
    for folder in ["src", "tests"] {
        let entries = fs::read_dir(root().join(folder)).expect("a folder").map(|entry| entry.expect("an entry"));
        let names = entries.filter(|entry| entry.path().is_dir()).map(|entry| entry.file_name().to_string_lossy().into_owned());
        missing.extend(names.filter(|name| name != "compiled" && !developers.contains(&format!("{name}/"))));
    }
    assert!(missing.is_empty(), "DEVELOPERS.md says nothing of {}", missing.join(", "));
}

#[test]
fn no_comment_points_to_a_paper_that_is_not_there() {
    let mut wrong = Vec::new();
    for file in files_below("src", &[".rs"]).into_iter().chain(files_below("tests", &[".rs"])) {
        for line in file.text.lines().filter(|line| line.trim_start().starts_with("//")) {
            let names = line
                .split(|c: char| !(c.is_alphanumeric() || matches!(c, '.' | '/' | '-' | '_' | '#')))
                .filter(|word| word.ends_with(".md"));
            let pages = |word: &&str| !word.contains("###") && !word.contains("K1");
            wrong.extend(
                names.filter(pages).filter(|word| !root().join(word).exists()).map(|word| format!("{}: `{word}`", file.path)),
            );
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
