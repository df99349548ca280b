//! The whole chain on jobs of every kind: what was planned is what is written, what is written is what is read, by
//! this crate and by another reader, and valid jobs raise no alarm.

#[allow(dead_code, reason = "each test binary uses its own part of it")]
mod common;

use common::{Dice, Made};
use threadwright::design;
use threadwright::drawing::Hand;
use threadwright::feeds::{self, BENDS_MM, Bounds, CUTTER_BENDS_MM, Row};
use threadwright::finding::{Finding, Severity};
use threadwright::job::{DepthAsked, Job, Order, Passes, Travel};
use threadwright::post;
use threadwright::pressure::BAND;
use threadwright::proof;
use threadwright::rs274::{Kind, Motion, run};
use threadwright::setup::{Blank, BlankShape, FeedConvention, Tip};
use threadwright::source::Source;
use threadwright::stock::{self, Cells, Grid, carve};
use threadwright::toolpath::{self, Pace};
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
        let news = common::news(&read.findings, &made.setup.machine);
        assert!(news.is_empty(), "{news:?}\n{}", describe(&made));
        steps(&made, &plan, &read.motions);
    }
}

/// For every step of the plan the motion that ends it, and whether it has that motion for itself: a step too short to
/// show in the printed digits is not written, so it ends where the cutter stands already.
fn steps<'a>(made: &Made, plan: &toolpath::Path, motions: &'a [Motion]) -> Vec<(&'a Motion, bool)> {
    let style = made.setup.machine.style;
    // Half the last digit; single values pass through a conversion of units and back.
    let half_digit = 0.5 * 10_f64.powi(-(style.decimals as i32)) * (1.0 + 1e-6);
    let d = made.setup.machine.headstock.sign();
    let k = made.setup.machine.a_plus.sign();
    let unit = style.unit.mm();
    // The first three motions go to where the plan begins.
    let mut motions = motions[2..].iter();
    let mut stands = motions.next().expect("the plan begins somewhere");
    let mut found = Vec::new();
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
        let own = !reached(stands);
        if own {
            stands = motions.next().expect("every step that moves has a motion");
            assert!(reached(stands), "{wanted:?} is not {:?}, line {}", stands.to, stands.line);
        }
        found.push((stands, own));
    }
    assert!(motions.all(|motion| motion.kind == Kind::Rapid), "nothing but the way out is left");
    found
}

/// The plan as it was read back from the text: every place and every time as the printed digits have it.
fn read_back(made: &Made, plan: &toolpath::Path, motions: &[Motion]) -> toolpath::Path {
    let d = made.setup.machine.headstock.sign();
    let k = made.setup.machine.a_plus.sign();
    let place = |motion: &Motion| toolpath::Place {
        s_mm: d * (motion.to.x_mm - made.setup.x_nose_mm),
        theta_deg: -d * k * motion.to.a_deg,
        r_mm: motion.to.z_mm - made.setup.z_axis_mm,
    };
    let mut again = plan.clone();
    again.from = place(&motions[2]);
    for (step, (motion, own)) in again.moves.iter_mut().zip(steps(made, plan, motions)) {
        step.to = place(motion);
        if let (Pace::Feed { minutes }, true) = (&mut step.pace, own) {
            *minutes = motion.minutes.expect("a cutting move has a time");
        }
    }
    again
}

/// Written, read, and written again from what was read: the same bytes in all that the machine acts on. So reading loses
/// nothing that writing needs, and printed digits survive both ways. Comments round figures of the plan for the eye, and
/// half a turn may round the other way.
#[test]
fn written_again_from_what_was_read_it_is_the_same_text() {
    let mut dice = Dice(0x0DD5_0C0D_E000_0BEE);
    for _ in 0..200 {
        let (made, plan) = any_made(&mut dice);
        let read = run(&Source::new("trial.nc", made.program.as_str()), &proof::control(&made.setup));
        let screw = design::screw(&made.job).0.expect("the job was made once");
        let again = post::program(&made.job, &screw, &read_back(&made, &plan, &read.motions));
        let acted_on = |text: &str| -> Vec<String> {
            text.lines().filter(|line| !line.starts_with(['(', ';'])).map(str::to_owned).collect()
        };
        let (first, second) = (acted_on(&made.program), acted_on(&again));
        let differing = first.iter().zip(&second).find(|(one, other)| one != other);
        assert_eq!(differing, None, "{}", describe(&made));
        assert_eq!(first.len(), second.len(), "{}", describe(&made));
        assert!(20 < first.len());
    }
}

/// Two reckonings of one load may differ by this share: one from the outline of the cutter, one from the wood on a grid,
/// which the helix has widened.
const SAME_LOAD: f64 = 0.12;
/// Chips may differ more: on a steep thread the cutter's shoulder opens the groove ahead, and its flanks touch less wood.
const SAME_CHIP: f64 = 0.16;

/// The passes of a job as the making half reckons them.
fn reckoned(made: &Made) -> Vec<Row> {
    let screw = design::screw(&made.job).0.expect("it was made");
    let bounds = Bounds::of(&made.job, &screw);
    feeds::rows(&bounds, &feeds::trips(&made.job, &screw).0, made.job.cutting.rpm)
}

/// How far a load that a finding speaks of goes towards its limit as the making half reckons it, by the code of the finding;
/// `None` for findings that are not about loads.
fn towards(code: &str, made: &Made, row: &Row) -> Option<f64> {
    let loads = row.loads?;
    let machine = &made.setup.machine;
    let most = |load: Option<f64>, limit: Option<f64>| Some(load? * BAND / limit?);
    match code {
        "chip-thin" => Some(loads.least_chip_mm / loads.strain.chip_mm),
        "chip-thick" => Some(loads.strain.feed_per_edge_mm / loads.most_feed_per_edge_mm),
        "power-high" => most(loads.strain.push.map(|push| push.power_w), machine.spindle.power_w),
        "torque-high" => most(loads.torque_nm, machine.a.holding_nm),
        "blank-bends" => most(loads.bend_mm, Some(BENDS_MM[0])),
        "cutter-bends" => most(loads.cutter_bend_mm, Some(CUTTER_BENDS_MM)),
        _ => None,
    }
}

/// What a proof says of a valid job without blaming it.
fn expected(made: &Made, finding: &Finding) -> bool {
    match finding.code.name {
        "backlash-shows" => made.job.cutting.travel == Travel::BothWays,
        "feed-reading" => {
            made.setup.machine.feed == FeedConvention::Combined && finding.severity == Severity::Note
        }
        _ => false,
    }
}

/// Valid jobs raise nothing, but that a cut which runs both ways lets the play of the axes show, a note where F counts
/// millimetres and degrees together, and that a load is past its limit where the other half, which made the program,
/// reckons so too.
#[test]
fn valid_jobs_raise_no_alarm() {
    let mut dice = Dice(0x0F00_0D00_0BAD_0CAB);
    let (mut wrong, mut loaded) = (Vec::new(), 0);
    for _ in 0..500 {
        let (made, _) = any_made(&mut dice);
        let program = Source::new("trial.nc", made.program.as_str());
        let proof = proof::prove(&program, &made.setup, &made.drawing, None);
        let rows = reckoned(&made);
        let most = |code: &str| rows.iter().filter_map(|row| towards(code, &made, row)).reduce(f64::max);
        let loads = |code: &str| most(code).is_some_and(|most| most >= 1.0 - SAME_LOAD);
        let mut alarms = common::news(&proof.findings, &made.setup.machine);
        alarms.retain(|finding| !expected(&made, finding) && !loads(finding.code.name));
        loaded += usize::from(proof.findings.iter().any(|finding| most(finding.code.name).is_some()));
        if !alarms.is_empty() {
            wrong.push(format!("{alarms:?}\n{}", describe(&made)));
        }
    }
    assert!(wrong.is_empty(), "{} of 500:\n{}", wrong.len(), wrong[0]);
    assert!(loaded > 50, "only {loaded} jobs load anything past a limit");
}

/// Every pass has a line in the program whose loads, measured on the wood, are the ones it was reckoned with.
#[test]
fn loads_are_measured_as_they_were_reckoned() {
    let mut dice = Dice(0x0000_10AD_ED00_0001);
    let mut wrong = Vec::new();
    for _ in 0..120 {
        let (made, _) = any_made(&mut dice);
        let proof =
            proof::prove(&Source::new("trial.nc", made.program.as_str()), &made.setup, &made.drawing, None);
        for row in reckoned(&made) {
            let Some(loads) = row.loads else { continue };
            let push = loads.strain.push.expect("the woods of the samples are known");
            let within = |share: f64, measured: Option<f64>, reckoned: f64| {
                measured.is_some_and(|measured| (measured / reckoned - 1.0).abs() < share)
            };
            let close = |measured: Option<f64>, reckoned: f64| within(SAME_LOAD, measured, reckoned);
            let same = proof.loads.iter().any(|load| {
                within(SAME_CHIP, load.chip_mm, loads.strain.chip_mm)
                    && close(load.power_w, push.power_w)
                    && close(load.side_force_n, push.side_n)
                    && close(load.torque_nm, loads.torque_nm.expect("a force has a torque"))
                    && close(load.bend_mm, loads.bend_mm.expect("the stiffness is known"))
            });
            // The blank twists most under the motion that begins a pass, whichever that is.
            let twist = loads.twist_deg.expect("the stiffness is known");
            if !same || !proof.loads.iter().any(|load| close(load.twist_deg, twist)) {
                wrong.push(format!("{row:?}\n{:?}\n{}", proof.loads, describe(&made)));
            }
        }
    }
    assert!(wrong.is_empty(), "{}:\n{}", wrong.len(), wrong[0]);
}

/// What the wood plans within its limits is proved without a word: neither half finds a load past its limit.
#[test]
fn plans_by_the_wood_prove_clean() {
    let mut dice = Dice(0x0000_0B1E_55ED_0002);
    let (mut wrong, mut kept) = (Vec::new(), 0);
    for _ in 0..60 {
        let mut job = any_made(&mut dice).0.job;
        if dice.below(2) == 0
            && let Tip::Flat { diameter_mm } = job.cutter.tip
        {
            job.screw.root_width_mm = Some(diameter_mm * dice.between(1.2, 1.8));
            job.cutting.spring_pass = false;
        }
        let (screw, findings) = design::screw(&job);
        let Some(screw) = screw.filter(|_| findings.is_empty()) else { continue };
        let settled = feeds::settle(feeds::opened(job), &screw);
        if !settled.plan.is_some_and(|plan| plan.keeps()) {
            continue;
        }
        kept += 1;
        let made = common::make_job(settled.job);
        let proof =
            proof::prove(&Source::new("trial.nc", made.program.as_str()), &made.setup, &made.drawing, None);
        let mut alarms = common::news(&proof.findings, &made.setup.machine);
        alarms.retain(|finding| !expected(&made, finding));
        if !alarms.is_empty() {
            wrong.push(format!("{alarms:?}\n{}", describe(&made)));
        }
    }
    assert!(wrong.is_empty(), "{} of {kept}:\n{}", wrong.len(), wrong[0]);
    assert!(kept > 20, "only {kept} plans keep their limits");
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
    let section = |row: &stock::Row<'_>| f64::from(row.radii_mm[0]).powi(2) / 2.0;
    let carved = carve(&[], &[], &made.setup, grid, |row| Some(section(&row)));
    let area: f64 = carved.rows.iter().sum::<f64>() * std::f64::consts::TAU / grid.rows as f64;
    let over_circle = (area - std::f64::consts::PI * 900.0) / 3600.0;
    assert!((over_circle - 0.043_028_961).abs() < 1e-5, "{over_circle}");
}
