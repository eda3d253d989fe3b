//! The same said in other turns: without commas, in another order, with memos, with other names, wherever the language allows.

use super::describe::lines_below;
use super::read;

#[test]
fn what_is_said_of_an_item_stands_in_any_order_with_or_without_commas() {
    lines_below(
        "bought 2026-03-02 from ridgeline-lumber",
        &[
            (
                "4 boards walnut 4/4 x 6 1/2 x 48 in at 11.20 per bf",
                "Bare: 4 [boards] walnut (1q x 6.5 x 48 in), AtPer(11.20, <bf>)",
            ),
            (
                "4 boards walnut for 80.00, 4/4 x 6 x 48 in, lot W-1",
                "Bare: 4 [boards] walnut (1q x 6 x 48 in), For(80.00), Lot(<W-1>)",
            ),
            ("4 boards walnut lot 7 for 80.00 4/4 x 6 x 48 in", "Bare: 4 [boards] walnut (1q x 6 x 48 in), Lot(<7>), For(80.00)"),
            ("1 piece ply, 12 in x 2 ft for 3.00", "Bare: 1 [piece] ply (12 in x 2 ft), For(3.00)"),
            ("1 piece ply 600 × 300 mm for 3.00", "Bare: 1 [piece] ply (600 x 300 mm), For(3.00)"),
            ("2 sq ft cloth at 1.10, 3 sq ft felt for 2.00", "Bare: 2 [sq ft] cloth, At(1.10) + 3 [sq ft] felt, For(2.00)"),
            (
                "16 fl oz oil for 9.00, 2 cu ft foam for 3.00 , 1 cart for 1",
                "Bare: 16 [fl oz] oil, For(9.00) + 2 [cu ft] foam, For(3.00) + 1 cart, For(1)",
            ),
            ("2 licences cart-pattern for 24.00", "Bare: 2 licence cart-pattern, For(24.00)"),
            (
                "1 can clear-oil certificate \"a, b.pdf\" lot 23-0417 for 19.50",
                "Bare: 1 [can] clear-oil, Certificate(<a, b.pdf>), Lot(<23-0417>), For(19.50)",
            ),
            ("31 bf maple counted 29 1/2 bf for 197.20", "Bare: 31 [bf] maple, Counted 29.5 [bf], For(197.20)"),
            ("1 band-saw for 899.00 \"used, good\"", "Bare: 1 band-saw, For(899.00) \"used, good\""),
            ("5 board at 2.00", "Bare: 5 board, At(2.00)"),
            ("8 bag at 2.00", "Bare: 8 bag, At(2.00)"),
            ("1 1/2 dozen knobs for 9.00", "Bare: 1.5 [dozen] knobs, For(9.00)"),
            ("5/4 bf oak for 9.00", "Bare: 1.25 [bf] oak, For(9.00)"),
        ],
    );
    lines_below(
        "built 2026-03-09 batch PC-014",
        &[
            ("used 2 boards walnut, 4/4 x 6 x 48 in, 24 wheel-40", "Used: 2 [boards] walnut (1q x 6 x 48 in) + 24 wheel-40"),
            ("used 1 piece ply 12 x 24 in lot P-1, 3 ml oil", "Used: 1 [piece] ply (12 x 24 in), Lot(<P-1>) + 3 [ml] oil"),
            ("kept 2 pieces offcut, 3/4 x 3 x 20 in, worth 1.20", "Kept: 2 [pieces] offcut (0.75q x 3 x 20 in), Worth(1.20)"),
            (
                "took 40m finishing by sam, 20m sanding by jamie at 18.00 per h \"late\"",
                "Took: 40 minutes finishing, By(Party { span: <sam>, quoted: false }) + 20 minutes sanding, By(Party { span: <jamie>, quoted: false }), AtPer(18.00, <h>) \"late\"",
            ),
            ("took 1h cutting, 45m, 30m sanding", "Took: 60 minutes cutting + 45 minutes  + 30 minutes sanding"),
            ("made 6 pull-cart as planned \"nice\"", "Made: 6 pull-cart, AsPlanned \"nice\""),
            ("used 3 bf oak lot pull-cart/2026-03-09", "Used: 3 [bf] oak, Lot(<pull-cart/2026-03-09>)"),
        ],
    );
}

#[test]
fn a_time_of_several_words_stands_wherever_a_time_does() {
    lines_below(
        "worked 2026-03-08",
        &[
            ("45 min sanding on PC-014", "Bare: 45 minutes sanding, On(<PC-014>)"),
            ("1 h 20 min design", "Bare: 80 minutes design"),
            (
                "1h 20m design on rolling-toys by sam for 20.00",
                "Bare: 80 minutes design, On(<rolling-toys>), By(Party { span: <sam>, quoted: false }), For(20.00)",
            ),
            ("45m sanding, 30m", "Bare: 45 minutes sanding + 30 minutes "),
            ("1/2 h general", "Bare: 30 minutes general"),
            ("1 1/2h general", "Bare: 90 minutes general"),
        ],
    );
    lines_below(
        "opened 2026-01-01",
        &[
            ("5 board-a for 71.25, 6 h", "Bare: 5 board-a, For(71.25), Hours(360.000000)"),
            ("5 board-a for 71.25 1h 30m", "Bare: 5 board-a, For(71.25), Hours(90.000000)"),
            (
                "5 board-a for 71.25, 1 h 30 min, 2 cart for 3.00",
                "Bare: 5 board-a, For(71.25), Hours(90.000000) + 2 cart, For(3.00)",
            ),
            ("5 board-a, 6h, for 71.25", "Bare: 5 board-a, Hours(360.000000), For(71.25)"),
        ],
    );
}

#[test]
fn a_memo_may_end_any_detail_but_line_and_pattern() {
    for line in [
        "paid 2026-03-30",
        "paid",
        "unpaid",
        "total 5.00",
        "freight 5.00 shared by value",
        "sales-tax 5.00 to ny",
        "discount 10%",
        "file \"a.pdf\"",
        "note \"a\"",
        "receipt A-1",
        "1 EUR = 1.08",
        "5.00 for home",
        "5.00 on batch B",
        "credit 5.00",
        "1 oak for 5.00",
    ] {
        let book = read(&format!("bought 2026-03-02\n    {line} \"a memo\"\n"));
        assert_eq!(book.found, [], "{line}");
        assert_eq!(book.text(book.syntax.entries[0].details[0].memo), "a memo", "{line}");
    }
    let book = read("product cart \"Cart\"\n    price 5.00 \"a memo\"\n    for children from 3 years \"a memo\"\n");
    assert_eq!(book.found, []);
    let book = read("product cart \"Cart\"\n    line toys \"a memo\"\n");
    assert_eq!((book.found.len(), book.syntax.definitions.len()), (1, 2));
}

#[test]
fn names_may_have_marks_and_joints_and_letters_of_any_script() {
    for name in ["red-oak-4/4", "blade-no.7", "é-box", "e\u{301}-box", "Ширина", "木", "ｗood", "x-1", "at-home", "a", "A/B.c-d9"]
    {
        let book = read(&format!(
            "material {name} \"A title\"\n    measured in ea\nused-up 2026-03-02\n    1 {name}, 2 {name} lot {name}\n"
        ));
        assert_eq!(book.found, [], "{name}");
        assert_eq!(book.text(book.syntax.definitions[0].name), name);
    }
    for name in ["4/4-oak", "-oak", "oak-", "oak--red", "oak_red", "oak.", "\u{301}oak", "oak#1", "o\u{200b}ak"] {
        let book = read(&format!("material {name} \"A title\"\n"));
        assert_eq!(book.found.len(), 1, "{name}");
    }
}

#[test]
fn parts_of_a_head_stand_in_any_order() {
    let book = read(
        "sold 2026-03-20 order \"W-1\" at bench via web-page\nbought 2026-03-20 receipt \"Smith, J. 4\" from \"Smith, J.\"\n",
    );
    let heads: Vec<String> = book.syntax.entries.iter().map(|entry| book.head(entry)).collect();
    assert_eq!(
        heads,
        [
            "Sold 2026-03-20 Order(<W-1>) At(<bench>) Via(<web-page>)",
            "Bought 2026-03-20 Receipt(<Smith, J. 4>) From(Party { span: <Smith, J.>, quoted: true })"
        ]
    );
}

#[test]
fn a_code_is_no_reserved_word_and_no_date() {
    for line in
        ["1 oak lot at", "1 oak lot 2026-03-02", "1 oak lot lot", "5.00 on 2026-03-05", "5.00 on batch the", "1 oak lot on 5"]
    {
        let book = read(&format!("opened 2026-03-02\n    {line}\n"));
        assert_eq!(book.found.len(), 1, "{line}");
    }
    for code in ["23-0417", "7", "A", "2026-03", "2026", "20260302", "2026-03-02b", "X.1/2"] {
        let book =
            read(&format!("opened 2026-03-02\n    1 oak for 5.00, lot {code}\n    5.00 on batch {code}\n    5.00 on {code}\n"));
        assert_eq!(book.found, [], "{code}");
    }
}
