//! Digits in groups of three, as people read them.

/// Groups the digits before the point by three: `1260.00` is `1,260.00`. Takes a number without a sign; what is none is given back as it is.
#[must_use]
pub fn group_digits(magnitude: &str) -> String {
    let (whole, rest) = match magnitude.find('.') {
        Some(point) => magnitude.split_at(point),
        None => (magnitude, ""),
    };
    if whole.len() < 4 || !whole.bytes().all(|byte| byte.is_ascii_digit()) {
        return magnitude.to_owned();
    }
    let mut out = String::with_capacity(magnitude.len() + whole.len() / 3);
    for (place, digit) in whole.chars().enumerate() {
        if place > 0 && (whole.len() - place) % 3 == 0 {
            out.push(',');
        }
        out.push(digit);
    }
    out.push_str(rest);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_before_the_point_stand_in_threes() {
        for (text, seen) in [("999", "999"), ("1000", "1,000"), ("1234567.8912", "1,234,567.8912"), ("n/a", "n/a"), ("", "")] {
            assert_eq!(group_digits(text), seen);
        }
    }
}
