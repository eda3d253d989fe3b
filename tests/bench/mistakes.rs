//! Ten thousand mistakes in one book, told: the first fifty and how many there are.
//!
//! Ten kinds in turn, misspelled names in a shop of a thousand things among them, since a near name is looked for among all. The bar is one second.

use std::fmt::Write as _;
use std::fs;
use std::io::Write;
use std::process::{Command, Stdio};

use crate::process::KERFBOOK;
use crate::stopwatch::in_turn;

const MISTAKES: usize = 10_000;
const THINGS: usize = 1_000;

/// An entry with one mistake.
fn wrong(at: usize) -> String {
    let (day, thing) = (format!("2026-{:02}-{:02}", at / 28 % 12 + 1, at % 28 + 1), format!("material-{}", at % THINGS));
    let bought = |line: &str| format!("bought {day} from yard receipt \"R-{at}\"\n    {line}\n");
    match at % 10 {
        0 => bought(&format!("2 bf mterial-{} at 4.00", at % THINGS)),
        1 => bought(&format!("2 bf {thing} at $4.00")),
        2 => bought(&format!("2 bf {thing} for 1,250")),
        3 => bought(&format!("2 lb {thing} at 4.00")),
        4 => bought(&format!("2 bf {thing} at 4.00\n    total 9.00")),
        5 => format!("sold {day} via conter\n    1 block at 1.00\n"),
        6 => format!("soled {day} via counter\n    1 block at 1.00\n"),
        7 => format!("sold {}/{}/2026 via counter\n    1 block at 1.00\n", at / 28 % 12 + 1, at % 28 + 1),
        8 => format!("built {day} batch B-{at}\n    used 2 bf {thing}\n    took 2 hours cutting\n    made 1 block\n"),
        _ => format!("noted {day} a fair\n"),
    }
}

fn book() -> String {
    let mut text =
        "shop \"A large shop\"\n    currency USD\nplace bench \"Bench\"\n    home\nchannel counter \"Over the counter\"\n\
        step cutting \"Cutting\"\nproduct block \"Block\"\n    price 1.00\n"
            .to_owned();
    for at in 0..THINGS {
        let _ = write!(text, "material material-{at} \"Material {at}\"\n    measured in bf\n");
    }
    text.push_str("opened 2026-01-01\n    100000 block for 100000.00\n");
    for at in 0..THINGS {
        let _ = writeln!(text, "    1000 bf material-{at} for 4000.00");
    }
    (0..MISTAKES).for_each(|at| text.push_str(&wrong(at)));
    text
}

/// Checks it, as text and in short lines.
pub(crate) fn mistakes(out: &mut impl Write) -> std::io::Result<()> {
    let folder = tempfile::tempdir()?;
    fs::write(folder.path().join("book.kerf"), book())?;
    let check = |how: &str| {
        let mut command = Command::new(KERFBOOK);
        command.args(["check", "--as", how, "--book"]).arg(folder.path()).stderr(Stdio::null());
        command
    };
    let told = String::from_utf8_lossy(&check("text").output()?.stdout).into_owned();
    let last = told.lines().rev().find(|line| !line.is_empty()).unwrap_or_default().to_owned();
    let run = |how: &str| {
        let ended = check(how).stdout(Stdio::null()).status().expect("the command runs");
        assert_eq!(ended.code(), Some(1), "a book with mistakes");
    };
    let (text, short) = in_turn(5, || run("text"), || run("short"));
    writeln!(
        out,
        "{MISTAKES} mistakes told, as text {} ms, short {} ms (bar 1000); it ends: {last}",
        text.nanos / 1_000_000,
        short.nanos / 1_000_000
    )
}
