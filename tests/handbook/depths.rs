//! Depths of passes that take equal areas.

use threadwright::design::shape::Shape;
use threadwright::feeds::equal_area;
use threadwright::setup::Tip;

use crate::Known::{Derived, Seen};
use crate::{Sheet, printed};

/// No smallest step: the bare formula.
const ANY_STEP: f64 = 0.0;

fn check(mut sheet: Sheet, tip_diameter_mm: f64, table: &[f64], within: f64) {
    let shape = Shape::new(60.0, Tip::Flat { diameter_mm: tip_diameter_mm });
    let full = *table.last().expect("a table has rows");
    let depths = equal_area(shape, full, table.len() as u32, ANY_STEP);
    assert_eq!(depths.len(), table.len());
    for (index, (got, want)) in depths.iter().zip(table).enumerate() {
        sheet.row(&format!("pass {}", index + 1), *got, *want, within);
    }
    sheet.done();
}

#[test]
fn sharp_v_from_open_threading_tables() {
    let metric = Sheet::of("equal passes of M10", "an open page on threading passes", Seen);
    check(metric, 0.0, &[0.376, 0.531, 0.651, 0.751, 0.840, 0.920], printed(3));
    // It drops digits instead of rounding: one unit of the last.
    let unified = Sheet::of("equal passes of 1/2-13", "another open page on threading passes", Seen);
    check(unified, 0.0, &[0.0211, 0.0298, 0.0365, 0.0422, 0.0472], 2.0 * printed(4));
}

#[test]
fn with_and_without_a_flat_tip() {
    // Derived: (-t + sqrt(t² + tan a · A k / N)) / tan a. The square root alone is right only for a sharp tip.
    let formula = "(-t + sqrt(t^2 + tan a A k / N)) / tan a";
    check(
        Sheet::of("equal passes of a flat tip", formula, Derived),
        1.0,
        &[3.137_859, 4.729_703, 5.959_901, 7.0],
        printed(6),
    );
    check(
        Sheet::of("equal passes of a sharp tip", formula, Derived),
        0.0,
        &[3.5, 4.949_747, 6.062_178, 7.0],
        printed(6),
    );
}

#[test]
fn area_at_full_depth() {
    let mut sheet = Sheet::of("section of a V groove with a flat", "t d + tan a d^2", Derived);
    let shape = Shape::new(60.0, Tip::Flat { diameter_mm: 1.0 });
    sheet.row("7 deep", shape.area_mm2(7.0), 35.290_163, printed(6));
    sheet.row("one pass of four", shape.area_mm2(3.137_859), 8.822_541, 1e-5);
    sheet.done();
}
