//! From the words of an arc to its shape, or to what is wrong with them.

use super::arc::{Form, Misfit, arc};
use super::call::Call;
use super::findings::Findings;
use super::motion::{Arc, Plane, Pose};
use crate::finding::program as code;
use crate::units::LengthUnit;

/// How far the distances of start and end from the centre may differ, mm (NISTIR 6556 section 3.5.3.2).
const RADII_WITHIN_MM: f64 = 0.002;

/// The same under G20, inches.
const RADII_WITHIN_INCH: f64 = 0.0002;

/// The axes of a plane and the letters of their centre offsets.
fn letters(plane: Plane) -> ([u8; 2], [u8; 2]) {
    match plane {
        Plane::Xy => (*b"XY", *b"IJ"),
        Plane::Zx => (*b"ZX", *b"KI"),
        Plane::Yz => (*b"YZ", *b"JK"),
    }
}

fn in_plane(plane: Plane, pose: &Pose) -> [f64; 2] {
    match plane {
        Plane::Xy => [pose.x_mm, pose.y_mm],
        Plane::Zx => [pose.z_mm, pose.x_mm],
        Plane::Yz => [pose.y_mm, pose.z_mm],
    }
}

/// The words of the arc in the order of the plane's axes.
///
/// `None` when they do not fit together, which is then told.
pub(super) fn form(call: &Call, plane: Plane, unit: LengthUnit, findings: &mut Findings) -> Option<Form> {
    let (ends, offsets) = letters(plane);
    let given = |letter: &u8| call.given(*letter).is_some();
    let outside = b"IJK".iter().find(|letter| !offsets.contains(letter) && given(letter));
    let (radius, has_centre) = (call.word(b'R'), offsets.iter().any(given));
    let (kind, message, help) = if radius.is_some() && b"IJK".iter().any(given) {
        (
            &code::ARC_FORMS_MIXED,
            "the arc has both a radius and a centre".to_owned(),
            "keep either R or the centre offsets (NISTIR 6556 section 3.5.3)",
        )
    } else if let Some(letter) = outside {
        (
            &code::ARC_LETTER_WRONG,
            format!("{} is no centre offset in this plane", char::from(*letter)),
            "the offsets are I J under G17, I K under G18 and J K under G19 (NISTIR 6556 section 3.5.3.2)",
        )
    } else if !ends.iter().any(given) {
        (
            &code::ARC_END_MISSING,
            format!("the arc has neither a {} nor a {} word", char::from(ends[0]), char::from(ends[1])),
            "give its end in its plane; for a full circle repeat where it starts (NISTIR 6556 section 3.5.3)",
        )
    } else if let Some(radius) = radius {
        return Some(Form::Radius(radius * unit.mm()));
    } else if has_centre {
        return Some(Form::Centre(offsets.map(|letter| call.word(letter).unwrap_or(0.0) * unit.mm())));
    } else {
        (
            &code::ARC_CENTRE_MISSING,
            "the arc has neither a centre nor a radius".to_owned(),
            "add centre offsets or R (NISTIR 6556 section 3.5.3)",
        )
    };
    findings.say(kind, call.span.clone(), || (message, help.to_owned()));
    None
}

/// The arc between two places; `None` when there is none, which is then told.
pub(super) fn shape(
    call: &Call,
    plane: Plane,
    (from, to): (&Pose, &Pose),
    form: Form,
    clockwise: bool,
    unit: LengthUnit,
    findings: &mut Findings,
) -> Option<Arc> {
    let within_mm = match unit {
        LengthUnit::Mm => RADII_WITHIN_MM,
        LengthUnit::Inch => RADII_WITHIN_INCH * unit.mm(),
    };
    let misfit = match arc(plane, in_plane(plane, from), in_plane(plane, to), form, clockwise, within_mm) {
        Ok(arc) => return Some(arc),
        Err(misfit) => misfit,
    };
    let (kind, message, help) = match misfit {
        Misfit::RadiiDiffer(start_mm, end_mm) => (
            &code::ARC_RADII_DIFFER,
            format!("the arc starts {start_mm:.4} mm from its centre and ends {end_mm:.4} mm from it"),
            "correct the end or the centre: they may differ by 0.002 mm or 0.0002 in (NISTIR 6556 section 3.5.3.2)",
        ),
        Misfit::RadiusSmall(radius_mm) => (
            &code::ARC_RADIUS_SMALL,
            format!("a radius of {radius_mm:.4} mm cannot reach the end of the arc"),
            "make R at least half the distance from start to end; a centre never lies on the start",
        ),
        Misfit::EndsAtStart => (
            &code::ARC_ENDS_AT_START,
            "an arc given by R ends where it starts".to_owned(),
            "use centre offsets for a full circle (NISTIR 6556 section 3.5.3.1)",
        ),
    };
    let finding = findings.say(kind, call.span.clone(), || (message, help.to_owned()));
    if let (Some(finding), Misfit::RadiiDiffer(start_mm, end_mm)) = (finding, misfit) {
        (finding.value, finding.wanted) = (Some(end_mm), Some(start_mm));
    }
    None
}
