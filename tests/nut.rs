//! Programs of nuts, read back: where the cutter goes, what it cuts, what it never does. The moves are read from the text by
//! the reader of the proving half; everything is reckoned here from those moves alone, and compared with the sizes that the
//! job asks for.

#[allow(dead_code, reason = "each test binary uses its own part of it")]
mod common;

use std::f64::consts::TAU;

use common::Dice;
use threadwright::design::nut::{Nut, NutStep, nut_steps};
use threadwright::design::{self, Screw};
use threadwright::drawing::{Hand, NutStage};
use threadwright::finding::{Finding, Severity};
use threadwright::job::{Job, NutMilled};
use threadwright::post::{self, NutLead};
use threadwright::press;
use threadwright::proof;
use threadwright::report;
use threadwright::rs274::{Kind, Motion, Path, Turning, run};
use threadwright::setup::{Arcs, Cutter, Milling, NutTool, Tooth};
use threadwright::source::Source;
use threadwright::toolpath;
use threadwright::units::LengthUnit;

/// What the last digit of a program's words and the sum of a few of them bring, mm: inch programs have five decimals.
const WORDS_MM: f64 = 0.0004;

struct Made {
    job: Job,
    nut: Nut,
    programs: Vec<(NutStep, String, Vec<Motion>)>,
}

fn milled(job: &mut Job) -> &mut NutMilled {
    job.nut.as_mut().and_then(|nut| nut.milled.as_mut()).expect("the sample's nut is milled")
}

fn stops(findings: &[Finding]) -> Vec<&str> {
    findings.iter().filter(|f| f.severity == Severity::Stop).map(|f| f.message.as_str()).collect()
}

fn size(job: &Job) -> (Screw, Nut, Vec<Finding>) {
    let (screw, _) = design::screw(job);
    let screw = screw.expect("the sample can be made");
    let (nut, findings) = design::nut(job, &screw);
    (screw, nut.expect("the sample has a nut"), findings)
}

fn make(job: Job) -> Made {
    let (_, nut, findings) = size(&job);
    assert!(stops(&findings).is_empty(), "{}: {:?}", job.title, stops(&findings));
    // The reader knows of a machine through the set-up of its rotary.
    let control = proof::control(&common::make_job(job.clone()).setup);
    let programs = nut_steps(&job, &nut)
        .into_iter()
        .map(|step| {
            let path = toolpath::nut_work(&job, &nut, &step).expect("a step of the nut has a path");
            let text = post::nut_program(&job, &nut, &step, &path, &NutLead::default());
            let read = run(&Source::new("nut.nc", text.as_str()), &control);
            assert!(stops(&read.findings).is_empty(), "{}: {:?}", job.title, stops(&read.findings));
            assert!(read.ended);
            (step, text, read.motions)
        })
        .collect();
    Made { job, nut, programs }
}

/// The samples as they are, and turned every way.
fn every_way() -> Vec<Made> {
    let mut all = Vec::new();
    for name in ["nipping-press", "lying-press"] {
        for hand in [Hand::Right, Hand::Left] {
            for milling in [Milling::Climb, Milling::Conventional] {
                for arcs in [Arcs::Centre, Arcs::None] {
                    let mut job = common::sample(name).job;
                    job.screw.hand = hand;
                    milled(&mut job).milling = milling;
                    job.mill.as_mut().expect("the sample's machine mills").arcs = arcs;
                    if let Some(nut) = &mut job.nut {
                        nut.start_angle_deg = 37.0;
                    }
                    all.push(make(job));
                }
            }
        }
    }
    all
}

/// Distance of the cutter's axis from the nut's.
fn off(motion_end: &threadwright::rs274::Pose) -> f64 {
    motion_end.x_mm.hypot(motion_end.y_mm)
}

#[test]
fn the_cutter_is_let_down_and_lifted_on_the_axis_only() {
    for made in every_way() {
        for (step, text, motions) in &made.programs {
            let began = motions.iter().position(|m| m.turning == Turning::Clockwise).unwrap_or(0);
            assert!(motions.iter().all(|m| m.from.a_deg == 0.0 && m.to.a_deg == 0.0));
            assert!(!text.contains(" A") && !text.contains("G93"));
            // Before the spindle runs, the cutter comes down from nowhere to its place over the hole.
            for motion in &motions[began..] {
                let level = off(&motion.from) < WORDS_MM && off(&motion.to) < WORDS_MM;
                if motion.kind == Kind::Rapid {
                    assert!(level, "line {}: a rapid move beside the axis", motion.line);
                    assert!(motion.to.z_mm > 0.0, "line {}: a rapid move in the hole", motion.line);
                }
                let straight_down = matches!(motion.path, Path::Straight)
                    && (motion.to.x_mm - motion.from.x_mm).hypot(motion.to.y_mm - motion.from.y_mm)
                        < WORDS_MM
                    && motion.to.z_mm != motion.from.z_mm;
                if straight_down {
                    assert!(level, "line {}: straight down beside the axis", motion.line);
                }
            }
            let last = motions.last().expect("a program moves");
            assert!(off(&last.to) < WORDS_MM && last.to.z_mm > step.setup.block.clamps.height_mm);
        }
    }
}

#[test]
fn nothing_leaves_the_room_that_the_set_up_gives() {
    for made in every_way() {
        for (step, _, motions) in &made.programs {
            let block = &step.setup.block;
            let bed = -block.thickness_mm - block.below_mm;
            let (reach, stick_out, collet) = match &step.setup.tool {
                NutTool::Thread(cutter) => {
                    (cutter.teeth[0].diameter_mm / 2.0, cutter.stick_out_mm, cutter.collet_diameter_mm / 2.0)
                }
                NutTool::Boring(cutter) => {
                    (cutter.cutting_diameter_mm / 2.0, cutter.stick_out_mm, cutter.collet_diameter_mm / 2.0)
                }
            };
            for motion in motions {
                let (to, line) = (&motion.to, motion.line);
                assert!(to.z_mm > bed, "line {line}: {} at the bed of {bed}", to.z_mm);
                assert!(to.z_mm >= step.setup.z_limits_mm[0] && to.z_mm <= step.setup.z_limits_mm[1]);
                assert!(to.z_mm + stick_out > 0.0, "line {line}: the collet is on the block");
                if to.z_mm < -block.thickness_mm {
                    assert!(2.0 * (off(to) + reach) <= block.below_diameter_mm + WORDS_MM, "line {line}");
                }
                if to.z_mm + stick_out < block.clamps.height_mm {
                    assert!(
                        off(to) + collet < block.clamps.from_axis_mm,
                        "line {line}: the collet meets a clamp"
                    );
                }
                if let NutTool::Thread(cutter) = &step.setup.tool
                    && to.z_mm < 0.0
                    && motion.kind == Kind::Feed
                {
                    let neck = off(to) + cutter.neck_diameter_mm / 2.0;
                    assert!(2.0 * neck < step.drawing.bore_diameter_mm, "line {line}: the neck rubs");
                }
            }
        }
    }
}

/// The helix of a thread's program: motions on a circle round the axis that climb.
fn helix(motions: &[Motion]) -> Vec<&Motion> {
    let round = |m: &&Motion| {
        m.kind == Kind::Feed
            && off(&m.from) > WORDS_MM
            && (off(&m.from) - off(&m.to)).abs() < WORDS_MM
            && m.from.z_mm != m.to.z_mm
    };
    motions.iter().filter(round).collect()
}

fn angle_deg(pose: &threadwright::rs274::Pose) -> f64 {
    pose.y_mm.atan2(pose.x_mm).to_degrees()
}

#[test]
fn every_start_runs_where_the_drawing_has_it() {
    for made in every_way() {
        let (step, _, motions) = made.programs.last().expect("the nut has a thread");
        let NutTool::Thread(cutter) = &step.setup.tool else { panic!("a thread is cut with teeth") };
        let (drawing, tooth) = (&step.drawing, cutter.teeth[0]);
        let h = if drawing.hand == Hand::Right { 1.0 } else { -1.0 };
        let mut starts = vec![0; drawing.starts as usize];
        let mut asides = Vec::new();
        let runs = helix(motions);
        assert!(!runs.is_empty());
        for motion in runs {
            let middle = motion.to.z_mm + tooth.middle_mm;
            let each = 360.0 / f64::from(drawing.starts);
            let turned =
                angle_deg(&motion.to) - drawing.start_angle_deg - h * 360.0 * middle / drawing.lead_mm;
            let start = (turned / each).round();
            // What the tooth stands off its groove's middle, along the axis.
            let aside = (turned - start * each) * h * drawing.lead_mm / 360.0;
            let aside = -aside;
            starts[start.rem_euclid(f64::from(drawing.starts)) as usize] += 1;
            let known = made.nut.mating.as_ref().map_or(0.0, |mating| mating.aside_mm);
            let near = [0.0, known, -known].into_iter().any(|known| (aside - known).abs() < 0.01);
            assert!(near, "line {}: {aside} mm beside its groove", motion.line);
            asides.push(aside);
        }
        assert!(starts.iter().all(|count| *count == starts[0]), "starts are cut alike: {starts:?}");
        let widest =
            motions.iter().map(|m| off(&m.to)).filter(|r| *r < made.nut.major_radius_mm).fold(0.0, f64::max);
        let chamfer = made.nut.chamfer_circle_mm(tooth.diameter_mm);
        let deepest = helix(motions).iter().map(|m| off(&m.to)).fold(0.0, f64::max);
        assert!((deepest + tooth.diameter_mm / 2.0 - drawing.major_diameter_mm / 2.0).abs() < WORDS_MM);
        assert!((widest - chamfer.max(deepest)).abs() < WORDS_MM, "{widest} {chamfer} {deepest}");
    }
}

#[test]
fn a_cutter_that_climbs_goes_round_against_the_clock() {
    for made in every_way() {
        let climbs = made.job.nut.as_ref().and_then(|nut| nut.milled.as_ref()).map(|it| it.milling)
            == Some(Milling::Climb);
        for (_, _, motions) in &made.programs {
            for motion in motions {
                if let Path::Arc(arc) = motion.path {
                    assert_eq!(arc.sweep_deg > 0.0, climbs, "line {}", motion.line);
                    assert!(arc.sweep_deg.abs() < 180.1, "line {}: more than half a turn", motion.line);
                }
            }
            let arcs = motions.iter().any(|m| matches!(m.path, Path::Arc(_)));
            assert_eq!(arcs, made.job.mill.map(|mill| mill.arcs) == Some(Arcs::Centre));
        }
    }
}

#[test]
fn teeth_run_along_the_wall_at_the_feed() {
    for made in every_way() {
        let (step, _, motions) = made.programs.last().expect("the nut has a thread");
        let NutTool::Thread(cutter) = &step.setup.tool else { panic!("a thread is cut with teeth") };
        for motion in helix(motions) {
            let turn = (angle_deg(&motion.to) - angle_deg(&motion.from)).rem_euclid(360.0).to_radians();
            let turn = turn.min(TAU - turn);
            if turn < 0.01 {
                continue; // A remainder of a turn, shorter than its rounding.
            }
            let climb = motion.to.z_mm - motion.from.z_mm;
            let minutes = match motion.path {
                Path::Arc(_) => (off(&motion.to) * turn).hypot(climb) / motion.feed,
                Path::Straight => {
                    (motion.to.x_mm - motion.from.x_mm).hypot(motion.to.y_mm - motion.from.y_mm).hypot(climb)
                        / motion.feed
                }
            };
            let edge = ((off(&motion.to) + cutter.teeth[0].diameter_mm / 2.0) * turn).hypot(climb) / minutes;
            // Chords are shorter than their arcs by less than a thousandth here.
            let share = edge / step.setup.edge_feed_mm_per_min;
            assert!((share - 1.0).abs() < 2e-3, "line {}: {share} of the feed", motion.line);
        }
    }
}

/// Every place of the cutter's axis and end along the feed moves, a fifth of a degree apart.
fn places(motions: &[Motion]) -> Vec<[f64; 3]> {
    const STEP: f64 = 0.2;
    let mut places = Vec::new();
    for motion in motions.iter().filter(|m| m.kind == Kind::Feed) {
        let (from, to) = (&motion.from, &motion.to);
        match motion.path {
            Path::Arc(arc) => {
                let steps = (arc.sweep_deg.abs() / STEP).ceil();
                let begin = (from.y_mm - arc.centre_mm[1]).atan2(from.x_mm - arc.centre_mm[0]);
                for index in 0..=steps as u32 {
                    let share = f64::from(index) / steps;
                    let angle = begin + arc.sweep_deg.to_radians() * share;
                    places.push([
                        arc.centre_mm[0] + arc.radius_mm * angle.cos(),
                        arc.centre_mm[1] + arc.radius_mm * angle.sin(),
                        from.z_mm + (to.z_mm - from.z_mm) * share,
                    ]);
                }
            }
            Path::Straight => {
                for index in 0..=20_u32 {
                    let share = f64::from(index) / 20.0;
                    places.push([
                        from.x_mm + (to.x_mm - from.x_mm) * share,
                        from.y_mm + (to.y_mm - from.y_mm) * share,
                        from.z_mm + (to.z_mm - from.z_mm) * share,
                    ]);
                }
            }
        }
    }
    places
}

/// How far inside a tooth a point is, along the axis, at the best of all places; below zero outside.
fn inside_mm(point: [f64; 3], places: &[[f64; 3]], tooth: &Tooth) -> f64 {
    let slope = (tooth.included_angle_deg / 2.0).to_radians().tan();
    let radius = tooth.diameter_mm / 2.0;
    let depth = |place: &[f64; 3]| {
        let q = (point[0] - place[0]).hypot(point[1] - place[1]);
        let half = if q > radius {
            return f64::NEG_INFINITY;
        } else {
            tooth.tip_flat_mm / 2.0 + (radius - q) * slope
        };
        half - (point[2] - place[2] - tooth.middle_mm).abs()
    };
    places.iter().map(depth).fold(f64::NEG_INFINITY, f64::max)
}

#[test]
fn what_the_program_cuts_is_the_groove_of_the_drawing() {
    // Places are a fifth of a degree apart, which misses the top of a smooth hill by some 1e-4 mm; near the major diameter the
    // tooth's rim decides, and a step there is p times that angle: 0.011 mm. Chords and words are below.
    const SAMPLED_MM: f64 = 0.02;
    let mut dice = Dice(7);
    for made in every_way() {
        let (step, _, motions) = made.programs.last().expect("the nut has a thread");
        let NutTool::Thread(cutter) = &step.setup.tool else { panic!("a thread is cut with teeth") };
        let (drawing, tooth) = (&step.drawing, cutter.teeth[0]);
        let places = places(motions);
        let h = if drawing.hand == Hand::Right { 1.0 } else { -1.0 };
        let pitch = drawing.lead_mm / f64::from(drawing.starts);
        let (bore, major) = (drawing.bore_diameter_mm / 2.0, drawing.major_diameter_mm / 2.0);
        let chamfer = drawing.chamfer_top.map_or(0.0, |cone| cone.depth_mm);
        // Nearer to the major radius than what passes there, a chord of 0.005 mm would decide and not the groove.
        let compared: Vec<_> = drawing
            .section
            .iter()
            .filter(|point| point.r_mm > bore && point.r_mm < major - drawing.passes.radius_mm)
            .collect();
        for _ in 0..40 {
            let point = *dice.pick(&compared);
            let phi = dice.between(0.0, 360.0);
            // The middle of the groove nearest to a height in the full thread.
            let height = -dice.between(chamfer + pitch, drawing.length_mm - chamfer - pitch);
            let middle = (phi - drawing.start_angle_deg) * h * drawing.lead_mm / 360.0;
            let middle = middle + ((height - middle) / pitch).round() * pitch;
            let at = |z: f64| {
                let angle = phi.to_radians();
                [point.r_mm * angle.cos(), point.r_mm * angle.sin(), z]
            };
            for side in [1.0, -1.0] {
                let within =
                    inside_mm(at(middle + side * (point.half_width_mm - SAMPLED_MM)), &places, &tooth);
                let without =
                    inside_mm(at(middle + side * (point.half_width_mm + SAMPLED_MM)), &places, &tooth);
                assert!(
                    within > 0.0,
                    "{}: wood stands {within} in the groove at {}",
                    made.job.title,
                    point.r_mm
                );
                assert!(without < 0.0, "{}: cut {without} past the groove at {}", made.job.title, point.r_mm);
            }
        }
        // The thread goes through: at both faces, just inside the wood and outside the chamfers, the groove is there.
        for (face, inwards) in [(0.0, -1.0), (-drawing.length_mm, 1.0)] {
            let point = drawing.section[drawing.section.len() - 2];
            let z = face + inwards * WORDS_MM;
            let phi = drawing.start_angle_deg + h * 360.0 * z / drawing.lead_mm;
            let angle = phi.to_radians();
            let place = [point.r_mm * angle.cos(), point.r_mm * angle.sin(), z];
            assert!(inside_mm(place, &places, &tooth) > 0.0, "no groove at the face {face}");
        }
    }
}

#[test]
fn the_bore_is_round_and_goes_through() {
    let made = make(common::sample("lying-press").job);
    let (step, _, motions) = &made.programs[0];
    assert_eq!(step.stage, NutStage::Bored);
    let NutTool::Boring(Cutter { cutting_diameter_mm, .. }) = &step.setup.tool else {
        panic!("a bore needs a straight cutter")
    };
    let widest = motions.iter().filter(|m| m.kind == Kind::Feed).map(|m| off(&m.to)).fold(0.0, f64::max);
    assert!((2.0 * widest + cutting_diameter_mm - step.drawing.bore_diameter_mm).abs() < WORDS_MM);
    // Rings overlap, and the first leaves no pillar: the way out from the axis grows by less than the cutter's radius.
    let mut rings: Vec<f64> = motions.iter().map(|m| off(&m.to)).filter(|r| *r > WORDS_MM).collect();
    rings.sort_by(f64::total_cmp);
    rings.dedup_by(|a, b| (*a - *b).abs() < WORDS_MM);
    let mut before = 0.0;
    for ring in rings {
        assert!(ring - before < cutting_diameter_mm / 2.0, "a ring at {ring} after one at {before}");
        before = ring;
    }
    let lowest = motions.iter().map(|m| m.to.z_mm).fold(0.0, f64::min);
    assert!(lowest < -step.drawing.length_mm);
    // The second program finds the hole that the first one left.
    assert_eq!(made.programs[1].0.setup.block.hole_diameter_mm, Some(step.drawing.bore_diameter_mm));
}

#[test]
fn rows_of_teeth_save_turns_and_cut_the_same() {
    let mut job = common::sample("lying-press").job;
    let one = make(job.clone());
    let pitch = job.screw.pitch_mm;
    let cutter = &mut milled(&mut job).cutter;
    let tooth = cutter.teeth[0];
    cutter.teeth =
        (0..3).map(|row| Tooth { middle_mm: tooth.middle_mm + f64::from(row) * pitch, ..tooth }).collect();
    let three = make(job);
    let length =
        |made: &Made| helix(&made.programs[1].2).iter().map(|m| (m.to.z_mm - m.from.z_mm).abs()).sum::<f64>();
    assert!(length(&three) < 0.9 * length(&one));
    let (_, _, motions) = &three.programs[1];
    let places = places(motions);
    let NutTool::Thread(cutter) = &three.programs[1].0.setup.tool else {
        panic!("a thread is cut with teeth")
    };
    let drawing = &three.programs[1].0.drawing;
    let point = drawing.section[drawing.section.len() - 2];
    for index in 0..60 {
        let z = -f64::from(index) / 60.0 * drawing.length_mm;
        let angle = (drawing.start_angle_deg + 360.0 * z / drawing.lead_mm).to_radians();
        let place = [point.r_mm * angle.cos(), point.r_mm * angle.sin(), z];
        let cut = cutter.teeth.iter().any(|tooth| inside_mm(place, &places, tooth) > 0.0);
        assert!(cut, "no groove at {z}");
    }
}

#[test]
fn a_control_of_few_decimals_gets_short_lines() {
    let mut job = common::sample("nipping-press").job;
    job.machine.style.decimals = 2;
    let made = make(job);
    let (_, text, _) = &made.programs[0];
    assert!(!text.contains("G3") && text.contains("arcs are written as short lines"));
    let mut job = common::sample("nipping-press").job;
    job.machine.style.unit = LengthUnit::Inch;
    let made = make(job);
    assert!(made.programs[0].1.contains("G3"), "four decimals of an inch close an arc");
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    for name in ["nipping-press", "lying-press"] {
        let texts = |made: Made| made.programs.into_iter().map(|(_, text, _)| text).collect::<Vec<_>>();
        assert_eq!(texts(make(common::sample(name).job)), texts(make(common::sample(name).job)));
    }
}

#[test]
fn what_is_told_of_the_samples() {
    for name in ["nipping-press", "lying-press"] {
        let job = common::sample(name).job;
        let (screw, nut, _) = size(&job);
        let (press, _) = press::press(&job, &screw);
        let told = report::nut::Told::of(&job, &screw, &nut, &press, &[("thread", 4.4)]);
        let text = report::nut::text(&job, &screw, &nut, &told);
        insta::with_settings!({ snapshot_path => "said", prepend_module_to_snapshot => false, omit_expression => true }, {
            insta::assert_snapshot!(format!("nut-{name}"), text);
        });
        let thread = make(job).programs.pop().expect("the nut has a thread").1;
        let head: Vec<&str> = thread.lines().take_while(|line| line.starts_with(['(', ';', '%'])).collect();
        insta::with_settings!({ snapshot_path => "said", prepend_module_to_snapshot => false, omit_expression => true }, {
            insta::assert_snapshot!(format!("nut-head-{name}"), head.join("\n"));
        });
    }
}
