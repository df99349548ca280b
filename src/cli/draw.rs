//! `draw`: the shop drawing of a job, with what its programs carve.

use super::args::Draw;
use super::seen::{self, Seen, Target};
use super::tell::Teller;
use super::{Outcome, nut};
use crate::feeds;
use crate::proof::{self, Story};
use crate::report::draw::{Sheet, svg};

/// Proves the programs, carves their section, draws.
pub(crate) fn run(draw: &Draw, teller: &Teller) -> Outcome {
    let args = &draw.seen;
    let out = draw.out.clone().unwrap_or_else(|| seen::default_name(&args.job, &args.programs, "svg"));
    let target = Target { verb: "draw", what: "drawing", out: &out, fine: None };
    let seen = match seen::open(args, &target, teller) {
        Ok(seen) => seen,
        Err(outcome) => return outcome,
    };
    let story = Story::of(&seen.run());
    let Some(text) = story.and_then(|story| sheet(&seen, &story)) else {
        teller.remark("no drawing: the program cannot be followed");
        teller.document(&seen.document.with("written", false));
        return Outcome::Wrong;
    };
    let outcome = seen.outcome();
    seen::write(&out, &text, args.replace, teller, seen.document, outcome)
}

/// The sheet as SVG.
pub(crate) fn sheet(seen: &Seen, story: &Story) -> Option<String> {
    let (_, proof) = seen.last()?;
    let (drawing, lead_mm) = (&seen.shop.drawing, seen.shop.drawing.lead_mm);
    let threads = seen.programs.iter().zip(&story.parts).find(|(one, _)| one.step.has_thread());
    let thread_motions = threads.map_or([0, 0], |(_, motions)| [motions.start, motions.end]);
    // Over the groove that the section of the drawing shows: the one nearest the middle of the thread at angle 0.
    let middle = (f64::midpoint(drawing.full_from_s_mm, drawing.full_to_s_mm) / lead_mm).round() * lead_mm;
    let carved = proof::section(&seen.run(), [middle - lead_mm, middle + lead_mm]);
    let (depths_mm, _) = feeds::depths(&seen.shop.job, &seen.shop.screw);
    let names: Vec<String> = seen.programs.iter().map(|one| seen::bare(one.text.name())).collect();
    // Of a series the last is named; the others lead up to it.
    let program = names.last().map_or("", String::as_str);
    Some(svg(&Sheet {
        job: &seen.shop.job,
        screw: &seen.shop.screw,
        setup: &seen.shop.setup,
        drawing,
        depths_mm: &depths_mm,
        program,
        programs: names.len(),
        proved: seen.proved,
        measured: &proof.measured,
        carved: &carved,
        pair: &nut::sections(&seen.shop, &seen.run()),
        story,
        thread_motions,
    }))
}
