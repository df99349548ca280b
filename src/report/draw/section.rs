//! Details along the axis: the section of the thread with what was carved laid over it, and the steps of depth. Places
//! in mm of paper.

use super::super::pair as drawn;
use super::super::svg::{Anchor, At, Svg};
use super::form::Form;
use super::lines::{LETTER_MM, across, hatch, leader, shelf_left, upright};
use super::sheet::enlarged;
use super::{Sheet, size};
use crate::design::groove::Groove;

/// Middle of the section, and its room.
const SECTION: At = [92.0, 196.0];
const SECTION_ROOM: [f64; 2] = [104.0, 38.0];
/// Middle of the steps, and their room.
const STEPS: At = [200.0, 196.0];
const STEPS_ROOM: [f64; 2] = [72.0, 38.0];
/// Left top corner of the screw in its nut, its room, and what stays free between the seasons.
const PAIR: At = [32.0, 231.0];
const PAIR_ROOM: [f64; 2] = [190.0, 22.0];
const PAIR_GAP: f64 = 6.0;
/// Where the names of the details stand.
const NAMES_Y: f64 = 172.0;

/// The section over one groove and the crests beside it: drawn thick and hatched, carved in dashes.
pub(super) fn enlarged_section(svg: &mut Svg, sheet: &Sheet<'_>, form: &Form<'_>) {
    let drawing = sheet.drawing;
    let half = form.pitch() / 2.0 + drawing.crest_flat_mm.max(0.1 * form.pitch());
    let depth = form.crest() - form.root();
    let (scale, words) = enlarged(2.0 * half, 1.45 * depth, SECTION_ROOM);
    let top = SECTION[1] - depth * scale / 2.0;
    // The groove of the first start in the middle of the full thread, at angle 0.
    let turns = (f64::midpoint(drawing.full_from_s_mm, drawing.full_to_s_mm) / drawing.lead_mm).round();
    let middle = turns * drawing.lead_mm;
    let at = |s: f64, r: f64| [SECTION[0] + (s - middle) * scale, top + (form.crest() - r) * scale];
    let below = at(0.0, form.root() - 0.45 * depth)[1];
    let steps = 400;
    let columns: Vec<(f64, f64, f64)> = (0..=steps)
        .map(|i| {
            let s = middle - half + 2.0 * half * f64::from(i) / f64::from(steps);
            let [x, y] = at(s, form.radius(s, 0.0));
            (x, y, below)
        })
        .collect();
    let outline: Vec<At> = columns.iter().map(|&(x, y, _)| [x, y]).collect();
    let ends = [[columns[columns.len() - 1].0, below], [columns[0].0, below]];
    svg.polyline("wood", outline.iter().copied().chain(ends).map(Some), true);
    hatch(svg, &columns, 2.5);
    svg.polyline("thick", outline.into_iter().map(Some), false);
    let carved =
        sheet.carved.iter().filter(|[s, _]| (s - middle).abs() <= half).map(|&[s, r]| Some(at(s, r)));
    svg.polyline("carved", carved, false);
    section_dimensions(svg, sheet, form, scale, &at, middle);
    svg.text(
        "name",
        [SECTION[0] - 60.0, NAMES_Y],
        Anchor::Start,
        0.0,
        &format!("thread, section along the axis {words}"),
    );
}

fn section_dimensions(
    svg: &mut Svg,
    sheet: &Sheet<'_>,
    form: &Form<'_>,
    scale: f64,
    at: &impl Fn(f64, f64) -> At,
    middle: f64,
) {
    let unit = sheet.drawing.unit;
    let (crest, root, pitch) = (form.crest(), form.root(), form.pitch());
    let depth = crest - root;
    let edge = form.half_width(crest);
    let flat = pitch - 2.0 * edge;
    let line_y = at(middle, crest)[1] - 6.0;
    across(svg, at(middle - edge, crest), at(middle + edge, crest), line_y, &size(unit, 2.0 * edge));
    across(svg, at(middle + edge, crest), at(middle + edge + flat, crest), line_y, &size(unit, flat));
    let bottom = at(middle, root - 0.45 * depth)[1] + 6.0;
    let floor = form.half_width(root);
    across(
        svg,
        at(middle - pitch / 2.0, root - 0.45 * depth),
        at(middle + pitch / 2.0, root - 0.45 * depth),
        bottom,
        &size(unit, pitch),
    );
    let side = at(middle + pitch / 2.0 + flat.max(0.1 * pitch), root)[0] + 8.0;
    upright(svg, at(middle + edge + flat / 2.0, crest), at(middle + floor, root), side, &size(unit, depth));
    // The angle as cut along the axis, at the side of the groove.
    let angle = format!("{:.1}\u{b0} as cut", 2.0 * sheet.screw.flank_axial_deg);
    let height = root + 0.62 * depth;
    let room = 2.0 * form.half_width(height) * scale - 2.0;
    if room > LETTER_MM * angle.chars().count() as f64 {
        svg.text("words", [at(middle, 0.0)[0], at(middle, height)[1]], Anchor::Middle, 0.0, &angle);
    } else {
        // No room between the flanks: beside the section, on a leader to one of them.
        let flank = root + 0.85 * depth;
        let from = at(middle - form.half_width(flank), flank);
        let left = at(middle - pitch / 2.0 - flat.max(0.1 * pitch), crest);
        shelf_left(svg, from, [left[0] - 2.0, left[1] - 4.5], &angle);
    }
    if floor * 2.0 * scale > 1.0 {
        let from = at(middle, root);
        leader(svg, from, [from[0] + 9.0, from[1] + 0.33 * depth * scale + 1.0], &size(unit, 2.0 * floor));
    }
}

/// The screw in its nut, as cut and in the seasons, side by side.
pub(super) fn pair(svg: &mut Svg, sheet: &Sheet<'_>) {
    if sheet.pair.is_empty() {
        return;
    }
    let [long, high] = drawn::size_mm(sheet.pair);
    let apart = PAIR_ROOM[0] / sheet.pair.len().max(3) as f64;
    let (scale, words) = enlarged(long, high, [apart - PAIR_GAP, PAIR_ROOM[1]]);
    let [left, top] = PAIR;
    let name = format!("screw in its nut, both as carved {words}");
    svg.text("name", [left, top - 2.5], Anchor::Start, 0.0, &name);
    drawn::detail(svg, sheet.pair, PAIR, scale, apart, sheet.drawing.unit);
}

/// The outline that each pass leaves, one below the other.
pub(super) fn steps(svg: &mut Svg, sheet: &Sheet<'_>) {
    let unit = sheet.drawing.unit;
    let crest = sheet.screw.crest_radius_mm;
    let Some(&deepest) = sheet.depths_mm.last() else {
        return;
    };
    let wide = sheet.screw.crest_width_mm;
    let (scale, words) = enlarged(wide * 1.3, deepest * 1.2, STEPS_ROOM);
    let top = STEPS[1] - deepest * scale / 2.0;
    let at = |s: f64, depth: f64| [STEPS[0] - 12.0 + s * scale, top + depth * scale];
    svg.text("name", [STEPS[0] - 42.0, NAMES_Y], Anchor::Start, 0.0, &format!("steps of depth {words}"));
    for side in [-1.0, 1.0] {
        svg.line("thick", at(side * wide / 2.0, 0.0), at(side * wide * 0.65, 0.0));
    }
    let mut label_y = f64::NEG_INFINITY;
    for (index, &depth) in sheet.depths_mm.iter().enumerate() {
        let groove = Groove::new(sheet.screw.shape(), crest - depth, sheet.drawing.lead_mm);
        let looks = 40;
        let flank = |side: f64| {
            (0..=looks).map(move |i| {
                let share = f64::from(i) / f64::from(looks);
                // Closer together towards the root, where a ball's outline bends.
                let above = depth * share * share;
                at(side * groove.half_width_mm(crest - depth + above), depth - above)
            })
        };
        let (left, right): (Vec<At>, Vec<At>) = (flank(-1.0).collect(), flank(1.0).collect());
        let class = if index + 1 == sheet.depths_mm.len() { "thick" } else { "thin" };
        svg.polyline(class, left.into_iter().rev().chain(right).map(Some), false);
        let [_, y] = at(0.0, depth);
        label_y = f64::max(y, label_y + 3.4);
        let x = at(wide * 0.65, 0.0)[0] + 4.0;
        svg.polyline("thin", [at(0.0, depth), [x - 3.0, label_y], [x, label_y]].map(Some), false);
        svg.text(
            "words",
            [x + 0.8, label_y + 0.9],
            Anchor::Start,
            0.0,
            &format!("pass {}: {}", index + 1, size(unit, depth)),
        );
    }
    if sheet.job.cutting.spring_pass {
        let x = at(wide * 0.65, 0.0)[0] + 4.0;
        svg.text("words", [x + 0.8, label_y + 4.3], Anchor::Start, 0.0, "and once more (spring pass)");
    }
}
