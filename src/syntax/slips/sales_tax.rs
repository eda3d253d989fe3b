//! Slips of sales tax: `sales tax` in two words, and a percent of which nothing says whether the prices hold it.

use super::slip::{Slip, SlipRule};
use super::small_words::tell;
use super::typed::{Typed, Word, is_number};
use crate::syntax::Verb;
use crate::syntax::slip_errors::SMALL_WORD;

pub(super) const RULES: &[SlipRule] = &[percent_of_tax, sales_tax];

/// `sales tax 8%`, `8% sales-tax`, `plus 8% tax`
fn percent_of_tax(typed: &Typed<'_>) -> Option<Slip> {
    const INCLUDED: [&str; 6] = ["included", "incl", "inclusive", "inside", "within", "incl."];
    const ON_TOP: [&str; 8] = ["plus", "added", "extra", "top", "on", "and", "+", "with"];
    let at = typed.words.iter().position(|word| word.text.strip_suffix('%').is_some_and(is_number))?;
    let is_tax = |word: &Word<'_>| word.is_one_of(&["sales-tax", "tax", "salestax", "vat", "gst", "sales"]);
    let known = typed.words.iter().enumerate().all(|(place, word)| {
        place == at || is_tax(word) || word.is_one_of(&INCLUDED) || word.is_one_of(&ON_TOP) || word.is_one_of(&["of", "in"])
    });
    let here = typed.is_detail() && matches!(typed.verb(), Some(Verb::Sold | Verb::Bought | Verb::Returned));
    if !here || !known || !typed.words.iter().any(is_tax) {
        return None;
    }
    let words = 0..typed.words.len();
    let within = format!("sales-tax {} included", typed.word(at).text);
    if typed.text == within {
        return None;
    }
    let said = |all: &[&str]| typed.words.iter().any(|word| word.is_one_of(all));
    let sale = typed.verb() == Some(Verb::Sold);
    let message = "is the tax within the prices, or did the buyer pay it on top of them?";
    if said(&INCLUDED) && sale {
        return Some(tell(typed, words, format!("tax within the prices is written `{within}`"), &within));
    }
    let slip = Slip::new(SMALL_WORD, typed.range(words), if sale { message } else { "the tax of a bill is said with its sum" });
    let slip = slip.note("SUM is the tax in money, as the receipt has it: `sales-tax 8.40`");
    let on_top = |slip: Slip| slip.fix("on top of them, with its sum", "sales-tax SUM");
    Some(match sale && !said(&ON_TOP) {
        true => on_top(slip.fix("within the prices", within)),
        false => on_top(slip),
    })
}

/// `sales tax 8.40`, `tax 8.40`, `salestax 8.40`
fn sales_tax(typed: &Typed<'_>) -> Option<Slip> {
    let at = (0..typed.words.len()).find(|at| {
        let (word, next) = (typed.word(*at), typed.word(at + 1));
        let two = word.is("sales") && next.is("tax");
        let one = word.is_one_of(&["salestax", "sales_tax", "vat", "gst"]) || word.is("tax") && *at == 0 && !next.is("form");
        let include = word.is("tax") && *at > 0 && typed.word(at - 1).is_one_of(&["for", "include"]);
        !word.comma && (two || one || include)
    })?;
    let words = at..at + 1 + usize::from(typed.word(at).is("sales"));
    // Another tax may be meant by its own word.
    let is_sales_tax = !typed.word(at).is_one_of(&["vat", "gst", "tax"]);
    Some(tell(typed, words, "this is one word: `sales-tax`".to_owned(), "sales-tax").sure_if(is_sales_tax))
}
