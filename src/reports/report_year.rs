//! Fills the report of the tax year: the sheet as text, its lines with the names of their figures, and every schedule behind it.
//!
//! Lines stand in exact cents and as printed. What the cost of goods went to, and the bridge, are apportioned so that each column
//! sums to its total.

use crate::names::{Basis, ResolvedBook, StockKept};
use crate::reports::period::{column, money_text, quantity_text};
use crate::reports::report_equipment::{equipment_row, tool_gone};
use crate::reports::{
    BridgeLine, CostOfGoods, CutOffPart, FormBoxAnswer, FormLine, GoodsWentTo, HomeWorkshopRow, MileageSchedule, NamedSum,
    OpenQuestion, Period, SalesTaxRow, Schedules, SelfEmployment, Timing, YearReport,
};
use crate::sources::{LineIndex, Span};
use crate::units::Fixed6;
use crate::year::{Books, CutOff, SourceNote, SumOf, TaxLine, TaxYear};

/// Makes the report of a tax year. `None` where a figure is too large to be carried.
#[must_use]
pub fn report_year(books: Books<'_>, year: &TaxYear) -> Option<YearReport> {
    let money = |amount: Fixed6| money_text(books.book, amount);
    let net = year.lines.get(year.net_profit);
    let schedule_lines = year.self_employment.iter().map(|line| FormLine {
        line: line.number.clone(),
        part: String::new(),
        label: line.label.clone(),
        cents: money(line.cents),
        printed: printed(books, year, line.printed),
        figure: format!("year/{}/self-employment/line-{}", year.year, line.number),
        parts: Vec::new(),
        itemized: false,
        working: false,
    });
    let lines = year.lines.iter().map(|line| FormLine {
        line: line.number.clone(),
        part: part_in_words(&line.part),
        label: line.label.clone(),
        cents: money(line.cents),
        printed: printed(books, year, line.printed),
        figure: format!("year/{}/line-{}", year.year, line.number),
        parts: parts(books, line),
        itemized: line.itemized,
        working: line.working,
    });
    let equipment = year.equipment.iter().map(|tool| equipment_row(books, year, tool)).collect::<Option<Vec<_>>>()?;
    Some(YearReport {
        head: Period::year(year.year).head("year", books.book, books.log.first_day, books.costed.until),
        caution: caution(year),
        form: year.form.clone(),
        form_title: title(year),
        year: year.year,
        basis: match year.basis {
            Basis::Cash => "cash",
            Basis::Accrual => "accrual",
        }
        .to_owned(),
        stock: match year.stock {
            StockKept::Inventory => "inventory",
            StockKept::Supplies => "supplies",
        }
        .to_owned(),
        net_profit_line: net.map_or_else(String::new, |line| line.number.clone()),
        lines: lines.collect(),
        boxes: (year.boxes.iter())
            .map(|one| FormBoxAnswer { line: one.number.clone(), label: one.label.clone(), answer: one.answer.clone() })
            .collect(),
        cost_of_goods: cost_of_goods(books, year)?,
        schedules: Schedules {
            equipment,
            tools_gone: year.equipment.iter().filter_map(|tool| tool_gone(books, tool)).collect(),
            mileage: mileage(books, year),
            home_workshop: year.home.as_ref().map(|home| HomeWorkshopRow {
                method: format!("{}: {}", if home.simplified { "simplified" } else { "part of house costs" }, home.how),
                before_limit: money(home.before_limit),
                amount: money(home.amount),
                excess: money(home.excess),
            }),
            sales_tax: sales_tax(books, year),
            self_employment: SelfEmployment { lines: schedule_lines.collect() },
        },
        bridge: bridge_lines(books.book, year),
        cut_off: year.cut_off.iter().map(cut_off_part).collect(),
        open_questions: open_questions(books, year),
        sources: year.sources.iter().map(source_text).collect(),
        notes: year.notes.clone(),
    })
}

fn title(year: &TaxYear) -> String {
    let provisional = if year.provisional { ", provisional" } else { "" };
    format!("{}, tax year {}{provisional}", year.form_title, year.year)
}

/// The caution, in one line.
fn caution(year: &TaxYear) -> String {
    format!(
        "A worksheet, not advice: its lines and rates are data for {}; go by the form's own instructions, or ask a licensed preparer.",
        title(year)
    )
}

/// The sums of a line, apportioned so that they add up to its cents.
/// `Part II` for a part that the form numbers; a part that has a name is called by it.
fn part_in_words(part: &str) -> String {
    let numbered = !part.is_empty() && part.chars().all(|letter| letter.is_ascii_uppercase() || letter.is_ascii_digit());
    if numbered { format!("Part {part}") } else { part.to_owned() }
}

/// What flows into a line, by name. On a line that the form wants listed, what is taken off a thing stands with it.
fn parts(books: Books<'_>, line: &TaxLine) -> Vec<NamedSum> {
    let mut named: Vec<(SumOf, String, Fixed6)> = Vec::new();
    for sum in &line.sums {
        let name = if sum.share.is_empty() { sum.name.clone() } else { format!("{}: {}", sum.name, sum.share) };
        let taken_off = |(of, _, whole): &&mut (SumOf, String, Fixed6)| {
            line.itemized && *of == sum.of && sum.amount.is_negative() && whole.checked_add(sum.amount).is_some()
        };
        match named.iter_mut().find(taken_off) {
            Some((_, _, whole)) => *whole = whole.checked_add(sum.amount).unwrap_or(*whole),
            None => named.push((sum.of, name, sum.amount)),
        }
    }
    let sums: Vec<Fixed6> = named.iter().map(|(_, _, amount)| *amount).collect();
    let shown = column(books.book, &sums);
    let rows = named.into_iter().zip(shown);
    rows.map(|((_, name, _), amount)| NamedSum { name, amount: money_text(books.book, amount) }).collect()
}

fn printed(books: Books<'_>, year: &TaxYear, amount: Fixed6) -> String {
    let digits = if year.whole_dollars { 0 } else { books.book.shop.currency.digits() };
    amount.to_fixed_text(digits, digits)
}

fn source_text(source: &SourceNote) -> String {
    source.says()
}

fn cost_of_goods(books: Books<'_>, year: &TaxYear) -> Option<CostOfGoods> {
    let cost = &year.cost_of_goods;
    let went = &cost.went_to;
    let sums = [
        went.sold,
        went.scrapped,
        went.missing,
        went.abnormal,
        went.donated,
        went.price_difference,
        cost.gone_not_paid.checked_neg()?,
        cost.gone_paid_now,
        cost.unrecorded.checked_neg()?,
        cost.method_change,
        cost.rounding.checked_neg()?,
    ];
    let sums_shown = column(books.book, &sums);
    let but_rounding = sums_shown.iter().take(sums.len().saturating_sub(1)).copied();
    let total = money_text(books.book, Fixed6::checked_sum(but_rounding)?);
    let shown: Vec<String> = sums_shown.into_iter().map(|sum| money_text(books.book, sum)).collect();
    let rows = WHERE_IT_WENT.iter().zip(&shown).enumerate().filter_map(|(at, ((name, always), amount))| {
        let turn = at + 1 == WHERE_IT_WENT.len();
        let amount = if turn { turned(amount.clone()) } else { amount.clone() };
        (*always || !sums.get(at)?.is_zero()).then(|| NamedSum { name: (*name).to_owned(), amount })
    });
    let rows = rows.collect();
    let mut shown = shown.into_iter();
    let mut next = || shown.next().unwrap_or_default();
    Some(CostOfGoods {
        rows,
        total,
        went_to: GoodsWentTo {
            sold: next(),
            scrapped: next(),
            missing: next(),
            abnormal: next(),
            donated: next(),
            price_difference: next(),
        },
        timing: Timing { gone_not_paid: next(), gone_paid_now: next(), unrecorded: next(), method_change: next() },
        rounding: turned(next()),
        other_ways_out: (cost.other_ways_out.iter())
            .map(|(name, amount)| NamedSum { name: name.clone(), amount: money_text(books.book, *amount) })
            .collect(),
    })
}

/// Where the cost of goods went, in words, and whether a year without any is told so.
const WHERE_IT_WENT: [(&str, bool); 11] = [
    ("Sold, less what came back", true),
    ("Scrapped", true),
    ("Missing, less what was found", true),
    ("Losses beyond the usual", true),
    ("Donated, out of this year's cost", true),
    ("Refunds and credits against cost", true),
    ("Gone, not yet paid for", true),
    ("Gone before, paid for now", true),
    ("Issued without a record", false),
    ("Stock kept in another way than last year", false),
    ("Rounding, exact less printed", true),
];

/// The sum with its other sign.
fn turned(text: String) -> String {
    match text.strip_prefix('-') {
        Some(positive) => positive.to_owned(),
        None if text.bytes().all(|byte| matches!(byte, b'0' | b'.')) => text,
        None => format!("-{text}"),
    }
}

fn mileage(books: Books<'_>, year: &TaxYear) -> MileageSchedule {
    let rates = year.mileage.rates.iter().map(|rate| NamedSum {
        name: format!("{} to {}, {} mi: {}", rate.from, rate.to, quantity_text(rate.miles), source_text(&rate.source)),
        amount: quantity_text(rate.rate),
    });
    MileageSchedule {
        miles: quantity_text(year.mileage.miles),
        rates: rates.collect(),
        amount: money_text(books.book, year.mileage.amount),
    }
}

fn sales_tax(books: Books<'_>, year: &TaxYear) -> Vec<SalesTaxRow> {
    let money = |amount| money_text(books.book, amount);
    let rows = year.sales_tax.iter().map(|period| SalesTaxRow {
        to: period.to.clone(),
        period: period.period.clone(),
        owed_before: money(period.owed_before),
        collected: money(period.collected),
        refunded: money(period.refunded),
        paid_over: money(period.paid_over),
        allowed: money(period.allowed),
        owed: money(period.owed),
        collected_by_channels: money(period.by_channels),
    });
    rows.collect()
}

/// The bridge of a year, its steps rounded so that they add up.
pub(crate) fn bridge_lines(book: &ResolvedBook, year: &TaxYear) -> Vec<BridgeLine> {
    let Some((net, steps)) = year.bridge.split_last() else { return Vec::new() };
    let sums: Vec<Fixed6> = steps.iter().map(|line| line.amount).collect();
    let shown = column(book, &sums).into_iter().chain([net.amount]);
    let lines = year.bridge.iter().zip(shown);
    lines.map(|(line, amount)| BridgeLine { name: line.name.clone(), amount: money_text(book, amount) }).collect()
}

fn cut_off_part(part: &CutOff) -> CutOffPart {
    CutOffPart { name: part.name.clone(), rows: part.rows.clone(), empty: part.empty.clone() }
}

fn open_questions(books: Books<'_>, year: &TaxYear) -> Vec<OpenQuestion> {
    let places = LineIndex::of(books.sources);
    let place = |span: &Span| {
        let place = places.place(span.start).filter(|_| !span.is_empty());
        place.map(|place| format!("{}:{}", place.path, place.line))
    };
    let asked = year.questions.iter().map(|question| OpenQuestion {
        name: question.name.clone(),
        question: question.question.clone(),
        rule: question.rule.clone(),
        source: question.source.clone(),
        answer_with: question.answer_with.clone(),
        entries: question.entries.iter().filter_map(place).collect(),
        answer: question.answer.clone(),
    });
    asked.collect()
}
