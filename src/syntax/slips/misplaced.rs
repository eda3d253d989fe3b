//! Lines that read and stand where they may not, or were meant to say something else: what was probably meant.
//!
//! In: a line of a block that the placement table found wrong. Out: the finding of the table of slips, where it knows more of the line.

use super::slip::SlipRule;
use super::typed::Typed;
use super::{
    MOST_TRIES, batch_lines, beside, bought_lines, buyer, coming_in, debts, gone, how_paid, job, known_once, mend_all,
    money_at_hand, near_date, no_entry, order, own_money, remark, small_words, spoken_lines, terms, time, to_diagnostic, unit,
};
use crate::diagnostics::Diagnostic;
use crate::sources::{SourceSet, Span};
use crate::syntax::line_context::{BlockWord, LineContext};
use crate::syntax::{DefinitionWord, Verb};

/// Tells a line that reads as an item and was meant to say something else (`40 made cart`, `8.40 sales tax`,
/// `5 board at60.00`, `wears 1 blade every 40 min`); `None` where it was not.
pub(crate) fn explain_misread_item(sources: &SourceSet, line: Span, block: BlockWord) -> Option<Diagnostic> {
    const RULES: [SlipRule; 14] = [
        how_paid::refund_how,
        bought_lines::some_broken,
        buyer::certificate,
        beside::cash_beside_a_swap,
        coming_in::refunded_why,
        gone::gone,
        gone::gone_at_a_sale,
        spoken_lines::lost_of_made,
        order::list_word_second,
        order::figure_first,
        unit::joined_word,
        small_words::per_word,
        time::in_words,
        remark::remark,
    ];
    let context = LineContext { column_one: false, block: Some(block) };
    let typed = Typed::of(sources.text(line), context, None);
    let slip = RULES.iter().find_map(|rule| rule(&typed))?;
    let slip = mend_all(&typed, slip, &mut { MOST_TRIES });
    (slip.apart.is_some() || !slip.fixes.is_empty()).then(|| to_diagnostic(sources, line, &typed, slip))
}

/// Tells a line that reads and may not stand in its entry, where it is known what was meant; `None` where it isn't.
pub(crate) fn explain_misplaced_line(sources: &SourceSet, line: Span, verb: Verb) -> Option<Diagnostic> {
    const RULES: [&[SlipRule]; 9] = [
        batch_lines::MISPLACED,
        debts::RULES,
        own_money::MISPLACED,
        no_entry::MISPLACED,
        buyer::MISPLACED,
        how_paid::MISPLACED,
        money_at_hand::RULES,
        terms::RULES,
        &[job::people_with_sum, coming_in::paid_on_the_way, coming_in::let_go],
    ];
    let context = LineContext { column_one: false, block: Some(BlockWord::Entry(verb)) };
    let typed = Typed::of(sources.text(line), context, near_date(sources, line));
    let slip = RULES.iter().flat_map(|rules| rules.iter()).find_map(|rule| rule(&typed))?;
    let settled = slip.settled;
    let slip = mend_all(&typed, slip, &mut { MOST_TRIES });
    (settled || !slip.fixes.is_empty()).then(|| to_diagnostic(sources, line, &typed, slip))
}

/// Tells of a line that reads and has no place below its definition (`0.5 bf maple` below `product`) what it was probably meant to
/// say; where that is no line of the definition either, what is told of it by the placement table, and where it belongs.
pub(crate) fn explain_misplaced_below(
    sources: &SourceSet,
    line: Span,
    word: DefinitionWord,
    misplaced: Diagnostic,
) -> Diagnostic {
    let context = LineContext { column_one: false, block: Some(BlockWord::Definition(word)) };
    let typed = Typed::of(sources.text(line), context, None);
    match known_once::RULES.iter().find_map(|rule| rule(&typed)) {
        None => misplaced,
        Some(slip) if slip.fixes.is_empty() => slip.notes.into_iter().fold(misplaced, Diagnostic::note),
        Some(slip) => {
            let slip = mend_all(&typed, slip, &mut { MOST_TRIES });
            if slip.fixes.is_empty() { misplaced } else { to_diagnostic(sources, line, &typed, slip) }
        }
    }
}
