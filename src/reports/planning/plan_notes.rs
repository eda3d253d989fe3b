//! What a reader must know of a plan: what it takes and what it leaves, what it learnt from, and what it can't say.

use std::collections::BTreeMap;

use chrono::Months;
use rust_decimal::{Decimal, RoundingStrategy};

use super::expected::plus;
use super::helper_pay::paid_otherwise;
use super::learnt::LAST;
use super::other_times::of_other_times;
use super::planned::Planned;
use crate::names::{OverheadRule, ThingId};
use crate::reports::owner_rate::rate_of_plan;
use crate::reports::period::{money_text, quantity_text};
use crate::units::Fixed6;

/// Its notes. `None` where a figure is too large to be carried.
pub(super) fn notes(planned: &Planned<'_>) -> Option<Vec<String>> {
    let book = planned.books.book;
    let builds = &planned.builds;
    let mut notes = not_taken(planned);
    notes.extend(of_surplus(planned));
    notes.extend(of_licences(planned));
    notes.extend(of_open_batches(planned)?);
    notes.extend(of_makes(planned));
    notes.extend(of_parts(planned));
    notes.extend(beyond_recipes(planned));
    notes.extend(of_other_times(planned));
    let untried = builds.iter().filter(|build| build.learnt.batches == 0).count();
    if untried > 0 {
        notes.push(format!(
            "{untried} of {} builds {} no batch to learn from: for them the recipe stands as it is",
            builds.len(),
            if untried == 1 { "has" } else { "have" }
        ));
    }
    if let Some(build) = builds.iter().find(|build| build.learnt.batches > 0) {
        notes.push(format!(
            "of each product the last {LAST} batches at the most are learnt from, whenever they were, and things cost what they cost last; `kerfbook price {}` \
             tells what one cost in the batches of the last twelve months",
            book.thing(build.thing).named.name
        ));
    }
    if builds.iter().any(|build| build.learnt.joint > 0) {
        notes.push(
            "of batches that made several products each is taken to have had its share of the hours, as its cost had".to_owned(),
        );
    }
    if planned.helper_minutes.is_positive() {
        notes.push(format!(
            "{} min are counted as helpers', who had this part of the work in the last batches: they cost what they did then{}, as bought-in time, \
             and don't count among your hours",
            planned.helper_minutes.to_decimal().map_or_else(String::new, one_digit),
            rates_since(planned)
        ));
    }
    let without_hours: Vec<&str> = planned.without_hours().map(|build| book.thing(build.thing).named.title.as_str()).collect();
    if !without_hours.is_empty() {
        notes.push(format!(
            "nothing says how long it takes to make {}, neither `takes` in the recipe nor a batch, so the hours are not known: say it by `takes`",
            without_hours.join(", ")
        ));
    }
    if !planned.due_later.is_zero() {
        notes.push(format!(
            "{} more is due later, to helpers and for royalties that are `paid later`",
            money_text(book, planned.due_later)
        ));
    }
    notes.extend(rate_of_plan(book, planned.ground.day));
    notes.extend(of_overhead(planned));
    if planned.asked.by.is_some() {
        match planned.by.is_some() {
            true if planned.hours.indirect.is_zero() => {}
            true => notes.push(format!(
                "general work is counted in: {} % on top of all other hours, as in the last twelve months",
                planned.hours.indirect_percent()?
            )),
            false => notes.push("the shop does not say how many hours it has: `hours 12 per week` in `shop`".to_owned()),
        }
    }
    let unpriced = planned.buys.iter().filter(|buy| buy.cost.is_none());
    let mut unpriced: Vec<String> = unpriced.map(|buy| book.thing(buy.thing).named.title.clone()).collect();
    let licences = planned.licences_to_buy().filter(|need| need.cost.is_none());
    unpriced.extend(licences.map(|need| format!("a licence of {}", book.pattern(need.pattern).named.title)));
    if !unpriced.is_empty() {
        notes.push(format!("never bought, so without a price: {}", unpriced.join(", ")));
    }
    let swapped = planned.buys.iter().filter(|buy| buy.last.is_some_and(|last| last.swapped));
    let swapped: Vec<&str> = swapped.map(|buy| book.thing(buy.thing).named.title.as_str()).collect();
    if !swapped.is_empty() {
        notes.push(format!("never bought, so at what it was worth in the last swap that brought some: {}", swapped.join(", ")));
    }
    Some(notes)
}

/// Why pieces that are there are not taken: what is asked for is built beside them, and what lies elsewhere is not at hand.
fn not_taken(planned: &Planned<'_>) -> Vec<String> {
    let book = planned.books.book;
    let there = &planned.there;
    let title = |thing: ThingId| book.thing(thing).named.title.as_str();
    let mut notes = Vec::new();
    let mut spare = Vec::new();
    for build in planned.builds.iter().filter(|build| !build.asked.is_zero()) {
        let thing = build.thing;
        let places = [
            (there.at_home(thing), "on hand"),
            (there.on_the_bench(thing), "on the bench"),
            (there.elsewhere(thing), "elsewhere"),
        ];
        let is_there: Vec<String> = places
            .iter()
            .filter(|(pieces, _)| *pieces > Decimal::ZERO)
            .map(|(pieces, place)| format!("{} {place}", quantity_text(*pieces)))
            .collect();
        if !is_there.is_empty() {
            spare.push(format!("{} ({})", title(thing), is_there.join(", ")));
        }
    }
    if !spare.is_empty() {
        notes.push(format!(
            "what you ask for is built beside what there is of it: {}; ask for as many fewer where these are meant for it",
            spare.join("; ")
        ));
    }
    let parts = planned.builds.iter().filter(|build| build.good > build.asked).map(|build| build.thing);
    let short = planned.buys.iter().map(|buy| buy.thing);
    let away: Vec<String> = parts
        .chain(short)
        .map(|thing| (thing, there.elsewhere(thing)))
        .filter(|(_, away)| *away > Decimal::ZERO)
        .map(|(thing, away)| format!("{} {} {}", three(away), book.thing(thing).unit.as_str(), title(thing)))
        .collect();
    if !away.is_empty() {
        notes.push(format!("what lies elsewhere is not taken: {}", away.join(", ")));
    }
    notes
}

/// Parts of which the last batches used more or fewer than the recipes say.
fn of_parts(planned: &Planned<'_>) -> Option<String> {
    let book = planned.books.book;
    let parts = planned.builds.iter().flat_map(|part| part.wanted_by.iter().map(move |one| (part.thing, one)));
    let otherwise = parts.filter(|(_, one)| one.learnt && one.finishing.is_none() && one.pieces != one.by_recipe);
    let otherwise: Vec<String> = otherwise
        .map(|(part, one)| {
            let [part, build] = [part, one.build].map(|thing| book.thing(thing).named.title.as_str());
            format!("{} {part} for {build}, where the recipe says {}", three(one.pieces), three(one.by_recipe))
        })
        .collect();
    (!otherwise.is_empty()).then(|| format!("parts are counted as the last batches used them: {}", otherwise.join("; ")))
}

/// What the last batches used and no recipe of theirs has.
fn beyond_recipes(planned: &Planned<'_>) -> Vec<String> {
    let book = planned.books.book;
    let title = |thing: ThingId| book.thing(thing).named.title.as_str();
    let (mut counted, mut left_out) = (Vec::new(), Vec::new());
    for (thing, needed) in &planned.needs {
        for one in needed.wanted_by.iter().filter(|one| one.beyond && one.finishing.is_none()) {
            let unit = book.thing(*thing).unit.as_str();
            counted.push(format!("{} {unit} {} for {}", three(one.needed), title(*thing), title(one.build)));
        }
    }
    for build in &planned.builds {
        for thing in build.learnt.beyond.keys().filter(|thing| planned.ground.is_built(**thing)) {
            left_out.push(format!("{} for {}", title(*thing), title(build.thing)));
        }
    }
    let notes = [
        (counted, "what the last batches used beyond the recipe is counted as they used it"),
        (left_out, "parts that the last batches used beyond the recipe are not counted, say in `needs` how many go in"),
    ];
    let notes = notes.into_iter().filter(|(things, _)| !things.is_empty());
    notes.map(|(things, says)| format!("{says}: {}", things.join(", "))).collect()
}

/// Builds of which whole pieces to begin make more good ones than are wanted.
fn of_surplus(planned: &Planned<'_>) -> Option<String> {
    let book = planned.books.book;
    let surplus = planned.builds.iter().filter(|build| build.expected_good > build.good).map(|build| {
        let [begun, expected, good] = [build.begun, build.expected_good, build.good].map(three);
        format!(
            "of {begun} {} begun {expected} are expected to come out good, and {good} are wanted",
            book.thing(build.thing).named.title
        )
    });
    let surplus: Vec<String> = surplus.collect();
    (!surplus.is_empty()).then(|| {
        format!(
            "{}: materials, hours and money are for all that is begun, a piece costs its share of that, and what comes out beyond is yours to keep",
            surplus.join("; ")
        )
    })
}

/// Patterns whose licences do not go round.
fn of_licences(planned: &Planned<'_>) -> Vec<String> {
    let book = planned.books.book;
    let short = planned.licences_to_buy().map(|need| {
        let left = if need.left.is_zero() { "no".to_owned() } else { quantity_text(need.left) };
        let needed = quantity_text(need.needed);
        let buy = quantity_text(need.buy);
        let licences = if need.buy == Decimal::ONE { "licence" } else { "licences" };
        let pieces = if need.left == Decimal::ONE { "piece" } else { "pieces" };
        let pattern = &book.pattern(need.pattern).named.title;
        let allows = quantity_text(need.allows);
        let of_bench = match need.on_the_bench.is_zero() {
            true => String::new(),
            false => format!(", open batches that the plan does not take still make {}", quantity_text(need.on_the_bench)),
        };
        format!(
            "the licences of {pattern} permit {left} more {pieces}{of_bench}, and the plan makes {needed}: {buy} {licences} to buy, each permits {allows}"
        )
    });
    short.collect()
}

/// Helpers whose rate is another now than in the last batches, with the rate that counts.
fn rates_since(planned: &Planned<'_>) -> String {
    let Planned { books, ground, builds, .. } = planned;
    let mut rates: BTreeMap<&str, String> = BTreeMap::new();
    for one in builds.iter().flat_map(|build| &build.learnt.from) {
        let time = ground.costed.batches.get(one.batch.index()).map_or(&[][..], |account| &account.time);
        for helper in time.iter().filter_map(|item| paid_otherwise(*ground, item)) {
            let helper = books.book.helper(helper);
            let Some(rate) = helper.costs.on(ground.day).and_then(Fixed6::from_decimal_exact) else { continue };
            rates.insert(&helper.named.title, rate.to_fixed_text(2, 6));
        }
    }
    if rates.is_empty() {
        return String::new();
    }
    let rates: Vec<String> = rates.iter().map(|(helper, rate)| format!("{helper} {rate} an hour")).collect();
    format!(", but by the rate on {} where it has changed since ({})", ground.day, rates.join(", "))
}

/// The rate of overhead, and whence it is.
fn of_overhead(planned: &Planned<'_>) -> Option<String> {
    let Planned { books, ground, hours, .. } = planned;
    let rate = money_text(books.book, hours.overhead_per_hour);
    match books.book.shop.overhead.on(ground.day) {
        OverheadRule::None => None,
        OverheadRule::PerHour(_) => Some(format!("overhead counts at {rate} an hour of work, the rate on {}", ground.day)),
        OverheadRule::FromExpenses if hours.overhead_per_hour.is_zero() => {
            Some("no overhead is counted: none was there in the last twelve months, or no hours to share it over".to_owned())
        }
        OverheadRule::FromExpenses => {
            let from = ground.day.checked_sub_months(Months::new(12)).and_then(|day| day.succ_opt()).unwrap_or(ground.day);
            Some(format!(
                "overhead counts at {rate} an hour of work: what counted as overhead from {from} to {}, over the hours at batches in these days",
                ground.day
            ))
        }
    }
}

/// What finishing open batches still takes, which is counted.
fn of_open_batches(planned: &Planned<'_>) -> Option<Vec<String>> {
    let book = planned.books.book;
    let mut notes = Vec::new();
    for (thing, open) in planned.finishing() {
        let mut minutes = Decimal::ZERO;
        for one in open.minutes.values() {
            minutes = plus(minutes, one.expected.all)?;
        }
        let mut rest = vec![format!("{} min", one_digit(minutes))];
        rest.extend(open.materials.iter().filter(|(_, rest)| !rest.needed.is_zero()).map(|(thing, rest)| {
            let named = book.thing(*thing);
            format!("{} {} {}", three(rest.needed), named.unit.as_str(), named.named.title)
        }));
        let learnt = planned.build(thing).is_some_and(|build| build.learnt.batches > 0);
        let how = if learnt { "as the last batches took" } else { "by the recipe" };
        let to_come = planned.there.by_batch(thing).iter().find(|one| one.batch == open.batch);
        let fewer = to_come.filter(|one| one.good < one.open).map_or_else(String::new, |one| {
            format!(" and of its {} pieces {} are expected to come out good", three(one.open), three(one.good))
        });
        notes.push(format!(
            "{} {} are taken from the bench, where batch {} is open{fewer}; what finishing them still takes {how} is counted: {}",
            three(open.pieces),
            book.thing(thing).named.title,
            book.batch(open.batch).name,
            rest.join(", ")
        ));
    }
    let both = planned.builds.iter().filter(|build| !build.asked.is_zero() && !build.finishing.is_empty());
    for build in both {
        let mut of_bench = Decimal::ZERO;
        for open in &build.finishing {
            of_bench = plus(of_bench, open.pieces)?;
        }
        notes.push(format!(
            "{} is asked for and a part of what else is asked for: one is expected to cost the mean of the {} good ones expected of those begun and the {} from the bench",
            book.thing(build.thing).named.title,
            three(build.expected_good),
            three(of_bench)
        ));
    }
    Some(notes)
}

/// What was made here and has no recipe.
fn of_makes(planned: &Planned<'_>) -> Option<String> {
    let book = planned.books.book;
    let makes = planned.makes.iter().map(|make| {
        let named = book.thing(make.thing);
        let (batch, date) = (&book.batch(make.last.batch).name, make.last.date);
        let short = three(make.short);
        format!("{short} {} {} (last in batch {batch} on {date})", named.unit.as_str(), named.named.title)
    });
    let makes: Vec<String> = makes.collect();
    let says = "made here and without a recipe, so that it costs as it did last, and its materials and hours are not planned";
    Some(format!("{says}: {}", makes.join(", "))).filter(|_| !planned.makes.is_empty())
}

/// Minutes as they are read: at most one digit after the point.
fn one_digit(minutes: Decimal) -> String {
    quantity_text(minutes.round_dp_with_strategy(1, RoundingStrategy::MidpointAwayFromZero))
}

/// A quantity as it is read: at most three digits after the point.
fn three(quantity: Decimal) -> String {
    quantity_text(quantity.round_dp_with_strategy(3, RoundingStrategy::MidpointAwayFromZero))
}
