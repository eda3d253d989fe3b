//! Paid margins by product line and by channel: bars to the right of zero, losses to its left.

use minijinja::context;
use minijinja::value::Value;
use rust_decimal::Decimal;

use super::ruler::rule_marks;
use super::scale::Scale;
use super::{Frame, WHOLE, brief, keep_largest, label, percent};
use crate::render::number_format::{Shown, figure, grouped};
use crate::reports::PaysGroup;

const ROW: i64 = 44;
const HEADING: i64 = 30;
const RULE: i64 = 34;

/// The lines, then the channels.
pub(crate) fn draw_margins(groups: &[PaysGroup]) -> Option<Value> {
    let mut drawn: Vec<(&PaysGroup, Decimal)> = groups
        .iter()
        .filter(|group| group.by != "product")
        .filter_map(|group| Some((group, figure(&group.paid_margin)?)))
        .collect();
    keep_largest(&mut drawn, |(_, margin)| margin.abs());
    let scale = Scale::over(drawn.iter().map(|(_, margin)| *margin), 5, WHOLE)?;
    let zero = scale.zero();
    let (mut rows, mut headings, mut named) = (Vec::new(), Vec::new(), Vec::new());
    let mut top = 0;
    for (by, heading) in [("line", "Product lines"), ("channel", "Channels")] {
        if !drawn.iter().any(|(group, _)| group.by == by) {
            continue;
        }
        headings.push(context! { text => heading, top });
        top += HEADING;
        for (group, margin) in drawn.iter().filter(|(group, _)| group.by == by) {
            let end = scale.place(*margin);
            rows.push(context! {
                label => label(&group.title),
                brief => brief(&group.title),
                value => grouped(&group.paid_margin, Shown::Page),
                x => percent(zero.min(end)),
                width => percent((end - zero).abs()),
                fill => if *margin < Decimal::ZERO { "loss" } else { "gain" },
                top,
            });
            named.push(format!("{} {}", group.title, grouped(&group.paid_margin, Shown::Page)));
            top += ROW;
        }
    }
    let frame = Frame {
        template: "charts/signed_bars.svg.html",
        id: "margins".to_owned(),
        title: "Paid margin by product line and by channel".to_owned(),
        description: format!("{}. All figures are in the table below.", named.join(", ")),
        height: top + RULE,
    };
    Some(frame.with(context! { rows, headings, zero => percent(zero), rule_top => top, marks => rule_marks(&scale) }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::made_up;

    #[test]
    fn a_loss_lies_to_the_left_of_zero_and_a_gain_to_its_right() {
        let picture = draw_margins(&made_up::pays().groups).expect("a picture");
        let rows: Vec<Value> = picture.get_attr("rows").and_then(|rows| Ok(rows.try_iter()?.collect())).expect("rows");
        let seen = |row: &Value| {
            ["label", "fill", "x", "width"].map(|name| row.get_attr(name).map(|part| part.to_string()).unwrap_or_default())
        };
        // A scale from -500 to 2,500: zero at a sixth.
        assert_eq!(seen(&rows[0]), ["Rolling toys", "gain", "16.67%", "77.02%"]);
        assert_eq!(seen(&rows[3]), ["Own web page", "loss", "12.87%", "3.80%"]);
        assert_eq!(rows.len(), 5);
    }

    #[test]
    fn margins_of_nothing_have_no_picture() {
        assert!(draw_margins(&[]).is_none());
    }
}
