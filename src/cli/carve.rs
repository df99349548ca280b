//! `carve`: the carved screw as a solid for other programs.

use std::path::PathBuf;

use super::args::Carve;
use super::files::{FileError, Written};
use super::shop::{self, Shop};
use super::show::{default_name, program_of};
use super::tell::Teller;
use super::{Outcome, files, prove};
use crate::proof;
use crate::report::json::Document;
use crate::report::solid::Solid;
use crate::stock::Grid;

/// Proves the program, carves it, writes the solid.
pub(crate) fn run(carve: &Carve, teller: &Teller) -> Outcome {
    let mut shop = match shop::open(&carve.job, "carve", teller) {
        Ok(shop) => shop,
        Err(outcome) => return outcome,
    };
    let out = carve.out.clone().unwrap_or_else(|| default_name(&carve.job, carve.program.as_deref(), "stl"));
    let document = Document::new("carve")
        .with("job", carve.job.display().to_string())
        .with("solid", out.display().to_string());
    let ending = out.extension().map(|ending| ending.to_string_lossy().to_lowercase());
    if !matches!(ending.as_deref(), Some("stl" | "3mf")) {
        let words = format!("{} ends neither in .stl nor in .3mf", out.display());
        return teller.usage(&words, document);
    }
    let inputs: Vec<PathBuf> = shop.inputs.iter().cloned().chain(carve.program.clone()).collect();
    if let Err(error) = files::check_target(&out, &inputs) {
        return teller.file_error(&error, document);
    }
    let program = match program_of(&mut shop, &carve.job, carve.program.as_deref(), teller, &document) {
        Ok(program) => program,
        Err(outcome) => return outcome,
    };
    let proof = prove::proof_of(&shop, &program, None, teller);
    let document = document.proof(&proof, &shop.findings);
    prove::tell(&shop, &program, &proof, false, teller);
    let grid = grid(&shop, carve.fine);
    let solid = Solid::of(grid, &proof::surface(&program, &shop.setup, grid));
    let packed = if ending.as_deref() == Some("3mf") { solid.three_mf() } else { Ok(solid.stl()) };
    let path = || out.display().to_string();
    let written = packed
        .map_err(|why| FileError::Write { path: path(), why })
        .and_then(|bytes| files::write(&out, &bytes, carve.replace).map(|written| (written, bytes.len())));
    match written {
        Ok((Written::New, bytes)) => {
            teller.remark(&format!("wrote {} ({} triangles, {bytes} bytes)", path(), solid.triangles.len()));
        }
        Ok((Written::Same, _)) => teller.remark(&format!("{} was up to date", path())),
        Err(error) => return teller.file_error(&error, document),
    }
    teller.document(&document.with("written", true));
    if proof.proved() { Outcome::Done } else { Outcome::Wrong }
}

/// From nose to head, or to the chuck's face where that stands nearer.
fn grid(shop: &Shop, fine_mm: f64) -> Grid {
    let long = shop.drawing.head_s_mm.min(shop.setup.blank.chuck_face_s_mm);
    let steps = (long / fine_mm).ceil().max(1.0);
    let round = std::f64::consts::PI * shop.setup.blank.size_mm / (2.0 * fine_mm);
    Grid {
        from_s_mm: 0.0,
        step_mm: long / steps,
        stations: steps as usize + 1,
        rows: round.ceil().max(24.0) as usize,
    }
}
