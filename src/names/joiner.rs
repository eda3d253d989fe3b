//! What is meant where words that stand apart were joined to one name, or a name was read as something else.
//!
//! In: a finding of the syntax stage with its corrections, and the names of the book. Out: corrections whose names are defined.

use rustc_hash::FxHashSet;

use crate::diagnostics::{CorrectedLines, Diagnostic, Fix, corrected_lines, near_names};
use crate::names::core_of_name;
use crate::names::errors::looking_up::names_within;
use crate::names::errors::roads::{Road, road_of};
use crate::names::errors::typed_line::TypedLine;
use crate::names::kinds::{nameds_of, names_of};
use crate::names::plural::singulars_of;
use crate::names::readings::{Reading, by_title, same, target_of, two_names, with_remark};
use crate::names::wanted_at::{ALL, is_definition, place_of, wanted_at};
use crate::names::{Named, ResolvedBook};
use crate::sources::{SourceSet, Span};
use crate::syntax::{DefinitionWord, Verb, begins_block, is_name, is_reserved, product};
use crate::units::read_decimal;

/// What is needed to say which name is meant.
#[derive(Clone, Copy)]
pub(crate) struct Joiner<'a> {
    pub(crate) sources: &'a SourceSet,
    pub(crate) book: &'a ResolvedBook,
    pub(crate) names: &'a FxHashSet<String>,
}

/// How many names are offered where none is near.
const MOST_OFFERED: usize = 4;

/// Whether what a line of these kinds of names was for is said by `on`.
fn may_be_for(wanted: &[DefinitionWord], verb: Option<Verb>) -> bool {
    let is_work = wanted == [DefinitionWord::Step] && verb == Some(Verb::Worked);
    is_work || wanted.first() == Some(&DefinitionWord::Expense) && verb == Some(Verb::Paid)
}

/// A corrected line with the name that its correction made of several words.
struct MadeUp<'a> {
    line: &'a CorrectedLines,
    name: String,
    at: usize,
    wanted: &'static [DefinitionWord],
}

impl Joiner<'_> {
    /// A finding that joined several words, or a text in quotes, to one name: with names that are defined.
    pub(crate) fn offer_defined(self, told: &mut Diagnostic, joined: &str) {
        // A correction that parts the words (`sanding on stool`) is one only where each of them is a name.
        let parts = self.sources.text(told.primary.span).split_whitespace().all(|word| self.names.contains(word));
        let (lines, parted): (Vec<_>, Vec<_>) = told
            .fixes
            .drain(..)
            .map(|fix| (corrected_lines(self.sources, &fix), fix))
            .partition(|(line, _)| line.text.split([' ', ',', '\n']).any(|word| word == joined));
        let parted = parted.into_iter().map(|(_, fix)| fix).filter(|_| parts);
        if let Some(fix) = self.work_on_pieces(told, joined) {
            told.message =
                format!("`{joined}` is no goods: what others do on pieces that are being made is a cost of their batch");
            told.fixes = vec![fix];
            return;
        }
        if self.names.contains(joined) {
            // The words of a name that is defined can mean nothing else, unless they can be parted too.
            told.fixes.extend(lines.into_iter().map(|(_, fix)| Fix { sure: true, ..fix }).chain(parted));
            return;
        }
        told.message = format!("a name is one word, and `{joined}` is not defined");
        for (line, _) in &lines {
            if let Some(at) = place_of(&line.text, joined) {
                let wanted = wanted_at(&line.text, at);
                told.fixes.extend(self.meant(&MadeUp { line, name: joined.to_owned(), at, wanted }));
            }
        }
        // What was read as two names needs no other parting.
        if told.fixes.is_empty() {
            told.fixes.extend(parted);
        }
        if !told.fixes.is_empty() {
            return;
        }
        let place = told.primary.span;
        if let Some(road) = road_of(self.book, joined, &TypedLine::of(self.sources, place), place) {
            told.message = road.message.unwrap_or_else(|| std::mem::take(&mut told.message));
            told.notes.extend(road.notes);
            told.fixes.extend(road.fixes);
            return;
        }
        let said = |word: &str| lines.iter().any(|(line, _)| line.text.contains(&format!(" {word} {joined}")));
        let kind = [("via", "channel"), ("at", "place"), ("for", "expense")].into_iter().find(|(word, _)| said(word));
        let kind = kind.map_or("material", |(_, kind)| kind);
        // Where goods are sold or lie, a shop has few names.
        let few = match kind {
            "channel" => names_of(self.book, DefinitionWord::Channel),
            "place" => names_of(self.book, DefinitionWord::Place),
            _ => Vec::new(),
        };
        for (line, _) in lines.iter().filter(|_| few.len() <= MOST_OFFERED) {
            let offered = few.iter().map(|name| Fix {
                message: format!("if it is `{name}`"),
                span: line.span,
                replacement: line.text.replacen(joined, name, 1),
                sure: false,
            });
            told.fixes.extend(offered);
        }
        told.notes.push(format!("define it in any file, as in `{kind} {joined} \"…\"`, or write a name that is defined"));
    }

    /// `10 paring-knife heat treat at 6.50` in a purchase, where `heat-treat` is an expense or a step: money on a batch.
    fn work_on_pieces(self, told: &Diagnostic, joined: &str) -> Option<Fix> {
        let work = [DefinitionWord::Expense, DefinitionWord::Step];
        let line = TypedLine::of(self.sources, told.primary.span);
        let written = line.text.split('#').next().unwrap_or("").trim_end();
        let words: Vec<&str> = written.split_whitespace().collect();
        let is_work = line.verb == Some(Verb::Bought) && work.iter().any(|kind| names_of(self.book, *kind).contains(&joined));
        let (count, rest) = words.split_first().filter(|_| is_work)?;
        let (price, [.., "at"]) = rest.split_last()? else { return None };
        let sum = product(count, price)?;
        let text = written.trim_start();
        let start = self.sources.lines_of(told.primary.span).start;
        let at = |length: usize| start.checked_add(u32::try_from(length).ok()?);
        let span = Span::new(at(written.len() - text.len())?, at(written.len())?);
        let plain = !text.contains(['"', ',']);
        let message = "money for work on a batch".to_owned();
        plain.then(|| Fix { message, span, replacement: format!("{sum} on batch NAME \"{text}\""), sure: false })
    }

    /// A correction of another slip that made a name of several words which nothing defines: what is defined is offered in its place.
    pub(crate) fn mend_invented(self, told: &mut Diagnostic) {
        let fixes = std::mem::take(&mut told.fixes);
        for fix in fixes {
            let line = corrected_lines(self.sources, &fix);
            let Some(made) = self.made_up(&line) else {
                told.fixes.push(fix);
                continue;
            };
            let mended = self.meant(&made);
            if !mended.is_empty() {
                told.fixes.extend(mended);
            } else if let Some(road) = self.road(told, &made) {
                told.message = road.message.unwrap_or_else(|| std::mem::take(&mut told.message));
                told.notes.extend(road.notes);
            } else {
                told.fixes.push(Fix { sure: false, ..fix });
            }
        }
    }

    /// `to Mill Gallery`, for which quotes were offered: a place, channel or helper of this name or title comes first.
    pub(crate) fn name_in_quotes(self, told: &mut Diagnostic) {
        let typed = self.sources.text(told.primary.span);
        let verb = TypedLine::of(self.sources, told.primary.span).verb;
        let goods_go = matches!(verb, Some(Verb::Sent | Verb::BroughtBack));
        let wanted: &[DefinitionWord] =
            if goods_go { &[DefinitionWord::Place] } else { &[DefinitionWord::Channel, DefinitionWord::Helper] };
        let quoted = format!("\"{typed}\"");
        let offers_quotes = told.fixes.iter().any(|fix| corrected_lines(self.sources, fix).text.contains(&quoted));
        if !offers_quotes || typed.split_whitespace().count() < 2 {
            return self.mend_invented(told);
        }
        let core = core_of_name(typed);
        let nameds = || wanted.iter().flat_map(|kind| nameds_of(self.book, *kind));
        let named = nameds().find(|named| core_of_name(&named.name) == core).or_else(|| by_title(self.book, typed, wanted));
        let Some(named) = named else { return };
        let fixes = std::mem::take(&mut told.fixes);
        told.message = format!("a name of the book is one word: `{}` ({})", named.name, named.title);
        for fix in fixes {
            let line = corrected_lines(self.sources, &fix);
            told.fixes.push(Fix {
                message: format!("if it is `{}`", named.name),
                span: line.span,
                replacement: line.text.replacen(&quoted, &named.name, 1),
                sure: false,
            });
            // Goods lie at a place, which is defined.
            if !goods_go {
                told.fixes.push(Fix { message: "if it is somebody else, in quotes".into(), sure: false, ..fix });
            }
        }
    }

    /// `2 sheets board mildew`, where all behind the unit was read as a remark: the thing that it begins with is none.
    pub(crate) fn remark_with_a_name(self, told: &mut Diagnostic) {
        let line = self.sources.lines_of(told.primary.span);
        let before = self.sources.text(Span::new(line.start, told.primary.span.start));
        let words: Vec<&str> = self.sources.text(told.primary.span).split_whitespace().collect();
        let counted =
            matches!(before.split_whitespace().collect::<Vec<_>>().as_slice(), [.., number, _] if read_decimal(number).is_ok());
        let goods = [DefinitionWord::Material, DefinitionWord::Product, DefinitionWord::Tool];
        let is_known = |name: &str| {
            let known = |name: &str| goods.iter().any(|kind| names_of(self.book, *kind).contains(&name));
            known(name) || singulars_of(name).iter().any(|one| known(one))
        };
        let longest = (1..words.len()).rev().find_map(|end| {
            let (name, rest) = words.split_at(end);
            let name = name.join("-");
            is_known(&name).then(|| (name, rest.join(" ")))
        });
        let offered = told.fixes.iter().any(|fix| fix.replacement.contains(&format!("\"{}\"", words.join(" "))));
        let Some((name, remark)) = longest.filter(|_| counted && offered) else {
            if let Some(fix) = self.name_in_a_remark(told, before, &words).filter(|_| offered) {
                told.message = "who did it, and what it was for, is said by its word and a name of the book".into();
                told.fixes.insert(0, fix);
                return;
            }
            return self.mend_invented(told);
        };
        told.message = format!("a remark stands in quotes: `\"{remark}\"`");
        let line = format!("{before}{name} \"{remark}\"");
        let behind = self.sources.text(Span::new(told.primary.span.end, self.sources.lines_of(told.primary.span).end));
        let span = self.sources.lines_of(told.primary.span);
        told.fixes = vec![Fix { message: "write quotes".into(), span, replacement: format!("{line}{behind}"), sure: false }];
    }

    /// `3h folding with nell`, `60.00 for table-rent at the fair`: a helper, a channel or a product at the end of what was read as a remark.
    fn name_in_a_remark(self, told: &Diagnostic, before: &str, words: &[&str]) -> Option<Fix> {
        let (word, rest) = words.split_first()?;
        let [name] = rest.strip_prefix(&["the"]).unwrap_or(rest) else { return None };
        let wanted = wanted_at(before, before.trim_end().rfind(' ')? + 1);
        let verb = TypedLine::of(self.sources, told.primary.span).verb;
        let helper = || same(names_of(self.book, DefinitionWord::Helper), name);
        let said = match *word {
            "with" | "by" if wanted == [DefinitionWord::Step] => {
                (format!("by {}", helper()?), format!("if `{}` did it", helper()?))
            }
            "for" | "at" | "in" | "to" if may_be_for(wanted, verb) => {
                let target = target_of(self.book, name)?;
                (format!("on {target}"), format!("if it was for `{target}`"))
            }
            _ => return None,
        };
        Some(Fix { message: said.1, span: told.primary.span, replacement: said.0, sure: false })
    }

    fn road(self, told: &Diagnostic, made: &MadeUp<'_>) -> Option<Road> {
        road_of(self.book, &made.name, &TypedLine::of(self.sources, told.primary.span), told.primary.span)
    }

    /// The name of a corrected line that was made of words which stand apart in the line as it was written.
    fn made_up<'l>(self, line: &'l CorrectedLines) -> Option<MadeUp<'l>> {
        if line.text.split_whitespace().next().is_some_and(is_definition) {
            return None;
        }
        let written = self.sources.text(line.span);
        let stood: Vec<&str> = written.split([' ', ',', '\n', '\t']).collect();
        line.text.split([' ', ',', '\n', '\t']).find_map(|word| {
            let is_new =
                word.contains('-') && is_name(word) && !is_reserved(word) && !begins_block(word) && !stood.contains(&word);
            let apart = is_new
                && word.split('-').all(|part| stood.iter().any(|stood| stood.trim_matches('"').eq_ignore_ascii_case(part)));
            let is_defined = self.names.contains(word) || singulars_of(word).iter().any(|one| self.names.contains(one));
            let at = place_of(&line.text, word).filter(|_| apart && !is_defined)?;
            let wanted = wanted_at(&line.text, at);
            (!wanted.is_empty() && wanted.len() < ALL.len()).then(|| MadeUp { line, name: word.to_owned(), at, wanted })
        })
    }

    /// What may be meant by a name that is not defined, as corrections of its line.
    fn meant(self, made: &MadeUp<'_>) -> Vec<Fix> {
        let (typed, book) = (made.name.as_str(), self.book);
        let verb = TypedLine::of(self.sources, made.line.span).verb;
        let is_head = made.line.text.split_whitespace().next().is_some_and(begins_block);
        let plain = |name: &str, why: String| Reading { name: name.to_owned(), said: String::new(), remark: String::new(), why };
        let known = || {
            made.wanted.iter().flat_map(|kind| names_of(book, *kind)).chain(
                // What a damaged definition probably defines, and batches.
                self.names.iter().map(String::as_str).filter(|_| made.wanted.len() == ALL.len()),
            )
        };
        let mut readings = two_names(book, typed, made.wanted, verb);
        if readings.is_empty() {
            let near = near_names(typed, known());
            readings.extend(near.into_iter().map(|name| plain(name, format!("did you mean `{name}`?"))));
        }
        if readings.is_empty() {
            readings = with_remark(book, typed, made.wanted, verb.is_some() && !is_head);
        }
        if readings.is_empty() {
            let titled = by_title(book, typed, made.wanted);
            readings.extend(
                titled.map(|named: &Named| plain(&named.name, format!("did you mean `{}` ({})?", named.name, named.title))),
            );
        }
        if readings.is_empty() {
            let within = names_within(typed, known());
            readings.extend(within.into_iter().map(|name| plain(name, format!("did you mean `{name}`?"))));
        }
        let as_line = |reading: Reading| {
            let (message, replacement) = reading.in_line(&made.line.text, made.at..made.at + typed.len());
            Fix { message, span: made.line.span, replacement, sure: false }
        };
        readings.into_iter().map(as_line).collect()
    }
}
