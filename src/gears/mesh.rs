//! Whether the gears of a train go together on their shafts: a gear must clear the shaft next to it that it does not
//! mesh with. Distances follow from tooth counts, so that much is known before anything is set up.

use super::train::{Pair, Shaft, Train};
use crate::job::Jig;

/// Air between the tips of a gear and a shaft beside it, and between gears that only pass each other (common
/// practice, no source).
const AIR_MM: f64 = 1.0;

/// Teeth that a gear and the shaft beside it take beyond the gear's own, when nothing is known of the shafts: the sum
/// of teeth of the pair that sets their distance must be greater by this. 15 to 20 from memory; the safe end is taken.
const TEETH_FROM_MEMORY: f64 = 20.0;

/// Fewer teeth than this are undercut at a pressure angle of 20 degrees: from memory.
pub const LEAST_TEETH: u32 = 17;

/// Addendum over module: a gear's outside diameter is module times teeth plus two.
const ADDENDUM_TEETH: f64 = 2.0;

/// Room that gears and shafts of a jig need beside each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Module of the gears, mm.
    pub module_mm: f64,
    /// From the tips of a gear to the axis of the shaft beside it, at least, mm.
    pub tip_to_axis_mm: f64,
    /// Whether that comes from a rule that is quoted from memory, not from the shafts of the jig.
    pub from_memory: bool,
}

impl Room {
    /// The room on a jig. With a shaft of radius r: r and a little air. Without: what the rule of k teeth says,
    /// since A + B >= C + k is m (A + B) / 2 >= m (C + 2) / 2 + room for room = m (k - 2) / 2.
    pub fn on(jig: &Jig) -> Self {
        let module_mm = jig.module_mm;
        let from_rule = module_mm * (TEETH_FROM_MEMORY - ADDENDUM_TEETH) / 2.0;
        Room {
            module_mm,
            tip_to_axis_mm: jig.shaft_diameter_mm.map_or(from_rule, |diameter| diameter / 2.0 + AIR_MM),
            from_memory: jig.shaft_diameter_mm.is_none(),
        }
    }

    /// Teeth that the rule A + B >= C + k calls k.
    pub fn teeth(&self) -> f64 {
        2.0 * self.tip_to_axis_mm / self.module_mm + ADDENDUM_TEETH
    }

    /// From the axis to the tips of a gear, mm.
    pub fn tip_radius_mm(&self, teeth: u32) -> f64 {
        self.module_mm * (f64::from(teeth) + ADDENDUM_TEETH) / 2.0
    }

    /// Between the axes of two gears that mesh, mm: C = m (z1 + z2) / 2.
    pub fn centres_mm(&self, one: u32, other: u32) -> f64 {
        self.module_mm * f64::from(one + other) / 2.0
    }

    /// Least distance between the axes of two gears in one plane that do not mesh, mm.
    pub fn passing_mm(&self, one: u32, other: u32) -> f64 {
        self.tip_radius_mm(one) + self.tip_radius_mm(other) + AIR_MM
    }
}

/// The two gears that mesh between one shaft and the next: the last on the one, the first on the other.
pub(super) fn meshing(from: &Shaft, to: &Shaft) -> Option<(u32, u32)> {
    Some((from.gears.last()?.teeth, to.gears.first()?.teeth))
}

/// Teeth to spare at the tightest place between neighbouring shafts; negative when the train cannot be put together.
/// `A + B - C - k` and `C + D - B - k` for a compound train A into B, C into D, with B and C on one stud.
pub fn spare_teeth(train: &Train, room: &Room) -> f64 {
    let k = room.teeth();
    let shafts = train.shafts();
    let mut spare = f64::INFINITY;
    for beside in shafts.windows(2) {
        let Some((driver, driven)) = meshing(&beside[0], &beside[1]) else {
            continue;
        };
        let distance = f64::from(driver + driven);
        let behind = beside[0].gears.split_last().map_or(&[][..], |(_, others)| others);
        let ahead = beside[1].gears.get(1..).unwrap_or(&[]);
        for gear in behind.iter().chain(ahead) {
            spare = spare.min(distance - f64::from(gear.teeth) - k);
        }
    }
    spare
}

/// The orders in which these drivers and driven gears go together, the roomiest first. Each way to pair them is tried
/// in each order along the train.
pub fn orders(drivers: &[u32], driven: &[u32], room: &Room) -> Vec<Train> {
    let mut found: Vec<(f64, Train)> = Vec::new();
    for first in permutations(drivers) {
        for second in permutations(driven) {
            let pairs = first.iter().zip(&second).map(|(&driver, &driven)| Pair { driver, driven }).collect();
            let train = Train { pairs, idlers: Vec::new() };
            let spare = spare_teeth(&train, room);
            if spare >= 0.0 && !found.iter().any(|(_, known)| *known == train) {
                found.push((spare, train));
            }
        }
    }
    found.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
    found.into_iter().map(|(_, train)| train).collect()
}

/// All orders of up to three numbers.
fn permutations(of: &[u32]) -> Vec<Vec<u32>> {
    match *of {
        [a] => vec![vec![a]],
        [a, b] => vec![vec![a, b], vec![b, a]],
        [a, b, c] => [[a, b, c], [a, c, b], [b, a, c], [b, c, a], [c, a, b], [c, b, a]]
            .into_iter()
            .map(Vec::from)
            .collect(),
        _ => Vec::new(),
    }
}
