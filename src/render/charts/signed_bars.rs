//! Bars to the right of zero, losses to its left: paid and full margins by line and channel, and what an hour earned against the owner's rate.

use minijinja::context;
use minijinja::value::Value;
use rust_decimal::Decimal;

use super::ruler::rule_marks;
use super::scale::Scale;
use super::{Frame, WHOLE, brief, keep_largest, label, percent, whole};
use crate::render::number_format::{Shown, figure, grouped};
use crate::render::spoken::kind_heading;
use crate::reports::{PaysGroup, PaysReport};

const ROW: i64 = 44;
const HEADING: i64 = 30;
const RULE: i64 = 34;
/// A bar's first pixel below its row's, and its height; the second bar of a row is thinner.
const BAR: (i64, i64) = (20, 15);
const UPPER: (i64, i64) = (20, 12);
const LOWER: (i64, i64) = (33, 6);

/// A row before it has a place.
struct Row<'r> {
    group: &'r PaysGroup,
    value: String,
    /// What is drawn, each with its bar's place and how it is filled at a gain.
    bars: Vec<(Decimal, (i64, i64), &'static str)>,
}

/// Paid margin, and below it the full margin: the lines, then the channels.
pub(crate) fn draw_margins(groups: &[PaysGroup]) -> Option<Value> {
    let mut rows: Vec<Row<'_>> = Vec::new();
    for group in groups.iter().filter(|group| group.by != "product") {
        let (paid, full) = (figure(&group.sums.paid_margin)?, figure(&group.sums.full_margin)?);
        rows.push(Row {
            group,
            value: format!("{} / {}", whole(paid), whole(full)),
            bars: vec![(paid, UPPER, "gain"), (full, LOWER, "sum")],
        });
    }
    keep_largest(&mut rows, reach);
    let named = rows.iter().map(|row| {
        let [paid, full] = [&row.group.sums.paid_margin, &row.group.sums.full_margin].map(|text| grouped(text, Shown::Page));
        format!("{} {paid} paid and {full} full", row.group.title)
    });
    let named: Vec<String> = named.collect();
    let frame = Frame {
        template: "charts/signed_bars.svg.html",
        id: "margins".to_owned(),
        title: "Paid and full margin by product line and by channel".to_owned(),
        description: format!("{}. All figures are in the table below.", named.join(", ")),
        height: 0,
    };
    let legend = vec![
        context! { fill => "gain", name => "paid margin, the first figure" },
        context! { fill => "sum", name => "full margin, the second" },
    ];
    draw(frame, &rows, None, legend)
}

/// What an hour of the owner's earned by line, channel and product, with a mark at the owner's own rate.
pub(crate) fn draw_earned_per_hour(report: &PaysReport) -> Option<Value> {
    let rate = report.owner_rate.as_deref().and_then(figure);
    let mut rows: Vec<Row<'_>> = Vec::new();
    for group in &report.groups {
        let Some(earned) = group.earned_per_hour.as_deref().and_then(figure) else { continue };
        let value = group.earned_per_hour.as_deref().map_or_else(String::new, |text| grouped(text, Shown::Page));
        rows.push(Row { group, value, bars: vec![(earned, BAR, "gain")] });
    }
    keep_largest(&mut rows, reach);
    let named: Vec<String> = rows.iter().map(|row| format!("{} {}", row.group.title, row.value)).collect();
    let against = report.owner_rate.as_deref().map(|text| format!("your own rate of {}", grouped(text, Shown::Page)));
    let frame = Frame {
        template: "charts/signed_bars.svg.html",
        id: "earned-per-hour".to_owned(),
        title: match &against {
            Some(against) => format!("Earned for an hour of yours, against {against}"),
            None => "Earned for an hour of yours".to_owned(),
        },
        description: format!(
            "{}{}. All figures are in the table below.",
            named.join(", "),
            against.as_ref().map_or_else(String::new, |against| format!("; the mark stands at {against}"))
        ),
        height: 0,
    };
    draw(frame, &rows, rate.zip(against), vec![])
}

fn reach(row: &Row<'_>) -> Decimal {
    row.bars.iter().map(|(amount, ..)| amount.abs()).max().unwrap_or_default()
}

/// Gives rows their places under their headings; `mark` is a figure that stands across all of them, with its words.
fn draw(mut frame: Frame, rows: &[Row<'_>], mark: Option<(Decimal, String)>, legend: Vec<Value>) -> Option<Value> {
    let drawn = rows.iter().flat_map(|row| row.bars.iter().map(|(amount, ..)| *amount));
    let scale = Scale::over(drawn.chain(mark.as_ref().map(|(at, _)| *at)), 5, WHOLE)?;
    let zero = scale.zero();
    let (mut placed, mut headings) = (Vec::new(), Vec::new());
    let mut top = 0;
    for by in ["line", "channel", "product"] {
        let mut of_kind = rows.iter().filter(|row| row.group.by == by).peekable();
        if of_kind.peek().is_none() {
            continue;
        }
        headings.push(context! { text => kind_heading(by), top });
        top += HEADING;
        for row in of_kind {
            let bars: Vec<Value> = row
                .bars
                .iter()
                .map(|(amount, (below, height), fill)| {
                    let end = scale.place(*amount);
                    context! {
                        x => percent(zero.min(end)),
                        width => percent((end - zero).abs()),
                        y => top + below,
                        height => *height,
                        fill => if *amount < Decimal::ZERO && *fill == "gain" { "loss" } else { *fill },
                    }
                })
                .collect();
            placed.push(context! {
                label => label(&row.group.title),
                brief => brief(&row.group.title),
                value => row.value.as_str(),
                bars,
                top,
            });
            top += ROW;
        }
    }
    if placed.is_empty() {
        return None;
    }
    frame.height = top + RULE;
    let (mark, mark_words) = match mark {
        Some((at, words)) => (Some(percent(scale.place(at))), words),
        None => (None, String::new()),
    };
    Some(frame.with(context! {
        rows => placed,
        headings,
        mark,
        mark_words,
        legend,
        zero => percent(zero),
        rule_top => top,
        marks => rule_marks(&scale),
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::made_up;

    fn list(of: &Value, name: &str) -> Vec<Value> {
        of.get_attr(name).and_then(|rows| Ok(rows.try_iter()?.collect())).expect("a list")
    }

    fn texts<const N: usize>(of: &Value, names: [&str; N]) -> [String; N] {
        names.map(|name| of.get_attr(name).map(|part| part.to_string()).unwrap_or_default())
    }

    #[test]
    fn a_loss_lies_to_the_left_of_zero_and_a_gain_to_its_right() {
        let picture = draw_margins(&made_up::pays().groups).expect("a picture");
        let rows = list(&picture, "rows");
        assert_eq!(rows.len(), 5);
        let first = list(&rows[0], "bars");
        // A scale from -500 to 2,500: zero at a sixth.
        assert_eq!(texts(&rows[0], ["label"]), ["Rolling toys"]);
        assert_eq!(texts(&first[0], ["fill", "x", "width"]), ["gain", "16.67%", "77.02%"]);
        let fourth = list(&rows[3], "bars");
        assert_eq!(texts(&rows[3], ["label"]), ["Own web page"]);
        assert_eq!(texts(&fourth[0], ["fill", "x", "width"]), ["loss", "12.87%", "3.80%"]);
    }

    #[test]
    fn the_full_margin_stands_below_the_paid_one() {
        let groups = made_up::pays().groups;
        let rows = list(&draw_margins(&groups).expect("a picture"), "rows");
        let bars = list(&rows[0], "bars");
        assert_eq!(texts(&bars[0], ["y", "height"]), ["50", "12"]);
        assert_eq!(texts(&bars[1], ["y", "height", "fill"]), ["63", "6", "sum"]);
        let expected =
            [&groups[0].sums.paid_margin, &groups[0].sums.full_margin].map(|text| whole(figure(text).expect("a figure")));
        assert_eq!(texts(&rows[0], ["value"]), [expected.join(" / ")]);
    }

    #[test]
    fn what_an_hour_earned_has_a_mark_at_the_owner_s_rate_and_nothing_where_hours_are_unknown() {
        let report = made_up::pays();
        let picture = draw_earned_per_hour(&report).expect("a picture");
        let rows = list(&picture, "rows");
        // The gift shop's hours are unknown.
        assert_eq!(rows.len(), report.groups.len() - 1);
        // A scale from -10 to 40: 24.00 stands at 68 %.
        assert_eq!(texts(&picture, ["mark", "mark_words"]), ["68.00%", "your own rate of 24.00"]);
    }

    #[test]
    fn a_shop_without_a_rate_has_no_mark() {
        let mut report = made_up::pays();
        report.owner_rate = None;
        let picture = draw_earned_per_hour(&report).expect("a picture");
        assert!(picture.get_attr("mark").expect("a value").is_none());
        assert_eq!(texts(&picture, ["title"]), ["Earned for an hour of yours"]);
    }

    #[test]
    fn margins_of_nothing_have_no_picture() {
        assert!(draw_margins(&[]).is_none());
        let mut report = made_up::pays();
        report.groups.clear();
        assert!(draw_earned_per_hour(&report).is_none());
    }
}
