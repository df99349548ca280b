//! What proofs need of memory. A proof keeps nothing: whoever proves many programs in one process needs no more memory for the last than for the
//! first. Counted by an allocator that counts every byte, so nothing hangs on how the system hands out pages.

#[allow(dead_code, reason = "each test binary uses its own part of it")]
mod common;

use std::alloc::System;
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::Duration;

use stats_alloc::{INSTRUMENTED_SYSTEM, StatsAlloc};
use threadwright::proof;
use threadwright::rs274;
use threadwright::source::Source;
use threadwright::stock::Cells;

#[global_allocator]
static COUNTED: &StatsAlloc<System> = &INSTRUMENTED_SYSTEM;

/// Bytes that are allocated and not yet given back.
fn live() -> usize {
    let stats = COUNTED.stats();
    stats.bytes_allocated - stats.bytes_deallocated
}

/// Proofs until every thread and table that is made once is there.
const WARM: usize = 20;
/// What the queue of jobs to other threads may hold at one time and not at another. Twenty bytes kept by every proof
/// would show.
const QUEUE_BYTES: usize = 4096;
/// Proofs that are counted.
const COUNTED_PROOFS: usize = 200;

/// Tests that count take turns.
static TURN: Mutex<()> = Mutex::new(());

#[test]
fn proofs_keep_no_memory() {
    let _turn = TURN.lock();
    let made = common::sample("sewing-frame");
    let program = Source::new("batch.nc", made.program.as_str());
    let mut all = Vec::with_capacity(COUNTED_PROOFS);
    let mut needed = 0;
    for count in 0..WARM + COUNTED_PROOFS {
        let before = COUNTED.stats().bytes_allocated;
        let proof = proof::prove(&program, &made.setup, &made.drawing, Some(Cells::square(0.4)));
        assert!(proof.proved(), "{:?}", proof.findings);
        drop(proof);
        needed = COUNTED.stats().bytes_allocated - before;
        if WARM <= count {
            all.push(live());
        }
    }
    let (least, most) = (all.iter().min().expect("counted"), all.iter().max().expect("counted"));
    println!("{needed} bytes pass through a proof; live after each of {COUNTED_PROOFS}: {least} to {most}");
    assert!(most - least <= QUEUE_BYTES, "live bytes after each proof: {all:?}");
    // The allocator counts: a proof cannot do without memory.
    assert!(needed > 100_000, "{needed}");
}

/// How often the live bytes are looked at. What a proof of so many moves needs most it needs for milliseconds.
const LOOK_EVERY: Duration = Duration::from_micros(50);

/// The most live bytes that were seen during some work, less those before it.
fn most_live(work: impl FnOnce()) -> usize {
    let (done, before) = (AtomicBool::new(false), live());
    thread::scope(|scope| {
        let watcher = scope.spawn(|| {
            let mut most = before;
            while !done.load(Ordering::Relaxed) {
                most = most.max(live());
                thread::sleep(LOOK_EVERY);
            }
            most
        });
        work();
        done.store(true, Ordering::Relaxed);
        watcher.join().expect("the watcher only looks") - before
    })
}

/// What a proof may need for each move beside what the reader needs for it: the wood it cut and its load, each some
/// hundred bytes, and its share of the course it is part of. Keeping so much for each parcel of rows would be thirty times as
/// much.
const BYTES_A_MOVE: f64 = 400.0;
/// Moves of the programs that are compared.
const MOVES: [usize; 2] = [10_000, 60_000];

#[test]
fn a_long_program_needs_memory_by_its_moves() {
    let _turn = TURN.lock();
    let made = common::sample("standing-press");
    let control = proof::control(&made.setup);
    let of = |moves: usize| {
        let program = Source::new("long.nc", common::chopped(&made, moves, 0.0));
        let read = most_live(|| drop(rs274::run(&program, &control)));
        let prove = || {
            let proof = proof::prove(&program, &made.setup, &made.drawing, None);
            assert!(proof.proved() && proof.motions > moves, "{} moves", proof.motions);
        };
        prove();
        [read, most_live(prove)]
    };
    let [few, many] = MOVES.map(of);
    let more = (MOVES[1] - MOVES[0]) as f64;
    let [read, proved] = [0, 1].map(|which| (many[which] as f64 - few[which] as f64) / more);
    println!("bytes a move: {read:.0} to read, {proved:.0} to prove");
    assert!(proved - read <= BYTES_A_MOVE, "{proved} bytes a move, {read} of them to read it");
    // The watcher sees what there is: a motion is kept with its two ends and its cut.
    assert!(read > 100.0 && proved > read, "{read} and {proved}");
}
