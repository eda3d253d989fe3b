//! Slips of a grade or size that is said behind a name: `6 belts 120 grit at 7.80`, `2 sheets copper 22 gauge for 18.00`.

use super::name::is_unit;
use super::slip::{Slip, SlipRule};
use super::typed::Typed;
use crate::syntax::slip_errors::NAME_SPELLING;

pub(super) const RULES: &[SlipRule] = &[grade_behind];

/// What a number is of that measures no quantity.
const GRADES: [&str; 15] =
    ["grit", "gauge", "ga", "ga.", "no", "no.", "tpi", "weight", "wt", "mesh", "ply", "denier", "tooth", "teeth", "awg"];

/// `6 belts 120 grit at 7.80`, `6 belts grit 120 at 7.80`
fn grade_behind(typed: &Typed<'_>) -> Option<Slip> {
    let figure = |at: usize| {
        let word = typed.word(at);
        word.is_number() || word.is_fraction()
    };
    let grade = |at: usize| typed.word(at).is_one_of(&GRADES);
    let at = (2..typed.words.len().saturating_sub(1)).find(|at| {
        let before = typed.word(at - 1);
        let both = figure(*at) && grade(at + 1) || grade(*at) && figure(at + 1);
        both && before.is_name() && !before.comma && !is_unit(before.text)
    })?;
    let end = at + 2;
    if !typed.is_detail() || !figure(0) || typed.words.iter().any(|word| word.quoted) {
        return None;
    }
    let said = typed.slice(at..end);
    let comma = if typed.word(end - 1).comma { "," } else { "" };
    let rest = typed.slice(end..typed.words.len());
    let goods = format!("{}{comma} {rest}", typed.slice(0..at));
    let goods = goods.trim_end_matches([',', ' ']);
    let message = format!("`{said}` is a kind and no count: it stands in quotes behind the item, or is a part of the name");
    let slip = Slip::new(NAME_SPELLING, typed.range(at..end), message);
    Some(slip.fix("as a remark", format!("{goods} \"{said}\"")))
}
