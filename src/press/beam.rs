//! Round bars under load: stress and bowing out; how far they bend and twist is told by [`crate::stiffness`]. Lengths in
//! mm, forces in N, moments in N mm, moduli and stresses in MPa (N/mm²).

use std::f64::consts::PI;

/// Second moment of area of a round bar about a diameter, mm⁴: pi d⁴ / 64.
pub fn area_moment_mm4(diameter_mm: f64) -> f64 {
    PI * diameter_mm.powi(4) / 64.0
}

/// Stress of pull or push, MPa: 4 F / (pi d²).
pub fn axial_mpa(force_n: f64, diameter_mm: f64) -> f64 {
    4.0 * force_n / (PI * diameter_mm.powi(2))
}

/// Shear stress at the skin of a twisted bar, MPa: 16 T / (pi d³).
pub fn torsion_mpa(turning_n_mm: f64, diameter_mm: f64) -> f64 {
    16.0 * turning_n_mm / (PI * diameter_mm.powi(3))
}

/// Stress at the skin of a bent bar, MPa: 32 M / (pi d³).
pub fn bending_mpa(moment_n_mm: f64, diameter_mm: f64) -> f64 {
    32.0 * moment_n_mm / (PI * diameter_mm.powi(3))
}

/// How the end that presses is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// On the axis, free to tilt: half a wave between the nut and it.
    Guided,
    /// Not at all: a quarter of a wave.
    Free,
}

/// Load at which a slender bar bows out, N: pi² E I / (K L)², K being 1 with both ends held on the axis, 2 with one end
/// free. Source: L. Euler's formula; the values of K from memory.
pub fn buckling_n(modulus_mpa: f64, area_moment_mm4: f64, length_mm: f64, end: End) -> f64 {
    let wave = match end {
        End::Guided => 1.0,
        End::Free => 2.0,
    };
    PI.powi(2) * modulus_mpa * area_moment_mm4 / (wave * length_mm).powi(2)
}
