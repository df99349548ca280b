//! Where the full thread ends and how the groove leaves the wood. Lengths in mm.

use crate::drawing::Drawing;
use crate::finding::{Finding, proof as code};

use super::rows::{RowSeen, plain_from_mm};
use super::sizes::{Gauge, ROWS_SEEN, on_wood};
use super::thread::{Thread, straight_line};
use super::{Measured, Uncertainty};

impl Gauge<'_> {
    /// Length of the full thread and of the run-out.
    pub(super) fn length(
        &self,
        rows: &[RowSeen],
        measured: &mut Measured,
        uncertainty: &mut Uncertainty,
        findings: &mut Vec<Finding>,
    ) {
        let wanted = self.drawing();
        if wanted.ends_in_relief {
            // The last turn runs into the relief groove, whose own place is measured.
            return;
        }
        let (shortest, longest) = self
            .ends
            .iter()
            .flatten()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), &end| (low.min(end), high.max(end)));
        if !shortest.is_finite() {
            return;
        }
        measured.thread_length_mm = Some(shortest - wanted.full_from_s_mm);
        uncertainty.thread_length_mm =
            Some(2.0 * wanted.lead_mm / ROWS_SEEN as f64 + self.case.carved.grid.step_mm);
        let last_cut = rows.iter().filter_map(|row| row.last_cut).reduce(f64::max);
        measured.run_out_length_mm = last_cut.map(|end| end - longest);
        uncertainty.run_out_length_mm = last_cut.and(uncertainty.thread_length_mm);
        // A cut farther back than the run-out reaches is told as wood gone from the plain part.
        let over = drawn_end_mm(wanted) + wanted.passes.length_mm..plain_from_mm(wanted);
        if let Some(end) = last_cut.filter(|end| over.contains(end)) {
            let (end_shown, want) = (wanted.unit.show(end), wanted.unit.show(wanted.run_out_to_s_mm));
            findings.push(
                Finding::new(
                    &code::LENGTH_OFF,
                    format!("the groove runs on to {end_shown} from the nose, the drawing ends it at {want}"),
                )
                .values(end, wanted.run_out_to_s_mm)
                .spot(on_wood(end, 0.0, None))
                .help("check where the passes leave the wood"),
            );
        }
        for (end, words) in [(shortest, "ends too soon"), (longest, "runs too far")] {
            if (end - wanted.full_to_s_mm).abs() > wanted.passes.length_mm {
                findings.push(
                    Finding::new(
                        &code::LENGTH_OFF,
                        format!(
                            "the full thread {words}: {} from the nose, the drawing wants {}",
                            wanted.unit.show(end),
                            wanted.unit.show(wanted.full_to_s_mm)
                        ),
                    )
                    .values(end, wanted.full_to_s_mm)
                    .spot(on_wood(end, 0.0, None))
                    .help("check the X at which the passes begin to climb out"),
                );
                return;
            }
        }
    }
}

/// Shares of the depth between which the climb of a run-out is read.
const CLIMB_SHARES: [f64; 2] = [0.1, 0.4];

/// Station at which a start leaves its full depth; `None` if it never has it.
///
/// Where the groove climbs out slowly, its root lies within any tolerance for a while, so the climb is carried back, as
/// a straight line, to the depth it came from. It cannot end after the last groove at full depth.
pub(super) fn full_end(drawing: &Drawing, thread: &Thread<'_>, start: usize) -> Option<f64> {
    let (crest, root) = (drawing.crest_diameter_mm / 2.0, drawing.root_diameter_mm / 2.0);
    let of_start = || thread.grooves.iter().filter(move |placed| placed.start == start);
    let deep = root + drawing.passes.radius_mm;
    let full = || of_start().filter(move |placed| placed.groove.root <= deep);
    let last = full().map(|placed| placed.groove.middle).reduce(f64::max)?;
    let mut roots: Vec<f64> = full().map(|placed| placed.groove.root).collect();
    roots.sort_by(f64::total_cmp);
    let level = roots[roots.len() / 2];
    let [low, high] = CLIMB_SHARES.map(|share| root + share * (crest - root));
    let climb: Vec<(f64, f64)> = of_start()
        .filter(|placed| placed.groove.middle >= last && (low..=high).contains(&placed.groove.root))
        .map(|placed| (placed.groove.root, placed.groove.middle))
        .collect();
    let carried = straight_line(&climb).map(|line| line(level));
    Some(carried.map_or(last, |end| end.min(last)))
}

/// Station of the last cut that the drawn run-out makes. While the cutter climbs, the groove still reaches ahead by half
/// its width at the depth it has there, so where the climb is short the end of the groove is not the end of the climb.
fn drawn_end_mm(drawing: &Drawing) -> f64 {
    let (root, crest) = (drawing.root_diameter_mm / 2.0, drawing.crest_diameter_mm / 2.0);
    let climb = drawing.run_out_to_s_mm - drawing.full_to_s_mm;
    let ahead = drawing.section.iter().map(|point| {
        // With the tip this much below the crest, the surface is cut as wide as the section is at that height.
        let still_to_climb = (point.r_mm - root) / (crest - root);
        drawing.full_to_s_mm + climb * (1.0 - still_to_climb) + point.half_width_mm
    });
    ahead.fold(drawing.run_out_to_s_mm, f64::max)
}
