//! The carved nut against outside values: the involute closed form, exact volumes, and plain stepping.

use std::f64::consts::{PI, TAU};
use std::fmt::Write as _;

use threadwright::rs274::{self, Control, Meaning, Motion, Pose};
use threadwright::setup::{Dialect, DwellUnit, FeedConvention, NutSetup, NutTool};
use threadwright::stock::Cells;
use threadwright::stock::nut::{NutCarved, NutGrid, Trouble, carve};
use threadwright::units::LengthUnit;

use crate::oracle::{Nut, boring_cutter, head, mill, press_nut, shop, source};

/// The motions of a program text.
fn motions(text: &str) -> Vec<Motion> {
    let control = Control {
        dialect: Dialect::default(),
        feed: FeedConvention::Linear,
        unit: LengthUnit::Mm,
        dwell: DwellUnit::Seconds,
        hand_spindle: false,
        habits: Meaning::default(),
        block_delete: false,
        start: Pose { z_mm: 100.0, ..Pose::default() },
    };
    let run = rs274::run(&source(text), &control);
    let stops: Vec<&str> = run.findings.iter().map(|finding| finding.message.as_str()).collect();
    assert!(stops.is_empty(), "{stops:?}");
    run.motions
}

/// Carves a program and keeps every row.
fn carved(text: &str, setup: &NutSetup, radius_mm: f64, cells: Cells) -> NutCarved<Vec<f64>> {
    let grid = NutGrid::over(&setup.block, radius_mm, cells);
    carve(&[], &motions(text), setup, grid, |row| Some(row.radii_mm.to_vec()))
}

/// Height at which a falling or rising flank passes a radius, between two columns.
fn crossing(row: &[f64], grid: &NutGrid, columns: std::ops::Range<usize>, radius: f64) -> Option<f64> {
    let mut last = None;
    for column in columns {
        let above = row[column] - radius;
        if let Some((before, was)) = last
            && (was < 0.0) != (above < 0.0)
        {
            let (a, b): (f64, f64) = (was, above);
            let before: usize = before;
            return Some(grid.z_mm(before) + grid.step_mm * a / (a - b));
        }
        last = Some((column, above));
    }
    None
}

/// Half widths of a carved groove at radii, by flank crossings on the row at angle zero.
fn half_widths(nut: &Nut, radii: &[f64], step: f64) -> Vec<f64> {
    let setup = nut.setup();
    let cells = Cells { along_mm: step, round_mm: 20.0 };
    let carved = carved(&nut.program(), &setup, nut.major / 2.0, cells);
    assert!(carved.astray.is_empty(), "{:?}", carved.astray);
    let (row, grid) = (&carved.rows[0], &carved.grid);
    // The groove whose middle stands nearest to the middle of the block at angle zero.
    let pitch = nut.lead / f64::from(nut.starts);
    let offset = -nut.hand.sign() * nut.lead * nut.start_angle / 360.0;
    let middle = offset + ((-nut.length / 2.0 - offset) / pitch).round() * pitch;
    radii
        .iter()
        .map(|&r| {
            let side = |to: f64| {
                let columns = grid.columns(middle.min(middle + to), middle.max(middle + to));
                crossing(row, grid, columns, r).unwrap_or_else(|| panic!("no flank at {r}"))
            };
            (side(pitch / 2.0) - side(-pitch / 2.0)) / 2.0
        })
        .collect()
}

/// Section 3 of the handbook: half widths of the groove at these radii, D 51, lead 20, 60 degrees, half flat 0.5; printed
/// to a millionth.
const CASE_51: [(f64, [f64; 2]); 5] = [
    (25.25, [0.857_714, 1.033_761]),
    (24.0, [1.571_097, 1.855_482]),
    (22.0, [2.692_066, 2.976_451]),
    (20.0, [3.806_166, 4.090_551]),
    (18.5, [4.635_854, 4.920_240]),
];
/// D 65, lead 25, 90 degrees, half flat 0.4.
const CASE_65: [(f64, [f64; 2]); 5] = [
    (32.25, [0.801_346, 1.025_354]),
    (31.0, [2.041_409, 2.283_077]),
    (29.5, [3.528_369, 3.770_036]),
    (28.0, [5.013_924, 5.255_592]),
    (27.0, [6.003_398, 6.245_066]),
];

/// Rounding of the program's words: four decimals of X, Y, Z, I and J, each off by half of the last, on either flank.
const WORDS_MM: f64 = 1e-4;
/// A flank read straight between heights a step apart is off by an eighth of its bend times the step squared, times the
/// flank's slope; the root's round bends by a quarter of a millimetre's radius, flanks hardly.
fn read_mm(step: f64) -> f64 {
    4.0 * step * step / 8.0
}

#[test]
fn the_carved_groove_is_the_involute_of_the_tables() {
    let mut wrong = Vec::new();
    let step = 0.005;
    let mut check = |case: &[(f64, [f64; 2]); 5], which: usize, nut: &Nut| {
        let radii: Vec<f64> = case.iter().map(|row| row.0).collect();
        for ((r, want), got) in case.iter().zip(half_widths(nut, &radii, step)) {
            let off = got - want[which];
            if off.abs() > WORDS_MM + read_mm(step) {
                wrong.push(format!(
                    "r {r}, {}: got {got:.6}, table {:.6}, off {off:.6}",
                    nut.major, want[which]
                ));
            }
        }
    };
    for (which, diameter) in [20.0, 30.0].into_iter().enumerate() {
        for hand in [threadwright::drawing::Hand::Right, threadwright::drawing::Hand::Left] {
            let mut mill = mill(diameter, 60.0, 1.0);
            mill.neck_diameter_mm = 4.0;
            let e = (51.0 - diameter) / 2.0;
            let nut = Nut { hand, bore: 36.0, starts: 1, mill, passes: vec![e - 2.0, e], ..press_nut() };
            check(&CASE_51, which, &nut);
        }
    }
    for (which, diameter) in [25.0, 40.0].into_iter().enumerate() {
        let mut mill = mill(diameter, 90.0, 0.8);
        mill.neck_diameter_mm = 10.0;
        let e = (65.0 - diameter) / 2.0;
        let nut = Nut {
            lead: 25.0,
            major: 65.0,
            bore: 53.0,
            starts: 1,
            mill,
            passes: vec![e - 2.0, e],
            ..press_nut()
        };
        check(&CASE_65, which, &nut);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Rows that a flat ring in a helical bore is sampled on: the wall is a circle about the axis, so sums over rows are exact.
#[test]
fn a_helical_bore_takes_exactly_its_ring() {
    let mut text = head();
    text.push_str("G0 Z2.0\nG1 Z1.0 F800.0\nG3 X9.0 Y0.0 Z-1.0 I4.5 J0.0 F400.0\n");
    // Half turns down through 40 mm of wood by 2 mm each, and one level turn below the block.
    let mut x = 9.0;
    let mut z = -1.0;
    while z > -41.0 {
        z -= 2.0;
        let _ = writeln!(text, "G3 X{:.1} Y0.0 Z{z:.1} I{:.1} J0.0 F400.0", -x, -x);
        x = -x;
    }
    for _ in 0..2 {
        let _ = writeln!(text, "G3 X{:.1} Y0.0 I{:.1} J0.0 F400.0", -x, -x);
        x = -x;
    }
    text.push_str("G3 X0.0 Y0.0 I-4.5 J0.0 F400.0\nG1 Z2.0 F800.0\nG0 Z30.0\nM5\nM2\n");
    if x < 0.0 {
        text = text.replace("I-4.5", "I4.5");
    }
    let setup = shop(NutTool::Boring(boring_cutter()), 40.0, None);
    let carved = carved(&text, &setup, 15.0, Cells::square(0.25));
    let removed: f64 = carved.cuts.iter().map(|cut| cut.removed_mm3).sum();
    // The cutter's edge runs 9 + 6 from the axis; its end leaves the core, 3 mm round the axis, to the passage on the axis
    // and to the sweep of the half circles, which lies inside: the field holds the outermost cut, so the core counts as cut.
    let want = PI * 15.0 * 15.0 * 40.0;
    // Every ray at a height is cut to 15.0 exactly, but for the rounding of sums.
    assert!((removed - want).abs() < 1e-6 * want, "removed {removed}, exact {want}");
}

/// One level circle of a V tooth in a bore: a ring of trapezoidal section. Its volume by Pappus's rule: area of the section
/// beyond the bore times the way of its centroid.
#[test]
fn one_circle_of_a_tooth_takes_what_pappus_says() {
    let setup = shop(NutTool::Thread(mill(26.0, 60.0, 1.0)), 40.0, Some(44.0));
    let text = format!(
        "{}G0 Z2.0\nG1 Z-26.0 F800.0\nG3 X12.5 Y0.0 I6.25 J0.0 F400.0\nG3 X12.5 Y0.0 I-12.5 J0.0 F400.0\n\
         G3 X0.0 Y0.0 I-6.25 J0.0 F400.0\nG1 Z2.0 F800.0\nG0 Z30.0\nM5\nM2\n",
        head()
    );
    // Depth 3.5 beyond the bore of 22, half flat 0.5 at 25.5, flanks of 30 degrees: trapezoid of widths 1 and 1 + 2 * 3.5 tan 30.
    let (depth, flat) = (3.5, 1.0);
    let wide = flat + 2.0 * depth * 30.0_f64.to_radians().tan();
    let area = depth * (flat + wide) / 2.0;
    let centroid = 22.0 + depth * (wide + 2.0 * flat) / (3.0 * (wide + flat));
    let want = area * TAU * centroid;
    for step in [0.1, 0.02, 0.004] {
        let carved = carved(&text, &setup, 25.5, Cells { along_mm: step, round_mm: 1.0 });
        let removed: f64 = carved.cuts.iter().map(|cut| cut.removed_mm3).sum();
        // The sum over heights is a trapezoidal rule over four corners, each off by an eighth of its bend times the step
        // squared at most: half the radius squared bends by r / tan 30 at 22 and at 25.5.
        let bend = 2.0 * (22.0 + 25.5) / 30.0_f64.to_radians().tan();
        let bound = TAU * bend * step * step / 8.0;
        assert!((removed - want).abs() < bound, "step {step}: removed {removed}, Pappus {want}");
    }
}

/// The farthest that the cutter reaches on a ray, by stepping along the program in steps of a thousandth of a millimetre
/// round the wall: slow and without any thought.
fn stepped(motions: &[Motion], setup: &NutSetup, z: f64, angle: f64, hole: f64) -> f64 {
    let NutTool::Thread(mill) = &setup.tool else { panic!("a mill") };
    let tooth = mill.teeth[0];
    let (flat, tan) = (tooth.tip_flat_mm / 2.0, (tooth.included_angle_deg / 2.0).to_radians().tan());
    let mut most = hole;
    for motion in motions {
        let (from, to) = (motion.from, motion.to);
        let arc = match motion.path {
            rs274::Path::Straight => None,
            rs274::Path::Arc(arc) => Some(arc),
        };
        let length = arc.map_or((to.x_mm - from.x_mm).hypot(to.y_mm - from.y_mm), |arc| {
            arc.radius_mm * arc.sweep_deg.to_radians().abs()
        });
        let count = (length.max((to.z_mm - from.z_mm).abs()) / 1e-3).ceil().max(1.0) as usize;
        for step in 0..=count {
            let share = step as f64 / count as f64;
            let end = from.z_mm + (to.z_mm - from.z_mm) * share;
            let off = (z - end - tooth.middle_mm).abs();
            let wide = tooth.diameter_mm / 2.0 - (off - flat).max(0.0) / tan;
            if wide < mill.neck_diameter_mm / 2.0 {
                continue;
            }
            let (x, y) = match arc {
                None => {
                    (from.x_mm + (to.x_mm - from.x_mm) * share, from.y_mm + (to.y_mm - from.y_mm) * share)
                }
                Some(arc) => {
                    let [cx, cy] = arc.centre_mm;
                    let turn = (from.y_mm - cy).atan2(from.x_mm - cx) + arc.sweep_deg.to_radians() * share;
                    (cx + arc.radius_mm * turn.cos(), cy + arc.radius_mm * turn.sin())
                }
            };
            let (along, beside) = (x * angle.cos() + y * angle.sin(), x * angle.sin() - y * angle.cos());
            if beside.abs() <= wide {
                most = most.max(along + (wide * wide - beside * beside).sqrt());
            }
        }
    }
    most
}

#[test]
fn every_ray_is_cut_as_far_as_plain_stepping_says() {
    let mut wrong = Vec::new();
    let full = press_nut();
    let arcs = Nut { length: 24.0, starts: 1, passes: vec![12.5], chamfer: Some([2.0, 14.5]), ..full };
    let cases = [
        ("arcs, right hand", arcs.program(), arcs.clone()),
        (
            "lines, left hand",
            Nut { lines: true, hand: threadwright::drawing::Hand::Left, ..arcs.clone() }.program(),
            arcs.clone(),
        ),
        // Arcs about a centre far off the axis, by radius and by centre, clockwise and full: nothing that anyone would cut.
        (
            "odd arcs",
            format!(
                "{}G0 Z2.0\nG1 Z-16.0 F800.0\nG1 X11.0 Y3.0 Z-14.0 F300.0\nG2 X-4.0 Y-10.0 Z-19.0 R11.0 F300.0\n\
                 G3 X-4.0 Y-10.0 Z-24.0 I3.0 J6.5 F300.0\nG3 X12.0 Y0.0 R-12.5 F300.0\nG1 X-12.0 Y-2.0 Z-18.0\n\
                 G1 X0.0 Y0.0\nG1 Z2.0\nG0 Z30.0\nM5\nM2\n",
                head()
            ),
            arcs.clone(),
        ),
    ];
    for (name, text, nut) in cases {
        let setup = nut.setup();
        let carved = carved(&text, &setup, nut.major / 2.0, Cells { along_mm: 0.4, round_mm: 4.0 });
        let motions = motions(&text);
        for row in (0..carved.grid.rows).step_by(7) {
            for column in (0..carved.grid.heights).step_by(3) {
                let (z, angle) = (carved.grid.z_mm(column), carved.grid.angle_rad(row));
                let want = stepped(&motions, &setup, z, angle, nut.bore / 2.0);
                let got = carved.rows[row][column];
                // Stepping misses the best moment by half a step at most, where the reach is flat.
                if (got - want).abs() > 1e-4 {
                    wrong.push(format!(
                        "{name}: z {z:.2}, angle {:.1}: got {got:.5}, stepped {want:.5}",
                        angle.to_degrees()
                    ));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{} rays: {}", wrong.len(), wrong[..wrong.len().min(12)].join("\n"));
}

/// The field tells a hole whole only while every ray meets wood once. A cutter that goes round in the wood beside the hole
/// is told.
#[test]
fn a_cut_beside_the_hole_is_told() {
    let setup = shop(NutTool::Thread(mill(26.0, 60.0, 1.0)), 40.0, Some(30.0));
    let text = format!(
        "{}G0 Z2.0\nG0 X40.0\nG1 Z-26.0 F800.0\nG3 X40.0 Y0.0 I2.0 J0.0 F400.0\nG1 Z2.0 F800.0\nG0 Z30.0\nM5\nM2\n",
        head()
    );
    let carved = carved(&text, &setup, 25.0, Cells::square(0.5));
    let buried = carved.astray.iter().find(|astray| astray.what == Trouble::Buried);
    // The tooth is 13 wide and stands 40 from the axis: it begins at 27, the hole ends at 15. Going round by 2 adds nothing
    // on that side.
    let left = buried.map_or(0.0, |buried| buried.by_mm);
    assert!(left > 11.0, "left {left}");
}
