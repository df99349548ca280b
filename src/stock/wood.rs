//! The wood before the cut: how far it reaches from the axis at each angle. Lengths in mm, angles in radians.

use std::f64::consts::{FRAC_PI_4, PI, TAU};

use crate::setup::{Blank, BlankShape};

/// Distance from the axis to the surface of the blank at an angle. A flat faces the cutter at angle zero.
pub(crate) fn radius_at(blank: &Blank, theta: f64) -> f64 {
    let half = blank.size_mm / 2.0;
    match blank.shape {
        BlankShape::Round => half,
        BlankShape::Octagon => half / off_flat(theta, FRAC_PI_4).cos(),
        BlankShape::Square => half / off_flat(theta, PI / 2.0).cos(),
    }
}

/// Distance from the axis to the farthest corner.
pub fn greatest_radius(blank: &Blank) -> f64 {
    let half = blank.size_mm / 2.0;
    match blank.shape {
        BlankShape::Round => half,
        BlankShape::Octagon => half / (PI / 8.0).cos(),
        BlankShape::Square => half / FRAC_PI_4.cos(),
    }
}

/// Angle to the middle of the nearest flat, flats standing `step` apart.
fn off_flat(theta: f64, step: f64) -> f64 {
    let turned = theta.rem_euclid(TAU).rem_euclid(step);
    turned.min(step - turned)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn blank(shape: BlankShape) -> Blank {
        Blank { shape, size_mm: 60.0, from_s_mm: 0.0, to_s_mm: 1.0, chuck_face_s_mm: 1.0 }
    }

    /// Largest radial stock over the inscribed circle for s = 60: square 12.426407, octagon 2.471766.
    /// Elementary geometry of the square and regular octagon.
    #[test]
    fn corners_stand_as_far_out_as_geometry_says() {
        assert!((greatest_radius(&blank(BlankShape::Square)) - 30.0 - 12.426_407).abs() < 5e-7);
        assert!((greatest_radius(&blank(BlankShape::Octagon)) - 30.0 - 2.471_766).abs() < 5e-7);
        let corner = radius_at(&blank(BlankShape::Octagon), 22.5_f64.to_radians());
        assert!((corner - greatest_radius(&blank(BlankShape::Octagon))).abs() < 1e-12);
        assert!((radius_at(&blank(BlankShape::Square), -PI / 2.0) - 30.0).abs() < 1e-12);
    }
}
