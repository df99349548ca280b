//! What the head of a program says of itself: for which version of a job it was written, and at which place among the
//! programs of that job. Comments do not move the machine, so nothing here is proved; it catches mix-ups early.

use std::sync::Arc;

use crate::finding::{Finding, proof as code};
use crate::source::{Mark, Source};

/// Words before the digest of a job.
const DIGEST_WORDS: &str = "job digest ";
/// Words before the place of a program in its series.
pub const PLACE_WORDS: &str = "program";
/// Characters of a digest.
const DIGEST_LENGTH: usize = 19;
/// Lines that count as the head of a program.
const HEAD_LINES: usize = 40;

/// Compares the head with what is expected: the digest of the job, and the place among the programs given, from 1. A
/// program that says nothing of either is not wrong for it.
pub fn heads(program: &Arc<Source>, digest: &str, place: usize) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut offset = 0;
    for line in program.text().split_inclusive('\n').take(HEAD_LINES) {
        let comment = line.trim_start_matches(['(', ';', ' ']);
        let mark = || Mark::new(program, offset..offset + line.trim_end().len());
        if let Some(rest) = comment.strip_prefix(DIGEST_WORDS)
            && let Some(said) = rest.get(..DIGEST_LENGTH)
            && said != digest
        {
            let words = "this program was written for another version of this job, or by another version of threadwright";
            findings.push(Finding::new(&code::JOB_CHANGED, words).at(mark()).help(
                "write it anew with `threadwright cut`, or prove it against the job it was written for",
            ));
        }
        if let Some(said) = place_said(comment)
            && said != place
        {
            findings.push(
                Finding::new(
                    &code::ORDER_WRONG,
                    format!("this is program {said} of its job, and it is given as number {place}"),
                )
                .at(mark())
                .values(said as f64, place as f64)
                .help("give the programs in the order of their numbers, the earlier ones first"),
            );
        }
        offset += line.len();
    }
    findings
}

/// `program 2 of 5` says 2.
fn place_said(comment: &str) -> Option<usize> {
    let mut words = comment.split_whitespace();
    let place = (words.next()? == PLACE_WORDS).then(|| words.next()).flatten()?.parse().ok()?;
    (words.next()? == "of").then_some(place)
}
