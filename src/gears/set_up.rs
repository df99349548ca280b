//! From drivers and driven gears to a train that stands on the jig: an order that goes together, idlers for the hand and
//! the distance, studs within reach.

use super::layout::{Layout, MOST_STUDS, lay_out};
use super::mesh::{Room, orders};
use super::search::{GearBox, Set};
use super::train::{Idler, Train};
use crate::drawing::Hand;
use crate::job::Jig;

/// Orders of one set that are tried on the jig, the roomiest first: the others are tighter still.
const ORDERS: usize = 6;

/// Idlers that are tried when two studs are free to swing: laying those out takes longest.
const IDLERS_SWINGING: usize = 5;

/// Idlers that are tried when they come in twos.
const IDLERS_IN_TWOS: usize = 8;

/// Why a set does not stand on the jig.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Refusal {
    /// It takes more studs than there are.
    StudsFew,
    /// No gear is left in the box for the idler that the hand wants.
    NoIdler,
    /// The gears do not reach, or stand in each other's way, or a stud would stand outside the quadrant.
    NoPlace,
}

/// Sets the gears up to cut a hand: with as few idlers as do it, and of those with the most air.
pub(super) fn set_up(
    set: &Set,
    gears: &GearBox,
    jig: &Jig,
    room: &Room,
    hand: Hand,
) -> Result<(Train, Layout), Refusal> {
    let pairs = set.drivers.teeth().len();
    let even_meshes = hand == jig.alike_cuts;
    let mut refusal = Refusal::StudsFew;
    for idlers in (0..=2).filter(|idlers| (pairs + idlers).is_multiple_of(2) == even_meshes) {
        let studs = pairs + idlers - 1;
        // Two idlers only bridge a distance, and only a simple train has no compound stud to do that.
        if studs > jig.studs as usize || studs > MOST_STUDS || (idlers == 2 && pairs > 1) {
            continue;
        }
        let mut best: Option<(Train, Layout)> = None;
        let mut tried = false;
        for order in orders(set.drivers.teeth(), set.driven.teeth(), room).into_iter().take(ORDERS) {
            for train in with_idlers(&order, idlers, gears, studs) {
                tried = true;
                if let Some(layout) = lay_out(&train, jig, room)
                    && best.as_ref().is_none_or(|(_, known)| layout.spare_mm > known.spare_mm)
                {
                    best = Some((train, layout));
                }
            }
            if let Some(best) = best {
                return Ok(best);
            }
        }
        refusal = refusal.max(if tried { Refusal::NoPlace } else { Refusal::NoIdler });
    }
    Err(refusal)
}

/// The train with so many idlers, in every way that the rest of the box allows.
fn with_idlers(train: &Train, idlers: usize, gears: &GearBox, studs: usize) -> Vec<Train> {
    let used = |teeth: u32| train.teeth().filter(|&other| other == teeth).count();
    let spare: Vec<u32> = gears.kinds().filter(|&teeth| gears.count(teeth) > used(teeth)).collect();
    let spare = match (studs, idlers) {
        (MOST_STUDS.., _) => spread(&spare, IDLERS_SWINGING),
        (_, 2..) => spread(&spare, IDLERS_IN_TWOS),
        _ => spare,
    };
    let with = |idlers: Vec<Idler>| Train { pairs: train.pairs.clone(), idlers };
    match idlers {
        0 => vec![train.clone()],
        1 => (0..train.pairs.len())
            .flat_map(|pair| spare.iter().map(move |&teeth| Idler { pair, teeth }))
            .map(|idler| with(vec![idler]))
            .collect(),
        _ => spare
            .iter()
            .flat_map(|&one| spare.iter().map(move |&other| (one, other)))
            .filter(|&(one, other)| one != other || gears.count(one) >= used(one) + 2)
            .map(|(one, other)| with(vec![Idler { pair: 0, teeth: one }, Idler { pair: 0, teeth: other }]))
            .collect(),
    }
}

/// So many of a list, evenly spread from its first to its last.
fn spread(all: &[u32], most: usize) -> Vec<u32> {
    if all.len() <= most {
        return all.to_vec();
    }
    (0..most).map(|i| all[i * (all.len() - 1) / (most - 1)]).collect()
}
