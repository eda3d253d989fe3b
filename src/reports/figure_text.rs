//! How the figures of a report are written, for its JSON Schema: every figure is text with a pattern.
//!
//! None of these is ever made; a field of a report model names one with `#[schemars(with = "…")]`, so that the schema says
//! more than that the field is text.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

macro_rules! figure_texts {
    ($($(#[doc = $doc:literal])+ $name:ident, $title:literal, $pattern:literal;)+) => {$(
        $(#[doc = $doc])+
        pub(crate) struct $name;

        impl JsonSchema for $name {
            fn schema_name() -> Cow<'static, str> {
                $title.into()
            }

            fn json_schema(_: &mut SchemaGenerator) -> Schema {
                json_schema!({ "type": "string", "pattern": $pattern, "description": concat!($($doc),+).trim() })
            }
        }
    )+};
}

figure_texts! {
    /// Money in the currency's unit with all of the currency's digits and no separators: `1260.00`, `-4.50`.
    MoneyText, "Money", r"^-?(0|[1-9][0-9]*)(\.[0-9]{2,4})?$";
    /// Cost per unit in the currency's unit, two to six digits, unrounded up to there.
    UnitCostText, "UnitCost", r"^-?(0|[1-9][0-9]*)(\.[0-9]{2,6})?$";
    /// An amount with up to six digits below its unit.
    AmountText, "Amount", r"^-?(0|[1-9][0-9]*)(\.[0-9]{1,6})?$";
    /// A quantity in the unit that stands beside it: exact where its decimal ends, up to 28 digits; else rounded to nine.
    QuantityText, "Quantity", r"^-?(0|[1-9][0-9]*)(\.[0-9]{1,28})?$";
    /// What a step of a derivation comes to: money or minutes with up to six digits below their unit, or a quantity with up to 28.
    ToldText, "Told", r"^-?(0|[1-9][0-9]*)(\.[0-9]{1,28})?$";
    /// Working time in minutes, up to six digits.
    MinutesText, "Minutes", r"^-?(0|[1-9][0-9]*)(\.[0-9]{1,6})?$";
    /// A part of the whole in percent, without the sign.
    PercentText, "Percent", r"^(0|[1-9][0-9]*)(\.[0-9]+)?$";
    /// A day.
    DayText, "Day", r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$";
    /// A month.
    MonthText, "Month", r"^[0-9]{4}-[0-9]{2}$";
}
