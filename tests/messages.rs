//! What people read when they slip at the command line, in an order or in a program: whole runs of the tool, kept as they
//! print. Slips in jobs, machines, cutters, jigs, nuts and woods are kept by tests/job.rs. Cases are data: `tests/messages`.

use std::fmt::Write;
use std::fs;
use std::path::Path;
use std::process::Command;

use serde::Deserialize;
use tempfile::TempDir;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Cases {
    case: Vec<Case>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    /// What the person did.
    slip: String,
    /// What was typed after the tool's name.
    typed: String,
    /// A file that lies there, by its name, and what it holds.
    #[serde(default)]
    file: Option<String>,
    #[serde(default)]
    holds: String,
}

/// Exit codes that the help promises.
const PROMISED: [i32; 5] = [0, 1, 2, 3, 4];
/// Words of the inside that no message shows.
const INSIDE: [&str; 6] = ["panicked", "unwrap", "Option", "Err(", "None", "os error"];

fn run_all(name: &str) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let text = fs::read_to_string(root.join(format!("tests/messages/{name}.toml"))).expect("a list of cases");
    let cases: Cases = toml::from_str(&text).expect("it is TOML");
    let mut all = String::new();
    for case in cases.case {
        let folder = TempDir::new().expect("a folder can be made");
        let samples = folder.path().join("samples");
        #[cfg(unix)]
        std::os::unix::fs::symlink(root.join("samples"), &samples).expect("the samples can be linked");
        if let Some(file) = &case.file {
            fs::write(folder.path().join(file), &case.holds).expect("a file can be written");
        }
        let output = Command::new(env!("CARGO_BIN_EXE_threadwright"))
            .args(case.typed.split_whitespace())
            .current_dir(folder.path())
            .env_remove("NO_COLOR")
            .output()
            .expect("it runs");
        let code = output.status.code().unwrap_or(-1);
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        let (slip, typed) = (&case.slip, &case.typed);
        assert!(PROMISED.contains(&code) && code != 0, "{slip}: ended with {code}\n{said}");
        assert!(!said.trim().is_empty(), "{slip}: nothing is said");
        for word in INSIDE {
            assert!(!said.contains(word), "{slip}: {word} in\n{said}");
        }
        let left = fs::read_dir(folder.path()).expect("a folder").count();
        assert_eq!(left, 1 + usize::from(case.file.is_some()), "{slip}: something was written");
        let said: Vec<&str> = said.lines().map(str::trim_end).collect();
        writeln!(all, "== {slip}\n$ threadwright {typed}\n{}\n({code})\n", said.join("\n"))
            .expect("text takes text");
    }
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path("messages");
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    settings.bind(|| insta::assert_snapshot!(name.to_owned(), all));
}

#[test]
fn slips_at_the_command_line() {
    run_all("options");
}

#[test]
fn slips_in_orders() {
    run_all("orders");
}

#[test]
fn slips_in_programs() {
    run_all("programs");
}
