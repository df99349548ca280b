//! A proof as a table: what was measured, how sure it is, what the drawing wants.

use comfy_table::{CellAlignment, Table, presets};

use crate::drawing::{Drawing, Threading};
use crate::pressure::BAND;
use crate::proof::{Measured, Proof, Turned, Uncertainty};
use crate::units::{LengthUnit, tidy_zero};

/// The figures of a proof, a line each, in the unit of the drawing.
pub fn table(proof: &Proof, drawing: &Drawing) -> String {
    let mut table = Table::new();
    table.load_style(presets::NOTHING);
    table.set_header(["", "measured", "sure to", "drawing"]);
    table.add_rows(rows(proof, drawing));
    for column in table.column_iter_mut().skip(1) {
        column.set_cell_alignment(CellAlignment::Right);
    }
    table.trim_fmt()
}

/// The same figures as cells: what, measured, sure to, drawing.
pub(super) fn rows(proof: &Proof, drawing: &Drawing) -> Vec<[String; 4]> {
    let (m, u) = (&proof.measured, &proof.uncertainty);
    let unit = drawing.unit;
    let fine = |value: f64| fine_number(unit, value);
    let within = |tolerance: f64| format!("within {}", fine(tolerance));
    let degrees = |value: f64| format!("{value:.3} deg");
    let passes = &drawing.passes;
    let mut rows = Rows { unit, rows: Vec::new() };
    if matches!(drawing.thread, Threading::Later | Threading::Air) {
        turned(&mut rows, proof);
        motions(&mut rows, m, u);
        if drawing.thread == Threading::Later {
            loads(&mut rows, proof);
        }
        return rows.rows;
    }
    rows.add("starts", m.starts.map(|n| n.to_string()), "", drawing.starts.to_string());
    rows.add("hand", m.hand.map(|hand| hand.name().to_owned()), "", drawing.hand.name().to_owned());
    rows.length("lead", m.lead_mm, u.lead_mm, fine(drawing.lead_mm));
    rows.length("lead error at most", m.lead_error_max_mm, u.lead_error_max_mm, within(passes.lead_mm));
    let degrees_up =
        |sure: Option<f64>| sure.map_or(String::new(), |deg| format!("{:.3}", (deg * 1e3).ceil() / 1e3));
    let want = format!("within {}", degrees(passes.index_deg));
    rows.add(
        "index error at most",
        m.index_error_max_deg.map(degrees),
        &degrees_up(u.index_error_max_deg),
        want,
    );
    rows.length("root diameter", m.root_diameter_mm, u.root_diameter_mm, fine(drawing.root_diameter_mm));
    rows.length("crest diameter", m.crest_diameter_mm, u.crest_diameter_mm, fine(drawing.crest_diameter_mm));
    rows.length("crest flat", m.crest_flat_mm, u.crest_flat_mm, fine(drawing.crest_flat_mm));
    rows.length("form error at most", m.form_error_max_mm, u.form_error_max_mm, within(passes.form_mm));
    rows.add(
        "flank angles",
        m.flank_nose_deg.zip(m.flank_head_deg).map(|(nose, head)| format!("{nose:.2}, {head:.2} deg")),
        &degrees_up(u.flank_nose_deg),
        String::new(),
    );
    let length = drawing.full_to_s_mm - drawing.full_from_s_mm;
    if !drawing.ends_in_relief {
        rows.length("full thread", m.thread_length_mm, u.thread_length_mm, fine(length));
    }
    if !drawing.ends_in_relief {
        let run_out = drawing.run_out_to_s_mm - drawing.full_to_s_mm;
        rows.length(
            "run-out",
            m.run_out_length_mm,
            u.run_out_length_mm,
            format!("at most {}", fine(run_out)),
        );
    }
    turned(&mut rows, proof);
    motions(&mut rows, m, u);
    loads(&mut rows, proof);
    rows.rows
}

/// What is turned or milled beside the thread: diameters (or the way across flats), or how far an outline is off.
fn turned(rows: &mut Rows, proof: &Proof) {
    let unit = rows.unit;
    for part in together(&proof.turned) {
        let [least, most] = part.drawn_mm;
        let sure = fine_up(unit, part.sure_mm);
        let range = |low: f64, high: f64| {
            let (low, high) = (fine_number(unit, low), fine_number(unit, high));
            if low == high { low } else { format!("{} to {high}", low.split(' ').next().unwrap_or("")) }
        };
        if least == most {
            let name = match part.flats {
                Some(flats) => format!("{}, {flats} flats", part.name),
                None => part.name.to_owned(),
            };
            let got = range(part.least_mm, part.greatest_mm);
            rows.add(&name, Some(got), &sure, fine_number(unit, least));
        } else {
            let got = format!("+{} / -{}", fine_number(unit, part.over_mm), fine_number(unit, part.under_mm));
            rows.add(part.name, Some(got), &sure, "the outline".to_owned());
        }
    }
}

/// Stretches of one name and size as one.
fn together(turned: &[Turned]) -> Vec<Turned> {
    let mut all: Vec<Turned> = Vec::new();
    for part in turned {
        let same = |old: &&mut Turned| old.name == part.name && old.drawn_mm == part.drawn_mm;
        if let Some(old) = all.iter_mut().find(same) {
            old.least_mm = old.least_mm.min(part.least_mm);
            old.greatest_mm = old.greatest_mm.max(part.greatest_mm);
        } else {
            all.push(part.clone());
        }
    }
    all
}

/// What the motions ask of the machine.
fn motions(rows: &mut Rows, m: &Measured, u: &Uncertainty) {
    let unit = rows.unit;
    rows.length("gap to wood in rapids", m.rapid_clearance_min_mm, u.rapid_clearance_min_mm, String::new());
    rows.length("gap to the chuck", m.chuck_clearance_min_mm, None, String::new());
    rows.length("gap to the tail centre", m.center_clearance_min_mm, None, String::new());
    let mut other = |what: &str, got: Option<String>| rows.add(what, got, "", String::new());
    other("wood removed", m.removed_mm3.map(|mm3| volume(unit, mm3)));
    other("fastest A", m.a_rate_max_rpm.map(|rpm| format!("{rpm:.2} rev/min")));
    other("fastest X", m.x_rate_max_mm_per_min.map(|speed| unit.show_speed(speed)));
    other(
        "feed along the wood",
        m.feed_min_mm_per_min.zip(m.feed_max_mm_per_min).map(|range| {
            let (low, high) = (unit.show_speed(range.0), unit.show_speed(range.1));
            if low == high { low } else { format!("{low} to {high}") }
        }),
    );
    other("running time", m.minutes.map(running_time));
}

/// What the cut asks for. The factor is the band of an estimate from memory.
fn loads(rows: &mut Rows, proof: &Proof) {
    let m = &proof.measured;
    let unit = rows.unit;
    let chips = m.chip_min_mm.zip(m.chip_max_mm).map(|(thin, thick)| {
        format!("{:.*} to {}", unit.decimals() + 1, thin / unit.mm(), chip(unit, thick))
    });
    let estimates = [
        ("force sideways", m.side_force_max_n.map(|force| format!("{force:.0} N"))),
        ("power at the cutter", m.power_max_w.map(|power| format!("{power:.0} W"))),
        ("torque on A", m.torque_max_nm.map(|torque| format!("{torque:.2} N m"))),
        ("blank bends", m.bend_max_mm.map(|bend| fine_number(unit, bend))),
    ];
    if let Some(chips) = chips {
        rows.add("chips", Some(chips), "", String::new());
    }
    for (what, got) in estimates.into_iter().filter(|(_, got)| got.is_some()) {
        rows.rows.push([
            what.to_owned(),
            got.unwrap_or_default(),
            format!("x {BAND:.0} or / {BAND:.0}"),
            "from memory".to_owned(),
        ]);
    }
}

/// The thickness of a chip.
fn chip(unit: LengthUnit, value_mm: f64) -> String {
    format!("{:.*} {}", unit.decimals() + 1, value_mm / unit.mm(), unit.name())
}

/// The lines of the table.
struct Rows {
    unit: LengthUnit,
    rows: Vec<[String; 4]>,
}

impl Rows {
    fn add(&mut self, what: &str, got: Option<String>, sure: &str, want: String) {
        let got = got.unwrap_or_else(|| "not measured".to_owned());
        let sure = if sure.is_empty() { String::new() } else { format!("+/- {sure}") };
        self.rows.push([what.to_owned(), got, sure, want]);
    }

    fn length(&mut self, what: &str, got: Option<f64>, sure: Option<f64>, want: String) {
        let sure = sure.map_or(String::new(), |sure| fine_up(self.unit, sure));
        self.add(what, got.map(|value| fine_number(self.unit, value)), &sure, want);
    }
}

/// A length to a thousandth of a millimetre or a ten-thousandth of an inch, with its unit.
fn fine_number(unit: LengthUnit, value_mm: f64) -> String {
    match unit {
        LengthUnit::Mm => format!("{value_mm:.3} mm"),
        LengthUnit::Inch => format!("{:.4} in", value_mm / unit.mm()),
    }
}

/// Minutes, or hours and minutes where there are many.
fn running_time(minutes: f64) -> String {
    if minutes < 120.0 {
        format!("about {minutes:.0} min")
    } else {
        format!("about {:.0} h {:02.0} min", (minutes / 60.0).floor(), minutes % 60.0)
    }
}

/// A volume in the unit that goes with a length: `124 cm3`, `7.5 in3`.
fn volume(unit: LengthUnit, mm3: f64) -> String {
    match unit {
        LengthUnit::Mm => format!("{} cm3", tidy_zero(format!("{:.0}", mm3 / 1000.0))),
        LengthUnit::Inch => format!("{} in3", tidy_zero(format!("{:.1}", mm3 / unit.mm().powi(3)))),
    }
}

/// The same without the unit, rounded up, so that it never claims to be surer than it is.
fn fine_up(unit: LengthUnit, value_mm: f64) -> String {
    match unit {
        LengthUnit::Mm => format!("{:.3}", (value_mm * 1e3).ceil() / 1e3),
        LengthUnit::Inch => format!("{:.4}", (value_mm / unit.mm() * 1e4).ceil() / 1e4),
    }
}
