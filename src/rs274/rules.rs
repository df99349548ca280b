//! Which codes and words go together in one line, and which motion a line runs. Only what can be told without knowing
//! where the axes stand.

use super::call::{Call, out_of_range};
use super::codes::{GGroup, Number};
use super::findings::Findings;
use super::formula::whole;
use super::modes::{Compensation, Modes};
use super::motion::Plane;
use crate::finding::{Code, program as code};

/// Number of coordinate systems (NISTIR 6556 section 3.5.13).
const LAST_SYSTEM: f64 = 9.0;

/// The motion that a line runs, after every rule was held against it. `None` where nothing moves or nothing can, and
/// where something was wrong with the line before.
///
/// `before` is what held before the line; `incremental` is whether G91 holds in it.
pub(super) fn check(
    call: &mut Call,
    before: &Modes,
    incremental: bool,
    findings: &mut Findings,
) -> Option<Number> {
    // What was told about the line already may be all there is to it.
    if call.unsure {
        return None;
    }
    compensation(call, before, findings);
    companions(call, findings);
    if call.unsure {
        return None;
    }
    let motion = motion(call, before, incremental, findings);
    unused(call, motion.or(call.g(GGroup::Motion)), findings);
    unknown_axes(call, findings);
    motion
}

/// Codes of the non-modal group that take the axis words for themselves (NISTIR 6556 section 3.4).
fn takes_axes(special: Option<Number>) -> bool {
    matches!(special, Some(100 | 280 | 300 | 920))
}

fn motion(call: &mut Call, before: &Modes, incremental: bool, findings: &mut Findings) -> Option<Number> {
    let (named, special) = (call.g(GGroup::Motion), call.g(GGroup::NonModal));
    let has_axes = call.has_axes();
    if takes_axes(special) {
        if !has_axes || matches!(named, None | Some(800)) {
            return None;
        }
        call.unsure = true;
        say(call, GGroup::Motion, &code::AXIS_SHARED, findings, || {
            (
                "two codes in this line both want the axis words",
                "put them on lines of their own (NISTIR 6556 section 3.4)",
            )
        });
        return None;
    }
    let motion = match named {
        Some(800) => None,
        Some(named) => Some(named),
        None if has_axes => before.motion,
        None if special == Some(530) => None,
        None => return None,
    };
    if special == Some(530) {
        let straight = matches!(motion, Some(0 | 10));
        if !straight || !has_axes || incremental {
            call.unsure |= has_axes;
            say(call, GGroup::NonModal, &code::MACHINE_ZERO_WRONG, findings, || {
                (
                    "G53 cannot hold here",
                    "it needs G0 or G1, G90 and an axis word in its line (NISTIR 6556 section 3.5.12)",
                )
            });
            return None;
        }
    }
    match motion {
        None if has_axes => {
            call.unsure = true;
            if named.is_none() && before.motion_told {
                return None;
            }
            let span = call.first_axis().map_or(call.span.clone(), |given| given.span.clone());
            let word = findings.text(span.clone()).to_owned();
            findings.say(&code::MOTION_MISSING, span, || {
                (
                    format!("{word} moves nothing: no motion is in force"),
                    "write G0 or G1 before the axis words (NISTIR 6556 section 3.5.15)".to_owned(),
                )
            });
            None
        }
        Some(0 | 10) if !has_axes => {
            say(call, GGroup::Motion, &code::AXIS_MISSING, findings, || {
                (
                    "this motion has no axis word",
                    "add where to go, such as X10, or take the code out (NISTIR 6556 section 3.5.1)",
                )
            });
            None
        }
        motion => motion,
    }
}

/// Words that the codes of the line need besides themselves.
fn companions(call: &mut Call, findings: &mut Findings) {
    match call.g(GGroup::NonModal) {
        Some(40) => {
            if let Some(pause) =
                needed(call, GGroup::NonModal, b'P', "the time (NISTIR 6556 section 3.5.4)", findings)
                && pause < 0.0
            {
                wrong(call, b'P', "zero or more (NISTIR 6556 section 3.5.4)", findings);
            }
        }
        Some(100) => {
            let level = needed(call, GGroup::NonModal, b'L', "2 (NISTIR 6556 section 3.5.5)", findings);
            let system = needed(
                call,
                GGroup::NonModal,
                b'P',
                "the number of the origin (NISTIR 6556 section 3.5.5)",
                findings,
            );
            let level_right = level.is_some_and(|level| whole(level) == Some(2.0));
            let system_right =
                system.and_then(whole).is_some_and(|system| (1.0..=LAST_SYSTEM).contains(&system));
            if !level_right {
                wrong(call, b'L', "2 with G10 (NISTIR 6556 section 3.5.5)", findings);
            }
            if !system_right {
                wrong(
                    call,
                    b'P',
                    "a whole number from 1 to 9 with G10 (NISTIR 6556 section 3.5.5)",
                    findings,
                );
            }
            call.unsure |= !level_right || !system_right;
        }
        Some(920) if !call.has_axes() => {
            say(call, GGroup::NonModal, &code::AXIS_MISSING, findings, || {
                (
                    "G92 has no axis word",
                    "add what the axes shall read, such as A0 (NISTIR 6556 section 3.5.18)",
                )
            });
        }
        _ => {}
    }
    if call.g(GGroup::Length) == Some(430) && !call.slot_wrong {
        needed(call, GGroup::Length, b'H', "the tool length (NISTIR 6556 section 3.5.11)", findings);
    }
}

/// The value of a word that a code needs.
fn needed(call: &Call, group: GGroup, letter: u8, what: &str, findings: &mut Findings) -> Option<f64> {
    let value = call.word(letter);
    if value.is_none() {
        let span = call.g_span(group);
        let (name, asking) = (char::from(letter), findings.text(span.clone()).to_owned());
        findings.say(&code::WORD_MISSING, span, || {
            (format!("{asking} has no {name} word"), format!("add {name} and {what}"))
        });
    }
    value
}

fn wrong(call: &Call, letter: u8, wanted: &str, findings: &mut Findings) {
    if let Some(given) = call.given(letter) {
        out_of_range(findings, letter, given.value, given.span.clone(), wanted);
    }
}

/// Where radius compensation may be switched, and what may not stand beside it (NISTIR 6556 sections 3.5.10 and
/// 3.5.13, appendix B.5).
fn compensation(call: &mut Call, before: &Modes, findings: &mut Findings) {
    let switched_on = matches!(call.g(GGroup::Radius), Some(410 | 420));
    let plane = call.g(GGroup::Plane);
    let on = before.compensation != Compensation::Off;
    let in_xy = match plane {
        Some(plane) => plane == 170,
        None => before.plane == Plane::Xy,
    };
    if switched_on && (on || !in_xy) {
        call.unsure = true;
        say(call, GGroup::Radius, &code::COMPENSATION_WRONG, findings, || {
            if on {
                (
                    "radius compensation is on already",
                    "switch it off with G40 first (NISTIR 6556 section 3.5.10)",
                )
            } else {
                (
                    "radius compensation works in the plane G17 only",
                    "write G17 first (NISTIR 6556 section 3.5.10)",
                )
            }
        });
    }
    if !on {
        return;
    }
    let group = match (call.g(GGroup::NonModal), call.g(GGroup::Motion)) {
        (Some(100 | 280 | 300 | 530 | 920..=923), _) => GGroup::NonModal,
        (_, Some(382)) => GGroup::Motion,
        _ if call.g(GGroup::Units).is_some() => GGroup::Units,
        _ if call.g(GGroup::Coordinates).is_some() => GGroup::Coordinates,
        _ if matches!(plane, Some(180 | 190)) => GGroup::Plane,
        _ => return,
    };
    call.unsure = true;
    say(call, group, &code::COMPENSATION_WRONG, findings, || {
        (
            "this code may not be used while radius compensation is on",
            "switch it off with G40 first (NISTIR 6556 section 3.5.13 and appendix B.5)",
        )
    });
}

/// Words that no code of the line uses.
fn unused(call: &Call, motion: Option<Number>, findings: &mut Findings) {
    let special = call.g(GGroup::NonModal);
    let arc = matches!(motion, Some(20 | 30));
    let cycle = matches!(motion, Some(810..=890));
    for letter in *b"DHIJKLPQR" {
        let used = match letter {
            b'D' => matches!(call.g(GGroup::Radius), Some(410 | 420)),
            b'H' => call.g(GGroup::Length) == Some(430),
            b'I' | b'J' | b'K' => arc || motion == Some(870),
            b'L' => cycle || special == Some(100),
            b'P' => matches!(special, Some(40 | 100)) || matches!(motion, Some(820 | 860 | 880 | 890)),
            b'Q' => motion == Some(830),
            _ => arc || cycle,
        };
        let Some(given) = call.given(letter).filter(|_| !used) else { continue };
        let word = findings.text(given.span.clone()).to_owned();
        let smooth = letter == b'P' && call.g(GGroup::PathMode).is_some();
        findings.say(&code::WORD_UNUSED, given.span.clone(), || {
            let help = if smooth {
                "the standard gives G61 and G64 no tolerance: write G64 alone, and set how closely corners are kept at the control"
            } else {
                "take it out, or add the code that it belongs to (NISTIR 6556 table 3)"
            };
            (format!("{word} is used by no code of this line"), help.to_owned())
        });
    }
}

fn unknown_axes(call: &Call, findings: &mut Findings) {
    for given in b"BC".iter().filter_map(|letter| call.given(*letter)) {
        let word = findings.text(given.span.clone()).to_owned();
        findings.say(&code::AXIS_UNKNOWN, given.span.clone(), || {
            (
                format!("{word} moves an axis that this machine does not have"),
                "the machine has X, Y, Z and A; take the word out (NISTIR 6556 section 5.2)".to_owned(),
            )
        });
    }
}

/// Tells something about the code of a group.
pub(super) fn say(
    call: &Call,
    group: GGroup,
    kind: &'static Code,
    findings: &mut Findings,
    told: impl FnOnce() -> (&'static str, &'static str),
) {
    let (message, help) = told();
    findings.say(kind, call.g_span(group), || (message.to_owned(), help.to_owned()));
}
