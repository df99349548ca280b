//! `order`: several screws at once, a folder for each, and one blank list. What goes wrong with one does not keep the
//! others from being made.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::Duration;

use indicatif::{MultiProgress, ProgressBar, ProgressStyle};
use rayon::prelude::*;

use super::args::Order as Arguments;
use super::files::FileError;
use super::series::{self, Judged, Program};
use super::shop::{self, Shop};
use super::tell::Teller;
use super::{Outcome, cut, files, prove, sheet};
use crate::design::Stick;
use crate::finding::{Finding, Severity};
use crate::job::{self, Ordered};
use crate::post;
use crate::proof::Proof;
use crate::report;
use crate::report::json::Document;
use crate::units::LengthUnit;

/// One screw that was planned and proved.
struct Made {
    shop: Shop,
    programs: Vec<Program>,
    proofs: Vec<Proof>,
}

/// What became of one screw of the order.
struct Piece {
    ordered: Ordered,
    folder: PathBuf,
    made: Result<Made, (Vec<Finding>, String)>,
    /// Why nothing was written, if something went wrong after the proof.
    trouble: Option<String>,
}

impl Piece {
    fn good(&self) -> Option<&Made> {
        let made = self.made.as_ref().ok()?;
        (self.trouble.is_none() && made.proofs.iter().all(Proof::proved)).then_some(made)
    }
}

/// Makes every screw, writes those that prove, and tells of all.
pub(crate) fn run(arguments: &Arguments, teller: &Teller) -> Outcome {
    let document = Document::new("order").with("order", arguments.file.display().to_string());
    let source = match files::read(&arguments.file) {
        Ok(source) => source,
        Err(error) => return teller.file_error(&error, document),
    };
    let (order, findings) = job::read_order(&source);
    let Some(order) = order else {
        teller.findings(&findings, LengthUnit::Mm);
        teller.document(&document.findings(&findings));
        return Outcome::BadInput;
    };
    let base = arguments.out.clone().unwrap_or_else(|| PathBuf::from(files::safe_stem(&arguments.file)));
    let folders = folders(&order.screws);
    let beside = arguments.file.parent().unwrap_or_else(|| Path::new("")).to_path_buf();
    let signs = MultiProgress::new();
    if teller.silent() {
        signs.set_draw_target(indicatif::ProgressDrawTarget::hidden());
    }
    let mut pieces: Vec<Piece> = order
        .screws
        .par_iter()
        .zip(&folders)
        .map(|(ordered, folder)| {
            let sign = signs.add(sign(folder));
            let made = make(&beside.join(&ordered.job), folder, arguments.fineness.fine);
            sign.finish_and_clear();
            Piece { ordered: ordered.clone(), folder: base.join(folder), made, trouble: None }
        })
        .collect();
    for piece in &mut pieces {
        piece.trouble = write(piece, arguments);
    }
    tell(&order.title, &pieces, &base, arguments, document, teller)
}

fn sign(name: &str) -> ProgressBar {
    let bar = ProgressBar::new_spinner().with_message(name.to_owned());
    if let Ok(style) = ProgressStyle::with_template("{spinner} {msg} {elapsed}") {
        bar.set_style(style);
    }
    bar.enable_steady_tick(Duration::from_millis(100));
    bar
}

/// A folder for each screw: the name of its job, safe on every system, with a number where two are alike.
fn folders(screws: &[Ordered]) -> Vec<String> {
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    let mut name = |one: &Ordered| {
        let stem = files::safe_stem(Path::new(&one.job)).to_lowercase();
        let count = seen.entry(stem.clone()).or_default();
        *count += 1;
        if *count == 1 { stem } else { format!("{stem}-{count}") }
    };
    screws.iter().map(&mut name).collect()
}

/// Plans and proves one screw.
fn make(path: &Path, name: &str, fine: Option<f64>) -> Result<Made, (Vec<Finding>, String)> {
    let mut shop = shop::read(path).map_err(|failure| (failure.findings, failure.words))?;
    let base = PathBuf::from(format!("{name}.nc"));
    let programs =
        series::write(&mut shop, false, &|part| series::file_of(&base, part).display().to_string());
    let Some(programs) = programs else { return Err((shop.findings, "no path can be planned".to_owned())) };
    let judged: Vec<Judged<'_>> = programs.iter().map(cut::judged).collect();
    let proofs = series::prove_quietly(&judged, &post::digest(&shop.job), fine);
    Ok(Made { shop, programs, proofs })
}

/// Writes programs and sheet of a screw that proved; the reason if it cannot.
fn write(piece: &Piece, arguments: &Arguments) -> Option<String> {
    let made = piece.good()?;
    if let Err(why) = std::fs::create_dir_all(&piece.folder) {
        return Some(format!("{} cannot be made: {why}", piece.folder.display()));
    }
    let mut out: Vec<(PathBuf, String)> = made
        .programs
        .iter()
        .map(|program| (piece.folder.join(program.text.name()), program.text.text().to_owned()))
        .collect();
    let page = sheet::write(&made.shop, &made.programs, &made.proofs, false, arguments.paper);
    out.push((piece.folder.join("sheet.html"), page));
    let checked = out.iter().try_for_each(|(path, text)| files::check_content(path, text, arguments.replace));
    let written = checked.and_then(|()| {
        out.iter().try_for_each(|(path, text)| files::write(path, text, arguments.replace).map(|_| ()))
    });
    written.err().map(|error| error.to_string())
}

fn tell(
    title: &str,
    pieces: &[Piece],
    base: &Path,
    arguments: &Arguments,
    document: Document,
    teller: &Teller,
) -> Outcome {
    let mut minutes = 0.0;
    let mut sticks: Vec<Stick> = Vec::new();
    let mut unit = None;
    let mut parts = Vec::new();
    let mut worst = Outcome::Done;
    for piece in pieces {
        let name = &piece.ordered.job;
        let (line, outcome) = match (&piece.made, &piece.trouble) {
            (Err((findings, words)), _) => {
                teller.findings(findings, LengthUnit::Mm);
                (format!("{name}: not made, {words}"), Outcome::BadInput)
            }
            (Ok(_), Some(trouble)) => (format!("{name}: not written, {trouble}"), Outcome::Usage),
            (Ok(made), None) => {
                unit.get_or_insert(made.shop.job.unit);
                teller.findings(&made.shop.findings, made.shop.job.unit);
                let judged: Vec<Judged<'_>> = made.programs.iter().map(cut::judged).collect();
                let found: Vec<Vec<Finding>> =
                    made.proofs.iter().map(|proof| proof.findings.clone()).collect();
                prove::tell_once(&judged, &found, teller);
                if piece.good().is_none() {
                    (format!("{name}: NOT PROVED, do not cut; nothing was written"), Outcome::Wrong)
                } else {
                    let each: f64 = made.proofs.iter().filter_map(|proof| proof.measured.minutes).sum();
                    minutes += each * f64::from(piece.ordered.pieces);
                    let stick = Stick::of(&made.shop.job, &made.shop.setup);
                    sticks.extend(std::iter::repeat_n(stick, piece.ordered.pieces as usize));
                    let count = made.programs.len();
                    let line = format!(
                        "{name}: proved, {count} program{} in {}, about {each:.0} min each, {} to make",
                        if count == 1 { "" } else { "s" },
                        piece.folder.display(),
                        piece.ordered.pieces
                    );
                    (line, Outcome::Done)
                }
            }
        };
        if outcome == Outcome::Done {
            teller.remark(&line);
        } else {
            teller.warning(&line);
        }
        parts.push(
            Document::part(name)
                .with("written", piece.good().is_some())
                .with("folder", piece.folder.display().to_string())
                .with("pieces", piece.ordered.pieces)
                .with("words", line),
        );
        if outcome as u8 != 0 && worst == Outcome::Done {
            worst = outcome;
        }
    }
    let unit = unit.unwrap_or(LengthUnit::Mm);
    let left_out: Vec<&str> = pieces
        .iter()
        .filter(|piece| piece.good().is_none())
        .map(|piece| piece.ordered.job.as_str())
        .collect();
    let list = Blanks { title, unit, sticks: &sticks, minutes, left_out: &left_out };
    if let Err(error) = list.put(base, arguments.replace, teller) {
        teller.file_error(&error, document);
        return error.outcome();
    }
    if !left_out.is_empty() {
        teller.warning(&format!("{} of {} screws were not made", left_out.len(), pieces.len()));
    }
    let findings: Vec<Finding> = pieces
        .iter()
        .flat_map(|piece| match &piece.made {
            Ok(made) => made
                .shop
                .findings
                .iter()
                .chain(made.proofs.iter().flat_map(|proof| &proof.findings))
                .cloned()
                .collect::<Vec<_>>(),
            Err((findings, _)) => findings.clone(),
        })
        .filter(|finding| finding.severity >= Severity::Care)
        .collect();
    let document = document.parts("screws", parts).with("minutes", minutes).findings(&findings);
    teller.document(&document);
    worst
}

/// The blank list of an order.
struct Blanks<'a> {
    title: &'a str,
    unit: LengthUnit,
    sticks: &'a [Stick],
    minutes: f64,
    /// Jobs that are missing from it.
    left_out: &'a [&'a str],
}

impl Blanks<'_> {
    /// Tells it and writes it beside the folders of the screws.
    fn put(&self, base: &Path, replace: bool, teller: &Teller) -> Result<(), FileError> {
        if self.sticks.is_empty() {
            return Ok(());
        }
        let gaps = if self.left_out.is_empty() {
            String::new()
        } else {
            format!("not made, and not in this list: {}\n", self.left_out.join(", "))
        };
        let list = format!(
            "{}: blanks\n\n{}\n\nabout {:.0} minutes at the machine\n{gaps}",
            self.title,
            report::stick::list(self.unit, self.sticks),
            self.minutes
        );
        teller.figures(&list);
        match files::write(&base.join("blanks.txt"), &list, replace) {
            // Whoever keeps a file of an order keeps its list too: what went wrong was told above.
            Err(FileError::Exists { path }) if !self.left_out.is_empty() => {
                teller.warning(&format!("{path} was kept: it lists other screws than were made now"));
                Ok(())
            }
            written => written.map(|_| ()),
        }
    }
}
