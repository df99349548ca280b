//! Which new gear would help most: every tooth count that can be bought or printed is put into the box in turn, and the
//! best train that then holds it is compared with the best there is.

use std::cmp::Ordering;

use rayon::prelude::*;

use super::fraction::{Fraction, float};
use super::search::{GearBox, MOST_PAIRS, Set, exact, nearest};
use super::{Answer, Found, LEAST_TEETH, Pair, Shop};

/// Tooth counts that are thought of: from the smallest that is not undercut to the gear that turns inches into
/// millimetres (25.4 = 127/5).
const THOUGHT_OF: std::ops::RangeInclusive<u32> = LEAST_TEETH..=127;

/// New gears that are named.
const NAMED: usize = 3;

/// Sets that are tried on the jig for each new gear.
const TRIES: usize = 3;

/// A gear that is worth having.
#[derive(Clone, Debug, PartialEq)]
pub struct Purchase {
    /// Its teeth.
    pub teeth: u32,
    /// The best train with it.
    pub found: Found,
}

/// The gears that help most, the best first; none when what there is cannot be bettered.
pub(super) fn purchases(shop: &Shop, answer: &Answer) -> Vec<Purchase> {
    let now = answer.best(shop.wanted).map(|now| worth(shop, now));
    // What the fit bears can only be bettered by an exact train with no more gears.
    let bears = now.is_some_and(|now| now.class < Class::Far);
    let most_pairs =
        if bears { now.map_or(MOST_PAIRS, |now| now.gears / 2).min(MOST_PAIRS) } else { MOST_PAIRS };
    let all: Vec<u32> = THOUGHT_OF.collect();
    let mut better: Vec<(Worth, Purchase)> = all
        .par_iter()
        .filter_map(|&teeth| {
            let found = best_with(shop, teeth, most_pairs, !bears)?;
            Some((worth(shop, &found), Purchase { teeth, found }))
        })
        .filter(|(new, _)| now.is_none_or(|now| new.betters(&now)))
        .collect();
    better.sort_by(|a, b| a.0.order(&b.0).then(a.1.teeth.cmp(&b.1.teeth)));
    better.truncate(NAMED);
    better.into_iter().map(|(_, purchase)| purchase).collect()
}

/// How good a lead is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Class {
    Exact,
    Near,
    Far,
}

/// What counts for a train.
#[derive(Clone, Copy, Debug)]
struct Worth {
    class: Class,
    /// Share by which its lead is off.
    off: f64,
    gears: usize,
}

fn worth(shop: &Shop, found: &Found) -> Worth {
    let class = match (found.is_exact(shop.wanted), shop.wanted.bears(found)) {
        (true, _) => Class::Exact,
        (false, true) => Class::Near,
        (false, false) => Class::Far,
    };
    Worth { class, off: float(found.error(shop.wanted)).abs(), gears: found.train.gear_count() }
}

impl Worth {
    /// The better first: by class, then gears; among those too far off, by how far.
    fn order(&self, other: &Worth) -> Ordering {
        let by_class = self.class.cmp(&other.class);
        let off = self.off.total_cmp(&other.off);
        let gears = self.gears.cmp(&other.gears);
        by_class.then(if self.class == Class::Far { off.then(gears) } else { gears.then(off) })
    }

    /// Whether it is worth a new gear: a better class, fewer gears for an exact lead, or half as far off.
    fn betters(&self, now: &Worth) -> bool {
        const HALF: f64 = 0.5;
        let fewer = self.class == Class::Exact && now.class == Class::Exact && self.gears < now.gears;
        let exact_for_near =
            self.class == Class::Exact && now.class == Class::Near && self.gears <= now.gears;
        let far = now.class == Class::Far && (self.class < Class::Far || self.off <= HALF * now.off);
        fewer || exact_for_near || far
    }
}

/// The best train of up to so many pairs that holds a new gear; near ones too if they are of use.
fn best_with(shop: &Shop, teeth: u32, most_pairs: usize, near_too: bool) -> Option<Found> {
    let gears = shop.gears.with(teeth);
    let mut best: Option<(Worth, Found)> = None;
    for pairs in 1..=most_pairs {
        let groups = gears.groups(pairs);
        let mut sets = exact(&gears, &groups, shop.ratio, shop.room, Some(teeth)).together;
        sets.sort_by_cached_key(|set| shop.merit(set));
        if let Some(found) = first_that_stands(shop, &gears, &sets) {
            return Some(found);
        }
        if !near_too {
            continue;
        }
        let near = nearest(&gears, &groups, shop.ratio, shop.room, TRIES, Some(teeth));
        if let Some(found) = first_that_stands(shop, &gears, &near) {
            let new = worth(shop, &found);
            if best.as_ref().is_none_or(|(known, _)| new.order(known).is_lt()) {
                best = Some((new, found));
            }
        }
    }
    best.map(|(_, found)| found)
}

fn first_that_stands(shop: &Shop, gears: &GearBox, sets: &[Set]) -> Option<Found> {
    sets.iter().take(TRIES).find_map(|set| shop.stand(gears, set).ok())
}

/// Two new gears that alone, or with one pair out of the box, cut the lead exactly: the smallest that stand on the jig.
pub(super) fn exact_pair(shop: &Shop) -> Option<([u32; 2], Found)> {
    /// Pairs of new gears that are tried on the jig.
    const PAIR_TRIES: usize = 40;
    let kinds: Vec<u32> = shop.gears.kinds().collect();
    let known = kinds.iter().flat_map(|&driver| kinds.iter().map(move |&driven| Pair { driver, driven }));
    let known = known.filter(|pair| pair.driver != pair.driven).map(Some);
    let mut all: Vec<(u32, [u32; 2])> = std::iter::once(None)
        .chain(known)
        .filter_map(|with| pair_beside(shop.ratio, with))
        .map(|pair| (pair[0] + pair[1], pair))
        .collect();
    all.sort_unstable();
    all.dedup();
    all.into_iter().take(PAIR_TRIES).find_map(|(_, [driver, driven])| {
        let gears = shop.gears.with(driver).with(driven);
        (1..=2).find_map(|pairs| {
            let mut sets = exact(&gears, &gears.groups(pairs), shop.ratio, shop.room, Some(driver)).together;
            sets.retain(|set| set.driven.teeth().contains(&driven) || set.drivers.teeth().contains(&driven));
            Some(([driver, driven], first_that_stands(shop, &gears, &sets)?))
        })
    })
}

/// The two gears that make up a ratio beside a pair, if both can be thought of: its own top and bottom, or the smallest
/// multiple that is not undercut.
fn pair_beside(ratio: Fraction, with: Option<Pair>) -> Option<[u32; 2]> {
    let rest = with.map_or(ratio, |pair| ratio * i128::from(pair.driven) / i128::from(pair.driver));
    let (top, bottom) = (*rest.numer(), *rest.denom());
    let least = i128::from(*THOUGHT_OF.start());
    let times = (least + top.min(bottom) - 1) / top.min(bottom);
    let teeth = |part: i128| u32::try_from(part * times).ok().filter(|teeth| THOUGHT_OF.contains(teeth));
    Some([teeth(top)?, teeth(bottom)?])
}
