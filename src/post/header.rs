//! What a program tells the operator before it moves, in the order in which it is needed: what is cut, from which
//! blank, with which cutter, where zero lies on the machine, how to see that it turns the right way, how far it will
//! go, and what to mind. Words only.

use super::frame::{Frame, Pose};
use super::text::Text;
use crate::design::{self, Screw};
use crate::drawing::Drawing;
use crate::job::Job;
use crate::setup::{BlankShape, FeedConvention, Setup, Tip, TopTurns, XEnd, ZZero};
use crate::toolpath::{Move, Path, Place, Towards, What};
use crate::units::{LengthUnit, MM_PER_INCH};
use crate::wood::dust;

/// Turns of A from the start to the end of a program that need no word of warning: another run unwinds them in
/// seconds.
const FEW_TURNS: f64 = 3.0;

/// What a header speaks of.
pub(super) struct Facts<'a> {
    job: &'a Job,
    screw: &'a Screw,
    setup: &'a Setup,
    drawing: Drawing,
    path: &'a Path,
    frame: &'a Frame,
}

impl<'a> Facts<'a> {
    pub(super) fn new(
        job: &'a Job,
        screw: &'a Screw,
        setup: &'a Setup,
        path: &'a Path,
        frame: &'a Frame,
    ) -> Self {
        Facts { job, screw, setup, drawing: design::drawing(job, screw), path, frame }
    }

    /// A length in the unit of the job.
    fn show(&self, mm: f64) -> String {
        self.job.unit.show(mm)
    }

    /// The X word of a station.
    fn x_word(&self, s_mm: f64) -> String {
        self.frame.x_word(self.frame.pose(Place { s_mm, theta_deg: 0.0, r_mm: 0.0 }).x)
    }
}

/// Writes the header; nothing when the machine takes no comments.
pub(super) fn write(text: &mut Text, facts: &Facts) {
    let lines = [
        work(facts),
        blank(facts),
        cutter(facts),
        machine(facts),
        zeros(facts),
        checks(facts),
        extents(facts),
        cautions(facts),
    ];
    lines.iter().flatten().for_each(|line| text.comment(line));
}

/// The screw.
fn work(facts: &Facts) -> Vec<String> {
    let (job, screw, drawing) = (facts.job, facts.screw, &facts.drawing);
    let [from, to, out] =
        [drawing.full_from_s_mm, drawing.full_to_s_mm, drawing.run_out_to_s_mm].map(|s| facts.x_word(s));
    vec![
        format!("threadwright {}: {}", env!("CARGO_PKG_VERSION"), job.title),
        format!(
            "screw: {}-hand, {} start{}, lead {}, pitch {}",
            job.screw.hand.name(),
            job.screw.starts,
            if job.screw.starts == 1 { "" } else { "s" },
            facts.show(job.screw.lead_mm),
            facts.show(job.screw.pitch_mm)
        ),
        format!(
            "crest {}, root {}, crest flat {}",
            facts.show(2.0 * screw.crest_radius_mm),
            facts.show(2.0 * screw.root_radius_mm),
            facts.show(screw.crest_flat_mm)
        ),
        format!("full thread from {from} to {to}, run-out to {out} {}", facts.setup.machine.style.unit),
    ]
}

/// The blank, what is done to it first, and what holds it.
fn blank(facts: &Facts) -> Vec<String> {
    let (job, blank, machine) = (facts.job, &facts.setup.blank, &facts.setup.machine);
    let shape = match job.blank.shape {
        BlankShape::Square => "square",
        BlankShape::Octagon => "octagon",
        BlankShape::Round => "round",
    };
    let mut lines = vec![format!(
        "blank: {}, {shape}, {}, {} long, of which {} beyond the nose",
        job.wood,
        facts.show(blank.size_mm),
        facts.show(blank.to_s_mm - blank.from_s_mm),
        facts.show(-blank.from_s_mm)
    )];
    if job.screw.plain_nose_mm > 0.0 {
        lines.push(format!(
            "turn it first to less than {} across from {} to {}: the plain nose lies below the root",
            job.unit.show_at_most(2.0 * facts.screw.root_radius_mm),
            facts.x_word(0.0),
            facts.x_word(job.screw.plain_nose_mm)
        ));
    }
    let centre = machine.centre.map_or("no tail centre".to_owned(), |centre| {
        format!("tail centre {} across", facts.show(centre.diameter_mm))
    });
    lines.push(format!("held: {} of it in the chuck, {centre}", facts.show(machine.chuck.grip_mm)));
    lines
}

fn cutter(facts: &Facts) -> Vec<String> {
    let (job, cutter) = (facts.job, &facts.setup.cutter);
    let tip = match cutter.tip {
        Tip::Flat { diameter_mm: 0.0 } => "sharp tip".to_owned(),
        Tip::Flat { diameter_mm } => format!("flat tip {}", facts.show(diameter_mm)),
        Tip::Ball { radius_mm } => format!("ball tip, radius {}", facts.show(radius_mm)),
    };
    vec![
        format!(
            "cutter: {}, {} degrees, {tip}, {} across, sticking out {}",
            cutter.title,
            cutter.included_angle_deg,
            facts.show(cutter.cutting_diameter_mm),
            facts.show(cutter.stick_out_mm)
        ),
        format!(
            "spindle {:.0} rev/min, feed {} along the helix at the crest",
            job.cutting.rpm,
            job.unit.show_speed(job.cutting.feed_mm_per_min)
        ),
    ]
}

/// The machine and how it has to understand F.
fn machine(facts: &Facts) -> Vec<String> {
    let machine = &facts.setup.machine;
    let unit = machine.style.unit;
    let feed = match machine.feed {
        FeedConvention::InverseTime => "one over the minutes that the line takes".to_owned(),
        FeedConvention::Linear => format!("{unit}/min along X and Z as if A stood still"),
        // See `feed_word`: such a control turns F into mm/min before it adds.
        FeedConvention::Combined if unit == LengthUnit::Inch => {
            format!(
                "mm and degrees together, root of the sum of squares, per minute, divided by {MM_PER_INCH}"
            )
        }
        FeedConvention::Combined => {
            "mm and degrees together, root of the sum of squares, per minute".to_owned()
        }
    };
    vec![format!("machine: {}", machine.title), format!("F: {}, {feed}", super::feed_mode(machine.feed))]
}

/// Where zero lies, which way the axes count, and where they stand before the start.
fn zeros(facts: &Facts) -> Vec<String> {
    let machine = &facts.setup.machine;
    let head = match machine.headstock {
        XEnd::XPlus => "up",
        XEnd::XMinus => "down",
    };
    let z = match machine.z_zero {
        ZZero::Axis => "axis of rotation".to_owned(),
        ZZero::FinishedSurface => format!(
            "top of the finished cylinder, {} above the axis of rotation",
            facts.show(facts.screw.crest_radius_mm)
        ),
    };
    let flat = match facts.job.blank.shape {
        BlankShape::Round => "",
        BlankShape::Square | BlankShape::Octagon => ", a flat of the blank on top",
    };
    vec![
        format!("X0: nose face, X counts {head} towards the headstock"),
        "Y0: cutter straight above the axis of rotation, set before the start".to_owned(),
        format!("Z0: {z}"),
        format!("A0: start 1 at the nose face{flat}, mark blank and chuck there"),
        "park before the start: cutter above the nose, Z at the top of its travel, A0 at the mark".to_owned(),
    ]
}

fn checks(facts: &Facts) -> Vec<String> {
    let top = match facts.setup.machine.a_plus {
        TopTurns::ToFront => "front",
        TopTurns::ToBack => "back",
    };
    vec![format!(
        "check by hand: jog A from 0 to +90, the top of the blank must move to the {top}, or else the thread winds \
         the wrong way"
    )]
}

/// How far the axes go, in the program's own numbers, and how long it takes.
fn extents(facts: &Facts) -> Vec<String> {
    let (frame, path) = (facts.frame, facts.path);
    let from = frame.pose(path.from);
    let [low, high] =
        path.moves.iter().map(|step| frame.pose(step.to)).fold([from; 2], |[low, high], pose| {
            [
                Pose { x: low.x.min(pose.x), z: low.z.min(pose.z), a: low.a.min(pose.a) },
                Pose { x: high.x.max(pose.x), z: high.z.max(pose.z), a: high.a.max(pose.a) },
            ]
        });
    let unit = facts.setup.machine.style.unit;
    let span = |low: i64, high: i64| format!("{} to {}", frame.number(low), frame.number(high));
    let mut lines = vec![
        format!("X {} {unit}", span(low.x, high.x)),
        format!("Z {} {unit}", span(low.z, high.z)),
        format!("A {} degrees", span(low.a, high.a)),
    ];
    let turns = wound_back_turns(facts);
    let most = turns.iter().copied().fold(0.0, f64::max);
    if most > 0.0 {
        let times = if turns.len() == 1 { "once".to_owned() } else { format!("{} times", turns.len()) };
        lines.push(format!("A winds back {times}, up to {most:.1} turns, above the blank, spindle running"));
    }
    let minutes = super::minutes(facts.setup, path).round().max(1.0);
    lines.push(format!("about {minutes:.0} minute{}", if minutes > 1.0 { "s" } else { "" }));
    lines
}

/// Turns of each move of A against the way in which the pass that follows turns the blank.
fn wound_back_turns(facts: &Facts) -> Vec<f64> {
    let path = facts.path;
    let from = std::iter::once(path.from).chain(path.moves.iter().map(|step| step.to));
    let back = |from: Place, step: &Move| {
        let towards = path.passes.get(step.pass)?.towards;
        let ahead = if towards == Towards::Head { 1.0 } else { -1.0 } * facts.job.screw.hand.sign();
        let turns = ahead * (from.theta_deg - step.to.theta_deg) / 360.0;
        (step.what == What::Index && turns > 0.0).then_some(turns)
    };
    from.zip(&path.moves).filter_map(|(from, step)| back(from, step)).collect()
}

/// Short enough to be read.
fn cautions(facts: &Facts) -> Vec<String> {
    let mut lines: Vec<String> = wound_up(facts).into_iter().collect();
    lines.extend(dust::caution(&facts.setup.timber));
    lines.extend(
        [
            "care: read safety.md first",
            "the first run in the air, spindle off, one hand at the stop",
            "eyes covered, sleeves and hair tied, nobody near the turning blank",
        ]
        .map(str::to_owned),
    );
    lines
}

/// Where A is left, if another run would first turn it back a long way. A rotary with limits has to unwind: a zero
/// set anew where it ends would move its limits too, and what limits it may be a cable.
fn wound_up(facts: &Facts) -> Option<String> {
    let last = facts.path.moves.last()?.to;
    let turns = (last.theta_deg - facts.path.from.theta_deg).abs() / 360.0;
    let end = facts.frame.a_word(facts.frame.pose(last).a);
    (turns > FEW_TURNS).then(|| match facts.setup.machine.a.limit_deg {
        None => format!(
            "A ends at {end}: turn it on to the mark and set A to 0 before another run, or it first unwinds \
             {turns:.0} turns"
        ),
        Some(limit) => format!(
            "A ends at {end}: another run first unwinds {turns:.0} turns, set no new A0 there, the limit of {limit} \
             degrees counts from the old one"
        ),
    })
}
