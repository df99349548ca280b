//! Acme threads, 29 degrees, inches. Machinery's Handbook, 27th ed., p. 1828 table 1 and p. 1831 table 3.

use threadwright::design::form::{VForm, lead_angle_deg};

use crate::Known::Seen;
use crate::{Sheet, printed};

/// The form whose tooth and groove are equally wide a quarter of the pitch below the crest, `depth` deep.
fn form(pitch: f64, depth: f64) -> VForm {
    let tan_half = 14.5_f64.to_radians().tan();
    let crest_flat_mm = pitch / 2.0 - 0.5 * pitch * tan_half;
    VForm {
        pitch_mm: pitch,
        included_angle_deg: 29.0,
        crest_flat_mm,
        root_flat_mm: pitch - crest_flat_mm - 2.0 * depth * tan_half,
    }
}

#[test]
fn heights_and_flats() {
    // Threads per inch, total height, crest flat, root flat; the allowance is 0.020 inch for all of them.
    // Left out: the root flat of 5 to the inch, printed .0689; the table's own formula gives .06896.
    let rows = [
        (10.0, 0.0600, 0.0371, Some(0.0319)),
        (5.0, 0.1100, 0.0741, None),
        (4.0, 0.1350, 0.0927, Some(0.0875)),
        (2.0, 0.2600, 0.1853, Some(0.1802)),
    ];
    let mut sheet = Sheet::of(
        "heights and flats of Acme threads",
        "Machinery's Handbook, 27th ed., pp. 1828, 1831",
        Seen,
    );
    for (per_inch, height, crest_flat, root_flat) in rows {
        let pitch = 1.0 / per_inch;
        let thread = form(pitch, pitch / 2.0 + 0.020 / 2.0);
        sheet.row(&format!("{per_inch}: height"), thread.depth_mm(), height, printed(4));
        sheet.row(&format!("{per_inch}: crest flat"), thread.crest_flat_mm, crest_flat, printed(4));
        if let Some(root_flat) = root_flat {
            let got = thread.groove_width_mm(thread.depth_mm());
            sheet.row(&format!("{per_inch}: root flat"), got, root_flat, printed(4));
        }
    }
    sheet.done();
}

#[test]
fn diameters_and_lead_angles() {
    // Diameter, threads per inch, pitch diameter, minor diameter, lead angle in degrees and minutes.
    let rows = [
        (0.25, 16.0, 0.2188, 0.1875, (5.0, 12.0)),
        (0.5, 10.0, 0.4500, 0.4000, (4.0, 3.0)),
        (0.75, 6.0, 0.6667, 0.5833, (4.0, 33.0)),
        (1.0, 5.0, 0.9000, 0.8000, (4.0, 3.0)),
    ];
    let half_a_minute = 0.5 / 60.0;
    let mut sheet = Sheet::of(
        "diameters and lead angles of Acme threads",
        "Machinery's Handbook, 27th ed., pp. 1828, 1831",
        Seen,
    );
    for (major, per_inch, pitch_diameter, minor, (degrees, minutes)) in rows {
        let pitch = 1.0 / per_inch;
        let thread = form(pitch, pitch / 2.0);
        let got = major - 2.0 * thread.pitch_line_depth_mm();
        sheet.row(&format!("{major}-{per_inch} pitch diameter"), got, pitch_diameter, printed(4));
        let root = major - 2.0 * thread.depth_mm();
        sheet.row(&format!("{major}-{per_inch} minor diameter"), root, minor, printed(4));
        let angle = lead_angle_deg(pitch, got);
        sheet.row(&format!("{major}-{per_inch} lead angle"), angle, degrees + minutes / 60.0, half_a_minute);
    }
    sheet.done();
}
