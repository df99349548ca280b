//! Distances between cutter and wood, chuck and centre against plain stepping: the solid of the cutter as points of its
//! outline, moved step by step. Lengths in mm, angles in radians.

use super::*;
use crate::setup::Cutter;
use crate::stock::contact::Outline;

/// Distance between the points of an outline, mm.
const POINTS_MM: f64 = 0.05;
/// How near stepping comes: a slice may begin late by the distance of the points, and the nearest of them lie aside.
const STEPPED_MM: f64 = 1.5 * POINTS_MM;
/// Height of the collet that is stepped.
const COLLET_MM: f64 = 40.0;

/// Half the width of a cutter with shank and collet at a height above its tip; `None` above it.
fn half_width(cutter: &Cutter, height: f64) -> Option<f64> {
    let half_angle = (cutter.included_angle_deg / 2.0).to_radians();
    let widest = cutter.cutting_diameter_mm / 2.0;
    if height > cutter.stick_out_mm + COLLET_MM {
        None
    } else if height > cutter.stick_out_mm {
        Some(cutter.collet_diameter_mm / 2.0)
    } else if height > cutter.cutting_length_mm {
        Some(cutter.shank_diameter_mm / 2.0)
    } else {
        let edge = match cutter.tip {
            Tip::Flat { diameter_mm } => diameter_mm / 2.0 + height * half_angle.tan(),
            // The ball touches the cone where its own slope is the cone's.
            Tip::Ball { radius_mm } => {
                let joint = radius_mm * (1.0 - half_angle.sin());
                let round = |h: f64| (radius_mm * radius_mm - (radius_mm - h).powi(2)).max(0.0).sqrt();
                if height < joint {
                    round(height)
                } else {
                    round(joint) + (height - joint) * half_angle.tan()
                }
            }
        };
        Some(edge.min(widest))
    }
}

/// Points of the outline, distance from the axis and height: slice by slice, and across wherever it steps.
fn points(cutter: &Cutter) -> Vec<[f64; 2]> {
    let mut points = Vec::new();
    let top = cutter.stick_out_mm + COLLET_MM;
    let slices = (top / POINTS_MM) as usize;
    let mut last = 0.0;
    for slice in 0..=slices {
        let height = top * slice as f64 / slices as f64;
        let half = half_width(cutter, height).unwrap_or(0.0);
        let (low, high) = (f64::min(last, half), f64::max(last, half));
        let across = ((high - low) / POINTS_MM).ceil().max(1.0) as usize;
        points.extend((0..=across).map(|i| [low + (high - low) * i as f64 / across as f64, height]));
        last = half;
    }
    points
}

/// Distance from a point to the solid; zero inside.
fn stepped_gap(cutter: &Cutter, points: &[[f64; 2]], rho: f64, height: f64) -> f64 {
    if height >= 0.0 && half_width(cutter, height).is_some_and(|half| rho <= half) {
        return 0.0;
    }
    points.iter().map(|at| (at[0] - rho).hypot(at[1] - height)).fold(f64::INFINITY, f64::min)
}

fn cutters() -> Vec<Setup> {
    let tips = [
        (60.0, Tip::Flat { diameter_mm: 1.0 }),
        (90.0, Tip::Flat { diameter_mm: 4.0 }),
        (60.0, Tip::Ball { radius_mm: 2.0 }),
        (0.0, Tip::Flat { diameter_mm: 20.0 }),
    ];
    let cutter = |(angle, tip)| {
        let mut setup = setup(BlankShape::Round, 50.0, 40.0, angle, tip);
        setup.cutter.cutting_diameter_mm = 20.0;
        setup.cutter.cutting_length_mm = 25.0;
        setup
    };
    tips.into_iter().map(cutter).collect()
}

#[test]
fn distances_from_the_cutter_agree_with_plain_stepping() {
    let mut dice = Dice(7);
    for setup in cutters() {
        let (outline, points) = (Outline::of(&setup.cutter), points(&setup.cutter));
        for _ in 0..600 {
            let (rho, height) =
                (dice.between(0.0, 40.0), dice.between(-20.0, setup.cutter.stick_out_mm + 20.0));
            let (got, want) =
                (outline.gap(rho * rho, height, 100.0), stepped_gap(&setup.cutter, &points, rho, height));
            assert!(
                (got - want).abs() < STEPPED_MM,
                "{:?} at {rho}, {height}: {got} not {want}",
                setup.cutter
            );
        }
    }
}

/// Chuck and centre are cylinders that fill all beyond a face; the cutter is moved in two hundred steps.
#[test]
fn distances_to_chuck_and_centre_agree_with_plain_stepping() {
    const STEPS: usize = 200;
    let mut dice = Dice(11);
    for setup in cutters() {
        let points = points(&setup.cutter);
        for _ in 0..25 {
            let from = pose(dice.between(-60.0, 100.0), dice.between(2.0, 60.0), 0.0);
            let to = match dice.between(0.0, 3.0) as u32 {
                0 => pose(dice.between(-60.0, 100.0), from.z_mm, 0.0),
                1 => pose(from.x_mm, dice.between(2.0, 60.0), 0.0),
                _ => pose(dice.between(-60.0, 100.0), dice.between(2.0, 60.0), 0.0),
            };
            let motion = feed(from, to);
            let stroke = strokes(std::slice::from_ref(&motion), &setup).next().expect("a stroke");
            let bodies = [
                (Obstacle::Chuck, setup.machine.chuck.diameter_mm, setup.blank.chuck_face_s_mm, 1.0),
                (
                    Obstacle::Centre,
                    setup.machine.centre.expect("a centre").diameter_mm,
                    setup.blank.from_s_mm,
                    -1.0,
                ),
            ];
            let way = (stroke.to.s_mm - stroke.from.s_mm).hypot(stroke.to.tip_mm - stroke.from.tip_mm);
            for (which, diameter, face, out) in bodies {
                let at = |step: usize| {
                    let stand = stroke.from.towards(stroke.to, step as f64 / STEPS as f64);
                    let near = |[rho, height]: [f64; 2]| {
                        let short = |s: f64| (out * (face - s)).max(0.0);
                        let beyond = short(stand.s_mm + rho).min(short(stand.s_mm - rho));
                        beyond.hypot(((stand.tip_mm + height).abs() - diameter / 2.0).max(0.0))
                    };
                    points.iter().map(|&point| near(point)).fold(f64::INFINITY, f64::min)
                };
                let want = (0..=STEPS).map(at).fold(f64::INFINITY, f64::min);
                let gaps = gaps_to_obstacles(std::slice::from_ref(&motion), &setup);
                let got = gaps.iter().find(|(obstacle, ..)| *obstacle == which).expect("it is there").1;
                let sure = STEPPED_MM + way / STEPS as f64;
                assert!(
                    (got - want).abs() <= sure,
                    "{which:?} {:?} {from:?} {to:?}: {got} not {want}",
                    setup.cutter
                );
            }
        }
    }
}

/// A rapid over a blank with a groove, along every axis alone and along several at once.
#[test]
fn distances_to_wood_agree_with_plain_stepping() {
    const STEPS: usize = 60;
    let mut dice = Dice(13);
    for setup in cutters() {
        // The wood lies below the tip throughout: only the lower part of the cutter comes near it.
        let points: Vec<[f64; 2]> =
            points(&setup.cutter).into_iter().filter(|point| point[1] < 15.0).collect();
        let grid = Grid { from_s_mm: setup.blank.from_s_mm, step_mm: 0.5, stations: 81, rows: 157 };
        let groove = feed(pose(-5.0, 21.0, -90.0), pose(45.0, 21.0, 810.0));
        for kind in 0..8 {
            let from = pose(dice.between(-20.0, 60.0), dice.between(27.5, 40.0), dice.between(0.0, 360.0));
            let mut to = from;
            if kind & 1 == 0 {
                to.x_mm = dice.between(-20.0, 60.0);
            }
            if kind & 2 == 0 {
                to.a_deg = from.a_deg + dice.between(-400.0, 400.0);
            }
            if kind & 4 == 0 || kind == 7 {
                to.z_mm = dice.between(25.2, 27.0);
            }
            let rapid = Motion { kind: Kind::Rapid, ..feed(from, to) };
            let stroke = strokes(std::slice::from_ref(&rapid), &setup).next().expect("a stroke");
            let carved =
                carve(&[], &[groove.clone(), rapid], &setup, grid, |row| Some(row.radii_mm.to_vec()));
            let mut want = 50.0_f64;
            for (index, row) in carved.rows.iter().enumerate() {
                let angle = grid.angle_rad(index);
                for step in 0..=STEPS {
                    let stand = stroke.from.towards(stroke.to, step as f64 / STEPS as f64);
                    let (sin, cos) = (angle - stand.theta_rad).sin_cos();
                    for (column, &radius) in row.iter().enumerate() {
                        let radius = f64::from(radius);
                        let height = radius * cos - stand.tip_mm;
                        let rho = (grid.station_mm(column) - stand.s_mm).hypot(radius * sin);
                        // Below the tip, or farther off than the edges are wide: no nearer than this.
                        let at_least = (-height).max(rho - setup.cutter.cutting_diameter_mm / 2.0).max(0.0);
                        if at_least < want {
                            want = want.min(stepped_gap(&setup.cutter, &points, rho, height));
                        }
                    }
                }
            }
            let got = carved.gap.map_or(50.0, |gap| gap.gap_mm);
            assert!(
                (got - want).abs() <= STEPPED_MM + carved.gap_sure_to_mm,
                "{kind} {:?} {from:?} {to:?}: {got} not {want}, sure to {}",
                setup.cutter,
                carved.gap_sure_to_mm
            );
        }
    }
}
