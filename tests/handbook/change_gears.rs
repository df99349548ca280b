//! Change gears: worked examples of old books on screw cutting, and fractions near a fraction.

use threadwright::gears::fraction::{approach, convergents, float, meant};
use threadwright::gears::{Fraction, IndexWay, Room, Train, orders, spare_teeth, ways};

use crate::Known::{Derived, Seen, SeenAndDerived};
use crate::{Sheet, printed};

const INCH: f64 = 25.4;

fn whole(number: i128) -> Fraction {
    Fraction::from_integer(number)
}

/// The lead, mm, that a train cuts with a lead screw.
fn lead(screw_mm: f64, pairs: &[(u32, u32)]) -> Fraction {
    meant(screw_mm).expect("a length") * Train::of(pairs).ratio()
}

fn mm(length: f64) -> Fraction {
    meant(length).expect("a length")
}

/// By how much a fraction is off another, in millionths.
fn ppm(of: Fraction, target: Fraction) -> f64 {
    float(of / target - 1) * 1e6
}

#[test]
fn leads_in_millimetres_on_inch_lathes() {
    // F. D. Jones, Turning and Boring (1914): 3 mm on a lathe with screw constant 6, gears 6 x 3 x 5 / 127 = 90/127.
    assert_eq!(mm(3.0) / mm(INCH / 6.0), Fraction::new(90, 127));
    assert_eq!(lead(INCH / 6.0, &[(90, 127)]), whole(3));
    // A gear note: 8 threads per inch times 120/127 are 3 mm, and 3 mm times 127/120 are 8 to the inch.
    assert_eq!(lead(INCH / 8.0, &[(120, 127)]), whole(3));
    assert_eq!(lead(3.0, &[(127, 120)]), mm(INCH / 8.0));
}

#[test]
fn compound_gears_for_threads_per_inch() {
    // J. Rose (1887): 66/48 x 36/18 on a lead screw of 4 to the inch cut 11 to the inch.
    assert_eq!(lead(INCH / 4.0, &[(48, 66), (18, 36)]), mm(INCH / 11.0));
    // American Mechanic, screw-cutting rule: 5 to the inch with a lead screw of 2 want 2.5, so 40 drives 100.
    assert_eq!((mm(INCH / 5.0) / mm(INCH / 2.0)).recip(), Fraction::new(5, 2));
    assert_eq!(lead(INCH / 2.0, &[(40, 100)]), mm(INCH / 5.0));
}

#[test]
fn a_lead_stretched_by_one_tooth() {
    // F. D. Jones, Turning and Boring (1914): 83/84 of .200 inch are .19762.
    let mut sheet = Sheet::of(
        "leads of stretched and divided trains",
        "F. D. Jones, Turning and Boring (1914); a treatise on milling (1914), pp. 62-63",
        Seen,
    );
    sheet.row("83/84", float(lead(0.2 * INCH, &[(83, 84)])) / INCH, 0.19762, printed(5));
    // A Practical Treatise on Milling and Milling Machines (1914), pp. 62-63: 10.467 / 40 = .2617.
    sheet.row("10.467 / 40", float(mm(10.467) / whole(40)), 0.2617, printed(4));
    sheet.done();
}

#[test]
fn the_spiral_head_of_the_treatise() {
    // The same pages: gears 100 and 32 on the side of the table, 24 and 48 on that of the blank, on a machine with a lead
    // of 10 inches, cut 3.60 inches. Counted from the blank, 24 and 48 are the drivers.
    assert_eq!(lead(10.0 * INCH, &[(48, 32), (24, 100)]), mm(3.6 * INCH));
    // A gear of 72 teeth on the blank and 9 divisions: 8 teeth.
    let nine = ways(&Train::of(&[(72, 36)]), 9, whole(20), whole(7), None);
    assert_eq!(nine, [IndexWay::BlankGear { teeth: 72, step: 8 }]);
}

/// Room by a rule of k teeth.
fn rule(teeth: f64) -> Room {
    Room { module_mm: 2.0, tip_to_axis_mm: teeth - 2.0, from_memory: true }
}

#[test]
fn only_one_order_of_the_treatise_goes_together() {
    // Of the four orders of 100, 32 and 24, 48 the treatise sets up 100 into 24, 32 into 48: seen from the blank, 48 into
    // 32, 24 into 100. Derived: the others are short by 20 or 44 teeth, or have only 8. The rule of 15 to 20 teeth is
    // from memory; both its ends give the same answer.
    for k in [15.0, 20.0] {
        assert_eq!((rule(k).teeth() - k).abs(), 0.0);
        assert_eq!(orders(&[24, 48], &[100, 32], &rule(k)), [Train::of(&[(48, 32), (24, 100)])]);
    }
    let mut sheet = Sheet::of(
        "teeth to spare of a train's orders",
        "the treatise on milling (1914); tooth sums",
        SeenAndDerived,
    );
    for (pairs, spare) in [
        ([(48, 32), (24, 100)], 56.0),
        ([(24, 32), (48, 100)], 8.0),
        ([(48, 100), (24, 32)], -44.0),
        ([(24, 100), (48, 32)], -20.0),
    ] {
        sheet.row(&format!("{pairs:?}"), spare_teeth(&Train::of(&pairs), &rule(0.0)), spare, 0.0);
    }
    // Derived: 40 into 10, 20 into 10 has 30 and 20 teeth to spare; 20 into 10, 40 into 10 is short by 10.
    sheet.row("40/10 20/10", spare_teeth(&Train::of(&[(40, 10), (20, 10)]), &rule(0.0)), 20.0, 0.0);
    sheet.row("20/10 40/10", spare_teeth(&Train::of(&[(20, 10), (40, 10)]), &rule(0.0)), -10.0, 0.0);
    sheet.done();
}

#[test]
fn distances_between_centres() {
    // Derived: C = m (z1 + z2) / 2.
    let mut sheet = Sheet::of("distance between centres", "C = m (z1 + z2) / 2", Derived);
    sheet.row("40 and 10, module 2", rule(20.0).centres_mm(40, 10), 50.0, 0.0);
    sheet.row("127 and 50, module 2", rule(20.0).centres_mm(127, 50), 177.0, 0.0);
    sheet.done();
}

#[test]
fn a_bench_jig_with_ten_twenty_and_forty() {
    // A 2.5 mm lead screw with 10 to 40 and 10 to 20 gears cuts a lead of 20 mm: common practice, no source.
    assert_eq!(lead(2.5, &[(40, 10), (20, 10)]), whole(20));
    // Derived: from start to start of two, 20 / 2 / 2.5 = 4 turns of the lead screw.
    let found = ways(&Train::of(&[(40, 10), (20, 10)]), 2, whole(20), mm(2.5), None);
    assert!(found.contains(&IndexWay::LeadScrew { turns: whole(4), teeth: Some(40) }), "{found:?}");
}

#[test]
fn starts_that_a_gear_on_the_blank_divides_into() {
    // Derived: the starts divide the teeth.
    let rows: [(u32, &[u32]); 3] =
        [(40, &[2, 4, 5, 8, 10, 20, 40]), (20, &[2, 4, 5, 10, 20]), (10, &[2, 5, 10])];
    for (teeth, divides) in rows {
        let train = Train::of(&[(teeth, 30)]);
        let by_gear = |starts: &u32| {
            let found = ways(&train, *starts, whole(7), whole(11), None);
            found.iter().any(|way| matches!(way, IndexWay::BlankGear { .. }))
        };
        assert_eq!((2..=40).filter(by_gear).collect::<Vec<_>>(), divides, "{teeth} teeth");
    }
    // F. D. Jones, Turning and Boring (1914): a stud gear of 96 teeth and a double thread, 48 teeth.
    let double = ways(&Train::of(&[(96, 30)]), 2, whole(7), whole(11), None);
    assert_eq!(double[0], IndexWay::BlankGear { teeth: 96, step: 48 });
}

#[test]
fn convergents_of_inch_and_millimetre() {
    // Derived: continued fractions of 127/100 and 127/40. Their errors in millionths.
    let mut sheet = Sheet::of(
        "errors of fractions near 1.27 and 25.4/8",
        "continued fractions; a list in a machinists' forum",
        SeenAndDerived,
    );
    let target = Fraction::new(127, 100);
    let want = [(1, 1), (4, 3), (5, 4), (14, 11), (33, 26), (47, 37), (127, 100)];
    assert_eq!(convergents(target), want.map(|(top, bottom)| Fraction::new(top, bottom)));
    for (top, bottom, off) in [(14, 11, 2147.459), (33, 26, -605.694), (47, 37, 212.811), (80, 63, -124.984)]
    {
        sheet.row(
            &format!("{top}/{bottom} for 1.27"),
            ppm(Fraction::new(top, bottom), target),
            off,
            printed(3),
        );
    }
    // The best with no more than 80 teeth is 80/63: -0.0125 mm in 100.
    let within = |fraction: &Fraction| *fraction.numer() <= 80 && *fraction.denom() <= 80;
    let best = approach(target)
        .filter(within)
        .min_by(|a, b| ppm(*a, target).abs().total_cmp(&ppm(*b, target).abs()));
    assert_eq!(best, Some(Fraction::new(80, 63)));
    sheet.row("80/63 over 100 mm", ppm(Fraction::new(80, 63), target) * 100.0 / 1e6, -0.0125, printed(4));
    let eighth = Fraction::new(127, 40);
    let want = [(3, 1), (16, 5), (19, 6), (54, 17), (127, 40)];
    assert_eq!(convergents(eighth), want.map(|(top, bottom)| Fraction::new(top, bottom)));
    // A list in a machinists' forum, all its rows.
    for (top, bottom, off) in [(16, 5, 7874.016), (19, 6, -2624.672), (54, 17, 463.177), (73, 23, -342.349)] {
        let fraction = Fraction::new(top, bottom);
        assert!(approach(eighth).any(|step| step == fraction), "{fraction} is on the way to 127/40");
        sheet.row(&format!("{fraction} for 25.4/8"), ppm(fraction, eighth), off, printed(3));
    }
    sheet.done();
}

#[test]
fn brocots_own_case() {
    // A. Brocot's case of 191/23, as told by B. Hayes, American Scientist, July-August 2000.
    let target = Fraction::new(191, 23);
    let path: Vec<Fraction> = approach(target).skip_while(|step| *step != whole(8)).collect();
    let want = [(8, 1), (9, 1), (17, 2), (25, 3), (33, 4), (58, 7), (83, 10), (108, 13), (191, 23)];
    assert_eq!(path, want.map(|(top, bottom)| Fraction::new(top, bottom)));
    // Derived: errors of the two before the last.
    let mut sheet = Sheet::of(
        "errors on the way to 191/23",
        "A. Brocot, in B. Hayes, American Scientist, July-August 2000",
        SeenAndDerived,
    );
    sheet.row("83/10", ppm(Fraction::new(83, 10), target), -523.560, printed(3));
    sheet.row("108/13", ppm(Fraction::new(108, 13), target), 402.739, printed(3));
    sheet.done();
}
