//! A train of gears from the blank to the lead screw, as data: pairs that set the ratio, idlers that only turn the
//! other way, and the shafts they sit on.

use super::fraction::Fraction;
use crate::drawing::Hand;

/// Two gears that turn each other, straight or over idlers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Pair {
    /// Teeth of the gear nearer to the blank.
    pub driver: u32,
    /// Teeth of the gear nearer to the lead screw.
    pub driven: u32,
}

/// A gear between the two of a pair: it changes the way they turn and nothing else.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Idler {
    /// Which pair it stands in, counted from 0 at the blank.
    pub pair: usize,
    /// Its teeth.
    pub teeth: u32,
}

/// A train, from the blank to the lead screw.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Train {
    /// The pairs: one is a simple train, two a compound one, three a double compound one.
    pub pairs: Vec<Pair>,
    /// The idlers, by pair.
    pub idlers: Vec<Idler>,
}

/// A gear on its shaft.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gear {
    /// Teeth.
    pub teeth: u32,
    /// Which pair it belongs to: gears of one pair stand in one plane, the next pair in the next.
    pub plane: usize,
}

/// A shaft and what sits on it: one gear, or two that turn together, the driven one first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shaft {
    /// Its gears.
    pub gears: Vec<Gear>,
}

impl Train {
    /// A train of pairs given as (driver, driven), without idlers.
    pub fn of(pairs: &[(u32, u32)]) -> Self {
        let pairs = pairs.iter().map(|&(driver, driven)| Pair { driver, driven }).collect();
        Train { pairs, idlers: Vec::new() }
    }

    /// Turns of the lead screw in one turn of the blank: product of the drivers over product of the driven.
    pub fn ratio(&self) -> Fraction {
        self.pairs
            .iter()
            .map(|pair| Fraction::new(i128::from(pair.driver), i128::from(pair.driven)))
            .fold(Fraction::from_integer(1), |product, ratio| product * ratio)
    }

    /// Places where two gears mesh.
    pub fn meshes(&self) -> usize {
        self.pairs.len() + self.idlers.len()
    }

    /// Whether blank and lead screw turn the same way: every mesh turns it round once.
    pub fn turns_alike(&self) -> bool {
        self.meshes().is_multiple_of(2)
    }

    /// The hand it cuts on a jig that cuts `alike` when blank and lead screw turn the same way.
    pub fn hand(&self, alike: Hand) -> Hand {
        match (self.turns_alike(), alike) {
            (true, hand) => hand,
            (false, Hand::Right) => Hand::Left,
            (false, Hand::Left) => Hand::Right,
        }
    }

    /// Gears it takes out of the box.
    pub fn gear_count(&self) -> usize {
        2 * self.pairs.len() + self.idlers.len()
    }

    /// Teeth of every gear in it, idlers too.
    pub fn teeth(&self) -> impl Iterator<Item = u32> + '_ {
        let pairs = self.pairs.iter().flat_map(|pair| [pair.driver, pair.driven]);
        pairs.chain(self.idlers.iter().map(|idler| idler.teeth))
    }

    /// The shafts in order: the blank, the studs, the lead screw.
    pub fn shafts(&self) -> Vec<Shaft> {
        let mut shafts = vec![Shaft { gears: Vec::new() }];
        for (plane, pair) in self.pairs.iter().enumerate() {
            let mut put = |teeth, new_shaft| {
                if new_shaft {
                    shafts.push(Shaft { gears: Vec::new() });
                }
                if let Some(shaft) = shafts.last_mut() {
                    shaft.gears.push(Gear { teeth, plane });
                }
            };
            put(pair.driver, false);
            for idler in self.idlers.iter().filter(|idler| idler.pair == plane) {
                put(idler.teeth, true);
            }
            put(pair.driven, true);
        }
        shafts
    }

    /// Studs it takes between blank and lead screw.
    pub fn studs(&self) -> usize {
        self.meshes() - 1
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shafts_carry_what_turns_together() {
        let mut train = Train::of(&[(40, 10), (20, 10)]);
        train.idlers.push(Idler { pair: 1, teeth: 30 });
        let teeth: Vec<Vec<u32>> =
            train.shafts().iter().map(|shaft| shaft.gears.iter().map(|gear| gear.teeth).collect()).collect();
        assert_eq!(teeth, [vec![40], vec![10, 20], vec![30], vec![10]]);
        assert_eq!((train.studs(), train.gear_count(), train.turns_alike()), (2, 5, false));
        assert_eq!(train.ratio(), Fraction::from_integer(8));
    }

    #[test]
    fn an_idler_changes_the_hand_and_not_the_lead() {
        let plain = Train::of(&[(60, 20)]);
        let mut with_idler = plain.clone();
        with_idler.idlers.push(Idler { pair: 0, teeth: 45 });
        assert_eq!(plain.ratio(), with_idler.ratio());
        assert_eq!((plain.hand(Hand::Right), with_idler.hand(Hand::Right)), (Hand::Left, Hand::Right));
        assert_eq!((plain.hand(Hand::Left), with_idler.hand(Hand::Left)), (Hand::Right, Hand::Left));
    }
}
