//! Reads one number as RS-274 writes it: a sign, digits, at most one point, and nothing else. It takes no exponent,
//! no `inf` and no `nan`, which readers of general numbers accept without a word.

/// Digits that always fit the 53 bits of an `f64` without rounding.
const EXACT_DIGITS: usize = 15;

/// Powers of ten that an `f64` holds without rounding; 10^22 is the last.
const POWERS_OF_TEN: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18,
    1e19, 1e20, 1e21, 1e22,
];

/// Reads the number at the start of `text` (NISTIR 6556 section 3.3.2.1).
///
/// Returns its value and the bytes it takes; `None` when no number starts here. The value is the nearest `f64`:
/// whole digits over an exact power of ten is one correctly rounded division, and what does not fit goes to the
/// standard library's reader.
#[inline]
pub(super) fn read_number(text: &[u8]) -> Option<(f64, usize)> {
    let signed = usize::from(matches!(text.first(), Some(b'+' | b'-')));
    let mut digits = 0;
    let whole = read_digits(&text[signed..], &mut digits);
    let mut at = signed + whole;
    let mut decimals = 0;
    if text.get(at) == Some(&b'.') {
        decimals = read_digits(&text[at + 1..], &mut digits);
        at += 1 + decimals;
    }
    let count = whole + decimals;
    if count == 0 {
        return None;
    }
    if EXACT_DIGITS < count {
        let written = std::str::from_utf8(&text[..at]).ok()?;
        return Some((written.parse().ok()?, at));
    }
    let size = digits as f64 / POWERS_OF_TEN[decimals];
    Some((if text[0] == b'-' { -size } else { size }, at))
}

/// Takes the digits at the start of a text into a number and returns how many there are. The number wraps only beyond
/// nineteen digits, where it is not used.
#[inline]
fn read_digits(text: &[u8], number: &mut u64) -> usize {
    for (count, byte) in text.iter().enumerate() {
        let digit = byte.wrapping_sub(b'0');
        if 9 < digit {
            return count;
        }
        *number = number.wrapping_mul(10).wrapping_add(u64::from(digit));
    }
    text.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str) {
        let (value, length) = read_number(text.as_bytes()).unwrap();
        assert_eq!(length, text.len(), "{text}");
        assert_eq!(value.to_bits(), text.parse::<f64>().unwrap().to_bits(), "{text}");
    }

    #[test]
    fn every_thousandth_below_a_hundred_agrees_with_the_standard_library() {
        for thousandths in 0..100_000 {
            let (whole, after) = (thousandths / 1000, thousandths % 1000);
            let plain = format!("{whole}.{after:03}");
            let short = plain.trim_end_matches('0');
            let mut forms = vec![plain.as_str(), short];
            // As people and other programs write it: no point, no zero before it, zeros at either end.
            forms.extend(short.strip_suffix('.'));
            forms.extend(plain.strip_prefix('0'));
            let padded = format!("0{plain}00");
            forms.push(&padded);
            for form in forms {
                for sign in ["", "-", "+"] {
                    check(&format!("{sign}{form}"));
                }
            }
        }
    }

    /// Literals of every length up to where the standard library's reader takes over and beyond, with the point
    /// anywhere.
    #[test]
    fn ten_million_random_literals_agree_with_the_standard_library() {
        // A linear congruential generator with the constants of Knuth's MMIX, so that every run tests the same.
        let mut state: u64 = 274;
        let mut next = |below: usize| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 33) as usize % below
        };
        let mut text = String::new();
        let mut tried = 0;
        while tried < 10_000_000 {
            text.clear();
            text.push_str(["", "-", "+"][next(3)]);
            // Most numbers of programs are short; one in eight is longer than fits.
            let longest = if next(8) == 0 { 26 } else { 9 };
            let (whole, after) = (next(longest), next(longest));
            (0..whole).for_each(|_| text.push(char::from(b'0' + next(10) as u8)));
            if after > 0 || next(2) == 0 {
                text.push('.');
            }
            (0..after).for_each(|_| text.push(char::from(b'0' + next(10) as u8)));
            if whole + after > 0 {
                check(&text);
                tried += 1;
            }
        }
    }

    #[test]
    fn odd_but_legal_forms() {
        for text in [
            "5.",
            ".5",
            "+.5",
            "-0",
            "007",
            "-0.0000000000000000000000000001",
            "123456789012345678901234567890.5",
        ] {
            check(text);
        }
    }

    #[test]
    fn a_number_ends_where_its_digits_end() {
        assert_eq!(read_number(b"1e5"), Some((1.0, 1)));
        assert_eq!(read_number(b"1.2.3"), Some((1.2, 3)));
        assert_eq!(read_number(b"2-3"), Some((2.0, 1)));
        for text in ["", ".", "-", "+-3", "--3", "inf", "nan", "e5", "-.", "x"] {
            assert_eq!(read_number(text.as_bytes()), None, "{text}");
        }
    }
}
