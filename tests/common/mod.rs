//! What several test binaries need: jobs read from disk and all that follows from them.

pub(crate) mod examples;

use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use threadwright::design;
use threadwright::drawing::Drawing;
use threadwright::feeds;
use threadwright::finding::{Finding, Severity, program};
use threadwright::job::{self, Job};
use threadwright::post::{self, Lead};
use threadwright::proof::{self, Before};
use threadwright::rs274::{Kind, Motion, run};
use threadwright::setup::{Dialect, Machine, Setup};
use threadwright::source::Source;
use threadwright::stock::Cells;
use threadwright::toolpath::{self, Choice};

/// The samples, by name.
pub(crate) const SAMPLES: [&str; 4] = ["nipping-press", "lying-press", "sewing-frame", "standing-press"];

/// The samples that cut a thread alone, and those that make a whole screw.
pub(crate) const ALL_SAMPLES: [&str; 5] =
    ["nipping-press", "lying-press", "sewing-frame", "standing-press", "finishing-press"];

/// The project's folder.
pub(crate) fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// A text file under its own name.
pub(crate) fn read(path: &Path) -> Arc<Source> {
    let text = fs::read_to_string(path).unwrap_or_else(|why| panic!("{}: {why}", path.display()));
    Source::new(path.file_name().expect("a file has a name").to_string_lossy(), text)
}

/// A job with its shop, its drawing and its program.
pub(crate) struct Made {
    pub(crate) job: Job,
    pub(crate) setup: Setup,
    pub(crate) drawing: Drawing,
    pub(crate) program: String,
}

/// Reads and makes a job by its path from the project's folder.
pub(crate) fn make(path: &str) -> Made {
    let path = root().join(path);
    let beside = path.parent().expect("a job lies in a folder");
    let (job, findings) = job::read(&read(&path), &mut |name| Ok(read(&beside.join(name))));
    let job = job.unwrap_or_else(|| panic!("{}: {findings:?}", path.display()));
    make_job(job)
}

/// Makes a job.
pub(crate) fn make_job(job: Job) -> Made {
    let (screw, findings) = design::screw(&job);
    let screw = screw.unwrap_or_else(|| panic!("{}: {findings:?}", job.title));
    let job = feeds::settle(job, &screw).job;
    let section_mm2 = feeds::section_mm2(&job, &screw);
    let (setup, drawing) =
        (Setup { section_mm2, ..design::setup(&job, &screw) }, design::drawing(&job, &screw));
    let (plan, findings) = toolpath::plan(&job, &screw);
    let plan = plan.unwrap_or_else(|| panic!("{}: {findings:?}", job.title));
    let program = post::program(&job, &screw, &plan);
    Made { job, setup, drawing, program }
}

/// Makes a sample.
pub(crate) fn sample(name: &str) -> Made {
    make(&format!("samples/{name}.toml"))
}

/// Writes every program of a job and proves each on what the ones before it leave, on cells of a size.
///
/// # Errors
/// The first step that is not proved, or raises more than a note, and what was said of it.
pub(crate) fn prove_steps(job: &Job, cells_mm: f64) -> Result<(), String> {
    let (screw, findings) = design::screw(job);
    let screw = screw.ok_or_else(|| told("no sizes", &findings))?;
    let job = &feeds::settle(job.clone(), &screw).job;
    let (mut steps, findings) = design::steps(job, &screw, false);
    if !findings.is_empty() {
        return Err(told("no steps", &findings));
    }
    for step in steps.iter_mut().filter(|step| step.has_thread()) {
        step.setup.section_mm2 = feeds::section_mm2(job, &screw);
    }
    let mut texts = Vec::new();
    for step in &steps {
        let (work, findings) = toolpath::work(job, &screw, step, &Choice::default());
        let work = work.ok_or_else(|| told("no moves", &findings))?;
        let lead = Lead { thread: step.has_thread(), ..Lead::default() };
        texts.push(Source::new(step.name(), post::step_program(job, &screw, &step.setup, &work, &lead)));
    }
    let mut before: Vec<Before<'_>> = Vec::new();
    for (step, text) in steps.iter().zip(&texts) {
        let cells = Some(Cells::square(cells_mm));
        let proof = proof::prove_after(&before, text, &step.setup, &step.drawing, cells);
        // Allowances that a text uses are noted; whole F numbers may run a little slow.
        let odd = |finding: &Finding| finding.severity > Severity::Note && finding.code.name != "feed-off";
        if !proof.proved() || proof.findings.iter().any(odd) {
            return Err(told(&step.name(), &proof.findings));
        }
        before.push(Before { program: text, setup: &step.setup });
    }
    Ok(())
}

fn told(what: &str, findings: &[Finding]) -> String {
    format!("{what}: {:?}", findings.first().map(|finding| (finding.code.name, &finding.message)))
}

/// What was found, but for the notes that a program uses what its machine file allows beyond the standard: there is
/// one of them for each habit, and none on a machine of the standard.
pub(crate) fn news<'a>(findings: &'a [Finding], machine: &Machine) -> Vec<&'a Finding> {
    let used: Vec<&Finding> = findings.iter().filter(|f| f.code == &program::DIALECT_USED).collect();
    let Dialect { semicolon_comments, long_line_numbers, program_name } = machine.dialect;
    let most = [semicolon_comments, long_line_numbers, program_name].into_iter().filter(|on| *on).count();
    assert!(used.len() <= most, "{used:?}");
    findings.iter().filter(|f| f.code != &program::DIALECT_USED).collect()
}

/// A small generator of numbers that are the same on every machine: xorshift64*.
/// Source: S. Vigna, An experimental exploration of Marsaglia's xorshift generators, scrambled (2016), from memory.
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    /// A whole number below `count`.
    pub(crate) fn below(&mut self, count: usize) -> usize {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        (self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 33) as usize % count
    }

    /// One of several.
    pub(crate) fn pick<'a, T>(&mut self, from: &'a [T]) -> &'a T {
        &from[self.below(from.len())]
    }

    /// A number between two.
    pub(crate) fn between(&mut self, least: f64, most: f64) -> f64 {
        least + (most - least) * self.below(1 << 20) as f64 / f64::from(1 << 20)
    }
}

/// A made program with its long turning moves chopped into so many short lines, about, as other programs are written; each
/// end but the last of a move is shifted in height by up to `shake_mm`, to and fro.
pub(crate) fn chopped(made: &Made, moves: usize, shake_mm: f64) -> String {
    let motions = run(&Source::new("whole.nc", made.program.as_str()), &proof::control(&made.setup)).motions;
    let turn = |motion: &Motion| (motion.to.a_deg - motion.from.a_deg).abs();
    let long: Vec<&Motion> =
        motions.iter().filter(|motion| motion.kind == Kind::Feed && 1.0 < turn(motion)).collect();
    let all: f64 = long.iter().map(|motion| turn(motion)).sum();
    let (mut text, mut kept) = (String::new(), 0);
    for motion in long {
        text.push_str(&made.program[kept..motion.span.start]);
        kept = motion.span.end;
        let parts = (moves as f64 * turn(motion) / all).ceil();
        let minutes = motion.minutes.expect("a feed move has its time") / parts;
        for part in 1..=parts as usize {
            let share = part as f64 / parts;
            let mix = |from: f64, to: f64| from + (to - from) * share;
            let (x, z) = (mix(motion.from.x_mm, motion.to.x_mm), mix(motion.from.z_mm, motion.to.z_mm));
            let shake = if part as f64 == parts { 0.0 } else { [shake_mm, -shake_mm][part % 2] };
            let a = mix(motion.from.a_deg, motion.to.a_deg);
            writeln!(text, "G1 X{x:.4} Z{:.4} A{a:.4} F{:.3}", z + shake, 1.0 / minutes)
                .expect("a string takes all");
        }
    }
    text + &made.program[kept..]
}
