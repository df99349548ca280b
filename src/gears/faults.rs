//! What is to be said of an answer: that nothing can be set up, or that the lead is only near.

use std::collections::BTreeSet;
use std::fmt::Write;

use super::{Answer, Refusal, Wanted};
use crate::finding::{Finding, gears as code};
use crate::job::{Job, Marks};
use crate::units::LengthUnit;

/// The finding of a job without a jig.
pub fn jig_missing(job: &Job) -> Finding {
    let top = job.marks.get("screw").or_else(|| job.marks.get("title"));
    Finding::new(&code::JIG_MISSING, "the job names no jig, so there are no gears to choose from")
        .at_some(top)
        .help("add a line such as jig = \"jigs/bench-jig.toml\" above the first [table], or a table [jig]")
}

/// Everything wrong with an answer.
pub fn faults(answer: &Answer, wanted: &Wanted, unit: LengthUnit, marks: &Marks) -> Vec<Finding> {
    let Some(best) = answer.best(wanted) else {
        return vec![no_train(answer, wanted, marks)];
    };
    if best.is_exact(wanted) {
        return Vec::new();
    }
    let off = best.error_over_mm(wanted, wanted.thread_mm);
    let bears = wanted.clearance_mm;
    let near = wanted.bears(best);
    let way = if off > 0.0 { "long" } else { "short" };
    // A lead that is off by less than shows is still not exact, so more digits than for other lengths.
    let decimals = unit.decimals() + 1;
    let show = |mm: f64| format!("{:.decimals$} {}", mm / unit.mm(), unit.name());
    let message = format!(
        "no train cuts the lead exactly; the best comes out {} {way} over {} of thread, {} the {} that the fit leaves",
        show(off.abs()),
        unit.show(wanted.thread_mm),
        if near { "within" } else { "more than" },
        show(bears)
    );
    let mut help = match &answer.purchases[..] {
        [first, ..] if first.found.is_exact(wanted) => {
            format!("a gear of {} teeth would cut it exactly", first.teeth)
        }
        [first, ..] => format!("a gear of {} teeth would come nearer", first.teeth),
        [] => "no single new gear would come much nearer".to_owned(),
    };
    if let Some(([one, other], _)) = answer.purchase_pair {
        let _ = write!(help, "; gears of {one} and {other} teeth together would cut it exactly");
    }
    if !near {
        help.push_str(
            "; a nut tapped with the same gears has the same lead, and then more clearance is safe",
        );
    }
    let code = if near { &code::LEAD_NEAR } else { &code::LEAD_FAR };
    vec![Finding::new(code, message).at_some(marks.get("jig.gears")).help(help).values(off, bears)]
}

fn no_train(answer: &Answer, wanted: &Wanted, marks: &Marks) -> Finding {
    let all = answer.kinds.iter().flat_map(|kind| [&kind.refused, &kind.refused_near]);
    let refused: BTreeSet<Refusal> = all.flat_map(|refused| refused.keys().copied()).collect();
    let (message, help) = if refused.contains(&Refusal::NoPlace) {
        (
            "the gears that cut this lead find no place between the blank and the lead screw".to_owned(),
            "look at axes_apart, nearest_stud and farthest_stud; another stud would let an idler bridge the distance",
        )
    } else if refused.contains(&Refusal::NoIdler) {
        (
            format!(
                "the gears that cut this lead leave none for the idler that a {}-hand thread wants",
                wanted.hand.name()
            ),
            "add a gear of any size to the box",
        )
    } else {
        (
            format!(
                "the gears that cut this lead {}-hand take more studs than the jig has",
                wanted.hand.name()
            ),
            "set up another stud; it may carry an idler of any size",
        )
    };
    Finding::new(&code::NO_TRAIN, message).at_some(marks.get("jig.gears")).help(help)
}
