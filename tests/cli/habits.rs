//! Habits that people expect of a command line, one test each. The list follows the themes of the Command Line Interface
//! Guidelines (clig.dev, 2021) and habits of POSIX and GNU (from memory).

use super::*;

/// Verbs with arguments that work beside the samples, in an order in which each finds what it needs.
const VERBS: &[&[&str]] = &[
    &["new", "press.toml"],
    &["size", "press.toml"],
    &["cut", "press.toml"],
    &["prove", "press.toml", "press.nc"],
    &["show", "press.toml"],
    &["draw", "press.toml"],
    &["carve", "press.toml"],
    &["feeds", "press.toml"],
    &["fit", "press.toml"],
    &["nut", "press.toml"],
    &["press", "press.toml"],
    &["gears", "samples/nipping-press.toml"],
    &["woods", "hornbeam"],
    &["sheet", "press.toml"],
    &["try", "press.toml", "--air"],
    &["mend", "press.toml", "--pass", "2"],
    &["order", "samples/orders/bindery.toml"],
    &["explain", "index-off"],
    &["completions", "bash"],
    &["schema", "job"],
    &["manual"],
];

/// A folder in which the samples are at hand.
fn shop() -> TempDir {
    let folder = TempDir::new().expect("a folder can be made");
    std::os::unix::fs::symlink(root().join("samples"), folder.path().join("samples"))
        .expect("the samples can be linked");
    folder
}

fn files_in(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut all: Vec<(String, Vec<u8>)> = fs::read_dir(folder)
        .expect("a folder can be listed")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.is_file())
        .map(|path| (path.display().to_string(), fs::read(&path).expect("a file can be read")))
        .collect();
    all.sort();
    all
}

#[test]
fn h01_to_h03_exit_codes_tell_how_it_ended_and_stand_in_the_help() {
    let folder = shop();
    let in_shop = |arguments: &[&str]| code(&run_in(folder.path(), arguments));
    assert_eq!(in_shop(&["cut", "samples/nipping-press.toml"]), 0, "done and proved");
    assert_eq!(
        in_shop(&["prove", "samples/nipping-press.toml", &fault("pass-too-deep.nc")]),
        1,
        "proved wrong"
    );
    assert_eq!(in_shop(&["cut"]), 2, "wrong usage");
    assert_eq!(in_shop(&["cut", "nowhere.toml"]), 3, "an input that cannot be read");
    let help = stdout(&run(&["--help"]));
    for line in ["0  done", "1  proved wrong", "2  wrong usage", "3  an input", "4  the system failed"] {
        assert!(help.contains(line), "{line}: {help}");
    }
}

#[test]
fn h04_results_go_out_and_remarks_go_to_the_error_stream() {
    let folder = shop();
    let cut = run_in(folder.path(), &["cut", "samples/nipping-press.toml"]);
    assert!(stdout(&cut).contains("lead") && !stdout(&cut).contains("wrote"), "{}", stdout(&cut));
    assert!(
        stderr(&cut).contains("wrote nipping-press.nc") && stderr(&cut).contains("proved"),
        "{}",
        stderr(&cut)
    );
}

#[test]
fn h05_json_is_one_document_of_one_shape_for_every_verb_also_on_failure() {
    let folder = shop();
    for arguments in VERBS {
        let output = run_in(folder.path(), &[arguments, &["--json"][..]].concat());
        assert!(output.stderr.is_empty(), "{arguments:?}: {}", stderr(&output));
        let document = json(&output);
        assert_eq!(document["schema"], 1, "{arguments:?}");
        assert!(document["tool"].as_str().is_some_and(|tool| tool.starts_with("threadwright ")));
        assert_eq!(document["verb"], arguments[0]);
        assert!(document["findings"].is_array(), "{arguments:?}: {document}");
        let wrong = run_in(folder.path(), &[arguments[0], "nowhere.toml", "--json", "--no-such-option"]);
        let document = json(&wrong);
        assert_eq!((document["verb"].as_str(), code(&wrong)), (Some(arguments[0]), 2));
        assert!(document["error"].as_str().is_some_and(|words| !words.is_empty()), "{document}");
    }
}

#[test]
fn h06_every_code_is_explained_with_an_example() {
    let all = json(&run(&["explain", "--json"]));
    let codes = all["codes"].as_array().expect("a list");
    assert!(codes.len() > 150);
    for one in codes {
        let name = one["code"].as_str().expect("a name");
        let said = stdout(&run(&["explain", name]));
        assert!(said.contains("for example") && said.contains(&format!("[{name}]:")), "{said}");
    }
    let near = run(&["explain", "stop[leed-off]:"]);
    assert!(code(&near) == 2 && stderr(&near).contains("did you mean lead-off?"), "{}", stderr(&near));
}

#[test]
fn h07_an_error_names_place_text_and_a_way_out() {
    let folder = shop();
    run_in(folder.path(), &["new", "press.toml"]);
    let job = folder.path().join("press.toml");
    let text = fs::read_to_string(&job).expect("it is there").replace("starts = 1 ", "starts = 0 ");
    fs::write(&job, text).expect("it can be written");
    let size = run_in(folder.path(), &["size", "press.toml"]);
    let said = stderr(&size);
    for part in ["press.toml:9:10", "starts = 0", "stop[out-of-range]", "help: "] {
        assert!(said.contains(part), "{part} is missing: {said}");
    }
}

#[test]
fn h08_colour_is_for_terminals_and_can_be_had_and_refused() {
    let wrong = ["prove", &sample("nipping-press.toml"), &fault("pass-too-deep.nc")];
    let coloured = |extra: &[&str], no_color: Option<&str>| {
        let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_threadwright"));
        command.args([&wrong[..], extra].concat()).env_remove("NO_COLOR");
        if let Some(value) = no_color {
            command.env("NO_COLOR", value);
        }
        stderr(&command.output().expect("it runs")).contains('\u{1b}')
    };
    assert!(!coloured(&[], None), "no colour into a pipe");
    assert!(coloured(&["--color", "always"], None) && coloured(&["--color", "always"], Some("1")));
    assert!(!coloured(&["--color", "never"], None));
}

#[test]
fn h09_and_h10_no_progress_into_a_pipe_and_quiet_keeps_only_what_stops() {
    let folder = shop();
    let quiet = run_in(folder.path(), &["cut", "samples/nipping-press.toml", "--quiet"]);
    assert!(quiet.stdout.is_empty() && quiet.stderr.is_empty(), "{}{}", stdout(&quiet), stderr(&quiet));
    let wrong = run_in(
        folder.path(),
        &["prove", "samples/nipping-press.toml", &fault("pass-too-deep.nc"), "--quiet"],
    );
    assert!(stderr(&wrong).contains("stop[") && !stderr(&wrong).contains("note["), "{}", stderr(&wrong));
    let long = run_in(folder.path(), &["order", "samples/orders/bindery.toml"]);
    assert!(!stderr(&long).contains('\r'), "a turning mark in a pipe");
}

#[test]
fn h11_a_dash_is_standard_input_or_output() {
    let folder = shop();
    let program = run_in(folder.path(), &["cut", "samples/nipping-press.toml", "--out", "-"]);
    assert!(stdout(&program).contains("G1 ") && !folder.path().join("-").exists());
    let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_threadwright"))
        .args(["prove", "samples/nipping-press.toml", "-"])
        .current_dir(folder.path())
        .stdin(std::process::Stdio::piped())
        .stdout(std::process::Stdio::null())
        .stderr(std::process::Stdio::null())
        .spawn()
        .expect("it starts");
    std::io::Write::write_all(&mut child.stdin.take().expect("an input"), &program.stdout).expect("it reads");
    assert_eq!(child.wait().expect("it ends").code(), Some(0));
}

#[test]
fn h12_no_question_is_asked_without_a_terminal() {
    let folder = shop();
    let new = run_in(folder.path(), &["new", "press.toml"]);
    assert!(code(&new) == 0 && folder.path().join("press.toml").exists(), "{}", stderr(&new));
}

#[test]
fn h13_an_existing_file_is_never_replaced_unasked() {
    let folder = shop();
    for arguments in VERBS {
        run_in(folder.path(), arguments);
    }
    for (path, _) in files_in(folder.path()).iter().filter(|(path, _)| !path.ends_with("press.toml")) {
        fs::write(path, "mine").expect("it can be written");
    }
    let before = files_in(folder.path());
    for arguments in VERBS.iter().filter(|arguments| arguments[0] != "new") {
        let output = run_in(folder.path(), arguments);
        assert!(code(&output) != 101, "{arguments:?}: {}", stderr(&output));
    }
    assert_eq!(before, files_in(folder.path()), "something was written over");
}

#[test]
fn h14_files_appear_whole_or_not_at_all() {
    let folder = shop();
    // Six programs, one of which cannot be put where it belongs: none appears.
    fs::create_dir(folder.path().join("finishing-press-4-chamfer.nc")).expect("a folder can be made");
    let cut = run_in(folder.path(), &["cut", "samples/finishing-press.toml"]);
    assert_ne!(code(&cut), 0);
    assert_eq!(files_in(folder.path()), Vec::new(), "{}", stderr(&cut));
}

#[test]
fn h15_what_would_be_written_can_be_seen_without_writing() {
    let folder = shop();
    let shown = json(&run_in(folder.path(), &["cut", "samples/nipping-press.toml", "--out", "-", "--json"]));
    assert_eq!(shown["written"], false);
    assert!(shown["text"].as_str().is_some_and(|text| text.contains("G1 ")));
    assert_eq!(files_in(folder.path()), Vec::new());
}

#[test]
fn h16_the_same_input_gives_the_same_bytes() {
    let (one, other) = (shop(), shop());
    for folder in [&one, &other] {
        for arguments in VERBS {
            run_in(folder.path(), arguments);
        }
    }
    let bytes = |folder: &TempDir| -> Vec<Vec<u8>> {
        files_in(folder.path()).into_iter().map(|(_, bytes)| bytes).collect()
    };
    assert_eq!(bytes(&one).len(), files_in(other.path()).len());
    assert!(bytes(&one) == bytes(&other), "two runs differ");
}

#[test]
fn h17_every_verb_has_help_and_an_example() {
    for arguments in VERBS {
        let (long, short) = (run(&[arguments[0], "--help"]), run(&[arguments[0], "-h"]));
        assert!(stdout(&long).contains("Example: threadwright "), "{}", stdout(&long));
        assert!(stdout(&short).len() < stdout(&long).len(), "{arguments:?}");
    }
}

#[test]
fn h18_the_version_is_name_and_number() {
    let said = stdout(&run(&["--version"]));
    assert_eq!(said, concat!("threadwright ", env!("CARGO_PKG_VERSION"), "\n"));
}

#[test]
fn h19_completions_and_manual_know_every_verb() {
    let folder = shop();
    let listed = VERBS.iter().map(|arguments| arguments[0]);
    for shell in ["bash", "zsh", "fish", "powershell"] {
        let said = stdout(&run(&["completions", shell]));
        for verb in listed.clone() {
            assert!(said.contains(verb), "{shell} does not complete {verb}");
        }
    }
    run_in(folder.path(), &["manual", "--out", "."]);
    for verb in listed {
        let page = fs::read_to_string(folder.path().join(format!("threadwright-{verb}.1"))).expect("a page");
        assert!(page.contains(".TH") && page.contains("Example"), "{verb}");
    }
    assert!(folder.path().join("threadwright.1").exists());
}

#[test]
fn h20_there_are_no_settings_but_options_and_the_job() {
    // What is nowhere else cannot be in the wrong order: neither surroundings nor files of the user change a program.
    let folder = shop();
    let plain = run_in(folder.path(), &["cut", "samples/nipping-press.toml", "--out", "-"]);
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_threadwright"))
        .args(["cut", "samples/nipping-press.toml", "--out", "-"])
        .current_dir(folder.path())
        .envs([
            ("LC_ALL", "de_DE.UTF-8"),
            ("TZ", "Asia/Tokyo"),
            ("THREADWRIGHT_FEED", "1"),
            ("HOME", "/nowhere"),
        ])
        .output()
        .expect("it runs");
    assert_eq!(plain.stdout, output.stdout);
}

#[test]
fn h21_slips_of_the_pen_are_told_with_the_nearest_name() {
    let folder = shop();
    for (arguments, near) in [
        (&["siz", "press.toml"][..], "size"),
        (&["cut", "--replce", "press.toml"], "--replace"),
        (&["woods", "hornbeem"], "hornbeam"),
        (&["explain", "ledoff"], "lead-off"),
        (&["completions", "bsh"], "bash"),
        (&["size", "samples/niping-press.toml"], "nipping-press.toml"),
    ] {
        let output = run_in(folder.path(), arguments);
        assert!(code(&output) > 1 && stderr(&output).contains(near), "{arguments:?}: {}", stderr(&output));
    }
    fs::write(folder.path().join("slip.toml"), "[screw]\ncrest_diametre = 50\n").expect("it can be written");
    let slip = run_in(folder.path(), &["size", "slip.toml"]);
    assert!(stderr(&slip).contains("crest_diameter"), "{}", stderr(&slip));
}

#[cfg(unix)]
#[test]
fn h22_a_reader_that_goes_away_ends_it_quietly() {
    let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_threadwright"))
        .args(["explain"])
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .expect("it starts");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("it ends");
    assert!(output.stderr.is_empty(), "{}", stderr(&output));
}

#[cfg(unix)]
#[test]
fn h23_an_interrupt_ends_it_at_once_and_leaves_nothing() {
    let folder = shop();
    let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_threadwright"))
        .args(["cut", "samples/finishing-press.toml", "--fine", "0.02"])
        .current_dir(folder.path())
        .stdout(std::process::Stdio::null())
        .stderr(std::process::Stdio::null())
        .spawn()
        .expect("it starts");
    std::thread::sleep(std::time::Duration::from_millis(300));
    let stopped = std::process::Command::new("kill").args(["-INT", &child.id().to_string()]).status();
    assert!(stopped.expect("kill is there").success());
    let begun = std::time::Instant::now();
    let status = child.wait().expect("it ends");
    assert!(begun.elapsed().as_secs_f64() < 1.0 && !status.success());
    assert_eq!(files_in(folder.path()), Vec::new());
}

#[cfg(unix)]
#[test]
fn h24_odd_paths_work() {
    use std::os::unix::ffi::OsStrExt;
    let folder = shop();
    for name in [&b"a press of \xe9bony.toml"[..], "la presse à dorer.toml".as_bytes()] {
        let path = folder.path().join(std::ffi::OsStr::from_bytes(name));
        let run = |arguments: &[&std::ffi::OsStr]| {
            std::process::Command::new(env!("CARGO_BIN_EXE_threadwright"))
                .args(arguments)
                .current_dir(folder.path())
                .output()
                .expect("it runs")
        };
        let new = run(&["new".as_ref(), path.as_os_str()]);
        assert_eq!(code(&new), 0, "{}", stderr(&new));
        let cut = run(&["cut".as_ref(), path.as_os_str()]);
        assert_eq!(code(&cut), 0, "{}", stderr(&cut));
    }
}

#[test]
fn h25_no_panic_reaches_the_user() {
    let folder = shop();
    let odd: &[&[u8]] =
        &[b"", b"\xff\xfe[\0s\0", b"[[[[", b"=", b"units = \"mm\"\n[screw]\n", b"G1 X1e999", b"%\n%\n%"];
    for (index, bytes) in odd.iter().enumerate() {
        let name = format!("odd-{index}");
        fs::write(folder.path().join(&name), bytes).expect("it can be written");
        for arguments in VERBS.iter().filter(|arguments| arguments.len() > 1) {
            let mut arguments: Vec<&str> = arguments.to_vec();
            arguments[1] = &name;
            let output = run_in(folder.path(), &arguments);
            assert!(
                code(&output) < 5 && !stderr(&output).contains("panicked"),
                "{arguments:?}: {}",
                stderr(&output)
            );
        }
    }
}
