//! The carved nut at its faces: whether every groove goes through, and the cones at the mouths of the hole.

use std::f64::consts::TAU;

use crate::drawing::Cone;
use crate::finding::{Finding, proof as code};

use super::contact::on_nut;
use super::follow::{Start, common_rise};
use super::rows::Sums;
use super::sizes::Gauge;
use super::{NutMeasured, NutUncertainty};

/// A groove that misses a face by more than this does not go through, mm: a row stands every few hundredths of a
/// millimetre along a groove, and its root is found to a column.
const THROUGH_MM: f64 = 0.25;
impl Gauge<'_> {
    /// Whether every groove goes through both faces at its full depth.
    pub(super) fn through(
        &self,
        starts: &[Start],
        measured: &mut NutMeasured,
        uncertainty: &mut NutUncertainty,
        findings: &mut Vec<Finding>,
    ) {
        let bottom = self.case.carved.grid.from_z_mm;
        let Some((full, angle)) = starts
            .iter()
            .map(|start| self.full_of(start))
            .min_by(|a, b| (a.0[1] - a.0[0]).total_cmp(&(b.0[1] - b.0[0])))
        else {
            return;
        };
        measured.thread_length_mm = Some(full[1] - full[0]);
        let rise = common_rise(starts).abs() * TAU / self.case.carved.rows.len() as f64;
        uncertainty.thread_length_mm = Some(2.0 * rise);
        let lacks = [full[0] - bottom, -full[1]];
        // A groove that is nowhere at its depth is too shallow, which the depth tells.
        if full[1] > full[0] && lacks.iter().any(|lack| *lack > THROUGH_MM + rise) {
            let (lack, face, z) =
                if lacks[0] > lacks[1] { (lacks[0], "bottom", full[0]) } else { (lacks[1], "top", full[1]) };
            let unit = self.drawing.unit;
            let words = format!("a groove ends {} before the {face} face", unit.show(lack));
            findings.push(
                Finding::new(&code::NUT_THREAD_SHORT, words)
                    .values(full[1] - full[0], self.drawing.length_mm)
                    .spot(on_nut(z, angle, None))
                    .help("run every pass out beyond both faces until the tooth is clear of the wood"),
            );
        }
    }

    /// From where to where a start is at full depth round its middle, and the angle at the end that lacks more.
    fn full_of(&self, start: &Start) -> ([f64; 2], f64) {
        let (rows, bottom) = (&self.case.carved.rows, self.case.carved.grid.from_z_mm);
        let step = TAU / rows.len() as f64;
        let half_column = self.case.carved.grid.step_mm / 2.0;
        let is_full = |z: f64, count: i64| {
            let row = &rows[count.rem_euclid(rows.len() as i64) as usize];
            row.full.iter().any(|[low, high]| low - half_column <= z && z <= high + half_column)
        };
        // It is full at some node, or nowhere.
        let node = start.nodes[start.nodes.len() / 2];
        let middle = (node.angle / step).round() as i64;
        if !is_full(start.z(middle as f64 * step), middle) {
            return ([node.groove.middle; 2], node.angle);
        }
        let run = |way: i64| {
            let mut count = middle;
            loop {
                let z = start.z(count as f64 * step);
                if !(bottom..=0.0).contains(&z) {
                    return if start.rise * way as f64 > 0.0 { 0.0 } else { bottom };
                }
                if !is_full(z, count) {
                    return z;
                }
                count += way;
            }
        };
        let (a, b) = (run(1), run(-1));
        let ends = [a.min(b), a.max(b)];
        let lacking = if ends[0] - bottom > -ends[1] { ends[0] } else { ends[1] };
        (ends, start.angle(lacking))
    }

    pub(super) fn chamfers(
        &self,
        measured: &mut NutMeasured,
        uncertainty: &mut NutUncertainty,
        findings: &mut Vec<Finding>,
    ) {
        let (drawing, unit) = (self.drawing, self.drawing.unit);
        let bore = drawing.bore_diameter_mm / 2.0;
        let faces =
            [(drawing.chamfer_top, "top", 0.0), (drawing.chamfer_bottom, "bottom", -drawing.length_mm)];
        for (which, (cone, name, z)) in faces.into_iter().enumerate() {
            let Some(Cone { face_diameter_mm, depth_mm }) = cone else { continue };
            let mut sums = Sums::default();
            for row in &self.case.carved.rows {
                sums.join(&row.cones[which]);
            }
            let Some([rim, slope]) = sums.line() else { continue };
            let depth = if slope < 0.0 { (bore - rim) / slope } else { 0.0 };
            let found = [2.0 * rim, depth];
            if which == 0 {
                measured.chamfer_top_mm = Some(found);
            } else {
                measured.chamfer_bottom_mm = Some(found);
            }
            uncertainty.chamfer_mm = Some(2.0 * self.place_sure());
            let slack = drawing.passes.chamfer_mm;
            if (found[0] - face_diameter_mm).abs() > slack || (depth - depth_mm).abs() > slack {
                let words = format!(
                    "the mouth at the {name} face is {} wide and {} deep, the drawing wants {} and {}",
                    unit.show(found[0]),
                    unit.show(depth),
                    unit.show(face_diameter_mm),
                    unit.show(depth_mm)
                );
                findings.push(
                    Finding::new(&code::CHAMFER_OFF, words)
                        .values(found[0], face_diameter_mm)
                        .spot(on_nut(z, 0.0, Some(rim)))
                        .help("see the height and the radius of the level circles that cut the mouth"),
                );
            }
        }
    }
}
