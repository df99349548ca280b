//! The proof of a nut, and of screw and nut together, as tables: what was measured, how sure it is, what the drawing wants.

use comfy_table::{CellAlignment, Table, presets};

use crate::drawing::{NutDrawing, NutStage};
use crate::proof::nut::NutProof;
use crate::proof::pair::{Fitted, PairProof};
use crate::units::{LengthUnit, tidy_zero};

/// The figures of a nut's proof, a line each, in the unit of the drawing.
pub fn nut_table(proof: &NutProof, drawing: &NutDrawing) -> String {
    let (m, u) = (&proof.measured, &proof.uncertainty);
    let unit = drawing.unit;
    let fine = |value: f64| fine_number(unit, value);
    let mut rows: Vec<[String; 4]> = Vec::new();
    let mut add = |what: &str, got: Option<String>, sure: Option<String>, want: String| {
        let got = got.unwrap_or_else(|| "not measured".to_owned());
        rows.push([what.to_owned(), got, sure.map_or(String::new(), |sure| format!("+/- {sure}")), want]);
    };
    let up = |sure: Option<f64>| sure.map(|sure| fine_up(unit, sure));
    let range = |low: Option<f64>, high: Option<f64>| {
        let (low, high) = (fine(low?), fine(high?));
        Some(if low == high { low } else { format!("{} to {high}", low.split(' ').next().unwrap_or("")) })
    };
    let degrees = |value: f64| format!("{} deg", tidy_zero(format!("{value:.3}")));
    let degrees_up = |sure: Option<f64>| sure.map(|deg| format!("{:.3}", (deg * 1e3).ceil() / 1e3));
    if drawing.done == NutStage::Threaded {
        let passes = &drawing.passes;
        add("starts", m.starts.map(|n| n.to_string()), None, drawing.starts.to_string());
        add("hand", m.hand.map(|hand| hand.name().to_owned()), None, drawing.hand.name().to_owned());
        add("lead", m.lead_mm.map(fine), up(u.lead_mm), fine(drawing.lead_mm));
        let within = format!("within {}", fine(passes.lead_mm));
        add("lead error at most", m.lead_error_max_mm.map(fine), up(u.lead_error_max_mm), within);
        let within = format!("within {}", degrees(passes.index_deg));
        let index_sure = degrees_up(u.index_error_max_deg);
        add("index error at most", m.index_error_max_deg.map(degrees), index_sure.clone(), within);
        let start = degrees(drawing.start_angle_deg.rem_euclid(360.0));
        // Told next to the drawn one: 359.99 is as good as 0.
        let drawn = drawing.start_angle_deg.rem_euclid(360.0);
        let near = |angle: f64| drawn + (angle - drawn + 180.0).rem_euclid(360.0) - 180.0;
        let found = m.start_angle_deg.map(|angle| degrees(near(angle)));
        add("start 1 at the top face", found, index_sure, start);
    }
    let bore = range(m.bore_least_mm, m.bore_greatest_mm);
    add("bore", bore, up(u.bore_mm), fine(drawing.bore_diameter_mm));
    if drawing.done == NutStage::Threaded {
        let thread = range(m.thread_least_mm, m.thread_greatest_mm);
        add("thread diameter", thread, up(u.thread_mm), fine(drawing.major_diameter_mm));
        let within = format!("within {}", fine(drawing.passes.form_mm));
        add("form error at most", m.form_error_max_mm.map(fine), up(u.form_error_max_mm), within);
        let flanks = m.flank_low_deg.zip(m.flank_high_deg);
        let flanks = flanks.map(|(low, high)| format!("{low:.2}, {high:.2} deg"));
        add("flank angles, low and high", flanks, degrees_up(u.flank_deg), String::new());
        add("thread length", m.thread_length_mm.map(fine), up(u.thread_length_mm), fine(drawing.length_mm));
        let mouths = [
            ("mouth at the top", drawing.chamfer_top, m.chamfer_top_mm),
            ("mouth at the bottom", drawing.chamfer_bottom, m.chamfer_bottom_mm),
        ];
        for (name, cone, found) in mouths {
            let Some(cone) = cone else { continue };
            let size = |wide: f64, deep: f64| format!("{} wide, {} deep", fine(wide), fine(deep));
            let found = found.map(|[wide, deep]| size(wide, deep));
            add(name, found, up(u.chamfer_mm), size(cone.face_diameter_mm, cone.depth_mm));
        }
    }
    let optional = [
        ("gap in rapid moves at least", m.rapid_clearance_min_mm.map(fine), None),
        ("above the bed at least", m.bed_clearance_min_mm.map(fine), None),
    ];
    for (what, got, sure) in optional.into_iter().filter(|(_, got, _)| got.is_some()) {
        add(what, got, sure, String::new());
    }
    let feed = m.feed_min_mm_per_min.zip(m.feed_max_mm_per_min);
    let feed = feed.map(|(low, high)| {
        let (low, high) = (unit.show_speed(low), unit.show_speed(high));
        if low == high { low } else { format!("{} to {high}", low.split(' ').next().unwrap_or("")) }
    });
    add("feed of the edge at the wall", feed, None, String::new());
    let volume = |mm3: f64| match unit {
        LengthUnit::Mm => format!("{:.1} cm3", mm3 / 1e3),
        LengthUnit::Inch => format!("{:.2} in3", mm3 / unit.mm().powi(3)),
    };
    add("wood removed", m.removed_mm3.map(volume), None, String::new());
    add("running time", m.minutes.map(|minutes| format!("about {minutes:.0} min")), None, String::new());
    table(["", "measured", "sure to", "drawing"], rows)
}

/// The fit of a pair in each season, a line each, in a unit; whichever face the nose comes in by, the tighter counts. A gap
/// of less than nothing is wood in wood.
pub fn pair_table(proof: &PairProof, unit: LengthUnit) -> String {
    let fine = |value: f64| fine_number(unit, value).split(' ').next().unwrap_or("").to_owned();
    let range = |low: f64, high: f64| {
        let (low, high) = (fine(low), fine(high));
        if low == high { low } else { format!("{low}-{high}") }
    };
    let lines = seasons(proof)
        .map(|fits| {
            let least = |gap: fn(&Fitted) -> f64| fits.iter().map(gap).fold(f64::INFINITY, f64::min);
            let most = |play: fn(&Fitted) -> f64| fits.iter().map(play).fold(0.0, f64::max);
            [
                fits[0].season.clone(),
                fine(least(|fit| fit.crest.mm)),
                fine(least(|fit| fit.root.mm)),
                fine(least(Fitted::flank_mm)),
                range(least(|fit| fit.backlash_mm[0]), most(|fit| fit.backlash_mm[1])),
                fine(most(|fit| fit.radial_play_mm)),
                format!("{:.2}", most(|fit| fit.wobble_deg)),
            ]
        })
        .collect();
    let head = ["", "crest", "root", "flank", "backlash", "sideways", "rocks, deg"];
    let text = table(head, lines);
    format!(
        "{text}\nleast gaps over a turn in {}, nose in by either face; sure to {} along the\n  axis and {} along the radius. average boards",
        unit.name(),
        fine_up(unit, proof.flank_sure_mm),
        fine_up(unit, proof.radial_sure_mm)
    )
}

/// Whether the screw turns freely, in one sentence.
pub fn pair_sentence(proof: &PairProof, unit: LengthUnit) -> String {
    if !proof.proved() {
        return "NOT PROVED, do not cut".to_owned();
    }
    let count = seasons(proof).count();
    let least = proof.fits.iter().min_by(|a, b| a.flank_mm().total_cmp(&b.flank_mm()));
    let tightest = least.map_or(String::new(), |fit| {
        format!(", tightest {}: {} at a flank", fit.season, fine_number(unit, fit.flank_mm()))
    });
    let states = if count == 1 {
        "as cut (no seasons in the job)".to_owned()
    } else {
        format!("in {count} states of the year")
    };
    format!("free {states}{tightest}")
}

/// The fits of one season after the other.
fn seasons(proof: &PairProof) -> impl Iterator<Item = &[Fitted]> {
    proof.fits.chunk_by(|a, b| a.season == b.season)
}

fn table<const N: usize>(head: [&str; N], rows: Vec<[String; N]>) -> String {
    let mut table = Table::new();
    table.load_style(presets::NOTHING);
    table.set_header(head);
    table.add_rows(rows);
    for column in table.column_iter_mut().skip(1) {
        column.set_cell_alignment(CellAlignment::Right);
    }
    table.trim_fmt()
}

/// A length to a thousandth of a millimetre or a ten-thousandth of an inch, with its unit.
fn fine_number(unit: LengthUnit, value_mm: f64) -> String {
    match unit {
        LengthUnit::Mm => format!("{value_mm:.3} mm"),
        LengthUnit::Inch => format!("{:.4} in", value_mm / unit.mm()),
    }
}

/// The same without the unit, rounded up, so that it never claims to be surer than it is.
fn fine_up(unit: LengthUnit, value_mm: f64) -> String {
    match unit {
        LengthUnit::Mm => format!("{:.3}", (value_mm * 1e3).ceil() / 1e3),
        LengthUnit::Inch => format!("{:.4}", (value_mm / unit.mm() * 1e4).ceil() / 1e4),
    }
}
