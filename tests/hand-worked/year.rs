//! A tax year of a book that is given as text.

use crate::compiled::{Compiled, compile_texts};
use kerfbook::diagnostics::{Diagnostic, Diagnostics};
use kerfbook::reports::{YearReport, report_year};
use kerfbook::year::{Books, Forms, TaxYear, year_of};

/// A book, a tax year of it, and what was found on the way.
pub(crate) struct Year {
    pub(crate) compiled: Compiled,
    pub(crate) year: Option<TaxYear>,
    pub(crate) found: Vec<Diagnostic>,
}

/// What every book here begins with. `switches` are lines of the shop.
pub(crate) fn shop(switches: &str) -> String {
    format!(
        "shop \"Made by hand\"\n    currency USD\n    tax form us-schedule-c\n{switches}place bench \"Bench\"\n    home\n\
         channel counter \"Over the counter\"\n"
    )
}

/// A tax year. The book itself must have no mistakes.
pub(crate) fn year_from(text: &str, year: i32) -> Year {
    year_with(text, year, &Forms::built_in())
}

/// A tax year by other forms.
pub(crate) fn year_with(text: &str, year: i32, forms: &Forms) -> Year {
    let compiled = compile_texts(&[("book.kerf", text)]);
    let told: Vec<_> = compiled.found.iter().map(|one| format!("{} {}", one.code, one.message)).collect();
    assert!(!compiled.has_mistakes(), "{told:#?}");
    assert!(compiled.costed.proof.holds(), "the proof does not hold");
    let mut found = Diagnostics::default();
    let year = year_of(books(&compiled), year, forms, &mut found);
    Year { compiled, year, found: found.into_sorted() }
}

fn books(compiled: &Compiled) -> Books<'_> {
    Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &compiled.costed }
}

impl Year {
    /// The year, which must have no mistakes.
    pub(crate) fn figures(&self) -> &TaxYear {
        assert!(self.found.is_empty(), "{:#?}", self.found);
        self.year.as_ref().expect("a tax year")
    }

    /// A line in exact cents.
    pub(crate) fn line(&self, number: &str) -> String {
        self.figures().line(number).expect("a line of the form").cents.to_fixed_text(2, 2)
    }

    /// A line as printed.
    pub(crate) fn printed(&self, number: &str) -> String {
        self.figures().line(number).expect("a line of the form").printed.to_fixed_text(0, 2)
    }

    /// Lines that are not zero, as `number cents`.
    pub(crate) fn lines(&self) -> Vec<String> {
        let lines = self.figures().lines.iter().filter(|line| !line.cents.is_zero());
        lines.map(|line| format!("{} {}", line.number, line.cents.to_fixed_text(2, 2))).collect()
    }

    /// The bridge from the paid margins to the net profit, as `name amount`; its parts, the rounding included, come to its last line.
    pub(crate) fn bridge(&self) -> Vec<String> {
        let bridge = &self.figures().bridge;
        let steps = bridge.iter().rev().skip(1).map(|line| line.amount.micros());
        assert_eq!(steps.sum::<i128>(), self.figures().net_cents().micros());
        bridge.iter().filter(|line| !line.amount.is_zero()).map(|line| format!("{} {}", line.name, line.amount)).collect()
    }

    /// Where the goods of Part III went, and on the cash basis what of them counts in another year, as `name amount` of what is not zero.
    pub(crate) fn went_to(&self) -> Vec<String> {
        let cost = &self.figures().cost_of_goods;
        let went = &cost.went_to;
        let named = [
            ("sold", went.sold),
            ("scrapped", went.scrapped),
            ("missing", went.missing),
            ("abnormal", went.abnormal),
            ("donated", went.donated),
            ("price difference", went.price_difference),
            ("gone and not paid for", cost.gone_not_paid),
            ("gone before and paid for now", cost.gone_paid_now),
        ];
        named.iter().filter(|(_, sum)| !sum.is_zero()).map(|(name, sum)| format!("{name} {sum}")).collect()
    }

    /// The rows of a part of the cut-off list.
    pub(crate) fn cut_off(&self, part: &str) -> &[String] {
        &self.figures().cut_off.iter().find(|one| one.name == part).expect("a part of the list").rows
    }

    /// The names of the questions that nothing answers.
    pub(crate) fn open(&self) -> Vec<&str> {
        self.figures().open_questions().map(|question| question.name.as_str()).collect()
    }

    /// The report.
    pub(crate) fn report(&self) -> YearReport {
        report_year(books(&self.compiled), self.figures()).expect("small figures")
    }

    /// Mistakes as `code message`.
    pub(crate) fn told(&self) -> Vec<String> {
        self.found.iter().map(|one| format!("{} {}", one.code, one.message)).collect()
    }
}
