//! What the motions ask of the machine: unit, travel, axis speeds, feed, play of the axes, running time. Every finding
//! stands at its program line. What they touch is judged in contact.rs.

use std::f64::consts::TAU;

use crate::drawing::Threading;
use crate::finding::{Code, Finding, Severity, Spot, proof as code};
use crate::rs274::{Kind, Motion, Pose, Run};
use crate::setup::{Machine, Setup};
use crate::source::Mark;
use crate::stock::corners;

use super::moves::Moves;
use super::{Case, Measured, Uncertainty, bite, feed_word, pause, reading, run_up, spindle, start};

/// A bite deeper than this is a cut, however little wood a short move takes, mm: many times what the carve rounds.
pub(super) const TOUCH_MM: f64 = 0.01;
/// Slack on travel, mm and degrees, for values that stand exactly on a limit.
pub(super) const ON_LIMIT: f64 = 1e-6;
/// Share by which a speed may pass a limit through rounding of F alone.
pub(super) const SPEED_SLACK: f64 = 1e-3;
/// Share by which the feed along the wood may differ from the job's.
const FEED_SLACK: f64 = 0.05;
/// Feeds against the job's that a person may want: slower burns, faster breaks the cutter or the thread.
const FEED_RANGE: std::ops::Range<f64> = 0.5..1.5;

/// What else makes a move too fast.
const GOES_TOO_FAR: &str = "; if its F is right, it goes too far: a line before it is missing";

/// Checks the motions and measures what can be measured on them.
pub(super) fn check(
    case: &Case<'_>,
    run: &Run,
    measured: &mut Measured,
    uncertainty: &mut Uncertainty,
) -> Vec<Finding> {
    let check = Check { case };
    let mut findings = Vec::new();
    check.travel(&mut findings);
    check.speeds(measured, &mut findings);
    let moves = Moves::of(case);
    findings.extend(spindle::check(&moves, run));
    findings.extend(run_up::check(&moves, run));
    findings.extend(start::check(case, run));
    check.contact(&mut findings);
    findings.extend(bite::check(case));
    findings.extend(pause::check(case, run));
    findings.extend(pause::end(case));
    check.obstacles(measured, &mut findings);
    check.gaps(measured, uncertainty, &mut findings);
    check.feed(measured, &mut findings);
    findings.extend(reading::check(case, run, measured));
    findings.extend(check.both_ways());
    let minutes = minutes_of_each(case.motions, &case.setup.machine).iter().sum::<f64>() + run.dwell_minutes;
    measured.minutes = Some(minutes);
    // Controls differ in how they round corners; a twentieth covers every move starting and ending at rest or not.
    uncertainty.minutes = Some(minutes / 20.0);
    findings
}

pub(super) struct Check<'a> {
    pub(super) case: &'a Case<'a>,
}

impl Check<'_> {
    pub(super) fn finding(&self, code: &'static Code, motion: &Motion, message: String) -> Finding {
        at_motion(self.case, code, motion, message)
    }

    fn travel(&self, findings: &mut Vec<Finding>) {
        let setup = self.case.setup;
        let unit = self.case.drawing.unit;
        let [x_low, x_high] = setup.x_limits_mm;
        let [z_low, z_high] = setup.z_limits_mm;
        let a_limit = setup.machine.a.limit_deg.unwrap_or(f64::INFINITY);
        let words = |pose: &Pose| [pose.x_mm, pose.z_mm, pose.a_deg];
        let axes = [("X", [x_low, x_high]), ("Z", [z_low, z_high]), ("A", [-a_limit, a_limit])];
        for (axis, (name, [low, high])) in axes.into_iter().enumerate() {
            let show =
                |value: f64| if name == "A" { format!("{value:.1} degrees") } else { unit.show(value) };
            let past = self.case.motions.iter().find_map(|motion| {
                // An arc may pass a limit between its ends.
                let beyond = |v: &f64| *v < low - ON_LIMIT || *v > high + ON_LIMIT;
                let v = corners(motion).map(|pose| words(&pose)[axis]).find(beyond)?;
                Some((motion, v))
            });
            if let Some((motion, v)) = past {
                let limit = if v < low { low } else { high };
                findings.push(
                    self.finding(
                        &code::PAST_TRAVEL,
                        motion,
                        format!("{name} goes to {}, the machine ends at {}", show(v), show(limit)),
                    )
                    .values(v, limit)
                    .help("check the number; else shift the work on the machine, shorten the screw, or correct the travel in the machine file"),
                );
            }
        }
    }

    fn speeds(&self, measured: &mut Measured, findings: &mut Vec<Finding>) {
        let machine = &self.case.setup.machine;
        let unit = self.case.drawing.unit;
        let mut fastest: [Option<(f64, &Motion)>; 3] = [None; 3];
        for motion in self.case.motions {
            let Some(minutes) = motion.minutes.filter(|&minutes| minutes > 0.0) else {
                continue;
            };
            let rates = fastest_rates(motion, minutes);
            for (best, rate) in fastest.iter_mut().zip(rates) {
                if best.is_none_or(|(so_far, _)| rate > so_far) {
                    *best = Some((rate, motion));
                }
            }
        }
        for ((name, best), top) in ["X", "Z", "A"].into_iter().zip(fastest).zip(top_speeds(machine)) {
            let Some((rate, motion)) = best else { continue };
            match name {
                "X" => measured.x_rate_max_mm_per_min = Some(rate),
                "A" => measured.a_rate_max_rpm = Some(rate / 360.0),
                _ => {}
            }
            if rate > top * (1.0 + SPEED_SLACK) {
                let show = |rate: f64| {
                    if name == "A" { format!("{:.1} rev/min", rate / 360.0) } else { unit.show_speed(rate) }
                };
                findings.push(
                    self.finding(
                        &code::AXIS_TOO_FAST,
                        motion,
                        format!("{name} would have to run at {}, its top speed is {}", show(rate), show(top)),
                    )
                    .values(rate, top)
                    .help(self.climbs_long(motion).unwrap_or_else(|| {
                        // What the axis can is the least of it: the job's feed may be less.
                        let job = self.off(motion).map_or(1.0, |off| off.wanted / off.speed);
                        feed_word::help(self.case, motion, job.min(top / rate)) + GOES_TOO_FAR
                    })),
                );
            }
        }
    }

    /// What is amiss with a move that climbs out of the groove over many more turns than the run-out takes: the line that
    /// should have brought the cutter to the run-out is not there.
    fn climbs_long(&self, motion: &Motion) -> Option<String> {
        let drawing = self.case.drawing;
        let turns = (motion.to.a_deg - motion.from.a_deg).abs() / 360.0;
        let run_out = (drawing.run_out_to_s_mm - drawing.full_to_s_mm) / drawing.lead_mm;
        let climbs = motion.kind == Kind::Feed && motion.to.z_mm > motion.from.z_mm;
        let long = drawing.thread == Threading::Here && climbs && turns > run_out + 1.0;
        long.then(|| {
            format!(
                "this line climbs over {turns:.1} turns, the run-out takes {run_out:.1}: a line is missing before it, the one \
                 that cuts along the thread; do not lower the feed instead"
            )
        })
    }

    /// How fast a feed move brings the cutter along the wood, and how fast it was meant to. `None` for one that goes straight
    /// down or lasts no time.
    fn off<'b>(&self, motion: &'b Motion) -> Option<Off<'b>> {
        let setup = self.case.setup;
        let minutes = motion.minutes.filter(|&minutes| minutes > 0.0 && motion.kind == Kind::Feed)?;
        let [along, up, turn] = ways(motion);
        if turn == 0.0 && along == 0.0 {
            return None;
        }
        // The end of a straight cutter cuts at the height of its tip, the flanks of a V up to where its feed holds.
        let tip = f64::midpoint(motion.from.z_mm, motion.to.z_mm) - setup.z_axis_mm;
        let radius = tip.max(setup.feed_radius_mm);
        let way = (TAU * radius * turn / 360.0).hypot(along).hypot(up);
        let speed = way / minutes;
        // As fast as the axes go is fast enough: A where the wood is thin, X and Z where the blank stands still.
        let top =
            if turn == 0.0 { way / at_top_minutes(motion, &setup.machine) } else { top_feed(setup, radius) };
        let least = setup.feed_least_mm_per_min.min(LEAST_TOP_SHARE * top);
        // Passes may have feeds of their own: the nearest one between the slowest and the fastest was meant.
        let asked = [least, setup.feed_mm_per_min];
        Some(Off { speed, wanted: speed.clamp(asked[0], asked[1]), asked, motion })
    }

    /// Whether a motion runs along a groove that others have cut: it takes next to nothing, and can burn it.
    fn rubs(&self, motion: &Motion) -> bool {
        let (drawing, setup) = (self.case.drawing, self.case.setup);
        let s = |pose: Pose| setup.x_nose_mm - pose.x_mm;
        let lowest = motion.from.z_mm.min(motion.to.z_mm) - setup.z_axis_mm;
        let along_thread = s(motion.from).max(s(motion.to)) > drawing.full_from_s_mm
            && s(motion.from).min(s(motion.to)) < drawing.full_to_s_mm;
        let turns = motion.from.a_deg != motion.to.a_deg;
        drawing.thread == Threading::Here
            && turns
            && along_thread
            && lowest < drawing.crest_diameter_mm / 2.0 - TOUCH_MM
    }

    /// Speed of the cutter against the wood, over all motions that cut along it or round it.
    fn feed(&self, measured: &mut Measured, findings: &mut Vec<Finding>) {
        let mut worst: Option<Off<'_>> = None;
        for (motion, cut) in self.case.motions.iter().zip(&self.case.carved.cuts) {
            if cut.deepest_mm <= TOUCH_MM && !self.rubs(motion) {
                continue;
            }
            let Some(off) = self.off(motion) else { continue };
            let low = measured.feed_min_mm_per_min.map_or(off.speed, |so_far| so_far.min(off.speed));
            let high = measured.feed_max_mm_per_min.map_or(off.speed, |so_far| so_far.max(off.speed));
            measured.feed_min_mm_per_min = Some(low);
            measured.feed_max_mm_per_min = Some(high);
            if off.share() > FEED_SLACK && worst.as_ref().is_none_or(|worst| off.share() > worst.share()) {
                worst = Some(off);
            }
        }
        if let Some(Off { speed, wanted, asked: [least, most], motion }) = worst {
            let unit = self.case.drawing.unit;
            let asked = if least < most {
                format!("{} to {}", unit.show_speed(least), unit.show_speed(most))
            } else {
                unit.show_speed(wanted)
            };
            let ratio = speed / wanted;
            let weight = if FEED_RANGE.contains(&ratio) { Severity::Care } else { Severity::Stop };
            findings.push(
                self.finding(
                    &code::FEED_OFF,
                    motion,
                    format!(
                        "the cutter runs along the wood at {}, the job asks {asked}",
                        unit.show_speed(speed)
                    ),
                )
                .weighs(weight)
                .values(speed, wanted)
                .help(feed_word::help(self.case, motion, wanted / speed)),
            );
        }
    }

    fn both_ways(&self) -> Option<Finding> {
        let machine = &self.case.setup.machine;
        if self.case.drawing.thread != Threading::Here {
            // What is turned round has no place round the blank that play could shift.
            return None;
        }
        if machine.x.backlash_mm <= 0.0 && machine.a.backlash_deg <= 0.0 {
            return None;
        }
        let turning = self
            .case
            .motions
            .iter()
            .zip(&self.case.carved.cuts)
            .filter(|(motion, cut)| {
                let turns = motion.to.a_deg != motion.from.a_deg;
                motion.kind == Kind::Feed && turns && cut.deepest_mm > TOUCH_MM
            })
            .map(|(motion, _)| motion);
        let mut first: Option<f64> = None;
        for motion in turning {
            let way = (motion.to.a_deg - motion.from.a_deg).signum();
            if first.is_some_and(|so_far| so_far != way) {
                let play = machine.x.backlash_mm + machine.a.backlash_deg / 360.0 * self.case.drawing.lead_mm;
                return Some(
                    self.finding(
                        &code::BACKLASH_SHOWS,
                        motion,
                        format!(
                            "the cut runs both ways: the play of X and A may shift the groove by {}",
                            self.case.drawing.unit.show(play)
                        ),
                    )
                    .values(play, 0.0)
                    .help(
                        "cutting.travel = \"one-way\" keeps it out of the groove; both ways is for flank passes, which then \
                         climb and cut cleaner: measure the first groove, and keep whichever is better on this machine",
                    ),
                );
            }
            first = Some(way);
        }
        None
    }
}

/// A motion whose feed is none that the job asks.
struct Off<'a> {
    speed: f64,
    /// The nearest feed that would do.
    wanted: f64,
    /// The slowest and the fastest of them.
    asked: [f64; 2],
    motion: &'a Motion,
}

impl Off<'_> {
    /// How far off it is, as a share.
    fn share(&self) -> f64 {
        (self.speed / self.wanted - 1.0).abs()
    }
}

/// Share of the top speed of A at which a program that turns as fast as it can still has something in hand.
const LEAST_TOP_SHARE: f64 = 0.9;

/// Speed round the blank at a radius when A turns at its top speed, mm/min.
fn top_feed(setup: &Setup, radius_mm: f64) -> f64 {
    TAU * radius_mm * setup.machine.a.top_deg_per_min / 360.0
}

/// A finding at a motion of the program.
pub(super) fn at_motion(case: &Case<'_>, code: &'static Code, motion: &Motion, message: String) -> Finding {
    Finding::new(code, message).at(Mark::new(case.program, motion.span.clone())).spot(at_pose(motion.to))
}

pub(super) fn at_pose(pose: Pose) -> Spot {
    Spot { x_mm: Some(pose.x_mm), z_mm: Some(pose.z_mm), a_deg: Some(pose.a_deg), ..Spot::default() }
}

/// Fastest X, Z and A of a motion that lasts so many minutes; along an arc every chord takes its share of the time.
pub(super) fn fastest_rates(motion: &Motion, minutes: f64) -> [f64; 3] {
    let share = minutes / corners(motion).count() as f64;
    let mut from = motion.from;
    let mut rates = [0.0_f64; 3];
    for to in corners(motion) {
        let ways = [to.x_mm - from.x_mm, to.z_mm - from.z_mm, to.a_deg - from.a_deg];
        for (rate, way) in rates.iter_mut().zip(ways) {
            *rate = rate.max(way.abs() / share);
        }
        from = to;
    }
    rates
}

/// Rates of two moves that differ by less than this share run into each other without a stop.
const SAME_RATE: f64 = 0.02;

/// Ways of X, Z and A in a motion.
fn ways(motion: &Motion) -> [f64; 3] {
    let (from, to) = (motion.from, motion.to);
    [to.x_mm - from.x_mm, to.z_mm - from.z_mm, to.a_deg - from.a_deg]
}

/// Top speeds of X, Z and A, mm/min and degrees/min.
pub(super) fn top_speeds(machine: &Machine) -> [f64; 3] {
    [machine.x.top_mm_per_min, machine.z.top_mm_per_min, machine.a.top_deg_per_min]
}

/// Minutes that a motion takes when the axis with the longest way runs at its top speed.
pub(super) fn at_top_minutes(motion: &Motion, machine: &Machine) -> f64 {
    ways(motion).iter().zip(top_speeds(machine)).map(|(way, top)| way.abs() / top).fold(0.0, f64::max)
}

/// Minutes that a motion lasts at least: what its F asks, and what the top speeds of the axes let through.
pub(super) fn least_minutes(motion: &Motion, machine: &Machine) -> f64 {
    motion.minutes.unwrap_or(0.0).max(at_top_minutes(motion, machine))
}

/// Minutes of each motion. Moves that keep their direction run into each other; any other starts and ends at rest,
/// each axis with its own acceleration.
pub(super) fn minutes_of_each(motions: &[Motion], machine: &Machine) -> Vec<f64> {
    let tops = top_speeds(machine);
    let accelerations = [machine.x.accel_mm_per_s2, machine.z.accel_mm_per_s2, machine.a.accel_deg_per_s2];
    let mut before: Option<[f64; 3]> = None;
    let mut one = |motion: &Motion| {
        let ways = ways(motion);
        let minutes = least_minutes(motion, machine);
        if minutes <= 0.0 {
            return 0.0;
        }
        let rates = ways.map(|way| way / minutes);
        let runs_on = before.is_some_and(|old| {
            old.iter().zip(rates).zip(tops).all(|((a, b), top)| (a - b).abs() <= SAME_RATE * top)
        });
        before = Some(rates);
        if runs_on {
            return minutes;
        }
        // Reaching the rate and giving it up again costs the rate over the acceleration.
        let seconds = rates.iter().zip(accelerations).map(|(rate, accel)| rate.abs() / 60.0 / accel);
        minutes + seconds.fold(0.0, f64::max) / 60.0
    };
    motions.iter().map(&mut one).collect()
}
