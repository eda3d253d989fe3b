//! *What does it cost?* as text.

use super::bar::{Bars, bar_heading};
use super::sheet::{Look, Sheet};
use super::table::{Stand, Table};
use super::{number, time};
use crate::render::answer::answer_cost;
use crate::render::html::Question;
use crate::render::number_format::{Shown, is_zero};
use crate::reports::{CostReport, PerUnit, ProductCost};

/// Renders the cost report.
#[must_use]
pub fn text_cost(report: &CostReport, look: Look) -> String {
    let answer = answer_cost(report, Shown::Terminal);
    let mut sheet = Sheet::open(look, Question::Cost.asked(), &report.head, &answer);
    sheet.table("What one piece costs", overview(&report.products));
    for product in report.products.iter().filter(|product| product.per_unit.is_some()) {
        sheet.table(&format!("{}, batch by batch", product.title), batches(product));
        sheet.table(&format!("{}: what goes into one", product.title), uses(product));
        sheet.table(&format!("{}: time at each step, for one", product.title), steps(product));
        sheet.table(&format!("{}: why batches cost more than planned, or less", product.title), variances(product));
    }
    sheet.notes(&report.notes);
    sheet.close()
}

fn overview(products: &[ProductCost]) -> Table {
    let mut table = Table::new([
        ("Product", Stand::Left),
        ("Made", Stand::Right),
        ("Laid out", Stand::Point),
        ("Own time", Stand::Point),
        ("Overhead", Stand::Point),
        ("Full cost", Stand::Point),
        ("List price", Stand::Point),
        ("Your time", Stand::Right),
        (&bar_heading(["laid out", "own time", "overhead"]), Stand::Bar),
    ]);
    let bars = Bars::over(products.iter().filter_map(|product| product.per_unit.as_ref()).map(|one| parts(one).to_vec()));
    for product in products {
        let figures = product.per_unit.as_ref().map_or_else(
            || ["-"; 4].map(str::to_owned),
            |one| [&one.paid, &one.own_time, &one.overhead, &one.full].map(|figure| number(figure)),
        );
        let mut row = vec![product.title.clone(), format!("{} {}", number(&product.made), product.unit)];
        row.extend(figures);
        row.push(product.price.as_deref().map_or_else(|| "no price set".to_owned(), number));
        row.push(time(product.minutes_per_unit.as_deref(), if product.per_unit.is_some() { "unknown" } else { "-" }));
        row.push(product.per_unit.as_ref().map_or_else(String::new, |one| bars.draw(&parts(one))));
        table.row(row);
    }
    table
}

/// What the bar of a product's cost is made of.
fn parts(one: &PerUnit) -> [&str; 3] {
    [&one.paid, &one.own_time, &one.overhead]
}

fn batches(product: &ProductCost) -> Table {
    let mut table = Table::new([
        ("Batch", Stand::Left),
        ("Finished", Stand::Left),
        ("Made", Stand::Point),
        ("Lost", Stand::Point),
        ("Materials", Stand::Point),
        ("Wear", Stand::Point),
        ("Bought-in time", Stand::Point),
        ("Royalty", Stand::Point),
        ("Laid out", Stand::Point),
        ("Own time", Stand::Point),
        ("Overhead", Stand::Point),
        ("Full cost", Stand::Point),
        ("Your time", Stand::Right),
    ]);
    let figures = |one: &crate::reports::PerUnit| {
        [&one.materials, &one.wear, &one.bought_in_time, &one.royalty, &one.paid, &one.own_time, &one.overhead, &one.full]
            .map(|figure| number(figure))
    };
    for batch in &product.batches {
        let mut row = vec![batch.name.clone(), batch.finished.clone(), number(&batch.made), number(&batch.lost)];
        row.extend(figures(&batch.per_unit));
        row.push(time(batch.minutes_per_unit.as_deref(), "unknown"));
        table.row(row);
    }
    if let Some(per_unit) = &product.per_unit {
        let mut row = vec!["All batches".to_owned(), String::new(), number(&product.made), String::new()];
        row.extend(figures(per_unit));
        row.push(time(product.minutes_per_unit.as_deref(), "unknown"));
        table.total(row);
    }
    table
}

fn uses(product: &ProductCost) -> Table {
    let mut table =
        Table::new([("Thing", Stand::Left), ("Quantity", Stand::Point), ("", Stand::Left), ("Laid out", Stand::Point)]);
    for one in &product.uses {
        table.row(vec![one.title.clone(), number(&one.quantity), one.unit.clone(), number(&one.cost)]);
    }
    table
}

fn steps(product: &ProductCost) -> Table {
    let mut table =
        Table::new([("Step", Stand::Left), ("Yours", Stand::Right), ("Planned", Stand::Right), ("Bought in", Stand::Right)]);
    for step in &product.steps {
        table.row(vec![
            step.title.clone(),
            time(Some(&step.minutes_per_unit), "-"),
            time(step.planned_minutes_per_unit.as_deref(), "-"),
            time(Some(&step.bought_in_minutes_per_unit), "-"),
        ]);
    }
    table
}

fn variances(product: &ProductCost) -> Table {
    let mut table = Table::new([("Why", Stand::Left), ("More", Stand::Point)]);
    for batch in &product.batches {
        let mut differing = batch.variances.iter().filter(|variance| !is_zero(&variance.amount)).peekable();
        if differing.peek().is_some() {
            table.heading(&batch.name);
        }
        for variance in differing {
            table.row(vec![variance.says.clone(), number(&variance.amount)]);
        }
    }
    table
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::made_up;

    #[test]
    fn the_answer_comes_first_and_every_product_has_a_row() {
        let text = text_cost(&made_up::cost(), Look::default());
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!(lines[0], "What does it cost?");
        assert_eq!(lines[1], "Wren & Gable Woodshop, 2026-01-01 to 2026-12-31, in USD");
        assert!(lines[3].starts_with("One Pull-along cart (into which most went) costs $12.48"));
        assert!(lines.iter().any(|line| line.starts_with("  Pull-along cart") && line.contains("12.478333")), "{text}");
        assert!(lines.iter().any(|line| line.starts_with("  Rolling duck") && line.contains("29.00")), "{text}");
    }

    #[test]
    fn colours_change_no_word() {
        let plain = text_cost(&made_up::cost(), Look::default());
        let coloured = text_cost(&made_up::cost(), Look { colours: true, ..Look::default() });
        assert_ne!(plain, coloured);
        assert_eq!(anstream::adapter::strip_str(&coloured).to_string(), plain);
    }
}
