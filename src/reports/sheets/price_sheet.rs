//! The sheet of a product's price: what it must fetch in each channel, what its price earns there, and what both are asked back from.
//!
//! A cell leads to the table that it is reckoned from: a least price to what the channel leaves and to the piece, the piece to its batches.

use rust_decimal::Decimal;

use super::expected_table::{EXPECTED, expected_tables};
use super::reports_by_name::ReportsByName;
use super::sheet::{CellKind, Sheet, SheetCell, SheetKind, SheetName, SheetRow, SheetTable};
use super::sheet_index::SheetIndex;
use super::thing_sheet::{HOURS, NO_PRICE};
use super::{column_cells, plain_name};
use crate::costing::{Component, OutputItem};
use crate::names::{BatchId, ThingId, ThingKind};
use crate::reports::period::{minutes_text, quantity_text};
use crate::reports::pricing::{Piece, Whence, price_by_index};
use crate::reports::{ChannelPrice, PriceEarns, PriceFault, PriceIndex, PriceReport, Wanted};
use crate::units::{Fixed6, Unit, checked_add_exact};

use CellKind::{Cost, Day, Minutes, Money, Quantity, Words};

/// What a least price and a receipt are reckoned from.
const SELLING: &str = "selling";
const EARNS: &str = "earns";
const PIECE: &str = "piece";
const BATCHES: &str = "batches";
/// In no channel.
pub(super) const NOWHERE: &str = "nowhere";
/// So many channels in which too little is asked are named in the answer.
const MOST_NAMED: usize = 3;
/// Why no number of pieces meets a fixed cost.
const NEVER: &str = "a piece leaves nothing for it";
/// Why no price covers a cost.
const KEEPS_ALL: &str = "it keeps more than it leaves";

/// The price of a product, of which something says what it costs, and what it is or was asked for; nothing where one of these is missing. The outer
/// `None` is a figure too large to be carried.
pub(super) fn price_of<'a>(
    index: &SheetIndex<'_>,
    prices: &PriceIndex<'a>,
    thing: ThingId,
) -> Option<Option<(PriceReport, Piece<'a>)>> {
    if index.books.book.thing(thing).kind != ThingKind::Product {
        return Some(None);
    }
    match price_by_index(prices, thing, Wanted::default()) {
        Ok((report, piece)) => Some(has_price(&report).then_some((report, piece))),
        Err(PriceFault::TooLarge) => None,
        Err(_) => Some(None),
    }
}

fn has_price(report: &PriceReport) -> bool {
    report.channels.iter().any(|one| asked(one).is_some())
}

/// What a piece is asked for in a channel: its list price, else the last one.
fn asked(channel: &ChannelPrice) -> Option<&PriceEarns> {
    channel.at_list_price.as_ref().or(channel.at_last_price.as_ref())
}

/// Whether a price leaves less than a piece costs.
fn falls_short(at: &PriceEarns) -> bool {
    at.full_margin.as_ref().unwrap_or(&at.paid_margin).starts_with('-')
}

/// The products that have a sheet of their price. `None` where a figure is too large to be carried.
#[must_use]
pub fn priced_products(index: &SheetIndex<'_>, prices: &PriceIndex<'_>) -> Option<Vec<ThingId>> {
    let mut priced = Vec::new();
    for (at, _) in (0u32..).zip(&index.books.book.things) {
        if price_of(index, prices, ThingId(at))?.is_some() {
            priced.push(ThingId(at));
        }
    }
    Some(priced)
}

/// The name of the sheet of a product's price.
#[must_use]
pub fn price_sheet_name(index: &SheetIndex<'_>, thing: ThingId) -> SheetName {
    SheetName::new(SheetKind::Price, index.names.thing(thing))
}

/// Makes the sheet. `None` where a figure is too large to be carried, or there is no price.
#[must_use]
pub fn sheet_of_price(
    index: &SheetIndex<'_>,
    prices: &PriceIndex<'_>,
    thing: ThingId,
    reports: &ReportsByName<'_>,
) -> Option<Sheet> {
    let (report, piece) = price_of(index, prices, thing)??;
    let here = Here { index, reports, thing, report: &report };
    let is_of_piece = |item: &OutputItem| match &piece.whence {
        Whence::Finished(days) => days.covers(item.date),
        Whence::OnHand | Whence::Expected(_) => false,
    };
    let outputs: Vec<(BatchId, &OutputItem)> = prices
        .outputs(thing)
        .filter(|(_, item)| is_of_piece(item))
        .filter_map(|(batch, item)| Some((index.books.costed.batches.get(batch)?.batch, item)))
        .collect();
    let mut tables = vec![here.floors(), here.earns(), here.met(), here.selling(), here.piece(&piece), here.batches(&outputs)?];
    if let Some(planned) = piece.planned() {
        tables.extend(expected_tables(index, planned, thing)?);
    }
    tables.retain(|table| !table.rows.is_empty());
    let title = format!("What must {} fetch?", report.title);
    Some(Sheet { name: price_sheet_name(index, thing), word: "price", title, says: here.says(), tables, trace: None })
}

fn words(text: impl Into<String>) -> SheetCell {
    SheetCell::new(Words, text)
}

struct Here<'h> {
    index: &'h SheetIndex<'h>,
    reports: &'h ReportsByName<'h>,
    thing: ThingId,
    report: &'h PriceReport,
}

impl Here<'_> {
    /// What it must fetch, and where its price falls short of that.
    fn says(&self) -> Vec<SheetCell> {
        let report = self.report;
        let cost = |text: &str| SheetCell::new(Cost, text).by_table(PIECE);
        let thing = self.index.thing_name(self.thing);
        let one = if report.expected { "None was finished yet; by its recipe and the last prices one " } else { "One " };
        let mut says = vec![words(one), words(report.title.as_str()).of(thing), words(" must bring you ")];
        says.push(cost(&report.per_unit.paid));
        if report.minutes_per_unit.is_some() {
            says.extend([words(" to cover what is laid out for it and "), cost(&report.per_unit.full)]);
            says.push(words(" with your own time and overhead. "));
        } else {
            says.push(words(" to cover what is laid out for it; its hours are unknown. "));
        }
        let judged: Vec<(&ChannelPrice, &PriceEarns)> =
            report.channels.iter().filter_map(|one| Some((one, asked(one)?))).collect();
        let short: Vec<&ChannelPrice> = judged.iter().filter(|(_, at)| falls_short(at)).map(|(channel, _)| *channel).collect();
        let of = judged.len();
        match short.as_slice() {
            [] if of == 1 => says.push(words("Its price covers that in the one channel that has one.")),
            [] => says.push(words(format!("Its price covers that in all {of} channels that have one."))),
            several if several.len() <= MOST_NAMED => {
                says.push(words(format!("Its price is too low for that in {} of {of} channels: ", several.len())));
                for (at, channel) in several.iter().enumerate() {
                    says.push(words(format!("{}by {} it must fetch ", if at == 0 { "" } else { "; " }, channel.title)));
                    let floors = &channel.floors;
                    let floor = if report.minutes_per_unit.is_some() { &floors.full } else { &floors.paid };
                    says.push(match floor {
                        Some(floor) => SheetCell::new(Money, floor.as_str()).by_table("floors"),
                        None => words("more than any price leaves"),
                    });
                }
                says.push(words("."));
            }
            several => {
                says.push(words(format!("Its price is too low for that in {} of {of} channels, as told below.", several.len())))
            }
        }
        says
    }

    /// A channel as the head of a row.
    fn channel(channel: &ChannelPrice) -> SheetCell {
        words(channel.title.as_str()).of(SheetName::new(SheetKind::Channel, plain_name(&channel.name)))
    }

    /// A price that is asked: the list price as the book has it, or the last sale.
    fn price(&self, at: &PriceEarns, is_list: bool) -> SheetCell {
        let cell = SheetCell::new(Cost, at.price.as_str());
        let named = &self.index.books.book.thing(self.thing).named;
        match is_list {
            true => cell.at(self.index.line_of_definition(named, "price")),
            false => self.of_sales(cell),
        }
    }

    /// The same cell, leading to the product's sales.
    fn of_sales(&self, cell: SheetCell) -> SheetCell {
        let cell = cell.of(self.index.thing_name(self.thing));
        let named = &self.index.books.book.thing(self.thing).named;
        if self.reports.group("product", &named.name).is_some() { cell.by_table("sales") } else { cell }
    }

    fn of_channel(&self, cell: SheetCell, channel: &ChannelPrice, table: &'static str) -> SheetCell {
        let cell = cell.of(SheetName::new(SheetKind::Channel, plain_name(&channel.name)));
        if self.reports.group("channel", &channel.name).is_some() { cell.by_table(table) } else { cell }
    }

    fn floors(&self) -> SheetTable {
        let rate = self.report.wanted_per_hour.is_some();
        let mut columns = vec![("Sold by", Words), ("What is laid out", Money), ("Its full cost", Money)];
        if rate {
            columns.push(("Your rate an hour", Money));
        }
        columns.push(("Its price", Cost));
        let mut table = SheetTable::new("floors", "What it must fetch at least, to cover …", &columns);
        table.note = "the price that a channel’s customers pay; of a channel that buys to sell on, the list price. Its price is that of the list, else the last";
        let floor = |text: &Option<String>, why: &str| match text {
            Some(text) => SheetCell::new(Money, text.as_str()).by_table(SELLING),
            None => SheetCell::without(Money, why),
        };
        let without_hours = if self.report.minutes_per_unit.is_none() { HOURS } else { KEEPS_ALL };
        for channel in &self.report.channels {
            let mut cells =
                vec![Self::channel(channel), floor(&channel.floors.paid, KEEPS_ALL), floor(&channel.floors.full, without_hours)];
            if rate {
                cells.push(floor(&channel.floors.earning, without_hours));
            }
            cells.push(match asked(channel) {
                Some(at) => self.price(at, channel.at_list_price.is_some()),
                None => SheetCell::without(Cost, "no price"),
            });
            table.row(cells);
        }
        table
    }

    fn earns(&self) -> SheetTable {
        let columns = [
            ("Sold by", Words),
            ("At", Cost),
            ("Reaches you", Cost),
            ("Paid margin", Cost),
            ("Full margin", Cost),
            ("An hour earns", Money),
        ];
        let mut table = SheetTable::new(EARNS, "What its price earns now", &columns);
        table.note = "a piece at the list price, and at the last where that was another";
        for channel in &self.report.channels {
            let (list, last) = (channel.at_list_price.as_ref(), channel.at_last_price.as_ref());
            let last = last.filter(|last| list.is_none_or(|list| list.price != last.price));
            for (at, is_list) in list.map(|at| (at, true)).into_iter().chain(last.map(|at| (at, false))) {
                let of_piece = |text: Option<&String>, kind| match text {
                    Some(text) => SheetCell::new(kind, text.as_str()).by_table(PIECE),
                    None => SheetCell::without(kind, HOURS),
                };
                table.row(vec![
                    Self::channel(channel).beside(if is_list { "" } else { "the last price" }),
                    self.price(at, is_list),
                    SheetCell::new(Cost, at.receives.as_str()).by_table(SELLING),
                    of_piece(Some(&at.paid_margin), Cost),
                    of_piece(at.full_margin.as_ref(), Cost),
                    of_piece(at.per_hour.as_ref(), Money),
                ]);
            }
        }
        table
    }

    /// Pieces until a fair like the last one is met, as learnt from it.
    fn met(&self) -> SheetTable {
        let columns = [
            ("Sold by", Words),
            ("To meet", Money),
            ("Your time", Minutes),
            ("Money is back", Quantity),
            ("Their buyers pay", Money),
            ("Your hours are paid too", Quantity),
        ];
        let mut table = SheetTable::new("met", "Until a fair like the last is met", &columns);
        table.note = "pieces of this product alone, at its price";
        for channel in &self.report.channels {
            let Some(met) = &channel.break_even else { continue };
            let fair = |cell: SheetCell| self.of_channel(cell, channel, "pays");
            let pieces = |pieces: Option<&String>, why: &'static str| match pieces {
                Some(pieces) => SheetCell::quantity(pieces.as_str(), "ea").by_table(EARNS),
                None => SheetCell::without(Quantity, why),
            };
            let takings = met.takings.as_deref();
            table.row(vec![
                Self::channel(channel).beside(met.learnt_from.as_deref().unwrap_or_default()),
                fair(SheetCell::new(Money, met.money.as_str())),
                fair(SheetCell::new(Minutes, met.minutes.as_str())),
                pieces(met.pieces.as_ref(), NEVER),
                takings.map_or_else(|| SheetCell::without(Money, NEVER), |money| SheetCell::new(Money, money).by_table(EARNS)),
                pieces(met.pieces_with_hours.as_ref(), if self.report.minutes_per_unit.is_some() { NEVER } else { HOURS }),
            ]);
        }
        table
    }

    fn selling(&self) -> SheetTable {
        let columns = [
            ("Sold by", Words),
            ("Leaves", Quantity),
            ("Fees, a piece", Cost),
            ("Postage, net", Cost),
            ("Packing", Cost),
            ("One brings in", Cost),
            ("Bears of expenses", Cost),
            ("Bears of your time", Minutes),
            ("Learnt from", Words),
        ];
        let mut table = SheetTable::new(SELLING, "What a channel leaves of a price", &columns);
        table.note =
            "a part of it, less the sums for a piece; what it takes itself counts for the hour alone, by what a piece brings in";
        for channel in &self.report.channels {
            let selling = &channel.selling;
            let named = self.index.books.book.channels.iter().find(|one| one.named.name == channel.name);
            let terms = named.and_then(|one| self.index.place(one.named.span));
            let learnt = |text: &str| {
                let cell = SheetCell::new(Cost, text);
                match selling.learnt_from.as_str() {
                    _ if selling.sent_pieces != "0" => self.of_channel(cell, channel, "pays"),
                    "this product" => self.of_sales(cell),
                    _ => self.of_channel(cell, channel, "sales"),
                }
            };
            let leaves = SheetCell::quantity(channel.leaves_percent.as_str(), "%").at(terms.clone());
            let of_own = |cell: SheetCell| self.of_channel(cell, channel, "pays");
            let brings_in = SheetCell::new(Cost, selling.brings_in.as_str());
            table.row(vec![
                Self::channel(channel).beside(channel.terms.as_str()),
                leaves,
                SheetCell::new(Cost, selling.fixed_fees.as_str()).at(terms),
                learnt(&selling.postage),
                learnt(&selling.packing),
                if selling.learnt_from == "this product" { self.of_sales(brings_in) } else { brings_in.by_table("floors") },
                of_own(SheetCell::new(Cost, selling.own_expenses.as_str())),
                of_own(SheetCell::new(Minutes, selling.own_minutes.as_str())),
                words(selling.learnt_from_in_words(&|pieces| pieces.to_owned())),
            ]);
        }
        table
    }

    fn piece(&self, piece: &Piece<'_>) -> SheetTable {
        let mut table = SheetTable::new(PIECE, format!("What one costs: {}", piece.from), &[("Part", Words), ("For one", Cost)]);
        let per_unit = &self.report.per_unit;
        let lead = |cell: SheetCell| match piece.whence {
            Whence::Finished(_) => cell.by_table(BATCHES),
            Whence::OnHand => cell.of(self.index.thing_name(self.thing)).by_table("stock"),
            Whence::Expected(_) => cell.by_table(EXPECTED),
        };
        let rows = [("Laid out", &per_unit.paid), ("Own time", &per_unit.own_time), ("Overhead", &per_unit.overhead)];
        // Without hours neither their money nor the whole is known.
        let cost = |text: &str, known: bool| match known || self.report.minutes_per_unit.is_some() {
            true => lead(SheetCell::new(Cost, text)),
            false => SheetCell::without(Cost, HOURS),
        };
        for (said, text) in rows {
            table.row(vec![words(said), cost(text.as_str(), said != "Own time")]);
        }
        table.sums.push(table.rows.len());
        table.row(vec![words("Full cost"), cost(per_unit.full.as_str(), false)]);
        let minutes = match &self.report.minutes_per_unit {
            Some(minutes) => lead(SheetCell::new(Minutes, minutes.as_str())),
            None => SheetCell::without(Minutes, HOURS),
        };
        table.row(vec![words("Your time"), minutes]);
        table
    }

    /// The batches of which the piece is the mean.
    fn batches(&self, outputs: &[(BatchId, &OutputItem)]) -> Option<SheetTable> {
        let columns = [
            ("Batch", Words),
            ("Done", Day),
            ("Made", Quantity),
            ("Laid out", Money),
            ("Own time", Money),
            ("Overhead", Money),
            ("Full cost", Money),
            ("Your time", Minutes),
        ];
        let mut table = SheetTable::new(BATCHES, "Of these batches", &columns);
        table.note = "all pieces of each; what one costs is the sum over the pieces";
        let book = self.index.books.book;
        let unit = book.thing(self.thing).unit;
        let mut sums: [Vec<Fixed6>; 4] = Default::default();
        let (mut minutes, mut pieces) = (Some(Fixed6::ZERO), Decimal::ZERO);
        for (_, item) in outputs {
            let vector = &item.vector;
            let (own, overhead) = (vector.get(Component::OwnTime), vector.get(Component::Overhead));
            for (list, sum) in sums.iter_mut().zip([vector.paid()?, own, overhead, vector.full()?]) {
                list.push(sum);
            }
            pieces = checked_add_exact(pieces, item.quantity).ok()?;
            minutes = match (minutes, vector.hours_unknown()) {
                (Some(sum), false) => Some(sum.checked_add(vector.own_minutes()?)?),
                _ => None,
            };
        }
        let mut shown = Vec::with_capacity(sums.len());
        for list in &sums {
            shown.push(column_cells(book, list)?);
        }
        let time = |minutes: Option<Fixed6>| match minutes {
            Some(minutes) => SheetCell::new(Minutes, minutes_text(minutes)),
            None => SheetCell::without(Minutes, HOURS),
        };
        for (at, (batch, item)) in outputs.iter().enumerate() {
            let name = self.index.batch_name(*batch);
            let figure = format!("batch/{}", name.name);
            let of = item.vector.own_minutes()?;
            let mut cells = vec![
                words(book.batch(*batch).name.as_str()).of(name),
                SheetCell::new(Day, item.date.to_string()),
                many(item.quantity, unit).figure(figure.as_str()),
            ];
            for ((list, _), part) in shown.iter().zip(["", "/own-time", "/overhead", ""]) {
                let text = list.get(at).cloned().unwrap_or_default();
                cells.push(SheetCell::new(Money, text).figure(format!("{figure}{part}")));
            }
            cells.push(time((!item.vector.hours_unknown()).then_some(of)).figure(format!("{figure}/minutes")));
            table.row_on(item.date.to_string(), cells);
        }
        if table.rows.len() > 1 {
            let mut cells = vec![words("Together"), words(""), many(pieces, unit).by_table(BATCHES)];
            cells.extend(shown.into_iter().map(|(_, all)| SheetCell::new(Money, all).by_table(BATCHES)));
            cells.push(time(minutes).by_table(BATCHES));
            table.total = Some(SheetRow { day: String::new(), cells });
        }
        Some(table)
    }
}

fn many(quantity: Decimal, unit: Unit) -> SheetCell {
    SheetCell::quantity(quantity_text(quantity), unit.as_str())
}

/// Makes the list of prices: what each product must fetch, and where it falls short. `None` where a figure is too large to be carried.
pub(super) fn list_of_prices(index: &SheetIndex<'_>, prices: &PriceIndex<'_>, priced: &[ThingId]) -> Option<SheetTable> {
    let columns = [
        ("Product", Words),
        ("List price", Cost),
        ("Must bring, laid out", Cost),
        ("Must bring, full cost", Cost),
        ("Falls short of its full cost", Words),
    ];
    let mut table = SheetTable::new("list", "What each product must fetch", &columns);
    for thing in priced {
        let Some((report, _)) = price_of(index, prices, *thing)? else { continue };
        let name = price_sheet_name(index, *thing);
        let cell = |text: &str, table: &'static str| SheetCell::new(Cost, text).of(name.clone()).by_table(table);
        let judged = report.channels.iter().filter_map(|one| Some((one, asked(one)?)));
        let short: Vec<&str> = judged.filter(|(_, at)| falls_short(at)).map(|(channel, _)| channel.title.as_str()).collect();
        table.row(vec![
            words(report.title.as_str()).of(name.clone()),
            match &report.list_price {
                Some(price) => cell(price, "floors"),
                None => SheetCell::without(Cost, NO_PRICE),
            },
            cell(&report.per_unit.paid, PIECE),
            match report.minutes_per_unit {
                Some(_) => cell(&report.per_unit.full, PIECE),
                None => SheetCell::without(Cost, HOURS),
            },
            words(if short.is_empty() { NOWHERE.to_owned() } else { short.join(", ") }),
        ]);
    }
    Some(table)
}
