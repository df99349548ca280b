//! The groove of a V tooth that circles in a hole and climbs. Derived, and checked there two ways: the closed form against a
//! scan over the angle, and a vector test of the moving cutter in space. Diameters of standard nuts; the feed of the axis.

use threadwright::design::nut::{NutGroove, centre_feed, diameters_mm, tooth_angle_for_deg};
use threadwright::setup::Tooth;

use crate::Known::{Derived, Memory, SeenAndDerived, SeenAndMemory};
use crate::{Sheet, printed};

/// The tables have six decimals; both ways of reckoning are better than that.
const TABLE: f64 = 1e-6;

struct Case {
    major: f64,
    lead: f64,
    angle: f64,
    /// Half the flat of the tip.
    tip_half: f64,
    cutter: f64,
    /// Distance of the cutter's axis.
    circle: f64,
    /// Radius, half width.
    rows: [(f64, f64); 5],
    /// Below the major radius, where the rounded root begins.
    rounded: f64,
}

const CASES: [Case; 4] = [
    Case {
        major: 51.0,
        lead: 20.0,
        angle: 60.0,
        tip_half: 0.5,
        cutter: 20.0,
        circle: 15.5,
        rows: [
            (25.25, 0.857_714),
            (24.0, 1.571_097),
            (22.0, 2.692_066),
            (20.0, 3.806_166),
            (18.5, 4.635_854),
        ],
        rounded: 0.400_667,
    },
    Case {
        major: 51.0,
        lead: 20.0,
        angle: 60.0,
        tip_half: 0.5,
        cutter: 30.0,
        circle: 10.5,
        rows: [
            (25.25, 1.033_761),
            (24.0, 1.855_482),
            (22.0, 2.976_451),
            (20.0, 4.090_551),
            (18.5, 4.920_240),
        ],
        rounded: 0.937_170,
    },
    Case {
        major: 65.0,
        lead: 25.0,
        angle: 90.0,
        tip_half: 0.4,
        cutter: 25.0,
        circle: 20.0,
        rows: [
            (32.25, 0.801_346),
            (31.0, 2.041_409),
            (29.5, 3.528_369),
            (28.0, 5.013_924),
            (27.0, 6.003_398),
        ],
        rounded: 0.154_128,
    },
    Case {
        major: 65.0,
        lead: 25.0,
        angle: 90.0,
        tip_half: 0.4,
        cutter: 40.0,
        circle: 12.5,
        rows: [
            (32.25, 1.025_354),
            (31.0, 2.283_077),
            (29.5, 3.770_036),
            (28.0, 5.255_592),
            (27.0, 6.245_066),
        ],
        rounded: 0.402_596,
    },
];

impl Case {
    fn groove(&self) -> NutGroove {
        let tooth = Tooth {
            middle_mm: 10.0,
            diameter_mm: self.cutter,
            included_angle_deg: self.angle,
            tip_flat_mm: 2.0 * self.tip_half,
        };
        NutGroove::new(&tooth, self.major / 2.0, self.lead)
    }

    /// The greatest of f + (Rc - q) tan a + p psi over all psi with q <= Rc, by brute scan.
    fn scan(&self, r: f64) -> f64 {
        let (rc, e, p) = (self.cutter / 2.0, self.circle, self.lead / std::f64::consts::TAU);
        let tan = (self.angle / 2.0).to_radians().tan();
        let steps = 2_000_000_u32;
        (0..=steps)
            .map(|step| f64::from(step) / f64::from(steps) * std::f64::consts::PI)
            .filter_map(|psi| {
                let q = (r * r + e * e - 2.0 * r * e * psi.cos()).sqrt();
                (q <= rc).then_some(self.tip_half + (rc - q) * tan + p * psi)
            })
            .fold(0.0, f64::max)
    }
}

#[test]
fn half_widths_of_the_tables() {
    let mut sheet =
        Sheet::of("half widths of a milled nut groove", "scan over the angle, vectors in space", Derived);
    for case in &CASES {
        let groove = case.groove();
        let name = format!("major {} cutter {}", case.major, case.cutter);
        sheet.row(&format!("{name} circle"), groove.circle_mm(), case.circle, TABLE);
        for (r, half_width) in case.rows {
            sheet.row(&format!("{name} b({r})"), groove.half_width_mm(r), half_width, TABLE);
        }
        let rounded = case.major / 2.0 - groove.rounded_from_mm();
        sheet.row(&format!("{name} rounded root"), rounded, case.rounded, TABLE);
    }
    sheet.done();
}

#[test]
fn the_closed_form_is_the_greatest_of_all_angles() {
    // The scan misses the top by at most the slope over one step: 3.2 mm times 1.6e-6.
    const SCAN: f64 = 6e-6;
    let mut sheet = Sheet::of("closed form of the nut groove", "brute scan over the angle", Derived);
    for case in &CASES {
        let groove = case.groove();
        for step in 1..=20 {
            let r = case.rows[4].0 + (case.major / 2.0 - case.rows[4].0) * f64::from(step) / 20.5;
            let name = format!("major {} cutter {} b({r})", case.major, case.cutter);
            sheet.row(&name, groove.half_width_mm(r), case.scan(r), SCAN);
        }
    }
    sheet.done();
}

#[test]
fn a_steep_lead_cuts_more_before_the_depth_than_at_it() {
    // A cutter almost as wide as its bore, threads half as deep as the bore's radius: on smaller circles the rim sweeps
    // farther than the flank does at full depth. Both sides by brute scan.
    let case = Case {
        major: 62.4,
        lead: 60.0,
        angle: 80.0,
        tip_half: 0.5,
        cutter: 38.6,
        circle: 11.9,
        rows: [(20.0, 0.0); 5],
        rounded: 0.0,
    };
    let groove = case.groove();
    assert!(groove.is_helicoid());
    let mut worst = 0.0_f64;
    for circle in [2.0, 4.0, 5.1, 6.0, 9.0] {
        let before = Case { circle, ..case };
        let (got, want) = (groove.nearer(circle).half_width_mm(20.0), before.scan(20.0));
        // The scan misses the rim, where a step of psi counts fully: 9.5 mm times 1.6e-6, and its neighbour.
        assert!((got - want).abs() < 4e-5, "circle {circle}: {got} against {want}");
        worst = worst.max(want - case.scan(20.0));
    }
    let told = groove.cut_before_mm(20.0);
    assert!(worst > 0.5 && told >= worst - 1e-3 && told < worst + 0.1, "{told} against {worst}");
    // The threads of the tables do nothing of the kind.
    for case in &CASES {
        assert_eq!(case.groove().cut_before_mm(case.rows[4].0), 0.0);
    }
}

#[test]
fn the_flank_is_steeper_than_the_tooth_whatever_the_cutter() {
    // 29.2 degrees at r = 22 for a tooth of 60 degrees and a lead of 20.
    let mut sheet = Sheet::of("flank of a milled nut groove", "scan over the angle", Derived);
    for case in &CASES[..2] {
        let groove = case.groove();
        let slope = groove.flank_slope(22.0);
        sheet.row("flank at 22", slope.atan().to_degrees(), 29.2, printed(1));
        let step = 1e-4;
        let secant = (groove.half_width_mm(22.0 - step) - groove.half_width_mm(22.0 + step)) / (2.0 * step);
        // A secant of a function with six sure digits over 2e-4.
        sheet.row("slope is the slope", slope, secant, 1e-7);
    }
    sheet.done();
}

#[test]
fn widest_cutters_and_the_tooth_that_mates() {
    let mut sheet = Sheet::of(
        "widest cutter and tooth angle that mates",
        "the base cylinder; scan over the angle",
        Derived,
    );
    // The cutter's axis on the base cylinder: dc = major - 2 h.
    for (case, widest) in [(&CASES[0], 39.973), (&CASES[2], 57.042)] {
        let base = case.groove().base_radius_mm();
        sheet.row("widest cutter", case.major - 2.0 * base, widest, printed(3));
    }
    // Half angle A in the axial section, diameter, lead, half angle of the tooth.
    let rows = [(30.0, 44.0, 20.0, 30.7613), (45.0, 58.0, 25.0, 45.2671), (30.0, 26.0, 12.0, 30.7843)];
    for (half, diameter, lead, tooth) in rows {
        let got = tooth_angle_for_deg(half, lead, diameter / 2.0) / 2.0;
        sheet.row(&format!("tooth for {half} at {diameter}"), got, tooth, printed(4));
    }
    sheet.done();
}

#[test]
fn feed_of_the_axis() {
    // A web page on feed compensation in thread milling: .370 in cutter, .562 in bore, 8.3 in/min -> 2.8; recomputed 2.836.
    // On the outside of a boss of the same diameter the axis runs faster, 13.8; recomputed 13.764: a cutter that runs
    // outside is one of negative diameter here.
    let mut sheet = Sheet::of(
        "feed of the cutter's axis inside and outside",
        "a web page on feed compensation in thread milling",
        SeenAndDerived,
    );
    sheet.row("inside", centre_feed(8.3, 0.562, 0.370, 0.0), 2.836, printed(3));
    sheet.row("outside", centre_feed(8.3, 0.562, -0.370, 0.0), 13.764, printed(3));
    sheet.done();
}

#[test]
fn nuts_of_iso_2904() {
    // An open table "ISO 2904:1977". Order: d, d3, ac, D4, D1. ac: its values are from memory, confirmed by these rows.
    let rows = [
        (8.0, 6.200, 0.15, 8.300, 6.500),
        (42.0, 38.500, 0.25, 42.500, 39.000),
        (42.0, 34.000, 0.5, 43.000, 35.000),
        (44.0, 36.000, 0.5, 45.000, 37.000),
        (44.0, 31.000, 0.5, 45.000, 32.000),
        (46.0, 37.000, 0.5, 47.000, 38.000),
        (46.0, 33.000, 0.5, 47.000, 34.000),
        (48.0, 44.500, 0.25, 48.500, 45.000),
        (48.0, 39.000, 0.5, 49.000, 40.000),
    ];
    let mut sheet = Sheet::of("diameters of trapezoidal nuts", "open table ISO 2904:1977", SeenAndMemory);
    for (crest, root, clearance, major, bore) in rows {
        let [got_major, got_bore] = diameters_mm(crest, root, clearance);
        sheet.row(&format!("Tr {crest} D4"), got_major, major, printed(3));
        sheet.row(&format!("Tr {crest} D1"), got_bore, bore, printed(3));
    }
    sheet.done();
}

#[test]
fn nuts_of_din_405() {
    // DIN 405: d3 = d - P, ac = 0.05 P (from memory), D4 = d + 0.1 P, D1 = d - 0.9 P; the columns are derived.
    let rows = [
        (8.0, 2.54, 8.254, 5.714),
        (16.0, 3.175, 16.3175, 13.1425),
        (40.0, 25.4 / 6.0, 40.423, 36.190),
        (50.0, 25.4 / 6.0, 50.423, 46.190),
        (100.0, 25.4 / 6.0, 100.423, 96.190),
        (105.0, 6.35, 105.635, 99.285),
    ];
    let mut sheet = Sheet::of("diameters of round-thread nuts", "DIN 405", Memory);
    for (crest, pitch, major, bore) in rows {
        let [got_major, got_bore] = diameters_mm(crest, crest - pitch, 0.05 * pitch);
        sheet.row(&format!("Rd {crest} D4"), got_major, major, printed(3));
        sheet.row(&format!("Rd {crest} D1"), got_bore, bore, printed(3));
    }
    sheet.done();
}
