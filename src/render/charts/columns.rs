//! Columns that stand beside each other in time: the worth of the stock at each month's end, income and cost by month.

use minijinja::context;
use minijinja::value::Value;
use rust_decimal::Decimal;

use super::scale::Scale;
use super::{Frame, WHOLE, percent, whole};
use crate::render::number_format::{Shown, figure, grouped, month_name};
use crate::reports::PaysMonth;

/// Height of the columns, in pixels.
const HEIGHT: i64 = 190;
/// Room above them for a figure, and below for the months.
const ABOVE: i64 = 22;
const BELOW: i64 = 40;
/// Room for one letter of a figure beside the columns, in pixels.
const DIGIT: i64 = 8;
/// As many months as have a name each below them on a phone.
const NAMED_MONTHS: usize = 14;

/// The worth of all stock at the end of each month, one column a month.
pub(crate) fn draw_stock_over_time(over_time: &[(String, String)]) -> Option<Value> {
    let series: Vec<(&str, Decimal)> =
        over_time.iter().filter_map(|(month, paid)| Some((month.as_str(), figure(paid)?))).collect();
    if series.len() < 2 {
        return None;
    }
    let scale = Scale::over(series.iter().map(|(_, paid)| *paid), 4, HEIGHT)?;
    let zero = scale.zero();
    let highest = series.iter().map(|(_, paid)| *paid).max()?;
    let last = series.len() - 1;
    let (mut columns, mut figures) = (Vec::new(), Vec::new());
    for (number, (_, paid)) in series.iter().enumerate() {
        let (x, width) = slot(number, series.len());
        let end = scale.place(*paid);
        columns.push(context! {
            x => percent(x),
            width => percent(width),
            y => ABOVE + HEIGHT - zero.max(end),
            height => (end - zero).abs(),
            fill => "stock",
        });
        if figures.is_empty() && *paid == highest {
            figures.push(context! {
                x => percent(x + width / 2),
                y => ABOVE + HEIGHT - zero.max(end) - 6,
                text => whole(*paid),
                anchor => anchor(number, series.len()),
            });
        }
    }
    let (first_month, first) = series.first()?;
    let (last_month, final_worth) = series.get(last)?;
    let frame = Frame {
        template: "charts/columns.svg.html",
        id: "stock-over-time".to_owned(),
        title: "Paid cost of all stock at the end of each month".to_owned(),
        description: format!(
            "One column for each of {} months: {} at the end of {first_month}, {} at the end of {last_month}, at most {}. All figures are in the table below.",
            series.len(),
            whole(*first),
            whole(*final_worth),
            whole(highest)
        ),
        height: ABOVE + HEIGHT + BELOW,
    };
    let months: Vec<&str> = series.iter().map(|(month, _)| *month).collect();
    Some(frame.with(context! { columns, figures, legend => Vec::<Value>::new(), ..axes(&scale, &months) }))
}

/// Income and cost of each month, two columns a month.
pub(crate) fn draw_income_and_cost(months: &[PaysMonth], figures_stand: &str) -> Option<Value> {
    let series: Vec<(&str, Decimal, Decimal)> =
        months.iter().filter_map(|month| Some((month.month.as_str(), figure(&month.revenue)?, figure(&month.cost)?))).collect();
    if series.len() < 2 {
        return None;
    }
    let scale = Scale::over(series.iter().flat_map(|(_, revenue, cost)| [*revenue, *cost]), 4, HEIGHT)?;
    let zero = scale.zero();
    let mut columns = Vec::new();
    for (number, (_, revenue, cost)) in series.iter().enumerate() {
        let (x, width) = slot(number, series.len());
        let (gap, half) = (width / 10, width * 2 / 5);
        for (offset, amount, fill) in [(gap, revenue, "income"), (gap + half, cost, "cost")] {
            let end = scale.place(*amount);
            columns.push(context! {
                x => percent(x + offset),
                width => percent(half),
                y => ABOVE + HEIGHT - zero.max(end),
                height => (end - zero).abs(),
                fill,
            });
        }
    }
    let legend = vec![
        context! { fill => "income", name => "income from goods" },
        context! { fill => "cost", name => "cost of what was sold, and of selling it" },
    ];
    let named: Vec<String> = series
        .iter()
        .take(24)
        .map(|(month, revenue, cost)| format!("{month} {} and {}", whole(*revenue), whole(*cost)))
        .collect();
    let frame = Frame {
        template: "charts/columns.svg.html",
        id: "income-and-cost".to_owned(),
        title: "Income and cost by month".to_owned(),
        description: format!(
            "Two columns a month, income from goods and its cost: {}. All figures are {figures_stand}.",
            named.join(", ")
        ),
        height: ABOVE + HEIGHT + BELOW,
    };
    let months: Vec<&str> = series.iter().map(|(month, ..)| *month).collect();
    Some(frame.with(context! { columns, figures => Vec::<Value>::new(), legend, ..axes(&scale, &months) }))
}

/// Left edge and width of a month's room.
fn slot(number: usize, count: usize) -> (i64, i64) {
    let count = i64::try_from(count.max(1)).unwrap_or(WHOLE);
    let number = i64::try_from(number).unwrap_or(WHOLE);
    let left = WHOLE * number / count;
    (left, WHOLE * (number + 1) / count - left)
}

fn anchor(number: usize, count: usize) -> &'static str {
    match number {
        _ if count < 4 => "middle",
        0 => "start",
        number if number + 1 == count => "end",
        _ => "middle",
    }
}

fn tick_text(tick: Decimal) -> String {
    grouped(&tick.normalize().to_string(), Shown::Page)
}

/// Lines across for round figures, and names below: each month of a year, else each January's year.
fn axes(scale: &Scale, months: &[&str]) -> Value {
    let lines: Vec<Value> = scale
        .ticks
        .iter()
        .map(|tick| {
            context! {
                y => ABOVE + HEIGHT - scale.place(*tick),
                text => tick_text(*tick),
                is_zero => tick.is_zero(),
            }
        })
        .collect();
    let mut names = Vec::new();
    let months_named = months.len() <= NAMED_MONTHS;
    let years_apart = months.len() / 12 / 8 + 1;
    let mut januaries = 0_usize;
    for (number, month) in months.iter().enumerate() {
        let (x, width) = slot(number, months.len());
        let is_january = month.get(4..7) == Some("-01");
        let year = month.get(0..4).unwrap_or("");
        if months_named {
            let year = if number == 0 || is_january { year } else { "" };
            names.push(context! { x => percent(x + width / 2), month => month_name(month), year });
        } else if is_january {
            if januaries.is_multiple_of(years_apart) {
                names.push(context! { x => percent(x + width / 2), month => "", year });
            }
            januaries += 1;
        }
    }
    let longest = scale.ticks.iter().map(|tick| tick_text(*tick).chars().count()).max().unwrap_or(0);
    let axis = i64::try_from(longest).unwrap_or(0) * DIGIT + 12;
    context! { lines, names, names_top => ABOVE + HEIGHT, axis }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::made_up;

    fn list(picture: &Value, name: &str) -> Vec<Value> {
        picture.get_attr(name).and_then(|list| Ok(list.try_iter()?.collect())).expect("a list")
    }

    fn text(value: &Value, name: &str) -> String {
        value.get_attr(name).expect("a part").to_string()
    }

    #[test]
    fn a_column_reaches_from_zero_to_its_figure() {
        let picture = draw_stock_over_time(&made_up::stock().over_time).expect("a picture");
        let columns = list(&picture, "columns");
        assert_eq!(columns.len(), 12);
        // 2,655.00 on a scale to 3,000 of 190 pixels: 168 high, with its foot at 22 + 190.
        assert_eq!((text(&columns[9], "y"), text(&columns[9], "height")), ("44".to_owned(), "168".to_owned()));
        let figures: Vec<String> = list(&picture, "figures").iter().map(|one| text(one, "text")).collect();
        assert_eq!(figures, ["2,655"]);
    }

    #[test]
    fn months_are_named_for_a_year_and_years_for_longer() {
        let day = |number: usize| (format!("{}-{:02}", 2026 + number / 12, number % 12 + 1), "10.00".to_owned());
        let year: Vec<_> = (0..12).map(day).collect();
        let names = list(&draw_stock_over_time(&year).expect("a picture"), "names");
        assert_eq!(names.len(), 12);
        assert_eq!((text(&names[0], "month"), text(&names[0], "year")), ("Jan".to_owned(), "2026".to_owned()));
        let decades: Vec<_> = (0..12 * 40).map(day).collect();
        let names = list(&draw_stock_over_time(&decades).expect("a picture"), "names");
        assert!(names.len() <= 9, "{}", names.len());
        assert!(names.iter().all(|name| text(name, "month").is_empty()));
    }

    #[test]
    fn each_month_has_an_income_and_a_cost() {
        let picture = draw_income_and_cost(&made_up::pays().months, "in the table below").expect("a picture");
        let columns = list(&picture, "columns");
        assert_eq!(columns.len(), 24);
        assert_eq!(text(&columns[0], "fill"), "income");
        assert_eq!(text(&columns[1], "fill"), "cost");
    }

    #[test]
    fn a_book_of_one_month_has_no_picture_of_time() {
        assert!(draw_stock_over_time(&made_up::stock().over_time[..1]).is_none());
        assert!(draw_income_and_cost(&made_up::pays().months[..1], "").is_none());
        assert!(draw_stock_over_time(&[]).is_none());
        assert!(draw_income_and_cost(&[], "").is_none());
    }
}
