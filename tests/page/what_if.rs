//! What-if on the page reckons as the crate does: the same numbers, written twice.

use serde_json::json;
use tempfile::TempDir;
use threadwright::pressure::{self, Running};
use threadwright::proof;
use threadwright::rs274;
use threadwright::setup::Edge;
use threadwright::source::Source;
use threadwright::stiffness::{self, Bar};
use threadwright::stock::Stand;

use super::browser::{Browser, Solids};
use super::{LARGEST, common, show};

/// Relative difference of what page and crate reckon: the same formulas on the same numbers, in another order at most.
const SAME: f64 = 1e-9;
/// Running time of a program written for another feed, against the page's guess, which knows nothing of acceleration.
const SAME_MINUTES: f64 = 0.02;

/// The blank as a bar, and the place at which a motion bends it most.
fn weakest(made: &common::Made, motion: usize) -> Option<(Bar, f64)> {
    let program = Source::new("made.nc", made.program.clone());
    let run = rs274::run(&program, &proof::control(&made.setup));
    let bar = stiffness::blank(&made.setup, made.drawing.root_diameter_mm)?;
    let chuck = made.setup.blank.chuck_face_s_mm;
    let at = |pose| chuck - Stand::of(pose, &made.setup).s_mm.clamp(made.setup.blank.from_s_mm, chuck);
    let motion = run.motions.get(motion)?;
    Some((bar, bar.weakest_mm(at(motion.from), at(motion.to))))
}

#[test]
fn what_if_reckons_as_the_crate_does() {
    let Some(mut browser) = Browser::start("what if", Solids::Refused) else { return };
    let folder = TempDir::new().expect("a folder can be made");
    browser.open(&show(folder.path(), LARGEST, None));
    let made = common::sample("standing-press");
    let prove = |made: &common::Made| {
        let program = Source::new("made.nc", made.program.clone());
        proof::prove(&program, &made.setup, &made.drawing, None)
    };
    let proof = prove(&made);
    let known: Vec<_> = proof.loads.iter().filter_map(|load| Some((load, load.reckoned?))).collect();
    let mut dice = common::Dice(20_261_125);
    let mut questions = Vec::new();
    let mut answers = Vec::new();
    for _ in 0..200 {
        let (load, reckoned) = *dice.pick(&known);
        let (rpm, times) = (dice.between(6000.0, 24_000.0), dice.between(0.2, 3.0));
        let edge = dice.below(3);
        let density = (dice.below(10) > 0).then(|| dice.between(350.0, 1200.0));
        questions.push(json!([load.motion, {"rpm": rpm, "times": times, "density": density, "edge": edge}]));
        let edge = [Edge::Sharp, Edge::Used, Edge::Dull][edge];
        let speed_mm_per_min = reckoned.running.speed_mm_per_min * times;
        let running = Running { rpm, edge, density_kg_m3: density, speed_mm_per_min, ..reckoned.running };
        let strain = pressure::strain(&reckoned.engagement, &running);
        let bar = weakest(&made, load.motion);
        let cutter = stiffness::cutter(&made.setup);
        let push = |of: fn(&pressure::Push) -> f64| strain.push.as_ref().map(of);
        answers.push([
            Some(strain.feed_per_edge_mm),
            Some(strain.chip_mm),
            Some(pressure::least_chip_mm(density, edge)),
            push(|push| push.pressure_n_mm2),
            push(|push| push.force_n),
            push(|push| push.side_n),
            push(|push| push.power_w),
            push(|push| push.side_n).map(|side| side * reckoned.arm_mm / 1000.0),
            push(|push| push.side_n).zip(bar).map(|(side, (bar, at))| bar.bend_mm(side, at)),
            push(|push| push.side_n).map(|side| cutter.bend_mm(side, cutter.length_mm)),
        ]);
    }
    let shown = browser.ask(&format!(
        "(() => {{ const {{ whatIf }} = inspection; return {}.map(([motion, answers]) => {{
           const s = whatIf.reckon(motion, answers);
           return [s.feed, s.chip, s.least, s.pressure, s.force, s.side, s.power, s.torque, s.bend, s.cutterBend].map((v) => v ?? null); }}); }})()",
        json!(questions)
    ));
    let mut wrong = Vec::new();
    for ((question, wanted), got) in questions.iter().zip(&answers).zip(shown.as_array().expect("answers")) {
        for (index, (wanted, got)) in wanted.iter().zip(got.as_array().expect("figures")).enumerate() {
            let same = match (wanted, got.as_f64()) {
                (Some(wanted), Some(got)) => (wanted - got).abs() <= SAME * wanted.abs(),
                (wanted, got) => wanted.is_none() && got.is_none(),
            };
            if !same {
                wrong.push(format!("{question}: figure {index} is {got}, not {wanted:?}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    // The time, against a program that was really written for that feed.
    for times in [0.6, 1.0, 1.4] {
        let mut job = made.job.clone();
        job.cutting.feed_mm_per_min *= times;
        let minutes = prove(&common::make_job(job)).measured.minutes.expect("it runs");
        let guess = browser.ask(&format!("inspection.whatIf.minutes({times})")).as_f64().expect("minutes");
        assert!((guess / minutes - 1.0).abs() < SAME_MINUTES, "{times}: {guess} min, written {minutes} min");
    }
    // The sliders by hand: the table follows and says what is passed.
    let table = browser.ask(
        "(() => { const f = document.getElementById('ask-feed'); f.value = 3; f.dispatchEvent(new Event('input'));
          document.getElementById('ask-rpm').value = 8000; document.getElementById('ask-rpm').dispatchEvent(new Event('input'));
          return document.getElementById('whatif-says').textContent; })()",
    );
    assert!(table.as_str().is_some_and(|text| text.contains("tears above")), "{table}");
    assert!(
        browser.ask("document.querySelectorAll('#whatif-says .sign').length").as_u64() > Some(0),
        "{table}"
    );
    assert_eq!(browser.complaints, Vec::<String>::new());
}
