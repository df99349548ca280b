//! Where the studs stand: the distances between shafts are fixed by the gears, the blank and the lead screw by the jig,
//! and the quadrant lets the rest swing. Looks for the place with the most air.

use super::mesh::{Room, meshing, spare_teeth};
use super::train::{Shaft, Train};
use crate::job::Jig;

/// Two gears without a stud between them mesh when the axes stand as far apart as the gears want, within this share of
/// a module: closer they bind, farther they rattle (common practice, no source).
const SLACK_MODULES: f64 = 0.15;

/// Steps of angle at which the free studs are tried, degrees: with one free stud, and with two. Finer steps find
/// hardly more air and cost time.
const STEP_ONE_DEG: u32 = 2;
const STEP_TWO_DEG: u32 = 10;

/// Most studs that are laid out: three leave two of them free to swing.
pub(super) const MOST_STUDS: usize = 3;

/// Where one stud stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stud {
    /// From the axis of the blank, mm.
    pub from_blank_mm: f64,
    /// From the axis of the lead screw, mm.
    pub from_lead_screw_mm: f64,
}

/// Where the studs stand.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// The studs in order from the blank.
    pub studs: Vec<Stud>,
    /// Air at the tightest place beyond what is needed, mm; infinite when nothing stands beside anything.
    pub spare_mm: f64,
}

/// Sets a train up on a jig. `None` when it does not go; a layout without studs to place when the jig does not say
/// how far its axes stand apart, which only leaves the clearances between neighbours to look at.
pub fn lay_out(train: &Train, jig: &Jig, room: &Room) -> Option<Layout> {
    if train.studs() > jig.studs as usize {
        return None;
    }
    let spare_teeth = spare_teeth(train, room);
    if spare_teeth < 0.0 {
        return None;
    }
    let Some(apart) = jig.axes_apart_mm else {
        return Some(Layout { studs: Vec::new(), spare_mm: spare_teeth * room.module_mm / 2.0 });
    };
    let shafts = train.shafts();
    let links: Vec<f64> = shafts
        .windows(2)
        .filter_map(|pair| meshing(&pair[0], &pair[1]))
        .map(|(one, other)| room.centres_mm(one, other))
        .collect();
    if let [only] = links[..] {
        let fits = (only - apart).abs() <= SLACK_MODULES * room.module_mm;
        return fits.then(|| Layout { studs: Vec::new(), spare_mm: f64::INFINITY });
    }
    if links.len() > MOST_STUDS + 1 || !closes(&links, apart) {
        return None;
    }
    let mut search =
        Search { jig, needs: needs(&shafts, room), links: &links, apart, at: vec![[0.0, 0.0]], best: None };
    search.go_on(search.ends_air());
    let (spare_mm, at) = search.best?;
    let studs = at[1..].iter().map(|&stud| Stud {
        from_blank_mm: distance(stud, at[0]),
        from_lead_screw_mm: distance(stud, [apart, 0.0]),
    });
    Some(Layout { studs: studs.collect(), spare_mm })
}

fn distance(one: [f64; 2], other: [f64; 2]) -> f64 {
    (one[0] - other[0]).hypot(one[1] - other[1])
}

/// Least distance between the axes of every two shafts. A shaft may run through any plane, so every gear keeps clear of
/// every shaft it does not mesh with; gears of one plane keep clear of each other unless they mesh.
fn needs(shafts: &[Shaft], room: &Room) -> Vec<Vec<f64>> {
    let between = |i: usize, j: usize| {
        let mut least: f64 = 0.0;
        for (one, other) in [(i, j), (j, i)] {
            for gear in &shafts[one].gears {
                let mut alike =
                    shafts[other].gears.iter().filter(|facing| facing.plane == gear.plane).peekable();
                let meshes = i.abs_diff(j) == 1 && alike.peek().is_some();
                if meshes {
                    continue;
                }
                least = least.max(room.tip_radius_mm(gear.teeth) + room.tip_to_axis_mm);
                least =
                    alike.fold(least, |least, facing| least.max(room.passing_mm(gear.teeth, facing.teeth)));
            }
        }
        least
    };
    (0..shafts.len()).map(|i| (0..shafts.len()).map(|j| between(i, j)).collect()).collect()
}

/// Whether links of these lengths can reach across at all: no side of a polygon is longer than the others together.
fn closes(links: &[f64], apart: f64) -> bool {
    let sum: f64 = links.iter().sum::<f64>() + apart;
    links.iter().chain([&apart]).all(|side| 2.0 * side <= sum)
}

struct Search<'a> {
    jig: &'a Jig,
    /// Least distance between every two shafts.
    needs: Vec<Vec<f64>>,
    links: &'a [f64],
    apart: f64,
    /// Places of the shafts so far, the blank first; the lead screw stands at `apart`.
    at: Vec<[f64; 2]>,
    /// Most air found, and the places with it.
    best: Option<(f64, Vec<[f64; 2]>)>,
}

impl Search<'_> {
    /// Places the next stud in every way that has more air than the best so far. `spare` is the least air up to here.
    fn go_on(&mut self, spare: f64) {
        let next = self.at.len();
        let from = self.at[next - 1];
        if next + 1 == self.links.len() {
            // Both of its links are known now.
            for place in meet(from, self.links[next - 1], [self.apart, 0.0], self.links[next]) {
                let spare = spare.min(self.air(place));
                if self.is_better(spare) {
                    self.at.push(place);
                    self.best = Some((spare, self.at.clone()));
                    self.at.truncate(next);
                }
            }
            return;
        }
        let step = if self.links.len() > MOST_STUDS { STEP_TWO_DEG } else { STEP_ONE_DEG };
        // Every layout has a mirror image below the line between the axes.
        let round = if next == 1 { 180 } else { 360 - step };
        let reach: f64 = self.links[next..].iter().sum();
        let link = self.links[next - 1];
        for degrees in (0..=round).step_by(step as usize) {
            let angle = f64::from(degrees).to_radians();
            let place = [from[0] + link * angle.cos(), from[1] + link * angle.sin()];
            let spare = spare.min(self.air(place));
            if self.is_better(spare) && distance(place, [self.apart, 0.0]) <= reach {
                self.at.push(place);
                self.go_on(spare);
                self.at.truncate(next);
            }
        }
    }

    fn is_better(&self, spare: f64) -> bool {
        spare >= 0.0 && self.best.as_ref().is_none_or(|(most, _)| spare > *most)
    }

    /// Air between a stud at this place and everything placed before it and the lead screw; less than nothing outside the
    /// quadrant.
    fn air(&self, place: [f64; 2]) -> f64 {
        let (stud, last) = (self.at.len(), self.links.len());
        let from_screw = distance(place, [self.apart, 0.0]);
        let farthest = self.jig.farthest_stud_mm.unwrap_or(f64::INFINITY);
        if !(self.jig.nearest_stud_mm..=farthest).contains(&from_screw) {
            return f64::NEG_INFINITY;
        }
        let needs = &self.needs[stud];
        let placed = self.at.iter().zip(needs).map(|(&at, needs)| distance(at, place) - needs);
        placed.fold(from_screw - needs[last], f64::min)
    }

    /// Air between blank and lead screw.
    fn ends_air(&self) -> f64 {
        self.apart - self.needs[0][self.links.len()]
    }
}

/// Points at two distances from two places: none, or two that mirror each other.
fn meet(one: [f64; 2], from_one: f64, other: [f64; 2], from_other: f64) -> impl Iterator<Item = [f64; 2]> {
    let (dx, dy) = (other[0] - one[0], other[1] - one[1]);
    let apart = dx.hypot(dy);
    let along = (apart * apart + from_one * from_one - from_other * from_other) / (2.0 * apart);
    let across = (from_one * from_one - along * along).sqrt();
    let places = [across, -across].map(|across| {
        [one[0] + (along * dx - across * dy) / apart, one[1] + (along * dy + across * dx) / apart]
    });
    // Circles that do not meet have no real crossing.
    places.into_iter().filter(|place| place[0].is_finite() && place[1].is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Hand;
    use crate::gears::train::Idler;

    fn jig(apart: f64) -> Jig {
        Jig {
            title: "test".to_owned(),
            lead_screw_mm: 2.5,
            gears: vec![10, 10, 20, 40],
            module_mm: 2.0,
            shaft_diameter_mm: Some(12.0),
            studs: 3,
            axes_apart_mm: Some(apart),
            nearest_stud_mm: 0.0,
            farthest_stud_mm: None,
            alike_cuts: Hand::Right,
            index_marks: None,
        }
    }

    #[test]
    fn one_stud_stands_where_both_meshes_want_it() {
        // Links m (40 + 10) / 2 = 50 and m (20 + 10) / 2 = 30, axes 60 apart: a triangle with sides 50, 30, 60.
        let jig = jig(60.0);
        let layout = lay_out(&Train::of(&[(40, 10), (20, 10)]), &jig, &Room::on(&jig)).expect("it reaches");
        assert_eq!(layout.studs.len(), 1);
        assert!((layout.studs[0].from_blank_mm - 50.0).abs() < 1e-9);
        assert!((layout.studs[0].from_lead_screw_mm - 30.0).abs() < 1e-9);
        // The tightest places: the 40 (42 to its tips) beside the lead screw 60 away, and the 10 of the stud (12) beside
        // the lead screw 30 away; a shaft and its air take 7.
        assert!((layout.spare_mm - 11.0).abs() < 1e-9, "{}", layout.spare_mm);
    }

    #[test]
    fn axes_too_far_apart_or_too_near_are_refused() {
        for apart in [81.0, 19.0] {
            let jig = jig(apart);
            let train = Train::of(&[(40, 10), (20, 10)]);
            assert_eq!(lay_out(&train, &jig, &Room::on(&jig)), None, "{apart}");
        }
        // Within reach, but the 40 would sit on the lead screw: it needs 42 + 7.
        let jig = jig(45.0);
        assert_eq!(lay_out(&Train::of(&[(40, 10), (20, 10)]), &jig, &Room::on(&jig)), None);
    }

    #[test]
    fn a_simple_train_needs_its_own_distance() {
        let train = Train::of(&[(40, 20)]);
        for (apart, goes) in [(60.0, true), (60.2, true), (61.0, false), (59.0, false)] {
            let jig = jig(apart);
            assert_eq!(lay_out(&train, &jig, &Room::on(&jig)).is_some(), goes, "{apart}");
        }
    }

    #[test]
    fn gears_of_one_plane_keep_apart_round_an_idler() {
        let mut train = Train::of(&[(40, 20)]);
        train.idlers.push(Idler { pair: 0, teeth: 10 });
        // The idler's links are 50 and 30; the 40 and the 20 want 42 + 22 + 1 between them.
        for (apart, goes) in [(64.0, false), (66.0, true), (81.0, false)] {
            let jig = jig(apart);
            assert_eq!(lay_out(&train, &jig, &Room::on(&jig)).is_some(), goes, "{apart}");
        }
    }

    #[test]
    fn the_quadrant_bounds_the_studs() {
        let mut jig = jig(60.0);
        let train = Train::of(&[(40, 10), (20, 10)]);
        jig.farthest_stud_mm = Some(29.0);
        assert_eq!(lay_out(&train, &jig, &Room::on(&jig)), None);
        jig.farthest_stud_mm = Some(31.0);
        assert!(lay_out(&train, &jig, &Room::on(&jig)).is_some());
        jig.studs = 0;
        assert_eq!(lay_out(&train, &jig, &Room::on(&jig)), None);
    }

    #[test]
    fn free_studs_swing_until_the_chain_closes() {
        let mut train = Train::of(&[(40, 20), (30, 15), (24, 12)]);
        for idler in [None, Some(Idler { pair: 2, teeth: 18 })] {
            train.idlers = idler.into_iter().collect();
            let jig = jig(110.0);
            let room = Room::on(&jig);
            let layout = lay_out(&train, &jig, &room).expect("it reaches");
            assert_eq!(layout.studs.len(), train.studs());
            assert!((layout.studs[0].from_blank_mm - room.centres_mm(40, 20)).abs() < 1e-9);
            let last = layout.studs[train.studs() - 1].from_lead_screw_mm;
            let want = if idler.is_some() { room.centres_mm(18, 12) } else { room.centres_mm(24, 12) };
            assert!((last - want).abs() < 1e-9, "{last} against {want}");
        }
    }
}
