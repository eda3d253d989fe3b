//! Amounts and sizes: `31.5 bf`, `1h 48m`, `4/4 x 6 1/2 x 48 in`.
//!
//! The grammar takes the words of a figure together; here they are told apart: a time ends with `h`, `m` or `min` joined to its
//! number, or has `h` or `min` for its unit. A size that no board has is told at once, where it stands.

use crate::sources::Span;
use crate::syntax::errors::{self, Unread};
use crate::syntax::grammar::Rule;
use crate::syntax::lower_leaf::Leaves;
use crate::syntax::nodes::{Branch, Siblings};
use crate::syntax::{Amount, AmountKind, Side, Sizes};
use crate::units::{self, NumberForm, Size, SizeError, SpacedM, TimeFault, Unit, canonical_unit, read_number, read_time};

/// Lowers `amount`: a figure, with or without a unit.
pub(crate) fn lower_amount(leaves: Leaves<'_>, mut inner: Siblings<'_>, spaced_m: SpacedM) -> Result<Amount, Unread> {
    let figure = inner.when(Rule::figure).ok_or(Unread::Slip)?.node.span;
    let unit = inner.when(Rule::unit).map(|leaf| leaf.node.span);
    amount(leaves, figure, unit, spaced_m)
}

/// An amount of a figure and a unit.
pub(crate) fn amount(leaves: Leaves<'_>, figure: Span, unit: Option<Span>, spaced_m: SpacedM) -> Result<Amount, Unread> {
    let is_time = figure_is_time(leaves, figure);
    match unit {
        None if is_time => time(leaves, figure, spaced_m),
        None => number(leaves, figure, None),
        Some(_) if is_time => Err(Unread::Slip),
        Some(unit) if unit_is_time(leaves, unit, spaced_m) => time(leaves, figure.to(unit), spaced_m),
        Some(unit) => number(leaves, figure, Some(unit)),
    }
}

/// Whether the words of a figure end as a time does.
pub(crate) fn figure_is_time(leaves: Leaves<'_>, figure: Span) -> bool {
    let text = leaves.text(figure);
    if text.bytes().next_back().is_none_or(|last| !matches!(last, b'h' | b'm' | b'n')) {
        return false;
    }
    let last = text.rsplit(char::is_whitespace).next().unwrap_or("");
    let digits = last.trim_end_matches(|c: char| c.is_ascii_alphabetic());
    matches!(last.get(digits.len()..), Some("h" | "m" | "min"))
}

/// Whether a unit is one of time here.
pub(crate) fn unit_is_time(leaves: Leaves<'_>, unit: Span, spaced_m: SpacedM) -> bool {
    match leaves.text(unit) {
        "h" | "min" => true,
        "m" => spaced_m == SpacedM::Minutes,
        _ => false,
    }
}

/// A time, in minutes.
pub(crate) fn time(leaves: Leaves<'_>, span: Span, spaced_m: SpacedM) -> Result<Amount, Unread> {
    let minutes = read_time(leaves.text(span), spaced_m).map_err(|fault| match fault {
        TimeFault::Number(fault) => leaves.number_fault(span, fault),
        TimeFault::TooLarge => leaves.number_fault(span, units::NumberFault::TooLong),
        _ => Unread::Slip,
    })?;
    let value = minutes.to_decimal().ok_or_else(|| leaves.number_fault(span, units::NumberFault::TooLong))?;
    Ok(Amount { value, kind: AmountKind::Time, span })
}

/// A number with or without a unit that isn't time.
fn number(leaves: Leaves<'_>, figure: Span, unit: Option<Span>) -> Result<Amount, Unread> {
    let number = read_number(leaves.text(figure)).map_err(|fault| leaves.number_fault(figure, fault))?;
    let kind = match unit {
        None => AmountKind::Count { whole: number.form == NumberForm::Whole },
        Some(unit) => AmountKind::Measured { unit },
    };
    Ok(Amount { value: number.value, kind, span: unit.map_or(figure, |unit| figure.to(unit)) })
}

/// Lowers sizes, the first side's figure and unit before the others, and tells those that no board or sheet has.
pub(crate) fn lower_sizes(leaves: Leaves<'_>, figure: Span, unit: Option<Span>, others: Branch<'_>) -> Result<Sizes, Unread> {
    let span = figure.to(others.node.span);
    let count = others.inner.count() + 1;
    if count > 3 {
        return Err(errors::wrong_sizes(span, format!("sizes have two or three sides, not {count}")).into());
    }
    let mut written = Vec::with_capacity(count);
    written.push((figure, unit));
    for side in others.inner {
        let mut inner = side.inner;
        let figure = inner.when(Rule::figure).ok_or(Unread::Slip)?.node.span;
        written.push((figure, inner.when(Rule::unit).map(|leaf| leaf.node.span)));
    }
    let mut sides = Vec::with_capacity(count);
    let mut checked = Vec::with_capacity(count);
    for (place, (figure, unit)) in written.into_iter().enumerate() {
        let number = read_number(leaves.text(figure)).map_err(|fault| leaves.number_fault(figure, fault))?;
        let quarters =
            matches!(number.form, NumberForm::Quarters(_)) || (place == 0 && count == 3 && number.quarters().is_some());
        sides.push(Side { value: number.value, quarters, unit, span: unit.map_or(figure, |unit| figure.to(unit)) });
        let unit = unit.map(|span| length_unit(leaves, span)).transpose()?;
        checked.push(units::Side { number, unit });
    }
    match Size::from_sides(&checked) {
        Ok(_) => Ok(Sizes { sides, span }),
        Err(error) => Err(size_error(leaves, span, &sides, error)),
    }
}

/// The unit of a side.
fn length_unit(leaves: Leaves<'_>, span: Span) -> Result<Unit, Unread> {
    let word = leaves.words(span);
    Unit::parse(&word).ok_or_else(|| {
        let found = errors::wrong_sizes(span, format!("`{word}` is no unit of length"));
        match canonical_unit(&word) {
            Some(unit) => found.fix(format!("the unit is written `{unit}`"), span, unit.as_str()).sure().into(),
            None => found.note("a side is in in, ft, yd, mm, cm or m").into(),
        }
    })
}

/// Says what is wrong with sizes.
fn size_error(leaves: Leaves<'_>, span: Span, sides: &[Side], error: SizeError) -> Unread {
    let side = |at: usize| sides.get(at).map_or(span, |side| side.span);
    match error {
        SizeError::MissingUnit => {
            let fixed = format!("{} in", leaves.text(span));
            errors::sizes_need_units(span, "the sizes need a unit at the end".to_owned())
                .fix("if they are in inches", span, fixed)
                .into()
        }
        SizeError::NeedsOwnUnit { side: at, last } => errors::sizes_need_units(side(at), error.to_string())
            .label(format!("in what? one unit at the end serves all sides only if it is in, mm or cm, not {last}"))
            .into(),
        SizeError::ThicknessOver8Inches | SizeError::ThicknessOverWidth => {
            let found = errors::wrong_sizes(side(0), error.to_string());
            match quarters_meant(leaves.text(side(0))) {
                Some(quarters) => found.fix("quarters of an inch are written with a stroke", side(0), quarters).into(),
                None => found.note("sizes are thickness x width x length").into(),
            }
        }
        SizeError::NotALength { side: at, .. }
        | SizeError::QuartersElsewhere { side: at }
        | SizeError::Zero { side: at }
        | SizeError::TooManyDigits { side: at } => errors::wrong_sizes(side(at), error.to_string()).into(),
        SizeError::SideCount(_) => errors::wrong_sizes(span, error.to_string()).into(),
    }
}

/// `44` as `4/4`: what a thickness of two digits was probably meant to be.
fn quarters_meant(text: &str) -> Option<String> {
    let quarters = text.strip_suffix('4').filter(|above| above.parse::<u32>().is_ok_and(|above| (4..=16).contains(&above)))?;
    Some(format!("{quarters}/4"))
}
