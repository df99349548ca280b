//! The tool as people and scripts meet it: files, exit codes, streams, JSON.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use serde_json::Value;
use tempfile::TempDir;

#[path = "cli/habits.rs"]
mod habits;
#[path = "cli/readme.rs"]
mod readme;
#[path = "cli/new.rs"]
mod new;
#[path = "cli/feeds.rs"]
mod feeds;
#[path = "cli/nut.rs"]
mod nut;
#[path = "cli/whole_screw.rs"]
mod whole_screw;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn sample(name: &str) -> String {
    root().join("samples").join(name).display().to_string()
}

fn fault(name: &str) -> String {
    root().join("tests/faults").join(name).display().to_string()
}

/// Runs the tool in a folder of its own.
fn run_in(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_threadwright"))
        .args(arguments)
        .current_dir(folder)
        .stdin(Stdio::null())
        .output()
        .expect("the tool can be started")
}

fn run(arguments: &[&str]) -> Output {
    let folder = TempDir::new().expect("a folder can be made");
    run_in(folder.path(), arguments)
}

fn code(output: &Output) -> i32 {
    output.status.code().expect("the tool ends by itself")
}

fn stdout(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("output is text")
}

fn stderr(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("messages are text")
}

fn json(output: &Output) -> Value {
    serde_json::from_slice(&output.stdout)
        .unwrap_or_else(|why| panic!("{why}: {:?} {:?}", stdout(output), stderr(output)))
}

#[test]
fn every_sample_cuts_and_proves_clean() {
    for name in ["nipping-press", "lying-press", "sewing-frame", "standing-press", "backing-press"] {
        let folder = TempDir::new().expect("a folder can be made");
        let job = sample(&format!("{name}.toml"));
        let cut = run_in(folder.path(), &["cut", &job]);
        assert_eq!(code(&cut), 0, "{name}: {}", stderr(&cut));
        // F over millimetres and degrees together is worth a note.
        let count = if name == "sewing-frame" { "proved (1 note," } else { "proved (no findings," };
        assert!(stderr(&cut).contains(count), "{}", stderr(&cut));
        let program = folder.path().join(format!("{name}.nc"));
        let prove = run_in(folder.path(), &["prove", &job, &program.display().to_string()]);
        assert_eq!(code(&prove), 0, "{name}: {}", stderr(&prove));
    }
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    let job = sample("nipping-press.toml");
    let first = run(&["cut", &job, "--out", "-"]);
    let second = run(&["cut", &job, "--out", "-"]);
    assert_eq!(code(&first), 0, "{}", stderr(&first));
    assert!(stdout(&first).contains("G93"), "standard output holds the program");
    assert_eq!(first.stdout, second.stdout);
}

#[test]
fn an_existing_file_is_kept_unless_it_is_to_be_replaced() {
    let folder = TempDir::new().expect("a folder can be made");
    let program = folder.path().join("mine.nc");
    fs::write(&program, "(my own program)\n").expect("the file can be written");
    let job = sample("sewing-frame.toml");
    let refused = run_in(folder.path(), &["cut", &job, "--out", "mine.nc"]);
    assert_eq!(code(&refused), 2, "{}", stderr(&refused));
    assert!(stderr(&refused).contains("--replace"), "{}", stderr(&refused));
    assert_eq!(fs::read_to_string(&program).expect("it is still there"), "(my own program)\n");
    let replaced = run_in(folder.path(), &["cut", &job, "--out", "mine.nc", "--replace"]);
    assert_eq!(code(&replaced), 0, "{}", stderr(&replaced));
    let again = run_in(folder.path(), &["cut", &job, "--out", "mine.nc"]);
    assert_eq!(code(&again), 0, "the same bytes are no conflict");
    assert!(stderr(&again).contains("up to date"), "{}", stderr(&again));
    let left: Vec<_> = fs::read_dir(folder.path()).expect("the folder can be listed").collect();
    assert_eq!(left.len(), 1, "no temporary file is left: {left:?}");
}

#[test]
fn no_file_that_was_read_and_no_device_is_written_over() {
    let folder = TempDir::new().expect("a folder can be made");
    run_in(folder.path(), &["new", "press.v2.toml"]);
    let job = fs::read(folder.path().join("press.v2.toml")).expect("the job is there");
    for target in ["press.v2.toml", "./press.v2.toml"] {
        let refused = run_in(folder.path(), &["cut", "press.v2.toml", "--replace", "--out", target]);
        assert_eq!(code(&refused), 2, "{}", stderr(&refused));
    }
    assert_eq!(fs::read(folder.path().join("press.v2.toml")).expect("it is still there"), job);
    let device = run_in(folder.path(), &["cut", "press.v2.toml", "--replace", "--out", "/dev/null"]);
    assert_eq!(code(&device), 2, "{}", stderr(&device));
    let link = folder.path().join("link.nc");
    fs::write(folder.path().join("target.nc"), "(old)\n").expect("the target can be written");
    std::os::unix::fs::symlink("target.nc", &link).expect("a link can be made");
    let linked = run_in(folder.path(), &["cut", "press.v2.toml", "--replace", "--out", "link.nc"]);
    assert_eq!(code(&linked), 0, "{}", stderr(&linked));
    assert!(link.is_symlink(), "the link is followed, not replaced");
    let cut = run_in(folder.path(), &["cut", "press.v2.toml"]);
    assert_eq!(code(&cut), 0, "{}", stderr(&cut));
    assert!(folder.path().join("press.v2.nc").exists(), "versions keep their names apart");
}

#[test]
fn a_wrong_program_is_told_by_the_exit_code_and_the_line() {
    let proof = run(&["prove", &sample("nipping-press.toml"), &fault("rapid-through-wood.nc")]);
    assert_eq!(code(&proof), 1);
    let said = stderr(&proof);
    let text = fs::read_to_string(fault("rapid-through-wood.nc")).expect("the program can be read");
    let line = 1 + text.lines().position(|line| line == "G0 Z24.0").expect("the altered line is there");
    let place = format!("rapid-through-wood.nc:{line}:1");
    assert!(said.contains("stop[rapid-in-wood]") && said.contains(&place), "{said}");
    assert!(said.contains("NOT PROVED"), "{said}");
}

#[test]
fn a_program_can_come_from_standard_input() {
    let text = fs::read(fault("good/nipping-press.nc")).expect("the program can be read");
    let mut child = Command::new(env!("CARGO_BIN_EXE_threadwright"))
        .args(["prove", &sample("nipping-press.toml"), "-", "--quiet"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the tool can be started");
    child.stdin.take().expect("it has an input").write_all(&text).expect("it reads its input");
    let output = child.wait_with_output().expect("it ends");
    assert_eq!(code(&output), 0, "{}", stderr(&output));
    assert!(output.stdout.is_empty() && output.stderr.is_empty(), "--quiet says nothing when all is well");
}

#[test]
fn exit_codes_tell_usage_from_input_from_system() {
    assert_eq!(code(&run(&[])), 2, "a bare call shows the help");
    assert_eq!(code(&run(&["size"])), 2, "no job");
    assert_eq!(code(&run(&["whittle", "x"])), 2, "no such verb");
    assert_eq!(code(&run(&["cut", &sample("nipping-press.toml"), "--fine", "7"])), 2, "out of range");
    assert_eq!(code(&run(&["size", "nowhere.toml"])), 3, "no such job");
    assert_eq!(code(&run(&["size", "."])), 3, "a folder is no job");
    assert_eq!(code(&run(&["prove", &sample("nipping-press.toml"), "nowhere.nc"])), 3, "no such program");
    let job = root().join("tests/jobs/bad/lead-off.toml");
    let other = root().join("tests/jobs/bad/decimal-comma.toml");
    let bad = if job.exists() { job } else { other };
    assert_eq!(code(&run(&["size", &bad.display().to_string()])), 3, "a job that does not check");
    let nowhere = run(&["cut", &sample("sewing-frame.toml"), "--out", "no/such/folder/x.nc"]);
    assert_eq!(code(&nowhere), 2, "a folder that is not there: {}", stderr(&nowhere));
    let full = Command::new(env!("CARGO_BIN_EXE_threadwright"))
        .args(["size", &sample("sewing-frame.toml")])
        .stdout(fs::File::create("/dev/full").expect("the full device is there"))
        .output()
        .expect("the tool can be started");
    assert_eq!(code(&full), 4, "a disk that is full: {}", stderr(&full));
    let swapped = run(&["prove", &fault("good/sewing-frame.nc"), &sample("sewing-frame.toml")]);
    assert_eq!(code(&swapped), 2, "{}", stderr(&swapped));
    assert!(stderr(&swapped).contains("the job file comes first"), "{}", stderr(&swapped));
    let job_as_program = run(&["prove", &sample("sewing-frame.toml"), &sample("sewing-frame.toml")]);
    assert_eq!(code(&job_as_program), 2, "{}", stderr(&job_as_program));
}

#[test]
fn a_file_that_is_no_text_is_told_so() {
    let folder = TempDir::new().expect("a folder can be made");
    fs::write(folder.path().join("x.toml"), [0x66, 0xff, 0x00]).expect("the file can be written");
    let output = run_in(folder.path(), &["size", "x.toml"]);
    assert_eq!(code(&output), 3);
    assert!(stderr(&output).contains("x.toml is not a text file: line 1"), "{}", stderr(&output));
}

#[test]
fn json_is_one_document_with_the_promised_names() {
    let proof = json(&run(&["prove", "--json", &sample("lying-press.toml"), &fault("good/lying-press.nc")]));
    assert_eq!(proof["schema"], 1);
    assert_eq!(proof["verb"], "prove");
    assert_eq!(proof["proved"], true);
    for name in [
        "starts",
        "hand",
        "lead_mm",
        "lead_error_max_mm",
        "index_error_max_deg",
        "root_diameter_mm",
        "crest_diameter_mm",
        "crest_flat_mm",
        "thread_length_mm",
        "form_error_max_mm",
        "rapid_clearance_min_mm",
        "removed_mm3",
        "minutes",
        "a_rate_max_rpm",
        "x_rate_max_mm_per_min",
    ] {
        assert!(!proof["measured"][name].is_null(), "{name} is not measured");
    }
    assert_eq!(proof["measured"]["hand"], "right");
    assert!((proof["measured"]["lead_mm"].as_f64().expect("a number") - 6.35).abs() < 1e-3);
    let findings = proof["findings"].as_array().expect("a list");
    assert!(findings.iter().all(|finding| finding["code"] == "dialect-used"), "{findings:?}");
}

#[test]
fn json_holds_the_findings_of_a_wrong_program() {
    let output = run(&["prove", "--json", &sample("nipping-press.toml"), &fault("pass-too-deep.nc")]);
    assert_eq!(code(&output), 1);
    let document = json(&output);
    assert_eq!(document["proved"], false);
    let finding = &document["findings"][0];
    assert_eq!(finding["code"], "depth-off");
    assert_eq!(finding["severity"], "stop");
    for name in ["file", "line", "column", "message", "help", "value", "wanted"] {
        assert!(!finding[name].is_null(), "{name} is missing in {finding}");
    }
    assert!(output.stderr.is_empty(), "with --json nothing else is said: {}", stderr(&output));
}

#[test]
fn json_is_one_document_on_failure_too() {
    for arguments in [
        &["size", "--json", "nowhere.toml"][..],
        &["cut", "--json", "nowhere.toml"],
        &["prove", "--json", "nowhere.toml", "x.nc"],
    ] {
        let output = run(arguments);
        assert_eq!(code(&output), 3);
        assert!(json(&output)["error"].as_str().is_some_and(|words| words.contains("nowhere.toml")));
    }
}

#[test]
fn a_starter_job_proves_clean_in_both_units() {
    for units in ["mm", "inch"] {
        let folder = TempDir::new().expect("a folder can be made");
        let new = run_in(folder.path(), &["new", "bench.toml", "--units", units]);
        assert_eq!(code(&new), 0, "{}", stderr(&new));
        let cut = run_in(folder.path(), &["cut", "bench.toml"]);
        assert_eq!(code(&cut), 0, "{units}: {}", stderr(&cut));
        assert!(folder.path().join("bench.nc").exists());
    }
}

/// A blank that is still an octagon: the thread program leaves its corners standing, so it is not proved.
#[test]
fn a_program_that_fails_its_proof_is_written_only_on_demand_and_says_so() {
    let folder = TempDir::new().expect("a folder can be made");
    run_in(folder.path(), &["new", "octagon.toml"]);
    let job = folder.path().join("octagon.toml");
    let text = fs::read_to_string(&job).expect("the starter job is there");
    fs::write(&job, text.replace("\"round\"\nsize = 50", "\"octagon\"\nsize = 52"))
        .expect("it can be changed");
    let refused = run_in(folder.path(), &["cut", "octagon.toml"]);
    assert_eq!(code(&refused), 1, "{}", stderr(&refused));
    assert!(stderr(&refused).contains("blank-unturned"), "{}", stderr(&refused));
    assert!(!folder.path().join("octagon.nc").exists(), "nothing is written");
    let insisted = run_in(folder.path(), &["cut", "octagon.toml", "--insist"]);
    assert_eq!(code(&insisted), 1);
    let program = fs::read_to_string(folder.path().join("octagon.nc")).expect("it is written on demand");
    assert!(program.starts_with("(NOT PROVED"), "{program}");
}

#[test]
fn a_fit_is_told_in_words_and_by_the_exit_code() {
    let unfit = |name: &str| root().join("tests/jobs/unfit").join(name).display().to_string();
    let free = run(&["fit", &sample("nipping-press.toml")]);
    assert_eq!(code(&free), 0, "{}", stderr(&free));
    assert!(stdout(&free).contains("stays free: at worst"), "{}", stdout(&free));
    let tight = run(&["fit", &unfit("tight.toml")]);
    assert_eq!(code(&tight), 0, "{}", stderr(&tight));
    assert!(stderr(&tight).contains("care[fit-tight]"), "{}", stderr(&tight));
    let binds = run(&["fit", &unfit("binds.toml")]);
    assert_eq!(code(&binds), 1, "{}", stderr(&binds));
    assert!(stdout(&binds).contains("binds: at worst"), "{}", stdout(&binds));
    for name in ["nothing.toml", "wood-not-measured.toml"] {
        let none = run(&["fit", &unfit(name)]);
        assert_eq!(code(&none), 3, "{name}: {}", stderr(&none));
        assert!(none.stdout.is_empty());
    }
    let flat = |output: &Output| stdout(output).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat(&free).contains("1 to 4 points apart (a Swedish trade guide)"), "{}", stdout(&free));
    assert!(!flat(&free).contains("assumed"), "{}", stdout(&free));
    let folder = TempDir::new().expect("a folder can be made");
    assert_eq!(code(&run_in(folder.path(), &["new", "job.toml"])), 0);
    let job = fs::read_to_string(folder.path().join("job.toml")).expect("it was written");
    fs::write(folder.path().join("job.toml"), job.replace("cutting_moisture", "# cutting_moisture"))
        .expect("a job");
    let assumed = run_in(folder.path(), &["fit", "job.toml"]);
    let words = "cut at 9.5 % (assumed, half-way between dry and wet: name cutting_moisture)";
    assert!(flat(&assumed).contains(words), "{}", stdout(&assumed));
    let quiet = run(&["fit", "--quiet", &sample("lying-press.toml")]);
    assert!(code(&quiet) == 0 && quiet.stdout.is_empty() && quiet.stderr.is_empty());
}

#[test]
fn a_fit_in_json_has_the_promised_names() {
    let document = json(&run(&["fit", "--json", &sample("standing-press.toml")]));
    let fit = &document["fit"];
    for name in [
        "season",
        "screw",
        "nut",
        "board",
        "engaged_mm",
        "clearance",
        "radial_chosen",
        "flank_chosen",
        "verdict",
        "gaps",
        "bounds",
        "boards",
        "sizes",
        "nut_major_diameter_mm",
        "nut_bore_diameter_mm",
        "nut_groove_mm",
        "overlap_least_mm",
    ] {
        assert!(!fit[name].is_null(), "{name} is missing");
    }
    assert_eq!((&fit["verdict"], &fit["board"]), (&"free".into(), &"flat-sawn".into()));
    assert_eq!(fit["clearance"]["flank_mm"], 1.1);
    let missing =
        run(&["fit", "--json", &root().join("tests/jobs/unfit/nothing.toml").display().to_string()]);
    assert_eq!((code(&missing), &json(&missing)["fit"]), (3, &Value::Null));
}

#[test]
fn woods_are_listed_and_told_with_their_sources() {
    let list = stdout(&run(&["woods"]));
    assert!(list.lines().count() > 56 && list.contains("Carpinus betulus"), "{list}");
    assert!(list.lines().all(|line| line.chars().count() <= 110), "{list}");
    let card = stdout(&run(&["woods", "fagus SYLVATICA"]));
    for words in [
        "European beech",
        "[3] from memory",
        "[4] computed, from memory: from shrinkage",
        "dust: sensitiser",
        "your local rules decide",
    ] {
        assert!(card.contains(words), "{words} is missing in\n{card}");
    }
    let dense =
        json(&run(&["woods", "--json", "--region", "africa", "--denser", "800", "--dust", "sensitiser"]));
    let names: Vec<_> =
        dense["woods"].as_array().expect("a list").iter().map(|wood| wood["name"].clone()).collect();
    assert_eq!(names, ["African blackwood", "African olive", "wenge"]);
    let maple = json(&run(&["woods", "--json", "hard maple"]));
    let shear = &maple["woods"][0]["values"]["shear"];
    assert_eq!((&shear["value"], &shear["origin"]), (&16.1.into(), &"seen".into()));
    assert!(maple["woods"][0]["values"]["mor_green"].is_null(), "what is missing is null");
    let none = run(&["woods", "hornbean"]);
    assert_eq!(code(&none), 2);
    assert!(stderr(&none).contains("did you mean \"hornbeam\"?"), "{}", stderr(&none));
}

#[test]
fn own_woods_join_the_table() {
    let own = root().join("tests/jobs/orchard.toml").display().to_string();
    let card = stdout(&run(&["woods", "--woods", &own, "bullace"]));
    assert!(
        card.starts_with("plum\n")
            && card.contains("[2] your own: weighed")
            && card.contains("not known: density"),
        "{card}"
    );
    let bad = root().join("tests/jobs/woods/slips.toml").display().to_string();
    let refused = run(&["woods", "--woods", &bad]);
    assert_eq!(code(&refused), 3, "{}", stderr(&refused));
    assert_eq!(code(&run(&["woods", "--woods", "nowhere.toml"])), 3);
}

#[test]
fn programs_and_sizes_warn_of_the_dust() {
    let program = stdout(&run(&["cut", &sample("nipping-press.toml"), "--out", "-"]));
    assert!(program.contains("(dust of hornbeam:"), "{program}");
    let sizes = stdout(&run(&["size", &sample("sewing-frame.toml")]));
    assert!(sizes.contains("dust of European beech: can make you allergic"), "{sizes}");
    let document = json(&run(&["size", "--json", &sample("sewing-frame.toml")]));
    assert_eq!(document["sizes"]["dust"], "sensitiser");
    assert_eq!(document["sizes"]["density_kg_m3"], 710.0);
}

#[test]
fn colours_appear_only_when_asked_for_or_on_a_terminal() {
    let wrong = ["prove", &sample("nipping-press.toml"), &fault("pass-too-deep.nc")];
    assert!(!stderr(&run(&wrong)).contains('\u{1b}'), "no colour into a pipe");
    let coloured = run(&[&wrong[..], &["--color", "always"]].concat());
    assert!(stderr(&coloured).contains('\u{1b}'));
}

#[test]
fn every_example_of_the_help_runs() {
    let folder = TempDir::new().expect("a folder can be made");
    std::os::unix::fs::symlink(root().join("samples"), folder.path().join("samples"))
        .expect("the samples can be linked");
    for verb in
        ["new", "size", "cut", "prove", "fit", "woods", "gears", "press", "sheet", "try", "mend", "order"]
    {
        let help = stdout(&run(&[verb, "--help"]));
        let example = help
            .lines()
            .find_map(|line| line.trim().strip_prefix("Example: threadwright "))
            .unwrap_or_else(|| panic!("{verb} --help has no example"));
        let arguments: Vec<&str> = example.split_whitespace().collect();
        let output = run_in(folder.path(), &arguments);
        assert_eq!(code(&output), 0, "{example}: {}", stderr(&output));
    }
}

#[test]
fn wrong_usage_is_told_in_json_too() {
    let missing = json(&run(&["prove", "--json", "job.toml"]));
    assert!(missing["error"].as_str().is_some_and(|words| words.contains("<PROGRAMS>")), "{missing}");
    assert_eq!(missing["verb"], "prove");
    assert_eq!(missing["schema"], 1);
    let verb = json(&run(&["prve", "--json", "a", "b"]));
    assert!(verb["error"].as_str().is_some_and(|words| words.contains("'prove'")), "{verb}");
    assert!(verb["verb"].is_null());
    assert_eq!(code(&run(&["--json"])), 2);
    assert!(
        json(&run(&["--json"]))["error"].as_str().is_some_and(|words| words.contains("no verb is given"))
    );
}

#[test]
fn a_negative_fineness_is_a_number_out_of_range() {
    let output = run(&["prove", "job.toml", "x.nc", "--fine", "-1"]);
    assert_eq!(code(&output), 2);
    assert!(stderr(&output).contains("-1 mm lies outside 0.01 to 0.5 mm"), "{}", stderr(&output));
}

#[test]
fn a_file_that_is_not_there_brings_up_one_with_a_like_name() {
    let folder = TempDir::new().expect("a folder can be made");
    run_in(folder.path(), &["new", "press.toml"]);
    for typed in ["pres.toml", "press", "Press.tml"] {
        let output = run_in(folder.path(), &["size", typed]);
        assert_eq!(code(&output), 3);
        assert!(stderr(&output).contains("but press.toml is there"), "{}", stderr(&output));
    }
    let nothing_like_it = run_in(folder.path(), &["size", "bench-vise.toml"]);
    assert!(!stderr(&nothing_like_it).contains("is there"), "{}", stderr(&nothing_like_it));
    let no_folder = run_in(folder.path(), &["size", "jobs/press.toml"]);
    assert!(stderr(&no_folder).contains("there is no folder jobs"), "{}", stderr(&no_folder));
}

/// A program on standard input, as another tool would hand it over.
#[test]
fn standard_input_has_a_name() {
    let prove = |program: &[u8], arguments: &[&str]| {
        let mut child = Command::new(env!("CARGO_BIN_EXE_threadwright"))
            .args(["prove", &sample("lying-press.toml"), "-"])
            .args(arguments)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the tool can be started");
        child.stdin.take().expect("it listens").write_all(program).expect("it reads to the end");
        child.wait_with_output().expect("it ends")
    };
    let good = fs::read(fault("good/lying-press.nc")).expect("the program can be read");
    let told = prove(&good, &[]);
    assert_eq!(code(&told), 0, "{}", stderr(&told));
    assert!(stderr(&told).contains("--> standard input:2:1"), "{}", stderr(&told));
    assert!(stderr(&told).contains("standard input: proved (1 note"), "{}", stderr(&told));
    let document = json(&prove(&good, &["--json"]));
    assert_eq!(document["program"], "standard input");
    assert_eq!(document["findings"][0]["code"], "dialect-used");
    let no_text = prove(b"G21\nG0 X\xff1\n", &[]);
    assert_eq!(code(&no_text), 3);
    assert!(stderr(&no_text).contains("standard input is not a text file: line 2"), "{}", stderr(&no_text));
    let twice = run(&["prove", "-", "-"]);
    assert_eq!(code(&twice), 2);
    assert!(stderr(&twice).contains("cannot both come from standard input"), "{}", stderr(&twice));
}

/// What the machine file itself asks for is no news to whoever cuts with it, but it stands in the document.
#[test]
fn cut_does_not_nag_about_the_machine_s_own_habits() {
    let quiet = run(&["cut", &sample("lying-press.toml"), "--out", "-"]);
    assert_eq!(code(&quiet), 0, "{}", stderr(&quiet));
    assert!(!stderr(&quiet).contains("dialect-used"), "{}", stderr(&quiet));
    assert!(stderr(&quiet).contains("proved (no findings"), "{}", stderr(&quiet));
    let document = json(&run(&["cut", &sample("lying-press.toml"), "--out", "-", "--json"]));
    assert_eq!(document["findings"][0]["code"], "dialect-used");
}

#[test]
fn drawings_and_solids_are_the_same_each_time_and_keep_what_is_there() {
    let job = sample("nipping-press.toml");
    let folder = TempDir::new().expect("a folder can be made");
    for (verb, name) in
        [("draw", "screw.svg"), ("carve", "screw.stl"), ("carve", "screw.3mf"), ("show", "screw.html")]
    {
        let made = |name: &str| {
            let output = run_in(folder.path(), &[verb, &job, "--out", name]);
            assert_eq!(code(&output), 0, "{verb} {name}: {}", stderr(&output));
            fs::read(folder.path().join(name)).expect("the file was written")
        };
        let first = made(name);
        assert_eq!(first, made(&format!("again-{name}")), "{verb} {name}");
        fs::write(folder.path().join(name), "mine").expect("a file can be written");
        assert_eq!(code(&run_in(folder.path(), &[verb, &job, "--out", name])), 2);
        assert_eq!(fs::read(folder.path().join(name)).expect("it is still there"), b"mine");
    }
    let odd = run_in(folder.path(), &["carve", &job, "--out", "screw.txt"]);
    assert_eq!(code(&odd), 2, "{}", stderr(&odd));
}

/// A drawing shows the whole piece, not its thread alone.
#[test]
fn a_drawing_names_what_is_turned_and_milled() {
    let output = run(&["draw", &sample("finishing-press.toml"), "--out", "-"]);
    assert_eq!(code(&output), 0, "{}", stderr(&output));
    let sheet = stdout(&output);
    let parts = [
        "chamfer 3",
        "relief \u{2300}37.98",
        "garter groove \u{2300}38",
        "tenon \u{2300}34, 4 flats 28 across",
    ];
    for part in parts {
        assert!(sheet.contains(part), "{part} is not on the drawing");
    }
    // Lengths between the edges behind the thread: shank, groove, collar, tenon.
    for length in ["48", "12", "15", "45"] {
        assert!(sheet.contains(&format!(">{length}<")), "{length} is not on the drawing");
    }
    let plain = stdout(&run(&["draw", &sample("nipping-press.toml"), "--out", "-"]));
    assert!(parts.iter().all(|part| !plain.contains(part)));
}

/// The volume of the solid is that of the cylinder less what the proof says was removed between nose and head.
#[test]
fn the_solid_holds_the_wood_that_was_left() {
    let folder = TempDir::new().expect("a folder can be made");
    let output = run_in(
        folder.path(),
        &["carve", &sample("sewing-frame.toml"), "--out", "screw.stl", "--fine", "0.2"],
    );
    assert_eq!(code(&output), 0, "{}", stderr(&output));
    let bytes = fs::read(folder.path().join("screw.stl")).expect("the solid was written");
    let value = |at: usize| f64::from(f32::from_le_bytes(bytes[at..at + 4].try_into().expect("four bytes")));
    let volume: f64 = (84..bytes.len())
        .step_by(50)
        .map(|at| {
            let corner = |k: usize| [0, 1, 2].map(|i| value(at + 12 + 12 * k + 4 * i));
            let [a, b, c] = [corner(0), corner(1), corner(2)];
            let cross = [b[1] * c[2] - b[2] * c[1], b[2] * c[0] - b[0] * c[2], b[0] * c[1] - b[1] * c[0]];
            (a[0] * cross[0] + a[1] * cross[1] + a[2] * cross[2]) / 6.0
        })
        .sum();
    let size = json(&run(&["size", &sample("sewing-frame.toml"), "--json"]));
    let of = |name: &str| size["sizes"][name].as_f64().expect("a size");
    // Screw from nose to head: 24 mm across; the groove takes its section once a lead over the thread. The section is
    // near a trapezium between root and crest; the run-out takes about half of its length.
    let whole = std::f64::consts::PI / 4.0 * of("crest_diameter_mm").powi(2) * of("screw_length_mm");
    let middle = std::f64::consts::PI * f64::midpoint(of("crest_diameter_mm"), of("root_diameter_mm"));
    let section = of("depth_mm") * f64::midpoint(of("groove_width_mm"), 0.794);
    let turns = (of("screw_length_mm") - 60.0 - 0.25 * of("lead_mm")) / of("lead_mm");
    let left = whole - section * middle * turns;
    assert!((volume / left - 1.0).abs() < 0.02, "{volume} mm3, reckoned by hand {left}");
}
