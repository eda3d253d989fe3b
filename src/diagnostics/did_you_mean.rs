//! Near names: what may have been meant by a name that is not known.
//!
//! In: what was typed, and only those names that may stand there. Out: at most three, the nearest first.

use rapidfuzz::distance::osa::{Args, BatchComparator, distance};

/// The most names that are offered.
const MOST: usize = 3;

/// How many edits two texts are apart: letters put in, left out, replaced, or neighbours swapped.
pub fn edits(one: &str, other: &str) -> usize {
    distance(one.chars(), other.chars())
}

/// Whether two texts are the same but for capital letters.
fn differ_in_case_only(one: &str, other: &str) -> bool {
    one.chars().flat_map(char::to_lowercase).eq(other.chars().flat_map(char::to_lowercase))
}

/// The names that are near to what was typed: those of the same letters in another case first, then those within an edit
/// distance ([`edits`]) of a third of the typed length, and at least one; names at the same distance in their own order,
/// at most three.
pub fn near_names<'n>(typed: &str, known: impl IntoIterator<Item = &'n str>) -> Vec<&'n str> {
    let letters = typed.chars().count();
    let most = (letters / 3).max(1);
    let to_typed = BatchComparator::new(typed.chars());
    let mut near: Vec<(usize, &str)> = Vec::new();
    for name in known.into_iter().filter(|name| *name != typed) {
        if differ_in_case_only(name, typed) {
            near.push((0, name));
            continue;
        }
        // The distance is at least the difference of the lengths, which is far cheaper to know.
        if name.chars().count().abs_diff(letters) <= most {
            let within = Args::default().score_cutoff(most);
            near.extend(to_typed.distance_with_args(name.chars(), &within).map(|distance| (distance, name)));
        }
    }
    near.sort_unstable();
    near.dedup();
    near.truncate(MOST);
    near.into_iter().map(|(_, name)| name).collect()
}

/// Names of which the typed one is a word, as `stool` is of `step-stool`, at most three.
fn names_with_the_word<'n>(typed: &str, known: impl IntoIterator<Item = &'n str>) -> Vec<&'n str> {
    let is_word = |name: &&str| !typed.is_empty() && name.split('-').count() > 1 && name.split('-').any(|word| word == typed);
    let mut with: Vec<&str> = known.into_iter().filter(is_word).collect();
    with.sort_unstable();
    with.dedup();
    with.truncate(MOST);
    with
}

/// The near names as a question: ``did you mean `a`, `b` or `c`?``; `None` where nothing is near. Where no name is spelled nearly so, those
/// that have it for one of their words.
pub fn did_you_mean<'n>(typed: &str, known: impl IntoIterator<Item = &'n str>) -> Option<String> {
    let known: Vec<&str> = known.into_iter().collect();
    let mut near = near_names(typed, known.iter().copied());
    if near.is_empty() {
        near = names_with_the_word(typed, known);
    }
    let (last, first) = near.split_last()?;
    let first: Vec<_> = first.iter().map(|name| format!("`{name}`")).collect();
    Some(match first.is_empty() {
        true => format!("did you mean `{last}`?"),
        false => format!("did you mean {} or `{last}`?", first.join(", ")),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const NAMES: [&str; 7] = ["red-oak", "white-oak", "walnut", "maple", "Maple-2", "oak", "wheel-40"];

    #[test]
    fn a_wrong_or_swapped_letter_is_near() {
        assert_eq!(near_names("red-oka", NAMES), ["red-oak"]);
        assert_eq!(near_names("walnt", NAMES), ["walnut"]);
        assert_eq!(near_names("oka", NAMES), ["oak"]);
    }

    #[test]
    fn another_case_comes_before_another_letter() {
        assert_eq!(near_names("MAPLE", ["mAPLE", "maple", "APPLE"]), ["mAPLE", "maple"]);
        assert_eq!(near_names("Maple", ["maples", "Mable", "maple"]), ["maple", "Mable"]);
    }

    #[test]
    fn what_is_far_away_is_not_offered() {
        assert!(near_names("cherry", NAMES).is_empty());
        assert!(near_names("", NAMES).is_empty());
        assert!(near_names("ab", ["xy"]).is_empty());
    }

    #[test]
    fn edits_are_letters_put_in_left_out_replaced_or_swapped() {
        let of = |typed, known| edits(typed, known);
        assert_eq!(
            [of("oak", "oak"), of("oka", "oak"), of("ok", "oak"), of("oaks", "oak"), of("eak", "oak"), of("", "oak")],
            [0, 1, 1, 1, 1, 3]
        );
        assert_eq!(of("chêne", "chene"), 1);
        // Longer than the 64 letters of one machine word.
        let long = "maple-".repeat(20);
        assert_eq!(edits(&long, &long.replacen("maple", "mapel", 2)), 2);
        assert_eq!(near_names(&long.replacen("maple", "mapel", 2), [long.as_str(), "maple"]), [long.as_str()]);
    }

    #[test]
    fn ties_are_in_the_names_own_order_and_three_at_most() {
        assert_eq!(near_names("cart", ["carz", "cars", "caru", "carp", "cart"]), ["carp", "cars", "caru"]);
    }

    #[test]
    fn the_question_reads_as_a_sentence() {
        assert_eq!(did_you_mean("red-oka", NAMES).as_deref(), Some("did you mean `red-oak`?"));
        let three = did_you_mean("cart", ["carz", "cars", "carp"]);
        assert_eq!(three.as_deref(), Some("did you mean `carp`, `cars` or `carz`?"));
        assert_eq!(did_you_mean("cherry", NAMES), None);
    }
}
