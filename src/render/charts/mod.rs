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
mod step_bars;

pub(crate) use bridge_steps::draw_bridge;
pub(crate) use columns::{draw_income_and_cost, draw_stock_over_time};
pub(crate) use signed_bars::{draw_earned_per_hour, draw_margins};
pub(crate) use stacked_bars::{draw_cost_by_batch, draw_cost_by_product};
pub(crate) use step_bars::draw_hours_by_step;

use minijinja::value::Value;
use rust_decimal::{Decimal, RoundingStrategy};

use crate::render::number_format::{Shown, grouped};

/// Hundredths of a percent in a whole.
const WHOLE: i64 = 10_000;

/// A length across the picture as an attribute's text: `12.34%`.
fn percent(hundredths: i64) -> String {
    let sign = if hundredths < 0 { "-" } else { "" };
    let magnitude = hundredths.unsigned_abs();
    format!("{sign}{}.{:02}%", magnitude / 100, magnitude % 100)
}

/// A figure without its cents, as it stands in a picture.
fn whole(amount: Decimal) -> String {
    let mut rounded = amount.round_dp_with_strategy(0, RoundingStrategy::MidpointAwayFromZero);
    if rounded.is_zero() {
        rounded.set_sign_positive(true);
    }
    grouped(&rounded.normalize().to_string(), Shown::Page)
}

/// A label cut to what fits beside a figure on a desk; the table has it whole.
fn label(words: &str) -> String {
    shortened(words, 70).unwrap_or_else(|| words.to_owned())
}

/// A label cut to what fits beside a figure on a phone, where the other does not fit there.
fn brief(words: &str) -> Option<String> {
    shortened(words, 30)
}

fn shortened(words: &str, longest: usize) -> Option<String> {
    if words.chars().count() <= longest {
        return None;
    }
    let mut cut: String = words.chars().take(longest - 1).collect();
    cut.truncate(cut.trim_end().len());
    cut.push('…');
    Some(cut)
}

/// As many bars as stand on one sheet of paper.
const MOST_BARS: usize = 20;

/// Keeps the bars with the largest figures, as many as stand on one sheet, in the order in which they were.
fn keep_largest<T>(bars: &mut Vec<T>, size: impl Fn(&T) -> Decimal) {
    if bars.len() > MOST_BARS {
        let mut sizes: Vec<Decimal> = bars.iter().map(&size).collect();
        sizes.sort_unstable_by(|a, b| b.cmp(a));
        let smallest_kept = sizes.get(MOST_BARS - 1).copied().unwrap_or_default();
        bars.retain(|bar| size(bar) >= smallest_kept);
        bars.truncate(MOST_BARS);
    }
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
    fn as_many_bars_as_stand_on_a_sheet_are_kept_in_their_order() {
        let mut bars: Vec<i64> = (0..30).map(|number| (number * 7) % 30).collect();
        keep_largest(&mut bars, |bar| Decimal::from(*bar));
        assert_eq!(bars.len(), MOST_BARS);
        assert_eq!(bars.first(), Some(&14));
        assert!(bars.iter().all(|bar| *bar >= 10));
        let mut same = vec![1_i64; 30];
        keep_largest(&mut same, |bar| Decimal::from(*bar));
        assert_eq!(same.len(), MOST_BARS);
    }

    #[test]
    fn a_long_label_is_cut_by_letters_not_bytes() {
        assert_eq!(brief("Drehbank für kleine Stücke"), None);
        assert_eq!(label(&"ü".repeat(40)).chars().count(), 40);
        let cut = brief(&"ü".repeat(40)).expect("cut");
        assert_eq!(cut.chars().count(), 30);
        assert!(cut.ends_with('…'));
    }
}
