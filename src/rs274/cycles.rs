//! Drilling cycles and probing: both are checked and neither is followed. A screw is cut without them, and where a
//! probe stops nobody knows beforehand.

use super::call::Call;
use super::codes::{GGroup, Number};
use super::findings::Findings;
use super::formula::whole;
use super::modes::Modes;
use super::motion::{FeedMode, Plane, Pose, Turning};
use super::rules::say;
use crate::finding::program as code;
use crate::units::LengthUnit;

/// The shortest probing move: 0.01 inch (NISTIR 6556 section 3.5.9.1).
const SHORTEST_PROBE_MM: f64 = 0.254;

/// Checks a probing move and says that it is not followed.
pub(super) fn probe(call: &Call, modes: &Modes, from: &Pose, to: &Pose, findings: &mut Findings) {
    let way = (to.x_mm - from.x_mm).hypot(to.y_mm - from.y_mm).hypot(to.z_mm - from.z_mm);
    let wrong = if modes.feed_mode == FeedMode::InverseTime {
        Some("probing is not allowed under G93")
    } else if !b"XYZ".iter().any(|letter| call.given(*letter).is_some()) {
        Some("probing needs an X, Y or Z word")
    } else if to.a_deg != from.a_deg {
        Some("A may not turn while the probe moves")
    } else if way < SHORTEST_PROBE_MM {
        Some("a probing move is at least 0.254 mm long")
    } else {
        None
    };
    match wrong {
        Some(wrong) => say(call, GGroup::Motion, &code::PROBE_WRONG, findings, || {
            (wrong, "see NISTIR 6556 section 3.5.9.1, or leave probing out of the program")
        }),
        None => findings.say_once(&code::PROBE_UNKNOWN, call.g_span(GGroup::Motion), || {
            (
                "this move ends where the probe touches, which the program does not tell".to_owned(),
                "probe by hand before the program starts".to_owned(),
            )
        }),
    }
}

/// Checks a drilling cycle and says that it is not followed.
pub(super) fn cycle(
    call: &Call,
    cycle: Number,
    modes: &Modes,
    place: (&Pose, &Pose),
    unit: LengthUnit,
    findings: &mut Findings,
) {
    // A cycle in force repeats with what earlier lines gave it; only the line that names it must be complete.
    let wrong =
        call.g(GGroup::Motion).and_then(|_| fault(call, cycle, modes, place.0.a_deg != place.1.a_deg, unit));
    match wrong {
        Some(wrong) => say(call, GGroup::Motion, &code::CYCLE_WRONG, findings, || {
            (wrong, "see NISTIR 6556 section 3.5.16, or write the moves out with G0 and G1")
        }),
        None => findings.say_once(&code::CYCLE_NOT_FOLLOWED, call.g_span(GGroup::Motion), || {
            (
                "drilling cycles are not followed here".to_owned(),
                "write the moves out with G0 and G1".to_owned(),
            )
        }),
    }
}

fn fault(call: &Call, cycle: Number, modes: &Modes, a_turns: bool, unit: LengthUnit) -> Option<&'static str> {
    let depth_letter = match modes.plane {
        Plane::Xy => b'Z',
        Plane::Zx => b'Y',
        Plane::Yz => b'X',
    };
    let depth = call.word(depth_letter).map(|depth| depth * unit.mm());
    let clear = call.word(b'R').map(|clear| clear * unit.mm());
    let repeats = call.word(b'L');
    if !b"XYZ".iter().any(|letter| call.given(*letter).is_some()) {
        return Some("a cycle needs an X, Y or Z word");
    }
    if modes.feed_mode == FeedMode::InverseTime {
        return Some("cycles are not allowed under G93");
    }
    if a_turns {
        return Some("A may not turn in a cycle");
    }
    match (depth, clear) {
        (None, _) => return Some("the cycle has no depth"),
        (_, None) => return Some("the cycle has no R word"),
        (Some(depth), Some(clear)) if clear < depth => return Some("R lies below the depth of the cycle"),
        _ => {}
    }
    if repeats.is_some_and(|repeats| !whole(repeats).is_some_and(|repeats| repeats >= 1.0)) {
        return Some("L is a whole number of one or more");
    }
    match cycle {
        830 if !call.word(b'Q').is_some_and(|step| step > 0.0) => Some("G83 needs a Q word above zero"),
        820 | 860 | 880 | 890 if !call.word(b'P').is_some_and(|pause| pause >= 0.0) => {
            Some("the cycle needs a P word of zero or more")
        }
        840 if modes.turning != Turning::Clockwise => Some("G84 needs the spindle turning clockwise"),
        860..=880 if modes.turning == Turning::Stopped => Some("the cycle needs a turning spindle"),
        _ => None,
    }
}
