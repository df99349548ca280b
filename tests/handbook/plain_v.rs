//! A V of any angle with any flats, in the axial section.

use threadwright::design::form::VForm;

use crate::Known::SeenAndDerived;
use crate::{Sheet, printed};

#[test]
fn depth_from_the_flats() {
    // Derived by hand: ((P - c)/2 - t) / tan a. The last is 5H/8 of the metric triangle and must agree with
    // Machinery's Handbook, 31st ed., p. 1942: 0.541265877 x 6.
    let rows = [
        (10.0, 60.0, 1.0, 0.5, 6.928_203),
        (12.5, 90.0, 1.25, 0.4, 5.225),
        (6.0, 60.0, 0.6, 0.25, 4.243_524),
        (6.0, 60.0, 0.75, 0.75, 3.247_595),
    ];
    let mut sheet = Sheet::of(
        "depth of a V from its flats",
        "by hand; Machinery's Handbook, 31st ed., p. 1942",
        SeenAndDerived,
    );
    for (pitch_mm, included_angle_deg, crest_flat_mm, tip_radius, depth) in rows {
        let form = VForm { pitch_mm, included_angle_deg, crest_flat_mm, root_flat_mm: 2.0 * tip_radius };
        let name = format!("P{pitch_mm} {included_angle_deg} degrees");
        sheet.row(&format!("{name}: depth"), form.depth_mm(), depth, printed(6));
        let root_flat = form.groove_width_mm(form.depth_mm());
        sheet.row(&format!("{name}: groove in the root"), root_flat, 2.0 * tip_radius, 1e-12);
        let line = form.pitch_line_depth_mm();
        sheet.row(
            &format!("{name}: groove at the pitch line"),
            form.groove_width_mm(line),
            pitch_mm / 2.0,
            1e-12,
        );
    }
    sheet.done();
}

#[test]
fn a_makers_drawing() {
    // A maker's page on press screws: 4.775 high on a base of 8.000 at 80 degrees, measured from a drawing; within
    // what a drawing measures, a fifth of a percent.
    let form = VForm { pitch_mm: 8.0, included_angle_deg: 80.0, crest_flat_mm: 0.0, root_flat_mm: 0.0 };
    let mut sheet =
        Sheet::of("height of a V of 80 degrees", "a maker's drawing of a press screw", SeenAndDerived);
    sheet.row("measured", form.sharp_height_mm(), 4.775, 0.002 * 4.775);
    sheet.row("derived", form.sharp_height_mm(), 4.767_014, printed(6));
    sheet.done();
}
