//! Bending and twisting of bars: printed examples, and wood derived with the same formulas.

use threadwright::stiffness::{BEND_OVER_SHEAR, Bar, Held};

use crate::Known::{Derived, Seen, SeenAndDerived};
use crate::{Sheet, printed};

/// MPa in one GPa.
const GPA: f64 = 1000.0;
/// N/mm² in one psi, N in one pound-force, mm in one inch.
const PSI: f64 = 0.006_894_757_293;
const POUND: f64 = 4.448_221_615;
const INCH: f64 = 25.4;

fn bar(held: Held, length_mm: f64, diameter_mm: f64, modulus_n_mm2: f64) -> Bar {
    Bar { held, length_mm, diameter_mm, modulus_n_mm2 }
}

/// A question with its formula and no printed answer (25 mm, 500 mm, 3 kN, 200 GPa; recomputed), and an example of a
/// calculator's page (5 in, 15 in, 20 lb, 30e6 psi).
#[test]
fn bending_of_steel() {
    let mut sheet =
        Sheet::of("bending of steel bars", "a question and a calculator on public pages", SeenAndDerived);
    let between = bar(Held::Between, 500.0, 25.0, 200.0 * GPA);
    sheet.row("at mid-span", between.bend_mm(3000.0, 250.0), 2.037_183, printed(6));
    let overhung = bar(Held::Overhung, 15.0 * INCH, 5.0 * INCH, 30e6 * PSI);
    let inches = overhung.bend_mm(20.0 * POUND, 15.0 * INCH) / INCH;
    sheet.row("overhung, inches", inches * 1e4, 0.244_461, printed(5));
    sheet.done();
}

/// Teaching pages of T. Philpot, mechanics of materials, torsion examples 6.18 to 6.21. They print the polar moment, from
/// which the diameter follows.
#[test]
fn torsion_of_steel() {
    let round = |polar_mm4: f64| (32.0 * polar_mm4 / std::f64::consts::PI).powf(0.25);
    let mut sheet =
        Sheet::of("torsion of steel bars", "T. Philpot, mechanics of materials, examples 6.18 to 6.21", Seen);
    let twist = |polar: f64, length: f64, torque_nmm: f64, shear: f64| {
        bar(Held::Between, length, round(polar), shear).twist_deg(torque_nmm, length, shear)
    };
    let first = twist(2_268_758.0, 4000.0, 4_253_921.0, 76.0 * GPA);
    sheet.row("6.18, degrees", first, 5.65, printed(2));
    sheet.row("6.18, radians", first.to_radians(), 0.098_68, printed(5));
    let second = twist(308_102.0, 1000.0, 675_700.0, 26.0 * GPA);
    sheet.row("6.19, degrees", second, 4.83, printed(2));
    sheet.row("6.19, radians", second.to_radians(), 0.084_35, printed(5));
    // 43.768 lb ft on 36 in of 3/4 in, 12e6 psi.
    let third = bar(Held::Between, 36.0 * INCH, 0.75 * INCH, 12e6 * PSI).twist_deg(
        43.768 * 12.0 * POUND * INCH,
        36.0 * INCH,
        12e6 * PSI,
    );
    sheet.row("6.21, radians", third.to_radians(), 0.050_724, printed(6));
    sheet.done();
}

/// Wood of 12 GPa, derived: 36 mm between centres 600 mm apart under 50 N, and with the span halved by a steady an eighth of
/// that; 20 N m over 300 mm with shear stiffness a sixteenth.
#[test]
fn a_wooden_screw_between_centres() {
    let mut sheet =
        Sheet::of("bending and twist of a wooden screw", "by hand with the same formulas", Derived);
    let whole = bar(Held::Between, 600.0, 36.0, 12.0 * GPA);
    let half = bar(Held::Between, 300.0, 36.0, 12.0 * GPA);
    sheet.row("whole span", whole.bend_mm(50.0, 300.0), 0.227_416, printed(6));
    sheet.row("half the span", half.bend_mm(50.0, 150.0), 0.028_427, printed(6));
    sheet.row("twist", whole.twist_deg(20_000.0, 300.0, 12.0 * GPA / 16.0), 2.779_731, printed(6));
    // Off the middle: F x² (L - x)² / 3 E I L; 150 of 600 mm gives 9/16 of the bend at mid-span.
    sheet.row("at a quarter", whole.bend_mm(50.0, 150.0), 0.227_416 * 9.0 / 16.0, printed(6));
    sheet.done();
}

/// Bending over shear stiffness between 9 and 16: white ash, sugar maple, yellow birch, red and white oak, from the elastic
/// ratios of the Wood Handbook, FPL-GTR-190 table 5-1 (seen in public copies).
#[test]
fn shear_stiffness_of_wood() {
    for (wood, ratios) in [
        ("white ash", [0.109, 0.077]),
        ("sugar maple", [0.111, 0.063]),
        ("yellow birch", [0.074, 0.068]),
        ("red oak", [0.089, 0.081]),
    ] {
        for ratio in ratios {
            let over: f64 = 1.0 / ratio;
            assert!((9.0..16.0).contains(&over), "{wood}: {over}");
            assert!(BEND_OVER_SHEAR / over < 1.5 && over / BEND_OVER_SHEAR < 1.5, "{wood}: {over}");
        }
    }
}
