//! How long a proof takes beside the plainest thing that touches as much memory: one fill of a buffer with a number for
//! every ray. Prints ratios of one run; the machine's speed drops out.

#![allow(clippy::print_stdout, reason = "a benchmark prints its table")]

#[path = "../tests/common/mod.rs"]
#[allow(dead_code, reason = "the tests use the rest of it")]
mod common;

use std::hint::black_box;
use std::process::Command;
use std::time::{Duration, Instant};

use threadwright::proof;
use threadwright::source::Source;
use threadwright::stock::Cells;

/// Shortest of some runs.
fn shortest(runs: usize, mut work: impl FnMut()) -> Duration {
    (0..runs)
        .map(|_| {
            let clock = Instant::now();
            work();
            clock.elapsed()
        })
        .min()
        .expect("at least one run")
}

fn main() {
    let folder = std::env::temp_dir().join("threadwright-bench");
    std::fs::create_dir_all(&folder).expect("a folder for the program");
    let job = concat!(env!("CARGO_MANIFEST_DIR"), "/benches/long-screw.toml");
    let program = folder.join("long-screw.nc");
    let tool = || Command::new(env!("CARGO_BIN_EXE_threadwright"));
    let run = |command: &mut Command| {
        let output = command.output().expect("the tool can be started");
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    };
    run(tool().args(["cut", job, "--replace", "--quiet", "--out"]).arg(&program));
    let help = shortest(9, || run(tool().arg("--version")));
    let cut = shortest(9, || run(tool().args(["cut", job, "--replace", "--quiet", "--out"]).arg(&program)));
    println!("start-up alone {help:.1?}; whole cut at the default grid {cut:.1?}");
    println!(
        "{:>8} {:>14} {:>12} {:>12} {:>8} {:>12}",
        "grid mm", "rays", "fill", "prove", "ratio", "ns per ray"
    );
    for fine in [0.2, 0.1, 0.05, 0.02] {
        let rays = (600.0 / fine) * (std::f64::consts::PI * 64.0 / fine);
        let mut buffer = vec![0.0_f32; rays as usize];
        let mut value = 0.0_f32;
        let fill = shortest(5, || {
            value += 1.0;
            black_box(&mut buffer).fill(black_box(value));
        });
        drop(buffer);
        let fineness = fine.to_string();
        let prove =
            shortest(5, || run(tool().args(["prove", job, "--quiet", "--fine", &fineness]).arg(&program)));
        println!(
            "{fine:8} {rays:14.0} {fill:12.1?} {prove:12.1?} {:8.1} {:12.2}",
            prove.as_secs_f64() / fill.as_secs_f64(),
            prove.as_secs_f64() * 1e9 / rays
        );
    }
    batch();
}

/// Memory of a thousand proofs in one process: pages in use after the first hundred and after all.
fn batch() {
    let made = common::sample("sewing-frame");
    let program = Source::new("batch.nc", made.program.as_str());
    let pages = || std::fs::read_to_string("/proc/self/statm").ok()?.split(' ').nth(1)?.parse::<f64>().ok();
    let mut after_hundred = None;
    for count in 1..=1000 {
        let proof = proof::prove(&program, &made.setup, &made.drawing, Some(Cells::square(0.4)));
        assert!(proof.proved(), "{:?}", proof.findings);
        if count == 100 {
            after_hundred = pages();
        }
    }
    if let Some((first, last)) = after_hundred.zip(pages()) {
        println!(
            "a thousand proofs in one process: memory after all / after a hundred = {:.2}",
            last / first
        );
    }
}
