//! What can be wrong with sizes that hold together among themselves: they do not suit the cutter, the blank or what
//! the job allows. Asks nothing about moves; that is the plan's business.

use super::blank_radius_mm;
use super::screw::{AGREE_MM, Screw};
use crate::finding::{Finding, design as code};
use crate::job::{Job, Passes};

/// Edge that must stand above the wood, so that the end of the grind does not run on the crest.
const SPARE_EDGE_MM: f64 = 0.5;

/// Air that must stay between blank and collet nut at full depth: less than this and a bent blank touches.
const COLLET_GAP_MM: f64 = 1.0;

/// How far a blank may stand above the crests before it is worth a word: what passes for the crest radius.
const PROUD_MM: f64 = 0.05;

/// Everything wrong with the sizes, in the order core, cutter, blank, depths.
pub(super) fn of(job: &Job, screw: &Screw) -> Vec<Finding> {
    [
        core(job, screw),
        cutter_short(job, screw),
        cutter_narrow(job, screw),
        stick_out(job, screw),
        blank(job, screw),
        depths(job, screw),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn core(job: &Job, screw: &Screw) -> Option<Finding> {
    let least = job.cutting.least_core_share;
    if screw.core_share >= least {
        return None;
    }
    let unit = job.unit;
    Some(
        Finding::new(
            &code::CORE_THIN,
            format!(
                "the core is {} thick, {:.0} % of the crest diameter; the job asks for at least {:.0} %",
                unit.show(2.0 * screw.root_radius_mm),
                100.0 * screw.core_share,
                100.0 * least
            ),
        )
        .at_some(job.marks.get("screw.pitch"))
        .also_at(job.marks.get("cutting.least_core"), "the least share")
        .help(format!(
            "the thread may be {} deep: choose a smaller pitch, a wider crest flat or a cutter with a wider angle",
            unit.show((1.0 - least) * screw.crest_radius_mm)
        ))
        .values(screw.core_share, least),
    )
}

fn cutter_short(job: &Job, screw: &Screw) -> Option<Finding> {
    let unit = job.unit;
    let top = blank_radius_mm(&job.blank).max(screw.crest_radius_mm);
    let needed = top - screw.root_radius_mm + SPARE_EDGE_MM;
    let edges = job.cutter.cutting_length_mm;
    (edges < needed).then(|| {
        Finding::new(
            &code::CUTTER_SHORT,
            format!(
                "the cutter's edges are {} long and stand in wood over {}",
                unit.show(edges),
                unit.show(needed - SPARE_EDGE_MM)
            ),
        )
        .at_some(job.marks.get("cutter.cutting_length"))
        .help(format!("take a cutter with edges of at least {}, or a shallower thread", unit.show(needed)))
        .values(edges, needed)
    })
}

fn cutter_narrow(job: &Job, screw: &Screw) -> Option<Finding> {
    let unit = job.unit;
    let needed = 2.0 * screw.shape().radius_at(screw.depth_mm);
    let diameter = job.cutter.cutting_diameter_mm;
    (diameter < needed).then(|| {
        Finding::new(
            &code::CUTTER_NARROW,
            format!(
                "the cutter is {} wide at most, but {} above its tip the groove needs {}",
                unit.show(diameter),
                unit.show(screw.depth_mm),
                unit.show(needed)
            ),
        )
        .at_some(job.marks.get("cutter.cutting_diameter"))
        .help(format!("take a cutter of at least {}, or a smaller pitch", unit.show(needed)))
        .values(diameter, needed)
    })
}

fn stick_out(job: &Job, screw: &Screw) -> Option<Finding> {
    let unit = job.unit;
    let top = blank_radius_mm(&job.blank).max(screw.crest_radius_mm);
    let needed = top - screw.root_radius_mm + COLLET_GAP_MM;
    let stick_out = job.cutter.stick_out_mm;
    (stick_out < needed).then(|| {
        Finding::new(
            &code::STICK_OUT_SHORT,
            format!(
                "the cutter sticks out {} and its tip goes {} below the blank's highest edge",
                unit.show(stick_out),
                unit.show(needed - COLLET_GAP_MM)
            ),
        )
        .at_some(job.marks.get("cutter.stick_out"))
        .help(format!("let it stick out at least {}", unit.show(needed)))
        .values(stick_out, needed)
    })
}

fn blank(job: &Job, screw: &Screw) -> Option<Finding> {
    let unit = job.unit;
    let (size, crest) = (job.blank.size_mm, 2.0 * screw.crest_radius_mm);
    let mark = job.marks.get("blank.size");
    if size < crest {
        return Some(
            Finding::new(
                &code::BLANK_SMALL,
                format!(
                    "the blank is {} thick, the screw {} over the crests",
                    unit.show(size),
                    unit.show(crest)
                ),
            )
            .at_some(mark)
            .also_at(job.marks.get("screw.crest_diameter"), "the crest diameter")
            .help(format!("take a blank of at least {}", unit.show(crest)))
            .values(size, crest),
        );
    }
    let proud = blank_radius_mm(&job.blank) - screw.crest_radius_mm;
    (proud > PROUD_MM).then(|| {
        Finding::new(
            &code::BLANK_PROUD,
            format!("the blank stands up to {} above the crests", unit.show(proud)),
        )
        .at_some(mark)
        .help(format!("turn it to {} first and give it as a round blank", unit.show(crest)))
        .values(proud, 0.0)
    })
}

fn depths(job: &Job, screw: &Screw) -> Option<Finding> {
    let Passes::Depths(depths) = &job.cutting.passes else {
        return None;
    };
    let unit = job.unit;
    let odd = |message: String, help: String| {
        Finding::new(&code::DEPTHS_ODD, message).at_some(job.marks.get("cutting.depths")).help(help)
    };
    let Some(&last) = depths.last() else {
        return Some(odd(
            "the list of depths is empty".to_owned(),
            format!("the last depth must be the full depth, {}", unit.show(screw.depth_mm)),
        ));
    };
    if let Some(&first) = depths.first().filter(|&&first| first <= 0.0) {
        return Some(odd(
            format!("the first depth is {}", unit.show(first)),
            "depths count from the crest inwards and start above zero".to_owned(),
        ));
    }
    if let Some(pair) = depths.windows(2).find(|pair| pair[1] <= pair[0]) {
        return Some(odd(
            format!("after a depth of {} comes one of {}", unit.show(pair[0]), unit.show(pair[1])),
            "list the depths from the shallowest to the deepest, each once".to_owned(),
        ));
    }
    ((last - screw.depth_mm).abs() > AGREE_MM).then(|| {
        odd(
            format!("the last depth is {}, the thread {} deep", unit.show(last), unit.show(screw.depth_mm)),
            format!("let the list end with {}", unit.show(screw.depth_mm)),
        )
        .values(last, screw.depth_mm)
    })
}
