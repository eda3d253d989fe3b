//! The wording of this stage's findings, and their codes: K300 to K399 for mistakes, K920 to K959 for warnings.
//!
//! A message is a lowercase sentence that says what was found and what belongs there; a fix prints the corrected line. The checks
//! themselves stand where the entries are read.

pub(crate) mod entries;
pub(crate) mod goods;
pub(crate) mod meanings;
pub(crate) mod money;
pub(crate) mod slips;

use crate::diagnostics::Code;

/// A sum with more digits than its currency has.
pub(crate) const TOO_MANY_DIGITS: Code = Code(300);
/// A figure that is too large, or whose digits can't all be kept.
pub(crate) const TOO_LARGE: Code = Code(301);
/// A line `1 EUR = …` that gives no rate.
pub(crate) const EXCHANGE_RATE: Code = Code(302);
/// A stated total that the lines don't come to.
pub(crate) const TOTAL_DIFFERS: Code = Code(303);
/// Cash, card and check that don't come to the total.
pub(crate) const TENDER_DIFFERS: Code = Code(304);
/// A line that came in without saying for how much.
pub(crate) const NO_VALUE: Code = Code(305);
/// A sold line that has no price.
pub(crate) const NO_PRICE: Code = Code(306);
/// Two prices for one line.
pub(crate) const TWO_PRICES: Code = Code(307);
/// A quantity of nothing.
pub(crate) const NONE_OF_IT: Code = Code(308);
/// More brought back than carried.
pub(crate) const MORE_BACK: Code = Code(309);
/// A tool where only stock can stand.
pub(crate) const TOOL_IS_NO_STOCK: Code = Code(310);
/// A bill or sale below nothing.
pub(crate) const BELOW_NOTHING: Code = Code(311);
/// Freight by weight or quantity over a line that has none.
pub(crate) const NO_MEASURE: Code = Code(312);
/// All the rest paid twice.
pub(crate) const REST_PAID_TWICE: Code = Code(314);
/// Hired time whose pay isn't known.
pub(crate) const PAY_NOT_KNOWN: Code = Code(315);
/// A batch that ends without saying what came of it.
pub(crate) const NOTHING_MADE: Code = Code(318);
/// Pieces made before the batch is finished.
pub(crate) const MADE_BEFORE_FINISHED: Code = Code(319);
/// Several products of one batch without a share.
pub(crate) const NEEDS_SHARE: Code = Code(320);
/// `as planned` for a product without a recipe.
pub(crate) const NO_RECIPE: Code = Code(321);
/// A batch that goes on before it was started, or is started twice.
pub(crate) const BATCH_COURSE: Code = Code(322);
/// A batch that was built already.
pub(crate) const BUILT_TWICE: Code = Code(323);
/// Goods given away without a reason.
pub(crate) const GAVE_WITHOUT_REASON: Code = Code(324);
/// Goods sent to where they are.
pub(crate) const SAME_PLACE: Code = Code(325);
/// A swap whose sides aren't worth the same.
pub(crate) const SWAP_DIFFERS: Code = Code(326);
/// A thing counted twice in one count.
pub(crate) const COUNTED_TWICE: Code = Code(327);
/// Goods sent back without saying what was refunded.
pub(crate) const NO_REFUND: Code = Code(328);
/// Two words about one line that can't both hold.
pub(crate) const SAID_TWICE: Code = Code(329);
/// An entry from before the book began.
pub(crate) const BEFORE_THE_BOOK: Code = Code(330);
/// A file that isn't there.
pub(crate) const FILE_MISSING: Code = Code(331);
/// A distance in a unit that is no length.
pub(crate) const NOT_A_DISTANCE: Code = Code(332);
/// More recovered of a tool than it cost.
pub(crate) const RECOVERED_MORE: Code = Code(333);
/// More than a hundred parts of a hundred.
pub(crate) const MORE_THAN_ALL: Code = Code(335);

/// `for` where `at` would fit the price list.
pub(crate) const FOR_OR_AT: Code = Code(920);
/// `at` where `for` would fit the last lot's cost.
pub(crate) const AT_OR_FOR: Code = Code(921);
/// A day that hasn't come yet.
pub(crate) const IN_THE_FUTURE: Code = Code(922);
/// Last year's number, probably.
pub(crate) const LAST_YEARS_NUMBER: Code = Code(923);
/// The same seller, day and total twice.
pub(crate) const SAME_TWICE: Code = Code(924);
/// The same receipt of the same seller twice.
pub(crate) const SAME_RECEIPT: Code = Code(925);
/// A payment that looks like the bill of an earlier purchase.
pub(crate) const PAID_AGAIN: Code = Code(926);
/// A sale without the tax line that its channel's other sales have.
pub(crate) const NO_TAX_LINE: Code = Code(927);
/// A deposit that may be counted twice.
pub(crate) const DEPOSIT_TWICE: Code = Code(928);
/// A fee that may have been meant as the channel's share.
pub(crate) const FEE_BESIDE_SHARE: Code = Code(929);
/// A form that has no effect yet.
pub(crate) const NO_EFFECT_YET: Code = Code(930);
/// An entry without lines.
pub(crate) const NO_LINES: Code = Code(931);
/// Words that have no effect where they stand.
pub(crate) const NO_EFFECT_HERE: Code = Code(932);
/// Pieces that came back without a word of what was refunded.
pub(crate) const RETURN_WITHOUT_REFUND: Code = Code(933);
/// Figures or days of which one must be wrong.
pub(crate) const DOES_NOT_FIT: Code = Code(934);
/// A price that is far from the last one of the same thing.
pub(crate) const FAR_FROM_LAST: Code = Code(935);
pub(crate) const NO_FEE: Code = Code(936);
/// A figure out of proportion to its sale or day.
pub(crate) const OUT_OF_PROPORTION: Code = Code(937);
/// A deposit for an order that is never sold, while its payer bought later.
pub(crate) const DEPOSIT_WITHOUT_SALE: Code = Code(938);
/// An offcut that is kept without a word of its worth.
pub(crate) const KEPT_AT_NOTHING: Code = Code(939);
/// A bill that recurs, of which nothing is in the full cost of a piece.
pub(crate) const NOT_IN_FULL_COST: Code = Code(940);
pub(crate) const CHANNEL_PAID: Code = Code(941);
/// More sales tax paid over than was collected.
pub(crate) const MORE_TAX_THAN_COLLECTED: Code = Code(942);
/// Pieces thrown away on the day on which they were made.
pub(crate) const SCRAPPED_AS_MADE: Code = Code(944);
/// A product that is counted in pairs.
pub(crate) const IN_PAIRS: Code = Code(945);
/// Goods whose remark says that they are no good, where the line keeps them.
pub(crate) const CALLED_DAMAGED: Code = Code(946);
/// A part of an hour that may be minutes.
pub(crate) const TIME_LIKE_A_CLOCK: Code = Code(943);
/// A present to the family as a cost of the shop.
pub(crate) const GIVEN_TO_FAMILY: Code = Code(947);
/// A sum for an expense that is put to a batch, where it reaches no piece.
pub(crate) const EXPENSE_ON_BATCH: Code = Code(951);
/// A consigned line at what the channel leaves of the list price.
pub(crate) const SHARE_TAKEN_OFF_BEFORE: Code = Code(952);
/// Several things on a line of which only the last has a price.
pub(crate) const PRICE_OF_THE_LAST: Code = Code(953);
/// One order of two payers.
pub(crate) const TWO_PAYERS: Code = Code(954);
/// A batch that is continued or finished and was never begun, while others are open.
pub(crate) const NEVER_BEGUN: Code = Code(955);
/// A deposit that a sale of nearly its order's name leaves.
pub(crate) const DEPOSIT_NOT_TAKEN: Code = Code(956);
/// Work on a product before its batch begins.
pub(crate) const WORKED_AHEAD: Code = Code(957);
/// What a helper's time costs already, once more as an expense.
pub(crate) const HELPER_PAID_TWICE: Code = Code(958);
/// Card fees that a channel takes of each sale already.
pub(crate) const CARD_FEES_TWICE: Code = Code(950);
/// Goods swapped for the same goods.
pub(crate) const SWAPPED_FOR_THE_SAME: Code = Code(948);
/// Hours at a step of a recipe that are put to nothing.
pub(crate) const HOURS_ON_NOTHING: Code = Code(949);
