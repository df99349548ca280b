//! Drawings of the set-up sheet: the blank between chuck and centre with the screw inside it, the blank from its end
//! with the way A turns, and each cutter in its collet. Lengths along the blank are to scale.

use std::fmt::Write;

use super::Sheet;
use crate::design;
use crate::drawing::Drawing;
use crate::job::NoseShape;
use crate::setup::{BlankShape, Cutter, Setup, Tip, TopTurns, XEnd, ZZero};

/// Width and height of the side view, in its own units.
const SIDE: [f64; 2] = [960.0, 282.0];
/// Height of the axis in the side view.
const AXIS_Y: f64 = 126.0;
/// Least height of the blank, so that a slim one can be seen.
const LEAST_BLANK: f64 = 62.0;
/// Greatest height of chuck or blank.
const MOST_HIGH: f64 = 168.0;
/// Length of chuck shown beyond the grip, and of the tail centre, mm.
const BEYOND_MM: f64 = 22.0;
const CENTRE_MM: f64 = 46.0;

/// A drawing being put together.
struct Pen {
    svg: String,
}

impl Pen {
    fn new(width: f64, height: f64, title: &str) -> Self {
        let mut svg = String::new();
        let _ = write!(
            svg,
            r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" role="img"><title>{}</title>"#,
            super::page::escaped(title)
        );
        Pen { svg }
    }

    fn line(&mut self, class: &str, [x1, y1]: [f64; 2], [x2, y2]: [f64; 2]) {
        let _ = write!(
            self.svg,
            r#"<line class="{class}" x1="{x1:.1}" y1="{y1:.1}" x2="{x2:.1}" y2="{y2:.1}"/>"#
        );
    }

    fn rect(&mut self, class: &str, [x, y]: [f64; 2], [width, height]: [f64; 2]) {
        let _ = write!(
            self.svg,
            r#"<rect class="{class}" x="{x:.1}" y="{y:.1}" width="{width:.1}" height="{height:.1}" rx="1.5"/>"#
        );
    }

    fn polygon(&mut self, class: &str, points: &[[f64; 2]]) {
        let points: Vec<String> = points.iter().map(|[x, y]| format!("{x:.1},{y:.1}")).collect();
        let _ = write!(self.svg, r#"<polygon class="{class}" points="{}"/>"#, points.join(" "));
    }

    fn text(&mut self, class: &str, [x, y]: [f64; 2], anchor: &str, words: &str) {
        let words = super::page::escaped(words);
        let _ = write!(
            self.svg,
            r#"<text class="{class}" x="{x:.1}" y="{y:.1}" text-anchor="{anchor}">{words}</text>"#
        );
    }

    fn arrow(&mut self, class: &str, from: [f64; 2], to: [f64; 2]) {
        self.line(class, from, to);
        self.head(class, from, to);
    }

    /// The head of an arrow.
    fn head(&mut self, class: &str, [x1, y1]: [f64; 2], [x2, y2]: [f64; 2]) {
        let angle = (y2 - y1).atan2(x2 - x1);
        let wing = |turn: f64| [x2 - 8.0 * (angle + turn).cos(), y2 - 8.0 * (angle + turn).sin()];
        self.polygon(&format!("{class} head"), &[[x2, y2], wing(0.42), wing(-0.42)]);
    }

    fn done(mut self) -> String {
        self.svg.push_str("</svg>");
        self.svg
    }
}

/// The side view: what the operator sees from the front.
struct Side {
    /// +1 where the head stands on the right.
    towards_head: f64,
    /// Place of the nose face.
    nose_x: f64,
    scale: f64,
    up: f64,
}

impl Side {
    fn of(setup: &Setup) -> Self {
        let blank = &setup.blank;
        let side = setup.machine.headstock.sign();
        let (tail, head) = (blank.from_s_mm - CENTRE_MM, blank.to_s_mm + BEYOND_MM);
        let scale = (SIDE[0] - 20.0) / (head - tail);
        let nose_x = if side > 0.0 { 10.0 - tail * scale } else { SIDE[0] - 10.0 + tail * scale };
        let up = scale.max(LEAST_BLANK / blank.size_mm).min(MOST_HIGH / blank.size_mm);
        Side { towards_head: side, nose_x, scale, up }
    }

    fn at(&self, s_mm: f64, r_mm: f64) -> [f64; 2] {
        [self.nose_x + self.towards_head * s_mm * self.scale, AXIS_Y - r_mm * self.up]
    }

    /// A box between two stations, as high as a diameter.
    fn bar(&self, pen: &mut Pen, class: &str, [from, to]: [f64; 2], diameter: f64) {
        let ([a, top], [b, _]) = (self.at(from, diameter / 2.0), self.at(to, 0.0));
        let top = top.max(AXIS_Y - MOST_HIGH / 2.0);
        pen.rect(class, [a.min(b), top], [(a - b).abs(), 2.0 * (AXIS_Y - top)]);
    }
}

/// The blank between chuck and tail centre, the screw in it, the zeros and the lengths.
pub(super) fn side(sheet: &Sheet<'_>) -> String {
    let setup = sheet
        .rows
        .first()
        .map_or_else(|| design::setup(sheet.job, sheet.screw), |row| row.step.setup.clone());
    let drawing = design::drawing(sheet.job, sheet.screw);
    let view = Side::of(&setup);
    let mut pen = Pen::new(SIDE[0], SIDE[1], "the blank on the machine, seen from the front");
    let blank = &setup.blank;
    let stands = 2.0 * design::blank_radius_mm(&sheet.job.blank);
    // Chuck and centre.
    view.bar(
        &mut pen,
        "steel",
        [blank.chuck_face_s_mm, blank.to_s_mm + BEYOND_MM],
        setup.machine.chuck.diameter_mm,
    );
    if let Some(centre) = setup.machine.centre {
        let tip = (centre.diameter_mm / 2.0) / (centre.angle_deg / 2.0).to_radians().tan();
        let sunk = tip * 0.3;
        let r = centre.diameter_mm / 2.0;
        let points = [(sunk, 0.0), (sunk - tip, r), (-CENTRE_MM, r), (-CENTRE_MM, -r), (sunk - tip, -r)];
        let points = points.map(|(s, r)| view.at(blank.from_s_mm + s, r));
        pen.polygon("steel", &points);
    }
    // The blank with its corners, and the screw in it.
    view.bar(&mut pen, "blank", [blank.from_s_mm, blank.to_s_mm], stands);
    if blank.shape != BlankShape::Round {
        let edge = match blank.shape {
            BlankShape::Square => 0.0,
            _ => blank.size_mm / 2.0 * (std::f64::consts::PI / 8.0).tan(),
        };
        for r in [edge, -edge] {
            pen.line("edge", view.at(blank.from_s_mm, r), view.at(blank.chuck_face_s_mm, r));
        }
    }
    screw(&mut pen, &view, sheet, &drawing);
    zeros(&mut pen, &view, sheet, &setup);
    lengths(&mut pen, &view, sheet, &setup, &drawing);
    pen.done()
}

/// Upper outline of the finished screw, grooves of the thread left out.
fn outline(sheet: &Sheet<'_>, drawing: &Drawing) -> Vec<(f64, f64)> {
    let (crest, root) = (drawing.crest_diameter_mm / 2.0, drawing.root_diameter_mm / 2.0);
    let asked = &sheet.job.operations;
    let mut points = Vec::new();
    match asked.nose.as_ref().map(|nose| nose.shape) {
        None => points.push((0.0, crest)),
        Some(NoseShape::Taper { length_mm }) => points.extend([(0.0, root), (length_mm, crest)]),
        Some(NoseShape::Chamfer { length_mm }) => {
            let slope = 1.0 / sheet.screw.shape().tan_half();
            points.extend([(0.0, (crest - length_mm * slope).max(0.0)), (length_mm, crest)]);
        }
        Some(NoseShape::RoundOver { radius_mm }) => points.extend((0..=8).map(|i| {
            let angle = f64::from(i) / 8.0 * std::f64::consts::FRAC_PI_2;
            (radius_mm * (1.0 - angle.cos()), crest - radius_mm * (1.0 - angle.sin()))
        })),
    }
    if let Some(relief) = &asked.relief {
        let r = relief.diameter_mm.map_or(root, |diameter| diameter / 2.0);
        let (from, to) = (drawing.full_to_s_mm, drawing.run_out_to_s_mm);
        points.extend([(from, crest), (from, r), (to, r), (to, crest)]);
    }
    let shoulder = drawing.head_s_mm - asked.tenon.as_ref().map_or(0.0, |tenon| tenon.length_mm);
    if let Some(garter) = &asked.garter {
        let to = shoulder - garter.from_shoulder_mm;
        let (from, r) = (to - garter.width_mm, garter.diameter_mm / 2.0);
        points.extend([(from, crest), (from, r), (to, r), (to, crest)]);
    }
    if let Some(tenon) = &asked.tenon {
        let r = tenon.flats.map_or(tenon.diameter_mm, |flats| flats.across_mm) / 2.0;
        points.extend([(shoulder, crest), (shoulder, r), (drawing.head_s_mm, r)]);
    } else {
        points.push((drawing.head_s_mm, crest));
    }
    points
}

fn screw(pen: &mut Pen, view: &Side, sheet: &Sheet<'_>, drawing: &Drawing) {
    let upper = outline(sheet, drawing);
    let lower = upper.iter().rev().map(|&(s, r)| view.at(s, -r));
    let points: Vec<[f64; 2]> = upper.iter().map(|&(s, r)| view.at(s, r)).chain(lower).collect();
    pen.polygon("screw", &points);
    // Grooves: notches on both edges and their lines across; a right-hand thread leans like a backslash.
    let (crest, root) = (drawing.crest_diameter_mm / 2.0, drawing.root_diameter_mm / 2.0);
    let pitch = drawing.lead_mm / f64::from(drawing.starts);
    let half = sheet.screw.crest_width_mm / 2.0;
    let floor = drawing.section.first().map_or(0.0, |point| point.half_width_mm);
    let lean = drawing.lead_mm / 2.0 * drawing.hand.sign() * view.towards_head;
    let nose = upper.iter().find(|(_, r)| *r >= crest).map_or(0.0, |(s, _)| *s);
    let inside = |s: f64| s - half >= nose.max(drawing.full_from_s_mm) && s + half <= drawing.full_to_s_mm;
    let count = (drawing.run_out_to_s_mm / pitch).ceil() as i32 + 2 * drawing.starts as i32;
    for k in -count..count {
        let top = f64::from(k) * pitch + pitch / 2.0;
        let bottom = top + lean;
        for (s, sign) in [(top, 1.0), (bottom, -1.0)] {
            if inside(s) {
                let notch =
                    [(s - half, crest + 0.3), (s - floor, root), (s + floor, root), (s + half, crest + 0.3)];
                pen.polygon("notch", &notch.map(|(s, r)| view.at(s, sign * r)));
            }
        }
        if inside(top) && inside(bottom) {
            for (off, r, class) in [
                (-half, crest, "groove"),
                (half, crest, "groove"),
                (-floor, root, "floor"),
                (floor, root, "floor"),
            ] {
                pen.line(class, view.at(top + off, r), view.at(bottom + off, -r));
            }
        }
    }
}

fn zeros(pen: &mut Pen, view: &Side, sheet: &Sheet<'_>, setup: &Setup) {
    let blank = &setup.blank;
    let [nose_x, _] = view.at(0.0, 0.0);
    let top = AXIS_Y - MOST_HIGH / 2.0 - 22.0;
    pen.line("zero", [nose_x, top], [nose_x, AXIS_Y + MOST_HIGH / 2.0 + 8.0]);
    let x_way = 60.0;
    // X counts up to the right, as seen from the front.
    pen.arrow(
        "zero",
        [nose_x, top + 4.0],
        [nose_x + if nose_x + x_way + 30.0 < SIDE[0] { x_way } else { 40.0 }, top + 4.0],
    );
    pen.text("zero", [nose_x - 6.0, top + 9.0], "end", "X0");
    let end = if nose_x + x_way + 30.0 < SIDE[0] { nose_x + x_way + 6.0 } else { nose_x + 46.0 };
    pen.text("zero", [end, top + 9.0], "start", "X+");
    let z = match sheet.job.machine.z_zero {
        ZZero::Axis => 0.0,
        ZZero::FinishedSurface => sheet.screw.crest_radius_mm,
    };
    let (left, right) = (view.at(blank.from_s_mm - CENTRE_MM, z), view.at(blank.to_s_mm + BEYOND_MM, z));
    pen.line("axis", left, right);
    let at = 0.55 * (left[0] + right[0]);
    pen.arrow("zero", [at, left[1]], [at, left[1] - 46.0]);
    pen.text("zero halo", [at + 7.0, left[1] - 36.0], "start", "Z+");
    pen.text("zero halo", [at + 7.0, left[1] - 5.0], "start", "Z0");
    // The mark across blank and chuck.
    let [mark, y] = view.at(blank.chuck_face_s_mm, design::blank_radius_mm(&sheet.job.blank));
    let y = y.max(AXIS_Y - MOST_HIGH / 2.0);
    pen.polygon("mark", &[[mark, y], [mark - 6.0, y - 12.0], [mark + 6.0, y - 12.0]]);
    let over = AXIS_Y - MOST_HIGH / 2.0 - 8.0;
    pen.line("leader", [mark, y - 12.0], [mark, over + 3.0]);
    pen.text("mark", [mark, over], "middle", "A0 mark, on top");
    let tail = if sheet.job.machine.headstock == XEnd::XMinus {
        ["headstock", "tail centre"]
    } else {
        ["tail centre", "headstock"]
    };
    pen.text("name", [10.0, SIDE[1] - 62.0], "start", tail[0]);
    pen.text("name", [SIDE[0] - 10.0, SIDE[1] - 62.0], "end", tail[1]);
}

/// Lengths below the blank: waste, screw, waste, grip.
fn lengths(pen: &mut Pen, view: &Side, sheet: &Sheet<'_>, setup: &Setup, drawing: &Drawing) {
    let blank = &setup.blank;
    let y = SIDE[1] - 40.0;
    let parts = [
        (blank.from_s_mm, 0.0, "waste"),
        (0.0, drawing.head_s_mm, "screw"),
        (drawing.head_s_mm, blank.to_s_mm, "waste, with the grip"),
    ];
    for (from, to, name) in parts {
        if to - from < 0.1 {
            continue;
        }
        let ([a, _], [b, _]) = (view.at(from, 0.0), view.at(to, 0.0));
        for x in [a, b] {
            pen.line("tick", [x, y - 6.0], [x, y + 6.0]);
        }
        pen.line("tick", [a, y], [b, y]);
        let middle = f64::midpoint(a, b);
        pen.text("length", [middle, y + 18.0], "middle", &sheet.show(to - from));
        if (a - b).abs() > 90.0 {
            pen.text("what", [middle, y + 33.0], "middle", name);
        }
    }
}

/// The blank from the X+ end, with the way A turns.
pub(super) fn end(sheet: &Sheet<'_>) -> String {
    let mut pen = Pen::new(220.0, 230.0, "the blank seen from the X+ end, and which way A turns it");
    let centre = [110.0, 112.0];
    let radius = 56.0;
    let blank = &sheet.job.blank;
    let per_mm = radius / design::blank_radius_mm(blank);
    let sides = match blank.shape {
        BlankShape::Round => 0,
        BlankShape::Square => 4,
        BlankShape::Octagon => 8,
    };
    if sides == 0 {
        let _ =
            write!(pen.svg, r#"<circle class="blank" cx="{}" cy="{}" r="{radius}"/>"#, centre[0], centre[1]);
    } else {
        let points: Vec<[f64; 2]> = (0..sides)
            .map(|i| {
                let angle = (f64::from(i) + 0.5) / f64::from(sides) * std::f64::consts::TAU;
                [centre[0] + radius * angle.sin(), centre[1] - radius * angle.cos()]
            })
            .collect();
        pen.polygon("blank", &points);
    }
    let crest = sheet.screw.crest_radius_mm * per_mm;
    let _ =
        write!(pen.svg, r#"<circle class="screw" cx="{}" cy="{}" r="{crest:.1}"/>"#, centre[0], centre[1]);
    let root = sheet.screw.root_radius_mm * per_mm;
    let _ = write!(pen.svg, r#"<circle class="edge" cx="{}" cy="{}" r="{root:.1}"/>"#, centre[0], centre[1]);
    let cross = 7.0;
    pen.line("axis", [centre[0] - cross, centre[1]], [centre[0] + cross, centre[1]]);
    pen.line("axis", [centre[0], centre[1] - cross], [centre[0], centre[1] + cross]);
    // Seen from the X+ end with Z up, the front is on the left.
    let towards = match sheet.job.machine.a_plus {
        TopTurns::ToFront => -1.0,
        TopTurns::ToBack => 1.0,
    };
    let arc = 76.0;
    let place = |degrees: f64| {
        let angle = degrees.to_radians();
        [centre[0] + towards * arc * angle.sin(), centre[1] - arc * angle.cos()]
    };
    let (from, to) = (place(-10.0), place(78.0));
    let sweep = i32::from(towards > 0.0);
    let _ = write!(
        pen.svg,
        r#"<path class="turn" d="M{:.1} {:.1} A{arc} {arc} 0 0 {sweep} {:.1} {:.1}"/>"#,
        from[0], from[1], to[0], to[1]
    );
    pen.head("turn", place(70.0), place(82.0));
    pen.text(
        "turn",
        [centre[0] + towards * 74.0, centre[1] - 66.0],
        if towards < 0.0 { "end" } else { "start" },
        "A+",
    );
    pen.polygon(
        "mark",
        &[
            [centre[0], centre[1] - radius],
            [centre[0] - 6.0, centre[1] - radius - 11.0],
            [centre[0] + 6.0, centre[1] - radius - 11.0],
        ],
    );
    pen.text("name", [6.0, 206.0], "start", "front, you");
    pen.text("name", [214.0, 206.0], "end", "back");
    pen.text("what", [110.0, 224.0], "middle", "seen from the X+ end");
    pen.done()
}

/// A cutter in its collet, its lengths to one scale.
pub(super) fn cutter(sheet: &Sheet<'_>, cutter: &Cutter) -> String {
    let (width, height) = (176.0, 150.0);
    let mut pen = Pen::new(width, height, &cutter.title);
    let scale =
        (104.0 / cutter.stick_out_mm).min(92.0 / cutter.collet_diameter_mm.max(cutter.cutting_diameter_mm));
    let (x, tip_y) = (56.0, 128.0);
    let y = |up: f64| tip_y - up * scale;
    let half = |diameter: f64| diameter / 2.0 * scale;
    let face = y(cutter.stick_out_mm);
    pen.rect(
        "steel",
        [x - half(cutter.collet_diameter_mm), face - 16.0],
        [2.0 * half(cutter.collet_diameter_mm), 16.0],
    );
    let shank = half(cutter.shank_diameter_mm);
    pen.rect("shank", [x - shank, face], [2.0 * shank, (y(cutter.cutting_length_mm) - face).max(0.0)]);
    let wide = half(cutter.cutting_diameter_mm);
    let tip = match cutter.tip {
        Tip::Flat { diameter_mm } => half(diameter_mm),
        Tip::Ball { radius_mm } => half(radius_mm),
    };
    let shoulder = if cutter.is_straight() {
        0.0
    } else {
        let slope = (cutter.included_angle_deg / 2.0).to_radians().tan();
        ((cutter.cutting_diameter_mm / 2.0 - tip / scale) / slope).min(cutter.cutting_length_mm)
    };
    let top = y(cutter.cutting_length_mm);
    pen.polygon(
        "cutter",
        &[
            [x - tip, tip_y],
            [x - wide, y(shoulder)],
            [x - wide, top],
            [x + wide, top],
            [x + wide, y(shoulder)],
            [x + tip, tip_y],
        ],
    );
    let at = x + wide.max(half(cutter.collet_diameter_mm)) + 12.0;
    pen.line("tick", [at, face], [at, tip_y]);
    for end in [face, tip_y] {
        pen.line("tick", [at - 5.0, end], [at + 5.0, end]);
    }
    pen.text(
        "length",
        [at + 5.0, f64::midpoint(face, tip_y) + 4.0],
        "start",
        &sheet.unit().number(cutter.stick_out_mm),
    );
    pen.done()
}
