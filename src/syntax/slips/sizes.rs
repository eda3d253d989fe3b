//! Slips of sizes: `4/4x6x48 in`, `62"`, sides without a unit, sizes before the name.

use std::ops::Range;

use super::slip::{Slip, SlipRule};
use super::typed::{Typed, Word, is_fraction, is_number};
use crate::syntax::errors::{QUARTERS_AFTER_COUNT, SIZES_NEED_UNITS};
use crate::syntax::slip_errors::SIZES_SPELLING;

pub(super) const RULES: &[SlipRule] =
    &[inch_signs, joined_sides, star_or_by, sizes_before_name, thickness_before_name, quarters_before_count, no_unit];

/// The units of a side.
const LENGTHS: [&str; 8] = ["in", "mm", "cm", "ft", "yd", "m", "mi", "km"];

/// `62"`, `5 1/2" x 7'`, `4/4" x 6" x 48"`
fn inch_signs(typed: &Typed<'_>) -> Option<Slip> {
    let signed: Vec<_> = typed.words.iter().enumerate().filter_map(|(at, word)| Some((at, side_sign(word)?))).collect();
    let (first, _) = signed.first()?;
    let only_inches = signed.iter().all(|(_, (_, unit))| *unit == "in");
    let last = signed.last().map(|(at, _)| *at)?;
    let mut line = typed.text.to_owned();
    for (at, (figure, unit)) in signed.iter().rev() {
        let word = typed.word(*at);
        let quarters = is_fraction(figure) && figure.ends_with("/4") && typed.word(at + 1).is_one_of(&["x", "×"]);
        let again = only_inches && *at != last || quarters && typed.words.iter().filter(|word| word.is("x")).count() > 1;
        let right = if again { (*figure).to_owned() } else { format!("{figure} {unit}") };
        line.replace_range(word.start..word.end(), &right);
    }
    let word = typed.word(*first);
    let (figure, unit) = side_sign(&word)?;
    let sign = word.text.get(figure.len()..)?;
    let meaning = if unit == "in" { "inches are" } else { "feet are" };
    let slip = Slip::new(SIZES_SPELLING, word.start..word.end(), format!("`{sign}` opens a text; {meaning} written `{unit}`"));
    let slip = slip.note("one unit at the end serves for all sides where it is `in`, `mm` or `cm`");
    Some(slip.fix(format!("write `{unit}`"), line).sure())
}

/// A figure with a sign for inches or feet behind it.
fn side_sign<'t>(word: &Word<'t>) -> Option<(&'t str, &'static str)> {
    if word.quoted {
        return None;
    }
    let figure = word.text.trim_end_matches(['"', '\'', '″', '′', '\u{201C}', '\u{201D}', '\u{2019}']);
    let sign = word.text.get(figure.len()..)?;
    if !(is_number(figure) || is_fraction(figure)) || sign.is_empty() {
        return None;
    }
    let feet = matches!(sign, "'" | "′" | "\u{2019}");
    Some((figure, if feet { "ft" } else { "in" }))
}

/// `4/4x6x48 in`, `5/4x9x62in`, `12x24`
fn joined_sides(typed: &Typed<'_>) -> Option<Slip> {
    typed.words.iter().enumerate().filter(|(_, word)| !word.quoted).find_map(|(at, word)| {
        let digits = word.text.trim_end_matches(|letter: char| letter.is_ascii_alphabetic() && letter != 'x' && letter != 'X');
        let unit = word.text.get(digits.len()..)?;
        let parts: Vec<_> = digits.split(['x', 'X', '×', '*']).collect();
        let inner = parts.iter().filter(|part| !part.is_empty()).all(|part| is_number(part) || is_fraction(part));
        let is_sides = parts.len() >= 2 && inner && parts.iter().any(|part| !part.is_empty());
        let ends_ok = unit.is_empty() || LENGTHS.contains(&unit);
        let open = parts.first().is_some_and(|part| part.is_empty()) || parts.last().is_some_and(|part| part.is_empty());
        // `2x4` as a name, `2x pull-cart` as a count: other slips.
        let neighbour = open
            && !(typed.word(at + 1).text.starts_with(|letter: char| letter.is_ascii_digit())
                || at > 0 && typed.word(at - 1).is_number());
        if !is_sides || !ends_ok || neighbour || stands_as_name(typed, at) {
            return None;
        }
        let mut right = parts.join(" x ").trim().to_owned();
        if !unit.is_empty() {
            right = format!("{right} {unit}");
        }
        let slip = Slip::new(SIZES_SPELLING, word.start..word.end(), format!("blanks stand around `x`: `{right}`"));
        Some(slip.fix("put blanks around it", typed.with(at..at + 1, &right)).sure())
    })
}

/// Whether sizes stand right after a count, where a name should be.
fn stands_as_name(typed: &Typed<'_>, at: usize) -> bool {
    let before = at.checked_sub(1).map(|before| typed.word(before));
    let next = typed.word(at + 1);
    before.is_some_and(|before| !before.comma && before.is_number()) && !next.is_one_of(&LENGTHS) && !next.is_name()
}

/// `4/4 by 6 by 48 in`, `12 * 24 in`
fn star_or_by(typed: &Typed<'_>) -> Option<Slip> {
    let is_side = |word: Word<'_>| word.is_number() || word.is_fraction();
    let is_times = |at: usize| typed.word(at).is_one_of(&["by", "*", "X"]) && typed.word(at).text != "x";
    let at = (1..typed.words.len()).find(|at| is_times(*at) && is_side(typed.word(at - 1)) && is_side(typed.word(at + 1)))?;
    let mut line = typed.text.to_owned();
    for other in (1..typed.words.len()).rev() {
        let word = typed.word(other);
        if is_times(other) && is_side(typed.word(other + 1)) {
            line.replace_range(word.start..word.end(), "x");
        }
    }
    let word = typed.word(at);
    let slip = Slip::new(SIZES_SPELLING, word.start..word.end(), format!("between the sides stands `x`, not `{}`", word.text));
    Some(slip.fix("write `x`", line).sure())
}

/// Where sizes stand: from the first side up to the last with its unit.
fn find_sizes(typed: &Typed<'_>) -> Option<Range<usize>> {
    let is_side = |word: Word<'_>| word.is_number() || word.is_fraction();
    let is_times = |at: usize| matches!(typed.word(at).text, "x" | "×");
    let first_times = (1..typed.words.len()).find(|at| is_times(*at))?;
    let mut start = first_times.checked_sub(1)?;
    if typed.word(start).is_one_of(&LENGTHS) {
        start = start.checked_sub(1)?;
    }
    if !is_side(typed.word(start)) {
        return None;
    }
    let whole_before = start.checked_sub(1).map(|before| typed.word(before));
    let proper =
        |word: Word<'_>| word.text.split_once('/').is_some_and(|(above, below)| above.len() <= below.len() && above < below);
    if proper(typed.word(start)) && whole_before.is_some_and(|before| before.is_number() && !before.text.contains('.')) {
        start -= 1;
    }
    let mut at = first_times;
    let mut end = first_times;
    while is_times(at) {
        end = at + 1;
        while is_side(typed.word(end)) {
            end += 1;
        }
        if end == at + 1 {
            return None;
        }
        if typed.word(end).is_one_of(&LENGTHS) && !typed.word(end - 1).comma {
            end += 1;
        }
        at = end;
    }
    Some(start..end)
}

/// `used 12 x 24 in baltic-6`, `4 boards 5/4 x 6 x 48 in walnut`
fn sizes_before_name(typed: &Typed<'_>) -> Option<Slip> {
    let sizes = find_sizes(typed)?;
    let name = typed.word(sizes.end);
    if !name.is_name() || typed.word(sizes.end - 1).comma {
        return None;
    }
    let before = sizes.start.checked_sub(1).map(|at| typed.word(at));
    let counted = before.is_some_and(|word| word.is_one_of(&["board", "boards", "piece", "pieces"]));
    let count_first = before.is_none_or(|word| word.comma || word.is_one_of(&["used", "needs", "made", "kept", "lost"]));
    let times = typed.slice(sizes.clone()).matches(['x', '×']).count();
    let piece = if times > 1 { "1 board" } else { "1 piece" };
    let right = match (counted, count_first) {
        (true, _) => format!("{}, {}", name.text, typed.slice(sizes.clone())),
        (false, true) => format!("{piece} {}, {}", name.text, typed.slice(sizes.clone())),
        (false, false) => return None,
    };
    let words = sizes.start..sizes.end + 1;
    let slip = Slip::new(SIZES_SPELLING, typed.range(sizes), "the count comes first, the sizes after the name");
    Some(slip.fix("write them in this order", typed.with(words, &right)))
}

/// A board's name with its thickness in front, as it should read: from `from` to behind the name. The sizes that follow the
/// name already are kept, and the thickness is put to them where it lacks.
fn with_thickness(typed: &Typed<'_>, slip: Slip, from: usize, name: usize, before: &str, thickness: &str) -> Slip {
    let board = format!("{before}{}", typed.word(name).text);
    let sizes = find_sizes(typed).filter(|sizes| sizes.start > name);
    let sides = sizes.as_ref().map_or(0, |sizes| typed.slice(sizes.clone()).matches(['x', '×']).count() + 1);
    match sizes {
        Some(sizes) if sides == 2 => {
            let right = format!("{board}, {thickness} x {}", typed.word(sizes.start).text);
            slip.fix("write them in this order", typed.with(from..sizes.start + 1, &right))
        }
        Some(sizes) => {
            let said = typed.word(sizes.start).text;
            let slip = slip.fix("write them in this order", typed.with(from..name + 1, &board));
            if said == thickness {
                return slip;
            }
            let right = format!("{board}, {thickness}");
            slip.fix(format!("if `{thickness}` is the thickness"), typed.with(from..sizes.start + 1, &right))
        }
        None => slip
            .note("width and length are needed too, to tally the boards")
            .fix("with the board's own sizes", typed.with(from..name + 1, &format!("{board}, {thickness} x WIDTH x LENGTH in"))),
    }
}

/// `4 boards 5/4 walnut`, `4 boards 5/4 walnut, 6 x 48 in`
fn thickness_before_name(typed: &Typed<'_>) -> Option<Slip> {
    let at = (2..typed.words.len()).find(|at| {
        let counted = typed.word(at - 1).is_one_of(&["board", "boards", "piece", "pieces"]) && typed.word(at - 2).is_number();
        counted && typed.word(*at).is_fraction() && typed.word(at + 1).is_name()
    })?;
    let slip = Slip::new(SIZES_SPELLING, typed.range(at..at + 1), "the count comes first, the sizes after the name");
    Some(with_thickness(typed, slip, at, at + 1, "", typed.word(at).text))
}

/// `4 5/4 boards walnut`, `4 5/4 walnut, 6 x 48 in`
fn quarters_before_count(typed: &Typed<'_>) -> Option<Slip> {
    let (at, boards) = (1..typed.words.len()).find_map(|at| {
        let next = typed.word(at + 1);
        let boards = next.is_one_of(&["board", "boards", "piece", "pieces"]) && typed.word(at + 2).is_name();
        let sized = next.is_name() && find_sizes(typed).is_some_and(|sizes| sizes.start > at + 1);
        let counted = typed.word(at - 1).is_number() && typed.word(at).is_fraction();
        (counted && (boards || sized)).then_some((at, boards))
    })?;
    let (count, quarters) = (typed.word(at - 1).text, typed.word(at).text);
    let message = format!("a whole number stands before the quarters of lumber in `{count} {quarters}`");
    let slip = Slip::new(QUARTERS_AFTER_COUNT, typed.range(at - 1..at + 1), message);
    let piece = if boards { typed.word(at + 1).text } else { "boards" };
    let name = if boards { at + 2 } else { at + 1 };
    Some(with_thickness(typed, slip, at - 1, name, &format!("{count} {piece} "), quarters))
}

/// `5/4 x 9 1/4 x 62`
fn no_unit(typed: &Typed<'_>) -> Option<Slip> {
    let sizes = find_sizes(typed)?;
    let last = typed.word(sizes.end - 1);
    if !(last.is_number() || last.is_fraction()) {
        return None;
    }
    let right = format!("{} in", typed.slice(sizes.clone()));
    let slip = Slip::new(SIZES_NEED_UNITS, last.start..last.end(), format!("the unit of the sizes is missing: `{right}`"));
    Some(slip.fix("inches, if they are", typed.with(sizes, &right)))
}
