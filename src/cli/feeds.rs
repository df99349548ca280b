//! `feeds`: how fast, how deep and in how many passes the wood lets a job be cut.

use super::Outcome;
use super::args::Feeds;
use super::shop;
use super::tell::Teller;
use crate::design::Screw;
use crate::feeds::{self, Bounds};
use crate::finding::Severity;
use crate::job::{Job, Passes};
use crate::post;
use crate::report::feeds::{Sheet, Times, text};
use crate::report::json::Document;
use crate::toolpath;
use crate::wood;

/// Reads the job, reckons its passes, tells.
pub(crate) fn run(args: &Feeds, teller: &Teller) -> Outcome {
    let mut shop = match shop::open(&args.job, "feeds", teller) {
        Ok(shop) => shop,
        Err(outcome) => return outcome,
    };
    let document = Document::new("feeds").with("job", args.job.display().to_string());
    let mut asked = vec![shop.asked.clone()];
    if let Some(name) = &args.wood {
        match wood::find(name, &[]) {
            Ok(species) => {
                let mut other = shop.asked.clone();
                (other.wood, other.species) = (name.clone(), Some(species.clone()));
                asked.push(other);
            }
            Err(near) => {
                let near = near.words().map_or("; `threadwright woods` lists them".to_owned(), |words| {
                    format!("; {words} may be meant")
                });
                return teller.usage(&format!("the table has no wood called {name:?}{near}"), document);
            }
        }
    }
    for job in &mut asked {
        if let Some(edge) = args.edge {
            job.cutter.edge = edge.into();
        }
    }
    // A job that cannot be cut has loads and limits all the same, but what stands against it is told.
    shop.findings.extend(toolpath::plan(&shop.job, &shop.screw).1);
    teller.findings(&shop.findings, shop.job.unit);
    let sheets: Vec<(Job, Bounds, Sheet)> = asked.iter().map(|asked| sheet(asked, &shop.screw)).collect();
    if teller.json() {
        let parts: Vec<&Sheet> = sheets.iter().map(|(_, _, sheet)| sheet).collect();
        teller.document(&document.with("feeds", parts).findings(&shop.findings));
    } else {
        let (job, bounds, sheet) = &sheets[0];
        let other = sheets.get(1).map(|(_, _, sheet)| sheet);
        teller.figures(&format!("{}\n", text(job, bounds, sheet, other)));
    }
    let stopped = shop.findings.iter().any(|finding| finding.severity == Severity::Stop);
    if stopped { Outcome::BadInput } else { Outcome::Done }
}

/// Works out the sheet of a job as it was asked.
fn sheet(asked: &Job, screw: &Screw) -> (Job, Bounds, Sheet) {
    let job = feeds::settle(asked.clone(), screw).job;
    let open = if matches!(asked.cutting.passes, Passes::ByWood(_)) {
        asked.clone()
    } else {
        feeds::opened(asked.clone())
    };
    let planned = feeds::settle(open.clone(), screw);
    let bounds = Bounds::of(&job, screw);
    let trips = feeds::trips(&job, screw).0;
    let rows = feeds::rows(&bounds, &trips, job.cutting.rpm);
    let plan = planned.plan.unwrap_or_default();
    let even = feeds::even(&open, screw, &plan);
    let times = Times {
        minutes: minutes(&job, screw),
        by_wood_minutes: minutes(&planned.job, screw),
        even_minutes: even.as_ref().and_then(|even| minutes(&even.job, screw)),
        even_passes: even.as_ref().map_or(0, |even| even.plan.passes.len()),
        even_feed_mm_per_min: even.as_ref().map_or(0.0, |even| even.job.cutting.feed_mm_per_min),
        even_rpm: even.as_ref().map_or(0.0, |even| even.job.cutting.rpm),
        passes_fixed: matches!(&open.cutting.passes, Passes::ByWood(given) if given.count.is_some() || given.depths_mm.is_some()),
        even_keeps: even.as_ref().is_some_and(|even| even.plan.keeps()),
    };
    let machine = &bounds.setup.machine;
    let ask = feeds::ask(&job, screw, &crate::job::Given::default());
    let sheet = Sheet {
        wood: job.wood.clone(),
        density_kg_m3: bounds.setup.timber.density_kg_m3,
        modulus_gpa: bounds.setup.timber.modulus_gpa,
        edge: job.cutter.edge.name(),
        rpm: job.cutting.rpm,
        spindle_power_w: machine.spindle.power_w,
        holding_torque_nm: machine.a.holding_nm,
        least_chip_mm: bounds.least_chip_mm(),
        planned_by_wood: matches!(asked.cutting.passes, Passes::ByWood(_)),
        advice: feeds::advice(&bounds, &rows, job.cutting.rpm),
        axis_binds: feeds::axis_binds(&bounds, &trips, &rows, job.cutting.rpm, &wood::hardest()),
        passes: rows,
        table: feeds::table(&bounds, &ask, job.cutting.rpm),
        by_wood: plan,
        times,
        from_memory: Sheet::memory(&bounds.setup),
    };
    (job, bounds, sheet)
}

/// Minutes of the whole program.
fn minutes(job: &Job, screw: &Screw) -> Option<f64> {
    let path = toolpath::plan(job, screw).0?;
    Some(post::minutes(&crate::design::setup(job, screw), path.from, &path.moves))
}
