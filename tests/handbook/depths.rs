//! Depths of passes that take equal areas.

use threadwright::design::shape::Shape;
use threadwright::feeds::equal_area;
use threadwright::setup::Tip;

use crate::{Sheet, printed};

/// No smallest step: the bare formula.
const ANY_STEP: f64 = 0.0;

fn check(name: &str, tip_diameter_mm: f64, table: &[f64], within: f64) {
    let shape = Shape::new(60.0, Tip::Flat { diameter_mm: tip_diameter_mm });
    let full = *table.last().expect("a table has rows");
    let depths = equal_area(shape, full, table.len() as u32, ANY_STEP);
    assert_eq!(depths.len(), table.len(), "{name}");
    let mut sheet = Sheet::default();
    for (index, (got, want)) in depths.iter().zip(table).enumerate() {
        sheet.row(&format!("{name}, pass {}", index + 1), *got, *want, within);
    }
    sheet.done();
}

#[test]
fn sharp_v_from_open_threading_tables() {
    // Two open pages on threading passes. The second drops digits instead of rounding: one unit of the last.
    check("M10", 0.0, &[0.376, 0.531, 0.651, 0.751, 0.840, 0.920], printed(3));
    check("1/2-13", 0.0, &[0.0211, 0.0298, 0.0365, 0.0422, 0.0472], 2.0 * printed(4));
}

#[test]
fn with_and_without_a_flat_tip() {
    // Derived: (-t + sqrt(t² + tan a · A k / N)) / tan a. The square root alone is right only for a sharp tip.
    check("flat tip", 1.0, &[3.137_859, 4.729_703, 5.959_901, 7.0], printed(6));
    check("sharp tip", 0.0, &[3.5, 4.949_747, 6.062_178, 7.0], printed(6));
}

#[test]
fn area_at_full_depth() {
    let mut sheet = Sheet::default();
    let shape = Shape::new(60.0, Tip::Flat { diameter_mm: 1.0 });
    sheet.row("7 deep", shape.area_mm2(7.0), 35.290_163, printed(6));
    sheet.row("one pass of four", shape.area_mm2(3.137_859), 8.822_541, 1e-5);
    sheet.done();
}
