//! Templates of the reader's own, from `--templates DIR`.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use walkdir::WalkDir;

use crate::diagnostics::did_you_mean;
use crate::render::html::EMBEDDED;

/// The largest file that is taken for a template.
const LARGEST: u64 = 4_000_000;

/// Reads every `*.html` and `*.css` file of a folder and below, named by its path with `/` between the parts.
///
/// # Errors
/// A sentence for the reader where the folder or a file can't be read, or no file in it is a template.
pub(super) fn read_templates(folder: Option<&Path>) -> Result<BTreeMap<String, String>, String> {
    let mut own = BTreeMap::new();
    let Some(folder) = folder else { return Ok(own) };
    if !folder.is_dir() {
        return Err(format!("`--templates {}` is not a folder", folder.display()));
    }
    for entry in WalkDir::new(folder).follow_links(true) {
        let entry = entry.map_err(|fault| format!("the templates can't be read: {fault}"))?;
        let path = entry.path();
        let is_template = path.extension().is_some_and(|ending| ending == "html" || ending == "css");
        if !entry.file_type().is_file() || !is_template {
            continue;
        }
        let Ok(below) = path.strip_prefix(folder) else { continue };
        let name: Vec<String> = below.components().map(|part| part.as_os_str().to_string_lossy().into_owned()).collect();
        if fs::metadata(path).is_ok_and(|about| about.len() > LARGEST) {
            return Err(format!("the template `{}` is over 4 MB", path.display()));
        }
        let text =
            fs::read_to_string(path).map_err(|fault| format!("the template `{}` can't be read: {fault}", path.display()))?;
        own.insert(name.join("/"), text);
    }
    if own.is_empty() {
        return Err(format!("`--templates {}` holds no `*.html` or `*.css` file", folder.display()));
    }
    match own.keys().find(|name| stands_for_nothing(name, &own)) {
        None => Ok(own),
        Some(name) => {
            let near =
                did_you_mean(name, EMBEDDED.iter().map(|(name, _)| *name)).map_or_else(String::new, |near| format!("; {near}"));
            Err(format!(
                "`{name}` in `--templates {}` takes the place of no template, and no other file there names it{near}",
                folder.display()
            ))
        }
    }
}

/// Whether a file is no template that the program knows, and none that another of the reader's own includes by its name.
fn stands_for_nothing(name: &str, own: &BTreeMap<String, String>) -> bool {
    let is_known = EMBEDDED.iter().any(|(known, _)| *known == name);
    !is_known && !own.iter().any(|(other, text)| other != name && text.contains(name))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn templates_are_named_by_their_path() {
        let folder = tempfile::tempdir().expect("a folder");
        fs::create_dir(folder.path().join("charts")).expect("made");
        fs::write(folder.path().join("page.css"), "body {}").expect("written");
        fs::write(folder.path().join("charts/bridge.svg.html"), "x").expect("written");
        fs::write(folder.path().join("notes.txt"), "x").expect("written");
        let own = read_templates(Some(folder.path())).expect("read");
        assert_eq!(own.keys().collect::<Vec<_>>(), ["charts/bridge.svg.html", "page.css"]);
    }

    #[test]
    fn a_file_that_stands_for_no_template_is_told_with_the_one_that_is_near() {
        let folder = tempfile::tempdir().expect("a folder");
        fs::write(folder.path().join("pay.html"), "x").expect("written");
        let told = read_templates(Some(folder.path())).expect_err("no template");
        assert!(told.starts_with("`pay.html` in `--templates ") && told.contains("`pays.html`"), "{told}");
        // A part of another's is one.
        fs::write(folder.path().join("pays.html"), "{% include 'pay.html' %}").expect("written");
        assert_eq!(read_templates(Some(folder.path())).map(|own| own.len()), Ok(2));
    }

    #[test]
    fn a_folder_without_templates_is_told() {
        let folder = tempfile::tempdir().expect("a folder");
        assert!(read_templates(Some(folder.path())).is_err());
        assert!(read_templates(Some(&folder.path().join("none"))).is_err());
        assert_eq!(read_templates(None), Ok(BTreeMap::new()));
    }
}
