//! The facts of a page as JSON: names, sizes, motions, loads, findings. Lengths in mm, angles in radians where a name
//! says `_rad`, degrees elsewhere, as in the rooms they come from.

use std::sync::Arc;

use serde_json::{Value, json};

use super::{Page, Shown, pack, tones};
use crate::drawing::{Drawing, Threading};
use crate::feeds::{BENDS_MM, CUTTER_BENDS_MM};
use crate::finding::{Finding, Severity};
use crate::pressure;
use crate::proof::{Load, Proof, Story};
use crate::report::{findings, proof};
use crate::setup::{Cutter, Edge, FeedConvention, Setup, Tip};
use crate::units::LengthUnit;
use crate::wood::{self, Property};

/// All facts.
pub(super) fn of(page: &Page<'_>) -> Value {
    let last = page.programs.last();
    let drawing = last.and_then(|last| last.proof).map(|(drawing, _)| drawing);
    let unit = match (drawing, last) {
        (Some(drawing), _) => drawing.unit,
        (None, Some(last)) => last.setup.machine.style.unit,
        (None, None) => LengthUnit::Mm,
    };
    let tones = tones::of(page.wood);
    let proofs: Option<Vec<&Proof>> =
        page.programs.iter().map(|one| one.proof.map(|(_, proof)| proof)).collect();
    json!({
        "tool": concat!("threadwright ", env!("CARGO_PKG_VERSION")),
        "title": page.title,
        "wood": { "name": page.wood, "light": tones.light, "dark": tones.dark },
        "unit": { "name": unit.name(), "mm": unit.mm(), "decimals": unit.decimals() },
        "programs": page.programs.iter().zip(&page.story.parts).map(|(one, motions)| {
            program(one, [motions.start, motions.end])
        }).collect::<Vec<_>>(),
        "proved": proofs.map(|proofs| proofs.iter().all(|proof| proof.proved())),
        "drawing": drawing.map(drawn),
        "setup": last.map(|last| setup(last.setup)),
        "grid": grid(page.story),
        "story": story(page.story),
        "sheet": page.sheet,
        "panels": page.panels,
        "whatIf": what_if(),
        "count": findings::count(page.findings),
        "findings": page.findings.iter().map(|one| finding(one, page, unit)).collect::<Vec<_>>(),
    })
}

/// A program, its motions from and to (not included).
fn program(one: &Shown<'_>, [from, to]: [usize; 2]) -> Value {
    let setup = one.setup;
    let (timber, spindle) = (&setup.timber, &setup.machine.spindle);
    json!({
        "name": one.name,
        "file": bare_name(one.text.name()),
        "text": one.text.text(),
        "from": from,
        "to": to,
        "threads": one.proof.is_none_or(|(drawing, _)| drawing.thread == Threading::Here),
        "proved": one.proof.map(|(_, proof)| proof.proved()),
        "figures": one.proof.map(|(drawing, proof)| proof::rows(proof, drawing)),
        "loads": one.proof.map(|(_, proof)| proof.loads.iter().map(|one| load(one, from)).collect::<Vec<_>>()),
        "cutter": cutter(&setup.cutter),
        "feed": [setup.feed_least_mm_per_min, setup.feed_mm_per_min],
        "rpm": [spindle.least_rpm, spindle.top_rpm],
        "edge": EDGES.iter().position(|&edge| edge == setup.cutter.edge),
        "timber": [timber.name, timber.density_kg_m3, timber.density_from_memory],
        "spindleW": spindle.power_w,
        "holdingNm": setup.machine.a.holding_nm,
    })
}

fn drawn(drawing: &Drawing) -> Value {
    json!({
        "starts": drawing.starts,
        "hand": drawing.hand.sign(),
        "lead": drawing.lead_mm,
        "crest": drawing.crest_diameter_mm / 2.0,
        "root": drawing.root_diameter_mm / 2.0,
        "crestFlat": drawing.crest_flat_mm,
        "fullFrom": drawing.full_from_s_mm,
        "fullTo": drawing.full_to_s_mm,
        "runOutTo": drawing.run_out_to_s_mm,
        "head": drawing.head_s_mm,
        "section": drawing.section.iter().map(|point| [short(point.r_mm), short(point.half_width_mm)]).collect::<Vec<_>>(),
        "formWithin": drawing.passes.form_mm,
        "stands": !matches!(drawing.thread, Threading::Later | Threading::Air),
        "relief": drawing.ends_in_relief,
        "read": drawing.read_s_mm,
        "stretches": drawing.stretches.iter().map(|stretch| json!({
            "name": stretch.name,
            "points": stretch.points.iter().map(|point| [short(point.s_mm), short(point.r_mm)]).collect::<Vec<_>>(),
            "flats": stretch.flats.map(|flats| json!([flats.count, flats.from_axis_mm])),
            "threaded": stretch.threaded,
        })).collect::<Vec<_>>(),
    })
}

fn setup(setup: &Setup) -> Value {
    let machine = &setup.machine;
    json!({
        "machine": machine.title,
        "feed": match machine.feed {
            FeedConvention::InverseTime => "G93, one over the minutes of the line",
            FeedConvention::Linear => "G94, along X and Z as if A stood still",
            FeedConvention::Combined => "G94, over mm and degrees together",
        },
        "chuck": { "radius": machine.chuck.diameter_mm / 2.0, "face": setup.blank.chuck_face_s_mm },
        "centre": machine.centre.map(|centre| json!({
            "radius": centre.diameter_mm / 2.0, "angle": centre.angle_deg
        })),
        "blank": { "from": setup.blank.from_s_mm, "to": setup.blank.to_s_mm, "size": setup.blank.size_mm },
    })
}

fn cutter(cutter: &Cutter) -> Value {
    let tip = match cutter.tip {
        Tip::Flat { diameter_mm } => json!({ "flat": diameter_mm / 2.0, "ball": 0.0 }),
        Tip::Ball { radius_mm } => json!({ "flat": 0.0, "ball": radius_mm }),
    };
    json!({
        "title": cutter.title,
        "angle": cutter.included_angle_deg,
        "tip": tip,
        "edges": cutter.flutes,
        "radius": cutter.cutting_diameter_mm / 2.0,
        "length": cutter.cutting_length_mm,
        "shank": cutter.shank_diameter_mm / 2.0,
        "collet": cutter.collet_diameter_mm / 2.0,
        "stickOut": cutter.stick_out_mm,
    })
}

fn grid(story: &Story) -> Value {
    let grid = story.history.grid;
    json!({
        "from": grid.from_s_mm,
        "step": grid.step_mm,
        "stations": grid.stations,
        "rows": grid.rows,
        "radiusStep": pack::step_mm(&story.history),
        "blank": story.history.blank_mm,
    })
}

/// The story as columns of numbers, which pack far better than rows with names.
fn story(story: &Story) -> Value {
    let steps = |of: fn(&crate::proof::Step) -> Value| story.steps.iter().map(of).collect::<Vec<_>>();
    let strokes = |of: fn(&crate::stock::Stroke) -> Value| story.strokes.iter().map(of).collect::<Vec<_>>();
    json!({
        "line": steps(|step| json!(step.line)),
        "rapid": steps(|step| json!(i32::from(step.kind == crate::rs274::Kind::Rapid))),
        "cuts": steps(|step| json!(i32::from(step.cuts))),
        "minutes": steps(|step| short(step.minutes)),
        "least": steps(|step| short(step.least_minutes)),
        "rpm": steps(|step| short(step.rpm)),
        "stroke": {
            "motion": strokes(|stroke| json!(stroke.motion)),
            "fromS": strokes(|stroke| short(stroke.from.s_mm)),
            "fromRad": strokes(|stroke| short(stroke.from.theta_rad)),
            "fromTip": strokes(|stroke| short(stroke.from.tip_mm)),
            "fromBeside": strokes(|stroke| short(stroke.from.beside_mm)),
            "toS": strokes(|stroke| short(stroke.to.s_mm)),
            "toRad": strokes(|stroke| short(stroke.to.theta_rad)),
            "toTip": strokes(|stroke| short(stroke.to.tip_mm)),
            "toBeside": strokes(|stroke| short(stroke.to.beside_mm)),
        },
        "trips": story.trips.iter().map(|trip| json!({
            "from": trip.motions[0],
            "to": trip.motions[1],
            "tip": trip.tip_mm,
            "s": trip.longest_to.s_mm,
            "rad": trip.longest_to.theta_rad,
        })).collect::<Vec<_>>(),
    })
}

/// The load of a motion, counted on from the first of its program.
fn load(load: &Load, first: usize) -> Value {
    json!({
        "motion": first + load.motion,
        "removed": short(load.removed_mm3),
        "speed": load.speed_mm_per_min.map(short),
        "rate": load.rate_mm3_per_min.map(short),
        "power": load.power_w.map(short),
        "reckoned": reckoned(load),
    })
}

/// Not shortened: the page reckons with these numbers what the crate reckons.
fn reckoned(load: &Load) -> Option<Value> {
    let reckoned = load.reckoned?;
    let (met, running) = (&reckoned.engagement, &reckoned.running);
    let per_newton = |bend: Option<f64>| Some(bend? / load.side_force_n.filter(|&force| force > 0.0)?);
    Some(json!({
        "area": met.area_mm2,
        "contact": met.contact_mm2,
        "overRadius": met.over_radius_mm,
        "rpm": running.rpm,
        "edges": running.edges,
        "speed": running.speed_mm_per_min,
        "arm": reckoned.arm_mm,
        "most": load.most_feed_per_edge_mm,
        "bend": per_newton(load.bend_mm),
        "cutterBend": per_newton(load.cutter_bend_mm),
    }))
}

/// In the order of the model's threes.
const EDGES: [Edge; 3] = [Edge::Sharp, Edge::Used, Edge::Dull];

/// What the question "what if" is asked with beside what each program has: the model of pressure, the woods, limits.
fn what_if() -> Value {
    let woods: Vec<Value> = wood::all()
        .iter()
        .filter_map(|species| {
            let density = species.get(Property::Density)?;
            Some(json!([species.name, density.value, density.origin.from_memory()]))
        })
        .collect();
    json!({
        "model": pressure::model(),
        "fromMemory": pressure::FROM_MEMORY,
        "woods": woods,
        "edges": EDGES.map(Edge::name),
        "bends": BENDS_MM[0],
        "cutterBends": CUTTER_BENDS_MM,
    })
}

fn finding(finding: &Finding, page: &Page<'_>, unit: LengthUnit) -> Value {
    let place = finding.mark.as_ref().map(|mark| (mark.source.name(), mark.line_column()));
    let program = finding
        .mark
        .as_ref()
        .and_then(|mark| page.programs.iter().position(|one| Arc::ptr_eq(one.text, &mark.source)));
    json!({
        "code": finding.code.name,
        "severity": match finding.severity {
            Severity::Stop => "stop",
            Severity::Care => "care",
            Severity::Note => "note",
        },
        "message": finding.message,
        "help": finding.help,
        "meaning": finding.code.meaning,
        "follows": finding.follows.map(|code| code.name),
        "file": place.map(|(name, _)| bare_name(name)),
        "line": place.map(|(_, (line, _))| line),
        "program": program,
        "place": findings::place(&finding.spot, unit),
        "s": finding.spot.s_mm,
        "thetaDeg": finding.spot.theta_deg,
    })
}

/// The name of a file without its folder, so that a page does not tell where it was made.
fn bare_name(path: &str) -> &str {
    path.rsplit(['/', '\\']).next().unwrap_or(path)
}

/// A number with no more digits than a page can show: a millionth.
fn short(value: f64) -> Value {
    json!((value * 1e6).round() / 1e6)
}
