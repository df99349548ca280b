//! Sizes against each other, and one finding for each thing that can be wrong.

use super::*;
use crate::drawing::SectionPoint;
use crate::finding::Finding;
use crate::job::{DepthAsked, Job, Passes};
use crate::setup::{Tip, XEnd, ZZero};

fn codes(findings: &[Finding]) -> Vec<&'static str> {
    findings.iter().map(|finding| finding.code.name).collect()
}

fn sizes(job: &Job) -> Screw {
    let (screw, findings) = screw(job);
    assert!(findings.is_empty(), "{findings:?}");
    screw.unwrap()
}

#[test]
fn flat_and_depth_are_two_ways_to_the_same_screw() {
    for tip in [Tip::Flat { diameter_mm: 1.0 }, Tip::Flat { diameter_mm: 0.0 }, Tip::Ball { radius_mm: 1.0 }]
    {
        let mut job = sample::job();
        job.cutter.tip = tip;
        job.screw.depth = DepthAsked::Depth { depth_mm: 6.5 };
        let from_depth = sizes(&job);
        let flat_mm = from_depth.crest_flat_mm;
        job.screw.depth = DepthAsked::CrestFlat { flat_mm, depth_too_mm: Some(6.51) };
        let from_flat = sizes(&job);
        assert!((from_flat.depth_mm - 6.5).abs() < 1e-9, "{tip:?}: {}", from_flat.depth_mm);
        assert!((from_flat.crest_flat_mm - flat_mm).abs() < 1e-9);
    }
}

#[test]
fn the_section_runs_from_root_to_crest_and_widens() {
    let screw = sizes(&sample::job());
    let (first, last) = (screw.section[0], *screw.section.last().unwrap());
    assert_eq!(first, SectionPoint { r_mm: 18.0, half_width_mm: 0.5 });
    assert_eq!((last.r_mm, 2.0 * last.half_width_mm), (25.0, screw.crest_width_mm));
    assert!(
        screw.section.windows(2).all(|w| w[0].r_mm < w[1].r_mm && w[0].half_width_mm < w[1].half_width_mm)
    );
}

#[test]
fn straight_lines_between_the_points_of_the_section_are_close_enough() {
    // Well below the tolerance of the form that a proof measures with.
    let close = 0.005;
    for tip in [Tip::Flat { diameter_mm: 1.0 }, Tip::Ball { radius_mm: 2.0 }] {
        let mut job = sample::job();
        job.cutter.tip = tip;
        job.screw.depth = DepthAsked::Depth { depth_mm: 6.0 };
        let screw = sizes(&job);
        for pair in screw.section.windows(2) {
            let r_mm = f64::midpoint(pair[0].r_mm, pair[1].r_mm);
            let straight = f64::midpoint(pair[0].half_width_mm, pair[1].half_width_mm);
            let slope = (pair[1].half_width_mm - pair[0].half_width_mm) / (pair[1].r_mm - pair[0].r_mm);
            let off = (screw.groove().half_width_mm(r_mm) - straight) / slope.hypot(1.0);
            assert!(off.abs() < close, "{tip:?} at {r_mm}: {off}");
        }
    }
}

#[test]
fn the_setup_places_blank_and_travel_on_either_end() {
    let mut job = sample::job();
    let screw = sizes(&job);
    let setup_minus = setup(&job, &screw);
    // Nose 20, thread 300, run-out half a turn of 20, head 40, waste 60; grip 40; reach 700 and 50 past the chuck.
    assert_eq!((setup_minus.blank.from_s_mm, setup_minus.blank.to_s_mm), (-15.0, 430.0));
    assert_eq!(setup_minus.blank.chuck_face_s_mm, 390.0);
    assert_eq!(setup_minus.x_limits_mm, [-440.0, 310.0]);
    assert_eq!((setup_minus.z_axis_mm, setup_minus.z_limits_mm), (0.0, [-20.0, 120.0]));
    (job.machine.headstock, job.machine.z_zero) = (XEnd::XPlus, ZZero::FinishedSurface);
    let setup_plus = setup(&job, &screw);
    assert_eq!(setup_plus.x_limits_mm, [-310.0, 440.0]);
    assert_eq!((setup_plus.z_axis_mm, setup_plus.z_limits_mm), (-25.0, [-45.0, 95.0]));
}

#[test]
fn each_thing_that_is_wrong_has_its_finding() {
    type Spoil = fn(&mut Job);
    let cases: [(&str, Spoil); 8] = [
        ("core-thin", |job| job.cutting.least_core_share = 0.75),
        ("core-thin", |job| {
            (job.screw.pitch_mm, job.screw.lead_mm) = (40.0, 80.0);
            job.screw.depth = DepthAsked::CrestFlat { flat_mm: 1.0, depth_too_mm: None };
        }),
        ("crest-gone", |job| job.screw.depth = DepthAsked::Depth { depth_mm: 8.0 }),
        ("disagree", |job| {
            job.screw.depth = DepthAsked::CrestFlat { flat_mm: 0.850_693, depth_too_mm: Some(6.97) };
        }),
        ("cutter-short", |job| job.cutter.cutting_length_mm = 7.4),
        ("cutter-narrow", |job| job.cutter.cutting_diameter_mm = 9.0),
        ("stick-out-short", |job| job.cutter.stick_out_mm = 7.9),
        ("depths-odd", |job| job.cutting.passes = Passes::Depths(vec![3.0, 6.9])),
    ];
    let mut wrong = Vec::new();
    for (index, (code, spoil)) in cases.into_iter().enumerate() {
        let mut job = sample::job();
        spoil(&mut job);
        let (_, findings) = screw(&job);
        if codes(&findings) != [code] || findings[0].help.is_none() {
            wrong.push(format!("case {index}: wanted {code}, got {findings:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_contradiction_shows_both_implied_values() {
    let mut job = sample::job();
    job.screw.depth = DepthAsked::CrestFlat { flat_mm: 0.850_693, depth_too_mm: Some(6.5) };
    let (_, findings) = screw(&job);
    insta::assert_snapshot!(findings[0].message, @"a depth of 6.50 mm gives a crest flat of 1.43 mm, but a crest flat of 0.85 mm is asked for, which gives a depth of 7.00 mm");
}

#[test]
fn a_crest_that_vanishes_says_how_deep_it_may_be() {
    let mut job = sample::job();
    job.screw.depth = DepthAsked::Depth { depth_mm: 8.0 };
    let (none, findings) = screw(&job);
    assert!(none.is_none());
    insta::assert_snapshot!(findings[0].help.as_deref().unwrap_or(""), @"the crest is sharp at a depth of 7.73 mm; stay below it, or choose a pitch above 10.32 mm");
}
