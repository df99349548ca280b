//! The range that each number of a job, machine or cutter file may lie in, and why: one table, used by the check, by
//! its messages and by whoever writes the guide. The ranges only keep out slips of the pen and wrong units; whether
//! a screw can be made is decided later. Bounds are common practice in small shops, no source, unless one is named.

use crate::units::LengthUnit;

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
    /// How many.
    Count,
    /// How many in an inch.
    PerInch,
    /// A share of one.
    Share,
}

impl Quantity {
    /// What a number written in a file of this unit is multiplied by to be held.
    pub fn factor(self, unit: LengthUnit) -> f64 {
        match self {
            Quantity::Length | Quantity::Speed | Quantity::Acceleration => unit.mm(),
            _ => 1.0,
        }
    }

    /// A held value in words, in the given unit, without needless zeros: `12.5 mm`, `60 degrees`.
    pub fn say(self, held: f64, unit: LengthUnit) -> String {
        self.name(tidy(held / self.factor(unit), self.decimals(unit)), unit)
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
            Quantity::Count | Quantity::Share => number,
            Quantity::PerInch => format!("{number} per inch"),
        }
    }

    fn decimals(self, unit: LengthUnit) -> usize {
        match self {
            Quantity::Length => unit.decimals(),
            Quantity::Speed | Quantity::Acceleration => 1,
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

/// The row of a key; elements of a list (`cutting.depths.2`) share the list's row.
pub fn limit(key: &str) -> Option<&'static Limit> {
    let list = key.rsplit_once('.').filter(|(_, last)| last.bytes().all(|b| b.is_ascii_digit()));
    let key = list.map_or(key, |(list, _)| list);
    LIMITS.iter().find(|row| row.key == key)
}

macro_rules! rows {
    ($($key:literal $quantity:ident $least:literal $why_least:literal, $most:literal $why_most:literal;)*) => {
        /// Every row.
        pub static LIMITS: &[Limit] = &[$(Limit {
            key: $key,
            quantity: Quantity::$quantity,
            least: $least,
            most: $most,
            why_least: $why_least,
            why_most: $why_most,
        }),*];
    };
}

rows! {
    "screw.crest_diameter" Length
        8.0 "a thinner screw breaks under the cutter",
        400.0 "a thicker one fits no small rotary axis";
    "screw.pitch" Length
        1.0 "wood crumbles in a finer thread",
        120.0 "a coarser thread is no screw that a router cuts";
    "screw.threads_per_inch" PerInch
        0.2 "a coarser thread is no screw that a router cuts",
        25.4 "wood crumbles in a finer thread";
    "screw.starts" Count
        1.0 "a screw has at least one thread",
        12.0 "more than a dozen are not cut in wood";
    "screw.lead" Length
        1.0 "one turn advances by at least the finest pitch",
        600.0 "no rotary axis of a small shop follows a steeper thread";
    "screw.included_angle" Angle
        20.0 "a narrower V is no thread for wood; the angle is measured from flank to flank",
        150.0 "a wider V holds no load; the angle is measured from flank to flank";
    "screw.crest_flat" Length
        0.0 "0 is a sharp crest",
        100.0 "the flat is a part of the pitch";
    "screw.depth" Length
        0.3 "a shallower thread does not hold",
        60.0 "no router cutter reaches deeper";
    "screw.root_flat" Length
        0.0 "it is the width of the root, along the axis",
        50.0 "the flat is a part of the pitch";
    "screw.thread_length" Length
        5.0 "a shorter thread holds no nut",
        4000.0 "a longer screw fits no small machine";
    "screw.plain_nose" Length
        0.0 "0 when the thread begins at the nose face",
        1000.0 "a longer screw fits no small machine";
    "screw.plain_head" Length
        0.0 "0 when the run-out ends at the head end",
        2000.0 "a longer screw fits no small machine";
    "screw.length" Length
        5.0 "it goes from the nose face to the head end, thread and all",
        5000.0 "a longer screw fits no small machine";

    "blank.size" Length
        8.0 "it must hold the screw",
        600.0 "a thicker one fits no small rotary axis";
    "blank.waste_nose" Length
        0.0 "0 when the blank ends at the nose face",
        1000.0 "so much waste is hardly meant";
    "blank.waste_head" Length
        0.0 "0 when the blank ends at the head end; what the chuck grips is waste",
        1000.0 "so much waste is hardly meant";
    "blank.length" Length
        10.0 "it must hold screw and waste",
        7000.0 "a longer blank fits no small machine";

    "cutting.rpm" RevPerMin
        500.0 "router spindles turn faster",
        40_000.0 "no router spindle turns faster";
    "cutting.feed" Speed
        20.0 "slower burns the wood",
        20_000.0 "faster breaks the cutter";
    "cutting.feeds" Speed
        20.0 "slower burns the wood",
        20_000.0 "faster breaks the cutter";
    "cutting.flank_feed" Speed
        20.0 "slower burns the wood",
        20_000.0 "faster breaks the cutter";
    "cutting.passes" Count
        1.0 "at least one pass is needed",
        60.0 "more passes only rub";
    "cutting.depths" Length
        0.05 "depths are measured below the crest, and a shallower cut only rubs",
        60.0 "no router cutter reaches deeper";
    "cutting.least_step" Length
        0.01 "a thinner last cut rubs",
        5.0 "a last cut so thick is no finishing cut";
    "cutting.run_out" Turns
        0.05 "the groove climbs out over a part of a turn",
        5.0 "a longer run-out is hardly meant; it is given in turns";
    "cutting.clearance" Length
        1.0 "chips and a bent blank must not touch the cutter in the air",
        100.0 "higher only wastes time";
    "cutting.least_core" Share
        0.2 "a thinner core twists off; it is a share of the crest diameter",
        0.95 "it is a share of the crest diameter, and the groove needs the rest";

    "cutter.included_angle" Angle
        20.0 "a narrower V breaks; the angle is measured from flank to flank",
        150.0 "a wider V cuts no thread; the angle is measured from flank to flank";
    "cutter.tip_diameter" Length
        0.0 "0 is a sharp point",
        30.0 "no V cutter has a wider tip";
    "cutter.tip_radius" Length
        0.05 "for a sharp point write tip = \"flat\" and tip_diameter = 0",
        25.0 "no V cutter has a rounder tip";
    "cutter.flutes" Count
        1.0 "a cutter has at least one edge",
        8.0 "router cutters have fewer edges";
    "cutter.cutting_diameter" Length
        2.0 "router cutters are thicker",
        150.0 "no router turns a wider cutter";
    "cutter.cutting_length" Length
        1.0 "router cutters have longer edges",
        150.0 "router cutters have shorter edges";
    "cutter.shank_diameter" Length
        2.0 "router shanks are thicker",
        40.0 "router shanks are thinner";
    "cutter.collet_diameter" Length
        4.0 "it is the outside of the collet nut, which is wider than any shank",
        150.0 "it is the outside of the collet nut, and those of routers are smaller";
    "cutter.stick_out" Length
        5.0 "it goes from the tip to the collet nut",
        300.0 "a cutter held so far out whips; it goes from the tip to the collet nut";

    "machine.headstock.chuck_diameter" Length
        10.0 "it is measured over the jaws or the driving plate",
        800.0 "it is measured over the jaws or the driving plate, and a larger one fits no small machine";
    "machine.headstock.grip" Length
        0.0 "0 when a plate drives the end face",
        300.0 "no chuck of a small machine grips deeper";
    "machine.tail.centre_diameter" Length
        2.0 "it is the cylinder behind the point, not the point",
        200.0 "it is the cylinder behind the point, and a thicker one is no centre";
    "machine.tail.centre_angle" Angle
        20.0 "a finer point breaks; most centres have 60 degrees",
        120.0 "a blunter point holds no blank; most centres have 60 degrees";
    "machine.x.reach" Length
        50.0 "it is measured from the chuck's face towards the tail",
        8000.0 "no small machine reaches further; it is measured from the chuck's face";
    "machine.x.past_chuck" Length
        0.0 "it is measured from the chuck's face away from the tail; 0 when the cutter stops there",
        2000.0 "no small machine goes further past its chuck";
    "machine.x.top_speed" Speed
        50.0 "screw and belt drives are faster",
        100_000.0 "screw and belt drives are slower";
    "machine.x.acceleration" Acceleration
        1.0 "screw and belt drives pick up faster",
        20_000.0 "screw and belt drives pick up slower";
    "machine.x.backlash" Length
        0.0 "it is a gap, 0 when there is none",
        5.0 "a slide with more play cuts no thread";
    "machine.z.top" Length
        10.0 "it is the tip's highest place above the axis of rotation, where it clears the blank",
        2000.0 "it is the tip's highest place above the axis of rotation, and no small machine lifts it so far";
    "machine.z.bottom" Length
        -1000.0 "it is the tip's lowest place, below the axis if negative, and no small machine goes so deep",
        300.0 "it is the tip's lowest place above the axis of rotation, and from there no thread is reached";
    "machine.z.top_speed" Speed
        50.0 "screw and belt drives are faster",
        100_000.0 "screw and belt drives are slower";
    "machine.z.acceleration" Acceleration
        1.0 "screw and belt drives pick up faster",
        20_000.0 "screw and belt drives pick up slower";
    "machine.z.backlash" Length
        0.0 "it is a gap, 0 when there is none",
        5.0 "a slide with more play cuts no thread";
    "machine.a.top_speed" RevPerMin
        0.1 "a rotary axis turns faster; it is in turns a minute",
        1000.0 "it is in turns a minute, not in degrees";
    "machine.a.acceleration" RevPerS2
        0.001 "a rotary axis picks up faster; it is in turns per second squared",
        1000.0 "it is in turns per second squared, not in degrees";
    "machine.a.backlash" Angle
        0.0 "it is a gap, 0 when there is none",
        10.0 "a rotary with more play cuts no thread";
    "machine.a.limit" Angle
        90.0 "it is in degrees, and a thread takes turns",
        10_000_000.0 "leave it out when A may count on for ever";
    "machine.a.holding_torque" Torque
        0.05 "a rotary that holds less turns no blank; leave it out if you do not know it",
        5000.0 "no rotary of a small shop holds more; it is in N m";
    "machine.spindle.least" RevPerMin
        0.0 "it is a speed, 0 when any speed can be set",
        60_000.0 "no router spindle has to turn so fast";
    "machine.spindle.top" RevPerMin
        100.0 "router spindles turn faster",
        100_000.0 "no router spindle turns faster";
    "machine.spindle.start_seconds" Seconds
        0.0 "it is the wait until the spindle has its speed",
        120.0 "it is the wait until the spindle has its speed, in seconds";
    "machine.spindle.power" Power
        20.0 "it is in watts, not in kilowatts; leave it out if you do not know it",
        30_000.0 "no router spindle is so strong; it is in watts";
    "machine.program.decimals" Count
        1.0 "fewer cannot place a thread",
        6.0 "more are past what controls read";
    "machine.program.line_length" Count
        40.0 "a comment needs room",
        250.0 "a line may hold 256 characters (NISTIR 6556 section 3.3)";
    "machine.program.line_numbers" Count
        1.0 "leave it out for no line numbers",
        1000.0 "it is the step from one line number to the next";
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_has_one_row_and_room_in_it() {
        let mut seen = std::collections::BTreeSet::new();
        for row in LIMITS {
            assert!(seen.insert(row.key), "{} has two rows", row.key);
            assert!(row.least < row.most, "{} leaves no room", row.key);
        }
    }

    #[test]
    fn every_key_that_is_asked_for_has_a_row() {
        let rooms = [
            include_str!("screw.rs"),
            include_str!("cutting.rs"),
            include_str!("cutter.rs"),
            include_str!("machine.rs"),
        ];
        let mut asked = 0;
        for room in rooms {
            for call in ["desk.number(", "desk.count(", "or_usual("] {
                for rest in room.split(call).skip(1) {
                    let mut parts = rest.split('"');
                    // Only calls whose first argument is a literal, perhaps behind `&format!(`.
                    let literal = parts.next().is_some_and(|before| !before.contains([',', ':', ')']));
                    let Some(key) = parts.next().filter(|_| literal) else {
                        continue;
                    };
                    let key = key.replace("{index}", "0");
                    assert!(limit(&key).is_some(), "{key} has no row");
                    asked += 1;
                }
            }
        }
        assert!(asked >= LIMITS.len(), "only {asked} keys were found");
    }

    #[test]
    fn values_are_said_without_needless_zeros() {
        assert_eq!(say(LengthUnit::Mm, 12.5), "12.5 mm");
        assert_eq!(say(LengthUnit::Inch, 6.35), "0.25 in");
        assert_eq!(Quantity::Speed.say(1500.0, LengthUnit::Mm), "1500 mm/min");
        assert_eq!(Quantity::Turns.say(1.0, LengthUnit::Mm), "1 turn");
        assert_eq!(tidy(100.0, 0), "100");
        assert_eq!(tidy(1e300, 4), "1e300");
        assert_eq!(tidy(-1.234e12, 0), "-1.23e12");
    }
}
