//! The carve against things outside it: published groove tables, exact volumes, and plain stepping of the cutter.

mod gaps;
mod straight;

use std::f64::consts::PI;

use super::cutter::{Meeting, Profile};
use super::*;
use crate::rs274::{FeedMode, Kind, Motion, Path, Pose, Turning};
use crate::setup::*;

fn setup(shape: BlankShape, size_mm: f64, length_mm: f64, angle_deg: f64, tip: Tip) -> Setup {
    Setup {
        // X counts with the station, and A with the angle.
        machine: Machine { headstock: XEnd::XPlus, a_plus: TopTurns::ToBack, ..sample::machine() },
        blank: Blank { shape, size_mm, from_s_mm: 0.0, to_s_mm: length_mm, chuck_face_s_mm: length_mm },
        timber: Timber::default(),
        cutter: Cutter {
            title: "V".into(),
            included_angle_deg: angle_deg,
            tip,
            flutes: 2,
            cutting_diameter_mm: 60.0,
            cutting_length_mm: 40.0,
            shank_diameter_mm: 8.0,
            collet_diameter_mm: 30.0,
            stick_out_mm: 60.0,
            edge: Edge::Sharp,
        },
        x_nose_mm: 0.0,
        z_axis_mm: 0.0,
        x_limits_mm: [-500.0, 500.0],
        z_limits_mm: [-10.0, 150.0],
        rpm: 18_000.0,
        feed_mm_per_min: 1500.0,
        feed_least_mm_per_min: 1500.0,
        feed_radius_mm: size_mm / 2.0,
        section_mm2: None,
        level_mm: None,
    }
}

fn feed(from: Pose, to: Pose) -> Motion {
    Motion {
        line: 1,
        span: 0..0,
        kind: Kind::Feed,
        path: Path::Straight,
        from,
        to,
        feed: 1.0,
        feed_mode: FeedMode::InverseTime,
        minutes: Some(1.0),
        turning: Turning::Clockwise,
        rpm: 18_000.0,
    }
}

fn pose(x_mm: f64, z_mm: f64, a_deg: f64) -> Pose {
    Pose { x_mm, y_mm: 0.0, z_mm, a_deg }
}

fn rows(motions: &[Motion], setup: &Setup, grid: Grid) -> (Vec<Vec<f32>>, Vec<Cut>) {
    let carved = carve(&[], motions, setup, grid, |row| Some(row.radii_mm.to_vec()));
    (carved.rows, carved.cuts)
}

/// Radius on a row at a station, read linearly between the grid's stations.
fn radius_at(row: &[f32], grid: &Grid, s: f64) -> f64 {
    let at = (s - grid.from_s_mm) / grid.step_mm;
    let i = at.floor() as usize;
    let (a, b) = (f64::from(row[i]), f64::from(row[i + 1]));
    a + (b - a) * (at - i as f64)
}

/// Half-widths `b` that a flat-tipped cone on a helix leaves at radius `r`, exact to a millionth. Derived by three
/// independent routes (envelope condition by scan and by bisection, and a moving cone tested point by point in
/// space), which agree to 1e-9; kept here as data so that the carve is judged by numbers it had no part in.
#[test]
fn carved_grooves_agree_with_the_exact_half_widths() {
    type Table = &'static [(f64, f64)];
    let cases: [([f64; 5], Table); 3] = [
        (
            [50.0, 20.0, 60.0, 0.5, 18.0],
            &[(18.25, 0.653_872), (19.0, 1.091_892), (21.0, 2.256_082), (23.0, 3.416_517)],
        ),
        (
            [64.0, 25.0, 90.0, 0.4, 26.5],
            &[(26.75, 0.656_982), (28.0, 1.917_881), (29.5, 3.427_621), (31.0, 4.934_735)],
        ),
        (
            [30.0, 12.0, 60.0, 0.25, 11.0],
            &[(11.25, 0.399_869), (12.0, 0.837_367), (13.0, 1.418_899), (14.0, 1.999_030)],
        ),
    ];
    let mut wrong = Vec::new();
    for ([diameter, lead, angle, flat, tip], table) in cases {
        let setup = setup(BlankShape::Round, diameter, 60.0, angle, Tip::Flat { diameter_mm: 2.0 * flat });
        // d = +1, k = -1: A counts with theta, so X = lead * A / 360 winds to the right.
        let motion = feed(pose(-40.0, tip, -40.0 / lead * 360.0), pose(100.0, tip, 100.0 / lead * 360.0));
        let grid = Grid { from_s_mm: 0.0, step_mm: 0.002, stations: 30_001, rows: 16 };
        let (rows, _) = rows(&[motion], &setup, grid);
        for (index, row) in rows.iter().enumerate().skip(3).step_by(4) {
            let centre = lead * (1.0 + index as f64 / 16.0);
            for &(r, b) in table {
                for side in [-1.0, 1.0] {
                    let carved = radius_at(row, &grid, centre + side * b);
                    if (carved - r).abs() > 2e-5 {
                        wrong.push(format!("D{diameter} r {r} row {index} side {side}: carved {carved:.6}"));
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Plain stepping: the least radius over a great many stands of the cutter, with none of the carve's short cuts.
fn stepped(motion: &Motion, setup: &Setup, s: f64, theta: f64, steps: usize) -> f64 {
    let profile = Profile::of(&setup.cutter);
    let stroke = strokes(std::slice::from_ref(motion), setup).next().expect("a motion has a stroke");
    let entry = |share: f64| {
        let stand = stroke.from.towards(stroke.to, share);
        let (sin, cos) = (theta - stand.theta_rad).sin_cos();
        profile.entry(Meeting { u: s - stand.s_mm, sin, cos, tip: stand.tip_mm, beside: stand.beside_mm })
    };
    let least_of = |from: f64, to: f64| {
        let share = |i: usize| (from + (to - from) * i as f64 / steps as f64).clamp(0.0, 1.0);
        let best = (0..=steps).min_by(|&a, &b| entry(share(a)).total_cmp(&entry(share(b))));
        share(best.expect("there is at least one step"))
    };
    let step = 1.0 / steps as f64;
    let near = least_of(0.0, 1.0);
    entry(least_of(near - step, near + step)).min(wood::radius_at(&setup.blank, theta))
}

#[test]
fn every_kind_of_stroke_agrees_with_plain_stepping() {
    let flat = Tip::Flat { diameter_mm: 1.0 };
    let ball = Tip::Ball { radius_mm: 1.2 };
    let strokes_to_try = [
        ("level", feed(pose(2.0, 18.0, 40.0), pose(22.0, 18.0, 400.0))),
        ("level the other hand", feed(pose(22.0, 19.0, 10.0), pose(2.0, 19.0, 370.0))),
        ("slope out", feed(pose(8.0, 18.0, 0.0), pose(18.0, 25.5, 180.0))),
        ("slope in, short", feed(pose(18.0, 24.0, 90.0), pose(15.0, 19.0, 36.0))),
        ("ring", feed(pose(12.0, 20.0, 0.0), pose(12.0, 20.0, 200.0))),
        ("along", feed(pose(4.0, 20.0, 30.0), pose(20.0, 20.0, 30.0))),
        ("plunge", feed(pose(14.0, 26.0, 70.0), pose(14.0, 20.0, 70.0))),
        ("slanted along", feed(pose(5.0, 24.0, 70.0), pose(19.0, 20.0, 70.0))),
        ("steep", feed(pose(5.0, 20.0, 50.0), pose(19.0, 20.0, 62.0))),
        (
            "beside, climbing",
            feed(
                Pose { x_mm: 4.0, y_mm: -2.0, z_mm: 20.0, a_deg: 0.0 },
                Pose { x_mm: 14.0, y_mm: -2.0, z_mm: 24.0, a_deg: 180.0 },
            ),
        ),
        (
            "beside",
            feed(
                Pose { x_mm: 4.0, y_mm: 3.0, z_mm: 20.0, a_deg: 0.0 },
                Pose { x_mm: 14.0, y_mm: 3.0, z_mm: 20.0, a_deg: 180.0 },
            ),
        ),
    ];
    let grid = Grid { from_s_mm: 0.0, step_mm: 0.1, stations: 241, rows: 72 };
    let mut wrong = Vec::new();
    for tip in [flat, ball] {
        let setup = setup(BlankShape::Round, 50.0, 24.0, 60.0, tip);
        for (name, motion) in &strokes_to_try {
            let (rows, _) = rows(std::slice::from_ref(motion), &setup, grid);
            let mut worst = (0.0_f64, String::new());
            for (j, row) in rows.iter().enumerate().step_by(3) {
                for (i, &carved) in row.iter().enumerate().step_by(5) {
                    let (s, theta) = (grid.station_mm(i), grid.angle_rad(j));
                    let least = stepped(motion, &setup, s, theta, 4000);
                    let off = f64::from(carved) - least;
                    if off.abs() > worst.0 {
                        worst = (off.abs(), format!("{name} {tip:?} s {s} row {j}: {carved} not {least}"));
                    }
                }
            }
            if worst.0 > 1e-4 {
                wrong.push(worst.1);
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A sharp point leaves a floor without width; a station may lie exactly on it, also where a stroke ends.
#[test]
fn a_station_exactly_under_a_sharp_point_is_cut_like_its_neighbours() {
    let setup = setup(BlankShape::Round, 50.0, 24.0, 60.0, Tip::Flat { diameter_mm: 0.0 });
    let grid = Grid { from_s_mm: 0.0, step_mm: 0.125, stations: 193, rows: 360 };
    let column = 96;
    assert_eq!(grid.station_mm(column), 12.0);
    for motion in [
        feed(pose(12.0, 18.0, 40.0), pose(12.0, 18.0, 130.0)),
        feed(pose(12.0, 18.0, 40.0), pose(12.0, 21.0, 130.0)),
        feed(pose(0.0, 18.0, 0.0), pose(24.0, 18.0, 360.0)),
    ] {
        let (rows, _) = rows(std::slice::from_ref(&motion), &setup, grid);
        for (index, row) in rows.iter().enumerate().step_by(2) {
            let least = stepped(&motion, &setup, 12.0, grid.angle_rad(index), 2000);
            let off = (f64::from(row[column]) - least).abs();
            assert!(off < 1e-4, "{motion:?} row {index}: {} not {least}", row[column]);
        }
    }
}

/// A cutter hardly wider than the groove it makes: beyond its rim rays miss it, and nothing may be cut there.
#[test]
fn wood_beside_the_rim_of_a_cutter_stays() {
    let grid = Grid { from_s_mm: 0.0, step_mm: 0.1, stations: 401, rows: 24 };
    for (tip, widest) in [
        (Tip::Flat { diameter_mm: 1.0 }, 12.5),
        (Tip::Flat { diameter_mm: 0.0 }, 12.0),
        (Tip::Ball { radius_mm: 1.0 }, 12.6),
    ] {
        let mut setup = setup(BlankShape::Round, 79.2, 40.0, 60.0, tip);
        setup.cutter.cutting_diameter_mm = 2.0 * widest;
        for motion in [
            feed(pose(20.0, 25.0, 0.0), pose(20.0, 18.94, 720.0)),
            feed(pose(20.0, 18.94, 0.0), pose(20.0, 18.94, 360.0)),
            feed(pose(12.0, 22.0, 0.0), pose(28.0, 18.94, 720.0)),
        ] {
            let (rows, _) = rows(std::slice::from_ref(&motion), &setup, grid);
            for (index, row) in rows.iter().enumerate().step_by(4) {
                for (column, &carved) in row.iter().enumerate() {
                    let (s, theta) = (grid.station_mm(column), grid.angle_rad(index));
                    let least = stepped(&motion, &setup, s, theta, 1500);
                    let off = f64::from(carved) - least;
                    assert!(off.abs() < 1e-3, "{tip:?} row {index} s {s}: {carved} not {least}");
                }
            }
        }
    }
}

/// Whole numbers that look random and are the same on every machine: the multiplier of Lehmer's generator MINSTD.
/// Source: S. K. Park and K. W. Miller, Communications of the ACM 31 (1988), 1192-1201 (from memory).
struct Dice(u64);

impl Dice {
    fn between(&mut self, least: f64, most: f64) -> f64 {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        least + (most - least) * self.0 as f64 / 2_147_483_647.0
    }
}

#[test]
fn random_strokes_of_random_cutters_agree_with_plain_stepping() {
    let mut dice = Dice(20_26);
    let grid = Grid { from_s_mm: 0.0, step_mm: 0.1, stations: 301, rows: 40 };
    let mut worst = (0.0_f64, String::new());
    for trial in 0..60 {
        let round = trial % 2 == 0;
        let tip = if round {
            Tip::Ball { radius_mm: dice.between(0.8, 2.0) }
        } else {
            Tip::Flat { diameter_mm: dice.between(0.0, 3.0) }
        };
        let setup = setup(BlankShape::Round, 50.0, 30.0, dice.between(50.0, 100.0), tip);
        let depth = dice.between(17.0, 23.0);
        let out = if trial % 3 == 0 { dice.between(0.0, 5.0) } else { 0.0 };
        let turn = dice.between(60.0, 500.0);
        let motion = feed(
            pose(dice.between(0.0, 30.0), depth, dice.between(-90.0, 90.0)),
            pose(dice.between(0.0, 30.0), depth + out, turn),
        );
        let (rows, _) = rows(std::slice::from_ref(&motion), &setup, grid);
        for _ in 0..60 {
            let (i, j) = (dice.between(0.0, 300.0) as usize, dice.between(0.0, 39.0) as usize);
            // A row may be met once in every turn of the stroke.
            let angle = grid.angle_rad(j);
            let stepped = (-1..=2)
                .map(|t| stepped(&motion, &setup, grid.station_mm(i), angle + f64::from(t) * 2.0 * PI, 4000))
                .fold(f64::INFINITY, f64::min);
            let off = (f64::from(rows[j][i]) - stepped).abs();
            if off > worst.0 {
                worst = (off, format!("trial {trial} row {j} column {i}: {} not {stepped}", rows[j][i]));
            }
        }
    }
    assert!(worst.0 < 1e-4, "{}", worst.1);
}

/// Cutters without a cone: a flat end and a round end, which the carve searches ray by ray.
#[test]
fn flat_and_round_ended_cutters_agree_with_plain_stepping() {
    let grid = Grid { from_s_mm: 0.0, step_mm: 0.37, stations: 66, rows: 40 };
    for tip in [Tip::Flat { diameter_mm: 6.0 }, Tip::Ball { radius_mm: 3.0 }] {
        let mut setup = setup(BlankShape::Round, 50.0, 24.0, 0.0, tip);
        setup.cutter.cutting_diameter_mm = 6.0;
        for motion in [
            feed(pose(4.0, 21.0, 0.0), pose(16.0, 21.0, 540.0)),
            feed(pose(4.0, 22.0, 30.0), pose(18.0, 22.0, 30.0)),
            feed(pose(12.0, 26.0, 90.0), pose(12.0, 20.0, 90.0)),
        ] {
            let (rows, _) = rows(std::slice::from_ref(&motion), &setup, grid);
            for (j, row) in rows.iter().enumerate().step_by(3) {
                for (i, &carved) in row.iter().enumerate() {
                    let angle = grid.angle_rad(j);
                    let least = (-1..=2)
                        .map(|t| {
                            stepped(
                                &motion,
                                &setup,
                                grid.station_mm(i),
                                angle + f64::from(t) * 2.0 * PI,
                                3000,
                            )
                        })
                        .fold(f64::INFINITY, f64::min);
                    let off = (f64::from(carved) - least).abs();
                    assert!(off < 1e-3, "{tip:?} {motion:?} row {j} column {i}: {carved} not {least}");
                }
            }
        }
    }
}

/// A ring cut by a flat-ended cylinder of the blank's full width leaves a cylinder: the volume removed is that of a
/// tube. Elementary geometry.
#[test]
fn volume_of_a_turned_ring_is_exact() {
    let mut setup = setup(BlankShape::Round, 50.0, 40.0, 90.0, Tip::Flat { diameter_mm: 10.0 });
    setup.cutter.cutting_diameter_mm = 60.0;
    let motion = feed(pose(20.0, 20.0, 0.0), pose(20.0, 20.0, 360.0));
    let grid = Grid { from_s_mm: 0.0, step_mm: 0.01, stations: 4001, rows: 90 };
    let (_, cuts) = rows(&[motion], &setup, grid);
    // Floor 10 wide at radius 20, flanks at 45 degrees up to 25: each flank is a frustum ring.
    let tube = |a: f64, b: f64, width: f64| PI * (b * b - a * a) * width;
    let flank = PI * (25.0_f64.powi(2) * 5.0 - (25.0_f64.powi(3) - 20.0_f64.powi(3)) / 3.0);
    let exact = tube(20.0, 25.0, 10.0) + 2.0 * flank;
    assert!((cuts[0].removed_mm3 - exact).abs() < 1e-4 * exact, "{} not {exact}", cuts[0].removed_mm3);
}

/// A straight groove of a sharp 90 degree V along a cylinder. Its section is a sector less two triangles: with `psi`
/// from `R cos psi - R sin psi = r0`, the area is `R^2 psi - r0 R sin psi`. Elementary geometry.
#[test]
fn volume_of_a_straight_groove_is_exact() {
    let setup = setup(BlankShape::Round, 64.0, 60.0, 90.0, Tip::Flat { diameter_mm: 0.0 });
    let motion = feed(pose(-40.0, 24.0, 30.0), pose(100.0, 24.0, 30.0));
    let grid = Grid { from_s_mm: 0.0, step_mm: 0.5, stations: 121, rows: 20_000 };
    let (_, cuts) = rows(&[motion], &setup, grid);
    let psi = (24.0 / (32.0 * 2.0_f64.sqrt())).acos() - PI / 4.0;
    let exact = (32.0 * 32.0 * psi - 24.0 * 32.0 * psi.sin()) * 60.0;
    assert!((cuts[0].removed_mm3 - exact).abs() < 1e-4 * exact, "{} not {exact}", cuts[0].removed_mm3);
}

/// A plunge of the same V: the cone under the surface of the cylinder, summed over a fine square grid seen from above.
#[test]
fn volume_of_a_plunge_agrees_with_a_sum_seen_from_above() {
    let setup = setup(BlankShape::Round, 64.0, 60.0, 90.0, Tip::Flat { diameter_mm: 0.0 });
    let motion = feed(pose(30.0, 40.0, 0.0), pose(30.0, 26.0, 0.0));
    let grid = Grid { from_s_mm: 0.0, step_mm: 0.05, stations: 1201, rows: 8000 };
    let (_, cuts) = rows(&[motion], &setup, grid);
    let cell = 0.01;
    let mut sum = 0.0;
    for i in 0..600 {
        for j in 0..600 {
            let (x, y) = ((f64::from(i) + 0.5) * cell, (f64::from(j) + 0.5) * cell);
            sum += 4.0 * cell * cell * ((32.0 * 32.0 - y * y).sqrt() - 26.0 - x.hypot(y)).max(0.0);
        }
    }
    assert!((cuts[0].removed_mm3 - sum).abs() < 1e-3 * sum, "{} not {sum}", cuts[0].removed_mm3);
}

/// 64 x 120 mm cylinder, 90 degree sharp cone, tip at radius 24, lead 32, two starts, run out past both ends:
/// 89 593.22 mm3 removed, by a semi-analytic envelope (numpy) made apart from this crate.
#[test]
fn volume_of_a_two_start_thread_agrees_with_an_independent_figure() {
    let setup = setup(BlankShape::Round, 64.0, 120.0, 90.0, Tip::Flat { diameter_mm: 0.0 });
    let pass = |start: f64| {
        feed(
            pose(-32.0, 24.0, -360.0 + start * 180.0),
            pose(152.0, 24.0, 152.0 / 32.0 * 360.0 + start * 180.0),
        )
    };
    let grid = Grid::over(&setup.blank, Cells::square(0.1));
    let (_, cuts) = rows(&[pass(0.0), pass(1.0)], &setup, grid);
    let removed = cuts[0].removed_mm3 + cuts[1].removed_mm3;
    assert!((removed - 89_593.22).abs() < 1.0, "{removed}");
}

#[test]
fn turning_by_a_full_turn_changes_nothing() {
    let setup = setup(BlankShape::Octagon, 50.0, 30.0, 60.0, Tip::Flat { diameter_mm: 1.0 });
    let grid = Grid::over(&setup.blank, Cells::square(0.5));
    let there = feed(pose(-10.0, 18.0, -180.0), pose(30.0, 18.0, 540.0));
    let on = feed(pose(-10.0, 18.0, 3420.0), pose(30.0, 18.0, 4140.0));
    let (first, _) = rows(&[there], &setup, grid);
    let (second, _) = rows(&[on], &setup, grid);
    let most = first
        .iter()
        .flatten()
        .zip(second.iter().flatten())
        .fold(0.0_f32, |most, (a, b)| most.max((a - b).abs()));
    assert!(most < 1e-4, "{most}");
    assert!(first.iter().flatten().any(|&r| r < 20.0), "nothing was cut");
}

/// Wood is what every program before has left, whatever cutter each had: two programs one after the other leave what
/// their least radii are, and only the second is booked.
#[test]
fn a_program_begins_with_the_wood_that_former_programs_left() {
    let flat = setup(BlankShape::Square, 50.0, 40.0, 90.0, Tip::Flat { diameter_mm: 8.0 });
    let sharp = setup(BlankShape::Square, 50.0, 40.0, 60.0, Tip::Flat { diameter_mm: 1.0 });
    let grid = Grid { from_s_mm: 0.0, step_mm: 0.1, stations: 401, rows: 64 };
    let wide = [feed(pose(-10.0, 22.0, -600.0), pose(50.0, 22.0, 3000.0))];
    let groove = [
        feed(pose(-10.0, 20.0, -180.0), pose(30.0, 20.0, 540.0)),
        Motion { kind: Kind::Rapid, ..feed(pose(30.0, 36.0, 585.0), pose(-10.0, 36.0, 585.0)) },
    ];
    let keep = |row: Row<'_>| Some(row.radii_mm.to_vec());
    let alone = |motions: &[Motion], setup: &Setup| carve(&[], motions, setup, grid, keep);
    let both = carve(&[Former { motions: &wide, setup: &flat }], &groove, &sharp, grid, keep);
    let (first, second) = (alone(&wide, &flat), alone(&groove, &sharp));
    for (index, row) in both.rows.iter().enumerate() {
        for (column, &radius) in row.iter().enumerate() {
            assert_eq!(radius, first.rows[index][column].min(second.rows[index][column]));
        }
    }
    let volume = |rows: &[Vec<f32>]| -> f64 {
        let squares = |row: &Vec<f32>| -> f64 {
            let all: f64 = row.iter().map(|&r| f64::from(r).powi(2)).sum();
            all - f64::midpoint(f64::from(row[0]).powi(2), f64::from(row[row.len() - 1]).powi(2))
        };
        rows.iter().map(squares).sum::<f64>() * 0.5 * grid.step_mm * 2.0 * PI / grid.rows as f64
    };
    assert_eq!(both.cuts.len(), groove.len());
    let lost = volume(&first.rows) - volume(&both.rows);
    assert!((both.cuts[0].removed_mm3 - lost).abs() < 1e-4 * lost, "{} not {lost}", both.cuts[0].removed_mm3);
    // A corner of the square stands a hair below the rapid; after the first program it is gone.
    assert!(second.cuts[1].deepest_mm == 0.0 && second.gap.is_some_and(|gap| gap.gap_mm < 1.0));
    let gap = both.gap.expect("the rapid is near enough to be measured").gap_mm;
    assert!((gap - 14.0).abs() < 0.5, "{gap}");
}
