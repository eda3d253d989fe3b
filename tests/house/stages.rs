//! One way through: a stage uses only the stages above it.

use crate::source_file::{SourceFile, sources};

/// The stages, in the order in which a book passes through them. What stands beside the way (`editor`) comes before `cli`.
const STAGES: [&str; 12] =
    ["sources", "diagnostics", "units", "syntax", "names", "events", "costing", "year", "reports", "render", "editor", "cli"];

fn place(stage: &str) -> Option<usize> {
    STAGES.iter().position(|one| *one == stage)
}

/// The stages that a file names with `crate::`, each with its line; comments and the file's tests aside.
fn stages_used(file: &SourceFile) -> Vec<(usize, &str)> {
    let mut used = Vec::new();
    for (number, line) in file.without_tests().lines().enumerate() {
        let code = line.split("//").next().unwrap_or("");
        for (at, _) in code.match_indices("crate::") {
            // `$crate::` and `kerfbook_crate::` are no such thing.
            let before = code[..at].chars().next_back();
            if before.is_some_and(|c| c.is_alphanumeric() || c == '_') {
                continue;
            }
            let rest = &code[at + "crate::".len()..];
            let end = rest.find(|c: char| !c.is_alphanumeric() && c != '_').unwrap_or(rest.len());
            used.push((number + 1, &rest[..end]));
        }
    }
    used
}

#[test]
fn every_folder_of_the_source_is_a_stage() {
    for file in sources() {
        let known = file.stage().map_or(file.path == "src/lib.rs" || file.path == "src/main.rs", |stage| place(stage).is_some());
        assert!(known, "{}: neither a stage nor the map", file.path);
    }
}

#[test]
fn a_stage_uses_only_the_stages_above_it() {
    let mut wrong = Vec::new();
    for file in sources().iter().filter(|file| !file.is_test()) {
        let Some(own) = file.stage().and_then(place) else { continue };
        for (line, used) in stages_used(file) {
            match place(used) {
                Some(at) if at <= own => {}
                Some(_) => wrong.push(format!("{}:{line}: uses `{used}`, which comes later", file.path)),
                None => wrong.push(format!("{}:{line}: `crate::{used}` names no stage", file.path)),
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_book_goes_through_the_library_in_the_order_of_the_map() {
    let map = sources().into_iter().find(|file| file.path == "src/lib.rs").expect("the map");
    let told: Vec<_> = STAGES.iter().filter_map(|stage| map.text.find(&format!("[`{stage}`]"))).collect();
    assert!(told.len() >= 10 && told.is_sorted(), "lib.rs names the stages in another order");
}

#[test]
fn only_the_loader_and_the_command_touch_files_the_clock_or_the_environment() {
    let outside = ["std::fs", "std::env", "std::time", "std::net", "std::process", "SystemTime", "File::open", "File::create"];
    let mut wrong = Vec::new();
    for file in sources().iter().filter(|file| !file.is_test()) {
        let loader = file.path == "src/sources/loader.rs" || file.path.starts_with("src/sources/loader/");
        if loader || file.stage() == Some("cli") || file.path == "src/main.rs" {
            continue;
        }
        for (number, line) in file.without_tests().lines().enumerate() {
            let code = line.split("//").next().unwrap_or("");
            wrong.extend(
                outside.iter().filter(|word| code.contains(*word)).map(|word| format!("{}:{}: `{word}`", file.path, number + 1)),
            );
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn only_reports_and_findings_are_serialised() {
    for file in sources().iter().filter(|file| file.without_tests().contains("Serialize")) {
        let stage = file.stage();
        assert!(
            matches!(stage, Some("reports" | "render" | "diagnostics" | "cli")),
            "{}: only reports are `Serialize`",
            file.path
        );
    }
}
