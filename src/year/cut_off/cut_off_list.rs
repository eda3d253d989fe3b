//! The cut-off list: what stands near the year's two ends, and what a preparer asks for. Empty parts are said to be empty.
//!
//! In: the costed book, the year's orders and what was figured. Out: parts in a fixed order, each with its rows in words and money to the
//! currency's digits. Must not: move a figure; what it lists is as of the year's last day, whatever came later.

use std::collections::BTreeMap;

use chrono::{Datelike, Days, NaiveDate};
use rustc_hash::FxHashSet;

use crate::costing::{Account, BillKind, Deposit};
use crate::events::{EventKind, ReturnFate, Worker};
use crate::names::{Basis, ChannelShare, LabelId, ResolvedBook};
use crate::sources::Span;
use crate::units::Fixed6;
use crate::year::books::BooksOfYear;
use crate::year::cut_off::cut_off_stock::{old_stock, on_the_bench, overhead, places, unrecorded};
use crate::year::cut_off::sales_of_year::OrderSum;
use crate::year::settled::Settled;
use crate::year::tax_year::{CutOff, TaxPeriod, ToolYear};

/// How many days at each end of the year are looked at.
pub(crate) const END_DAYS: u64 = 15;

/// What was figured before and is listed here again.
pub(crate) struct Figured<'a> {
    pub(crate) orders: &'a [OrderSum<'a>],
    pub(crate) settled: &'a Settled,
    pub(crate) statements: Vec<String>,
    pub(crate) equipment: &'a [ToolYear],
    pub(crate) sales_tax: &'a [TaxPeriod],
    pub(crate) receipts_average: String,
    pub(crate) start_against_last_year: String,
    /// What is gone and not paid for by the year's end, on the cash basis.
    pub(crate) gone_not_paid: Fixed6,
}

/// All parts. `None` on overflow.
pub(crate) fn list_cut_off(of: &BooksOfYear<'_>, figured: &Figured<'_>) -> Option<Vec<CutOff>> {
    let first_of_next = of.last.succ_opt()?;
    let ends = [
        (of.first, of.first.checked_add_days(Days::new(END_DAYS - 1))?),
        (of.last.checked_sub_days(Days::new(END_DAYS - 1))?, of.last),
        (first_of_next, first_of_next.checked_add_days(Days::new(END_DAYS - 1))?),
    ];
    let near_ends = figured.orders.iter().filter(|order| ends.iter().any(|(from, to)| order.is_within(*from, *to)));
    let near_ends = near_ends.map(|order| order.row(of)).collect();
    let december = NaiveDate::from_ymd_opt(of.year, 12, 1)?;
    let consigned = figured.orders.iter().filter(|order| {
        let share = order.order.channel.map(|channel| *of.book().channel(channel).share.on(order.order.date));
        matches!(share, Some(ChannelShare::Consignment(_))) && order.is_within(december, of.last)
    });
    let part = |name: &str, rows: Vec<String>, empty: &str| CutOff { name: name.to_owned(), rows, empty: empty.to_owned() };
    let no_helpers = match of.figures.helper_payments(of.year) {
        Some(_) => "no helper was paid as much as is to be reported",
        None => "the form's data names no limit from which payments are to be reported",
    };
    let no_receipts = match of.figures.gross_receipts(of.year) {
        Some(_) => "no overhead is applied, and nothing was received in earlier years of the book",
        None => "no overhead is applied, and the form's data names no limit of receipts from which the stock has to bear it",
    };
    let mut parts = vec![
        part("sales of the last and first fifteen days", near_ends, "no sales in the fifteen days at each end of the year"),
        part("consignees' December", consigned.map(|order| order.row(of)).collect(), "no consigned goods were sold in December"),
        part("payouts over the year's end", payouts(of), "no sale was paid in another year than its own"),
        part("deposits", deposits(of), "no deposit was open at the year's end"),
        part("refunds in January", refunds(of)?, "no refund in the January after"),
        part("unpaid bills", unpaid_bills(of, figured.gone_not_paid)?, "no bill was open at the year's end"),
        part("bills dated December", december_bills(of, december)?, "no bill is dated December"),
        part("paid and not received", paid_before_here(of), "nothing was paid this year that came in the next"),
        part("prepaid", prepaid(of, figured.settled), "nothing was paid ahead for another year"),
        part("batches on the bench", on_the_bench(of), "no batch was on the bench"),
    ];
    let at_end = of.costed().stock_at_end_of(of.year);
    parts.extend(places(of, at_end)?);
    parts.extend([
        part("unrecorded stock", unrecorded(of)?, "nothing was issued without stock"),
        part("old stock", old_stock(of, at_end)?, "no lot on hand is older than a year"),
        part("tools", tools(of, figured.equipment), "the shop has no tools"),
        part("odometer", odometer(of), "no odometer reading in the year"),
        part("sales tax owed", sales_tax(of, figured.sales_tax), "no sales tax was owed"),
        part("statements", figured.statements.clone(), "no channel's statement for the year"),
        part("helpers over the reporting limit", helpers(of)?, no_helpers),
        part("stock at start against last year's closing", one(&figured.start_against_last_year), "no stock at either date"),
        part("overhead", overhead(of, &figured.receipts_average)?, no_receipts),
        part("purchases without a receipt number", without_receipt(of)?, "every purchase has a receipt number"),
    ]);
    Some(parts)
}

fn one(row: &str) -> Vec<String> {
    if row.is_empty() { Vec::new() } else { vec![row.to_owned()] }
}

/// The title of a helper or channel that is meant by a party's name; else that name.
fn title_of_party<'b>(book: &'b ResolvedBook, name: &'b str) -> &'b str {
    let helpers = book.helpers.iter().map(|helper| &helper.named);
    let mut known = helpers.chain(book.channels.iter().map(|channel| &channel.named));
    known.find(|named| named.name == name).map_or(name, |named| named.title.as_str())
}

fn bill_name(of: &BooksOfYear<'_>, bill: &crate::costing::Bill) -> String {
    let book = of.book();
    let party = bill.party.map(|party| title_of_party(book, book.label(party)));
    let party = party.or_else(|| bill.pattern.map(|pattern| book.pattern(pattern).named.title.as_str()));
    let party = party.or_else(|| bill.channel.map(|channel| book.channel(channel).named.title.as_str()));
    let known: Vec<&str> = party.into_iter().chain(bill.reference.map(|reference| book.label(reference))).collect();
    match known.is_empty() {
        true => format!("a bill of {}", bill.date),
        false => format!("{}, {}", known.join(" "), bill.date),
    }
}

fn payouts(of: &BooksOfYear<'_>) -> Vec<String> {
    let mut rows = Vec::new();
    for bill in of.costed().bills.iter().filter(|bill| bill.kind == BillKind::OwedToUs) {
        for (day, money) in bill.paid.iter().filter(|(day, _)| day.year() != bill.date.year()) {
            if of.has(*day) || of.has(bill.date) {
                rows.push(format!("{}: {} on {day}", bill_name(of, bill), of.money(*money)));
            }
        }
    }
    rows
}

fn deposits(of: &BooksOfYear<'_>) -> Vec<String> {
    let open = open_deposits(of).into_iter();
    open.map(|deposit| format!("{} for order {}: {}", deposit.date, of.book().label(deposit.order), of.money(deposit.money)))
        .collect()
}

/// Deposits whose sale had not come by the end of the year, and that were not handed back by then.
pub(crate) fn open_deposits<'a>(of: &BooksOfYear<'a>) -> Vec<&'a Deposit> {
    let sold: FxHashSet<_> =
        of.costed().orders.iter().filter(|order| order.date <= of.last).filter_map(|order| order.order).collect();
    let still_here = |deposit: &&Deposit| deposit.handed_back.is_none_or(|back| back.date > of.last);
    let by_then = of.costed().deposits.iter().filter(|deposit| deposit.date <= of.last && !sold.contains(&deposit.order));
    by_then.filter(still_here).collect()
}

fn refunds(of: &BooksOfYear<'_>) -> Option<Vec<String>> {
    let mut rows = Vec::new();
    for event in &of.books.log.events {
        let EventKind::Returned(returned) = &event.kind else { continue };
        if Some(event.date.year()) != of.year.checked_add(1) || event.date.month() != 1 {
            continue;
        }
        let back = returned.lines.iter().filter(|line| line.fate == ReturnFate::BackToStock).count();
        let money = of.money(returned.back_to_the_buyer()?);
        let order = returned.order.map_or_else(|| "a sale".to_owned(), |order| format!("order {}", of.book().label(order)));
        rows.push(format!("{} on {order}: {money} refunded, {back} back to stock", event.date));
    }
    Some(rows)
}

/// Unpaid bills, and on the cash basis what of them is in goods that are gone.
fn unpaid_bills(of: &BooksOfYear<'_>, gone: Fixed6) -> Option<Vec<String>> {
    let mut rows = Vec::new();
    for bill in of.costed().bills.iter().filter(|bill| bill.date <= of.last) {
        let open = bill.open_on(of.last)?;
        if open.is_positive() {
            let who = if bill.kind == BillKind::OwedByUs { "owed by the shop to" } else { "owed to the shop by" };
            rows.push(format!("{who} {}: {}", bill_name(of, bill), of.money(open)));
        }
    }
    if of.basis() == Basis::Cash && rows.iter().any(|row| row.starts_with("owed by")) {
        rows.push(format!(
            "of what the shop owes, {} is in goods that were gone by then and waits for its payment",
            of.money(gone)
        ));
    }
    Some(rows)
}

fn december_bills(of: &BooksOfYear<'_>, december: NaiveDate) -> Option<Vec<String>> {
    let bills =
        of.costed().bills.iter().filter(|bill| bill.kind == BillKind::OwedByUs && december <= bill.date && bill.date <= of.last);
    bills.map(|bill| Some(format!("{}: {}", bill_name(of, bill), of.money(bill.total_on(of.last)?)))).collect()
}

fn paid_before_here(of: &BooksOfYear<'_>) -> Vec<String> {
    let mut rows = Vec::new();
    for bill in of.costed().bills.iter().filter(|bill| bill.kind == BillKind::OwedByUs && bill.date > of.last) {
        for (day, money) in bill.paid.iter().filter(|(day, _)| of.has(*day)) {
            rows.push(format!("{}: {} on {day}", bill_name(of, bill), of.money(*money)));
        }
    }
    rows
}

/// What is meant for a day after the year: on the accrual basis what was billed in it, which counts on that day; on the cash basis what
/// was paid in it, of bills of earlier years too.
fn prepaid(of: &BooksOfYear<'_>, settled: &Settled) -> Vec<String> {
    let mut rows = Vec::new();
    for (at, posting) in (0u32..).zip(&of.costed().postings) {
        let Some(day) = posting.meant_for.filter(|day| *day > of.last) else { continue };
        let of_what = match posting.account {
            Account::Expense(expense) => format!(" for `{}`", of.book().expense(expense).named.name),
            _ => String::new(),
        };
        match *of.book().shop.basis.on(posting.date) {
            Basis::Cash => {
                let paid = settled.posting(of.costed(), at);
                let paid = paid.iter().filter(|part| of.has(part.date) && !part.amount.is_zero());
                rows.extend(paid.map(|part| format!("{}: {}{of_what}, meant for {day}", part.date, of.money(part.amount))));
            }
            Basis::Accrual if of.has(posting.date) => {
                rows.push(format!("{}: {}{of_what}, meant for {day}, where it counts", posting.date, of.money(posting.money)));
            }
            Basis::Accrual => {}
        }
    }
    rows
}

fn tools(of: &BooksOfYear<'_>, equipment: &[ToolYear]) -> Vec<String> {
    let row = |tool: &ToolYear| {
        let name = &of.book().tool(tool.tool).named.title;
        let gone = tool.disposed.map_or_else(String::new, |gone| {
            format!("; left on {} for {}, {}", gone.date, of.money(gone.proceeds), gain_in_words(of, tool, gone.gain))
        });
        format!("{name}, in use from {}: {}{gone}", tool.in_use_from, of.money(tool.cost))
    };
    equipment.iter().map(row).collect()
}

/// A gain, a loss, or neither, and where it belongs.
pub(crate) fn gain_in_words(of: &BooksOfYear<'_>, tool: &ToolYear, gain: Option<Fixed6>) -> String {
    if tool.asked {
        return "on no line here".to_owned();
    }
    let Some(gain) = gain else { return "its gain or loss is an open question, on no line here".to_owned() };
    let amount = of.money(Fixed6::from_micros(gain.micros().saturating_abs()));
    let list = &of.form.sold_tools;
    let belongs = if list.is_empty() { String::new() } else { format!(" for {list}") };
    match (gain.is_zero(), gain.is_negative()) {
        (true, _) => "neither gain nor loss".to_owned(),
        (false, true) => format!("a loss of {amount}{belongs}, on no line here"),
        (false, false) => format!("a gain of {amount}{belongs}, on no line here"),
    }
}

fn odometer(of: &BooksOfYear<'_>) -> Vec<String> {
    let readings = of.costed().odometer.iter().filter(|(day, _)| of.has(*day));
    readings.map(|(day, miles)| format!("{day}: {} mi", miles.normalize())).collect()
}

fn sales_tax(of: &BooksOfYear<'_>, periods: &[TaxPeriod]) -> Vec<String> {
    let year = of.year.to_string();
    let owed = periods.iter().filter(|period| period.period == year && !period.owed.is_zero());
    let row = |period: &TaxPeriod| match period.to.is_empty() {
        true => format!("{} owed", of.money(period.owed)),
        false => format!("{}: {} owed", period.to, of.money(period.owed)),
    };
    owed.map(row).collect()
}

/// Helpers who are no employees and were paid as much in the year as is to be reported: Form 1099-NEC has what was paid during the calendar year,
/// whenever it was earned. VERIFIED (3rd-party): documentshelper.com/irs-tax-forms/form-1099-nec-nonemployee-compensation.
pub(crate) fn helpers(of: &BooksOfYear<'_>) -> Option<Vec<String>> {
    let Some(limit) = of.figures.helper_payments(of.year) else { return Some(Vec::new()) };
    let limit = Fixed6::round_from_decimal(limit.limit.0)?;
    let mut sums: BTreeMap<&str, Fixed6> = BTreeMap::new();
    // Where hours are owed, their bill has their line.
    let mut owed: BTreeMap<Span, LabelId> = BTreeMap::new();
    let mut add = |name: LabelId, money: Fixed6| {
        let sum = sums.entry(of.book().label(name)).or_default();
        *sum = sum.checked_add(money)?;
        Some(())
    };
    for event in &of.books.log.events {
        let lines = match &event.kind {
            EventKind::Worked(lines) => lines.as_slice(),
            EventKind::Batch(work) => work.took.as_slice(),
            _ => &[],
        };
        for line in lines {
            match line.worker {
                Worker::Hired { name, employee: false, paid_later: true, .. } => {
                    owed.insert(line.span, name);
                }
                Worker::Hired { name, pay, employee: false, paid_later: false, .. } if of.has(event.date) => add(name, pay)?,
                _ => {}
            }
        }
    }
    for bill in of.costed().bills.iter().filter(|bill| bill.kind == BillKind::OwedByUs) {
        let Some(name) = owed.get(&bill.line) else { continue };
        for (_, money) in bill.paid.iter().filter(|(day, _)| of.has(*day)) {
            add(*name, *money)?;
        }
    }
    let over = sums.into_iter().filter(|(_, sum)| *sum >= limit);
    Some(over.map(|(name, sum)| format!("{name}: {} paid, to be reported from {}", of.money(sum), of.money(limit))).collect())
}

fn without_receipt(of: &BooksOfYear<'_>) -> Option<Vec<String>> {
    let mut rows = Vec::new();
    for event in of.books.log.events.iter().filter(|event| of.has(event.date)) {
        let EventKind::Bought(bought) = &event.kind else { continue };
        if bought.receipt.is_none() && !bought.swapped {
            let from = bought.supplier.map_or("an unnamed seller", |supplier| of.book().label(supplier));
            rows.push(format!("{} from {from}: {}", event.date, of.money(bought.total()?)));
        }
    }
    Some(rows)
}
