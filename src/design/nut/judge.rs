//! What is to be said about a nut: whether its cutter can make it, and whether the thread that comes out still mates. Whether
//! block, packing, clamps and machine leave room is asked in [`super::room`].

use super::{CHAMFER_MARGIN_MM, Mating, Nut, NutGroove};
use crate::design::Screw;
use crate::finding::{Finding, design as design_code, nut as code};
use crate::job::{Job, NutAsked, NutMilled};

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
/// Earlier passes may cut past the flank by this: less than half of what the proof lets pass in a groove's form.
const EARLY_MM: f64 = 0.03;
/// Rows of teeth may miss the pitch by this: what the proof lets pass in a groove's place.
const ROWS_MM: f64 = 0.05;
/// Wood beside the thread below this share of the major diameter splits (common practice, no source).
const LEAST_WALL: f64 = 0.25;
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
pub(super) struct Bench<'a> {
    pub(super) job: &'a Job,
    pub(super) screw: &'a Screw,
    pub(super) nut: &'a Nut,
    pub(super) milled: &'a NutMilled,
}

impl Bench<'_> {
    pub(super) fn show(&self, mm: f64) -> String {
        self.job.unit.show(mm)
    }

    /// A finding at a key of the cutter's file, or where the job names the cutter.
    pub(super) fn at(&self, finding: Finding, leaf: &str) -> Finding {
        let key = format!("nut.cutter.{leaf}");
        finding.at_some(self.job.marks.get(&key).or_else(|| self.job.marks.get("nut.cutter")))
    }

    pub(super) fn at_nut(&self, finding: Finding, leaf: &str) -> Finding {
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
            self.early(mating),
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

    /// In a steep lead a wide cutter sweeps farther before it is at depth.
    fn early(&self, mating: &Mating) -> Option<Finding> {
        (mating.cut_before_mm > EARLY_MM).then(|| {
            let words = format!(
                "on its way to the depth the cutter would cut {} past the flank: a lead of {} is too steep for {} across",
                self.show(mating.cut_before_mm),
                self.show(self.job.screw.lead_mm),
                self.show(mating.tooth.diameter_mm)
            );
            self.at(Finding::new(&code::NUT_LEAD_STEEP, words), "tooth_diameter")
                .help("take a cutter of a smaller diameter")
                .values(mating.cut_before_mm, 0.0)
        })
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
}
