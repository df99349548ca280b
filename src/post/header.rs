//! What a program tells the operator before it moves, in the order in which it is needed: what is cut, from which
//! blank, with which cutter, where zero lies on the machine, how to see that it turns the right way, how far it will
//! go, and what to mind. Words only.

use super::Lead;
use super::frame::{Frame, Pose};
use super::text::Text;
use crate::design::{self, Screw};
use crate::drawing::Drawing;
use crate::job::Job;
use crate::setup::{AUnit, BlankShape, FeedConvention, InverseUnit, Setup, Tip, TopTurns, XEnd, ZZero};
use crate::toolpath::{Place, Work};
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
    work: &'a Work,
    lead: &'a Lead,
    frame: &'a Frame,
}

impl<'a> Facts<'a> {
    pub(super) fn new(
        job: &'a Job,
        screw: &'a Screw,
        setup: &'a Setup,
        work: &'a Work,
        frame: &'a Frame,
        lead: &'a Lead,
    ) -> Self {
        Facts { job, screw, setup, drawing: design::drawing(job, screw), work, lead, frame }
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
        head(facts),
        if facts.lead.thread { work(facts) } else { Vec::new() },
        facts.lead.lines.clone(),
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

/// What it is, and for which job.
fn head(facts: &Facts) -> Vec<String> {
    let title = match &facts.lead.title {
        Some(title) => format!("{}, {title}", facts.job.title),
        None => facts.job.title.clone(),
    };
    vec![
        format!("threadwright {}: {title}", env!("CARGO_PKG_VERSION")),
        format!("{}{}", super::DIGEST_WORDS, facts.lead.digest),
    ]
}

/// The screw.
fn work(facts: &Facts) -> Vec<String> {
    let (job, screw, drawing) = (facts.job, facts.screw, &facts.drawing);
    let [from, to, out] =
        [drawing.full_from_s_mm, drawing.full_to_s_mm, drawing.run_out_to_s_mm].map(|s| facts.x_word(s));
    vec![
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
    if job.screw.plain_nose_mm > 0.0 && job.operations.round.is_none() {
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
    let shape = if cutter.is_straight() {
        "straight".to_owned()
    } else {
        format!("{} degrees, {tip}", cutter.included_angle_deg)
    };
    vec![
        format!(
            "cutter: {}, {shape}, {} across, sticking out {}",
            cutter.title,
            facts.show(cutter.cutting_diameter_mm),
            facts.show(cutter.stick_out_mm)
        ),
        format!(
            "spindle {:.0} rev/min, feed {} {}",
            facts.setup.rpm,
            job.unit.show_speed(facts.setup.feed_mm_per_min),
            if facts.lead.thread {
                "along the helix at the crest"
            } else {
                "round the blank under the cutter"
            }
        ),
    ]
}

/// The machine and how it has to understand F.
fn machine(facts: &Facts) -> Vec<String> {
    let machine = &facts.setup.machine;
    let unit = machine.style.unit;
    let feed = match machine.feed {
        FeedConvention::InverseTime => match machine.habits.inverse {
            InverseUnit::PerMinute => "one over the minutes that the line takes".to_owned(),
            InverseUnit::PerSecond => "one over the seconds that the line takes".to_owned(),
            InverseUnit::Seconds => "the seconds that the line takes".to_owned(),
        },
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
    let (frame, path) = (facts.frame, facts.work);
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
        format!("A {} {}", span(low.a, high.a), a_name(facts)),
    ];
    let turns = &facts.work.wound_back_turns;
    let most = turns.iter().copied().fold(0.0, f64::max);
    if most > 0.0 {
        let times = if turns.len() == 1 { "once".to_owned() } else { format!("{} times", turns.len()) };
        lines.push(format!("A winds back {times}, up to {most:.1} turns, above the blank, spindle running"));
    }
    let minutes = super::minutes(facts.setup, path.from, &path.moves).round().max(1.0);
    lines.push(format!("about {minutes:.0} minute{}", if minutes > 1.0 { "s" } else { "" }));
    lines
}

/// What A words count, by name.
fn a_name(facts: &Facts) -> &'static str {
    match facts.setup.machine.habits.a_unit {
        AUnit::Degrees => "degrees",
        AUnit::Turns => "turns",
    }
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
    let last = facts.work.moves.last()?.to;
    let turns = (last.theta_deg - facts.work.from.theta_deg).abs() / 360.0;
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
