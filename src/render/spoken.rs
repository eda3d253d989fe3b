//! Words for what a report names by a key: `at_start` is said *at start*, `wear` heads *Blades, paper and other wear*.

/// A key as words, with a capital letter: `own_minutes` is *Own minutes*.
pub(crate) fn spoken(key: &str) -> String {
    let words = key.replace("bought_in", "bought-in").replace('_', " ");
    let mut letters = words.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => words,
    }
}

/// The heading of things of one kind.
pub(crate) fn kind_heading(kind: &str) -> &str {
    match kind {
        "material" => "Materials",
        "wear" => "Blades, paper and other wear",
        "packing" => "Packing",
        "product" => "Products",
        "line" => "Product lines",
        "channel" => "Channels",
        "fair" => "Fairs",
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_is_said_in_words() {
        assert_eq!(spoken("at_start"), "At start");
        assert_eq!(spoken("bought_in_minutes"), "Bought-in minutes");
        assert_eq!(spoken(""), "");
    }

    #[test]
    fn a_kind_nobody_knows_is_shown_by_its_key() {
        assert_eq!(kind_heading("jig"), "jig");
    }
}
