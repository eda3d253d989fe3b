//! `kerfbook check --fix`: what is mended without asking, what is left, and that nothing gets worse.

use std::fs;
use std::path::Path;

use kerfbook::diagnostics::explain_preamble;

use crate::shop::{book, book_of, run_in};

const TODAY: [&str; 4] = ["check", "--fix", "--today", "2026-12-31"];

fn text(folder: &Path) -> String {
    fs::read_to_string(folder.join("book.kerf")).expect("read")
}

/// What `--fix` makes of a line in an entry, on the shop of the explain pages.
fn fixed_line(head: &str, line: &str) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("0.kerf"), explain_preamble()).expect("written");
    let written = format!("{head}\n    {line}\n");
    fs::write(folder.path().join("book.kerf"), &written).expect("written");
    let ran = run_in(folder.path(), &TODAY);
    assert!(ran.status != Some(2), "{line}: {ran:?}");
    let now = text(folder.path());
    assert_eq!(now != written, ran.out.contains("+++ book.kerf"), "{line}: {}", ran.out);
    now.lines().skip(1).map(str::trim).collect::<Vec<_>>().join(" | ")
}

#[test]
fn what_can_only_be_meant_is_written_so_code_by_code() {
    const BOUGHT: &str = "bought 2026-03-02 from ridgeline-lumber";
    const BUILT: &str = "built 2026-03-04 batch T-1";
    for (code, head, line, right) in [
        ("K109", "used-up 2026-05-03", "80ml clear-oil", "80 ml clear-oil"),
        ("K150", BOUGHT, "5 bf red-oak at $5.90 # dry", "5 bf red-oak at 5.90 # dry"),
        ("K150", BOUGHT, "200 bf red-oak for 1,250.00", "200 bf red-oak for 1250.00"),
        ("K150", BOUGHT, "5 bf red-oak at 5,90", "5 bf red-oak at 5.90"),
        ("K151", BOUGHT, "5 bf red-oak @ 5.90", "5 bf red-oak at 5.90"),
        ("K153", "sold 2026-03-20 via web-page", "1 pull-cart | 8.40 sales-tax", "1 pull-cart | sales-tax 8.40"),
        ("K154", BOUGHT, "1½ bf red-oak for 9.00", "1 1/2 bf red-oak for 9.00"),
        ("K154", BOUGHT, "5 bf red-oak at .90", "5 bf red-oak at 0.90"),
        ("K156", "worked 2026-03-08", "1h48m general", "1h 48m general"),
        ("K157", BOUGHT, "5 board feet red-oak at 5.90", "5 bf red-oak at 5.90"),
        ("K157", BOUGHT, "5 bf red-oak at5.90", "5 bf red-oak at 5.90"),
        ("K158", BOUGHT, "2 boards red-oak, 4/4x6x48 in, for 20.00", "2 boards red-oak, 4/4 x 6 x 48 in, for 20.00"),
        ("K159", BOUGHT, "5 bf red oak at 5.90", "5 bf red-oak at 5.90"),
        ("K160", BOUGHT, "red-oak 5 bf at 5.90", "5 bf red-oak at 5.90"),
        ("K171", BOUGHT, "5 bf red-oak at 5.90,", "5 bf red-oak at 5.90"),
        ("K173", BOUGHT, "Note \"dry\"", "note \"dry\""),
        ("K251", BOUGHT, "5 bdft red-oak at 5.90", "5 bf red-oak at 5.90"),
        ("K255", BOUGHT, "5 red-oak bf at 5.90", "5 bf red-oak at 5.90"),
        ("K253", BUILT, "used 2.0 blade-no7", "used 2 blade-no7"),
        // One behind the other on one line.
        ("K251", BOUGHT, "5 bdft red-oak at $5.90", "5 bf red-oak at 5.90"),
        ("K255", BOUGHT, "5 red-oak bf at $5.90", "5 bf red-oak at 5.90"),
    ] {
        assert_ne!(line, right, "{code}: nothing would be mended");
        let line_and = |line: &str| match head {
            BUILT => format!("{line} | made 1 pull-cart"),
            _ => line.to_owned(),
        };
        let typed = line_and(line).replace(" | ", "\n    ");
        assert_eq!(fixed_line(head, &typed), line_and(right), "{code}: {line}");
    }
}

#[test]
fn what_may_mean_two_things_stays() {
    for line in [
        "5 bf red-oak at €5.90",
        "5 bf red-oak at 1,250",
        "5 bf red-oak 5.90",
        "5 bf red-oka at 5.90",
        "5 red-oak at 5.90",
        "note \"open",
        "paid 3/4/2026",
        "2 wheel-40 for 23.00",
        "5 bf red-oak at -5.90",
        "dicsount 5.00",
    ] {
        assert_eq!(fixed_line("bought 2026-03-02 from ridgeline-lumber", line), line);
    }
}

#[test]
fn the_difference_is_shown_and_the_rest_is_told() {
    let folder = book();
    let before = text(folder.path())
        .replace("20 bf red-oak at 5.90", "20 bf red-oak at $5.90   # dry")
        .replace("    took 1h 48m cutting", "took 1h48m cutting")
        .replace("used 4.8 bf red-oak", "used 4.8 bf red-oka");
    fs::write(folder.path().join("book.kerf"), before.replace('\n', "\r\n")).expect("written");
    let ran = run_in(folder.path(), &TODAY);
    assert_eq!(ran.status, Some(1), "{ran:?}");
    let shown =
        "--- book.kerf\n+++ book.kerf\n@@ -18 +18 @@\n-    20 bf red-oak at $5.90   # dry\n+    20 bf red-oak at 5.90   # dry\n";
    assert!(ran.out.starts_with(shown), "{}", ran.out);
    // The line at column 1 is told for its time alone, and its correction is indented.
    assert!(
        ran.out.contains("@@ -21 +21 @@\n-took 1h48m cutting\n+    took 1h 48m cutting\nmended 2 mistakes in one file\n"),
        "{}",
        ran.out
    );
    assert!(ran.out.contains("error[K200]") && ran.out.contains("did you mean `red-oak`?"), "{}", ran.out);
    let now = text(folder.path());
    assert!(now.contains("    20 bf red-oak at 5.90   # dry\r\n") && now.contains("red-oka\r\n"), "{now}");
    assert_eq!(now.matches('\n').count(), now.matches("\r\n").count());
    // Once more there is nothing to mend.
    let again = run_in(folder.path(), &TODAY);
    assert!(again.out.starts_with("nothing was mended: no mistake has a correction that can only be meant\n"), "{}", again.out);
    assert_eq!(text(folder.path()), now);
}

#[test]
fn a_mistake_that_a_corrected_line_hid_in_its_own_entry_hinders_nothing() {
    // The total is wrong, which is told only when the line above it can be read.
    let typed = "5 bf red-oak at $5.90\n    total 30.00";
    assert_eq!(fixed_line("bought 2026-03-02 from ridgeline-lumber", typed), "5 bf red-oak at 5.90 | total 30.00");
    // Two that it hid are more than it mends.
    let typed = "5 bf red-oak at $5.90\n    total 30.00\n    paid 99.00 on 2026-03-02";
    let now = fixed_line("bought 2026-03-02 from ridgeline-lumber", typed);
    assert!(now.contains("total 30.00 | paid 99.00 on 2026-03-02"), "{now}");
}

#[test]
fn what_was_mended_is_told_to_editors_and_programs() {
    let mistaken = text(book().path()).replace("at 5.90", "at $5.90");
    let folder = book_of(&mistaken);
    let ran = run_in(folder.path(), &[TODAY.as_slice(), &["--as", "short"]].concat());
    assert_eq!(ran.status, Some(0), "{ran:?}");
    assert!(
        ran.out.starts_with("book.kerf:18:1: mended[K150]: money is a bare number: `5.90`\n3 entries in 1 file"),
        "{}",
        ran.out
    );
    let folder = book_of(&mistaken);
    let ran = run_in(folder.path(), &[TODAY.as_slice(), &["--as", "json"]].concat());
    let report: serde_json::Value = serde_json::from_str(&ran.out).expect("json");
    let schema = serde_json::from_str(&run_in(folder.path(), &["schema", "check"]).out).expect("json");
    let validator = jsonschema::validator_for(&schema).expect("a schema");
    let faults: Vec<String> = validator.iter_errors(&report).map(|fault| fault.to_string()).collect();
    assert_eq!(faults, Vec::<String>::new());
    assert_eq!(
        (&report["mistakes"], &report["mended"][0]["code"], &report["mended"][0]["line"]),
        (&0.into(), &"K150".into(), &18.into())
    );
    assert_eq!(
        (&report["mended"][0]["was"], &report["mended"][0]["now"]),
        (&"    20 bf red-oak at $5.90".into(), &"    20 bf red-oak at 5.90".into())
    );
}

#[test]
fn a_correction_that_would_bring_another_mistake_is_not_made() {
    // Mended, the line would sell what is not there.
    let folder = book_of(&text(book().path()).replace("    2 pull-cart\n", "    9 pull-cart at $42.00\n"));
    let before = text(folder.path());
    let ran = run_in(folder.path(), &TODAY);
    assert_eq!(ran.status, Some(1));
    assert!(ran.out.starts_with("nothing was mended"), "{}", ran.out);
    assert_eq!(text(folder.path()), before);
    // Others are made all the same.
    let folder = book_of(&before.replace("20 bf red-oak at 5.90", "20 bf red-oak at $5.90"));
    let ran = run_in(folder.path(), &TODAY);
    assert!(ran.out.contains("mended one mistake in one file"), "{}", ran.out);
    assert_eq!(text(folder.path()), before);
}

#[cfg(unix)]
#[test]
fn a_file_outside_the_book_is_not_mended() {
    let (folder, outside) = (book(), tempfile::tempdir().expect("a folder"));
    fs::write(outside.path().join("o.kerf"), "worked 2026-03-08\n    1h48m cutting\n").expect("written");
    std::os::unix::fs::symlink(outside.path().join("o.kerf"), folder.path().join("o.kerf")).expect("linked");
    let ran = run_in(folder.path(), &TODAY);
    assert_eq!(ran.status, Some(1));
    assert!(ran.err.contains("`o.kerf` is a link that leads out of the book, so it stays as it is"), "{}", ran.err);
    assert!(fs::read_to_string(outside.path().join("o.kerf")).expect("read").contains("1h48m"));
}

#[test]
fn no_case_of_a_mistake_gets_worse_and_no_line_without_one_is_touched() {
    let cases = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/diagnostics");
    let mut mended = 0;
    for case in fs::read_dir(cases).expect("the cases").map(|case| case.expect("a case").path()).filter(|case| case.is_dir()) {
        let files: Vec<_> = fs::read_dir(&case).expect("a folder").map(|file| file.expect("a file").path()).collect();
        let folder = tempfile::tempdir().expect("a folder");
        let mut whole = String::new();
        for file in files.iter().filter(|file| file.extension().is_some_and(|ending| ending == "kerf")) {
            let bytes = fs::read(file).expect("read");
            whole.push_str(&String::from_utf8_lossy(&bytes));
            fs::write(folder.path().join(file.file_name().expect("a name")), bytes).expect("written");
        }
        if !whole.lines().any(|line| line.starts_with("shop ")) {
            fs::write(folder.path().join("0-the-shop.kerf"), explain_preamble()).expect("written");
        }
        let report = |arguments: &[&str]| -> serde_json::Value {
            let ran = run_in(folder.path(), &[arguments, &["--today", "2027-12-31", "--as", "json"]].concat());
            serde_json::from_str(&ran.out).unwrap_or_else(|fault| panic!("{}: {fault}: {}", case.display(), ran.err))
        };
        let (before, after) = (report(&["check"]), report(&["check", "--fix"]));
        let count = |of: &serde_json::Value| of["mistakes"].as_u64().expect("a count");
        let made = after["mended"].as_array().expect("a list");
        // What a corrected line hid in its own entry may be told in its place.
        assert!(count(&after) <= count(&before), "{}", case.display());
        // Every line that was written over is one at which a mistake was told.
        for one in made {
            let code = one["code"].as_str().expect("a code");
            let told = before["findings"].as_array().expect("a list").iter().any(|finding| finding["code"] == code);
            assert!(told || made.len() > 1, "{}: {one}", case.display());
        }
        mended += made.len();
        assert_eq!(count(&report(&["check"])), count(&after), "{}", case.display());
    }
    assert!(mended >= 25, "only {mended} corrections were made");
}

#[test]
fn what_can_mean_two_things_is_left_to_its_maker() {
    const BOUGHT: &str = "bought 2026-03-02 from ridgeline-lumber";
    for (head, line) in [
        (BOUGHT, "12 bf walnut $84"),
        (BOUGHT, "walnut 12"),
        (BOUGHT, "pattern-of-mine 12"),
        ("paid 2026-03-05 to county-fair", "15O for booth-fee"),
        ("sold 2026-03-06 to \"Mrs. Dell\" order \"DELL\"", "1 pull-cart"),
        ("returned 2026-03-19 from gift-shop", "1 pull-cart, refunded 0.00"),
        ("paid 2026-01-05 to landlord every month", "150.00 for booth-fee"),
    ] {
        assert_eq!(fixed_line(head, line), line, "{head}");
    }
}
