//! What a channel adds to what a piece must fetch, and what a headline and the notes of a price say of it; worked by hand.
//!
//! A top cost 2.00 and 3 min, and is listed at 10.00.

use kerfbook::names::ThingId;
use kerfbook::render::text::{Look, text_price};
use kerfbook::reports::{ChannelPrice, Period, PlanAsked, PriceReport, Wanted, report_plan, report_price};
use rust_decimal::Decimal;

use crate::compiled::compile_texts;

const SHOP: &str = "\
shop \"Wren & Gable Woodshop\"
    currency USD
    owner time 20.00 per h
place bench \"Bench\"
    home
place shelf \"Shelf at the gift shop\"
step selling \"At the booth\"
material box \"Box\"
    measured in ea
    as packing
product top \"Top\"
    price 10.00
channel fair \"Fair\"
channel shelf \"Gift shop\"
    consignment 40%
channel web \"Web page\"
expense booth-fee \"Booth and stall fees\"
opened 2026-01-01
    20 top for 40.00, 1h
    10 box for 10.00
";

fn price(entries: &str) -> PriceReport {
    let book = if entries.starts_with("shop") { entries.to_owned() } else { format!("{SHOP}{entries}") };
    let compiled = compile_texts(&[("book.kerf", &book)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let top = compiled.book.things.iter().position(|thing| thing.named.name == "top").expect("defined");
    let top = ThingId(u32::try_from(top).expect("few"));
    let rate = Some(Decimal::new(725, 3));
    report_price(compiled.books(), top, (Period::default(), &move |_| rate), Wanted::default()).expect("a report")
}

fn channel<'r>(report: &'r PriceReport, name: &str) -> &'r ChannelPrice {
    report.channels.iter().find(|one| one.name == name).expect("the channel")
}

fn told<'r>(report: &'r PriceReport, words: &str) -> Vec<&'r String> {
    report.notes.iter().filter(|note| note.contains(words)).collect()
}

#[test]
fn driving_is_among_a_channels_own_expenses_and_what_is_for_a_later_day_is_not() {
    let report = price(
        "paid 2026-03-01 to the-hall\n    20.00 for booth-fee on fair\nsold 2026-03-01 via fair\n    2 top\n\
         worked 2026-03-01\n    2h selling on fair\ndrove 2026-03-01 100 mi on fair\n\
         paid 2026-03-02 to the-hall\n    85.00 for booth-fee on fair, meant for 2026-06-14\n",
    );
    let fair = channel(&report, "fair");
    // 20.00 + 100 · 0.725 and 120 min for 20.00 of sales; 85.00 are for June. A top brings in half of these.
    let selling = &fair.selling;
    let own = [&selling.channel_expenses, &selling.channel_minutes, &selling.channel_revenue].map(String::as_str);
    assert_eq!(own, ["92.50", "120", "20.00"]);
    let list = fair.at_list_price.as_ref().expect("a list price");
    assert_eq!((selling.own_expenses.as_str(), selling.own_minutes.as_str()), ("46.25", "60"));
    // (10.00 − 2.00 − 46.25) / 63 min · 60 = −36.428571; 2.00 + 46.25 + 63 min · 20.00 = 21.00.
    assert_eq!((list.per_hour.as_deref(), fair.floors.earning.as_deref()), (Some("-36.43"), Some("69.25")));
    assert_eq!(told(&report, "$85.00 spent on `fair` is meant for days after 2026-03-02").len(), 1, "{:#?}", report.notes);
}

#[test]
fn the_way_to_a_place_is_borne_by_each_piece_that_stays_there() {
    let sent = "sent 2026-03-10 to shelf\n    4 top\n    postage 4.00\n    packed with 1 box\n";
    let report = price(&format!("{sent}sold 2026-04-10 via shelf\n    1 top\n"));
    let shelf = channel(&report, "shelf");
    // 4.00 / 4 and 1.00 / 4; 10.00 · 60 % − 1.25 = 4.75, less 2.00; (2.00 + 1.25) / 60 % = 5.416667, up to the cent.
    let figures =
        |one: &ChannelPrice| [one.selling.postage.clone(), one.selling.packing.clone(), one.selling.sent_pieces.clone()];
    assert_eq!(figures(shelf), ["1.00", "0.25", "4"]);
    let list = shelf.at_list_price.as_ref().expect("a list price");
    assert_eq!((list.receives.as_str(), list.paid_margin.as_str(), shelf.floors.paid.as_deref()), ("4.75", "2.75", Some("5.42")));
    let words = "a piece of `shelf` bears the way there, too: 1.00 of postage ($4.00 in all) and 0.25 of packing ($1.00 in all), learnt from 4 pieces sent there";
    assert_eq!(told(&report, words).len(), 1, "{:#?}", report.notes);
    // One comes home again: 4.00 / 3 and 1.00 / 3.
    let back = price(&format!("{sent}sent 2026-03-20 from shelf to bench\n    1 top\n"));
    assert_eq!(figures(channel(&back, "shelf")), ["1.333333", "0.333333", "3"]);
    // A channel to which nothing was sent bears none.
    assert_eq!(figures(channel(&report, "web")), ["0.00", "0.00", "0"]);
}

#[test]
fn what_lies_on_consignment_is_undercut_at_its_mark() {
    let brought = "sent 2026-03-01 to shelf\n    3 top\n";
    let cheaper = |entries: &str, asked: &str| {
        let report = price(&format!("{brought}{entries}sold 2026-06-01 via web\n    1 top at {asked}\n"));
        told(&report, "on consignment").into_iter().cloned().collect::<Vec<_>>()
    };
    let note = |asked: &str, there: &str| {
        vec![format!(
            "`web` asks {asked}, less than the {there} `shelf` which has it on consignment; look at your agreement with it"
        )]
    };
    // Never sold there: marked at the list price of 10.00.
    assert_eq!(cheaper("", "8.00"), note("8.00", "10.00 at which it lies at"));
    assert_eq!(cheaper("", "10.00"), [""; 0]);
    // Sold there at 7.00 since it was brought, which the last sale tells better than the list; the fair asks the list price.
    let sold = "sold 2026-04-01 via shelf\n    1 top at 7.00\n";
    assert_eq!(cheaper(sold, "8.00"), [""; 0]);
    assert_eq!(cheaper(sold, "6.00"), note("6.00", "7.00 of"));
    // Listed at 12.00 and brought again since: the old sale tells nothing.
    let again = format!("{sold}changed 2026-05-01 top\n    price 12.00\nsent 2026-05-02 to shelf\n    1 top\n");
    assert_eq!(cheaper(&again, "11.00"), note("11.00", "12.00 at which it lies at"));
    // Sold by the web at the list price of its day, which was raised since: it asks that now.
    let raised = price(&format!("{brought}sold 2026-04-01 via web\n    1 top\nchanged 2026-05-01 top\n    price 12.00\n"));
    assert!(told(&raised, "on consignment").is_empty(), "{:#?}", raised.notes);
    // All of it is taken home: the last sale there is all that is known.
    let home = format!("{again}sent 2026-05-20 from shelf to bench\n    3 top\n");
    assert_eq!(cheaper(&home, "11.00"), [""; 0]);
}

#[test]
fn an_untried_channel_is_not_said_to_earn_most() {
    let answer = |entries: &str| text_price(&price(entries), Look::default()).split_whitespace().collect::<Vec<_>>().join(" ");
    // The web has no fee, and the shop keeps 40 %: by its terms the fair would earn most, which sold nothing.
    let sold = answer("sold 2026-02-01 via shelf at bench\n    1 top\n");
    // (6.00 − 2.00) / 3 min · 60, and (10.00 − 2.00) / 3 min · 60.
    let told = "Of the channels that sold something it earns most by Gift shop: at $10.00, $80.00 for an hour of yours; as far as terms tell, by Fair, where nothing was sold, at $10.00 it would earn $160.00.";
    assert!(sold.contains(told), "{sold}");
    // Where that which sold leaves the most, no other is told: the fair.
    let most = answer("sold 2026-02-01 via fair\n    1 top\n");
    assert!(most.contains("overhead. It earns most by Fair: at $10.00, $160.00 for an hour of yours. One"), "{most}");
    let nothing = answer("");
    assert!(
        nothing.contains("As far as terms tell, as nothing was sold yet, it earns most by Fair: at $10.00, $160.00"),
        "{nothing}"
    );
}

#[test]
fn where_what_sold_earns_nothing_it_is_not_said_of_every_price_of_today() {
    // The fair took 50.00 for 20.00 of sales, so a top bears 25.00 there: 10.00 − 2.00 − 25.00.
    let sold = "sold 2026-03-01 via fair\n    2 top\npaid 2026-03-01 to the-hall\n    50.00 for booth-fee on fair\n";
    let said = |report: &PriceReport| text_price(report, Look::default()).split_whitespace().collect::<Vec<_>>().join(" ");
    let text = said(&price(sold));
    let told = "By no channel that sold something does an hour of yours in it earn anything; as far as terms tell, by Web page, where nothing was sold, at $10.00 it would earn $160.00.";
    assert!(text.contains(told), "{text}");
    // At 1.00 a top loses by every channel's terms, too.
    let text = said(&price(&format!("{}{sold}", SHOP.replace("price 10.00", "price 1.00"))));
    assert!(text.contains("At no price of today does an hour of yours in it earn anything."), "{text}");
}

#[test]
fn what_was_finished_before_the_days_asked_about_is_not_said_never_to_have_been() {
    let from = |built: &str| {
        let compiled = compile_texts(&[("book.kerf", &format!("{SHOP}{built}sold 2026-03-01 via web\n    1 top\n"))]);
        assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
        let top = compiled.book.things.iter().position(|thing| thing.named.name == "top").expect("defined");
        let top = ThingId(u32::try_from(top).expect("few"));
        let days = Period { from: Some("2026-02-01".parse().expect("a day")), to: None };
        report_price(compiled.books(), top, (days, &|_| None), Wanted::default()).expect("a report").cost_from
    };
    assert_eq!(from(""), "what is on hand: no top was finished in a batch");
    assert_eq!(
        from("built 2026-01-05 batch T1\n    took 30m selling\n    made 4 top\n"),
        "what is on hand: no top was finished in these days"
    );
}

#[test]
fn without_a_rate_for_the_hour_no_cost_is_said_to_hold_it() {
    let report = price(&SHOP.replace("    owner time 20.00 per h\n", ""));
    let text = text_price(&report, Look::default()).split_whitespace().collect::<Vec<_>>().join(" ");
    let told_so =
        "$2.00 to cover what is laid out for it; the shop states no rate for your hour, so none of your time is in that.";
    assert!(text.contains(told_so), "{text}");
    assert_eq!((told(&report, "`owner time 24.00 per h` in `shop`").len(), report.owner_rate.as_deref()), (1, None));
    let stated = price("");
    assert_eq!((told(&stated, "no rate for your hour").len(), stated.owner_rate.as_deref()), (0, Some("20.00")));
    // The list of a price's figures is asked for by what stands before them.
    assert_eq!(told(&stated, "`kerfbook why price/top/` lists their names").len(), 1, "{:#?}", stated.notes);
}

#[test]
fn a_channel_that_took_back_what_it_sold_is_said_to_differ_from_what_pays() {
    let entries = "sold 2026-02-01 via web order \"W-1\"\n    2 top\n\
                   returned 2026-02-05 order \"W-1\"\n    2 top, refunded 20.00, back to stock\n\
                   sold 2026-02-06 via fair\n    1 top\n";
    let compiled = compile_texts(&[("book.kerf", &format!("{SHOP}{entries}"))]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let top = compiled.book.things.iter().position(|thing| thing.named.name == "top").expect("defined");
    let top = ThingId(u32::try_from(top).expect("few"));
    let back = |from: Option<&str>| {
        let from = from.map(|day| day.parse().expect("a day"));
        let report = report_price(compiled.books(), top, (Period { from, to: None }, &|_| None), Wanted::default());
        let notes = report.expect("a report").notes;
        notes.into_iter().filter(|note| note.contains("took back")).collect::<Vec<_>>()
    };
    let note = |many: &str, money: &str| {
        vec![format!(
            "`web` took back {many} in these days, which brought in {money} in all: what a price earns there is of a piece that stays sold; \
             `kerfbook pays` counts what came back, too"
        )]
    };
    // 2 − 2 for 20.00 − 20.00; from the 2nd on only the 20.00 back; from the 6th on nothing came back. The fair kept its one.
    assert_eq!(back(None), note("all that it sold of this product", "$0.00"));
    assert_eq!(back(Some("2026-02-02")), note("more of this product than it sold", "-$20.00"));
    assert_eq!(back(Some("2026-02-06")), Vec::<String>::new());
}

#[test]
fn what_pieces_cost_and_what_the_next_one_is_expected_to_cost_lead_to_each_other() {
    let made = "built 2026-02-01 batch T1\n    took 6m selling\n    made 2 top\n";
    let recipe = SHOP.replace("    price 10.00\n", "    price 10.00\n    takes 3 min selling\n");
    let report = price(&format!("{recipe}{made}"));
    assert_eq!(told(&report, "`kerfbook plan 1 top` expects what the next one costs, by the last batches").len(), 1);
    // Without a recipe nothing can be planned.
    assert!(told(&price(made), "kerfbook plan").is_empty());
    let compiled = compile_texts(&[("book.kerf", &format!("{recipe}{made}"))]);
    let top = compiled.book.things.iter().position(|thing| thing.named.name == "top").expect("defined");
    let top = ThingId(u32::try_from(top).expect("few"));
    let asked = PlanAsked { builds: vec![(top, Decimal::ONE)], by: None };
    let plan = report_plan(compiled.books(), &asked).expect("a plan");
    let notes: Vec<_> = plan.notes.iter().filter(|note| note.contains("the last 5 batches at the most")).collect();
    assert!(notes.len() == 1 && notes[0].contains("`kerfbook price top`"), "{:#?}", plan.notes);
}
