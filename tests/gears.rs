//! Change gears as a maker meets them: the jig of the samples, boxes of forty gears, every way to fail, and the set-up
//! sheet with its proof.

#[allow(dead_code, reason = "each test binary uses its own part of it")]
mod common;

use std::time::Instant;

use common::{make, root, sample};
use threadwright::design;
use threadwright::drawing::{Drawing, Hand};
use threadwright::finding;
use threadwright::gears::fraction::meant;
use threadwright::gears::read_back::read_back;
use threadwright::gears::{self, Answer, Fraction, Wanted, faults};
use threadwright::job::{self, Jig, Job};
use threadwright::report::{gears as words, jig_sheet};
use threadwright::source::Source;

/// Four of each kind, as the command line lists them.
const LISTED: usize = 4;

/// The jig of the samples, and the nipping press.
fn bench() -> (Job, Jig, Drawing, Wanted) {
    let made = sample("nipping-press");
    let jig = made.job.jig.clone().expect("the sample names a jig");
    let screw = design::screw(&made.job).0.expect("the sample is a screw");
    let wanted = Wanted::of(&made.job, &screw);
    (made.job, jig, made.drawing, wanted)
}

fn codes(answer: &Answer, wanted: &Wanted, job: &Job) -> Vec<&'static str> {
    faults(answer, wanted, job.unit, &job.marks).iter().map(|finding| finding.code.name).collect()
}

/// Every train of an answer, written on a sheet, reads back as what was wanted.
fn sheets_read_back(job: &Job, jig: &Jig, drawing: &Drawing, wanted: &Wanted, answer: &Answer) -> usize {
    let mut read = 0;
    for (number, found) in words::numbered(answer) {
        let sheet = jig_sheet::text(job, jig, wanted, found, &[2.0, 4.0], "38 mm");
        let back = read_back(&sheet, jig, drawing, f64::INFINITY);
        let back = back.unwrap_or_else(|why| panic!("train {number}: {why:?}\n{sheet}"));
        assert_eq!(back.exact, found.is_exact(wanted), "train {number}\n{sheet}");
        let error = found.error_over_mm(wanted, wanted.thread_mm);
        assert!((back.error_mm - error).abs() < 1e-9, "{} against {error}\n{sheet}", back.error_mm);
        read += 1;
    }
    read
}

#[test]
fn the_sample_finds_exact_trains_and_says_that_it_looked_at_all() {
    let (job, jig, drawing, wanted) = bench();
    let answer = gears::answer(&jig, &wanted, usize::MAX);
    assert!(answer.exact && answer.kinds.iter().all(|kind| kind.exhaustive && kind.all_tried));
    assert!(codes(&answer, &wanted, &job).is_empty());
    let all: Vec<String> = words::numbered(&answer).map(|(_, found)| words::train(&found.train)).collect();
    assert!(all.contains(&"40 -> 10 + 20 -> 10".to_owned()), "{all:?}");
    assert_eq!(sheets_read_back(&job, &jig, &drawing, &wanted, &answer), all.len());
    for (_, found) in words::numbered(&answer) {
        assert_eq!(found.train.hand(jig.alike_cuts), Hand::Right);
        assert!(found.layout.spare_mm >= 0.0);
    }
}

#[test]
fn the_other_hand_takes_an_idler() {
    let (mut job, jig, mut drawing, mut wanted) = bench();
    (job.screw.hand, drawing.hand, wanted.hand) = (Hand::Left, Hand::Left, Hand::Left);
    let answer = gears::answer(&jig, &wanted, LISTED);
    let (_, found) = words::numbered(&answer).next().expect("a train for the left hand");
    assert_eq!((found.train.idlers.len(), found.train.meshes() % 2), (1, 1));
    assert!(sheets_read_back(&job, &jig, &drawing, &wanted, &answer) > 0);
}

/// Tooth counts of a box of forty gears, none twice, from a fixed dice.
fn forty(seed: u64) -> Vec<u32> {
    let mut dice = common::Dice(seed);
    let mut all: Vec<u32> = (12..=127).collect();
    let mut taken: Vec<u32> = (0..40).map(|_| all.swap_remove(dice.below(all.len()))).collect();
    taken.sort_unstable();
    taken
}

#[test]
fn forty_gears_are_looked_through_in_half_a_second() {
    /// The promise for a release build on one core; tests may run unoptimised and beside others.
    const PROMISED_S: f64 = 0.5;
    const UNDER_TEST: f64 = 10.0;
    let (mut job, mut jig, mut drawing, mut wanted) = bench();
    (jig.studs, jig.axes_apart_mm, jig.farthest_stud_mm) = (3, Some(220.0), None);
    job.screw.starts = 3;
    (drawing.starts, wanted.starts) = (3, 3);
    let mut read = 0;
    for seed in 1..=4 {
        jig.gears = forty(seed);
        for lead_mm in [20.0, 6.35, 42.0, 17.3] {
            (drawing.lead_mm, wanted.lead) = (lead_mm, meant(lead_mm).expect("a length"));
            let begun = Instant::now();
            let answer = gears::answer(&jig, &wanted, LISTED);
            let took = begun.elapsed().as_secs_f64();
            assert!(took < PROMISED_S * UNDER_TEST, "{lead_mm} mm from {:?} took {took} s", jig.gears);
            assert!(answer.kinds.iter().all(|kind| kind.exhaustive));
            read += sheets_read_back(&job, &jig, &drawing, &wanted, &answer);
        }
    }
    assert!(read > 40, "only {read} trains were found");
}

#[test]
fn near_trains_are_those_with_the_least_gears_that_the_fit_bears() {
    let (job, mut jig, _, mut wanted) = bench();
    jig.gears = vec![20, 21, 24, 30, 32, 40, 45, 47, 50, 55, 60];
    (jig.studs, jig.axes_apart_mm) = (3, None);
    // 6.35 on 2.5 wants 127/50: 47/37 is not in the box.
    (wanted.lead, wanted.thread_mm) = (Fraction::new(127, 20), 200.0);
    let answer = gears::answer(&jig, &wanted, LISTED);
    assert_eq!((answer.exact, answer.missing_prime), (false, Some(127)));
    assert_eq!(codes(&answer, &wanted, &job), ["lead-near"]);
    assert!(words::numbered(&answer).all(|(_, found)| wanted.bears(found)));
    // A fit that bears nothing leaves only what is too far off, with the nearest named.
    wanted.clearance_mm = 1e-6;
    let answer = gears::answer(&jig, &wanted, LISTED);
    assert_eq!(codes(&answer, &wanted, &job), ["lead-far"]);
    assert!(words::numbered(&answer).count() <= LISTED);
}

#[test]
fn a_new_gear_is_named_when_it_helps_and_none_when_it_does_not() {
    let (_, mut jig, _, mut wanted) = bench();
    (jig.gears, jig.axes_apart_mm) = (vec![20, 24, 30, 40, 50, 60], None);
    wanted.lead = Fraction::new(127, 20);
    let answer = gears::answer(&jig, &wanted, LISTED);
    let first = answer.purchases.first().expect("127 teeth make inches of millimetres");
    assert_eq!(first.teeth, 127);
    assert!(first.found.is_exact(&wanted));
    // With it in the box, nothing is left to wish for.
    jig.gears.push(127);
    let answer = gears::answer(&jig, &wanted, LISTED);
    assert!(answer.exact && answer.purchases.is_empty(), "{:?}", answer.purchases);
    // 11 x 13 on one side cannot be had with one gear beside these; two do it.
    (jig.gears, wanted.lead) = (vec![20, 30, 40], Fraction::new(5 * 101, 2 * 103));
    let answer = gears::answer(&jig, &wanted, LISTED);
    let ([one, other], found) = answer.purchase_pair.expect("a pair makes it exact");
    assert_eq!(([one, other], found.is_exact(&wanted)), ([101, 103], true));
}

#[test]
fn every_code_of_the_gears_has_a_case() {
    let (job, jig, drawing, wanted) = bench();
    let mut met = vec![gears::jig_missing(&job)];
    let mut say = |jig: &Jig, wanted: &Wanted, why: &str| {
        let answer = gears::answer(jig, wanted, LISTED);
        let said = faults(&answer, wanted, job.unit, &job.marks);
        met.extend(said.iter().cloned());
        assert!(said.iter().all(|finding| finding.help.is_some() && finding.mark.is_some()), "{said:?}");
        assert!(said.iter().any(|finding| finding.message.contains(why)), "{why}: {said:?}");
    };
    let few = |gears: &[u32]| Jig { gears: gears.to_vec(), ..jig.clone() };
    say(&few(&[20, 40]), &Wanted { lead: Fraction::from_integer(5), ..wanted }, "leave none for the idler");
    say(&Jig { studs: 0, ..few(&[20, 40, 50]) }, &wanted, "more studs than the jig has");
    say(&Jig { axes_apart_mm: Some(700.0), ..jig.clone() }, &wanted, "find no place");
    let thick = Jig { shaft_diameter_mm: Some(80.0), studs: 1, ..few(&[10, 12, 14, 16]) };
    say(&thick, &wanted, "find no place");
    say(&jig, &Wanted { lead: Fraction::new(127, 20), ..wanted }, "more than");
    let near = Wanted { lead: Fraction::new(127, 20), clearance_mm: 5.0, ..wanted };
    say(&jig, &near, "within");
    let answer = gears::answer(&jig, &wanted, LISTED);
    let (_, found) = words::numbered(&answer).next().expect("a train");
    let sheet = jig_sheet::text(&job, &jig, &wanted, found, &[6.0], "38 mm");
    assert!(read_back(&sheet, &jig, &Drawing { lead_mm: 21.0, ..drawing }, 0.1).is_err());
    common::examples::hold(|_| true, &met);
    for code in finding::gears::ALL {
        // A sheet that was written wrong is shown by the run that writes one.
        let met = met.iter().any(|finding| finding.code == *code) || *code == &finding::gears::SHEET_WRONG;
        assert!(met, "nothing raises {}", code.name);
    }
}

/// The proof of a sheet looks at what is written, not at what was meant: one slip of the pen each.
#[test]
fn a_sheet_altered_by_one_figure_is_not_proved() {
    let (job, jig, drawing, wanted) = bench();
    let answer = gears::answer(&jig, &wanted, usize::MAX);
    let plain = |found: &gears::Found| words::train(&found.train) == "40 -> 10 + 20 -> 10";
    let found =
        words::numbered(&answer).map(|(_, found)| found).find(|found| plain(found)).expect("it is there");
    let sheet = jig_sheet::text(&job, &jig, &wanted, found, &[2.0, 6.0], "38 mm");
    let read = read_back(&sheet, &jig, &drawing, 0.1).expect("the sheet is right");
    assert_eq!((read.lead_mm, read.exact, read.hand), (20.0, true, Hand::Right));
    assert_eq!(read.sum, "2.5 mm x 40/10 x 20/10");
    let slips = [
        ("blank         40", "blank         36", "cut a lead of 18"),
        ("10 + 20", "20 + 10", "cut a lead of 5"),
        ("10 + 20", "10 + 32", "cut a lead of 32"),
        ("10 + 20", "11 + 22", "the box holds 0"),
        ("  lead screw    10", "  stud 2        24\n  lead screw    10", "left-hand"),
        ("2.5 mm a turn", "8 threads per inch", "cut a lead of 25.4"),
        ("2.5 mm a turn", "two and a half", "cannot be read back"),
        ("blank         40", "blank         forty", "cannot be read back"),
        ("20 teeth of its 40", "15 teeth of its 40", "3/4 of a turn"),
        ("12 marks of its 24", "6 marks of its 12", "no 12 marks"),
        ("lead screw 4 times", "lead screw 2 times", "not the lead"),
        ("turn the lead screw 4", "spin the lead screw 4", "cannot be read back: spin"),
    ];
    for (from, to, why) in slips {
        let slipped = sheet.replacen(from, to, 1);
        assert_ne!(slipped, sheet, "{from} is not on the sheet:\n{sheet}");
        let said = read_back(&slipped, &jig, &drawing, 0.1).expect_err("a slip must be found").join("; ");
        assert!(said.contains(why), "{from} -> {to}: {said}");
    }
    // And nothing that anybody writes makes it panic.
    for cut in 0..sheet.len() {
        let _ = read_back(&sheet[..cut], &jig, &drawing, 0.1);
        let mut holed = sheet.clone();
        holed.remove(cut);
        let _ = read_back(&holed, &jig, &drawing, 0.1);
        holed.insert(cut, '9');
        holed.insert(cut, '9');
        let _ = read_back(&holed, &jig, &drawing, 0.1);
    }
}

#[test]
fn every_way_to_the_next_start_reads_back() {
    let (mut job, jig, mut drawing, mut wanted) = bench();
    // 7 and 11 starts divide no gear of the box: the strip of paper, or the lead screw.
    for (starts, lead_mm) in [(2, 20.0), (3, 30.0), (4, 40.0), (5, 20.0), (7, 21.0), (11, 20.0), (12, 36.0)] {
        job.screw.starts = starts;
        (drawing.starts, wanted.starts) = (starts, starts);
        (drawing.lead_mm, wanted.lead) = (lead_mm, meant(lead_mm).expect("a length"));
        for marks in [None, Some(24)] {
            let jig = Jig { index_marks: marks, studs: 3, ..jig.clone() };
            let answer = gears::answer(&jig, &wanted, LISTED);
            assert!(sheets_read_back(&job, &jig, &drawing, &wanted, &answer) > 0, "{starts} starts");
        }
    }
}

#[test]
fn a_job_for_the_jig_alone_needs_no_machine() {
    let path = root().join("tests/jobs/by-hand/no-machine.toml");
    let text = common::read(&path);
    let beside = path.parent().expect("a case lies in a folder").to_path_buf();
    let mut load = |name: &str| Ok(common::read(&beside.join(name)));
    let (by_hand, findings) = job::read_by_hand(&text, &mut load);
    assert!(by_hand.is_some_and(|job| job.jig.is_some()) && findings.is_empty(), "{findings:?}");
    let (none, findings) = job::read(&text, &mut load);
    let codes: Vec<_> = findings.iter().map(|finding| finding.message.as_str()).collect();
    assert!(none.is_none());
    assert_eq!(codes, ["`machine` is missing", "`feed` is missing in [cutting]"]);
    // A machine that is named must be there and whole, by hand or not.
    let named = Source::new("x.toml", text.text().replace("cutter =", "machine = 7\ncutter ="));
    assert!(job::read_by_hand(&named, &mut load).0.is_none());
    assert!(make("tests/jobs/good/jig-inline.toml").job.jig.is_some());
}

fn run(arguments: &[&str]) -> (i32, String, String) {
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_threadwright"))
        .args(arguments)
        .output()
        .expect("it starts");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
    (output.status.code().expect("it ends by itself"), text(output.stdout), text(output.stderr))
}

#[test]
fn the_verb_tells_in_words_and_in_one_document() {
    let job = root().join("samples/nipping-press.toml").display().to_string();
    let (code, out, err) = run(&["gears", &job]);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("50 -> 10 + 32 -> 20") && out.contains("--all lists more"), "{out}");
    let (code, out, err) = run(&["gears", "--json", &job]);
    let document: serde_json::Value = serde_json::from_str(&out).expect("one document");
    assert_eq!((code, err.as_str()), (0, ""));
    assert_eq!((document["schema"].as_i64(), document["verb"].as_str()), (Some(1), Some("gears")));
    assert_eq!(document["gears"]["turns_of_lead_screw_exactly"], "8");
    assert_eq!(document["gears"]["trains"][0]["exact"], true);
    let no_jig = root().join("samples/sewing-frame.toml").display().to_string();
    let (code, _, err) = run(&["gears", &no_jig]);
    assert!(code == 3 && err.contains("stop[jig-missing]"), "{code}: {err}");
    let (code, out, _) = run(&["gears", "--json", "nowhere.toml"]);
    assert!(code == 3 && out.contains("\"verb\": \"gears\""), "{code}: {out}");
}

#[test]
fn the_sheet_is_written_whole_kept_and_refused_when_it_is_wrong() {
    let folder = tempfile::TempDir::new().expect("a folder can be made");
    let sheet = folder.path().join("sheet.txt").display().to_string();
    let job = root().join("samples/nipping-press.toml").display().to_string();
    let (code, out, err) = run(&["gears", &job, "--sheet", &sheet]);
    assert!(code == 0 && out.is_empty() && err.contains("wrote"), "{code} {out} {err}");
    let text = std::fs::read_to_string(&sheet).expect("it is there");
    assert!(text.contains("\nPROOF\n") && text.lines().all(|line| line.len() <= 78), "{text}");
    let (code, _, err) = run(&["gears", &job, "--sheet", &sheet, "--train", "2"]);
    assert!(code == 2 && err.contains("--replace"), "{code} {err}");
    assert_eq!(std::fs::read_to_string(&sheet).expect("it is still there"), text);
    assert_eq!(run(&["gears", &job, "--sheet", &sheet, "--train", "2", "--replace"]).0, 0);
    assert_eq!(run(&["gears", &job, "--sheet", "-", "--train", "99"]).0, 2, "no such train");
    assert_eq!(run(&["gears", &job, "--train", "2"]).0, 2, "a train is chosen for a sheet");
    assert_eq!(run(&["gears", &job, "--sheet", &job, "--replace"]).0, 2, "not over the job");
    // A lead that no gears of the box come near: nothing to write by itself, and proved wrong when insisted on.
    let far = folder.path().join("far.toml");
    let text = std::fs::read_to_string(&job).expect("the sample");
    let samples = root().join("samples");
    let text = text.replace("pitch = 10 ", "pitch = 8.573 ").replace("lead = 20 ", "# ");
    let text = text.replace("\"machines/", &format!("\"{}/machines/", samples.display()));
    let text = text.replace("\"cutters/", &format!("\"{}/cutters/", samples.display()));
    let text = text.replace("\"jigs/", &format!("\"{}/jigs/", samples.display()));
    let text = text.replace("\"nut-cutters/", &format!("\"{}/nut-cutters/", samples.display()));
    let text = text.replace("length = 70", "length = 70\nflank_clearance = 0.02\nradial_clearance = 1");
    std::fs::write(&far, text).expect("it can be written");
    let far = far.display().to_string();
    let none = folder.path().join("none.txt").display().to_string();
    let (code, _, err) = run(&["gears", &far, "--sheet", &none]);
    assert!(code == 3 && err.contains("stop[lead-far]") && !err.contains("sheet-wrong"), "{code} {err}");
    let (code, _, err) = run(&["gears", &far, "--sheet", &none, "--train", "1"]);
    assert!(code == 1 && err.contains("stop[sheet-wrong]"), "{code} {err}");
    let said = err.lines().filter(|line| line.starts_with("stop[sheet-wrong]") || line.contains("= help: "));
    let said: Vec<String> =
        said.map(|line| line.replace(" = help: ", " help: ").replace("     ", "  ")).collect();
    let example = format!("{}\n", said.join("\n"));
    common::examples::hold_texts(|_| true, [("sheet-wrong".to_owned(), example)]);
    assert!(!std::path::Path::new(&none).exists());
}

#[test]
fn the_text_reads_as_it_should() {
    let (job, jig, _, wanted) = bench();
    let answer = gears::answer(&jig, &wanted, LISTED);
    let (_, found) = words::numbered(&answer).next().expect("a train");
    let sheet = jig_sheet::text(&job, &jig, &wanted, found, &[2.6, 4.0, 5.1, 6.0], "37.98 mm");
    let far = Wanted { lead: Fraction::new(127, 20), clearance_mm: 0.1, ..wanted };
    insta::with_settings!({ snapshot_path => "said", prepend_module_to_snapshot => false, omit_expression => true }, {
        insta::assert_snapshot!("gears", words::text(&job, &jig, &wanted, &answer, true));
        insta::assert_snapshot!("gears-sheet", sheet);
        let near = gears::answer(&jig, &far, LISTED);
        insta::assert_snapshot!("gears-far", words::text(&job, &jig, &far, &near, false));
    });
}
