//! A bar of characters: a picture for a terminal, beside the figure that it shows.
//!
//! Full, grey and light blocks stand for parts, so that a bar reads without colours. It is left out where a table has no room for it.

use rust_decimal::{Decimal, RoundingStrategy};

use crate::render::number_format::figure;

/// What the parts of a bar are drawn with, the first part first.
const BLOCKS: [char; 3] = ['█', '▒', '░'];
/// Characters of the longest bar.
const LONGEST: i64 = 30;

/// Bars of one column, all on the scale of the longest.
pub(super) struct Bars {
    largest: Decimal,
}

impl Bars {
    /// A scale on which the largest sum of parts is as long as a bar may be. What is below nothing has no length.
    pub(super) fn over<'a>(rows: impl IntoIterator<Item = Vec<&'a str>>) -> Self {
        let sums =
            rows.into_iter().map(|parts| parts.into_iter().filter_map(length).fold(Decimal::ZERO, Decimal::saturating_add));
        Self { largest: sums.max().unwrap_or_default() }
    }

    /// The bar of a row. Its parts meet: each ends where its sum stands on the scale.
    pub(super) fn draw(&self, parts: &[&str]) -> String {
        let mut bar = String::new();
        let (mut sum, mut drawn) = (Decimal::ZERO, 0);
        for (part, block) in parts.iter().zip(BLOCKS) {
            sum = sum.saturating_add(length(part).unwrap_or_default());
            let end = self.place(sum).unwrap_or(drawn);
            bar.extend((drawn..end).map(|_| block));
            drawn = end.max(drawn);
        }
        bar
    }

    fn place(&self, sum: Decimal) -> Option<i64> {
        let along = sum.checked_div(self.largest)?.checked_mul(Decimal::from(LONGEST))?;
        i64::try_from(along.round_dp_with_strategy(0, RoundingStrategy::MidpointAwayFromZero)).ok()
    }
}

fn length(text: &str) -> Option<Decimal> {
    figure(text).map(|amount| amount.max(Decimal::ZERO))
}

/// What the blocks stand for, as the heading of their column.
pub(super) fn bar_heading<const N: usize>(parts: [&str; N]) -> String {
    parts.iter().zip(BLOCKS).map(|(part, block)| format!("{block} {part}")).collect::<Vec<_>>().join("  ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_longest_bar_fills_its_room_and_its_parts_meet() {
        let bars = Bars::over([vec!["10.00", "5.00"], vec!["1.00", "1.00"]]);
        assert_eq!(bars.draw(&["10.00", "5.00"]), format!("{}{}", "█".repeat(20), "▒".repeat(10)));
        assert_eq!(bars.draw(&["1.00", "1.00"]), "██▒▒");
    }

    #[test]
    fn a_loss_and_nothing_have_no_bar() {
        let bars = Bars::over([vec!["10.00"], vec!["-4.00"], vec!["0.00"]]);
        assert_eq!((bars.draw(&["-4.00"]), bars.draw(&["0.00"])), (String::new(), String::new()));
        let none = Bars::over(Vec::<Vec<&str>>::new());
        assert_eq!(none.draw(&["1.00"]), "");
    }

    #[test]
    fn a_figure_beyond_all_measure_draws_nothing_wrong() {
        let huge = "79228162514264337593543950335";
        let bars = Bars::over([vec![huge, huge]]);
        assert!(bars.draw(&[huge, huge]).chars().count() <= 30);
    }

    #[test]
    fn the_heading_says_what_each_block_is() {
        assert_eq!(bar_heading(["yours", "bought in"]), "█ yours  ▒ bought in");
    }
}
