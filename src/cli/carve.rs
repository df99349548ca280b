//! `carve`: the carved screw as a solid for other programs.

use super::args::Carve;
use super::files::{FileError, Written};
use super::seen::{self, Seen, Target};
use super::tell::Teller;
use super::{Outcome, files};
use crate::proof;
use crate::report::solid::Solid;
use crate::stock::Grid;

/// Proves the programs, carves them, writes the solid.
pub(crate) fn run(carve: &Carve, teller: &Teller) -> Outcome {
    let args = &carve.seen;
    let out = carve.out.clone().unwrap_or_else(|| seen::default_name(&args.job, &args.programs, "stl"));
    let target = Target { verb: "carve", what: "solid", out: &out, fine: None };
    let ending = out.extension().map(|ending| ending.to_string_lossy().to_lowercase());
    if !matches!(ending.as_deref(), Some("stl" | "3mf")) {
        let words = format!("{} ends neither in .stl nor in .3mf", out.display());
        return teller.usage(&words, seen::document(args, &target));
    }
    let seen = match seen::open(args, &target, teller) {
        Ok(seen) => seen,
        Err(outcome) => return outcome,
    };
    let Some(grid) = grid(&seen, carve.fine) else { return Outcome::BadInput };
    let solid = Solid::of(grid, &proof::surface(&seen.run(), grid));
    let packed = if ending.as_deref() == Some("3mf") { solid.three_mf() } else { Ok(solid.stl()) };
    let path = || out.display().to_string();
    let written = packed
        .map_err(|why| FileError::Write { path: path(), why })
        .and_then(|bytes| files::write(&out, &bytes, args.replace).map(|written| (written, bytes.len())));
    let outcome = seen.outcome();
    match written {
        Ok((Written::New, bytes)) => {
            teller.remark(&format!("wrote {} ({} triangles, {bytes} bytes)", path(), solid.triangles.len()));
        }
        Ok((Written::Same, _)) => teller.remark(&format!("{} was up to date", path())),
        Err(error) => return teller.file_error(&error, seen.document),
    }
    teller.document(&seen.document.with("written", true));
    outcome
}

/// From nose to head, or to the chuck's face where that stands nearer.
fn grid(seen: &Seen, fine_mm: f64) -> Option<Grid> {
    let (last, _) = seen.last()?;
    let blank = &last.step.setup.blank;
    let long = last.step.drawing.head_s_mm.min(blank.chuck_face_s_mm);
    let steps = (long / fine_mm).ceil().max(1.0);
    let round = std::f64::consts::PI * blank.size_mm / (2.0 * fine_mm);
    Some(Grid {
        from_s_mm: 0.0,
        step_mm: long / steps,
        stations: steps as usize + 1,
        rows: round.ceil().max(24.0) as usize,
    })
}
