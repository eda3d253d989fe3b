//! Hours worked by step, the owner's and bought in, one bar a step.

use minijinja::context;
use minijinja::value::Value;
use rust_decimal::Decimal;

use super::ruler::rule_marks;
use super::scale::Scale;
use super::{Frame, WHOLE, brief, keep_largest, label, percent};
use crate::render::number_format::{Shown, figure, hours};
use crate::reports::StepHours;

/// Height of a bar with its line of words, in pixels.
const ROW: i64 = 46;
/// Height of the rule below the bars, in pixels.
const RULE: i64 = 34;

/// One bar a step, the longest first; the rule below counts hours.
pub(crate) fn draw_hours_by_step(steps: &[StepHours]) -> Option<Value> {
    let sixty = Decimal::from(60);
    let mut bars: Vec<(&StepHours, Decimal, Decimal)> = Vec::new();
    for step in steps {
        let own = figure(&step.own_minutes)?.checked_div(sixty)?;
        let bought_in = figure(&step.bought_in_minutes)?.checked_div(sixty)?;
        bars.push((step, own, own.checked_add(bought_in)?));
    }
    keep_largest(&mut bars, |(_, _, both)| *both);
    let scale = Scale::over(bars.iter().map(|(_, _, both)| *both), 5, WHOLE)?;
    let (mut rows, mut named) = (Vec::new(), Vec::new());
    let mut top = 0;
    for (step, own, both) in &bars {
        let (start, middle, end) = (scale.zero(), scale.place(*own), scale.place(*both));
        let mut parts = Vec::new();
        for (fill, from, to) in [("own-time", start, middle), ("bought-in-time", middle, end)] {
            if from < to {
                parts.push(context! { fill, x => percent(from), width => percent(to - from) });
            }
        }
        let value = said(step);
        named.push(format!("{} {value}", step.title));
        rows.push(context! {
            label => label(&step.title),
            brief => brief(&step.title),
            note => "",
            value,
            top,
            parts,
            price => Option::<String>::None,
        });
        top += ROW;
    }
    let mut legend = vec![context! { fill => "own-time", name => "your hours" }];
    if bars.iter().any(|(_, own, both)| own != both) {
        legend.push(context! { fill => "bought-in-time", name => "bought-in hours" });
    }
    let frame = Frame {
        template: "charts/stacked_bars.svg.html",
        id: "hours-by-step".to_owned(),
        title: "Hours by step".to_owned(),
        description: format!("One bar for each step: {}. All figures are in the table below.", named.join(", ")),
        height: top + RULE,
    };
    Some(frame.with(context! { rows, legend, has_price => false, rule_top => top, marks => rule_marks(&scale) }))
}

/// The owner's time, and what was bought in beside it.
fn said(step: &StepHours) -> String {
    let own = hours(&step.own_minutes, Shown::Page);
    match figure(&step.bought_in_minutes) {
        Some(minutes) if !minutes.is_zero() => format!("{own} + {}", hours(&step.bought_in_minutes, Shown::Page)),
        _ => own,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::made_up;

    #[test]
    fn a_step_s_bought_in_hours_lie_behind_the_owner_s() {
        let picture = draw_hours_by_step(&made_up::pays().hours).expect("a picture");
        let rows: Vec<Value> = picture.get_attr("rows").and_then(|rows| Ok(rows.try_iter()?.collect())).expect("rows");
        let parts: Vec<Value> = rows[0].get_attr("parts").and_then(|parts| Ok(parts.try_iter()?.collect())).expect("parts");
        let seen: Vec<[String; 3]> = parts
            .iter()
            .map(|part| ["fill", "x", "width"].map(|name| part.get_attr(name).expect("a part").to_string()))
            .collect();
        // 70 h 10 min and 10 h on a scale to 80 hours; what is a sliver longer ends with it.
        assert_eq!(
            seen,
            [["own-time", "0.00%", "87.71%"], ["bought-in-time", "87.71%", "12.29%"]].map(|row| row.map(str::to_owned))
        );
    }

    #[test]
    fn a_book_without_hours_has_no_picture() {
        assert!(draw_hours_by_step(&[]).is_none());
    }
}
