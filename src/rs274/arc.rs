//! Finds centre and sweep of an arc from the words that give it. Lengths in mm; a plane has a first and a second
//! axis, and counter-clockwise is seen from the positive end of its third.

use super::motion::{Arc, Plane};

/// An arc that cannot be run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Misfit {
    /// Start and end lie at these distances from the centre, mm.
    RadiiDiffer(f64, f64),
    /// The radius is below half the way to the end, mm.
    RadiusSmall(f64),
    /// The radius form cannot say where a full circle lies.
    EndsAtStart,
}

/// How the words give an arc.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Form {
    /// Way from the start to the centre along the plane's axes, mm.
    Centre([f64; 2]),
    /// Radius, mm; negative for the longer way round.
    Radius(f64),
}

/// Rounding that a sum of binary numbers brings, so that a half circle written as one is taken for one. The size
/// that the report's companion program uses (from memory).
const TINY: f64 = 1e-12;

/// The arc from `start` to `end` in a plane (NISTIR 6556 section 3.5.3).
///
/// `radii_within_mm` is how far the distances of start and end from the centre may differ.
///
/// # Errors
/// [`Misfit`] where the words give no arc.
pub(super) fn arc(
    plane: Plane,
    start: [f64; 2],
    end: [f64; 2],
    form: Form,
    clockwise: bool,
    radii_within_mm: f64,
) -> Result<Arc, Misfit> {
    let centre_mm = match form {
        Form::Centre(offset) => [start[0] + offset[0], start[1] + offset[1]],
        Form::Radius(radius) => centre_by_radius(start, end, radius, clockwise)?,
    };
    let from = [start[0] - centre_mm[0], start[1] - centre_mm[1]];
    let to = [end[0] - centre_mm[0], end[1] - centre_mm[1]];
    let (radius_mm, end_radius) = (from[0].hypot(from[1]), to[0].hypot(to[1]));
    if radii_within_mm < (radius_mm - end_radius).abs() {
        return Err(Misfit::RadiiDiffer(radius_mm, end_radius));
    }
    if radius_mm <= TINY {
        return Err(Misfit::RadiusSmall(radius_mm));
    }
    let turn = to[1].atan2(to[0]) - from[1].atan2(from[0]);
    let ahead = (if clockwise { -turn } else { turn }).rem_euclid(std::f64::consts::TAU);
    // Start and end in the same place mean the full circle (NISTIR 6556 section 3.5.3.2).
    let full = start == end || ahead <= TINY;
    let sweep_deg = if full { 360.0 } else { ahead.to_degrees() };
    Ok(Arc { plane, centre_mm, radius_mm, sweep_deg: if clockwise { -sweep_deg } else { sweep_deg } })
}

/// Half of the chord and the height of a right triangle over it give the centre.
fn centre_by_radius(
    start: [f64; 2],
    end: [f64; 2],
    radius: f64,
    clockwise: bool,
) -> Result<[f64; 2], Misfit> {
    if start == end {
        return Err(Misfit::EndsAtStart);
    }
    let way = [end[0] - start[0], end[1] - start[1]];
    let half = way[0].hypot(way[1]) / 2.0;
    if half * (1.0 - TINY) > radius.abs() {
        return Err(Misfit::RadiusSmall(radius.abs()));
    }
    let height = (radius * radius - half * half).max(0.0).sqrt();
    // Clockwise by the short way has its centre on the right of the way; each change of mind swaps the side.
    let side = if clockwise == (radius > 0.0) { 1.0 } else { -1.0 };
    let right = [way[1] / (2.0 * half), -way[0] / (2.0 * half)];
    Ok([
        f64::midpoint(start[0], end[0]) + side * height * right[0],
        f64::midpoint(start[1], end[1]) + side * height * right[1],
    ])
}

#[cfg(test)]
mod tests {
    use super::*;

    const WITHIN: f64 = 0.002;

    #[test]
    fn a_radius_finds_the_centre_of_the_worked_example() {
        // NISTIR 6556 table 10: from X3 Y1 clockwise to X0 Y1 with R7.01.
        let arc = arc(Plane::Xy, [3.0, 1.0], [0.0, 1.0], Form::Radius(7.01), true, WITHIN).unwrap();
        assert!((arc.centre_mm[0] - 1.5).abs() < 1e-9 && (arc.centre_mm[1] - 7.8476).abs() < 5e-5, "{arc:?}");
        assert!(arc.sweep_deg > -180.0 && arc.sweep_deg < 0.0);
    }

    #[test]
    fn the_four_ways_by_radius() {
        for (radius, clockwise, centre, sweep) in [
            (5.0_f64.sqrt(), true, [1.0, -2.0], -53.130_102_354_155_98),
            (5.0_f64.sqrt(), false, [1.0, 2.0], 53.130_102_354_155_98),
            (-(5.0_f64.sqrt()), true, [1.0, 2.0], -306.869_897_645_844),
            (-(5.0_f64.sqrt()), false, [1.0, -2.0], 306.869_897_645_844),
        ] {
            let arc =
                arc(Plane::Xy, [0.0, 0.0], [2.0, 0.0], Form::Radius(radius), clockwise, WITHIN).unwrap();
            let off = (arc.centre_mm[0] - centre[0]).abs() + (arc.centre_mm[1] - centre[1]).abs();
            assert!(off < 1e-9 && (arc.sweep_deg - sweep).abs() < 1e-9, "{radius} {clockwise}: {arc:?}");
        }
    }
}
