//! Pages of several programs, and of programs for which there is no screw.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

use serde_json::json;
use tempfile::TempDir;
use threadwright::stock::{self, Former};
use threadwright::{design, job};

use super::browser::{Browser, Solids};
use super::{SERIES, common, grid_of, run_of, show, shown_after, worst};

fn cut(folder: &Path, job: &str, name: &str) {
    let made = Command::new(env!("CARGO_BIN_EXE_threadwright"))
        .arg("cut")
        .arg(common::root().join(job))
        .args(["--quiet", "--out", name])
        .current_dir(folder)
        .status();
    assert!(made.expect("the tool can be started").success(), "{job}");
}

#[test]
fn every_program_of_a_job_is_shown_on_the_wood_that_the_former_ones_left() {
    let Some(mut browser) = Browser::start("a series of programs", Solids::Refused) else { return };
    let folder = TempDir::new().expect("a folder can be made");
    cut(folder.path(), SERIES, "f.nc");
    let path = common::root().join(SERIES);
    let beside = path.parent().expect("a job lies in a folder");
    let (job, _) = job::read(&common::read(&path), &mut |name| Ok(common::read(&beside.join(name))));
    let job = job.expect("the sample can be read");
    let (screw, _) = design::screw(&job);
    let (steps, _) = design::steps(&job, &screw.expect("the sample can be made"), false);
    let texts: Vec<String> = steps
        .iter()
        .enumerate()
        .map(|(i, step)| folder.path().join(format!("f-{}-{}.nc", i + 1, step.name())))
        .map(|path| fs::read_to_string(&path).unwrap_or_else(|why| panic!("{}: {why}", path.display())))
        .collect();
    browser.size(1440, 900);
    browser.open(&show(folder.path(), SERIES, None));
    let names = browser.ask("[...document.getElementById('program-which').options].map((o) => o.text)");
    let wanted: Vec<String> =
        steps.iter().enumerate().map(|(i, step)| format!("{}-{}", i + 1, step.name())).collect();
    assert_eq!(names, json!(wanted));
    let (grid, step) = grid_of(&mut browser);
    // Later programs first, so that wood also grows back over the borders of programs.
    for part in (0..texts.len()).rev() {
        for share in [1.0, 0.85] {
            let line = (texts[part].lines().count() as f64 * share) as usize;
            let runs: Vec<_> = (0..part).map(|i| run_of(&steps[i].setup, &texts[i], usize::MAX)).collect();
            let former: Vec<Former<'_>> = runs
                .iter()
                .zip(&steps)
                .map(|(run, step)| Former { motions: &run.motions, setup: &step.setup })
                .collect();
            let setup = &steps[part].setup;
            let run = run_of(setup, &texts[part], line);
            let wood =
                stock::carve(&former, &run.motions, setup, grid, |row| Some(row.radii_mm.to_vec())).rows;
            let off = worst(&wood, &shown_after(&mut browser, part, line, step));
            // Half a step of a radius, and what single precision adds.
            assert!(off <= step / 2.0 + 1e-4, "program {part} line {line}: the page is off by {off} mm");
            let which = browser.ask("document.getElementById('program-which').value");
            assert_eq!(which, json!(part.to_string()), "line {line}");
        }
    }
    // Choosing a program goes to its end, and figures and questions follow.
    let seen = browser.ask(
        "(() => { const which = document.getElementById('program-which'); which.value = 1; which.dispatchEvent(new Event('change')); inspection.cursor.flush();
          return [inspection.cursor.part, document.getElementById('figures-of').textContent, document.getElementById('whatif-of').textContent, document.getElementById('now').textContent]; })()",
    );
    assert_eq!(seen[0], json!(1));
    for words in [&seen[1], &seen[2], &seen[3]] {
        assert!(words.as_str().is_some_and(|words| words.contains("2-relief")), "{seen}");
    }
    assert_eq!(browser.complaints, Vec::<String>::new());
}

const BENCH: &str = "units = \"mm\"\nwood = \"beech\"\nmachine = \"MACHINE\"\ncutter = \"CUTTER\"\n\n[blank]\n\
    shape = \"round\"\nsize = 50\nlength = 445\nwaste_nose = 15\n";

/// A program of another maker, looked at with nothing but machine, cutter and blank.
#[test]
fn a_program_without_a_screw_is_shown_and_nothing_is_proved() {
    let folder = TempDir::new().expect("a folder can be made");
    let shop =
        |path: &str| common::root().join("samples").join(path).display().to_string().replace('\\', "/");
    let bench = BENCH
        .replace("MACHINE", &shop("machines/long-bench.toml"))
        .replace("CUTTER", &shop("cutters/v60-flat-1.toml"));
    fs::write(folder.path().join("bench.toml"), bench).expect("a file can be written");
    let show = |arguments: &[&str]| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_threadwright"));
        command.args(["show", "bench.toml"]).args(arguments).current_dir(folder.path());
        command.stdout(Stdio::piped()).output().expect("the tool can be started")
    };
    let alone = show(&[]);
    assert_eq!(alone.status.code(), Some(2), "{}", String::from_utf8_lossy(&alone.stderr));
    let program = common::root().join("tests/faults/good/nipping-press.nc").display().to_string();
    let made = show(&[&program, "--out", "page.html"]);
    let told = String::from_utf8_lossy(&made.stderr).into_owned();
    assert_eq!(made.status.code(), Some(0), "{told}");
    assert!(told.contains("nothing is proved"), "{told}");
    fs::write(folder.path().join("bench.toml"), "units = \"mm\"\n[blank]\nsize = 50\n").expect("written");
    let missing = show(&[&program, "--out", "none.html"]);
    assert_eq!(missing.status.code(), Some(3));
    let told = String::from_utf8_lossy(&missing.stderr).into_owned();
    for key in ["machine", "cutter", "shape", "length"] {
        assert!(told.contains(key), "{key} is not asked for: {told}");
    }
    assert!(!folder.path().join("none.html").exists());
    let Some(mut browser) = Browser::start("a program without a screw", Solids::Drawn) else { return };
    browser.size(1024, 700);
    browser.open(&folder.path().join("page.html"));
    let verdict = browser.ask("document.getElementById('verdict').textContent");
    assert_eq!(verdict, json!("cut shown, nothing proved"));
    let deepest = browser
        .ask("inspection.wood.radius.reduce((a, b) => Math.min(a, b)) * inspection.facts.grid.radiusStep");
    // The core of the nipping press's screw, whose program it is.
    let core = common::sample("nipping-press").drawing.root_diameter_mm / 2.0;
    assert!(deepest.as_f64().is_some_and(|radius| (radius - core).abs() < 0.01), "{deepest}, core {core}");
    assert_eq!(browser.complaints, Vec::<String>::new());
}
