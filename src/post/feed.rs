//! The F number of a move, under what a machine understands by F. A wrong meaning is a factor of eighteen on a
//! 50 mm screw, so this file does nothing else.

use crate::setup::{FeedConvention, InverseUnit};
use crate::units::LengthUnit;

/// The F number that makes a move last `minutes` (above zero).
///
/// `straight_mm` are the ways of X and Z, `a_deg` the way of A. The result is in the program's unit per minute, in
/// degrees per minute for a move of A alone under `Linear`, or one over minutes under `InverseTime`.
/// Under `Combined` a control turns F into mm/min first and then adds mm² and degrees², so in an inch program even
/// the degrees are divided by 25.4.
/// Sources: NISTIR 6556 section 2.1.2.5 (G94) and 3.5.19 (G93); `Combined` is common practice, no source.
pub fn feed_word(
    convention: FeedConvention,
    unit: LengthUnit,
    straight_mm: [f64; 2],
    a_deg: f64,
    minutes: f64,
) -> f64 {
    let [x_mm, z_mm] = straight_mm;
    let straight = x_mm.hypot(z_mm);
    match convention {
        FeedConvention::InverseTime => 1.0 / minutes,
        FeedConvention::Linear if straight == 0.0 => a_deg.abs() / minutes,
        FeedConvention::Linear => straight / unit.mm() / minutes,
        FeedConvention::Combined => straight.hypot(a_deg) / unit.mm() / minutes,
    }
}

/// Seconds in a minute.
const SECONDS: f64 = 60.0;

/// One over the minutes of a block, as a control of another habit counts it under G93 (common practice, no source).
pub(super) fn inverse(habit: InverseUnit, per_minute: f64) -> f64 {
    match habit {
        InverseUnit::PerMinute => per_minute,
        InverseUnit::PerSecond => per_minute / SECONDS,
        InverseUnit::Seconds => SECONDS / per_minute,
    }
}

#[cfg(test)]
mod tests {
    use super::super::number::significant;
    use super::*;

    /// 50 mm diameter, lead 20 mm, 2000 mm/min along the helix, ten turns in one block. Derived by hand:
    /// a turn is sqrt((50 pi)² + 20²) = 158.3478 mm long, ten take 0.7917388 min.
    #[test]
    fn ten_turns_under_each_convention() {
        let minutes = 10.0 * (std::f64::consts::PI * 50.0).hypot(20.0) / 2000.0;
        let word =
            |convention| significant(feed_word(convention, LengthUnit::Mm, [200.0, 0.0], 3600.0, minutes));
        assert_eq!(word(FeedConvention::Linear), "252.609");
        assert_eq!(word(FeedConvention::Combined), "4553.97");
        assert_eq!(word(FeedConvention::InverseTime), "1.26304");
    }

    /// One turn with half a millimetre of Z, and A alone, at 2000 mm/min round 50 mm: the same F word would mean
    /// mm/min in one line and degrees/min in the next.
    #[test]
    fn ramps_and_turns_alone_have_their_own_words() {
        let minutes = std::f64::consts::PI * 50.0 / 2000.0;
        let word = |z, a, minutes| {
            significant(feed_word(FeedConvention::Linear, LengthUnit::Mm, [0.0, z], a, minutes))
        };
        assert_eq!(word(-0.5, 360.0, minutes), "6.3662", "6.36620 with its last zero gone");
        assert_eq!(word(0.0, 360.0, minutes), "4583.66");
        assert_eq!(word(0.0, -360.0, minutes), "4583.66");
    }

    #[test]
    fn an_inch_program_speaks_inches() {
        let word = |convention| feed_word(convention, LengthUnit::Inch, [25.4, 0.0], 0.0, 0.5);
        assert!((word(FeedConvention::Linear) - 2.0).abs() < 1e-12);
        assert!((word(FeedConvention::Combined) - 2.0).abs() < 1e-12);
        assert!((word(FeedConvention::InverseTime) - 2.0).abs() < 1e-12);
    }
}
