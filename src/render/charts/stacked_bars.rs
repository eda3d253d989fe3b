//! Cost per unit as bars of its components, one bar a product or a batch.

use minijinja::context;
use minijinja::value::Value;
use rust_decimal::Decimal;

use super::ruler::rule_marks;
use super::scale::Scale;
use super::{Frame, MOST_BARS, WHOLE, brief, keep_largest, label, percent};
use crate::render::number_format::{Shown, figure, grouped, rounded};
use crate::reports::{PerUnit, ProductCost};

/// As many batches as are drawn; older ones stand in the table only.
const MOST_BATCHES: usize = MOST_BARS;
/// Height of a bar with its line of words, in pixels.
const ROW: i64 = 46;
/// Height of the rule below the bars, in pixels.
const RULE: i64 = 34;

/// The components, the paid ones first, and the word for each.
pub(crate) const COMPONENTS: [(&str, &str); 6] = [
    ("materials", "materials"),
    ("wear", "wear"),
    ("bought-in-time", "bought-in time"),
    ("royalty", "royalty"),
    ("own-time", "own time"),
    ("overhead", "overhead"),
];

struct Bar<'r> {
    label: &'r str,
    note: String,
    per_unit: &'r PerUnit,
    price: Option<Decimal>,
}

impl Bar<'_> {
    fn parts(&self) -> [Decimal; 6] {
        let one = self.per_unit;
        [&one.materials, &one.wear, &one.bought_in_time, &one.royalty, &one.own_time, &one.overhead]
            .map(|text| figure(text).unwrap_or_default().max(Decimal::ZERO))
    }
}

/// One bar a product, over all batches of the period; the list price is a mark on it.
pub(crate) fn draw_cost_by_product(products: &[ProductCost]) -> Option<Value> {
    let mut bars: Vec<Bar<'_>> = products
        .iter()
        .filter_map(|product| {
            Some(Bar {
                label: &product.title,
                note: String::new(),
                per_unit: product.per_unit.as_ref()?,
                price: product.price.as_deref().and_then(figure),
            })
        })
        .collect();
    let all = bars.len();
    keep_largest(&mut bars, |bar| figure(&bar.per_unit.full).unwrap_or_default());
    let title = match bars.len() {
        drawn if drawn == all => "Full cost of one piece, by component".to_owned(),
        drawn => format!("Full cost of one piece, by component: the {drawn} dearest"),
    };
    draw("cost-by-product", &title, "product", &bars)
}

/// One bar a batch of a product, the oldest first.
pub(crate) fn draw_cost_by_batch(product: &ProductCost, id: &str) -> Option<Value> {
    let skipped = product.batches.len().saturating_sub(MOST_BATCHES);
    let bars: Vec<Bar<'_>> = product
        .batches
        .iter()
        .skip(skipped)
        .map(|batch| Bar {
            label: &batch.name,
            note: if batch.name.ends_with(batch.finished.as_str()) { String::new() } else { batch.finished.clone() },
            per_unit: &batch.per_unit,
            price: None,
        })
        .collect();
    let title = match skipped {
        0 => format!("{}: full cost of one piece, batch by batch", product.title),
        _ => format!("{}: full cost of one piece, the last {MOST_BATCHES} batches", product.title),
    };
    draw(id, &title, "batch", &bars)
}

fn draw(id: &str, title: &str, each: &str, bars: &[Bar<'_>]) -> Option<Value> {
    let full = |bar: &Bar<'_>| bar.parts().into_iter().try_fold(Decimal::ZERO, Decimal::checked_add);
    let mut reach = Vec::new();
    for bar in bars {
        reach.push(full(bar)?);
        reach.extend(bar.price);
    }
    let scale = Scale::over(reach, 5, WHOLE)?;
    let mut used = [false; 6];
    let mut rows = Vec::new();
    let mut top = 0;
    for bar in bars {
        rows.push(row(bar, top, &scale, &mut used)?);
        top += ROW;
    }
    let legend: Vec<Value> = COMPONENTS
        .iter()
        .zip(used)
        .filter(|(_, used)| *used)
        .map(|((fill, name), _)| context! { fill => *fill, name => *name })
        .collect();
    let has_price = bars.iter().any(|bar| bar.price.is_some());
    let frame = Frame {
        template: "charts/stacked_bars.svg.html",
        id: id.to_owned(),
        title: title.to_owned(),
        description: describe(bars, each),
        height: top + RULE,
    };
    Some(frame.with(context! { rows, legend, has_price, rule_top => top, marks => rule_marks(&scale) }))
}

fn row(bar: &Bar<'_>, top: i64, scale: &Scale, used: &mut [bool; 6]) -> Option<Value> {
    let mut parts = Vec::new();
    let mut sum = Decimal::ZERO;
    for (number, ((fill, name), part)) in COMPONENTS.iter().zip(bar.parts()).enumerate() {
        let start = scale.place(sum);
        sum = sum.checked_add(part)?;
        let length = scale.place(sum) - start;
        if part.is_zero() {
            continue;
        }
        if let Some(used) = used.get_mut(number) {
            *used = true;
        }
        parts.push(context! { fill => *fill, name => *name, x => percent(start), width => percent(length) });
    }
    Some(context! {
        label => label(bar.label),
        brief => brief(bar.label),
        note => bar.note.as_str(),
        value => grouped(&rounded(&bar.per_unit.full), Shown::Page),
        top,
        parts,
        price => bar.price.map(|price| percent(scale.place(price))),
    })
}

fn describe(bars: &[Bar<'_>], each: &str) -> String {
    let named: Vec<String> =
        bars.iter().take(12).map(|bar| format!("{} {}", bar.label, grouped(&rounded(&bar.per_unit.full), Shown::Page))).collect();
    let more = if bars.len() > named.len() { ", and more" } else { "" };
    format!("One bar for each {each}, in full cost: {}{more}. All figures are in the table below.", named.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::made_up;

    fn get(value: &Value, name: &str) -> Value {
        value.get_attr(name).expect("a part")
    }

    #[test]
    fn the_parts_of_a_bar_lie_end_to_end() {
        let report = made_up::cost();
        let picture = draw_cost_by_batch(&report.products[1], "x").expect("a picture");
        let rows: Vec<Value> = get(&picture, "rows").try_iter().expect("rows").collect();
        assert_eq!(rows.len(), 3);
        let parts: Vec<Value> = get(&rows[0], "parts").try_iter().expect("parts").collect();
        let seen: Vec<(String, String)> =
            parts.iter().map(|part| (get(part, "x").to_string(), get(part, "width").to_string())).collect();
        // 10.10, 0.55, 2.00, 0.50, 17.60, 3.20 on a scale to 40.
        assert_eq!(
            seen,
            [
                ("0.00%", "25.25%"),
                ("25.25%", "1.38%"),
                ("26.63%", "5.00%"),
                ("31.63%", "1.25%"),
                ("32.88%", "44.00%"),
                ("76.88%", "8.00%")
            ]
            .map(|(x, width)| (x.to_owned(), width.to_owned()))
        );
    }

    #[test]
    fn a_component_that_no_bar_has_is_not_in_the_legend() {
        let mut report = made_up::cost();
        report.products.truncate(1);
        let picture = draw_cost_by_product(&report.products).expect("a picture");
        let names: Vec<String> =
            get(&picture, "legend").try_iter().expect("a legend").map(|entry| get(&entry, "name").to_string()).collect();
        assert_eq!(names, ["materials", "wear", "own time", "overhead"]);
    }

    #[test]
    fn a_product_that_was_not_made_has_no_picture() {
        let report = made_up::cost();
        assert!(draw_cost_by_batch(&report.products[2], "x").is_none());
    }
}
