//! Replays what the fuzzers kept (`tests/fuzz`): inputs that together reach every branch they found, and each one that
//! ever broke something. Needs no fuzzer.

use std::fs;
use std::path::PathBuf;
use std::time::{Duration, Instant};

#[path = "fuzz/checks/job.rs"]
mod job;
#[path = "fuzz/checks/program.rs"]
mod program;

/// Longest that one input may take, on a busy machine: a hundred times what the slowest takes on an idle one.
const PATIENCE: Duration = Duration::from_secs(5);

/// Bounds on what is kept of each target: small enough to be read through in a change.
const MOST_FILES: usize = 200;
const MOST_BYTES: usize = 300_000;

fn replay(target: &str, check: fn(&[u8])) {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/corpus").join(target);
    let mut files: Vec<PathBuf> = fs::read_dir(&folder)
        .expect("the kept inputs can be listed")
        .map(|entry| entry.expect("its entries can be read").path())
        .collect();
    files.sort();
    assert!(!files.is_empty() && files.len() <= MOST_FILES, "{target}: {} files", files.len());
    let mut bytes = 0;
    for file in files {
        let data = fs::read(&file).expect("a kept input can be read");
        bytes += data.len();
        let start = Instant::now();
        let answered = std::panic::catch_unwind(|| check(&data));
        assert!(answered.is_ok(), "{}: see above", file.display());
        let took = start.elapsed();
        assert!(took < PATIENCE, "{}: {took:?}", file.display());
    }
    assert!(bytes <= MOST_BYTES, "{target}: {bytes} bytes");
}

#[test]
fn kept_programs_are_answered() {
    replay("program", program::check);
}

#[test]
fn kept_jobs_are_answered() {
    replay("job", job::check);
}
