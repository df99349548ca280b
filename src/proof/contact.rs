//! What the motions touch that they should not, and how they enter the wood. Lengths in mm.

use crate::finding::{Finding, Severity, Spot, proof as code};
use crate::rs274::{Kind, Motion};
use crate::stock::{Gap, Obstacle, corners, gaps_to_obstacles};

use super::motions::{Check, TOUCH_MM};
use super::sizes::on_wood;
use super::{Measured, Uncertainty};

/// A feed move that goes down more steeply than this (depth over way along the surface) is a plunge: a cutter with
/// flutes on its flanks cuts on a ramp, not on its point.
const PLUNGE_SLOPE: f64 = 0.5;

/// A rapid nearer to wood than this, or any move nearer to chuck or centre, is worth a word, mm: play, a bent blank and fluff
/// come near it (common practice, no source).
const NEAR_MM: f64 = 0.75;

impl Check<'_> {
    /// Rapids and plunges in wood, shank and collet against wood.
    pub(super) fn contact(&self, findings: &mut Vec<Finding>) {
        let unit = self.case.drawing.unit;
        for (motion, cut) in self.case.motions.iter().zip(&self.case.carved.cuts) {
            if cut.deepest_mm <= TOUCH_MM {
                continue;
            }
            let at = cut.deepest_at.map_or(Spot::default(), |(s, theta)| on_wood(s, theta, None));
            let at = Spot { x_mm: Some(motion.to.x_mm), z_mm: Some(motion.to.z_mm), ..at };
            let depth = unit.show(cut.deepest_mm);
            if motion.kind == Kind::Rapid {
                findings.push(
                    self.finding(
                        &code::RAPID_IN_WOOD,
                        motion,
                        format!("a rapid move runs {depth} deep through wood"),
                    )
                    .spot(at)
                    .values(cut.deepest_mm, 0.0)
                    .help("lift Z clear of the wood first, or make it a feed move if it is meant to cut"),
                );
            } else if self.plunges(motion) {
                findings.push(
                    self.finding(
                        &code::PLUNGE_IN_WOOD,
                        motion,
                        format!("the cutter is pushed {depth} straight down into standing wood"),
                    )
                    .spot(at)
                    .values(cut.deepest_mm, 0.0)
                    .help("go down in the air beyond the nose, or on a ramp along the thread"),
                );
            }
        }
        for &index in &self.case.carved.grazes {
            let motion = &self.case.motions[index];
            if self.case.carved.cuts[index].deepest_mm <= TOUCH_MM {
                let words = "this rapid move runs along wood that the cutter touches".to_owned();
                findings.push(
                    self.finding(&code::RAPID_GRAZES, motion, words).help(
                        "lift Z clear of the wood first: play in the axes would drag the cutter into it",
                    ),
                );
            }
        }
        for touch in &self.case.carved.touches {
            let motion = &self.case.motions[touch.motion];
            findings.push(
                self.finding(
                    &code::COLLET_RUBS,
                    motion,
                    format!("the {} stands {} in the wood", touch.body, unit.show(touch.depth_mm)),
                )
                .spot(on_wood(touch.s_mm, touch.theta_rad, None))
                .values(touch.depth_mm, 0.0)
                .help("a longer cutter or more stick-out, or a shallower groove"),
            );
        }
    }

    /// Whether a motion goes down rather than along.
    fn plunges(&self, motion: &Motion) -> bool {
        let mut from = motion.from;
        corners(motion).any(|to| {
            let down = from.z_mm - to.z_mm;
            let radius = (to.z_mm - self.case.setup.z_axis_mm).max(0.0);
            let round = (to.a_deg - from.a_deg).to_radians() * radius;
            let along = round.hypot(to.x_mm - from.x_mm).hypot(to.y_mm - from.y_mm);
            from = to;
            down > PLUNGE_SLOPE * along
        })
    }

    /// Least gaps to chuck and tail centre.
    pub(super) fn obstacles(&self, measured: &mut Measured, findings: &mut Vec<Finding>) {
        let gaps = gaps_to_obstacles(self.case.motions, self.case.setup);
        let least = |obstacle| {
            gaps.iter().find(|(which, ..)| *which == obstacle).map(|&(_, gap, motion)| (gap, motion))
        };
        let (chuck, centre) = (least(Obstacle::Chuck), least(Obstacle::Centre));
        measured.chuck_clearance_min_mm = chuck.map(|(gap, _)| gap);
        measured.center_clearance_min_mm = centre.map(|(gap, _)| gap);
        let obstacles = [
            (
                chuck,
                &code::HITS_CHUCK,
                "the chuck",
                "check the X word; else leave more blank between thread and chuck, or let the cutter stick out more",
            ),
            (
                centre,
                &code::HITS_CENTER,
                "the tail centre",
                "check X and Z; else leave more waste at the nose, use a slimmer centre, or let the cutter stick out more",
            ),
        ];
        for (least, code, words, help) in obstacles {
            let Some((gap, motion)) = least.filter(|&(gap, _)| gap < NEAR_MM) else { continue };
            let motion = &self.case.motions[motion];
            let finding = if gap <= 0.0 {
                let message = format!("cutter, shank or collet runs into {words}");
                self.finding(code, motion, message).values(gap, 0.0)
            } else {
                let message = format!(
                    "cutter, shank or collet passes {} from {words}",
                    self.case.drawing.unit.show(gap)
                );
                self.finding(&code::IRON_NEAR, motion, message).values(gap, NEAR_MM)
            };
            findings.push(finding.help(help));
        }
    }

    /// Least gap to wood in rapids.
    pub(super) fn gaps(
        &self,
        measured: &mut Measured,
        uncertainty: &mut Uncertainty,
        findings: &mut Vec<Finding>,
    ) {
        let near = |gap: &Gap| gap.gap_mm < NEAR_MM && !self.case.carved.grazes.contains(&gap.motion);
        if let Some(gap) = self.case.carved.gap.filter(near) {
            let motion = &self.case.motions[gap.motion];
            let words =
                format!("this rapid move passes {} from wood", self.case.drawing.unit.show(gap.gap_mm));
            if self.case.carved.cuts[gap.motion].deepest_mm <= TOUCH_MM {
                findings.push(
                    self.finding(&code::RAPID_NEAR, motion, words)
                        // Nearer than the figure is sure to, it may as well run through wood.
                        .weighs(if gap.gap_mm < self.case.carved.gap_sure_to_mm {
                            Severity::Stop
                        } else {
                            Severity::Care
                        })
                        .spot(on_wood(gap.s_mm, gap.theta_rad, None))
                        .values(gap.gap_mm, NEAR_MM)
                        .help("lift Z higher before it; a line that lifts may be missing"),
                );
            }
        }
        measured.rapid_clearance_min_mm = self.case.carved.gap.map(|gap| gap.gap_mm);
        uncertainty.rapid_clearance_min_mm = self.case.carved.gap.map(|_| self.case.carved.gap_sure_to_mm);
    }
}
