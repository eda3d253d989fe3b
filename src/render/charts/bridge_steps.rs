//! The bridge from margins to the form's net profit: each step begins where the one before it ended.

use minijinja::context;
use minijinja::value::Value;
use rust_decimal::Decimal;

use super::ruler::rule_marks;
use super::scale::Scale;
use super::{Frame, WHOLE, brief, label, percent};
use crate::render::number_format::{Shown, figure, grouped};
use crate::reports::BridgeLine;

const ROW: i64 = 40;
const RULE: i64 = 34;

/// The steps in their order; the last line is the sum and is drawn from zero.
pub(crate) fn draw_bridge(bridge: &[BridgeLine]) -> Option<Value> {
    let (last, steps) = bridge.split_last()?;
    let mut spans = Vec::new();
    let mut sum = Decimal::ZERO;
    for step in steps {
        let after = sum.checked_add(figure(&step.amount)?)?;
        if after != sum {
            spans.push((step, sum, after));
        }
        sum = after;
    }
    spans.push((last, Decimal::ZERO, figure(&last.amount)?));
    let scale = Scale::over(spans.iter().flat_map(|(_, from, to)| [*from, *to]), 5, WHOLE)?;
    let mut rows = Vec::new();
    let mut named = Vec::new();
    let mut top = 0;
    for (number, (line, from, to)) in spans.iter().enumerate() {
        let (start, end) = (scale.place(*from), scale.place(*to));
        let is_last = number + 1 == spans.len();
        rows.push(context! {
            label => label(&line.name),
            brief => brief(&line.name),
            value => grouped(&line.amount, Shown::Page),
            x => percent(start.min(end)),
            width => percent((end - start).abs()),
            end => percent(end),
            fill => match (is_last, to < from) { (true, false) => "sum", (_, true) => "loss", (false, false) => "gain" },
            is_last,
            top,
        });
        named.push(format!("{} {}", line.name, grouped(&line.amount, Shown::Page)));
        top += ROW;
    }
    let frame = Frame {
        template: "charts/bridge.svg.html",
        id: "bridge".to_owned(),
        title: "From the margins to the net profit on the form".to_owned(),
        description: format!("Each step begins where the one before it ended: {}.", named.join(", ")),
        height: top + RULE,
    };
    Some(frame.with(context! { rows, zero => percent(scale.zero()), rule_top => top, marks => rule_marks(&scale) }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::made_up;

    #[test]
    fn each_step_begins_where_the_one_before_it_ended() {
        let picture = draw_bridge(&made_up::year().bridge).expect("a picture");
        let rows: Vec<Value> = picture.get_attr("rows").and_then(|rows| Ok(rows.try_iter()?.collect())).expect("rows");
        let seen = |row: &Value| {
            ["fill", "x", "width", "end"].map(|name| row.get_attr(name).map(|part| part.to_string()).unwrap_or_default())
        };
        // A scale to 8,000.
        assert_eq!(seen(&rows[0]), ["gain", "0.00%", "76.32%", "76.32%"]);
        assert_eq!(seen(&rows[1]), ["gain", "76.32%", "1.40%", "77.72%"]);
        assert_eq!(seen(&rows[2]), ["loss", "76.29%", "1.43%", "76.29%"]);
        assert_eq!(seen(&rows[4]), ["sum", "0.00%", "65.18%", "65.18%"]);
    }

    #[test]
    fn a_bridge_without_figures_has_no_picture() {
        assert!(draw_bridge(&[]).is_none());
        let nothing = BridgeLine { name: "net profit".to_owned(), amount: "0.00".to_owned() };
        assert!(draw_bridge(&[nothing]).is_none());
    }
}
