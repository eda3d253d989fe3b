//! From all entries to all events: batches first, since what was worked `on` a product asks which batches were open; then the rest, side
//! by side; then the order of the days and what only a look at the whole book shows.

use chrono::{Datelike, NaiveDate};
use rayon::prelude::*;
use rustc_hash::{FxHashMap, FxHashSet};

use crate::diagnostics::Diagnostics;
use crate::events::after_deposits::LeftOfSale;
use crate::events::batch_course::{LeftOut, check_courses};
use crate::events::day_order::order_events;
use crate::events::desk::Desk;
use crate::events::entry_reader::{BuiltEntry, EntryReader};
use crate::events::in_doubt::{Lacking, doubt_all};
use crate::events::line_order::put_lines_in_order;
use crate::events::names_meant::NameParts;
use crate::events::on_the_bench::OnTheBench;
use crate::events::{
    Doubts, Event, EventKind, EventLog, Papers, after_deposits, build_batch, build_bought, build_left, build_moved, build_opened,
    build_paid, build_received, build_records, build_returned, build_sold, build_swapped, build_worked, counts_of_a_day, errors,
    no_effect, slips_of_bills, slips_of_costs, slips_of_fairs, slips_of_figures, slips_of_helpers, slips_of_making,
    slips_of_orders, slips_of_pairs, slips_of_prices, slips_of_remarks, slips_of_sales, slips_of_taxes, slips_of_worked_ahead,
    slips_of_years,
};
use crate::names::{Known, LabelId, Lookup, ResolvedBook, ThingId};
use crate::sources::{SourceSet, Span};
use crate::syntax::{DetailKind, Entry, HeadPart, Party, Purpose, SaidWhat, SyntaxFile, Verb};

/// How many entries are read in one go.
const SIDE_BY_SIDE: usize = 512;

/// Reads all entries of a book and puts them in order. `today` is needed only to warn of days to come; `file_exists` says whether
/// a path below the book's folder is a file. What can't be read is told and moves nothing; the rest goes on. The tree is taken, since an
/// entry's details are let go as soon as its events are made: tree and events never stand beside each other as a whole.
#[must_use]
pub fn build_events(
    sources: &SourceSet,
    mut syntax: SyntaxFile,
    book: &ResolvedBook,
    today: Option<NaiveDate>,
    file_exists: &dyn Fn(&str) -> bool,
    found: &mut Diagnostics,
) -> EventLog {
    let opened = syntax.entries.iter().filter(|entry| entry.verb == Verb::Opened && !entry.damaged);
    let opened = opened.filter_map(|entry| entry.date.map(|date| (date, entry.head))).min();
    let hired = hired_names(sources, &syntax, book);
    let mut desk = Desk { sources, book, opened, bench: OnTheBench::default(), hired, parts: NameParts::default() };

    let mut all = Built::default();
    for definition in &syntax.definitions {
        all.papers.take(definition.span, &definition.details);
    }
    all.read(&desk, &mut syntax, is_of_a_batch);
    desk.bench = OnTheBench::of(all.events.iter());
    all.read(&desk, &mut syntax, |entry| !is_of_a_batch(entry));
    let mut papers = std::mem::take(&mut all.papers);
    papers.sort();
    check_files(sources, &papers, file_exists, &mut all.found);

    all.doubts.papers.extend(all.lacking.orders(&all.events));
    for (thing, date) in all.lacking.things(&all.events, book) {
        all.doubt(thing, date);
    }
    all.doubts.of_terms(book);
    let mut events = order_events(all.events, sources, book);
    leave_out_changes(&mut events, today);
    let doubts = LeftOut { things: &mut all.uncertain, batches: &mut all.doubts.batches };
    check_courses(&mut events, sources, &syntax, book, doubts, &mut all.found);
    let left_of_sales = std::mem::take(&mut all.left_of_sales);
    after_deposits::look_over(&events, left_of_sales, &all.doubts, book, &mut all.found);
    let sure_of_taxes = all.doubts.is_empty();
    let looks: [&(dyn Fn(&mut Diagnostics) + Sync); 14] = [
        &|told| slips_of_prices::look_over(&events, sources, book, told),
        &|told| counts_of_a_day::look_over(&events, book, told),
        &|told| slips_of_bills::look_over(&events, sources, book, told),
        &|told| slips_of_sales::look_over(&events, book, &all.doubts, told),
        &|told| slips_of_orders::look_over(&events, book, told),
        &|told| slips_of_figures::look_over(&events, book, told),
        &|told| slips_of_costs::look_over(&events, sources, book, told),
        &|told| slips_of_making::look_over(&events, sources, book, told),
        &|told| slips_of_worked_ahead::look_over(&events, sources, book, told),
        &|told| slips_of_pairs::look_over(&events, sources, book, told),
        &|told| slips_of_remarks::look_over(&events, sources, book, told),
        &|told| slips_of_helpers::look_over(&events, sources, book, told),
        &|told| slips_of_fairs::look_over(&events, sources, book, told),
        // What was collected may stand in what could not be read.
        &|told| {
            if sure_of_taxes {
                slips_of_taxes::look_over(&events, book, told)
            }
        },
    ];
    for told in looks.par_iter().map(told_by).collect::<Vec<_>>() {
        all.found.append(told);
    }
    // Of an entry with a line that could not be read nothing is likely a slip before that line reads.
    let half_read = syntax.entries.iter().filter(|entry| entry.damaged || !entry.unread.is_empty());
    all.found.take_warnings_in(half_read.map(|entry| entry.span).collect());
    // Last, for a day about which something was told is told of no more.
    slips_of_years::look_over(&syntax, sources, today, &mut all.found);
    found.append(all.found);

    let first_day = opened.map(|(date, _)| date).or_else(|| events.first().map(|event| event.date));
    EventLog { events, uncertain: all.uncertain, doubts: all.doubts, first_day, papers }
}

/// Leaves out what changed before anything else happened, or is to change on a day to come: neither begins the book, nor does a price that is raised ahead
/// make its last day later.
fn leave_out_changes(events: &mut Vec<Event>, today: Option<NaiveDate>) {
    let first = events.iter().find(|event| event.verb != Verb::Changed).map(|event| event.date);
    events.retain(|event| {
        let is_within = first.is_some_and(|first| event.date >= first) && today.is_none_or(|today| event.date <= today);
        event.verb != Verb::Changed || is_within
    });
}

/// What a look at the whole book tells.
fn told_by(look: &&(dyn Fn(&mut Diagnostics) + Sync)) -> Diagnostics {
    let mut told = Diagnostics::default();
    look(&mut told);
    told
}

/// What all entries became.
#[derive(Default)]
struct Built {
    events: Vec<Event>,
    found: Diagnostics,
    uncertain: FxHashMap<ThingId, NaiveDate>,
    doubts: Doubts,
    lacking: Lacking,
    left_of_sales: Vec<LeftOfSale>,
    papers: Papers,
}

impl Built {
    /// Reads the wanted entries and lets their details go.
    fn read(&mut self, desk: &Desk<'_>, syntax: &mut SyntaxFile, wanted: impl Fn(&Entry) -> bool + Sync) {
        let parts: Vec<Self> = syntax
            .entries
            .par_chunks_mut(SIDE_BY_SIDE)
            .map(|entries| {
                let mut part = Self::default();
                for entry in entries.iter_mut().filter(|entry| wanted(entry)) {
                    part.take(desk, entry, build_entry(desk, entry));
                    entry.details = Vec::new();
                }
                part
            })
            .collect();
        self.events.reserve_exact(parts.iter().map(|part| part.events.len()).sum());
        for part in parts {
            self.events.extend(part.events);
            self.found.append(part.found);
            self.doubts.extend(part.doubts);
            self.lacking.extend(part.lacking);
            self.left_of_sales.extend(part.left_of_sales);
            self.papers.extend(part.papers);
            let mut uncertain: Vec<(ThingId, NaiveDate)> = part.uncertain.into_iter().collect();
            uncertain.sort_unstable();
            for (thing, date) in uncertain {
                self.doubt(thing, date);
            }
        }
    }

    fn doubt(&mut self, thing: ThingId, date: NaiveDate) {
        let since = self.uncertain.entry(thing).or_insert(date);
        *since = (*since).min(date);
    }

    fn take(&mut self, desk: &Desk<'_>, entry: &Entry, mut built: BuiltEntry) {
        for event in &mut built.events {
            put_lines_in_order(&mut event.kind);
            event.kind.shrink_to_fit();
        }
        self.events.extend(built.events);
        self.found.append(built.found);
        self.left_of_sales.extend(built.left_of_sale);
        self.papers.take(entry.span, &entry.details);
        let since = entry.date.unwrap_or(NaiveDate::MIN);
        for thing in built.uncertain {
            self.doubt(thing, since);
        }
        if built.failed {
            doubt_all(desk, entry, &mut self.doubts);
        }
        self.lacking.note(desk, entry, built.lacks_goods);
    }
}

fn is_of_a_batch(entry: &Entry) -> bool {
    match entry.verb {
        Verb::Built | Verb::Started | Verb::Continued | Verb::Finished => true,
        Verb::Scrapped => entry.parts.iter().any(|(part, _)| matches!(part, HeadPart::Batch(_))),
        _ => false,
    }
}

/// The day on which an entry counts: its own; the last of the year for `statement` and `closed`.
fn day_of(entry: &Entry) -> Option<NaiveDate> {
    entry.date.or_else(|| NaiveDate::from_ymd_opt(entry.year?, 12, 31))
}

fn build_entry(desk: &Desk<'_>, entry: &Entry) -> BuiltEntry {
    let day = day_of(entry);
    let checked_on = day.or(desk.opened.map(|(date, _)| date)).unwrap_or_default();
    let mut reader = EntryReader::begin(desk, entry, checked_on);
    if day.is_none() {
        reader.fail();
    }
    check_day(&mut reader);
    check_lines(&mut reader);
    no_effect::tell_said(&mut reader);
    match entry.verb {
        Verb::Opened | Verb::Contributed | Verb::Found => build_opened::build_opened(&mut reader),
        Verb::Bought => build_bought::build_bought(&mut reader),
        Verb::Paid => build_paid::build_paid(&mut reader),
        Verb::Built | Verb::Started | Verb::Continued | Verb::Finished => build_batch::build_batch(&mut reader),
        Verb::Worked => build_worked::build_worked(&mut reader),
        Verb::Sold => build_sold::build_sold(&mut reader),
        Verb::Received => build_received::build_received(&mut reader),
        Verb::Sent => build_moved::build_sent(&mut reader),
        Verb::BroughtBack => build_moved::build_brought_back(&mut reader),
        Verb::Returned => build_returned::build_returned(&mut reader),
        Verb::SentBack => build_returned::build_sent_back(&mut reader),
        Verb::Credited => build_returned::build_credited(&mut reader),
        Verb::Counted => build_left::build_counted(&mut reader),
        Verb::TookHome | Verb::Gave | Verb::Scrapped | Verb::UsedUp => build_left::build_left(&mut reader),
        Verb::Swapped => build_swapped::build_swapped(&mut reader),
        Verb::Drove => build_records::build_drove(&mut reader),
        Verb::Odometer => build_records::build_odometer(&mut reader),
        Verb::Retired => build_records::build_retired(&mut reader),
        Verb::Statement => build_records::build_statement(&mut reader),
        Verb::Noted => reader.happened(EventKind::Noted),
        Verb::Answered => build_records::build_answered(&mut reader),
        Verb::Closed => build_records::build_closed(&mut reader),
        // What changed is part of the definitions; that it did is all that happened.
        Verb::Changed => reader.happened(EventKind::Noted),
    }
    reader.end(day.is_some())
}

/// A day before the book began is a mistake.
fn check_day(reader: &mut EntryReader<'_>) {
    let (entry, date) = (reader.entry, reader.date);
    let Some(written) = entry.date else { return };
    if let Some((began, opened)) = reader.desk.opened
        && written < began
        && !matches!(entry.verb, Verb::Opened | Verb::Changed)
    {
        let next = date.with_year(date.year().saturating_add(1)).filter(|day| *day >= began);
        // The day in the head of `opened`, which may have to be an earlier one.
        let head = reader.desk.sources.text(opened);
        let at = head.find(&began.to_string()).and_then(|at| u32::try_from(at).ok()).unwrap_or(0);
        let day = Span::new(opened.start.saturating_add(at), opened.start.saturating_add(at).saturating_add(10));
        reader.refuse_entry(errors::entries::before_the_book(entry.date_span, written, (began, day), next));
    }
}

/// An entry that lives by its lines and has none says nothing.
fn check_lines(reader: &mut EntryReader<'_>) {
    let entry = reader.entry;
    let lives_by_lines = match entry.verb {
        Verb::Drove | Verb::Odometer | Verb::Retired | Verb::Noted | Verb::Answered | Verb::Closed | Verb::Statement => false,
        // These have a mistake or a meaning of their own without lines.
        Verb::Built | Verb::Finished | Verb::Started | Verb::Swapped => false,
        Verb::Scrapped => !is_of_a_batch(entry),
        _ => true,
    };
    let says_nothing = entry.details.iter().all(|detail| matches!(detail.kind, DetailKind::Expected(_)));
    if lives_by_lines && says_nothing && entry.unread.is_empty() && !entry.damaged {
        let verb = reader.text(entry.head).split_whitespace().next().unwrap_or_default();
        reader.tell(errors::entries::no_lines(entry.head, verb));
    }
}

/// Names that were hired, or are owed to, without being defined.
fn hired_names(sources: &SourceSet, syntax: &SyntaxFile, book: &ResolvedBook) -> FxHashSet<LabelId> {
    let look = Lookup::new(book, sources);
    let mut hired = FxHashSet::default();
    let mut note = |party: Party| {
        if !matches!(book.table.get(look.text(party.span).as_ref()), Some(Known::Helper(_))) {
            hired.extend(look.party(party));
        }
    };
    for entry in &syntax.entries {
        if !matches!(entry.verb, Verb::Built | Verb::Started | Verb::Continued | Verb::Finished | Verb::Worked | Verb::Opened) {
            continue;
        }
        for detail in &entry.details {
            match &detail.kind {
                DetailKind::Items(_, items) => {
                    for said in items.iter().flat_map(|item| &item.said) {
                        if let SaidWhat::By(party) = said.what {
                            note(party);
                        }
                    }
                }
                DetailKind::Money { purpose, .. } => {
                    if let Purpose::OwedTo(party, _) = purpose.as_ref() {
                        note(*party);
                    }
                }
                _ => {}
            }
        }
    }
    hired
}

/// Every `file` line names a file that is there.
fn check_files(sources: &SourceSet, papers: &Papers, file_exists: &dyn Fn(&str) -> bool, found: &mut Diagnostics) {
    for span in papers.files() {
        let path: &str = sources.text(span);
        if !file_exists(path) {
            found.push(errors::entries::file_missing(span, path));
        }
    }
}

/// The verb of an entry, as it is written.
pub(crate) fn verb_of(sources: &SourceSet, head: Span) -> &str {
    sources.text(head).split_whitespace().next().unwrap_or_default()
}
