//! Octagon and round from a square: factors, worked figures and rules of the trade.

use threadwright::design::{least_stick_mm, octagon};

/// Factors for a square of side 1: side, set-in, corners, what lies between octagon and round, how far the corners of
/// square and octagon stand over the round. Derived from the geometry, exact.
#[test]
fn the_factors_of_the_octagon() {
    let one = octagon(1.0);
    let pairs = [
        (one.side_mm, 0.414_213_562),
        (one.set_in_mm, 0.292_893_219),
        (one.corners_mm2, 0.171_572_875),
        (one.to_round_mm2, 0.043_028_961),
        (one.square_stands_over_mm, 0.207_106_781),
        (one.stands_over_mm, 0.041_196_100),
    ];
    for (got, want) in pairs {
        assert!((got - want).abs() < 5e-10, "{got} against {want}");
    }
    // Square to circle.
    assert!((one.corners_mm2 + one.to_round_mm2 - 0.214_601_837).abs() < 5e-10);
}

/// Sides 50, 60 and 75, derived: side 20.710678, 24.852814, 31.066017; set-in 14.644661, 17.573593, 21.966991.
#[test]
fn worked_figures() {
    let rows =
        [(50.0, 20.710_678, 14.644_661), (60.0, 24.852_814, 17.573_593), (75.0, 31.066_017, 21.966_991)];
    for (square, side, set_in) in rows {
        let got = octagon(square);
        assert!(
            (got.side_mm - side).abs() < 5e-7 && (got.set_in_mm - set_in).abs() < 5e-7,
            "{square}: {got:?}"
        );
    }
    // 60 x 60 x 700: corners 432.364 cm3, all to round 540.797 cm3 (derived).
    let sixty = octagon(60.0);
    assert!((sixty.corners_mm2 * 700.0 / 1e3 - 432.364).abs() < 5e-4);
    assert!(((sixty.corners_mm2 + sixty.to_round_mm2) * 700.0 / 1e3 - 540.797).abs() < 5e-4);
    // A web page on sawing octagons gives 14.913 and 10.545 for 36, with divisors 2.414 and 3.414 (seen); exact it is
    // 14.911688 and 10.544156.
    let page = octagon(36.0);
    assert!((page.side_mm - 36.0 / 2.414).abs() < 2e-3 && (page.set_in_mm - 36.0 / 3.414).abs() < 2e-3);
}

/// The spar gauge divides a face 7 - 10 - 7 (seen): set-in .291667 (0.42 % less), side .416667 (0.59 % more).
#[test]
fn the_spar_gauge_comes_near() {
    let one = octagon(1.0);
    assert!((7.0 / 24.0 / one.set_in_mm - 1.0 + 0.0042).abs() < 5e-5);
    assert!((10.0 / 24.0 / one.side_mm - 1.0 - 0.0059).abs() < 5e-5);
}

/// Derived: a stick that may stand 0.5 mm off centre and is to lose at least 1 mm all round needs 3 mm more than the
/// diameter.
#[test]
fn a_stick_off_centre_needs_more() {
    assert_eq!(least_stick_mm(50.0, 0.5, 1.0), 53.0);
    assert_eq!(least_stick_mm(50.0, 0.0, 0.0), 50.0);
}
