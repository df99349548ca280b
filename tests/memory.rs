//! A proof keeps nothing: whoever proves many programs in one process needs no more memory for the last than for the
//! first. Counted by an allocator that counts every byte, so nothing hangs on how the system hands out pages.

#[allow(dead_code, reason = "each test binary uses its own part of it")]
mod common;

use std::alloc::System;

use stats_alloc::{INSTRUMENTED_SYSTEM, StatsAlloc};
use threadwright::proof;
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

#[test]
fn proofs_keep_no_memory() {
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
