//! The answers of what is to be decided or answered for: a price, a plan, a trace.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use crate::render::answer::{Answer, first_largest};
use crate::render::number_format::{Shown, figure, is_zero};
use crate::reports::{ChannelPrice, PlacesReport, PlanReport, PriceReport, TraceKind, TraceReport};

/// The answer of the price report: what a piece costs, and where its price pays best.
pub(crate) fn answer_price(report: &PriceReport, shown: Shown) -> Answer {
    let answer = Answer::new(&report.head.currency, shown);
    let one = if report.expected { "None was finished yet; by its recipe and the last prices one" } else { "One" };
    let answer = answer.say(format!("{one} {} must bring you ", report.title)).money(&report.per_unit.paid);
    let no_rate = report.owner_rate.is_none() && is_zero(&report.per_unit.own_time);
    let is_worked = report.minutes_per_unit.as_deref().is_some_and(|minutes| !is_zero(minutes));
    let answer = if is_worked && no_rate {
        let answer = answer.say(" to cover what is laid out for it");
        let answer = match is_zero(&report.per_unit.overhead) {
            true => answer,
            false => answer.say(" and ").money(&report.per_unit.full).say(" with overhead"),
        };
        answer.say("; the shop states no rate for your hour, so none of your time is in that.")
    } else if report.minutes_per_unit.is_some() {
        answer.say(" to cover what is laid out for it and ").money(&report.per_unit.full).say(" with your own time and overhead.")
    } else {
        answer.say(" to cover what is laid out for it; its hours are unknown.")
    };
    answer_earns(report, answer)
}

/// Where a price earns an hour the most: by the channels in which something was sold, and where by its terms alone another would earn more, by that one too.
fn answer_earns(report: &PriceReport, answer: Answer) -> Answer {
    let per_hour = |channel: &ChannelPrice| {
        let at = channel.at_list_price.as_ref().or(channel.at_last_price.as_ref())?;
        Some((at.price.clone(), at.per_hour.clone()?))
    };
    let (untried, tried): (Vec<&ChannelPrice>, Vec<&ChannelPrice>) =
        report.channels.iter().partition(|channel| channel.is_untried());
    let best_of = |channels: &[&ChannelPrice]| {
        let best = *first_largest(channels, |channel| figure(&per_hour(channel)?.1))?;
        let (price, hour) = per_hour(best)?;
        Some((best.title.clone(), price, figure(&hour)?, hour))
    };
    let by_terms = best_of(&untried).filter(|(_, _, earned, _)| *earned > Decimal::ZERO);
    match (best_of(&tried), by_terms) {
        (None, None) if best_of(&untried).is_some() => {
            answer.say(" At no price of today does an hour of yours in it earn anything.")
        }
        (None, None) => answer,
        (None, Some((title, price, _, hour))) => {
            let answer = answer.say(format!(" As far as terms tell, as nothing was sold yet, it earns most by {title}: at "));
            answer.money(&price).say(", ").money(&hour).say(" for an hour of yours.")
        }
        (Some((title, price, earned, hour)), by_terms) => {
            let is_more = |(_, _, other, _): &(String, String, Decimal, String)| *other > earned;
            let by_terms = by_terms.filter(is_more);
            let answer = match (earned > Decimal::ZERO, by_terms.is_some()) {
                (true, is_more) => {
                    let where_sold = if is_more { "Of the channels that sold something it earns" } else { "It earns" };
                    let answer = answer.say(format!(" {where_sold} most by {title}: at ")).money(&price).say(", ");
                    answer.money(&hour).say(" for an hour of yours")
                }
                (false, true) => answer.say(" By no channel that sold something does an hour of yours in it earn anything"),
                (false, false) => answer.say(" At no price of today does an hour of yours in it earn anything"),
            };
            match by_terms {
                Some((title, price, _, hour)) => {
                    let answer =
                        answer.say(format!("; as far as terms tell, by {title}, where nothing was sold, at ")).money(&price);
                    answer.say(" it would earn ").money(&hour).say(".")
                }
                None => answer.say("."),
            }
        }
    }
}

/// The answer of the lists of places: what lies away from home, and what is owed for what was sold there.
pub(crate) fn answer_places(report: &PlacesReport, shown: Shown) -> Answer {
    let mut answer = Answer::new(&report.head.currency, shown);
    if report.places.is_empty() {
        return answer.say("Nothing lies away from home.");
    }
    for (at, place) in report.places.iter().enumerate() {
        let blank = if at == 0 { "" } else { " " };
        let things = place.rows.iter().filter(|row| figure(&row.left).is_some_and(|left| !left.is_zero())).count();
        let lies = match things {
            0 => "lies nothing".to_owned(),
            1 => "lies 1 kind of goods".to_owned(),
            many => format!("lie {many} kinds of goods"),
        };
        answer = answer.say(format!("{blank}At {} {lies}", place.title));
        if !is_zero(&place.left_at_price) {
            answer = answer.say(", ").money(&place.left_at_price).say(" at your prices");
        }
        answer = match place.owes.len() {
            0 => answer.say("."),
            _ => answer.say("; it owes ").money(&place.owed).say("."),
        };
        if let Some(short) = place.shortage.as_ref().filter(|short| short.question.is_some()) {
            answer = answer.say(format!(" What was missing there on {} cost ", short.date)).money(&short.missing_paid);
            if let Some(owed) = &short.missing_owed {
                answer = answer.say(", and sold it would owe ").money(owed);
            }
            answer = answer.say(": that is to be settled.");
        }
    }
    answer
}

/// `of 2 set 2 came back`, thing by thing; nothing where nothing did.
fn came_back(report: &TraceReport) -> Option<String> {
    let mut things: BTreeMap<&str, (Decimal, Decimal)> = BTreeMap::new();
    for one in &report.orders {
        let (sold, back) = things.entry(one.thing.as_str()).or_default();
        *sold = sold.saturating_add(figure(&one.sold)?);
        *back = back.saturating_add(figure(&one.came_back)?);
    }
    let came = things.iter().filter(|(_, (_, back))| !back.is_zero());
    let told: Vec<String> =
        came.map(|(thing, (sold, back))| format!("of {} {thing}, {} came back", sold.normalize(), back.normalize())).collect();
    (!told.is_empty()).then(|| told.join("; "))
}

/// The answer of a plan: hours, money, and whether it fits.
pub(crate) fn answer_plan(report: &PlanReport, shown: Shown) -> Answer {
    let asked: Vec<String> = report.costs.iter().map(|one| format!("{} {}", one.pieces, one.title)).collect();
    let answer = Answer::new(&report.head.currency, shown).say(format!("{} would take ", asked.join(" and ")));
    let licences = report.licences.iter().filter(|one| !is_zero(&one.buy)).count();
    let to_buy = report.buys.len().saturating_add(licences);
    let counted = |number: usize, what: &str| match number {
        1 => format!("1 {what}"),
        many => format!("{many} {what}s"),
    };
    let answer = match (report.without_hours.is_empty(), is_zero(&report.own_minutes)) {
        (true, _) => answer.hours(&report.own_minutes),
        (false, true) => answer.say("hours that are not known"),
        (false, false) => answer.say("at least ").hours(&report.own_minutes),
    };
    let paid = match (is_zero(&report.helper_pay), is_zero(&report.royalties)) {
        (true, true) => None,
        (false, true) => Some("helpers"),
        (true, false) => Some("royalties"),
        (false, false) => Some("helpers and royalties"),
    };
    let answer = match is_zero(&report.helper_minutes) {
        true => answer.say(" of work"),
        false => answer.say(" of your work, ").hours(&report.helper_minutes).say(" of helpers'"),
    };
    let at_least = if report.unpriced > 0 { " and at least " } else { " and " };
    let answer = answer.say(at_least).money(&report.cash_needed);
    let answer = match (to_buy, report.makes.len()) {
        (0, 0) if paid.is_none() => answer.say(": everything is there."),
        (0, 0) => answer.say(format!(" for {}: everything else is there.", paid.unwrap_or_default())),
        (0, makes) => answer.say(format!(": nothing is to be bought, and {} to be made that no recipe is for.", are(makes))),
        (bought, _) => {
            let answer = answer.say(format!(" for {} to buy", counted(bought, "thing")));
            let answer = match report.unpriced {
                0 => answer,
                all if all == bought && all == 1 => answer.say(", and that has no price"),
                all if all == bought => answer.say(", and none has a price"),
                1 => answer.say(", 1 of them without a price"),
                many => answer.say(format!(", {many} of them without a price")),
            };
            let answer = match paid {
                None => answer,
                Some(paid) if report.unpriced == 0 => answer.say(format!(" and for {paid}")),
                Some(paid) => answer.say(format!(", and for {paid}")),
            };
            match report.makes.len() {
                0 => answer.say("."),
                makes => answer.say(format!("; {} to be made that no recipe is for.", are(makes))),
            }
        }
    };
    match &report.by {
        Some(by) if by.fits != Some(false) => {
            let general = if by.needed == report.own_minutes { "." } else { ", general work counted in." };
            let known = if by.fits.is_some() { "It fits" } else { "As far as hours are known it fits" };
            answer.say(format!(" {known} by {}: there are ", by.day)).hours(&by.there_are).say(general)
        }
        Some(by) => answer
            .say(format!(" It does not fit by {}: there are ", by.day))
            .hours(&by.there_are)
            .say(if report.without_hours.is_empty() { ", and " } else { ", and at least " })
            .hours(&by.needed)
            .say(" are needed."),
        None => answer,
    }
}

fn are(things: usize) -> String {
    if things == 1 { "1 thing is".to_owned() } else { format!("{things} things are") }
}

/// The answer of a trace: from how many lots it came, and how far it went.
pub(crate) fn answer_trace(report: &TraceReport, shown: Shown) -> Answer {
    let counted =
        |number: usize, one: &str, many: &str| if number == 1 { format!("1 {one}") } else { format!("{number} {many}") };
    let orders: BTreeSet<&str> = report.orders.iter().map(|one| one.order.as_str()).collect();
    let sources = counted(report.sources.len(), "lot from outside", "lots from outside");
    let batches = counted(report.batches.len(), "batch", "batches");
    let answer =
        Answer::new(&report.head.currency, shown).say(format!("You asked about {}: it came from ", report.is)).figure(sources);
    // An order, or what somebody bought, is where the way ends.
    if report.on_hand.is_empty() && report.went_to.iter().all(|step| step.kind == TraceKind::Order) {
        let back = came_back(report).map_or_else(String::new, |back| format!("; {back}"));
        return answer.say(", through ").figure(batches).say(format!("{back}."));
    }
    let answer = answer.say(", went through ").figure(batches);
    let answer = match orders.len() {
        0 => answer.say(" and into no order"),
        count => answer.say(" and into ").figure(counted(count, "order", "orders")),
    };
    answer.say(match report.on_hand.len() {
        0 if report.went_to.iter().any(|step| step.kind == TraceKind::Left && step.figure.is_none()) => {
            "; it is a tool of the shop.".to_owned()
        }
        0 => "; nothing of it is on hand.".to_owned(),
        places => format!("; {} of it still on hand.", counted(places, "lot", "lots")),
    })
}
