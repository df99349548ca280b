//! Checks a cutter, in a job or in a file of its own. Whether it can cut a given screw is not asked here.

use std::sync::Arc;

use super::desk::{AGREE_MM, Desk, Required};
use super::file::{CutterFile, CutterShape, TipShape};
use super::limits::say;
use super::{Marks, page};
use crate::finding::{Finding, Severity, job as codes};
use crate::setup::{Cutter, Tip};
use crate::source::Source;
use crate::units::LengthUnit;

/// A cone may end this far below the edges' stated length or diameter before it is worth a word: edges are measured
/// with a rule.
const EDGE_MEASURE_MM: f64 = 1.0;

/// What a cutter of any shape has; a V has more.
const REQUIRED: &[Required] = &[
    ("cutter.title", "title = \"60 degree V, 1 mm flat\"", "title = \"60 degree V\""),
    ("cutter.shape", "shape = \"v\"", "shape = \"v\""),
    ("cutter.flutes", "flutes = 2", "flutes = 2"),
    ("cutter.cutting_diameter", "cutting_diameter = 25", "cutting_diameter = 1"),
    ("cutter.cutting_length", "cutting_length = 20", "cutting_length = \"3/4\""),
    ("cutter.shank_diameter", "shank_diameter = 8", "shank_diameter = \"1/2\""),
    ("cutter.collet_diameter", "collet_diameter = 30", "collet_diameter = 1.25"),
    ("cutter.stick_out", "stick_out = 45", "stick_out = 2"),
];

const REQUIRED_OF_V: &[Required] = &[
    ("cutter.included_angle", "included_angle = 60", "included_angle = 60"),
    ("cutter.tip", "tip = \"flat\"", "tip = \"flat\""),
];

/// Reads a cutter file alone. Its keys are marked as `cutter.…`; the cutter is there when no finding stops it.
pub fn read_cutter(source: &Arc<Source>) -> (Option<Cutter>, Marks, Vec<Finding>) {
    let mut desk = Desk::default();
    let cutter = from_text(source, &mut desk).filter(|_| !desk.stops());
    (cutter, desk.marks, desk.findings)
}

/// Reads a cutter file at a desk.
pub(super) fn from_text(source: &Arc<Source>, desk: &mut Desk) -> Option<Cutter> {
    let text = page::mend(source, "cutter", desk)?;
    let table = page::parse(&text);
    if page::is_other(
        &table,
        source,
        "cutter",
        &[
            ("headstock", "machine"),
            ("spindle", "machine"),
            ("screw", "job"),
            ("tooth_diameter", "thread mill"),
        ],
        desk,
    ) {
        return None;
    }
    let file: CutterFile = page::fill(table, source, "cutter", desk);
    check(&file, file.units.unwrap_or_default(), desk)
}

/// Checks a cutter whose lengths are in `unit`.
pub(super) fn check(file: &CutterFile, unit: LengthUnit, desk: &mut Desk) -> Option<Cutter> {
    desk.require(REQUIRED, unit);
    let straight = matches!(file.shape, Some(CutterShape::Straight));
    if !straight {
        desk.require(REQUIRED_OF_V, unit);
    }
    let included_angle = desk.number("cutter.included_angle", file.included_angle, unit);
    let tip = if straight { None } else { tip(file, unit, desk) };
    if straight {
        no_cone(desk);
    }
    let flutes = desk.count("cutter.flutes", file.flutes);
    let cutting_diameter = desk.number("cutter.cutting_diameter", file.cutting_diameter, unit);
    let cutting_length = desk.number("cutter.cutting_length", file.cutting_length, unit);
    let shank_diameter = desk.number("cutter.shank_diameter", file.shank_diameter, unit);
    let collet_diameter = desk.number("cutter.collet_diameter", file.collet_diameter, unit);
    let stick_out = desk.number("cutter.stick_out", file.stick_out, unit);
    file.shape?;
    let (included_angle_deg, tip) = if straight {
        (Cutter::STRAIGHT_DEG, Tip::Flat { diameter_mm: cutting_diameter? })
    } else {
        (included_angle?, tip?)
    };
    let cutter = Cutter {
        title: file.title.clone().unwrap_or_default(),
        included_angle_deg,
        tip,
        flutes: flutes?,
        cutting_diameter_mm: cutting_diameter?,
        cutting_length_mm: cutting_length?,
        shank_diameter_mm: shank_diameter?,
        collet_diameter_mm: collet_diameter?,
        stick_out_mm: stick_out?,
        edge: file.edge.unwrap_or_default(),
    };
    sizes_fit(&cutter, unit, desk);
    Some(cutter)
}

fn tip(file: &CutterFile, unit: LengthUnit, desk: &mut Desk) -> Option<Tip> {
    let diameter = desk.number("cutter.tip_diameter", file.tip_diameter, unit);
    let radius = desk.number("cutter.tip_radius", file.tip_radius, unit);
    match file.tip? {
        TipShape::Flat => {
            if file.tip_radius.is_some() {
                wrong_tip("flat", "tip_radius", "ball", desk);
                return None;
            }
            desk.require(&[("cutter.tip_diameter", "tip_diameter = 1", "tip_diameter = \"1/32\"")], unit);
            Some(Tip::Flat { diameter_mm: diameter? })
        }
        TipShape::Ball => {
            if file.tip_diameter.is_some() {
                wrong_tip("ball", "tip_diameter", "flat", desk);
                return None;
            }
            desk.require(&[("cutter.tip_radius", "tip_radius = 1.5", "tip_radius = \"1/16\"")], unit);
            Some(Tip::Ball { radius_mm: radius? })
        }
    }
}

/// A straight cutter has neither angle nor tip of its own.
fn no_cone(desk: &mut Desk) {
    for key in ["cutter.included_angle", "cutter.tip", "cutter.tip_diameter", "cutter.tip_radius"] {
        if desk.marks.get(key).is_some() {
            let leaf = key.trim_start_matches("cutter.");
            desk.complain(
                &codes::DISAGREE,
                key,
                format!("a straight cutter has no {leaf}"),
                Some(("cutter.shape", "a cylinder with a flat end".to_owned())),
                format!("take {leaf} out, or write shape = \"v\""),
            );
        }
    }
}

fn wrong_tip(tip: &str, key: &str, other: &str, desk: &mut Desk) {
    desk.complain(
        &codes::DISAGREE,
        "cutter.tip",
        format!("a {tip} tip has no {key}"),
        Some((&format!("cutter.{key}"), format!("this belongs to a {other} tip"))),
        format!("write tip = \"{other}\" or take {key} out"),
    );
}

/// The sizes of one cutter against each other.
fn sizes_fit(cutter: &Cutter, unit: LengthUnit, desk: &mut Desk) {
    let (tip_diameter, tip_key) = match cutter.tip {
        Tip::Flat { diameter_mm } => (diameter_mm, "cutter.tip_diameter"),
        Tip::Ball { radius_mm } => (2.0 * radius_mm, "cutter.tip_radius"),
    };
    if tip_diameter > cutter.cutting_diameter_mm + AGREE_MM {
        desk.complain(
            &codes::DISAGREE,
            tip_key,
            format!(
                "the tip is {} wide, the whole cutter only {}",
                say(unit, tip_diameter),
                say(unit, cutter.cutting_diameter_mm)
            ),
            Some(("cutter.cutting_diameter", "the greatest diameter that cuts".to_owned())),
            "measure both again",
        );
        return;
    }
    if cutter.cutting_length_mm > cutter.stick_out_mm + AGREE_MM {
        desk.complain(
            &codes::DISAGREE,
            "cutter.stick_out",
            format!(
                "the cutter sticks out {}, but its edges alone are {} long",
                say(unit, cutter.stick_out_mm),
                say(unit, cutter.cutting_length_mm)
            ),
            Some(("cutter.cutting_length", "from the tip to the end of the edges".to_owned())),
            "stick_out is measured from the tip to the collet nut",
        );
    }
    if let Tip::Flat { diameter_mm } = cutter.tip
        && !cutter.is_straight()
    {
        let slope = (cutter.included_angle_deg / 2.0).to_radians().tan();
        let cone_mm = (cutter.cutting_diameter_mm - diameter_mm) / 2.0 / slope;
        if cone_mm > cutter.cutting_length_mm + EDGE_MEASURE_MM {
            let message = format!(
                "a V of {} degrees needs {} of edge to reach {}, the edges are {} long",
                super::limits::tidy(cutter.included_angle_deg, 2),
                say(unit, cone_mm),
                say(unit, cutter.cutting_diameter_mm),
                say(unit, cutter.cutting_length_mm)
            );
            let finding = Finding::new(&codes::DISAGREE, message)
                .at_some(desk.marks.get("cutter.cutting_length"))
                .also_at(desk.marks.get("cutter.cutting_diameter"), "the greatest diameter that cuts")
                .help("measure angle, diameter and edge length again")
                .weighs(Severity::Care);
            desk.find(finding);
        }
    }
}
