//! The closed forms of the fit against a search over all angles, and what must hold between its figures.

use super::*;
use crate::design::{sample, screw};
use crate::job::DepthAsked;
use crate::wood::{Moisture, find};

/// Steps of the search in degrees: a cosine of the double angle is then off by less than [`SEARCHED`].
const STEP_DEG: usize = 1;
/// A search in steps of a degree misses the end of a movement of a few thousandths by less than this, as a share.
const SEARCHED: f64 = 1e-6;

fn moist(percent: f64) -> Moisture {
    Moisture { percent, air: None }
}

/// The press of the tests with a year and a nut.
fn job(screw_wood: &str, nut_wood: &str, board: Board) -> Job {
    let species = |name: &str| find(name, &[]).expect("it is in the table").clone();
    let mut job = sample::job();
    job.wood = screw_wood.to_owned();
    job.species = Some(species(screw_wood));
    job.season =
        Some(Season { cutting: moist(9.0), cutting_assumed: false, dry: moist(6.0), wet: moist(13.0) });
    job.nut = Some(NutAsked {
        wood: nut_wood.to_owned(),
        species: Some(species(nut_wood)),
        board,
        length_mm: 60.0,
        radial_clearance_mm: None,
        flank_clearance_mm: None,
        along_grain_mm: None,
        across_grain_mm: None,
        start_angle_deg: 0.0,
        chamfer_mm: None,
        milled: None,
    });
    job
}

fn fitted(job: &Job) -> Fit {
    let (screw, _) = screw(job);
    let (fit, findings) = fit(job, &screw.expect("the sample can be made"));
    fit.unwrap_or_else(|| panic!("{findings:?}"))
}

/// The gap's growth as it is written down, evaluated at single angles (degrees).
fn growth_at(
    screw: &Movement,
    nut: &Movement,
    board: Board,
    points: Points,
    from_grain: f64,
    turned: f64,
) -> f64 {
    let square = |degrees: f64| degrees.to_radians().cos().powi(2);
    let hole = nut.along * square(from_grain) + nut.across(board) * (1.0 - square(from_grain));
    let from_radial = from_grain - turned;
    let oval = screw.radial * square(from_radial) + screw.tangential * (1.0 - square(from_radial));
    points.nut * hole - points.screw * oval
}

#[test]
fn the_worst_angles_are_those_of_a_search() {
    let pairs = [("hornbeam", "hard maple"), ("persimmon", "black walnut"), ("white oak", "yellow birch")];
    let all_points = [(4.0, 4.0), (-3.0, -3.0), (4.0, 0.0), (0.0, -3.0), (4.0, -3.0), (-3.0, 4.0)];
    for (screw, nut) in pairs {
        let [screw, nut] =
            [screw, nut].map(|name| Movement::of(find(name, &[]).expect("known")).expect("known"));
        for board in Board::ALL {
            for (screw_points, nut_points) in all_points {
                let points = Points { screw: screw_points, nut: nut_points };
                let growth = Growth::of(&screw, &nut, board, points);
                let (mut least, mut most, mut best_least) = (f64::MAX, f64::MIN, f64::MIN);
                for turned in (0_usize..180).step_by(STEP_DEG) {
                    let at =
                        |angle: usize| growth_at(&screw, &nut, board, points, angle as f64, turned as f64);
                    let row = (0..180).step_by(STEP_DEG).map(at);
                    let (low, high) = row.fold((f64::MAX, f64::MIN), |(l, h), v| (l.min(v), h.max(v)));
                    (least, most, best_least) = (least.min(low), most.max(high), best_least.max(low));
                }
                for (what, closed, searched) in [
                    ("tightest", growth.tightest(), least),
                    ("widest", growth.widest(), most),
                    ("turned well", growth.tightest_turned_well(), best_least),
                ] {
                    assert!(
                        (closed - searched).abs() < SEARCHED,
                        "{what}, {points:?}: {closed} and {searched}"
                    );
                }
            }
        }
    }
}

#[test]
fn chosen_clearances_leave_the_least_gaps_and_no_more() {
    for board in Board::ALL {
        let fit = fitted(&job("hornbeam", "hard maple", board));
        assert_eq!(fit.verdict, Verdict::Free);
        let flank = fit.gaps.iter().map(|gaps| gaps.flank_least_lively_mm).fold(f64::MAX, f64::min);
        assert!((LEAST_FLANK_MM..LEAST_FLANK_MM + STEP_MM).contains(&flank), "{board:?}: {flank}");
        let need = fit.need().needed;
        let job = with_clearances(job("hornbeam", "hard maple", board), need.radial_mm, need.flank_mm);
        assert_eq!(fitted(&job).verdict, Verdict::Free);
        let tight =
            fitted(&with_clearances(job.clone(), need.radial_mm, need.flank_mm - LEAST_FLANK_MM - 0.01));
        assert_eq!(tight.verdict, Verdict::Tight, "a hundredth less than what lively boards take");
        assert_eq!(fitted(&with_clearances(job, need.radial_mm, 0.05)).verdict, Verdict::Binds);
    }
}

fn with_clearances(mut job: Job, radial_mm: f64, flank_mm: f64) -> Job {
    if let Some(nut) = &mut job.nut {
        (nut.radial_clearance_mm, nut.flank_clearance_mm) = (Some(radial_mm), Some(flank_mm));
    }
    job
}

/// With as much at the crests as the flanks close, both close at once in every case in which the nut keeps its length.
#[test]
fn crests_and_flanks_close_together() {
    let mut asked = job("hornbeam", "hornbeam", Board::FlatSawn);
    asked.screw.depth = DepthAsked::Depth { depth_mm: 6.0 };
    let (made, _) = screw(&asked);
    let slope = made.expect("the sample can be made").flank_axial_deg.to_radians().tan();
    let fit = fitted(&with_clearances(asked, 0.6 / slope, 0.6));
    let wet = fit.gaps.iter().find(|gaps| gaps.when == When::ScrewWetFirst).expect("it is a case");
    let drift = 4.0 * crate::wood::ALONG_PER_POINT * 60.0 / 2.0;
    let rounding = 1e-9;
    assert!((wet.crest_least_mm * slope - drift - wet.flank_least_mm).abs() < rounding, "{wet:?}");
}

#[test]
fn a_still_year_asks_for_the_least_gaps_only() {
    let mut still = job("hornbeam", "hard maple", Board::FlatSawn);
    still.season =
        Some(Season { cutting: moist(9.0), cutting_assumed: false, dry: moist(9.0), wet: moist(9.0) });
    let fit = fitted(&still);
    assert_eq!(fit.need().needed.flank_mm, LEAST_FLANK_MM);
    let as_cut = fit.gaps[0];
    assert!(fit.gaps.iter().all(|gaps| Gaps { when: When::AsCut, ..*gaps } == as_cut));
    assert_eq!(fit.sizes[1].nut_across_mm, fit.nut_major_diameter_mm);
}

#[test]
fn a_bound_is_never_better_than_what_is_expected() {
    let fit = fitted(&job("white oak", "American beech", Board::QuarterSawn));
    let least = |gaps: &[Gaps]| gaps.iter().map(|gaps| gaps.crest_least_mm).fold(f64::MAX, f64::min);
    let most = |gaps: &[Gaps]| gaps.iter().map(|gaps| gaps.crest_most_mm).fold(f64::MIN, f64::max);
    assert!(least(&fit.bounds) <= least(&fit.gaps) && most(&fit.bounds) >= most(&fit.gaps));
}
