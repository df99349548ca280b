//! Turning effort, self-locking, efficiency and stresses of screws under load: worked examples of textbooks. N and mm.

use std::f64::consts::PI;

use threadwright::press::engaged::{flank_area_mm2, strip_area_mm2, tooth_bending_mpa};
use threadwright::press::thread::{Collar, Thread};
use threadwright::press::{beam, engaged};

use crate::Known::{Derived, Seen, SeenAndDerived, SeenAndMemory};
use crate::{Sheet, printed};

/// Cosine of half of 30 degrees: metric trapezoidal threads.
fn trapezoidal() -> f64 {
    15_f64.to_radians().cos()
}

fn thread(mean_diameter_mm: f64, lead_mm: f64, cos_flank: f64) -> Thread {
    Thread { mean_diameter_mm, lead_mm, cos_flank }
}

/// A collar of this mean diameter.
fn collar(mean_diameter_mm: f64) -> Collar {
    Collar { outside_mm: mean_diameter_mm, hole_mm: mean_diameter_mm }
}

/// Half of the last of so many significant digits.
fn digits(value: f64, count: i32) -> f64 {
    let decimals = count - 1 - value.abs().log10().floor() as i32;
    printed(decimals) + value.abs() * 1e-12
}

#[test]
fn shigley() {
    // Shigley, Mechanical Engineering Design, example 8-1, from memory: square, d 32, P 4, two starts, friction .08 on
    // thread and collar, collar 40, 6.4 kN. 26.18 and 9.77 N m, efficiency .311.
    let mut sheet = Sheet::of(
        "effort, efficiency and stresses, Shigley",
        "Shigley, Mechanical Engineering Design, example 8-1; a problem's solution on a public page",
        SeenAndMemory,
    );
    let (one, ring) = (thread(30.0, 8.0, 1.0), collar(40.0));
    let raise = one.raise_n_mm(6400.0, 0.08) + ring.n_mm(6400.0, 0.08);
    let lower = one.lower_n_mm(6400.0, 0.08) + ring.n_mm(6400.0, 0.08);
    sheet.row("8-1, raise, N m", raise / 1e3, 26.18, printed(2));
    sheet.row("8-1, lower, N m", lower / 1e3, 9.77, printed(2));
    sheet.row("8-1, efficiency", one.efficiency(6400.0, raise), 0.311, printed(3));
    // Its stresses, from memory: torsion 6.07, pressing 10.39, and with .38 of the load on the first thread bearing 12.9
    // and bending 41.5 MPa.
    sheet.row("8-1, torsion", beam::torsion_mpa(raise, 28.0), 6.07, printed(2));
    sheet.row("8-1, pressing", beam::axial_mpa(6400.0, 28.0), 10.39, printed(2));
    let first = 0.38 * 6400.0;
    sheet.row("8-1, bearing", first / flank_area_mm2(32.0, 28.0, 1.0), 12.9, printed(1));
    sheet.row("8-1, bending", tooth_bending_mpa(first, 28.0, 2.0, 1.0, 1.0), 41.5, printed(1));
    // A problem of the same book with a solution on a public page: d 25, P 5, 5 kN, .09, collar 45 with .06. It rounds by
    // hand: 15.845 and 7.825 N m, efficiency .251, within 0.03 %.
    let by_hand = 3e-4;
    let (two, ring) = (thread(22.5, 5.0, 1.0), collar(45.0));
    let raise = two.raise_n_mm(5000.0, 0.09) + ring.n_mm(5000.0, 0.06);
    let lower = two.lower_n_mm(5000.0, 0.09) + ring.n_mm(5000.0, 0.06);
    sheet.row("problem, raise", raise / 1e3, 15.845, 15.845 * by_hand);
    sheet.row("problem, lower", lower / 1e3, 7.825, 7.825 * by_hand);
    sheet.row("problem, efficiency", two.efficiency(5000.0, raise), 0.251, printed(3));
    sheet.done();
}

#[test]
fn bhandari() {
    // V. Bhandari, Design of Machine Elements, chapter 6, numbers of an open textbook companion (764/CH6).
    let mut sheet = Sheet::of(
        "effort and efficiency, Bhandari",
        "V. Bhandari, Design of Machine Elements, ch. 6, numbers of an open companion",
        Seen,
    );
    // 6.1: square, d 50, P 8, three starts, .15, collar 65 to 100, 15 kN.
    let one = thread(46.0, 24.0, 1.0);
    let ring = Collar { outside_mm: 100.0, hole_mm: 65.0 }.n_mm(15_000.0, 0.15);
    let raise = one.raise_n_mm(15_000.0, 0.15) + ring;
    sheet.row("6.1, raise", raise, 204_644.140_833, digits(raise, 12));
    let lower = one.lower_n_mm(15_000.0, 0.15) + ring;
    sheet.row("6.1, lower", lower, 87_401.514_671, digits(lower, 11));
    // 6.2: trapezoidal, d 100, P 12, two starts, .15, 300 kN, no collar.
    let two = thread(94.0, 24.0, trapezoidal());
    let raise = two.raise_n_mm(300e3, 0.15);
    sheet.row("6.2, raise, N m", raise / 1e3, 3_378.159_205, digits(raise / 1e3, 10));
    sheet.row("6.2, lower, N m", two.lower_n_mm(300e3, 0.15) / 1e3, 1_030.685_630, printed(6));
    sheet.row("6.2, efficiency, %", 100.0 * two.efficiency(300e3, raise), 33.921_302, printed(6));
    // 6.4: square, d 40, P 7, 7 kN up and 3 kN down, .15, washer 40 to 80 with .12, two arms of 500; 3.488 threads at
    // 5 MPa.
    let four = thread(36.5, 7.0, 1.0);
    let washer = Collar { outside_mm: 80.0, hole_mm: 40.0 };
    let raise = four.raise_n_mm(7000.0, 0.15) + washer.n_mm(7000.0, 0.12);
    let lower = four.lower_n_mm(3000.0, 0.15) + washer.n_mm(3000.0, 0.12);
    sheet.row("6.4, up", raise / 1e3, 52.410_253, printed(6));
    sheet.row("6.4, down", lower / 1e3, 15.626_055, printed(6));
    sheet.row("6.4, efficiency, %", 100.0 * four.efficiency(7000.0, raise), 14.879_898, printed(6));
    sheet.row("6.4, threads", 7000.0 / (5.0 * flank_area_mm2(40.0, 33.0, 1.0)), 3.488, printed(3));
    // 6.5: square, d 80, P 10, 10 kN, .12, collar of mean radius 30, wheel of 500; bearing with four threads.
    let five = thread(75.0, 10.0, 1.0);
    let raise = five.raise_n_mm(10_000.0, 0.12) + collar(60.0).n_mm(10_000.0, 0.12);
    sheet.row("6.5, at the rim", raise / 250.0, 388.909_290, printed(6));
    sheet.row("6.5, efficiency, %", 100.0 * five.efficiency(10_000.0, raise), 16.369_364, printed(6));
    sheet.row("6.5, bearing", 10_000.0 / flank_area_mm2(80.0, 70.0, 4.0), 2.122_066, printed(6));
    // 6.6: trapezoidal, d 52, P 8, 2 kN, .15, collar 60 to 100 with .12, 30 turns a minute.
    let six = thread(48.0, 8.0, trapezoidal());
    let ring = Collar { outside_mm: 100.0, hole_mm: 60.0 };
    let raise = six.raise_n_mm(2000.0, 0.15) + ring.n_mm(2000.0, 0.12);
    sheet.row("6.6, kW", raise * 2.0 * PI * 30.0 / 60.0 / 1e6, 0.061_838, printed(6));
    sheet.row("6.6, efficiency, %", 100.0 * six.efficiency(2000.0, raise), 12.937_099, printed(6));
    // 6.9: d 22, P 5, 750 N, .15, collar of mean radius 15; the print takes the square form.
    let nine = thread(19.5, 5.0, 1.0);
    let raise = nine.raise_n_mm(750.0, 0.15) + collar(30.0).n_mm(750.0, 0.15);
    sheet.row("6.9", raise, 3_402.198_556, printed(6));
    sheet.done();
}

#[test]
fn jindal_and_the_print_that_came_of_whole_numbers() {
    // U. Jindal, Machine Design, chapter 16, numbers of an open notebook.
    let mut sheet = Sheet::of(
        "effort and efficiency, Jindal",
        "U. Jindal, Machine Design, ch. 16, numbers of an open notebook",
        SeenAndDerived,
    );
    let one = thread(27.0, 6.0, 1.0);
    let raise = one.raise_n_mm(20e3, 0.2) + collar(24.0).n_mm(20e3, 0.15);
    sheet.row("16-1, N m", raise / 1e3, 110.148, printed(3));
    // 16-2: trapezoidal, d 50, P 7, three starts. The print has 187.49, 51.691 and .3489, because 50 - 7/2 was reckoned in
    // whole numbers: mean diameter 47. Right is 46.5.
    let (ring, lead) = (collar(40.0).n_mm(20e3, 0.15), 21.0);
    let right = thread(46.5, lead, trapezoidal());
    let raise = right.raise_n_mm(20e3, 0.12) + ring;
    let lower = right.lower_n_mm(20e3, 0.12) + ring;
    // Derived: recomputed by a second hand.
    sheet.row("16-2, raise", raise / 1e3, 186.8794, printed(4));
    sheet.row("16-2, lower", lower / 1e3, 51.0826, printed(4));
    sheet.row("16-2, efficiency", right.efficiency(20e3, raise), 0.357_691, printed(6));
    let trap = thread(47.0, lead, trapezoidal());
    sheet.row("16-2, as printed", (trap.raise_n_mm(20e3, 0.12) + ring) / 1e3, 187.49, printed(2));
    assert!((raise / 1e3 - 187.49).abs() > 0.5, "the right answer is not the printed one");
    sheet.done();
}

#[test]
fn mott_and_a_statics_text() {
    let mut sheet = Sheet::of(
        "effort and locking, Mott and statics",
        "R. Mott, Machine Elements, 4th ed., p. 703; an open statics text",
        Seen,
    );
    // R. Mott, Machine Elements in Mechanical Design, 4th ed., example 17-1, p. 703: Acme 1 1/2-4, pitch diameter 1.3429
    // in, 12500 lb, .15. His 1809 lb in has rounded trigonometry in it: within 0.3 %. Lead angle 3.39 degrees.
    let acme = thread(1.3429, 0.25, 14.5_f64.to_radians().cos());
    sheet.row("Mott", acme.raise_n_mm(12_500.0, 0.15), 1809.0, 0.003 * 1809.0);
    let angle = threadwright::design::form::lead_angle_deg(0.25, 1.3429);
    sheet.row("Mott, lead angle", angle, 3.39, printed(2));
    // An open statics text: square, 2 to the inch, mean diameter 2 in, 10000 lb, .2. It drops the digits: 2840.
    let square = thread(2.0, 0.5, 1.0);
    sheet.row("statics", square.raise_n_mm(10_000.0, 0.2), 2840.0, 1.0);
    // The same text: a screw that just locks has an efficiency below a half; tan x / tan 2x is .49497 at x = .1.
    let x: f64 = 0.1;
    let just = thread(1.0, PI * x.tan(), 1.0);
    sheet.row("just locked", just.lock_friction(), x.tan(), 1e-12);
    let raise = just.raise_n_mm(1.0, x.tan());
    sheet.row("its efficiency", just.efficiency(1.0, raise), 0.49497, printed(5));
    sheet.row("its load is at rest", just.lower_n_mm(1.0, x.tan()), 0.0, 1e-12);
    sheet.done();
}

#[test]
fn wooden_threads_of_sixty_and_ninety_degrees() {
    // Derived: mean diameter 43, lead 20, per kN, N m: friction, raise and let go at 60 degrees, the same at 90.
    let rows = [
        (0.42, [14.6629, 6.7586], [17.4916, 8.8123]),
        (0.16, [7.3565, 0.7681], [8.3269, 1.6273]),
        (0.10, [5.7642, -0.6887], [6.3568, -0.1396]),
    ];
    let mut sheet = Sheet::of(
        "effort of wooden threads of 60 and 90 degrees",
        "the textbooks' formula and the exact one, by hand",
        Derived,
    );
    for (friction, at_60, at_90) in rows {
        for (half_angle, [raise, lower]) in [(30.0_f64, at_60), (45.0, at_90)] {
            let thread = thread(43.0, 20.0, half_angle.to_radians().cos());
            let name = format!("{friction}, half angle {half_angle}");
            sheet.row(
                &format!("{name}, raise"),
                thread.raise_n_mm(1000.0, friction) / 1e3,
                raise,
                printed(4),
            );
            sheet.row(
                &format!("{name}, let go"),
                thread.lower_n_mm(1000.0, friction) / 1e3,
                lower,
                printed(4),
            );
        }
    }
    // Friction from which it stays put.
    let at = |half_angle: f64| thread(43.0, 20.0, half_angle.to_radians().cos());
    sheet.row("locks at 60 degrees from", at(30.0).lock_friction(), 0.1282, printed(4));
    sheet.row("locks at 90 degrees from", at(45.0).lock_friction(), 0.1047, printed(4));
    // The textbooks' angle along the axis beside the exact one square to the helix, tan a_n = tan a cos lambda.
    let lead_angle = (20.0 / (PI * 43.0)).atan();
    let exact = (30_f64.to_radians().tan() * lead_angle.cos()).atan().cos();
    sheet.row("textbook", at(30.0).raise_n_mm(1000.0, 0.16), 7356.489, printed(3));
    sheet.row("exact", thread(43.0, 20.0, exact).raise_n_mm(1000.0, 0.16), 7344.970, printed(3));
    sheet.done();
}

#[test]
fn threads_that_strip_and_press() {
    // Derived: core 36, pitch 10, root flat 1, nut 75 long: 7634.07 mm², 15268 N at 2 MPa. Flanks between 50 and 37:
    // 6662.14 mm².
    let mut sheet = Sheet::of(
        "areas that strip and press",
        "by hand; Shigley; a table in a machining newsgroup",
        SeenAndMemory,
    );
    let area = strip_area_mm2(36.0, 9.0, 7.5);
    sheet.row("strip", area, 7634.07, printed(2));
    sheet.row("at 2 MPa", 2.0 * area, 15_268.0, printed(0));
    sheet.row("flanks", flank_area_mm2(50.0, 37.0, 7.5), 6662.14, printed(2));
    // A square thread of d_r 28 and P 4: mean shear 2 F / (pi d_r n P), from memory in Shigley.
    sheet.row("square", strip_area_mm2(28.0, 2.0, 3.0), PI * 28.0 * 3.0 * 4.0 / 2.0, 1e-9);
    // A table in a machining newsgroup: the first of six threads takes 34 %.
    sheet.row("first of six", engaged::first_share(6.0), 0.34, 1e-12);
    sheet.done();
}
