//! English plurals, so that a maker can write `6 pull-carts` and `2 bags`.
//!
//! In: a name. Out: the plurals that English may make of it, or the names that a plural may come from. The rules are those of
//! school grammar, with a short list of irregular words; a plural that they don't know is simply not understood.

/// Words whose plural follows no rule: singular, plural.
const IRREGULAR: [(&str, &str); 10] = [
    ("foot", "feet"),
    ("tooth", "teeth"),
    ("goose", "geese"),
    ("mouse", "mice"),
    ("man", "men"),
    ("woman", "women"),
    ("child", "children"),
    ("person", "people"),
    ("die", "dice"),
    ("ox", "oxen"),
];

/// What stands before a name's last word, if that is the given one: `table-foot` ends with the word `foot`, `box` not with `ox`.
fn before_last_word<'n>(name: &'n str, word: &str) -> Option<&'n str> {
    name.strip_suffix(word).filter(|stem| !stem.ends_with(char::is_alphanumeric))
}

/// Every plural that English may make of a name, the likeliest first: `box` makes `boxes`, `shelf` makes `shelves` and `shelfs`.
pub(crate) fn plurals_of(name: &str) -> Vec<String> {
    let mut plurals = Vec::new();
    for (one, many) in IRREGULAR {
        if let Some(stem) = before_last_word(name, one) {
            plurals.push(format!("{stem}{many}"));
        }
    }
    if name.ends_with('z') {
        plurals.push(format!("{name}zes"));
    }
    if ["s", "x", "z", "ch", "sh"].iter().any(|end| name.ends_with(end)) {
        plurals.push(format!("{name}es"));
        return plurals;
    }
    let before_last = name.chars().rev().nth(1);
    let after_consonant = before_last.is_some_and(|one| one.is_alphabetic() && !"aeiouAEIOU".contains(one));
    if after_consonant && let Some(stem) = name.strip_suffix('y') {
        plurals.push(format!("{stem}ies"));
        return plurals;
    }
    if after_consonant && name.ends_with('o') {
        plurals.push(format!("{name}es"));
    }
    if let Some(stem) = name.strip_suffix("fe").or_else(|| name.strip_suffix('f')) {
        plurals.push(format!("{stem}ves"));
    }
    plurals.push(format!("{name}s"));
    plurals
}

/// Whether a name is the singular of what was typed.
pub(crate) fn singular_of(typed: &str, name: &str) -> bool {
    plurals_of(name).iter().any(|plural| plural == typed)
}

/// The likeliest plural of a name, for messages.
pub(crate) fn plural_of(name: &str) -> String {
    plurals_of(name).swap_remove(0)
}

/// Every name of which a text may be the plural: `boxes` may come from `box` and `boxe`.
pub(crate) fn singulars_of(plural: &str) -> Vec<String> {
    let mut stems = Vec::new();
    for (one, many) in IRREGULAR {
        if let Some(stem) = before_last_word(plural, many) {
            stems.push(format!("{stem}{one}"));
        }
    }
    for (many, ones) in [("zzes", &["z"][..]), ("ies", &["y"]), ("ves", &["f", "fe"]), ("es", &[""]), ("s", &[""])] {
        if let Some(stem) = plural.strip_suffix(many) {
            stems.extend(ones.iter().map(|one| format!("{stem}{one}")));
        }
    }
    stems.retain(|one| !one.is_empty() && plurals_of(one).iter().any(|many| many == plural));
    stems
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plurals_of_the_shop_are_known() {
        let cases = [
            ("pull-cart", "pull-carts"),
            ("box", "boxes"),
            ("bag", "bags"),
            ("sheet", "sheets"),
            ("brush", "brushes"),
            ("bench", "benches"),
            ("tray", "trays"),
            ("cherry", "cherries"),
            ("wheel-40", "wheel-40s"),
            ("knife", "knives"),
            ("shelf", "shelves"),
            ("table-foot", "table-feet"),
            ("glass", "glasses"),
            ("piano", "pianoes"),
        ];
        for (one, many) in cases {
            assert_eq!(plural_of(one), many);
            assert!(singulars_of(many).contains(&one.to_owned()), "{many}");
        }
        assert!(singulars_of("pianos").contains(&"piano".to_owned()));
    }

    #[test]
    fn what_is_no_plural_comes_from_nothing() {
        for text in ["red-oak", "", "s", "boxs", "cherrys", "boxen"] {
            assert!(singulars_of(text).is_empty(), "{text}");
        }
    }
}
