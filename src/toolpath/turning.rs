//! Moves of turned features. A straight cutter above the axis leaves a cylinder exactly when every place of the blank
//! passes under its flat end, so it goes on by less than its width in a turn; a whole turn on the spot squares a
//! shoulder. It has no hand, so the blank turns to and fro, level by level, and A does not wind up.

use std::f64::consts::PI;

use super::lathe::{Lathe, levels};
use crate::design::{Feature, Operation};
use crate::drawing::OutlinePoint;

/// Share of the cutter's half width that a planed corner may be wide.
const PLANED_SHARE: f64 = 0.95;
/// Wood on a corner that is worth planing before turning, mm.
const WORTH_PLANING_MM: f64 = 1.0;
/// Height of one step on a shaped nose, mm: the proof lets a little more pass.
const NOSE_STEP_MM: f64 = 0.12;
/// Gap beside a wall when going down in the air, mm.
const BESIDE_MM: f64 = 0.5;
/// How far above a place the fast way down ends, mm.
const ABOVE_MM: f64 = 1.0;
/// Differences of length that are none, mm.
const SAME_MM: f64 = 1e-6;

/// Turns everything between two stations down to a cylinder.
pub(super) fn turn(lathe: &mut Lathe<'_>, operation: Operation, feature: &Feature) {
    let Feature::Turn { from_s_mm, to_s_mm, from_r_mm, to_r_mm, corners } = feature else { return };
    let last = to_s_mm - lathe.cutter_radius_mm();
    let mut from_r = *from_r_mm;
    if let Some((flat, count)) = corners {
        from_r = plane_corners(lathe, operation, last, [from_r, *to_r_mm], *flat, *count);
    }
    let tooling = &lathe.step.tooling;
    let levels = levels(from_r, *to_r_mm, tooling.step_mm, tooling.finish_mm);
    match from_s_mm {
        None => turn_open(lathe, operation, last, &levels),
        Some(from) => turn_closed(lathe, operation, [from + lathe.cutter_radius_mm(), last], from_r, &levels),
    }
}

/// Planes the corners of a square or octagon off with the blank standing still, as long as the cutter covers what it
/// takes: turning would cut mostly air. Returns how far wood stands from the axis afterwards.
///
/// With flats at `flat` from the axis and `count` corners, a plane at height r across a corner at c is as wide on either
/// side as (c - r) / tan(180 / count); the corner it leaves stands where the plane meets a flat. Elementary geometry.
fn plane_corners(
    lathe: &mut Lathe<'_>,
    operation: Operation,
    last: f64,
    [corner, to_r]: [f64; 2],
    flat: f64,
    count: u32,
) -> f64 {
    let half = PI / f64::from(count);
    let tooling = &lathe.step.tooling;
    let (step, finish) = (tooling.step_mm, tooling.finish_mm);
    let deepest = corner - PLANED_SHARE * lathe.cutter_radius_mm() * half.tan();
    let plane = (to_r + finish).max(deepest);
    if corner - plane < WORTH_PLANING_MM {
        return corner;
    }
    let unit = lathe.job.unit;
    let heights = levels(corner, plane, step, step);
    let tail = lathe.beyond_tail_mm();
    for (number, &height) in heights.iter().enumerate() {
        let (of, down) = (heights.len(), unit.show(height));
        lathe.note(
            operation,
            &format!("{count} corners, level {} of {of}, Z {down} above the axis", number + 1),
        );
        let corners = (0..count).map(|corner| (f64::from(corner) + 0.5) * 360.0 / f64::from(count));
        // To and fro, so that A does not go back empty.
        let angles: Vec<f64> = if number % 2 == 0 { corners.collect() } else { corners.rev().collect() };
        for angle in angles {
            lathe.over(tail);
            lathe.index(angle);
            lathe.down_fast(height + ABOVE_MM);
            lathe.down(height);
            lathe.along(last, height);
            lathe.up();
        }
    }
    // Where the last plane meets a flat.
    let along_flat = (plane - flat * half.cos()) / half.sin();
    flat.hypot(along_flat)
}

/// From the air beyond the tail end to a wall, and back on the next level.
fn turn_open(lathe: &mut Lathe<'_>, operation: Operation, last: f64, levels: &[f64]) {
    let tail = lathe.beyond_tail_mm();
    let turns = (last - tail) / lathe.advance_mm();
    for (number, &height) in levels.iter().enumerate() {
        level_note(lathe, operation, number, levels);
        if number % 2 == 0 {
            lathe.over(tail);
            lathe.down_fast(height + ABOVE_MM);
            lathe.down(height);
            lathe.turn(360.0 * turns, last, height);
            lathe.ring();
        } else {
            // Down in the groove of the level before, a turn long.
            lathe.turn(360.0, last, height);
            lathe.ring();
            lathe.turn(360.0 * turns, tail, height);
        }
        lathe.turn_back();
    }
    lathe.up();
}

/// Between two walls: down on a turn, a ring, along, a ring; the next level from the other end.
fn turn_closed(
    lathe: &mut Lathe<'_>,
    operation: Operation,
    [near, far]: [f64; 2],
    from_r: f64,
    levels: &[f64],
) {
    let turns = (far - near).abs() / lathe.advance_mm();
    lathe.note(operation, "approach");
    lathe.over(near);
    lathe.down_fast(from_r + ABOVE_MM);
    lathe.down(from_r + BESIDE_MM);
    let (mut here, mut there) = (near, far);
    for (number, &height) in levels.iter().enumerate() {
        level_note(lathe, operation, number, levels);
        lathe.turn(360.0, here, height);
        lathe.ring();
        if far - near > SAME_MM {
            lathe.turn(360.0 * turns, there, height);
            lathe.ring();
            std::mem::swap(&mut here, &mut there);
        }
        lathe.turn_back();
    }
    lathe.up();
}

fn level_note(lathe: &mut Lathe<'_>, operation: Operation, number: usize, levels: &[f64]) {
    let unit = lathe.job.unit;
    let words =
        format!("level {} of {}, diameter {}", number + 1, levels.len(), unit.show(2.0 * levels[number]));
    lathe.note(operation, &words);
}

/// A nose that rises from its face: the near edge of a straight cutter follows the outline, in turns so close that the
/// steps between them stay small.
pub(super) fn profile(lathe: &mut Lathe<'_>, operation: Operation, points: &[OutlinePoint]) {
    let Some(face) = points.first() else { return };
    let radius = lathe.cutter_radius_mm();
    lathe.note(operation, "from the face up, its edge along the outline");
    lathe.over(face.s_mm - radius - ABOVE_MM);
    lathe.down_fast(face.r_mm + ABOVE_MM);
    lathe.down(face.r_mm);
    lathe.turn(360.0, face.s_mm - radius, face.r_mm);
    lathe.ring();
    let advance = lathe.advance_mm();
    for pair in points.windows(2) {
        let (along, up) = (pair[1].s_mm - pair[0].s_mm, pair[1].r_mm - pair[0].r_mm);
        let turns = (up / NOSE_STEP_MM).max(along / advance);
        lathe.turn(360.0 * turns, pair[1].s_mm - radius, pair[1].r_mm);
    }
    lathe.ring();
    lathe.turn_back();
    lathe.up();
}

/// A ring: down on a turn for each level, and a whole turn at the last depth.
pub(super) fn ring(lathe: &mut Lathe<'_>, operation: Operation, s_mm: f64, [from_r, to_r]: [f64; 2]) {
    let tooling = &lathe.step.tooling;
    let levels = levels(from_r, to_r, tooling.step_mm, tooling.finish_mm);
    let unit = lathe.job.unit;
    lathe.note(operation, &format!("ring at {}, {} deep", unit.show(s_mm), unit.show(from_r - to_r)));
    lathe.over(s_mm);
    lathe.down_fast(from_r + ABOVE_MM);
    lathe.down(from_r + BESIDE_MM);
    for height in levels {
        lathe.turn(360.0, s_mm, height);
    }
    lathe.ring();
    lathe.turn_back();
    lathe.up();
}
