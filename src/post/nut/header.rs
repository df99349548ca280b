//! What a program of a nut tells the operator before it moves: what is cut, from which block, how it lies and is held, with
//! which cutter, where zero lies, how far it will go, and what to mind. Words only.

use super::words::Words;
use super::{NutLead, nut_minutes};
use crate::design::nut::{Nut, NutStep};
use crate::drawing::NutStage;
use crate::job::Job;
use crate::setup::{Milling, NutTool};
use crate::toolpath::NutPath;
use crate::wood::dust;

/// What a header speaks of.
pub(super) struct Facts<'a> {
    pub(super) job: &'a Job,
    pub(super) nut: &'a Nut,
    pub(super) step: &'a NutStep,
    pub(super) path: &'a NutPath,
    pub(super) lead: &'a NutLead,
    pub(super) words: &'a Words,
}

impl Facts<'_> {
    fn show(&self, mm: f64) -> String {
        self.job.unit.show(mm)
    }
}

pub(super) fn lines(facts: &Facts) -> Vec<String> {
    [head(facts), work(facts), block(facts), cutter(facts), zeros(facts), extents(facts), cautions(facts)]
        .concat()
}

fn head(facts: &Facts) -> Vec<String> {
    let what = match facts.step.stage {
        NutStage::Bored => "bore of the nut",
        NutStage::Threaded => "thread of the nut",
    };
    let mut lines = vec![
        format!("threadwright {}: {}, {what}", env!("CARGO_PKG_VERSION"), facts.job.title),
        format!("{}{}", super::super::DIGEST_WORDS, facts.lead.digest),
    ];
    if !facts.lead.place.is_empty() {
        lines.push(facts.lead.place.clone());
    }
    lines
}

fn work(facts: &Facts) -> Vec<String> {
    let (screw, nut) = (&facts.job.screw, facts.nut);
    let bore = format!("bore {}", facts.show(2.0 * nut.bore_radius_mm));
    if facts.step.stage == NutStage::Bored {
        return vec![bore];
    }
    vec![
        format!(
            "nut: {}-hand, {} start{}, lead {}, pitch {}",
            screw.hand.name(),
            screw.starts,
            if screw.starts == 1 { "" } else { "s" },
            facts.show(screw.lead_mm),
            facts.show(screw.pitch_mm)
        ),
        format!("{bore}, over the grooves {}", facts.show(2.0 * nut.major_radius_mm)),
    ]
}

fn block(facts: &Facts) -> Vec<String> {
    let block = &facts.step.setup.block;
    let wood = facts.job.nut.as_ref().map_or("", |nut| nut.wood.as_str());
    let hole = block.hole_diameter_mm.map_or("no hole yet, its centre marked".to_owned(), |hole| {
        format!("with its hole of {}", facts.show(hole))
    });
    vec![
        format!(
            "block: {wood}, {} along the grain, {} across, {} thick, {hole}",
            facts.show(block.along_grain_mm),
            facts.show(block.across_grain_mm),
            facts.show(block.thickness_mm)
        ),
        "the rotary off the bed, the block flat, its grain along X".to_owned(),
        format!(
            "below it packing {} high, free under the hole for {} across",
            facts.show(block.below_mm),
            facts.show(block.below_diameter_mm)
        ),
        format!(
            "clamps at least {} from the axis of the hole, at most {} above the top",
            facts.show(block.clamps.from_axis_mm),
            facts.show(block.clamps.height_mm)
        ),
    ]
}

fn cutter(facts: &Facts) -> Vec<String> {
    let setup = &facts.step.setup;
    let mut lines = match &setup.tool {
        NutTool::Boring(cutter) => vec![format!(
            "cutter: {}, straight, {} across, sticking out {}",
            cutter.title,
            facts.show(cutter.cutting_diameter_mm),
            facts.show(cutter.stick_out_mm)
        )],
        NutTool::Thread(cutter) => {
            let tooth = cutter.teeth.first();
            let rows = match cutter.teeth.len() {
                1 => String::new(),
                rows => format!(", {rows} rows"),
            };
            let tooth = tooth.map_or(String::new(), |tooth| {
                format!(
                    "{} degrees, flat {}, {} across{rows}, ",
                    tooth.included_angle_deg,
                    facts.show(tooth.tip_flat_mm),
                    facts.show(tooth.diameter_mm)
                )
            });
            vec![format!(
                "cutter: {}, {tooth}neck {}, sticking out {}",
                cutter.title,
                facts.show(cutter.neck_diameter_mm),
                facts.show(cutter.stick_out_mm)
            )]
        }
    };
    let milling = facts.job.nut.as_ref().and_then(|nut| nut.milled.as_ref()).map(|milled| milled.milling);
    let way = match milling {
        Some(Milling::Conventional) => "clockwise, conventional",
        _ => "anticlockwise, climb",
    };
    lines.push(format!(
        "spindle {:.0} rev/min clockwise from above, feed {} at the wall, goes round {way} milling",
        setup.rpm,
        facts.job.unit.show_speed(setup.edge_feed_mm_per_min)
    ));
    lines.push(format!("machine: {}", setup.machine.title));
    let unit = setup.machine.style.unit;
    lines.push(format!("F: G94, {unit}/min along the way of the cutter's axis"));
    if !facts.words.writes_arcs() {
        lines.push(format!(
            "arcs are written as short lines that leave them by at most {}",
            facts.job.unit.show_at_least(Words::chord_mm())
        ));
    }
    lines
}

fn zeros(facts: &Facts) -> Vec<String> {
    let centre = if facts.step.setup.block.hole_diameter_mm.is_some() {
        "X0 Y0: centre of the hole, probed or indicated"
    } else {
        "X0 Y0: centre mark of the hole, near the middle of the travel of X and Y"
    };
    let mut lines = vec![
        centre.to_owned(),
        "Z0: end of the cutter on the top face of the block, set anew for each cutter".to_owned(),
        "park before the start: cutter above the hole, Z at the top of its travel".to_owned(),
    ];
    if facts.step.stage == NutStage::Threaded {
        let angle = facts.step.drawing.start_angle_deg;
        lines.push(format!("start 1 begins at the top face at {angle} degrees from X+ towards Y+"));
    }
    lines
}

fn extents(facts: &Facts) -> Vec<String> {
    let [x, y, z] = facts.path.extents_mm();
    let span = |[low, high]: [f64; 2]| format!("{} to {}", facts.words.number(low), facts.words.number(high));
    let unit = facts.step.setup.machine.style.unit;
    let minutes = nut_minutes(&facts.step.setup, facts.path).round().max(1.0);
    vec![
        format!("X {} {unit}", span(x)),
        format!("Y {} {unit}", span(y)),
        format!("Z {} {unit}", span(z)),
        format!("about {minutes:.0} minute{}", if minutes > 1.0 { "s" } else { "" }),
    ]
}

fn cautions(facts: &Facts) -> Vec<String> {
    let mut lines: Vec<String> = dust::caution(&facts.step.setup.timber).into_iter().collect();
    lines.extend(
        [
            "care: read safety.md first",
            "the first run in the air, spindle off, one hand at the stop",
            "the cutter works out of sight in the hole: never reach in, brush chips out only when it stands still",
            "check that it clears bed and packing: it comes out below the block",
        ]
        .map(str::to_owned),
    );
    lines
}
