//! Screw and nut at one place after the other of a turn. In the frame of the nut: Z up, angles from X+ towards Y+. Lengths
//! in mm, angles in radians.

use std::f64::consts::{PI, TAU};

use rayon::prelude::*;

use super::bumps::{Bump, Bumps, LEVELS, LevelMark};
use super::woods::{NutWood, ScrewWood};
use super::{Entering, Fitted, Gap};
use crate::setup::Season;

/// Places of a turn that are looked at: every fifteen degrees, while an oval changes over ninety.
const TURNS: usize = 24;
/// Directions round the nut that are looked at: every two degrees.
const ROUND: usize = 180;
/// Radii at which flanks are compared.
const RADII: usize = 24;
/// Directions in which the screw is pushed and rocked, over half a turn: each is one of those that are looked at.
const PUSHES: usize = 15;

#[derive(Clone, Copy, PartialEq, Eq)]
enum What {
    Crest,
    Root,
    Low,
    High,
}

/// A place where wood stands near wood.
#[derive(Clone, Copy)]
struct Near {
    what: What,
    gap: f64,
    z: f64,
    angle: f64,
    /// The direction of that angle: cosine and sine.
    way: [f64; 2],
    r: f64,
    /// The ridge of the screw that it belongs to, by its place on the row.
    ridge: usize,
    /// How much of a flank's room a push along the radius takes: the tangent of the flank's angle.
    tan: f64,
}

/// A radius at which flanks are compared, among the levels of either piece.
struct Level {
    r: f64,
    screw: LevelMark,
    nut: LevelMark,
}

/// The two pieces in one season.
struct Meeting<'a> {
    screw: &'a ScrewWood,
    nut: &'a NutWood,
    season: &'a Season,
    /// +1 where stations count up along Z.
    way: f64,
    /// Climb of the thread for a radian.
    climb: f64,
    pitch: f64,
    middle: f64,
    /// Station of the screw that stands at the middle of the nut, and the height at which it does.
    station: f64,
}

/// The fit in one season; `None` if the threads do not meet.
pub(super) fn fit(screw: &ScrewWood, nut: &NutWood, season: &Season, entering: Entering) -> Option<Fitted> {
    let kind = screw.kind;
    let mut meeting = Meeting {
        screw,
        nut,
        season,
        way: entering.sign(),
        climb: kind.hand.sign() * kind.lead / TAU,
        pitch: kind.lead / f64::from(kind.starts.max(1)),
        middle: -nut.length / 2.0,
        station: f64::midpoint(screw.full[0], screw.full[1]),
    };
    meeting.station -= meeting.way * meeting.phase()?;
    let turns: Vec<Vec<Near>> =
        (0..TURNS).into_par_iter().map(|turn| meeting.nears(TAU * turn as f64 / TURNS as f64)).collect();
    let mut fitted: Option<Fitted> = None;
    for nears in &turns {
        let one = meeting.judge(nears, entering)?;
        fitted = Some(match fitted {
            None => one,
            Some(so_far) => worse(so_far, &one),
        });
    }
    fitted
}

fn worse(mut a: Fitted, b: &Fitted) -> Fitted {
    for (mine, other) in [
        (&mut a.crest, b.crest),
        (&mut a.root, b.root),
        (&mut a.flank_low, b.flank_low),
        (&mut a.flank_high, b.flank_high),
    ] {
        if other.mm < mine.mm {
            *mine = other;
        }
    }
    a.backlash_mm = [a.backlash_mm[0].min(b.backlash_mm[0]), a.backlash_mm[1].max(b.backlash_mm[1])];
    a.radial_play_mm = a.radial_play_mm.max(b.radial_play_mm);
    a.wobble_deg = a.wobble_deg.max(b.wobble_deg);
    a
}

/// A flank of the screw is the lower or the upper one as the nut sees it.
fn flanks(bump: &Bump, way: f64) -> (&[f64; LEVELS], &[f64; LEVELS]) {
    if way > 0.0 { (&bump.low, &bump.high) } else { (&bump.high, &bump.low) }
}

/// How a section grows in a direction `angle` from that of `first`: on the radius, and how far what stands there has come
/// round, radians.
fn grown(first: f64, second: f64, angle: f64) -> (f64, f64) {
    let (sin, cos) = angle.sin_cos();
    (1.0 + first * cos * cos + second * sin * sin, (second - first) * sin * cos)
}

impl Meeting<'_> {
    /// How far the screw's ridges must be raised for them to stand in the nut's grooves, less than half a pitch: the mean
    /// over all rows, as a direction since it is known up to whole pitches.
    fn phase(&self) -> Option<f64> {
        let mut sum = [0.0_f64; 2];
        for step in 0..ROUND {
            let angle = TAU * step as f64 / ROUND as f64;
            let (grooves, ahead) = self.nut.bumps.row(angle);
            let (ridges, screw_ahead) = self.screw.bumps.row(self.way * angle);
            let middle = |bump: &Bump| f64::midpoint(bump.low[0], bump.high[0]);
            let groove = grooves.iter().map(middle).find(|z| z.is_finite());
            let ridge = ridges.iter().map(middle).find(|s| s.is_finite());
            if let (Some(groove), Some(ridge)) = (groove, ridge) {
                let groove = groove + self.climb * ahead;
                let ridge = self.middle + self.way * (ridge + self.climb * screw_ahead - self.station);
                let turned = TAU * (groove - ridge) / self.pitch;
                sum = [sum[0] + turned.cos(), sum[1] + turned.sin()];
            }
        }
        (sum != [0.0; 2]).then(|| sum[1].atan2(sum[0]) / TAU * self.pitch)
    }

    /// Everything that stands near, the screw turned by an angle and gone on as far as its thread takes it.
    fn nears(&self, turn: f64) -> Vec<Near> {
        let mut nears = Vec::new();
        for step in 0..ROUND {
            self.nears_at(TAU * step as f64 / ROUND as f64, turn, &mut nears);
        }
        nears
    }

    fn nears_at(&self, angle: f64, turn: f64, nears: &mut Vec<Near>) {
        let way = direction(angle);
        let (screw, nut) = (&self.screw.bumps, &self.nut.bumps);
        let (sg, ng) = (self.season.screw, self.season.nut);
        let (nut_grows, nut_round) = grown(ng.along, ng.across, angle);
        // The screw's radial direction lies at its own angle zero.
        let own = self.way * (angle - turn);
        let (screw_grows, screw_round) = grown(sg.radial, sg.tangential, own);
        let (grooves, nut_ahead) = nut.row(angle);
        let (ridges, screw_ahead) = screw.row(own);
        // What stands at an angle was cut at another, and a thread is higher where it is farther round.
        let nut_shift = self.climb * (nut_ahead - nut_round);
        let screw_shift = self.climb * (screw_ahead - screw_round);
        let nut_z = |z: f64| self.middle + (z + nut_shift - self.middle) * (1.0 + ng.through);
        // Turned by an angle the screw has gone on by the thread.
        let screw_z = |s: f64| {
            let along = self.way * (s + screw_shift - self.station) + self.climb * turn;
            self.middle + along * (1.0 + sg.along)
        };
        let low = (nut.reach[0] * nut_grows).max(screw.reach[0] * screw_grows);
        let high = (nut.reach[1] * nut_grows).min(screw.reach[1] * screw_grows);
        if low >= high {
            return;
        }
        // Closer towards the crest, where the groove of the nut is round. Binary rounding must not push an end out of reach.
        let marks: Option<Vec<Level>> = (0..RADII)
            .map(|i| {
                let r = high - (high - low) * (1.0 - i as f64 / (RADII - 1) as f64).powi(2);
                let mark =
                    |bumps: &Bumps, grows: f64| bumps.mark((r / grows).clamp(bumps.reach[0], bumps.reach[1]));
                Some(Level { r, screw: mark(screw, screw_grows)?, nut: mark(nut, nut_grows)? })
            })
            .collect();
        let Some(marks) = marks else { return };
        let half_way = &marks[RADII / 2];
        for (index, ridge) in ridges.iter().enumerate() {
            let (lower, upper) = flanks(ridge, self.way);
            let middle = screw_z(f64::midpoint(half_way.screw.on(lower), half_way.screw.on(upper)));
            if !(-self.nut.length - self.pitch / 2.0..=self.pitch / 2.0).contains(&middle) {
                continue;
            }
            let away = |groove: &Bump| {
                let from = nut_z(half_way.nut.on(&groove.low));
                let to = nut_z(half_way.nut.on(&groove.high));
                if from.is_nan() && to.is_nan() {
                    return f64::INFINITY;
                }
                // One that is missing lies beyond the face. Of NaN and a number `max` keeps the number.
                (from - middle).max(middle - to).max(0.0)
            };
            let Some(groove) = grooves.iter().min_by(|a, b| away(a).total_cmp(&away(b))) else { continue };
            if away(groove) > self.pitch / 2.0 {
                continue;
            }
            let room = |at: &Level| [nut_z(at.nut.on(&groove.low)), nut_z(at.nut.on(&groove.high))];
            for pair in marks.windows(2) {
                let (here, next) = (&pair[0], &pair[1]);
                let rooms = [room(here), room(next)];
                let slope = |side: usize| ((rooms[1][side] - rooms[0][side]) / (next.r - here.r)).abs();
                // A pair of radii shares the slope between them; the last stands for itself as well.
                let stands = if next.r == high { 2 } else { 1 };
                for (at, room) in [here, next].into_iter().zip(rooms).take(stands) {
                    let ends = [at.screw.on(lower), at.screw.on(upper)].map(screw_z);
                    let near = |what, side: usize, gap: f64| Near {
                        what,
                        gap,
                        z: ends[side],
                        angle,
                        way,
                        r: at.r,
                        ridge: index,
                        tan: slope(side),
                    };
                    if (ends[0] - room[0]).is_finite() {
                        nears.push(near(What::Low, 0, ends[0] - room[0]));
                    }
                    if (room[1] - ends[1]).is_finite() {
                        nears.push(near(What::High, 1, room[1] - ends[1]));
                    }
                }
            }
            let crest = screw_z(ridge.top[1]);
            if (-self.nut.length..=0.0).contains(&crest) && !groove.is_cut() {
                let (near, far) = (ridge.top[0] * screw_grows, groove.top[0] * nut_grows);
                nears.push(Near {
                    what: What::Crest,
                    gap: far - near,
                    z: crest,
                    angle,
                    way,
                    r: near,
                    ridge: index,
                    tan: 0.0,
                });
            }
        }
        self.roots(grooves, ridges, (nut_grows, screw_grows), angle, (&nut_z, &screw_z), nears);
    }

    /// The crests of the nut against the roots of the screw.
    fn roots(
        &self,
        grooves: &[Bump],
        ridges: &[Bump],
        (nut_grows, screw_grows): (f64, f64),
        angle: f64,
        (nut_z, screw_z): (&dyn Fn(f64) -> f64, &dyn Fn(f64) -> f64),
        nears: &mut Vec<Near>,
    ) {
        let roots: Vec<[f64; 2]> = ridges
            .iter()
            .filter_map(|ridge| ridge.valley)
            .map(|[r, s]| [r * screw_grows, screw_z(s)])
            .collect();
        for (index, [r, z]) in grooves.iter().filter_map(|groove| groove.valley).enumerate() {
            let (crest, z) = (r * nut_grows, nut_z(z));
            let nearest = roots.iter().min_by(|a, b| (a[1] - z).abs().total_cmp(&(b[1] - z).abs()));
            let root = nearest.map_or(self.screw.root * screw_grows, |root| root[0]);
            nears.push(Near {
                what: What::Root,
                gap: crest - root,
                z,
                angle,
                way: direction(angle),
                r: crest,
                ridge: index,
                tan: 0.0,
            });
        }
    }

    fn judge(&self, nears: &[Near], entering: Entering) -> Option<Fitted> {
        let least =
            |what: What| nears.iter().filter(|near| near.what == what).min_by(|a, b| a.gap.total_cmp(&b.gap));
        let (low, high, crest) = (least(What::Low)?, least(What::High)?, least(What::Crest)?);
        // Put where both flanks have the same room.
        let raise = (high.gap - low.gap) / 2.0;
        let gap = |near: &Near, mm: f64| Gap {
            mm,
            z_mm: near.z,
            angle_deg: near.angle.to_degrees().rem_euclid(360.0),
            r_mm: near.r,
        };
        let root = least(What::Root).map_or_else(|| gap(crest, f64::INFINITY), |root| gap(root, root.gap));
        let tight = tightest(nears);
        let [mut play, mut rock] = [0.0_f64; 2];
        for push in 0..PUSHES {
            let (sin, cos) = (PI * push as f64 / PUSHES as f64).sin_cos();
            let both = |limit: &dyn Fn([f64; 2]) -> f64| limit([cos, sin]) + limit([-cos, -sin]);
            play = play.max(both(&|direction| pushed(&tight, raise, direction)));
            rock = rock.max(both(&|direction| rocked(&tight, raise, direction, self.middle)));
        }
        Some(Fitted {
            season: self.season.name.clone(),
            entering,
            crest: gap(crest, crest.gap),
            root,
            flank_low: gap(low, low.gap + raise),
            flank_high: gap(high, high.gap - raise),
            backlash_mm: [low.gap + high.gap; 2],
            radial_play_mm: play.max(0.0),
            wobble_deg: rock.max(0.0).to_degrees(),
        })
    }
}

/// Of neighbours at one angle, of one kind and on one ridge, that with the least gap.
fn tightest(nears: &[Near]) -> Vec<Near> {
    let mut tight: Vec<Near> = Vec::new();
    // Ends of the list that belong to the ridge at hand: one place for each kind.
    let mut places: [Option<usize>; 4] = [None; 4];
    let mut ridge = None;
    for near in nears {
        if ridge != Some((near.angle.to_bits(), near.ridge)) {
            ridge = Some((near.angle.to_bits(), near.ridge));
            places = [None; 4];
        }
        match places[near.what as usize] {
            Some(place) if tight[place].gap <= near.gap => {}
            Some(place) => tight[place] = *near,
            None => {
                places[near.what as usize] = Some(tight.len());
                tight.push(*near);
            }
        }
    }
    tight
}

/// How far the screw can be pushed in a direction before anything touches.
fn pushed(nears: &[Near], raise: f64, direction: [f64; 2]) -> f64 {
    limit(nears.iter().map(|near| {
        let out = near.way[0] * direction[0] + near.way[1] * direction[1];
        match near.what {
            What::Crest | What::Root => (near.gap, out),
            What::Low => (near.gap + raise, out * near.tan),
            What::High => (near.gap - raise, out * near.tan),
        }
    }))
}

/// How far it can be rocked about a height, radians, its upper end towards a direction.
fn rocked(nears: &[Near], raise: f64, direction: [f64; 2], middle: f64) -> f64 {
    limit(nears.iter().map(|near| {
        let towards = near.way[0] * direction[0] + near.way[1] * direction[1];
        // For a radian: out along the radius above the middle, and down on the side that it leans to.
        let out = (near.z - middle) * towards;
        let down = near.r * towards;
        match near.what {
            What::Crest | What::Root => (near.gap, out),
            What::Low => (near.gap + raise, out * near.tan + down),
            What::High => (near.gap - raise, out * near.tan - down),
        }
    }))
}

/// A direction as its cosine and sine.
fn direction(angle: f64) -> [f64; 2] {
    let (sin, cos) = angle.sin_cos();
    [cos, sin]
}

/// The least of room over what takes it.
fn limit(pairs: impl Iterator<Item = (f64, f64)>) -> f64 {
    pairs.filter(|(_, takes)| *takes > 0.0).map(|(room, takes)| room / takes).fold(f64::INFINITY, f64::min)
}
