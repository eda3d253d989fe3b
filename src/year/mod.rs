//! Stage 8: the tax year, by the form's own lines. A worksheet, not advice.
//!
//! In: a book, its events and its [`CostedBook`], a year, and the forms as data. Out: a [`TaxYear`]: every line of the form in exact
//! cents and as printed, the schedules behind it, the bridge from margins to the net profit, the cut-off list, and the questions
//! that only the owner or a preparer can answer. Must not: know a line's number, hold a rate or a limit in code, guess, or read a
//! file.

mod answers;
mod asked_by_form;
mod below_nothing;
mod bill_split;
mod books;
mod boxes;
mod bridge;
mod cut_off;
pub mod errors;
mod expenses;
mod form_lines;
mod forms;
mod goods;
mod gross_receipts;
mod home_workshop;
mod income;
mod ledger;
mod mileage;
mod questions;
mod rounding;
mod sales_tax;
mod self_employment;
mod settled;
mod sheet;
mod standing;
mod tax_year;
mod tools;
mod year_of_books;
mod years_that_count;

pub use answers::tell_loose_answers;
pub use books::Books;
pub use boxes::{FormBox, Says};
pub use form_lines::tell_form_lines;
pub use forms::feed::Feed;
pub use forms::figure_entries::{
    AtOnce, Bonus, Convention, Day, DepreciationTable, Figure, GiftLimit, GrossReceiptsLimit, HelperPayments, HomeSimplified,
    MealsPart, MidQuarterAbove, MileageRate, Section179, Section179UseAbove, SelfEmploymentRates,
};
pub use forms::figures::Figures;
pub use forms::form::{AskedByForm, Form, Line, ScheduleLine, Takes, Times};
pub use forms::form_set::{FormFault, Forms};
pub use forms::rule::{Rule, RuleText};
pub use forms::source_note::SourceNote;
pub(crate) use goods::goods_cost::{goes_into_cost_of_goods, waiting_cost};
pub use tax_year::{
    BoxAnswer, BridgeOf, BridgePart, BridgeSum, CostOfGoods, CutOff, HomeFeet, HomeYear, Item, Mileage, MilesAtRate, Question,
    ScheduleRule, ScheduleSum, Sum, SumOf, TaxLine, TaxPeriod, TaxYear, ToolGone, ToolLifeYear, ToolStep, ToolYear, WentTo,
};
pub use tools::tool_steps::Step;
pub use years_that_count::{tell_years_outside, years_that_count};

use chrono::Datelike;

use crate::costing::{CostOptions, CostedBook, cost_book_marked};
use crate::diagnostics::Diagnostics;

/// Figures a tax year. Mistakes of the year are told; `None` where the form or its data is missing, where a figure is too large, or where
/// Part III does not tie to the engine (a mistake of the program). The figures of a year with mistakes are not to be shown.
#[must_use]
pub fn year_of(books: Books<'_>, year: i32, forms: &Forms, found: &mut Diagnostics) -> Option<TaxYear> {
    let options = CostOptions { until: books.costed.until, ..CostOptions::default() };
    let marked = if books.costed.marked { None } else { mark_unpaid(books, &options) };
    let books = marked.as_ref().map_or(books, |costed| Books { costed, ..books });
    let shop = &books.book.shop;
    for fault in forms.faults() {
        found.push(errors::form_file(shop.span, fault));
    }
    let Some(name) = &shop.tax_form else {
        found.push(errors::no_form_named(shop.span, forms));
        return None;
    };
    let Some(form) = forms.form(name, year) else {
        found.push(errors::no_form_data(shop.span, name, year, forms));
        return None;
    };
    let Some(figures) = forms.figures(name) else {
        found.push(errors::no_figures_file(shop.span, name));
        return None;
    };
    let figured =
        books::BooksOfYear::new(books, form, figures, year).and_then(|of| year_of_books::figure_year(&of, forms, found));
    if figured.is_none() {
        found.push(errors::too_large(shop.span, year));
    }
    figured.flatten()
}

/// A book's costs with marks on what is not paid at the ends of years, costed once more as they were (`options`, with the journal); `None` where
/// no bill of stock is open over a year's end on the cash basis, so that the costs are as they should be, and where figures are too
/// large, which the years tell. Tax years are figured of the marked costs: [`year_of`] marks them itself where they are not, so who wants several
/// years marks them before.
#[must_use]
pub fn mark_unpaid(books: Books<'_>, options: &CostOptions) -> Option<CostedBook> {
    let not_paid = goods::unpaid::find_not_paid(books).filter(|not_paid| !not_paid.is_empty())?;
    Some(cost_book_marked(books.log, books.book, options, books.costed, &not_paid))
}

/// The tax years of a book: from its first day to its last, those for which the form that the shop names has data. Empty where it
/// names none.
#[must_use]
pub fn years_of(books: Books<'_>, forms: &Forms) -> Vec<i32> {
    let (Some(name), Some(from), Some(until)) = (&books.book.shop.tax_form, books.log.first_day, books.costed.until) else {
        return Vec::new();
    };
    forms.years(name).filter(|year| (from.year()..=until.year()).contains(year)).collect()
}
