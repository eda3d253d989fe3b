//! What is said of what pays at its edges: nothing sold, all of it back, losses everywhere, no hours kept, hours without sales. And the block of fairs, which adds up to
//! their channels; worked by hand.

use kerfbook::render::text::{Look, text_pays};
use kerfbook::reports::{PaysReport, Period, Verdict, report_pays};

use crate::compiled::compile_texts;

/// Ten tops and ten pegs are there, at 2.00 and 1.00, and took 3 min each.
const BOOK: &str = "\
shop \"Wren & Gable Woodshop\"
    currency USD
    owner time 20.00 per h
place bench \"Bench\"
    home
step selling \"At the booth\"
product top \"Top\"
product peg \"Peg\"
channel fair \"Fair\"
channel web \"Web page\"
expense booth-fee \"Booth and stall fees\"
opened 2026-01-01
    10 top for 20.00, 30m
    10 peg for 10.00, 30m
";

fn pays(book: &str, period: Period) -> PaysReport {
    let compiled = compile_texts(&[("book.kerf", book)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    report_pays(&compiled.book, &compiled.log, &compiled.costed, period, &|_| None, &[]).expect("small figures")
}

fn all(more: &str) -> PaysReport {
    pays(&format!("{BOOK}{more}"), Period::default())
}

/// What is said of a group, and of dropping it.
fn says<'r>(report: &'r PaysReport, name: &str) -> (Verdict, &'r str, &'r str) {
    let one = report.verdicts.iter().find(|one| one.name == name).unwrap_or_else(|| panic!("no {name}"));
    (one.verdict, one.says.as_str(), one.if_dropped.says.as_str())
}

fn answer(report: &PaysReport) -> String {
    let text = text_pays(report, Look::default());
    text.lines().skip(3).take_while(|line| !line.is_empty()).collect::<Vec<_>>().join(" ")
}

#[test]
fn of_what_nothing_was_sold_is_said_that_and_what_it_took() {
    let report =
        all("paid 2026-02-01 to the-hall\n    25.00 for booth-fee on fair\nworked 2026-02-07\n    1h 20m selling on fair\n");
    assert_eq!(
        says(&report, "fair"),
        (
            Verdict::Loses,
            "it does not pay: nothing of it was sold, $25.00 were spent on it and 1h 20m of your time went into it",
            "without it $25.00 of its own costs would not arise, so you would be $25.00 better off; its hours would be yours for something else"
        )
    );
    assert_eq!(
        answer(&report),
        "Nothing was sold in this time that did not come back. All sales together brought $25.00 less than was paid for them."
    );
    // Hours alone.
    let report = all("worked 2026-02-07\n    3h selling on fair\n");
    let (verdict, said, dropped) = says(&report, "fair");
    assert_eq!((verdict, said), (Verdict::NothingLeft, "nothing of it was sold and 3h of your time went into it"));
    assert!(
        dropped.starts_with("without it no money would move otherwise, so you would be neither better nor worse off"),
        "{dropped}"
    );
}

#[test]
fn of_what_all_came_back_no_sale_is_judged() {
    let sold = "sold 2026-02-02 via web order \"W-1\"\n    2 top at 5.00\n";
    let back = "returned 2026-02-09 order \"W-1\"\n    2 top, refunded 10.00, back to stock\n";
    let report = all(&format!("{sold}{back}"));
    assert_eq!(
        says(&report, "top"),
        (
            Verdict::NothingLeft,
            "all that was sold of it came back, and nothing was left or lost",
            "without it no money would move otherwise, so you would be neither better nor worse off"
        )
    );
    // The postage of 4.00 stays.
    let report = all(&format!("{sold}    postage 4.00\n{back}"));
    assert_eq!(says(&report, "top").1, "it does not pay: all that was sold of it came back, $4.00 were spent on it");
    // 3.00 were kept of the 10.00.
    let report = all(&format!("{sold}{}", back.replace("refunded 10.00", "refunded 7.00")));
    assert_eq!(says(&report, "top").1, "all that was sold of it came back, which left $3.00");
    // In the days of the return alone more came back than was sold: 10.00 given back, 4.00 of cost is on the shelf again.
    let text = format!("{BOOK}{sold}{back}");
    let day = |text: &str| Some(text.parse().expect("a day"));
    let report = pays(&text, Period { from: day("2026-02-05"), to: day("2026-02-28") });
    assert_eq!(
        says(&report, "top"),
        (
            Verdict::Loses,
            "it does not pay: more of it came back than was sold, which with its costs came to $6.00 less than nothing",
            "without it $10.00 of refunds would not arise and $4.00 of cost would not come back with goods, so you would be $6.00 better off"
        )
    );
}

#[test]
fn where_everything_loses_the_answer_names_no_best() {
    // Tops at 1.00 cost 2.00: 2 tops lose 2.00 over 6 min, 20.00 an hour. Pegs at 0.50 lose 0.50 each over 3 min, 10.00 an hour. Both by the web page:
    // 3.00 over 12 min, 15.00 an hour.
    let report = all("sold 2026-02-02 via web\n    2 top at 1.00\n    2 peg at 0.50\n");
    assert_eq!(says(&report, "top").0, Verdict::Loses);
    assert_eq!(
        says(&report, "top").1,
        "it does not pay: it brought $2.00 less than was paid for it, and an hour in it lost $20.00 on 2 pieces; no other product earned anything for your hours either: Peg, which lost least of them, lost $10.00 on 2 pieces"
    );
    assert_eq!(
        says(&report, "peg").1,
        "it does not pay: it brought $1.00 less than was paid for it, and an hour in it lost $10.00 on 2 pieces; no other product earned your hour more: the next, Top, lost $20.00 on 2 pieces"
    );
    assert_eq!(
        answer(&report),
        "None of the products earned anything for your hours; Peg lost least, $10.00 an hour, on 2 pieces. All sales together brought $3.00 less than was paid for them."
    );
}

#[test]
fn what_leaves_nothing_and_what_earns_the_rate_itself_are_said_to() {
    // Two tops at their cost of 2.00 leave nothing for 6 min; four pegs at 2.00 leave 4.00 for 12 min: 20.00 an hour.
    let report = all("sold 2026-02-02 via web\n    2 top at 2.00\n    4 peg at 2.00\n");
    let (verdict, said, _) = says(&report, "top");
    assert_eq!(verdict, Verdict::BelowRate);
    assert!(said.starts_with("it does not pay your hour: it left nothing, and after the overhead in its goods an hour in it earned nothing on 2 pieces, where your rate is $20.00"), "{said}");
    let (verdict, said, _) = says(&report, "peg");
    assert_eq!(verdict, Verdict::Pays);
    assert!(
        said.starts_with(
            "it pays: an hour in it earned $20.00 on 4 pieces, which is your rate; no other product earned your hour more: the next, Top, earned nothing on 2 pieces"
        ),
        "{said}"
    );
}

#[test]
fn a_book_without_hours_says_so_and_one_product_is_held_against_no_other() {
    let book = "shop \"Wren & Gable Woodshop\"\n    currency USD\nplace bench \"Bench\"\n    home\nmaterial oak \"Oak\"\n    measured in bf\n\
                product top \"Top\"\nchannel web \"Web page\"\nbought 2026-01-01 from yard\n    4 bf oak for 20.00\n\
                built 2026-01-02 batch T1\n    used 4 bf oak\n    made 10 top\nsold 2026-02-02 via web\n    3 top at 5.00\n";
    let report = pays(book, Period::default());
    assert_eq!(
        says(&report, "top"),
        (
            Verdict::HoursUnknown,
            "whether it pays your hour is not known: it left $9.00 after what was paid, and the book keeps no hours of yours",
            "without it $15.00 of revenue would not come and $6.00 of its own costs would not arise, so you would be $9.00 worse off"
        )
    );
    // Where hours are kept elsewhere, none is put down for this. Sold at cost it leaves nothing.
    let more = "step general \"General\"\n    indirect\nworked 2026-01-05\n    1h general\n";
    let said = pays(&format!("{book}{more}"), Period::default());
    assert_eq!(says(&said, "top").1, "it pays: it left $9.00 after what was paid, and no hour of yours is put down for it");
    let even = pays(&book.replace("at 5.00", "at 2.00"), Period::default());
    assert_eq!(
        says(&even, "top"),
        (
            Verdict::NothingLeft,
            "it neither pays nor loses: it brought as much as was paid for it",
            "without it $6.00 of revenue would not come and $6.00 of its own costs would not arise, so you would be neither better nor worse off"
        )
    );
}

#[test]
fn what_bears_less_than_its_overhead_is_not_said_to_pay_and_hours_are_held_against_known_hours() {
    // A helper's hour at 10.00 made two tops: 5.00 each, and 30.00 of overhead. One sold at 20.00 leaves 15.00, which is 15.00 less than that; none of it is an own hour.
    // A peg at 0.50 loses 0.50 in 3 min, 10.00 an hour; a pin at 0.10 loses 0.90 in 3 min, 18.00; the fair with both loses 1.40 in 6 min, 14.00.
    let book = format!(
        "{}product pin \"Pin\"\nhelper jo \"Jo\"\n    contractor\n    costs 10.00 per h\nopened 2026-01-01\n    5 pin for 5.00, 15m\n\
         built 2026-01-05 batch T1\n    took 1h selling by jo\n    made 2 top\nworked 2026-01-06\n    1h selling\nsold 2026-02-01 via web\n    1 top at 20.00\n\
         sold 2026-02-02 via fair\n    1 peg at 0.50\n    1 pin at 0.10\n",
        BOOK.replace("per h\nplace", "per h\n    overhead 60.00 per h\nplace").replace("    10 top for 20.00, 30m\n", "")
    );
    let report = pays(&book, Period::default());
    let less = "it pays what was laid out, and not the overhead in its goods: it left $15.00 after what was paid, $15.00 less than that overhead, and no hour of yours is put down for it";
    assert_eq!((says(&report, "web").0, says(&report, "web").1), (Verdict::BelowRate, less));
    assert_eq!(
        says(&report, "peg").1,
        "it does not pay: it brought $0.50 less than was paid for it, and an hour in it lost $10.00 on one piece; no other product of which hours of yours are known earned your hour more: the next, Pin, lost $18.00 on one piece"
    );
    // At 35.00 it leaves 30.00, as much as the overhead.
    let enough = pays(&book.replace("top at 20.00", "top at 35.00"), Period::default());
    assert_eq!(
        (says(&enough, "web").0, says(&enough, "web").1),
        (Verdict::Pays, "it pays: it left $30.00 after what was paid, and no hour of yours is put down for it")
    );
}

#[test]
fn what_is_no_longer_sold_stands_beside_its_years_and_a_month_without_sales_among_the_months() {
    // Two tops at 5.00 leave 10.00 - 4.00 in 2026; a peg at 2.00 leaves 1.00 in March 2028. From February 2026 to then there are 26 months.
    let text = format!("{BOOK}sold 2026-02-02 via web\n    2 top at 5.00\nsold 2028-03-01 via fair\n    1 peg at 2.00\n");
    let report = pays(&text, Period::default());
    let years = |report: &PaysReport, name: &str| -> Vec<(i32, bool, String, String)> {
        let of = report.trend.iter().find(|one| one.name == name).expect("it was sold");
        of.years.iter().map(|one| (one.year, one.so_far, one.revenue.clone(), one.paid_margin.clone())).collect()
    };
    let row = |year: i32, so_far: bool, revenue: &str, margin: &str| (year, so_far, revenue.to_owned(), margin.to_owned());
    let of_top = [row(2026, false, "10.00", "6.00"), row(2027, false, "0.00", "0.00"), row(2028, true, "0.00", "0.00")];
    assert_eq!(years(&report, "top"), of_top);
    assert_eq!(years(&report, "web"), of_top);
    assert_eq!(years(&report, "peg"), [row(2028, true, "2.00", "1.00")]);
    assert_eq!(report.months.len(), 26);
    assert_eq!((report.months[1].month.as_str(), report.months[1].revenue.as_str()), ("2026-03", "0.00"));
    assert_eq!((report.months[25].month.as_str(), report.months[25].revenue.as_str()), ("2028-03", "2.00"));
    assert!(text_pays(&report, Look::default()).contains("2028 so far"));
    assert_eq!(report.stock_ages.on.as_deref(), Some("2028-03-01"));
    // Asked about 2028 alone the years are the same; what lay on the book's last day is nothing of 2026.
    assert_eq!(years(&pays(&text, Period::year(2028)), "top"), of_top);
    let of_2026 = pays(&text, Period::year(2026));
    assert_eq!((of_2026.stock_ages.on.as_deref(), of_2026.stock_ages.slow.len()), (None, 0));
}

/// A fair on 14 and 15 March: 3 tops, then 2, at 6.00; its booth of 10.00 was paid in February, and 2 h were worked. One on 4 April: a top, 5.00 for its booth in
/// March, 1 h. 7.00 were paid twelve days after it, and 20.00 for one in the next year; an hour in May is of none.
const FAIRS: &str = "\
paid 2026-02-10 to the-hall
    10.00 for booth-fee on fair
sold 2026-03-14 via fair
    3 top at 6.00
worked 2026-03-14
    2h selling on fair
sold 2026-03-15 via fair
    2 top at 6.00
paid 2026-03-25 to the-hall
    5.00 for booth-fee on fair
sold 2026-04-04 via fair
    1 top at 6.00
worked 2026-04-04
    1h selling on fair
paid 2026-04-16 to the-hall
    7.00 for booth-fee on fair
paid 2026-04-20 to the-hall
    20.00 for booth-fee on fair, meant for 2027-03-14
worked 2026-05-02
    1h selling on fair
";

/// Title, pieces, own expenses, paid margin and minutes of each row of the block, and of its sum.
fn block(report: &PaysReport) -> Vec<[String; 5]> {
    let row = |title: &str, units: &str, sums: &kerfbook::reports::PaysSums| {
        let minutes = sums.own_minutes.clone().unwrap_or_default();
        [title.to_owned(), units.to_owned(), sums.direct_expenses.clone(), sums.paid_margin.clone(), minutes]
    };
    let fairs = report.fairs.iter().map(|one| row(&one.title, &one.units, &one.sums));
    let rest = report.rest.iter().filter(|one| one.by == "fair").map(|one| row(&one.title, &one.units, &one.sums));
    let sum = report.fairs_total.iter().map(|one| row("all", &one.units, &one.sums));
    fairs.chain(rest).chain(sum).collect()
}

#[test]
fn fairs_and_what_is_of_none_add_up_to_their_channel() {
    // March: 30.00 − 10.00 − 10.00 = 10.00 over 15 + 120 min. April: 6.00 − 2.00 − 5.00 = −1.00 over 3 + 60 min. In all −18.00.
    let report = all(FAIRS);
    assert_eq!(
        block(&report),
        [
            ["Fair, 2026-03-15", "5", "10.00", "10.00", "135"],
            ["Fair, 2026-04-04", "1", "5.00", "-1.00", "63"],
            ["Fair, of no fair", "0", "7.00", "-7.00", "60"],
            ["Fair, ahead, for days to come", "0", "20.00", "-20.00", "0"],
            ["all", "6", "42.00", "-18.00", "258"],
        ]
    );
    let channel = report.groups.iter().find(|one| one.name == "fair").expect("the channel");
    assert_eq!((channel.sums.paid_margin.as_str(), channel.sums.direct_expenses.as_str()), ("-18.00", "42.00"));
    let text = text_pays(&report, Look::default());
    assert!(text.contains("Fair, of no fair") && text.contains("All on these channels"), "{text}");
}

#[test]
fn a_fair_that_the_days_cut_says_so_and_what_is_outside_is_taken_off() {
    // From 15 March to the end of it: the fair of March is told whole, though 3 of its tops (18.00 − 6.00), its booth (10.00) and 9 + 120 min are before. 5.00 of
    // these days are April's.
    let day = |text: &str| Some(text.parse().expect("a day"));
    let report = pays(&format!("{BOOK}{FAIRS}"), Period { from: day("2026-03-15"), to: day("2026-03-31") });
    assert_eq!(
        block(&report),
        [
            ["Fair, 2026-03-15, from 2026-03-14 on", "5", "10.00", "10.00", "135"],
            ["Fair, in these days, of fairs before or after them", "0", "5.00", "-5.00", "0"],
            ["Fair, less what these fairs have outside these days", "-3", "-10.00", "-2.00", "-129"],
            ["all", "2", "5.00", "3.00", "6"],
        ]
    );
    let channel = report.groups.iter().find(|one| one.name == "fair").expect("the channel");
    assert_eq!(channel.sums.paid_margin, "3.00");
    // To the 14th: the fair's last day is not covered, and its first is of a fair after these days.
    let report = pays(&format!("{BOOK}{FAIRS}"), Period { from: day("2026-03-01"), to: day("2026-03-14") });
    assert_eq!(
        block(&report),
        [
            ["Fair, in these days, of fairs before or after them", "3", "0.00", "12.00", "129"],
            ["all", "3", "0.00", "12.00", "129"]
        ]
    );
}

#[test]
fn a_fee_comes_back_for_the_goods_whose_money_goes_back() {
    // Two tops at 6.00 and a peg at 8.00, of which the fair took 10 %: 1.20 and 0.80. A top comes back with its 0.60, so the peg keeps its 0.80.
    let sold = "sold 2026-02-05 via fair order \"W-1\"\n    2 top at 6.00\n    1 peg at 8.00\n    fee 2.00\n";
    let back = "returned 2026-02-09 order \"W-1\"\n    1 top, refunded 6.00, back to stock\n    fee back 0.60\n";
    let report = all(&format!("{sold}{back}"));
    let fees = |name: &str| {
        let group = report.groups.iter().find(|one| one.by == "product" && one.name == name).expect("a row");
        group.sums.fees.clone()
    };
    assert_eq!((fees("top"), fees("peg")), ("0.60".to_owned(), "0.80".to_owned()));
}
