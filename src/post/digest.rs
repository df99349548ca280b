//! A short digest of a job: every value that shapes a program goes into it, so that a program can be told apart from one
//! that was written for another version of the same job. It guards against mix-ups, not against forgery.

use std::fmt::Write;

use crate::job::Job;

/// Offset and prime of the 64-bit FNV-1a hash. Source: Fowler, Noll, Vo, from memory.
const OFFSET: u64 = 0xcbf2_9ce4_8422_2325;
const PRIME: u64 = 0x0000_0100_0000_01b3;

/// Digest of a job: sixteen hexadecimal digits in groups of four. Where values were written, and comments, do not count.
pub fn of(job: &Job) -> String {
    grouped(&told_of(job))
}

/// Digest of a job and its nut: what shapes the programs of the nut.
pub fn of_nut(job: &Job) -> String {
    let Job { nut, mill, season, .. } = job;
    let mut told = told_of(job);
    let _ = write!(told, "{nut:?}{mill:?}{season:?}");
    grouped(&told)
}

fn told_of(job: &Job) -> String {
    let mut told = String::new();
    let Job { title, unit, wood, screw, blank, cutting, operations, cutter, machine, marks: _, .. } = job;
    let _ = write!(
        told,
        "{title:?}{unit:?}{wood:?}{screw:?}{blank:?}{cutting:?}{operations:?}{cutter:?}{machine:?}"
    );
    told
}

fn grouped(told: &str) -> String {
    let hash = told.bytes().fold(OFFSET, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(PRIME));
    let digits = format!("{hash:016x}");
    [&digits[..4], &digits[4..8], &digits[8..12], &digits[12..]].join("-")
}

/// The digest that a program's head carries, if it does.
pub fn read(program: &str) -> Option<&str> {
    const LENGTH: usize = 19;
    let at = program.find(super::DIGEST_WORDS)? + super::DIGEST_WORDS.len();
    let digest = program.get(at..at + LENGTH)?;
    digest.bytes().all(|byte| byte.is_ascii_hexdigit() || byte == b'-').then_some(digest)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::sample;

    #[test]
    fn any_value_changes_the_digest_and_marks_do_not() {
        let job = sample::job();
        let first = of(&job);
        assert_eq!(first, of(&job.clone()));
        let mut other = job.clone();
        other.cutting.rpm += 1.0;
        assert_ne!(first, of(&other));
        let mut other = job;
        other.machine.a.backlash_deg += 1e-9;
        assert_ne!(first, of(&other));
        let head = format!("(threadwright)\n(job digest {first})\nG21\n");
        assert_eq!(read(&head), Some(first.as_str()));
        assert_eq!(read("(job digest no)"), None);
    }
}
