//! The helix: lead angle and length of a turn. Derived: tan lambda = L / (pi D), length = sqrt((pi D)² + L²).

use threadwright::design::form::{lead_angle_deg, turn_length_mm};

use crate::Known::Derived;
use crate::{Sheet, printed};

#[test]
fn angle_and_length() {
    let rows = [
        (50.0, 20.0, 7.256_083, 158.347_753),
        (64.0, 25.0, 7.087_769, 202.610_216),
        (30.0, 12.0, 7.256_083, 95.008_652),
        (100.0, 64.0, 11.514_636, 320.611_984),
    ];
    let mut sheet = Sheet::of(
        "lead angle and length of a turn",
        "tan lambda = L / (pi D), sqrt((pi D)^2 + L^2)",
        Derived,
    );
    for (diameter, lead, angle, length) in rows {
        let name = format!("diameter {diameter}, lead {lead}");
        sheet.row(&format!("{name}: angle"), lead_angle_deg(lead, diameter), angle, printed(6));
        sheet.row(&format!("{name}: length"), turn_length_mm(lead, diameter), length, printed(6));
    }
    sheet.done();
}

#[test]
fn turns_per_minute_depend_on_the_diameter_at_which_the_feed_holds() {
    // Derived: feed over the length of a turn. Diameter, lead, feed, turns a minute.
    let rows =
        [(50.0, 20.0, 1500.0, 9.472_821), (43.0, 20.0, 1500.0, 10.984_105), (64.0, 25.0, 1200.0, 5.922_702)];
    let mut sheet = Sheet::of(
        "turns a minute by the diameter where the feed holds",
        "feed over the length of a turn",
        Derived,
    );
    for (diameter, lead, feed, turns) in rows {
        let got = feed / turn_length_mm(lead, diameter);
        sheet.row(&format!("diameter {diameter}, lead {lead}"), got, turns, printed(6));
    }
    sheet.done();
}
