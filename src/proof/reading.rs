//! What becomes of the program on a control that reads F another way than the machine file says: the classic trap of a
//! turning axis. The text is right all the same, so this is a note, and a figure.

use crate::finding::{Finding, proof as code};
use crate::rs274::{FeedMode, Kind, Motion, Run};
use crate::setup::FeedConvention;
use crate::stock::corners;

use super::motions::{SPEED_SLACK, at_motion, fastest_rates, top_speeds};
use super::{Case, Measured};

/// One way to read F.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Reading {
    convention: FeedConvention,
    mode: FeedMode,
}

/// The readings that another control may have: of a number per minute, the other meaning of a minute's way; of inverse
/// time, a control that passes over G93; of a mode that the program leaves open, any.
fn others(own: FeedConvention, motion: &Motion, said_mode: bool) -> Vec<Reading> {
    let per_minute = [FeedConvention::Linear, FeedConvention::Combined]
        .map(|convention| Reading { convention, mode: FeedMode::PerMinute });
    let inverse = Reading { convention: FeedConvention::InverseTime, mode: FeedMode::InverseTime };
    // Under G94 a machine that wants G93 reads as the standard has it.
    let own = if own == FeedConvention::InverseTime { FeedConvention::Linear } else { own };
    let mut readings: Vec<Reading> = per_minute.into_iter().collect();
    match motion.feed_mode {
        FeedMode::PerMinute => {
            readings.retain(|reading| reading.convention != own);
            readings.extend((!said_mode).then_some(inverse));
        }
        FeedMode::InverseTime => {}
    }
    readings
}

/// Notes the worst of it, and fills the fastest turning of A there would be.
pub(super) fn check(case: &Case<'_>, run: &Run, measured: &mut Measured) -> Option<Finding> {
    let machine = &case.setup.machine;
    let unit_mm = run.unit_set.unwrap_or(machine.style.unit).mm();
    let tops = top_speeds(machine);
    let mut worst: Option<(f64, usize, f64, &Motion, Reading)> = None;
    for motion in case.motions.iter().filter(|motion| motion.kind == Kind::Feed && motion.minutes.is_some()) {
        for reading in others(machine.feed, motion, run.said.feed_mode) {
            let rates = fastest_rates(motion, minutes(motion, machine.feed, reading, unit_mm));
            if motion.to.a_deg != motion.from.a_deg {
                let rpm = rates[2] / 360.0;
                measured.a_rate_if_misread_rpm =
                    Some(measured.a_rate_if_misread_rpm.map_or(rpm, |so_far| so_far.max(rpm)));
            }
            for (axis, (rate, top)) in rates.into_iter().zip(tops).enumerate() {
                if worst.is_none_or(|(ratio, ..)| rate / top > ratio) {
                    worst = Some((rate / top, axis, rate, motion, reading));
                }
            }
        }
    }
    let (_, axis, rate, motion, reading) = worst.filter(|(ratio, ..)| *ratio > 1.0 + SPEED_SLACK)?;
    let top = tops[axis];
    let unit = case.drawing.unit;
    let show = |rate: f64| match axis {
        2 => format!("{:.0} rev/min", rate / 360.0),
        _ => unit.show_speed(rate),
    };
    let words = format!(
        "mind F: a control that {} would run {} at {} here, its top speed is {}",
        match reading.convention {
            FeedConvention::InverseTime => "stands in inverse time (G93)",
            FeedConvention::Linear => "takes F along X, Y and Z as if A stood still",
            FeedConvention::Combined => "takes F over millimetres and degrees together",
        },
        ["X", "Z", "A"][axis],
        show(rate),
        show(top)
    );
    Some(
        at_motion(case, &code::FEED_READING, motion, words).values(rate, top).help(
            "see in the control's manual what F means while A turns, name it in feed.convention, and make the first \
             run in the air",
        ),
    )
}

/// Minutes that a motion would last by another reading of the number that was written.
fn minutes(motion: &Motion, own: FeedConvention, reading: Reading, unit_mm: f64) -> f64 {
    let mut from = motion.from;
    let chords = corners(motion).map(|to| {
        let chord = (to.x_mm - from.x_mm).hypot(to.y_mm - from.y_mm).hypot(to.z_mm - from.z_mm);
        from = to;
        chord
    });
    let along = chords.sum::<f64>() / unit_mm;
    let turn = (motion.to.a_deg - motion.from.a_deg).abs();
    // A number that counts lengths is kept in millimetres.
    let lengths = motion.feed_mode == FeedMode::PerMinute && own != FeedConvention::Combined && along > 0.0;
    let written = motion.feed / if lengths { unit_mm } else { 1.0 };
    match (reading.mode, reading.convention) {
        (FeedMode::InverseTime, _) => 1.0 / written,
        (FeedMode::PerMinute, FeedConvention::Combined) => along.hypot(turn) / written,
        (FeedMode::PerMinute, _) => (if along > 0.0 { along } else { turn }) / written,
    }
}
