//! What must hold of any text that is read as a program. The first two bytes of the data are the switches of the
//! machine, the rest is the text.

use std::sync::Arc;

use threadwright::finding::{Finding, Severity};
use threadwright::report;
use threadwright::rs274::{self, Control, Motion, Path, Pose, Run};
use threadwright::setup::{Dialect, DwellUnit, FeedConvention};
use threadwright::source::Source;
use threadwright::units::LengthUnit;

/// Findings of one kind that are listed, and the one that counts the rest.
const MOST_ALIKE: usize = 101;

/// Findings that are laid out: it takes longer than all the rest, and the first few reach every branch.
const MOST_SHOWN: usize = 4;

/// Longest line of the standard; blanks put between all characters of a line must not pass it.
const LONGEST_LINE: usize = 256;

/// Reads and follows the text and looks whether what comes out can be true.
pub(crate) fn check(data: &[u8]) {
    let Some((&[first, second], text)) = data.split_first_chunk::<2>() else { return };
    let control = control(first, second);
    let source = Source::new("any.nc", String::from_utf8_lossy(text));
    let run = rs274::run(&source, &control);
    is_sound(&run, &source, &control);
    let shown = &run.findings[..run.findings.len().min(MOST_SHOWN)];
    report::findings::render(shown, LengthUnit::Mm, second & 0x10 != 0);
    if control.dialect == Dialect::default() && !stopped(&run) {
        allowances_change_nothing(&run, &source, &control);
    }
    blanks_change_nothing(&run, &source, &control);
}

/// One bit a switch; `@` is the plain machine.
fn control(first: u8, second: u8) -> Control {
    Control {
        habits: rs274::Meaning::default(),
        dialect: Dialect {
            semicolon_comments: first & 1 != 0,
            long_line_numbers: first & 2 != 0,
            program_name: first & 4 != 0,
        },
        feed: match second & 3 {
            0 => FeedConvention::Linear,
            1 => FeedConvention::InverseTime,
            _ => FeedConvention::Combined,
        },
        unit: if second & 4 != 0 { LengthUnit::Inch } else { LengthUnit::Mm },
        dwell: if second & 8 != 0 { DwellUnit::Milliseconds } else { DwellUnit::Seconds },
        hand_spindle: first & 16 != 0,
        block_delete: first & 8 != 0,
        start: Pose { z_mm: 10.0, ..Pose::default() },
    }
}

fn stopped(run: &Run) -> bool {
    run.findings.iter().any(|finding| finding.severity == Severity::Stop)
}

fn is_sound(run: &Run, source: &Arc<Source>, control: &Control) {
    assert!(run.motions.len() <= source.line_count(), "a line gives one motion at most");
    let mut at = control.start;
    let mut line = 0;
    for motion in &run.motions {
        assert_eq!(motion.from, at, "motions follow each other");
        assert!(line < motion.line, "in the order of the text");
        assert_eq!(source.line_span(motion.line), motion.span, "each is its line");
        assert!(is_finite(motion), "{motion:?}");
        assert!(motion.minutes.is_none_or(|minutes| minutes >= 0.0 && minutes.is_finite()), "{motion:?}");
        (at, line) = (motion.to, motion.line);
    }
    for finding in &run.findings {
        is_told(finding, source);
        let alike = run.findings.iter().filter(|other| other.code == finding.code).count();
        assert!(alike <= 2 * MOST_ALIKE, "{alike} findings of one kind");
    }
    assert!(run.dwell_minutes >= 0.0, "{}", run.dwell_minutes);
}

fn is_finite(motion: &Motion) -> bool {
    let Pose { x_mm, y_mm, z_mm, a_deg } = motion.to;
    let arc = match motion.path {
        Path::Straight => 0.0,
        Path::Arc(arc) => arc.radius_mm + arc.sweep_deg + arc.centre_mm[0] + arc.centre_mm[1],
    };
    [x_mm, y_mm, z_mm, a_deg, arc, motion.feed, motion.rpm].iter().all(|number| number.is_finite())
}

/// A finding has its place in the text, its sentence and its way out.
fn is_told(finding: &Finding, source: &Arc<Source>) {
    assert!(!finding.message.is_empty() && finding.help.is_some(), "{finding:?}");
    let marks = finding.mark.iter().chain(finding.also.iter().map(|(mark, _)| mark));
    for mark in marks {
        assert!(source.text().get(mark.span.clone()).is_some(), "{finding:?}");
        assert!(mark.text().lines().count() <= 1, "a mark stays on its line: {finding:?}");
    }
    assert!(finding.mark.is_some(), "{finding:?}");
}

/// A program of the standard means the same to a machine that allows more.
fn allowances_change_nothing(run: &Run, source: &Arc<Source>, control: &Control) {
    let dialect = Dialect { semicolon_comments: true, long_line_numbers: true, program_name: true };
    let allowed = rs274::run(source, &Control { dialect, ..*control });
    assert_eq!(run.motions, allowed.motions);
}

/// Blanks mean nothing outside comments (NISTIR 6556 section 3.3).
fn blanks_change_nothing(run: &Run, source: &Arc<Source>, control: &Control) {
    if (1..=source.line_count()).any(|line| LONGEST_LINE < 2 * source.line_span(line).len()) {
        return;
    }
    let mut text = String::new();
    let mut in_comment = false;
    for character in source.text().chars() {
        match character {
            '(' => in_comment = true,
            ')' | '\n' | '\r' => in_comment = false,
            _ => {}
        }
        text.push(character);
        // Not at the start of a line: a slash must stay its first character.
        if !in_comment && !matches!(character, '\n' | '\r') {
            text.push(if character == 'X' { '\t' } else { ' ' });
        }
    }
    let spread = rs274::run(&Source::new("spread.nc", text), control);
    let same = |one: &Motion, other: &Motion| {
        Motion { span: 0..0, ..one.clone() } == Motion { span: 0..0, ..other.clone() }
    };
    assert_eq!(run.motions.len(), spread.motions.len());
    assert!(run.motions.iter().zip(&spread.motions).all(|(one, other)| same(one, other)));
    assert_eq!(stopped(run), stopped(&spread));
}
