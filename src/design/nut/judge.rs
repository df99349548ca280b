//! What is to be said about a nut: whether its cutter can make it, whether the thread that comes out still mates, whether
//! machine, block, packing and clamps leave room.

use std::f64::consts::TAU;

use super::{CHAMFER_MARGIN_MM, Mating, Nut, NutGroove, centre_feed, hand_over};
use crate::design::Screw;
use crate::finding::{Finding, design as design_code, job as job_code, nut as code};
use crate::job::{Job, NutAsked, NutMilled};
use crate::setup::{Cutter, Mill};

/// What the cutter must keep from the bore on its way up and down, and its neck beside the thread, mm: chips have to pass
/// (common practice, no source).
pub const NECK_CLEAR_MM: f64 = 0.5;
/// What the end of the cutter keeps from the bed, and the collet from the block, mm: Z0 is set no closer by hand.
pub const BED_CLEAR_MM: f64 = 1.0;
/// A gap at the flanks that is greater by this than the clearance asked for is worth a word: as much as a dry fit of wooden
/// threads has on the radius (common practice, from memory).
const LOOSE_MM: f64 = 0.5;
/// Flanks whose gap differs by more than this from root to crest bear on an edge: a tenth of a millimetre wears in, more
/// takes years (common practice, no source).
const UNEVEN_MM: f64 = 0.3;
/// Least flat that should stay on the nut's thread at the bore, over the pitch: sharper crests chip (from memory).
const LEAST_CREST: f64 = 0.05;
/// Rows of teeth may miss the pitch by this: what the proof lets pass in a groove's place.
const ROWS_MM: f64 = 0.05;
/// Wood beside the thread below this share of the major diameter splits (common practice, no source).
const LEAST_WALL: f64 = 0.25;
/// Steepest ramp of a cutter that bores, as height over way: some six degrees (common practice, no source).
const STEEPEST_RAMP: f64 = 0.1;
/// Tips side by side that still fill a groove: the middle and one to either side.
const WIDEST_ASIDE: f64 = 1.0;

/// Everything to be said about a nut, its fit apart.
pub(super) fn of(job: &Job, screw: &Screw, asked: &NutAsked, nut: &Nut) -> Vec<Finding> {
    let mut findings: Vec<Finding> = block(job, nut).into_iter().collect();
    let Some(milled) = &asked.milled else { return findings };
    let bench = Bench { job, screw, nut, milled };
    match &nut.mating {
        Some(mating) => {
            findings.extend(bench.tooth(mating));
            findings.extend(bench.reach(mating));
        }
        None => findings.extend(bench.no_groove()),
    }
    findings.extend(milled.boring.as_ref().and_then(|borer| bench.borer(borer)));
    match &job.mill {
        Some(mill) => findings.extend(nut.mating.as_ref().map_or(Vec::new(), |it| bench.travel(mill, it))),
        None => findings.push(bench.no_mill()),
    }
    findings
}

fn block(job: &Job, nut: &Nut) -> Option<Finding> {
    let unit = job.unit;
    let major = 2.0 * nut.major_radius_mm;
    let (least, key) = if nut.block.across_grain_mm <= nut.block.along_grain_mm {
        (nut.block.across_grain_mm, "nut.across_grain")
    } else {
        (nut.block.along_grain_mm, "nut.along_grain")
    };
    let wall = (least - major) / 2.0;
    let enough = major * (1.0 + 2.0 * LEAST_WALL);
    let help = format!(
        "the trade takes {} along the grain and {} across it, or more",
        unit.show(nut.block.usual_along_mm),
        unit.show(nut.block.usual_across_mm)
    );
    let at = |finding: Finding| {
        finding
            .at_some(job.marks.get(key).or_else(|| job.marks.get("nut")))
            .help(help.clone())
            .values(least, enough)
    };
    if wall <= 0.0 {
        let words = format!("a block of {} does not hold a thread of {}", unit.show(least), unit.show(major));
        Some(at(Finding::new(&code::NUT_BLOCK_SMALL, words)))
    } else if wall < LEAST_WALL * major {
        let words = format!("{} of wood is left beside a thread of {}", unit.show(wall), unit.show(major));
        Some(at(Finding::new(&code::NUT_WALL_THIN, words)))
    } else {
        None
    }
}

/// What is at hand while a milled nut is judged.
struct Bench<'a> {
    job: &'a Job,
    screw: &'a Screw,
    nut: &'a Nut,
    milled: &'a NutMilled,
}

impl Bench<'_> {
    fn show(&self, mm: f64) -> String {
        self.job.unit.show(mm)
    }

    /// A finding at a key of the cutter's file, or where the job names the cutter.
    fn at(&self, finding: Finding, leaf: &str) -> Finding {
        let key = format!("nut.cutter.{leaf}");
        finding.at_some(self.job.marks.get(&key).or_else(|| self.job.marks.get("nut.cutter")))
    }

    fn at_nut(&self, finding: Finding, leaf: &str) -> Finding {
        let key = format!("nut.{leaf}");
        finding.at_some(self.job.marks.get(&key).or_else(|| self.job.marks.get("nut")))
    }

    /// Why no groove comes of the cutter.
    fn no_groove(&self) -> Option<Finding> {
        let tooth = self.milled.cutter.teeth.first()?;
        let (bore, major) = (2.0 * self.nut.bore_radius_mm, 2.0 * self.nut.major_radius_mm);
        if tooth.diameter_mm >= bore {
            return Some(self.wide(tooth.diameter_mm));
        }
        let groove = NutGroove::new(tooth, self.nut.major_radius_mm, self.job.screw.lead_mm);
        let widest = major - 2.0 * groove.base_radius_mm();
        let finding = Finding::new(
            &code::NUT_LEAD_STEEP,
            format!(
                "a lead of {} is too steep for a tooth of {} degrees and {} across: its back would cut the thread away",
                self.show(self.job.screw.lead_mm),
                tooth.included_angle_deg,
                self.show(tooth.diameter_mm)
            ),
        );
        let help = if widest > 0.0 {
            format!(
                "take a cutter of less than {} across, or one with a wider angle",
                self.job.unit.show_at_most(widest)
            )
        } else {
            "take a cutter with a wider angle, or a screw with a smaller lead".to_owned()
        };
        Some(self.at(finding, "tooth_diameter").help(help).values(tooth.diameter_mm, widest.max(0.0)))
    }

    fn wide(&self, tooth_mm: f64) -> Finding {
        let bore = 2.0 * self.nut.bore_radius_mm;
        let most = bore - 2.0 * NECK_CLEAR_MM;
        let words =
            format!("a cutter of {} does not pass a bore of {}", self.show(tooth_mm), self.show(bore));
        let help = format!(
            "take a cutter of at most {} across: it goes up and down in the bore",
            self.job.unit.show_at_most(most)
        );
        self.at(Finding::new(&code::NUT_CUTTER_WIDE, words), "tooth_diameter")
            .help(help)
            .values(tooth_mm, most)
    }

    /// The tooth against the thread.
    fn tooth(&self, mating: &Mating) -> Vec<Finding> {
        let findings = [
            self.passes_bore(mating),
            self.neck(mating),
            self.rows(mating),
            self.narrow(mating),
            self.wide_groove(mating),
            self.crest(mating),
            self.uneven(mating),
            self.chamfer(mating),
        ];
        findings.into_iter().flatten().collect()
    }

    fn passes_bore(&self, mating: &Mating) -> Option<Finding> {
        let room = self.nut.bore_radius_mm - mating.tooth.diameter_mm / 2.0;
        (room < NECK_CLEAR_MM).then(|| self.wide(mating.tooth.diameter_mm))
    }

    /// At full depth the neck stands nearest to the bore.
    fn neck(&self, mating: &Mating) -> Option<Finding> {
        let cutter = &self.milled.cutter;
        let farthest = mating.circle_mm.max(if self.nut.chamfer_mm > 0.0 {
            self.nut.chamfer_circle_mm(mating.tooth.diameter_mm)
        } else {
            0.0
        });
        let room = self.nut.bore_radius_mm - farthest - cutter.neck_diameter_mm / 2.0;
        (room < NECK_CLEAR_MM).then(|| {
            let stands_out = (mating.tooth.diameter_mm - cutter.neck_diameter_mm) / 2.0;
            let needed = stands_out + NECK_CLEAR_MM - room;
            let deep = if farthest > mating.circle_mm {
                format!("the chamfer reaches {} out of the bore", self.show(self.nut.chamfer_mm))
            } else {
                format!("the thread is {} deep", self.show(self.nut.depth_mm))
            };
            let words = format!(
                "the teeth stand {} out of the neck, and {deep}: the neck would rub on the bore",
                self.show(stands_out)
            );
            let help = format!(
                "take a cutter whose teeth stand out by {} or more, or a smaller chamfer",
                self.job.unit.show_at_least(needed)
            );
            self.at(Finding::new(&code::NUT_NECK_RUBS, words), "neck_diameter")
                .help(help)
                .values(stands_out, needed)
        })
    }

    fn rows(&self, mating: &Mating) -> Option<Finding> {
        let teeth = &self.milled.cutter.teeth;
        let spacing = teeth.get(1)?.middle_mm - teeth[0].middle_mm;
        let pitch = self.job.screw.pitch_mm;
        let off = (spacing - pitch).abs() * (mating.rows - 1) as f64;
        (off > ROWS_MM).then(|| {
            let words = format!(
                "the rows of teeth stand {} apart, the pitch is {}",
                self.show(spacing),
                self.show(pitch)
            );
            self.at(Finding::new(&code::NUT_ROWS_OFF, words), "row_spacing")
                .help("take a cutter made for this pitch, or one with a single row of teeth")
                .values(spacing, pitch)
        })
    }

    fn narrow(&self, mating: &Mating) -> Option<Finding> {
        let flat = mating.tooth.tip_flat_mm;
        (mating.aside_mm > WIDEST_ASIDE * flat).then(|| {
            let needed = flat + 2.0 * mating.aside_mm;
            // Half of the missing width is made up by passes on either side.
            let least = needed / (1.0 + 2.0 * WIDEST_ASIDE);
            let words = format!(
                "a tip of {} leaves a ridge in a groove that must be {} wide at its root",
                self.show(flat),
                self.show(needed)
            );
            let help = format!(
                "take a tooth with a flat of {} to {}; best is {:.1} degrees",
                self.job.unit.show_at_least(least),
                self.job.unit.show_at_most(needed),
                self.nut.best.included_angle_deg
            );
            self.at(Finding::new(&code::NUT_TOOTH_NARROW, words), "tip_flat").help(help).values(flat, least)
        })
    }

    fn wide_groove(&self, mating: &Mating) -> Option<Finding> {
        let over = mating.flank_least_mm - self.nut.clearance.flank_mm;
        (over > LOOSE_MM).then(|| {
            let flat = mating.tooth.tip_flat_mm;
            let words = format!(
                "the groove comes out wider than the screw needs: {} of gap at each flank instead of {}",
                self.show(mating.flank_least_mm),
                self.show(self.nut.clearance.flank_mm)
            );
            let narrower = flat - 2.0 * over;
            let help = if narrower > 0.0 {
                format!("take a tooth with a flat of {} at its tip", self.show(narrower))
            } else {
                "take a cutter of a smaller diameter, which over-cuts less".to_owned()
            };
            self.at(Finding::new(&code::NUT_TOOTH_WIDE, words), "tip_flat")
                .help(help)
                .values(mating.flank_least_mm, self.nut.clearance.flank_mm)
        })
    }

    fn crest(&self, mating: &Mating) -> Option<Finding> {
        let least = LEAST_CREST * self.job.screw.pitch_mm;
        let left = mating.crest_flat_mm;
        if left >= least {
            return None;
        }
        let words = if left <= 0.0 {
            "no thread is left at the bore: the grooves of the nut meet there".to_owned()
        } else {
            format!("only {} of thread is left at the bore; so sharp a crest chips", self.show(left))
        };
        let finding =
            Finding::new(if left <= 0.0 { &code::NUT_CREST_GONE } else { &design_code::CREST_SHARP }, words);
        let finding = self.at(finding, "included_angle").values(left, least);
        Some(finding.help(
            "take a narrower tooth or a smaller cutter, which over-cuts less; or leave more crest on the screw",
        ))
    }

    fn uneven(&self, mating: &Mating) -> Option<Finding> {
        let differs = mating.flank_most_mm - mating.flank_least_mm;
        (differs > UNEVEN_MM).then(|| {
            let words = format!(
                "the gap at the flanks grows from {} to {}: the nut's flank stands at {:.1} degrees, the screw's at {:.1}",
                self.show(mating.flank_least_mm),
                self.show(mating.flank_most_mm),
                mating.flank_axial_deg,
                self.screw.flank_axial_deg
            );
            let help = format!("best is a tooth of {:.1} degrees", self.nut.best.included_angle_deg);
            self.at(Finding::new(&code::NUT_ANGLE_FAR, words), "included_angle")
                .help(help)
                .values(differs, UNEVEN_MM)
        })
    }

    fn chamfer(&self, mating: &Mating) -> Option<Finding> {
        if self.nut.chamfer_mm <= 0.0 {
            return None;
        }
        let tooth = mating.tooth;
        // The flank must be as long as the cone, from the tip's margin to the bore.
        let flank = (tooth.diameter_mm - self.milled.cutter.neck_diameter_mm) / 2.0;
        let most = flank - CHAMFER_MARGIN_MM - NECK_CLEAR_MM;
        if self.nut.chamfer_mm > most {
            let words = format!(
                "a chamfer of {} is wider than the flank of the tooth, {}",
                self.show(self.nut.chamfer_mm),
                self.show(flank)
            );
            let help = format!(
                "write chamfer = {} or less, or 0 for none",
                self.job.unit.show_at_most(most.max(0.0)).split(' ').next().unwrap_or_default()
            );
            let finding = Finding::new(&code::NUT_CHAMFER_WIDE, words).values(self.nut.chamfer_mm, most);
            return Some(self.at_nut(finding, "chamfer").help(help));
        }
        (!self.nut.chamfers_below()).then(|| {
            let words = "only the top gets its chamfer: rows of teeth above the lowest would meet the bore from below";
            self.at(Finding::new(&code::NUT_CHAMFER_LEFT, words), "rows")
                .help("chamfer the bottom by hand, or take a cutter with a single row of teeth")
        })
    }

    /// Down through the block, collet above it, bed below it.
    fn reach(&self, mating: &Mating) -> Vec<Finding> {
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

    fn borer(&self, borer: &Cutter) -> Option<Finding> {
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

    fn no_mill(&self) -> Finding {
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
    fn travel(&self, mill: &Mill, mating: &Mating) -> Vec<Finding> {
        let mut findings = Vec::new();
        for step in hand_over::setups(self.job, self.nut, self.milled, mill) {
            let lowest = match step.stage {
                crate::drawing::NutStage::Bored => -self.nut.length_mm - hand_over::BORE_THROUGH_MM,
                crate::drawing::NutStage::Threaded => mating.lowest_end_mm(self.job, self.nut.length_mm),
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
