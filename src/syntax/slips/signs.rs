//! Slips of single signs: quotes, dashes, bullets, other comment signs, `½`, `and` in a list.

use super::slip::{Slip, SlipRule};
use super::typed::{Typed, is_name, is_number, is_quote};
use crate::syntax::Verb;
use crate::syntax::slip_errors::{HASH_IN_LINE, NUMBER_SPELLING, OPEN_QUOTE, STRAY_SIGN};

pub(super) const RULES: &[SlipRule] =
    &[other_comment, bullet, hash_as_number, open_quote, single_quotes, letter_in_number, vulgar_fraction, dash, and_in_list];
/// What is left at the end of a line, tried when nothing else fits.
pub(super) const END_RULES: &[SlipRule] = &[sign_at_end];

/// `// sanded again`, `-- x`, `; x`
fn other_comment(typed: &Typed<'_>) -> Option<Slip> {
    let first = typed.word(0);
    let sign = ["//", "--", ";", "/*", "%"].into_iter().find(|sign| first.text.starts_with(sign))?;
    let rest = typed.text.get(sign.len()..)?.trim_start();
    let at = first.start..first.start + sign.len();
    let slip = Slip::new(STRAY_SIGN, at, format!("`{sign}` begins no comment; `#` does"));
    Some(slip.fix("write `#`", format!("# {rest}")).sure())
}

/// `- 2 pull-cart`
fn bullet(typed: &Typed<'_>) -> Option<Slip> {
    let first = typed.word(0);
    if !matches!(first.text, "-" | "*" | "•" | "–" | "+" | ">") || typed.words.len() < 2 {
        return None;
    }
    let rest = typed.text.get(typed.word(1).start..)?;
    let slip = Slip::new(STRAY_SIGN, first.start..first.end(), format!("`{}` before a line means nothing", first.text));
    Some(slip.fix("leave it out", rest))
}

/// `order #1042`
fn hash_as_number(typed: &Typed<'_>) -> Option<Slip> {
    let last = typed.words.last().filter(|last| last.is_one_of(&["order", "orders", "receipt", "lot", "batch"]))?;
    let number = typed.comment.strip_prefix('#')?.split_whitespace().next()?;
    let quoted = if last.is_one_of(&["lot", "batch"]) { number.to_owned() } else { format!("\"{number}\"") };
    let slip =
        Slip::new(HASH_IN_LINE, last.start..last.end(), format!("`#` begins a comment, so nothing follows `{}`", last.text));
    // `sold … on web-page order #12`
    let on = (typed.verb() == Some(Verb::Sold) && typed.context.column_one && last.is("order"))
        .then(|| typed.words.iter().position(|word| word.is_one_of(&["on", "at", "through"])))
        .flatten();
    let front = on.map_or_else(|| typed.text.to_owned(), |on| typed.with(on..on + 1, "via"));
    Some(slip.over_comment().fix("write the number without it", format!("{front} {quoted}")))
}

/// `note "oiled twice`
fn open_quote(typed: &Typed<'_>) -> Option<Slip> {
    let last = typed.words.last().filter(|last| typed.open_quote && last.quoted)?;
    let at = last.start..last.end();
    let slip = Slip::new(OPEN_QUOTE, at, "the text has no closing quote").note("a text ends at the next `\"` on its own line");
    Some(slip.fix("close it", format!("{}\"", typed.text)))
}

/// A word with the figures that its letters look like: `15O`, `1l0`, `2026-O1-12`.
pub(super) fn with_figures(text: &str) -> Option<String> {
    let looks_like = |letter: char| match letter {
        'O' | 'o' => '0',
        'l' | 'I' => '1',
        other => other,
    };
    let digits = text.bytes().filter(u8::is_ascii_digit).count();
    let mended: String = text.chars().map(looks_like).collect();
    let figures = mended.bytes().all(|byte| byte.is_ascii_digit() || matches!(byte, b'.' | b'-'));
    // `5l` is five litres, `O-1` a code.
    let last = text.ends_with(['l', 'I']) && !text.contains('-');
    (figures && digits > 0 && mended != text && !last && text.starts_with(|first: char| first.is_ascii_digit())).then_some(mended)
}

/// `15O.00`, `1l0`
fn letter_in_number(typed: &Typed<'_>) -> Option<Slip> {
    let (at, word, right) = typed.words.iter().enumerate().find_map(|(at, word)| {
        let code = at.checked_sub(1).is_some_and(|before| {
            typed.word(before).is_one_of(&["lot", "batch", "order", "orders", "on", "receipt", "certificate", "line"])
        });
        let right = with_figures(word.text).filter(|right| !word.quoted && !code && is_number(right))?;
        Some((at, word, right))
    })?;
    let message = format!("a letter stands in the number: `{right}`");
    let slip = Slip::new(NUMBER_SPELLING, word.start..word.end(), message);
    Some(slip.fix("with a figure", typed.with(at..at + 1, &right)))
}

/// `to 'J. in Dover'`
fn single_quotes(typed: &Typed<'_>) -> Option<Slip> {
    const SINGLE: [char; 4] = ['\'', '\u{2018}', '\u{2019}', '`'];
    let first = typed.words.iter().position(|word| word.text.starts_with(SINGLE) && word.text.len() > 1)?;
    let last = typed.words.iter().skip(first).position(|word| word.text.ends_with(SINGLE))? + first;
    let inner = typed.slice(first..last + 1).trim_matches(SINGLE);
    let slip = Slip::new(OPEN_QUOTE, typed.range(first..last + 1), "a text stands between double quotes");
    Some(slip.fix("write double quotes", typed.with(first..last + 1, &format!("\"{inner}\""))).sure())
}

/// `1½`, `½ bf`
fn vulgar_fraction(typed: &Typed<'_>) -> Option<Slip> {
    let mut slip: Option<Slip> = None;
    let mut line = String::new();
    let mut copied = 0;
    for word in typed.words.iter().filter(|word| !word.quoted) {
        for (within, letter) in word.text.char_indices() {
            let Some(fraction) = spelled_fraction(letter) else { continue };
            let at = word.start + within;
            let before = typed.text.get(copied..at).unwrap_or("");
            let joined = within > 0 && word.text.as_bytes().get(within - 1).is_some_and(u8::is_ascii_digit);
            let after = word.text.get(within + letter.len_utf8()..).unwrap_or("");
            let gap_after = if after.starts_with(char::is_alphabetic) { " " } else { "" };
            line.push_str(before);
            line.push_str(&format!("{}{fraction}{gap_after}", if joined { " " } else { "" }));
            copied = at + letter.len_utf8();
            slip.get_or_insert_with(|| {
                let range = at..at + letter.len_utf8();
                Slip::new(NUMBER_SPELLING, range, format!("`{letter}` is one sign; a fraction is written `{fraction}`"))
            });
        }
    }
    line.push_str(typed.text.get(copied..).unwrap_or(""));
    Some(slip?.fix("write it out", line).sure())
}

/// A fraction that is one sign, written out.
fn spelled_fraction(letter: char) -> Option<&'static str> {
    Some(match letter {
        '½' => "1/2",
        '¼' => "1/4",
        '¾' => "3/4",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        '⅓' => "1/3",
        '⅔' => "2/3",
        '⅕' => "1/5",
        '⅖' => "2/5",
        '⅗' => "3/5",
        '⅘' => "4/5",
        '⅙' => "1/6",
        '⅚' => "5/6",
        _ => return None,
    })
}

/// `pull–cart`, `2026—03—02`, `−5.00`
fn dash(typed: &Typed<'_>) -> Option<Slip> {
    let is_dash = |letter: char| matches!(letter, '\u{2010}'..='\u{2015}' | '\u{2212}' | '\u{FE63}' | '\u{FF0D}');
    let first = typed.words.iter().find(|word| !word.quoted && word.text.contains(is_dash) && word.text.chars().count() > 1)?;
    let sign = first.text.chars().find(|letter| is_dash(*letter))?;
    let mut line = typed.text.to_owned();
    for word in typed.words.iter().rev().filter(|word| !word.quoted && word.text.chars().count() > 1) {
        line.replace_range(word.start..word.end(), &word.text.replace(is_dash, "-"));
    }
    let name = if sign == '\u{2212}' { "a minus sign" } else { "a long dash" };
    let at = first.start..first.end();
    let slip = Slip::new(STRAY_SIGN, at, format!("`{sign}` is {name}; names and dates are written with `-`"));
    // A minus sign may be meant as one.
    Some(slip.fix("write a hyphen", line).sure_if(sign != '\u{2212}'))
}

/// `2 pull-cart and 1 village-set`, `2 pull-cart; 1 village-set`
fn and_in_list(typed: &Typed<'_>) -> Option<Slip> {
    let at = (1..typed.words.len().saturating_sub(1)).find(|at| {
        let (word, next) = (typed.word(*at), typed.word(*at + 1));
        let in_time = typed.word(*at - 1).is_one_of(&["h", "hr", "hour", "hours"]);
        !in_time
            && word.is_one_of(&["and", "&", "+", ";", "plus"])
            && next.text.starts_with(|letter: char| letter.is_ascii_digit())
    });
    if let Some(at) = at {
        let before = typed.word(at - 1);
        let comma = if before.comma { "" } else { "," };
        let line = typed.with_range(before.end()..typed.word(at).end(), comma);
        let line = if before.comma { typed.with(at..at + 1, "").replace("  ", " ") } else { line };
        let word = typed.word(at);
        let slip = Slip::new(
            STRAY_SIGN,
            word.start..word.end(),
            format!("the items of a list are parted by commas, not by `{}`", word.text),
        );
        return Some(slip.fix("write a comma", line).sure());
    }
    let word = typed.words.iter().enumerate().find(|(at, word)| {
        let next = typed.word(at + 1);
        !word.quoted && word.text.ends_with(';') && next.text.starts_with(|letter: char| letter.is_ascii_digit())
    });
    let (_, word) = word?;
    let sign = word.end() - 1..word.end();
    let slip = Slip::new(STRAY_SIGN, sign.clone(), "the items of a list are parted by commas, not by `;`");
    Some(slip.fix("write a comma", typed.with_range(sign, ",")).sure())
}

/// `sold 2026-03-20 via web-page:`, `2 pull-cart;`, `1 village-set.`
fn sign_at_end(typed: &Typed<'_>) -> Option<Slip> {
    let last = typed.words.last()?;
    let trailing = last.text.trim_end_matches([';', ':', '.', '!', '?', '|', ')']);
    if last.comma && typed.text.ends_with(',') {
        let line = typed.text.trim_end_matches([',', ' ']);
        let at = line.len()..typed.text.len();
        return Some(Slip::new(STRAY_SIGN, at, "nothing follows the last comma").fix("leave it out", line).sure());
    }
    let known = is_name(trailing) || is_number(trailing) || trailing.ends_with(is_quote) || typed.word(0).is_date();
    if last.quoted || trailing.is_empty() || trailing.len() == last.text.len() || !known {
        return None;
    }
    let sign = last.text.get(trailing.len()..)?;
    let at = last.start + trailing.len()..last.end();
    let slip = Slip::new(STRAY_SIGN, at.clone(), format!("a line ends without `{sign}`"));
    Some(slip.fix("leave it out", typed.with_range(at, "")))
}
