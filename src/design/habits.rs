//! What can be made and is seldom wanted: sizes beside the habits of the trade. None of it stops a job.

use super::faults::{at_depth, pitch_key};
use super::screw::Screw;
use crate::finding::{Finding, design as code};
use crate::job::Job;

/// What is worth a word, in the order crest, depth, nose, pitch, grip.
pub(super) fn of(job: &Job, screw: &Screw) -> Vec<Finding> {
    [
        crest_sharp(job, screw),
        thread_shallow(job, screw),
        taper_short(job),
        pitch_unusual(job),
        grip_little(job),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Share of the pitch below which a crest chips (common practice, from memory: flats of .05 to .12 of the pitch).
const LEAST_FLAT_SHARE: f64 = 0.05;
/// Share of the pitch over which a nose is tapered at the least (common practice, from memory: half a pitch to one or
/// more).
const LEAST_TAPER_SHARE: f64 = 0.5;

fn crest_sharp(job: &Job, screw: &Screw) -> Option<Finding> {
    let (unit, least) = (job.unit, LEAST_FLAT_SHARE * job.screw.pitch_mm);
    if screw.crest_flat_mm >= least {
        return None;
    }
    let message = format!(
        "a crest flat of {} is below a twentieth of the pitch, {}, and sharp crests chip (common practice, from memory)",
        unit.show(screw.crest_flat_mm),
        unit.show(least)
    );
    let finding = at_depth(Finding::new(&code::CREST_SHARP, message), job);
    Some(
        finding
            .help(format!("leave at least {}", unit.show_at_least(least)))
            .values(screw.crest_flat_mm, least),
    )
}

fn taper_short(job: &Job) -> Option<Finding> {
    let crate::job::NoseShape::Taper { length_mm } = job.operations.nose.as_ref()?.shape else { return None };
    let (unit, least) = (job.unit, LEAST_TAPER_SHARE * job.screw.pitch_mm);
    (length_mm < least).then(|| {
        Finding::new(
            &code::TAPER_SHORT,
            format!(
                "a taper of {} is shorter than half a pitch, {}: the nut catches (common practice, from memory)",
                unit.show(length_mm),
                unit.show(least)
            ),
        )
        .at_some(job.marks.get("nose.taper"))
        .help(format!("taper over {} or more, up to a pitch or two", unit.show_at_least(least)))
        .values(length_mm, least)
    })
}

/// Crest diameters of vise screws, mm: 1 1/2 to 2 1/2 in (common practice, from memory).
const VISE_MM: [f64; 2] = [38.1, 63.5];
/// Their pitches, mm: 4 to 2 threads to the inch (common practice, from memory).
const VISE_PITCH_MM: [f64; 2] = [6.35, 12.7];
/// Share by which a pitch may lie beside these before it is worth a word: 6 mm is a round 4 to the inch.
const ROUND_SHARE: f64 = 0.06;

fn pitch_unusual(job: &Job) -> Option<Finding> {
    let (unit, pitch, crest) = (job.unit, job.screw.pitch_mm, job.screw.crest_diameter_mm);
    let [least, most] = VISE_PITCH_MM;
    let usual = (least * (1.0 - ROUND_SHARE)..=most * (1.0 + ROUND_SHARE)).contains(&pitch);
    if usual || !(VISE_MM[0]..=VISE_MM[1]).contains(&crest) {
        return None;
    }
    let (words, nearest) = if pitch < least {
        ("fine: crests so small break off in wood", least)
    } else {
        ("coarse: little of the thread holds in the nut at once", most)
    };
    let message = format!(
        "a pitch of {} on {} is {words}; 2 to 4 threads to the inch are usual (common practice, from memory)",
        unit.show(pitch),
        unit.show(crest)
    );
    let finding = Finding::new(&code::PITCH_UNUSUAL, message);
    let finding = pitch_key(job).map_or(finding.clone(), |(key, _)| finding.at_some(job.marks.get(key)));
    Some(
        finding
            .help(format!(
                "a pitch near {} suits; for a quicker screw give it more starts",
                unit.show(nearest)
            ))
            .values(pitch, nearest),
    )
}

/// Share of the pitch that the shallowest thread in use is deep: a stub thread's three tenths (common practice, from memory).
const LEAST_DEPTH_SHARE: f64 = 0.3;

fn thread_shallow(job: &Job, screw: &Screw) -> Option<Finding> {
    let (unit, least) = (job.unit, LEAST_DEPTH_SHARE * job.screw.pitch_mm);
    (screw.depth_mm < least).then(|| {
        let message = format!(
            "a thread {} deep at a pitch of {} is shallow: the shallowest in use are three tenths of the pitch deep, {} \
             (common practice, from memory)",
            unit.show(screw.depth_mm),
            unit.show(job.screw.pitch_mm),
            unit.show(least)
        );
        at_depth(Finding::new(&code::THREAD_SHALLOW, message), job)
            .help("choose a narrower crest flat or a deeper thread; a steeper cutter angle cuts deeper at the same pitch")
            .values(screw.depth_mm, least)
    })
}

/// Share of a blank's width that a chuck holds of its length at the least (common practice, no source).
const LEAST_GRIP_SHARE: f64 = 0.25;

fn grip_little(job: &Job) -> Option<Finding> {
    let (unit, grip, size) = (job.unit, job.machine.chuck.grip_mm, job.blank.size_mm);
    let least = LEAST_GRIP_SHARE * size;
    (grip < least).then(|| {
        let words = format!(
            "the chuck grips {} of a blank {} thick: the cutter may pull it out (common practice, no source)",
            unit.show(grip),
            unit.show(size)
        );
        Finding::new(&code::GRIP_LITTLE, words)
            .at_some(job.marks.get("machine.headstock.grip"))
            .help(format!(
                "let it grip {} or more, and write the length of the jaws on the wood",
                unit.show_at_least(least)
            ))
            .values(grip, least)
    })
}
