//! Pictures of a report, as values that the templates in `report-templates/charts/` draw as SVG.
//!
//! In: the report's own figures. Out: places and lengths, in whole pixels down a picture and in hundredths of a percent
//! across it, so that one picture fits a phone and a wide screen while its letters keep their size. Whole numbers and decimals
//! only. A picture that can't be drawn (nothing in it, or figures beyond all measure) is left out; its table never is.

mod bridge_steps;
mod columns;
mod ruler;
mod scale;
mod signed_bars;
mod stacked_bars;

pub(crate) use bridge_steps::draw_bridge;
pub(crate) use columns::{draw_income_and_cost, draw_stock_over_time};
pub(crate) use signed_bars::draw_margins;
pub(crate) use stacked_bars::{draw_cost_by_batch, draw_cost_by_product};

use minijinja::value::Value;

/// Hundredths of a percent in a whole.
const WHOLE: i64 = 10_000;

/// A length across the picture as an attribute's text: `12.34%`.
fn percent(hundredths: i64) -> String {
    let sign = if hundredths < 0 { "-" } else { "" };
    let magnitude = hundredths.unsigned_abs();
    format!("{sign}{}.{:02}%", magnitude / 100, magnitude % 100)
}

/// A label cut to what fits beside a figure on a phone; the table has it whole.
fn shortened(label: &str) -> String {
    const LONGEST: usize = 30;
    if label.chars().count() <= LONGEST {
        return label.to_owned();
    }
    let mut cut: String = label.chars().take(LONGEST - 1).collect();
    cut.truncate(cut.trim_end().len());
    cut.push('…');
    cut
}

/// What every picture has: its template, a name for its parts, its text alternative, its height.
struct Frame {
    template: &'static str,
    id: String,
    title: String,
    description: String,
    height: i64,
}

impl Frame {
    /// The picture's value for the templates.
    fn with(self, parts: Value) -> Value {
        minijinja::context! {
            template => self.template,
            id => self.id,
            title => self.title,
            description => self.description,
            height => self.height,
            ..parts
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_is_written_with_two_digits() {
        assert_eq!(percent(1234), "12.34%");
        assert_eq!(percent(5), "0.05%");
        assert_eq!(percent(-250), "-2.50%");
    }

    #[test]
    fn a_long_label_is_cut_by_letters_not_bytes() {
        assert_eq!(shortened("Drehbank für kleine Stücke"), "Drehbank für kleine Stücke");
        let cut = shortened(&"ü".repeat(40));
        assert_eq!(cut.chars().count(), 30);
        assert!(cut.ends_with('…'));
    }
}
