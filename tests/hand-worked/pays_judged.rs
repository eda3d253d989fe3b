//! Whether each thing pays, fair by fair, year by year, and what lies long, worked by hand.
//!
//! Wood is 2.00 a bf, an own hour 20.00, overhead 2.00 an hour. Twenty tops of 10 bf and 5 h: each 1.00 laid out, 5.00 of own time, 0.50 of overhead, 15 min. Four
//! boards of 20 bf and 10 h: each 10.00 laid out, 50.00 of own time, 5.00 of overhead, 150 min.
//!
//! The fair of March: 8 tops, 80.00. On it 30.00 for the booth, paid in February, and 5.00 two days after; 4 h at the booth. Paid margin 80 − 35 − 8 =
//! 37.00; full margin 37 − 40 − 4 = −7.00; 8 · 15 + 240 = 360 min, so an hour earned (37 − 4) / 6 = 5.50.
//! The fair of April took two days: a top and a board, 60.00; 25.00 paid in March, later than three days after the fair before; 3 h. Paid margin 60 − 25 −
//! 11 = 24.00; full margin 24 − 55 − 5.50 = −36.50; 15 + 150 + 180 = 345 min; an hour earned (24 − 5.50) / 5.75 = 3.217391.
//! 40.00 paid after that fair are of one that is still to come: in the channel, and in no fair.
//!
//! In 2026 the channel `fair` has 140.00 − 100.00 − 19.00 = 21.00 over 705 min: (21 − 9.50) / 11.75 = 0.978723 an hour. `web` sold two boards: 100.00 − 10.00 − 6.00
//! − 20.00 = 64.00 over 300 min: (64 − 10) / 5 = 10.80. Toys: 9 tops, 90.00 − 9.00 = 81.00 over 135 min: (81 − 4.50) / 2.25 = 34.00. Boards: 3,
//! 150.00 − 10.00 − 6.00 − 30.00 = 104.00 over 450 min: (104 − 15) / 7.5 = 11.866667; and in 2027 one at 60.00: 60 − 6 − 10 = 44.00, (44 − 5) / 2.5 = 15.60.

use kerfbook::reports::{PaysReport, PaysVerdict, Period, Verdict, report_pays};

use crate::compiled::compile_texts;

const BOOK: &str = "\
shop \"Wren & Gable Woodshop\"
    currency USD
    owner time 20.00 per h
    overhead 2.00 per h
place bench \"Bench\"
    home
step make \"Making\"
step selling \"At the booth\"
material wood \"Wood\"
    measured in bf
line toys \"Toys\"
line boards \"Boards\"
product top \"Spinning top\"
    line toys
    price 10.00
product board \"Cutting board\"
    line boards
    price 50.00
product peg \"Peg\"
channel fair \"Fair\"
channel web \"Web page\"
    fee 10% of total
expense booth-fee \"Booth and stall fees\"
opened 2026-01-01
    100 bf wood for 200.00
    5 peg for 5.00
built 2026-01-10 batch T
    used 10 bf wood
    took 5h make
    made 20 top
built 2026-01-12 batch B
    used 20 bf wood
    took 10h make
    made 4 board
paid 2026-02-20 to the-hall
    30.00 for booth-fee on fair
sold 2026-03-07 via fair
    8 top
worked 2026-03-07
    4h selling on fair
paid 2026-03-09 to the-hall
    5.00 for booth-fee on fair
paid 2026-03-20 to the-hall
    25.00 for booth-fee on fair
sold 2026-04-11 via fair
    1 top
sold 2026-04-12 via fair
    1 board
worked 2026-04-12
    3h selling on fair
paid 2026-04-30 to the-hall
    40.00 for booth-fee on fair
sold 2026-05-05 via web order \"W-1\"
    2 board
    postage 6.00
sold 2027-02-01 via web order \"W-2\"
    1 board at 60.00
";

fn pays(more: &str, period: Period) -> PaysReport {
    let text = format!("{BOOK}{more}");
    let compiled = compile_texts(&[("book.kerf", &text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    report_pays(&compiled.book, &compiled.log, &compiled.costed, period, &|_| None, &[]).expect("small figures")
}

fn verdict<'r>(report: &'r PaysReport, by: &str, name: &str) -> &'r PaysVerdict {
    report.verdicts.iter().find(|one| one.by == by && one.name == name).unwrap_or_else(|| panic!("no {by} {name}"))
}

#[test]
fn a_fair_has_its_sales_and_what_stands_on_its_channel_around_its_days() {
    let report = pays("", Period::year(2026));
    let fairs: Vec<_> = report
        .fairs
        .iter()
        .map(|fair| {
            let figures = [
                &fair.sums.revenue,
                &fair.sums.direct_expenses,
                &fair.sums.paid_cost,
                &fair.sums.paid_margin,
                &fair.sums.full_margin,
            ];
            (fair.name.as_str(), figures.map(String::as_str), fair.sums.own_minutes.as_deref(), fair.earned_per_hour.as_deref())
        })
        .collect();
    let march = ["80.00", "35.00", "8.00", "37.00", "-7.00"];
    let april = ["60.00", "25.00", "11.00", "24.00", "-36.50"];
    assert_eq!(
        fairs,
        [("fair/2026-03-07", march, Some("360"), Some("5.50")), ("fair/2026-04-12", april, Some("345"), Some("3.22"))]
    );
    let all = report.groups.iter().find(|group| group.name == "fair").expect("the channel");
    assert_eq!((all.sums.direct_expenses.as_str(), all.sums.paid_margin.as_str()), ("100.00", "21.00"));
    // Of a web page, whose orders have names, nothing is a fair.
    assert!(report.fairs.iter().all(|fair| !fair.name.starts_with("web")));
}

#[test]
fn a_fair_is_told_whole_though_its_booth_was_paid_the_year_before() {
    let more = "paid 2026-12-01 to the-hall\n    12.00 for booth-fee on fair\nsold 2027-01-16 via fair\n    1 top\n\
                worked 2027-01-16\n    1h selling on fair\n";
    // Of April's 40.00 and December's 12.00 the next fair is that of January.
    let report = pays(more, Period::year(2027));
    let fairs: Vec<_> = report.fairs.iter().map(|fair| (fair.name.as_str(), fair.sums.direct_expenses.as_str())).collect();
    assert_eq!(fairs, [("fair/2027-01-16", "52.00")]);
    let channel = report.groups.iter().find(|group| group.name == "fair").expect("the channel");
    assert_eq!(channel.sums.direct_expenses, "0.00", "in the year's own margin they do not count");
}

#[test]
fn each_is_held_against_the_rate_and_the_best_other_use_of_the_hours() {
    let report = pays("", Period::year(2026));
    let toys = verdict(&report, "line", "toys");
    assert_eq!((toys.verdict, toys.over_rate.as_deref()), (Verdict::Pays, Some("14.00")));
    assert_eq!(
        toys.says,
        "it pays: an hour in it earned $34.00 on 9 pieces, $14.00 more than your rate of $20.00; no other product line earned your hour more: \
         the next, Boards, earned $11.87 on 3 pieces"
    );
    let web = verdict(&report, "channel", "web");
    assert_eq!((web.verdict, web.over_rate.as_deref()), (Verdict::BelowRate, Some("-9.20")));
    let fair = verdict(&report, "channel", "fair");
    // Like against like, so that no sale is on both sides: the boards that the web page sold are in no other channel, and the lines hold both products.
    let best = |by, name| {
        let best = verdict(&report, by, name).best_other.as_ref().expect("another use");
        [best.by.clone(), best.name.clone(), best.earned_per_hour.clone()]
    };
    assert_eq!(best("channel", "fair"), ["channel", "web", "10.80"]);
    assert_eq!(best("channel", "web"), ["channel", "fair", "0.98"]);
    assert_eq!(best("product", "board"), ["product", "top", "34.00"]);
    assert_eq!(best("line", "boards"), ["line", "toys", "34.00"]);
    assert_eq!(best("product", "top"), ["product", "board", "11.87"]);
    // A fair is of its channel, which is no other use; the web page is one, and so is another fair.
    assert_eq!(best("fair", "fair/2026-03-07"), ["channel", "web", "10.80"]);
    assert_eq!(best("fair", "fair/2026-04-12"), ["channel", "web", "10.80"]);
    assert_eq!(
        fair.says,
        "it does not pay your hour: one in it earned $0.98 on 10 pieces, $19.02 less than your rate of $20.00; the best other channel, Web \
         page, earned $10.80 on 2 pieces"
    );
    let april = &verdict(&report, "fair", "fair/2026-04-12").says;
    assert!(april.ends_with("; the best other fair or channel, Web page, earned $10.80 on 2 pieces"), "{april}");
    // By the end of April there is no web page: of two fairs each is the other's best, and the one channel has no other.
    let until = Period { from: None, to: Some("2026-04-30".parse().expect("a day")) };
    let report = pays("", until);
    let says = |name: &str| verdict(&report, "fair", name).says.as_str();
    assert!(says("fair/2026-04-12").ends_with("; the best other fair or channel, Fair, 2026-03-07, earned $5.50 on 8 pieces"));
    let march = "; no other fair or channel earned your hour more: the next, Fair, 2026-04-12, earned $3.22 on 2 pieces";
    assert!(says("fair/2026-03-07").ends_with(march), "{}", says("fair/2026-03-07"));
    assert!(verdict(&report, "channel", "fair").best_other.is_none());
    let report = pays("", Period::year(2026));
    assert_eq!(verdict(&report, "fair", "fair/2026-04-12").over_rate.as_deref(), Some("-16.78"));
}

#[test]
fn dropping_a_line_saves_its_own_costs_and_neither_overhead_nor_a_fair_s_booth() {
    let report = pays("", Period::year(2026));
    let boards = &verdict(&report, "line", "boards").if_dropped;
    assert_eq!([&boards.loses, &boards.saves, &boards.overhead_stays], ["150.00", "46.00", "15.00"]);
    assert_eq!(boards.frees_minutes.as_deref(), Some("450"));
    assert_eq!(
        boards.says,
        "without it $150.00 of revenue would not come and $46.00 of its own costs would not arise, so you would be $104.00 worse off; $15.00 \
         of overhead would stay and its hours would be yours for something else"
    );
    // The channel's own are its booths too: 100.00 and the goods' 19.00.
    assert_eq!(verdict(&report, "channel", "fair").if_dropped.saves, "119.00");
}

#[test]
fn what_loses_and_what_has_no_known_hours_is_said_to() {
    let report = pays("sold 2026-06-01 via web order \"W-3\"\n    2 peg at 0.50\n    postage 4.00\n", Period::year(2026));
    // 1.00 less a fee of 0.10, 4.00 of postage and 2.00 of cost.
    let peg = verdict(&report, "product", "peg");
    assert_eq!((peg.verdict, peg.says.as_str()), (Verdict::Loses, "it does not pay: it brought $5.10 less than was paid for it"));
    assert!(peg.if_dropped.says.contains("so you would be $5.10 better off"), "{}", peg.if_dropped.says);
    let web = verdict(&report, "channel", "web");
    // The two boards' 300 min are known: (58.90 − 10.00) / 5 h = 9.78, and less with the hours of the pegs.
    assert_eq!((web.verdict, web.over_rate.as_deref()), (Verdict::BelowRate, None));
    assert!(
        web.says.starts_with(
            "it does not pay your hour: one in it earned at most $9.78 on 4 pieces, $10.22 less than your rate of $20.00; no hours are known of Peg that came on 2026-01-01"
        ),
        "{}",
        web.says
    );
    assert!(
        report.notes.iter().any(|note| note
            == "not all hours of Peg are known: in each row that holds some of it own time is at least what is printed, and the full margin at most"),
        "{:#?}",
        report.notes
    );
}

#[test]
fn of_which_batches_no_hours_are_known_is_said_as_long_as_they_stay_sold() {
    let begun = "opened 2026-01-02\n    4.00 on batch OLD\n";
    let made = "finished 2026-02-01 batch OLD\n    made 2 board\nbuilt 2026-02-02 batch SET\n    used 1 peg\n    made 1 board\n";
    let sold = "sold 2026-06-01 via web order \"W-4\"\n    1 board, lot OLD\n    1 board, lot SET\n    1 peg at 9.00\n";
    let report = pays(&format!("{begun}{made}{sold}"), Period::year(2026));
    let says = |by, name| verdict(&report, by, name).says.clone();
    assert!(says("line", "boards").ends_with("no hours are known of batch OLD and batch SET"), "{}", says("line", "boards"));
    assert!(
        says("channel", "web").ends_with("of batch OLD, batch SET and Peg that came on 2026-01-01"),
        "{}",
        says("channel", "web")
    );
    assert!(says("product", "peg").ends_with("no hours are known of Peg that came on 2026-01-01"), "{}", says("product", "peg"));
    let back = "returned 2026-06-09 order \"W-4\"\n    1 board, lot SET, refunded 50.00, back to stock\n";
    let report = pays(&format!("{begun}{made}{sold}{back}"), Period::year(2026));
    let boards = &verdict(&report, "line", "boards").says;
    assert!(boards.ends_with("no hours are known of batch OLD"), "{boards}");
}

#[test]
fn dropping_a_product_saves_nothing_that_its_line_alone_spends_and_unknown_hours_are_no_best_use() {
    // 12.00 on the line; a peg at 90.00, of whose hours nobody knows: whatever it left, it is no use of hours to hold another against.
    let more = "paid 2026-06-01 to the-hall\n    12.00 for booth-fee on toys\nsold 2026-06-02 via fair\n    1 peg at 90.00\n";
    let report = pays(more, Period::year(2026));
    // The line: 9 tops at 1.00 laid out, and the 12.00; without it 90.00 would not come, so 90 − 21 = 69.00 less.
    let line = &verdict(&report, "line", "toys").if_dropped;
    assert_eq!([&line.loses, &line.saves, &line.overhead_stays], ["90.00", "21.00", "4.50"]);
    assert!(line.says.contains("so you would be $69.00 worse off"), "{}", line.says);
    let top = verdict(&report, "product", "top");
    assert_eq!([&top.if_dropped.loses, &top.if_dropped.saves], ["90.00", "9.00"]);
    assert_eq!(top.if_dropped.frees_minutes.as_deref(), Some("135"));
    // A top earned (81 − 4.50) / 2.25 = 34.00; the best other is the board at 11.87, and of the peg's hours nothing is known.
    let best = top.best_other.as_ref().expect("the board");
    assert_eq!((best.name.as_str(), best.earned_per_hour.as_str()), ("board", "11.87"));
    let board = verdict(&report, "product", "board").best_other.as_ref().expect("the top");
    assert_eq!((board.name.as_str(), board.earned_per_hour.as_str()), ("top", "34.00"));
    // With 12.00 less the line's hour earned (81 − 12 − 4.50) / 2.25 = 28.666667.
    assert_eq!(verdict(&report, "line", "toys").over_rate.as_deref(), Some("8.67"));
}

#[test]
fn each_year_stands_beside_the_others_and_one_that_goes_on_is_so_far() {
    for period in [Period::default(), Period::year(2026)] {
        let report = pays("", period);
        let boards = report.trend.iter().find(|one| one.name == "boards").expect("boards");
        let years: Vec<_> = boards
            .years
            .iter()
            .map(|year| {
                (year.year, year.so_far, year.revenue.as_str(), year.paid_margin.as_str(), year.earned_per_hour.as_deref())
            })
            .collect();
        assert_eq!(years, [(2026, false, "150.00", "104.00", Some("11.87")), (2027, true, "60.00", "44.00", Some("15.60"))]);
    }
}

#[test]
fn what_came_over_half_a_year_ago_lies_long_and_its_pace_says_how_long() {
    let report = pays("", Period::default());
    // On 2027-02-01: 70 bf of wood since 2026-01-01, 11 tops since 2026-01-10, 5 pegs; the boards are gone.
    let ages = &report.stock_ages;
    assert_eq!(ages.on.as_deref(), Some("2027-02-01"));
    assert_eq!(
        [&ages.all.to_90_days, &ages.all.to_180_days, &ages.all.to_365_days, &ages.all.older],
        ["0.00", "0.00", "0.00", "156.00"]
    );
    let slow: Vec<_> = ages
        .slow
        .iter()
        .map(|one| {
            (one.name.as_str(), one.slow_paid.as_str(), one.oldest_days, one.gone_in_a_year.as_str(), one.lasts_months.as_deref())
        })
        .collect();
    // 396 days are from 1 January to 1 February of the next year; 11 · 12 / 9 = 14.7 months. The wood was used over a year before.
    assert_eq!(
        slow,
        [("wood", "140.00", 396, "0", None), ("top", "11.00", 387, "9", Some("14.7")), ("peg", "5.00", 396, "0", None)]
    );
    assert_eq!(
        ages.slow[1].says,
        "all 11 ea came over 180 days ago, the oldest on 2026-01-10; 9 ea went in the last 365 days, so what is there lasts 14.7 months"
    );
}

#[test]
fn the_pace_of_a_young_book_is_over_the_days_that_it_has() {
    // Ten vases from 1 January, four used up by the end of June, a top sold on 19 July: 200 days, both counted. 6 · 12 · 200 / (365 · 4) = 9.86.
    let young = "\
shop \"Wren & Gable Woodshop\"
    currency USD
place bench \"Bench\"
    home
product vase \"Vase\"
product top \"Top\"
channel web \"Web page\"
opened 2026-01-01
    10 vase for 20.00
    2 top for 2.00
used-up 2026-06-02
    4 vase
";
    let told = |more: &str| {
        let compiled = compile_texts(&[("book.kerf", &format!("{young}{more}"))]);
        assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
        let report = report_pays(&compiled.book, &compiled.log, &compiled.costed, Period::default(), &|_| None, &[]);
        report.expect("small figures").stock_ages.slow
    };
    let slow = told("sold 2026-07-19 via web\n    1 top at 5.00\n");
    let vase = slow.iter().find(|one| one.name == "vase").expect("it lies there");
    assert_eq!((vase.gone_in_a_year.as_str(), vase.lasts_months.as_deref()), ("4", Some("9.9")));
    assert_eq!(
        vase.says,
        "all 6 ea came over 180 days ago, the oldest on 2026-01-01; 4 ea went in the 200 days of the book, so what is there lasts 9.9 months"
    );
    // On 31 December it has its 365 days: 6 · 12 / 4. And what never went is said of as many days.
    let slow = told("sold 2026-12-31 via web\n    1 top at 5.00\n");
    let vase = slow.iter().find(|one| one.name == "vase").expect("it lies there");
    assert!(vase.says.ends_with("4 ea went in the last 365 days, so what is there lasts 18 months"), "{}", vase.says);
    let slow = told("noted 2026-07-19 \"Closed for the summer.\"\n");
    let top = slow.iter().find(|one| one.name == "top").expect("it lies there");
    assert!(top.says.ends_with("; nothing of it went in the 200 days of the book"), "{}", top.says);
}

#[test]
fn packing_that_went_out_and_what_was_used_up_in_the_shop_went_too() {
    // Ten cartons and 1.5 ft of tape come on 10 January; four cartons leave with an order, half a foot is used up. 6 · 12 / 4 = 18; 1 · 12 / 0.5 = 24.
    let more = "\
material carton \"Carton\"
    measured in ea
    as packing
material tape \"Tape\"
    measured in ft
bought 2026-01-10 from \"The yard\"
    10 ea carton for 10.00
    1.5 ft tape for 3.00
sold 2026-06-01 via web order \"W-3\"
    1 top
    packed with 4 carton
used-up 2026-06-02
    0.5 ft tape
";
    let report = pays(more, Period::default());
    let says = |name: &str| report.stock_ages.slow.iter().find(|one| one.name == name).map(|one| one.says.as_str());
    assert_eq!(
        says("carton"),
        Some(
            "all 6 ea came over 180 days ago, the oldest on 2026-01-10; 4 ea went in the last 365 days, so what is there lasts 18 months"
        )
    );
    assert_eq!(
        says("tape"),
        Some(
            "all 1 ft came over 180 days ago, the oldest on 2026-01-10; 0.5 ft went in the last 365 days, so what is there lasts 24 months"
        )
    );
}

#[test]
fn of_one_piece_and_of_one_month_it_is_said_so() {
    // Of thirteen vases one lies there and twelve went: 1 · 12 / 12 = one month.
    let more = "\
product vase \"Vase\"
bought 2026-01-10 from potter
    13 vase for 26.00
used-up 2026-06-02
    12 vase
";
    let report = pays(more, Period::default());
    let vase = report.stock_ages.slow.iter().find(|one| one.name == "vase").expect("it lies there");
    assert_eq!(
        vase.says,
        "the one that is there came over 180 days ago, on 2026-01-10; 12 ea went in the last 365 days, so what is there lasts 1 month"
    );
}

#[test]
fn a_year_without_hours_has_no_earnings_for_one_and_they_are_not_unknown() {
    // In 2027 the fair has a stall paid and nothing else.
    let report = pays("paid 2027-01-15 to the-hall\n    7.00 for booth-fee on fair\n", Period::default());
    let fair = report.trend.iter().find(|one| one.name == "fair").expect("the channel");
    let last = fair.years.last().expect("2027");
    assert_eq!((last.year, last.own_minutes.as_deref(), last.earned_per_hour.as_deref()), (2027, Some("0"), None));
    let text = kerfbook::render::text::text_pays(&report, kerfbook::render::text::Look::default());
    let row = text.lines().find(|line| line.contains("2027 so far") && line.contains("-7.00")).expect("the year's row");
    assert!(row.trim_end().ends_with(" -"), "{row}");
}
