//! What a program tells the operator before it moves: what is cut from what, where zero lies, how to see that the
//! machine turns the right way, how far it will go, and what to mind. Words only.

use super::frame::{Frame, Pose};
use super::text::Text;
use crate::design::Screw;
use crate::job::Job;
use crate::setup::{BlankShape, Setup, Tip, TopTurns, XEnd, ZZero};
use crate::toolpath::Path;

/// What a header speaks of.
pub(super) struct Facts<'a> {
    job: &'a Job,
    screw: &'a Screw,
    setup: &'a Setup,
    frame: &'a Frame,
    /// Least and greatest of each word.
    extent: [Pose; 2],
    minutes: f64,
}

impl<'a> Facts<'a> {
    pub(super) fn new(
        job: &'a Job,
        screw: &'a Screw,
        setup: &'a Setup,
        path: &Path,
        frame: &'a Frame,
    ) -> Self {
        let from = frame.pose(path.from);
        let extent =
            path.moves.iter().map(|step| frame.pose(step.to)).fold([from; 2], |[low, high], pose| {
                [
                    Pose { x: low.x.min(pose.x), z: low.z.min(pose.z), a: low.a.min(pose.a) },
                    Pose { x: high.x.max(pose.x), z: high.z.max(pose.z), a: high.a.max(pose.a) },
                ]
            });
        Facts { job, screw, setup, frame, extent, minutes: super::minutes(setup, path) }
    }
}

/// Writes the header; nothing when the machine takes no comments.
pub(super) fn write(text: &mut Text, facts: &Facts) {
    let lines = [work(facts), zero(facts), extent(facts), care()];
    lines.iter().flatten().for_each(|line| text.comment(line));
}

/// Screw, blank and cutter.
fn work(facts: &Facts) -> Vec<String> {
    let (job, screw, cutter) = (facts.job, facts.screw, &facts.setup.cutter);
    let show = |mm: f64| job.unit.show(mm);
    let shape = match job.blank.shape {
        BlankShape::Square => "square",
        BlankShape::Octagon => "octagon",
        BlankShape::Round => "round",
    };
    let tip = match cutter.tip {
        Tip::Flat { diameter_mm: 0.0 } => "sharp tip".to_owned(),
        Tip::Flat { diameter_mm } => format!("flat tip {}", show(diameter_mm)),
        Tip::Ball { radius_mm } => format!("ball tip, radius {}", show(radius_mm)),
    };
    let blank = &facts.setup.blank;
    vec![
        format!("threadwright {}: {}", env!("CARGO_PKG_VERSION"), job.title),
        format!(
            "screw: {}-hand, {} start{}, lead {}, pitch {}",
            job.screw.hand.name(),
            job.screw.starts,
            if job.screw.starts == 1 { "" } else { "s" },
            show(job.screw.lead_mm),
            show(job.screw.pitch_mm)
        ),
        format!(
            "crest {}, root {}, crest flat {}",
            show(2.0 * screw.crest_radius_mm),
            show(2.0 * screw.root_radius_mm),
            show(screw.crest_flat_mm)
        ),
        format!(
            "blank: {}, {shape}, {}, {} long, of which {} beyond the nose",
            job.wood,
            show(blank.size_mm),
            show(blank.to_s_mm - blank.from_s_mm),
            show(-blank.from_s_mm)
        ),
        format!(
            "cutter: {}, {} degrees, {tip}, sticking out {}",
            cutter.title,
            cutter.included_angle_deg,
            show(cutter.stick_out_mm)
        ),
        format!(
            "spindle {:.0} rev/min, feed {} along the helix at the crest",
            job.cutting.rpm,
            job.unit.show_speed(job.cutting.feed_mm_per_min)
        ),
    ]
}

/// Where zero lies and which way the axes count.
fn zero(facts: &Facts) -> Vec<String> {
    let machine = &facts.setup.machine;
    let head = match machine.headstock {
        XEnd::XPlus => "up",
        XEnd::XMinus => "down",
    };
    let z = match machine.z_zero {
        ZZero::Axis => "axis of rotation".to_owned(),
        ZZero::FinishedSurface => format!(
            "top of the finished cylinder, {} above the axis of rotation",
            facts.job.unit.show(facts.screw.crest_radius_mm)
        ),
    };
    let top = match machine.a_plus {
        TopTurns::ToFront => "front",
        TopTurns::ToBack => "back",
    };
    vec![
        format!("machine: {}", machine.title),
        format!("X0: nose face, X counts {head} towards the headstock"),
        "Y0: cutter straight above the axis of rotation, set before the start".to_owned(),
        format!("Z0: {z}"),
        "A0: start 1 at the nose face".to_owned(),
        format!(
            "check by hand: jog A from 0 to +90, the top of the blank must move to the {top}, or else the thread \
             winds the wrong way"
        ),
    ]
}

/// How far the axes go, in the program's own numbers, and how long it takes.
fn extent(facts: &Facts) -> Vec<String> {
    let [low, high] = facts.extent;
    let unit = facts.setup.machine.style.unit;
    let span = |low: i64, high: i64| format!("{} to {}", facts.frame.number(low), facts.frame.number(high));
    vec![
        format!("X {} {unit}", span(low.x, high.x)),
        format!("Z {} {unit}", span(low.z, high.z)),
        format!("A {} degrees", span(low.a, high.a)),
        format!("about {:.1} minutes", facts.minutes),
    ]
}

/// Short enough to be read.
fn care() -> Vec<String> {
    [
        "care: read safety.md first",
        "the first run in the air, spindle off, one hand at the stop",
        "eyes covered, sleeves and hair tied, nobody near the turning blank",
    ]
    .map(str::to_owned)
    .to_vec()
}
