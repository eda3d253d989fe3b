//! The year put together: sums first, then the lines, then what is read off them.
//!
//! In: a year of a book with its form. Out: a [`TaxYear`]; `None` where a figure is too large, and nothing but the mistake told where Part III or
//! the bridge does not close. Must not: know a line's number.

use std::collections::BTreeMap;

use chrono::Datelike;

use crate::diagnostics::Diagnostics;
use crate::names::{Recovery, StockKept};
use crate::units::Fixed6;
use crate::year::Rule;
use crate::year::asked_by_form::{Unfigured, ask_by_form, ask_of_currency};
use crate::year::below_nothing::notes_on_lines_below_nothing;
use crate::year::books::BooksOfYear;
use crate::year::boxes::answer_boxes;
use crate::year::bridge::{build_bridge, sum_of_steps};
use crate::year::cut_off::cut_off_list::{Figured, gain_in_words, list_cut_off};
use crate::year::cut_off::sales_of_year::sum_orders;
use crate::year::cut_off::statements::compare_statements;
use crate::year::errors;
use crate::year::expenses::{Left, fill_expenses};
use crate::year::form_lines::FormLines;
use crate::year::forms::source_note::{SourceNotes, note_figures_used};
use crate::year::goods::cost_of_goods::{Goods, expected, fill_goods, fill_time_and_royalties, fill_used_wear};
use crate::year::goods::goods_cost::{licences_at_end, stock_at_end, unpaid_at_end, unrecorded_at_end, wear_at_end};
use crate::year::gross_receipts::average_receipts;
use crate::year::home_workshop::{BeforeLimit, figure_home};
use crate::year::income::{Counted, count_postings, fill_income};
use crate::year::ledger::{Ledger, total};
use crate::year::mileage::fill_mileage;
use crate::year::questions::Questions;
use crate::year::sales_tax::sum_sales_tax;
use crate::year::self_employment::figure_self_employment;
use crate::year::settled::Settled;
use crate::year::sheet::fill_sheet;
use crate::year::standing::{Looked, ask_standing};
use crate::year::tax_year::{CostOfGoods, Item, Mileage, Sum, SumOf, TaxLine, TaxYear, ToolYear};
use crate::year::tools::elections::ask_of_elections;
use crate::year::tools::equipment::figure_equipment;
use crate::year::tools::section_179::{Elections, YearsBefore, allow, ask as ask_section_179, ask_of_years_without_form};
use crate::year::tools::section_179_rows::put_into_rows;
use crate::year::{Feed, Forms};

/// The sums of a year before section 179 and the home workshop are limited.
struct Sums {
    ledger: Ledger,
    counted: Counted,
    goods: Goods,
    equipment: Vec<ToolYear>,
    mileage: Mileage,
    left: Left,
}

/// Everything that collects on the way.
#[derive(Default)]
struct Asked {
    questions: Questions,
    sources: SourceNotes,
    found: Diagnostics,
}

fn sum_year(of: &BooksOfYear<'_>, settled: &Settled, lines: &FormLines, asked: &mut Asked) -> Option<Sums> {
    let mut ledger = Ledger::default();
    let counted = count_postings(of, settled)?;
    for (id, entries) in fill_income(of, &counted, |id, day| lines.income(id, day), &mut ledger)? {
        let (name, title) = (&of.book().income(id).named.name, &of.book().income(id).named.title);
        let question = format!("on which line does the income `{title}` stand? It is not included");
        asked.questions.ask(
            &format!("{name}/form-line"),
            question,
            Rule::EveryAmountHasALine,
            "form line …, in its definition",
            entries,
        );
    }
    let left = fill_expenses(of, &counted.expenses, |id, day| lines.expense(id, day), &mut ledger)?;
    for (id, items) in &left.without_line {
        let named = &of.book().expense(*id).named;
        if !named.incomplete {
            let question = format!("on which line does the expense `{}` stand? It is not included", named.title);
            let entries = items.iter().map(|item| item.span).collect();
            asked.questions.ask(
                &format!("{}/form-line", named.name),
                question,
                Rule::EveryAmountHasALine,
                "form line …, in its definition",
                entries,
            );
        }
    }
    if left.no_meals_part {
        asked.found.push(errors::no_figure(of.book().shop.span, of.form, "meals", "meals were paid"));
    } else if let Some(meals) = of.figures.meals(of.year) {
        let is_meals = |line: &crate::year::Line| line.times == Some(crate::year::Times::Meals);
        if of.form.lines.iter().enumerate().any(|(at, line)| is_meals(line) && !ledger.sums(at).is_empty()) {
            asked.sources.note(&meals.note());
        }
    }
    let mileage = fill_mileage(of, &mut ledger, &mut asked.questions, &mut asked.found)?;
    for rate in &mileage.rates {
        asked.sources.note(&rate.source);
    }
    if of.stock() == StockKept::Supplies {
        fill_used_wear(of, &mut ledger)?;
        fill_time_and_royalties(of, settled, &mut ledger)?;
    }
    let goods = fill_goods(of, settled, &mut ledger)?;
    let equipment = figure_equipment(of, settled, &mut asked.questions, &mut asked.sources, &mut asked.found)?;
    for (feed, name) in [(Feed::Depreciation, "depreciation"), (Feed::ToolsAtOnce, "tools expensed at once")] {
        let items = equipment.iter().filter(|tool| tool.feed == Some(feed) && !tool.amount.is_zero());
        let items = items.map(|tool| Item { date: of.last, amount: tool.amount, event: None, span: tool.line }).collect();
        ledger.feed(of, feed, name, items)?;
    }
    Some(Sums { ledger, counted, goods, equipment, mileage, left })
}

/// Section 179 elected and the income that limits it, for each year up to this one in which a tool took it.
fn section_179_years(
    of: &BooksOfYear<'_>,
    forms: &Forms,
    settled: &Settled,
    lines: &FormLines,
    sums: &Sums,
    questions: &mut Questions,
) -> Option<YearsBefore> {
    let mut years = BTreeMap::new();
    if of.form.line_of(Feed::Section179).is_none() {
        return Some(years);
    }
    let elections = |of: &BooksOfYear<'_>, sums: &Sums| {
        let elected = sums.equipment.iter().filter(|tool| tool.section_179.is_positive());
        let elected = elected.map(|tool| (tool.account, tool.section_179)).collect();
        Some(Elections { elected, income: income_before(of, &sums.ledger)? })
    };
    // Tools that are gone took their part of what earlier years allowed.
    let came = of.costed().tools.iter().filter(|account| account.date <= of.last);
    let came = came.map(|account| (account, of.book().tool(account.tool)));
    let took = came.filter(|(_, tool)| matches!(tool.recovery, Some(Recovery::Section179 { .. })));
    let first = took.map(|(account, tool)| account.in_use_from(tool.in_use_from).max(account.date).year()).min();
    let Some(first) = first else { return Some(years) };
    let mut without_form = Vec::new();
    for year in first..of.year {
        let Some(form) = forms.form(&of.form.name, year) else {
            without_form.push(year);
            continue;
        };
        let before = BooksOfYear::new(of.books, form, of.figures, year)?;
        let earlier = sum_year(&before, settled, lines, &mut Asked::default())?;
        years.insert(year, elections(&before, &earlier)?);
    }
    ask_of_years_without_form(of, &without_form, questions);
    years.insert(of.year, elections(of, sums)?);
    Some(years)
}

/// Whether some of a tool's cost is taken under section 179, in this year or in another.
fn takes_section_179(of: &BooksOfYear<'_>, tool: &ToolYear) -> bool {
    matches!(of.book().tool(tool.tool).recovery, Some(Recovery::Section179 { .. }))
}

/// The tentative profit without section 179, and wages from elsewhere.
fn income_before(of: &BooksOfYear<'_>, ledger: &Ledger) -> Option<Fixed6> {
    let sheet = fill_sheet(of, ledger, &mut None)?;
    let profit = sheet.get(of.form.home_limit.unwrap_or(of.form.net_profit))?.cents;
    let wages = of.book().choices.get(&of.year).and_then(|choices| choices.wages_elsewhere);
    profit.checked_add(wages.map_or(Some(Fixed6::ZERO), Fixed6::round_from_decimal)?)
}

/// Figures the year. `None` on overflow; `Some(None)` where Part III does not tie, which is told.
pub(crate) fn figure_year(of: &BooksOfYear<'_>, forms: &Forms, found: &mut Diagnostics) -> Option<Option<TaxYear>> {
    let mut asked = Asked::default();
    let lines = FormLines::of(of.books, of.form, &mut asked.found);
    lines.ask(of.form, &mut asked.questions);
    ask_of_currency(of, &mut asked.questions);
    let settled = Settled::of(of.books)?;
    let mut sums = sum_year(of, &settled, &lines, &mut asked)?;
    if !sums.goods.difference.is_zero() {
        let (form, engine) = (sums.goods.cost.exact, expected(&sums.goods.cost)?);
        found.append(asked.found);
        found.push(errors::does_not_tie(of.book().shop.span, of.year, &form.to_string(), &engine.to_string()));
        return Some(None);
    }
    let years = section_179_years(of, forms, &settled, &lines, &sums, &mut asked.questions)?;
    let allowed = allow(of, &years)?;
    if let Some(year) = allowed.without_limits {
        let tool = sums.equipment.iter().find(|tool| takes_section_179(of, tool));
        let place = tool.map_or(of.book().shop.span, |tool| of.book().tool(tool.tool).named.span);
        asked.found.push(errors::no_figure_of(place, of.form, "section_179", year, "this tool is expensed under section 179"));
    }
    put_into_rows(of, &allowed, &mut sums.equipment, &mut asked.questions)?;
    ask_section_179(of, &years, &allowed, &sums.equipment, &mut asked.questions)?;
    if !allowed.amount.is_zero() {
        let items = sums.equipment.iter().filter(|tool| tool.section_179.is_positive());
        let items = items.map(|tool| Item { date: of.last, amount: tool.section_179, event: None, span: tool.line }).collect();
        sums.ledger.feed(of, Feed::Section179, "section 179", items)?;
        if let Some(rule) = of.figures.section_179(of.year) {
            asked.sources.note(&rule.note());
        }
    }
    ask_of_elections(of, &mut asked.questions, &mut asked.sources)?;
    let mut home = figure_home(of, &sums.left, &mut asked.questions, &mut asked.found)?;
    let asked_home = home.take_if(|_| of.form.line_of(Feed::HomeWorkshop).is_none());
    let home_in_words = asked_home.and_then(|home| put_home(of, home, &mut sums.ledger));
    let unfigured = Unfigured { equipment: &sums.equipment, mileage: &sums.mileage, home: home_in_words };
    ask_by_form(of, &sums.ledger, &unfigured, &mut asked.questions, &mut asked.sources)?;
    let sheet = fill_sheet(of, &sums.ledger, &mut home)?;
    let tax_year = read_off(of, sheet, sums, &settled, home, asked, found)?;
    Some(tax_year)
}

/// Puts a home workshop that has no line with what is asked; where it comes to no amount, it is given back in words.
fn put_home(of: &BooksOfYear<'_>, home: BeforeLimit, ledger: &mut Ledger) -> Option<String> {
    let (amount, share) = (home.year.before_limit, home.year.how);
    if home.year.simplified && amount.is_zero() {
        return Some(format!("a home workshop of {share}"));
    }
    let (of_feed, name) = (SumOf::Feed(Feed::HomeWorkshop), "home workshop".to_owned());
    ledger.put(of, Feed::HomeWorkshop, Sum { of: of_feed, name, amount, whole: amount, share, items: home.items });
    None
}

fn read_off(
    of: &BooksOfYear<'_>,
    lines: Vec<TaxLine>,
    sums: Sums,
    settled: &Settled,
    home: Option<BeforeLimit>,
    mut asked: Asked,
    found: &mut Diagnostics,
) -> Option<Option<TaxYear>> {
    let net = lines.get(of.form.net_profit)?;
    let (net_cents, net_printed) = (net.cents, net.printed);
    let mut cost = sums.goods.cost.clone();
    if let Some(line) = of.form.cost_of_goods {
        cost.rounding = cost.exact.checked_sub(lines.get(line)?.printed)?;
    }
    let bridge = build_bridge(of, &sums.counted, &sums.goods, (&lines, sums.ledger.asked()), net_cents)?;
    let steps = sum_of_steps(&bridge)?;
    if steps != net_cents {
        found.append(asked.found);
        found.push(errors::bridge_is_broken(of.book().shop.span, of.year, &net_cents.to_string(), &steps.to_string()));
        return Some(None);
    }
    let orders = sum_orders(of, settled)?;
    let looked = Looked { goods: &sums.goods, orders: &orders, mileage: &sums.mileage };
    ask_standing(of, &looked, &mut asked.questions)?;
    let mut notes = notes_of(of, &cost, home.as_ref(), &sums.equipment)?;
    notes.extend(notes_on_lines_below_nothing(of, &lines)?);
    let self_employment = figure_self_employment(of, net_printed, net_cents, &mut asked.questions, &mut notes, &mut asked.found)?;
    let sales_tax = sum_sales_tax(of)?;
    let statements = compare_statements(of, &orders, &mut asked.questions)?;
    let receipts_average = average_receipts(of, settled, &mut asked.questions, &mut notes)?;
    let figured = Figured {
        orders: &orders,
        settled,
        statements,
        equipment: &sums.equipment,
        sales_tax: &sales_tax,
        receipts_average,
        start_against_last_year: start_against_last_year(of, &lines, &cost)?,
        gone_not_paid: cost.gone_not_paid,
    };
    let cut_off = list_cut_off(of, &figured)?;
    let boxes = answer_boxes(of, &sums.mileage, net_cents)?;
    note_figures_used(of, home.as_ref().map(|home| &home.year), !figured.receipts_average.is_empty(), &mut asked.sources);
    let (questions, loose) = asked.questions.answered(of);
    notes.extend(loose);
    let mut sources = SourceNotes::default();
    for line in &of.form.lines {
        if let Some(source) = of.form.sources.get(line.source) {
            sources.note(source);
        }
    }
    let mut list = sources.into_list();
    list.extend(asked.sources.into_list());
    found.append(asked.found);
    Some(Some(TaxYear {
        form: of.form.name.clone(),
        form_title: of.form.title.clone(),
        year: of.year,
        provisional: of.form.provisional,
        basis: of.basis(),
        stock: of.stock(),
        whole_dollars: of.whole_dollars(),
        lines,
        boxes,
        net_profit: of.form.net_profit,
        cost_of_goods_line: of.form.cost_of_goods,
        cost_of_goods: cost,
        equipment: sums.equipment,
        mileage: sums.mileage,
        home: home.map(|home| home.year),
        sales_tax,
        self_employment,
        bridge,
        cut_off,
        questions,
        sources: list,
        notes,
    }))
}

/// What a reader of the figures must know. `None` on overflow.
fn notes_of(
    of: &BooksOfYear<'_>,
    cost: &crate::year::CostOfGoods,
    home: Option<&BeforeLimit>,
    equipment: &[ToolYear],
) -> Option<Vec<String>> {
    let mut notes = Vec::new();
    if of.form.provisional {
        notes.push(format!("the form of {} has not been read: its lines are taken over from an earlier year", of.year));
    }
    let (from, until) = (of.books.log.first_day, of.costed().until);
    if from.is_none_or(|day| day > of.last) || until.is_none_or(|day| day < of.first) {
        notes.push(format!("the book has no entry in {}", of.year));
    } else if let Some(until) = until.filter(|day| *day < of.last) {
        notes.push(format!("the book ends on {until}: the year is figured as far as that"));
    }
    let (kept, footing) = match of.stock() {
        StockKept::Inventory => ("inventory", Rule::KeptAsInventory),
        StockKept::Supplies => ("supplies", Rule::KeptAsSupplies),
    };
    notes.push(match of.figures.rule(footing) {
        Some(text) => format!("{}: {}", text.rule, text.source()),
        None => format!("stock is kept as {kept}: this form's data names no rule for this"),
    });
    let licences = licences_at_end(of)?;
    if !licences.is_zero() {
        notes.push(format!("licences of {} for pieces not made yet are in the closing stock", of.money(licences)));
    }
    let [wear, _] = wear_at_end(of, of.year);
    if of.stock() == StockKept::Supplies && !wear.is_zero() {
        notes.push(format!("wear of {} is on hand and on no line: it is carried forward until it is used", of.money(wear)));
    }
    let unrecorded = unrecorded_at_end(of)?;
    if !unrecorded.is_zero() {
        notes.push(format!(
            "goods of {} issued without stock are not in the cost of goods; the year can't be closed",
            of.money(unrecorded)
        ));
    }
    if !cost.method_change.is_zero() {
        notes.push(format!("the change of stock method moves {} into the cost of goods", of.money(cost.method_change)));
    }
    for item in &cost.donations {
        notes.push(format!(
            "{}: {} donated out of the opening stock, for the owner's own return",
            item.date,
            of.money(item.amount)
        ));
    }
    for item in &cost.donated_unused {
        notes.push(format!("{}: {} donated unused and on no line, for the owner's own return", item.date, of.money(item.amount)));
    }
    if let Some(home) = home.filter(|home| !home.year.excess.is_zero()) {
        let carried = if home.year.simplified {
            "and nothing is carried"
        } else {
            "and whether it is carried is for the form's instructions"
        };
        notes.push(format!("the limit cut {} off the home workshop {carried}", of.money(home.year.excess)));
    }
    for tool in equipment {
        if let Some(gone) = tool.disposed {
            let name = &of.book().tool(tool.tool).named.title;
            let (fetched, gain) = (of.money(gone.proceeds), gain_in_words(of, tool, gone.gain));
            notes.push(format!("`{name}` left on {} for {fetched}: {gain}", gone.date));
        }
    }
    Some(notes)
}

/// The opening stock, before what of it was donated, beside last year's closing line; both to the cent.
fn start_against_last_year(of: &BooksOfYear<'_>, lines: &[TaxLine], cost: &CostOfGoods) -> Option<String> {
    let Some(line) = of.form.line_of(Feed::StockAtStart).and_then(|at| lines.get(at)) else { return Some(String::new()) };
    let donated = total(&cost.donations)?;
    let as_opened = Fixed6::checked_sum(line.sums.iter().map(|sum| sum.amount))?.checked_add(donated)?.round_to(of.digits());
    let year_before = of.year.checked_sub(1)?;
    let kept = *of.book().shop.stock_kept.on(of.first.pred_opt()?);
    let closing = stock_at_end(of, year_before, kept)?.checked_sub(unpaid_at_end(of, year_before, kept)?)?;
    let closing = closing.round_to(of.digits());
    if as_opened.is_zero() && closing.is_zero() {
        return Some(String::new());
    }
    let mut sentence = if of.books.log.first_day.is_some_and(|day| of.has(day)) {
        let start = of.money(as_opened);
        format!("{start} at the start, in the book's first year: it must be the line of last year's closing stock")
    } else {
        let same = if as_opened == closing { "the same" } else { "different; the line says why" };
        format!("{} at the start, {} by last year's closing stock: {same}", of.money(as_opened), of.money(closing))
    };
    if !donated.is_zero() {
        let (donated, number, cents) = (of.money(donated), &line.number, of.money(line.cents));
        sentence.push_str(&format!("; {donated} of it was donated, so that line {number} is {cents}"));
    }
    Some(sentence)
}
