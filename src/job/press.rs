//! Checks `[press]`: how the screw is worked and what it is to bear. All of it may be left out; what is usual then is the
//! business of the press room, which says so.

use schemars::JsonSchema;
use serde::Deserialize;

use super::desk::Desk;
use super::file::PressFile;
use super::limits::say;
use super::woods;
use crate::finding::job as codes;
use crate::units::LengthUnit;
use crate::wood::Species;

/// How the screw is worked, as far as the job tells. Lengths in mm, forces in N.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PressAsked {
    /// From the axis of the screw to the hand.
    pub handle_length_mm: Option<f64>,
    /// What the hand pulls with.
    pub hand_force_n: Option<f64>,
    /// Outside diameter of the ring or end that rubs under the load.
    pub collar_diameter_mm: Option<f64>,
    /// Inside diameter of that ring; zero for the end of the screw.
    pub collar_hole_mm: Option<f64>,
    /// What is on the threads, as a rule.
    pub state: Option<State>,
    /// The user's own friction of the threads.
    pub friction: Option<f64>,
    /// The user's own friction of the collar.
    pub collar_friction: Option<f64>,
    /// Whether the load presses the screw or pulls it.
    pub load: Option<Load>,
    /// Whether the pressing end is held on the axis.
    pub guided: Option<bool>,
    /// Length of screw that stands free between nut and load.
    pub free_length_mm: Option<f64>,
    /// How far the press opens.
    pub opening_mm: Option<f64>,
    /// Thinnest round place that the turning effort passes, tenons included.
    pub tenon_diameter_mm: Option<f64>,
    /// Diameter of the bar of the handle.
    pub handle_diameter_mm: Option<f64>,
    /// Name of its wood.
    pub handle_wood: Option<String>,
    /// What is known of that.
    pub handle_species: Option<Species>,
}

/// What is on the threads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum State {
    /// Bare wood, air-dry.
    Dry,
    /// Soap.
    Soaped,
    /// Paraffin or beeswax.
    Waxed,
    /// Bare wood, damp.
    Damp,
}

/// Which way the load acts on the screw.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Load {
    /// The screw pushes: it may buckle.
    Pushes,
    /// The screw pulls.
    Pulls,
}

/// Checks the table. `own` are the woods of the job's own file. `None` when something is wrong.
pub(super) fn check(
    file: &PressFile,
    own: &[Species],
    unit: LengthUnit,
    desk: &mut Desk,
) -> Option<PressAsked> {
    let handle_length = optional("press.handle_length", file.handle_length, unit, desk);
    let hand_force = optional("press.hand_force", file.hand_force, unit, desk);
    let collar = optional("press.collar_diameter", file.collar_diameter, unit, desk);
    let hole = optional("press.collar_hole", file.collar_hole, unit, desk);
    let friction = optional("press.friction", file.friction, unit, desk);
    let collar_friction = optional("press.collar_friction", file.collar_friction, unit, desk);
    let free_length = optional("press.free_length", file.free_length, unit, desk);
    let opening = optional("press.opening", file.opening, unit, desk);
    let tenon = optional("press.tenon_diameter", file.tenon_diameter, unit, desk);
    let handle = optional("press.handle_diameter", file.handle_diameter, unit, desk);
    let handle_species = match &file.handle_wood {
        Some(name) => woods::known(name, "press.handle_wood", own, desk),
        None => None,
    };
    let asked = PressAsked {
        handle_length_mm: handle_length?,
        hand_force_n: hand_force?,
        collar_diameter_mm: collar?,
        collar_hole_mm: hole?,
        state: file.state,
        friction: friction?,
        collar_friction: collar_friction?,
        load: file.load,
        guided: file.guided,
        free_length_mm: free_length?,
        opening_mm: opening?,
        tenon_diameter_mm: tenon?,
        handle_diameter_mm: handle?,
        handle_wood: file.handle_wood.clone(),
        handle_species,
    };
    sizes_fit(&asked, unit, desk);
    Some(asked)
}

/// A value that may be left out: `Some(None)` when it is, `None` when it is wrong.
#[expect(clippy::option_option, reason = "left out and wrong are two things")]
pub(super) fn optional(
    key: &str,
    written: Option<impl Into<super::amount::Amount>>,
    unit: LengthUnit,
    desk: &mut Desk,
) -> Option<Option<f64>> {
    match written {
        Some(written) => desk.number(key, Some(written), unit).map(Some),
        None => Some(None),
    }
}

/// The sizes of one press against each other.
fn sizes_fit(asked: &PressAsked, unit: LengthUnit, desk: &mut Desk) {
    if let (Some(outside), Some(hole)) = (asked.collar_diameter_mm, asked.collar_hole_mm)
        && hole >= outside
    {
        desk.complain(
            &codes::DISAGREE,
            "press.collar_hole",
            format!(
                "the hole of the collar, {}, is not smaller than the collar, {}",
                say(unit, hole),
                say(unit, outside)
            ),
            Some(("press.collar_diameter", "its outside".to_owned())),
            "both are diameters; leave collar_hole out when the end of the screw itself presses",
        );
    }
}
