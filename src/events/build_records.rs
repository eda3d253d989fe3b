//! `drove`, `odometer`, `retired`, `statement`, `noted`, `answered`, `closed`: what is kept for the year's end.

use rust_decimal::Decimal;

use crate::events::EventKind;
use crate::events::entry_reader::EntryReader;
use crate::events::{errors, no_effect};
use crate::names::Target;
use crate::sources::Span;
use crate::syntax::{Amount, AmountKind, DefinitionWord, DetailKind, MoneyWord};
use crate::units::{Dimension, Fixed6, Unit, convert};

/// Reads a `drove` entry.
pub(crate) fn build_drove(reader: &mut EntryReader<'_>) {
    let on: Option<Option<Target>> = match reader.head_on() {
        Some(name) => reader.target(name).map(Some),
        None => Some(None),
    };
    let memo = reader.head_texts().next().unwrap_or_default();
    if let (Some(miles), Some(on)) = (miles(reader), on) {
        let figure = reader.head_amount().map_or(reader.entry.head, |amount| amount.span);
        no_effect::tell_nothing(reader, miles.is_zero(), figure, "nothing was driven");
        reader.happened(EventKind::Drove { miles, on, memo });
    }
}

/// Reads an `odometer` entry.
pub(crate) fn build_odometer(reader: &mut EntryReader<'_>) {
    if let Some(miles) = miles(reader) {
        reader.happened(EventKind::Odometer(miles));
    }
}

/// The figure of the head in miles: exact where finite, else rounded once to 9 places.
fn miles(reader: &mut EntryReader<'_>) -> Option<Decimal> {
    let Some(Amount { value, kind, span }) = reader.head_amount() else {
        reader.fail();
        return None;
    };
    let unit = match kind {
        AmountKind::Measured { unit } => Unit::parse(&reader.look().unit_words(unit)),
        AmountKind::Count { .. } | AmountKind::Time => None,
    };
    match unit.filter(|unit| unit.dimension() == Dimension::Length) {
        Some(unit) => reader.exact(convert(value, unit, Unit::Mile), span),
        // The head was told, and its corrected line has the unit right.
        None if reader.entry.damaged => {
            reader.fail();
            None
        }
        None => {
            let told = errors::entries::not_a_distance(span, reader.text(span));
            reader.refuse(told);
            None
        }
    }
}

/// Reads a `retired` entry.
pub(crate) fn build_retired(reader: &mut EntryReader<'_>) {
    let tool = reader.head_subject().and_then(|name| reader.one_of(name, &[DefinitionWord::Tool]));
    let proceeds = match reader.head_for() {
        Some((money, span)) => reader.booked(money, span),
        None => Some(Fixed6::ZERO),
    };
    if let (Some(crate::names::Known::Tool(tool)), Some(proceeds)) = (tool, proceeds) {
        reader.happened(EventKind::Retired { tool, proceeds });
    }
}

/// Reads a `statement` entry. It counts on the last day of its year.
pub(crate) fn build_statement(reader: &mut EntryReader<'_>) {
    let from = reader.head_from().and_then(|party| reader.party(party));
    let gross = sum_of(reader, MoneyWord::Gross);
    let (Some(year), Some(from)) = (reader.entry.year, from) else { return reader.fail() };
    match gross {
        Some(Some(gross)) => {
            reader.happened(EventKind::Statement { year, from, gross });
        }
        Some(None) => {
            let verb = crate::events::build::verb_of(reader.desk.sources, reader.entry.head);
            reader.tell(errors::entries::no_lines(reader.entry.head, verb));
        }
        None => {}
    }
}

/// Reads an `answered` entry.
pub(crate) fn build_answered(reader: &mut EntryReader<'_>) {
    let texts: Vec<Span> = reader.head_texts().collect();
    match texts.as_slice() {
        [question, answer, ..] => {
            let (question, answer) = (*question, *answer);
            reader.happened(EventKind::Answered { question, answer });
        }
        _ => reader.fail(),
    }
}

/// Reads a `closed` entry. It counts on the last day of its year.
pub(crate) fn build_closed(reader: &mut EntryReader<'_>) {
    let net = sum_of(reader, MoneyWord::Net);
    let seal =
        reader.entry.details.iter().find_map(|detail| if let DetailKind::Seal(seal) = detail.kind { Some(seal) } else { None });
    let (Some(year), Some(net)) = (reader.entry.year, net) else { return reader.fail() };
    no_effect::tell_entry(reader, "a closed year");
    reader.happened(EventKind::Closed { year, net, seal: seal.unwrap_or_default() });
}

/// The sum after a word. `None` after a mistake was told.
#[expect(clippy::option_option, reason = "nothing said is not the same as something that could not be read")]
fn sum_of(reader: &mut EntryReader<'_>, wanted: MoneyWord) -> Option<Option<Fixed6>> {
    let mut sum = Some(None);
    reader.each_line(|reader, detail| {
        if let DetailKind::Sum(word, money, span) = detail.kind
            && word == wanted
        {
            sum = reader.booked(money, span).map(Some);
        }
    });
    sum
}
