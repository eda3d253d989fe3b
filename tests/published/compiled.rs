//! A book compiled from text, for checks of the engine's figures.

use kerfbook::cli::{CompileOptions, compile_sources};
use kerfbook::costing::{Component, CostVector, CostedBook, Flow};
use kerfbook::diagnostics::Severity;
use kerfbook::events::EventLog;
use kerfbook::names::ResolvedBook;
use kerfbook::reports::{PaysGroup, PaysReport, Period, report_pays};
use kerfbook::sources::{Loaded, SourceSet};
use kerfbook::units::Fixed6;
use kerfbook::year::Forms;

/// A compiled book.
pub(crate) struct Compiled {
    pub(crate) sources: SourceSet,
    pub(crate) book: ResolvedBook,
    pub(crate) log: EventLog,
    pub(crate) costed: CostedBook,
}

/// The shop, the place and the channel that every small book here has.
const SHOP: &str = "\
shop \"Figures from books\"
    currency USD
    short stock is an error
place bench \"Bench\"
    home
channel counter \"Over the counter\"
";

/// Compiles a book whose shop keeps FIFO.
pub(crate) fn compile(text: &str) -> Compiled {
    compile_whole(&format!("{SHOP}{text}"))
}

/// Compiles a book that brings its own shop. It must have no mistakes, and its proof must hold.
pub(crate) fn compile_whole(text: &str) -> Compiled {
    let (compiled, mistakes) = compile_with_mistakes(text);
    assert!(mistakes.is_empty(), "mistakes in the book: {mistakes:#?}");
    assert!(compiled.costed.proof.holds(), "the proof does not hold");
    compiled
}

/// Compiles a book that brings its own shop; gives its mistakes too, as `code: message at text`.
pub(crate) fn compile_with_mistakes(text: &str) -> (Compiled, Vec<String>) {
    let mut sources = SourceSet::default();
    sources.add("book.kerf", text).expect("the book fits");
    let loaded = Loaded { sources, damaged: Vec::new() };
    let compiled = compile_sources(loaded, &Forms::built_in(), CompileOptions::default(), &|_| true);
    let mistakes: Vec<String> = compiled
        .found
        .as_slice()
        .iter()
        .filter(|one| one.severity == Severity::Error)
        .map(|one| format!("{}: {} at `{}`", one.code, one.message, compiled.sources.text(one.primary.span)))
        .collect();
    (Compiled { sources: compiled.sources, book: compiled.book, log: compiled.log, costed: compiled.costed }, mistakes)
}

impl Compiled {
    /// The full cost of a flow over the whole book.
    pub(crate) fn flow(&self, flow: Flow) -> String {
        let mut sum = CostVector::default();
        for movement in self.costed.movements.iter().filter(|one| one.flow == flow) {
            sum.add(&movement.vector).expect("small figures");
        }
        text(sum.full())
    }

    /// Quantity and full cost on hand of a thing.
    pub(crate) fn on_hand(&self, name: &str) -> (String, String) {
        let mut quantity = rust_decimal::Decimal::ZERO;
        let mut cost = Fixed6::ZERO;
        for lot in &self.costed.stock {
            if self.book.thing(lot.thing).named.name == name {
                quantity = quantity.checked_add(lot.quantity).expect("small figures");
                cost = cost.checked_add(lot.vector.full().expect("small figures")).expect("small figures");
            }
        }
        (quantity.normalize().to_string(), text(Some(cost)))
    }

    /// What a batch's good pieces of a thing cost in all.
    pub(crate) fn output(&self, batch: &str, name: &str) -> CostVector {
        let account = self.batch(batch);
        let mut sum = CostVector::default();
        for item in &account.outputs {
            let kerfbook::events::Output::Thing(thing) = item.what else { continue };
            if self.book.thing(thing).named.name == name {
                sum.add(&item.vector).expect("small figures");
            }
        }
        sum
    }

    /// What pays, over the whole book. No miles are driven here.
    pub(crate) fn pays(&self) -> PaysReport {
        report_pays(&self.book, &self.log, &self.costed, Period::default(), &|_| None, &[]).expect("small figures")
    }

    /// A row of what pays: `line`, `channel` or `product`, and its name.
    pub(crate) fn group(&self, by: &str, name: &str) -> PaysGroup {
        let found = self.pays().groups.into_iter().find(|group| group.by == by && group.name == name);
        found.expect("a group of this book")
    }

    /// A batch's account.
    pub(crate) fn batch(&self, name: &str) -> &kerfbook::costing::BatchAccount {
        let at = self.book.batches.iter().position(|batch| batch.name == name).expect("a batch of this book");
        &self.costed.batches[at]
    }
}

/// A sum with as many digits as needed, two at least.
pub(crate) fn text(sum: Option<Fixed6>) -> String {
    sum.expect("small figures").to_fixed_text(2, 6)
}

/// A component of a vector.
pub(crate) fn component(vector: &CostVector, component: Component) -> String {
    text(Some(vector.get(component)))
}
