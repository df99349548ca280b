//! Throws bytes at the reader of job, machine and cutter files and at all that is made from a job. What must hold is
//! in `checks/job.rs`.
#![no_main]

#[path = "../checks/job.rs"]
mod job;

libfuzzer_sys::fuzz_target!(|data: &[u8]| job::check(data));
