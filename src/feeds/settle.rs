//! From a job that leaves its cutting to the wood to one that could have been written by hand: spindle speed, depths, a
//! feed for each. What the job gives it keeps.

use super::bounds::{Bounds, Reason};
use super::depth::passes_dropped;
use super::plan::{Ask, LIGHT_MM, MOST_PASSES, Plan, Planned, Search};
use super::trip::{Kind, Trip};
use crate::design::Screw;
use crate::finding::{Finding, design as code};
use crate::job::{Given, Job, Passes};
use crate::setup::Edge;
use crate::units::LengthUnit;

/// Steps in which a plan sets feeds: round numbers of the job's unit, mm/min.
fn feed_step(unit: LengthUnit) -> f64 {
    match unit {
        LengthUnit::Mm => 10.0,
        LengthUnit::Inch => 0.5 * unit.mm(),
    }
}

/// The same job with its whole plan left to the wood.
#[must_use]
pub fn opened(mut job: Job) -> Job {
    job.cutting.passes = Passes::ByWood(Given::default());
    job
}

/// A job whose cutting is settled.
#[derive(Clone, Debug)]
pub struct Settled {
    /// The job, with nothing left to decide.
    pub job: Job,
    /// The plan, if the job left one to the wood.
    pub plan: Option<Plan>,
    /// What there is to say about it.
    pub findings: Vec<Finding>,
}

/// Settles a job; one that leaves nothing open comes back as it is.
pub fn settle(job: Job, screw: &Screw) -> Settled {
    let Passes::ByWood(given) = &job.cutting.passes else {
        return Settled { job, plan: None, findings: Vec::new() };
    };
    let (bounds, mut ask) = (Bounds::of(&job, screw), ask(&job, screw, given));
    let mut plan = Search::new(&bounds, &ask).best();
    while plan.passes.is_empty() && ask.count > Some(1) {
        // So many steps do not fit into the depth.
        ask.count = ask.count.map(|count| count - 1);
        plan = Search::new(&bounds, &ask).best();
    }
    let mut findings = Vec::new();
    findings.extend(dropped(&job, given, &plan));
    findings.extend(without_forces(&job, &bounds));
    findings.extend(pinched(&job, &bounds, &plan));
    findings.extend(heavy_last(&job, screw, &plan));
    let job = written(job, &plan);
    Settled { job, plan: Some(plan), findings }
}

/// What a job asks of its plan.
pub fn ask(job: &Job, screw: &Screw, given: &Given) -> Ask {
    Ask {
        rpm: given.rpm,
        feed_mm_per_min: given.feed_mm_per_min,
        flank_feed_mm_per_min: given.flank_feed_mm_per_min,
        count: given.count.map(|count| (count as usize).min(fitting(job, screw))),
        depths_mm: given.depths_mm.clone(),
        least_step_mm: job.cutting.least_step_mm,
        flank_aside_mm: screw.flank_aside_mm,
        feed_step_mm_per_min: feed_step(job.unit),
    }
}

/// How many steps of the least size fit into the depth.
fn fitting(job: &Job, screw: &Screw) -> usize {
    (screw.depth_mm / job.cutting.least_step_mm).floor().max(1.0) as usize
}

/// The job with a plan written into it.
fn written(mut job: Job, plan: &Plan) -> Job {
    let of = |kind: Kind| plan.passes.iter().map(|pass| pass.trip).filter(move |trip| trip.kind == kind);
    let feeds: Vec<f64> = of(Kind::Depth).map(|trip| trip.feed_mm_per_min).collect();
    let cutting = &mut job.cutting;
    cutting.rpm = plan.rpm;
    cutting.feed_mm_per_min = plan.passes.iter().map(|pass| pass.trip.feed_mm_per_min).fold(0.0, f64::max);
    cutting.flank_feed_mm_per_min = of(Kind::Flank).map(|trip| trip.feed_mm_per_min).next();
    cutting.passes = Passes::Depths(of(Kind::Depth).map(|trip| trip.depth_mm).collect());
    cutting.feeds_mm_per_min = feeds;
    job.operations.follow(&job.cutting, &job.marks);
    job
}

/// Fewer passes than the job asks.
fn dropped(job: &Job, given: &Given, plan: &Plan) -> Option<Finding> {
    let count = given.count.filter(|_| given.depths_mm.is_none())?;
    let planned = plan.passes.iter().filter(|pass| pass.trip.kind == Kind::Depth).count();
    (planned < count as usize).then(|| passes_dropped(job, count, planned))
}

/// A plan made in a wood of which too little is known to reckon what pushes and what gives.
fn without_forces(job: &Job, bounds: &Bounds) -> Option<Finding> {
    let timber = &bounds.setup.timber;
    let (lacks, key, left_out) = match (timber.density_kg_m3, timber.modulus_gpa) {
        (None, _) => (
            "density",
            "density",
            "power of the spindle, torque on A, and how far blank and cutter bend; chips are held against what dense wood wants",
        ),
        (Some(_), None) => ("stiffness", "moe", "how far the blank bends and twists"),
        (Some(_), Some(_)) => return None,
    };
    let what = if lacks == "density" { "forces" } else { "bending" };
    let message = format!(
        "the plan is made without {what}: the {lacks} of {} is not known; left out: {left_out}",
        timber.name
    );
    let help = format!(
        "name a wood of the table (`threadwright woods`), or write {key} of this one into a file of your own \
         (woods = \"my-woods.toml\"); until then begin with a feed well below the plan's"
    );
    let mark = job.marks.get("cutting.plan").or_else(|| job.marks.get("wood"));
    Some(Finding::new(&code::PLAN_WITHOUT_FORCES, message).at_some(mark).help(help))
}

/// A plan in which no feed is right for some pass: too slow burns, and the limit that ends it lies below that.
fn pinched(job: &Job, bounds: &Bounds, plan: &Plan) -> Option<Finding> {
    if plan.keeps() {
        return None;
    }
    let tight = plan.tightest()?;
    let (feed, needed) = (tight.trip.feed_mm_per_min, tight.least_mm_per_min);
    let speed = |mm_per_min: f64| job.unit.show_speed(mm_per_min);
    let pass = pass_words(plan, tight);
    let message = if tight.reason == Reason::Given {
        let why = if needed > feed {
            format!("below {} its chips burn", speed(needed))
        } else {
            format!("wood, cutter and machine bear {}", speed(tight.most_mm_per_min))
        };
        format!("{pass} is given a feed of {}: {why}", speed(feed))
    } else {
        let (rpm, reason) = (plan.rpm, tight.reason.words());
        let every = match job.cutter.edge {
            Edge::Sharp => String::new(),
            edge => format!("with a {} edge every plan burns: ", edge.name()),
        };
        format!(
            "{every}{pass} needs {} at {rpm:.0} rev/min so that its chips do not burn, and gets {}: {reason}",
            speed(needed),
            speed(feed)
        )
    };
    let key = match tight.reason {
        Reason::Given => "cutting.feed",
        Reason::A => "machine.a.top_speed",
        Reason::X => "machine.x.top_speed",
        Reason::Power => "machine.spindle.power",
        Reason::Torque => "machine.a.holding_torque",
        _ => "cutting.plan",
    };
    Some(
        Finding::new(&code::PLAN_PINCHED, message)
            .at_some(job.marks.get(key).or_else(|| job.marks.get("cutting.plan")))
            .help(way_out(job, bounds, plan, tight.reason))
            .values(feed, needed),
    )
}

/// What would make a pinched pass cut.
fn way_out(job: &Job, bounds: &Bounds, plan: &Plan, reason: Reason) -> String {
    match reason {
        Reason::Given => {
            "leave the feed to the wood, or see `threadwright feeds` for what it may be (trade practice, from memory)".to_owned()
        }
        _ if job.cutter.edge != Edge::Sharp => format!(
            "sharpen the cutter: a {} edge wants thicker chips than a sharp one, and pushes harder (from memory)",
            job.cutter.edge.name()
        ),
        Reason::A | Reason::X => format!(
            "a spindle that turns slower than {:.0} rev/min, or a cutter with fewer edges, makes thicker chips at the \
             same feed",
            plan.rpm
        ),
        // The last pass is as light as it may be already: shallower ones before it leave its chips as they are.
        Reason::BlankBends => {
            let slender = bounds.slenderness();
            let usual = if slender >= STEADY_FROM {
                format!(" (from {STEADY_FROM:.0} on one is usual: common practice, from memory)")
            } else {
                String::new()
            };
            format!(
                "set a steady behind the cutter, or make the blank shorter or thicker: it is {slender:.0} times as long as its \
                 root is thick{usual}"
            )
        }
        Reason::CutterBends => {
            "let the cutter stick out less, or take one with a thicker shank; see `threadwright feeds`".to_owned()
        }
        Reason::Tears | Reason::Power | Reason::Torque => {
            "more and shallower passes, or a stronger machine; see `threadwright feeds`".to_owned()
        }
    }
}

/// Free length over diameter from which a steady is usual; common practice, from memory.
pub const STEADY_FROM: f64 = 10.0;

/// `pass 2`, or the flank pass by its side.
fn pass_words(plan: &Plan, pass: &Planned) -> String {
    match pass.trip.kind {
        Kind::Flank if pass.trip.aside_mm > 0.0 => "the pass on the flank towards the head".to_owned(),
        Kind::Flank => "the pass on the flank towards the nose".to_owned(),
        _ => {
            let place = plan.passes.iter().position(|other| other == pass).unwrap_or(0);
            format!("pass {}", place + 1)
        }
    }
}

/// A plan whose last pass is not a light one, though nothing in the job asks for that.
fn heavy_last(job: &Job, screw: &Screw, plan: &Plan) -> Option<Finding> {
    let Passes::ByWood(given) = &job.cutting.passes else { return None };
    let free = given.depths_mm.is_none() && given.count != Some(1) && screw.flank_aside_mm <= 0.0;
    let heavy = plan.last_off_flank_mm.is_none() || plan.is_heavy();
    (free && heavy && plan.keeps()).then(|| {
        let light = job.unit.show(LIGHT_MM[1]);
        let message = match plan.last_off_flank_mm {
            Some(off) => format!("the last pass takes {} off each flank: {light} would burn", job.unit.show(off)),
            None => format!("no light last pass follows: {light} off each flank would burn"),
        };
        Finding::new(&code::LAST_PASS_HEAVY, message)
            .at_some(job.marks.get("cutting.plan"))
            .help("a sharper edge, a slower spindle, a faster A or a cutter with one edge would make a light pass cut")
    })
}

/// A plan as it is often set by hand: steps of equal depth and one feed.
#[derive(Clone, Debug)]
pub struct Even {
    /// The job with that plan in it.
    pub job: Job,
    /// The plan.
    pub plan: Plan,
}

/// The best plan with steps of equal depth and one feed, under the same limits and with the same last pass as `plan`: how
/// many steps, which feed and which spindle speed are chosen as well as they can be, save what the job gives: its number of
/// passes, its feed and its spindle speed hold for both. `job` is the one that leaves its plan to the wood.
pub fn even(job: &Job, screw: &Screw, plan: &Plan) -> Option<Even> {
    let Passes::ByWood(given) = &job.cutting.passes else { return None };
    let given_count = given.count.is_some() || given.depths_mm.is_some();
    let given = Given { depths_mm: None, ..given.clone() };
    let bounds = Bounds::of(job, screw);
    let ask = ask(job, screw, &given);
    let search = Search::new(&bounds, &ask);
    let down: Vec<Trip> =
        plan.passes.iter().map(|pass| pass.trip).filter(|trip| trip.kind == Kind::Depth).collect();
    let last = plan.last_off_flank_mm.and(down.len().checked_sub(2));
    let before_last = last.map(|index| down[index].depth_mm);
    // Where the job fixes how many passes there are, equal steps get no fewer.
    let fixed = given_count.then(|| down.len() - usize::from(before_last.is_some()));
    let full = screw.depth_mm;
    let ladder = |count: usize| -> Vec<f64> {
        let end = before_last.unwrap_or(full);
        let steps = (1..=count).map(|k| end * k as f64 / count as f64);
        steps.chain(before_last.map(|_| full)).collect()
    };
    let deep_enough = |count: &usize| {
        let step = before_last.unwrap_or(full) / *count as f64;
        fixed.map_or(step >= ask.least_step_mm && search.bears(step), |fixed| *count == fixed)
    };
    let best = (1..=MOST_PASSES)
        .filter(deep_enough)
        .flat_map(|count| search.speeds().into_iter().map(move |rpm| (count, rpm)))
        .map(|(count, rpm)| search.even(rpm, &ladder(count)))
        .reduce(Search::better)?;
    Some(Even { job: written(job.clone(), &best), plan: best })
}
