//! Round bars that bend, twist and bow out: worked examples of open texts.

use threadwright::press::beam::{
    End, area_moment_mm4, axial_mpa, bending_mpa, buckling_n, cantilever_mm, polar_moment_mm4, torsion_mpa,
    twist_rad,
};

use crate::{Sheet, printed};

#[test]
fn deflection() {
    let mut sheet = Sheet::default();
    // A question with its formula on a public page, no printed answer: d 25, 500 between supports, 3 kN in the middle, 200
    // GPa. Derived: 2.037183 mm and 244.462 MPa. Half of it is a cantilever of half the length under half the load.
    let area = area_moment_mm4(25.0);
    sheet.row("middle of 500", cantilever_mm(1500.0, 250.0, 200e3, area), 2.037_183, printed(6));
    sheet.row("its stress", bending_mpa(3000.0 * 500.0 / 4.0, 25.0), 244.462, printed(3));
    // A web calculator's page: a round cantilever of 5 in, 15 in long, 20 lb, 30e6 psi: .0000244461 in, 24.4461991 psi. It
    // drops digits and its last one of the stress is not right (exactly 24.44619926): one and two units of the last.
    let inches = cantilever_mm(20.0, 15.0, 30e6, area_moment_mm4(5.0));
    sheet.row("5 in cantilever", inches, 0.000_024_446_1, 1e-10);
    sheet.row("its stress, psi", bending_mpa(20.0 * 15.0, 5.0), 24.446_199_1, 2e-7);
    // Derived: wood of 12 GPa, d 36, 600 between supports, 50 N; half the span gives an eighth.
    let area = area_moment_mm4(36.0);
    let middle = |span: f64| cantilever_mm(25.0, span / 2.0, 12e3, area);
    sheet.row("wood, 600", middle(600.0), 0.227_416, printed(6));
    sheet.row("wood, 300", middle(300.0), 0.028_427, printed(6));
    sheet.done();
}

#[test]
fn torsion() {
    // T. Philpot, Mechanics of Materials, open teaching pages, torsion examples 6.18 to 6.21.
    let mut sheet = Sheet::default();
    let twist = twist_rad(4253.921e3, 4000.0, 76e3, 2_268_758.0);
    sheet.row("4253.921 N m", twist, 0.09868, printed(5));
    sheet.row("in degrees", twist.to_degrees(), 5.65, printed(2));
    let twist = twist_rad(675.7e3, 1000.0, 26e3, 308_102.0);
    sheet.row("675.7 N m", twist, 0.08435, printed(5));
    sheet.row("in degrees", twist.to_degrees(), 4.83, printed(2));
    // 43.768 lb ft over 36 in of 0.75 in, 12e6 psi: .050724 rad, J .031063 in⁴.
    sheet.row("J of 3/4 in", polar_moment_mm4(0.75), 0.031_063, printed(6));
    sheet.row("43.768 lb ft", twist_rad(43.768 * 12.0, 36.0, 12e6, 0.031_063), 0.050_724, printed(6));
    // Derived: wood of 12 GPa with G = E/16 (from memory), d 36, 20 N m over 300 mm.
    let wood = twist_rad(20e3, 300.0, 12e3 / 16.0, polar_moment_mm4(36.0));
    sheet.row("wood", wood.to_degrees(), 2.779_731, printed(6));
    sheet.done();
}

#[test]
fn stresses_that_a_public_statement_names() {
    // The public statement of a problem of Shigley: core stresses 4 F / (pi d²) and 16 T / (pi d³). Derived values.
    let mut sheet = Sheet::default();
    sheet.row("pressing", axial_mpa(1000.0, 20.0), 3.183_099, printed(6));
    sheet.row("torsion", torsion_mpa(10e3, 20.0), 6.366_198, printed(6));
    sheet.done();
}

#[test]
fn bowing_out() {
    // Derived: pi² E I / L² for 12 GPa, d 36, 600: pi² x 12000 x 82447.96 / 360000; a free end bears a quarter.
    let mut sheet = Sheet::default();
    let area = area_moment_mm4(36.0);
    sheet.row("area moment", area, 82_447.957_6, printed(4));
    let guided = buckling_n(12e3, area, 600.0, End::Guided);
    sheet.row("guided", guided, 27_124.291, printed(3));
    sheet.row("free", buckling_n(12e3, area, 600.0, End::Free), guided / 4.0, 1e-9);
    sheet.done();
}
