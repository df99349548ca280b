//! How long the proof of a nut takes, beside the plainest thing that touches as many rays: one fill of a row with a number,
//! over and over. Prints a line each for a nut cut with arcs, one cut with short lines, and one of each fineness; and the
//! fit of a pair. The nut: two starts, lead 20, 70 mm thick, four passes a start.

#![allow(clippy::print_stdout, reason = "a benchmark prints its lines")]

#[allow(dead_code, reason = "the tests use the rest of it")]
#[path = "../tests/common/mod.rs"]
mod common;
#[allow(dead_code, reason = "the tests use the rest of it")]
#[path = "../tests/nut_proof/oracle.rs"]
mod oracle;

use std::hint::black_box;
use std::time::{Duration, Instant};

use oracle::{Nut, press_nut, source};
use threadwright::proof::Before;
use threadwright::proof::nut::{NutBefore, prove};
use threadwright::proof::pair::{self, nut_wood, screw_wood};
use threadwright::setup::Season;
use threadwright::stock::Cells;
use threadwright::stock::nut::NutGrid;

/// Shortest of five runs.
fn shortest(mut work: impl FnMut()) -> Duration {
    let run = |_| {
        let clock = Instant::now();
        work();
        clock.elapsed()
    };
    (0..5).map(run).min().expect("five runs")
}

fn main() {
    let arcs = Nut { chamfer: Some([2.0, 14.8]), ..press_nut() };
    let lines = Nut { lines: true, ..arcs.clone() };
    let usual = Cells { along_mm: 0.1, round_mm: 0.4 };
    let fine = Cells { along_mm: 0.025, round_mm: 0.1 };
    for (name, nut, cells) in [("arcs", &arcs, usual), ("arcs, fine", &arcs, fine), ("lines", &lines, usual)]
    {
        let (text, setup, drawing) = (source(&nut.program()), nut.setup(), nut.drawing());
        let proof =
            shortest(|| assert!(black_box(prove(&[], &text, &setup, &drawing, Some(cells))).proved()));
        let grid = NutGrid::over(&setup.block, nut.major / 2.0, cells);
        let mut row = vec![0.0_f64; grid.heights];
        let fill = shortest(|| {
            for index in 0..grid.rows {
                row.fill(index as f64);
                black_box(&mut row);
            }
        });
        let (rays, ratio) = (grid.heights * grid.rows, proof.as_secs_f64() / fill.as_secs_f64());
        println!("{name:12} {rays:8} rays  {:7.1} ms  {ratio:6.0} fills", proof.as_secs_f64() * 1e3);
    }
    let made = common::sample("nipping-press");
    let text = source(&made.program);
    let programs = [Before { program: &text, setup: &made.setup }];
    let screw = screw_wood(&programs, &made.drawing, None).expect("a screw");
    let (program, setup) = (source(&arcs.program()), arcs.setup());
    let nut =
        nut_wood(&[NutBefore { program: &program, setup: &setup }], &arcs.drawing(), None).expect("a nut");
    let seasons: Vec<Season> = (0..3).map(|n| Season { name: n.to_string(), ..Season::default() }).collect();
    let pair = shortest(|| {
        black_box(pair::prove(&screw, &nut, &seasons));
    });
    println!("{:12} three seasons, by either face  {:7.1} ms", "pair", pair.as_secs_f64() * 1e3);
}
