//! How long a proof takes beside the plainest thing that touches as much memory: one fill of a buffer with a number for
//! every ray. Prints ratios of one run; the machine's speed drops out.
//!
//! Five tables: rays (four grids), passes (1, 2, 4, 8), what a proof's time is made of, shaping a square blank with a
//! straight cutter, and programs of very many short moves. The last line is the memory of a thousand proofs in one process.
//!
//! What lies between a proof and a plain fill, measured on two shared processors on 48 million rays (the third table): a fill
//! takes 0.14 ns a number and waits for memory alone; a proof takes 3.0 ns of processor time a ray, half of that by the clock
//! on two processors, and hardly any memory, since a row of 50 kB stays in the nearest caches. Of these 3.0 ns
//! - 2.2 are cuts: a ray is cut 2.25 times at 1 ns, 7 fills each, for two samples read and mixed, compared with the floor and
//!   the wood, the wood's square and the deepest bite kept, in vector units of four numbers (the baseline of the platform;
//!   eight would need a build for the machine it runs on). It grows with the rays and with the passes;
//! - 0.4 are tables: the sections of the passes, searched moment by moment and sampled at the grid step. They do not grow with
//!   the number of rows, which is why a ray that is added costs less than a third of one on the coarsest grid;
//! - 0.2 are rows read and judged, of which there are at most 360 on any grid;
//! - 0.1 are the blank written row by row and gaps, shank and collet looked for. Reading the text does not show.

#![allow(clippy::print_stdout, reason = "a benchmark prints its tables")]

#[path = "../tests/common/mod.rs"]
#[allow(dead_code, reason = "the tests use the rest of it")]
mod common;

use std::hint::black_box;
use std::process::Command;
use std::time::{Duration, Instant};

use common::Made;
use threadwright::job::Passes;
use threadwright::proof;
use threadwright::rs274::{FeedMode, Kind, Motion, Path, Pose, Turning, run};
use threadwright::setup::{BlankShape, Setup, Tip};
use threadwright::source::Source;
use threadwright::stock::{Cells, Grid, carve};

/// The job that speed is measured on.
const JOB: &str = "benches/long-screw.toml";
/// Grid of the tables that have one grid only, mm.
const FINE_MM: f64 = 0.05;
/// Numbers that are filled in for one measurement of a fill.
const FILLED: f64 = 2e8;

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

/// Time that all threads of this process have had a processor so far, where the system tells.
fn on_processor() -> Option<Duration> {
    // What runs is booked a few milliseconds late; who gives way is booked at once.
    std::thread::yield_now();
    let tasks = std::fs::read_dir("/proc/self/task").ok()?;
    let nanoseconds = tasks.map(|task| {
        let text = std::fs::read_to_string(task.ok()?.path().join("schedstat")).ok()?;
        text.split(' ').next()?.parse::<u64>().ok()
    });
    nanoseconds.sum::<Option<u64>>().map(Duration::from_nanos)
}

/// Least processor time of some runs: other work on the machine counts less in it than in time by the clock, which is
/// taken where the system does not tell.
fn cheapest(runs: usize, mut work: impl FnMut()) -> Duration {
    (0..runs)
        .map(|_| {
            let (clock, before) = (Instant::now(), on_processor());
            work();
            on_processor().zip(before).map_or(clock.elapsed(), |(after, before)| after.saturating_sub(before))
        })
        .min()
        .expect("at least one run")
}

/// One plain fill of a number for every ray, by one thread; the mean of as many as take some time.
fn fill(rays: f64) -> Duration {
    let mut buffer = vec![0.0_f32; rays as usize];
    let mut value = 0.0_f32;
    let times = (FILLED / rays).ceil().max(1.0) as u32;
    let all = cheapest(5, || {
        for _ in 0..times {
            value += 1.0;
            black_box(&mut buffer).fill(black_box(value));
        }
    });
    all / times
}

fn rays_of(grid: Grid) -> f64 {
    grid.rows as f64 * grid.stations as f64
}

fn main() {
    let made = common::make(JOB);
    rays();
    passes(&made);
    shares(&made);
    shaping(&made);
    moves();
    batch();
}

/// The same screw written in ever shorter moves: what a move costs that goes on where the one before it ended.
fn moves() {
    let made = common::sample("standing-press");
    println!(
        "\nmoves: a proof on the usual grid, the program's long moves chopped into short ones, processor time"
    );
    println!("{:>8} {:>8} {:>10} {:>12} {:>12}", "moves", "MB", "prove", "ns per move", "MB a second");
    for moves in [0, 10_000, 40_000, 160_000] {
        let text = if moves == 0 { made.program.clone() } else { common::chopped(&made, moves, 0.0) };
        let (megabytes, program) = (text.len() as f64 / 1e6, Source::new("moves.nc", text));
        let mut count = 0;
        let time = cheapest(5, || {
            count = proof::prove(&program, &made.setup, &made.drawing, None).motions;
        });
        let seconds = time.as_secs_f64();
        let each = seconds * 1e9 / count as f64;
        println!("{count:8} {megabytes:8.2} {time:10.1?} {each:12.0} {:12.1}", megabytes / seconds);
    }
}

/// The whole tool on four grids: start-up apart, time grows as the rays do.
fn rays() {
    let folder = std::env::temp_dir().join("threadwright-bench");
    std::fs::create_dir_all(&folder).expect("a folder for the program");
    let job = common::root().join(JOB);
    let program = folder.join("long-screw.nc");
    let tool = || Command::new(env!("CARGO_BIN_EXE_threadwright"));
    let run = |command: &mut Command| {
        let output = command.output().expect("the tool can be started");
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    };
    let cut = || {
        run(tool().arg("cut").arg(&job).args(["--replace", "--quiet", "--out"]).arg(&program));
    };
    cut();
    let start_up = shortest(9, || run(tool().arg("--version")));
    println!("start-up alone {start_up:.1?}; whole cut at the default grid {:.1?}", shortest(9, cut));
    println!("\nrays: the whole tool, one fill of as much memory beside it");
    println!(
        "{:>8} {:>14} {:>10} {:>10} {:>7} {:>11} {:>13}",
        "grid mm", "rays", "fill", "prove", "ratio", "ns per ray", "ns per added"
    );
    let mut before: Option<(f64, f64)> = None;
    for fine in [0.2, 0.1, 0.05, 0.02] {
        let rays = (600.0 / fine) * (std::f64::consts::PI * 64.0 / fine);
        let fill = fill(rays);
        let fineness = fine.to_string();
        let prove = shortest(5, || {
            run(tool().arg("prove").arg(&job).args(["--quiet", "--fine", &fineness]).arg(&program));
        });
        let past_start = (prove.saturating_sub(start_up)).as_secs_f64();
        // Beside the grid before: what a ray costs once all that does not hang on the grid is paid.
        let added = before.map_or(String::new(), |(seconds, fewer)| {
            format!("{:.2}", (prove.as_secs_f64() - seconds) * 1e9 / (rays - fewer))
        });
        before = Some((prove.as_secs_f64(), rays));
        println!(
            "{fine:8} {rays:14.0} {fill:10.1?} {prove:10.1?} {:7.1} {:11.2} {added:>13}",
            prove.as_secs_f64() / fill.as_secs_f64(),
            past_start * 1e9 / rays
        );
    }
}

/// The same screw in more and more passes: a cut of a ray costs the same each time.
fn passes(made: &Made) {
    println!(
        "\npasses: the carve alone at {FINE_MM} mm, processor time, the same screw in more and more passes"
    );
    println!("{:>8} {:>10} {:>16} {:>14}", "passes", "carve", "cuts of a ray", "ns per cut");
    for passes in [1, 2, 4, 8] {
        let mut job = made.job.clone();
        job.cutting.passes = Passes::EqualArea(passes);
        job.cutting.spring_pass = false;
        let made = common::make_job(job);
        let motions = motions(&made);
        let grid = Grid::over(&made.setup.blank, Cells::square(FINE_MM));
        let time = cheapest(7, || drop(carve(&[], &motions, &made.setup, grid, |_| None::<()>)));
        let cuts = cuts_of_a_ray(&made, &motions);
        let each = time.as_secs_f64() * 1e9 / (rays_of(grid) * cuts);
        println!("{passes:8} {time:10.1?} {cuts:16.2} {each:14.2}");
    }
}

fn motions(made: &Made) -> Vec<Motion> {
    run(&Source::new("bench.nc", made.program.as_str()), &proof::control(&made.setup)).motions
}

/// How many times a ray is met, on the mean over the blank: every long pass meets in each lead as much as its groove is
/// wide.
fn cuts_of_a_ray(made: &Made, motions: &[Motion]) -> f64 {
    let setup = &made.setup;
    let slope = (setup.cutter.included_angle_deg / 2.0).to_radians().tan();
    let Tip::Flat { diameter_mm } = setup.cutter.tip else { panic!("the job's cutter has a flat tip") };
    let wood = setup.blank.chuck_face_s_mm - setup.blank.from_s_mm;
    let long =
        |motion: &&Motion| motion.kind == Kind::Feed && 720.0 < (motion.to.a_deg - motion.from.a_deg).abs();
    let share = |motion: &Motion| {
        let depth = setup.blank.size_mm / 2.0 - (motion.to.z_mm - setup.z_axis_mm);
        let width = diameter_mm + 2.0 * depth * slope;
        let length =
            (motion.to.x_mm - motion.from.x_mm).abs().min(made.drawing.full_to_s_mm - setup.blank.from_s_mm);
        width * length / (made.drawing.lead_mm * wood)
    };
    motions.iter().filter(long).map(share).sum()
}

/// What the processor time of a proof is made of.
fn shares(made: &Made) {
    let program = Source::new("bench.nc", made.program.as_str());
    let control = proof::control(&made.setup);
    let motions = motions(made);
    let feeds: Vec<Motion> = motions.iter().filter(|motion| motion.kind == Kind::Feed).cloned().collect();
    let cells = Cells::square(FINE_MM);
    let grid = Grid::over(&made.setup.blank, cells);
    let cost = |motions: &[Motion], grid: Grid| {
        cheapest(9, || drop(carve(&[], motions, &made.setup, grid, |_| None::<()>))).as_secs_f64()
    };
    let prove = || drop(proof::prove(&program, &made.setup, &made.drawing, Some(cells)));
    let whole = cheapest(9, prove).as_secs_f64();
    let text = cheapest(9, || drop(run(&program, &control))).as_secs_f64();
    let begun = cost(&[], grid);
    let tables = cost(&feeds, Grid { rows: 8, ..grid });
    let cutting = cost(&feeds, grid) - tables - begun;
    let looking = cost(&motions, grid) - cutting - tables - begun;
    let plain = fill(rays_of(grid)).as_secs_f64();
    println!("\nwhat a proof at {FINE_MM} mm is made of, processor time of all threads");
    let rows = [
        ("one fill of as much memory, for comparison", plain),
        ("rows begun: the blank written", begun),
        ("tables: the sections of the passes", tables),
        ("cutting", cutting),
        ("gaps of rapids, shank and collet", looking),
        ("text read", text),
        ("rows read, sizes and motions judged", whole - looking - cutting - tables - begun - text),
        ("whole proof", whole),
    ];
    for (what, seconds) in rows {
        println!("{what:44} {:8.2} ms {:6.1} %", seconds * 1e3, 100.0 * seconds / whole);
    }
    let cuts = cuts_of_a_ray(made, &motions);
    println!(
        "a ray is cut {cuts:.2} times; a cut costs {:.2} ns, to fill a number {:.2} ns",
        cutting * 1e9 / (rays_of(grid) * cuts),
        plain * 1e9 / rays_of(grid)
    );
}

/// A square blank turned round by a straight cutter in a spiral, alone and before the thread.
fn shaping(made: &Made) {
    let mut setup: Setup = made.setup.clone();
    setup.blank.shape = BlankShape::Square;
    setup.cutter.included_angle_deg = 0.0;
    setup.cutter.cutting_diameter_mm = 12.0;
    let radius = setup.blank.size_mm / 2.0;
    let grid = Grid::over(&setup.blank, Cells::usual(&made.setup.cutter));
    let d = setup.machine.headstock.sign();
    let pose = |s_mm: f64, a_deg: f64| Pose {
        x_mm: setup.x_nose_mm + d * s_mm,
        y_mm: 0.0,
        z_mm: setup.z_axis_mm + radius,
        a_deg,
    };
    println!(
        "\nshaping: a square blank of {} mm turned round in a spiral of 8 mm, usual grid, processor time",
        setup.blank.size_mm
    );
    for (name, tip) in
        [("flat end", Tip::Flat { diameter_mm: 12.0 }), ("round end", Tip::Ball { radius_mm: 6.0 })]
    {
        setup.cutter.tip = tip;
        let (from, to) = (setup.blank.from_s_mm - 8.0, setup.blank.chuck_face_s_mm - 8.0);
        let spiral = [Motion {
            line: 1,
            span: 0..0,
            kind: Kind::Feed,
            path: Path::Straight,
            from: pose(from, 0.0),
            to: pose(to, 360.0 * (to - from) / 8.0),
            feed: 1.0,
            feed_mode: FeedMode::InverseTime,
            minutes: Some(1.0),
            turning: Turning::Clockwise,
            rpm: 16_000.0,
        }];
        let alone = cheapest(5, || drop(carve(&[], &spiral, &setup, grid, |_| None::<()>)));
        println!("{name:12} {alone:10.1?}");
    }
}

/// Memory of a thousand proofs in one process: pages in use after the first hundred and after all. What is allocated
/// does not rise at all (`tests/memory.rs`); what the system has handed out may a little.
fn batch() {
    let made = common::sample("sewing-frame");
    let program = Source::new("batch.nc", made.program.as_str());
    let pages = || std::fs::read_to_string("/proc/self/statm").ok()?.split(' ').nth(1)?.parse::<f64>().ok();
    let mut seen = Vec::new();
    for count in 1..=1000 {
        let proof = proof::prove(&program, &made.setup, &made.drawing, Some(Cells::square(0.4)));
        assert!(proof.proved(), "{:?}", proof.findings);
        if [100, 400, 700, 1000].contains(&count) {
            seen.extend(pages());
        }
    }
    let ratios: Vec<String> = seen.iter().map(|pages| format!("{:.3}", pages / seen[0])).collect();
    println!(
        "\npages in use after 100, 400, 700, 1000 proofs in one process, to those after 100: {}",
        ratios.join(" ")
    );
}
