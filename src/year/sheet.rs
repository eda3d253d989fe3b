//! The form's lines from the sums of the books: exact cents, and what is printed.
//!
//! A line that is fed is rounded once, to the cent and from there to the sheet's unit. A line that adds adds: cents to cents, printed
//! to printed, so that the page foots. The home workshop comes last, limited by its own line.

use crate::units::Fixed6;
use crate::year::Feed;
use crate::year::books::BooksOfYear;
use crate::year::home_workshop::{BeforeLimit, limit_home};
use crate::year::ledger::Ledger;
use crate::year::rounding::SheetUnit;
use crate::year::tax_year::{Sum, SumOf, TaxLine};

#[derive(Clone, Copy, Debug, Default)]
struct Value {
    cents: Fixed6,
    printed: Fixed6,
}

struct Sheet<'a> {
    of: &'a BooksOfYear<'a>,
    ledger: &'a Ledger,
    unit: SheetUnit,
    home: Option<usize>,
    before_limit: Fixed6,
    known: Vec<Option<Value>>,
}

impl Sheet<'_> {
    /// The value of a line. `None` on overflow; that no line adds itself was checked when the form was read.
    fn value(&mut self, at: usize) -> Option<Value> {
        if let Some(value) = *self.known.get(at)? {
            return Some(value);
        }
        let line = self.of.form.lines.get(at)?;
        let value = if line.adds.is_empty() {
            let cents = self.unit.cents(self.ledger.exact(at)?);
            let mut value = Value { cents, printed: self.unit.printed(cents) };
            if self.home == Some(at) {
                let limit = self.value(self.of.form.home_limit?)?;
                let limited = |amount: Fixed6, limit: Fixed6| amount.min(limit).max(Fixed6::ZERO);
                value.cents = limited(self.before_limit, limit.cents);
                value.printed = limited(self.unit.printed(self.before_limit), limit.printed);
            }
            value
        } else {
            let mut sum = Value::default();
            for (plus, added) in &line.adds {
                let value = self.value(*added)?;
                let sign = if *plus { 1 } else { -1 };
                sum.cents = sum.cents.checked_add(value.cents.checked_mul_int(sign)?)?;
                sum.printed = sum.printed.checked_add(value.printed.checked_mul_int(sign)?)?;
            }
            sum
        };
        *self.known.get_mut(at)? = Some(value);
        Some(value)
    }
}

/// Writes every line of the form. `home` is limited on the way. `None` on overflow.
pub(crate) fn fill_sheet(of: &BooksOfYear<'_>, ledger: &Ledger, home: &mut Option<BeforeLimit>) -> Option<Vec<TaxLine>> {
    let mut sheet = Sheet {
        of,
        ledger,
        unit: SheetUnit::new(of.digits(), of.whole_dollars()),
        home: of.form.line_of(Feed::HomeWorkshop),
        before_limit: home.as_ref().map_or(Fixed6::ZERO, |home| home.year.before_limit),
        known: vec![None; of.form.lines.len()],
    };
    if let (Some(home), Some(limit)) = (home.as_mut(), of.form.home_limit) {
        limit_home(&mut home.year, (limit, sheet.value(limit)?.cents))?;
    }
    let mut lines = Vec::with_capacity(of.form.lines.len());
    for (at, line) in of.form.lines.iter().enumerate() {
        let value = sheet.value(at)?;
        let mut sums = ledger.sums(at).to_vec();
        if let Some(home) = home.as_ref().filter(|_| sheet.home == Some(at)) {
            let share = match home.year.excess.is_zero() {
                true => home.year.how.clone(),
                false => format!("{}; limited by line {}", home.year.how, of.form.lines.get(of.form.home_limit?)?.number),
            };
            let items = home.items.clone();
            let (amount, whole) = (home.year.amount, home.year.before_limit);
            sums.push(Sum { of: SumOf::Feed(Feed::HomeWorkshop), name: "home workshop".to_owned(), amount, whole, share, items });
        }
        lines.push(TaxLine {
            number: line.number.clone(),
            name: line.name.clone(),
            part: line.part.clone(),
            label: line.label.clone(),
            cents: value.cents,
            printed: value.printed,
            itemized: line.itemized,
            working: line.is_working(),
            adds: line.adds.clone(),
            sums,
        });
    }
    Some(lines)
}
