//! What a line that could not be read was probably meant to say.
//!
//! In: the line and where it stands. Out: one finding, with the corrected line where there is one. The table of slips is a
//! list of small functions, each for one thing that makers type; they are tried in order, and a correction is corrected
//! further where the line has several slips. A corrected line is offered only where it then reads and may stand in its block.
//! Must not: know a name of the book.

mod apart;
mod batch_lines;
mod behind_goods;
mod beside;
mod bought_lines;
mod buyer;
mod cents;
mod coming_in;
mod date;
mod debts;
mod drives;
mod foreign_money;
mod general;
mod gone;
mod grades;
mod head;
mod how_paid;
mod job;
mod keeping;
mod known_once;
mod list_items;
mod merge;
mod misplaced;
mod money;
mod money_at_hand;
mod name;
mod no_entry;
mod on_one_line;
mod order;
mod own_money;
mod paying;
mod price_of_many;
mod remade;
mod remark;
mod royalty;
mod sales_tax;
mod signs;
mod sizes;
mod slip;
mod small_change;
mod small_words;
mod spoken;
mod spoken_goods;
mod spoken_lines;
mod sums;
mod terms;
mod time;
mod trade_heads;
mod typed;
mod unit;
mod verb;
mod whole_sale;
mod work_said;

use std::borrow::Cow;
use std::ops::Range;

use chrono::NaiveDate;

use crate::diagnostics::Diagnostic;
use crate::sources::{SourceSet, Span};
use crate::syntax::LEFT_TO_THE_READER;
use crate::syntax::corrected_line::reads;
use crate::syntax::errors::{MISSPELLED_NAME, NO_SUCH_DATE, QUARTERS_AFTER_COUNT, RESERVED_NAME, UNIT_OF_WHAT, WRONG_UNIT_HERE};
use crate::syntax::line_context::{BlockWord, LineContext};
use crate::syntax::slip_errors::{HEAD_DATE, UNREAD_LINE};
use crate::syntax::slips::apart::fix_apart;
use crate::syntax::slips::slip::{Slip, SlipRule};
use crate::syntax::slips::typed::Typed;
use crate::syntax::unread_line::{indented_bad_head, known_head, says_since_when};
use crate::units::read_date;

pub(in crate::syntax) use buyer::{BUYER_AS_NOTE, NO_BUYER_IN_RETURNED};
pub(crate) use date::month_number;
pub(crate) use debts::{CARD_IS_NO_COST, LOAN_IS_NO_COST, LOAN_IS_NO_INCOME};
pub(in crate::syntax) use drives::distance_said;
pub(crate) use general::{definition_form, other_forms, shorten_lists};
pub(in crate::syntax) use gone::is_gone_word;
pub(in crate::syntax) use how_paid::{HOW_IT_WAS_PAID, is_how_paid};
pub(crate) use job::is_work_word;
pub(crate) use misplaced::{explain_misplaced_below, explain_misplaced_line, explain_misread_item};
pub(in crate::syntax) use own_money::MONEY;
pub(crate) use remark::is_remark_word;
pub(in crate::syntax) use spoken_lines::is_spoiled_word;
pub(crate) use sums::product;
pub(crate) use trade_heads::{is_no_entry, verb_of_the_trade};
pub(crate) use verb::verb_for;

/// The table, in the order in which it is tried.
const TABLE: [&[SlipRule]; 51] = [
    date::FIRST_RULES,
    cents::RULES,
    gone::RULES,
    beside::RULES,
    small_change::RULES,
    bought_lines::RULES,
    signs::RULES,
    known_once::HEAD_RULES,
    foreign_money::RULES,
    own_money::RULES,
    money_at_hand::RULES,
    debts::RULES,
    grades::RULES,
    terms::RULES,
    no_entry::RULES,
    buyer::RULES,
    remade::RULES,
    keeping::RULES,
    how_paid::RULES,
    royalty::RULES,
    job::RULES,
    work_said::RULES,
    behind_goods::RULES,
    batch_lines::RULES,
    spoken_goods::RULES,
    whole_sale::RULES,
    coming_in::RULES,
    paying::RULES,
    price_of_many::RULES,
    spoken::RULES,
    spoken_lines::RULES,
    verb::RULES,
    date::RULES,
    drives::RULES,
    head::RULES,
    known_once::RULES,
    general::WORD_RULES,
    sizes::RULES,
    time::RULES,
    sales_tax::RULES,
    small_words::RULES,
    money::RULES,
    unit::RULES,
    remark::RULES,
    order::RULES,
    name::RULES,
    signs::END_RULES,
    remark::END_RULES,
    list_items::RULES,
    beside::END_RULES,
    general::RULES,
];

/// The longest line that is looked at closely, in bytes.
const LONGEST: usize = 2000;
/// How far from a line the day of another entry is looked for, in bytes.
const DATE_WITHIN: usize = 8192;
/// How many slips one line may have.
const DEEPEST: usize = 5;
/// How many corrections are tried for one line.
const MOST_TRIES: usize = 16;

/// Says what is wrong with a line that could not be read. `line` is without indentation and line break.
pub(crate) fn explain_bad_line(sources: &SourceSet, line: Span, context: LineContext) -> Diagnostic {
    if let Some(told) = merge::explain_merge(sources, line) {
        return told;
    }
    let whole = Span::new(line.start, sources.lines_of(Span::new(line.start, line.start)).end.max(line.end));
    let text = sources.text(whole);
    if text.len() > LONGEST {
        let place = if context.column_one { "an entry or a definition" } else { "a line of its block" };
        return Diagnostic::new(UNREAD_LINE, line, format!("this line does not read as {place}"))
            .note("it is very long; a list may be cut into several lines of the same word");
    }
    let is_head = indented_bad_head(text).is_some() && !says_since_when(sources, context.block, line);
    let context = LineContext { column_one: context.column_one || is_head, ..context };
    let currency = foreign_money::says_currency(text).then(|| foreign_money::currency_of_shop(sources)).flatten();
    let below = lines_below(sources, line);
    let typed = Typed { below, currency, ..Typed::of(text, context, near_date(sources, line)) };
    let slip = find_slip(&typed).or_else(|| no_entry::below_a_note(&typed)).unwrap_or_else(|| general::what_belongs_here(&typed));
    to_diagnostic(sources, line, &typed, slip)
}

/// Says that a line could not be read, where so many others could not that none of them is looked at closely any more.
pub(crate) fn explain_one_of_many(sources: &SourceSet, line: Span, column_one: bool) -> Diagnostic {
    let place = if column_one { "an entry or a definition" } else { "a line of its block" };
    let shown: String = sources.text(line).chars().take(60).collect();
    Diagnostic::new(UNREAD_LINE, line, format!("`{}` does not read as {place}", shown.trim()))
        .note("so many lines here can't be read that only the first were looked at closely")
}

/// A finding of the lowering, with the table's correction where it has none of its own. Where the lowering could only say
/// that a name is missing or misspelled, and the table knows why, the table's finding is told instead.
pub(crate) fn with_correction(sources: &SourceSet, told: Diagnostic, line: Span, context: LineContext) -> Diagnostic {
    let vague = [UNIT_OF_WHAT, MISSPELLED_NAME, RESERVED_NAME, WRONG_UNIT_HERE].contains(&told.code);
    let text = sources.text(line);
    if !told.fixes.is_empty() || text.len() > LONGEST || !(vague || [NO_SUCH_DATE, QUARTERS_AFTER_COUNT].contains(&told.code)) {
        return told;
    }
    let typed = Typed::of(text, context, near_date(sources, line));
    match find_slip(&typed).filter(|slip| !slip.fixes.is_empty()) {
        Some(slip) if slip.code == told.code => {
            let corrected = to_diagnostic(sources, line, &typed, slip);
            Diagnostic { fixes: corrected.fixes, joined: corrected.joined, ..told }
        }
        Some(slip) if vague => to_diagnostic(sources, line, &typed, slip),
        _ => told,
    }
}

/// Says of a line of a batch that stands at column 1, where no batch is open above, what it is as an entry of its own; `None`
/// where it begins with no word of such a line.
pub(crate) fn explain_batch_line_alone(sources: &SourceSet, line: Span) -> Option<Diagnostic> {
    let text = sources.text(line);
    if text.len() > LONGEST {
        return None;
    }
    let typed = Typed::of(text, LineContext { column_one: true, block: None }, near_date(sources, line));
    let slip = spoken::batch_line_alone(&typed)?;
    let mut told = slip.clone();
    let mut tries = MOST_TRIES;
    let mut fixes = Vec::new();
    for (what, corrected) in slip.fixes {
        // Each of them is an entry of its own, and so is looked at under its own head.
        let context = LineContext { column_one: true, block: known_head(&corrected) };
        let own = Typed { context, ..typed.clone() };
        fixes.extend(mend(&own, corrected, DEEPEST, &mut tries).into_iter().map(|one| (what.clone(), one.line)));
    }
    told.fixes = fixes;
    Some(to_diagnostic(sources, line, &typed, told))
}

/// The first slip of the table with a correction that reads, else the first that has none.
fn find_slip(typed: &Typed<'_>) -> Option<Slip> {
    let mut first: Option<Slip> = None;
    let mut tries = MOST_TRIES;
    for slip in slips_of(typed) {
        if slip.settled {
            return Some(first.unwrap_or(slip));
        }
        if slip.fixes.is_empty() {
            first.get_or_insert(slip);
            continue;
        }
        let mended = mend_all(typed, slip, &mut tries);
        if !mended.fixes.is_empty() {
            return Some(mended);
        }
        // That a head has no day is said although its rest has more that is wrong.
        if mended.code == HEAD_DATE {
            first.get_or_insert(mended);
        }
    }
    first
}

/// A slip with its corrections corrected further, those that then read. It stays sure where every step is.
fn mend_all(typed: &Typed<'_>, mut slip: Slip, tries: &mut usize) -> Slip {
    let fixes = std::mem::take(&mut slip.fixes);
    for (what, line) in fixes {
        let mended = mend(typed, line, DEEPEST, tries);
        let several = mended.len() > 1;
        for one in mended {
            slip.sure &= one.sure;
            let what = one.what.filter(|_| several).unwrap_or_else(|| what.clone());
            slip.fixes.push((what, one.line));
        }
    }
    slip
}

/// A corrected line that reads.
struct Mended {
    line: String,
    /// What the last of its corrections does, where there was more than one.
    what: Option<String>,
    /// Whether whatever was corrected further can mean nothing else.
    sure: bool,
}

/// Every slip of the table that a line has.
fn slips_of<'a>(typed: &'a Typed<'_>) -> impl Iterator<Item = Slip> + use<'a> {
    TABLE.iter().flat_map(|rules| rules.iter()).filter_map(|rule| rule(typed))
}

/// A correction, corrected further until it reads: all lines that a further slip may be meant for; none where it never reads.
fn mend(typed: &Typed<'_>, line: String, deep: usize, tries: &mut usize) -> Vec<Mended> {
    let head = typed.context.column_one && !line.starts_with(' ');
    let context = LineContext { column_one: head, block: block_of(typed, &line, head) };
    // A line that is taken away leaves nothing that could be wrong.
    if line.is_empty() || reads(&filled_in(&line), head, context.block) {
        // What is left to the reader is not sure.
        let sure = !leaves_open(&line);
        return vec![Mended { line, what: None, sure }];
    }
    if deep == 0 || *tries == 0 {
        return Vec::new();
    }
    *tries -= 1;
    let (first, rest) = line.split_once('\n').map_or((line.as_str(), None), |(first, rest)| (first, Some(rest)));
    // What a head lacks is not made up for a first word that is itself a guess.
    let again = Typed { below: typed.below, currency: typed.currency, ..Typed::of(first.trim_start(), context, typed.near_date) };
    for slip in slips_of(&again) {
        if slip.settled {
            return Vec::new();
        }
        let sure = slip.sure && slip.fixes.len() == 1;
        let mut found = Vec::new();
        for (what, further) in slip.fixes {
            let further = match rest {
                Some(rest) => format!("{further}\n{rest}"),
                None => further,
            };
            let mended = if further == line { Vec::new() } else { mend(typed, further, deep - 1, tries) };
            let told = |one: Mended| Mended { sure: one.sure && sure, what: one.what.or_else(|| Some(what.clone())), ..one };
            found.extend(mended.into_iter().map(told));
        }
        if !found.is_empty() {
            return found;
        }
    }
    // What was put on a line of its own may have a slip too.
    let Some(rest) = rest.filter(|_| reads(&filled_in(first), head, context.block)) else { return Vec::new() };
    let mended = rest.lines().map(|below| {
        if reads(&filled_in(below), false, context.block) {
            return Some(below.to_owned());
        }
        let below = Typed::of(below, LineContext { column_one: false, ..context }, typed.near_date);
        slips_of(&below)
            .find_map(|slip| slip.fixes.into_iter().map(|(_, line)| line).find(|line| reads(line, false, context.block)))
    });
    let mended: Option<Vec<String>> = mended.collect();
    let mended = mended.map(|lines| Mended { line: format!("{first}\n{}", lines.join("\n")), what: None, sure: false });
    mended.into_iter().collect()
}

/// The block in which a corrected line stands: its own where it is a head; that of the block above where it is a line of it, save
/// where a line at column 1 begins with a word for a head, of which only its own block is known.
fn block_of(typed: &Typed<'_>, line: &str, head: bool) -> Option<BlockWord> {
    if head {
        return known_head(line).or(typed.context.block);
    }
    typed.context.block.filter(|_| !typed.context.column_one || known_head(typed.text).is_none())
}

/// Figures that corrections leave to the reader, and what is put there to see whether the rest reads.
const LEFT_OPEN: [(&str, &str); 6] =
    [("DATE", "2026-03-02"), ("WIDTH", "6"), ("LENGTH", "48"), ("SUM", "8.40"), ("TIME", "1h"), ("RATE", "1.08")];

/// Whether a correction leaves a word to the reader.
fn leaves_open(line: &str) -> bool {
    let is_open = |word| LEFT_TO_THE_READER.contains(&word) || word == "Title" || LEFT_OPEN.iter().any(|(open, _)| *open == word);
    line.split([' ', '\n', '"', ',']).any(is_open)
}

/// A correction with figures where it leaves them to the reader; a `NAME` or `BATCH` reads as it is.
fn filled_in(line: &str) -> Cow<'_, str> {
    LEFT_OPEN.into_iter().fold(Cow::Borrowed(line), |line, (open, figure)| {
        if line.split([' ', '\n', ',']).any(|word| word == open) { Cow::Owned(line.replace(open, figure)) } else { line }
    })
}

/// The indented lines that follow a line, up to the first that is not, with the line break before each.
fn lines_below(sources: &SourceSet, line: Span) -> &str {
    let start = sources.lines_of(Span::new(line.start, line.start)).end;
    let Some(file) = sources.file_at(line.start) else { return "" };
    let rest = sources.text(Span::new(start.min(file.span.end), file.span.end));
    let is_below = |line: &&str| line.starts_with([' ', '\t']) && !line.trim().is_empty();
    let length = rest.strip_prefix('\n').map_or(0, |rest| rest.split('\n').take_while(is_below).map(|line| line.len() + 1).sum());
    rest.get(..length).unwrap_or("")
}

/// The day of the entry above a line, where one is near, or else of the one below.
fn near_date(sources: &SourceSet, line: Span) -> Option<NaiveDate> {
    let file = sources.file_at(line.start)?;
    let from = line.start.saturating_sub(u32::try_from(DATE_WITHIN).unwrap_or(0)).max(file.span.start);
    let whole = sources.whole().get(..line.start as usize)?;
    let mut from = from as usize;
    while !whole.is_char_boundary(from) {
        from += 1;
    }
    let date_of = |line: &str| {
        let head = !line.starts_with([' ', '\t', '#']) && !matches!(known_head(line), Some(BlockWord::Definition(_)));
        // The day stands behind the verb, or, as a slip, before it.
        line.split_whitespace().take(2).filter(|_| head).find_map(|word| read_date(word.trim_end_matches(':')).ok())
    };
    let above = whole.get(from..)?.lines().rev().find_map(date_of);
    above.or_else(|| {
        let mut to = (line.end as usize).saturating_add(DATE_WITHIN).min(file.span.end as usize);
        while !sources.whole().is_char_boundary(to) {
            to -= 1;
        }
        sources.whole().get(line.end as usize..to)?.lines().skip(1).find_map(date_of)
    })
}

/// A slip as a finding, each correction as the smallest change of the line.
fn to_diagnostic(sources: &SourceSet, line: Span, typed: &Typed<'_>, slip: Slip) -> Diagnostic {
    let text = sources.text(Span::new(line.start, line.start.saturating_add(u32::try_from(LONGEST).unwrap_or(0)).max(line.end)));
    let indent = text.len() - text.trim_start_matches(typed::is_blank).len();
    let start = line.start.saturating_add(u32::try_from(indent).unwrap_or(0));
    let span = |range: Range<usize>| {
        let at = |within: usize| start.saturating_add(u32::try_from(within).unwrap_or(0));
        Span::new(at(range.start), at(range.end))
    };
    let mut told = Diagnostic::new(slip.code, span(slip.at), slip.message);
    told.notes = slip.notes;
    told.joined = slip.joined;
    let lines = sources.lines_of(Span::new(line.start, line.start));
    let before = sources.text(Span::new(lines.start, start));
    let inner_indent = if typed.context.column_one || before.is_empty() { "    " } else { before };
    let sure = slip.sure && slip.fixes.len() == 1;
    for (what, corrected) in slip.fixes {
        let corrected = corrected.replace('\n', &format!("\n{inner_indent}"));
        let with_below = format!("{}{}", typed.whole, typed.below);
        let old = match () {
            () if slip.over_below => with_below.as_str(),
            () if slip.over_comment => typed.whole,
            () => typed.text,
        };
        let (range, replacement) = smallest_change(old, &corrected);
        told = told.fix(what, span(range), replacement);
    }
    let told = if sure { told.sure() } else { told };
    match slip.apart.and_then(|apart| fix_apart(sources, line, &apart)) {
        Some(fix) => Diagnostic { fixes: [told.fixes, vec![fix]].concat(), ..told },
        None => told,
    }
}

/// Where two texts differ, and what stands there in the second.
fn smallest_change<'c>(old: &str, new: &'c str) -> (Range<usize>, &'c str) {
    let same = |pairs: &mut dyn Iterator<Item = (char, char)>| -> usize {
        pairs.take_while(|(one, other)| one == other).map(|(one, _)| one.len_utf8()).sum()
    };
    let front = same(&mut old.chars().zip(new.chars()));
    let (old_rest, new_rest) = (old.get(front..).unwrap_or(""), new.get(front..).unwrap_or(""));
    let back = same(&mut old_rest.chars().rev().zip(new_rest.chars().rev()));
    (front..old.len() - back, new.get(front..new.len() - back).unwrap_or(""))
}

#[cfg(test)]
mod tests;
