//! Entries: every head and every line of the language's examples says what it should.

use super::describe::lines_below;
use super::read;

#[test]
fn heads_of_entries_say_what_they_say() {
    for (line, expected) in [
        ("opened 2026-01-01", "Opened 2026-01-01"),
        ("opened 2026-01-01 at gift-shop", "Opened 2026-01-01 At(<gift-shop>)"),
        ("changed 2026-07-01 pull-cart", "Changed 2026-07-01 Subject(<pull-cart>)"),
        ("changed 2027-01-01 shop", "Changed 2027-01-01 Shop"),
        (
            "bought 2026-03-02 from ridgeline-lumber receipt \"A-1182\"",
            "Bought 2026-03-02 From(Party { span: <ridgeline-lumber>, quoted: false }) Receipt(<A-1182>)",
        ),
        ("bought 2026-03-02 receipt A-1182 at home", "Bought 2026-03-02 Receipt(<A-1182>) At(<home>)"),
        ("bought 2026-03-02", "Bought 2026-03-02"),
        ("paid 2026-03-05 to county-fair", "Paid 2026-03-05 To(Party { span: <county-fair>, quoted: false })"),
        (
            "paid 2026-04-15 to \"state revenue office\"",
            "Paid 2026-04-15 To(Party { span: <state revenue office>, quoted: true })",
        ),
        ("paid 2026-03-05 receipt \"7\" to sam", "Paid 2026-03-05 Receipt(<7>) To(Party { span: <sam>, quoted: false })"),
        ("built 2026-03-09 batch PC-014", "Built 2026-03-09 Batch(<PC-014>)"),
        ("built 2026-03-09 batch 23-0417 at bench", "Built 2026-03-09 Batch(<23-0417>) At(<bench>)"),
        ("built 2026-02-07", "Built 2026-02-07"),
        ("started 2026-12-18 batch VS-020", "Started 2026-12-18 Batch(<VS-020>)"),
        ("continued 2026-12-29 batch VS-020", "Continued 2026-12-29 Batch(<VS-020>)"),
        ("finished 2027-01-06 batch VS-020", "Finished 2027-01-06 Batch(<VS-020>)"),
        ("worked 2026-03-08", "Worked 2026-03-08"),
        ("sold 2026-03-20 via web-page order \"W-0031\"", "Sold 2026-03-20 Via(<web-page>) Order(<W-0031>)"),
        ("sold 2026-03-20 via web-page order 1042", "Sold 2026-03-20 Via(<web-page>) Order(<1042>)"),
        (
            "received 2026-04-18 from \"E. in Troy\" via web-page",
            "Received 2026-04-18 From(Party { span: <E. in Troy>, quoted: true }) Via(<web-page>)",
        ),
        ("sent 2026-04-01 to gift-shop", "Sent 2026-04-01 To(Party { span: <gift-shop>, quoted: false })"),
        (
            "sent 2026-04-01 from home to gift-shop",
            "Sent 2026-04-01 From(Party { span: <home>, quoted: false }) To(Party { span: <gift-shop>, quoted: false })",
        ),
        ("brought-back 2026-06-12 from gift-shop", "BroughtBack 2026-06-12 From(Party { span: <gift-shop>, quoted: false })"),
        ("brought back 2026-06-12 from gift-shop", "BroughtBack 2026-06-12 From(Party { span: <gift-shop>, quoted: false })"),
        ("returned 2026-06-14 order \"W-0031\"", "Returned 2026-06-14 Order(<W-0031>)"),
        ("returned 2026-06-14 via craft-fair at bench", "Returned 2026-06-14 Via(<craft-fair>) At(<bench>)"),
        (
            "sent-back 2026-03-25 to ridgeline-lumber receipt \"A-1182\"",
            "SentBack 2026-03-25 To(Party { span: <ridgeline-lumber>, quoted: false }) Receipt(<A-1182>)",
        ),
        ("credited 2026-02-15 by wheel-shop", "Credited 2026-02-15 By(Party { span: <wheel-shop>, quoted: false })"),
        ("counted 2026-12-31 at bench", "Counted 2026-12-31 At(<bench>)"),
        ("took-home 2026-12-20", "TookHome 2026-12-20"),
        (
            "gave 2026-12-21 to \"the library raffle\" as donation",
            "Gave 2026-12-21 To(Party { span: <the library raffle>, quoted: true }) As(Donation)",
        ),
        ("gave 2026-12-21 as sample", "Gave 2026-12-21 As(Sample)"),
        ("gave 2026-12-21 as gift", "Gave 2026-12-21 As(Gift)"),
        ("gave 2026-12-21 as thanks", "Gave 2026-12-21 As(Thanks)"),
        ("scrapped 2026-08-02", "Scrapped 2026-08-02"),
        ("scrapped 2026-08-02 batch X-1", "Scrapped 2026-08-02 Batch(<X-1>)"),
        ("used-up 2026-05-03", "UsedUp 2026-05-03"),
        ("used-up 2026-05-03 on rolling-toys", "UsedUp 2026-05-03 On(<rolling-toys>)"),
        ("found 2026-01-24", "Found 2026-01-24"),
        ("contributed 2026-02-01", "Contributed 2026-02-01"),
        (
            "swapped 2026-02-01 with \"M. down the road\"",
            "Swapped 2026-02-01 With(Party { span: <M. down the road>, quoted: true })",
        ),
        (
            "drove 2026-03-02 38 mi on craft-fair \"to the fair and back\"",
            "Drove 2026-03-02 Amount(38 [mi]) On(<craft-fair>) Text(<to the fair and back>)",
        ),
        ("drove 2026-03-02 61.5 km", "Drove 2026-03-02 Amount(61.5 [km])"),
        ("odometer 2026-01-01 41230 mi", "Odometer 2026-01-01 Amount(41230 [mi])"),
        ("retired 2026-10-01 band-saw for 350.00", "Retired 2026-10-01 Subject(<band-saw>) For(350.00, <350.00>)"),
        ("retired 2026-10-01 band-saw", "Retired 2026-10-01 Subject(<band-saw>)"),
        ("statement 2026 from market-site", "Statement year 2026 From(Party { span: <market-site>, quoted: false })"),
        (
            "noted 2026-02-10 \"drum sander borrowed for the weekend\"",
            "Noted 2026-02-10 Text(<drum sander borrowed for the weekend>)",
        ),
        (
            "answered 2026-12-31 \"gift-shop/agent\" \"the shop buys; it is not my agent\"",
            "Answered 2026-12-31 Text(<gift-shop/agent>) Text(<the shop buys; it is not my agent>)",
        ),
        ("closed 2026", "Closed year 2026"),
    ] {
        let book = read(&format!("{line}   # said of the day\n"));
        assert_eq!(book.found, [], "{line}");
        let heads: Vec<String> = book.syntax.entries.iter().map(|entry| book.head(entry)).collect();
        assert_eq!(heads, [expected], "{line}");
        let entry = book.syntax.entries.first().expect("one entry");
        assert_eq!(book.text(entry.head), line);
        assert!(!entry.damaged);
    }
}

#[test]
fn lines_of_opened_say_what_they_say() {
    lines_below(
        "opened 2026-01-01",
        &[
            ("18.5 bf red-oak for 103.60", "Bare: 18.5 [bf] red-oak, For(103.60)"),
            ("5 serving-board for 71.25, 6h", "Bare: 5 serving-board, For(71.25), Hours(360.000000)"),
            ("61.50 on batch VS-019", "61.50 OnBatch(<VS-019>)"),
            ("61.50 on VS-019", "61.50 OnBatch(<VS-019>)"),
            ("1 drill-press for 500.00, already recovered 281.35", "Bare: 1 drill-press, For(500.00), AlreadyRecovered(281.35)"),
            (
                "88.20 owed by gift-shop for order \"G-11\"",
                "88.20 OwedBy(Party { span: <gift-shop>, quoted: false }, Some(Order(<G-11>)))",
            ),
            (
                "40.00 owed to ridgeline-lumber for receipt \"A-1100\"",
                "40.00 OwedTo(Party { span: <ridgeline-lumber>, quoted: false }, Some(Receipt(<A-1100>)))",
            ),
            ("40.00 owed to \"a friend\"", "40.00 OwedTo(Party { span: <a friend>, quoted: true }, None)"),
        ],
    );
}

#[test]
fn lines_of_bought_say_what_they_say() {
    lines_below(
        "bought 2026-03-02 from ridgeline-lumber receipt \"A-1182\"",
        &[
            ("31.5 bf red-oak at 5.90", "Bare: 31.5 [bf] red-oak, At(5.90)"),
            ("31 bf maple, counted 29 bf, for 197.20", "Bare: 31 [bf] maple, Counted 29 [bf], For(197.20)"),
            (
                "4 boards walnut, 4/4 x 6 1/2 x 48 in, at 11.20 per bf",
                "Bare: 4 [boards] walnut (1q x 6.5 x 48 in), AtPer(11.20, <bf>)",
            ),
            ("2 bags wheel-40 for 23.00", "Bare: 2 [bags] wheel-40, For(23.00)"),
            ("3 packs blade-no7 for 17.97, lot BL-7", "Bare: 3 [packs] blade-no7, For(17.97), Lot(<BL-7>)"),
            (
                "1 can clear-oil for 19.50, lot 23-0417, certificate \"certs/oil.pdf\"",
                "Bare: 1 [can] clear-oil, For(19.50), Lot(<23-0417>), Certificate(<certs/oil.pdf>)",
            ),
            ("1 band-saw for 899.00", "Bare: 1 band-saw, For(899.00)"),
            ("1 licence cart-pattern for 12.00", "Bare: 1 licence cart-pattern, For(12.00)"),
            ("1 license cart-pattern for 12.00", "Bare: 1 licence cart-pattern, For(12.00)"),
            ("18.40 for shop-supplies \"masking paper\"", "18.40 For(<shop-supplies>) \"masking paper\""),
            ("6.49 for home \"light bulb\"", "6.49 ForHome \"light bulb\""),
            ("freight 18.00 shared by value", "Freight { shipping: false, money: 18.00, shared: Some(Value) }"),
            ("freight 18.00 shared by quantity", "Freight { shipping: false, money: 18.00, shared: Some(Quantity) }"),
            ("freight 18.00, shared by weight", "Freight { shipping: false, money: 18.00, shared: Some(Weight) }"),
            ("shipping 18.00", "Freight { shipping: true, money: 18.00, shared: None }"),
            ("sales-tax 9.31", "SalesTax { figure: Money(9.31), to: None }"),
            ("discount 5.00", "Discount(Money(5.00), None)"),
            ("discount 10% shared by quantity", "Discount(Percent(10), Some(Quantity))"),
            ("total 1498.79", "Total 1498.79"),
            ("paid 600.00 on 2026-03-02", "Paid { money: Some(600.00), date: Some(2026-03-02) }"),
            ("paid 2026-03-30", "Paid { money: None, date: Some(2026-03-30) }"),
            ("paid 600.00", "Paid { money: Some(600.00), date: None }"),
            ("paid", "Paid { money: None, date: None }"),
            ("unpaid", "Plain(Unpaid)"),
            ("credit 22.90", "Credit 22.90"),
            ("file \"receipts/2026/A-1182.pdf\"", "File(<receipts/2026/A-1182.pdf>)"),
            ("note \"the good pile\"", "Note(<the good pile>)"),
            ("receipt \"A-7\"", "Receipt(<A-7>)"),
            ("receipt A-7", "Receipt(<A-7>)"),
            ("1 EUR = 1.0842", "ExchangeRate { currency: <EUR>, rate: 1.0842 }"),
            ("3.50 on batch JIG-1 \"hinge\"", "3.50 OnBatch(<JIG-1>) \"hinge\""),
            ("12 wheel-40 for 3.00, 24 wheel-60 at 0.40", "Bare: 12 wheel-40, For(3.00) + 24 wheel-60, At(0.40)"),
            ("4 boards walnut, 4/4 x 6 1/2 in x 7 ft, for 80.00", "Bare: 4 [boards] walnut (1q x 6.5 in x 7 ft), For(80.00)"),
            ("1 piece baltic-6, 12 × 24 in for 9.00", "Bare: 1 [piece] baltic-6 (12 x 24 in), For(9.00)"),
            (
                "1 board poplar, 5/4 x 150 x 2400 mm, for 9.00, 24 wheel-40 for 8.00",
                "Bare: 1 [board] poplar (1.25q x 150 x 2400 mm), For(9.00) + 24 wheel-40, For(8.00)",
            ),
        ],
    );
}

#[test]
fn lines_of_paid_and_received_say_what_they_say() {
    lines_below(
        "paid 2026-03-05 to county-fair",
        &[
            ("85.00 for booth-fee on craft-fair", "85.00 For(<booth-fee>), On(<craft-fair>)"),
            (
                "85.00 for booth-fee on craft-fair, meant for 2027-02-14",
                "85.00 For(<booth-fee>), On(<craft-fair>), MeantFor(2027-02-14)",
            ),
            ("600.00 for receipt \"A-1182\"", "600.00 Settles([Receipt(<A-1182>)])"),
            ("600.00 for receipt A-1182 \"the rest of it\"", "600.00 Settles([Receipt(<A-1182>)]) \"the rest of it\""),
            ("150.52 for bought 2026-06-05", "150.52 Settles([Bought(2026-06-05, <bought 2026-06-05>)])"),
            ("48.90 for sales-tax to ny-state, allowed 0.74", "48.90 SalesTax { to: Some(<ny-state>), allowed: Some(0.74) }"),
            ("48.90 for sales-tax", "48.90 SalesTax { to: None, allowed: None }"),
            ("48.90 for sales-tax allowed 0.74", "48.90 SalesTax { to: None, allowed: Some(0.74) }"),
            ("12.00 for sam", "12.00 For(<sam>)"),
            ("3.00 for cart-pattern", "3.00 For(<cart-pattern>)"),
        ],
    );
    lines_below(
        "received 2026-06-20 from market-site",
        &[
            ("60.00 for order \"C-07\"", "60.00 Settles([Order(<C-07>)])"),
            ("60.00 for order C-07", "60.00 Settles([Order(<C-07>)])"),
            ("151.20 for sold 2026-05-31", "151.20 Settles([Sold(2026-05-31, <sold 2026-05-31>)])"),
            ("412.88 for orders \"M-1\", \"M-2\"", "412.88 Settles([Order(<M-1>), Order(<M-2>)])"),
            ("412.88 for orders M-1, \"M-2\" \"in June\"", "412.88 Settles([Order(<M-1>), Order(<M-2>)]) \"in June\""),
            ("112.40 for referrals", "112.40 For(<referrals>)"),
        ],
    );
}

#[test]
fn lines_of_batches_say_what_they_say() {
    lines_below(
        "built 2026-03-09 batch PC-014",
        &[
            ("used 5.2 bf red-oak lot RO-1, 24 wheel-40", "Used: 5.2 [bf] red-oak, Lot(<RO-1>) + 24 wheel-40"),
            ("used 80 ml clear-oil", "Used: 80 [ml] clear-oil"),
            ("used 2 sq ft baltic-12", "Used: 2 [sq ft] baltic-12"),
            ("used as planned", "Plain(UsedAsPlanned)"),
            ("took 1h 48m cutting, 1h 10m sanding", "Took: 108 minutes cutting + 70 minutes sanding"),
            ("took 40 min cutting, 1 h 20 min sanding", "Took: 40 minutes cutting + 80 minutes sanding"),
            ("took 40 m cutting, 1 h 20 m sanding", "Took: 40 minutes cutting + 80 minutes sanding"),
            (
                "took 1.5h cutting, 1 1/2 h sanding, 2 h packing",
                "Took: 90 minutes cutting + 90 minutes sanding + 120 minutes packing",
            ),
            ("took 2 h", "Took: 120 minutes "),
            ("took 3h", "Took: 180 minutes "),
            ("took as planned", "Plain(TookAsPlanned)"),
            ("took 40m finishing by sam", "Took: 40 minutes finishing, By(Party { span: <sam>, quoted: false })"),
            (
                "took 40m finishing by jamie at 18.00 per h",
                "Took: 40 minutes finishing, By(Party { span: <jamie>, quoted: false }), AtPer(18.00, <h>)",
            ),
            (
                "took 40m finishing by jamie for 45.00",
                "Took: 40 minutes finishing, By(Party { span: <jamie>, quoted: false }), For(45.00)",
            ),
            ("made 6 pull-cart", "Made: 6 pull-cart"),
            ("made 6 pull-cart as planned", "Made: 6 pull-cart, AsPlanned"),
            ("made nothing \"both tries burnt\"", "Plain(MadeNothing) \"both tries burnt\""),
            ("made 48 block-house, share 3", "Made: 48 block-house, Share(3)"),
            ("made 24 block-tree share 1, 12 block-door, share 2", "Made: 24 block-tree, Share(1) + 12 block-door, Share(2)"),
            ("shared by price", "Plain(SharedByPrice)"),
            ("shared by count", "Plain(SharedByCount)"),
            ("made 6 spoon, 12 spinning-top, shared by count", "Made: 6 spoon + 12 spinning-top / Plain(SharedByCount)"),
            ("lost 1 pull-cart \"split at the axle hole\"", "Lost: 1 pull-cart \"split at the axle hole\""),
            ("lost 1 pull-cart, charged off", "Lost: 1 pull-cart, ChargedOff"),
            ("kept 0.6 bf oak-offcut worth 1.20", "Kept: 0.6 [bf] oak-offcut, Worth(1.20)"),
            ("aims at 20 village-set", "AimsAt: 20 village-set"),
            ("made 12 village-set, the rest 35%", "Made: 12 village-set, TheRest(35)"),
            ("nothing else", "Plain(NothingElse)"),
        ],
    );
}

#[test]
fn lines_of_worked_say_what_they_say() {
    lines_below(
        "worked 2026-03-08",
        &[
            ("45m sanding on PC-014", "Bare: 45 minutes sanding, On(<PC-014>)"),
            ("45m sanding on batch PC-014", "Bare: 45 minutes sanding, On(<PC-014>)"),
            ("1h 20m design on rolling-toys", "Bare: 80 minutes design, On(<rolling-toys>)"),
            ("6h selling on craft-fair", "Bare: 360 minutes selling, On(<craft-fair>)"),
            ("30m general", "Bare: 30 minutes general"),
            (
                "30 min general, 45m sanding on 7-B by sam",
                "Bare: 30 minutes general + 45 minutes sanding, On(<7-B>), By(Party { span: <sam>, quoted: false })",
            ),
        ],
    );
}

#[test]
fn lines_of_sold_say_what_they_say() {
    lines_below(
        "sold 2026-03-20 via web-page order \"W-0031\"",
        &[
            ("to \"J. in Dover\"", "To(Party { span: <J. in Dover>, quoted: true })"),
            ("2 pull-cart", "Bare: 2 pull-cart"),
            ("1 village-set for 60.00", "Bare: 1 village-set, For(60.00)"),
            ("2 pull-cart, 1 village-set", "Bare: 2 pull-cart + 1 village-set"),
            ("120.00 for engraving", "120.00 For(<engraving>)"),
            ("discount 10%", "Discount(Percent(10), None)"),
            ("shipping 9.50", "Freight { shipping: true, money: 9.50, shared: None }"),
            ("sales-tax 8.40", "SalesTax { figure: Money(8.40), to: None }"),
            ("sales-tax 8.40 to ny-state", "SalesTax { figure: Money(8.40), to: Some(<ny-state>) }"),
            ("sales-tax 6% included", "SalesTax { figure: Percent(6), to: None }"),
            ("sales-tax 6% included to ny-state", "SalesTax { figure: Percent(6), to: Some(<ny-state>) }"),
            ("postage 7.85", "Postage 7.85"),
            ("packed with 1 box-small", "PackedWith: 1 box-small"),
            ("packed with 1 box-small, 2 ft double-tape", "PackedWith: 1 box-small + 2 [ft] double-tape"),
            ("fee 8.56", "Fee 8.56"),
            ("extra fee 3.00 \"tags\"", "ExtraFee 3.00 \"tags\""),
            ("total 276.90", "Total 276.90"),
            ("paid 2026-03-22", "Paid { money: None, date: Some(2026-03-22) }"),
            ("available 2026-03-21", "Available(2026-03-21)"),
            ("7 cutting-board at 64.00", "Bare: 7 cutting-board, At(64.00)"),
            ("cash 200.00", "Cash 200.00"),
            ("card 397.00", "Card 397.00"),
            ("check 50.00", "Check 50.00"),
            ("over 4.00", "Over 4.00"),
            ("short 4.00", "Short 4.00"),
            ("settled 151.20", "Settled 151.20"),
            ("12 cutting-board, 7 back", "Bare: 12 cutting-board, Back(7)"),
            ("12 cutting-board at 64.00 7 back, 3 pull-cart", "Bare: 12 cutting-board, At(64.00), Back(7) + 3 pull-cart"),
        ],
    );
}

#[test]
fn lines_of_what_comes_back_and_leaves_say_what_they_say() {
    lines_below(
        "returned 2026-06-14 order \"W-0031\"",
        &[
            (
                "1 pull-cart, refunded 42.00, back to stock",
                "Bare: 1 pull-cart, Refunded { money: 42.00, as_credit: false }, BackToStock",
            ),
            ("1 pull-cart refunded 42.00 scrapped", "Bare: 1 pull-cart, Refunded { money: 42.00, as_credit: false }, Scrapped"),
            (
                "1 pull-cart, left with buyer, refunded 42.00",
                "Bare: 1 pull-cart, LeftWithBuyer, Refunded { money: 42.00, as_credit: false }",
            ),
            ("refunded 10.00 \"a scratch\"", "Refunded 10.00 \"a scratch\""),
            ("sales-tax 2.52", "SalesTax { figure: Money(2.52), to: None }"),
            ("fee back 1.26", "FeeBack 1.26"),
            ("3.2 bf red-oak, refunded 18.88", "Bare: 3.2 [bf] red-oak, Refunded { money: 18.88, as_credit: false }"),
            ("3.2 bf red-oak, refunded 22.90 as credit", "Bare: 3.2 [bf] red-oak, Refunded { money: 22.90, as_credit: true }"),
            ("5.00 off wheel-40 \"12 cracked\"", "5.00 Off(<wheel-40>) \"12 cracked\""),
            ("1 pull-cart worth 42.00", "Bare: 1 pull-cart, Worth(42.00)"),
            ("2.0 bf poplar \"worm\"", "Bare: 2.0 [bf] poplar \"worm\""),
            ("2 blade-no7 \"cutting shelf brackets\"", "Bare: 2 blade-no7 \"cutting shelf brackets\""),
            ("20 bf walnut for 80.00", "Bare: 20 [bf] walnut, For(80.00)"),
            ("gave 2 bird-house at 38.00", "Gave: 2 bird-house, At(38.00)"),
            ("got 9 bf walnut", "Got: 9 [bf] walnut"),
            ("gross 4312.40", "Gross 4312.40"),
            ("net 8214.33", "Net 8214.33"),
            ("seal \"…\"", "Seal(<…>)"),
        ],
    );
}
