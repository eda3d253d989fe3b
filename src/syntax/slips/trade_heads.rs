//! Heads that are no verb of the language and say what a shop does all the same: under which entry their lines are read.

use super::{buyer, job, no_entry, own_money, remade};
use crate::syntax::unread_line::known_head;

/// The verb that another head of the trade stands for, where more than its first word says so: `taught`, `delivered … to "Mrs. Dell"`.
pub(crate) fn verb_of_the_trade(text: &str) -> Option<&'static str> {
    match () {
        () if job::is_work(text) || buyer::is_delivery(text) => Some("sold"),
        () if remade::is_batch(text) => Some("built"),
        () if is_order(text) => Some("received"),
        () if text.starts_with("settled ") => Some("sold"),
        () => None,
    }
}

/// `ordered 2026-09-17 by "Mrs. Hale"`, `ordered 2026-09-21 via custom order "DANA"`: what a buyer ordered.
fn is_order(text: &str) -> bool {
    let mut words = text.split_whitespace();
    matches!(words.next(), Some("ordered" | "order")) && words.any(|word| matches!(word, "by" | "via" | "order"))
}

/// Whether a head says what no entry keeps, or what is two entries: the lines below it are then no mistakes of their own.
pub(crate) fn is_no_entry(text: &str) -> bool {
    known_head(text).is_none() && (no_entry::is_no_entry(text) || own_money::is_own_money(text) || remade::is_exchange(text))
}
