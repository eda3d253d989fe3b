//! Words of which one begins another: neither may swallow the other, with or without something behind it.

use super::describe::lines_below;
use super::read;
use crate::syntax::words::is_word_of_language;
use crate::syntax::{DetailKind, Verb};

#[test]
fn a_verb_that_begins_another_stays_apart_from_it() {
    for (line, verb) in [
        ("sent 2026-04-01 to gift-shop", Verb::Sent),
        ("sent-back 2026-04-01 to gift-shop", Verb::SentBack),
        ("found 2026-04-01", Verb::Found),
        ("counted 2026-04-01", Verb::Counted),
        ("contributed 2026-04-01", Verb::Contributed),
        ("continued 2026-04-01 batch A", Verb::Continued),
        ("credited 2026-04-01 by x-1", Verb::Credited),
        ("started 2026-04-01 batch A", Verb::Started),
        ("statement 2026 from market", Verb::Statement),
        ("returned 2026-04-01 via fair", Verb::Returned),
        ("retired 2026-04-01 band-saw", Verb::Retired),
        ("received 2026-04-01 from fair", Verb::Received),
        ("brought-back 2026-04-01 from fair", Verb::BroughtBack),
        ("bought 2026-04-01", Verb::Bought),
        ("scrapped 2026-04-01", Verb::Scrapped),
        ("sold 2026-04-01 via fair", Verb::Sold),
        ("swapped 2026-04-01 with sam", Verb::Swapped),
    ] {
        let book = read(&format!("{line}\n"));
        assert_eq!(book.found, [], "{line}");
        assert_eq!(book.syntax.entries.first().map(|entry| entry.verb), Some(verb), "{line}");
    }
}

#[test]
fn a_detail_word_that_begins_a_verb_or_another_word_stays_apart_from_it() {
    lines_below(
        "sold 2026-03-20 via web-page",
        &[
            ("used 1 cart", "Used: 1 cart"),
            ("took 1h cutting", "Took: 60 minutes cutting"),
            ("took as planned", "Plain(TookAsPlanned)"),
            ("takes 1h cutting", "Takes: 60 minutes cutting"),
            ("made 1 cart", "Made: 1 cart"),
            ("made nothing", "Plain(MadeNothing)"),
            ("got 1 cart", "Got: 1 cart"),
            ("gave 1 cart", "Gave: 1 cart"),
            ("gave 2026 cart", "Gave: 2026 cart"),
            ("card 5.00", "Card 5.00"),
            ("cash 5.00", "Cash 5.00"),
            ("cash basis", "Plain(CashBasis)"),
            ("credit 5.00", "Credit 5.00"),
            ("check 5.00", "Check 5.00"),
            ("costs 5.00 per h", "Costs(5.00)"),
            ("costing fifo", "Plain(CostingFifo)"),
            ("over 5.00", "Over 5.00"),
            ("overhead 5.00 per h", "OverheadRate(5.00)"),
            ("overhead from expenses", "Plain(OverheadFromExpenses)"),
            ("owner time 5.00 per h", "OwnerTime(5.00)"),
            ("short 5.00", "Short 5.00"),
            ("short stock is an error", "Plain(ShortStockError)"),
            ("shared by price", "Plain(SharedByPrice)"),
            ("fee 5.00", "Fee 5.00"),
            ("fee back 5.00", "FeeBack 5.00"),
            ("extra fee 5.00", "ExtraFee 5.00"),
            ("paid later", "Plain(PaidLater)"),
            ("pays later", "Plain(PaysLater)"),
            ("paid", "Paid { money: None, date: None }"),
            ("unpaid", "Plain(Unpaid)"),
            ("packed with 1 box", "PackedWith: 1 box"),
            ("pattern p", "Pattern(<p>)"),
            ("price 5.00", "Price 5.00"),
            ("prices include sales-tax 6%", "PricesInclude(6)"),
            ("home", "Plain(Home)"),
            ("home workshop 5% of house costs", "HomeWorkshop None Some(5) None"),
            ("net 5.00", "Net 5.00"),
            ("needs 1 box", "Needs: 1 box"),
            ("no bonus", "Plain(NoBonus)"),
            ("note \"a\"", "Note(<a>)"),
            ("nothing else", "Plain(NothingElse)"),
            ("whole dollars", "Plain(WholeDollars)"),
            ("wholesale 5%", "Wholesale(5)"),
            ("counts as overhead", "Plain(CountsAsOverhead)"),
            ("consignment 5%", "Consignment(5)"),
            ("refunded 5.00", "Refunded 5.00"),
            ("recovered over 5 years", "RecoveredOver(5)"),
            ("reorder at 5 ea", "ReorderAt 5 [ea]"),
            ("expensed at once", "Plain(ExpensedAtOnce)"),
            ("expensed under section 179", "Section179(None)"),
            ("sales-tax 5.00", "SalesTax { figure: Money(5.00), to: None }"),
            ("for children from 3 years", "ForChildren { from_months: 36 }"),
            ("form line 9", "FormLine(<9>)"),
            ("from oak", "FromMaterial(<oak>)"),
            ("freight 5.00", "Freight { shipping: false, money: 5.00, shared: None }"),
        ],
    );
}

#[test]
fn a_word_of_an_item_that_begins_another_stays_apart_from_it() {
    lines_below(
        "sold 2026-03-20 via web-page",
        &[
            ("1 cart share 3", "Bare: 1 cart, Share(3)"),
            ("2 cart back to stock", "Bare: 2 cart, BackToStock"),
            ("2 cart 1 back back to stock", "Bare: 2 cart, Back(1), BackToStock"),
            ("5 m rope", "Bare: 5 [m] rope"),
            ("5 min cutting", "Bare: 5 minutes cutting"),
            ("5m cutting", "Bare: 5 minutes cutting"),
            ("5 mm rod", "Bare: 5 [mm] rod"),
            ("5 mi rope", "Bare: 5 [mi] rope"),
            ("5 h cutting", "Bare: 300 minutes cutting"),
            ("5 hooks", "Bare: 5 hooks"),
            ("1 cart at 5.00", "Bare: 1 cart, At(5.00)"),
            ("1 cart as planned", "Bare: 1 cart, AsPlanned"),
            ("1 cart already recovered 5", "Bare: 1 cart, AlreadyRecovered(5)"),
            ("1 cart counted 2 ea", "Bare: 1 cart, Counted 2 [ea]"),
            ("1 cart certificate \"c\"", "Bare: 1 cart, Certificate(<c>)"),
            ("1 cart charged off", "Bare: 1 cart, ChargedOff"),
            ("1 cart lot L left with buyer", "Bare: 1 cart, Lot(<L>), LeftWithBuyer"),
            ("1 cart scrapped share 2", "Bare: 1 cart, Scrapped, Share(2)"),
            ("1 offcut, 1 orderbox, 1 tool, 1 thermostat", "Bare: 1 offcut + 1 orderbox + 1 tool + 1 thermostat"),
            ("1 sheet sheeting, 1 lotion, 1 backboard", "Bare: 1 [sheet] sheeting + 1 lotion + 1 backboard"),
            ("1 order-book, 1 shop-vac, 1 home-sign", "Bare: 1 order-book + 1 shop-vac + 1 home-sign"),
            ("5.00 for order-book", "5.00 For(<order-book>)"),
            ("5.00 for home-sign", "5.00 For(<home-sign>)"),
            ("5.00 for receipts", "5.00 For(<receipts>)"),
            ("5.00 for bought-in", "5.00 For(<bought-in>)"),
            ("5.00 off offcut", "5.00 Off(<offcut>)"),
            ("5.00 for orders A, B", "5.00 Settles([Order(<A>), Order(<B>)])"),
            ("5.00 for order A", "5.00 Settles([Order(<A>)])"),
            ("5.00 owed by sam", "5.00 OwedBy(Party { span: <sam>, quoted: false }, None)"),
        ],
    );
}

#[test]
fn a_line_with_a_name_is_a_detail_and_with_a_text_a_head() {
    let book = read("product cart \"Cart\"\n    line toys\n    pattern p\nline toys \"Toys\"\npattern p \"P\"\n");
    assert_eq!(book.found, []);
    assert_eq!(book.syntax.definitions.len(), 3);
    let kinds: Vec<&DetailKind> = book.syntax.definitions.iter().flat_map(|one| &one.details).map(|one| &one.kind).collect();
    assert!(matches!(kinds[..], [DetailKind::Line(_), DetailKind::Pattern(_)]));
}

/// The words that are never a name or a code, the measuring units aside.
const RESERVED: [&str; 38] = [
    "already",
    "as",
    "at",
    "back",
    "batch",
    "by",
    "certificate",
    "charged",
    "counted",
    "for",
    "from",
    "home",
    "left",
    "lot",
    "meant",
    "of",
    "off",
    "on",
    "order",
    "orders",
    "owed",
    "per",
    "receipt",
    "refunded",
    "sales-tax",
    "scrapped",
    "share",
    "shared",
    "shop",
    "the",
    "to",
    "via",
    "with",
    "worth",
    "x",
    "sq",
    "cu",
    "fl",
];

#[test]
fn no_reserved_word_is_read_as_a_name() {
    for word in RESERVED {
        assert!(is_word_of_language(word), "{word}");
        if matches!(word, "sq" | "cu" | "fl") {
            continue;
        }
        let book = read(&format!("sold 2026-03-20 via fair\n    1 {word}\n"));
        assert_eq!(book.found.len(), 1, "{word}");
        let book = read(&format!("product {word} \"A title\"\n"));
        assert_eq!(book.found.len(), 1, "{word}");
        let book = read(&format!("built 2026-03-20 batch {word}\n"));
        assert_eq!(book.found.len(), 1, "{word}");
    }
    for word in ["in", "ft", "bf", "ml", "kg", "lb", "h", "min", "ea", "sq", "cu", "fl"] {
        let book = read(&format!("material {word} \"A title\"\n"));
        assert_eq!(book.found.len(), 1, "{word}");
        assert_eq!(book.found.first().map(|one| one.code.0), Some(116), "{word}");
    }
    for word in ["board", "piece", "pair", "dozen", "gross", "licence", "sheet", "bag"] {
        let book = read(&format!("material {word} \"A title\"\n"));
        assert_eq!(book.found, [], "{word}");
    }
}
