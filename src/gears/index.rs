//! From one start to the next without a dividing head: slipping gears by whole teeth, or turning the lead screw.

use super::fraction::Fraction;
use super::mesh::meshing;
use super::train::Train;

/// Parts of a turn that can be marked on the wheel of a lead screw and met by eye: halves, thirds, quarters.
const FINEST_PART: i128 = 4;

/// A way to get from one start to the next, the cutter out of the wood.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum IndexWay {
    /// The wheel of the blank has marks: turn the blank by so many of them, the first pair out of mesh.
    Wheel {
        /// Marks all round.
        marks: u32,
        /// Marks from start to start.
        step: u32,
    },
    /// The gear on the blank is marked: out of mesh, turn the blank by so many of its teeth.
    BlankGear {
        /// Teeth of that gear.
        teeth: u32,
        /// Teeth from start to start.
        step: u32,
    },
    /// Out of mesh at the lead screw, turn the lead screw and leave the blank.
    LeadScrew {
        /// Turns from start to start.
        turns: Fraction,
        /// The same in teeth of the gear on the lead screw, when that is whole.
        teeth: Option<u32>,
    },
    /// Nothing divides: a strip of paper round the wheel of the blank, folded into as many parts as there are starts.
    Strip {
        /// Threads side by side.
        starts: u32,
    },
    /// Out of mesh further along the train, turn the blank until so many teeth of the driver have gone by.
    AlongTrain {
        /// Shaft that carries the driver, the blank being 0.
        shaft: usize,
        /// Its teeth.
        driver: u32,
        /// Teeth of the gear it leaves.
        driven: u32,
        /// Teeth from start to start.
        step: u32,
    },
}

/// Every way that comes out even, the easiest first; a strip of paper when none does; nothing for a single start.
///
/// One start lies a turn of the blank over `starts` from the next, and `lead` over `starts` along it. A mesh passes as
/// many teeth in a turn of the blank as its driver has, times the ratio before it; an idler passes what it gets.
pub fn ways(
    train: &Train,
    starts: u32,
    lead: Fraction,
    screw: Fraction,
    marks: Option<u32>,
) -> Vec<IndexWay> {
    if starts < 2 {
        return Vec::new();
    }
    let mut ways = Vec::new();
    if let Some(marks) = marks.filter(|marks| marks.is_multiple_of(starts)) {
        ways.push(IndexWay::Wheel { marks, step: marks / starts });
    }
    let blank = train.pairs[0].driver;
    if blank.is_multiple_of(starts) {
        ways.push(IndexWay::BlankGear { teeth: blank, step: blank / starts });
    }
    let turns = lead / screw / i128::from(starts);
    let last = train.pairs[train.pairs.len() - 1].driven;
    let teeth = whole(turns * i128::from(last));
    if *turns.denom() <= FINEST_PART || teeth.is_some() {
        ways.push(IndexWay::LeadScrew { turns, teeth });
    }
    ways.extend(along_train(train, starts));
    if ways.is_empty() {
        ways.push(IndexWay::Strip { starts });
    }
    ways
}

/// Meshes behind the first whose teeth divide by the starts. The first is the blank's own gear, the last is reached more
/// easily by turning the lead screw.
fn along_train(train: &Train, starts: u32) -> Vec<IndexWay> {
    let shafts = train.shafts();
    let mut ways = Vec::new();
    let mut passed = Fraction::from_integer(i128::from(train.pairs[0].driver));
    for (shaft, pair) in shafts.windows(2).enumerate() {
        let Some((driver, driven)) = meshing(&pair[0], &pair[1]) else { continue };
        if let (Some(own), true) = (pair[0].gears.first(), pair[0].gears.len() == 2) {
            passed = passed * i128::from(driver) / i128::from(own.teeth);
        }
        let inside = shaft > 0 && shaft + 2 < shafts.len();
        if let Some(step) = whole(passed / i128::from(starts)).filter(|_| inside) {
            ways.push(IndexWay::AlongTrain { shaft, driver, driven, step });
        }
    }
    ways
}

/// A fraction that is a whole number of teeth.
fn whole(fraction: Fraction) -> Option<u32> {
    fraction.is_integer().then(|| u32::try_from(fraction.to_integer()).ok()).flatten()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_starts_on_a_compound_train() {
        let train = Train::of(&[(40, 10), (20, 10)]);
        let (lead, screw) = (Fraction::from_integer(20), Fraction::new(5, 2));
        let found = ways(&train, 2, lead, screw, Some(24));
        let four_turns = IndexWay::LeadScrew { turns: Fraction::from_integer(4), teeth: Some(40) };
        assert_eq!(
            found,
            [
                IndexWay::Wheel { marks: 24, step: 12 },
                IndexWay::BlankGear { teeth: 40, step: 20 },
                four_turns
            ]
        );
        assert!(ways(&train, 1, lead, screw, Some(24)).is_empty());
        // Three starts: 40 teeth do not divide by three, 8/3 turns can be marked, and are not whole teeth of the 10.
        let third = IndexWay::LeadScrew { turns: Fraction::new(8, 3), teeth: None };
        assert_eq!(ways(&train, 3, lead, screw, None), [third]);
    }

    #[test]
    fn teeth_are_counted_along_a_double_compound_train() {
        // In a turn of the blank the first mesh passes 25 teeth, the second 25 / 10 * 24 = 60, the last 60 / 12 * 20.
        let train = Train::of(&[(25, 10), (24, 12), (20, 40)]);
        let found = ways(&train, 3, Fraction::new(25, 1), Fraction::new(7, 1), None);
        assert_eq!(found, [IndexWay::AlongTrain { shaft: 1, driver: 24, driven: 12, step: 20 }]);
    }

    #[test]
    fn a_slip_moves_the_next_start_to_its_place() {
        // Whatever the way, the blank and the lead screw end up one pitch apart: turns of the blank times the ratio, in
        // turns of the lead screw, is the lead over the starts.
        let train = Train::of(&[(48, 16), (30, 20)]);
        let screw = Fraction::from_integer(4);
        let lead = train.ratio() * screw;
        for starts in [2, 3, 4] {
            for way in ways(&train, starts, lead, screw, Some(24)) {
                let blank = match way {
                    IndexWay::Wheel { marks, step } => Fraction::new(i128::from(step), i128::from(marks)),
                    IndexWay::BlankGear { teeth, step } => Fraction::new(i128::from(step), i128::from(teeth)),
                    IndexWay::LeadScrew { turns, .. } => turns / train.ratio(),
                    IndexWay::AlongTrain { .. } | IndexWay::Strip { .. } => {
                        panic!("{way:?} is not called for")
                    }
                };
                assert_eq!(blank * i128::from(starts), Fraction::from_integer(1), "{way:?}");
            }
        }
    }
}
