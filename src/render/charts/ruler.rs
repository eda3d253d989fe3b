//! The rule below bars that lie: long marks with figures, short marks between, as on a carpenter's rule.

use minijinja::value::Value;

use super::scale::Scale;
use super::{WHOLE, percent};
use crate::render::number_format::{Shown, grouped};

/// The marks of a scale laid across a picture.
pub(super) fn rule_marks(scale: &Scale) -> Vec<Value> {
    let mut marks = Vec::new();
    let last = scale.ticks.len().saturating_sub(1);
    for (number, tick) in scale.ticks.iter().enumerate() {
        let at = scale.place(*tick);
        let anchor = match number {
            0 => "start",
            number if number == last => "end",
            _ => "middle",
        };
        marks.push(minijinja::context! {
            x => percent(at),
            text => grouped(&tick.normalize().to_string(), Shown::Page),
            anchor => anchor,
            long => true,
        });
        let Some(next) = scale.ticks.get(number + 1) else { continue };
        let length = scale.place(*next) - at;
        for short in 1..5 {
            marks.push(minijinja::context! {
                x => percent((at + length * short / 5).min(WHOLE)),
                text => "",
                anchor => "middle",
                long => false,
            });
        }
    }
    marks
}
