//! The set-up sheet for a hand jig: plain text to pin up beside the crank. What stands under GEARS and NEXT START is
//! read back by its proof, so those lines are worded once, here and in `gears::read_back`.

use std::cmp::Ordering;

use super::gears::{lead_screw, step, train};
use crate::gears::fraction::{float, words};
use crate::gears::read_back::ReadBack;
use crate::gears::{Found, Fraction, IndexWay, Wanted};
use crate::job::{Jig, Job, Order, Quantity};

/// Width of a line, so that it prints on any paper.
const WIDTH: usize = 78;

/// The sheet, without its proof. `depths_mm` are the depths of one start's passes, `root` the root diameter in words.
pub fn text(job: &Job, jig: &Jig, wanted: &Wanted, found: &Found, depths_mm: &[f64], root: &str) -> String {
    let mut lines = vec![format!("SET-UP SHEET: {}, on {}", job.title, jig.title)];
    wrap(
        &mut lines,
        "  ",
        &format!(
            "{}, {} over the crests, {root} in the roots, {}-hand, {}, lead {}, {} of thread",
            job.wood,
            say(job, job.screw.crest_diameter_mm),
            wanted.hand.name(),
            if wanted.starts == 1 { "1 start".to_owned() } else { format!("{} starts", wanted.starts) },
            say(job, float(wanted.lead)),
            say(job, wanted.thread_mm),
        ),
    );
    gears(&mut lines, jig, found);
    places(&mut lines, job, found);
    turning(&mut lines, job, wanted, found);
    next_start(&mut lines, found);
    depths(&mut lines, job, wanted, depths_mm);
    format!("{}\n", lines.join("\n"))
}

/// The proof, to be put behind the sheet.
pub fn proof(read: &ReadBack, job: &Job, wanted: &Wanted) -> String {
    let mut lines = vec![String::new(), "PROOF".to_owned()];
    let lead = if read.exact {
        format!("= {}, the lead of the drawing exactly", say(job, read.lead_mm))
    } else {
        format!(
            "= {:.4} mm: {:+.3} mm over {} of thread, where the fit bears {:.3} mm",
            read.lead_mm,
            read.error_mm,
            say(job, wanted.thread_mm),
            wanted.clearance_mm
        )
    };
    wrap(
        &mut lines,
        "  ",
        &format!("read back from this sheet: {} {lead}; {}-hand", read.sum, read.hand.name()),
    );
    format!("{}\n", lines.join("\n"))
}

/// A length without needless zeros.
fn say(job: &Job, mm: f64) -> String {
    Quantity::Length.say(mm, job.unit)
}

fn head(lines: &mut Vec<String>, name: &str) {
    lines.push(String::new());
    lines.push(name.to_owned());
}

fn gears(lines: &mut Vec<String>, jig: &Jig, found: &Found) {
    head(lines, "GEARS");
    let mut row = |name: &str, value: String| lines.push(format!("  {name:<12}  {value}"));
    row("lead screw", lead_screw(jig));
    let shafts = found.train.shafts();
    for (index, shaft) in shafts.iter().enumerate() {
        let name = match index {
            0 => "blank".to_owned(),
            _ if index + 1 == shafts.len() => "lead screw".to_owned(),
            _ => format!("stud {index}"),
        };
        let teeth: Vec<String> = shaft.gears.iter().map(|gear| gear.teeth.to_string()).collect();
        row(&name, teeth.join(" + "));
    }
}

fn places(lines: &mut Vec<String>, job: &Job, found: &Found) {
    head(lines, "WHERE THEY SIT");
    wrap(lines, "  ", &format!("{}: -> meshes, + fixed together, ( ) idler.", train(&found.train)));
    let planes = found.train.pairs.len();
    if planes > 1 {
        wrap(lines, "  ", "Each mesh in a plane of its own; the first pair next to the blank.");
    }
    for (index, stud) in found.layout.studs.iter().enumerate() {
        let from = |mm: f64| job.unit.show(mm);
        let line = format!(
            "Stud {}: {} from the axis of the blank, {} from that of the lead screw.",
            index + 1,
            from(stud.from_blank_mm),
            from(stud.from_lead_screw_mm)
        );
        wrap(lines, "  ", &line);
    }
    if found.layout.spare_mm.is_finite() {
        let line = format!("Air to spare at the tightest place: {}.", job.unit.show(found.layout.spare_mm));
        wrap(lines, "  ", &line);
    }
    wrap(lines, "  ", "Mesh each pair on a slip of thin paper, then pull the paper out.");
}

fn turning(lines: &mut Vec<String>, job: &Job, wanted: &Wanted, found: &Found) {
    head(lines, "TURNING");
    let ratio = found.train.ratio();
    let crank = match ratio.cmp(&Fraction::from_integer(1)) {
        Ordering::Greater => format!(
            "Crank the lead screw: {} turns of it turn the blank once. Cranked at the blank, the gears would bind.",
            words(ratio)
        ),
        Ordering::Less => {
            format!("Crank the blank: {} turns of it turn the lead screw once.", words(ratio.recip()))
        }
        Ordering::Equal => "Blank and lead screw turn at one speed; crank either.".to_owned(),
    };
    wrap(lines, "  ", &crank);
    let alike = if found.train.turns_alike() { "the same way" } else { "opposite ways" };
    wrap(lines, "  ", &format!("Blank and lead screw turn {alike}."));
    let trial = format!(
        "Trial: a pencil in place of the cutter. In one turn of the blank its line goes {} along and winds {}-hand.",
        say(job, float(found.lead)),
        wanted.hand.name()
    );
    wrap(lines, "  ", &trial);
    wrap(lines, "  ", "Take out the play the same way before every pass.");
}

fn next_start(lines: &mut Vec<String>, found: &Found) {
    if found.index.is_empty() {
        return;
    }
    head(lines, "NEXT START");
    for way in &found.index {
        lines.push(format!("  {}", step(way)));
    }
    head(lines, "HOW TO GET THERE");
    if found.index.len() > 1 {
        wrap(lines, "  ", "Any one of these does; the first is the easiest.");
    }
    wrap(lines, "  ", "Router off, cutter out of the wood, crank back to the beginning of the thread.");
    for way in &found.index {
        let how = match way {
            IndexWay::Wheel { .. } => {
                "Marks: drop the first stud out of mesh, turn the blank by that many marks of its wheel, mesh again. The \
                 lead screw stays."
            }
            IndexWay::BlankGear { .. } => {
                "Teeth of the blank: chalk a tooth of its gear and the gap it stands in, count on and chalk the next. Drop \
                 the first stud out of mesh, turn the blank until the next chalked tooth stands in the chalked gap, mesh \
                 again. The lead screw stays."
            }
            IndexWay::LeadScrew { .. } => {
                "Lead screw: lift its gear out of mesh, turn the lead screw alone, mesh again. The blank stays."
            }
            IndexWay::AlongTrain { .. } => {
                "Stud: lift its driver out of mesh, turn the blank while counting the teeth of the driver, mesh again. The \
                 lead screw stays."
            }
            IndexWay::Strip { .. } => {
                "Strip: lay a strip of paper once round the wheel of the blank, cut it where it meets, fold it into equal \
                 parts and mark the wheel at the folds. Out of mesh, turn the blank to the next mark, mesh again."
            }
        };
        wrap(lines, "  ", how);
    }
}

fn depths(lines: &mut Vec<String>, job: &Job, wanted: &Wanted, depths_mm: &[f64]) {
    head(lines, "DEPTHS below the crest");
    let mut before = 0.0;
    for (index, &depth) in depths_mm.iter().enumerate() {
        lines.push(format!(
            "  pass {:<2}  {:>12}   step {}",
            index + 1,
            job.unit.show(depth),
            job.unit.show(depth - before)
        ));
        before = depth;
    }
    if job.cutting.spring_pass {
        lines.push(format!("  spring   {:>12}   once more at full depth", job.unit.show(before)));
    }
    if wanted.starts > 1 {
        let order = match job.cutting.order {
            Order::ByStart => "All depths of one start, then the next start.",
            Order::ByDepth => "All starts at one depth, then the next depth.",
        };
        wrap(lines, "  ", order);
    }
}

/// Adds a sentence, broken into lines.
fn wrap(lines: &mut Vec<String>, indent: &str, sentence: &str) {
    let mut line = indent.to_owned();
    for word in sentence.split_whitespace() {
        if line.len() + word.len() >= WIDTH && line.len() > indent.len() {
            lines.push(std::mem::replace(&mut line, format!("{indent}  ")).trim_end().to_owned());
        }
        line.push_str(word);
        line.push(' ');
    }
    lines.push(line.trim_end().to_owned());
}
