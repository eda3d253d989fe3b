//! Lines that stand in an entry and belong in another, whose head is lost.

use crate::diagnostics::Diagnostic;
use crate::sources::{SourceSet, Span};
use crate::syntax::line_context::BlockWord;
use crate::syntax::placement::{may_stand, what_a_job_took};
use crate::syntax::placement_errors as told;
use crate::syntax::placement_table::{DEFINITIONS, VERBS, verb_word};
use crate::syntax::{AmountKind, DefinitionWord, Detail, DetailKind, Entry, Item, ListWord, Verb};

/// What is known of lines in an entry whose own head is lost.
#[derive(Debug, Default)]
pub(crate) struct LostHeads {
    /// Whether there are any.
    pub(crate) any: bool,
    /// The lines of a definition that an indented head has cut off from it.
    pub(crate) cut_off: Vec<Span>,
}

/// Lines one below another that all belong in some other entry, as where a head was lost: told once, at the first of them, whose
/// place then reaches to the end of the last. Goods that might stand here as well belong to them where they stand between, where a blank
/// line parts them from what is above, or among times of work. Says whether there are such lines, and which of them a head has cut off that
/// stands within a definition and was told of: those are not told.
pub(crate) fn lines_without_their_head(entry: &Entry, sources: &SourceSet, wrong: &mut [Option<Diagnostic>]) -> LostHeads {
    let (details, verb) = (&entry.details, entry.verb);
    let elsewhere = |at: usize| {
        wrong_at(wrong, at)
            .is_some_and(|told| [told::MISPLACED_LINE, told::MISPLACED_SAID, told::BARE_ITEM_IN_BATCH].contains(&told.code))
    };
    let goods = |at: usize| {
        let is_bare =
            |detail: &Detail| matches!(&detail.kind, DetailKind::Items(ListWord::Bare, items) if items.iter().all(has_no_time));
        wrong_at(wrong, at).is_none() && details.get(at).is_some_and(is_bare)
    };
    // A blank line behind the head parts nothing from it.
    let parted = |at: usize| at > 0 && details.get(at).is_some_and(|line| blank_above(sources, line.span));
    let mut runs: Vec<(usize, usize)> = Vec::new();
    let mut at = 0;
    while let Some(first) = (at..details.len()).find(|at| elsewhere(*at)) {
        let above = (at..first).rev().take_while(|at| goods(*at));
        let above: Vec<usize> = above.collect();
        let begin = match above.iter().find(|at| parted(**at)) {
            Some(parted) => *parted,
            None if verb == Verb::Worked => above.last().copied().unwrap_or(first),
            None => first,
        };
        let reach = (first..details.len()).take_while(|at| elsewhere(*at) || goods(*at));
        let end = reach.filter(|at| elsewhere(*at)).last().map_or(first, |last| last) + 1;
        runs.push((begin, end));
        at = end;
    }
    let mut lost = LostHeads::default();
    for (begin, end) in runs {
        let lines = details.get(begin..end).unwrap_or_default();
        let verbs = VERBS.iter().filter(|(_, verb)| lines.iter().all(|line| may_stand(BlockWord::Entry(*verb), &line.kind)));
        let verbs: Vec<&str> = verbs.map(|(word, _)| *word).collect();
        let stands_in = |word: DefinitionWord| lines.iter().all(|line| may_stand(BlockWord::Definition(word), &line.kind));
        let definitions: Vec<&str> = DEFINITIONS.iter().filter(|(_, word)| stands_in(*word)).map(|(word, _)| *word).collect();
        // What is said of an item and has no meaning there is told of each; so is the word that each line of a batch lacks.
        let told_here = wrong.get(begin..end).unwrap_or_default().iter().flatten().any(|told| match told.code {
            told::MISPLACED_SAID => false,
            told::BARE_ITEM_IN_BATCH => blank_above(sources, lines.first().map_or(told.primary.span, |line| line.span)),
            _ => true,
        });
        // `150.00 rent` and `12.00 website` below `paid`: bills, of which each has its own correction.
        let of_money = matches!(verb, Verb::Paid | Verb::Received);
        let each_mended =
            of_money && wrong.get(begin..end).unwrap_or_default().iter().flatten().all(|told| !told.fixes.is_empty());
        if !told_here || verbs.is_empty() || each_mended {
            continue;
        }
        let parted = lines.first().is_some_and(|line| blank_above(sources, line.span));
        if let Some(told) = what_a_job_took(entry, lines, sources).filter(|_| !parted) {
            for (within, slot) in wrong.iter_mut().skip(begin).take(lines.len()).enumerate() {
                *slot = (within == 0).then(|| told.clone());
            }
            continue;
        }
        lost.any = true;
        let within = sources.lines_of(entry.head).start < entry.head.start;
        if within && !definitions.is_empty() {
            wrong.iter_mut().skip(begin).take(end - begin).for_each(|slot| *slot = None);
            lost.cut_off.extend(lines.iter().map(|line| line.span));
            continue;
        }
        if let [first, .., last] = lines {
            // `changed` has the lines of every definition, which are meant more often.
            let belongs = if verbs == [verb_word(Verb::Changed)] && !definitions.is_empty() { &definitions } else { &verbs };
            let mut told = told::misplaced_lines(first.span, lines.len(), verb_word(verb), belongs);
            told.primary.span.end = last.span.end;
            for (within, slot) in wrong.iter_mut().skip(begin).take(lines.len()).enumerate() {
                *slot = (within == 0).then(|| told.clone());
            }
        }
    }
    lost
}

/// Whether the line above is blank.
fn blank_above(sources: &SourceSet, line: Span) -> bool {
    let Some(file) = sources.file_at(line.start) else { return false };
    let start = sources.lines_of(line).start;
    let above = sources.text(Span::new(file.span.start, start));
    above.strip_suffix('\n').is_some_and(|above| above.rsplit('\n').next().is_none_or(|line| line.trim().is_empty()))
}

fn wrong_at(wrong: &[Option<Diagnostic>], at: usize) -> Option<&Diagnostic> {
    wrong.get(at).and_then(Option::as_ref)
}

fn has_no_time(item: &Item) -> bool {
    item.amount.kind != AmountKind::Time
}
