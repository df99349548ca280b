//! What every path must keep to, whatever the job, and one finding for each thing that can stand against it.

use super::*;
use crate::design::{self, Screw, sample};
use crate::drawing::Hand;
use crate::finding::Finding;
use crate::job::{Job, Order, Passes, Travel};
use crate::setup::Centre;

fn planned(job: &Job) -> (Screw, Option<Path>, Vec<Finding>) {
    let screw = design::screw(job).0.unwrap();
    let (path, findings) = plan(job, &screw);
    (screw, path, findings)
}

fn path_of(job: &Job) -> Path {
    let (_, path, findings) = planned(job);
    assert!(findings.is_empty(), "{findings:?}");
    path.unwrap()
}

/// Jobs that differ in everything that shapes a path.
fn jobs() -> Vec<Job> {
    let mut jobs = Vec::new();
    for hand in [Hand::Right, Hand::Left] {
        for order in [Order::ByStart, Order::ByDepth] {
            for travel in [Travel::OneWay, Travel::BothWays] {
                for limit_deg in [None, Some(3500.0), Some(10_000.0), Some(40_000.0)] {
                    let mut job = sample::job();
                    (job.screw.hand, job.cutting.order, job.cutting.travel) = (hand, order, travel);
                    job.cutting.spring_pass = true;
                    job.machine.a.limit_deg = limit_deg;
                    jobs.push(job);
                }
            }
        }
    }
    jobs
}

/// Every move with the place it comes from.
fn steps(path: &Path) -> impl Iterator<Item = (Place, Move)> + '_ {
    let from = std::iter::once(path.from).chain(path.moves.iter().map(|step| step.to));
    from.zip(path.moves.iter().copied())
}

#[test]
fn every_move_along_the_helix_is_on_its_start() {
    for job in jobs() {
        let path = path_of(&job);
        for step in path.moves.iter().filter(|step| matches!(step.pace, Pace::Feed { .. })) {
            let start_deg = 180.0 * f64::from(path.passes[step.pass].start);
            let helix = start_deg + job.screw.hand.sign() * 360.0 * step.to.s_mm / 20.0;
            let off = (step.to.theta_deg - helix + 180.0).rem_euclid(360.0) - 180.0;
            assert!(off.abs() < 1e-6, "{off} degrees off at {step:?}");
        }
    }
}

#[test]
fn each_start_is_cut_at_every_depth_over_the_whole_thread() {
    for job in jobs() {
        let (screw, path, _) = planned(&job);
        let path = path.unwrap();
        assert_eq!(
            (path.trips.len(), path.passes.len()),
            (4, 8),
            "three passes and a spring pass, two starts"
        );
        for (index, pass) in path.passes.iter().enumerate() {
            let (from, cut) =
                steps(&path).find(|(_, step)| step.pass == index && step.what == What::Cut).unwrap();
            let (low, high) = (from.s_mm.min(cut.to.s_mm), from.s_mm.max(cut.to.s_mm));
            assert!(low <= -15.0 && high == 320.0, "{low} to {high}");
            assert!((screw.crest_radius_mm - cut.to.r_mm - pass.depth_mm).abs() < 1e-9);
        }
        let mut seen: Vec<(u32, usize)> = path.passes.iter().map(|pass| (pass.start, pass.number)).collect();
        if job.cutting.order == Order::ByDepth {
            assert!(seen.is_sorted_by_key(|&(start, number)| (number, start)));
        } else {
            assert!(seen.is_sorted());
        }
        seen.sort_unstable();
        seen.dedup();
        assert_eq!(seen.len(), 8);
    }
}

#[test]
fn rapids_change_one_value_and_never_below_the_blank() {
    for job in jobs() {
        for (from, step) in steps(&path_of(&job)).filter(|(_, step)| step.pace == Pace::Rapid) {
            let changed =
                [from.s_mm != step.to.s_mm, from.theta_deg != step.to.theta_deg, from.r_mm != step.to.r_mm];
            assert_eq!(changed.iter().filter(|&&changed| changed).count(), 1, "{from:?} {step:?}");
            let above = from.r_mm > 25.0 && step.to.r_mm >= 30.0;
            let up_beside_the_tail_end = step.what == What::Retract && from.s_mm < -15.0 - 4.5 - 2.0;
            assert!(above || up_beside_the_tail_end, "{from:?} {step:?}");
        }
    }
}

#[test]
fn passes_begin_in_the_air_with_room_for_the_play() {
    let mut job = sample::job();
    (job.machine.x.backlash_mm, job.machine.a.backlash_deg) = (1.0, 9.0);
    for travel in [Travel::OneWay, Travel::BothWays] {
        job.cutting.travel = travel;
        let path = path_of(&job);
        for (from, step) in steps(&path).filter(|(_, step)| step.what == What::LeadIn) {
            // Twice one millimetre of X and half a millimetre of lead per nine degrees of A.
            assert!(((step.to.s_mm - from.s_mm).abs() - 3.0).abs() < 1e-9, "{from:?} {step:?}");
            let over_the_end = -15.0 - from.s_mm > 4.5 + 3.0 && step.to.s_mm < -15.0 - 4.5;
            let over_the_blank = from.r_mm > 25.0 && from.s_mm > 330.0;
            assert!(over_the_end || over_the_blank, "{from:?} {step:?}");
        }
    }
}

#[test]
fn an_unlimited_rotary_only_ever_turns_ahead_and_less_than_a_turn_between_passes() {
    for job in jobs().into_iter().filter(|job| job.machine.a.limit_deg.is_none()) {
        let path = path_of(&job);
        for (from, step) in steps(&path).filter(|(_, step)| step.what == What::Index) {
            let towards = path.passes[step.pass].towards;
            let ahead = if towards == Towards::Head { 1.0 } else { -1.0 } * job.screw.hand.sign();
            let turn = ahead * (step.to.theta_deg - from.theta_deg);
            assert!((0.0..360.0).contains(&turn), "{turn}");
        }
    }
}

#[test]
fn a_limited_rotary_stays_inside_its_limits() {
    for job in jobs() {
        let Some(limit) = job.machine.a.limit_deg else { continue };
        let path = path_of(&job);
        let angles = path.moves.iter().map(|step| step.to.theta_deg).chain([path.from.theta_deg]);
        let far = angles.map(f64::abs).fold(0.0, f64::max);
        assert!(far <= limit, "{far} of {limit}");
    }
}

/// Passes that follow each other without winding back.
#[derive(Debug)]
struct Sweep {
    passes: usize,
    /// Which way the first of them turns the blank.
    ahead: f64,
    /// Least and greatest angle.
    low: f64,
    high: f64,
}

fn sweeps(job: &Job, path: &Path) -> Vec<Sweep> {
    let mut sweeps: Vec<Sweep> = Vec::new();
    for (index, pass) in path.passes.iter().enumerate() {
        let ahead = if pass.towards == Towards::Head { 1.0 } else { -1.0 } * job.screw.hand.sign();
        let of_pass = || steps(path).filter(|(_, step)| step.pass == index);
        let wound_back = of_pass().any(|(from, step)| {
            step.what == What::Index && ahead * (step.to.theta_deg - from.theta_deg) < 0.0
        });
        if wound_back || sweeps.is_empty() {
            sweeps.push(Sweep { passes: 0, ahead, low: f64::INFINITY, high: f64::NEG_INFINITY });
        }
        let sweep = sweeps.last_mut().unwrap();
        sweep.passes += 1;
        for (from, step) in of_pass().filter(|(_, step)| step.what != What::Index) {
            sweep.low = sweep.low.min(from.theta_deg.min(step.to.theta_deg));
            sweep.high = sweep.high.max(from.theta_deg.max(step.to.theta_deg));
        }
    }
    sweeps
}

#[test]
fn a_limited_rotary_winds_back_no_farther_than_the_passes_to_come_need() {
    let mut seen = Vec::new();
    for job in jobs() {
        let Some(limit) = job.machine.a.limit_deg else { continue };
        let path = path_of(&job);
        let sweeps = sweeps(&job, &path);
        if job.cutting.travel == Travel::OneWay {
            // One pass takes 6328 degrees and less than a turn to the next.
            let wanted: &[usize] = match limit {
                3500.0 => &[1; 8],
                10_000.0 => &[3, 3, 2],
                _ => &[8],
            };
            assert_eq!(sweeps.iter().map(|sweep| sweep.passes).collect::<Vec<_>>(), wanted, "{limit}");
        }
        for sweep in &sweeps[1..] {
            let one_turn_less = (sweep.low + 360.0 * sweep.ahead, sweep.high + 360.0 * sweep.ahead);
            assert!(one_turn_less.0 < -limit || one_turn_less.1 > limit, "{sweep:?} of {limit}");
            seen.push((job.cutting.travel, sweep.ahead > 0.0));
        }
    }
    let cases = [Travel::OneWay, Travel::BothWays].into_iter().flat_map(|t| [(t, true), (t, false)]);
    let missing: Vec<_> = cases.filter(|case| !seen.contains(case)).collect();
    assert!(missing.is_empty(), "no job winds back so: {missing:?}");
}

#[test]
fn the_first_pass_begins_as_near_to_a_zero_as_lets_all_passes_fit() {
    let mut job = sample::job();
    let unlimited = path_of(&job).from.theta_deg;
    let last = |path: &Path| path.moves.last().unwrap().to.theta_deg;
    let end = last(&path_of(&job));
    // Room for all: as without limits. A little less: begun the least number of turns earlier, and never wound back.
    // A word is rounded, so a limit must leave room for its last digit.
    let room = end + 2.0 * 0.1_f64.powi(job.machine.style.decimals as i32);
    let cases = [(room, 0.0), (end, 1.0), (end - 1.0, 1.0), (end - 361.0, 2.0), (end - 3600.0, 11.0)];
    for (limit, turns) in cases {
        job.machine.a.limit_deg = Some(limit);
        let path = path_of(&job);
        assert!((path.from.theta_deg - (unlimited - 360.0 * turns)).abs() < 1e-6, "{limit}: {path:?}");
        assert!((last(&path) - (end - 360.0 * turns)).abs() < 1e-6);
        assert_eq!(sweeps(&job, &path).len(), 1);
    }
}

#[test]
fn both_ways_alternate() {
    let mut job = sample::job();
    job.cutting.travel = Travel::BothWays;
    let towards: Vec<_> = path_of(&job).passes.iter().map(|pass| pass.towards).collect();
    let pair = [Towards::Head, Towards::Nose];
    assert_eq!(towards, [pair, pair, pair].concat());
}

#[test]
fn the_cut_runs_at_the_feed_and_the_plunge_slower() {
    for (from, step) in steps(&path_of(&sample::job())) {
        let Pace::Feed { minutes } = step.pace else { continue };
        let round = (step.to.theta_deg - from.theta_deg).to_radians() * 25.0;
        let way = round.hypot(step.to.s_mm - from.s_mm).hypot(step.to.r_mm - from.r_mm);
        let wanted = if step.what == What::Approach { 500.0 } else { 1500.0 };
        assert!((way / minutes - wanted).abs() < 1e-6, "{step:?}");
    }
}

#[test]
fn a_steep_run_out_waits_for_z() {
    let mut job = sample::job();
    (job.cutting.run_out_turns, job.machine.z.top_mm_per_min) = (0.05, 300.0);
    let path = path_of(&job);
    let (from, step) = steps(&path).find(|(_, step)| step.what == What::RunOut).unwrap();
    let Pace::Feed { minutes } = step.pace else { panic!("a run-out is fed") };
    assert!(((step.to.r_mm - from.r_mm) / minutes - 300.0).abs() < 1e-6);
}

#[test]
fn each_thing_that_stands_against_a_cut_has_its_finding() {
    type Spoil = fn(&mut Job);
    let cases: [(&str, Spoil); 9] = [
        ("reach-short", |job| job.machine.x_reach_mm = 411.0),
        ("reach-short", |job| job.machine.z_range_above_axis_mm = [-20.0, 29.0]),
        ("reach-short", |job| job.machine.z_range_above_axis_mm = [19.0, 120.0]),
        ("chuck-near", |job| job.blank.waste_head_mm = 10.0),
        ("centre-wide", |job| job.machine.centre = Some(Centre { diameter_mm: 40.0, angle_deg: 60.0 })),
        ("turns-short", |job| job.machine.a.limit_deg = Some(3000.0)),
        ("passes-dropped", |job| job.cutting.passes = Passes::EqualArea(30)),
        ("chuck-near", |job| (job.cutter.collet_diameter_mm, job.cutter.stick_out_mm) = (400.0, 31.0)),
        ("chuck-near", |job| {
            // Only the way back begins that near to the chuck.
            (job.cutting.travel, job.machine.x.backlash_mm) = (Travel::BothWays, 25.0);
        }),
    ];
    let mut wrong = Vec::new();
    for (index, (code, spoil)) in cases.into_iter().enumerate() {
        let mut job = sample::job();
        spoil(&mut job);
        let (_, path, findings) = planned(&job);
        let names: Vec<_> = findings.iter().map(|finding| finding.code.name).collect();
        if names != [code] || findings[0].help.is_none() || (path.is_none() != (code == "turns-short")) {
            wrong.push(format!("case {index}: wanted {code}, got {findings:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
