//! Numbers as a program shows them: no exponent, no sign on nothing, a digit on both sides of the point. Counts whole
//! last digits, because rounding a printed decimal again would round twice.

/// Significant digits of an F word: six keep the time of a move within a millionth, whatever its size.
const FEED_DIGITS: i32 = 6;

/// Decimals past which an F word is not followed: a move that slow does not happen.
const MOST_DECIMALS: i32 = 12;

/// Last digits in one unit: exact, since powers of ten this small are.
fn per_unit(decimals: usize) -> f64 {
    (0..decimals).fold(1.0, |product, _| 10.0 * product)
}

/// A value as a whole number of its last digits.
pub(super) fn count(value: f64, decimals: usize) -> i64 {
    (value * per_unit(decimals)).round() as i64
}

/// The value that a count stands for.
pub(super) fn value(count: i64, decimals: usize) -> f64 {
    count as f64 / per_unit(decimals)
}

/// A count of last digits, written out; trailing zeros go, one digit stays on each side of the point.
pub(super) fn written(count: i64, decimals: usize) -> String {
    let digits = format!("{:0width$}", count.unsigned_abs(), width = decimals + 1);
    let (whole, rest) = digits.split_at(digits.len() - decimals);
    let rest = rest.trim_end_matches('0');
    let sign = if count < 0 { "-" } else { "" };
    format!("{sign}{whole}.{}", if rest.is_empty() { "0" } else { rest })
}

/// A value without a point when it is whole: counts and speeds in whole units.
pub(super) fn plain(value: f64, decimals: usize) -> String {
    let text = written(count(value, decimals), decimals);
    if decimals == 0 { text.trim_end_matches(".0").to_owned() } else { text }
}

/// A value above zero with six significant digits.
pub(super) fn significant(value: f64) -> String {
    let before_point = if value > 0.0 { value.log10().floor() as i32 + 1 } else { 0 };
    let decimals = (FEED_DIGITS - before_point).clamp(0, MOST_DECIMALS) as usize;
    written(count(value, decimals), decimals)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(value: f64, decimals: usize) -> String {
        written(count(value, decimals), decimals)
    }

    #[test]
    fn words_are_plain_decimals() {
        let cases = [
            (0.0, 4, "0.0"),
            (-0.000_01, 4, "0.0"),
            (-0.5, 4, "-0.5"),
            (12.0, 3, "12.0"),
            (-12.345_67, 3, "-12.346"),
            (0.05, 1, "0.1"),
            (129_600.123_4, 4, "129600.1234"),
            (3.0, 0, "3.0"),
        ];
        let wrong: Vec<_> = cases.iter().filter(|(v, d, want)| shown(*v, *d) != *want).collect();
        assert!(wrong.is_empty(), "{wrong:?}");
    }

    #[test]
    fn feeds_keep_six_digits() {
        let cases = [
            (252.608_541, "252.609"),
            (4_553.972_6, "4553.97"),
            (1.263_042_7, "1.26304"),
            (0.126_304_27, "0.126304"),
            (0.001_263_042_7, "0.00126304"),
            (1_234_567.0, "1234567.0"),
            (100.0, "100.0"),
        ];
        let wrong: Vec<_> = cases.iter().filter(|(v, want)| significant(*v) != *want).collect();
        assert!(wrong.is_empty(), "{wrong:?}");
    }

    #[test]
    fn whole_numbers_stand_without_a_point() {
        assert_eq!(plain(12_000.0, 0), "12000");
        assert_eq!(plain(2.5, 3), "2.5");
        assert_eq!(plain(3.0, 3), "3.0");
    }
}
