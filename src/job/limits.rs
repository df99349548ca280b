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
        let number = tidy(held / self.factor(unit), self.decimals(unit));
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

/// A length in mm, in words without needless zeros: `12.5 mm`.
pub(super) fn say(unit: LengthUnit, length_mm: f64) -> String {
    Quantity::Length.say(length_mm, unit)
}

/// A number without needless zeros.
pub(super) fn tidy(number: f64, decimals: usize) -> String {
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
    /// Why.
    pub reason: &'static str,
}

/// The row of a key; elements of a list (`cutting.depths.2`) share the list's row.
pub fn limit(key: &str) -> Option<&'static Limit> {
    let list = key.rsplit_once('.').filter(|(_, last)| last.bytes().all(|b| b.is_ascii_digit()));
    let key = list.map_or(key, |(list, _)| list);
    LIMITS.iter().find(|row| row.key == key)
}

macro_rules! rows {
    ($($key:literal $quantity:ident $least:literal ..= $most:literal, $reason:literal;)*) => {
        /// Every row.
        pub static LIMITS: &[Limit] = &[$(Limit {
            key: $key,
            quantity: Quantity::$quantity,
            least: $least,
            most: $most,
            reason: $reason,
        }),*];
    };
}

rows! {
    "screw.crest_diameter" Length 8.0 ..= 400.0, "a thinner screw breaks under the cutter, a thicker one fits no small rotary axis";
    "screw.pitch" Length 1.0 ..= 120.0, "wood crumbles in a finer thread";
    "screw.threads_per_inch" PerInch 0.2 ..= 25.4, "wood crumbles in a finer thread";
    "screw.starts" Count 1.0 ..= 12.0, "a screw has at least one thread, and more than a dozen are not cut in wood";
    "screw.lead" Length 1.0 ..= 600.0, "the lead is the advance in one turn";
    "screw.included_angle" Angle 20.0 ..= 150.0, "V cutters lie in this range, measured from flank to flank";
    "screw.crest_flat" Length 0.0 ..= 100.0, "the flat is a part of the pitch; 0 is a sharp crest";
    "screw.depth" Length 0.3 ..= 60.0, "the depth is a part of the pitch";
    "screw.thread_length" Length 5.0 ..= 4000.0, "the thread lies between nose and head";
    "screw.plain_nose" Length 0.0 ..= 1000.0, "0 when the thread begins at the nose face";
    "screw.plain_head" Length 0.0 ..= 2000.0, "0 when the run-out ends at the head end";
    "screw.length" Length 5.0 ..= 5000.0, "from the nose face to the head end";

    "blank.size" Length 8.0 ..= 600.0, "it must hold the screw";
    "blank.waste_nose" Length 0.0 ..= 1000.0, "0 when the blank ends at the nose face";
    "blank.waste_head" Length 0.0 ..= 1000.0, "what the chuck grips is waste at the head";
    "blank.length" Length 10.0 ..= 7000.0, "it must hold screw and waste";

    "cutting.rpm" RevPerMin 500.0 ..= 40_000.0, "router spindles lie in this range";
    "cutting.feed" Speed 20.0 ..= 20_000.0, "slower burns the wood, faster breaks the cutter";
    "cutting.passes" Count 1.0 ..= 60.0, "at least one pass is needed";
    "cutting.depths" Length 0.05 ..= 60.0, "each is measured below the crest";
    "cutting.least_step" Length 0.01 ..= 5.0, "a thinner last cut rubs";
    "cutting.run_out" Turns 0.05 ..= 5.0, "the groove climbs out over a part of a turn";
    "cutting.clearance" Length 1.0 ..= 100.0, "chips and a bent blank must not touch the cutter in the air";
    "cutting.least_core" Share 0.2 ..= 0.95, "it is a share of the crest diameter";

    "cutter.included_angle" Angle 20.0 ..= 150.0, "V cutters lie in this range, measured from flank to flank";
    "cutter.tip_diameter" Length 0.0 ..= 30.0, "0 is a sharp point";
    "cutter.tip_radius" Length 0.05 ..= 25.0, "for a sharp point write tip = \"flat\" and tip_diameter = 0";
    "cutter.flutes" Count 1.0 ..= 8.0, "a cutter has at least one edge";
    "cutter.cutting_diameter" Length 2.0 ..= 150.0, "router cutters lie in this range";
    "cutter.cutting_length" Length 1.0 ..= 150.0, "router cutters lie in this range";
    "cutter.shank_diameter" Length 2.0 ..= 40.0, "router shanks lie in this range";
    "cutter.collet_diameter" Length 4.0 ..= 150.0, "it is the outside of the collet nut";
    "cutter.stick_out" Length 5.0 ..= 300.0, "from the tip to the collet nut";

    "machine.headstock.chuck_diameter" Length 10.0 ..= 800.0, "over the jaws or the driving plate";
    "machine.headstock.grip" Length 0.0 ..= 300.0, "0 when a plate drives the end face";
    "machine.tail.centre_diameter" Length 2.0 ..= 200.0, "the cylinder behind the point";
    "machine.tail.centre_angle" Angle 20.0 ..= 120.0, "the point of a centre, usually 60 degrees";
    "machine.x.reach" Length 50.0 ..= 8000.0, "from the chuck's face towards the tail";
    "machine.x.past_chuck" Length 0.0 ..= 2000.0, "from the chuck's face the other way";
    "machine.x.top_speed" Speed 50.0 ..= 100_000.0, "screw and belt drives lie in this range";
    "machine.x.acceleration" Acceleration 1.0 ..= 20_000.0, "screw and belt drives lie in this range";
    "machine.x.backlash" Length 0.0 ..= 5.0, "a slide with more play cuts no thread";
    "machine.z.top" Length 10.0 ..= 2000.0, "the tip's highest place above the axis of rotation";
    "machine.z.bottom" Length -1000.0 ..= 300.0, "the tip's lowest place, below the axis if negative";
    "machine.z.top_speed" Speed 50.0 ..= 100_000.0, "screw and belt drives lie in this range";
    "machine.z.acceleration" Acceleration 1.0 ..= 20_000.0, "screw and belt drives lie in this range";
    "machine.z.backlash" Length 0.0 ..= 5.0, "a slide with more play cuts no thread";
    "machine.a.top_speed" RevPerMin 0.1 ..= 1000.0, "it is in turns a minute, not in degrees";
    "machine.a.acceleration" RevPerS2 0.001 ..= 1000.0, "it is in turns per second squared, not in degrees";
    "machine.a.backlash" Angle 0.0 ..= 10.0, "a rotary with more play cuts no thread";
    "machine.a.limit" Angle 90.0 ..= 10_000_000.0, "leave it out when A may count on for ever";
    "machine.spindle.least" RevPerMin 0.0 ..= 60_000.0, "router spindles lie in this range";
    "machine.spindle.top" RevPerMin 100.0 ..= 100_000.0, "router spindles lie in this range";
    "machine.spindle.start_seconds" Seconds 0.0 ..= 120.0, "the wait until the spindle has its speed";
    "machine.program.decimals" Count 1.0 ..= 6.0, "fewer cannot place a thread, more are past what controls read";
    "machine.program.line_length" Count 40.0 ..= 250.0, "a comment needs room; a line may hold 256 characters (NISTIR 6556 section 3.3)";
    "machine.program.line_numbers" Count 1.0 ..= 1000.0, "leave it out for no line numbers";
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
    }
}
