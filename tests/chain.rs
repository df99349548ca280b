//! The whole chain on jobs of every kind: what was planned is what is written, what is written is what is read, by
//! this crate and by another reader, and valid jobs raise no alarm.

#[allow(dead_code, reason = "each test binary uses its own part of it")]
mod common;

use common::{Dice, Made};
use threadwright::design;
use threadwright::drawing::Hand;
use threadwright::finding::Severity;
use threadwright::job::{DepthAsked, Job, Order, Passes, Travel};
use threadwright::proof;
use threadwright::rs274::{Kind, Motion, run};
use threadwright::setup::{Blank, BlankShape, Tip};
use threadwright::source::Source;
use threadwright::stock::{Cells, Grid, Row, carve};
use threadwright::toolpath;
use threadwright::units::LengthUnit;

/// A job made at random for one of the sample machines; it may turn out not to be makeable.
fn any_job(dice: &mut Dice) -> Job {
    let name = common::SAMPLES[dice.below(common::SAMPLES.len())];
    let mut job = common::sample(name).job;
    let crest = dice.between(20.0, 80.0);
    job.title = format!("trial piece {}", dice.below(1000));
    job.unit = *dice.pick(&[LengthUnit::Mm, LengthUnit::Inch]);
    let starts = 1 + dice.below(4) as u32;
    let pitch = crest * dice.between(0.12, 0.24);
    let half_angle = dice.between(25.0, 50.0_f64);
    job.screw.crest_diameter_mm = crest;
    job.screw.pitch_mm = pitch;
    job.screw.starts = starts;
    job.screw.lead_mm = pitch * f64::from(starts);
    job.screw.hand = *dice.pick(&[Hand::Right, Hand::Left]);
    job.screw.included_angle_deg = None;
    job.screw.depth = DepthAsked::CrestFlat { flat_mm: pitch * dice.between(0.1, 0.3), depth_too_mm: None };
    job.screw.thread_length_mm = job.screw.lead_mm * dice.between(2.5, 5.0);
    job.screw.plain_nose_mm = *dice.pick(&[0.0, 12.0]);
    job.screw.plain_head_mm = dice.between(60.0, 90.0);
    job.blank.shape = BlankShape::Round;
    job.blank.size_mm = crest;
    job.blank.waste_nose_mm = dice.between(0.0, 20.0);
    job.blank.waste_head_mm = job.machine.chuck.grip_mm + dice.between(0.0, 10.0);
    job.cutter.included_angle_deg = 2.0 * half_angle;
    job.cutter.tip = if dice.below(2) == 0 {
        Tip::Flat { diameter_mm: pitch * dice.between(0.08, 0.2) }
    } else {
        Tip::Ball { radius_mm: pitch * dice.between(0.04, 0.1) }
    };
    job.cutter.cutting_diameter_mm = 2.0 * pitch;
    job.cutter.cutting_length_mm = pitch / half_angle.to_radians().tan();
    job.cutter.stick_out_mm = job.cutter.cutting_length_mm + dice.between(35.0, 45.0);
    job.cutter.collet_diameter_mm = 30.0;
    if let Some(centre) = &mut job.machine.centre {
        centre.diameter_mm = 8.0;
    }
    job.machine.a.limit_deg = job.machine.a.limit_deg.map(|_| 20_000.0);
    job.cutting.passes = Passes::EqualArea(2 + dice.below(4) as u32);
    job.cutting.spring_pass = dice.below(3) == 0;
    job.cutting.order = *dice.pick(&[Order::ByStart, Order::ByDepth]);
    job.cutting.travel = *dice.pick(&[Travel::OneWay, Travel::OneWay, Travel::BothWays]);
    job.cutting.run_out_turns = dice.between(0.25, 1.0);
    let turn_mm = (std::f64::consts::PI * crest).hypot(job.screw.lead_mm);
    let a_turns = job.machine.a.top_deg_per_min / 360.0;
    let x_turns = job.machine.x.top_mm_per_min / job.screw.lead_mm;
    job.cutting.feed_mm_per_min = turn_mm * a_turns.min(x_turns) * dice.between(0.2, 0.8);
    job
}

/// A random job that can be made, with everything that follows, and its plan.
fn any_made(dice: &mut Dice) -> (Made, toolpath::Path) {
    loop {
        let job = any_job(dice);
        let (screw, mut findings) = design::screw(&job);
        let Some(screw) = screw else { continue };
        let (plan, more) = toolpath::plan(&job, &screw);
        findings.extend(more);
        if findings.iter().all(|finding| finding.severity < Severity::Stop)
            && let Some(plan) = plan
        {
            return (common::make_job(job), plan);
        }
    }
}

fn describe(made: &Made) -> String {
    format!("{:?} {:?} {:?} {}", made.job.screw, made.job.cutting, made.job.cutter, made.job.machine.title)
}

/// Read back, every motion ends where it was planned, to half the last digit that the machine prints.
#[test]
fn what_was_planned_is_what_is_read() {
    let mut dice = Dice(0x000C_0FFE_E000_1234);
    for _ in 0..300 {
        let (made, plan) = any_made(&mut dice);
        let read = run(&Source::new("trial.nc", made.program.as_str()), &proof::control(&made.setup));
        assert!(read.findings.is_empty(), "{:?}\n{}", read.findings, describe(&made));
        let style = made.setup.machine.style;
        // Half the last digit; single values pass through a conversion of units and back.
        let half_digit = 0.5 * 10_f64.powi(-(style.decimals as i32)) * (1.0 + 1e-6);
        let d = made.setup.machine.headstock.sign();
        let k = made.setup.machine.a_plus.sign();
        let unit = style.unit.mm();
        // The first three motions go to where the plan begins. A move too short to show in the printed digits is not
        // written, so a step that ends where the cutter stands already has no motion of its own.
        let mut motions = read.motions[2..].iter();
        let mut stands = motions.next().expect("the plan begins somewhere");
        for step in &plan.moves {
            let wanted = [
                (made.setup.x_nose_mm + d * step.to.s_mm) / unit,
                (made.setup.z_axis_mm + step.to.r_mm) / unit,
                -d * k * step.to.theta_deg,
            ];
            let reached = |motion: &Motion| {
                let words = [motion.to.x_mm / unit, motion.to.z_mm / unit, motion.to.a_deg];
                words.iter().zip(wanted).all(|(word, wanted)| (word - wanted).abs() <= half_digit)
            };
            if !reached(stands) {
                stands = motions.next().expect("every step that moves has a motion");
                assert!(reached(stands), "{wanted:?} is not {:?}, line {}", stands.to, stands.line);
            }
        }
        assert!(motions.all(|motion| motion.kind == Kind::Rapid), "nothing but the way out is left");
    }
}

/// Valid jobs raise nothing, but that a cut which runs both ways lets the play of the axes show.
#[test]
fn valid_jobs_raise_no_alarm() {
    let mut dice = Dice(0x0F00_0D00_0BAD_0CAB);
    let mut wrong = Vec::new();
    for _ in 0..500 {
        let (made, _) = any_made(&mut dice);
        let program = Source::new("trial.nc", made.program.as_str());
        let proof = proof::prove(&program, &made.setup, &made.drawing, None);
        let alarms: Vec<_> =
            proof.findings.iter().filter(|finding| finding.code.name != "backlash-shows").collect();
        if !alarms.is_empty() {
            wrong.push(format!("{alarms:?}\n{}", describe(&made)));
        }
    }
    assert!(wrong.is_empty(), "{} of 500:\n{}", wrong.len(), wrong[0]);
}

/// The `gcode` crate, an independent reader, finds the same moves in every sample program. It keeps numbers in single
/// precision, so they are read again from the text that it points at.
#[test]
fn another_reader_finds_the_same_moves() {
    for name in common::SAMPLES {
        let made = common::sample(name);
        let text = &made.program;
        let ours = run(&Source::new(name, text.as_str()), &proof::control(&made.setup));
        // It takes a semicolon for the start of a comment, as the machine does that asks for them.
        let theirs = gcode::parse(text).expect("the other reader takes it");
        let number = |span: gcode::core::Span| -> f64 {
            text[span.start + 1..span.end()].parse().expect("a number stands after the letter")
        };
        let unit = made.setup.machine.style.unit.mm();
        let mut at = 0;
        for block in &theirs.blocks {
            for code in &block.codes {
                let gcode::Code::General(code) = code else { continue };
                let kind = match code.number.to_string().as_str() {
                    "0" => Kind::Rapid,
                    "1" => Kind::Feed,
                    _ => continue,
                };
                let motion = &ours.motions[at];
                assert_eq!(motion.kind, kind, "{name} line {}", motion.line);
                for argument in &code.args {
                    let value = number(argument.span);
                    let (ours, theirs) = match argument.letter {
                        'X' => (motion.to.x_mm, value * unit),
                        'Z' => (motion.to.z_mm, value * unit),
                        'A' => (motion.to.a_deg, value),
                        'F' => continue,
                        other => panic!("{name}: a word {other} in a move"),
                    };
                    assert!(ours == theirs, "{name} line {}: {ours} and {theirs}", motion.line);
                }
                at += 1;
            }
        }
        assert_eq!(at, ours.motions.len(), "{name}: as many moves");
    }
}

/// A blank of any section is carved as the words say: the volume between an octagon and its inscribed circle is what
/// a cylindrical cut of the whole surface takes away. Octagon to circle: 0.043028961 of the square on its width,
/// elementary geometry.
#[test]
fn an_octagon_holds_the_wood_it_should() {
    let blank = Blank {
        shape: BlankShape::Octagon,
        size_mm: 60.0,
        from_s_mm: 0.0,
        to_s_mm: 100.0,
        chuck_face_s_mm: 100.0,
    };
    let mut made = common::sample("nipping-press");
    made.setup.blank = blank;
    let grid = Grid::over(&blank, Cells::square(0.1));
    let section = |row: &Row<'_>| f64::from(row.radii_mm[0]).powi(2) / 2.0;
    let carved = carve(&[], &[], &made.setup, grid, |row| Some(section(&row)));
    let area: f64 = carved.rows.iter().sum::<f64>() * std::f64::consts::TAU / grid.rows as f64;
    let over_circle = (area - std::f64::consts::PI * 900.0) / 3600.0;
    assert!((over_circle - 0.043_028_961).abs() < 1e-5, "{over_circle}");
}
