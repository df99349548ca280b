//! Throws bytes at the reader of programs and at the interpreter. What must hold is in `checks/program.rs`.
#![no_main]

#[path = "../checks/program.rs"]
mod program;

libfuzzer_sys::fuzz_target!(|data: &[u8]| program::check(data));
