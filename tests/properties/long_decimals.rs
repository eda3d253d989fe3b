//! Quantities of ten to twenty decimals keep every one of them: bought, used, sent, counted and pooled. What can't be kept is a mistake at
//! its entry.

use std::fmt::Write as _;

use proptest::prelude::*;

use crate::compiled::{Compiled, compile_texts};
use crate::how_many::books;
use kerfbook::diagnostics::Severity;

/// A quantity in units of the twentieth decimal.
type Tiny = i128;

const ONE: Tiny = 100_000_000_000_000_000_000;

/// What happens: which entry, how many decimals its quantity has, and the digits.
type Turn = (u8, u32, u64, u64);

fn text(quantity: Tiny) -> String {
    let written = format!("{}.{:020}", quantity / ONE, quantity % ONE);
    written.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A quantity below a bound, of as many decimals as asked for; never zero.
fn below(bound: Tiny, decimals: u32, high: u64, low: u64) -> Tiny {
    let drawn = (Tiny::from(high >> 1) << 64 | Tiny::from(low)).rem_euclid(bound.max(1));
    let step = 10_i128.pow(20 - decimals);
    (drawn / step * step).max(step)
}

/// A book, and what it must leave on the bench, in the barn and in the batch's used quantity.
fn book(costing: &str, turns: &[Turn]) -> (String, Tiny, Tiny) {
    let mut book = format!(
        "shop \"Wren & Gable Woodshop\"\n    currency USD\n    costing {costing}\nplace bench \"Bench\"\n    home\nplace barn \"Barn\"\n\
         material oak \"Oak\"\n    measured in bf\nproduct cart \"Cart\"\nopened 2026-01-01\n    1000.00000000000000000001 bf oak for 5432.10\n"
    );
    let (mut bench, mut barn) = (1000 * ONE + 1, 0);
    for (at, (kind, decimals, high, low)) in turns.iter().enumerate() {
        let day = format!("2026-{:02}-{:02}", 2 + at / 28, 1 + at % 28);
        let much = below(100 * ONE, *decimals, *high, *low);
        let here = below(bench.max(1), *decimals, *high, *low).min(much);
        let leaves = here < bench;
        let line = format!("    {} bf oak", text(here));
        match kind {
            0 | 1 => {
                bench += much;
                writeln!(book, "bought {day} from the-yard\n    {} bf oak for 10.01", text(much))
            }
            2 => {
                bench = below((2 * bench).min(100_000 * ONE), *decimals, *low, *high);
                writeln!(book, "counted {day}\n    {} bf oak", text(bench))
            }
            _ if !leaves => Ok(()),
            3 => {
                bench -= here;
                barn += here;
                writeln!(book, "sent {day} to barn\n{line}")
            }
            4 => {
                bench -= here;
                writeln!(book, "built {day} batch C-{at}\n    used {} bf oak\n    made 3 cart", text(here))
            }
            _ => {
                bench -= here;
                writeln!(book, "{} {day}\n{line}", if *kind == 5 { "scrapped" } else { "used-up" })
            }
        }
        .expect("text takes text");
    }
    (book, bench, barn)
}

fn on_hand(compiled: &Compiled, place: &str) -> Tiny {
    let here = compiled.costed.stock.iter().filter(|lot| {
        let named = (&compiled.book.thing(lot.thing).named.name, &compiled.book.places[lot.place.index()].named.name);
        named == (&"oak".to_owned(), &place.to_owned())
    });
    here.map(|lot| lot.quantity.mantissa() * 10_i128.pow(20 - lot.quantity.scale())).sum()
}

proptest! {
    #![proptest_config(books(64))]

    #[test]
    fn no_decimal_is_lost(
        average in any::<bool>(),
        turns in prop::collection::vec((0..7u8, 10..=20u32, any::<u64>(), any::<u64>()), 1..60),
    ) {
        let (written, bench, barn) = book(if average { "average" } else { "fifo" }, &turns);
        let compiled = compile_texts(&[("book.kerf", &written)]);
        let mistakes: Vec<_> = compiled.found.iter().filter(|one| one.severity == Severity::Error).collect();
        prop_assert!(mistakes.is_empty(), "{mistakes:#?}\n{written}");
        prop_assert!(compiled.costed.proof.holds());
        prop_assert_eq!([on_hand(&compiled, "bench"), on_hand(&compiled, "barn")], [bench, barn], "{}", written);
    }
}

#[test]
fn what_can_not_be_kept_is_a_mistake_at_its_entry_and_nowhere_else() {
    let begin = "shop \"Wren & Gable Woodshop\"\n    currency USD\nplace bench \"Bench\"\n    home\nmaterial oak \"Oak\"\n    measured in bf\n\
                 opened 2026-01-01\n    10000000000 bf oak for 10.00\n";
    for (entry, code) in [
        // Ten whole digits and twenty decimals are thirty.
        ("found 2026-01-02\n    0.00000000000000000001 bf oak\n", "K401"),
        ("used-up 2026-01-02\n    0.00000000000000000001 bf oak\n", "K401"),
        ("counted 2026-01-02\n    0.00000000000000000001 bf oak\n", "K401"),
        // Twenty-nine digits in one number.
        ("found 2026-01-02\n    0.12345678901234567890123456789 bf oak\n", "K105"),
    ] {
        let text = format!("{begin}{entry}");
        let found = compile_texts(&[("book.kerf", &text)]).found;
        let told: Vec<String> = found
            .iter()
            .map(|one| format!("{} {}", one.code, text[..one.primary.span.start as usize].matches('\n').count() + 1))
            .collect();
        assert_eq!(told, [format!("{code} {}", if code == "K105" { 10 } else { 9 })], "{entry}");
    }
}
