//! What is turned and milled beside the thread, as the job asks for it: how far the finished piece reaches from the axis
//! there, and how the drawing names it. Lengths in mm, angles in radians.

use std::f64::consts::TAU;

use super::super::svg::Svg;
use super::form::Form;
use super::lines::leader;
use super::views::Axis;
use super::{Sheet, size};
use crate::drawing::Drawing;
use crate::job::{Job, NoseShape};

/// A part with its outline.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::report) struct Part {
    /// From and to.
    pub(super) s_mm: [f64; 2],
    /// Distance from the axis at either end; straight in between.
    r_mm: [f64; 2],
    /// Flats: how many, and from the axis to each. The first lies on top at angle zero.
    flats: Option<(u32, f64)>,
    /// What stands on its leader.
    words: String,
}

impl Part {
    /// How far it reaches at a station inside it.
    pub(super) fn radius(&self, s: f64, theta: f64) -> f64 {
        let [from, to] = self.s_mm;
        let share = ((s - from) / (to - from).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
        let round = self.r_mm[0] + (self.r_mm[1] - self.r_mm[0]) * share;
        self.flats.map_or(round, |(count, from_axis)| {
            let corner = TAU / f64::from(count);
            (from_axis / (theta - corner * (theta / corner).round()).cos()).min(round)
        })
    }
}

/// Pieces that a round-over is drawn in.
const ROUND_PIECES: u32 = 12;

/// All parts, from the nose towards the head.
pub(in crate::report) fn parts(job: &Job, drawing: &Drawing) -> Vec<Part> {
    let asked = &job.operations;
    let unit = drawing.unit;
    let (crest, root) = (drawing.crest_diameter_mm / 2.0, drawing.root_diameter_mm / 2.0);
    let part = |s_mm, r_mm, words: String| Part { s_mm, r_mm, flats: None, words };
    let mut all = Vec::new();
    match asked.nose.as_ref().map(|nose| nose.shape) {
        Some(NoseShape::Taper { length_mm }) => {
            all.push(part([0.0, length_mm], [root, crest], format!("taper {}", size(unit, length_mm))));
        }
        Some(NoseShape::Chamfer { length_mm }) => {
            // The flank of the cutter, whose half angle is that of the thread square to its flank or its own cutter's.
            let nose = asked.nose.as_ref().and_then(|nose| nose.tooling.cutter.as_ref());
            let angle_deg = nose.unwrap_or(&job.cutter).included_angle_deg / 2.0;
            let low = crest - length_mm / angle_deg.to_radians().tan();
            let words = format!("chamfer {}, {angle_deg}\u{b0} off square", size(unit, length_mm));
            all.push(part([0.0, length_mm], [low, crest], words));
        }
        Some(NoseShape::RoundOver { radius_mm }) => {
            let at = |i: u32| {
                let turn = std::f64::consts::FRAC_PI_2 * f64::from(i) / f64::from(ROUND_PIECES);
                [radius_mm * (1.0 - turn.cos()), crest - radius_mm * (1.0 - turn.sin())]
            };
            for i in 0..ROUND_PIECES {
                let ([s0, r0], [s1, r1]) = (at(i), at(i + 1));
                let words =
                    if i == ROUND_PIECES / 2 { format!("R{}", size(unit, radius_mm)) } else { String::new() };
                all.push(part([s0, s1], [r0, r1], words));
            }
        }
        None => {}
    }
    if let Some(relief) = &asked.relief {
        let diameter = relief.diameter_mm.unwrap_or(drawing.root_diameter_mm);
        let words = format!("relief \u{2300}{}", size(unit, diameter));
        all.push(part([drawing.full_to_s_mm, drawing.run_out_to_s_mm], [diameter / 2.0; 2], words));
    }
    let shoulder = drawing.head_s_mm - asked.tenon.as_ref().map_or(0.0, |tenon| tenon.length_mm);
    if let Some(garter) = &asked.garter {
        let to = shoulder - garter.from_shoulder_mm;
        let words = format!("garter groove \u{2300}{}", size(unit, garter.diameter_mm));
        all.push(part([to - garter.width_mm, to], [garter.diameter_mm / 2.0; 2], words));
    }
    if let Some(tenon) = &asked.tenon {
        let flats = tenon.flats.map(|flats| (flats.count, flats.across_mm / 2.0));
        let across = tenon.flats.map_or(String::new(), |flats| {
            format!(", {} flats {} across", flats.count, size(unit, flats.across_mm))
        });
        let words = format!("tenon \u{2300}{}{across}", size(unit, tenon.diameter_mm));
        let whole = part([shoulder, drawing.head_s_mm], [tenon.diameter_mm / 2.0; 2], words);
        all.push(Part { flats, ..whole });
    }
    all
}

/// Names every part that has a name, on leaders above the view whose axis is at `y`.
pub(super) fn names(svg: &mut Svg, sheet: &Sheet<'_>, form: &Form<'_>, axis: &Axis, y: f64) {
    let crest = sheet.drawing.crest_diameter_mm / 2.0 * axis.scale;
    for (index, part) in form.parts().iter().filter(|part| !part.words.is_empty()).enumerate() {
        let middle = f64::midpoint(part.s_mm[0], part.s_mm[1]);
        let from = [axis.x(middle), y - form.reach(middle) * axis.scale];
        // Neighbours stand at different heights, so that their words run into no other's.
        let high = if index % 2 == 0 { 14.0 } else { 8.5 };
        leader(svg, from, [from[0] + 5.0, y - crest - high], &part.words);
    }
}

/// Flats that face the viewer: their sides, and the thin diagonals that say that they are flat (ISO 128-3, from memory).
pub(super) fn flats(svg: &mut Svg, form: &Form<'_>, axis: &Axis, y: f64) {
    for part in form.parts() {
        let Some((count, from_axis)) = part.flats else { continue };
        if count % 4 != 0 {
            continue;
        }
        let to_corner = from_axis * (TAU / 2.0 / f64::from(count)).tan();
        let round = (part.r_mm[0].powi(2) - from_axis.powi(2)).max(0.0).sqrt();
        let half = to_corner.min(round) * axis.scale;
        let [from, to] = part.s_mm.map(|s| axis.x(s));
        for side in [-1.0, 1.0] {
            svg.line("thin", [from, y + side * half], [to, y + side * half]);
            svg.line("thin", [from, y - side * half], [to, y + side * half]);
        }
    }
}
