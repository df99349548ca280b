//! The thread of a nut and its chamfers: level rounds at the mouths, then every start in radial steps of equal area, then the
//! passes that run above and below the middle where the groove must be wider than the tooth.

use super::track::Track;
use super::{ABOVE_MM, NutPath, Sense};
use crate::design::nut::{CHAMFER_MARGIN_MM, Mating, Nut, centre_feed, safe_z_mm};
use crate::design::shape::Shape;
use crate::job::{Job, NutMilled};
use crate::setup::Tip;

const DEG_PER_TURN: f64 = 360.0;
/// Turns of the cutter's axis about the nut's on its way from axis to wall.
const QUARTER: f64 = 0.25;
/// Of the passes of a thread, as many rounds make a chamfer: half, since it takes away less (common practice, no source).
const ROUNDS_PER_PASS: u32 = 2;

/// The program that cuts the thread; `None` without a cutter for it.
pub(super) fn thread(job: &Job, nut: &Nut) -> Option<NutPath> {
    let milled = job.nut.as_ref()?.milled.as_ref()?;
    let mating = nut.mating.as_ref()?;
    let sense = Sense::of(milled.milling, job.screw.hand);
    let mut cut = Cut { job, nut, milled, mating, sense, track: Track::new(safe_z_mm(job, milled), sense) };
    if nut.chamfer_mm > 0.0 {
        cut.chamfer(true);
    }
    if nut.chamfers_below() {
        cut.chamfer(false);
    }
    let depths = cut.depths();
    for start in 0..job.screw.starts {
        for (index, depth_mm) in depths.iter().enumerate() {
            let pass = Pass { number: index + 1, of: depths.len(), depth_mm: *depth_mm, aside_mm: 0.0 };
            cut.helix(start, &pass);
        }
        if mating.aside_mm > 0.0 {
            for aside_mm in [mating.aside_mm, -mating.aside_mm] {
                let pass = Pass { number: depths.len(), of: depths.len(), depth_mm: nut.depth_mm, aside_mm };
                cut.helix(start, &pass);
            }
        }
    }
    let feed = cut.axis_feed();
    Some(cut.track.finish(feed))
}

/// One trip round and round.
struct Pass {
    number: usize,
    of: usize,
    depth_mm: f64,
    aside_mm: f64,
}

struct Cut<'a> {
    job: &'a Job,
    nut: &'a Nut,
    milled: &'a NutMilled,
    mating: &'a Mating,
    sense: Sense,
    track: Track,
}

impl Cut<'_> {
    /// Depths from the bore, each step with the same area of the groove.
    fn depths(&self) -> Vec<f64> {
        let tooth = self.mating.tooth;
        let shape = Shape::new(tooth.included_angle_deg, Tip::Flat { diameter_mm: tooth.tip_flat_mm });
        let whole = shape.area_mm2(self.nut.depth_mm);
        let count = self.milled.passes;
        let depth = |pass: u32| {
            if pass == count {
                self.nut.depth_mm
            } else {
                shape.depth_for_area(whole * f64::from(pass) / f64::from(count))
            }
        };
        (1..=count).map(depth).collect()
    }

    /// Speed of the cutter's axis up and down in the open hole.
    fn axis_feed(&self) -> f64 {
        self.milled.feed_mm_per_min.min(self.job.machine.z.top_mm_per_min)
    }

    /// Speed of the cutter's axis when its teeth run along a wall at the feed, and climb by `lead_mm` in a turn.
    fn feed(&self, circle_mm: f64, lead_mm: f64) -> f64 {
        let cutter = self.mating.tooth.diameter_mm;
        centre_feed(self.milled.feed_mm_per_min, 2.0 * circle_mm + cutter, cutter, lead_mm)
    }

    /// The same on the half circle to the wall: the wall is that of a hole half as wide round its centre, and cutter.
    fn entry_feed(&self, circle_mm: f64) -> f64 {
        self.feed(circle_mm / 2.0, 0.0)
    }

    fn show(&self, mm: f64) -> String {
        self.job.unit.show(mm)
    }

    /// The cone at a face: the flank of the tooth, its tip outside the hole, goes round level.
    fn chamfer(&mut self, top: bool) {
        let tooth = self.mating.tooth;
        let slope = (tooth.included_angle_deg / 2.0).to_radians().tan();
        let above = tooth.tip_flat_mm / 2.0 + CHAMFER_MARGIN_MM * slope;
        let middle = if top { above } else { -self.nut.length_mm - above };
        let z = middle - tooth.middle_mm;
        let full = self.nut.chamfer_circle_mm(tooth.diameter_mm);
        let rounds = self.milled.passes.div_ceil(ROUNDS_PER_PASS);
        for round in 1..=rounds {
            // The cone's section is a triangle: equal areas are equal steps of the square.
            let share = (f64::from(round) / f64::from(rounds)).sqrt();
            let circle = full - self.nut.chamfer_mm * (1.0 - share);
            if circle <= 0.0 {
                continue;
            }
            let face = if top { "top" } else { "bottom" };
            self.track.note(format!("chamfer at the {face}, round {round} of {rounds}"));
            self.go_down_to(z);
            let angle = self.job.nut.as_ref().map_or(0.0, |asked| asked.start_angle_deg);
            let (entry, feed) = (self.entry_feed(circle), self.feed(circle, 0.0));
            self.track.out_to(circle, angle, z, entry);
            self.track.round(circle, angle, 1.0, z, feed);
            self.track.back_to_axis(z, entry);
        }
    }

    /// On the axis to a height: rapidly above the block, slowly in the hole.
    fn go_down_to(&mut self, z_mm: f64) {
        let feed = self.axis_feed();
        if self.track.is_above() {
            self.track.along_axis(ABOVE_MM.max(z_mm), None);
        }
        self.track.along_axis(z_mm, Some(feed));
    }

    /// One start, at one depth.
    fn helix(&mut self, start: u32, pass: &Pass) {
        let lead = self.job.screw.lead_mm;
        let tooth = self.mating.tooth;
        let circle = self.nut.bore_radius_mm + pass.depth_mm - tooth.diameter_mm / 2.0;
        let aside = match pass.aside_mm {
            0.0 => String::new(),
            aside if aside > 0.0 => format!(", {} higher", self.show(aside)),
            aside => format!(", {} lower", self.show(-aside)),
        };
        self.track.note(format!(
            "start {} of {}, pass {} of {}, {} deep{aside}",
            start + 1,
            self.job.screw.starts,
            pass.number,
            pass.of,
            self.show(pass.depth_mm)
        ));
        let [low, high] = self.mating.heights_mm(self.job, self.nut.length_mm);
        let (from, to) = if self.sense.rising { (low, high) } else { (high, low) };
        let turns = (high - low) / lead;
        let rise = if self.sense.rising { lead } else { -lead };
        // The groove's middle at height Z stands at start angle + h 360 Z / lead; passes aside are the same thread, moved
        // along the axis.
        let zero = self.job.nut.as_ref().map_or(0.0, |asked| asked.start_angle_deg)
            + DEG_PER_TURN * f64::from(start) / f64::from(self.job.screw.starts);
        let angle = zero + self.job.screw.hand.sign() * DEG_PER_TURN * from / lead;
        let end = |middle: f64| middle + pass.aside_mm - tooth.middle_mm;
        let (entry, feed) = (self.entry_feed(circle), self.feed(circle, lead));
        self.go_down_to(end(from - QUARTER * rise));
        self.track.out_to(circle, angle, end(from), entry);
        self.track.round(circle, angle, turns, end(to), feed);
        self.track.back_to_axis(end(to + QUARTER * rise), entry);
    }
}
