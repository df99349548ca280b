//! `sheet`: the page at the machine.

use std::path::PathBuf;

use super::args::{self, Sheet as Arguments};
use super::series::{self, Judged, Program};
use super::shop::{self, Shop};
use super::tell::Teller;
use super::{Outcome, cut, files};
use crate::feeds::{self, Kind};
use crate::post;
use crate::proof::Proof;
use crate::report::json::Document;
use crate::report::sheet::{self, Paper, Row, Sheet};

/// Plans and proves, and tells the set-up of what it proved.
pub(crate) fn run(arguments: &Arguments, teller: &Teller) -> Outcome {
    let mut shop = match shop::open(&arguments.job, "sheet", teller) {
        Ok(shop) => shop,
        Err(outcome) => return outcome,
    };
    let base = cut::default_name(&arguments.job);
    let out = arguments.out.clone().unwrap_or_else(|| default_name(&base, arguments.text));
    let document = Document::new("sheet").with("job", arguments.job.display().to_string());
    let to_stdout = files::is_dash(&out);
    if !to_stdout && let Err(error) = files::check_target(&out, &shop.inputs) {
        return teller.file_error(&error, document);
    }
    let name = |part: &str| series::file_of(&base, part).display().to_string();
    let Some(programs) = series::write(&mut shop, arguments.join, &name) else {
        teller.findings(&shop.findings, shop.job.unit);
        teller.remark("nothing was written");
        teller.document(&document.with("written", false).findings(&shop.findings));
        return Outcome::BadInput;
    };
    let judged: Vec<Judged<'_>> = programs.iter().map(cut::judged).collect();
    let proofs = series::prove(&judged, &post::digest(&shop.job), None, teller);
    let text = write(&shop, &programs, &proofs, arguments.text, arguments.paper);
    let proved = proofs.iter().all(Proof::proved);
    let outcome = if proved { Outcome::Done } else { Outcome::Wrong };
    if !proved {
        teller.remark("a program of this job is not proved: see `threadwright cut`; the sheet says which");
    }
    let document = document.with("proved", proved).findings(&shop.findings);
    teller.findings(&shop.findings, shop.job.unit);
    if to_stdout {
        if teller.json() {
            teller.document(&document.with("written", false).with("text", text));
        } else {
            teller.result(&text);
        }
        return outcome;
    }
    let document = document.with("sheet", out.display().to_string());
    cut::put(&[out], &[text], arguments.replace, document, outcome, teller)
}

/// The sheet of proved programs, as text or as a page.
pub(crate) fn write(
    shop: &Shop,
    programs: &[Program],
    proofs: &[Proof],
    plain: bool,
    paper: args::Paper,
) -> String {
    let (trips, _) = feeds::trips(&shop.job, &shop.screw);
    let down = trips.iter().filter(|trip| trip.kind == Kind::Depth);
    let depths: Vec<f64> = down.map(|trip| trip.depth_mm).collect();
    let rows = programs.iter().zip(proofs).map(|(program, proof)| {
        let last = program.work.moves.last().map_or(program.work.from, |step| step.to);
        Row {
            file: program.text.name().to_owned(),
            step: &program.step,
            minutes: proof.measured.minutes,
            proved: proof.proved(),
            wound_turns: (last.theta_deg - program.work.from.theta_deg).abs() / 360.0,
            depths_mm: if program.step.has_thread() { depths.clone() } else { Vec::new() },
        }
    });
    let told =
        Sheet { job: &shop.job, screw: &shop.screw, rows: rows.collect(), digest: post::digest(&shop.job) };
    if plain {
        return sheet::text(&told);
    }
    sheet::page(
        &told,
        match paper {
            args::Paper::A4 => Paper::A4,
            args::Paper::Letter => Paper::Letter,
        },
    )
}

/// `press.nc` gives `press-sheet.html` or `press-sheet.txt`.
pub(crate) fn default_name(base: &std::path::Path, plain: bool) -> PathBuf {
    series::file_of(base, "sheet").with_extension(if plain { "txt" } else { "html" })
}
