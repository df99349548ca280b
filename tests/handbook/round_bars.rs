//! Stresses in round bars, and the load at which a slender one bows out. How far they bend and twist is checked beside the
//! stiffness.

use threadwright::press::beam::{End, area_moment_mm4, axial_mpa, bending_mpa, buckling_n, torsion_mpa};

use crate::Known::{Derived, SeenAndDerived};
use crate::{Sheet, printed};

#[test]
fn stresses_of_the_examples_that_bend() {
    let mut sheet = Sheet::of(
        "bending stress of round bars",
        "questions and calculators on public pages",
        SeenAndDerived,
    );
    // A question with its formula on a public page, no printed answer: d 25, 500 between supports, 3 kN in the middle.
    // Derived: 244.462 MPa.
    sheet.row("middle of 500", bending_mpa(3000.0 * 500.0 / 4.0, 25.0), 244.462, printed(3));
    // A web calculator's page: a round cantilever of 5 in, 15 in long, 20 lb: 24.4461991 psi. Its last digit is not right,
    // exactly it is 24.44619926: two units of the last.
    sheet.row("5 in cantilever, psi", bending_mpa(20.0 * 15.0, 5.0), 24.446_199_1, 2e-7);
    sheet.done();
}

#[test]
fn stresses_that_a_public_statement_names() {
    // The public statement of a problem of Shigley: core stresses 4 F / (pi d²) and 16 T / (pi d³). Derived values.
    let mut sheet =
        Sheet::of("pressing and torsion of round bars", "a problem of Shigley, public statement", Derived);
    sheet.row("pressing", axial_mpa(1000.0, 20.0), 3.183_099, printed(6));
    sheet.row("torsion", torsion_mpa(10e3, 20.0), 6.366_198, printed(6));
    sheet.done();
}

#[test]
fn bowing_out() {
    // Derived: pi² E I / L² for 12 GPa, d 36, 600: pi² x 12000 x 82447.96 / 360000; a free end bears a quarter.
    let mut sheet = Sheet::of("load at which a bar bows out", "pi^2 E I / L^2", Derived);
    let area = area_moment_mm4(36.0);
    sheet.row("area moment", area, 82_447.957_6, printed(4));
    let guided = buckling_n(12e3, area, 600.0, End::Guided);
    sheet.row("guided", guided, 27_124.291, printed(3));
    sheet.row("free", buckling_n(12e3, area, 600.0, End::Free), guided / 4.0, 1e-9);
    sheet.done();
}
