//! Findings for the reader: the message, the place in the book, notes, and the corrected line.
//!
//! The snippets are drawn by `annotate-snippets`, which looks through its whole source each time: it is given the lines
//! around a place and never a file. Of a very long line only a stretch around the place is shown; the position in the
//! header is always that of the book.

use std::borrow::Cow;
use std::ops::Range;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{Annotation, AnnotationKind, Group, Level, Origin, Renderer, Snippet};

use super::render_short::word;
use crate::diagnostics::{Code, Diagnostic, Label, Severity, corrected_lines};
use crate::sources::{LineIndex, SourceSet, Span};

/// The longest stretch of a line that is shown, in bytes.
const LONGEST: usize = 240;
/// How much of a long line is shown before the place.
const BEFORE: usize = 60;
/// A width in which nothing is cut.
const WHOLE: usize = 4 * LONGEST;
/// Stands for what is left out of a long line.
const ELLIPSIS: &str = "... ";
/// How far above a detail its head line is looked for, in bytes.
const HEAD_WITHIN: usize = 4096;

/// How findings are drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TextStyle {
    /// Whether colours may be used; the words say the same without them.
    pub colours: bool,
    /// The width of the terminal, in columns.
    pub width: usize,
}

impl Default for TextStyle {
    fn default() -> Self {
        Self { colours: false, width: 100 }
    }
}

/// Draws the findings in the order given, a blank line after each.
#[must_use]
pub fn render_text(sources: &SourceSet, diagnostics: &[Diagnostic], style: TextStyle) -> String {
    render_each(sources, diagnostics, style).iter().flat_map(|one| [one.as_str(), "\n\n"]).collect()
}

/// Draws each of the findings by itself.
#[must_use]
pub fn render_each(sources: &SourceSet, diagnostics: &[Diagnostic], style: TextStyle) -> Vec<String> {
    let renderer = if style.colours { Renderer::styled().hyperlink(false) } else { Renderer::plain() };
    let renderer = renderer.decor_style(DecorStyle::Ascii);
    // What is copied into the book stands there whole, however narrow the terminal.
    let (narrow, whole) = (renderer.clone().term_width(style.width.max(40)), renderer.term_width(WHOLE));
    let index = LineIndex::of(sources);
    let render = |one| {
        let (found, fixes) = (render_found(sources, &index, one, &narrow), render_fixes(sources, &index, one, &whole));
        if fixes.is_empty() { found } else { format!("{found}\n{fixes}") }
    };
    diagnostics.iter().map(render).collect()
}

fn render_found(sources: &SourceSet, index: &LineIndex<'_>, one: &Diagnostic, renderer: &Renderer) -> String {
    let level = match one.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Question => Level::INFO.with_name(word(Severity::Question)),
    };
    let code = Code::to_string(&one.code);
    let mut views = vec![View::around(sources, index, &one.primary, AnnotationKind::Primary)];
    for label in &one.secondary {
        if !views.iter_mut().any(|view| view.take_in(label)) {
            views.push(View::around(sources, index, label, AnnotationKind::Context));
        }
    }
    let mut main = Group::with_title(level.primary_title(one.message.as_str()).id(code.as_str()));
    for view in &views {
        main = view.draw(main);
    }
    for note in &one.notes {
        main = main.element(Level::NOTE.message(note.as_str()));
    }
    renderer.render(&[main])
}

/// The corrected lines.
fn render_fixes(sources: &SourceSet, index: &LineIndex<'_>, one: &Diagnostic, renderer: &Renderer) -> String {
    let mut groups = Vec::new();
    for fix in &one.fixes {
        let corrected = corrected_lines(sources, fix);
        let group = Group::with_title(Level::HELP.secondary_title(fix.message.clone()));
        let line = index.place(corrected.span.start).map_or(1, |place| place.line);
        let changed = fix.span.start.saturating_sub(corrected.span.start) as usize;
        let text = shorten(&corrected.text, changed);
        let empty = text.is_empty();
        let snippet = Snippet::<Annotation<'_>>::source(text).line_start(line).fold(false);
        groups.push(if empty { group } else { group.element(snippet) });
    }
    if groups.is_empty() { String::new() } else { renderer.render(&groups) }
}

/// A stretch of the book that is shown, with what is said about places in it.
struct View<'d> {
    path: &'d str,
    /// The first line's number.
    line: usize,
    /// Line and column of the place, as they are in the book.
    place: (usize, usize),
    /// The lines that are shown.
    shown: Span,
    source: Cow<'d, str>,
    /// Whether the line was too long to show whole.
    cut: bool,
    /// Places within the source.
    marks: Vec<(AnnotationKind, Range<usize>, &'d str)>,
}

impl<'d> View<'d> {
    /// The lines of a label's place, with the head line that they belong to.
    fn around(sources: &'d SourceSet, index: &LineIndex<'d>, label: &'d Label, kind: AnnotationKind) -> Self {
        let start = label.span.start;
        let (path, line, column) = index.place(start).map_or(("", 1, 1), |place| (place.path, place.line, place.column));
        let own = sources.lines_of(Span::new(start, start));
        let marked = Span::new(start, label.span.end.clamp(start, own.end.max(start)));
        let text = sources.text(own);
        if text.len() > LONGEST {
            let at = (start - own.start) as usize;
            let (source, shift) = stretch(text, at);
            let from = at + ELLIPSIS.len() * usize::from(shift > 0) - shift;
            let range = from..(from + (marked.end - start) as usize).min(source.len());
            let marks = vec![(kind, on_letters(&source, range), label.text.as_str())];
            return Self { path, line, place: (line, column), shown: own, source: Cow::Owned(source), cut: true, marks };
        }
        let head = head_above(sources, own);
        let shown = Span::new(head.map_or(own.start, |head| head.start), own.end);
        let source = sources.text(shown);
        let above = source.bytes().take((own.start - shown.start) as usize).filter(|byte| *byte == b'\n').count();
        let mut view = Self {
            path,
            line: line.saturating_sub(above).max(1),
            place: (line, column),
            shown,
            source: Cow::Borrowed(source),
            cut: false,
            marks: Vec::new(),
        };
        view.mark(kind, marked, &label.text);
        if let Some(head) = head {
            view.mark(AnnotationKind::Visible, head, "");
        }
        view
    }

    fn mark(&mut self, kind: AnnotationKind, span: Span, text: &'d str) {
        let within = |position: u32| (position.saturating_sub(self.shown.start) as usize).min(self.source.len());
        let range = on_letters(&self.source, within(span.start)..within(span.end));
        self.marks.push((kind, range, text));
    }

    /// Takes in a further label where its place is shown already; says whether it did.
    fn take_in(&mut self, label: &'d Label) -> bool {
        let inside = !self.cut && label.span.start >= self.shown.start && label.span.end <= self.shown.end;
        if inside {
            let line_end = self.source.get((label.span.start - self.shown.start) as usize..).and_then(|rest| rest.find('\n'));
            let end =
                line_end.and_then(|length| u32::try_from(length).ok()).map_or(label.span.end, |length| label.span.start + length);
            self.mark(AnnotationKind::Context, Span::new(label.span.start, label.span.end.min(end)), &label.text);
        }
        inside
    }

    fn draw<'a>(&'a self, group: Group<'a>) -> Group<'a> {
        let snippet = Snippet::source(self.source.as_ref()).line_start(self.line);
        let snippet = snippet.annotations(self.marks.iter().map(|(kind, range, text)| {
            let mark = kind.span(range.clone());
            if text.is_empty() { mark } else { mark.label(*text) }
        }));
        if self.cut {
            let (line, column) = self.place;
            group.element(Origin::path(self.path).line(line).char_column(column)).element(snippet)
        } else {
            group.element(snippet.path(self.path))
        }
    }
}

/// The head line of the block in which a detail line stands, where it is near.
fn head_above(sources: &SourceSet, line: Span) -> Option<Span> {
    let file = sources.file_at(line.start)?;
    let own = sources.text(line);
    if !own.starts_with([' ', '\t', '\u{A0}']) {
        return None;
    }
    let mut end = line.start;
    while end > file.span.start && (line.start - end) as usize <= HEAD_WITHIN {
        let above = sources.lines_of(Span::new(end - 1, end - 1));
        let text = sources.text(above);
        if text.len() > LONGEST {
            return None;
        }
        if !text.is_empty() && !text.starts_with([' ', '\t', '\u{A0}', '#']) {
            return Some(above);
        }
        end = above.start;
    }
    None
}

/// A stretch of a long line around a position, with the position at which it begins.
fn stretch(line: &str, at: usize) -> (String, usize) {
    let from = letter_at_or_before(line, at.saturating_sub(BEFORE));
    let to = letter_at_or_before(line, from + LONGEST);
    let before = if from > 0 { ELLIPSIS } else { "" };
    let after = if to < line.len() { ELLIPSIS } else { "" };
    (format!("{before}{}{after}", line.get(from..to).unwrap_or("")), from)
}

/// Corrected lines for showing: a long one as a stretch around the change.
fn shorten(text: &str, changed: usize) -> String {
    if text.len() > LONGEST { stretch(text, changed).0 } else { text.to_owned() }
}

/// The nearest position, not after the one given, at which a letter begins.
fn letter_at_or_before(text: &str, position: usize) -> usize {
    let mut position = position.min(text.len());
    while !text.is_char_boundary(position) {
        position -= 1;
    }
    position
}

/// A range moved outward to whole letters of a text.
fn on_letters(text: &str, range: Range<usize>) -> Range<usize> {
    let start = letter_at_or_before(text, range.start);
    let mut end = range.end.clamp(start, text.len());
    while !text.is_char_boundary(end) {
        end += 1;
    }
    start..end
}

#[cfg(test)]
mod tests {
    use super::*;

    const BOOK: &str = "\
opened 2026-01-01
    18.5 bf red-oak for 103.60

# March
bought 2026-03-02 from ridgeline-lumber
    file \"receipts/A-1182.pdf\"
    31.5 red-oak at 5.90   # dry
    31 bf maple for 197.20
";

    fn sources() -> SourceSet {
        let mut sources = SourceSet::default();
        sources.add("2026/02.kerf", "noted 2026-02-01 \"x\"\n").expect("added");
        sources.add("2026/03.kerf", BOOK).expect("added");
        sources
    }

    fn span(sources: &SourceSet, text: &str) -> Span {
        let at = u32::try_from(sources.whole().find(text).expect("there")).expect("small");
        Span::new(at, at + u32::try_from(text.len()).expect("small"))
    }

    #[test]
    fn a_finding_shows_its_line_under_its_head_and_ends_with_the_corrected_line() {
        let sources = sources();
        let place = span(&sources, "31.5 red-oak");
        let found = Diagnostic::new(Code(203), place, "red-oak is measured in bf")
            .label("31.5 of what?")
            .note("a thing that is counted needs no unit")
            .fix("write the unit", Span::new(place.start + 5, place.start + 5), "bf ");
        let expected = "\
error[K203]: red-oak is measured in bf
 --> 2026/03.kerf:7:5
  |
5 | bought 2026-03-02 from ridgeline-lumber
6 |     file \"receipts/A-1182.pdf\"
7 |     31.5 red-oak at 5.90   # dry
  |     ^^^^^^^^^^^^ 31.5 of what?
  |
  = note: a thing that is counted needs no unit
help: write the unit
  |
7 |     31.5 bf red-oak at 5.90   # dry
  |

";
        assert_eq!(render_text(&sources, &[found], TextStyle::default()).replace(" \n", "\n"), expected);
    }

    #[test]
    fn the_other_half_may_stand_in_another_block_or_file() {
        let sources = sources();
        let found = Diagnostic::new(Code(901), span(&sources, "31 bf maple"), "x")
            .also(span(&sources, "ridgeline-lumber"), "from here")
            .also(span(&sources, "2026-02-01"), "noted here");
        let drawn = render_text(&sources, &[found], TextStyle::default());
        for part in
            ["warning[K901]: x", "2026/03.kerf:8:5", "---------------- from here", "2026/02.kerf:1:7", "---------- noted here"]
        {
            assert!(drawn.contains(part), "{part} in\n{drawn}");
        }
    }

    #[test]
    fn of_a_very_long_line_only_the_place_is_shown() {
        let long = format!("    5 x \"{}\" wrong {}\n", "é".repeat(100_000), "z".repeat(100_000));
        let mut sources = SourceSet::default();
        sources.add("a.kerf", &long).expect("added");
        let place = span(&sources, "wrong");
        let found = Diagnostic::new(Code(100), place, "x").label("here").fix("drop it", place, "");
        let drawn = render_text(&sources, &[found], TextStyle::default());
        assert!(drawn.len() < 2000, "{} bytes", drawn.len());
        assert!(drawn.contains("a.kerf:1:100012"), "{drawn}");
        assert!(drawn.contains("^^^^^ here"), "{drawn}");
    }

    #[test]
    fn colours_are_only_used_where_they_are_asked_for() {
        let sources = sources();
        let found = [Diagnostic::new(Code(100), Span::new(0, 5), "x")];
        assert!(!render_text(&sources, &found, TextStyle::default()).contains('\u{1b}'));
        assert!(render_text(&sources, &found, TextStyle { colours: true, width: 80 }).contains('\u{1b}'));
    }

    #[test]
    fn a_span_that_is_cut_inside_a_letter_or_lies_nowhere_is_no_panic() {
        let mut sources = SourceSet::default();
        sources.add("a.kerf", "né").expect("added");
        for (start, end) in [(0, 0), (2, 3), (2, 2), (4, 4), (3, 99), (99, 3), (u32::MAX, u32::MAX)] {
            let found = Diagnostic::new(Code(100), Span::new(start, end), "x").fix("y", Span::new(start, end), "z");
            let _ = render_text(&sources, std::slice::from_ref(&found), TextStyle::default());
            let _ = render_text(&SourceSet::default(), &[found], TextStyle::default());
        }
    }
}
