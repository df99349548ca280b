//! The screw from its nose: as a thread symbol, and in true form with its starts and the marks for indexing. Places in
//! mm of paper.

use std::f64::consts::TAU;

use super::super::svg::{Anchor, At, Svg};
use super::Sheet;
use super::form::Form;
use super::views::{Axis, END_X};

/// Crests as a full circle, roots as three quarters of a thin one (ISO 6410-1).
pub(super) fn symbol(svg: &mut Svg, sheet: &Sheet<'_>, axis: &Axis, y: f64) {
    let drawing = sheet.drawing;
    let centre = [END_X, y];
    let crest = drawing.crest_diameter_mm / 2.0 * axis.scale;
    cross(svg, centre, crest);
    svg.circle("thick", centre, crest);
    svg.arc("thin", centre, drawing.root_diameter_mm / 2.0 * axis.scale, -80.0, 190.0);
}

fn cross(svg: &mut Svg, [x, y]: At, radius: f64) {
    svg.line("centre", [x - radius - 4.0, y], [x + radius + 4.0, y]);
    svg.line("centre", [x, y - radius - 4.0], [x, y + radius + 4.0]);
}

/// The nose face as cut, and where each start begins with the A word that brings it under the cutter.
pub(super) fn starts(svg: &mut Svg, sheet: &Sheet<'_>, form: &Form<'_>, axis: &Axis, y: f64) {
    let (drawing, machine) = (sheet.drawing, &sheet.setup.machine);
    let centre = [END_X, y];
    // Seen from the nose, angles count clockwise; angle 0 is on top.
    let at = |theta: f64, radius: f64| {
        [centre[0] + radius * axis.scale * theta.sin(), centre[1] - radius * axis.scale * theta.cos()]
    };
    let looks = 360;
    let face = drawing.full_from_s_mm;
    let outline = (0..looks).map(|i| {
        let theta = TAU * f64::from(i) / f64::from(looks);
        Some(at(theta, form.radius(face, theta)))
    });
    let crest = form.crest();
    cross(svg, centre, crest * axis.scale);
    svg.polyline("thick", outline, true);
    for start in 0..drawing.starts {
        let theta = TAU * f64::from(start) / f64::from(drawing.starts)
            + drawing.hand.sign() * TAU * face / drawing.lead_mm;
        let gap = 1.5 / axis.scale;
        svg.line("thick", at(theta, crest + gap), at(theta, crest + gap + 3.0 / axis.scale));
        let a_deg = -machine.headstock.sign() * machine.a_plus.sign() * 360.0 * f64::from(start)
            / f64::from(drawing.starts);
        let place = at(theta, crest + gap + 5.5 / axis.scale);
        let anchor = match place[0] - centre[0] {
            off if off > 3.0 => Anchor::Start,
            off if off < -3.0 => Anchor::End,
            _ => Anchor::Middle,
        };
        let degrees = format!("{:.2}", (a_deg + 360.0).rem_euclid(360.0));
        let degrees = degrees.trim_end_matches('0').trim_end_matches('.');
        svg.text("words", place, anchor, 0.0, &format!("start {}: A{degrees}", start + 1));
    }
    let below = centre[1] + crest * axis.scale + 11.0;
    svg.text("words", [centre[0], below], Anchor::Middle, 0.0, "nose face, seen from the tail");
}
