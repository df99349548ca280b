//! How far a bar bends and twists under a force: the blank between its centres, a cutter in its collet. Textbook
//! formulas on plain numbers, so that both halves may use them. Lengths in mm, forces in N, torques in N mm, stiffness
//! in N/mm².
//!
//! Source of the formulas: bending and torsion of prismatic bars, as in any book on strength of materials; checked
//! against printed examples in tests/handbook/stiffness.rs.

use std::f64::consts::PI;

use crate::setup::Setup;

/// Stiffness of wood along the grain over its stiffness in shear: between 9 and 16 for ash, maple, birch and oak
/// (Wood Handbook FPL-GTR-190 table 5-1); a round middle.
pub const BEND_OVER_SHEAR: f64 = 12.0;

/// Stiffness of a cutter's steel shank; engineering practice.
pub const STEEL_N_MM2: f64 = 200_000.0;

/// How a bar is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Held {
    /// At both ends, which may lean: a chuck holds wood no better than that.
    Between,
    /// At one end only.
    Overhung,
}

/// A round bar. Places on it count from the end that is held, or from either end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bar {
    /// How it is held.
    pub held: Held,
    /// Free length.
    pub length_mm: f64,
    /// Diameter that carries: of a screw its root, since stiffness goes with the fourth power.
    pub diameter_mm: f64,
    /// Stiffness along the bar.
    pub modulus_n_mm2: f64,
}

impl Bar {
    /// How far it bends under a force across it at a place, mm, there.
    ///
    /// `F x² (L - x)² / (3 E I L)` between, `F x³ / (3 E I)` overhung, I = pi d⁴ / 64.
    ///
    /// ```
    /// use threadwright::stiffness::{Bar, Held};
    ///
    /// // Derived: 36 mm of wood, 12 GPa, 600 mm between centres, 50 N in the middle.
    /// let bar = Bar { held: Held::Between, length_mm: 600.0, diameter_mm: 36.0, modulus_n_mm2: 12e3 };
    /// assert!((bar.bend_mm(50.0, 300.0) - 0.227_416).abs() < 5e-7);
    /// ```
    pub fn bend_mm(&self, force_n: f64, at_mm: f64) -> f64 {
        let x = at_mm.clamp(0.0, self.length_mm);
        let stiff = 3.0 * self.modulus_n_mm2 * PI * self.diameter_mm.powi(4) / 64.0;
        match self.held {
            Held::Between => force_n * x.powi(2) * (self.length_mm - x).powi(2) / (stiff * self.length_mm),
            Held::Overhung => force_n * x.powi(3) / stiff,
        }
    }

    /// The place between two where it bends most.
    pub fn weakest_mm(&self, from_mm: f64, to_mm: f64) -> f64 {
        let far = match self.held {
            Held::Between => self.length_mm / 2.0,
            Held::Overhung => self.length_mm,
        };
        far.clamp(from_mm.min(to_mm), from_mm.max(to_mm))
    }

    /// The place between two where a torque twists it most: the one farther from the end that turns it.
    pub fn farthest_mm(&self, from_mm: f64, to_mm: f64) -> f64 {
        from_mm.max(to_mm).clamp(0.0, self.length_mm)
    }

    /// How far it twists between the end that is held and a place at which a torque turns it, degrees.
    /// `T x / (G J)`, J = pi d⁴ / 32, `shear_n_mm2` is G.
    pub fn twist_deg(&self, torque_nmm: f64, at_mm: f64, shear_n_mm2: f64) -> f64 {
        let x = at_mm.clamp(0.0, self.length_mm);
        (torque_nmm * x / (shear_n_mm2 * PI * self.diameter_mm.powi(4) / 32.0)).to_degrees()
    }
}

/// The blank of a set-up, cut down to a diameter everywhere; places count from the chuck's face. `None` when the stiffness
/// of the wood is not known.
pub fn blank(setup: &Setup, root_diameter_mm: f64) -> Option<Bar> {
    Some(Bar {
        held: if setup.machine.centre.is_some() { Held::Between } else { Held::Overhung },
        length_mm: setup.blank.chuck_face_s_mm - setup.blank.from_s_mm,
        diameter_mm: root_diameter_mm,
        modulus_n_mm2: setup.timber.modulus_gpa? * 1000.0,
    })
}

/// The cutter of a set-up from the collet to its tip, as thick as its shank; places count from the collet.
pub fn cutter(setup: &Setup) -> Bar {
    Bar {
        held: Held::Overhung,
        length_mm: setup.cutter.stick_out_mm,
        diameter_mm: setup.cutter.shank_diameter_mm,
        modulus_n_mm2: STEEL_N_MM2,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_weakest_place_is_weaker_than_its_neighbours() {
        for held in [Held::Between, Held::Overhung] {
            let bar = Bar { held, length_mm: 500.0, diameter_mm: 36.0, modulus_n_mm2: 12_000.0 };
            for (from, to) in [(0.0, 500.0), (300.0, 450.0), (20.0, 120.0)] {
                let at = bar.weakest_mm(from, to);
                assert!((from..=to).contains(&at));
                for place in [from, to, f64::midpoint(from, to), at - 1.0, at + 1.0] {
                    let inside = place.clamp(from, to);
                    assert!(
                        bar.bend_mm(10.0, inside) <= bar.bend_mm(10.0, at),
                        "{held:?} {from} to {to}: {inside}"
                    );
                    let twist = |place: f64| bar.twist_deg(100.0, place, 1000.0);
                    assert!(
                        twist(inside) <= twist(bar.farthest_mm(from, to)),
                        "{held:?} {from} to {to}: {inside}"
                    );
                }
            }
        }
    }
}
