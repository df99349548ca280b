//! Where the full thread ends and how the groove leaves the wood. Lengths in mm.

use crate::drawing::Drawing;
use crate::finding::{Finding, proof as code};

use super::rows::{RowSeen, plain_from_mm};
use super::sizes::{Gauge, on_wood, rows_seen};
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
        let grid = self.case.carved.grid;
        measured.thread_length_mm = Some(shortest - wanted.full_from_s_mm);
        uncertainty.thread_length_mm = Some(2.0 * wanted.lead_mm / rows_seen(grid) as f64 + grid.step_mm);
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
        findings.extend(self.run_out());
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

/// Shares of the depth at which the climb of a run-out is looked at: grooves are followed up to half their depth.
const CLIMB_LOOKS: [f64; 3] = [0.15, 0.3, 0.45];
/// Least share of the drawn way that a groove must take to climb so far. A cutter lifted where it stands leaves a wall
/// that climbs over a part of its own width; a run-out drawn so short that half of it is no longer than that is one in
/// name only, and passes.
const CLIMB_SHARE: f64 = 0.5;

impl Gauge<'_> {
    /// Whether every start climbs out as slowly as it is drawn, and does not end in a wall.
    fn run_out(&self) -> Option<Finding> {
        let wanted = self.drawing();
        let (crest, root) = (wanted.crest_diameter_mm / 2.0, wanted.root_diameter_mm / 2.0);
        let climb = wanted.run_out_to_s_mm - wanted.full_to_s_mm;
        // What counts as full depth has climbed a little already.
        let begun = wanted.passes.radius_mm / (crest - root);
        let last_below = |start: usize, share: f64| {
            let level = root + share * (crest - root);
            let grooves = self.thread.grooves.iter();
            let deep = grooves.filter(|placed| placed.start == start && placed.groove.root <= level);
            deep.max_by(|a, b| a.groove.middle.total_cmp(&b.groove.middle))
        };
        let steep = |start: usize| {
            let full = last_below(start, begun)?;
            CLIMB_LOOKS.into_iter().find_map(|share| {
                let last = last_below(start, share)?;
                let (way, drawn) = (last.groove.middle - full.groove.middle, (share - begun) * climb);
                (way < CLIMB_SHARE * drawn).then_some((way, drawn, full))
            })
        };
        let (way, drawn, full) = (0..self.thread.starts).find_map(steep)?;
        let unit = wanted.unit;
        let words = format!(
            "the groove of start {} ends in a wall: it climbs within {} along the screw as far as the drawn run-out does \
             in {}",
            full.start + 1,
            unit.show(way),
            unit.show(drawn)
        );
        Some(
            Finding::new(&code::RUN_OUT_OFF, words)
                .values(way, drawn)
                .spot(on_wood(full.groove.middle, full.angle, Some(full.groove.root)))
                .help(
                    "let every pass climb while it runs on along the thread: a cutter lifted in a full groove burns it, \
                     and the screw breaks first where the groove ends in a wall",
                ),
        )
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
