//! `new` as people meet it: asked on a terminal, told by options, silent everywhere else.

use super::*;

/// Whatever the options ask for can be cut as it is.
#[test]
fn what_the_options_ask_for_proves_clean() {
    for options in [
        &["--diameter", "12", "--length", "60"][..],
        &["--diameter", "38", "--starts", "2", "--hand", "left", "--wood", "ipe", "--length", "400"],
        &["--units", "inch", "--diameter", "2 1/2", "--starts", "3", "--length", "20"],
        &["--units", "inch", "--diameter", "25 mm", "--length", "6", "--wood", "black locust"],
        &["--diameter", "150", "--starts", "6", "--length", "900", "--wood", "hornbeam"],
    ] {
        let folder = TempDir::new().expect("a folder can be made");
        let new = run_in(folder.path(), &[&["new", "press.toml"], options].concat());
        assert_eq!(code(&new), 0, "{options:?}: {}", stderr(&new));
        let cut = run_in(folder.path(), &["cut", "press.toml", "--fine", "0.2"]);
        let said = stderr(&cut);
        assert!(code(&cut) == 0 && !said.contains("care["), "{options:?}: {said}");
    }
}

/// A wrong option says what would be right, and leaves no file.
#[test]
fn a_wrong_answer_is_told_and_nothing_is_written() {
    let folder = TempDir::new().expect("a folder can be made");
    for (option, answer, way_out) in [
        ("--wood", "beach", "European beech"),
        ("--diameter", "5cm", "50 mm"),
        ("--diameter", "5", "between 12.00 mm and 150.00 mm"),
        ("--length", "long", "12.5"),
        ("--starts", "none", "from 1 to 12"),
        ("--hand", "sideways", "right or left"),
    ] {
        let new = run_in(folder.path(), &["new", "press.toml", option, answer]);
        assert!(code(&new) == 2 && stderr(&new).contains(way_out), "{option} {answer}: {}", stderr(&new));
        assert!(!folder.path().join("press.toml").exists());
    }
}

/// Six questions, each with what is taken when the answer is an empty line; a wrong answer is asked for again.
#[cfg(unix)]
#[test]
fn on_a_terminal_six_questions_are_asked() {
    let folder = TempDir::new().expect("a folder can be made");
    let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_threadwright"));
    command.args(["new", "press.toml"]).current_dir(folder.path()).env("TERM", "xterm");
    let mut terminal = rexpect::session::spawn_command(command, Some(20_000)).expect("a terminal can be had");
    for (question, answer) in [
        ("Units, mm or inch [mm]:", "inch"),
        ("Wood of the screw [hard maple]:", "beach"),
        ("European beech", "pear"),
        ("Diameter over the crests [2]:", "1 1/2"),
        ("Length of the full thread [10]:", ""),
        ("Starts:", "2"),
        ("Hand, right or left [right]:", "left"),
    ] {
        terminal.exp_string(question).unwrap_or_else(|why| panic!("{question}: {why}"));
        terminal.send_line(answer).expect("it listens");
    }
    terminal.exp_eof().expect("six questions are enough");
    let job = fs::read_to_string(folder.path().join("press.toml")).expect("the job is written");
    for line in
        ["units = \"inch\"", "wood = \"pear\"", "crest_diameter = 1.5 ", "starts = 2 ", "hand = \"left\""]
    {
        assert!(job.contains(line), "{line}: {job}");
    }
    assert!(job.contains("thread_length = 10\n"), "{job}");
}
