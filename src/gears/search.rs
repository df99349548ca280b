//! Looks through a box of gears: every set of drivers and driven gears whose products stand in a ratio, or come nearest
//! to it. Products of up to three gears are listed once and sorted; for each group of drivers the products of the driven
//! that fit are then found by halving, so a box of forty gears (some 76 million triple trains) takes no time.

use super::fraction::{Fraction, float};
use super::mesh::Room;

/// Most sets that are kept: past this the search says that it was not exhaustive.
const MOST_SETS: usize = 1_000_000;

/// Most pairs in a train.
pub(super) const MOST_PAIRS: usize = 3;

/// A box of gears: tooth counts, and how many there are of each.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GearBox {
    kinds: Vec<(u32, usize)>,
}

/// Gears that drive, or that are driven: up to three, and the product of their teeth.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Group {
    product: u64,
    teeth: [u32; MOST_PAIRS],
    size: usize,
}

impl Group {
    pub(super) fn teeth(&self) -> &[u32] {
        &self.teeth[..self.size]
    }
}

/// Drivers and driven gears, not yet in an order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Set {
    pub(super) drivers: Group,
    pub(super) driven: Group,
}

impl Set {
    /// Whether it takes gears from a box that the box has, and none on both sides: a tooth count that drives and is
    /// driven cancels out, and the shorter train without it does the same. Only a pair of twins has nothing shorter.
    fn is_proper(&self, gears: &GearBox) -> bool {
        let shared = self.drivers.teeth().iter().find(|teeth| self.driven.teeth().contains(teeth));
        match shared {
            None => true,
            Some(&teeth) => self.drivers.size == 1 && gears.count(teeth) >= 2,
        }
    }

    /// Whether some order of it goes together on shafts: A + B >= C + k and so on, see [`super::mesh`].
    fn goes_together(&self, k: f64) -> bool {
        let fits = |one: u32, other: u32, beside: u32| f64::from(one + other) >= f64::from(beside) + k;
        let all = |teeth: &[u32], check: &dyn Fn(u32, u32, u32) -> bool| match *teeth {
            [a, b] => check(a, b, 0) || check(b, a, 0),
            [a, b, c] => {
                check(a, b, c)
                    || check(a, c, b)
                    || check(b, a, c)
                    || check(b, c, a)
                    || check(c, a, b)
                    || check(c, b, a)
            }
            _ => true,
        };
        let two = |a, b, c, d| fits(a, b, c) && fits(c, d, b);
        match self.drivers.size {
            2 => all(self.drivers.teeth(), &|a, c, _| all(self.driven.teeth(), &|b, d, _| two(a, b, c, d))),
            3 => all(self.drivers.teeth(), &|a, c, e| {
                all(self.driven.teeth(), &|b, d, f| two(a, b, c, d) && fits(c, d, e) && fits(e, f, d))
            }),
            _ => true,
        }
    }
}

/// What a search found.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Sets {
    /// The sets that go together.
    pub(super) together: Vec<Set>,
    /// Sets with that ratio, those that do not go together counted too.
    pub(super) with_ratio: usize,
    /// Whether every set was looked at.
    pub(super) exhaustive: bool,
}

impl GearBox {
    /// A box from a list of teeth.
    pub fn new(teeth: &[u32]) -> Self {
        let mut sorted = teeth.to_vec();
        sorted.sort_unstable();
        let kinds = sorted.chunk_by(|a, b| a == b).map(|alike| (alike[0], alike.len())).collect();
        GearBox { kinds }
    }

    /// Gears with so many teeth.
    pub fn count(&self, teeth: u32) -> usize {
        self.kinds.iter().find(|kind| kind.0 == teeth).map_or(0, |kind| kind.1)
    }

    /// The tooth counts in the box, growing.
    pub fn kinds(&self) -> impl Iterator<Item = u32> + '_ {
        self.kinds.iter().map(|kind| kind.0)
    }

    /// The box with one gear more.
    #[must_use]
    pub fn with(&self, teeth: u32) -> Self {
        let mut all: Vec<u32> = self.kinds.iter().flat_map(|&(teeth, count)| vec![teeth; count]).collect();
        all.push(teeth);
        GearBox::new(&all)
    }

    /// Every group of so many gears, sorted by product.
    pub(super) fn groups(&self, size: usize) -> Vec<Group> {
        let mut found = Vec::new();
        let empty = Group { product: 1, teeth: [0; MOST_PAIRS], size: 0 };
        self.grow(empty, size, 0, &mut found);
        found.sort_unstable();
        found
    }

    fn grow(&self, group: Group, size: usize, from: usize, found: &mut Vec<Group>) {
        if group.size == size {
            found.push(group);
            return;
        }
        for (index, &(teeth, count)) in self.kinds.iter().enumerate().skip(from) {
            let taken = group.teeth().iter().filter(|&&other| other == teeth).count();
            if taken < count {
                let mut grown = group;
                grown.teeth[group.size] = teeth;
                grown.size += 1;
                grown.product *= u64::from(teeth);
                self.grow(grown, size, index, found);
            }
        }
    }
}

/// Every set of `groups` (drivers and driven of one size) with exactly this ratio that goes together. With
/// `holding`, only sets in which that tooth count takes part.
pub(super) fn exact(
    gears: &GearBox,
    groups: &[Group],
    ratio: Fraction,
    room: &Room,
    holding: Option<u32>,
) -> Sets {
    let (top, bottom) = (*ratio.numer(), *ratio.denom());
    let k = room.teeth();
    let mut found = Sets { exhaustive: true, ..Sets::default() };
    for drivers in groups {
        let wanted = i128::from(drivers.product) * bottom;
        if wanted % top != 0 {
            continue;
        }
        let Ok(wanted) = u64::try_from(wanted / top) else { continue };
        let from = groups.partition_point(|group| group.product < wanted);
        for driven in groups[from..].iter().take_while(|group| group.product == wanted) {
            let set = Set { drivers: *drivers, driven: *driven };
            let holds = holding
                .is_none_or(|teeth| drivers.teeth().contains(&teeth) || driven.teeth().contains(&teeth));
            if !holds || !set.is_proper(gears) {
                continue;
            }
            found.with_ratio += 1;
            if found.together.len() >= MOST_SETS {
                found.exhaustive = false;
                return found;
            }
            if set.goes_together(k) {
                found.together.push(set);
            }
        }
    }
    found
}

/// The `most` sets that go together and come nearest to a ratio, nearest first, exact ones included. Every set is
/// considered: from each group of drivers the driven groups are looked at outwards from the best product until they are
/// farther off than the worst that is kept.
pub(super) fn nearest(
    gears: &GearBox,
    groups: &[Group],
    ratio: Fraction,
    room: &Room,
    most: usize,
    holding: Option<u32>,
) -> Vec<Set> {
    let ratio = float(ratio);
    let k = room.teeth();
    let mut kept: Vec<(f64, Set)> = Vec::new();
    let mut worst = f64::INFINITY;
    for drivers in groups {
        let wanted = drivers.product as f64 / ratio;
        let middle = groups.partition_point(|group| (group.product as f64) < wanted);
        let (below, above) = groups.split_at(middle);
        let mut look = |driven: &Group| {
            // The share by which the lead is off.
            let off = (wanted / driven.product as f64 - 1.0).abs();
            if off > worst {
                return false;
            }
            let set = Set { drivers: *drivers, driven: *driven };
            let holds = holding
                .is_none_or(|teeth| drivers.teeth().contains(&teeth) || driven.teeth().contains(&teeth));
            if holds && set.is_proper(gears) && set.goes_together(k) {
                let place =
                    kept.partition_point(|other| other.0.total_cmp(&off).then(other.1.cmp(&set)).is_lt());
                kept.insert(place, (off, set));
                if kept.len() > most {
                    kept.pop();
                }
                if kept.len() == most {
                    worst = kept[most - 1].0;
                }
            }
            true
        };
        let _ = above.iter().all(&mut look);
        let _ = below.iter().rev().all(&mut look);
    }
    kept.into_iter().map(|(_, set)| set).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gears::mesh::orders;

    const TIGHT: Room = Room { module_mm: 2.0, tip_to_axis_mm: 8.0, from_memory: false };

    fn made(set: &Set) -> Fraction {
        Fraction::new(i128::from(set.drivers.product), i128::from(set.driven.product))
    }

    /// Every set by brute force, with the orders tried one by one.
    fn by_hand(gears: &GearBox, size: usize) -> Vec<Set> {
        let groups = gears.groups(size);
        let mut all = Vec::new();
        for drivers in &groups {
            for driven in &groups {
                let set = Set { drivers: *drivers, driven: *driven };
                if set.is_proper(gears) && !orders(drivers.teeth(), driven.teeth(), &TIGHT).is_empty() {
                    all.push(set);
                }
            }
        }
        all
    }

    #[test]
    fn a_box_lists_every_group_once() {
        let gears = GearBox::new(&[20, 30, 20, 40]);
        let groups = |size| gears.groups(size).iter().map(|group| group.teeth().to_vec()).collect::<Vec<_>>();
        assert_eq!(groups(1), [[20], [30], [40]]);
        assert_eq!(groups(2), [[20, 20], [20, 30], [20, 40], [30, 40]]);
        assert_eq!(groups(3), [[20, 20, 30], [20, 20, 40], [20, 30, 40]]);
    }

    #[test]
    fn the_quick_search_finds_what_looking_through_everything_finds() {
        let gears = GearBox::new(&[12, 15, 18, 20, 20, 24, 30, 36, 40, 45]);
        for size in 1..=MOST_PAIRS {
            let all = by_hand(&gears, size);
            let groups = gears.groups(size);
            for (top, bottom) in [(1, 1), (2, 1), (8, 1), (3, 4), (127, 60), (5, 7), (1, 9)] {
                let ratio = Fraction::new(top, bottom);
                let mut want: Vec<Set> = all.iter().filter(|set| made(set) == ratio).copied().collect();
                let mut got = exact(&gears, &groups, ratio, &TIGHT, None).together;
                want.sort_unstable();
                got.sort_unstable();
                assert_eq!(got, want, "{size} pairs, {ratio}");
                let off = |set: &Set| (float(made(set)) / float(ratio) - 1.0).abs();
                let mut ranked: Vec<f64> = all.iter().map(off).collect();
                ranked.sort_by(f64::total_cmp);
                let near: Vec<f64> =
                    nearest(&gears, &groups, ratio, &TIGHT, 20, None).iter().map(off).collect();
                assert_eq!(near.len(), ranked.len().min(20));
                for (got, want) in near.iter().zip(&ranked) {
                    assert!((got - want).abs() < 1e-12, "{size} pairs, {ratio}: {got} against {want}");
                }
            }
        }
    }

    #[test]
    fn only_sets_with_the_asked_gear_when_one_is_asked_for() {
        let gears = GearBox::new(&[20, 25, 30, 40, 45, 50, 60]);
        let groups = gears.groups(2);
        let ratio = Fraction::new(3, 2);
        let all = exact(&gears, &groups, ratio, &TIGHT, None);
        let with_25 = exact(&gears, &groups, ratio, &TIGHT, Some(25));
        let holds = |set: &&Set| set.drivers.teeth().contains(&25) || set.driven.teeth().contains(&25);
        assert!(!with_25.together.is_empty() && with_25.together.len() < all.together.len());
        assert_eq!(with_25.together, all.together.iter().filter(holds).copied().collect::<Vec<_>>());
    }
}
