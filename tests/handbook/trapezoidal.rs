//! ISO metric trapezoidal threads, 30 degrees (ISO 2901 to 2904). Not the older DIN 103, whose clearances differ.

use threadwright::design::form::{VForm, lead_angle_deg};

use crate::Known::{Derived, Seen};
use crate::{Sheet, printed};

/// Half of 30 degrees.
fn tan_half() -> f64 {
    15_f64.to_radians().tan()
}

/// The form whose tooth and groove are equally wide a quarter of the pitch below the crest, `depth` deep.
fn form(pitch: f64, depth: f64) -> VForm {
    let crest_flat_mm = pitch / 2.0 - 0.5 * pitch * tan_half();
    VForm {
        pitch_mm: pitch,
        included_angle_deg: 30.0,
        crest_flat_mm,
        root_flat_mm: pitch - crest_flat_mm - 2.0 * depth * tan_half(),
    }
}

/// Crest clearance ac by pitch. Break points from an open sheet "ISO 2904 basic dimensions"; 0.15, 0.25 and 0.5 are
/// confirmed by the rows below, 1.0 is from memory and not used.
fn clearance(pitch: f64) -> f64 {
    match pitch {
        p if p <= 1.5 => 0.15,
        p if p <= 5.0 => 0.25,
        p if p <= 12.0 => 0.5,
        _ => 1.0,
    }
}

#[test]
fn basic_shape() {
    // ISO 2901:2016 and Machinery's Handbook, 31st ed., p. 2038: H = 1.866025404 P, crest flat 0.366 P.
    let mut sheet = Sheet::of(
        "height and flats of the trapezoidal form",
        "ISO 2901:2016; Machinery's Handbook, 31st ed., p. 2038",
        Seen,
    );
    sheet.row("H", form(1.0, 0.5).sharp_height_mm(), 1.866_025_404, printed(9));
    sheet.row("w", form(1.0, 0.5).crest_flat_mm, 0.366, printed(3));
    sheet.row("root flat at P/2", form(1.0, 0.5).root_flat_mm, 0.366, printed(3));
    sheet.done();
}

#[test]
fn rows_of_iso_2904() {
    // An open table "ISO 2904:1977". Order: d, P, d2, d3, D1. The nut's D4 = d + 2 ac is no size of this form.
    // Left out as misprints: Tr 42x10 d3 41.000 (31.000); Tr 9x2 and Tr 10x1.5 rows (d3 9.250, D4 11.000).
    let rows = [
        (8.0, 1.5, 7.250, 6.200, 6.500),
        (42.0, 3.0, 40.500, 38.500, 39.000),
        (42.0, 7.0, 38.500, 34.000, 35.000),
        (44.0, 7.0, 40.500, 36.000, 37.000),
        (44.0, 12.0, 38.000, 31.000, 32.000),
        (46.0, 8.0, 42.000, 37.000, 38.000),
        (46.0, 12.0, 40.000, 33.000, 34.000),
        (48.0, 3.0, 46.500, 44.500, 45.000),
        (48.0, 8.0, 44.000, 39.000, 40.000),
    ];
    let mut sheet = Sheet::of("diameters of trapezoidal threads", "open table ISO 2904:1977", Seen);
    for (d, pitch, d2, d3, d1) in rows {
        let external = form(pitch, pitch / 2.0 + clearance(pitch));
        let name = format!("Tr {d}x{pitch}");
        sheet.row(&format!("{name} d2"), d - 2.0 * external.pitch_line_depth_mm(), d2, printed(3));
        sheet.row(&format!("{name} d3"), d - 2.0 * external.depth_mm(), d3, printed(3));
        sheet.row(&format!("{name} D1"), d - 2.0 * form(pitch, pitch / 2.0).depth_mm(), d1, printed(3));
    }
    sheet.done();
}

#[test]
fn many_starts_keep_the_form_of_the_pitch_and_the_angle_of_the_lead() {
    // Designation as in "Tr 60x18(P9) LH" (open engineering table); diameters and lead angles derived.
    let rows = [
        (48.0, 16.0, 8.0, 44.0, 39.0, 6.602_550),
        (60.0, 18.0, 9.0, 55.5, 50.0, 5.894_087),
        (50.0, 24.0, 8.0, 46.0, 41.0, 9.429_320),
        (100.0, 48.0, 12.0, 94.0, 87.0, 9.232_187),
    ];
    let mut sheet = Sheet::of(
        "diameters and lead angles of many starts",
        "designations of an open engineering table",
        Derived,
    );
    for (d, lead, pitch, d2, d3, angle) in rows {
        let external = form(pitch, pitch / 2.0 + clearance(pitch));
        let name = format!("Tr {d}x{lead}(P{pitch})");
        let pitch_line = d - 2.0 * external.pitch_line_depth_mm();
        sheet.row(&format!("{name} d2"), pitch_line, d2, printed(3));
        sheet.row(&format!("{name} d3"), d - 2.0 * external.depth_mm(), d3, printed(3));
        sheet.row(&format!("{name} lead angle"), lead_angle_deg(lead, pitch_line), angle, printed(6));
    }
    sheet.done();
}
