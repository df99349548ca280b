//! The screw from the side: as a thread symbol with its dimensions, and in true form. Places in mm of paper.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use super::super::svg::{Anchor, At, Svg};
use super::form::Form;
use super::lines::{across, leader, upright};
use super::parts::flats;
use super::{Sheet, size};

/// From stations to paper.
#[derive(Clone, Copy, Debug)]
pub(super) struct Axis {
    /// Paper per mm.
    pub(super) scale: f64,
    left: f64,
    from_s: f64,
    /// The stretch of thread that is left out between break lines.
    left_out: Option<[f64; 2]>,
}

/// Left edge of the views.
const LEFT: f64 = 34.0;
/// Middle of the views from the end.
pub(super) const END_X: f64 = 369.0;

impl Axis {
    /// The whole blank, or all of it but a stretch in the middle of its thread.
    pub(super) fn new(sheet: &Sheet<'_>, (scale, _): (f64, &str)) -> Axis {
        let (blank, drawing) = (&sheet.setup.blank, sheet.drawing);
        let over = (blank.to_s_mm - blank.from_s_mm) - VIEW_LONG / scale;
        let middle = f64::midpoint(drawing.full_from_s_mm, drawing.full_to_s_mm);
        let half = f64::midpoint(over, BREAK_MM / scale);
        let left_out = (over > 0.0).then_some([middle - half, middle + half]);
        Axis { scale, left: LEFT, from_s: blank.from_s_mm, left_out }
    }

    pub(super) fn x(&self, s_mm: f64) -> f64 {
        let to_scale = |s: f64| self.left + (s - self.from_s) * self.scale;
        match self.left_out {
            Some([from, to]) if s_mm > from => {
                let share = ((s_mm - from) / (to - from)).min(1.0);
                to_scale(from) + BREAK_MM * share + (s_mm - to).max(0.0) * self.scale
            }
            _ => to_scale(s_mm),
        }
    }

    /// Break lines over a view, with nothing between them (ISO 128-3, from memory: narrow, with zigzags).
    fn break_lines(&self, svg: &mut Svg, y: f64, half: f64) {
        let Some([from, to]) = self.left_out else {
            return;
        };
        let (left, right) = (self.x(from), self.x(to));
        let (top, bottom) = (y - half - 3.0, y + half + 3.0);
        let high = bottom - top;
        svg.put(&format!(
            r##"<rect x="{left:.2}" y="{top:.2}" width="{:.2}" height="{high:.2}" fill="#fff"/>"##,
            right - left
        ));
        for x in [left, right] {
            let zig =
                [[x, top], [x, y - 2.0], [x - 1.2, y - 0.7], [x + 1.2, y + 0.7], [x, y + 2.0], [x, bottom]];
            svg.polyline("thin", zig.map(Some), false);
        }
    }
}

/// Width of the views on paper, and of the gap between break lines, mm.
const VIEW_LONG: f64 = 285.0;
const BREAK_MM: f64 = 3.0;

/// The stretch that may be left out of a view, as a share of the thread: what is left still shows how it runs.
pub(super) fn fits(sheet: &Sheet<'_>, scale: f64) -> bool {
    let (blank, drawing) = (&sheet.setup.blank, sheet.drawing);
    let over = (blank.to_s_mm - blank.from_s_mm) - (VIEW_LONG - BREAK_MM) / scale;
    over <= MOST_LEFT_OUT * (drawing.full_to_s_mm - drawing.full_from_s_mm)
}

const MOST_LEFT_OUT: f64 = 0.5;

/// The screw as ISO 6410-1 draws threads: crests thick, roots thin, a thick line where the full thread ends. Where the
/// blank reaches beyond it, its outline stands in double-dotted dashes.
pub(super) fn symbol(svg: &mut Svg, sheet: &Sheet<'_>, form: &Form<'_>, axis: &Axis, y: f64) {
    let (drawing, blank) = (sheet.drawing, &sheet.setup.blank);
    let crest = drawing.crest_diameter_mm / 2.0 * axis.scale;
    let root = drawing.root_diameter_mm / 2.0 * axis.scale;
    let [nose, from, to, out, head] =
        [0.0, drawing.full_from_s_mm, drawing.full_to_s_mm, drawing.run_out_to_s_mm, drawing.head_s_mm]
            .map(|s| axis.x(s));
    let (start, end) = (axis.x(blank.from_s_mm), axis.x(blank.to_s_mm));
    svg.line("centre", [start - 5.0, y], [end + 5.0, y]);
    if from > nose {
        svg.polyline(
            "thick",
            [[from, y - root], [nose, y - root], [nose, y + root], [from, y + root]].map(Some),
            false,
        );
    }
    bare_outline(svg, form, axis, y, drawing.full_from_s_mm);
    let chamfer = form.corners().get(1).copied().filter(|_| form.reach(0.0) < form.crest());
    for side in [-1.0, 1.0] {
        // Roots are drawn from where the nose is as thick as they are.
        let begin = chamfer.map_or(from, |s| axis.x(s * nose_share(form, s)));
        svg.line("thin", [begin, y + side * root], [to, y + side * root]);
        if !drawing.ends_in_relief && sheet.job.operations.relief.is_none() {
            svg.line("thin", [to, y + side * root], [out, y + side * crest]);
        }
    }
    svg.line("thick", [to, y - crest], [to, y + crest]);
    flats(svg, form, axis, y);
    let rough = blank.size_mm / 2.0 * axis.scale;
    for (a, b) in [(start, nose), (end, head)] {
        if (a - b).abs() > 0.1 {
            svg.polyline(
                "before",
                [[b, y - rough], [a, y - rough], [a, y + rough], [b, y + rough]].map(Some),
                false,
            );
        }
    }
    axis.break_lines(svg, y, crest);
    dimensions(svg, sheet, form, axis, y, crest);
}

/// Share of a nose's length over which it is thinner than the roots.
fn nose_share(form: &Form<'_>, long: f64) -> f64 {
    let (low, high) = (form.reach(0.0), form.reach(long));
    if high > low { ((form.root() - low) / (high - low)).clamp(0.0, 1.0) } else { 0.0 }
}

/// The outline of what is not thread, from a station to the head, with a line across at every edge.
fn bare_outline(svg: &mut Svg, form: &Form<'_>, axis: &Axis, y: f64, from: f64) {
    let mut corners = form.corners();
    corners.retain(|&s| s > from);
    corners.insert(0, from);
    let places: Vec<[f64; 2]> = corners
        .windows(2)
        .flat_map(|pair| {
            let inside = EDGE_MM.min((pair[1] - pair[0]) / 4.0);
            let at = |s: f64, near: f64| [axis.x(s), form.reach(near) * axis.scale];
            [at(pair[0], pair[0] + inside), at(pair[1], pair[1] - inside)]
        })
        .collect();
    for side in [-1.0, 1.0] {
        svg.polyline("thick", places.iter().map(|&[x, r]| Some([x, y + side * r])), false);
    }
    let ends = [places.first(), places.last()].into_iter().flatten().map(|&[x, r]| (x, r));
    // Where two straight pieces meet there is an edge to be seen, except between the pieces of a round-over.
    let edges = places.windows(2).skip(1).step_by(2).map(|pair| (pair[0][0], pair[0][1].max(pair[1][1])));
    let smooth = |x: f64, next: f64| (x - next).abs() < 0.4;
    let mut last = f64::NEG_INFINITY;
    for (x, r) in edges.chain(ends) {
        if !smooth(x, last) {
            svg.line("thick", [x, y - r], [x, y + r]);
        }
        last = x;
    }
}

/// How far from an edge the outline is asked beside it, mm.
const EDGE_MM: f64 = 1e-3;

fn dimensions(svg: &mut Svg, sheet: &Sheet<'_>, form: &Form<'_>, axis: &Axis, y: f64, crest: f64) {
    let (drawing, blank) = (sheet.drawing, &sheet.setup.blank);
    let unit = drawing.unit;
    let mut chain = vec![(blank.from_s_mm, 0.0), (0.0, drawing.full_from_s_mm)];
    chain.push((drawing.full_from_s_mm, drawing.full_to_s_mm));
    chain.push((drawing.full_to_s_mm, drawing.run_out_to_s_mm));
    let behind = form.corners().into_iter().filter(|&s| s > drawing.run_out_to_s_mm + EDGE_MM);
    let mut at = drawing.run_out_to_s_mm;
    for s in behind {
        chain.push((at, s));
        at = s;
    }
    chain.push((drawing.head_s_mm, blank.to_s_mm));
    for (index, (a, b)) in chain.into_iter().enumerate() {
        if b - a > 0.0 {
            // The short run-out stands a line higher, so that its figure runs into no other.
            let row = if index == 3 { 13.5 } else { 7.0 };
            across(svg, [axis.x(a), y + crest], [axis.x(b), y + crest], y + crest + row, &size(unit, b - a));
        }
    }
    let [nose, head] = [axis.x(0.0), axis.x(drawing.head_s_mm)];
    across(svg, [nose, y + crest], [head, y + crest], y + crest + 20.0, &size(unit, drawing.head_s_mm));
    let [start, end] = [axis.x(blank.from_s_mm), axis.x(blank.to_s_mm)];
    let long = format!("blank {}", size(unit, blank.to_s_mm - blank.from_s_mm));
    across(svg, [start, y + crest], [end, y + crest], y + crest + 26.0, &long);
    let diameter = format!("\u{2300}{}", size(unit, drawing.crest_diameter_mm));
    upright(svg, [head, y - crest], [head, y + crest], end + 9.0, &diameter);
    let root = drawing.root_diameter_mm / 2.0 * axis.scale;
    let core = format!("\u{2300}{}", size(unit, drawing.root_diameter_mm));
    let left = axis.x(drawing.full_from_s_mm);
    upright(svg, [left, y - root], [left, y + root], start - 5.0, &core);
    let pitch = drawing.lead_mm / f64::from(drawing.starts);
    let hand = drawing.hand.name();
    let words = if drawing.starts == 1 {
        format!(
            "{hand}-hand thread \u{2300}{} x {}",
            size(unit, drawing.crest_diameter_mm),
            size(unit, pitch)
        )
    } else {
        format!(
            "{hand}-hand thread \u{2300}{} x lead {} (pitch {}, {} starts)",
            size(unit, drawing.crest_diameter_mm),
            size(unit, drawing.lead_mm),
            size(unit, pitch),
            drawing.starts
        )
    };
    let at = [axis.x((3.0 * drawing.full_from_s_mm + drawing.full_to_s_mm) / 4.0), y - crest];
    leader(svg, at, [at[0] + 9.0, y - crest - 8.0], &words);
}

/// Steps of angle along an edge of the thread.
const STEPS_PER_TURN: usize = 120;

/// The screw as it looks: its outline, and the edges of crest and root where nothing hides them.
pub(super) fn true_form(svg: &mut Svg, sheet: &Sheet<'_>, form: &Form<'_>, axis: &Axis, y: f64) {
    let drawing = sheet.drawing;
    let (nose, head) = (axis.x(0.0), axis.x(drawing.head_s_mm));
    svg.line("centre", [nose - 5.0, y], [head + 5.0, y]);
    let crest = form.crest() * axis.scale;
    let from = drawing.full_from_s_mm;
    // The outline: for each station the farthest that any point of the surface reaches up and down.
    let mut stations = form.corners();
    let steps = ((drawing.head_s_mm - from) * axis.scale / 0.2).ceil().max(1.0) as usize;
    stations.extend((0..=steps).map(|i| from + (drawing.head_s_mm - from) * i as f64 / steps as f64));
    let beside: Vec<f64> = form.corners().into_iter().flat_map(|s| [s - EDGE_MM, s + EDGE_MM]).collect();
    stations.extend(beside);
    stations.retain(|&s| s >= from && s <= drawing.head_s_mm);
    stations.sort_by(f64::total_cmp);
    for side in [-1.0, 1.0] {
        let edge =
            stations.iter().map(|&s| Some([axis.x(s), y - side * outline(form, s, side) * axis.scale]));
        svg.polyline("thick", edge, false);
    }
    let across = |svg: &mut Svg, s: f64, near: f64| {
        let ends = [1.0, -1.0].map(|side| [axis.x(s), y - side * outline(form, near, side) * axis.scale]);
        svg.line("thick", ends[0], ends[1]);
    };
    for s in form.corners().into_iter().filter(|&s| s > drawing.full_to_s_mm - EDGE_MM) {
        let near = if form.reach(s - EDGE_MM) > form.reach(s + EDGE_MM) { s - EDGE_MM } else { s + EDGE_MM };
        across(svg, s, near.min(drawing.head_s_mm - EDGE_MM));
    }
    across(svg, from, from);
    flats(svg, form, axis, y);
    if from > 0.0 {
        let root = form.root() * axis.scale;
        let left = axis.x(from);
        svg.polyline(
            "thick",
            [[left, y - root], [nose, y - root], [nose, y + root], [left, y + root]].map(Some),
            false,
        );
    }
    let turns = (drawing.run_out_to_s_mm - from) / drawing.lead_mm;
    for start in 0..drawing.starts {
        for (depth_share, class) in [(0.0, "thick"), (1.0, "thin")] {
            for side in [-1.0, 1.0] {
                edge(
                    svg,
                    form,
                    axis,
                    y,
                    [from, drawing.run_out_to_s_mm],
                    turns,
                    (start, depth_share, side),
                    class,
                );
            }
        }
    }
    axis.break_lines(svg, y, crest);
    svg.text("name", [nose, y - crest - 5.0], Anchor::Start, 0.0, "true form");
}

/// How far the surface reaches at a station, up (+1) or down (-1), seen with angle 0 on top. Stations count to the
/// right, so a quarter turn on faces the viewer.
fn outline(form: &Form<'_>, s: f64, side: f64) -> f64 {
    let looks = 60;
    (0..=looks)
        .map(|i| {
            let theta =
                if side > 0.0 { 0.0 } else { PI } + (f64::from(i) / f64::from(looks) - 0.5) * FRAC_PI_2;
            (form.radius(s, theta) * theta.cos()).abs()
        })
        .fold(0.0, f64::max)
}

/// One edge of one groove, where it faces the viewer and nothing stands before it.
#[expect(clippy::too_many_arguments, reason = "an edge has that many sides, and only one place draws it")]
fn edge(
    svg: &mut Svg,
    form: &Form<'_>,
    axis: &Axis,
    y: f64,
    [from, to]: [f64; 2],
    turns: f64,
    (start, depth_share, side): (u32, f64, f64),
    class: &str,
) {
    let first = form.groove_s(start, 0.0);
    let hand = (form.groove_s(start, TAU) - first).signum();
    let begin = hand * ((from - first) / (turns.max(f64::MIN_POSITIVE).recip() * (to - from))).floor() * TAU
        - hand * TAU;
    let count = ((turns + 3.0) * STEPS_PER_TURN as f64) as usize;
    let places = (0..=count).map(|i| {
        let theta = begin + hand * TAU * i as f64 / STEPS_PER_TURN as f64;
        let middle = form.groove_s(start, theta);
        let lift = form.lift(middle);
        let radius = if depth_share > 0.5 { form.root() + lift } else { form.crest() };
        let s = middle + side * form.half_width((radius - lift).max(form.root()));
        let stands = radius <= form.bare(s, theta) + EDGE_MM;
        let inside = s >= from && middle <= to && theta.sin() > -0.02 && stands;
        let (up, near) = (radius * theta.cos(), radius * theta.sin());
        let seen: At = [axis.x(s), y - up * axis.scale];
        (inside && !hidden(form, s, up, near)).then_some(seen)
    });
    svg.polyline(class, places, false);
}

/// Whether wood stands between a point and the viewer.
fn hidden(form: &Form<'_>, s: f64, up: f64, near: f64) -> bool {
    let front = (form.crest().powi(2) - up * up).max(0.0).sqrt();
    let looks = 24;
    (1..looks).any(|i| {
        let towards = near + (front - near) * f64::from(i) / f64::from(looks);
        let theta = towards.atan2(up).rem_euclid(TAU);
        up.hypot(towards) < form.radius(s, theta) - STANDS_BEFORE_MM
    })
}

/// Wood that rises less than this above the line of sight hides nothing, mm.
const STANDS_BEFORE_MM: f64 = 0.05;
