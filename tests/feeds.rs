//! Plans by the wood: within their limits, nothing slower than what another plan would take, and what is given stays given.

#[allow(dead_code, reason = "each test binary uses its own part of it")]
mod common;

use common::Dice;
use threadwright::design::{self, Screw};
use threadwright::feeds::{self, Ask, Bounds, Kind, Plan, Reason, Search};
use threadwright::job::{DepthAsked, Given, Job, Passes};
use threadwright::pressure::BAND;
use threadwright::setup::Edge;
use threadwright::wood;

/// A sample job left to the wood, in a wood of the table, on a machine changed a little.
fn open(sample: &str, wood: &str, change: impl Fn(&mut Job)) -> (Job, Screw) {
    let mut job = feeds::opened(common::sample(sample).job);
    job.cutting.feeds_mm_per_min = Vec::new();
    wood.clone_into(&mut job.wood);
    job.species = Some(wood::find(wood, &[]).expect("the table has it").clone());
    change(&mut job);
    let screw = design::screw(&job).0.expect("samples have sizes");
    (job, screw)
}

fn plan(job: &Job, screw: &Screw) -> Plan {
    feeds::settle(job.clone(), screw).plan.expect("the wood was asked")
}

/// Shops in which different things bind.
fn shops() -> Vec<(&'static str, Job, Screw)> {
    let mut shops = Vec::new();
    for (name, torque, power, out) in [
        ("as it is", None, None, None),
        ("a weak rotary", Some(0.5), None, None),
        ("a weaker rotary", Some(0.4), None, None),
        ("a weak spindle", None, Some(30.0), None),
        ("a long thin cutter", None, None, Some((6.0, 52.0))),
    ] {
        let (job, screw) = open("nipping-press", "hornbeam", |job| {
            job.machine.a.holding_nm = torque;
            job.machine.spindle.power_w = power;
            if let Some((shank, out)) = out {
                (job.cutter.shank_diameter_mm, job.cutter.stick_out_mm) = (shank, out);
            }
        });
        shops.push((name, job, screw));
    }
    let (job, screw) = open("nipping-press", "European beech", |job| job.screw.thread_length_mm = 640.0);
    shops.push(("a slender blank", job, screw));
    shops
}

fn search<'a>(job: &Job, screw: &Screw, parts: &'a mut Option<(Bounds, Ask)>) -> Search<'a> {
    let (bounds, ask) = parts.insert((Bounds::of(job, screw), feeds::ask(job, screw, &Given::default())));
    Search::new(bounds, ask)
}

/// What a plan gives for even loads, and a step of feed, as a share of the time.
const GIVEN_AWAY: f64 = 0.06;

#[test]
fn no_other_plan_within_the_limits_is_faster() {
    let mut dice = Dice(0x0000_1ADD_E400_0003);
    for (name, job, screw) in shops() {
        let best = plan(&job, &screw);
        assert!(best.keeps(), "{name}: {best:?}");
        let mut parts = None;
        let search = search(&job, &screw, &mut parts);
        let speeds = search.speeds();
        let off_flank = screw.shape().tan_half();
        let light = best.last_off_flank_mm.expect("its last pass follows another") / off_flank;
        let (mut kept, mut fastest) = (0, f64::INFINITY);
        let found: Vec<f64> = best.passes.iter().map(|pass| pass.trip.depth_mm).collect();
        for trial in 0..12_000 {
            // Every other one is the plan itself with its rungs moved; the rest go down anyhow to where a last pass may begin
            // that is no heavier than the plan's own.
            let mut depths: Vec<f64> = if trial % 2 == 0 {
                found[..found.len() - 1].iter().map(|depth| depth + dice.between(-0.15, 0.15)).collect()
            } else {
                let end = screw.depth_mm - dice.between(0.3, light.max(0.300_001));
                let above = (1..=dice.below(6)).map(|_| dice.between(0.3, end)).collect::<Vec<_>>();
                above.into_iter().chain([end]).collect()
            };
            depths.push(screw.depth_mm);
            depths.sort_by(f64::total_cmp);
            let lightly = screw.depth_mm - depths[depths.len() - 2] <= light + 1e-9;
            let steps: Vec<f64> =
                std::iter::once(depths[0]).chain(depths.windows(2).map(|pair| pair[1] - pair[0])).collect();
            if !lightly || steps.iter().any(|&step| step < 0.3 || !search.bears(step)) {
                continue;
            }
            let other = search.plan(*dice.pick(&speeds), &depths);
            if other.keeps() {
                kept += 1;
                fastest = fastest.min(other.minutes);
            }
        }
        assert!(kept > 20, "{name}: only {kept} others keep the limits");
        assert!(
            best.minutes <= fastest * (1.0 + GIVEN_AWAY),
            "{name}: {} min, another takes {fastest}: {best:?}",
            best.minutes
        );
    }
}

#[test]
fn every_pass_runs_up_to_the_limit_it_names() {
    for (name, job, screw) in shops() {
        let (bounds, best) = (Bounds::of(&job, &screw), plan(&job, &screw));
        let mut before = 0.0;
        for pass in &best.passes {
            let (trip, met) = (&pass.trip, bounds.met(&pass.trip, before));
            let loads = bounds.loads(trip.depth_mm, &met, best.rpm, pass.most_mm_per_min);
            let last = trip.depth_mm == screw.depth_mm;
            let machine = &job.machine;
            let (load, limit) = match pass.reason {
                Reason::A | Reason::X => (Some(pass.most_mm_per_min), Some(bounds.axes.0)),
                Reason::Tears => (Some(loads.strain.feed_per_edge_mm), Some(loads.most_feed_per_edge_mm)),
                Reason::Power => (loads.strain.push.map(|push| push.power_w * BAND), machine.spindle.power_w),
                Reason::Torque => (loads.torque_nm.map(|torque| torque * BAND), machine.a.holding_nm),
                Reason::BlankBends => {
                    (loads.bend_mm.map(|bend| bend * BAND), Some(feeds::BENDS_MM[usize::from(last)]))
                }
                Reason::CutterBends => {
                    (loads.cutter_bend_mm.map(|bend| bend * BAND), Some(feeds::CUTTER_BENDS_MM))
                }
                Reason::Given => (None, None),
            };
            let (load, limit) = load.zip(limit).unwrap_or_else(|| panic!("{name}: {pass:?} names nothing"));
            assert!((load / limit - 1.0).abs() < 1e-9, "{name}: {load} of {limit}: {pass:?}");
            // The feed is set on a round step below.
            let short = pass.most_mm_per_min - trip.feed_mm_per_min;
            assert!((-1e-6..10.0 + 1e-6).contains(&short), "{name}: {pass:?}");
            before = trip.depth_mm;
        }
    }
}

#[test]
fn a_weaker_machine_takes_longer_and_says_why() {
    let of = |name: &str| {
        let (_, job, screw) =
            shops().into_iter().find(|(shop, ..)| *shop == name).expect("a shop of that name");
        plan(&job, &screw)
    };
    let (strong, weak, weaker) = (of("as it is"), of("a weak rotary"), of("a weaker rotary"));
    assert!(strong.minutes < weak.minutes && weak.minutes < weaker.minutes, "{strong:?} {weak:?} {weaker:?}");
    for (name, reason) in [
        ("a weaker rotary", Reason::Torque),
        ("a weak spindle", Reason::Power),
        ("a long thin cutter", Reason::CutterBends),
        ("a slender blank", Reason::BlankBends),
    ] {
        let plan = of(name);
        assert!(plan.passes.iter().any(|pass| pass.reason == reason), "{name}: {plan:?}");
    }
}

/// Where limits differ from pass to pass, passes of their own depth and feed are faster than equal ones; never slower, but
/// for what is given away for even loads.
#[test]
fn equal_steps_at_one_feed_are_not_faster() {
    let mut gains = Vec::new();
    for (name, job, screw) in shops() {
        let best = plan(&job, &screw);
        let even = feeds::even(&job, &screw, &best).expect("some steps are equal").plan;
        if even.keeps() {
            assert!(best.minutes <= even.minutes * (1.0 + GIVEN_AWAY), "{name}: {best:?} {even:?}");
            gains.push(even.minutes / best.minutes);
        }
    }
    assert!(gains.iter().any(|gain| *gain > 1.1), "{gains:?}");
}

/// Of two woods that differ in density alone, the denser takes no less time.
#[test]
fn denser_wood_is_not_faster() {
    let minutes = |density: f64| {
        let (mut job, screw) = open("nipping-press", "hornbeam", |job| job.machine.a.holding_nm = Some(0.5));
        // Seen through the set-up: the plan knows of the wood what stands there.
        let species = ["black cherry", "hard maple", "hornbeam", "live oak"]
            .map(|name| wood::find(name, &[]).expect("the table has it").clone());
        let nearest = species.into_iter().min_by(|a, b| {
            let off = |s: &wood::Species| (s.value(wood::Property::Density).unwrap_or(0.0) - density).abs();
            off(a).total_cmp(&off(b))
        });
        job.species = nearest;
        plan(&job, &screw).minutes
    };
    let times = [560.0, 705.0, 770.0, 990.0].map(minutes);
    assert!(times.is_sorted(), "{times:?}");
    assert!(times[3] > 1.1 * times[0], "{times:?}");
}

#[test]
fn what_is_given_stays_given() {
    let (job, screw) = open("nipping-press", "hornbeam", |_| {});
    let settled = |given: Given| {
        let mut job = job.clone();
        job.cutting.passes = Passes::ByWood(given);
        feeds::settle(job, &screw).job.cutting
    };
    let cutting = settled(Given { rpm: Some(11_300.0), ..Given::default() });
    assert_eq!(cutting.rpm, 11_300.0);
    let cutting = settled(Given { feed_mm_per_min: Some(1234.0), ..Given::default() });
    assert!(cutting.feeds_mm_per_min.iter().all(|feed| *feed == 1234.0), "{cutting:?}");
    for count in [1, 3, 6] {
        let cutting = settled(Given { count: Some(count), ..Given::default() });
        let Passes::Depths(depths) = cutting.passes else { panic!("settled: {:?}", cutting.passes) };
        assert_eq!(depths.len(), count as usize);
    }
    let depths = vec![2.0, 4.4, screw.depth_mm];
    let cutting = settled(Given { depths_mm: Some(depths.clone()), ..Given::default() });
    assert_eq!(cutting.passes, Passes::Depths(depths));
    assert!(!matches!(settled(Given::default()).passes, Passes::ByWood(_)), "nothing is left open");
}

#[test]
fn a_settled_job_stays_as_it_is() {
    for (name, job, screw) in shops() {
        let once = feeds::settle(job, &screw).job;
        let twice = feeds::settle(once.clone(), &screw);
        assert!(twice.plan.is_none() && twice.findings.is_empty(), "{name}");
        assert_eq!(once.cutting, twice.job.cutting, "{name}");
    }
}

#[test]
fn a_root_wider_than_the_tip_gets_a_pass_on_each_flank() {
    let (job, screw) = open("nipping-press", "hornbeam", |job| job.screw.root_width_mm = Some(1.8));
    let best = plan(&job, &screw);
    let aside: Vec<f64> = best
        .passes
        .iter()
        .filter(|pass| pass.trip.kind == Kind::Flank)
        .map(|pass| pass.trip.aside_mm)
        .collect();
    assert_eq!(aside.len(), 2);
    assert!((aside[0] - 0.4).abs() < 1e-9 && (aside[1] + 0.4).abs() < 1e-9, "{aside:?}");
    let crest_flat = job.screw.pitch_mm - screw.crest_width_mm;
    assert!(
        (crest_flat - screw.crest_flat_mm).abs() < 1e-9 && (screw.crest_flat_mm - 2.0).abs() < 1e-6,
        "{screw:?}"
    );
}

/// T L / (G J) by hand, L from the chuck to the tail end, where a pass begins; hard maple of 12.6 GPa along the grain and a
/// twelfth of that in shear (Wood Handbook tables 5-3 and 5-1).
#[test]
fn the_blank_twists_by_what_a_hand_reckons() {
    let (job, screw) = open("nipping-press", "hard maple", |job| {
        job.screw.thread_length_mm = 250.0;
    });
    let bounds = Bounds::of(&job, &screw);
    let trip = feeds::Trip { kind: Kind::Depth, depth_mm: 3.0, aside_mm: 0.0, feed_mm_per_min: 2000.0 };
    let loads = bounds.loads(3.0, &bounds.met(&trip, 0.0), 12_000.0, 2000.0);
    let blank = &bounds.setup.blank;
    let length_mm = blank.chuck_face_s_mm - blank.from_s_mm;
    let shear_n_mm2 = 12_600.0 / 12.0;
    let polar_mm4 = std::f64::consts::PI * (2.0 * screw.root_radius_mm).powi(4) / 32.0;
    let torque_nmm = 1000.0 * loads.torque_nm.expect("the density is known");
    let hand = (torque_nmm * length_mm / (shear_n_mm2 * polar_mm4)).to_degrees();
    let twist = loads.twist_deg.expect("the stiffness is known");
    assert!((twist / hand - 1.0).abs() < 0.01, "{twist} for {hand}");
}

/// Where a dull edge burns whatever the plan, the last pass stays as light as the rule has it.
#[test]
fn a_plan_that_burns_anyway_keeps_its_light_last_pass() {
    for starts in [1, 2] {
        let (job, screw) = open("nipping-press", "hard maple", |job| {
            job.screw.starts = starts;
            job.screw.lead_mm = job.screw.pitch_mm * f64::from(starts);
            job.cutter.edge = Edge::Dull;
        });
        let plan = plan(&job, &screw);
        assert!(!plan.keeps() && !plan.is_heavy(), "{plan:?}");
        assert!(plan.last_off_flank_mm.is_some(), "{plan:?}");
    }
}

/// Where the blank bends before its chips are thick enough, they are as thin at every spindle speed: the slowest heats least.
#[test]
fn a_plan_that_burns_anyway_turns_the_spindle_slowly() {
    let (job, screw) = open("nipping-press", "hard maple", |job| {
        job.screw.crest_diameter_mm = 20.0;
        job.blank.size_mm = 20.0;
        (job.screw.pitch_mm, job.screw.lead_mm, job.screw.starts) = (5.0, 5.0, 1);
        job.screw.depth = DepthAsked::Depth { depth_mm: 2.5 };
        job.screw.thread_length_mm = 350.0;
    });
    let plan = plan(&job, &screw);
    assert!(!plan.keeps(), "{plan:?}");
    assert_eq!(plan.rpm, job.machine.spindle.least_rpm, "{plan:?}");
    assert!(plan.passes.iter().any(|pass| pass.reason == Reason::BlankBends), "{plan:?}");
}

/// What is compared with the wood's plan has as many passes where the job fixes them.
#[test]
fn equal_steps_are_as_many_as_the_job_fixes() {
    let (mut job, screw) = open("nipping-press", "hard maple", |_| {});
    for count in [2, 4, 6] {
        job.cutting.passes = Passes::ByWood(Given { count: Some(count), ..Given::default() });
        let best = plan(&job, &screw);
        let even = feeds::even(&job, &screw, &best).expect("some steps are equal").plan;
        assert_eq!(even.passes.len(), best.passes.len());
    }
}

/// One bite deeper than the proof lets pass is not offered, but a shallow thread's is.
#[test]
fn a_table_offers_no_pass_that_is_too_deep() {
    for (depth_mm, offered) in [(5.0, false), (1.9, true)] {
        let (job, screw) = open("nipping-press", "hard maple", |job| {
            job.screw.depth = DepthAsked::Depth { depth_mm };
        });
        let (bounds, ask) = (Bounds::of(&job, &screw), feeds::ask(&job, &screw, &Given::default()));
        let table = feeds::table(&bounds, &ask, 12_000.0);
        assert_eq!(table.passes[0], 1);
        assert!(table.cells.iter().all(|row| row[0].is_some() == offered), "{depth_mm} mm deep");
    }
}

/// An axis that ends every feed does so in the lightest wood as in the hardest; on a weak rotary the wood has its say.
#[test]
fn the_machine_decides_where_an_axis_binds() {
    let binds = |wood: &str, holding_nm: Option<f64>| {
        let (job, screw) = open("nipping-press", wood, |job| job.machine.a.holding_nm = holding_nm);
        let job = feeds::settle(job, &screw).job;
        let (bounds, trips) = (Bounds::of(&job, &screw), feeds::trips(&job, &screw).0);
        let rows = feeds::rows(&bounds, &trips, job.cutting.rpm);
        feeds::axis_binds(&bounds, &trips, &rows, job.cutting.rpm, &wood::hardest())
    };
    let strong = binds("hard maple", Some(8.0)).expect("A ends every feed");
    assert_eq!((strong.axis, strong.in_any_wood), (Reason::A, true));
    assert!(binds("ipe", Some(0.5)).is_none());
    assert!(binds("black cherry", Some(1.0)).is_none_or(|binds| !binds.in_any_wood));
}
