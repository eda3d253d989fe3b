//! From figures to places in a picture: a scale that holds zero and ends on round figures.

use rust_decimal::{Decimal, RoundingStrategy};

/// The largest figure that is drawn; beyond it a picture says nothing.
const LARGEST: i64 = 1_000_000_000_000_000;

/// A scale from `low` to `high`, both round, laid over so many units of a picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Scale {
    low: Decimal,
    high: Decimal,
    span: i64,
    /// The round figures on it, the lowest first.
    pub(super) ticks: Vec<Decimal>,
}

impl Scale {
    /// Lays a scale with about `steps` steps over `span` units, so that zero and all figures are on it.
    /// `None` where every figure is zero or one is too large to draw.
    pub(super) fn over(figures: impl IntoIterator<Item = Decimal>, steps: u8, span: i64) -> Option<Self> {
        let (mut low, mut high) = (Decimal::ZERO, Decimal::ZERO);
        for figure in figures {
            low = low.min(figure);
            high = high.max(figure);
        }
        let largest = Decimal::from(LARGEST);
        if high > largest || low < largest.checked_mul(Decimal::NEGATIVE_ONE)? {
            return None;
        }
        let range = high.checked_sub(low)?;
        let step = round_step(range.checked_div(Decimal::from(steps.max(1)))?)?;
        // What is shorter than a line is thick gets no step of its own.
        let sliver = step.checked_div(Decimal::from(20))?;
        let first = low.checked_add(sliver)?.min(Decimal::ZERO).checked_div(step)?.floor();
        let last = high.checked_sub(sliver)?.max(Decimal::ZERO).checked_div(step)?.ceil();
        let mut ticks = Vec::new();
        let mut at = first;
        while at <= last {
            ticks.push(at.checked_mul(step)?);
            at = at.checked_add(Decimal::ONE)?;
        }
        Some(Self { low: *ticks.first()?, high: *ticks.last()?, span, ticks })
    }

    /// Where a figure stands, from 0 to the span; what is off the scale stands at its end.
    pub(super) fn place(&self, figure: Decimal) -> i64 {
        self.try_place(figure).unwrap_or(0).clamp(0, self.span)
    }

    fn try_place(&self, figure: Decimal) -> Option<i64> {
        let along = figure.checked_sub(self.low)?.checked_mul(Decimal::from(self.span))?;
        let whole = along.checked_div(self.high.checked_sub(self.low)?)?;
        i64::try_from(whole.round_dp_with_strategy(0, RoundingStrategy::MidpointAwayFromZero)).ok()
    }

    /// Where zero stands.
    pub(super) fn zero(&self) -> i64 {
        self.place(Decimal::ZERO)
    }
}

/// The smallest of 1, 2, 5, 10 times a power of ten that is not below `raw`. `None` for nothing.
fn round_step(raw: Decimal) -> Option<Decimal> {
    if raw <= Decimal::ZERO {
        return None;
    }
    let mut power = Decimal::ONE;
    while power > raw {
        power = power.checked_div(Decimal::TEN)?;
        if power.is_zero() {
            return None;
        }
    }
    while power.checked_mul(Decimal::TEN)? <= raw {
        power = power.checked_mul(Decimal::TEN)?;
    }
    for factor in [1, 2, 5, 10] {
        let step = power.checked_mul(Decimal::from(factor))?;
        if step >= raw {
            return Some(step.normalize());
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn decimal(text: &str) -> Decimal {
        Decimal::from_str_exact(text).expect("a number")
    }

    fn scale(figures: &[&str]) -> Option<Scale> {
        Scale::over(figures.iter().map(|text| decimal(text)), 4, 10_000)
    }

    fn ticks(figures: &[&str]) -> Vec<String> {
        scale(figures).expect("a scale").ticks.iter().map(|tick| tick.normalize().to_string()).collect()
    }

    #[test]
    fn a_scale_ends_on_round_figures_and_holds_zero() {
        assert_eq!(ticks(&["33.95"]), ["0", "10", "20", "30", "40"]);
        assert_eq!(ticks(&["0.07"]), ["0", "0.02", "0.04", "0.06", "0.08"]);
        assert_eq!(ticks(&["-114.05", "2310.55"]), ["-1000", "0", "1000", "2000", "3000"]);
        assert_eq!(ticks(&["-3"]), ["-3", "-2", "-1", "0"]);
        assert_eq!(ticks(&["400"]), ["0", "100", "200", "300", "400"]);
    }

    #[test]
    fn a_sliver_below_zero_gets_no_step_of_its_own() {
        assert_eq!(ticks(&["-0.53", "3515.77"]), ["0", "1000", "2000", "3000", "4000"]);
        assert_eq!(scale(&["-0.53", "3515.77"]).expect("a scale").place(decimal("-0.53")), 0);
    }

    #[test]
    fn places_run_from_the_first_round_figure_to_the_last() {
        let scale = scale(&["-114.05", "2310.55"]).expect("a scale");
        assert_eq!(scale.place(decimal("-1000")), 0);
        assert_eq!(scale.zero(), 2_500);
        assert_eq!(scale.place(decimal("3000")), 10_000);
        assert_eq!(scale.place(decimal("9000")), 10_000);
    }

    #[test]
    fn nothing_and_figures_beyond_measure_have_no_scale() {
        assert_eq!(scale(&[]), None);
        assert_eq!(scale(&["0.00", "0"]), None);
        assert_eq!(scale(&["79228162514264337593543950335"]), None);
        assert_eq!(scale(&["-79228162514264337593543950335"]), None);
    }

    #[test]
    fn the_smallest_figures_have_few_ticks_too() {
        let scale = scale(&["0.0000000000000000000000000001"]);
        assert!(scale.is_none_or(|scale| scale.ticks.len() <= 6));
    }
}
