//! Tax forms: those that come with the program, and a book's own in its folder `forms/`.

use std::fs;
use std::path::Path;

use walkdir::WalkDir;

use crate::year::Forms;

/// Reads the forms that a book may use. What a file says wrongly is told as a mistake of the book.
///
/// # Errors
/// A sentence for the reader where a file of `forms/` can't be read at all.
pub(super) fn read_forms(book: &Path) -> Result<Forms, String> {
    let mut forms = Forms::built_in();
    let folder = book.join("forms");
    if !folder.is_dir() {
        return Ok(forms);
    }
    for entry in WalkDir::new(&folder).follow_links(true).sort_by_file_name() {
        let entry = entry.map_err(|fault| format!("the book's `forms/` can't be read: {fault}"))?;
        let path = entry.path();
        if !entry.file_type().is_file() || path.extension().is_none_or(|ending| ending != "toml") {
            continue;
        }
        let Ok(below) = path.strip_prefix(&folder) else { continue };
        let name: Vec<String> = below.components().map(|part| part.as_os_str().to_string_lossy().into_owned()).collect();
        let text = fs::read_to_string(path).map_err(|fault| format!("`{}` can't be read: {fault}", path.display()))?;
        forms.add(&name.join("/"), &text);
    }
    Ok(forms)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_book_without_forms_of_its_own_has_those_of_the_program() {
        let folder = tempfile::tempdir().expect("a folder");
        let forms = read_forms(folder.path()).expect("read");
        assert!(forms.form("us-schedule-c", 2026).is_some());
    }

    #[test]
    fn a_file_of_the_book_s_own_that_says_nonsense_is_a_fault_of_its_own() {
        let folder = tempfile::tempdir().expect("a folder");
        fs::create_dir_all(folder.path().join("forms/us-schedule-c")).expect("made");
        fs::write(folder.path().join("forms/us-schedule-c/2031.toml"), "not toml").expect("written");
        fs::write(folder.path().join("forms/notes.txt"), "x").expect("written");
        let forms = read_forms(folder.path()).expect("read");
        let faults: Vec<&str> = forms.faults().iter().map(|fault| fault.path.as_str()).collect();
        assert_eq!(faults, ["forms/us-schedule-c/2031.toml"]);
    }
}
