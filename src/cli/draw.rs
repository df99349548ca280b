//! `draw`: the shop drawing of a job, with what a program carves.

use std::path::PathBuf;
use std::sync::Arc;

use super::args::Draw;
use super::shop::{self, Shop};
use super::show::{default_name, program_of, write};
use super::tell::Teller;
use super::{Outcome, files, prove};
use crate::feeds;
use crate::proof::{self, Proof, Story};
use crate::report::draw::{Sheet, svg};
use crate::report::json::Document;
use crate::source::Source;

/// Proves the program, carves its section, draws.
pub(crate) fn run(draw: &Draw, teller: &Teller) -> Outcome {
    let mut shop = match shop::open(&draw.job, "draw", teller) {
        Ok(shop) => shop,
        Err(outcome) => return outcome,
    };
    let out = draw.out.clone().unwrap_or_else(|| default_name(&draw.job, draw.program.as_deref(), "svg"));
    let document = Document::new("draw")
        .with("job", draw.job.display().to_string())
        .with("drawing", out.display().to_string());
    let inputs: Vec<PathBuf> = shop.inputs.iter().cloned().chain(draw.program.clone()).collect();
    if !files::is_dash(&out)
        && let Err(error) = files::check_target(&out, &inputs)
    {
        return teller.file_error(&error, document);
    }
    let program = match program_of(&mut shop, &draw.job, draw.program.as_deref(), teller, &document) {
        Ok(program) => program,
        Err(outcome) => return outcome,
    };
    let proof = prove::proof_of(&shop, &program, None, teller);
    let document = document.proof(&proof, &shop.findings);
    prove::tell(&shop, &program, &proof, false, teller);
    let Some(story) = Story::of(&program, &shop.setup) else {
        teller.remark("no drawing: the program cannot be followed");
        teller.document(&document.with("written", false));
        return Outcome::Wrong;
    };
    let text = sheet(&shop, &program, &proof, &story);
    let outcome = if proof.proved() { Outcome::Done } else { Outcome::Wrong };
    write(&out, &text, draw.replace, teller, document, outcome)
}

/// The sheet as SVG.
pub(crate) fn sheet(shop: &Shop, program: &Arc<Source>, proof: &Proof, story: &Story) -> String {
    let (drawing, lead_mm) = (&shop.drawing, shop.drawing.lead_mm);
    // Over the groove that the section of the drawing shows: the one nearest the middle of the thread at angle 0.
    let middle = (f64::midpoint(drawing.full_from_s_mm, drawing.full_to_s_mm) / lead_mm).round() * lead_mm;
    let carved = proof::section(program, &shop.setup, [middle - lead_mm, middle + lead_mm]);
    let (depths_mm, _) = feeds::depths(&shop.job, &shop.screw);
    let name = program.name().rsplit(['/', '\\']).next().unwrap_or_default();
    svg(&Sheet {
        job: &shop.job,
        screw: &shop.screw,
        setup: &shop.setup,
        drawing,
        depths_mm: &depths_mm,
        program: name,
        proved: proof.proved(),
        measured: &proof.measured,
        carved: &carved,
        story,
    })
}
