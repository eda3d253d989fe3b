//! Questions that a year raises by itself: stock methods, agents, counts, gifts, donations, losses, debts, changes of method.
//!
//! Each is asked where the book has something that the rule concerns, with the entries, and never where a detail has settled it. Amounts in a
//! question are to the currency's digits; no question moves a figure.

use std::collections::BTreeMap;

use chrono::Days;
use rust_decimal::{Decimal, RoundingStrategy};

use crate::costing::{BillKind, CostVector, Flow};
use crate::events::{BoughtWhat, Event, EventKind};
use crate::names::{Basis, ChannelShare, StockKept, ThingId, ThingKind};
use crate::sources::Span;
use crate::units::Fixed6;
use crate::year::books::BooksOfYear;
use crate::year::cut_off::cut_off_list::open_deposits;
use crate::year::cut_off::cut_off_stock::last_count;
use crate::year::cut_off::sales_of_year::OrderSum;
use crate::year::goods::cost_of_goods::Goods;
use crate::year::goods::goods_cost::unrecorded_at_end;
use crate::year::goods::unpaid::Counted;
use crate::year::ledger::total;
use crate::year::questions::Questions;
use crate::year::tax_year::{Item, Mileage};
use crate::year::{Feed, Rule};

/// What the questions look at.
pub(crate) struct Looked<'a> {
    pub(crate) goods: &'a Goods,
    pub(crate) orders: &'a [OrderSum<'a>],
    pub(crate) mileage: &'a Mileage,
}

fn spans(items: &[Item]) -> Vec<Span> {
    items.iter().map(|item| item.span).collect()
}

/// Asks them. `None` on overflow.
pub(crate) fn ask_standing(of: &BooksOfYear<'_>, looked: &Looked<'_>, questions: &mut Questions) -> Option<()> {
    ask_of_methods(of, questions);
    ask_of_goods(of, looked, questions)?;
    ask_of_debts(of, questions)?;
    ask_of_places(of, looked, questions)
}

fn ask_of_methods(of: &BooksOfYear<'_>, questions: &mut Questions) {
    let shop = &of.book().shop;
    if of.stock() == StockKept::Inventory && of.basis() == Basis::Cash {
        let question =
            "stock is kept as inventory on the cash basis: does the owner's method of accounting allow that?".to_owned();
        let answer = "accrual basis, or stock kept as supplies, in `shop`; or answered …";
        questions.ask("stock/inventory-with-cash", question, Rule::InventoryWithCash, answer, vec![shop.span]);
    }
    let before = of.first.pred_opt().unwrap_or(of.first);
    let new_book = of.books.log.first_day.is_none_or(|day| day >= of.first);
    let mut changed = |name: &str, what: &str, has: bool| {
        if has && !new_book {
            let question = format!("{what} changed on {}: was consent given, and what is the adjustment?", of.first);
            questions.ask(name, question, Rule::ChangeOfMethod, "answered … with the form filed", vec![shop.span]);
        }
    };
    changed("method/basis", "the basis", shop.basis.on(before) != shop.basis.on(of.last));
    changed("method/stock", "how stock is kept", shop.stock_kept.on(before) != shop.stock_kept.on(of.last));
    changed("method/costing", "how stock is costed", shop.costing.on(before) != shop.costing.on(of.last));
}

fn ask_of_goods(of: &BooksOfYear<'_>, looked: &Looked<'_>, questions: &mut Questions) -> Option<()> {
    let ways = &looked.goods.ways_out;
    let gifts = gifts_that_count(of)?;
    // A form that asks for gifts itself has no limit to hold them against.
    if !gifts.is_empty() && of.form.asked_of(Feed::Gifts).is_none() {
        let limit = of.figures.gifts(of.year).map_or_else(String::new, |limit| format!(" of {}", limit.per_person.0));
        let question = format!("do the business gifts stay within the yearly limit{limit} a person?");
        questions.ask("gifts/limit", question, Rule::Gifts, "answered … with who was given what", gifts);
    }
    if !ways.donated_off_start.is_empty() && of.figures.rule(Rule::Donation).is_none() {
        let question = format!(
            "{} of what was donated was taken off the opening stock, as one country has it, and is no cost of the goods: does the form's \
             country have it so?",
            of.money(total(&ways.donated_off_start)?)
        );
        let entries = spans(&ways.donated_off_start);
        questions.ask("donations/opening-stock", question, Rule::Donation, "answered …", entries);
    }
    if !ways.donations_without_value.is_empty() {
        let guess = of.money(total(&ways.donations_without_value)?);
        let question = format!("what was worth what was donated? The list price of {guess} was taken, which is a guess");
        questions.ask(
            "donations/value",
            question,
            Rule::Donation,
            "worth …, on the line of what was given",
            spans(&ways.donations_without_value),
        );
    }
    let lost = lines_of(of, Flow::AbnormalLoss, |vector| !vector.is_zero());
    if !lost.is_empty() {
        let question = "was any loss by theft, fire or flood, or insured?".to_owned();
        questions.ask("losses/casualty", question, Rule::Casualty, "answered … \"losses/casualty\" \"no\"", lost);
    }
    if !looked.goods.opened_later.is_empty() {
        let amount = of.money(total(&looked.goods.opened_later)?);
        let question = format!(
            "{amount} of stock was there when the book began, after the year's first day, and stands with the purchases: is that right?"
        );
        questions.ask(
            "stock/opened-later",
            question,
            Rule::OpeningStock,
            "opened on the first of January; or answered …",
            spans(&looked.goods.opened_later),
        );
    }
    if !looked.goods.opened_again.is_empty() {
        let amount = of.money(total(&looked.goods.opened_again)?);
        let question = format!(
            "{amount} of stock was opened on {}, though the book goes back further, so that the year does not begin with what the last one \
             closed with: where did it come from?",
            of.first
        );
        questions.ask(
            "stock/opened-again",
            question,
            Rule::OpeningStock,
            "bought … or contributed …, on the day on which it came; or answered …",
            spans(&looked.goods.opened_again),
        );
    }
    if !looked.goods.contributed.is_empty() {
        let amount = of.money(total(&looked.goods.contributed)?);
        let question =
            format!("the owner put in goods for {amount}: is that the smaller of what they cost and what they were worth?");
        questions.ask(
            "stock/contributed",
            question,
            Rule::OwnGoods,
            "contributed … for the smaller figure; or answered …",
            spans(&looked.goods.contributed),
        );
    }
    if !ways.taken_home_of_earlier_years.is_empty() {
        let amount = of.money(total(&ways.taken_home_of_earlier_years)?);
        let question = format!(
            "{amount} of wear, hired time and royalties in what was taken home lowers this year's lines: was it deducted in an earlier year?"
        );
        questions.ask("taken-home/earlier-years", question, Rule::Unpaid, "answered …", spans(&ways.taken_home_of_earlier_years));
    }
    let unrecorded = unrecorded_at_end(of)?;
    if !unrecorded.is_zero() {
        let question = format!(
            "goods of {} were issued without stock, are not bought or made yet, and are left out of the cost of goods: where did they come from?",
            of.money(unrecorded)
        );
        let entries = issued_and_not_here_yet(of)?;
        questions.ask("stock/unrecorded", question, Rule::Unrecorded, "the purchase or batch that is missing", entries);
    }
    if of.stock() == StockKept::Supplies {
        ask_of_made_wear(of, questions);
    }
    Some(())
}

/// The lines of issues without stock of things of which some is not bought or made by the year's end. `None` on overflow.
fn issued_and_not_here_yet(of: &BooksOfYear<'_>) -> Option<Vec<Span>> {
    let mut open: BTreeMap<Option<ThingId>, (Fixed6, Vec<Span>)> = BTreeMap::new();
    for movement in of.costed().movements.iter().filter(|one| one.flow == Flow::Unrecorded && one.date <= of.last) {
        let (sum, issues) = open.entry(movement.thing).or_default();
        let paid = movement.vector.paid()?;
        *sum = sum.checked_add(paid)?;
        if paid.is_positive() {
            issues.push(movement.line);
        }
    }
    Some(open.into_values().filter(|(sum, _)| !sum.is_zero()).flat_map(|(_, issues)| issues).collect())
}

/// The lines of gifts of which something counts in the year: on the cash basis what is paid for in it, whenever it was given. `None` on
/// overflow.
fn gifts_that_count(of: &BooksOfYear<'_>) -> Option<Vec<Span>> {
    let mut lines = Vec::new();
    for gift in of.costed().movements.iter().filter(|one| one.flow == Flow::Gift) {
        let counted = Counted::of(of, gift.date, &gift.vector, CostVector::paid)?;
        if !counted.in_the_year()?.is_zero() {
            lines.push(gift.line);
        }
    }
    Some(lines)
}

/// The lines of the year on which something of a cost went a way.
fn lines_of(of: &BooksOfYear<'_>, flow: Flow, is_something: impl Fn(&CostVector) -> bool) -> Vec<Span> {
    let went = of.costed().movements.iter().filter(|one| of.has(one.date) && one.flow == flow && is_something(&one.vector));
    went.map(|one| one.line).collect()
}

/// Wear that the shop made itself: what is in it of wear and time was deducted when it was made.
fn ask_of_made_wear(of: &BooksOfYear<'_>, questions: &mut Questions) {
    let made = of.costed().batches.iter().flat_map(|account| &account.outputs).filter(|output| {
        of.has(output.date)
            && matches!(output.what, crate::events::Output::Thing(thing) if of.book().thing(thing).kind == ThingKind::Wear)
    });
    let entries: Vec<Span> = made.map(|output| output.line).collect();
    if !entries.is_empty() {
        let question = "wear was made in batches; the wear used in making it counts when that was used and again with what was made: how much is it?";
        questions.ask("stock/made-wear", question.to_owned(), Rule::Unpaid, "answered …", entries);
    }
}

fn ask_of_debts(of: &BooksOfYear<'_>, questions: &mut Questions) -> Option<()> {
    let is_cash = of.basis() == Basis::Cash;
    if is_cash {
        let before: Vec<_> = (of.costed().bills.iter())
            .filter(|bill| bill.opened && bill.kind == BillKind::OwedByUs && bill.paid.iter().any(|paid| of.has(paid.0)))
            .collect();
        if !before.is_empty() {
            let paid = before.iter().flat_map(|bill| &bill.paid).filter(|paid| of.has(paid.0)).map(|paid| paid.1);
            let question = format!(
                "{} was paid of debts from before the book: for what were they? On the cash basis that counts this year, and is not included",
                of.money(Fixed6::checked_sum(paid)?)
            );
            questions.ask(
                "bills/before-the-book",
                question,
                Rule::Unpaid,
                "answered … with the line of each",
                before.iter().map(|bill| bill.line).collect(),
            );
        }
        ask_of_credits(of, questions)?;
    } else {
        let deposits: Vec<Span> = open_deposits(of).into_iter().map(|deposit| deposit.line).collect();
        if !deposits.is_empty() {
            let question = "deposits were open at the year's end and are no income yet: was that put-off chosen?".to_owned();
            questions.ask("deposits/deferral", question, Rule::Deferral, "answered …", deposits);
        }
        for bill in of.costed().bills.iter().filter(|bill| bill.kind == BillKind::OwedToUs && bill.date < of.first) {
            let open = bill.open_on(of.last)?;
            if open.is_positive() {
                // An order has one bill; of a party's several, each is known by its day.
                let name = match (bill.reference, bill.party) {
                    (Some(order), _) => of.book().label(order).to_owned(),
                    (None, Some(party)) => format!("{}/{}", of.book().label(party), bill.date),
                    (None, None) => bill.date.to_string(),
                };
                let question = format!(
                    "{} of {} is still owed to the shop at the end of {}: will it be paid?",
                    of.money(open),
                    bill.date,
                    of.year
                );
                questions.ask(&format!("{name}/bad-debt"), question, Rule::BadDebt, "answered …", vec![bill.line]);
            }
        }
    }
    Some(())
}

/// Credits of suppliers for goods sent back that were not used by the end of the year: they lowered the purchases when the goods
/// went.
fn ask_of_credits(of: &BooksOfYear<'_>, questions: &mut Questions) -> Option<()> {
    let (mut open, mut entries) = (Fixed6::ZERO, Vec::new());
    for event in of.books.log.events.iter().filter(|event| event.date <= of.last) {
        match &event.kind {
            EventKind::SentBack(sent_back) => {
                for line in sent_back.lines.iter().filter(|line| line.as_credit) {
                    open = open.checked_add(line.refunded)?;
                    entries.push(line.goods.span);
                }
            }
            EventKind::Bought(bought) => open = open.checked_sub(bought.credit)?,
            _ => {}
        }
    }
    if open.is_positive() {
        let question = format!(
            "suppliers owed {} for goods sent back at the end of {}; it lowered the purchases on the day of sending: in which year was it used?",
            of.money(open),
            of.year
        );
        questions.ask("bills/credit", question, Rule::Unpaid, "answered …", entries);
    }
    Some(())
}

fn ask_of_places(of: &BooksOfYear<'_>, looked: &Looked<'_>, questions: &mut Questions) -> Option<()> {
    // A sale that says when its money could be had leaves nothing to ask of it.
    let said = |order: &OrderSum<'_>| {
        let bill = order.order.bill.and_then(|bill| of.costed().bills.get(bill as usize));
        bill.is_some_and(|bill| bill.available.is_some())
    };
    for order in looked.orders.iter().filter(|order| of.has(order.order.date) && !said(order)) {
        let Some(channel) = order.order.channel else { continue };
        if matches!(of.book().channel(channel).share.on(order.order.date), ChannelShare::Consignment(_)) {
            let (name, title) = (order.channel(of), order.channel_title(of));
            let question = format!(
                "is `{title}` the shop's agent, so that what it takes is the shop's on the day of its sale, or does it buy from the shop?"
            );
            let answer = "available DATE, on each sale, where it could be had; or answered …";
            questions.ask(&format!("{name}/agent"), question, Rule::Agent, answer, vec![order.span()]);
        }
    }
    let (early, late) = (of.last.checked_sub_days(Days::new(31))?, of.last.checked_add_days(Days::new(31))?);
    let ended = of.costed().until.is_none_or(|until| until >= of.last);
    for (at, place) in of.book().places.iter().enumerate().filter(|_| ended) {
        let near = of.books.log.events.iter().any(|event| {
            matches!(&event.kind, EventKind::Counted(counted) if counted.place.index() == at)
                && (early..=late).contains(&event.date)
        });
        if !near && goods_came_to(of, at) {
            let last = last_count(of, at).map_or_else(|| "never counted".to_owned(), |day| format!("last counted on {day}"));
            let question = format!("`{}` was {last}: is its stock of {} right?", place.named.title, of.last);
            let answer = format!("counted {} at {}", of.last, place.named.name);
            questions.ask(&format!("{}/count", place.named.name), question, Rule::Count, &answer, vec![place.named.span]);
        }
    }
    if !looked.mileage.miles.is_zero() {
        let near = |day: chrono::NaiveDate| of.costed().odometer.iter().any(|(read, _)| (*read - day).num_days().abs() <= 31);
        if !near(of.first) || (ended && !near(of.last)) {
            let question = "the odometer was not read at both ends of the year: what did it show?".to_owned();
            questions.ask(
                "odometer/readings",
                question,
                Rule::MileageRecords,
                "odometer DATE … mi, at both ends of the year",
                Vec::new(),
            );
        }
    }
    ask_of_the_odometer(of, questions)
}

/// Readings of the year between which the car went fewer miles than were driven for the shop. A drive of a reading's own day may lie
/// outside them, so this is asked and no mistake. `None` on overflow.
fn ask_of_the_odometer(of: &BooksOfYear<'_>, questions: &mut Questions) -> Option<()> {
    let mut readings: Vec<_> = of.costed().odometer.iter().filter(|(day, _)| of.has(*day)).collect();
    readings.sort();
    let (Some((from, before)), Some((to, after))) = (readings.first(), readings.last()) else { return Some(()) };
    let drives: Vec<_> = of.costed().miles.iter().filter(|drive| (*from..=*to).contains(&drive.date)).collect();
    let driven = drives.iter().try_fold(Decimal::ZERO, |sum, drive| sum.checked_add(drive.miles))?;
    let turned = after.checked_sub(*before)?;
    // A reading is a whole number, so two may be short by one.
    if from == to || turned.is_sign_negative() || driven <= turned.checked_add(Decimal::ONE)? {
        return Some(());
    }
    let question = format!(
        "from {from} to {to} the odometer turned by {} miles, and {} were driven for the shop: which is right?",
        turned.normalize(),
        driven.round_dp_with_strategy(1, RoundingStrategy::MidpointAwayFromZero).normalize()
    );
    let answer = "the reading or the drives put right; or answered … with what was driven outside the readings of a day";
    let entries = drives.iter().map(|drive| of.head(drive.event)).collect();
    questions.ask("odometer/too-few", question, Rule::MileageRecords, answer, entries);
    Some(())
}

/// Whether goods ever came to a place by the end of the year.
fn goods_came_to(of: &BooksOfYear<'_>, place: usize) -> bool {
    let came = |event: &Event| match &event.kind {
        EventKind::Opened(opened) => opened.place.index() == place && !opened.lines.is_empty(),
        EventKind::Bought(bought) => {
            bought.place.index() == place && bought.lines.iter().any(|line| matches!(line.what, BoughtWhat::Stock { .. }))
        }
        EventKind::Batch(work) => work.place.index() == place,
        EventKind::Moved(moved) => moved.to.index() == place,
        EventKind::Returned(returned) => returned.place.index() == place,
        EventKind::Counted(counted) => counted.place.index() == place,
        _ => false,
    };
    of.books.log.events.iter().take_while(|event| event.date <= of.last).any(came)
}
