//! A small shop to run the command on, and the running of it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// A book of few entries without a mistake.
const SHOP: &str = r#"
shop "Wren & Gable Woodshop"
    currency USD
    owner time 24.00 per h
place bench "Home workshop"
    home
step cutting "Cutting"
material red-oak "Red oak <script>alert(1)</script>"
    measured in bf
line rolling-toys "Rolling toys"
product pull-cart "Pull-along cart"
    line rolling-toys
    needs 0.80 bf red-oak
    price 42.00
channel web-page "Own web page"

bought 2026-03-02 from ridgeline-lumber receipt "A-1182"
    20 bf red-oak at 5.90
built 2026-03-09 batch PC-014
    used 4.8 bf red-oak
    took 1h 48m cutting
    made 6 pull-cart
sold 2026-03-20 via web-page order "W-0031"
    2 pull-cart
"#;

/// The small book in a folder of its own.
pub(crate) fn book() -> tempfile::TempDir {
    book_of(SHOP)
}

/// The small book with a misspelled name.
pub(crate) fn book_with_a_mistake() -> tempfile::TempDir {
    book_of(&SHOP.replace("used 4.8 bf red-oak", "used 4.8 bf red-oka"))
}

/// The small book of a shop that names a tax form.
pub(crate) fn book_with_a_form() -> tempfile::TempDir {
    book_of(&SHOP.replace("    currency USD\n", "    currency USD\n    tax form us-schedule-c\n"))
}

/// A book of one file in a folder of its own.
pub(crate) fn book_of(text: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("book.kerf"), text).expect("written");
    folder
}

/// The example book.
pub(crate) fn example() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("ledger-examples/wren-and-gable")
}

/// What came of a run.
#[derive(Debug)]
pub(crate) struct Ran {
    pub(crate) status: Option<i32>,
    pub(crate) out: String,
    pub(crate) err: String,
}

/// Runs the command in a folder. A path among the arguments is given as text.
pub(crate) fn run_in(folder: &Path, arguments: &[&str]) -> Ran {
    let output: Output = command(folder).args(arguments).output().expect("runs");
    Ran {
        status: output.status.code(),
        out: String::from_utf8(output.stdout).expect("text"),
        err: String::from_utf8(output.stderr).expect("text"),
    }
}

/// The command, to be run in a folder.
pub(crate) fn command(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_kerfbook"));
    command.current_dir(folder).env_remove("NO_COLOR");
    command
}

/// The names in a folder, sorted.
pub(crate) fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .expect("a folder")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}
