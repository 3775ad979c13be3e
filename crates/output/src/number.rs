//! Numbers on their way out: as short text, or narrowed to the single precision that a library wants.

/// A number as text with at most `decimals` decimals, no trailing zeros, no exponent and no minus zero.
pub(crate) fn text(value: f64, decimals: usize) -> String {
    let mut text = format!("{value:.decimals$}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if text == "-0" { "0".to_owned() } else { text }
}

/// Narrowed to single precision: within 0.00002 mm for all that lies on a page.
#[expect(clippy::cast_possible_truncation, reason = "rounds to the nearest single; drawings are checked to be finite")]
pub(crate) fn single(value: f64) -> f32 {
    value as f32
}

#[cfg(test)]
mod tests {
    #[track_caller]
    fn check(value: f64, decimals: usize, expected: &str) {
        assert_eq!(super::text(value, decimals), expected);
    }

    #[test]
    fn numbers_are_as_short_as_they_can_be() {
        check(0.0, 6, "0");
        check(-0.0, 6, "0");
        check(-0.000_000_4, 6, "0");
        check(100.0, 6, "100");
        check(100.0, 0, "100");
        check(25.4, 6, "25.4");
        check(-1.0 / 3.0, 6, "-0.333333");
        check(0.1 + 0.2, 6, "0.3");
        check(1e9, 6, "1000000000");
        check(0.25, 3, "0.25");
    }
}
