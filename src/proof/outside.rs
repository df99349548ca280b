//! Wood outside the thread: the plain part behind it, and the waste at both ends. Lengths in mm.

use crate::finding::{Finding, proof as code};

use super::Case;
use super::rows::RowSeen;
use super::sizes::on_wood;

/// Looks for cuts in the plain part behind the run-out.
pub(super) fn plain(case: &Case<'_>, rows: &[RowSeen], findings: &mut Vec<Finding>) {
    let unit = case.drawing.unit;
    let crest = case.drawing.crest_diameter_mm / 2.0;
    let deepest = rows
        .iter()
        .filter_map(|row| Some((row.lowest_plain?, row.angle)))
        .min_by(|a, b| a.0[0].total_cmp(&b.0[0]));
    if let Some(([radius, s], angle)) = deepest
        && crest - radius > case.drawing.passes.radius_mm
    {
        findings.push(
            Finding::new(
                &code::WOOD_GONE,
                format!(
                    "the plain part is cut {} deep, {} from the nose",
                    unit.show(crest - radius),
                    unit.show(s)
                ),
            )
            .values(2.0 * radius, case.drawing.crest_diameter_mm)
            .spot(on_wood(s, angle, Some(radius)))
            .help("a pass runs past its run-out"),
        );
    }
}

/// Looks for a place, waste included, where the blank is cut thinner than the thread's core.
pub(super) fn parted(case: &Case<'_>, rows: &[RowSeen], findings: &mut Vec<Finding>) {
    let unit = case.drawing.unit;
    let lacks = |row: &RowSeen| row.thinnest[2] - row.thinnest[0];
    let thinnest = rows.iter().max_by(|a, b| lacks(a).total_cmp(&lacks(b)));
    if let Some(row) = thinnest
        && lacks(row) > case.drawing.passes.radius_mm
    {
        let [radius, s, root] = row.thinnest;
        findings.push(
            Finding::new(
                &code::BLANK_PARTED,
                format!(
                    "the blank is cut down to {} from its axis, {} needs {}",
                    unit.show(radius),
                    if 2.0 * root < case.drawing.root_diameter_mm { "this place" } else { "the core" },
                    unit.show(root)
                ),
            )
            .values(2.0 * radius, 2.0 * root)
            .spot(on_wood(s, row.angle, Some(radius)))
            .help("nothing may cut deeper than the root of the thread, not even in the waste"),
        );
    }
}
