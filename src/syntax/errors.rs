//! What is told about lines that read well but stand in the wrong place, and about numbers, dates, sizes and names that are
//! misspelled. Codes K101 to K149; lines that fit no form are the table of slips' (K100, K150 to K199).

use crate::diagnostics::{Code, Diagnostic};
use crate::sources::Span;
use crate::syntax::squeeze::LONGEST_LINE;
use crate::syntax::words::is_name;
use crate::units::{DateFault, NumberFault};

/// A detail at column 1.
pub(crate) const STRAY_DETAIL: Code = Code(101);
/// A head that is indented.
pub(crate) const INDENTED_HEAD: Code = Code(102);
/// Details before the first head of a file.
pub(crate) const NO_HEAD_YET: Code = Code(103);
/// A line that is too long to read.
pub(crate) const LINE_TOO_LONG: Code = Code(104);
/// A number with more digits than can be kept.
pub(crate) const NUMBER_TOO_LONG: Code = Code(105);
/// A fraction that is no decimal.
pub(crate) const ENDLESS_FRACTION: Code = Code(106);
/// A fraction of one or more that is no quarter of lumber.
pub(crate) const IMPROPER_FRACTION: Code = Code(107);
/// Quarters of lumber after a whole number.
pub(crate) const QUARTERS_AFTER_COUNT: Code = Code(108);
/// A unit joined to its number.
pub(crate) const JOINED_UNIT: Code = Code(109);
/// A date that is none.
pub(crate) const NO_SUCH_DATE: Code = Code(110);
/// Sizes that no board has.
pub(crate) const WRONG_SIZES: Code = Code(111);
/// Sizes without the units that they need.
pub(crate) const SIZES_NEED_UNITS: Code = Code(112);
/// A price per unit after sizes that doesn't say per what.
pub(crate) const AT_NEEDS_PER: Code = Code(113);
/// The same said twice of one item.
pub(crate) const SAID_TWICE: Code = Code(114);
/// A quantity without the thing.
pub(crate) const UNIT_OF_WHAT: Code = Code(115);
/// A word that may not be a name.
pub(crate) const RESERVED_NAME: Code = Code(116);
/// A name that is misspelled.
pub(crate) const MISSPELLED_NAME: Code = Code(117);
/// A rate, an age or a conversion in the wrong unit.
pub(crate) const WRONG_UNIT_HERE: Code = Code(118);

/// A number without its unit where no thing follows.
pub(crate) const UNIT_MISSING: Code = Code(119);

/// Why a line or head was not read: told already in these words, or left to the table of slips.
#[derive(Debug)]
pub(crate) enum Unread {
    /// The mistake at its place.
    Told(Box<Diagnostic>),
    /// No form of the language.
    Slip,
}

impl From<Diagnostic> for Unread {
    fn from(diagnostic: Diagnostic) -> Self {
        Unread::Told(Box::new(diagnostic))
    }
}

/// Details that stand at column 1, one below another: `first` is the first of them, `lines` all `count`, whose text is `text`.
pub(crate) fn stray_details(first: Span, lines: Span, count: usize, text: &str) -> Diagnostic {
    let indented: Vec<_> =
        text.lines().map(|line| format!("{}{line}", if line.trim().is_empty() { "" } else { "    " })).collect();
    let (message, label, fix) = if count == 1 {
        ("indent this line: it belongs to the entry above".to_owned(), "a line of an entry, at column 1".to_owned(), "indent it")
    } else {
        let message = format!("indent these {count} lines: they belong to the entry above");
        (message, format!("a line of an entry, at column 1, as are {} below it", count - 1), "indent them")
    };
    let told = Diagnostic::new(STRAY_DETAIL, first, message).label(label).fix(fix, lines, indented.join("\n")).sure();
    if text.lines().any(|line| line.starts_with("paid ")) {
        told.note("an entry of its own says who was paid: `paid 2026-03-05 to county-fair`")
    } else {
        told
    }
}

/// A head is indented. `line` is without its indentation, `indent` is that.
pub(crate) fn indented_head(line: Span, indent: Span) -> Diagnostic {
    Diagnostic::new(INDENTED_HEAD, line, "an entry or a definition begins at column 1")
        .label("read as the beginning of a block")
        .fix("begin it at column 1", indent, "")
        .sure()
}

/// A detail stands before any head.
pub(crate) fn no_head_yet(line: Span, text: &str) -> Diagnostic {
    let mut words = text.split_whitespace();
    if let (Some(word @ ("line" | "pattern")), Some(name), None) = (words.next(), words.next(), words.next())
        && is_name(name)
    {
        let mut title = name.replace(['-', '.', '/'], " ");
        if let Some(first) = title.get(..1).map(str::to_uppercase) {
            title.replace_range(..1, &first);
        }
        let end = Span::new(line.end, line.end);
        return Diagnostic::new(NO_HEAD_YET, line, format!("`{word} {name}` defines nothing without its title in quotes"))
            .label("no entry or definition begins before this line, of which it could be a part")
            .note(format!("the title is what a report prints; `{name}` is what the book types"))
            .fix("give it a title", end, format!(" \"{title}\""));
    }
    Diagnostic::new(NO_HEAD_YET, line, "this line belongs to no entry: the file has none above it")
        .label("no entry or definition begins before this line")
}

/// A line is too long.
pub(crate) fn line_too_long(line: Span, bytes: usize) -> Diagnostic {
    Diagnostic::new(LINE_TOO_LONG, line, format!("this line is too long to read: {bytes} bytes"))
        .note(format!("a line may have at most {} bytes; cut a list into several lines of the same word", LONGEST_LINE))
}

/// A number can't be read; `None` leaves the line to the table of slips.
pub(crate) fn number_fault(span: Span, text: &str, fault: NumberFault) -> Option<Diagnostic> {
    Some(match fault {
        NumberFault::TooLong => Diagnostic::new(NUMBER_TOO_LONG, span, "this number is too long: at most 28 digits can be kept"),
        NumberFault::NotFinite | NumberFault::ZeroDenominator => {
            let third = text.ends_with("/3");
            let what = if third { "a third".to_owned() } else { format!("`{text}`") };
            Diagnostic::new(ENDLESS_FRACTION, span, format!("{what} has no exact decimal"))
                .note("a recipe may say it of several: `1 ea cotton-bag per 3 ea`")
        }
        NumberFault::ImproperFraction => {
            let found = Diagnostic::new(IMPROPER_FRACTION, span, format!("the fraction `{text}` is one or more"))
                .note("only quarters of lumber are written so, from `4/4` to `16/4`");
            match split_improper(text) {
                Some(mixed) => found.fix("a blank after the whole number", span, mixed),
                None => found,
            }
        }
        NumberFault::QuartersAfterWhole => Diagnostic::new(
            QUARTERS_AFTER_COUNT,
            span,
            format!("a whole number stands before the quarters of lumber in `{text}`"),
        )
        .note("the count comes first, the sizes after the name: `4 boards walnut, 5/4 x 6 x 48 in`"),
        _ => return None,
    })
}

/// `61/2` as `6 1/2`, where that is a proper fraction.
fn split_improper(text: &str) -> Option<String> {
    let (above, below) = text.split_once('/')?;
    let below_value: u32 = below.parse().ok()?;
    (1..above.len()).rev().find_map(|at| {
        let (whole, part) = above.split_at_checked(at)?;
        let part_value: u32 = part.parse().ok()?;
        (part_value > 0 && part_value < below_value && !part.starts_with('0')).then(|| format!("{whole} {part}/{below}"))
    })
}

/// A unit is joined to its number.
pub(crate) fn joined_unit(span: Span, number: &str, unit: &str) -> Diagnostic {
    // `15O`: no unit is made of what looks like a nought.
    if unit.bytes().all(|letter| matches!(letter, b'O' | b'o')) {
        let meant = format!("{number}{}", "0".repeat(unit.len()));
        return Diagnostic::new(JOINED_UNIT, span, format!("a letter `{unit}` stands in the number: `{meant}`")).fix(
            "with a nought",
            span,
            meant,
        );
    }
    Diagnostic::new(JOINED_UNIT, span, format!("a blank stands between a number and its unit: `{number} {unit}`"))
        .label("only a time may be joined")
        .fix("put a blank between them", span, format!("{number} {unit}"))
        .sure()
}

/// A date is no day of the calendar; `None` leaves the line to the table of slips.
pub(crate) fn date_fault(span: Span, fault: DateFault) -> Option<Diagnostic> {
    match fault {
        DateFault::NotIso => None,
        other => Some(Diagnostic::new(NO_SUCH_DATE, span, other.to_string()).label("no such date")),
    }
}

/// Sizes are none of a board or sheet.
pub(crate) fn wrong_sizes(span: Span, why: String) -> Diagnostic {
    Diagnostic::new(WRONG_SIZES, span, why)
}

/// Sizes lack a unit.
pub(crate) fn sizes_need_units(span: Span, why: String) -> Diagnostic {
    Diagnostic::new(SIZES_NEED_UNITS, span, why)
}

/// `at` after sizes without `per`.
pub(crate) fn at_needs_per(span: Span, text: &str) -> Diagnostic {
    Diagnostic::new(AT_NEEDS_PER, span, "after sizes, `at` must say per what")
        .fix("the price of one board foot", span, format!("{text} per bf"))
        .note("or `for` with the money for the whole line")
}

/// The same is said twice.
pub(crate) fn said_twice(first: Span, second: Span) -> Diagnostic {
    Diagnostic::new(SAID_TWICE, second, "this is said twice of the same item").label("again").also(first, "said here first")
}

/// A unit without a thing.
pub(crate) fn unit_of_what(span: Span, text: &str, unit: &str) -> Diagnostic {
    Diagnostic::new(UNIT_OF_WHAT, span, format!("`{text}` of what? the thing's name follows its unit"))
        .label(format!("`{unit}` is a unit, never a name"))
}

/// A number without its unit where no thing follows that would tell it.
pub(crate) fn unit_missing(span: Span, text: &str) -> Diagnostic {
    Diagnostic::new(UNIT_MISSING, span, format!("`{text}` of what? where no thing follows a number, its unit stands there")).fix(
        "of whole things",
        span,
        format!("{text} ea"),
    )
}

/// A reserved word as a name.
pub(crate) fn reserved_name(span: Span, word: &str) -> Diagnostic {
    Diagnostic::new(RESERVED_NAME, span, format!("`{word}` can't be a name: it is a word of the language"))
}

/// A reserved word as a supplier, buyer or payee, who may have any name in quotes.
pub(crate) fn reserved_party(span: Span, word: &str) -> Diagnostic {
    let told = reserved_name(span, word);
    // An article begins a name of several words.
    if matches!(word, "the" | "my" | "our" | "a" | "an") {
        return told;
    }
    told.fix("in quotes, if that is the name", span, format!("\"{word}\""))
}

/// A misspelled name.
pub(crate) fn misspelled_name(span: Span, word: &str) -> Diagnostic {
    Diagnostic::new(MISSPELLED_NAME, span, format!("`{word}` is not spelled as a name"))
        .note("a name begins with a letter and goes on with letters, digits, and `-` `.` `/` between two of those")
}

/// A unit that can't stand here.
pub(crate) fn wrong_unit_here(span: Span, word: &str, expected: &str, fixed: &str) -> Diagnostic {
    Diagnostic::new(WRONG_UNIT_HERE, span, format!("`{word}` is said {expected}")).fix("the unit", span, fixed)
}

/// The left side of a conversion is not one.
pub(crate) fn one_of_a_unit(span: Span, found: &str) -> Diagnostic {
    Diagnostic::new(WRONG_UNIT_HERE, span, format!("what one of a unit holds is said, not what `{found}` do"))
        .label("`1` stands here")
        .note("`1 bag = 50 ea`; for money, `1 EUR = 1.0842`")
}
