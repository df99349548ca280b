//! The groove a conical cutter leaves when it points at the axis. Derived, and checked there three ways: a scan with
//! golden section, bisection on the envelope condition, and a vector test of the moving cutter in space.

use threadwright::design::groove::{Groove, tip_radius_for};
use threadwright::design::shape::Shape;
use threadwright::setup::Tip;

use crate::Known::Derived;
use crate::Sheet;

/// The tables have six decimals; both ways of reckoning are better than that.
const TABLE: f64 = 1e-6;

struct Case {
    name: &'static str,
    crest_radius: f64,
    pitch: f64,
    lead: f64,
    angle: f64,
    tip_radius: f64,
    root: f64,
    /// Radius and half width.
    rows: &'static [(f64, f64)],
    /// Crest flat that is left, where the table gives one.
    crest_flat: Option<f64>,
}

const CASES: [Case; 4] = [
    Case {
        name: "A",
        crest_radius: 25.0,
        pitch: 10.0,
        lead: 20.0,
        angle: 60.0,
        tip_radius: 0.5,
        root: 18.0,
        rows: &[
            // In the tip plane the groove is as wide as the tip; just above it the plane ends the sweep.
            (18.0, 0.5),
            (18.0001, 0.506_997),
            (18.001, 0.508_222),
            (18.25, 0.653_872),
            (19.0, 1.091_892),
            (21.0, 2.256_082),
            (23.0, 3.416_517),
            (25.0, 4.574_653),
        ],
        crest_flat: Some(0.850_693),
    },
    Case {
        name: "B",
        crest_radius: 32.0,
        pitch: 12.5,
        lead: 25.0,
        angle: 90.0,
        tip_radius: 0.4,
        root: 26.5,
        rows: &[
            (26.75, 0.656_982),
            (28.0, 1.917_881),
            (29.5, 3.427_621),
            (31.0, 4.934_735),
            (32.0, 5.938_390),
        ],
        crest_flat: Some(0.623_219),
    },
    Case {
        name: "C",
        crest_radius: 15.0,
        pitch: 6.0,
        lead: 12.0,
        angle: 60.0,
        tip_radius: 0.25,
        root: 11.0,
        rows: &[
            (11.25, 0.399_869),
            (12.0, 0.837_367),
            (13.0, 1.418_899),
            (14.0, 1.999_030),
            (15.0, 2.578_220),
        ],
        crest_flat: Some(0.843_560),
    },
    Case {
        name: "press",
        crest_radius: 50.0,
        pitch: 32.0,
        lead: 64.0,
        angle: 90.0,
        tip_radius: 0.5,
        root: 40.0,
        rows: &[(41.0, 1.544_013), (45.0, 5.624_190), (50.0, 10.678_655)],
        crest_flat: None,
    },
];

impl Case {
    fn shape(&self) -> Shape {
        Shape::new(self.angle, Tip::Flat { diameter_mm: 2.0 * self.tip_radius })
    }

    fn groove(&self) -> Groove {
        Groove::new(self.shape(), self.root, self.lead)
    }
}

#[test]
fn half_widths() {
    let mut sheet = Sheet::of(
        "half widths of a helical V groove",
        "scan, bisection on the envelope, vectors in space",
        Derived,
    );
    for case in CASES {
        for &(r, half_width) in case.rows {
            sheet.row(&format!("{} at {r}", case.name), case.groove().half_width_mm(r), half_width, TABLE);
        }
    }
    sheet.done();
}

#[test]
fn crest_flats() {
    let mut sheet = Sheet::of(
        "crest flats beside helical V grooves",
        "scan, bisection on the envelope, vectors in space",
        Derived,
    );
    for case in CASES {
        let Some(flat) = case.crest_flat else { continue };
        let got = case.pitch - 2.0 * case.groove().half_width_mm(case.crest_radius);
        sheet.row(case.name, got, flat, TABLE);
    }
    sheet.done();
}

#[test]
fn flank_slopes() {
    let mut sheet = Sheet::of(
        "flank slopes of a helical V groove",
        "scan, bisection on the envelope, vectors in space",
        Derived,
    );
    for (r, slope) in [(19.0, 0.583_402), (21.5, 0.580_568), (25.0, 0.578_651)] {
        sheet.row(&format!("A at {r}"), CASES[0].groove().flank_slope(r), slope, TABLE);
    }
    sheet.done();
}

#[test]
fn depth_for_a_crest_width() {
    // The plain V would say 18.071797 and cut 0.057 mm too deep.
    let mut sheet = Sheet::of(
        "root radius for a crest flat",
        "scan, bisection on the envelope, vectors in space",
        Derived,
    );
    sheet.row(
        "A, half width 4.5 at 25",
        tip_radius_for(CASES[0].shape(), 4.5, 25.0, 20.0),
        18.128_452,
        TABLE,
    );
    sheet.done();
}
