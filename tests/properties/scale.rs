//! Large books have the same figures as small ones: sets of sets twelve levels deep, ten thousand batches, one lot drawn down by many
//! sales. How long that takes is `cargo bench --bench speed`, which also has the full sizes; here only derivations are timed, against those of a book of an eighth.

#[path = "../bench/scale_book.rs"]
mod scale_book;

use std::fmt::Write as _;
use std::time::{Duration, Instant};

use kerfbook::costing::{Component, CostOptions, CostVector, CostedBook, Flow, cost_book};
use kerfbook::diagnostics::{Diagnostics, Severity};
use kerfbook::reports::{Derived, FigureName, HowDeep, WhyReport, WhyStep, report_why};
use kerfbook::year::{Books, Forms, TaxYear, year_of};

use crate::compiled::{Compiled, compile_texts};

fn compiled(text: &str) -> Compiled {
    let book = compile_texts(&[("book.kerf", text)]);
    let mistake = book.found.iter().find(|one| one.severity == Severity::Error);
    assert!(mistake.is_none(), "{mistake:?}");
    assert!(book.costed.proof.holds());
    book
}

/// Materials, own time, overhead, and own minutes.
fn figures(vectors: impl Iterator<Item = CostVector>) -> [String; 4] {
    let mut sum = CostVector::default();
    vectors.for_each(|vector| sum.add(&vector).expect("they fit"));
    let money = |component| sum.get(component).to_fixed_text(2, 6);
    let minutes = sum.own_minutes().expect("they fit").to_fixed_text(0, 6);
    [money(Component::Materials), money(Component::OwnTime), money(Component::Overhead), minutes]
}

fn on_hand(costed: &CostedBook) -> [String; 4] {
    figures(costed.stock.iter().map(|lot| lot.vector.clone()))
}

#[test]
fn a_set_of_twelve_levels_knows_the_oak_and_the_minutes_of_all_its_blocks() {
    // 2,048 blocks of 0.40: 819.20. 2,048 minutes of cutting and 2,047 of putting together: 4,095, at 0.50 and 0.10 a minute.
    let book = compiled(&scale_book::sets(1));
    assert_eq!(on_hand(&book.costed), ["819.20", "2047.50", "409.50", "4095"]);
    let many = compiled(&scale_book::sets(100));
    assert_eq!(on_hand(&many.costed), ["81920.00", "204750.00", "40950.00", "409500"]);
    assert_eq!(many.costed.stock.len(), 100);
    assert_eq!(many.costed.batches.len(), 1200);
    // Each of the hundred is the same.
    for lot in &many.costed.stock {
        assert_eq!(figures(std::iter::once(lot.vector.clone())), on_hand(&book.costed));
    }
}

#[test]
fn ten_thousand_batches_of_one_block_each_come_to_their_sum() {
    let book = compiled(&scale_book::batches(10_000));
    assert_eq!(book.costed.batches.len(), 10_000);
    let made = book.costed.batches.iter().flat_map(|batch| &batch.outputs).map(|item| item.vector.clone());
    assert_eq!(figures(made), ["10000.00", "15000.00", "3000.00", "30000"]);
    // 7,500 bf are left: 30,000.00.
    assert_eq!(on_hand(&book.costed), ["40000.00", "15000.00", "3000.00", "30000"]);
}

#[test]
fn a_lot_drawn_down_by_twenty_thousand_sales_leaves_one_piece_at_its_price() {
    let book = compiled(&scale_book::sales(20_000));
    let sold = book.costed.movements.iter().filter(|one| one.flow == Flow::Sold);
    assert_eq!(sold.clone().count(), 20_000);
    assert_eq!(figures(sold.map(|one| one.vector.clone()))[0], "7400.00");
    assert_eq!(on_hand(&book.costed)[0], "0.37");
}

#[test]
fn a_lot_that_no_piece_divides_is_sold_to_its_last_digit() {
    // 7,001 pieces for 1.00: whatever the pieces are rounded to, what was sold and what is left is 1.00.
    let mut text = scale_book::sales(0).replace("1 block for 0.37", "7001 block for 1.00");
    for at in 0..7_000 {
        text.push_str(&format!("sold 2026-03-01 via counter order \"W-{at}\"\n    1 block at 1.00\n"));
    }
    let book = compiled(&text);
    let sold = book.costed.movements.iter().filter(|one| one.flow == Flow::Sold).map(|one| one.vector.clone());
    let all: Vec<CostVector> = sold.chain(book.costed.stock.iter().map(|lot| lot.vector.clone())).collect();
    assert_eq!(all.len(), 7_001);
    assert_eq!(figures(all.iter().cloned())[0], "1.00");
    // A piece is 0.000142836…: each is one of its two neighbours in millionths, and so is the last.
    let odd = all.iter().map(|vector| vector.get(Component::Materials).micros()).find(|micros| !matches!(micros, 142 | 143));
    assert_eq!(odd, None);
}

const SHOP: &str = "\
shop \"A large shop\"
    currency USD
    tax form us-schedule-c
    accrual basis
    stock kept as inventory
    costing COSTING
    owner time 30.00 per h
place bench \"Bench\"
    home
place hall \"Hall\"
channel counter \"Counter\"
step cutting \"Cutting\"
material oak \"Oak\"
    measured in bf
product block \"Block\"
";

fn day(at: usize, of: usize) -> String {
    let day = at * 336 / of;
    format!("2026-{:02}-{:02}", day / 28 + 1, day % 28 + 1)
}

/// So many times: oak is bought, a batch makes two blocks, one of them is carried off and one is sold or scrapped.
fn small_dealings(costing: &str, count: usize) -> String {
    let mut text = SHOP.replace("COSTING", costing);
    for at in 0..count {
        let day = day(at, count);
        let _ = write!(text, "bought {day} from yard\n    3 bf oak at 4.00\n");
        let _ = write!(text, "built {day} batch B-{at}\n    used 2.5 bf oak\n    took 3m cutting\n    made 2 block\n");
        let _ = write!(text, "sent {day} to hall\n    1 block\n");
        match at % 3 {
            0 => text.push_str(&format!("scrapped {day}\n    1 block\n")),
            _ => text.push_str(&format!("sold {day} via counter\n    1 block at 9.00\n")),
        }
    }
    text
}

/// One batch that gives a block in each of so many entries, out of one lot of oak of which the supplier took something off.
fn one_long_batch(count: usize) -> String {
    let mut text = SHOP.replace("COSTING", "fifo");
    let _ = write!(text, "bought 2026-01-01 from yard receipt \"Y-1\"\n    {} bf oak at 4.00\n", count + 1);
    text.push_str("credited 2026-01-01 by yard receipt \"Y-1\"\n    1.00 off oak \"bark\"\n");
    let _ = write!(text, "started 2026-01-01 batch LONG\n    aims at {count} block\n");
    for at in 0..count {
        let day = day(at, count);
        let _ = write!(text, "finished {day} batch LONG\n    used 1 bf oak\n    took 3m cutting\n    made 1 block\n");
        let _ = write!(text, "sold {day} via counter\n    1 block at 9.00\n");
    }
    text
}

/// A book with its trace and its year.
struct Traced {
    book: Compiled,
    costed: CostedBook,
    years: Vec<TaxYear>,
}

impl Traced {
    fn of(text: &str) -> Self {
        let book = compiled(text);
        let options = CostOptions { keep_trace: true, ..CostOptions::default() };
        let costed = cost_book(&book.log, &book.book, &options, &mut Diagnostics::default());
        let books = Books { sources: &book.sources, book: &book.book, log: &book.log, costed: &costed };
        let years = year_of(books, 2026, &Forms::built_in(), &mut Diagnostics::default()).into_iter().collect();
        Self { book, costed, years }
    }

    fn why(&self, figure: &str) -> WhyReport {
        let Compiled { sources, book, log, .. } = &self.book;
        let derived =
            Derived::of(Books { sources, book, log, costed: &self.costed }, &self.years).expect("costed with its trace");
        let figure = FigureName::read(figure, derived.names()).expect("a figure");
        report_why(&derived, figure, HowDeep::Deep).expect("it fits")
    }
}

fn steps(of: &[WhyStep]) -> usize {
    of.iter().map(|step| 1 + steps(&step.steps)).sum()
}

#[expect(clippy::disallowed_methods, reason = "how long it takes is asked for here")]
fn time_of(work: impl FnOnce()) -> Duration {
    let began = Instant::now();
    work();
    began.elapsed()
}

#[test]
fn a_derivation_of_eight_times_as_much_has_eight_times_the_steps_and_takes_eight_times_as_long() {
    let fifo = [150, 1200].map(|count| small_dealings("fifo", count));
    let average = [150, 1200].map(|count| small_dealings("average", count));
    let long = [150, 1200].map(one_long_batch);
    for (costing, books) in [("fifo", fifo), ("average", average), ("one long batch", long)] {
        let [once, eightfold] = books.map(|book| Traced::of(&book));
        for figure in ["year/2026/line-42", "cost/block", "stock/block", "stock/oak"] {
            let (few, many) = (steps(&once.why(figure).steps), steps(&eightfold.why(figure).steps));
            assert!(many < few * 9 + 30, "{figure}, {costing}: {many} steps after {few}");
            // The small one eight times over against the large one, so that a busy machine slows both; of several turns the shortest. The bar
            // is that of the other large books: 2.6 for each doubling, so 2.6³ for eight times as much.
            let (mut small, mut large) = (Duration::MAX, Duration::MAX);
            let grows_too_fast = |small: Duration, large: Duration| large.as_micros() * 8000 > small.as_micros() * 26 * 26 * 26;
            for _ in 0..6 {
                small = small.min(time_of(|| assert_eq!((0..8).map(|_| steps(&once.why(figure).steps)).sum::<usize>(), few * 8)));
                large = large.min(time_of(|| assert_eq!(steps(&eightfold.why(figure).steps), many)));
                if !grows_too_fast(small, large) {
                    break;
                }
            }
            assert!(!grows_too_fast(small, large), "{figure}, {costing}: {large:?} after {small:?}");
        }
    }
}
