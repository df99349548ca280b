//! The wood a job names: looked up by its name. A wood that no table has is no fault; what will be missing is told.

use super::desk::Desk;
use crate::finding::{Finding, job as codes};
use crate::wood::{self, Species};

/// The wood that the job names, if a table has it; reports one that is not known.
pub(super) fn of_job(name: Option<&str>, own: &[Species], desk: &mut Desk) -> Option<Species> {
    let name = name?;
    match wood::find(name, own) {
        Ok(species) => Some(species.clone()),
        Err(near) => {
            let offer = near.words().map_or(String::new(), |words| format!("did you mean {words}? "));
            let finding = Finding::new(
                &codes::WOOD_UNKNOWN,
                format!(
                    "no table has a wood called \"{name}\": its movement, strength and dust are not known"
                ),
            );
            let help = format!("{offer}`threadwright woods` lists those that are known");
            desk.find(finding.at_some(desk.marks.get("wood")).help(help));
            None
        }
    }
}
