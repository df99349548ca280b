//! The nuts of the samples: the programs that are written for them today, proved from their texts, and each in its screw.

use threadwright::design::{self, nut::nut_steps};
use threadwright::drawing::Hand;
use threadwright::finding::Severity;
use threadwright::job::Job;
use threadwright::post::{self, NutLead};
use threadwright::proof::Before;
use threadwright::proof::nut::{NutBefore, NutProof, prove};
use threadwright::proof::pair::{self, nut_wood, screw_wood};
use threadwright::report::nut_proof::{nut_table, pair_table};
use threadwright::setup::{Arcs, Season};
use threadwright::toolpath;
use threadwright::units::LengthUnit;

use crate::common;
use crate::oracle::source;

const WITH_NUT: [&str; 5] =
    ["nipping-press", "lying-press", "sewing-frame", "standing-press", "finishing-press"];

/// How far a section may be off: its points stand 0.02 mm apart.
const SECTION_MM: f64 = 0.01;

fn told(proof: &NutProof) -> Vec<String> {
    let severe = proof.findings.iter().filter(|f| f.severity > Severity::Note);
    severe.map(|f| format!("{}: {}", f.code.name, f.message)).collect()
}

/// Makes and proves the nut of a job; its proofs, and the lines of the fit as cut.
fn judge(job: Job) -> (Vec<String>, Option<String>) {
    let made = common::make_job(job);
    let (screw, _) = design::screw(&made.job);
    let screw = screw.expect("it has sizes");
    let (nut, _) = design::nut(&made.job, &screw);
    let Some(nut) = nut else { return (Vec::new(), None) };
    let steps = nut_steps(&made.job, &nut);
    if steps.is_empty() {
        return (Vec::new(), None);
    }
    let texts: Vec<_> = steps
        .iter()
        .map(|step| {
            let path = toolpath::nut_work(&made.job, &nut, step).expect("a step has a path");
            source(&post::nut_program(&made.job, &nut, step, &path, &NutLead::default()))
        })
        .collect();
    let programs: Vec<NutBefore<'_>> =
        steps.iter().zip(&texts).map(|(step, program)| NutBefore { program, setup: &step.setup }).collect();
    let mut wrong = Vec::new();
    for (index, step) in steps.iter().enumerate() {
        let proof = prove(&programs[..index], &texts[index], &step.setup, &step.drawing, None);
        let table = nut_table(&proof, &step.drawing);
        wrong.extend(told(&proof).into_iter().map(|told| format!("{}: {told}\n{table}", step.name())));
    }
    let text = source(&made.program);
    let screws = [Before { program: &text, setup: &made.setup }];
    let screw = screw_wood(&screws, &made.drawing, None).expect("a screw");
    let last = steps.last().expect("a step");
    let nut = nut_wood(&programs, &last.drawing, None).expect("a nut");
    let season = Season { name: "as cut".to_owned(), ..Season::default() };
    let proof = pair::prove(&screw, &nut, std::slice::from_ref(&season));
    // A section through both tells the same, since every angle is alike as cut.
    let sections = pair::section(&screws, &made.drawing, &programs, &last.drawing, &[season]);
    let (section, fit) = (sections.first().expect("a section"), proof.fits.first().expect("a fit"));
    for (what, shown, proved) in [
        ("crest", section.crest_mm, fit.crest.mm),
        ("root", section.root_mm, fit.root.mm),
        ("flank", section.flank_mm, fit.flank_mm()),
    ] {
        if (shown - proved).abs() > SECTION_MM {
            wrong.push(format!("{what}: the section shows {shown}, the pair was proved with {proved}"));
        }
    }
    wrong.extend(proof.findings.iter().map(|f| format!("pair: {}: {}", f.code.name, f.message)));
    (wrong, Some(pair_table(&proof, LengthUnit::Mm)))
}

#[test]
fn nuts_that_are_written_today_prove_and_fit_their_screws() {
    let (mut wrong, mut proved) = (Vec::new(), 0);
    for name in WITH_NUT {
        let job = common::sample(name).job;
        for arcs in [Arcs::Centre, Arcs::None] {
            for hand in [Hand::Right, Hand::Left] {
                let mut job = job.clone();
                let Some(mill) = job.mill.as_mut() else { continue };
                mill.arcs = arcs;
                job.screw.hand = hand;
                let (found, table) = judge(job);
                proved += usize::from(table.is_some());
                wrong.extend(found.into_iter().map(|found| format!("{name}, {arcs:?}, {hand:?}: {found}")));
            }
        }
    }
    assert!(proved > 0, "no sample has a nut to be milled");
    assert!(wrong.is_empty(), "{} findings:\n{}", wrong.len(), wrong.join("\n"));
}
