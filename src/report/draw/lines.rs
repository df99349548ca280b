//! Lines, arrows and dimensions as ISO 128 and ISO 129 have them. Places in mm of paper.

use super::super::svg::{Anchor, At, Svg};

/// Line classes: ISO 128-2:2020 table 1 (numbers from memory). Thick is twice as wide as thin; heights of letters are
/// those of ISO 3098 (from memory).
pub(super) const STYLE: &str = "\
path, circle { fill: none; stroke: #000; stroke-linecap: round; stroke-linejoin: round; }
text { paint-order: stroke; stroke: #fff; stroke-width: .8; stroke-linejoin: round; font-family: 'Liberation Sans', Arial, Helvetica, sans-serif; font-size: 2.5px; fill: #000; }
.thick { stroke-width: .5; }
.thin { stroke-width: .25; }
.centre { stroke-width: .25; stroke-dasharray: 6 .75 .01 .75; }
.before { stroke-width: .25; stroke-dasharray: 6 .75 .01 .75 .01 .75; }
.air { stroke-width: .25; stroke-dasharray: 1.5 1; }
.hatch { stroke-width: .18; stroke: #555; }
.carved { stroke: #0072b2; stroke-width: .35; stroke-dasharray: 2 1; }
.path { stroke: #0072b2; stroke-width: .35; }
.arrow { fill: #000; stroke: none; }
.wood { fill: #f1e3c8; stroke: none; }
.nut { fill: #dcc7a0; stroke: none; }
.large { font-size: 5px; }
.name { font-size: 3.5px; }
.small { font-size: 2px; }
";

const ARROW_MM: f64 = 2.5;
/// Half the opening of an arrowhead: 15 degrees between its sides.
const ARROW_SLOPE: f64 = 0.131_652;

/// A closed filled arrowhead with its point at `at`, flying in a direction of length one.
pub(super) fn arrow(svg: &mut Svg, at: At, way: At) {
    let back = [at[0] - ARROW_MM * way[0], at[1] - ARROW_MM * way[1]];
    let off = [-way[1] * ARROW_MM * ARROW_SLOPE, way[0] * ARROW_MM * ARROW_SLOPE];
    let corners = [at, [back[0] + off[0], back[1] + off[1]], [back[0] - off[0], back[1] - off[1]]];
    svg.polyline("arrow", corners.map(Some), true);
}

/// Gap between a drawn edge and its extension line, and how far that passes the dimension line.
const GAP_MM: f64 = 0.8;
const PAST_MM: f64 = 1.6;
/// Width of a letter of height 2.5, about.
pub(super) const LETTER_MM: f64 = 1.45;
/// The same in a sentence, whose small letters are narrower than figures.
const SHELF_MM: f64 = 1.25;

/// A dimension along the paper's width: extension lines from `from_y` of each end to the dimension line at `y`.
pub(super) fn across(svg: &mut Svg, [x0, y0]: At, [x1, y1]: At, y: f64, text: &str) {
    let way = if y > y0 { 1.0 } else { -1.0 };
    svg.line("thin", [x0, y0 + way * GAP_MM], [x0, y + way * PAST_MM]);
    svg.line("thin", [x1, y1 + way * GAP_MM], [x1, y + way * PAST_MM]);
    let long = LETTER_MM * text.chars().count() as f64;
    if x1 - x0 >= 2.2 * ARROW_MM {
        svg.line("thin", [x0, y], [x1, y]);
        arrow(svg, [x0, y], [-1.0, 0.0]);
        arrow(svg, [x1, y], [1.0, 0.0]);
    } else {
        svg.line("thin", [x0 - 5.0, y], [x1 + 5.0, y]);
        arrow(svg, [x0, y], [1.0, 0.0]);
        arrow(svg, [x1, y], [-1.0, 0.0]);
    }
    if x1 - x0 > long {
        svg.text("words", [f64::midpoint(x0, x1), y - 0.8], Anchor::Middle, 0.0, text);
    } else {
        let behind = if x1 - x0 >= 2.2 * ARROW_MM { 1.0 } else { 5.5 };
        if behind < 2.0 {
            svg.line("thin", [x1, y], [x1 + 1.0 + long, y]);
        }
        svg.text("words", [x1 + behind, y - 0.8], Anchor::Start, 0.0, text);
    }
}

/// A dimension along the paper's height, its text reading from the right.
pub(super) fn upright(svg: &mut Svg, [x0, y0]: At, [x1, y1]: At, x: f64, text: &str) {
    let way = if x > x0 { 1.0 } else { -1.0 };
    svg.line("thin", [x0 + way * GAP_MM, y0], [x + way * PAST_MM, y0]);
    svg.line("thin", [x1 + way * GAP_MM, y1], [x + way * PAST_MM, y1]);
    let inside = y1 - y0 >= 2.2 * ARROW_MM;
    let reach = if inside { 0.0 } else { 5.0 };
    svg.line("thin", [x, y0 - reach], [x, y1 + reach]);
    let sign = if inside { -1.0 } else { 1.0 };
    arrow(svg, [x, y0], [0.0, sign]);
    arrow(svg, [x, y1], [0.0, -sign]);
    let long = LETTER_MM * text.chars().count() as f64;
    if y1 - y0 > long {
        svg.text("words", [x - 0.8, f64::midpoint(y0, y1)], Anchor::Middle, -90.0, text);
    } else {
        svg.text("words", [x - 0.8, y0 - reach - 0.5], Anchor::Start, -90.0, text);
    }
}

/// A leader from a place to a text that stands on a short shelf.
pub(super) fn leader(svg: &mut Svg, from: At, to: At, text: &str) {
    let way = [from[0] - to[0], from[1] - to[1]];
    let long = way[0].hypot(way[1]).max(f64::MIN_POSITIVE);
    svg.line("thin", from, to);
    arrow(svg, from, [way[0] / long, way[1] / long]);
    let shelf = SHELF_MM * text.chars().count() as f64;
    svg.line("thin", to, [to[0] + shelf, to[1]]);
    svg.text("words", [to[0] + 0.5, to[1] - 0.8], Anchor::Start, 0.0, text);
}

/// A leader from a place to a text that stands to the left of it.
pub(super) fn shelf_left(svg: &mut Svg, from: At, to: At, text: &str) {
    let way = [from[0] - to[0], from[1] - to[1]];
    let long = way[0].hypot(way[1]).max(f64::MIN_POSITIVE);
    svg.line("thin", from, to);
    arrow(svg, from, [way[0] / long, way[1] / long]);
    svg.line("thin", to, [to[0] - SHELF_MM * text.chars().count() as f64, to[1]]);
    svg.text("words", [to[0] - 0.5, to[1] - 0.8], Anchor::End, 0.0, text);
}

/// Hatching at 45 degrees inside a polygon given as columns: for each x the top and bottom y.
pub(super) fn hatch(svg: &mut Svg, columns: &[(f64, f64, f64)], spacing: f64) {
    let (Some(first), Some(last)) = (columns.first(), columns.last()) else {
        return;
    };
    let lowest = columns.iter().map(|column| column.2).fold(f64::NEG_INFINITY, f64::max);
    let highest = columns.iter().map(|column| column.1).fold(f64::INFINITY, f64::min);
    // A hatching line is x + y = constant; it is drawn where it runs inside.
    let mut sum = ((first.0 + highest) / spacing).ceil() * spacing;
    while sum < last.0 + lowest {
        let inside = columns.iter().map(|&(x, top, bottom)| {
            let y = sum - x;
            (y >= top && y <= bottom).then_some([x, y])
        });
        let mut stretch: Vec<At> = Vec::new();
        for at in inside.chain([None]) {
            if let Some(at) = at {
                stretch.push(at);
                continue;
            }
            if let [from, .., to] = stretch[..] {
                svg.line("hatch", from, to);
            }
            stretch.clear();
        }
        sum += spacing;
    }
}
