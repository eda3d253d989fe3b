//! What a form's file must hold, so that no amount can be lost on the way to its net profit.
//!
//! Every feed is on one line or in one `[[asked]]`; no line adds itself; what is fed reaches the net profit exactly once, with its own
//! sign; and the goods reach the line of the cost of goods, which holds nothing else. A schedule for self-employment has each of its lines once.

use crate::year::Feed;
use crate::year::forms::form::{Form, Line, Takes};
use crate::year::self_employment::SCHEDULE_LINES;

/// Checks a form that was read.
///
/// # Errors
/// A sentence that says what is wrong with the file.
pub(crate) fn check_form(form: &Form) -> Result<(), String> {
    check_lines(form)?;
    check_asked(form)?;
    for feed in Feed::ALL {
        let on_lines = form.lines.iter().filter(|line| line.feeds.contains(&feed)).count();
        match (on_lines, form.asked.iter().filter(|asked| asked.feeds.contains(&feed)).count()) {
            (1, 0) | (0, 1) => {}
            (0, 0) => return Err(format!("no line and no `[[asked]]` has `{}` in its `feeds`", feed.name())),
            (_, 0) => return Err(format!("two lines have `{}` in their `feeds`", feed.name())),
            (0, _) => return Err(format!("two `[[asked]]` have `{}` in their `feeds`", feed.name())),
            _ => return Err(format!("both a line and an `[[asked]]` have `{}` in their `feeds`", feed.name())),
        }
    }
    check_home(form)?;
    check_goods(form)?;
    check_schedule(form)?;
    check_net_profit(form)
}

fn check_lines(form: &Form) -> Result<(), String> {
    for (at, line) in form.lines.iter().enumerate() {
        if form.lines.iter().take(at).any(|other| other.name == line.name) {
            return Err(format!("two lines have the name `{}`", line.name));
        }
        if !line.adds.is_empty() && (!line.feeds.is_empty() || !line.takes.is_empty()) {
            return Err(format!("line {} both adds lines and is fed", line.number));
        }
        // A line that adds may name only lines that do not, in turn, add it.
        if adds(form, at, at) {
            return Err(format!("line {} adds itself", line.number));
        }
    }
    Ok(())
}

fn check_asked(form: &Form) -> Result<(), String> {
    for (at, asked) in form.asked.iter().enumerate() {
        if form.asked.iter().take(at).any(|other| other.name == asked.name) {
            return Err(format!("two `[[asked]]` have the name `{}`", asked.name));
        }
        if asked.name.contains('/') {
            return Err(format!("the `[[asked]]` `{}` has a `/` in its name, as the program's own questions have", asked.name));
        }
        if asked.feeds.is_empty() && !asked.always {
            return Err(format!(
                "the `[[asked]]` `{}` has neither `feeds` nor `always = true`: it would never be asked",
                asked.name
            ));
        }
    }
    Ok(())
}

fn check_home(form: &Form) -> Result<(), String> {
    let Some(home) = form.line_of(Feed::HomeWorkshop) else { return Ok(()) };
    let Some(limit) = form.home_limit else {
        return Err("a line has `home-workshop` in its `feeds`, and no `home_limit` says which line limits it".to_owned());
    };
    if home == limit || adds(form, limit, home) {
        return Err("the line that limits the home workshop adds it".to_owned());
    }
    Ok(())
}

/// The goods are all on lines, and reach the line of their cost with their signs; or they are all asked.
fn check_goods(form: &Form) -> Result<(), String> {
    let on_lines = Feed::ALL.into_iter().filter(|feed| feed.is_of_goods() && form.line_of(*feed).is_some()).count();
    let all = Feed::ALL.into_iter().filter(|feed| feed.is_of_goods()).count();
    let Some(cost) = form.cost_of_goods else {
        let fault = "the stock and what came in stand on lines, and no `cost_of_goods` says which line holds their cost";
        return if on_lines == 0 { Ok(()) } else { Err(fault.to_owned()) };
    };
    if on_lines < all {
        return Err("of the stock and what came in, some is on lines and some is asked: it has to be all of one".to_owned());
    }
    let reached = reached_from(form, cost);
    for (line, times) in form.lines.iter().zip(&reached) {
        let of_another = !line.takes.is_empty() || line.feeds.iter().any(|feed| !feed.is_of_goods());
        if *times != 0 && of_another {
            return Err(format!("line {} is no part of the cost of goods, and the line of that cost adds it", line.number));
        }
        for feed in line.feeds.iter().filter(|feed| feed.is_of_goods()) {
            // What adds to the cost lowers the profit.
            if *times != -feed.sign_in_profit() {
                return Err(format!("`{}` does not reach the line of the cost of goods once, with its own sign", feed.name()));
            }
        }
    }
    Ok(())
}

/// A schedule without one of its lines would drop an amount, and one of a name that nothing figures would stay empty.
fn check_schedule(form: &Form) -> Result<(), String> {
    let known = |name: &str| SCHEDULE_LINES.contains(&name);
    if let Some(line) = form.schedule.iter().find(|line| !known(&line.name)) {
        return Err(format!(
            "no `[[schedule_line]]` has the name `{}`: the names are `{}`",
            line.name,
            SCHEDULE_LINES.join("`, `")
        ));
    }
    if form.schedule.is_empty() {
        return Ok(());
    }
    let times = |name: &str| form.schedule.iter().filter(|line| line.name == name).count();
    let missing: Vec<_> = SCHEDULE_LINES.into_iter().filter(|name| times(name) == 0).map(|name| format!("`{name}`")).collect();
    if !missing.is_empty() {
        return Err(format!("each name of a `[[schedule_line]]` is needed once, and these are missing: {}", missing.join(", ")));
    }
    match SCHEDULE_LINES.into_iter().find(|name| times(name) > 1) {
        Some(name) => Err(format!("two `[[schedule_line]]` have the name `{name}`")),
        None => Ok(()),
    }
}

/// What is fed reaches the net profit once: income adds to it, expenses lower it.
fn check_net_profit(form: &Form) -> Result<(), String> {
    let reached = reached_from(form, form.net_profit);
    for (line, times) in form.lines.iter().zip(&reached) {
        for (what, sign) in signs_on(line) {
            if *times != sign {
                let how = if sign > 0 { "add it" } else { "take it off" };
                return Err(format!("line {} has {what}, and the net profit does not {how} once", line.number));
            }
        }
    }
    Ok(())
}

/// What is on a line, with the sign that it has in the net profit.
fn signs_on(line: &Line) -> impl Iterator<Item = (String, i64)> {
    let feeds = line.feeds.iter().map(|feed| (format!("`{}`", feed.name()), feed.sign_in_profit()));
    let takes = line.takes.iter().map(|takes| match takes {
        Takes::Income => ("incomes of the book".to_owned(), 1),
        Takes::Expense | Takes::House => ("expenses of the book".to_owned(), -1),
    });
    feeds.chain(takes)
}

/// How often each line is in the line `from`, with its sign. No line adds itself.
pub(crate) fn reached_from(form: &Form, from: usize) -> Vec<i64> {
    let added = |at: usize| form.lines.get(at).map_or(&[][..], |line| line.adds.as_slice());
    // In how many lines that are reached each stands, so that a line is passed on only once all of it is known.
    let mut waits = vec![0usize; form.lines.len()];
    let (mut seen, mut next) = (vec![false; form.lines.len()], vec![from]);
    while let Some(at) = next.pop() {
        for (_, part) in added(at) {
            if let (Some(waits), Some(seen)) = (waits.get_mut(*part), seen.get_mut(*part)) {
                *waits += 1;
                if !*seen {
                    *seen = true;
                    next.push(*part);
                }
            }
        }
    }
    let mut times = vec![0i64; form.lines.len()];
    if let Some(own) = times.get_mut(from) {
        *own = 1;
    }
    let mut ready = vec![from];
    while let Some(at) = ready.pop() {
        let own = times.get(at).copied().unwrap_or_default();
        for (plus, part) in added(at) {
            if let (Some(times), Some(waits)) = (times.get_mut(*part), waits.get_mut(*part)) {
                *times = times.saturating_add(if *plus { own } else { own.saturating_neg() });
                *waits -= 1;
                if *waits == 0 {
                    ready.push(*part);
                }
            }
        }
    }
    times
}

/// Whether the line `from` adds `wanted`, at any depth.
fn adds(form: &Form, from: usize, wanted: usize) -> bool {
    let mut seen = vec![false; form.lines.len()];
    let mut next = vec![from];
    while let Some(at) = next.pop() {
        for (_, added) in form.lines.get(at).map_or(&[][..], |line| &line.adds) {
            if *added == wanted {
                return true;
            }
            if seen.get(*added) == Some(&false) {
                seen[*added] = true;
                next.push(*added);
            }
        }
    }
    false
}

#[cfg(test)]
mod tests {
    use crate::year::forms::form::parse_form;

    const SHEET: &str = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/report-templates/forms/uk-sa103f/2026.toml"));

    /// What is wrong with the sheet after a change.
    fn fault(from: &str, to: &str) -> String {
        assert!(SHEET.contains(from), "{from}");
        parse_form(&SHEET.replacen(from, to, 1)).expect_err("it does not hold")
    }

    #[test]
    fn a_schedule_has_each_of_its_lines_once_and_no_other() {
        const WITH_SCHEDULE: &str =
            include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/report-templates/forms/us-schedule-c/2026.toml"));
        let fault = |from: &str, to: &str| {
            assert!(WITH_SCHEDULE.contains(from), "{from}");
            parse_form(&WITH_SCHEDULE.replacen(from, to, 1)).expect_err("it does not hold")
        };
        let unknown = fault("name = \"medicare\"", "name = \"medicarre\"");
        assert!(
            unknown.starts_with("no `[[schedule_line]]` has the name `medicarre`: the names are `farm-profit`, "),
            "{unknown}"
        );
        let twice = fault("name = \"medicare\"", "name = \"tax\"");
        assert_eq!(twice, "each name of a `[[schedule_line]]` is needed once, and these are missing: `medicare`");
        let line = "[[schedule_line]]\nline = \"13\"\nname = \"half-deductible\"\n";
        assert_eq!(
            fault(line, &format!("{}label = \"Tax\"\nsource = \"se-rest\"\n\n{line}", line.replace("half-deductible", "tax"))),
            "two `[[schedule_line]]` have the name `tax`"
        );
    }

    #[test]
    fn a_feed_is_on_one_line_or_in_one_question() {
        let both = fault("feeds = [\"postage\"]", "feeds = [\"postage\", \"miles\"]");
        assert_eq!(both, "both a line and an `[[asked]]` have `miles` in their `feeds`");
        let twice = fault("feeds = [\"gifts\"]", "feeds = [\"gifts\", \"miles\"]");
        assert_eq!(twice, "two `[[asked]]` have `miles` in their `feeds`");
        let nowhere = fault("feeds = [\"gifts\"]", "always = true");
        assert_eq!(nowhere, "no line and no `[[asked]]` has `gifts` in its `feeds`");
    }

    #[test]
    fn a_question_has_a_name_of_its_own_and_a_reason_to_be_asked() {
        let slash = fault("name = \"use-of-home\"", "name = \"home/use\"");
        assert_eq!(slash, "the `[[asked]]` `home/use` has a `/` in its name, as the program's own questions have");
        let never = fault("name = \"basis\"\nalways = true", "name = \"basis\"");
        assert_eq!(never, "the `[[asked]]` `basis` has neither `feeds` nor `always = true`: it would never be asked");
        let same = fault("name = \"basis\"", "name = \"tax-year\"");
        assert_eq!(same, "two `[[asked]]` have the name `tax-year`");
    }

    #[test]
    fn what_is_fed_reaches_the_net_profit_once_with_its_sign() {
        let lost = fault("\"+wages\", ", "");
        assert_eq!(lost, "line 19 has `contractors`, and the net profit does not take it off once");
        let twice = fault("\"+wages\", ", "\"+wages\", \"+wages\", ");
        assert_eq!(twice, lost);
        let turned = fault("\"-refunds\"", "\"+refunds\"");
        assert_eq!(turned, "line w2 has `refunds`, and the net profit does not take it off once");
        let income = fault("[\"+turnover-net\", \"+other-income\", ", "[\"+turnover-net\", ");
        assert_eq!(income, "line 16 has `till-over`, and the net profit does not add it once");
    }

    #[test]
    fn the_goods_reach_the_line_of_their_cost_alone() {
        let turned = fault("\"-stock-at-end\"", "\"+stock-at-end\"");
        assert_eq!(turned, "`stock-at-end` does not reach the line of the cost of goods once, with its own sign");
        let more = fault("cost_of_goods = \"cost-of-goods-used\"", "cost_of_goods = \"cost-of-goods\"");
        assert_eq!(more, "line w10 is no part of the cost of goods, and the line of that cost adds it");
        let none = fault("cost_of_goods = \"cost-of-goods-used\"\n", "");
        assert_eq!(none, "the stock and what came in stand on lines, and no `cost_of_goods` says which line holds their cost");
        let some =
            SHEET.replacen("feeds = [\"labor\"]\n", "", 1).replacen("feeds = [\"gifts\"]", "feeds = [\"gifts\", \"labor\"]", 1);
        let some = parse_form(&some).expect_err("some of the goods are asked");
        assert_eq!(some, "of the stock and what came in, some is on lines and some is asked: it has to be all of one");
    }

    #[test]
    fn a_workshop_on_a_line_has_a_line_that_limits_it() {
        let sheet = SHEET.replacen("feeds = [\"home-workshop\"]", "always = true", 1).replacen(
            "feeds = [\"postage\"]",
            "feeds = [\"postage\", \"home-workshop\"]",
            1,
        );
        let told = parse_form(&sheet).expect_err("no limit");
        assert_eq!(told, "a line has `home-workshop` in its `feeds`, and no `home_limit` says which line limits it");
    }
}
