//! Which days are fairs, worked by hand.
//!
//! A top cost 2.00 and 30 min, and is sold at 10.00. On the channel stand 40.00 and 5 h on 1 May, when nothing was sold; an odd sale of a top on 20 May; 12.00 paid on 10
//! May for tables; a fair on 7 June with 2 tops, 15.00 and 4 h; an odd sale on 20 June.
//!
//! The fair of 7 June: 20.00 − 27.00 − 4.00 = −11.00 over 4 h + 2 · 30 min. That of 1 May: −40.00 over 5 h. Of no fair: two tops, 20.00 − 4.00 = 16.00 and 1 h.
//! The channel: 40.00 − 67.00 − 8.00 = −35.00 over 11 h.

use chrono::NaiveDate;
use kerfbook::names::ThingId;
use kerfbook::reports::{PaysReport, Period, PriceIndex, Wanted, report_pays, report_price_by};

use crate::compiled::{Compiled, compile_texts};

const BOOK: &str = "\
shop \"Wren & Gable Woodshop\"
    currency USD
    owner time 20.00 per h
place bench \"Bench\"
    home
step selling \"At the booth\"
product top \"Top\"
    price 10.00
channel fair \"Fair\"
expense booth-fee \"Booth and stall fees\"
opened 2026-01-01
    20 top for 40.00, 10h
";

const NOTHING_SOLD: &str = "\
worked 2026-05-01
    5h selling on fair
paid 2026-05-01 to the-hall
    40.00 for booth-fee on fair
";

const SOLD: &str = "\
paid 2026-05-10 to the-hall
    12.00 for booth-fee on fair
sold 2026-05-20 via fair
    1 top
sold 2026-06-07 via fair
    2 top
worked 2026-06-07
    4h selling on fair
paid 2026-06-07 to the-hall
    15.00 for booth-fee on fair
sold 2026-06-20 via fair
    1 top
";

fn compiled(text: &str) -> Compiled {
    let compiled = compile_texts(&[("book.kerf", text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    compiled
}

fn pays(text: &str) -> PaysReport {
    let of = compiled(text);
    report_pays(&of.book, &of.log, &of.costed, Period::default(), &|_| None, &[]).expect("small figures")
}

/// Title, pieces, own expenses, paid margin and minutes of each row of the fairs.
fn block(report: &PaysReport) -> Vec<[String; 5]> {
    let fairs = report.fairs.iter().map(|one| (&one.title, &one.units, &one.sums));
    let rest = report.rest.iter().filter(|one| one.by == "fair").map(|one| (&one.title, &one.units, &one.sums));
    let row = |(title, units, sums): (&String, &String, &kerfbook::reports::PaysSums)| {
        let (expenses, margin) = (sums.direct_expenses.clone(), sums.paid_margin.clone());
        [title.clone(), units.clone(), expenses, margin, sums.own_minutes.clone().unwrap_or_default()]
    };
    fairs.chain(rest).map(row).collect()
}

#[test]
fn an_odd_sale_on_a_channel_with_fairs_is_none_and_takes_no_cost_of_the_next() {
    let report = pays(&format!("{BOOK}{SOLD}"));
    assert_eq!(
        block(&report),
        [["Fair, 2026-06-07", "2", "27.00", "-11.00", "300"], ["Fair, of no fair", "2", "0.00", "16.00", "60"]]
    );
    assert!(report.notes.iter().all(|note| !note.contains("nothing was sold on")), "{:#?}", report.notes);
}

#[test]
fn a_sale_of_the_day_after_is_of_the_fair_on_whose_first_day_alone_hours_were_worked() {
    // A third top: 30.00 - 27.00 - 6.00 = -3.00 over 4 h + 3 * 30 min.
    let report = pays(&format!("{BOOK}{SOLD}sold 2026-06-08 via fair\n    1 top\n"));
    assert_eq!(
        block(&report),
        [["Fair, 2026-06-08", "3", "27.00", "-3.00", "330"], ["Fair, of no fair", "2", "0.00", "16.00", "60"]]
    );
}

#[test]
fn sale_and_hours_of_one_fair_may_stand_on_days_that_follow_each_other() {
    // As on one day: 20.00 - 27.00 - 4.00 = -11.00 over 4 h + 2 * 30 min.
    let later = SOLD.replace("sold 2026-06-07", "sold 2026-06-08");
    let fair = |day: &str| [format!("Fair, {day}").as_str(), "2", "27.00", "-11.00", "300"].map(str::to_owned);
    let rest = ["Fair, of no fair", "2", "0.00", "16.00", "60"].map(str::to_owned);
    let report = pays(&format!("{BOOK}{later}"));
    assert_eq!(block(&report), [fair("2026-06-08"), rest.clone()]);
    assert!(report.notes.iter().all(|note| !note.contains("nothing was sold on")), "{:#?}", report.notes);
    let earlier = SOLD.replace("sold 2026-06-07", "sold 2026-06-06");
    assert_eq!(block(&pays(&format!("{BOOK}{earlier}"))), [fair("2026-06-07"), rest.clone()]);
    // With miles of the day between them, the sale may be two days after.
    let after = SOLD.replace("sold 2026-06-07", "sold 2026-06-09");
    let drove = "drove 2026-06-08 10 mi on fair\n";
    assert_eq!(block(&pays(&format!("{BOOK}{after}{drove}"))), [fair("2026-06-09"), rest]);
    // A day on which nothing was done parts them, and sales alone are no fair.
    assert!(pays(&format!("{BOOK}{after}")).fairs.is_empty());
    let odd = SOLD.replace(
        "sold 2026-06-20 via fair\n    1 top",
        "sold 2026-06-20 via fair\n    1 top\nsold 2026-06-21 via fair\n    1 top",
    );
    assert_eq!(pays(&format!("{BOOK}{odd}")).fairs.len(), 1);
}

#[test]
fn a_fair_at_which_nothing_was_sold_is_told_and_its_costs_are_of_no_other() {
    let whole = [
        ["Fair, 2026-05-01", "0", "40.00", "-40.00", "300"],
        ["Fair, 2026-06-07", "2", "27.00", "-11.00", "300"],
        ["Fair, of no fair", "2", "0.00", "16.00", "60"],
    ];
    let report = pays(&format!("{BOOK}{NOTHING_SOLD}{SOLD}"));
    assert_eq!(block(&report), whole);
    let all = report.fairs_total.as_ref().expect("there are fairs");
    assert_eq!(
        (all.sums.direct_expenses.as_str(), all.sums.paid_margin.as_str(), all.sums.own_minutes.as_deref()),
        ("67.00", "-35.00", Some("660"))
    );
    let note = "nothing was sold on `fair` on 2026-05-01, where hours were worked on it and money was spent or miles driven: that counts as a fair of its own; an expense for a later fair says `meant for`";
    assert!(report.notes.iter().any(|one| one == note), "{:#?}", report.notes);
    // Written as what came back it is found without being guessed.
    let report = pays(&format!("{BOOK}{NOTHING_SOLD}sold 2026-05-01 via fair\n    3 top, 3 back\n{SOLD}"));
    assert_eq!(block(&report), whole);
    assert!(report.notes.iter().all(|note| !note.contains("nothing was sold on")), "{:#?}", report.notes);
}

#[test]
fn what_is_done_ahead_is_of_the_next_fair() {
    // The fee says its day, so that hours alone are left on 1 May: 20.00 - 67.00 - 4.00 = -51.00 over 5 + 4 + 1 h.
    let meant = NOTHING_SOLD
        .replace("on fair\n", "on fair, meant for 2026-06-07\n")
        .replace("selling on fair, meant for 2026-06-07", "selling on fair");
    let ahead = [["Fair, 2026-06-07", "2", "67.00", "-51.00", "600"], ["Fair, of no fair", "2", "0.00", "16.00", "60"]];
    assert_eq!(block(&pays(&format!("{BOOK}{meant}{SOLD}"))), ahead);
    // Three days before is setting up, a day earlier is not.
    let on = |day: &str| NOTHING_SOLD.replace("2026-05-01", day);
    assert_eq!(block(&pays(&format!("{BOOK}{}{SOLD}", on("2026-06-04")))), ahead);
    assert_eq!(block(&pays(&format!("{BOOK}{}{SOLD}", on("2026-06-10")))), ahead);
    let own = block(&pays(&format!("{BOOK}{}{SOLD}", on("2026-06-11"))));
    assert_eq!(own[1], ["Fair, 2026-06-11", "0", "40.00", "-40.00", "300"]);
}

#[test]
fn a_channel_that_never_had_a_fair_has_none_for_its_hours_and_expenses() {
    let report = pays(&format!("{BOOK}{NOTHING_SOLD}sold 2026-05-20 via fair\n    1 top\n"));
    assert!(report.fairs.is_empty(), "{:#?}", report.fairs);
}

#[test]
fn what_a_price_has_to_meet_is_of_the_last_fair_alone() {
    // 27.00 of tables and booth over 8.00 a top: 3.4. With hours a top leaves 10.00 - 2.00 - 10.00 of its own half hour, below nothing: never.
    let of = compiled(&format!("{BOOK}{NOTHING_SOLD}{SOLD}"));
    let top = of.book.things.iter().position(|thing| thing.named.name == "top").expect("defined");
    let rate = |_: NaiveDate| None;
    let index =
        PriceIndex::of(of.books(), Period::default(), &rate).and_then(|index| index.with_fairs(&rate)).expect("small figures");
    let report = report_price_by(&index, ThingId(u32::try_from(top).expect("few")), Wanted::default()).expect("a report");
    let met = report.channels[0].break_even.as_ref().expect("it is learnt");
    assert_eq!((met.money.as_str(), met.minutes.as_str()), ("27.00", "240"));
    assert_eq!((met.learnt_from.as_deref(), met.pieces.as_deref()), (Some("the fair of 2026-06-07"), Some("4")));
    assert_eq!(met.pieces_with_hours, None);
}

#[test]
fn work_for_a_customer_alone_makes_no_fair_of_a_day() {
    // A repair of 75.00 on the channel's own hours: no goods were sold, so the day is none, and of 2 h on the channel nothing is a fair's.
    let repair = "income repairs \"Repairs\"\n    form line other\nsold 2026-04-25 via fair\n    75.00 for repairs\n\
                  worked 2026-04-25\n    2h selling on fair\n";
    let report = pays(&format!("{BOOK}{repair}"));
    assert!(report.fairs.is_empty() && report.rest.iter().all(|row| row.by != "fair"), "{:#?}", report.fairs);
    // Beside a top sold on that day it is one: 10.00 - 2.00 = 8.00 over 2 h + 30 min.
    let sold = format!("{BOOK}{repair}sold 2026-04-25 via fair\n    1 top\n");
    assert_eq!(block(&pays(&sold)), [["Fair, 2026-04-25", "1", "0.00", "8.00", "150"]]);
    // What came back from a fair is no work.
    let back = format!("{BOOK}sold 2026-04-25 via fair\n    5 top, 5 back\nworked 2026-04-25\n    2h selling on fair\n");
    assert_eq!(block(&pays(&back)), [["Fair, 2026-04-25", "0", "0.00", "0.00", "120"]]);
}
