//! Which kinds of names may stand at a place of a line, by the words before it alone: for lines that were not read.

use crate::names::kinds::word_of;
use crate::syntax::DefinitionWord;
use crate::units::read_decimal;

/// Every kind of name.
pub(crate) const ALL: &[DefinitionWord] = &[
    DefinitionWord::Place,
    DefinitionWord::Step,
    DefinitionWord::Material,
    DefinitionWord::Product,
    DefinitionWord::Line,
    DefinitionWord::Pattern,
    DefinitionWord::Helper,
    DefinitionWord::Channel,
    DefinitionWord::Expense,
    DefinitionWord::Income,
    DefinitionWord::Tool,
];

/// Whether a line with this first word defines something.
pub(crate) fn is_definition(word: &str) -> bool {
    ALL.iter().any(|kind| word_of(*kind) == word)
}

/// Where a word stands in a line.
pub(crate) fn place_of(line: &str, word: &str) -> Option<usize> {
    let is_end = |byte: Option<&u8>| byte.is_none_or(|byte| matches!(byte, b' ' | b',' | b'\n' | b'\t'));
    let bytes = line.as_bytes();
    let whole =
        |at: &usize| at.checked_sub(1).is_none_or(|before| is_end(bytes.get(before))) && is_end(bytes.get(at + word.len()));
    line.match_indices(word).map(|(at, _)| at).find(whole)
}

/// Which kinds of names may stand at a place of a line, by the words before it.
pub(crate) fn wanted_at(line: &str, at: usize) -> &'static [DefinitionWord] {
    use DefinitionWord as D;
    let before = line.get(..at).unwrap_or("");
    let words: Vec<&str> = before.rsplit('\n').next().unwrap_or("").split_whitespace().collect();
    let is_number = |word: &str| read_decimal(word).is_ok();
    let is_time = |word: &str| {
        let figure = word.strip_suffix(['h', 'm']);
        figure.is_some_and(|figure| !figure.is_empty() && figure.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.'))
    };
    match words.as_slice() {
        [.., "via"] => &[D::Channel],
        [.., "at"] => &[D::Place],
        [.., "by"] => &[D::Helper],
        [.., "off"] => &[D::Material, D::Product],
        [money, "for"] if is_number(money) => &[D::Expense, D::Income, D::Helper, D::Pattern],
        [.., time] if is_time(time) => &[D::Step],
        [.., number, "min"] if is_number(number) => &[D::Step],
        [.., number] if is_number(number) => &[D::Material, D::Product, D::Tool],
        [.., number, _, "ft" | "in" | "m" | "oz" | "yd"] | [.., number, _] if is_number(number) => {
            &[D::Material, D::Product, D::Tool]
        }
        _ => ALL,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_words_before_a_name_say_what_it_may_be() {
        use DefinitionWord as D;
        let goods: &[D] = &[D::Material, D::Product, D::Tool];
        for (line, name, wanted) in [
            ("    took 3h nell-folding", "nell-folding", &[D::Step][..]),
            ("    45 min shop-floor", "shop-floor", &[D::Step]),
            ("    40 sq ft text-paper-mildew", "text-paper-mildew", goods),
            ("    2 sheets red-board", "red-board", goods),
            ("    2 red-board", "red-board", goods),
            ("sold 2026-03-02 via the-fair", "the-fair", &[D::Channel]),
            ("    60.00 for the-table", "the-table", &[D::Expense, D::Income, D::Helper, D::Pattern]),
            ("    2 cart for the-table", "the-table", ALL),
        ] {
            let at = place_of(line, name).expect("it stands there");
            assert_eq!(wanted_at(line, at), wanted, "{line}");
        }
        assert_eq!(place_of("    2 red-boards", "red-board"), None);
    }
}
