//! `kerfbook check --fix`: makes the corrections that can only be meant, shows what is different, and leaves the rest.
//!
//! The corrected book is compiled before anything is written: it must have fewer mistakes and none that it did not have, save what a
//! corrected line hid in its own entry. Where all
//! corrections together don't do that, they are tried in parts, and those that don't are left to the reader.

use std::collections::BTreeMap;
use std::path::Path;

use super::Done;
use super::check::{Checked, check_loaded};
use crate::cli::args::{CheckArgs, FindingsFormat};
use crate::cli::forms::read_forms;
use crate::cli::options::BookOptions;
use crate::cli::outcome::Outcome;
use crate::cli::progress;
use crate::cli::rewrite::{ReadFile, may_not_be_written, read_files, write_over};
use crate::cli::streams::Streams;
use crate::diagnostics::{Severity, corrected_lines};
use crate::editor::{Hunk, MendedText};
use crate::reports::MendedModel;
use crate::sources::{LineIndex, LoadError, Loaded};
use crate::year::Forms;

/// How often a corrected book is looked at again for what was hidden behind a mistake.
const MOST_ROUNDS: usize = 8;
/// How many times a book is compiled at the most.
const MOST_TRIES: usize = 64;

/// A correction of a book, by the lines that it writes over.
#[derive(Clone, Debug)]
struct Change {
    /// Which file, by its place in the book.
    file: usize,
    first: usize,
    last: usize,
    lines: Vec<String>,
    told: MendedModel,
}

/// A book's texts, as they are corrected so far.
struct Desk<'b> {
    options: &'b BookOptions,
    forms: &'b Forms,
    read: &'b [ReadFile],
    /// `None` for a file that is no text, or may not be written.
    texts: Vec<Option<MendedText<'b>>>,
    tries: usize,
}

/// Texts, the book that they are, and the changes that made them.
type Better<'b> = (Vec<Option<MendedText<'b>>>, Checked, Vec<Change>);

/// Runs it.
pub(super) fn run(args: &CheckArgs, options: &BookOptions, streams: &Streams) -> Done {
    let folder = options.folder.as_path();
    let forms = read_forms(folder).map_err(Outcome::refused)?;
    progress::at("reading the book");
    let read = read_files(folder).map_err(Outcome::refused)?;
    let mut err = String::new();
    let mut desk =
        Desk { options, forms: &forms, read: &read, texts: read.iter().map(|one| text_of(one, folder)).collect(), tries: 0 };
    for one in &read {
        if let Some(why) = may_not_be_written(&one.file, folder) {
            err.push_str(&format!("kerfbook: `{}` {why}, so it stays as it is\n", one.file.path));
        }
    }
    let first = desk.check(&desk.texts.clone())?;
    let (checked, mended) = desk.mend(first)?;
    for (one, text) in read.iter().zip(&desk.texts) {
        if let Some(text) = text.as_ref().filter(|text| !text.hunks().is_empty()) {
            write_over(one, folder, &text.text()).map_err(Outcome::refused)?;
        }
    }
    let out = match args.format {
        FindingsFormat::Text => format!("{}{}", desk.difference(&mended), checked.words(args.format, streams.out.style())?),
        FindingsFormat::Short => {
            let line = |one: &MendedModel| {
                format!("{}:{}:1: mended[{}]: {}\n", one.path, one.line, one.code, one.message.replace(['\n', '\r'], " "))
            };
            let lines: String = mended.iter().map(line).collect();
            format!("{lines}{}", checked.words(args.format, streams.out.style())?)
        }
        FindingsFormat::Json => checked.as_json(mended)?,
    };
    Ok(Outcome { out, more: Vec::new(), err, status: checked.status() })
}

/// A file's text, where it may be written and is text.
fn text_of<'b>(read: &'b ReadFile, folder: &Path) -> Option<MendedText<'b>> {
    if may_not_be_written(&read.file, folder).is_some() || read.bytes.contains(&0) {
        return None;
    }
    std::str::from_utf8(&read.bytes).ok().map(MendedText::of)
}

impl<'b> Desk<'b> {
    /// Makes every correction that holds, round by round; gives the book as it is then, and what was mended.
    fn mend(&mut self, mut checked: Checked) -> Result<(Checked, Vec<MendedModel>), Outcome> {
        let mut mended = Vec::new();
        for _ in 0..MOST_ROUNDS {
            let changes = self.changes(&checked);
            if changes.is_empty() {
                break;
            }
            let base = self.texts.clone();
            let mut accepted: Vec<Change> = Vec::new();
            // Halves that are still to be tried, the first at the end.
            let mut parts = vec![changes];
            while let Some(part) = parts.pop().filter(|_| self.tries < MOST_TRIES) {
                let mut wanted = accepted.clone();
                wanted.extend(part.iter().cloned());
                let texts = with_changes(&base, &wanted);
                let then = self.check(&texts)?;
                if is_better(&checked, &then, &wanted) {
                    (self.texts, checked, accepted) = (texts, then, wanted);
                } else if part.len() > 1 {
                    let (front, back) = part.split_at(part.len() / 2);
                    parts.extend([back.to_vec(), front.to_vec()]);
                } else if let Some(better) = self.mend_further(&base, &checked, wanted, then)? {
                    (self.texts, checked, accepted) = better;
                }
            }
            if accepted.is_empty() {
                break;
            }
            mended.extend(accepted.into_iter().map(|change| change.told));
        }
        mended.sort_by(|a, b| (&a.path, a.line).cmp(&(&b.path, b.line)));
        Ok((checked, mended))
    }

    /// Corrects the last change's line further, where that alone left another mistake on it that can only be meant in one way; gives the
    /// texts, the book and the changes where the end is better than the beginning.
    fn mend_further(
        &mut self,
        base: &[Option<MendedText<'b>>],
        before: &Checked,
        mut wanted: Vec<Change>,
        mut then: Checked,
    ) -> Result<Option<Better<'b>>, Outcome> {
        let mut texts = with_changes(base, &wanted);
        for _ in 0..MOST_ROUNDS {
            let Some(last) = wanted.last_mut().filter(|last| last.lines.len() == 1 && last.first == last.last) else { break };
            // Lines that an earlier change added move its own.
            let others = self.changes_in(&then, &texts);
            let same = |other: &&Change| other.file == last.file && other.told.was == last.told.now && other.first == other.last;
            let Some(further) = others.iter().find(same) else { break };
            last.lines.clone_from(&further.lines);
            last.told.now.clone_from(&further.told.now);
            if self.tries >= MOST_TRIES {
                break;
            }
            texts = with_changes(base, &wanted);
            then = self.check(&texts)?;
            if is_better(before, &then, &wanted) {
                return Ok(Some((texts, then, wanted)));
            }
        }
        Ok(None)
    }

    /// Checks the book of some texts.
    fn check(&mut self, texts: &[Option<MendedText<'b>>]) -> Result<Checked, Outcome> {
        progress::at("checking the corrected book");
        self.tries += 1;
        let mut loaded = Loaded::default();
        for (one, text) in self.read.iter().zip(texts) {
            let added = match text {
                Some(text) => loaded.add(one.file.path.as_str(), text.text().as_bytes()),
                None => loaded.add(one.file.path.as_str(), &one.bytes),
            };
            added.ok_or_else(|| Outcome::refused(LoadError::TooLarge))?;
        }
        check_loaded(self.options, loaded, self.forms)
    }

    /// The corrections of a book's mistakes that can only be meant, no two of them of one line.
    fn changes(&self, checked: &Checked) -> Vec<Change> {
        self.changes_in(checked, &self.texts)
    }

    /// The same of the book of some texts.
    fn changes_in(&self, checked: &Checked, texts: &[Option<MendedText<'b>>]) -> Vec<Change> {
        let sources = checked.sources();
        let index = LineIndex::of(sources);
        let mut changes: Vec<Change> = Vec::new();
        for one in checked.found().iter().filter(|one| one.severity == Severity::Error) {
            let Some(fix) = one.sure_fix() else { continue };
            let corrected = corrected_lines(sources, fix);
            let (Some(from), Some(to)) = (index.place(corrected.span.start), index.place(corrected.span.end)) else { continue };
            let Some(file) = sources.files().iter().position(|file| file.path == from.path) else { continue };
            let Some(text) = texts.get(file).and_then(Option::as_ref) else { continue };
            let taken = changes.iter().any(|other| other.file == file && other.first <= to.line && from.line <= other.last);
            if taken || from.path != to.path {
                continue;
            }
            changes.push(Change {
                file,
                first: from.line,
                last: to.line,
                lines: corrected.text.split('\n').map(str::to_owned).collect(),
                told: MendedModel {
                    code: one.code.to_string(),
                    message: one.message.clone(),
                    path: from.path.to_owned(),
                    line: text.line_was(from.line),
                    was: sources.text(corrected.span).to_owned(),
                    now: corrected.text.clone(),
                },
            });
        }
        changes
    }

    /// What is different, file by file, and how much was mended.
    fn difference(&self, mended: &[MendedModel]) -> String {
        let mut words = String::new();
        let mut files = 0;
        for (one, text) in self.read.iter().zip(&self.texts) {
            let hunks = text.as_ref().map_or_else(Vec::new, MendedText::hunks);
            if hunks.is_empty() {
                continue;
            }
            files += 1;
            words.push_str(&format!("--- {0}\n+++ {0}\n", one.file.path));
            hunks.iter().for_each(|hunk| words.push_str(&shown(hunk)));
        }
        let files = if files == 1 { "one file".to_owned() } else { format!("{files} files") };
        words.push_str(&match mended.len() {
            0 => "nothing was mended: no mistake has a correction that can only be meant\n\n".to_owned(),
            1 => format!("mended one mistake in {files}\n\n"),
            many => format!("mended {many} mistakes in {files}\n\n"),
        });
        words
    }
}

/// Texts with some corrections, from the last line on.
fn with_changes<'b>(base: &[Option<MendedText<'b>>], changes: &[Change]) -> Vec<Option<MendedText<'b>>> {
    let mut texts = base.to_vec();
    let mut changes: Vec<&Change> = changes.iter().collect();
    changes.sort_by_key(|change| std::cmp::Reverse(change.first));
    for change in changes {
        if let Some(text) = texts.get_mut(change.file).and_then(Option::as_mut) {
            let lines: Vec<&str> = change.lines.iter().map(String::as_str).collect();
            text.write_over(change.first, change.last, &lines);
        }
    }
    texts
}

/// Whether a book is better for some corrections: it has fewer mistakes, or as many where one was hidden; none that it did not have, save in an
/// entry of which a line was corrected, where a line that could not be read hid what is wrong beside it (a total, say).
fn is_better(before: &Checked, after: &Checked, changes: &[Change]) -> bool {
    let counted = |checked: &Checked, shown: bool| {
        let mut counts: BTreeMap<(u16, String, String), usize> = BTreeMap::new();
        for one in checked.found().iter().filter(|one| one.severity == Severity::Error) {
            let path = checked.sources().file_at(one.primary.span.start).map_or("", |file| file.path.as_str());
            if !shown && stands_beside(checked, one.primary.span.start, changes) {
                continue;
            }
            *counts.entry((one.code.0, path.to_owned(), one.message.clone())).or_default() += 1;
        }
        counts
    };
    let (had, has) = (counted(before, true), counted(after, true));
    let sum = |counts: &BTreeMap<_, usize>| counts.values().sum::<usize>();
    let known = |key: &(u16, String, String), count: usize| had.get(key).is_some_and(|had| *had >= count);
    if has.iter().all(|(key, count)| known(key, *count)) {
        return sum(&has) < sum(&had);
    }
    counted(after, false).iter().all(|(key, count)| known(key, *count)) && sum(&has) <= sum(&had)
}

/// Whether a place lies in an entry with a corrected line, and on another line of it.
fn stands_beside(checked: &Checked, place: u32, changes: &[Change]) -> bool {
    let Some(file) = checked.sources().file_at(place) else { return false };
    let whole = checked.sources().whole();
    let (from, at, to) = (file.span.start as usize, place as usize, file.span.end as usize);
    let head = |line: &str| !line.starts_with([' ', '\t', '\u{A0}', '#']) && !line.trim().is_empty();
    let (mut lines, mut own) = (Vec::new(), None);
    let mut start = from;
    for line in whole.get(from..to).unwrap_or("").split_inclusive('\n') {
        if head(line) {
            if own.is_some() {
                break;
            }
            lines.clear();
        }
        lines.push(line.trim_end());
        if (start..start + line.len()).contains(&at) {
            own = Some(line.trim_end());
        }
        start += line.len();
    }
    let Some(own) = own else { return false };
    let beside = |change: &&Change| {
        let all_there = change.lines.iter().all(|line| lines.contains(&line.trim_end()));
        change.told.path == file.path && all_there && change.lines.iter().all(|line| line.trim_end() != own)
    };
    changes.iter().any(|change| beside(&change))
}

/// Lines that are different, as a plain difference.
fn shown(hunk: &Hunk) -> String {
    let range = |line: usize, count: usize| if count == 1 { line.to_string() } else { format!("{line},{count}") };
    let mut words = format!("@@ -{} +{} @@\n", range(hunk.line, hunk.was.len()), range(hunk.line_now, hunk.now.len()));
    let plain =
        |line: &str| line.chars().map(|one| if one.is_control() && one != '\t' { '\u{FFFD}' } else { one }).collect::<String>();
    hunk.was.iter().for_each(|line| words.push_str(&format!("-{}\n", plain(line))));
    hunk.now.iter().for_each(|line| words.push_str(&format!("+{}\n", plain(line))));
    words
}
