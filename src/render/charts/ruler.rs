//! The rule below bars that lie: long marks with figures, short marks between, as on a carpenter's rule.

use minijinja::value::Value;

use super::scale::Scale;
use super::{WHOLE, percent};
use crate::render::number_format::{Shown, grouped};

/// The longest figure that stands at every long mark.
const LONGEST: usize = 7;

/// The marks of a scale laid across a picture.
pub(super) fn rule_marks(scale: &Scale) -> Vec<Value> {
    let mut marks = Vec::new();
    let last = scale.ticks.len().saturating_sub(1);
    let texts: Vec<String> = scale.ticks.iter().map(|tick| grouped(&tick.normalize().to_string(), Shown::Page)).collect();
    // Where figures are long, every other one is left out, so that they have room on a phone.
    let is_long = texts.iter().any(|text| text.chars().count() > LONGEST);
    let is_named = |number: usize| !is_long || last.saturating_sub(number).is_multiple_of(2);
    for (number, tick) in scale.ticks.iter().enumerate() {
        let at = scale.place(*tick);
        let anchor = match number {
            0 => "start",
            number if number == last => "end",
            _ => "middle",
        };
        marks.push(minijinja::context! {
            x => percent(at),
            text => texts.get(number).filter(|_| is_named(number)),
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
