//! The pages of a site, made one after another and handed on as soon as they are made: none is kept.
//!
//! Each figure is told once, at its home; so all pages together are as long as the book is.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use chrono::{Datelike, NaiveDate};
use rayon::prelude::*;
use rustc_hash::FxHashMap;

use super::Book;
use super::cost::cost_in;
use super::pays::pays_in;
use super::stock::stock_on;
use crate::cli::faults::{says_nothing_of, too_large};
use crate::cli::outcome::Outcome;
use crate::cli::progress;
use crate::costing::{CostOptions, Links, cost_book};
use crate::diagnostics::Diagnostics;
use crate::names::{ChannelId, LineId, ThingId};
use crate::render::html::{
    Addresses, Answers, FigureTimes, Neighbours, PageError, PageLink, Pages, Question, STYLESHEET, SheetPage, ToDecide,
    further_page, picture_of_product, told_with,
};
use crate::reports::{
    CostFigure, CostReport, Derived, DirectRecords, Excerpts, FigureName, Further, HowDeep, PaysColumn, PaysFigure, PaysOf,
    Period, PlaceIndex, PlaceList, PriceIndex, ReportsByName, SalesIndex, Sheet, SheetIndex, SheetKind, SheetName, StockReport,
    WhyReport, YearReport, cost_parts_table, lists_of_sheets, owed_by_channel, place_name, price_sheet_name, priced_products,
    report_places, report_proof, report_why, report_year, sheet_of_batch, sheet_of_channel, sheet_of_hours, sheet_of_line,
    sheet_of_order, sheet_of_place, sheet_of_price, sheet_of_proof_figure, sheet_of_sales_figure, sheet_of_thing,
    sheets_of_proof, sheets_of_sales, take_cost_parts, take_minutes, tell_by_parts,
};
use crate::year::Books;

/// Takes a page: its file, and its text.
pub(super) type Put<'p> = &'p (dyn Fn(&str, &str) -> Result<(), String> + Sync);

/// Makes the site of a book without mistakes, `own` templates in place of those of the same name, and hands on each page by `put`. Says whether there
/// is a page on a tax form.
///
/// # Errors
/// A refusal: where the book says nothing of the days, a figure is too large, a template can't be used, or a page can't be put.
pub(super) fn make_pages(book: &Book, days: Period, own: &BTreeMap<String, String>, put: Put<'_>) -> Result<bool, Outcome> {
    let compiled = &book.compiled;
    if let Some(nothing) = says_nothing_of(compiled, days) {
        return Err(nothing);
    }
    progress::at("making the pages");
    let cost = cost_in(compiled, days, None).ok_or_else(too_large)?;
    let stock = stock_on(compiled, days).ok_or_else(too_large)?;
    let pays = pays_in(book, days).ok_or_else(too_large)?;
    let proof = report_proof(&compiled.book, &compiled.costed, compiled.log.first_day);
    let years = compiled.years.iter().filter(|year| touches(days, year.year));
    let years: Option<Vec<YearReport>> = years.map(|year| report_year(compiled.books(), year)).collect();
    let years = years.ok_or_else(too_large)?;
    // The whole book was costed without a mistake, so what is costed again, now with its trace, has none either.
    let options = CostOptions { keep_trace: true, ..CostOptions::default() };
    let traced = cost_book(&compiled.log, &compiled.book, &options, &mut Diagnostics::default());
    let books = Books { costed: &traced, ..compiled.books() };
    let derived = Derived::of(books, &compiled.years).ok_or_else(too_large)?;
    let figures = compiled.book.shop.tax_form.as_deref().and_then(|form| book.forms.figures(form));
    let derived = match figures {
        Some(figures) => derived.with_figures(figures),
        None => derived,
    };
    let mile_rate = |day: NaiveDate| figures?.mileage(day).map(|rate| rate.per_mile.0);
    let sales = SalesIndex::of(books, days, &mile_rate).ok_or_else(too_large)?;
    let index = SheetIndex::of(books, derived.names()).ok_or_else(too_large)?;
    let goods = |year: &YearReport| (year.year, FigureName::CostOfGoods { year: year.year }.text(derived.names()));
    let times = FigureTimes {
        when: time_name(days),
        stock_at_end: stock.on.is_some() && days.to.is_none(),
        stock_months: stock
            .over_time
            .iter()
            .filter_map(|(month, _)| Some((month.clone(), stock_figure(month, &stock)?)))
            .collect(),
        goods_lines: years.iter().map(goods).collect(),
    };
    let prices = PriceIndex::of(books, days, &mile_rate).and_then(|index| index.with_fairs(&mile_rate)).ok_or_else(too_large)?;
    let priced = priced_products(&index, &prices).ok_or_else(too_large)?;
    let places = report_places(books, None, book.today, None).ok_or_else(too_large)?;
    let at_places = PlaceIndex::of(&index).ok_or_else(too_large)?;
    let links = books.costed.trace.as_ref().and_then(|trace| Links::of_batches(trace, &books.costed.batches));
    let records = links.as_ref().and_then(|links| DirectRecords::of(books, links, derived.names()));
    let reports = ReportsByName::of(&cost, &stock, &pays, times.when.as_deref()).with_sheets(&priced, &places.places);
    let when = times.when.as_deref();
    let further = Further { prices: &prices, priced: &priced, places: &places.places, when };
    let lists = lists_of_sheets(&index, &derived, &cost, &stock, &pays, further).ok_or_else(too_large)?;
    let mut of_sales = sheets_of_sales(&index, &sales, &pays, when).ok_or_else(too_large)?;
    of_sales.extend(sheet_of_hours(&index, days, when).ok_or_else(too_large)?);
    let of_proof = sheets_of_proof(&index).ok_or_else(too_large)?;

    let mut sheets = sheets_of(&index, lists.iter().chain(&of_sales).chain(&of_proof));
    sheets.extend(priced.iter().map(|thing| (price_sheet_name(&index, *thing), About::Price(*thing))));
    sheets.extend(places.places.iter().map(|place| (place_name(place), About::Place(place))));
    let mut addresses = Addresses::of(sheets.iter().map(|(name, _)| name.clone()));
    let told = tell_figures(&derived, &times, &years, &mut addresses);
    let pages = Pages::of_site(own, neighbours(&years), Arc::new(addresses), times.clone()).map_err(Outcome::refused)?;
    let owed = owed_by_channel(&index).ok_or_else(too_large)?;
    let answers = Answers { cost: &cost, stock: &stock, pays: &pays, year: years.last(), proof: &proof };
    let decide = ToDecide { owed: &owed, places: &places.places, lists: &lists };
    let put_page =
        |file: &str, made: Result<String, PageError>| put(file, &made.map_err(Outcome::refused)?).map_err(Outcome::refused);
    put_page(STYLESHEET, pages.render_stylesheet())?;
    put_page("index.html", pages.render_index(&answers, decide))?;
    put_page("cost.html", pages.render_cost(&cost))?;
    put_page("stock.html", pages.render_stock(&stock))?;
    put_page("pays.html", pages.render_pays(&pays))?;
    put_page("proof.html", pages.render_proof(&proof))?;
    for year in &years {
        put_page(&year_file(year), pages.render_year(year))?;
    }
    let maker = SheetMaker {
        pages: &pages,
        index: &index,
        sales: &sales,
        reports: &reports,
        derived: &derived,
        excerpts: Excerpts::of(books.sources),
        told: &told,
        cost: &cost,
        prices: &prices,
        at_places: &at_places,
        records: records.as_ref(),
    };
    let done = AtomicUsize::new(0);
    let put_sheet = |(name, about): &(SheetName, About<'_>)| {
        progress::at_part("writing pages", done.fetch_add(1, Ordering::Relaxed), sheets.len());
        maker.put_sheet(name, *about, put)
    };
    let mut rest: Vec<&String> = told.keys().filter(|page| page.starts_with("why/")).collect();
    rest.sort();
    // A template of the reader's own may take as much memory as a page is allowed: of such pages one is made at a time.
    if own.is_empty() {
        first_fault(sheets.par_iter().map(put_sheet))?;
        first_fault(rest.par_iter().map(|page| maker.put_why(page, put)))?;
    } else {
        sheets.iter().try_for_each(put_sheet)?;
        rest.iter().try_for_each(|page| maker.put_why(page, put))?;
    }
    Ok(!years.is_empty())
}

/// The first fault of pages that are made side by side.
fn first_fault(made: impl IndexedParallelIterator<Item = Result<(), Outcome>>) -> Result<(), Outcome> {
    made.find_first(Result::is_err).unwrap_or(Ok(()))
}

/// What a sheet is about.
#[derive(Clone, Copy)]
enum About<'l> {
    Thing(ThingId),
    Batch(usize),
    Order(usize),
    Channel(ChannelId),
    Line(LineId),
    Price(ThingId),
    Place(&'l PlaceList),
    List(&'l Sheet),
}

/// All sheets of a book, in a fixed order.
fn sheets_of<'l>(index: &SheetIndex<'_>, lists: impl Iterator<Item = &'l Sheet>) -> Vec<(SheetName, About<'l>)> {
    let (book, costed) = (index.books().book, index.books().costed);
    let mut sheets: Vec<(SheetName, About<'l>)> = lists.map(|list| (list.name.clone(), About::List(list))).collect();
    sheets.extend((0u32..).zip(&book.things).map(|(at, _)| (index.thing_name(ThingId(at)), About::Thing(ThingId(at)))));
    let batches = costed.batches.iter().enumerate().filter(|(at, _)| index.is_begun(*at));
    sheets.extend(batches.map(|(at, account)| (index.batch_name(account.batch), About::Batch(at))));
    sheets.extend((0u32..).zip(&costed.orders).map(|(at, _)| (index.order_name(at), About::Order(at as usize))));
    let plain = |kind, name: &str| SheetName::new(kind, name.replace('/', "_"));
    sheets.extend(
        (0u32..).zip(&book.channels).map(|(at, one)| (plain(SheetKind::Channel, &one.named.name), About::Channel(ChannelId(at)))),
    );
    sheets.extend((0u32..).zip(&book.lines).map(|(at, one)| (plain(SheetKind::Line, &one.name), About::Line(LineId(at)))));
    sheets
}

/// The figures that the site tells, by the page on which each is.
fn tell_figures(
    derived: &Derived<'_>,
    times: &FigureTimes,
    years: &[YearReport],
    addresses: &mut Addresses,
) -> FxHashMap<String, Vec<FigureName>> {
    let mut told: FxHashMap<String, Vec<FigureName>> = FxHashMap::default();
    let mut figures = derived.names().all();
    let months = times.stock_months.values().filter(|_| times.stock_at_end);
    figures.extend(months.filter_map(|month| FigureName::read(month, derived.names()).ok()));
    // Prices, places, patterns and what lies long are told by the reports' own pages; what went into a thing and how a batch differs from its recipe,
    // by what the whole of it cost.
    figures.retain(|figure| {
        use FigureName::{CostRow, Pattern, Places, Plan, Price, Slow, Variance};
        match figure {
            Price(_) | Places(_) | Plan(_) | Pattern(_) | Slow(_) | Variance(_) => false,
            CostRow(figure) => figure.is_of_time(),
            _ => true,
        }
    });
    figures.sort_unstable();
    figures.dedup();
    // What a page is about comes first, the lots that stand behind it last.
    figures.sort_by_key(|figure| matches!(figure, FigureName::Lot(_)));
    let of_years = if times.when.as_deref() == Some("") { years_of_costs(&figures) } else { FxHashMap::default() };
    for figure in figures {
        let text = figure.text(derived.names());
        let table = match figure {
            FigureName::Pays(pays) => page_of_sales(pays, &text, times, addresses),
            FigureName::Proof(_) => sheet_of_proof_figure(&text).and_then(|sheet| addresses.page(&sheet)).map(str::to_owned),
            _ => None,
        };
        if matches!(figure, FigureName::Pays(PaysFigure::Beside { .. })) {
            // Told by the tables of all sales, and of the channel.
            continue;
        }
        if let Some(page) = table {
            addresses.tell_at(&text, page);
            continue;
        }
        let is_of_years = matches!(figure, FigureName::Cost(CostFigure { thing, year: Some(_), .. })
            if told_with(&text) == text && of_years.get(&thing).is_some_and(|years| *years > 1));
        if is_of_years || is_told(&text, times, years) {
            addresses.tell(&text);
            if let Some(page) = addresses.page_of_figure(&text) {
                told.entry(page).or_default().push(figure);
            }
        }
    }
    told
}

/// The page of the table of sales that tells a figure of what pays; none of one that no table tells.
fn page_of_sales(figure: PaysFigure, text: &str, times: &FigureTimes, addresses: &Addresses) -> Option<String> {
    let when = times.when.as_deref()?;
    match figure {
        PaysFigure::Column { of: None, .. } | PaysFigure::Month { .. } => {
            addresses.page(&sheet_of_sales_figure(text, Some(when))?).map(str::to_owned)
        }
        // What a fair brought stands in the table of its channel's sales, and has no place of its own.
        PaysFigure::Column { of: Some(PaysOf::Fair(..)), .. } => None,
        PaysFigure::Column { of: Some(_), year, .. } => {
            let of_year = year.map(|year| format!("/{year:04}")).unwrap_or_default();
            addresses.first_page(text).filter(|_| of_year == when)
        }
        _ => None,
    }
}

/// In how many years each thing was made: of several, what a unit of it cost is told year by year.
fn years_of_costs(figures: &[FigureName]) -> FxHashMap<ThingId, usize> {
    let mut years: FxHashMap<ThingId, usize> = FxHashMap::default();
    for figure in figures {
        if let FigureName::Cost(CostFigure { thing, year: Some(_), part: None }) = figure {
            let count = years.entry(*thing).or_default();
            *count = count.saturating_add(1);
        }
    }
    years
}

/// Whether a site tells a figure: those of its own time, and what every book has.
fn is_told(figure: &str, times: &FigureTimes, years: &[YearReport]) -> bool {
    if told_with(figure) != figure {
        return false;
    }
    let parts: Vec<&str> = figure.split('/').collect();
    let year = |text: &&str| text.len() == 4 && text.bytes().all(|byte| byte.is_ascii_digit());
    match parts.as_slice() {
        ["cost", _, rest @ ..] => {
            let of_year = rest.first().filter(|text| year(text)).map(|year| format!("/{year}")).unwrap_or_default();
            times.when.as_ref() == Some(&of_year)
        }
        // The others are told by tables.
        ["pays", "all", rest @ ..] => {
            let of_year = rest.first().filter(|text| year(text)).map(|year| format!("/{year}")).unwrap_or_default();
            let is_of_table = rest.last().is_some_and(|last| PaysColumn::ALL.iter().any(|column| column.name() == *last));
            // A site of the whole book tells those of each year too.
            // What was worked at a step is told by the table of hours; what an hour earns over the rate, where it is judged.
            let is_of_hours = rest.contains(&"hours");
            !is_of_table && !is_of_hours && times.when.as_ref().is_some_and(|when| when.is_empty() || *when == of_year)
        }
        ["pays", ..] => false,
        ["proof", ..] => false,
        ["stock", ..] => times.stock_at_end,
        ["year", of_year, ..] => years.iter().any(|year| year.year.to_string() == *of_year),
        _ => true,
    }
}

/// Makes sheets with their derivations.
struct SheetMaker<'m> {
    pages: &'m Pages,
    index: &'m SheetIndex<'m>,
    sales: &'m SalesIndex<'m>,
    reports: &'m ReportsByName<'m>,
    derived: &'m Derived<'m>,
    excerpts: Excerpts<'m>,
    told: &'m FxHashMap<String, Vec<FigureName>>,
    cost: &'m CostReport,
    prices: &'m PriceIndex<'m>,
    at_places: &'m PlaceIndex,
    records: Option<&'m DirectRecords<'m>>,
}

impl SheetMaker<'_> {
    fn put_sheet(&self, name: &SheetName, about: About<'_>, put: Put<'_>) -> Result<(), Outcome> {
        let file = self.pages.page_of(name).unwrap_or_default().to_owned();
        let mut told = self.derive(&file)?;
        tell_by_parts(&mut told);
        let made = match about {
            About::Thing(thing) => sheet_of_thing(self.index, self.sales, thing, self.reports),
            About::Batch(at) => sheet_of_batch(self.index, at, self.reports, self.records, &told),
            About::Order(at) => sheet_of_order(self.index, at),
            About::Channel(channel) => sheet_of_channel(self.index, self.sales, channel, self.reports),
            About::Line(line) => sheet_of_line(self.index, self.sales, line, self.reports),
            About::Price(thing) => sheet_of_price(self.index, self.prices, thing, self.reports),
            About::Place(place) => sheet_of_place(self.index, self.at_places, place),
            About::List(list) => Some(list.clone()),
        };
        let mut sheet = made.ok_or_else(too_large)?;
        // What an order left is told by its own table, to whose end its figure leads.
        if matches!(about, About::Order(_)) {
            told.retain(|one| one.figure != format!("order/{}", name.name));
        }
        if matches!(about, About::Thing(_)) {
            sheet.tables.extend(take_cost_parts(&mut told).map(|parts| cost_parts_table(&parts)));
        }
        let product = match about {
            About::Thing(thing) => self.reports.cost(&self.index.books().book.thing(thing).named.name),
            _ => None,
        };
        let page = SheetPage {
            head: &self.cost.head,
            sheet: &sheet,
            picture: picture_of_product(product),
            beside: take_minutes(&mut told),
            told,
            excerpts: &self.excerpts,
        };
        for (file, text) in self.pages.render_sheet(page).map_err(Outcome::refused)? {
            put(&file, &text).map_err(Outcome::refused)?;
        }
        for part in 1.. {
            let further = further_page(&file, part);
            if !self.told.contains_key(&further) {
                break;
            }
            self.put_told(&further, &format!("{}, more of its figures", sheet.title), put)?;
        }
        Ok(())
    }

    /// A page of figures that have no sheet.
    fn put_why(&self, page: &str, put: Put<'_>) -> Result<(), Outcome> {
        let name = page.trim_start_matches("why/").split('.').next().unwrap_or_default();
        let title = match name.strip_prefix("year-") {
            Some(year) => format!("Where the figures of {year} come from"),
            None => format!("Where the figures of {name} come from"),
        };
        self.put_told(page, &title, put)
    }

    fn put_told(&self, page: &str, title: &str, put: Put<'_>) -> Result<(), Outcome> {
        let told = self.derive(page)?;
        let made = self.pages.render_why(page, title, &self.cost.head, told, &self.excerpts).map_err(Outcome::refused)?;
        made.iter().try_for_each(|(file, text)| put(file, text).map_err(Outcome::refused))
    }

    /// The derivations that stand on a page.
    fn derive(&self, page: &str) -> Result<Vec<WhyReport>, Outcome> {
        let figures = self.told.get(page).map_or(&[][..], Vec::as_slice);
        let tell = |figure: &FigureName| {
            let mut told = report_why(self.derived, *figure, HowDeep::Fold)?;
            // Where a batch's cost went is told once, of the whole; of a part what it was collected of.
            if matches!(figure, FigureName::Batch(batch) if batch.part.is_some()) {
                told.steps.truncate(1);
            }
            Some(told)
        };
        figures.iter().map(tell).collect::<Option<Vec<WhyReport>>>().ok_or_else(too_large)
    }
}

/// The figure of all stock at the end of a month, or at the book's end where that comes before.
fn stock_figure(month: &str, stock: &StockReport) -> Option<String> {
    let first = NaiveDate::parse_from_str(&format!("{month}-01"), "%Y-%m-%d").ok()?;
    let last = first.checked_add_months(chrono::Months::new(1))?.pred_opt()?.to_string();
    Some(match stock.on.as_ref().filter(|on| **on <= last) {
        Some(_) => "stock/totals/all".to_owned(),
        None => format!("stock/totals/all/{last}"),
    })
}

/// How figures name a period: nothing for the whole book, `/2026` for a year; other times have no names.
fn time_name(days: Period) -> Option<String> {
    match (days.from, days.to) {
        (None, None) => Some(String::new()),
        (Some(from), Some(to)) if days == Period::year(from.year()) && from.year() == to.year() => {
            Some(format!("/{}", from.year()))
        }
        _ => None,
    }
}

/// Whether a period has a day of a year.
fn touches(days: Period, year: i32) -> bool {
    days.from.is_none_or(|from| from.year() <= year) && days.to.is_none_or(|to| year <= to.year())
}

fn year_file(year: &YearReport) -> String {
    format!("year-{}.html", year.year)
}

/// The pages and where they stand; the question about the form leads to the last year.
fn neighbours(years: &[YearReport]) -> Neighbours {
    let link = |question, file: &str| PageLink { question, file: file.to_owned() };
    let mut pages =
        vec![link(Question::Cost, "cost.html"), link(Question::Stock, "stock.html"), link(Question::Pays, "pays.html")];
    if let Some(last) = years.last() {
        pages.push(link(Question::Year, &year_file(last)));
    }
    pages.push(link(Question::Proof, "proof.html"));
    let several = if years.len() > 1 { years } else { &[] };
    Neighbours { pages, years: several.iter().map(|year| (year.year, year_file(year))).collect() }
}
