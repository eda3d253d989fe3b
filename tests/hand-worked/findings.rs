//! What the engine's findings say beside their code: which lots, which figures; and where a figure just fits.

use crate::compiled::{Compiled, compile_texts};
use kerfbook::costing::{BatchState, Flow};

const OAK: &str = "\
shop \"Made by hand\"
    currency USD
place bench \"Bench\"
    home
material oak \"Oak\"
    measured in bf
material oak-offcut \"Oak offcuts\"
    measured in bf
product board \"Board\"
";

fn compiled(entries: &str) -> Compiled {
    compile_texts(&[("book.kerf", &format!("{OAK}{entries}"))])
}

fn told(entries: &str) -> Vec<String> {
    compiled(entries).found.iter().map(|one| format!("{} {}", one.code, one.message)).collect()
}

#[test]
fn of_many_lots_five_are_named_where_the_wanted_one_is_not_there() {
    let lots: String = (1..=6).map(|number| format!("    1 bf oak for 5.00, lot L-{number}\n")).collect();
    let found = compiled(&format!("opened 2026-01-01\n{lots}used-up 2026-01-02\n    1 bf oak lot L-9\n")).found;
    let notes: Vec<&str> = found.iter().flat_map(|one| &one.notes).map(String::as_str).collect();
    assert_eq!(notes, ["lots of it at bench: L-1, L-2, L-3, L-4, L-5"]);
}

#[test]
fn what_is_kept_may_be_worth_all_that_the_materials_cost_and_no_cent_more() {
    let kept = |worth: &str| {
        told(&format!(
            "opened 2026-01-01\n    4 bf oak for 20.00\nbuilt 2026-01-02 batch B\n    used 4 bf oak\n    \
             kept 4 bf oak-offcut worth {worth}\n    made 1 board\n"
        ))
    };
    assert_eq!(kept("20.00"), [""; 0]);
    let over = "K408 `oak-offcut` is kept as worth 20.01, but the batch has 20.00 of materials to give it from";
    assert!(kept("20.01").iter().any(|one| one == over), "{:?}", kept("20.01"));
}

#[test]
fn an_offcut_may_be_worth_what_as_much_of_its_board_cost() {
    let kept = |worth: &str| {
        let book = format!(
            "material strip \"Strips\"\n    measured in bf\n    from oak\nopened 2026-01-01\n    4 bf oak for 20.00\n\
             built 2026-01-02 batch B\n    used 4 bf oak\n    kept 1 bf strip worth {worth}\n    made 1 board\n"
        );
        told(&book)
    };
    assert_eq!(kept("5.00"), [""; 0]);
    assert_eq!(
        kept("5.01"),
        ["K961 `strip` is kept as worth 5.01, more than the same quantity of `oak` cost in this batch (5.00)"]
    );
}

#[test]
fn hired_time_owed_when_the_book_began_is_paid_like_any_other() {
    let entries = "helper sam \"Sam\"\n    contractor\n    costs 18.00 per h\n    paid later\nopened 2026-01-01\n    \
                   36.00 owed to sam\npaid 2026-01-03 to sam\n    36.00 for sam\n";
    let compiled = compiled(entries);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    assert!(
        compiled.costed.bills.iter().all(|bill| bill.open_on(compiled.costed.until.expect("a day")).expect("fits").is_zero())
    );
}

#[test]
fn what_a_batch_lost_is_planned_for_though_the_entry_makes_nothing() {
    // A board takes 1 bf: the first one lost takes it with the same entry, the second with the next, which makes and loses nothing.
    let text = "changed 2026-01-02 board\n    needs 1 bf oak\nopened 2026-01-01\n    4 bf oak for 20.00\n\
                started 2026-01-03 batch B\n    aims at 3 board\ncontinued 2026-01-04 batch B\n    lost 1 board\n    used as planned\n\
                continued 2026-01-05 batch B\n    lost 1 board\ncontinued 2026-01-06 batch B\n    used as planned\n";
    let compiled = compiled(text);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let oak: Vec<String> = compiled.costed.stock.iter().map(|lot| lot.quantity.normalize().to_string()).collect();
    assert_eq!(oak, ["2"]);
}

#[test]
fn where_a_batch_is_started_what_it_aims_at_is_planned_for_though_a_piece_is_lost_at_once() {
    // Three boards of 1 bf each; the one that is lost with the first entry is one of the three.
    let compiled = compiled(
        "changed 2026-01-02 board\n    needs 1 bf oak\nopened 2026-01-01\n    4 bf oak for 20.00\n\
         started 2026-01-03 batch B\n    aims at 3 board\n    lost 1 board\n    used as planned\n",
    );
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let oak: Vec<String> = compiled.costed.stock.iter().map(|lot| lot.quantity.normalize().to_string()).collect();
    assert_eq!(oak, ["1"]);
}

#[test]
fn a_batch_of_which_every_piece_is_lost_is_over_and_a_loss() {
    // It aims at two, and both are lost on the way: nothing is to come that could bear the 10.00 of oak.
    let compiled = compiled(
        "opened 2026-01-01\n    4 bf oak for 20.00\nstarted 2026-01-03 batch B\n    aims at 2 board\n    used 2 bf oak\n\
         continued 2026-01-04 batch B\n    lost 2 board\n",
    );
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let [batch] = compiled.costed.batches.as_slice() else { panic!("one batch") };
    assert_eq!((batch.state, batch.on_the_bench.is_zero()), (BatchState::Done, true));
    let lost = compiled.costed.movements.iter().filter(|one| one.flow == Flow::AbnormalLoss);
    assert_eq!(lost.map(|one| one.vector.paid().expect("fits").to_string()).collect::<Vec<_>>(), ["10"]);
}

#[test]
fn what_is_owed_for_a_receipt_is_not_hired_time() {
    let found = told(
        "helper sam \"Sam\"\n    contractor\n    costs 18.00 per h\n    paid later\nopened 2026-01-01\n    \
         36.00 owed to sam for receipt \"R-1\"\npaid 2026-01-03 to sam\n    36.00 for sam\n",
    );
    assert_eq!(found, ["K411 nothing is owed to `sam` for hired time"]);
}

#[test]
fn a_batch_that_aims_at_nothing_is_over_when_it_is_finished() {
    let found = told(
        "opened 2026-01-01\n    4 bf oak for 20.00\nstarted 2026-01-02 batch B\n    used 2 bf oak\nfinished 2026-01-03 batch B\n    \
         made 2 board\ncontinued 2026-01-04 batch B\n    used 1 bf oak\n",
    );
    assert_eq!(found, ["K405 batch `B` was done on 2026-01-03; nothing more can be put to it"]);
}

#[test]
fn the_tool_that_leaves_is_the_one_that_is_named() {
    let compiled = compiled(
        "tool saw \"Saw\"\ntool lathe \"Lathe\"\nopened 2026-01-01\n    1 saw for 100.00\n    1 lathe for 200.00\n\
         retired 2026-02-01 lathe\n",
    );
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let gone = compiled.costed.tools.iter().filter(|tool| tool.retired.is_some());
    assert_eq!(gone.map(|tool| compiled.book.tool(tool.tool).named.name.as_str()).collect::<Vec<_>>(), ["lathe"]);
}

#[test]
fn hours_that_cost_nothing_yet_lie_on_the_bench_over_the_year_s_end() {
    // No rate for the owner's time: the two hours are minutes alone, and those are proved too.
    let text = "step cutting \"Cutting\"\nstarted 2025-12-30 batch B\n    aims at 2 board\n    took 2h cutting\n\
                finished 2026-01-04 batch B\n    made 2 board\n";
    let compiled = compiled(text);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    assert!(compiled.costed.proof.holds());
    let minutes = |year: i32| compiled.costed.proof.years[&year].at_end.own_minutes().expect("fits").to_string();
    assert_eq!([minutes(2025), minutes(2026)], ["120", "120"]);
}

#[test]
fn a_royalty_owed_when_the_book_began_is_paid_like_any_other() {
    // 3.00 owed from before and 0.50 for the one piece made: 3.50 are paid, the oldest first.
    let entries = "pattern plan \"Plan\"\n    royalty 0.50 per ea\n    paid later\nproduct duck \"Duck\"\n    pattern plan\n\
                   opened 2026-01-01\n    3.00 owed to plan\nbuilt 2026-01-02 batch D\n    made 1 duck\n\
                   paid 2026-01-03 to maker\n    3.50 for plan\n";
    let compiled = compiled(entries);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let paid = compiled.costed.bills.iter().map(|bill| bill.paid.iter().map(|(_, money)| money.to_string()).collect());
    assert_eq!(paid.collect::<Vec<Vec<String>>>(), [["3"], ["0.5"]]);
}
