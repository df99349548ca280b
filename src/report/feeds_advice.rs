//! What to raise or lower when a cut burns, tears, chatters or slips, in the words of the shop and with the figures of the
//! job.

use super::feeds::{Sheet, band, band_of_length, chip, pass};
use super::lines::wrapped;
use crate::feeds::{Advice, Bounds, STEADY_FROM};
use crate::units::LengthUnit;

/// Share by which a feed has to differ before it is worth advising: less is what the feed override of a control steps by.
const WORTH_SAYING: f64 = 0.02;

/// The advice as paragraphs, the occasion first.
pub(super) fn advice(unit: LengthUnit, bounds: &Bounds, sheet: &Sheet, figures: &Advice) -> String {
    let paragraphs = [
        ("burns, or chips are dust", burns(unit, sheet, figures)),
        ("tears, or leaves fluff", tears(unit, bounds, sheet, figures)),
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
    let mut words = vec![format!(
        "{} makes the thinnest chips, {} {name} where {} is the least",
        pass(figures.thinnest, row),
        chip(unit, figures.chip_mm),
        chip(unit, figures.least_chip_mm)
    )];
    let feed = row.trip.feed_mm_per_min;
    let (least, most) = (figures.least_feed_mm_per_min, figures.most_feed_mm_per_min);
    let reason = figures.most_reason.words();
    if least > most {
        let (least, most) = (unit.show_speed(least), unit.show_speed(most));
        words.push(format!("it would want a feed of {least}, and gets no more than {most} ({reason})"));
    } else if most > feed.max(least) * (1.0 + WORTH_SAYING) {
        let (from, to) = (unit.show_speed(feed.max(least)), unit.show_speed(most));
        words.push(format!("feed it from {from} up to {to} ({reason})"));
    }
    words.push(if figures.slowest_rpm < sheet.rpm {
        let (slowest, thick) = (figures.slowest_rpm, chip(unit, figures.chip_at_slowest_mm));
        format!("at the spindle's slowest, {slowest:.0} rev/min, they are {thick} {name} thick")
    } else {
        "the spindle turns at its slowest already: a cutter with fewer edges makes thicker chips".to_owned()
    });
    let [used, dull] = figures.least_chip_worn_mm.map(|mm| chip(unit, mm));
    format!(
        "{}. A used edge wants {used} {name}, a dull one {dull}: sharpen first. Let nothing dwell in the groove, and blow it \
         clear",
        words.join("; ")
    )
}

fn tears(unit: LengthUnit, bounds: &Bounds, sheet: &Sheet, figures: &Advice) -> String {
    let name = unit.name();
    let row = &sheet.passes[figures.coarsest];
    let share = figures.feed_per_edge_mm / figures.most_feed_per_edge_mm;
    format!(
        "{} moves on by {} {name} an edge, {:.0} % of the {} at which a cutter of this width tears; a spindle a third faster or \
         a feed a quarter slower makes it {} {name}. A root wider than the tip (screw.root_width) gives each flank a light pass \
         of its own. With travel = \"both-ways\" these climb, which is cleaner, and the play of X and A, {} here, may show in \
         the groove; one way keeps it out",
        pass(figures.coarsest, row),
        chip(unit, figures.feed_per_edge_mm),
        100.0 * share,
        chip(unit, figures.most_feed_per_edge_mm),
        chip(unit, 0.75 * figures.feed_per_edge_mm),
        unit.show(bounds.play_mm())
    )
}

fn chatters(unit: LengthUnit, bounds: &Bounds, sheet: &Sheet, figures: &Advice) -> String {
    let name = unit.name();
    let mut words = Vec::new();
    if let Some((index, loads)) = figures.hardest.and_then(|at| Some((at, sheet.passes[at].loads?))) {
        let force = loads.strain.push.map(|push| format!(", with {} N", band(push.side_n)));
        let blank = loads
            .bend_mm
            .map(|bend| format!("; it bends the blank by {} {name}", band_of_length(unit, bend)));
        let cutter =
            loads.cutter_bend_mm.map(|bend| format!(", the cutter by {} {name}", band_of_length(unit, bend)));
        let parts: String = [force, blank, cutter].into_iter().flatten().collect();
        words.push(format!("{} pushes hardest{parts}", pass(index, &sheet.passes[index])));
    }
    words.push(format!(
        "{} less stick-out makes the cutter {:.1} times as stiff",
        if unit == LengthUnit::Mm { "5 mm" } else { "0.2 in" },
        figures.stiffer_cutter
    ));
    if bounds.setup.machine.centre.is_none() {
        words.push("A centre at the nose would hold the blank sixteen times as stiff".to_owned());
    }
    let steady = if figures.slenderness >= STEADY_FROM {
        format!(
            ", and from {STEADY_FROM:.0} on a steady is usual (common practice, from memory): at its middle it makes the blank \
             eight times as stiff"
        )
    } else {
        String::new()
    };
    words.push(format!("The blank is {:.1} times as long as its root is thick{steady}", figures.slenderness));
    words.join(". ")
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
