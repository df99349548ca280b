//! The sheet itself: frame, title block, scale. Places in mm of paper.

use super::super::svg::{Anchor, Svg};
use super::{PAPER, Sheet, size, views};
use crate::setup::BlankShape;

/// Scales of reduction that ISO 5455 recommends (from memory).
const REDUCED: [(f64, &str); 5] = [(1.0, "1:1"), (0.5, "1:2"), (0.2, "1:5"), (0.1, "1:10"), (0.05, "1:20")];
/// Scales of enlargement, the largest first.
const ENLARGED: [(f64, &str); 4] = [(10.0, "10:1"), (5.0, "5:1"), (2.0, "2:1"), (1.0, "1:1")];

/// Room for the views of the whole screw, mm of paper.
const VIEW_HIGH: f64 = 52.0;

/// The scale at which the blank fits, a stretch of its thread left out if need be.
pub(super) fn scale_of(sheet: &Sheet<'_>) -> (f64, &'static str) {
    let high = sheet.drawing.crest_diameter_mm;
    let fits = |&&(scale, _): &&(f64, &str)| high * scale <= VIEW_HIGH && views::fits(sheet, scale);
    REDUCED.iter().find(fits).copied().unwrap_or(REDUCED[REDUCED.len() - 1])
}

/// The largest scale at which a detail so long and so high fits into a room.
pub(super) fn enlarged(long: f64, high: f64, room: [f64; 2]) -> (f64, &'static str) {
    let fits = |&&(scale, _): &&(f64, &str)| long * scale <= room[0] && high * scale <= room[1];
    ENLARGED.iter().find(fits).copied().unwrap_or(ENLARGED[ENLARGED.len() - 1])
}

/// White paper and the frame: a filing margin of 20 mm on the left, 10 mm elsewhere (ISO 5457, from memory).
pub(super) fn frame(svg: &mut Svg) {
    let [wide, high] = PAPER;
    svg.put(&format!(r##"<rect width="{wide}" height="{high}" fill="#fff"/>"##));
    let (left, top, right, bottom) = (20.0, 10.0, wide - 10.0, high - 10.0);
    svg.polyline("thick", [[left, top], [right, top], [right, bottom], [left, bottom]].map(Some), true);
}

/// Name, wood, scale, projection and what the sizes mean.
pub(super) fn title_block(svg: &mut Svg, sheet: &Sheet<'_>, (_, scale): (f64, &str)) {
    let (left, top, right, bottom) = (230.0, 245.0, PAPER[0] - 10.0, PAPER[1] - 10.0);
    svg.polyline("thick", [[left, bottom], [left, top], [right, top]].map(Some), false);
    for y in [258.0, 268.0, 277.5] {
        svg.line("thin", [left, y], [right, y]);
    }
    let (job, drawing, setup) = (sheet.job, sheet.drawing, sheet.setup);
    let unit = drawing.unit;
    svg.text("large", [left + 4.0, top + 8.5], Anchor::Start, 0.0, &job.title);
    let mut cell = |x: f64, y: f64, name: &str, words: &str| {
        svg.text("small", [x, y - 5.6], Anchor::Start, 0.0, name);
        svg.text("words", [x, y - 1.6], Anchor::Start, 0.0, words);
    };
    let blank = match setup.blank.shape {
        BlankShape::Round => "round",
        BlankShape::Octagon => "octagon",
        BlankShape::Square => "square",
    };
    let long = setup.blank.to_s_mm - setup.blank.from_s_mm;
    cell(left + 4.0, 268.0, "wood", &job.wood);
    cell(
        left + 64.0,
        268.0,
        "blank",
        &format!("{blank}, {} x {}", size(unit, setup.blank.size_mm), size(unit, long)),
    );
    cell(left + 124.0, 268.0, "cutter", &setup.cutter.title);
    cell(left + 4.0, 277.5, "machine", &setup.machine.title);
    cell(left + 64.0, 277.5, "program carved", &sheet.carved_by());
    cell(left + 124.0, 277.5, "sizes in", if unit.name() == "in" { "inches" } else { "millimetres" });
    cell(left + 4.0, bottom, "scale", scale);
    cell(left + 64.0, bottom, "drawn by", concat!("threadwright ", env!("CARGO_PKG_VERSION")));
    cell(left + 124.0, bottom, "checked, date", "");
    projection_sign(svg, [left + 34.0, bottom - 4.7]);
    svg.text(
        "words",
        [right - 4.0, top + 8.5],
        Anchor::End,
        0.0,
        "screw, cut with a router over a rotary axis",
    );
}

/// What the lines mean, and what the proof of the program says.
pub(super) fn notes(svg: &mut Svg, sheet: &Sheet<'_>) {
    let (unit, passes) = (sheet.drawing.unit, &sheet.drawing.passes);
    let verdict = match (sheet.proved, sheet.programs) {
        (true, 1) => "proved",
        (true, _) => "all proved",
        (false, 1) => "NOT PROVED: do not cut",
        (false, _) => "NOT all PROVED: do not cut",
    };
    let form_error = sheet.measured.form_error_max_mm.map_or(String::new(), |error| {
        format!(", off the drawn section by at most {}", unit.show(error.abs()))
    });
    svg.line("carved", [27.0, 265.2], [35.0, 265.2]);
    let words = [
        format!("carved by {}{form_error}; {verdict}.", sheet.carved_by()),
        format!(
            "What a program may get wrong: lead {}, index {}\u{b0}, depth {}, crest flat {}, form {}.",
            size(unit, passes.lead_mm),
            passes.index_deg,
            size(unit, passes.radius_mm),
            size(unit, passes.crest_flat_mm),
            size(unit, passes.form_mm)
        ),
        "Stations count from the nose face; A0 is where the first start passes it.".to_owned(),
        "Thread symbol after ISO 6410. Outline of the blank in double-dotted dashes.".to_owned(),
    ];
    for (index, line) in words.iter().enumerate() {
        // The first stands behind a piece of the line that it speaks of.
        let left = if index == 0 { 37.0 } else { 27.0 };
        svg.text("words", [left, 266.0 + 5.0 * index as f64], Anchor::Start, 0.0, line);
    }
}

/// The sign of first-angle projection (ISO 5456-2, from memory): a cone's side view left of its end.
fn projection_sign(svg: &mut Svg, [x, y]: [f64; 2]) {
    let (half, tip) = (2.5, 1.25);
    svg.polyline(
        "thin",
        [[x, y - tip], [x + 5.0, y - half], [x + 5.0, y + half], [x, y + tip]].map(Some),
        true,
    );
    svg.line("centre", [x - 1.5, y], [x + 14.5, y]);
    svg.line("centre", [x + 10.0, y - 4.0], [x + 10.0, y + 4.0]);
    svg.circle("thin", [x + 10.0, y], half);
    svg.circle("thin", [x + 10.0, y], tip);
}
