//! The page of what lies long: goods on hand by the age of their lots, and thing by thing what has lain over half a year.

use rust_decimal::Decimal;

use super::plain_name;
use super::sheet::{CellKind, Sheet, SheetCell, SheetKind, SheetName, SheetRow, SheetTable};
use super::sheet_index::SheetIndex;
use crate::reports::period::money_text;
use crate::reports::{SlowStock, StockAges};
use crate::units::Fixed6;

use CellKind::{Day, Money, Quantity, Words};

/// The table of all goods on hand, by age.
const AGES: &str = "ages";

fn words(text: impl Into<String>) -> SheetCell {
    SheetCell::new(Words, text)
}

/// The sum of what the reports show. `None` where it is too large to be carried.
fn sum_of<'t>(shown: impl Iterator<Item = &'t String>) -> Option<Fixed6> {
    let mut sum = Fixed6::ZERO;
    for text in shown {
        sum = sum.checked_add(Decimal::from_str_exact(text).ok().and_then(Fixed6::from_decimal_exact)?)?;
    }
    Some(sum)
}

/// Makes the page; nothing where nothing has lain over 180 days. The outer `None` is a figure too large to be carried.
pub(super) fn sheet_of_slow(index: &SheetIndex<'_>, ages: &StockAges) -> Option<Option<Sheet>> {
    let (Some(on), Some(most)) = (ages.on.as_ref(), ages.slow.first()) else { return Some(None) };
    let money = |sum: Fixed6| SheetCell::new(Money, money_text(index.books.book, sum));
    let (young, old) = ([&ages.all.to_90_days, &ages.all.to_180_days], [&ages.all.to_365_days, &ages.all.older]);
    let slow = sum_of(old.into_iter())?;
    let all = slow.checked_add(sum_of(young.into_iter())?)?;
    let says = vec![
        words("Of "),
        money(all).by_table(AGES),
        words(format!(" laid out in goods on hand on {on}, ")),
        money(slow).by_table("list"),
        words(" has lain for over 180 days, the most of it in "),
        words(most.title.as_str()).of(thing_of(most)),
        words("."),
    ];
    let mut by_age = SheetTable::new(AGES, "All goods on hand, by age", &[("Came", Words), ("Laid out", Money)]);
    by_age.note = "what came back from a buyer keeps the age that it had";
    let heads = ["up to 90 days before", "91 to 180 days before", "181 to 365 days before", "earlier"];
    for (at, (said, text)) in heads.into_iter().zip(young.into_iter().chain(old)).enumerate() {
        by_age.row(vec![words(said), SheetCell::new(Money, text.as_str()).by_table(if at < 2 { AGES } else { "list" })]);
    }
    by_age.total = Some(SheetRow { day: String::new(), cells: vec![words("Together"), money(all).by_table(AGES)] });
    let name = SheetName::new(SheetKind::List, "slow");
    let tables = vec![list_of_slow(&ages.slow), by_age];
    Some(Some(Sheet { name, word: "list", title: "What lies long".to_owned(), says, tables, trace: None }))
}

fn thing_of(one: &SlowStock) -> SheetName {
    SheetName::new(SheetKind::Thing, plain_name(&one.name))
}

fn list_of_slow(slow: &[SlowStock]) -> SheetTable {
    let columns = [
        ("Thing", Words),
        ("Laid out in that", Money),
        ("Over 180 days there", Quantity),
        ("Of all on hand", Quantity),
        ("The oldest came", Day),
        ("Went in 365 days", Quantity),
        ("All of it lasts", Words),
    ];
    let mut table = SheetTable::new("list", "Goods of which some came over 180 days before", &columns);
    table.note = "that with the most laid out first";
    for one in slow {
        let many = |text: &str| SheetCell::quantity(text, &one.unit).of(thing_of(one));
        let lasts = match one.lasts_months.as_deref() {
            None => "nothing went".to_owned(),
            Some("1.0" | "1") => "1 month".to_owned(),
            Some(months) => format!("{months} months"),
        };
        table.row(vec![
            words(one.title.as_str()).of(thing_of(one)).beside(one.kind.as_str()),
            SheetCell::new(Money, one.slow_paid.as_str()).of(thing_of(one)).by_table("lots"),
            many(&one.slow_quantity).by_table("lots"),
            many(&one.quantity).by_table("stock"),
            SheetCell::new(Day, one.oldest.as_str()),
            many(&one.gone_in_a_year).by_table("went"),
            words(lasts),
        ]);
    }
    table
}
