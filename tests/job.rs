//! Jobs, machines and cutters as beginners write them: every file of `tests/jobs` is read, and what is said about it
//! is kept as a snapshot. Jobs that read well and cannot be made (`unmakeable`) are designed and planned too. Good
//! jobs and the samples give no reason to stop. Adding a case needs no Rust.

#[allow(dead_code, reason = "each test binary uses its own part of it")]
mod common;

use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use threadwright::design;
use threadwright::drawing::Hand;
use threadwright::feeds;
use threadwright::finding::{self, Finding, Severity};
use threadwright::job::{self, DepthAsked, Job, LIMITS, Passes, Starter};
use threadwright::setup::Tip;
use threadwright::source::{Mark, Source};
use threadwright::toolpath;
use threadwright::units::LengthUnit;

fn files(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let entries = fs::read_dir(&folder).expect("the folder of the cases is there");
    let mut files: Vec<PathBuf> = entries.map(|entry| entry.expect("a readable entry").path()).collect();
    files.retain(|path| path.extension().is_some_and(|end| end == "toml"));
    files.sort();
    assert!(!files.is_empty(), "no cases in {}", folder.display());
    files
}

/// The file's text under a name without folders.
fn open(path: &Path) -> Result<Arc<Source>, String> {
    let name = path.file_name().map_or(String::new(), |name| name.to_string_lossy().into_owned());
    match fs::read_to_string(path) {
        Ok(text) => Ok(Source::new(name, text)),
        Err(_) => Err(format!("{name} cannot be read: no such file")),
    }
}

fn stem(path: &Path) -> String {
    path.file_stem().map_or(String::new(), |stem| stem.to_string_lossy().into_owned())
}

fn read_job(path: &Path) -> (Option<Job>, Vec<Finding>) {
    let source = open(path).expect("a readable case");
    let folder = path.parent().expect("a case lies in a folder");
    job::read(&source, &mut |written| open(&folder.join(written)))
}

fn read_text(text: &str) -> (Option<Job>, Vec<Finding>) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/jobs");
    job::read(&Source::new("job.toml", text), &mut |written| open(&folder.join(written)))
}

/// What sizes and plan of a job that was read have to say.
fn make(job: &Job) -> Vec<Finding> {
    let (screw, mut findings) = design::screw(job);
    if let Some(screw) = screw {
        let settled = feeds::settle(job.clone(), &screw);
        findings.extend(settled.findings);
        let job = &settled.job;
        let (steps, more) = design::steps(job, &screw, false);
        findings.extend(more);
        for step in &steps {
            for finding in toolpath::work(job, &screw, step, &toolpath::Choice::default()).1 {
                if !findings.iter().any(|old| old.message == finding.message) {
                    findings.push(finding);
                }
            }
        }
    }
    findings
}

/// The findings, plainly.
fn plain(findings: &[Finding]) -> String {
    let place = |mark: &Mark| {
        let (line, column) = mark.line_column();
        format!("{}:{line}:{column} `{}`", mark.source.name(), mark.text().replace('\n', " "))
    };
    let mut text = String::new();
    for finding in findings {
        let weight = format!("{:?}", finding.severity).to_lowercase();
        let _ = writeln!(text, "{weight} [{}] {}", finding.code.name, finding.message);
        let _ = writeln!(text, "  at {}", finding.mark.as_ref().map_or("no place".to_owned(), place));
        for (mark, words) in &finding.also {
            let _ = writeln!(text, "  also {}: {words}", place(mark));
        }
        if let Some(help) = &finding.help {
            let _ = writeln!(text, "  help: {help}");
        }
    }
    text
}

/// Keeps a snapshot beside the cases: what the file is for, and what is said about it.
fn keep(folder: &str, path: &Path, findings: &[Finding]) {
    let slip = fs::read_to_string(path).expect("a readable case");
    let slip = slip.lines().next().unwrap_or("").to_owned();
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path("jobs/said");
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    settings.set_description(slip);
    settings.bind(|| insta::assert_snapshot!(format!("{folder}-{}", stem(path)), plain(findings)));
}

/// What `explain` shows of the codes of jobs and their files is what is said of a case here.
#[test]
fn examples_of_codes_are_cases() {
    let mut raised = Vec::new();
    let said = common::root().join("tests/jobs/said");
    let mut snapshots: Vec<PathBuf> = fs::read_dir(said)
        .expect("the folder is there")
        .map(|entry| entry.expect("a readable entry").path())
        .filter(|path| path.extension().is_some_and(|end| end == "snap"))
        .collect();
    snapshots.sort();
    for path in snapshots {
        let text = fs::read_to_string(&path).expect("a snapshot is text");
        let said = text.splitn(3, "---\n").nth(2).unwrap_or_default();
        for line in said.lines() {
            let first = line.split_once(" [").and_then(|(weight, rest)| {
                let (code, message) = rest.split_once("] ")?;
                ["stop", "care", "note"].contains(&weight).then_some((weight, code, message))
            });
            match (first, raised.last_mut()) {
                (Some((weight, code, message)), _) => {
                    raised.push((code.to_owned(), format!("{weight}[{code}]: {message}\n")));
                }
                (None, Some((_, block)))
                    if line.starts_with("  help: ")
                        || (line.starts_with("  at ") && line != "  at no place") =>
                {
                    let _ = writeln!(block, "{line}");
                }
                _ => {}
            }
        }
    }
    let rooms = [finding::job::ALL, finding::design::ALL, finding::fit::ALL, finding::nut::ALL];
    let of_jobs = |code: &str| rooms.iter().any(|room| room.iter().any(|one| one.name == code));
    common::examples::hold_texts(of_jobs, raised);
}

fn stops(findings: &[Finding]) -> bool {
    findings.iter().any(|finding| finding.severity == Severity::Stop)
}

#[test]
fn bad_jobs_are_told_what_is_wrong() {
    for path in files("tests/jobs/bad") {
        let (job, findings) = read_job(&path);
        assert!(!findings.is_empty(), "{}: nothing found", path.display());
        assert_eq!(
            job.is_none(),
            stops(&findings),
            "{}: a job exactly when nothing stops it",
            path.display()
        );
        all_have_a_place_and_a_way_out(&path, &findings);
        keep("bad", &path, &findings);
    }
}

fn all_have_a_place_and_a_way_out(path: &Path, findings: &[Finding]) {
    for finding in findings {
        assert!(finding.mark.is_some(), "{}: `{}` has no place", path.display(), finding.message);
        assert!(finding.help.is_some(), "{}: `{}` has no way out", path.display(), finding.message);
    }
}

#[test]
fn unmakeable_jobs_are_told_what_is_wrong() {
    for path in files("tests/jobs/unmakeable") {
        let (job, mut findings) = read_job(&path);
        let job = job.unwrap_or_else(|| panic!("{} is a bad job:\n{}", path.display(), plain(&findings)));
        let sizes_and_plan = make(&job);
        assert!(!sizes_and_plan.is_empty(), "{}: nothing found", path.display());
        findings.extend(sizes_and_plan);
        all_have_a_place_and_a_way_out(&path, &findings);
        keep("unmakeable", &path, &findings);
    }
}

#[test]
fn what_was_said_of_a_job_is_not_said_again_of_its_sizes() {
    let mut made = 0;
    for path in files("tests/jobs/bad") {
        if let Some(job) = read_job(&path).0 {
            let findings = make(&job);
            assert!(findings.is_empty(), "{}:\n{}", path.display(), plain(&findings));
            made += 1;
        }
    }
    assert!(made > 0, "no bad job is good enough to be made");
}

#[test]
fn bad_jigs_are_told_what_is_wrong() {
    for path in files("tests/jobs/jigs") {
        let (jig, _, findings) = job::read_jig(&open(&path).expect("a readable case"));
        assert_eq!(jig.is_none(), stops(&findings), "{}", path.display());
        assert!(!findings.is_empty(), "{}: nothing found", path.display());
        all_have_a_place_and_a_way_out(&path, &findings);
        keep("jig", &path, &findings);
    }
}

#[test]
fn bad_machines_and_cutters_are_told_what_is_wrong() {
    for path in files("tests/jobs/machines") {
        let (machine, _, findings) =
            job::read_machine(&open(&path).expect("a readable case"), LengthUnit::Mm);
        assert_eq!(machine.is_none(), stops(&findings), "{}", path.display());
        assert!(!findings.is_empty(), "{}: nothing found", path.display());
        keep("machine", &path, &findings);
    }
    for path in files("tests/jobs/cutters") {
        let (cutter, _, findings) = job::read_cutter(&open(&path).expect("a readable case"));
        assert_eq!(cutter.is_none(), stops(&findings), "{}", path.display());
        assert!(!findings.is_empty(), "{}: nothing found", path.display());
        keep("cutter", &path, &findings);
    }
}

#[test]
fn bad_cutters_for_nuts_are_told_what_is_wrong() {
    for path in files("tests/jobs/thread-mills") {
        let (cutter, _, findings) = job::read_thread_mill(&open(&path).expect("a readable case"));
        assert_eq!(cutter.is_none(), stops(&findings), "{}", path.display());
        all_have_a_place_and_a_way_out(&path, &findings);
        assert!(!findings.is_empty(), "{}: nothing found", path.display());
        keep("thread-mill", &path, &findings);
    }
    for path in files("samples/nut-cutters") {
        let (cutter, marks, findings) = job::read_thread_mill(&open(&path).expect("a sample"));
        assert!(cutter.is_some() && findings.is_empty(), "{}:\n{}", path.display(), plain(&findings));
        assert!(marks.get("thread_mill.tooth_diameter").is_some());
    }
}

/// What the nut of a job that was read has to say.
fn nutted(path: &Path) -> Vec<Finding> {
    let (job, findings) = read_job(path);
    let job = job.unwrap_or_else(|| panic!("{} is a bad job:\n{}", path.display(), plain(&findings)));
    let (screw, _) = design::screw(&job);
    design::nut(&job, &screw.expect("a screw that can be made")).1
}

#[test]
fn nuts_that_cannot_be_made_are_told_what_is_wrong() {
    let mut met = std::collections::BTreeSet::new();
    for path in files("tests/jobs/nuts") {
        let findings = nutted(&path);
        assert!(!findings.is_empty(), "{}: nothing found", path.display());
        all_have_a_place_and_a_way_out(&path, &findings);
        keep("nut", &path, &findings);
        met.extend(findings.iter().map(|finding| finding.code.name));
    }
    for code in threadwright::finding::nut::ALL {
        assert!(met.contains(code.name), "no nut raises {}", code.name);
    }
    for path in files("samples") {
        let findings = nutted(&path);
        assert!(findings.is_empty(), "{}:\n{}", path.display(), plain(&findings));
    }
}

#[test]
fn bad_files_of_woods_are_told_what_is_wrong() {
    for path in files("tests/jobs/woods") {
        let (woods, findings) = job::read_woods(&open(&path).expect("a readable case"));
        assert!(woods.is_empty() && stops(&findings), "{}", path.display());
        all_have_a_place_and_a_way_out(&path, &findings);
        keep("woods", &path, &findings);
    }
}

/// What a fit of a job that was read has to say.
fn fitted(path: &Path) -> Vec<Finding> {
    let (job, findings) = read_job(path);
    let job = job.unwrap_or_else(|| panic!("{} is a bad job:\n{}", path.display(), plain(&findings)));
    let (screw, _) = design::screw(&job);
    let (fit, more) = design::fit(&job, &screw.expect("a screw that can be made"));
    let missing = |finding: &Finding| ["key-missing", "movement-unknown"].contains(&finding.code.name);
    assert_eq!(
        fit.is_none(),
        more.iter().any(missing),
        "{}: a fit exactly when nothing lacks",
        path.display()
    );
    more
}

#[test]
fn unfit_jobs_are_told_what_is_wrong() {
    for path in files("tests/jobs/unfit") {
        let findings = fitted(&path);
        assert!(!findings.is_empty(), "{}: nothing found", path.display());
        all_have_a_place_and_a_way_out(&path, &findings);
        keep("unfit", &path, &findings);
    }
}

#[test]
fn every_code_of_a_fit_has_a_case() {
    let met: std::collections::BTreeSet<_> = files("tests/jobs/unfit")
        .iter()
        .flat_map(|path| fitted(path).into_iter().map(|finding| finding.code.name))
        .collect();
    for code in threadwright::finding::fit::ALL {
        assert!(met.contains(code.name), "no unfit job raises {}", code.name);
    }
}

#[test]
fn samples_fit() {
    for path in files("samples") {
        let findings = fitted(&path);
        assert!(findings.is_empty(), "{}:\n{}", path.display(), plain(&findings));
    }
}

#[test]
fn the_year_and_the_nut_are_read() {
    let year = |name: &str| good(name).season.expect("it has a season");
    let moist = year("season-by-moisture");
    assert_eq!((moist.dry.percent, moist.wet.percent), (7.0, 13.0));
    assert_eq!(moist.cutting.percent, 10.0, "half-way when it is not given");
    // 70 F and 30 % bring wood to 6.2 %, 70 F and 65 % to 12.0 % (USDA FPL-GTR-190 Table 4-2).
    let table_points = 0.10;
    for name in ["season-by-air", "season-in-fahrenheit"] {
        let air = year(name);
        assert!((air.dry.percent - 6.2).abs() < table_points, "{name}: {air:?}");
        assert!((air.wet.percent - 12.0).abs() < table_points, "{name}: {air:?}");
        assert_eq!(air.cutting.percent, 9.0);
    }
    let nut = good("season-by-air").nut.expect("it has a nut");
    assert_eq!((nut.wood.as_str(), nut.length_mm, nut.radial_clearance_mm), ("hornbeam", 60.0, Some(0.8)));
    let own = good("own-woods");
    let wood = own.species.expect("the wood is in the file");
    assert_eq!((wood.name.as_str(), wood.own), ("orchard pear", true));
    assert_eq!(own.nut.expect("it has a nut").species.map(|wood| wood.name), Some("plum".to_owned()));
}

#[test]
fn every_code_of_a_job_has_a_case() {
    let mut met = std::collections::BTreeSet::new();
    for path in files("tests/jobs/bad") {
        met.extend(read_job(&path).1.iter().map(|finding| finding.code.name));
    }
    for code in threadwright::finding::job::ALL {
        assert!(met.contains(code.name), "no bad job raises {}", code.name);
    }
}

#[test]
fn every_code_of_sizes_and_plan_has_a_case() {
    let mut met = std::collections::BTreeSet::new();
    for path in files("tests/jobs/unmakeable") {
        let job = read_job(&path).0.expect("an unmakeable job reads");
        met.extend(make(&job).iter().map(|finding| finding.code.name));
        // A job whose plan was never settled has no path.
        if let (Some(screw), _) = design::screw(&job) {
            met.extend(toolpath::plan(&job, &screw).1.iter().map(|finding| finding.code.name));
        }
    }
    for code in threadwright::finding::design::ALL {
        assert!(met.contains(code.name), "no unmakeable job raises {}", code.name);
    }
}

#[test]
fn good_jobs_and_samples_are_clean() {
    for path in files("tests/jobs/good").into_iter().chain(files("samples")) {
        let (job, findings) = read_job(&path);
        assert!(findings.is_empty(), "{}:\n{}", path.display(), plain(&findings));
        let job = job.expect("a clean job is there");
        let findings = make(&job);
        assert!(findings.is_empty(), "{}:\n{}", path.display(), plain(&findings));
        for key in ["screw.crest_diameter", "machine.a.top_speed", "cutter.included_angle"] {
            assert!(job.marks.get(key).is_some(), "{}: {key} has no mark", path.display());
        }
        let speeds = ["cutting.feed", "cutting.feeds", "cutting.plan"];
        assert!(speeds.iter().any(|key| job.marks.get(key).is_some()), "{}: no feed", path.display());
    }
}

#[test]
fn sample_machines_and_cutters_read_alone() {
    for path in files("samples/machines") {
        let (machine, marks, findings) = job::read_machine(&open(&path).expect("a sample"), LengthUnit::Inch);
        assert!(machine.is_some() && findings.is_empty(), "{}:\n{}", path.display(), plain(&findings));
        assert!(marks.get("machine.z.top").is_some());
    }
    for path in files("samples/cutters") {
        let (cutter, marks, findings) = job::read_cutter(&open(&path).expect("a sample"));
        assert!(cutter.is_some() && findings.is_empty(), "{}:\n{}", path.display(), plain(&findings));
        assert!(marks.get("cutter.cutting_diameter").is_some());
    }
    for path in files("samples/jigs") {
        let (jig, marks, findings) = job::read_jig(&open(&path).expect("a sample"));
        assert!(jig.is_some() && findings.is_empty(), "{}:\n{}", path.display(), plain(&findings));
        assert!(marks.get("jig.gears.1").is_some());
    }
}

#[test]
fn sample_machines_differ_in_everything() {
    let machines: Vec<_> = files("samples/machines")
        .iter()
        .filter_map(|path| job::read_machine(&open(path).expect("a sample"), LengthUnit::Mm).0)
        .collect();
    let differs = |what: &str, of: &dyn Fn(&threadwright::setup::Machine) -> String| {
        let first = of(&machines[0]);
        assert!(
            machines.iter().any(|machine| of(machine) != first),
            "all sample machines have the same {what}"
        );
    };
    differs("headstock end", &|m| format!("{:?}", m.headstock));
    differs("sense of A", &|m| format!("{:?}", m.a_plus));
    differs("zero of Z", &|m| format!("{:?}", m.z_zero));
    differs("feed convention", &|m| format!("{:?}", m.feed));
    differs("spindle control", &|m| format!("{:?}", m.spindle.control));
    differs("limit of A", &|m| format!("{}", m.a.limit_deg.is_some()));
    differs("unit", &|m| format!("{}", m.style.unit));
    differs("decimals", &|m| m.style.decimals.to_string());
    differs("line length", &|m| m.style.line_length.to_string());
    differs("comments", &|m| format!("{:?}", m.style.comments));
    differs("line numbers", &|m| format!("{:?}", m.style.line_numbers));
    differs("percent", &|m| m.style.percent.to_string());
    differs("end word", &|m| format!("{:?}", m.style.end));
    differs("dwell unit", &|m| format!("{:?}", m.style.dwell));
}

fn good(name: &str) -> Job {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/jobs/good/{name}.toml"));
    read_job(&path).0.expect("a good job reads")
}

#[test]
fn whatever_is_round_stays_exact() {
    assert_eq!(good("tpi").screw.pitch_mm, 25.4 / 2.5);
    assert_eq!(good("lead-nearly").screw.lead_mm, 25.4);
    assert_eq!(good("texts").screw.pitch_mm, 0.375 * 25.4);
    assert_eq!(good("inch").screw.crest_diameter_mm, 50.8);
}

#[test]
fn what_is_left_out_follows() {
    assert_eq!(good("lead-only").screw.pitch_mm, 10.0);
    assert_eq!(good("length-gives-head").screw.plain_head_mm, 80.0);
    assert_eq!(good("length-gives-thread").screw.thread_length_mm, 300.0);
    let depth = good("depth");
    assert_eq!(depth.screw.depth, DepthAsked::Depth { depth_mm: 6.0 });
    assert_eq!(depth.cutting.passes, Passes::Depths(vec![2.5, 4.0, 5.2, 6.0]));
    let inline = good("inline");
    assert_eq!(inline.cutter.tip, Tip::Ball { radius_mm: 25.4 / 16.0 });
    assert_eq!(inline.machine.a.top_deg_per_min, 7200.0);
    assert_eq!(inline.machine.a.accel_deg_per_s2, 360.0);
}

#[test]
fn marks_point_into_the_file_that_holds_the_key() {
    let job = good("plain");
    let mark =
        |key: &str| job.marks.get(key).map(|mark| (mark.source.name().to_owned(), mark.text().to_owned()));
    assert_eq!(mark("screw.pitch"), Some(("plain.toml".to_owned(), "10".to_owned())));
    assert_eq!(mark("machine.x.reach"), Some(("bench.toml".to_owned(), "700".to_owned())));
    assert_eq!(mark("cutter.tip_diameter"), Some(("v60.toml".to_owned(), "1".to_owned())));
}

#[test]
fn starters_read_back_clean() {
    let sizes = [(12.0, 3.0), (24.0, 6.0), (50.0, 10.0), (76.2, 12.7), (120.0, 25.0)];
    let shops = [(None, None), (Some("bench.toml"), Some("v60.toml"))];
    for (crest_diameter_mm, pitch_mm) in sizes {
        for (unit, hand) in [(LengthUnit::Mm, Hand::Right), (LengthUnit::Inch, Hand::Left)] {
            for (starts, (machine, cutter)) in [(1, shops[0]), (3, shops[0]), (2, shops[1])] {
                let answers = Starter {
                    unit,
                    hand,
                    crest_diameter_mm: Some(crest_diameter_mm),
                    pitch_mm: Some(pitch_mm),
                    starts,
                    title: "a \"quoted\" title".to_owned(),
                    machine: machine.map(str::to_owned),
                    cutter: cutter.map(str::to_owned),
                    ..Starter::default()
                };
                let text = job::starter(&answers);
                let (job, findings) = read_text(&text);
                assert!(findings.is_empty(), "{text}\n{}", plain(&findings));
                let job = job.expect("a clean job is there");
                assert_eq!(job.title, answers.title);
                assert_eq!((job.screw.starts, job.screw.hand), (starts, hand));
                assert!((job.screw.lead_mm - pitch_mm * f64::from(starts)).abs() < 0.01, "{text}");
            }
        }
    }
}

#[test]
fn the_starter_is_short_and_round_in_its_unit() {
    for (name, unit) in [("starter", LengthUnit::Mm), ("starter-inch", LengthUnit::Inch)] {
        let text = job::starter(&Starter { unit, ..Starter::default() });
        let (job, findings) = read_text(&text);
        assert!(job.is_some() && findings.is_empty(), "{text}\n{}", plain(&findings));
        insta::with_settings!({ snapshot_path => "jobs/said", prepend_module_to_snapshot => false, omit_expression => true }, {
            insta::assert_snapshot!(name, text);
        });
    }
}

#[test]
fn every_row_of_the_limits_is_a_key_that_is_checked() {
    for row in LIMITS {
        let (table, leaf) = row.key.rsplit_once('.').expect("a dotted key");
        let text = format!("[{table}]\n{leaf} = -7777777\n");
        let findings = if table == "wood" {
            job::read_woods(&Source::new("woods.toml", text)).1
        } else if table == "thread_mill" {
            job::read_thread_mill(&Source::new("tooth.toml", format!("{leaf} = -7777777\n"))).2
        } else {
            read_text(&format!("units = \"mm\"\n{text}")).1
        };
        let said = findings
            .iter()
            .find(|finding| finding.mark.as_ref().is_some_and(|mark| mark.text() == "-7777777"));
        let code = said.map_or("nothing", |finding| finding.code.name);
        assert!(matches!(code, "out-of-range" | "kind-wrong"), "{}: {code}", row.key);
    }
}

#[test]
fn no_text_makes_the_reader_panic() {
    let whole = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/jobs/good/inline.toml"))
        .expect("a case");
    for cut in (0..whole.len()).filter(|&at| whole.is_char_boundary(at)) {
        let (_, findings) = read_text(&whole[..cut]);
        assert!(cut + 20 > whole.len() || stops(&findings), "a job cut off at byte {cut} passes");
        let mut holed = whole.clone();
        holed.remove(cut);
        read_text(&holed);
        holed.insert(cut, '=');
        read_text(&holed);
    }
}

#[test]
fn no_text_makes_the_reader_of_woods_panic() {
    let whole = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/jobs/orchard.toml"))
        .expect("a case");
    assert!(job::read_woods(&Source::new("woods.toml", whole.as_str())).1.is_empty());
    for cut in (0..whole.len()).filter(|&at| whole.is_char_boundary(at)) {
        job::read_woods(&Source::new("woods.toml", &whole[..cut]));
        let mut holed = whole.clone();
        holed.remove(cut);
        job::read_woods(&Source::new("woods.toml", holed.as_str()));
        holed.insert(cut, '[');
        job::read_woods(&Source::new("woods.toml", holed.as_str()));
    }
}
