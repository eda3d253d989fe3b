//! Slips of balances: `2150 in the bank`, `cash 640` among what a shop opens with or counts.

use super::no_entry::left_out;
use super::slip::{Slip, SlipRule};
use super::spoken::sum_of;
use super::typed::Typed;
use crate::syntax::Verb;

pub(super) const RULES: &[SlipRule] = &[at_hand];

/// Where money is.
const WHERE: [&str; 15] = [
    "cash",
    "bank",
    "checking",
    "savings",
    "money",
    "till",
    "cash-box",
    "cashbox",
    "drawer",
    "petty-cash",
    "account",
    "box",
    "wallet",
    "register",
    "balance",
];
/// Small words around it.
const SMALL: [&str; 16] =
    ["in", "the", "at", "on", "hand", "my", "our", "shop", "petty", "business", "of", "and", "a", "is", "left", "dollars"];

/// `2150 in the bank`, `cash 640`, `cash on hand 640` below `opened` or `counted`
fn at_hand(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && matches!(typed.verb(), Some(Verb::Opened | Verb::Counted));
    let (mut sums, mut places) = (0, 0);
    for at in 0..typed.words.len() {
        let word = typed.word(at);
        match () {
            () if sum_of(typed, at).is_some() => sums += 1,
            () if word.is_one_of(&WHERE) => places += 1,
            () if word.is_one_of(&SMALL) => {}
            () => return None,
        }
    }
    (here && sums == 1 && places > 0).then(|| {
        let message = "balances of cash and bank are not kept in this book";
        left_out(typed, 0..typed.text.len(), message).note("what is bought, sold and paid from now on is all that counts")
    })
}
