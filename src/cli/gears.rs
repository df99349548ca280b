//! `gears`: change gears for a hand jig, and its set-up sheet.

use super::args::Gears;
use super::files::{self, Written};
use super::shop::{self, Shop};
use super::tell::Teller;
use super::{Outcome, args};
use crate::design;
use crate::feeds;
use crate::finding::{Finding, Severity, gears as code};
use crate::gears::read_back::read_back;
use crate::gears::{self, Answer, Found, Wanted};
use crate::job::Jig;
use crate::report::json::Document;
use crate::report::{gears as words, jig_sheet};

/// Trains of each kind that are listed.
const LISTED: usize = 4;

/// Reads the job and its jig, looks through the box, tells; writes the sheet if that is asked for.
pub(crate) fn run(args: &Gears, teller: &Teller) -> Outcome {
    let mut shop = match shop::open_by_hand(&args.job, "gears", teller) {
        Ok(shop) => shop,
        Err(outcome) => return outcome,
    };
    let document = || Document::new("gears").with("job", files::shown(&args.job, files::STANDARD_INPUT));
    let Some(jig) = shop.job.jig.clone() else {
        shop.findings.push(gears::jig_missing(&shop.job));
        teller.findings(&shop.findings, shop.job.unit);
        teller.document(&document().findings(&shop.findings));
        return Outcome::BadInput;
    };
    let wanted = Wanted::of(&shop.job, &shop.screw);
    let fit_known = gears::flank_clearance_mm(&shop.job, &shop.screw).is_some();
    let most = if args.all { usize::MAX } else { LISTED };
    let answer = gears::answer(&jig, &wanted, most);
    shop.findings.extend(gears::faults(&answer, &wanted, shop.job.unit, &shop.job.marks));
    let mut document = document().with("gears", words::json(&jig, &wanted, &answer));
    let sheet = match chosen(args, &wanted, &answer) {
        Err(words) => return teller.usage(&words, document),
        Ok(None) => None,
        Ok(Some(found)) => Some(sheet(&shop, &jig, &wanted, found)),
    };
    let mut outcome = stopped(&shop.findings, Outcome::BadInput);
    if let Some(Err(findings)) = &sheet {
        shop.findings.extend(findings.iter().cloned());
        outcome = Outcome::Wrong;
    }
    teller.findings(&shop.findings, shop.job.unit);
    if let (Some(path), Some(Ok(text))) = (&args.sheet, &sheet) {
        if files::is_dash(path) {
            document = document.with("sheet", text);
            if !teller.json() {
                teller.result(text);
            }
        } else {
            match files::check_target(path, &shop.inputs)
                .and_then(|()| files::write(path, text, args.replace))
            {
                Ok(Written::New) => teller.remark(&format!("wrote {}", path.display())),
                Ok(Written::Same) => teller.remark(&format!("{} was up to date", path.display())),
                Err(error) => return teller.file_error(&error, document),
            }
            document = document.with("sheet", path.display().to_string());
        }
    } else if !teller.json() {
        teller.figures(&words::text(&shop.job, &jig, &wanted, &answer, fit_known));
    }
    teller.document(&document.findings(&shop.findings));
    outcome
}

fn stopped(findings: &[Finding], outcome: Outcome) -> Outcome {
    if findings.iter().any(|finding| finding.severity == Severity::Stop) { outcome } else { Outcome::Done }
}

/// The train that the sheet is for, if a sheet is asked for.
fn chosen<'a>(args: &args::Gears, wanted: &Wanted, answer: &'a Answer) -> Result<Option<&'a Found>, String> {
    if args.sheet.is_none() {
        return Ok(None);
    }
    let count = words::numbered(answer).count();
    match args.train {
        // A best train that is too far off has been told of already.
        None => Ok(answer.best(wanted).filter(|best| wanted.bears(best))),
        Some(number) => match words::numbered(answer).find(|(index, _)| *index == number) {
            Some((_, found)) => Ok(Some(found)),
            None if count == 0 => Ok(None),
            None => Err(format!("there is no train {number}; {count} are listed")),
        },
    }
}

/// The sheet with its proof, or what the proof found wrong.
fn sheet(shop: &Shop, jig: &Jig, wanted: &Wanted, found: &Found) -> Result<String, Vec<Finding>> {
    let job = &shop.job;
    let (depths, _) = feeds::depths(job, &shop.screw);
    let root = job.unit.show(2.0 * shop.screw.root_radius_mm);
    let text = jig_sheet::text(job, jig, wanted, found, &depths, &root);
    let drawing = design::drawing(job, &shop.screw);
    match read_back(&text, jig, &drawing, wanted.clearance_mm) {
        Ok(read) => Ok(text + &jig_sheet::proof(&read, job, wanted)),
        Err(wrong) => Err(wrong.into_iter().map(|words| sheet_wrong(words, shop)).collect()),
    }
}

fn sheet_wrong(words: String, shop: &Shop) -> Finding {
    Finding::new(&code::SHEET_WRONG, words)
        .at_some(shop.job.marks.get("jig.gears"))
        .help("choose another train with --train; the list shows which lead each one cuts")
}
