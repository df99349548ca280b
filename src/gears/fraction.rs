//! Exact ratios: what a train of gears makes is a fraction of whole teeth, and so is the lead it is to cut. Fractions
//! from the numbers of a job, fractions near a fraction, and fractions in words.

use num_rational::Ratio;

/// An exact fraction. Products of three gears, of leads and of inches in mm stay far below its 127 bits.
pub type Fraction = Ratio<i128>;

/// A number that was reckoned from what somebody wrote is off by at most this share: a handful of roundings in f64.
const RECKONED_SHARE: f64 = 1e-14;

/// The fraction that somebody must have meant who wrote a number: the simplest one within the rounding of f64.
///
/// `value` is a length in mm, above zero and finite; `None` otherwise. Two fractions with denominators up to q differ
/// by at least 1 / q², so whatever was written with a denominator up to some 10^6 (six decimals of mm, five of inches,
/// any common fraction) comes back exactly.
///
/// ```
/// use threadwright::gears::{Fraction, fraction::meant};
///
/// // A sixth of an inch in mm.
/// assert_eq!(meant(25.4 / 6.0), Some(Fraction::new(127, 30)));
/// assert_eq!(meant(-1.0), None);
/// ```
pub fn meant(value: f64) -> Option<Fraction> {
    if !(value.is_finite() && value > 0.0) {
        return None;
    }
    Some(simplest(exact(value * (1.0 - RECKONED_SHARE))?, exact(value * (1.0 + RECKONED_SHARE))?))
}

/// A float as the binary fraction it is; `None` when it is too small or too large for a length in a shop.
fn exact(value: f64) -> Option<Fraction> {
    /// Bits of a float behind its first one.
    const FRACTION_BITS: i32 = 52;
    /// Shifts that keep numerator and denominator within 127 bits, with room for one step of reckoning.
    const MOST_SHIFT: u32 = 70;
    let exponent = value.log2().floor() as i32;
    let shift = u32::try_from(FRACTION_BITS - exponent).ok().filter(|shift| *shift <= MOST_SHIFT)?;
    let denominator = 1_i128 << shift;
    Some(Fraction::new((value * denominator as f64) as i128, denominator))
}

/// The fraction with the smallest denominator from `low` to `high`, both above zero: the first that the walk of
/// Stern and Brocot meets between them.
fn simplest(low: Fraction, high: Fraction) -> Fraction {
    let floor = low.floor();
    if floor == low {
        return low;
    }
    if floor < high.floor() {
        return floor + 1;
    }
    floor + simplest((high - floor).recip(), (low - floor).recip()).recip()
}

/// The fractions that come nearer and nearer to a target above zero, by the walk of Stern and Brocot: each is the
/// sum of tops over the sum of bottoms of the two nearest so far. Ends with the target itself.
///
/// Source: A. Brocot, Calcul des rouages par approximation (1861), as told by B. Hayes, On the Teeth of Wheels,
/// American Scientist 88 (2000), from memory for the titles.
pub fn approach(target: Fraction) -> impl Iterator<Item = Fraction> {
    let (mut low, mut high) = ((0_i128, 1_i128), (1_i128, 0_i128));
    let mut done = target <= Fraction::from_integer(0);
    std::iter::from_fn(move || {
        if done {
            return None;
        }
        let middle = (low.0 + high.0, low.1 + high.1);
        let fraction = Fraction::new_raw(middle.0, middle.1);
        match fraction.cmp(&target) {
            std::cmp::Ordering::Less => low = middle,
            std::cmp::Ordering::Greater => high = middle,
            std::cmp::Ordering::Equal => done = true,
        }
        Some(fraction)
    })
}

/// The convergents of a target above zero: its continued fraction broken off after each part. Nothing with as small a
/// bottom comes nearer.
pub fn convergents(target: Fraction) -> Vec<Fraction> {
    let (mut before, mut last) = ((0_i128, 1_i128), (1_i128, 0_i128));
    let mut found = Vec::new();
    let mut rest = target;
    loop {
        let part = rest.floor().to_integer();
        let next = (part * last.0 + before.0, part * last.1 + before.1);
        (before, last) = (last, next);
        found.push(Fraction::new_raw(next.0, next.1));
        if rest.is_integer() {
            return found;
        }
        rest = rest.fract().recip();
    }
}

/// The nearest float.
pub fn float(fraction: Fraction) -> f64 {
    *fraction.numer() as f64 / *fraction.denom() as f64
}

/// As a shop writes it: `8`, `3 3/5`, `90/127`.
pub fn words(fraction: Fraction) -> String {
    let (whole, rest) = (fraction.trunc().to_integer(), fraction.fract());
    match (whole, *rest.numer()) {
        (_, 0) => whole.to_string(),
        (0, _) => rest.to_string(),
        _ => format!("{whole} {rest}"),
    }
}

/// The prime factors of a whole number above zero, growing, each as often as it is in it.
pub fn primes(mut number: i128) -> Vec<i128> {
    let mut found = Vec::new();
    let mut by = 2;
    while by * by <= number {
        while number % by == 0 {
            found.push(by);
            number /= by;
        }
        by += 1;
    }
    if number > 1 {
        found.push(number);
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_written_comes_back_exactly() {
        for denominator in 1..=2000_i128 {
            for numerator in [1, denominator + 1, 7 * denominator - 1, 13 * denominator + 5] {
                let asked = Fraction::new(numerator, denominator);
                // As the job reckons: in mm, or inches made mm, or threads per inch made a pitch and that a lead.
                let value = numerator as f64 / denominator as f64;
                let inch = Fraction::new(127, 5);
                assert_eq!(meant(value), Some(asked));
                assert_eq!(meant(value * 25.4), Some(asked * inch), "{asked} in");
                assert_eq!(meant(25.4 / value * 3.0), Some(inch / asked * 3), "{asked} per inch, 3 starts");
            }
        }
        for (value, top, bottom) in [(20.0, 20, 1), (6.35, 127, 20), (12.345_678, 6_172_839, 500_000)] {
            assert_eq!(meant(value), Some(Fraction::new(top, bottom)));
        }
    }

    #[test]
    fn what_is_no_length_is_no_fraction() {
        for value in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e300, 1e-300] {
            assert_eq!(meant(value), None, "{value}");
        }
    }

    #[test]
    fn fractions_are_said_as_a_shop_writes_them() {
        for (top, bottom, said) in [(8, 1, "8"), (18, 5, "3 3/5"), (90, 127, "90/127"), (4, 8, "1/2")] {
            assert_eq!(words(Fraction::new(top, bottom)), said);
        }
    }

    #[test]
    fn primes_multiply_to_their_number() {
        assert_eq!(primes(90), [2, 3, 3, 5]);
        assert_eq!(primes(127), [127]);
        assert!(primes(1).is_empty());
    }
}
