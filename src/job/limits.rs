//! The range that each number of a job, machine or cutter file may lie in, and why: one table, used by the check, by
//! its messages and by whoever writes the guide. The ranges only keep out slips of the pen and wrong units; whether
//! a screw can be made is decided later. Bounds are common practice in small shops, no source, unless one is named.

mod rows;

pub use rows::LIMITS;

use crate::units::{LengthUnit, N_PER_POUND};

/// What a number measures. Lengths are held in mm, speeds in mm/min, accelerations in mm/s^2.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// A length, written in the file's unit.
    Length,
    /// A speed, written in the file's unit a minute.
    Speed,
    /// An acceleration, written in the file's unit per second squared.
    Acceleration,
    /// Degrees.
    Angle,
    /// Revolutions a minute.
    RevPerMin,
    /// Revolutions per second squared.
    RevPerS2,
    /// Whole turns and parts of one.
    Turns,
    /// Seconds.
    Seconds,
    /// Watts.
    Power,
    /// Newton metres.
    Torque,
    /// What a hand pulls: newtons in a file in mm, pounds in a file in inches. Held in newtons.
    Pull,
    /// How many.
    Count,
    /// How many in an inch.
    PerInch,
    /// A share of one.
    Share,
    /// A percentage.
    Percent,
    /// A temperature: degrees C, or degrees F in a file in inches.
    Temperature,
    /// Mass in a volume, kg/m³.
    Density,
    /// Stress, MPa.
    Stress,
    /// Stiffness, GPa.
    Stiffness,
    /// Force, N.
    Force,
}

impl Quantity {
    /// What a number written in a file of this unit is multiplied by to be held.
    pub fn factor(self, unit: LengthUnit) -> f64 {
        match self {
            Quantity::Length | Quantity::Speed | Quantity::Acceleration => unit.mm(),
            Quantity::Pull if unit == LengthUnit::Inch => N_PER_POUND,
            _ => 1.0,
        }
    }

    /// A number written in a file of this unit, as it is held.
    pub fn hold(self, number: f64, unit: LengthUnit) -> f64 {
        match self {
            Quantity::Temperature if unit == LengthUnit::Inch => (number - 32.0) / 1.8,
            _ => number * self.factor(unit),
        }
    }

    /// A held value as it is written in a file of this unit.
    pub fn write(self, held: f64, unit: LengthUnit) -> f64 {
        match self {
            Quantity::Temperature if unit == LengthUnit::Inch => held * 1.8 + 32.0,
            _ => held / self.factor(unit),
        }
    }

    /// A held value in words, in the given unit, without needless zeros: `12.5 mm`, `60 degrees`.
    pub fn say(self, held: f64, unit: LengthUnit) -> String {
        self.name(tidy(self.write(held, unit), self.decimals(unit)), unit)
    }

    /// A number as it was written in a file of this unit, in words. Keeps more decimals than [`Quantity::say`], so
    /// that a value just outside its range does not look like the end of the range.
    pub(super) fn say_written(self, number: f64, unit: LengthUnit) -> String {
        self.name(tidy(number, WRITTEN_DECIMALS), unit)
    }

    fn name(self, number: String, unit: LengthUnit) -> String {
        let name = unit.name();
        match self {
            Quantity::Length => format!("{number} {name}"),
            Quantity::Speed => format!("{number} {name}/min"),
            Quantity::Acceleration => format!("{number} {name}/s^2"),
            Quantity::Angle => format!("{number} degrees"),
            Quantity::RevPerMin => format!("{number} rev/min"),
            Quantity::RevPerS2 => format!("{number} rev/s^2"),
            Quantity::Turns => format!("{number} {}", if number == "1" { "turn" } else { "turns" }),
            Quantity::Seconds => format!("{number} s"),
            Quantity::Power => format!("{number} W"),
            Quantity::Torque => format!("{number} N m"),
            Quantity::Pull if unit == LengthUnit::Inch => format!("{number} lb"),
            Quantity::Count | Quantity::Share => number,
            Quantity::PerInch => format!("{number} per inch"),
            Quantity::Percent => format!("{number} %"),
            Quantity::Temperature if unit == LengthUnit::Inch => format!("{number} degrees F"),
            Quantity::Temperature => format!("{number} degrees C"),
            Quantity::Density => format!("{number} kg/m3"),
            Quantity::Stress => format!("{number} MPa"),
            Quantity::Stiffness => format!("{number} GPa"),
            Quantity::Force | Quantity::Pull => format!("{number} N"),
        }
    }

    fn decimals(self, unit: LengthUnit) -> usize {
        match self {
            Quantity::Length => unit.decimals(),
            Quantity::Speed | Quantity::Acceleration | Quantity::Temperature => 1,
            _ => 3,
        }
    }
}

/// From here on a number is shown with a power of ten: nothing in a shop is counted so far, and hundreds of digits
/// help nobody.
const PAST_MEASURE: f64 = 1e9;
/// Decimals of a number that is shown as it was written.
const WRITTEN_DECIMALS: usize = 6;

/// A length in mm, in words without needless zeros: `12.5 mm`.
pub(super) fn say(unit: LengthUnit, length_mm: f64) -> String {
    Quantity::Length.say(length_mm, unit)
}

/// A number without needless zeros; one past all measures with a power of ten: `1e300`.
pub(super) fn tidy(number: f64, decimals: usize) -> String {
    if number.abs() >= PAST_MEASURE {
        let text = format!("{number:.2e}");
        let (digits, power) = text.split_once('e').unwrap_or((&text, "0"));
        let digits =
            if digits.contains('.') { digits.trim_end_matches('0').trim_end_matches('.') } else { digits };
        return format!("{digits}e{power}");
    }
    let text = crate::units::tidy_zero(format!("{number:.decimals$}"));
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// One row of the table.
#[derive(Debug)]
pub struct Limit {
    /// Dotted key.
    pub key: &'static str,
    /// What it measures.
    pub quantity: Quantity,
    /// Smallest value taken, as held.
    pub least: f64,
    /// Greatest value taken, as held.
    pub most: f64,
    /// Why no smaller one, or what the number means to whoever wrote a smaller one.
    pub why_least: &'static str,
    /// Why no greater one, or what the number means to whoever wrote a greater one.
    pub why_most: &'static str,
}

/// The row of a key; elements of a list (`cutting.depths.2`) share the list's row, and the woods of a file of woods
/// (`woods.pear.density`) those of any `wood`.
pub fn limit(key: &str) -> Option<&'static Limit> {
    let of_a_wood = key.strip_prefix("woods.").and_then(|key| key.rsplit_once('.'));
    let of_any_wood = of_a_wood.map(|(_, leaf)| format!("wood.{leaf}"));
    let key = of_any_wood.as_deref().unwrap_or(key);
    let list = key.rsplit_once('.').filter(|(_, last)| last.bytes().all(|b| b.is_ascii_digit()));
    let key = list.map_or(key, |(list, _)| list);
    // Every operation runs its cutter within the same limits.
    let shared =
        key.split_once('.').filter(|(table, leaf)| OPERATIONS.contains(table) && SHARED.contains(leaf));
    let shared = shared.map(|(_, leaf)| format!("round.{leaf}"));
    LIMITS.iter().find(|row| row.key == shared.as_deref().unwrap_or(key))
}

/// The tables of the operations beside the thread.
const OPERATIONS: &[&str] = &["round", "relief", "nose", "garter", "tenon", "marks"];
/// The keys that all of them share.
const SHARED: &[&str] = &["rpm", "feed", "step", "finish", "advance"];

#[cfg(test)]
mod tests;
