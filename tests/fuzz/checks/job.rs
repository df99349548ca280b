//! What must hold of any text that is read as a job. The data is the job file; after a NUL the machine file it names,
//! after another the cutter. Where those are missing, the samples of the name stand in.

use threadwright::finding::{Finding, Severity};
use threadwright::report;
use threadwright::source::Source;
use threadwright::units::LengthUnit;
use threadwright::{design, feeds, job, post, proof, rs274, toolpath};

/// Findings that are laid out: it takes longer than all the rest, and the first few reach every branch.
const MOST_SHOWN: usize = 4;

/// Longest line of the standard.
const LONGEST_LINE: usize = 256;

const SAMPLES: [(&str, &str); 7] = [
    ("long-bench", include_str!("../../../samples/machines/long-bench.toml")),
    ("window-bench", include_str!("../../../samples/machines/window-bench.toml")),
    ("loft-bench", include_str!("../../../samples/machines/loft-bench.toml")),
    ("cellar-bench", include_str!("../../../samples/machines/cellar-bench.toml")),
    ("v60-flat-1-32in", include_str!("../../../samples/cutters/v60-flat-1-32in.toml")),
    ("v60-flat-1", include_str!("../../../samples/cutters/v60-flat-1.toml")),
    ("v90-flat-1-5", include_str!("../../../samples/cutters/v90-flat-1-5.toml")),
];

/// Reads the job, makes all that follows from it, and looks whether it can be true.
pub(crate) fn check(data: &[u8]) {
    let mut parts = data.splitn(3, |byte| *byte == 0).map(|part| String::from_utf8_lossy(part).into_owned());
    let text = parts.next().unwrap_or_default();
    let (machine, cutter) = (parts.next(), parts.next());
    let mut load = |name: &str| {
        let given = if name.contains("machine") { &machine } else { &cutter };
        let sample = SAMPLES.iter().find(|(sample, _)| name.contains(sample)).map(|(_, text)| *text);
        let text = given.as_deref().or(sample).ok_or_else(|| "no such file".to_owned())?;
        Ok(Source::new(name, text))
    };
    let (job, mut findings) = job::read(&Source::new("any.toml", text), &mut load);
    let Some(job) = job else {
        assert!(stopped(&findings), "nothing says why there is no job");
        are_told(&findings, LengthUnit::Mm);
        return;
    };
    let (screw, more) = design::screw(&job);
    findings.extend(more);
    if let Some(screw) = &screw {
        let settled = feeds::settle(job, screw);
        findings.extend(settled.findings);
        follow(&settled.job, screw, &mut findings);
        findings.extend(design::nut(&settled.job, screw).1);
        are_told(&findings, settled.job.unit);
    } else {
        assert!(stopped(&findings), "nothing says why there is no screw");
        are_told(&findings, job.unit);
    }
}

/// Sizes, path and program; the program must be plain text that its own machine takes.
fn follow(job: &job::Job, screw: &design::Screw, findings: &mut Vec<Finding>) {
    let (setup, _) = (design::setup(job, screw), design::drawing(job, screw));
    let (path, more) = toolpath::plan(job, screw);
    findings.extend(more);
    let (trips, _) = feeds::trips(job, screw);
    let sizes = report::size::Sizes::of(job, screw, &setup, &trips);
    assert!(!report::size::text(job, &setup, &sizes).contains("NaN"));
    if stopped(findings) {
        return;
    }
    let path = path.expect("where nothing stops there is a path");
    let text = post::program(job, screw, &path);
    assert_eq!(text, post::program(job, screw, &path), "the same job gives the same bytes");
    assert!(text.is_ascii());
    assert!(text.lines().all(|line| line.len() <= LONGEST_LINE));
    let run = rs274::run(&Source::new("any.nc", text.as_str()), &proof::control(&setup));
    let alarm = run.findings.iter().find(|finding| finding.severity > Severity::Note);
    assert!(alarm.is_none(), "its own machine refuses it: {alarm:?}\n{text}");
    assert!(run.ended && run.lost_at_line.is_none());
}

fn stopped(findings: &[Finding]) -> bool {
    findings.iter().any(|finding| finding.severity == Severity::Stop)
}

fn are_told(findings: &[Finding], unit: LengthUnit) {
    for finding in findings {
        assert!(!finding.message.is_empty(), "{finding:?}");
        for mark in finding.mark.iter().chain(finding.also.iter().map(|(mark, _)| mark)) {
            assert!(mark.source.text().get(mark.span.clone()).is_some(), "{finding:?}");
        }
    }
    report::findings::render(&findings[..findings.len().min(MOST_SHOWN)], unit, true);
}
