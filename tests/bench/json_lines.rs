//! The same entries as JSON Lines, and their reading by `serde_json` into structs of the syntax tree's shape.
//!
//! The structs mirror `kerfbook::syntax` field by field (only report models are `Serialize` there); dates and decimals are read by `chrono` and
//! `rust_decimal`'s own readers.

use chrono::NaiveDate;
use kerfbook::sources::Span;
use kerfbook::syntax::{AmountKind, Detail, DetailKind, Entry, Figure, HeadPart, Item, Party, SaidWhat};
use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};

use crate::pipeline;

/// Dates and decimals as text, read by their own crates' readers.
mod as_text {
    use std::fmt::Display;
    use std::str::FromStr;

    use serde::{Deserialize, Deserializer, Serializer, de::Error};

    pub(super) fn serialize<T: Display, S: Serializer>(value: &T, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(value)
    }

    pub(super) fn deserialize<'de, T: FromStr<Err: Display>, D: Deserializer<'de>>(deserializer: D) -> Result<T, D::Error> {
        let text = <&str>::deserialize(deserializer)?;
        text.parse().map_err(D::Error::custom)
    }
}

#[derive(Serialize, Deserialize)]
struct JsonSpan(u32, u32);

impl From<Span> for JsonSpan {
    fn from(span: Span) -> Self {
        Self(span.start, span.end)
    }
}

#[derive(Serialize, Deserialize)]
struct JsonEntry {
    verb: String,
    span: JsonSpan,
    head: JsonSpan,
    #[serde(with = "as_text")]
    date: NaiveDate,
    date_span: JsonSpan,
    year: Option<i32>,
    parts: Vec<(JsonPart, JsonSpan)>,
    details: Vec<JsonDetail>,
    damaged: bool,
    unread: Vec<JsonSpan>,
}

#[derive(Serialize, Deserialize)]
enum JsonPart {
    Party { word: char, span: JsonSpan, quoted: bool },
    Name { word: char, span: JsonSpan },
}

#[derive(Serialize, Deserialize)]
struct JsonDetail {
    span: JsonSpan,
    kind: JsonKind,
    memo: JsonSpan,
}

#[derive(Serialize, Deserialize)]
enum JsonKind {
    Items(u8, Vec<JsonItem>),
    Money {
        #[serde(with = "as_text")]
        money: Decimal,
        money_span: JsonSpan,
        purpose: JsonSpan,
    },
    Sum(u8, #[serde(with = "as_text")] Decimal, JsonSpan),
    Freight {
        shipping: bool,
        #[serde(with = "as_text")]
        money: Decimal,
    },
    SalesTax {
        #[serde(with = "as_text")]
        money: Decimal,
    },
    To {
        span: JsonSpan,
        quoted: bool,
    },
    Other,
}

#[derive(Serialize, Deserialize)]
struct JsonItem {
    span: JsonSpan,
    #[serde(with = "as_text")]
    value: Decimal,
    amount_span: JsonSpan,
    unit: Option<JsonSpan>,
    name: JsonSpan,
    licence: bool,
    said: Vec<(JsonSaid, JsonSpan)>,
}

#[derive(Serialize, Deserialize)]
enum JsonSaid {
    Money(u8, #[serde(with = "as_text")] Decimal),
    Name(u8, JsonSpan),
    Other,
}

fn part(part: &HeadPart) -> JsonPart {
    let party = |word, party: &Party| JsonPart::Party { word, span: party.span.into(), quoted: party.quoted };
    match part {
        HeadPart::From(one) => party('f', one),
        HeadPart::To(one) => party('t', one),
        HeadPart::Via(span) => JsonPart::Name { word: 'v', span: (*span).into() },
        HeadPart::Receipt(span) => JsonPart::Name { word: 'r', span: (*span).into() },
        HeadPart::Order(span) => JsonPart::Name { word: 'o', span: (*span).into() },
        HeadPart::Batch(span) => JsonPart::Name { word: 'b', span: (*span).into() },
        other => unreachable!("the generated book has no {other:?}"),
    }
}

fn item(item: &Item) -> JsonItem {
    let said = |what: &SaidWhat| match what {
        SaidWhat::At(money) => JsonSaid::Money(0, *money),
        SaidWhat::For(money) => JsonSaid::Money(1, *money),
        SaidWhat::On(span) => JsonSaid::Name(0, (*span).into()),
        _ => JsonSaid::Other,
    };
    JsonItem {
        span: item.span.into(),
        value: item.amount.value,
        amount_span: item.amount.span.into(),
        unit: match item.amount.kind {
            AmountKind::Measured { unit } => Some(unit.into()),
            _ => None,
        },
        name: item.name.into(),
        licence: item.licence,
        said: item.said.iter().map(|one| (said(&one.what), one.span.into())).collect(),
    }
}

fn detail(detail: &Detail) -> JsonDetail {
    let kind = match &detail.kind {
        DetailKind::Items(word, items) => JsonKind::Items(*word as u8, items.iter().map(item).collect()),
        DetailKind::Money { money, money_span, .. } => {
            JsonKind::Money { money: *money, money_span: (*money_span).into(), purpose: detail.span.into() }
        }
        DetailKind::Sum(word, money, span) => JsonKind::Sum(*word as u8, *money, (*span).into()),
        DetailKind::Freight { shipping, money, .. } => JsonKind::Freight { shipping: *shipping, money: *money },
        DetailKind::SalesTax { figure: Figure::Money(money), .. } => JsonKind::SalesTax { money: *money },
        DetailKind::To(party) => JsonKind::To { span: party.span.into(), quoted: party.quoted },
        _ => JsonKind::Other,
    };
    JsonDetail { span: detail.span.into(), kind, memo: detail.memo.into() }
}

fn entry(entry: &Entry) -> JsonEntry {
    JsonEntry {
        verb: format!("{:?}", entry.verb),
        span: entry.span.into(),
        head: entry.head.into(),
        date: entry.date.expect("the generated entries have a day"),
        date_span: entry.date_span.into(),
        year: entry.year,
        parts: entry.parts.iter().map(|(one, span)| (part(one), (*span).into())).collect(),
        details: entry.details.iter().map(detail).collect(),
        damaged: entry.damaged,
        unread: entry.unread.iter().map(|span| (*span).into()).collect(),
    }
}

/// A book's entries as JSON Lines.
pub(crate) fn of(text: &str) -> String {
    let (_, tree) = pipeline::tree(text);
    let mut lines = String::new();
    for one in &tree.entries {
        lines.push_str(&serde_json::to_string(&entry(one)).expect("plain structs"));
        lines.push('\n');
    }
    lines
}

/// Reads them, on one thread, and keeps them all.
pub(crate) fn read(lines: &str) {
    let entries: Vec<JsonEntry> =
        lines.lines().map(|line| serde_json::from_str(line).expect("what was written before")).collect();
    std::hint::black_box(entries);
}
