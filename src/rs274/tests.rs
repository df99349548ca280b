//! Tests of the whole room: another reader must agree, blanks and case must not matter, and no text may break it.

use std::fmt::Write;

use proptest::prelude::*;

use super::program::Value;
use super::*;
use crate::finding::{Severity, program as code};
use crate::source::Source;

fn control() -> Control {
    Control {
        dialect: Dialect::default(),
        feed: FeedConvention::Linear,
        unit: LengthUnit::Mm,
        dwell: DwellUnit::Seconds,
        hand_spindle: false,
        habits: super::Meaning::default(),
        block_delete: false,
        start: Pose::default(),
    }
}

fn follow(text: &str) -> Run {
    run(&Source::new("test.nc", text), &control())
}

/// A program as a screw needs it: modes, lines of several words, modal lines, comments.
fn plain_program() -> String {
    let mut text =
        String::from("%\n(twenty passes)\nG21 G17 G90 G40 G49 G80\nG94\nS18000 M3\nG4 P2.5\nG0 Z60.\n");
    for pass in 0..20 {
        let x = f64::from(pass) * 1.37;
        writeln!(text, "N{} G0 X-{x:.3} A{:.4} (pass {pass})", pass * 10, f64::from(pass) * 719.123).unwrap();
        writeln!(text, "G1 Z{:.4} F{}", 32.5 - x / 3.0, 250 + pass).unwrap();
        writeln!(text, "X{:.4} A-{:.3}\n\nG0 Z+60", 200.0 - x, f64::from(pass) * 3600.5).unwrap();
    }
    text + "M5\nM30\n%\n"
}

/// Letters and numbers of a program in order, as this room reads them.
fn words(text: &str) -> Vec<(char, f64)> {
    let dialect = Dialect { semicolon_comments: true, long_line_numbers: true, program_name: false };
    let program = read(&Source::new("test.nc", text), dialect);
    assert!(program.findings().iter().all(|found| found.code == &code::DIALECT_USED), "{program:?}");
    let number = |value| match value {
        Value::Number(number) => number,
        Value::Formula(_) => f64::NAN,
    };
    program.words.iter().map(|word| (char::from(word.letter), number(word.value()))).collect()
}

/// The same as the `gcode` crate reads them. It keeps numbers in single precision, so they are read again from the text
/// that it points at.
fn words_of_another_reader(text: &str) -> Vec<(char, f64)> {
    let read_again = |letter: char, span: gcode::core::Span| {
        (span.start, letter, text[span.start + 1..span.end()].parse::<f64>().unwrap())
    };
    let mut found = Vec::new();
    for block in &gcode::parse(text).unwrap().blocks {
        found.extend(block.word_addresses.iter().map(|word| read_again(word.letter, word.span)));
        for code in &block.codes {
            let (letter, number, span, arguments) = match code {
                gcode::Code::General(code) => ('G', code.number, code.span, &code.args),
                gcode::Code::Miscellaneous(code) => ('M', code.number, code.span, &code.args),
                gcode::Code::ToolChange(code) => ('T', code.number, code.span, &code.args),
                other => panic!("a code of a kind that the program has not: {other:?}"),
            };
            found.push((span.start, letter, number.to_string().parse().unwrap()));
            found.extend(arguments.iter().map(|word| read_again(word.letter, word.span)));
        }
    }
    found.sort_by_key(|(at, ..)| *at);
    found.into_iter().map(|(_, letter, number)| (letter, number)).collect()
}

#[test]
fn another_reader_reads_the_same_words() {
    let text = plain_program();
    assert_eq!(words(&text), words_of_another_reader(&text));
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/faults");
    let mut programs = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|ending| ending == "nc") {
            // The other reader has no lines that the operator may skip.
            let text = std::fs::read_to_string(&path).unwrap().replace("\n/", "\n");
            assert_eq!(words(&text), words_of_another_reader(&text), "{}", path.display());
            programs += 1;
        }
    }
    assert!(30 < programs, "{programs}");
}

#[test]
fn positions_are_given_up_and_checking_goes_on() {
    let run = follow("G0 X1\nG1 X2 X3 F9\nG0 X4\nX5 X6\nG20\nM2\n");
    assert_eq!(run.motions.len(), 1);
    assert_eq!(run.lost_at_line, Some(2));
    assert_eq!(run.findings.iter().filter(|finding| finding.code == &code::WORD_TWICE).count(), 2);
    assert!(run.ended);
}

#[test]
fn a_move_without_feed_is_still_a_move() {
    let run = follow("G93 G1 X20 A360 F2\nX40 A720\nX60 F4\nM2\n");
    let minutes: Vec<_> = run.motions.iter().map(|motion| motion.minutes).collect();
    assert_eq!(minutes, [Some(0.5), None, Some(0.25)]);
    assert_eq!(run.findings.len(), 1);
    assert_eq!(run.lost_at_line, None);
    let run = follow("G1 X1\nX2\nX3 F10\nX4\nM2\n");
    assert_eq!(run.motions.iter().filter(|motion| motion.minutes.is_none()).count(), 2);
    assert_eq!(run.findings.len(), 1, "told once, not on every line");
}

#[test]
fn the_unit_counts_only_when_set_before_the_first_motion() {
    assert_eq!(follow("G0 X1\nG20\nM2").unit_set, None);
    assert_eq!(follow("G20\nG0 X1\nM2").unit_set, Some(LengthUnit::Inch));
    assert_eq!(follow("G21\nG20 G0 X1\nM2").unit_set, Some(LengthUnit::Inch));
}

#[test]
fn an_open_wrapper_weighs_less_after_an_end_word() {
    let weight = |text: &str| follow(text).findings[0].severity;
    assert_eq!(weight("%\nG0 X1\n"), Severity::Stop);
    assert_eq!(weight("%\nG0 X1\nM2\n"), Severity::Care);
}

#[test]
fn hopeless_texts_are_answered() {
    let long = "9".repeat(10_000_000);
    let nested = format!("G0 X{}1{}\nM2\n", "[".repeat(10_000), "]".repeat(10_000));
    for (text, lines) in [
        (format!("G0 X{long}\nM2\n"), 1),
        (format!("({long}\nM2\n"), 1),
        (nested, 1),
        ("\0".repeat(1_000_000), 1),
        ("\0\n".repeat(100_000), 100),
        ("G1 X1 X2 @\r".repeat(100_000), 200),
        ("%\n".repeat(50_000), 0),
        ("#".repeat(200) + "1=1\n", 1),
        ("\u{feff}".repeat(50_000), 1),
        ("M2\n".repeat(50_000), 0),
    ] {
        let run = follow(&text);
        // Beside what is told of the lines: a missing end, text after the end, how many more there are.
        assert!((lines..=lines + 4).contains(&run.findings.len()), "{:.20}: {}", text, run.findings.len());
    }
}

/// A program of some megabytes with each kind of line end; benches/reader.rs takes one of any length. On a machine that
/// does other things as well it takes part of a second; what is not linear in its length would take minutes.
#[test]
fn long_programs_are_followed_to_the_end() {
    for end in ["\n", "\r\n", "\r"] {
        let clock = std::time::Instant::now();
        let text = format!("G0 X1 A2.5 Z-3.125{end}(pass){end}").repeat(100_000) + "M2";
        let run = follow(&text);
        assert_eq!(run.motions.len(), 100_000);
        assert_eq!(run.motions.last().unwrap().line, 199_999);
        assert!(run.findings.is_empty() && run.ended);
        assert!(clock.elapsed().as_secs() < 60, "{:?}", clock.elapsed());
    }
}

#[test]
fn what_is_not_listed_is_counted() {
    let run = follow(&("@\n".repeat(250) + "M2\n" + &"@\n".repeat(50)));
    let more = run.findings.iter().find(|finding| finding.code == &code::MORE_ALIKE).unwrap();
    assert_eq!(more.mark.as_ref().unwrap().line_column().0, 101);
    assert_eq!(run.findings.iter().filter(|finding| finding.code == &code::CHARACTER_ODD).count(), 100);
}

#[test]
fn numbers_beyond_all_numbers_lose_the_place() {
    let run = follow("G20 G0 X[10**308]\nM2\n");
    assert_eq!(run.findings[0].code, &code::VALUE_IMPOSSIBLE);
    assert_eq!((run.motions.len(), run.lost_at_line), (0, Some(1)));
}

/// Text that looks like a program more often than not.
fn near_programs() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        6 => "[GMXYZAFSTPRIJKLNHDQ][-+]?[0-9]{1,4}(\\.[0-9]{0,3})?",
        2 => "G(0|1|2|3|4|17|18|19|20|21|28|53|54|80|81|90|91|92|93|94)",
        1 => "[ \t\r\n]{1,3}",
        1 => "(#[0-9]{1,4}=?|\\[|\\]|\\(|\\)|%|/|;|\\*\\*|MOD|SIN\\[|ATAN\\[1\\]/\\[2\\])",
        1 => "[\\PC\u{0}\u{feff}]{1,3}",
        2 => Just("\n".to_owned()),
        2 => Just(" ".to_owned()),
    ];
    proptest::collection::vec(piece, 0..60).prop_map(|pieces| pieces.concat())
}

/// A line of a plain program: words of different letters, numbers in every form that both readers take.
fn plain_lines() -> impl Strategy<Value = String> {
    let number = "[-+]?([0-9]{1,5}|[0-9]{1,5}\\.[0-9]{0,4}|\\.[0-9]{1,4})";
    let words = proptest::sample::subsequence(b"ABCFIJKPQRSXYZ".to_vec(), 0..7).prop_shuffle();
    let code = "((N[0-9]{1,5} ?)?(G(0|01|2|3|4|17|38\\.2|59\\.3|80|90|92\\.1)|M(0|3|05|8|30)))?";
    (code, words, proptest::collection::vec(number, 7), "( |  |\t)?", "( ?\\([a-z ]{0,9}\\))?").prop_map(
        |(code, letters, numbers, gap, comment)| {
            let words = letters.iter().zip(&numbers);
            let words: Vec<String> =
                words.map(|(letter, number)| format!("{gap}{}{number}", char::from(*letter))).collect();
            format!("{code}{}{comment}\n", words.concat())
        },
    )
}

proptest! {
    // A failure becomes a case in tests/standard, where it can be read.
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_text_breaks_it_and_every_mark_is_text(text in near_programs()) {
        let source = Source::new("test.nc", text.as_str());
        for block_delete in [false, true] {
            let control = Control { block_delete, ..control() };
            let run = run(&source, &control);
            // Line by line it is the same as in two steps.
            let in_two_steps = execute(&read(&source, control.dialect), &control);
            prop_assert_eq!(format!("{run:?}"), format!("{in_two_steps:?}"));
            for finding in &run.findings {
                let mark = finding.mark.as_ref().unwrap();
                prop_assert!(text.get(mark.span.clone()).is_some(), "{:?}", finding);
            }
            for motion in &run.motions {
                let to = motion.to;
                prop_assert!([to.x_mm, to.y_mm, to.z_mm, to.a_deg].iter().all(|word| word.is_finite()));
                prop_assert!(motion.minutes.is_none_or(|minutes| minutes.is_finite() && minutes >= 0.0));
            }
        }
    }

    #[test]
    fn another_reader_reads_the_same_words_of_any_plain_program(
        lines in proptest::collection::vec(plain_lines(), 1..30)
    ) {
        let text = lines.concat();
        prop_assert_eq!(words(&text), words_of_another_reader(&text), "{}", text);
    }

    /// The same path in mm, in inches, in steps, and with every axis shifted by G92.
    #[test]
    fn a_path_written_in_other_ways_is_the_same_path(
        points in proptest::collection::vec((-800..800_i32, -800..800_i32, -90_000..90_000_i32), 1..20)
    ) {
        let mut ways = [const { String::new() }; 4];
        ways[0] += "G21\n";
        ways[1] += "G20\n";
        ways[2] += "G21 G91\n";
        ways[3] += "G21\nG92 X7 Z-3 A90\n";
        let mut at = [0.0; 3];
        for (x, z, a) in points {
            let to = [f64::from(x) / 8.0, f64::from(z) / 8.0, f64::from(a) / 8.0];
            let word = |way: &mut String, numbers: [f64; 3]| {
                writeln!(way, "G0 X{:.12} Z{:.12} A{:.12}", numbers[0], numbers[1], numbers[2]).unwrap();
            };
            word(&mut ways[0], to);
            word(&mut ways[1], [to[0] / 25.4, to[1] / 25.4, to[2]]);
            word(&mut ways[2], [to[0] - at[0], to[1] - at[1], to[2] - at[2]]);
            word(&mut ways[3], [to[0] + 7.0, to[1] - 3.0, to[2] + 90.0]);
            at = to;
        }
        let [first, others @ ..] = ways.map(|way| follow(&(way + "M2\n")));
        for other in others {
            prop_assert!(other.findings.is_empty());
            prop_assert_eq!(other.motions.len(), first.motions.len());
            for (one, two) in first.motions.iter().zip(&other.motions) {
                let apart = (one.to.x_mm - two.to.x_mm).abs()
                    + (one.to.z_mm - two.to.z_mm).abs()
                    + (one.to.a_deg - two.to.a_deg).abs();
                prop_assert!(apart < 1e-9, "{one:?} {two:?}");
            }
        }
    }

    /// Blanks mean nothing outside comments, nor does the size of letters (NISTIR 6556 section 3.3).
    #[test]
    fn blanks_and_small_letters_change_nothing(gaps in proptest::collection::vec(0..12_usize, 1..40)) {
        let text = plain_program();
        let mut spread = String::new();
        let (mut gap, mut in_comment) = (0, false);
        for (at, c) in text.chars().enumerate() {
            in_comment = c == '(' || (in_comment && c != ')');
            spread.push(if at % 3 == 0 { c.to_ascii_lowercase() } else { c });
            gap += 1;
            if !in_comment && gap >= gaps[at % gaps.len()] && c != '%' {
                spread.push(if at % 2 == 0 { ' ' } else { '\t' });
                gap = 0;
            }
        }
        prop_assert_eq!(words(&spread), words(&text));
    }
}
