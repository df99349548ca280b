//! `new`: a starter job.

use super::args::{New, Units};
use super::files::Written;
use super::tell::Teller;
use super::{Outcome, files};
use crate::job::{Starter, starter};
use crate::report::json::Document;
use crate::units::LengthUnit;

/// Writes the starter job.
pub(crate) fn run(new: &New, teller: &Teller) -> Outcome {
    let unit = match new.units {
        Units::Mm => LengthUnit::Mm,
        Units::Inch => LengthUnit::Inch,
    };
    let text = starter(&Starter { unit, ..Starter::default() });
    let document = Document::new("new").with("job", files::shown(&new.file, files::STANDARD_OUTPUT));
    if files::is_dash(&new.file) {
        if teller.json() {
            teller.document(&document.with("written", false).with("text", text).findings(&[]));
        } else {
            teller.result(&text);
        }
        return Outcome::Done;
    }
    match files::write(&new.file, &text, new.replace) {
        Ok(Written::New) => {
            teller.remark(&format!("wrote {}: fill it in, then try `threadwright size`", new.file.display()));
        }
        Ok(Written::Same) => teller.remark(&format!("{} was up to date", new.file.display())),
        Err(error) => return teller.file_error(&error, document),
    }
    teller.document(&document.with("written", true).findings(&[]));
    Outcome::Done
}
