//! The carved nut against the drawing: every size the drawing states, each with its place and how sure it is.

use std::f64::consts::TAU;

use crate::drawing::{Hand, NutDrawing, NutStage};
use crate::finding::{Finding, proof as code};

use super::contact::{on_nut, place};
use super::follow::{Start, common_rise, follow};
use super::rows::{Deviation, FLANK_SHARES, Section, place_off};
use super::{NutCase, NutMeasured, NutUncertainty};

/// Less wood than this is nothing, mm³.
const NOTHING_MM3: f64 = 1.0;
/// A radius of the field: what sums of binary numbers and the climb for the best moment leave.
const FIELD_MM: f64 = 1e-5;
/// Curvature of a flank, per mm: no groove these cutters leave bends more.
const FLANK_BEND_PER_MM: f64 = 0.05;
/// Reading the drawn section between its points; it counts most in the round beside the root.
const DRAWN_SECTION_MM: f64 = 2e-3;

/// Measures the wood and says what differs from the drawing.
pub(super) fn check(
    case: &NutCase<'_>,
    measured: &mut NutMeasured,
    uncertainty: &mut NutUncertainty,
) -> Vec<Finding> {
    let grid = case.carved.grid;
    let removed: f64 = case.carved.cuts.iter().map(|cut| cut.removed_mm3).sum();
    measured.removed_mm3 = Some(removed);
    // A sum over heights misses at each corner of a section an eighth of its bend times the step squared; the hole has some
    // four corners a pitch, where half the radius squared bends by twice the radius.
    let pitch = case.drawing.lead_mm / f64::from(case.drawing.starts.max(1));
    let corners = 4.0 * case.drawing.length_mm / pitch * case.drawing.major_diameter_mm;
    uncertainty.removed_mm3 = Some(TAU * corners * grid.step_mm.powi(2) / 8.0);
    if removed <= NOTHING_MM3 {
        return vec![
            Finding::new(&code::NOTHING_CUT, "the program removes no wood")
                .help("check Z zero, the radius of the passes and that the program was made for this block"),
        ];
    }
    let gauge = Gauge { case, drawing: case.drawing };
    let mut findings = Vec::new();
    if case.drawing.done == NutStage::Bored {
        gauge.plain_bore(measured, uncertainty, &mut findings);
        return findings;
    }
    let full = case.drawing.major_diameter_mm / 2.0 - case.drawing.passes.radius_mm;
    let starts: Vec<Start> =
        follow(&case.carved.rows, pitch).into_iter().map(|start| start.deep(full)).collect();
    if starts.is_empty() {
        findings.push(
            Finding::new(&code::STARTS_WRONG, "the hole bears no thread that can be followed round it")
                .help("see the radius of the passes, and whether they run up along the thread at all"),
        );
        return findings;
    }
    gauge.kind(&starts, measured, &mut findings);
    gauge.place(&starts, measured, uncertainty, &mut findings);
    gauge.depth(&starts, measured, uncertainty, &mut findings);
    gauge.bore(measured, uncertainty, &mut findings);
    gauge.form(measured, uncertainty, &mut findings);
    gauge.flanks(&starts, measured, uncertainty);
    gauge.through(&starts, measured, uncertainty, &mut findings);
    gauge.chamfers(measured, uncertainty, &mut findings);
    findings
}

pub(super) struct Gauge<'a> {
    pub(super) case: &'a NutCase<'a>,
    pub(super) drawing: &'a NutDrawing,
}

impl Gauge<'_> {
    /// Place of a flank read straight between two heights.
    pub(super) fn place_sure(&self) -> f64 {
        FLANK_BEND_PER_MM * self.case.carved.grid.step_mm.powi(2) / 8.0 + FIELD_MM
    }

    fn there(&self, z: f64, angle: f64) -> String {
        place(self.drawing, z, angle)
    }

    fn kind(&self, starts: &[Start], measured: &mut NutMeasured, findings: &mut Vec<Finding>) {
        let hand = if common_rise(starts) < 0.0 { Hand::Left } else { Hand::Right };
        let count = starts.len() as u32;
        measured.starts = Some(count);
        measured.hand = Some(hand);
        let wanted = self.drawing;
        if hand != wanted.hand {
            let words =
                format!("the thread is {}-hand, the drawing wants {}-hand", hand.name(), wanted.hand.name());
            findings.push(
                Finding::new(&code::HAND_WRONG, words)
                    .help("G2 stands where G3 belongs, or Z counts the wrong way along the thread"),
            );
        }
        if count != wanted.starts {
            let words =
                format!("the hole bears {count} thread(s) side by side, the drawing wants {}", wanted.starts);
            findings.push(
                Finding::new(&code::STARTS_WRONG, words)
                    .values(f64::from(count), f64::from(wanted.starts))
                    .help("a start is missing, or two run in the same groove"),
            );
        }
    }

    fn place(
        &self,
        starts: &[Start],
        measured: &mut NutMeasured,
        uncertainty: &mut NutUncertainty,
        findings: &mut Vec<Finding>,
    ) {
        let wanted = self.drawing;
        let (lead, unit) = (common_rise(starts).abs() * TAU, wanted.unit);
        measured.lead_mm = Some(lead);
        if measured.hand != Some(wanted.hand) {
            return;
        }
        let turns = (wanted.length_mm / wanted.lead_mm).max(1.0);
        let sure = self.place_sure();
        uncertainty.lead_mm = Some(2.0 * sure * wanted.lead_mm / wanted.length_mm);
        // Each groove from the drawn helix, then from the mean of its start: the one is the start's place, the other its lead.
        let mut worst = [0.0_f64; 3];
        let mut shifts = Vec::new();
        for start in starts {
            let first = start.nodes[0];
            let from = place_off(wanted, first.angle, first.groove.middle);
            let drawn = wanted.hand.sign() * wanted.lead_mm / TAU;
            let offs: Vec<f64> = start
                .nodes
                .iter()
                .map(|node| {
                    let rise = node.groove.middle - first.groove.middle;
                    from + rise - drawn * (node.angle - first.angle)
                })
                .collect();
            let mean = offs.iter().sum::<f64>() / offs.len() as f64;
            for (off, node) in offs.iter().zip(&start.nodes) {
                if (off - mean).abs() > worst[0] {
                    worst = [(off - mean).abs(), node.groove.middle, node.angle];
                }
            }
            shifts.push((-wanted.hand.sign() * mean / wanted.lead_mm * 360.0, start));
        }
        let [error, z, angle] = worst;
        measured.lead_error_max_mm = Some(error);
        uncertainty.lead_error_max_mm = Some(2.0 * sure);
        let passes = wanted.passes;
        if (lead - wanted.lead_mm).abs() * turns > passes.lead_mm || error > passes.lead_mm {
            let words = format!(
                "the lead is {}, the drawing wants {}; a groove stands {} from its helix, {}",
                unit.show(lead),
                unit.show(wanted.lead_mm),
                unit.show(error),
                self.there(z, angle)
            );
            findings.push(
                Finding::new(&code::LEAD_OFF, words)
                    .values(lead, wanted.lead_mm)
                    .spot(on_nut(z, angle, None))
                    .help("Z must climb by the lead in every turn of every pass"),
            );
            return;
        }
        let mean = shifts.iter().map(|(shift, _)| shift).sum::<f64>() / shifts.len() as f64;
        let apart = shifts.iter().map(|(shift, _)| (shift - mean).abs()).fold(0.0, f64::max);
        measured.index_error_max_deg = Some(apart);
        measured.start_angle_deg = Some((wanted.start_angle_deg + mean).rem_euclid(360.0));
        uncertainty.index_error_max_deg = Some(2.0 * sure / wanted.lead_mm * 360.0);
        if apart > passes.index_deg {
            let words = format!("a start stands {apart:.2} degrees from its place among the starts");
            findings.push(
                Finding::new(&code::INDEX_OFF, words)
                    .values(apart, 0.0)
                    .help(format!("starts must stand 360 / {} degrees from each other", wanted.starts)),
            );
        } else if mean.abs() > passes.index_deg {
            let words = format!(
                "the whole thread is turned by {mean:.2} degrees: start 1 meets the top face at {:.2}",
                (wanted.start_angle_deg + mean).rem_euclid(360.0)
            );
            findings.push(
                Finding::new(&code::INDEX_OFF, words)
                    .values(wanted.start_angle_deg + mean, wanted.start_angle_deg)
                    .help(
                        "see the angle and the height at which the passes begin, and Z zero on the top face",
                    ),
            );
        }
    }

    fn depth(
        &self,
        starts: &[Start],
        measured: &mut NutMeasured,
        uncertainty: &mut NutUncertainty,
        findings: &mut Vec<Finding>,
    ) {
        let nodes = || starts.iter().flat_map(|start| &start.nodes);
        let by_root =
            |a: &&super::follow::Node, b: &&super::follow::Node| a.groove.root.total_cmp(&b.groove.root);
        let (Some(least), Some(most)) = (nodes().min_by(by_root), nodes().max_by(by_root)) else { return };
        measured.thread_least_mm = Some(2.0 * least.groove.root);
        measured.thread_greatest_mm = Some(2.0 * most.groove.root);
        let (drawing, unit) = (self.drawing, self.drawing.unit);
        let section = Section::of(drawing);
        let major = drawing.major_diameter_mm / 2.0;
        // The height read may stand half a step beside the middle.
        let beside = section.radius(self.case.carved.grid.step_mm / 2.0).map_or(0.0, |(r, _)| major - r);
        uncertainty.thread_mm = Some(2.0 * (beside + FIELD_MM));
        let slack = drawing.passes.radius_mm;
        if most.groove.root > major + slack {
            let words = format!(
                "the thread is cut to a diameter of {}, the drawing wants {}; {}",
                unit.show(2.0 * most.groove.root),
                unit.show(drawing.major_diameter_mm),
                self.there(most.groove.root_z, most.angle)
            );
            findings.push(
                Finding::new(&code::DEPTH_OFF, words)
                    .values(2.0 * most.groove.root, drawing.major_diameter_mm)
                    .spot(on_nut(most.groove.root_z, most.angle, Some(most.groove.root)))
                    .help("the last pass runs too far from the axis, or the cutter is larger than the job's"),
            );
        }
        if least.groove.root < major - slack - beside {
            let words = format!(
                "the thread is cut to a diameter of {} only, the drawing wants {}; {}",
                unit.show(2.0 * least.groove.root),
                unit.show(drawing.major_diameter_mm),
                self.there(least.groove.root_z, least.angle)
            );
            findings.push(
                Finding::new(&code::WOOD_LEFT, words)
                    .values(2.0 * least.groove.root, drawing.major_diameter_mm)
                    .spot(on_nut(least.groove.root_z, least.angle, Some(least.groove.root)))
                    .help("a pass is missing, or the last one does not run far enough from the axis"),
            );
        }
    }

    /// The crests: what the grooves leave of the hole.
    fn bore(
        &self,
        measured: &mut NutMeasured,
        uncertainty: &mut NutUncertainty,
        findings: &mut Vec<Finding>,
    ) {
        let rows = &self.case.carved.rows;
        let crests = || rows.iter().filter_map(|row| Some((row.crests?, row.angle)));
        let Some((least, _)) = crests().min_by(|a, b| a.0[0][0].total_cmp(&b.0[0][0])) else { return };
        let Some((most, angle)) = crests().max_by(|a, b| a.0[1][0].total_cmp(&b.0[1][0])) else { return };
        measured.bore_least_mm = Some(2.0 * least[0][0]);
        measured.bore_greatest_mm = Some(2.0 * most[1][0]);
        let wanted = self.crest_mm();
        let step = self.case.carved.grid.step_mm;
        let section = Section::of(self.drawing);
        // Where the crest is narrower than a step, the height read may lie on a flank.
        let flat = self.drawing.lead_mm / f64::from(self.drawing.starts.max(1)) - 2.0 * section.widest();
        let on_flank = (step - flat.max(0.0)).max(0.0) / 2.0;
        let beside = section.radius(section.widest() - on_flank).map_or(0.0, |(r, _)| (r - wanted).max(0.0));
        uncertainty.bore_mm = Some(2.0 * (beside + FIELD_MM));
        self.judge_bore([least[0], most[1]], angle, wanted, beside, findings);
    }

    /// The hole where there is no thread yet.
    fn plain_bore(
        &self,
        measured: &mut NutMeasured,
        uncertainty: &mut NutUncertainty,
        findings: &mut Vec<Finding>,
    ) {
        let rows = &self.case.carved.rows;
        let Some(least) = rows.iter().min_by(|a, b| a.radii[0][0].total_cmp(&b.radii[0][0])) else { return };
        let Some(most) = rows.iter().max_by(|a, b| a.radii[1][0].total_cmp(&b.radii[1][0])) else { return };
        measured.bore_least_mm = Some(2.0 * least.radii[0][0]);
        measured.bore_greatest_mm = Some(2.0 * most.radii[1][0]);
        uncertainty.bore_mm = Some(2.0 * FIELD_MM);
        let wanted = self.drawing.bore_diameter_mm / 2.0;
        let angle =
            if least.radii[0][0] < wanted - self.drawing.passes.radius_mm { least.angle } else { most.angle };
        self.judge_bore([least.radii[0], most.radii[1]], angle, wanted, 0.0, findings);
    }

    fn judge_bore(
        &self,
        [least, most]: [[f64; 2]; 2],
        angle: f64,
        wanted: f64,
        beside: f64,
        findings: &mut Vec<Finding>,
    ) {
        let (slack, unit) = (self.drawing.passes.radius_mm, self.drawing.unit);
        let wrong = if least[0] < wanted - slack {
            Some((
                least,
                "a pass is missing, the hole was bored too small, or the cutter is smaller than the job's",
            ))
        } else if most[0] > wanted + slack + beside {
            Some((most, "the crests are cut away: the hole is too wide, or the grooves run into each other"))
        } else {
            None
        };
        if let Some(([r, z], help)) = wrong {
            let words = format!(
                "between the grooves the hole has a diameter of {}, the drawing wants {}; {}",
                unit.show(2.0 * r),
                unit.show(2.0 * wanted),
                self.there(z, angle)
            );
            findings.push(
                Finding::new(&code::BORE_OFF, words)
                    .values(2.0 * r, 2.0 * wanted)
                    .spot(on_nut(z, angle, Some(r)))
                    .help(help),
            );
        }
    }

    /// Radius of the crests that the drawn grooves leave: the bore's, or where two grooves meet.
    fn crest_mm(&self) -> f64 {
        let bore = self.drawing.bore_diameter_mm / 2.0;
        let pitch = self.drawing.lead_mm / f64::from(self.drawing.starts.max(1));
        let meets = Section::of(self.drawing).radius(pitch / 2.0);
        meets.map_or(bore, |(r, _)| r.max(bore))
    }

    fn form(
        &self,
        measured: &mut NutMeasured,
        uncertainty: &mut NutUncertainty,
        findings: &mut Vec<Finding>,
    ) {
        let forms = || self.case.carved.rows.iter().filter_map(|row| Some((row.form?, row.angle)));
        let most = |which: usize| {
            forms().map(|(form, angle)| (form[which], angle)).fold(
                (Deviation::default(), 0.0),
                |so_far, next| {
                    if next.0.by.abs() > so_far.0.by.abs() { next } else { so_far }
                },
            )
        };
        let worst = if most(0).0.by.abs() > most(1).0.by.abs() { most(0) } else { most(1) };
        let (Deviation { by, z }, angle) = worst;
        measured.form_error_max_mm = Some(by.abs());
        let sure = 2.0 * self.place_sure() + DRAWN_SECTION_MM;
        uncertainty.form_error_max_mm = Some(sure);
        if by.abs() > self.drawing.passes.form_mm {
            let what = if by > 0.0 { "wood stands" } else { "wood is gone" };
            let words = format!(
                "{what} {} from the drawn groove, {}",
                self.drawing.unit.show(by.abs()),
                self.there(z, angle)
            );
            findings.push(
                Finding::new(&code::FORM_OFF, words)
                    .values(by, 0.0)
                    .spot(on_nut(z, angle, None))
                    .help("the cutter's teeth are not those of the job, or a pass runs beside the others"),
            );
        }
    }

    fn flanks(&self, starts: &[Start], measured: &mut NutMeasured, uncertainty: &mut NutUncertainty) {
        let depth = (self.drawing.major_diameter_mm - self.drawing.bore_diameter_mm) / 2.0;
        let apart = (FLANK_SHARES[1] - FLANK_SHARES[0]) * depth;
        let mean = |side: fn(&super::rows::Groove) -> [Option<f64>; 2]| {
            let angles: Vec<f64> = starts
                .iter()
                .flat_map(|start| &start.nodes)
                .filter_map(|node| {
                    let [outer, inner] = side(&node.groove);
                    Some(((outer? - inner?).abs() / apart).atan().to_degrees())
                })
                .collect();
            (!angles.is_empty()).then(|| angles.iter().sum::<f64>() / angles.len() as f64)
        };
        measured.flank_low_deg = mean(|groove| groove.lower);
        measured.flank_high_deg = mean(|groove| groove.upper);
        uncertainty.flank_deg = Some((2.0 * self.place_sure() / apart).to_degrees());
    }
}
