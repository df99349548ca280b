//! The proof's own promises: figures as sure as stated on every grid, the same figures however a program is written,
//! and wood that a dry run leaves alone.

#[allow(dead_code, reason = "each test binary uses its own part of it")]
mod common;

use std::fmt::Write;

use common::Made;
use threadwright::finding::{Severity, proof as code};
use threadwright::proof::{self, Proof};
use threadwright::source::Source;
use threadwright::stock::Cells;

fn prove(made: &Made, program: &str, cells: Option<Cells>) -> Proof {
    proof::prove(&Source::new("trial.nc", program), &made.setup, &made.drawing, cells)
}

/// Cells that a figure may be unsure of, and no more.
const VAGUE_CELLS: f64 = 1.05;

/// Every figure lies as near the drawing, which a closed form made, as the proof says it is sure; on grids that differ
/// by a factor of eight.
#[test]
fn figures_are_as_sure_as_they_say_on_every_grid() {
    let mut wrong = Vec::new();
    for name in common::SAMPLES {
        let made = common::sample(name);
        // What the decimals of the text can move: a radius by half the last one, a diameter by all of it.
        let style = made.setup.machine.style;
        let text = 1.01 * style.unit.mm() * 10_f64.powi(-(style.decimals as i32));
        for width in [0.4, 0.2, 0.1, 0.05] {
            let proof = prove(&made, &made.program, Some(Cells::square(width)));
            let (m, u, d) = (&proof.measured, &proof.uncertainty, &made.drawing);
            let figures = [
                ("lead", m.lead_mm, u.lead_mm, d.lead_mm),
                ("lead error", m.lead_error_max_mm, u.lead_error_max_mm, 0.0),
                ("index error", m.index_error_max_deg, u.index_error_max_deg, 0.0),
                ("root", m.root_diameter_mm, u.root_diameter_mm, d.root_diameter_mm),
                ("root variation", m.root_variation_mm, u.root_variation_mm, 0.0),
                ("crest", m.crest_diameter_mm, u.crest_diameter_mm, d.crest_diameter_mm),
                ("crest flat", m.crest_flat_mm, u.crest_flat_mm, d.crest_flat_mm),
                ("form", m.form_error_max_mm, u.form_error_max_mm, 0.0),
                ("length", m.thread_length_mm, u.thread_length_mm, d.full_to_s_mm - d.full_from_s_mm),
            ];
            for (what, got, sure, want) in figures {
                let (Some(got), Some(sure)) = (got, sure) else {
                    wrong.push(format!("{name} at {width}: {what} is not measured"));
                    continue;
                };
                // A figure that is sure to no more than a cell says nothing; the end of the full thread is read turn by turn.
                let vague = !["index error", "length"].contains(&what) && sure > VAGUE_CELLS * width;
                if (got - want).abs() > sure + text || vague {
                    wrong.push(format!(
                        "{name} at {width}: {what} {got} not {want}, said to be sure to {sure}"
                    ));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// How fast X and A run at most, by the words of the program alone: under G93 a line takes one over F minutes (NISTIR 6556
/// section 3.5.19).
#[test]
fn speeds_are_those_of_the_words() {
    for name in common::SAMPLES {
        let made = common::sample(name);
        if !made.program.lines().any(|line| line == "G93") {
            continue;
        }
        let inch = made.program.lines().any(|line| line == "G20");
        let (mut at, mut most) = ([0.0_f64; 2], [0.0_f64; 2]);
        for line in made.program.lines().filter(|line| line.starts_with('G')) {
            let word = |letter: char| -> Option<f64> {
                line.split(' ').find_map(|word| word.strip_prefix(letter))?.parse().ok()
            };
            let to = [word('X').unwrap_or(at[0]), word('A').unwrap_or(at[1])];
            if let (true, Some(f)) = (line.starts_with("G1 "), word('F')) {
                for axis in 0..2 {
                    most[axis] = most[axis].max((to[axis] - at[axis]).abs() * f);
                }
            }
            at = to;
        }
        let m = prove(&made, &made.program, None).measured;
        let x = most[0] * if inch { 25.4 } else { 1.0 };
        let near = |got: Option<f64>, want: f64| got.is_some_and(|got| (got / want - 1.0).abs() < 1e-9);
        assert!(near(m.x_rate_max_mm_per_min, x), "{name}: {:?} not {x}", m.x_rate_max_mm_per_min);
        assert!(near(m.a_rate_max_rpm, most[1] / 360.0), "{name}: {:?} not {}", m.a_rate_max_rpm, most[1]);
    }
}

/// Halving the cells quarters what the volume lacks, as two-dimensional trapezoids do on a surface with corners.
#[test]
fn halving_the_cells_at_least_halves_the_error_of_the_volume() {
    let made = common::sample("lying-press");
    let volume = |width: f64| {
        let proof = prove(&made, &made.program, Some(Cells::square(width)));
        proof.measured.removed_mm3.expect("wood is removed")
    };
    let finest = volume(0.03);
    let errors = [0.4, 0.2, 0.1].map(|width| (volume(width) - finest).abs());
    // The first is large enough to see, each later one at most half of the one before, or too small to matter.
    assert!(errors[0] > 1e-3, "{errors:?}");
    for pair in errors.windows(2) {
        assert!(pair[1] <= pair[0] / 2.0 || pair[1] < 1e-6 * finest, "{errors:?}");
    }
}

/// The same moves in pieces of some degrees, in absolute or incremental words, or with A shifted by G92.
#[derive(Clone, Copy)]
enum Style {
    Absolute,
    Incremental,
    Shifted,
}

/// Rewrites a program of the plain kind in another style.
fn rewritten(program: &str, piece_deg: f64, style: Style) -> String {
    let mut text = String::new();
    let mut at = [0.0_f64; 3];
    let mut written = [0.0_f64; 3];
    let mut shift = 0.0;
    let round = |value: f64| (value * 1e4).round() / 1e4;
    for line in program.lines() {
        let mut to = at;
        let (mut feed, mut motion) = (None, None);
        for word in line.split(' ').filter(|_| !line.starts_with('(')) {
            let value = word.get(1..).and_then(|number| number.parse::<f64>().ok());
            match (word.as_bytes().first(), value) {
                (Some(b'G'), Some(0.0 | 1.0)) => motion = Some(word),
                (Some(b'X'), Some(value)) => to[0] = value,
                (Some(b'Z'), Some(value)) => to[1] = value,
                (Some(b'A'), Some(value)) => to[2] = value,
                (Some(b'F'), Some(value)) => feed = Some(value),
                _ => {}
            }
        }
        let Some(motion) = motion else {
            let _ = writeln!(text, "{line}");
            continue;
        };
        let pieces = if motion == "G1" { ((to[2] - at[2]).abs() / piece_deg).ceil().max(1.0) } else { 1.0 };
        for piece in 1..=pieces as usize {
            let share = piece as f64 / pieces;
            let target = [0, 1, 2].map(|i| round(at[i] + (to[i] - at[i]) * share));
            let mut words = String::from(motion);
            for (i, letter) in ["X", "Z", "A"].into_iter().enumerate() {
                if target[i] != written[i] {
                    let value = match style {
                        Style::Incremental if motion == "G1" => target[i] - written[i],
                        Style::Absolute | Style::Incremental => target[i],
                        Style::Shifted => target[i] - if i == 2 { shift } else { 0.0 },
                    };
                    let _ = write!(words, " {letter}{value:.4}");
                }
            }
            if let Some(feed) = feed {
                let _ = write!(words, " F{:.6}", feed * pieces);
            }
            written = target;
            let words = match style {
                Style::Incremental if words.len() > 2 && motion == "G1" => format!("G91 {words}"),
                Style::Incremental if words.len() > 2 => format!("G90 {words}"),
                _ => words,
            };
            if words.len() > 2 {
                let _ = writeln!(text, "{words}");
            }
        }
        at = to;
        if matches!(style, Style::Shifted) && shift == 0.0 && at[2] != 0.0 {
            shift = at[2];
            let _ = writeln!(text, "G92 A0");
        }
    }
    text
}

#[test]
fn a_program_of_another_structure_measures_the_same() {
    let made = common::sample("nipping-press");
    let plain = prove(&made, &made.program, None);
    for (what, style, piece) in [
        ("pieces of 5 degrees", Style::Absolute, 5.0),
        ("incremental pieces of 30 degrees", Style::Incremental, 30.0),
        ("A shifted by G92", Style::Shifted, 1e9),
    ] {
        let text = rewritten(&made.program, piece, style);
        let proof = prove(&made, &text, None);
        // In short pieces F is so large that a control which passes over G93 would run away: that is worth a note.
        let heavy = proof.findings.iter().find(|finding| finding.severity > Severity::Note);
        assert!(heavy.is_none(), "{what}: {heavy:?}");
        if matches!(style, Style::Absolute) {
            assert!(proof.motions > 5000, "{what}: only {} motions", proof.motions);
        }
        let (a, b) = (&plain.measured, &proof.measured);
        let figures = [
            (a.lead_mm, b.lead_mm, 1e-3),
            (a.lead_error_max_mm, b.lead_error_max_mm, 2e-3),
            (a.index_error_max_deg, b.index_error_max_deg, 0.02),
            (a.root_diameter_mm, b.root_diameter_mm, 1e-3),
            (a.crest_flat_mm, b.crest_flat_mm, 2e-3),
            (a.thread_length_mm, b.thread_length_mm, 0.02),
            (a.form_error_max_mm, b.form_error_max_mm, 2e-3),
            (a.removed_mm3.map(f64::ln), b.removed_mm3.map(f64::ln), 1e-4),
        ];
        for (index, (plain, other, slack)) in figures.into_iter().enumerate() {
            let (plain, other) = (plain.expect("measured"), other.expect("measured"));
            assert!((plain - other).abs() <= slack, "{what}, figure {index}: {plain} and {other}");
        }
        assert_eq!((a.starts, a.hand), (b.starts, b.hand), "{what}");
        // Wood is booked to the line that cut it, however many lines there are.
        let booked: f64 = proof.loads.iter().map(|load| load.removed_mm3).sum();
        let removed = proof.measured.removed_mm3.expect("measured");
        assert!((booked - removed).abs() < 0.05 * removed, "{what}: {booked} of {removed}");
    }
}

/// The same moves lifted clear of the blank touch no wood.
#[test]
fn a_dry_run_touches_nothing() {
    for name in common::SAMPLES {
        let mut made = common::sample(name);
        let lift = made.setup.blank.size_mm / 2.0;
        // Lifting the axis of rotation out of the program's reach downwards is the same as lifting every Z.
        made.setup.z_axis_mm -= lift;
        made.setup.z_limits_mm[1] += 1e3;
        let proof = prove(&made, &made.program, None);
        assert!(proof.findings.iter().any(|finding| finding.code == &code::NOTHING_CUT), "{name}");
        assert_eq!(proof.measured.removed_mm3, Some(0.0), "{name}");
        assert!(proof.measured.rapid_clearance_min_mm.is_none_or(|gap| gap > 1.0), "{name}");
    }
}

/// A program may be written in a hundred thousand short moves along its helices and measures the same; one that shakes to
/// and fro in as many is told so at once instead of being carved for minutes.
#[test]
fn very_many_short_moves_get_an_answer() {
    let made = common::sample("standing-press");
    let whole = prove(&made, &made.program, None);
    let long = prove(&made, &common::chopped(&made, 100_000, 0.0), None);
    assert!(long.proved() && long.motions > 100_000, "{} moves", long.motions);
    let (a, b) = (whole.measured, long.measured);
    for (what, a, b) in [
        ("root", a.root_diameter_mm, b.root_diameter_mm),
        ("lead", a.lead_mm, b.lead_mm),
        ("crest flat", a.crest_flat_mm, b.crest_flat_mm),
    ] {
        let off = (a.expect(what) - b.expect(what)).abs();
        // The last decimal of the words, on a diameter twice.
        assert!(off < 2e-4, "{what}: {a:?} and {b:?}");
    }
    let shaken = prove(&made, &common::chopped(&made, 60_000, 0.02), None);
    let codes: Vec<&str> = shaken.findings.iter().map(|finding| finding.code.name).collect();
    assert!(codes.contains(&code::PATH_ANGULAR.name) && !shaken.proved(), "{codes:?}");
    common::examples::hold(|code| code == "path-angular", &shaken.findings);
}
