//! The tree in words, so that a test is a table of lines and what they say.
//!
//! Spans are shown as the text they cover; figures as they were read.

use super::Read;
use crate::sources::Span;
use crate::syntax::{Amount, AmountKind, Detail, DetailKind, Entry, Item, Said, Sizes};

impl Read {
    pub(crate) fn text(&self, span: Span) -> &str {
        self.sources.text(span)
    }

    /// What `debug` prints, with spans as texts in angle brackets.
    pub(crate) fn plain(&self, value: impl std::fmt::Debug) -> String {
        let shown = format!("{value:?}");
        let mut out = String::new();
        let mut rest = shown.as_str();
        while let Some((before, after)) = rest.split_once("Span { start: ") {
            let (start, after) = after.split_once(", end: ").expect("a span has an end");
            let (end, after) = after.split_once(" }").expect("a span is closed");
            let span = Span::new(start.parse().expect("a number"), end.parse().expect("a number"));
            out.push_str(before);
            out.push_str(&format!("<{}>", self.text(span)));
            rest = after;
        }
        out.push_str(rest);
        out
    }

    pub(crate) fn detail(&self, detail: &Detail) -> String {
        let kind = match &detail.kind {
            DetailKind::Items(word, items) => {
                let items: Vec<String> = items.iter().map(|item| self.item(item)).collect();
                format!("{word:?}: {}", items.join(" + "))
            }
            DetailKind::Money { money, money_span, purpose, said } => {
                assert_eq!(self.text(*money_span), money.to_string());
                format!("{money} {}{}", self.plain(purpose), self.said(said))
            }
            DetailKind::Sum(word, money, span) => {
                assert_eq!(self.text(*span), money.to_string());
                format!("{word:?} {money}")
            }
            DetailKind::ReorderAt(amount) => format!("ReorderAt {}", self.amount(amount)),
            DetailKind::Allows(amount) => format!("Allows {}", self.amount(amount)),
            DetailKind::Conversion { unit, holds } => format!("1 {} = {}", self.text(*unit), self.amount(holds)),
            DetailKind::HomeWorkshop { area, percent, from } => {
                let area = area.map(|area| self.amount(&area));
                format!("HomeWorkshop {area:?} {percent:?} {from:?}")
            }
            other => self.plain(other),
        };
        if detail.memo.is_empty() { kind } else { format!("{kind} \"{}\"", self.text(detail.memo)) }
    }

    pub(crate) fn amount(&self, amount: &Amount) -> String {
        match amount.kind {
            AmountKind::Count { whole: true } => format!("{}", amount.value),
            AmountKind::Count { whole: false } => format!("{} (not whole)", amount.value),
            AmountKind::Measured { unit } => format!("{} [{}]", amount.value, self.text(unit)),
            AmountKind::Time => format!("{} minutes", amount.value.normalize()),
        }
    }

    fn item(&self, item: &Item) -> String {
        let licence = if item.licence { " licence" } else { "" };
        let sizes = item.sizes.as_ref().map(|sizes| self.sizes(sizes)).unwrap_or_default();
        format!("{}{licence} {}{sizes}{}", self.amount(&item.amount), self.text(item.name), self.said(&item.said))
    }

    fn sizes(&self, sizes: &Sizes) -> String {
        let sides: Vec<String> = sizes
            .sides
            .iter()
            .map(|side| {
                let quarters = if side.quarters { "q" } else { "" };
                let unit = side.unit.map(|unit| format!(" {}", self.text(unit))).unwrap_or_default();
                format!("{}{quarters}{unit}", side.value.normalize())
            })
            .collect();
        format!(" ({})", sides.join(" x "))
    }

    fn said(&self, said: &[Said]) -> String {
        said.iter()
            .map(|one| match one.what {
                crate::syntax::SaidWhat::Per(amount) => format!(", Per {}", self.amount(&amount)),
                crate::syntax::SaidWhat::Counted(amount) => format!(", Counted {}", self.amount(&amount)),
                what => format!(", {}", self.plain(what)),
            })
            .collect()
    }

    pub(crate) fn head(&self, entry: &Entry) -> String {
        let day = match (entry.date, entry.year) {
            (Some(date), None) => date.to_string(),
            (None, Some(year)) => format!("year {year}"),
            other => format!("{other:?}"),
        };
        let parts: String = entry
            .parts
            .iter()
            .map(|(part, _)| match part {
                crate::syntax::HeadPart::Amount(amount) => format!(" Amount({})", self.amount(amount)),
                other => format!(" {}", self.plain(other)),
            })
            .collect();
        format!("{:?} {day}{parts}", entry.verb)
    }
}

/// What lines below one head say; each must be read without a finding.
pub(crate) fn lines_below(head: &str, lines: &[(&str, &str)]) {
    for (line, expected) in lines {
        let book = super::read(&format!("{head}\n    {line}\n"));
        let found: Vec<&str> = book.found.iter().map(|one| one.message.as_str()).collect();
        assert_eq!(found, Vec::<&str>::new(), "{line}");
        let details =
            book.syntax.entries.iter().map(|one| &one.details).chain(book.syntax.definitions.iter().map(|one| &one.details));
        let details: Vec<String> = details.flatten().map(|detail| book.detail(detail)).collect();
        assert_eq!(details.join(" / "), *expected, "{line}");
    }
}
