//! Straight cutters, and cones too narrow for the wood: the walls they leave, in turning, facing, ramps and plunges,
//! against plain stepping of the cutter.

use super::*;

/// How near the carve comes to plain stepping, mm; the same for every cutter.
const AGREES_MM: f64 = 1e-4;
/// How near a measured volume comes to an exact one.
const AGREES_SHARE: f64 = 1e-4;
/// Single precision keeps a radius to this, mm.
const KEPT_MM: f64 = 1e-5;

fn straight(tip: Tip, diameter_mm: f64, blank_mm: f64) -> Setup {
    let mut setup = setup(BlankShape::Square, blank_mm, 24.0, 0.0, tip);
    setup.cutter.cutting_diameter_mm = diameter_mm;
    setup
}

/// The least radius at a place over all turns of a motion, by plain stepping.
fn stepped_all_round(motion: &Motion, setup: &Setup, s: f64, angle: f64) -> f64 {
    let turns = |a_deg: f64| (a_deg / 360.0).round() as i32;
    let (first, last) =
        (turns(motion.from.a_deg.min(motion.to.a_deg)), turns(motion.from.a_deg.max(motion.to.a_deg)));
    let wood = wood::radius_at(&setup.blank, angle);
    // A cutter may cross a row in less than a thousandth of a long stroke, so only the part near the row is stepped.
    (first - 1..=last + 1)
        .filter_map(|turn| {
            let theta = angle + f64::from(turn) * 2.0 * PI;
            let near = part_near(motion, setup, theta)?;
            Some(stepped(&near, setup, s, theta, 1500))
        })
        .fold(wood, f64::min)
}

/// The part of a motion that runs while the blank stands within a quarter turn of an angle.
fn part_near(motion: &Motion, setup: &Setup, theta: f64) -> Option<Motion> {
    let stroke = strokes(std::slice::from_ref(motion), setup).next().expect("a motion has a stroke");
    let (from, to) = (stroke.from.theta_rad, stroke.to.theta_rad);
    if motion.from.a_deg == motion.to.a_deg {
        return ((theta - from).abs() < PI / 2.0).then(|| motion.clone());
    }
    let (a, b) = ((theta - PI / 2.0 - from) / (to - from), (theta + PI / 2.0 - from) / (to - from));
    let (first, last) = (a.min(b).max(0.0), a.max(b).min(1.0));
    let at = |share: f64| {
        let mix = |from: f64, to: f64| from + (to - from) * share;
        let (from, to) = (motion.from, motion.to);
        Pose {
            x_mm: mix(from.x_mm, to.x_mm),
            y_mm: mix(from.y_mm, to.y_mm),
            z_mm: mix(from.z_mm, to.z_mm),
            a_deg: mix(from.a_deg, to.a_deg),
        }
    };
    (first < last).then(|| feed(at(first), at(last)))
}

/// Largest difference between carve and stepping. Stations stand at odd steps, so that none lies on a wall by design.
fn worst(motion: &Motion, setup: &Setup) -> (f64, String) {
    let grid = Grid { from_s_mm: 0.0, step_mm: 0.0973, stations: 246, rows: 90 };
    let (rows, _) = rows(std::slice::from_ref(motion), setup, grid);
    let mut worst = (0.0_f64, String::new());
    for (j, row) in rows.iter().enumerate().step_by(13) {
        for (i, &carved) in row.iter().enumerate().step_by(5) {
            let (s, angle) = (grid.station_mm(i), grid.angle_rad(j));
            let least = stepped_all_round(motion, setup, s, angle);
            let off = (f64::from(carved) - least).abs();
            if off > worst.0 {
                worst = (off, format!("{motion:?}\n s {s} row {j}: {carved} not {least}"));
            }
        }
    }
    worst
}

/// Moves of every kind that shape a blank: facing in a spiral, in and out, a ring, a ramp along the blank, a ramp in
/// a helix, a coarse groove, a plunge.
fn shaping(low: f64) -> Vec<Motion> {
    vec![
        feed(pose(-6.0, low, -360.0), pose(30.0, low, 1800.0)),
        feed(pose(30.0, low, 0.0), pose(-6.0, low, 2160.0)),
        feed(pose(12.0, low, 20.0), pose(12.0, low, 380.0)),
        feed(pose(12.0, low, 20.0), pose(12.0, low, 100.0)),
        feed(pose(4.0, low + 5.0, 45.0), pose(20.0, low, 45.0)),
        feed(pose(4.0, low, 45.0), pose(20.0, low, 45.0)),
        feed(pose(10.0, low + 14.0, 45.0), pose(10.0, low, 45.0)),
        feed(pose(4.0, low + 3.0, 10.0), pose(9.0, low, 370.0)),
        feed(pose(4.0, low, 10.0), pose(20.0, low + 14.0, 190.0)),
        feed(pose(2.0, low, 10.0), pose(22.0, low, 190.0)),
        feed(pose(2.0, low + 4.0, 10.0), pose(22.0, low, 130.0)),
    ]
}

#[test]
fn straight_cutters_agree_with_plain_stepping() {
    let mut wrong = Vec::new();
    for (tip, diameter) in [
        (Tip::Flat { diameter_mm: 12.0 }, 12.0),
        (Tip::Flat { diameter_mm: 3.0 }, 3.0),
        (Tip::Ball { radius_mm: 6.0 }, 12.0),
        (Tip::Ball { radius_mm: 2.0 }, 4.0),
    ] {
        let setup = straight(tip, diameter, 50.0);
        for motion in shaping(22.0).iter().chain(&shaping(15.0)) {
            let (off, place) = worst(motion, &setup);
            if off > AGREES_MM {
                wrong.push(format!("{off:.6} {tip:?} {place}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{} wrong\n{}", wrong.len(), wrong.join("\n"));
}

/// A cone that ends below the corners of a square leaves walls above its cone.
#[test]
fn cones_narrower_than_their_groove_agree_with_plain_stepping() {
    let mut wrong = Vec::new();
    for tip in [Tip::Flat { diameter_mm: 1.0 }, Tip::Flat { diameter_mm: 0.0 }, Tip::Ball { radius_mm: 1.5 }]
    {
        let mut setup = setup(BlankShape::Square, 50.0, 24.0, 60.0, tip);
        setup.cutter.cutting_diameter_mm = 7.0;
        for motion in &shaping(20.0) {
            let (off, place) = worst(motion, &setup);
            if off > AGREES_MM {
                wrong.push(format!("{off:.6} {tip:?} {place}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{} wrong\n{}", wrong.len(), wrong.join("\n"));
}

/// What a straight cutter's tip is said to measure does not matter: its end is as wide as its edges.
#[test]
fn the_end_of_a_straight_cutter_is_as_wide_as_its_edges() {
    let grid = Grid { from_s_mm: 0.0, step_mm: 0.1, stations: 241, rows: 30 };
    let motion = [feed(pose(2.0, 22.0, -40.0), pose(22.0, 22.0, 400.0))];
    for (right, wrong) in [
        (Tip::Flat { diameter_mm: 8.0 }, Tip::Flat { diameter_mm: 1.0 }),
        (Tip::Ball { radius_mm: 4.0 }, Tip::Ball { radius_mm: 9.0 }),
    ] {
        let (right, wrong) = (straight(right, 8.0, 50.0), straight(wrong, 8.0, 50.0));
        assert_eq!(rows(&motion, &right, grid).0, rows(&motion, &wrong, grid).0);
    }
}

/// Facing a square blank in a spiral that overlaps leaves a cylinder of the tip's height: what is removed is the
/// difference of the two sections, 4 - pi in units of the half width squared, times the length. Elementary geometry.
#[test]
fn facing_a_square_leaves_a_cylinder() {
    let setup = straight(Tip::Flat { diameter_mm: 12.0 }, 12.0, 50.0);
    let spiral = [feed(pose(-12.0, 25.0, 0.0), pose(36.0, 25.0, 8.0 * 360.0))];
    let grid = Grid::over(&setup.blank, Cells::square(0.1));
    let (rows, cuts) = rows(&spiral, &setup, grid);
    assert!(rows.iter().flatten().all(|&radius| (f64::from(radius) - 25.0).abs() < KEPT_MM));
    let exact = (4.0 - PI) * 25.0 * 25.0 * 24.0;
    assert!(
        (cuts[0].removed_mm3 - exact).abs() < AGREES_SHARE * exact,
        "{} not {exact}",
        cuts[0].removed_mm3
    );
}
