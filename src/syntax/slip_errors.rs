//! The codes of the slips: lines that could not be read, by what was probably meant. Each has a page in
//! `diagnostics/explain/`. A code is never reused. What the lowering tells too has its code in `errors.rs`.

use crate::diagnostics::Code;

/// A line that no form of the language and no known slip fits.
pub(crate) const UNREAD_LINE: Code = Code(100);
/// Money with a sign, a comma or a currency: `$5.90`, `1,250.00`, `12.00 EUR`.
pub(crate) const MONEY_SPELLING: Code = Code(150);
/// A price without `at` or `for`, or in a shop's shorthand: `@ 5.90`, `5.90/bf`.
pub(crate) const PRICE_WORDS: Code = Code(151);
/// A sum without what it is for: `18.40 shop-supplies`.
pub(crate) const SUM_WITHOUT_FOR: Code = Code(152);
/// A figure before the word that it belongs to: `9.50 shipping`.
pub(crate) const FIGURE_BEFORE_WORD: Code = Code(153);
/// A number in another spelling: `1½`, `.50`, `12.`, `1/3`.
pub(crate) const NUMBER_SPELLING: Code = Code(154);
/// A date in another spelling, or a day that does not exist.
pub(crate) const DATE_SPELLING: Code = Code(155);
/// A time in another spelling: `1h48m`, `1:48`, `2 hours`.
pub(crate) const TIME_SPELLING: Code = Code(156);
/// A unit in another spelling, or a word joined to its figure: `board feet`, `at60.00`.
pub(crate) const UNIT_SPELLING: Code = Code(157);
/// Sizes in another spelling, or before the name.
pub(crate) const SIZES_SPELLING: Code = Code(158);
/// A name of several words, or in quotes.
pub(crate) const NAME_SPELLING: Code = Code(159);
/// A thing before its quantity: `red-oak 31.5 bf`.
pub(crate) const QUANTITY_FIRST: Code = Code(160);
/// A first word that is no verb and no definition.
pub(crate) const UNKNOWN_HEAD: Code = Code(162);
/// A head whose date is missing or stands elsewhere.
pub(crate) const HEAD_DATE: Code = Code(163);
/// A head that lacks a word before one of its parts: `built 2026-03-09 PC-014`.
pub(crate) const HEAD_PART_WORD: Code = Code(164);
/// A definition without a title in quotes, or without a name.
pub(crate) const TITLE_IN_QUOTES: Code = Code(165);
/// A sum or item in the head, or a discount in an item, that needs a line of its own.
pub(crate) const OWN_LINE: Code = Code(167);
/// A small word that is missing or is another: `on`, `shared`, `lot`, `of`.
pub(crate) const SMALL_WORD: Code = Code(168);
/// The marks of an unfinished merge.
pub(crate) const MERGE_MARKS: Code = Code(169);
/// A text without its closing quote.
pub(crate) const OPEN_QUOTE: Code = Code(170);
/// A sign that has no meaning here: a long dash, a bullet, a colon at the end.
pub(crate) const STRAY_SIGN: Code = Code(171);
/// A known detail word whose rest could not be read.
pub(crate) const DETAIL_FORM: Code = Code(172);
/// A word that is no detail word, but near to one or another word for it.
pub(crate) const UNKNOWN_DETAIL: Code = Code(173);
/// A `#` that was meant as a number sign: `order #1042`.
pub(crate) const HASH_IN_LINE: Code = Code(174);

/// What can be written of an expense that its seller gives back; no entry takes money off an expense.
pub(crate) const EXPENSE_BACK: &str = "no entry takes money off an expense: what the seller took off the bill is `discount` in the \
     `bought` entry, shared over its lines; money that came back later is `received` for an income with `form line other`, by the share that \
     the expense counts with, so that the net profit is right";

/// What can be written of freight that a supplier gives back.
pub(crate) const FREIGHT_BACK: &str = "freight is part of what the goods cost that came with it: what the supplier gives back of it is taken off them, \
     `8.00 off red-oak`; where several came, part the sum over lines of their own";
