//! Lengths and angles as people write them. Inside the crate every length is a millimetre and every angle a
//! degree unless a name says otherwise; this file holds the one place where inches come in and go out.

use std::fmt;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// One inch in millimetres, exact by definition (ISO 80000-3:2019, clause on conventional units).
pub const MM_PER_INCH: f64 = 25.4;

/// One pound of force in newtons: 0.45359237 kg times 9.80665 m/s², exact by definition (NIST SP 811, appendix B).
pub const N_PER_POUND: f64 = 4.448_221_615_260_5;

/// Share of the last decimal shown that is rounding of the computation, not a length: 12.5 stays 12.50 either way.
const SAME_STEP: f64 = 1e-6;

/// The unit of length that a job, a machine file or a program speaks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum LengthUnit {
    /// Millimetres.
    #[default]
    Mm,
    /// Inches.
    Inch,
}

impl LengthUnit {
    /// Millimetres in one of this unit.
    pub fn mm(self) -> f64 {
        match self {
            LengthUnit::Mm => 1.0,
            LengthUnit::Inch => MM_PER_INCH,
        }
    }

    /// The name that follows a number: `mm` or `in`.
    pub fn name(self) -> &'static str {
        match self {
            LengthUnit::Mm => "mm",
            LengthUnit::Inch => "in",
        }
    }

    /// As a sentence has it: `read in inches`.
    pub fn plural(self) -> &'static str {
        match self {
            LengthUnit::Mm => "millimetres",
            LengthUnit::Inch => "inches",
        }
    }

    /// Decimals that show a hundredth of a millimetre (or what comes nearest in inches).
    pub fn decimals(self) -> usize {
        match self {
            LengthUnit::Mm => 2,
            LengthUnit::Inch => 4,
        }
    }

    /// A length in mm, shown in this unit with the unit's name.
    ///
    /// ```
    /// use threadwright::units::LengthUnit;
    ///
    /// assert_eq!(LengthUnit::Mm.show(12.5), "12.50 mm");
    /// assert_eq!(LengthUnit::Inch.show(12.5), "0.4921 in");
    /// ```
    pub fn show(self, length_mm: f64) -> String {
        format!("{} {}", self.number(length_mm), self.name())
    }

    /// The least length that will do, in mm: shown rounded up, so that whoever takes the number has enough.
    pub fn show_at_least(self, length_mm: f64) -> String {
        self.show_steps((length_mm / self.shown_step_mm() - SAME_STEP).ceil())
    }

    /// The greatest length that will do, in mm: shown rounded down, so that whoever takes the number has not too much.
    pub fn show_at_most(self, length_mm: f64) -> String {
        self.show_steps((length_mm / self.shown_step_mm() + SAME_STEP).floor())
    }

    /// One of the last decimal shown, mm.
    fn shown_step_mm(self) -> f64 {
        self.mm() / 10_f64.powf(self.decimals() as f64)
    }

    fn show_steps(self, steps: f64) -> String {
        self.show(steps * self.shown_step_mm())
    }

    /// A length in mm, shown in this unit without the name.
    pub fn number(self, length_mm: f64) -> String {
        tidy_zero(format!("{:.*}", self.decimals(), length_mm / self.mm()))
    }

    /// A speed in mm/min, shown in this unit: `1500 mm/min`, `59.1 in/min`.
    pub fn show_speed(self, speed_mm_per_min: f64) -> String {
        match self {
            LengthUnit::Mm => format!("{speed_mm_per_min:.0} mm/min"),
            LengthUnit::Inch => format!("{:.1} in/min", speed_mm_per_min / MM_PER_INCH),
        }
    }
}

impl fmt::Display for LengthUnit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// Turns `-0.00` into `0.00`: a sign on nothing only worries the reader.
pub fn tidy_zero(text: String) -> String {
    if text.starts_with('-') && text.bytes().all(|b| matches!(b, b'-' | b'0' | b'.')) {
        text[1..].to_owned()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_shown_in_the_unit_of_the_job() {
        assert_eq!(LengthUnit::Mm.show(12.5), "12.50 mm");
        assert_eq!(LengthUnit::Inch.show(12.7), "0.5000 in");
        assert_eq!(LengthUnit::Mm.show(-0.0001), "0.00 mm");
        assert_eq!(LengthUnit::Inch.show_speed(1524.0), "60.0 in/min");
    }

    #[test]
    fn lengths_to_keep_are_rounded_to_the_safe_side() {
        assert_eq!(LengthUnit::Mm.show_at_least(6.001), "6.01 mm");
        assert_eq!(LengthUnit::Mm.show_at_most(6.009), "6.00 mm");
        assert_eq!(LengthUnit::Mm.show_at_least(0.1 + 0.2), "0.30 mm");
        assert_eq!(LengthUnit::Mm.show_at_most(1.1 * 3.0 - 3.0), "0.30 mm");
        assert_eq!(LengthUnit::Inch.show_at_least(25.4001), "1.0001 in");
    }
}
