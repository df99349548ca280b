//! Whether block, packing, clamps and machine leave room for the programs of a nut.

use std::f64::consts::TAU;

use super::judge::{BED_CLEAR_MM, Bench, NECK_CLEAR_MM};
use super::{Mating, centre_feed, hand_over};
use crate::drawing::NutStage;
use crate::finding::{Finding, design as design_code, job as job_code, nut as code};
use crate::setup::{Cutter, Mill};

/// Steepest ramp of a cutter that bores, as height over way: some six degrees (common practice, no source).
const STEEPEST_RAMP: f64 = 0.1;

impl Bench<'_> {
    /// Down through the block, collet above it, bed below it.
    pub(super) fn reach(&self, mating: &Mating) -> Vec<Finding> {
        let cutter = &self.milled.cutter;
        let lowest = mating.lowest_end_mm(self.job, self.nut.length_mm);
        let mut findings = Vec::new();
        let needed = -lowest + BED_CLEAR_MM;
        if cutter.stick_out_mm < needed {
            let words = format!(
                "the cutter sticks out {}, and {} are needed to go through a block of {} and clear it",
                self.show(cutter.stick_out_mm),
                self.job.unit.show_at_least(needed),
                self.show(self.nut.length_mm)
            );
            findings.push(
                self.at(Finding::new(&code::NUT_REACH_SHORT, words), "stick_out")
                    .help("take a longer cutter, or a thinner block")
                    .values(cutter.stick_out_mm, needed),
            );
        }
        let beside = self.nut.bore_radius_mm - mating.circle_mm - cutter.shank_diameter_mm / 2.0;
        if cutter.neck_length_mm < needed && beside < NECK_CLEAR_MM {
            let words = format!(
                "the neck is {} long, and the shank above it, {} thick, would rub in the bore: {} are needed",
                self.show(cutter.neck_length_mm),
                self.show(cutter.shank_diameter_mm),
                self.job.unit.show_at_least(needed)
            );
            findings.push(
                self.at(Finding::new(&code::NUT_REACH_SHORT, words), "neck_length")
                    .help("take a cutter with a longer neck or a thinner shank, or a thinner block")
                    .values(cutter.neck_length_mm, needed),
            );
        }
        findings.extend(self.below(lowest));
        findings.extend(self.clamps(mating, lowest));
        findings
    }

    fn below(&self, lowest: f64) -> Vec<Finding> {
        let mut findings = Vec::new();
        let needed = -lowest - self.nut.length_mm + BED_CLEAR_MM;
        if self.milled.below_mm < needed {
            let words = format!(
                "the tooth must go {} below the block to leave the thread, the packing is {} high",
                self.job.unit.show_at_least(needed),
                self.show(self.milled.below_mm)
            );
            let help =
                format!("put the block on packing of at least {}", self.job.unit.show_at_least(needed));
            findings.push(
                self.at_nut(Finding::new(&code::NUT_BED_NEAR, words), "below")
                    .help(help)
                    .values(self.milled.below_mm, needed),
            );
        }
        let widest = hand_over::packing_hole_mm(self.nut);
        if let Some(given) = self.milled.below_diameter_mm.filter(|given| *given < widest) {
            let words = format!(
                "the packing has a hole of {}, the cutter needs {} below the block",
                self.show(given),
                self.job.unit.show_at_least(widest)
            );
            let help = format!(
                "make the hole {} wide, or put the block on two strips",
                self.job.unit.show_at_least(widest)
            );
            findings.push(
                self.at_nut(Finding::new(&code::NUT_PACKING_NEAR, words), "below_diameter")
                    .help(help)
                    .values(given, widest),
            );
        }
        findings
    }

    /// The collet goes round above the block and must not meet a clamp.
    fn clamps(&self, mating: &Mating, lowest: f64) -> Option<Finding> {
        let clamps = self.milled.clamps;
        let cutter = &self.milled.cutter;
        let above = lowest + cutter.stick_out_mm - clamps.height_mm;
        let needed = mating.circle_mm + cutter.collet_diameter_mm / 2.0 + BED_CLEAR_MM;
        // The wood between hole and clamp is cut by the tooth as well.
        let needed = if above < BED_CLEAR_MM { needed } else { self.nut.mouth_radius_mm() + BED_CLEAR_MM };
        (clamps.from_axis_mm < needed).then(|| {
            let words = format!(
                "a clamp {} from the axis and {} high stands in the way of the collet",
                self.show(clamps.from_axis_mm),
                self.show(clamps.height_mm)
            );
            let help = format!("keep clamps {} from the axis, or lower", self.job.unit.show_at_least(needed));
            self.at_nut(Finding::new(&code::NUT_CLAMP_NEAR, words), "clamps_from")
                .help(help)
                .values(clamps.from_axis_mm, needed)
        })
    }

    pub(super) fn borer(&self, borer: &Cutter) -> Option<Finding> {
        let bore = 2.0 * self.nut.bore_radius_mm;
        let key = |leaf: &str| {
            self.job.marks.get(&format!("nut.boring.{leaf}")).or(self.job.marks.get("nut.boring"))
        };
        // Rings too small make a ramp a plunge.
        let ring = self.milled.step_mm / (TAU * STEEPEST_RAMP);
        let most = bore - 2.0 * ring.max(NECK_CLEAR_MM);
        if borer.cutting_diameter_mm > most {
            let words = format!(
                "a cutter of {} has no room in a bore of {} to go down on a ramp",
                self.show(borer.cutting_diameter_mm),
                self.show(bore)
            );
            let help = if most > 0.0 {
                format!(
                    "take a cutter of at most {}, or write a smaller step",
                    self.job.unit.show_at_most(most)
                )
            } else {
                "write a smaller step".to_owned()
            };
            let finding = Finding::new(&code::BORER_WIDE, words).values(borer.cutting_diameter_mm, most);
            return Some(finding.at_some(key("cutting_diameter")).help(help));
        }
        let needed = self.nut.length_mm + hand_over::BORE_THROUGH_MM + BED_CLEAR_MM;
        let (short, leaf) = if borer.stick_out_mm < needed {
            (borer.stick_out_mm, "stick_out")
        } else if borer.shank_diameter_mm > borer.cutting_diameter_mm && borer.cutting_length_mm < needed {
            (borer.cutting_length_mm, "cutting_length")
        } else {
            return None;
        };
        let words = format!(
            "the cutter for the bore reaches {}, and {} are needed to go through the block",
            self.show(short),
            self.job.unit.show_at_least(needed)
        );
        let finding = Finding::new(&code::BORER_SHORT, words).values(short, needed);
        Some(
            finding
                .at_some(key(leaf))
                .help("take a longer cutter, or leave boring out and bore the hole first"),
        )
    }

    pub(super) fn no_mill(&self) -> Finding {
        let words = format!(
            "{} is not said to mill flat work, and a nut is cut with the block on the bed",
            self.job.machine.title
        );
        Finding::new(&code::MILL_MISSING, words)
            .at_some(self.job.marks.get("nut.cutter"))
            .also_at(self.job.marks.get("machine"), "this machine")
            .help("add [mill] with x_travel, y_travel, collet_lowest, collet_highest, y_top_speed and y_backlash to the machine file, or leave cutter out of [nut] for the sizes alone")
    }

    /// Axes and speeds.
    pub(super) fn travel(&self, mill: &Mill, mating: &Mating) -> Vec<Finding> {
        let mut findings = Vec::new();
        for step in hand_over::setups(self.job, self.nut, self.milled, mill) {
            let lowest = match step.stage {
                NutStage::Bored => -self.nut.length_mm - hand_over::BORE_THROUGH_MM,
                NutStage::Threaded => mating.lowest_end_mm(self.job, self.nut.length_mm),
            };
            let highest = hand_over::safe_z_mm(self.job, self.milled);
            let [low, high] = step.setup.z_limits_mm;
            if lowest < low || highest > high {
                let (what, past) =
                    if lowest < low { ("lower", low - lowest) } else { ("higher", highest - high) };
                let words = format!(
                    "the collet nut would have to go {} {what} than the machine lets it",
                    self.job.unit.show_at_least(past)
                );
                let leaf = if lowest < low { "collet_lowest" } else { "collet_highest" };
                findings.push(
                    Finding::new(&design_code::REACH_SHORT, words)
                        .at_some(self.job.marks.get("nut.cutter"))
                        .also_at(self.job.marks.get(&format!("machine.mill.{leaf}")), "the machine's limit")
                        .help("choose another packing, a thinner block, or a cutter that sticks out differently")
                        .values(past, 0.0),
                );
            }
        }
        let top = self.job.machine.x.top_mm_per_min.min(mill.y_top_mm_per_min);
        let centre = centre_feed(
            self.milled.feed_mm_per_min,
            2.0 * self.nut.major_radius_mm,
            mating.tooth.diameter_mm,
            self.job.screw.lead_mm,
        );
        if centre > top {
            let unit = self.job.unit;
            let words = format!(
                "teeth at {} along the wall need {} of the axes, their top is {}",
                unit.show_speed(self.milled.feed_mm_per_min),
                unit.show_speed(centre),
                unit.show_speed(top)
            );
            let finding = Finding::new(&job_code::FEED_PAST_AXIS, words).help(format!(
                "write feed = {:.0} or less",
                (self.milled.feed_mm_per_min * top / centre / unit.mm()).floor()
            ));
            findings.push(self.at_nut(finding, "feed").values(centre, top));
        }
        findings
    }
}
