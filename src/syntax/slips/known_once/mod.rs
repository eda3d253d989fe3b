//! Slips of lines below a definition: the same said in other words, `owner rate 25.00 per hour`, `commission 40%`, `sells for 42.00`.
//!
//! A rule looks at the words that a line has, whatever their order, and at its figures. What such a line says is a guess,
//! so that no correction of these is made without being asked, save where nothing else can be meant.

mod bench;
mod for_the_year;
mod goods;
mod heads;
mod said;
mod shop;
mod terms;

use super::slip::SlipRule;

pub(super) use heads::{HEAD_RULES, lists_or_sums, title_from};

/// The rules, one for each kind of definition.
pub(super) const RULES: &[SlipRule] = &[
    shop::line_of_shop,
    goods::line_of_material,
    goods::line_of_pattern,
    bench::line_of_product,
    terms::line_of_channel,
    terms::line_of_helper,
    terms::line_of_place,
    for_the_year::line_of_expense,
    for_the_year::line_of_tool,
];
