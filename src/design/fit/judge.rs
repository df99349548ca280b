//! What is to be said about a fit: what it lacks, whether it binds, whether it is too loose.

use super::{Fit, Gaps, Verdict};
use crate::design::Screw;
use crate::finding::{Finding, fit as code, job as job_code};
use crate::job::{Job, NutAsked};
use crate::wood::{Movement, PROPORTIONAL_PERCENT, Property, SCATTER, Season, Species};

/// A flank clearance that exceeds what the seasons ask for by this is worth a word: as much as a dry fit of wooden
/// threads has on the radius (common practice, from memory).
const LOOSE_MM: f64 = 0.5;
/// Least share of the depth that the threads should overlap by (common practice, no source).
const LEAST_OVERLAP: f64 = 0.5;
/// Moisture when cut may lie outside the year's by this, points: meters read no closer.
const OUTSIDE_POINTS: f64 = 0.5;

type Ready<'j> = (Season, &'j NutAsked, [Movement; 2]);

/// What a fit needs, or what is missing.
pub(super) fn ready(job: &Job) -> (Option<Ready<'_>>, Vec<Finding>) {
    let mut findings = Vec::new();
    let mut missing = |table: &str, help: &str| {
        let finding = Finding::new(&job_code::KEY_MISSING, format!("a fit needs the table [{table}]"));
        findings.push(finding.at_some(job.marks.get("wood")).help(help));
    };
    if job.season.is_none() {
        missing(
            "season",
            "add [season] with dry = { humidity = 35 }, say, wet = { humidity = 65 } and cutting_moisture = 9",
        );
    }
    if job.nut.is_none() {
        missing("nut", "add [nut] with wood, board = \"flat-sawn\" and its length");
    }
    let screw = movement(&job.wood, job.species.as_ref(), "wood", job, &mut findings);
    let Some((season, nut)) = job.season.zip(job.nut.as_ref()) else {
        return (None, findings);
    };
    let nut_movement = if nut.wood == job.wood {
        screw
    } else {
        movement(&nut.wood, nut.species.as_ref(), "nut.wood", job, &mut findings)
    };
    (screw.zip(nut_movement).map(|(screw, nut_movement)| (season, nut, [screw, nut_movement])), findings)
}

/// The movement of a wood, or the finding that it is not known.
fn movement(
    name: &str,
    species: Option<&Species>,
    key: &str,
    job: &Job,
    findings: &mut Vec<Finding>,
) -> Option<Movement> {
    let lacks = match species.map(Movement::of) {
        Some(Ok(movement)) => return Some(movement),
        Some(Err(missing)) => {
            let words: Vec<&str> = missing
                .into_iter()
                .map(|p| if p == Property::MoveRadial { "radial" } else { "tangential" })
                .collect();
            format!("of {name} the {} shrinkage is not known", words.join(" and the "))
        }
        None => format!("no table has a wood called \"{name}\""),
    };
    let finding =
        Finding::new(&code::MOVEMENT_UNKNOWN, format!("a fit needs the movement of the wood; {lacks}"));
    findings.push(finding.at_some(job.marks.get(key)).help(
        "name another wood, or write shrink_radial and shrink_tangential of this one into a file of your own: \
         woods = \"my-woods.toml\"",
    ));
    None
}

/// Whether the pair stays free, from the gaps of every case.
pub(super) fn verdict(gaps: &[Gaps]) -> Verdict {
    let least = |of: &dyn Fn(&Gaps) -> f64| gaps.iter().map(of).fold(f64::INFINITY, f64::min);
    if least(&|gaps| gaps.crest_least_mm.min(gaps.flank_least_mm)) < 0.0 {
        Verdict::Binds
    } else if least(&|gaps| gaps.crest_least_lively_mm.min(gaps.flank_least_lively_mm)) < 0.0 {
        Verdict::Tight
    } else {
        Verdict::Free
    }
}

/// Everything to be said about a fit.
pub(super) fn of(job: &Job, screw: &Screw, fit: &Fit) -> Vec<Finding> {
    let findings = [
        binds(job, fit),
        loose(job, fit),
        crests_carry(job, screw, fit),
        overlap_small(job, screw, fit),
        moisture_far(job, fit),
        cut_outside(job, fit),
    ];
    findings.into_iter().flatten().collect()
}

/// A finding at the clearance that decides, or at the nut.
fn at_clearance(finding: Finding, key: &str, job: &Job) -> Finding {
    finding.at_some(job.marks.get(key).or_else(|| job.marks.get("nut")))
}

fn binds(job: &Job, fit: &Fit) -> Option<Finding> {
    let unit = job.unit;
    let lively = match fit.verdict {
        Verdict::Free => return None,
        Verdict::Tight => true,
        Verdict::Binds => false,
    };
    let flank_of = |gaps: &Gaps| if lively { gaps.flank_least_lively_mm } else { gaps.flank_least_mm };
    let crest_of = |gaps: &Gaps| if lively { gaps.crest_least_lively_mm } else { gaps.crest_least_mm };
    let flank = fit.least_by(flank_of);
    let crest = fit.least_by(crest_of);
    let needed = fit.need().needed;
    let (place, worst, gap_mm, key, value, wanted) = if flank_of(flank) <= crest_of(crest) {
        let (value, wanted) = (fit.clearance.flank_mm, needed.flank_mm);
        ("at the flanks", flank, flank_of(flank), "nut.flank_clearance", value, wanted)
    } else {
        let (value, wanted) = (fit.clearance.radial_mm, needed.radial_mm);
        ("at the crests", crest, crest_of(crest), "nut.radial_clearance", value, wanted)
    };
    let (code, more) = if lively {
        (&code::FIT_TIGHT, format!(" if the boards move {:.0} % more or less than usual", 100.0 * SCATTER))
    } else {
        (&code::FIT_BINDS, String::new())
    };
    let message = format!(
        "the nut binds {place}{more}: {}, there is {} too little",
        worst.when.words(),
        unit.show_at_least(-gap_mm)
    );
    let help = format!(
        "write flank_clearance = {} and radial_clearance = {} or more, or leave both out to have them chosen",
        bare(&unit.show_at_least(needed.flank_mm)),
        bare(&unit.show_at_least(needed.radial_mm))
    );
    Some(at_clearance(Finding::new(code, message), key, job).help(help).values(value, wanted))
}

/// A shown length without its unit, as it is written in a job.
fn bare(shown: &str) -> String {
    shown.split(' ').next().unwrap_or_default().to_owned()
}

fn loose(job: &Job, fit: &Fit) -> Option<Finding> {
    let unit = job.unit;
    let (flank, needed) = (fit.clearance.flank_mm, fit.need().needed.flank_mm);
    if fit.flank_chosen || flank - needed <= LOOSE_MM {
        return None;
    }
    let loosest = fit.loosest();
    let finding = Finding::new(
        &code::FIT_LOOSE,
        format!(
            "the nut rattles: it has up to {} of play along the screw ({}); the seasons ask for {} at each flank",
            unit.show(loosest.play_most_mm),
            loosest.when.words(),
            unit.show_at_least(needed)
        ),
    );
    let help = format!("write flank_clearance = {}", bare(&unit.show_at_least(needed)));
    Some(at_clearance(finding, "nut.flank_clearance", job).help(help).values(flank, needed))
}

/// Gaps at crest and flank change together, so whichever closes first does so in every season.
fn crests_carry(job: &Job, screw: &Screw, fit: &Fit) -> Option<Finding> {
    let unit = job.unit;
    let relief = fit.clearance.flank_mm / screw.flank_axial_deg.to_radians().tan();
    if fit.radial_chosen || fit.clearance.radial_mm >= relief - super::super::screw::AGREE_MM {
        return None;
    }
    let finding = Finding::new(
        &code::CRESTS_CARRY,
        format!(
            "the crests rub in the nut before the flanks carry: {} at the crests, {} at the flanks",
            unit.show(fit.clearance.radial_mm),
            unit.show(fit.clearance.flank_mm)
        ),
    );
    let help =
        format!("write radial_clearance = {}, or less flank_clearance", bare(&unit.show_at_least(relief)));
    Some(
        at_clearance(finding, "nut.radial_clearance", job).help(help).values(fit.clearance.radial_mm, relief),
    )
}

fn overlap_small(job: &Job, screw: &Screw, fit: &Fit) -> Option<Finding> {
    let unit = job.unit;
    let least = LEAST_OVERLAP * screw.depth_mm;
    (fit.overlap_least_mm < least).then(|| {
        let finding = Finding::new(
            &code::OVERLAP_SMALL,
            format!(
                "at the loosest the threads overlap by {} of their depth of {}",
                unit.show(fit.overlap_least_mm.max(0.0)),
                unit.show(screw.depth_mm)
            ),
        );
        at_clearance(finding, "nut.radial_clearance", job)
            .help("choose a deeper thread, a shorter nut, or woods that move less")
            .values(fit.overlap_least_mm, least)
    })
}

fn moisture_far(job: &Job, fit: &Fit) -> Option<Finding> {
    let season = &fit.season;
    let (least, most) = (PROPORTIONAL_PERCENT.start(), PROPORTIONAL_PERCENT.end());
    let [dry, wet] = [season.dry.percent, season.wet.percent];
    (dry < *least || wet > *most).then(|| {
        let finding = Finding::new(
            &code::MOISTURE_FAR,
            format!(
                "from {dry:.1} to {wet:.1} % moisture the movement is only roughly in proportion; the table holds from \
                 {least} to {most} %"
            ),
        );
        finding.at_some(job.marks.get("season")).help("leave some more clearance than is shown here")
    })
}

fn cut_outside(job: &Job, fit: &Fit) -> Option<Finding> {
    let season = &fit.season;
    let [cut, dry, wet] = [season.cutting, season.dry, season.wet].map(|then| then.percent);
    let (word, side) = if cut > wet + OUTSIDE_POINTS {
        ("wetter", "dries")
    } else if cut < dry - OUTSIDE_POINTS {
        ("drier", "swells")
    } else {
        return None;
    };
    let finding = Finding::new(
        &code::CUT_OUTSIDE,
        format!(
            "the wood is cut at {cut:.1} %, {word} than it will ever be ({dry:.1} to {wet:.1} %): it only {side}"
        ),
    );
    let mark = ["season.cutting_moisture", "season.cutting", "season"]
        .into_iter()
        .find_map(|key| job.marks.get(key));
    Some(
        finding
            .at_some(mark)
            .help("let it stand where it will be used until it no longer changes its weight, then cut it"),
    )
}
