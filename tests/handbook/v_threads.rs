//! Metric and Unified V threads, 60 degrees. ISO 68-1: crest flat P/8, nut crest P/4, H = sqrt(3)/2 P.

use threadwright::design::form::VForm;

use crate::Known::Seen;
use crate::{Sheet, printed};

/// A 60-degree form by pitch and its flats as shares of the pitch.
fn form(pitch: f64, crest: f64, root: f64) -> VForm {
    VForm {
        pitch_mm: pitch,
        included_angle_deg: 60.0,
        crest_flat_mm: crest * pitch,
        root_flat_mm: root * pitch,
    }
}

/// Root flat of the nut's crest: depth 5H/8.
const NUT_CREST: f64 = 1.0 / 4.0;
/// Flat at which the external root of ISO 68-1 ends: 7/8 - 17/24, so that h3 = 17H/24.
const EXTERNAL_ROOT: f64 = 1.0 / 6.0;
/// The same for the Unified rounded root: 7/8 - 11/16, so that the depth is 11H/16. Not the metric one.
const UNIFIED_ROOT: f64 = 3.0 / 16.0;

/// Pitch-line, external root and nut crest diameter.
fn diameters(major: f64, pitch: f64, root: f64) -> [f64; 3] {
    [
        major - 2.0 * form(pitch, 1.0 / 8.0, root).pitch_line_depth_mm(),
        major - 2.0 * form(pitch, 1.0 / 8.0, root).depth_mm(),
        major - 2.0 * form(pitch, 1.0 / 8.0, NUT_CREST).depth_mm(),
    ]
}

#[test]
fn heights_of_the_metric_triangle() {
    // Machinery's Handbook, 31st ed. (2020), p. 1942, fig. 2, for a pitch of 1.
    let mut sheet = Sheet::of(
        "heights of the metric triangle",
        "Machinery's Handbook, 31st ed., p. 1942; Univ. of Stavanger (2018)",
        Seen,
    );
    let one = form(1.0, 1.0 / 8.0, NUT_CREST);
    sheet.row("H", one.sharp_height_mm(), 0.866_025_404, printed(9));
    sheet.row("3H/8", one.pitch_line_depth_mm(), 0.324_759_526, printed(9));
    sheet.row("5H/8", one.depth_mm(), 0.541_265_877, printed(9));
    // Univ. of Stavanger, "Standard Metric Bolt Dimensions" (2018): d3 = d - 1.226869 P.
    sheet.row("2 h3", 2.0 * form(1.0, 1.0 / 8.0, EXTERNAL_ROOT).depth_mm(), 1.226_869, printed(6));
    sheet.done();
}

#[test]
fn metric_rows() {
    // ISO 724 rows as printed in open tables: a metric thread chart (M6, M10 to M20), "Metric Fine Thread Dimensions
    // (ISO 724)" (M8x1, M22x2), Univ. of Stavanger 2018 (pitch-line diameters from M24 up). Order d2, d3, D1.
    // Left out as misprints, the formula wins: M18x2.5 D1 15.394 for 15.294; M39x4 d2 36.00 for 36.402.
    let rows: [(f64, f64, [Option<f64>; 3]); 12] = [
        (6.0, 1.0, [Some(5.350), Some(4.773), Some(4.917)]),
        (8.0, 1.0, [Some(7.350), Some(6.773), Some(6.917)]),
        (10.0, 1.5, [Some(9.026), Some(8.160), Some(8.376)]),
        (12.0, 1.75, [Some(10.863), Some(9.853), Some(10.106)]),
        (16.0, 2.0, [Some(14.701), Some(13.546), Some(13.835)]),
        (20.0, 2.5, [Some(18.376), Some(16.933), Some(17.294)]),
        (22.0, 2.0, [Some(20.701), Some(19.546), Some(19.835)]),
        (24.0, 3.0, [Some(22.051), None, None]),
        (30.0, 3.5, [Some(27.727), None, None]),
        (36.0, 4.0, [Some(33.402), None, None]),
        (48.0, 5.0, [Some(44.752), None, None]),
        (64.0, 6.0, [Some(60.103), None, None]),
    ];
    let mut sheet = Sheet::of("diameters of metric threads", "ISO 724 in open tables", Seen);
    for (major, pitch, table) in rows {
        let got = diameters(major, pitch, EXTERNAL_ROOT);
        for ((what, got), want) in ["d2", "d3", "D1"].iter().zip(got).zip(table) {
            if let Some(want) = want {
                sheet.row(&format!("M{major}x{pitch} {what}"), got, want, printed(3));
            }
        }
    }
    sheet.done();
}

#[test]
fn unified_rows() {
    // Machinery's Handbook, 31st ed., p. 1978, table 4a, inches. Order D2, d3 (rounded root), D1.
    let rows = [
        (0.25, 20.0, [0.2175, 0.1905, 0.1959]),
        (0.5, 13.0, [0.4500, 0.4084, 0.4167]),
        (0.75, 10.0, [0.6850, 0.6309, 0.6417]),
        (1.0, 8.0, [0.9188, 0.8512, 0.8647]),
        (1.5, 6.0, [1.3917, 1.3016, 1.3196]),
        (2.0, 4.5, [1.8557, 1.7353, 1.7594]),
        (3.0, 4.0, [2.8376, 2.7023, 2.7294]),
        (4.0, 4.0, [3.8376, 3.7023, 3.7294]),
    ];
    // The table rounds d3 down, D2 and D1 to the nearest.
    let within = [printed(4), 2.0 * printed(4), printed(4)];
    let mut sheet =
        Sheet::of("diameters of Unified threads", "Machinery's Handbook, 31st ed., p. 1978", Seen);
    for (major, per_inch, table) in rows {
        let got = diameters(major, 1.0 / per_inch, UNIFIED_ROOT);
        for index in 0..3 {
            let what = format!("{major}-{per_inch} {}", ["D2", "d3", "D1"][index]);
            sheet.row(&what, got[index], table[index], within[index]);
        }
    }
    sheet.done();
}

#[test]
fn old_forms() {
    // Rose, Modern Machine-Shop Practice (1887-88): 1 inch, 8 to the inch, sharp V and the old US form (both flats P/8).
    let mut sheet =
        Sheet::of("root diameters of the old forms", "Rose, Modern Machine-Shop Practice (1887-88)", Seen);
    sheet.row("sharp V", 1.0 - 2.0 * form(0.125, 0.0, 0.0).depth_mm(), 0.7835, printed(4));
    sheet.row("old US", 1.0 - 2.0 * form(0.125, 0.125, 0.125).depth_mm(), 0.8376, printed(4));
    sheet.done();
}
