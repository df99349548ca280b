//! `mend`: goes on with an interrupted thread, or cuts one that is already there again, in phase.

use super::args::{Flank, Mend};
use super::files;
use super::series::{self, Judged, Program};
use super::shop::{self, Shop};
use super::tell::Teller;
use super::{Outcome, cut, prove};
use crate::design::{self, Screw, Touched};
use crate::finding::Severity;
use crate::job::Job;
use crate::post::{self, Lead};
use crate::proof::{self, Before};
use crate::report::json::Document;
use crate::source::Source;
use crate::stock::Cells;
use crate::toolpath::{self, Choice, Path, Work};

/// Depth by which a pass may be shallower than what stands and still be cut, mm.
const SAME_DEPTH_MM: f64 = 1e-6;

/// Farthest that an A word may lie from A0, degrees: a thousand turns, more than any of these screws has.
const MOST_A_DEG: f64 = 360_000.0;
/// How far below the root the tip may seem to stand when it touches, mm: less than a touch tells.
const SEATED_MM: f64 = 0.1;

/// How much a pass that cleans a thread is taken to find on it, mm.
const CLEANED_MM: f64 = 0.05;

/// What is to be cut, on what.
struct Plan {
    /// The job as it is cut now: deeper, perhaps.
    job: Job,
    screw: Screw,
    /// Passes to cut.
    choice: Choice,
    /// The job and passes that made what stands.
    stands: (Job, Screw, Choice),
    words: Vec<String>,
}

/// Plans, writes, proves on what stands, and only then lets the file appear.
pub(crate) fn run(mend: &Mend, teller: &Teller) -> Outcome {
    let mut shop = match shop::open(&mend.job, "mend", teller) {
        Ok(shop) => shop,
        Err(outcome) => return outcome,
    };
    let out = mend.out.clone().unwrap_or_else(|| series::file_of(&cut::default_name(&mend.job), "mend"));
    let document = Document::new("mend")
        .with("job", mend.job.display().to_string())
        .with("program", out.display().to_string());
    if files::is_dash(&out) {
        return teller.usage("a program that mends is written to a file: name one with --out", document);
    }
    if let Err(error) = files::check_target(&out, &shop.inputs) {
        return teller.file_error(&error, document);
    }
    let Some(programs) = series::write(&mut shop, false, &|_| String::new()) else {
        teller.findings(&shop.findings, shop.job.unit);
        teller.remark("nothing was written");
        teller.document(&document.with("written", false).findings(&shop.findings));
        return Outcome::BadInput;
    };
    let planned = plan(&mut shop, mend, &programs);
    let plan = match planned {
        Ok(plan) => plan,
        Err(words) if !words.is_empty() => return teller.usage(&words, document),
        Err(_) => {
            teller.findings(&shop.findings, shop.job.unit);
            teller.remark("nothing was written");
            teller.document(&document.with("written", false).findings(&shop.findings));
            return Outcome::BadInput;
        }
    };
    finish(&shop, mend, &programs, &plan, &out, document, teller)
}

fn finish(
    shop: &Shop,
    mend: &Mend,
    programs: &[Program],
    plan: &Plan,
    out: &std::path::Path,
    document: Document,
    teller: &Teller,
) -> Outcome {
    let at = programs.iter().position(|program| program.step.has_thread()).unwrap_or(0);
    let step = &programs[at].step;
    let lead = |title: &str, lines: Vec<String>| Lead {
        title: Some(title.to_owned()),
        lines,
        thread: true,
        digest: post::digest(&shop.job),
        spindle_off: false,
    };
    // What stands is made by a text too: the proof takes nothing else.
    let (stands_job, stands_screw, stands_choice) = &plan.stands;
    let text_of = |job: &Job, screw: &Screw, choice: &Choice, lead: &Lead| {
        let path = toolpath::plan_choice(job, screw, choice).0?;
        Some(post::step_program(job, screw, &step.setup, &Work::of_thread(job, &path), lead))
    };
    let stands = text_of(stands_job, stands_screw, stands_choice, &lead("what stands", Vec::new()));
    let Some(text) = text_of(&plan.job, &plan.screw, &plan.choice, &lead("mended", plan.words.clone()))
    else {
        return teller.usage("there is nothing left to cut", document);
    };
    let program = Source::new(out.display().to_string(), text);
    let stands = stands.map(|text| Source::new("what stands", text));
    let mut before: Vec<Before<'_>> = programs[..at]
        .iter()
        .map(|program| Before { program: &program.text, setup: &program.step.setup })
        .collect();
    before.extend(stands.as_ref().map(|text| Before { program: text, setup: &step.setup }));
    let sizes = design::drawing(&plan.job, &plan.screw);
    let drawing = crate::drawing::Drawing {
        root_diameter_mm: sizes.root_diameter_mm,
        crest_flat_mm: sizes.crest_flat_mm,
        section: sizes.section,
        ..step.drawing.clone()
    };
    let cells = mend.fineness.fine.map(Cells::square);
    let proof = super::progress::with_sign("carving the virtual blank", teller.silent(), || {
        proof::prove_after(&before, &program, &step.setup, &drawing, cells)
    });
    let judged = Judged { text: &program, setup: &step.setup, drawing: &drawing };
    let document = document.proof(&proof, &shop.findings);
    let outcome = prove::tell_all(shop, &[judged], std::slice::from_ref(&proof), &series::is_news, teller);
    if !proof.proved() {
        teller.remark("nothing was written");
        teller.document(&document.with("written", false));
        return outcome;
    }
    teller.remark(
        "before it runs: spindle off, let the cutter down into the groove at the mark and see that it sits in it",
    );
    let text = program.text().to_owned();
    cut::put(&[out.to_path_buf()], &[text], mend.replace, document, outcome, teller)
}

/// What to cut on what; words for a wrong use, or nothing when the findings say it.
fn plan(shop: &mut Shop, mend: &Mend, programs: &[Program]) -> Result<Plan, String> {
    let stands_mm = mend.stands.map_or(shop.screw.depth_mm, |length| length * shop.job.unit.mm());
    let phase_deg = phase(shop, mend, stands_mm)?;
    let mut words = Vec::new();
    if mend.touched.is_some() {
        words.push(format!("the thread stands {phase_deg:.2} degrees round the blank from A0"));
    }
    if let Some(deeper) = mend.deeper {
        return plan_deeper(shop, stands_mm, deeper * shop.job.unit.mm(), phase_deg, words);
    }
    let all = toolpath::plan(&shop.job, &shop.screw).0.ok_or_else(String::new)?;
    let skip = skipped(shop, mend, programs, &all)?;
    let pass = &all.passes[skip];
    words.push(format!(
        "begins again at pass {} of {}: start {}, depth {}",
        skip + 1,
        all.passes.len(),
        pass.start + 1,
        shop.job.unit.show(pass.depth_mm)
    ));
    let seated = if skip > 0 { ", cutter seated in a groove that is cut" } else { "" };
    words.push(format!("A0 must lie where it lay: mark on top{seated}"));
    Ok(Plan {
        job: shop.job.clone(),
        screw: shop.screw.clone(),
        choice: Choice { skip, phase_deg, ..Choice::default() },
        stands: (
            shop.job.clone(),
            shop.screw.clone(),
            Choice { most: Some(skip), phase_deg, ..Choice::default() },
        ),
        words,
    })
}

/// How far round the blank the thread stands.
fn phase(shop: &Shop, mend: &Mend, stands_mm: f64) -> Result<f64, String> {
    let Some(touched) = &mend.touched else { return Ok(0.0) };
    let (setup, machine) = (&shop.setup, &shop.job.machine);
    let unit_mm = machine.style.unit.mm();
    let [x, a] = touched[..] else { return Err("--touched takes X and A".to_owned()) };
    let side = machine.headstock.sign();
    let touched = Touched {
        s_mm: side * (x * unit_mm - setup.x_nose_mm),
        theta_deg: -side * machine.a_plus.sign() * a,
        r_mm: mend.touched_z.map(|z| z * unit_mm - setup.z_axis_mm),
        head_flank: mend.flank == Some(Flank::Head),
    };
    in_the_groove(shop, mend, &touched, [x, a], stands_mm)?;
    Ok(design::phase_deg(&shop.job, &shop.screw, touched, stands_mm))
}

/// Whether the cutter can have touched the thread there: what it does not touch says nothing of its phase, and the wood of
/// the proof would stand wrong in the same way.
fn in_the_groove(
    shop: &Shop,
    mend: &Mend,
    touched: &Touched,
    [x, a]: [f64; 2],
    stands_mm: f64,
) -> Result<(), String> {
    let (machine, setup) = (&shop.job.machine, &shop.setup);
    let unit = machine.style.unit;
    let x_of = |s_mm: f64| (setup.x_nose_mm + machine.headstock.sign() * s_mm) / unit.mm();
    let [from, to] = [shop.drawing.full_from_s_mm.max(0.0), shop.drawing.full_to_s_mm];
    if !(from..=to).contains(&touched.s_mm) {
        let decimals = unit.decimals();
        return Err(format!(
            "--touched: at X {x} there is no full thread, which runs from X {:.decimals$} to X {:.decimals$} {unit}; touch it there",
            x_of(from),
            x_of(to)
        ));
    }
    if a.abs() > MOST_A_DEG {
        return Err(format!(
            "--touched: A {a} is no angle that a rotary shows; give the A word at which it touches"
        ));
    }
    let (Some(z), Some(r_mm)) = (mend.touched_z, touched.r_mm) else { return Ok(()) };
    let crest = shop.screw.crest_radius_mm;
    let z_of = |r_mm: f64| (setup.z_axis_mm + r_mm) / unit.mm();
    if r_mm < crest - stands_mm - SEATED_MM || r_mm >= crest {
        let decimals = unit.decimals();
        return Err(format!(
            "--touched-z: at Z {z} the tip is not in the groove, which reaches from Z {:.decimals$} at its root to Z {:.decimals$} at \
             the crests; where the cutter sits on both flanks, leave --touched-z and --flank out",
            z_of(crest - stands_mm),
            z_of(crest)
        ));
    }
    Ok(())
}

/// How many passes to leave out.
fn skipped(shop: &Shop, mend: &Mend, programs: &[Program], all: &Path) -> Result<usize, String> {
    let count = all.passes.len();
    let within =
        |skip: usize| if skip < count { Ok(skip) } else { Err(format!("the thread has {count} passes")) };
    if let Some(pass) = mend.pass {
        return pass.checked_sub(1).map_or_else(|| Err("passes count from 1".to_owned()), within);
    }
    if let Some(start) = mend.start {
        let found = all.passes.iter().position(|pass| pass.start + 1 == start);
        return found
            .ok_or_else(|| format!("the thread has {} starts, counted from 1", shop.job.screw.starts));
    }
    let Some(line) = mend.line else { return Ok(0) };
    let (at, program) = programs
        .iter()
        .enumerate()
        .find(|(_, program)| program.step.has_thread())
        .ok_or_else(|| "the job has no thread".to_owned())?;
    let lead = series::lead_of(&shop.job, &program.step, at, programs.len());
    let lines = post::step_program_lines(&shop.job, &shop.screw, &program.step.setup, &program.work, &lead).1;
    let total = program.text.text().lines().count();
    if line == 0 || line > total {
        return Err(format!("the thread's program has {total} lines, counted from 1"));
    }
    match lines.iter().rposition(|&begins| begins <= line) {
        Some(pass) => within(pass),
        None => Err(format!(
            "line {line} stands before the first pass, which begins at line {}; to begin at the beginning run the program itself",
            lines.first().copied().unwrap_or_default()
        )),
    }
}

/// The thread deeper than it stands.
fn plan_deeper(
    shop: &mut Shop,
    stands_mm: f64,
    deeper_mm: f64,
    phase_deg: f64,
    mut words: Vec<String>,
) -> Result<Plan, String> {
    let unit = shop.job.unit;
    let mut made = Vec::new();
    // What is only cleaned stands a hair fuller: a proof on wood that fits exactly would find nothing cut.
    let fuller = if deeper_mm > 0.0 { 0.0 } else { CLEANED_MM };
    for (stands, deeper) in [(stands_mm - fuller, 0.0), (stands_mm, deeper_mm)] {
        let job = design::deeper(&shop.job, stands, deeper);
        let (screw, findings) = design::screw(&job);
        let findings = findings.into_iter().map(|finding| crate::finding::Finding {
            mark: None,
            also: Vec::new(),
            ..finding
        });
        shop.findings.extend(findings);
        made.push((job, screw));
    }
    if shop.findings.iter().any(|finding| finding.severity == Severity::Stop) {
        return Err(String::new());
    }
    let mut made = made.into_iter();
    let (Some((stood, Some(stood_screw))), Some((job, Some(screw)))) = (made.next(), made.next()) else {
        return Err(String::new());
    };
    words.push(if deeper_mm > 0.0 {
        format!("cuts a thread that stands {} deep {} deeper", unit.show(stands_mm), unit.show(deeper_mm))
    } else {
        format!("cleans a thread that stands {} deep", unit.show(stands_mm))
    });
    let stands_choice = Choice { phase_deg, ..Choice::default() };
    let choice = if deeper_mm > 0.0 {
        Choice { phase_deg, stands_mm: stands_mm + SAME_DEPTH_MM, ..Choice::default() }
    } else {
        stands_choice
    };
    Ok(Plan { job, screw, choice, stands: (stood, stood_screw, stands_choice), words })
}
