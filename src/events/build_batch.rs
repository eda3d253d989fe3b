//! `built`, `started`, `continued`, `finished`: what a batch used, took, made, lost and kept.
//!
//! What is planned (`as planned`) is only noted here; how much that is depends on the batch's past and is the engine's matter. That
//! there is a recipe to plan by is checked here.

use crate::events::entry_goods::{GoodsRule, Stocked};
use crate::events::entry_reader::EntryReader;
use crate::events::errors;
use crate::events::{BatchWork, EventKind, KeptLine, LostLine, MadeLine, Output, OutputSharing};
use crate::names::{BatchId, Need, ThingId, ThingKind};
use crate::sources::Span;
use crate::syntax::{Detail, DetailKind, Item, ListWord, Plain, SaidWhat, Verb};
use crate::units::Fixed6;

/// Reads an entry of a batch.
pub(crate) fn build_batch(reader: &mut EntryReader<'_>) {
    let place = reader.place_or_home();
    let mut work = BatchWork {
        batch: BatchId(0),
        place: crate::names::PlaceId(0),
        aims: Vec::new(),
        used: Vec::new(),
        used_as_planned: None,
        took: Vec::new(),
        took_as_planned: None,
        made: Vec::new(),
        made_nothing: None,
        lost: Vec::new(),
        kept: Vec::new(),
        sharing: OutputSharing::BySharesOrSingle,
        ends: reader.entry.verb == Verb::Built,
        owner_rate: reader.owner_rate(),
    };
    reader.each_line(|reader, detail| read_line(reader, &mut work, detail));
    if reader.failed && ends_without_output(reader.entry.verb, &work) {
        // What it made stands in a line that could not be read; without it the batch would be a loss.
        reader.leave_out();
    }
    check_made(reader, &work);
    check_sharing(reader, &work);
    check_plan(reader, &work);
    // A batch without a usable name has been told with the names.
    let Some(batch) = reader.look().batch_of(reader.entry) else { return reader.fail() };
    let Some(place) = place else { return };
    work.batch = batch;
    work.place = place;
    reader.happened(EventKind::Batch(Box::new(work)));
}

fn read_line(reader: &mut EntryReader<'_>, work: &mut BatchWork, detail: &Detail) {
    match &detail.kind {
        DetailKind::Items(word, items) => {
            for item in items {
                read_item(reader, work, *word, item, detail);
            }
        }
        DetailKind::Plain(Plain::UsedAsPlanned) => work.used_as_planned = Some(detail.span),
        DetailKind::Plain(Plain::TookAsPlanned) => work.took_as_planned = Some(detail.span),
        DetailKind::Plain(Plain::MadeNothing) => work.made_nothing = Some(detail.span),
        DetailKind::Plain(Plain::SharedByPrice) => work.sharing = OutputSharing::ByPrice,
        DetailKind::Plain(Plain::SharedByCount) => work.sharing = OutputSharing::ByCount,
        DetailKind::Plain(Plain::NothingElse) => work.ends = true,
        _ => {}
    }
}

fn read_item(reader: &mut EntryReader<'_>, work: &mut BatchWork, word: ListWord, item: &Item, detail: &Detail) {
    match word {
        ListWord::Used => {
            if let Some(line) = reader.stock_line(item, GoodsRule::Any, detail.memo) {
                work.used.push(line);
            }
        }
        ListWord::Took => {
            if let Some(line) = reader.time_line(item) {
                work.took.push(crate::events::TimeLine { on: None, ..line });
            }
        }
        ListWord::Made => read_made(reader, work, item, detail),
        ListWord::Lost => {
            if let Some((what, quantity)) = output(reader, item) {
                let charged_off = item.said.iter().any(|said| said.what == SaidWhat::ChargedOff);
                work.lost.push(LostLine { what, quantity, charged_off, memo: detail.memo, span: item.span });
            }
        }
        ListWord::Kept => read_kept(reader, work, item),
        ListWord::AimsAt => {
            if let Some((what, quantity)) = output(reader, item) {
                work.aims.push((what, quantity, item.span));
            }
        }
        _ => {}
    }
}

fn output(reader: &mut EntryReader<'_>, item: &Item) -> Option<(Output, rust_decimal::Decimal)> {
    let goods = reader.goods(item, GoodsRule::Any)?;
    let what = match goods.what {
        Stocked::Thing(thing) => Output::Thing(thing),
        Stocked::Tool(tool) => Output::Tool(tool),
    };
    Some((what, goods.quantity))
}

fn read_made(reader: &mut EntryReader<'_>, work: &mut BatchWork, item: &Item, detail: &Detail) {
    if matches!(reader.entry.verb, Verb::Started | Verb::Continued) {
        let verb = reader.text(reader.entry.head).split_whitespace().next().unwrap_or_default();
        let told = errors::goods::made_before_finished(detail.span, verb, &reader.date.to_string());
        return reader.refuse(told);
    }
    let Some((what, quantity)) = output(reader, item) else { return };
    let mut line = MadeLine {
        what,
        quantity,
        share: None,
        rest_worked: rust_decimal::Decimal::ONE_HUNDRED,
        list_price: match what {
            Output::Thing(thing) => *reader.desk.book.thing(thing).price.on(reader.date),
            Output::Tool(_) => None,
        },
        span: item.span,
    };
    for said in &item.said {
        match said.what {
            SaidWhat::Share(share) => line.share = Some(share),
            SaidWhat::TheRest(percent) => {
                if percent > rust_decimal::Decimal::ONE_HUNDRED {
                    reader.tell(errors::money::more_than_all(said.span, "the rest can't be worked more than whole"));
                }
                line.rest_worked = percent;
            }
            SaidWhat::AsPlanned => {
                work.used_as_planned = Some(detail.span);
                work.took_as_planned = Some(detail.span);
            }
            _ => {}
        }
    }
    work.made.push(line);
}

fn read_kept(reader: &mut EntryReader<'_>, work: &mut BatchWork, item: &Item) {
    let Some(goods) = reader.stock_line(item, GoodsRule::Any, Span::default()) else { return };
    let Some(said) = reader.worth_said(item) else { return };
    let worth = said.unwrap_or(Fixed6::ZERO);
    work.kept.push(KeptLine { thing: goods.thing, quantity: goods.quantity, worth, worth_said: said.is_some(), span: item.span });
}

/// Whether an entry ends its batch without saying what came of it.
fn ends_without_output(verb: Verb, work: &BatchWork) -> bool {
    let nothing_said = work.made.is_empty() && work.lost.is_empty() && work.made_nothing.is_none();
    nothing_said && (verb == Verb::Built || verb == Verb::Finished && !work.ends)
}

/// An entry that ends a batch says what came of it.
fn check_made(reader: &mut EntryReader<'_>, work: &BatchWork) {
    if ends_without_output(reader.entry.verb, work) && reader.may_compare() {
        let told = errors::goods::nothing_made(reader.entry.head, reader.entry.verb == Verb::Built);
        reader.refuse_entry(told);
        doubt_what_it_may_make(reader, work);
    }
}

/// A batch that doesn't say what it made made something of what it used: products whose recipes need some of that are uncertain, or
/// all products where no recipe does.
fn doubt_what_it_may_make(reader: &mut EntryReader<'_>, work: &BatchWork) {
    let products = || (0..).map(ThingId).zip(&reader.desk.book.things).filter(|(_, thing)| thing.kind == ThingKind::Product);
    let uses = |needs: &[Need]| needs.iter().any(|need| work.used.iter().any(|line| line.thing == need.thing));
    let mut made: Vec<ThingId> =
        products().filter(|(_, thing)| uses(thing.needs.on(reader.date))).map(|(thing, _)| thing).collect();
    if made.is_empty() {
        made = products().map(|(thing, _)| thing).collect();
    }
    for thing in made {
        reader.doubt_thing(thing);
    }
}

/// Several products need a share each, or one rule for all.
fn check_sharing(reader: &mut EntryReader<'_>, work: &BatchWork) {
    if work.sharing != OutputSharing::BySharesOrSingle {
        for line in work.made.iter().filter(|line| line.share.is_some()) {
            let why = "another line says for all how they share";
            reader.tell(errors::entries::no_effect_here(line.span, "`share`", why));
        }
    }
    if work.sharing != OutputSharing::BySharesOrSingle || !reader.may_compare() {
        return check_list_prices(reader, work);
    }
    let Some(first) = work.made.first() else { return };
    if work.made.iter().all(|line| line.what == first.what) {
        return;
    }
    if let Some(line) = work.made.iter().find(|line| line.share.is_none()) {
        let last = work.made.last().map_or(line.span, |last| last.span);
        let behind = reader.desk.sources.lines_of(last).end;
        let priced = work.made.iter().all(|line| line.list_price.is_some());
        let told = errors::goods::needs_share(line.span, reader.text(line.span), (Span::new(behind, behind), priced));
        reader.refuse_entry(told);
    }
}

/// `shared by price` needs a price of the day for each.
fn check_list_prices(reader: &mut EntryReader<'_>, work: &BatchWork) {
    if work.sharing != OutputSharing::ByPrice {
        return;
    }
    for line in &work.made {
        let name = reader.output_name(line.what);
        if line.list_price.is_none() && !reader.output_incomplete(line.what) {
            let told = errors::goods::share_without_price(line.span, name, reader.date);
            reader.refuse_entry(told);
        }
    }
}

/// `as planned` needs a recipe for everything that it is about.
fn check_plan(reader: &mut EntryReader<'_>, work: &BatchWork) {
    if work.used_as_planned.is_none() && work.took_as_planned.is_none() {
        return;
    }
    let outputs: Vec<Output> = match reader.entry.verb {
        Verb::Started => work.aims.iter().map(|(what, ..)| *what).collect(),
        _ => work.made.iter().map(|line| line.what).chain(work.lost.iter().map(|line| line.what)).collect(),
    };
    let mut told_of = Vec::new();
    for what in outputs {
        if told_of.contains(&what) || reader.recipe_incomplete(what) {
            continue;
        }
        let (needs, takes) = recipe(reader, what);
        // `made … as planned` asks for a recipe of either kind; `used` and `took as planned` each for its own.
        let missing: Option<(Span, &str)> = match (work.used_as_planned, work.took_as_planned) {
            (Some(used), Some(took)) if used == took => (!needs && !takes).then_some((used, "needs")),
            (Some(used), _) if !needs => Some((used, "needs")),
            (_, Some(took)) if !takes => Some((took, "takes")),
            _ => None,
        };
        if let Some((span, word)) = missing {
            let told = errors::goods::no_recipe(span, reader.output_name(what), word, reader.date);
            reader.refuse_entry(told);
            told_of.push(what);
        }
    }
}

fn recipe(reader: &EntryReader<'_>, what: Output) -> (bool, bool) {
    match what {
        Output::Thing(thing) => {
            let thing = reader.desk.book.thing(thing);
            (!thing.needs.on(reader.date).is_empty(), !thing.takes.on(reader.date).is_empty())
        }
        Output::Tool(_) => (false, false),
    }
}

impl<'a> EntryReader<'a> {
    /// The name of what a batch makes.
    pub(crate) fn output_name(&self, what: Output) -> &'a str {
        match what {
            Output::Thing(thing) => &self.desk.book.thing(thing).named.name,
            Output::Tool(tool) => &self.desk.book.tool(tool).named.name,
        }
    }

    fn recipe_incomplete(&self, what: Output) -> bool {
        match what {
            Output::Thing(thing) => self.desk.book.thing(thing).recipe_incomplete,
            Output::Tool(tool) => self.desk.book.tool(tool).named.incomplete,
        }
    }

    fn output_incomplete(&self, what: Output) -> bool {
        match what {
            Output::Thing(thing) => self.desk.book.thing(thing).named.incomplete,
            Output::Tool(tool) => self.desk.book.tool(tool).named.incomplete,
        }
    }
}
