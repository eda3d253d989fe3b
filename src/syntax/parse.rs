//! One piece: its lines gathered into blocks, with what is done about lines that stand in the wrong place or can't be read.
//!
//! A mistake spoils no more than its own line: a detail at column 1 stays in the block above, an indented head begins a block, a
//! head with a known first word, or one that is near a single verb, keeps its details whatever its rest, and after a head of
//! which nothing is known the lines go to a block that moves nothing. Must not: tell one line twice.

use crate::diagnostics::{Diagnostics, Label, corrected_lines};
use crate::sources::{SourceSet, Span};
use crate::syntax::errors::{self, Unread};
use crate::syntax::grammar::Rule;
use crate::syntax::line_context::{BlockWord, LineContext};
use crate::syntax::line_of_the_head::{ForTheHead, for_the_head};
use crate::syntax::lower_definition::{empty_definition, lower_definition};
use crate::syntax::lower_detail::lower_detail;
use crate::syntax::lower_head::{empty_entry, lower_head};
use crate::syntax::lower_leaf::Leaves;
use crate::syntax::nodes::{Branch, Siblings, parse_lines};
use crate::syntax::pieces::Piece;
use crate::syntax::placement::has_a_place;
use crate::syntax::placement_errors::payee_missing;
use crate::syntax::placement_heads::head_row;
use crate::syntax::placement_table::{LineKind, line_row};
use crate::syntax::slip_errors::UNREAD_LINE;
use crate::syntax::slips::{explain_bad_line, explain_batch_line_alone, explain_one_of_many, is_no_entry, with_correction};
use crate::syntax::squeeze::LONGEST_LINE;
use crate::syntax::strict_line::strict_line;
use crate::syntax::unread_line::{
    begins_unknown_block, first_date, has_sums_below, head_behind_its_day, indented_bad_head, known_head, names_in,
    only_verb_meant, says_since_when, second_name, second_reserved, verb_meant,
};
use crate::syntax::{Definition, DefinitionWord, Entry, SyntaxFile, Verb};
use crate::units::read_date;

/// How many unread lines of one piece are looked at closely. A text that is no book at all has nothing else.
const MOST_SLIPS: usize = 100;

/// How many lines at column 1 are told at once.
const MOST_STRAYS: usize = 20;

/// What one piece gave.
#[derive(Debug, Default)]
pub(crate) struct ParsedPiece {
    /// Its blocks.
    pub(crate) syntax: SyntaxFile,
    /// What is told about it.
    pub(crate) found: Diagnostics,
}

/// Parses and lowers one piece.
pub(crate) fn parse_piece(sources: &SourceSet, piece: Piece) -> ParsedPiece {
    let mut gatherer = Gatherer {
        sources,
        leaves: Leaves::new(sources.whole()),
        open: Open::Nothing,
        headless: None,
        strays: Vec::new(),
        slips: 0,
        parsed: ParsedPiece::default(),
    };
    match parse_lines(Rule::piece, sources.text(piece.span), piece.span.start) {
        Some(nodes) => gatherer.gather(Siblings::of(&nodes)),
        // The grammar takes any lines; if it ever doesn't, the piece is told as a whole.
        None => gatherer.slip(piece.span, false, None),
    }
    gatherer.tell_strays();
    gatherer.close();
    gatherer.parsed
}

/// The block to which lines are added.
enum Open {
    /// None yet in this file.
    Nothing,
    /// An entry.
    Entry(Entry),
    /// A definition.
    Definition(Definition),
    /// A block whose head says nothing that is known; its lines are kept as unread ones of an entry that moves nothing.
    Unknown(Entry),
}

struct Gatherer<'s> {
    sources: &'s SourceSet,
    leaves: Leaves<'s>,
    open: Open,
    /// The lines before the first head of a file, as unread ones of an entry that moves nothing.
    headless: Option<Entry>,
    /// Lines of the open block at column 1, one below another, that are told together.
    strays: Vec<Span>,
    /// How many lines were given to the table of slips.
    slips: usize,
    parsed: ParsedPiece,
}

impl Gatherer<'_> {
    /// Takes the lines of a piece.
    fn gather(&mut self, mut piece: Siblings<'_>) {
        let Some(piece) = piece.next() else { return };
        for line in piece.inner {
            if line.node.rule != Rule::stray_detail || self.strays.len() == MOST_STRAYS {
                self.tell_strays();
            }
            match line.node.rule {
                Rule::detail => self.detail(line),
                Rule::entry => self.entry(line),
                Rule::definition => self.definition(line),
                Rule::late_head => self.late_head(line),
                Rule::stray_detail => self.stray_detail(line),
                Rule::bad_detail => self.bad_detail(line.node.span),
                Rule::bad_head => self.bad_head(line.node.span),
                _ => {}
            }
        }
    }

    /// Ends the open block.
    fn close(&mut self) {
        self.parsed.syntax.entries.extend(self.headless.take());
        match std::mem::replace(&mut self.open, Open::Nothing) {
            Open::Nothing => {}
            Open::Entry(mut entry) | Open::Unknown(mut entry) => {
                entry.details.shrink_to_fit();
                self.parsed.syntax.entries.push(entry);
            }
            Open::Definition(mut definition) => {
                definition.details.shrink_to_fit();
                self.parsed.syntax.definitions.push(definition);
            }
        }
    }

    /// The open block's first word.
    fn block(&self) -> Option<BlockWord> {
        match &self.open {
            Open::Entry(entry) => Some(BlockWord::Entry(entry.verb)),
            Open::Definition(definition) => Some(BlockWord::Definition(definition.word)),
            Open::Nothing | Open::Unknown(_) => None,
        }
    }

    /// Tells why something was not read. `line` is what the table of slips is given.
    fn tell(&mut self, why: Unread, line: Span, column_one: bool, block: Option<BlockWord>) {
        match why {
            Unread::Told(told) if !told.fixes.is_empty() || self.slips > MOST_SLIPS => self.parsed.found.push(*told),
            Unread::Told(told) => {
                self.slips += 1;
                self.parsed.found.push(with_correction(self.sources, *told, line, LineContext { column_one, block }));
            }
            Unread::Slip => self.slip(line, column_one, block),
        }
    }

    /// Asks the table of slips. Where it knows no more than that the line can't be read, the place from which it can't is shown.
    fn slip(&mut self, line: Span, column_one: bool, block: Option<BlockWord>) {
        self.slips += 1;
        if self.slips > MOST_SLIPS {
            self.parsed.found.push(explain_one_of_many(self.sources, line, column_one));
            return;
        }
        let mut told = explain_bad_line(self.sources, line, LineContext { column_one, block });
        if told.code == UNREAD_LINE
            && told.primary == (Label { span: line, text: String::new() })
            && let Some(reads) = strict_line(self.sources.text(line))
        {
            told.primary.span.start = line.start.saturating_add(u32::try_from(reads).unwrap_or(0));
            told.primary.text = "not understood from here".to_owned();
        }
        self.parsed.found.push(told);
    }

    fn entry(&mut self, head: Branch<'_>) {
        self.close();
        match lower_head(self.leaves, head) {
            Ok(entry) => self.open = Open::Entry(entry),
            Err(damaged) => {
                let block = Some(BlockWord::Entry(damaged.entry.verb));
                self.tell(damaged.why, head.node.span, true, block);
                self.poison(head.node.span);
                self.open = Open::Entry(damaged.entry);
            }
        }
    }

    fn definition(&mut self, head: Branch<'_>) {
        self.close();
        let (definition, why) = lower_definition(self.leaves, head);
        if let Some(why) = why {
            self.tell(why, head.node.span, true, Some(BlockWord::Definition(definition.word)));
            self.poison(head.node.span);
            self.parsed.syntax.poisoned_names.extend(second_reserved(self.sources, head.node.span));
        }
        self.open = Open::Definition(definition);
    }

    fn late_head(&mut self, mut line: Branch<'_>) {
        let Some(head) = line.inner.next() else { return };
        if says_since_when(self.sources, self.block(), head.node.span) {
            self.unread(head.node.span);
            return self.slip(head.node.span, false, self.block());
        }
        let told = self.parsed.found.as_slice().len();
        match head.node.rule {
            Rule::definition => self.definition(head),
            _ => self.entry(head),
        }
        if self.parsed.found.as_slice().len() == told {
            let lines = self.sources.lines_of(head.node.span);
            let indent = Span::new(lines.start, head.node.span.start);
            self.parsed.found.push(errors::indented_head(head.node.span, indent));
        }
    }

    fn stray_detail(&mut self, mut line: Branch<'_>) {
        let Some(detail) = line.inner.next() else { return };
        let span = detail.node.span;
        if self.payment_without_payee(span) || self.day_first(span) {
            return;
        }
        // `took 1 stool home` is meant for an entry of its own, wherever it stands: it is explained as it would be where no time is taken.
        let text = self.sources.text(span);
        if text.starts_with("took ") && text.split_whitespace().last() == Some("home") {
            self.tell_strays();
            self.unread(span);
            return self.slip(span, true, Some(BlockWord::Entry(Verb::Sold)));
        }
        if self.batch_line_as_head(span) || self.batch_line_alone(span) {
            return;
        }
        // A line that has no place in the block above is told for that alone, and one that can't be read for that.
        let placed = match (self.block(), lower_detail(self.leaves, detail)) {
            (Some(block), Ok((read, _))) => has_a_place(block, &read.kind),
            (Some(_), Err(why)) => {
                self.tell_strays();
                self.unread(span);
                return self.tell_indented(why, span);
            }
            _ => true,
        };
        if placed && !matches!(self.open, Open::Nothing) {
            self.strays.push(span);
        } else {
            self.tell_strays();
        }
        self.detail(detail);
    }

    /// Tells a line of a batch at column 1 where no batch is open above.
    fn batch_line_alone(&mut self, line: Span) -> bool {
        let in_batch = match (&self.open, self.block()) {
            (Open::Unknown(_), _) => true,
            (_, Some(BlockWord::Entry(verb))) => verb.is_of_a_batch(),
            _ => false,
        };
        if in_batch || self.slips >= MOST_SLIPS || self.headless.is_some() {
            return false;
        }
        let Some(told) = explain_batch_line_alone(self.sources, line) else { return false };
        self.slips += 1;
        self.tell_strays();
        self.poison(line);
        self.unread(line);
        self.parsed.found.push(told);
        true
    }

    /// Tells a line of a batch at column 1 with a day of its own, `made 2026-03-01 20 stool`: it was meant to begin an entry, and what is below it
    /// belongs to that.
    fn batch_line_as_head(&mut self, line: Span) -> bool {
        let text = self.sources.text(line);
        let day = text.split_whitespace().nth(1).and_then(|word| read_date(word).ok());
        if day.is_none() || self.slips >= MOST_SLIPS {
            return false;
        }
        let Some(told) = explain_batch_line_alone(self.sources, line) else { return false };
        self.slips += 1;
        self.close();
        self.poison(line);
        self.parsed.found.push(told);
        let mut entry = empty_entry(Verb::Built, line, line);
        (entry.date, entry.damaged) = (day, true);
        self.open = Open::Entry(entry);
        true
    }

    /// Tells a line at column 1 that can't be read as one of the block above: its corrections are indented too.
    fn tell_indented(&mut self, why: Unread, line: Span) {
        let before = self.parsed.found.as_slice().len();
        self.tell(why, line, false, self.block());
        let (sources, mut at) = (self.sources, 0);
        self.parsed.found.revise(|told| {
            at += 1;
            if at <= before {
                return;
            }
            let corrected: Vec<_> = told.fixes.iter().map(|fix| corrected_lines(sources, fix)).collect();
            for (fix, corrected) in told.fixes.iter_mut().zip(corrected) {
                let indented: Vec<_> = corrected.text.lines().map(|line| format!("    {}", line.trim_start())).collect();
                (fix.span, fix.replacement) = (corrected.span, indented.join("\n"));
            }
            told.notes.push("a line of an entry is indented".to_owned());
        });
    }

    /// Tells the lines at column 1 that were gathered.
    fn tell_strays(&mut self) {
        if let (Some(first), Some(last)) = (self.strays.first(), self.strays.last()) {
            let lines = first.to(*last);
            let told = errors::stray_details(*first, lines, self.strays.len(), self.sources.text(lines));
            self.parsed.found.push(told);
            self.strays.clear();
        }
    }

    /// `paid 2026-03-05` at column 1 is a head without its payee where sums stand below it, or where the block above has no such
    /// line. Begins the block and says so.
    fn payment_without_payee(&mut self, line: Span) -> bool {
        let text = self.sources.text(line);
        let Some(rest) = text.strip_prefix("paid ") else { return false };
        let Some((date, date_span)) = first_date(self.sources, line).filter(|(_, span)| span.start == line.start + 5) else {
            return false;
        };
        let memo = rest.find('"').map(|at| Span::new(line.start + 5 + u32::try_from(at).unwrap_or(0), line.end));
        if rest.split_whitespace().count() > 1 && memo.is_none() {
            return false;
        }
        let holds_it = match self.block() {
            Some(BlockWord::Entry(verb)) => line_row(LineKind::Paid).blocks.has_verb(verb),
            Some(BlockWord::Definition(_)) => false,
            None => matches!(self.open, Open::Unknown(_)),
        };
        if holds_it && !has_sums_below(self.sources, line) {
            return false;
        }
        self.tell_strays();
        self.close();
        self.parsed.found.push(payee_missing(line, memo, head_row(Verb::Paid).form));
        let mut entry = empty_entry(Verb::Paid, line, date_span);
        entry.date = Some(date);
        entry.damaged = true;
        self.open = Open::Entry(entry);
        true
    }

    fn detail(&mut self, line: Branch<'_>) {
        let span = line.node.span;
        match self.open {
            Open::Nothing => return self.no_head(span),
            Open::Unknown(_) => return self.unread(span),
            Open::Entry(_) | Open::Definition(_) => {}
        }
        match lower_detail(self.leaves, line) {
            Ok((detail, second)) => match &mut self.open {
                Open::Entry(entry) => {
                    entry.span.end = span.end;
                    entry.details.push(detail);
                    entry.details.extend(second);
                }
                Open::Definition(definition) => {
                    definition.span.end = span.end;
                    definition.details.push(detail);
                    definition.details.extend(second);
                }
                Open::Nothing | Open::Unknown(_) => {}
            },
            Err(why) => {
                self.unread(span);
                self.tell(why, span, false, self.block());
            }
        }
    }

    /// A line of a file that has no head yet: told once a file.
    fn no_head(&mut self, line: Span) {
        let entry = self.headless.get_or_insert_with(|| {
            self.parsed.found.push(errors::no_head_yet(line, self.sources.text(line)));
            let mut entry = empty_entry(Verb::Noted, Span::new(line.start, line.start), line);
            entry.damaged = true;
            entry.holds_others = true;
            entry
        });
        entry.unread.push(line);
        entry.span.end = line.end;
        self.poison(line);
    }

    /// Keeps a line as one that could not be read.
    fn unread(&mut self, line: Span) {
        let (unread, whole) = match &mut self.open {
            Open::Entry(entry) | Open::Unknown(entry) => (&mut entry.unread, &mut entry.span),
            Open::Definition(definition) => (&mut definition.unread, &mut definition.span),
            Open::Nothing => return,
        };
        unread.push(line);
        whole.end = line.end;
    }

    /// Tells a line that is too long to read and keeps it as unread; its token is only a mark at its beginning.
    fn too_long(&mut self, mark: Span) -> bool {
        let line = self.sources.lines_of(mark);
        let is_too_long = line.range().len() > LONGEST_LINE;
        if is_too_long {
            self.parsed.found.push(errors::line_too_long(mark, line.range().len()));
            self.unread(Span::new(mark.start, line.end));
        }
        is_too_long
    }

    fn bad_detail(&mut self, line: Span) {
        if self.too_long(line) {
            return;
        }
        if let Some(block) = indented_bad_head(self.sources.text(line)) {
            return self.damaged(line, line, block, false);
        }
        match &self.open {
            Open::Nothing => self.no_head(line),
            // The head was told, with all that belongs to it.
            Open::Unknown(entry) if is_no_entry(self.sources.text(entry.head)) => self.unread(line),
            _ => {
                self.unread(line);
                if !self.for_the_head(line) {
                    self.slip(line, false, self.block());
                }
            }
        }
    }

    /// Tells a line that belongs in the head of its entry.
    fn for_the_head(&mut self, line: Span) -> bool {
        let Open::Entry(entry) = &mut self.open else { return false };
        let Some(ForTheHead { told, lacking }) = for_the_head(self.sources, entry, line) else { return false };
        entry.damaged |= lacking;
        self.parsed.found.push(told);
        true
    }

    fn bad_head(&mut self, line: Span) {
        if self.too_long(line) {
            return;
        }
        let text = self.sources.text(line);
        if let Some(block) = known_head(text) {
            return self.damaged(line, line, block, true);
        }
        if self.day_first(line) {
            return;
        }
        if begins_unknown_block(text) {
            if let Some(verb) = only_verb_meant(text) {
                return self.damaged(line, line, BlockWord::Entry(verb), true);
            }
            self.close();
            self.slip(line, true, None);
            self.poison(line);
            let mut entry = empty_entry(verb_meant(text), line, line);
            entry.damaged = true;
            self.open = Open::Unknown(entry);
            return;
        }
        if self.batch_line_as_head(line) || self.batch_line_alone(line) {
            return;
        }
        match self.open {
            Open::Nothing => self.poison(line),
            _ => self.unread(line),
        }
        if !self.for_the_head(line) {
            self.slip(line, true, self.block());
        }
    }

    /// Begins the block of a head that stands behind its day.
    fn day_first(&mut self, line: Span) -> bool {
        let Some((block, behind)) = head_behind_its_day(self.sources.text(line)) else { return false };
        let start = line.start.saturating_add(u32::try_from(behind).unwrap_or(0));
        self.damaged(line, Span::new(start, line.end), block, true);
        true
    }

    /// Begins a block whose head has a known first word, or one that can only be meant for it, and a rest that can't be read.
    /// `head` is the line from that word on.
    fn damaged(&mut self, line: Span, head: Span, block: BlockWord, column_one: bool) {
        self.close();
        self.slip(line, column_one, Some(block));
        self.open = match block {
            BlockWord::Entry(verb) => {
                self.poison(line);
                let mut entry = empty_entry(verb, line, line);
                if let Some((date, span)) = first_date(self.sources, line) {
                    entry.date = Some(date);
                    entry.date_span = span;
                }
                entry.damaged = true;
                Open::Entry(entry)
            }
            BlockWord::Definition(word) => {
                let mut definition = empty_definition(word, head);
                definition.damaged = true;
                if !matches!(word, DefinitionWord::Shop | DefinitionWord::Choices) {
                    definition.name = second_name(self.sources, head).unwrap_or(definition.name);
                    let text = self.sources.text(head);
                    let length = text.find(['"', '\u{201C}']).map_or(0, |quote| text.get(..quote).unwrap_or("").trim_end().len());
                    let end = head.start.saturating_add(u32::try_from(length).unwrap_or(0));
                    if definition.name.end < end {
                        self.parsed.syntax.poisoned_names.push(Span::new(definition.name.start, end));
                    }
                }
                Open::Definition(definition)
            }
        };
    }

    /// Takes the names in an unread line as known.
    fn poison(&mut self, line: Span) {
        let names = names_in(self.sources, line);
        self.parsed.syntax.poisoned_names.extend(names);
    }
}

#[cfg(test)]
mod tests {
    use super::parse_piece;
    use crate::diagnostics::{Diagnostic, Diagnostics};
    use crate::sources::SourceSet;
    use crate::syntax::SyntaxFile;
    use crate::syntax::pieces::{PIECE, cut_pieces};

    fn parsed(sources: &SourceSet, size: usize) -> (usize, SyntaxFile, Vec<Diagnostic>) {
        let pieces = cut_pieces(sources, size);
        let (mut syntax, mut found) = (SyntaxFile::default(), Diagnostics::default());
        for piece in &pieces {
            let parsed = parse_piece(sources, *piece);
            syntax.definitions.extend(parsed.syntax.definitions);
            syntax.entries.extend(parsed.syntax.entries);
            syntax.poisoned_names.extend(parsed.syntax.poisoned_names);
            found.append(parsed.found);
        }
        (pieces.len(), syntax, found.into_sorted())
    }

    #[test]
    fn where_the_text_is_cut_makes_no_difference() {
        let text = include_str!("tests/every_form.kerf");
        let stray = text
            .replace("\n    paid", "\npaid")
            .replace("\n    line", "\nline")
            .replace("\nsold", "\n  sold")
            .replace("at 5.90", "at5.90");
        let damaged =
            text.replace("\nworked", "\nworkd").replace("via", "vai").replace("\nproduct", "\nprodukt").replace("for", "fro");
        for text in [text.to_owned(), stray, damaged] {
            let mut sources = SourceSet::default();
            sources.add("a.kerf", &text).expect("fits");
            sources.add("b.kerf", &format!("  2 cart\n{text}")).expect("fits");
            let whole = parsed(&sources, PIECE);
            assert_eq!(whole.0, 2);
            for size in [0, 40, 300, 2000] {
                let cut = parsed(&sources, size);
                assert!(cut.0 > 6, "{}", cut.0);
                assert_eq!((&cut.1, &cut.2), (&whole.1, &whole.2));
            }
        }
    }
}
