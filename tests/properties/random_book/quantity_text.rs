//! Quantities and money of a random book: whole numbers of billionths and of cents, written as the language has them.

/// Billionths of a unit.
pub(crate) type Nano = i128;

/// One unit.
pub(crate) const ONE: Nano = 1_000_000_000;

/// A quantity as written, without zeros at its end.
pub(crate) fn quantity(nano: Nano) -> String {
    let whole = nano / ONE;
    let rest = nano % ONE;
    if rest == 0 {
        return whole.to_string();
    }
    format!("{whole}.{}", format!("{rest:09}").trim_end_matches('0'))
}

/// Money as written.
pub(crate) fn money(cents: i128) -> String {
    format!("{}.{:02}", cents / 100, cents % 100)
}

/// `a` · `b` / `c`, rounded half away from zero; none is below zero.
pub(crate) fn mul_div(a: i128, b: i128, c: i128) -> i128 {
    (a * b + c / 2) / c
}

/// Minutes as a time: `2h 5m`, `45m`.
pub(crate) fn time(minutes: i128) -> String {
    match (minutes / 60, minutes % 60) {
        (0, rest) => format!("{rest}m"),
        (hours, 0) => format!("{hours}h"),
        (hours, rest) => format!("{hours}h {rest}m"),
    }
}
