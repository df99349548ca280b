//! What to raise or lower when a cut burns, tears, chatters or slips, in the words of the shop and with the figures of the
//! job.

use super::feeds::{Sheet, band, band_of_length, chip, pass};
use crate::feeds::{Advice, Bounds};
use crate::units::LengthUnit;

/// Free length over diameter from which a steady is usual; common practice, from memory.
const STEADY_FROM: f64 = 10.0;
/// Width that advice is wrapped to.
const WIDTH: usize = 110;

/// The advice as paragraphs, the occasion first.
pub(super) fn advice(unit: LengthUnit, bounds: &Bounds, sheet: &Sheet, figures: &Advice) -> String {
    let paragraphs = [
        ("burns, or chips are dust", burns(unit, sheet, figures)),
        ("tears, or leaves fluff", tears(unit, sheet, figures)),
        ("chatters", chatters(unit, bounds, sheet, figures)),
        ("slips at A", slips(sheet)),
    ];
    let lines: Vec<String> =
        paragraphs.into_iter().map(|(when, words)| wrapped(&format!("when it {when}: {words}"))).collect();
    lines.join("\n")
}

fn burns(unit: LengthUnit, sheet: &Sheet, figures: &Advice) -> String {
    let name = unit.name();
    let row = &sheet.passes[figures.thinnest];
    let mut words = format!(
        "{} makes the thinnest chips, {} {name} where {} is the least",
        pass(figures.thinnest, row),
        chip(unit, figures.chip_mm),
        chip(unit, figures.least_chip_mm)
    );
    let feed = row.trip.feed_mm_per_min;
    let (least, most) = (figures.least_feed_mm_per_min, figures.most_feed_mm_per_min);
    let reason = figures.most_reason.words();
    if least > most {
        let (least, most) = (unit.show_speed(least), unit.show_speed(most));
        words
            .push_str(&format!("; it would want a feed of {least}, and gets no more than {most} ({reason})"));
    } else if most > feed {
        let (from, to) = (unit.show_speed(feed.max(least)), unit.show_speed(most));
        words.push_str(&format!("; feed it from {from} up to {to} ({reason})"));
    }
    if figures.slowest_rpm < sheet.rpm {
        words.push_str(&format!(
            "; at the spindle's slowest, {:.0} rev/min, they are {} {name} thick",
            figures.slowest_rpm,
            chip(unit, figures.chip_at_slowest_mm)
        ));
    } else {
        words.push_str(
            "; the spindle turns at its slowest already: a cutter with fewer edges makes thicker chips",
        );
    }
    let [used, dull] = figures.least_chip_worn_mm;
    words.push_str(&format!(
        ". A used edge wants {} {name}, a dull one {}: sharpen first. Let nothing dwell in the groove, and blow it clear",
        chip(unit, used),
        chip(unit, dull)
    ));
    words
}

fn tears(unit: LengthUnit, sheet: &Sheet, figures: &Advice) -> String {
    let name = unit.name();
    let row = &sheet.passes[figures.coarsest];
    let share = figures.feed_per_edge_mm / figures.most_feed_per_edge_mm;
    format!(
        "{} moves on by {} {name} an edge, {:.0} % of the {} at which a cutter of this width tears; a spindle a third faster or \
         a feed a quarter slower makes it {} {name}. A root wider than the tip (screw.root_width) gives each flank a light pass \
         of its own, and travel = \"both-ways\" lets these climb",
        pass(figures.coarsest, row),
        chip(unit, figures.feed_per_edge_mm),
        100.0 * share,
        chip(unit, figures.most_feed_per_edge_mm),
        chip(unit, 0.75 * figures.feed_per_edge_mm)
    )
}

fn chatters(unit: LengthUnit, bounds: &Bounds, sheet: &Sheet, figures: &Advice) -> String {
    let name = unit.name();
    let mut words = String::new();
    if let Some((index, loads)) = figures.hardest.and_then(|at| Some((at, sheet.passes[at].loads?))) {
        words.push_str(&format!("{} pushes hardest", pass(index, &sheet.passes[index])));
        if let Some(push) = loads.strain.push {
            words.push_str(&format!(", with {} N", band(push.side_n)));
        }
        if let Some(bend) = loads.bend_mm {
            words.push_str(&format!("; that bends the blank by {} {name}", band_of_length(unit, bend)));
        }
        if let Some(bend) = loads.cutter_bend_mm {
            words.push_str(&format!("; it bends the cutter by {} {name}", band_of_length(unit, bend)));
        }
        words.push_str(". ");
    }
    words.push_str(&format!(
        "{} less stick-out makes the cutter {:.1} times as stiff. ",
        if unit == LengthUnit::Mm { "5 mm" } else { "0.2 in" },
        figures.stiffer_cutter
    ));
    if bounds.setup.machine.centre.is_none() {
        words.push_str("A centre at the nose would hold the blank sixteen times as stiff. ");
    }
    let steady = if figures.slenderness >= STEADY_FROM {
        ", and from 10 on a steady is usual (common practice, from memory): at its middle it makes the blank eight times as stiff"
    } else {
        ""
    };
    words.push_str(&format!(
        "The blank is {:.1} times as long as its root is thick{steady}",
        figures.slenderness
    ));
    words
}

fn slips(sheet: &Sheet) -> String {
    let torque = sheet.passes.iter().filter_map(|row| row.loads?.torque_nm).reduce(f64::max);
    match (torque, sheet.holding_torque_nm) {
        (Some(torque), Some(holds)) => format!(
            "the blank is turned with {} N m at most, A holds {holds:.1}; more and shallower passes lower it",
            band(torque)
        ),
        (Some(torque), None) => format!(
            "the blank is turned with {} N m at most; write what A holds into the machine file \
             (a.holding_torque) to have it compared",
            band(torque)
        ),
        (None, _) => "the density of the wood is not known, so neither is the torque".to_owned(),
    }
}

/// Breaks a paragraph into lines, all but the first indented.
pub(super) fn wrapped(text: &str) -> String {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let at = lines.len() - 1;
        let long = lines[at].chars().count() + 1 + word.chars().count() > WIDTH;
        if long {
            lines.push(format!("  {word}"));
        } else {
            if !lines[at].is_empty() {
                lines[at].push(' ');
            }
            lines[at].push_str(word);
        }
    }
    lines.join("\n")
}
