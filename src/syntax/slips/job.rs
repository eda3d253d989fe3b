//! Slips of lines that sell work which makes no product: `repaired a clasp 25.00`, `repair of a clasp for 25.00`.

use super::money::SIGNS;
use super::slip::{Slip, SlipRule};
use super::typed::{Typed, is_number};
use crate::syntax::Verb;
use crate::syntax::slip_errors::SUM_WITHOUT_FOR;

pub(super) const RULES: &[SlipRule] = &[work_for_a_customer];

/// With what such a line begins.
const WORK: [&str; 27] = [
    "repaired",
    "repair",
    "repairs",
    "repairing",
    "mended",
    "mending",
    "fixed",
    "fixing",
    "restored",
    "restoring",
    "sharpened",
    "sharpening",
    "refinished",
    "engraved",
    "engraving",
    "rebound",
    "rebinding",
    "resized",
    "taught",
    "teaching",
    "class",
    "lesson",
    "lessons",
    "tuition",
    "workshop",
    "demonstration",
    "demo",
];

/// `repaired a clasp 25.00`, `taught a class for 6 people, 180.00`
fn work_for_a_customer(typed: &Typed<'_>) -> Option<Slip> {
    let last = typed.words.len().checked_sub(1).filter(|last| *last > 0)?;
    if !typed.is_detail() || !matches!(typed.verb(), Some(Verb::Sold | Verb::Received)) || !typed.word(0).is_one_of(&WORK) {
        return None;
    }
    let how = typed.word(last).is_one_of(&["cash", "card", "check"]);
    let at = if how { last - 1 } else { last };
    let sum = typed.word(at).text.trim_matches(SIGNS);
    let before = if at > 1 && typed.word(at - 1).is_one_of(&["for", "at", "at:", "=", "-"]) { at - 1 } else { at };
    let said = typed.slice(0..before).trim_end_matches([',', ' ']);
    if !is_number(sum) || before == 0 || said.contains('"') {
        return None;
    }
    let message = format!("money for work that makes no product says what it is for: `{sum} for NAME`");
    let slip = Slip::new(SUM_WITHOUT_FOR, typed.range(0..last + 1), message)
        .note("NAME is an income of the shop, defined in any file, as in `income repairs \"Repairs\"`");
    let line = format!("{sum} for NAME \"{said}\"");
    let line = if how { format!("{line}\n{} {sum}", typed.word(last).text) } else { line };
    Some(slip.fix("write it so", line))
}
