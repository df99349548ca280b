//! The blank unrolled, station across and angle up, with the way of the cutter: a thread is a set of straight lines
//! there. Places in mm of paper; the angle is not to scale.

use std::f64::consts::TAU;

use super::super::svg::{Anchor, At, Svg};
use super::lines::arrow;
use super::{Sheet, size};
use crate::rs274::Kind;
use crate::stock::Stroke;

/// Corners of the map.
const LEFT: f64 = 266.0;
const RIGHT: f64 = 402.0;
const TOP: f64 = 177.0;
const BOTTOM: f64 = 228.0;

/// Draws the map.
pub(super) fn draw(svg: &mut Svg, sheet: &Sheet<'_>) {
    let (drawing, blank) = (sheet.drawing, &sheet.setup.blank);
    let strokes = &sheet.story.strokes;
    let [begin, end] = sheet.thread_motions;
    let own = strokes.iter().filter(|stroke| (begin..end).contains(&stroke.motion));
    let air = own.map(|stroke| stroke.from.s_mm.min(stroke.to.s_mm)).fold(blank.from_s_mm, f64::min);
    let (from, to) = (air.max(blank.from_s_mm - MOST_AIR_MM), blank.chuck_face_s_mm);
    let x = |s: f64| LEFT + (s - from) / (to - from) * (RIGHT - LEFT);
    svg.text("name", [LEFT - 8.0, TOP - 5.0], Anchor::Start, 0.0, "blank unrolled, with the path");
    svg.polyline("thin", [[LEFT, TOP], [RIGHT, TOP], [RIGHT, BOTTOM], [LEFT, BOTTOM]].map(Some), true);
    for quarter in 0..=4 {
        let y = BOTTOM - f64::from(quarter) / 4.0 * (BOTTOM - TOP);
        svg.line("thin", [LEFT - 1.5, y], [LEFT, y]);
        svg.text("words", [LEFT - 2.2, y + 0.9], Anchor::End, 0.0, &format!("{}\u{b0}", 90 * quarter));
    }
    let borders = [
        (blank.from_s_mm, "waste"),
        (0.0, "nose"),
        (drawing.full_to_s_mm, ""),
        (drawing.run_out_to_s_mm, ""),
        (drawing.head_s_mm, "head"),
    ];
    for (s, name) in borders {
        svg.line("centre", [x(s), TOP], [x(s), BOTTOM + 1.5]);
        if name.is_empty() || name == "waste" {
            continue;
        }
        svg.text("words", [x(s), BOTTOM + 4.5], Anchor::Middle, 0.0, name);
        svg.text("words", [x(s), BOTTOM + 7.8], Anchor::Middle, 0.0, &size(drawing.unit, s));
    }
    // Passes of one start run over each other; of each helix only the deepest is drawn, with the moves that lead to it.
    let mut last = None;
    for trip in &sheet.story.trips {
        let threads = (sheet.thread_motions[0]..sheet.thread_motions[1]).contains(&trip.motions[0]);
        if !threads || (trip.tip_mm - sheet.screw.root_radius_mm).abs() > SAME_DEPTH_MM {
            continue;
        }
        let first = last.map_or(trip.motions[0], |end: usize| end + 1).max(trip.motions[0].saturating_sub(6));
        for stroke in strokes.iter().filter(|stroke| (first..=trip.motions[1]).contains(&stroke.motion)) {
            way(svg, stroke, &x, [from, to]);
        }
        last = Some(trip.motions[1]);
    }
}

/// Air beyond the tail end that is drawn at most, mm.
const MOST_AIR_MM: f64 = 60.0;
/// Passes this near the root run at full depth, mm.
const SAME_DEPTH_MM: f64 = 0.05;

fn way(svg: &mut Svg, stroke: &Stroke, x: &impl Fn(f64) -> f64, [least, most]: [f64; 2]) {
    let (a, b) = (stroke.from, stroke.to);
    let class = if stroke.kind == Kind::Rapid { "air" } else { "path" };
    let turns = (b.theta_rad - a.theta_rad) / TAU;
    // Cut at every full turn, where the line leaves the map and comes back on the other side.
    let mut shares = vec![0.0, 1.0];
    if turns != 0.0 {
        let (low, high) = (a.theta_rad.min(b.theta_rad) / TAU, a.theta_rad.max(b.theta_rad) / TAU);
        let mut turn = low.ceil();
        while turn <= high {
            shares.push((turn - a.theta_rad / TAU) / turns);
            turn += 1.0;
        }
        shares.sort_by(f64::total_cmp);
    }
    for pair in shares.windows(2).filter(|pair| pair[1] - pair[0] > 0.0) {
        let middle = a.towards(b, f64::midpoint(pair[0], pair[1])).theta_rad / TAU;
        let at = |share: f64| -> At {
            let stand = a.towards(b, share);
            let turn = stand.theta_rad / TAU - middle.floor();
            [x(stand.s_mm.clamp(least, most)), BOTTOM - turn.clamp(0.0, 1.0) * (BOTTOM - TOP)]
        };
        let (from, to) = (at(pair[0]), at(pair[1]));
        svg.line(class, from, to);
        let long = (to[0] - from[0]).hypot(to[1] - from[1]);
        if class == "path" && pair[0] == 0.0 && long > 6.0 {
            let half = [f64::midpoint(from[0], to[0]), f64::midpoint(from[1], to[1])];
            arrow(svg, half, [(to[0] - from[0]) / long, (to[1] - from[1]) / long]);
        }
    }
}
