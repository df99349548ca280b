//! Change gears for a jig or lathe without a program: which gears between blank and lead screw cut a lead, whether they
//! go together, how to get from start to start, and which new gear would help most. Fractions are exact throughout.
//! Reads no files and writes no words.
//!
//! Lead cut = advance of the lead screw x product of the drivers / product of the driven gears, drivers counted from the
//! blank; idlers only change the way.

pub mod fraction;
mod buy;
mod faults;
mod index;
mod layout;
mod mesh;
pub mod read_back;
mod search;
mod set_up;
mod train;

pub use buy::Purchase;
pub use faults::{faults, jig_missing};
pub use fraction::Fraction;
pub use index::{IndexWay, ways};
pub use layout::{Layout, Stud, lay_out};
pub use mesh::{LEAST_TEETH, Room, orders, spare_teeth};
pub use search::GearBox;
pub use set_up::Refusal;
pub use train::{Gear, Idler, Pair, Shaft, Train};

use std::collections::BTreeMap;

use crate::design::{self, Screw};
use crate::drawing::Hand;
use crate::job::{Jig, Job};
use fraction::{float, primes};
use search::{MOST_PAIRS, Set};

/// Exact sets that are tried on the jig for the list of a kind, once one of them stands there.
const MOST_TRIES: usize = 400;

/// Exact sets that are tried before the search gives up on a kind of which none stands.
const LAST_TRY: usize = 10_000;

/// Sets near the lead that are tried on the jig, of each kind, when none is exact: more when all of them are refused.
const NEAR: [usize; 3] = [60, 600, 3000];

/// Gap at each flank of the nut that the job has, as given there or as chosen for its woods and seasons; `None` when
/// neither can be told.
pub fn flank_clearance_mm(job: &Job, screw: &Screw) -> Option<f64> {
    let given = job.nut.as_ref().and_then(|nut| nut.flank_clearance_mm);
    given.or_else(|| Some(design::fit(job, screw).0?.clearance.flank_mm))
}

/// What is to be cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wanted {
    /// Advance per turn, mm, exactly.
    pub lead: Fraction,
    /// Which way it winds.
    pub hand: Hand,
    /// Threads side by side.
    pub starts: u32,
    /// Length over which an error of the lead adds up.
    pub thread_mm: f64,
    /// What the lead may be off over that length: the gap that the fit leaves at a flank.
    pub clearance_mm: f64,
}

/// Gap between screw and nut on the radius when a job names no fit: the small end of .2 to .5 mm, which is common practice
/// for a dry nut, from memory.
pub const USUAL_GAP_MM: f64 = 0.2;

impl Wanted {
    /// What a screw wants: the clearance of its nut, or what is usual. A gap on the radius is a gap at the flanks of tan a times as much, along the axis, a being the
    /// angle of the flank against the radius.
    ///
    /// # Panics
    /// Never: a checked job's lead is a length.
    pub fn of(job: &Job, screw: &Screw) -> Self {
        Wanted {
            lead: fraction::meant(job.screw.lead_mm).expect("a checked job's lead is a length"),
            hand: job.screw.hand,
            starts: job.screw.starts,
            thread_mm: job.screw.thread_length_mm,
            clearance_mm: flank_clearance_mm(job, screw)
                .unwrap_or_else(|| USUAL_GAP_MM * screw.flank_axial_deg.to_radians().tan()),
        }
    }

    /// Whether a train's lead is off by no more than the fit bears over the thread.
    pub fn bears(&self, found: &Found) -> bool {
        found.error_over_mm(self, self.thread_mm).abs() <= self.clearance_mm
    }
}

/// A train that stands on the jig.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// The gears.
    pub train: Train,
    /// Where the studs stand.
    pub layout: Layout,
    /// The lead it cuts, mm.
    pub lead: Fraction,
    /// How to get from start to start, the easiest way first; empty with one start.
    pub index: Vec<IndexWay>,
}

impl Found {
    /// Share by which its lead is too long, exactly; negative when it is too short.
    pub fn error(&self, wanted: &Wanted) -> Fraction {
        self.lead / wanted.lead - 1
    }

    /// What that adds up to over a length, mm.
    pub fn error_over_mm(&self, wanted: &Wanted, length_mm: f64) -> f64 {
        float(self.error(wanted)) * length_mm
    }

    /// Whether it cuts the lead exactly.
    pub fn is_exact(&self, wanted: &Wanted) -> bool {
        self.lead == wanted.lead
    }
}

/// What one kind of train has to offer: simple, compound or double compound.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Kind {
    /// Pairs in such a train.
    pub pairs: usize,
    /// Sets of drivers and driven gears in the box that cut the lead exactly.
    pub exact: usize,
    /// How many of these some order of their gears lets go together on shafts.
    pub go_together: usize,
    /// Those that stand on the jig, the best first: exact ones, else the nearest.
    pub found: Vec<Found>,
    /// Why other exact ones do not.
    pub refused: BTreeMap<Refusal, usize>,
    /// Why other near ones do not, if it came to near ones.
    pub refused_near: BTreeMap<Refusal, usize>,
    /// Whether every set in the box was looked at.
    pub exhaustive: bool,
    /// Whether every set that goes together was tried on the jig.
    pub all_tried: bool,
}

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// Turns of the lead screw that one turn of the blank needs.
    pub ratio: Fraction,
    /// Simple, compound and double compound trains.
    pub kinds: Vec<Kind>,
    /// Whether any train that stands on the jig is exact. If not, the kinds hold the nearest.
    pub exact: bool,
    /// A prime number of teeth that the ratio needs and no gear in the box has in it.
    pub missing_prime: Option<i128>,
    /// The room gears need beside each other, and where that comes from.
    pub room: Room,
    /// New gears that would help most, the best first.
    pub purchases: Vec<Purchase>,
    /// When no one gear makes the lead exact: two that do together, and the train with them.
    pub purchase_pair: Option<([u32; 2], Found)>,
}

impl Answer {
    /// The best train of all: exact with the fewest gears, else the first that keeps within the clearance, else the
    /// nearest.
    pub fn best(&self, wanted: &Wanted) -> Option<&Found> {
        let mut all: Vec<&Found> = self.kinds.iter().flat_map(|kind| &kind.found).collect();
        // A stable sort keeps the order of kinds and of the trains within them.
        all.sort_by_key(|found| (!found.is_exact(wanted), !wanted.bears(found)));
        if all.first().is_some_and(|first| wanted.bears(first)) {
            return all.first().copied();
        }
        let off = |found: &Found| float(found.error(wanted)).abs();
        all.into_iter().min_by(|a, b| off(a).total_cmp(&off(b)))
    }
}

/// Looks through a jig's box of gears for a lead, and keeps up to `most` trains of each kind.
///
/// # Panics
/// Never: a checked jig's lead screw advances by a length.
pub fn answer(jig: &Jig, wanted: &Wanted, most: usize) -> Answer {
    let screw = fraction::meant(jig.lead_screw_mm).expect("a checked jig's lead screw advances by a length");
    let ratio = wanted.lead / screw;
    let gears = GearBox::new(&jig.gears);
    let room = Room::on(jig);
    let shop = Shop { jig, wanted, gears: &gears, room: &room, screw, ratio };
    let mut kinds: Vec<Kind> = (1..=MOST_PAIRS).map(|pairs| shop.exact(pairs, most)).collect();
    let exact = kinds.iter().any(|kind| !kind.found.is_empty());
    if !exact {
        shop.all_nearest(&mut kinds, most);
    }
    let missing_prime = missing_prime(ratio, &gears);
    let mut answer =
        Answer { ratio, kinds, exact, missing_prime, room, purchases: Vec::new(), purchase_pair: None };
    answer.purchases = buy::purchases(&shop, &answer);
    if !exact && !answer.purchases.iter().any(|purchase| purchase.found.is_exact(wanted)) {
        answer.purchase_pair = buy::exact_pair(&shop);
    }
    answer
}

/// What every part of a search needs to know.
struct Shop<'a> {
    jig: &'a Jig,
    wanted: &'a Wanted,
    gears: &'a GearBox,
    room: &'a Room,
    /// Advance of the lead screw, mm.
    screw: Fraction,
    ratio: Fraction,
}

impl Shop<'_> {
    /// Exact trains of one kind.
    fn exact(&self, pairs: usize, most: usize) -> Kind {
        let groups = self.gears.groups(pairs);
        let mut sets = search::exact(self.gears, &groups, self.ratio, self.room, None);
        sets.together.sort_by_cached_key(|set| self.merit(set));
        let mut kind = Kind {
            pairs,
            exact: sets.with_ratio,
            go_together: sets.together.len(),
            exhaustive: sets.exhaustive,
            all_tried: true,
            ..Kind::default()
        };
        for (tried, set) in sets.together.iter().enumerate() {
            let enough =
                kind.found.len() >= most || (tried >= MOST_TRIES.max(most) && !kind.found.is_empty());
            if enough || tried >= LAST_TRY.max(most) {
                kind.all_tried = false;
                break;
            }
            match self.stand(self.gears, set) {
                Ok(found) => kind.found.push(found),
                // Studs are as many for every set.
                Err(Refusal::StudsFew) => {
                    kind.refused.insert(Refusal::StudsFew, sets.together.len());
                    break;
                }
                Err(refusal) => *kind.refused.entry(refusal).or_default() += 1,
            }
        }
        // Those that need no idler come first: an idler is one more gear to hang and to mesh.
        kind.found.sort_by_key(|found| found.train.gear_count());
        kind
    }

    /// Fills in the nearest trains: of the first kind that has some within the clearance, since more gears are worth
    /// their trouble only while the lead is off by more than that; else the nearest of all kinds together.
    fn all_nearest(&self, kinds: &mut [Kind], most: usize) {
        for index in 0..kinds.len() {
            self.nearest(&mut kinds[index], most);
            if kinds[index].found.iter().any(|found| self.wanted.bears(found)) {
                for fewer in &mut kinds[..index] {
                    fewer.found.clear();
                }
                kinds[index].found.retain(|found| self.wanted.bears(found));
                return;
            }
        }
        let off = |found: &Found| float(found.error(self.wanted)).abs();
        let mut all: Vec<f64> = kinds.iter().flat_map(|kind| kind.found.iter().map(off)).collect();
        all.sort_by(f64::total_cmp);
        let worst = all.get(most.min(all.len()).wrapping_sub(1)).copied().unwrap_or(f64::INFINITY);
        let mut left = most;
        for kind in kinds {
            kind.found.retain(|found| off(found) <= worst);
            kind.found.truncate(left);
            left -= kind.found.len();
        }
    }

    /// Fills in the nearest trains of one kind, nearest first.
    fn nearest(&self, kind: &mut Kind, most: usize) {
        let groups = self.gears.groups(kind.pairs);
        let mut tried = 0;
        // The nearest may all be refused, so the search widens until it has what was asked for.
        for look_at in NEAR {
            let near = search::nearest(self.gears, &groups, self.ratio, self.room, look_at, None);
            for set in near.iter().skip(tried) {
                match self.stand(self.gears, set) {
                    Ok(found) => kind.found.push(found),
                    Err(refusal) => *kind.refused_near.entry(refusal).or_default() += 1,
                }
                if kind.found.len() >= most || kind.refused_near.contains_key(&Refusal::StudsFew) {
                    return;
                }
            }
            if !kind.found.is_empty() || near.len() < look_at {
                return;
            }
            tried = near.len();
        }
    }

    /// Sets gears up on the jig.
    fn stand(&self, gears: &GearBox, set: &Set) -> Result<Found, Refusal> {
        let (train, layout) = set_up::set_up(set, gears, self.jig, self.room, self.wanted.hand)?;
        let index =
            index::ways(&train, self.wanted.starts, self.wanted.lead, self.screw, self.jig.index_marks);
        Ok(Found { lead: self.screw * train.ratio(), train, layout, index })
    }

    /// What makes one exact set better than another with as many gears, smaller first: that its starts can be told
    /// apart on the gear of the blank, that no gear is undercut, that it is compact.
    fn merit(&self, set: &Set) -> (bool, usize, u32, Set) {
        let starts = self.wanted.starts;
        let teeth = || set.drivers.teeth().iter().chain(set.driven.teeth());
        let indexes = set.drivers.teeth().iter().any(|teeth| teeth.is_multiple_of(starts));
        (!indexes, teeth().filter(|&&teeth| teeth < LEAST_TEETH).count(), teeth().sum(), *set)
    }
}

/// The greatest prime that is in the ratio and in no gear of the box: why no train can be exact.
fn missing_prime(ratio: Fraction, gears: &GearBox) -> Option<i128> {
    let mut all = primes(*ratio.numer());
    all.extend(primes(*ratio.denom()));
    all.retain(|&prime| !gears.kinds().any(|teeth| i128::from(teeth) % prime == 0));
    all.into_iter().max()
}
