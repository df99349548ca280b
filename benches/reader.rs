//! How fast programs are read and followed beside two yardsticks of the same run: a scan that only finds where words
//! begin, which no reader can beat, and the visitor of the `gcode` crate, which keeps nothing. Prints ratios of one run;
//! the machine's speed drops out. Memory is what a process of its own needs at its peak, beside what the motions need.

#![allow(clippy::print_stdout, reason = "a benchmark prints its table")]

use std::fmt::Write;
use std::hint::black_box;
use std::process::Command;
use std::sync::Arc;
use std::time::{Duration, Instant};

use gcode::core::{BlockVisitor, CommandVisitor, ControlFlow, HasDiagnostics, Noop, Number, ProgramVisitor};
use gcode::core::{Diagnostics, Span, Value};
use threadwright::rs274::{self, Control, Meaning, Motion, Pose};
use threadwright::setup::{Dialect, DwellUnit, FeedConvention};
use threadwright::source::Source;
use threadwright::units::LengthUnit;

/// Bytes of the program: some half a million moves. Another number of megabytes may be given as an argument.
const SIZE: usize = 20_000_000;

/// Told to a second process of this bench, which then only measures its memory.
const MEMORY: &str = "memory-of-one-run";

fn control() -> Control {
    Control {
        habits: Meaning::default(),
        dialect: Dialect::default(),
        feed: FeedConvention::Linear,
        unit: LengthUnit::Mm,
        dwell: DwellUnit::Seconds,
        hand_spindle: false,
        block_delete: false,
        start: Pose { z_mm: 50.0, ..Pose::default() },
    }
}

/// A program as other tools write them: one short move a line, every fortieth line a comment.
fn program(size: usize) -> String {
    let mut text = String::from("%\nG21 G90 G94 G17\nS18000 M3\nG0 X0 Z50 A0\n");
    let mut at = 0_u32;
    while text.len() < size {
        at += 1;
        if at.is_multiple_of(40) {
            writeln!(text, "(pass {} of the long groove)", at / 40).expect("text can be written");
        }
        let along = f64::from(at) * 0.013;
        let (x, z) = (along % 1900.0, 20.0 + 5.0 * (along * 0.1).sin());
        writeln!(text, "G1 X{x:.3} A{:.3} Z{z:.4} F{}", along * 18.0, 900 + at % 300)
            .expect("text can be written");
    }
    text + "M5\nM30\n%\n"
}

/// Finds where words begin and end and nothing more: one look at each byte outside comments. Returns how many there are
/// and how many bytes they take.
fn scan(text: &[u8]) -> (usize, usize) {
    let (mut words, mut bytes, mut in_comment, mut in_word) = (0, 0, false, false);
    for byte in text {
        match byte {
            b'(' => (in_comment, in_word) = (true, false),
            b')' => in_comment = false,
            b'A'..=b'Z' if !in_comment => {
                words += 1;
                bytes += 1;
                in_word = true;
            }
            b'0'..=b'9' | b'.' | b'-' | b'+' if in_word => bytes += 1,
            _ => in_word = false,
        }
    }
    (words, bytes)
}

/// Counts the words that the other reader's visitor is shown.
#[derive(Default)]
struct Words {
    count: usize,
    none: Noop,
}

struct InBlock<'a>(&'a mut Words);

impl HasDiagnostics for Words {
    fn diagnostics(&mut self) -> &mut dyn Diagnostics {
        &mut self.none
    }
}

impl HasDiagnostics for InBlock<'_> {
    fn diagnostics(&mut self) -> &mut dyn Diagnostics {
        &mut self.0.none
    }
}

#[allow(refining_impl_trait, reason = "named types keep the visitor readable")]
impl ProgramVisitor for Words {
    fn start_block(&mut self) -> ControlFlow<InBlock<'_>> {
        ControlFlow::Continue(InBlock(self))
    }
}

impl InBlock<'_> {
    fn command(&mut self) -> ControlFlow<InBlock<'_>> {
        self.0.count += 1;
        ControlFlow::Continue(InBlock(self.0))
    }
}

#[allow(refining_impl_trait, reason = "named types keep the visitor readable")]
impl BlockVisitor for InBlock<'_> {
    fn word_address(&mut self, _letter: char, value: Value<'_>, _span: Span) {
        black_box(value);
        self.0.count += 1;
    }
    fn start_general_code(&mut self, _number: Number) -> ControlFlow<InBlock<'_>> {
        self.command()
    }
    fn start_miscellaneous_code(&mut self, _number: Number) -> ControlFlow<InBlock<'_>> {
        self.command()
    }
    fn start_tool_change_code(&mut self, _number: Number) -> ControlFlow<InBlock<'_>> {
        self.command()
    }
}

impl CommandVisitor for InBlock<'_> {
    fn argument(&mut self, _letter: char, value: Value<'_>, _span: Span) {
        black_box(value);
        self.0.count += 1;
    }
}

/// What is done again and again in one run: time on a processor is told in steps of milliseconds.
const AT_ONCE: u32 = 10;

/// Shortest of some runs, as time on a processor, so that a busy machine disturbs less.
fn shortest(runs: usize, mut work: impl FnMut()) -> Duration {
    let clock = Instant::now();
    let now = || on_processor().unwrap_or_else(|| clock.elapsed());
    (0..runs)
        .map(|_| {
            let start = now();
            (0..AT_ONCE).for_each(|_| work());
            now().saturating_sub(start) / AT_ONCE
        })
        .min()
        .expect("at least one run")
}

/// Time that this thread has had a processor, where the system tells.
fn on_processor() -> Option<Duration> {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    Some(Duration::from_nanos(told.split(' ').next()?.parse().ok()?))
}

fn main() {
    let asked = std::env::args().find_map(|argument| argument.parse::<usize>().ok());
    let size = asked.map_or(SIZE, |megabytes| megabytes * 1_000_000);
    if std::env::args().any(|argument| argument == MEMORY) {
        memory_of_one_run(size);
        return;
    }
    let text = program(size);
    let source = Source::new("long.nc", text.as_str());
    let megabytes = text.len() as f64 / 1e6;
    let (words, _) = scan(text.as_bytes());
    let mut theirs = Words::default();
    gcode::core::parse(&text, &mut theirs);
    assert_eq!(theirs.count, words, "the other reader finds the same words");
    let lines = shortest(9, || drop(black_box(Source::new("long.nc", text.as_str()))));
    let scanned = shortest(9, || {
        black_box(scan(black_box(text.as_bytes())));
    });
    let visited = shortest(5, || gcode::core::parse(black_box(&text), &mut Words::default()));
    let read = shortest(9, || drop(black_box(rs274::read(&source, Dialect::default()))));
    let blocks = rs274::read(&source, Dialect::default());
    let followed = shortest(9, || drop(black_box(rs274::execute(&blocks, &control()))));
    let both = shortest(9, || drop(black_box(rs274::run(&source, &control()))));
    let run = rs274::run(&source, &control());
    assert!(run.findings.is_empty() && run.ended, "{:?}", run.findings);
    let moves = run.motions.len() as f64;
    println!("{megabytes:.1} MB, {words} words, {moves} motions");
    println!("{:<34} {:>10} {:>10} {:>14}", "", "time", "MB/s", "of read");
    for (name, time) in [
        ("find the lines", lines),
        ("scan for words only", scanned),
        ("read to blocks", read),
        ("gcode crate, visitor", visited),
        ("follow blocks to motions", followed),
        ("read and follow, line by line", both),
    ] {
        let share = time.as_secs_f64() / read.as_secs_f64();
        println!("{name:<34} {time:>10.1?} {:>10.0} {share:>14.2}", megabytes / time.as_secs_f64());
    }
    println!("follow: {:.1} million motions a second", moves / followed.as_secs_f64() / 1e6);
    println!(
        "read: {:.1} times as fast as the gcode crate, {:.1} times the time of the scan",
        visited.as_secs_f64() / read.as_secs_f64(),
        read.as_secs_f64() / scanned.as_secs_f64()
    );
    let this = std::env::current_exe().expect("a program knows itself");
    let told = Command::new(this)
        .arg(MEMORY)
        .args(asked.map(|megabytes| megabytes.to_string()))
        .output()
        .expect("it can be started again");
    print!("{}", String::from_utf8_lossy(&told.stdout));
}

/// Peak memory of reading and following one program, beside its motions.
fn memory_of_one_run(size: usize) {
    let source: Arc<Source> = Source::new("long.nc", program(size));
    let before = peak_bytes();
    let run = rs274::run(&source, &control());
    let Some((before, after)) = before.zip(peak_bytes()) else {
        println!("memory: not known on this system");
        return;
    };
    let motions = (run.motions.len() * size_of::<Motion>()) as f64;
    println!(
        "memory: motions {:.1} MB; the run took {:.2} times that, with text and line table {:.2} times",
        motions / 1e6,
        (after - before) / motions,
        after / motions
    );
}

/// The most memory this process ever held, where the system tells.
fn peak_bytes() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    Some(line.split_whitespace().nth(1)?.parse::<f64>().ok()? * 1024.0)
}
