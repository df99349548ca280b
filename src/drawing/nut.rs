//! The finished nut as plain data: the sizes a proof measures against. In the frame of [`crate::setup::NutSetup`]: the
//! axis upright at X0 Y0, Z0 on the top face, angles from X+ towards Y+.

use super::{Hand, SectionPoint};
use crate::units::LengthUnit;

/// The nut as it should come out of one program, on the hole that was there before it.
#[derive(Clone, Debug, PartialEq)]
pub struct NutDrawing {
    /// The unit its maker thinks in; sizes are shown in it.
    pub unit: LengthUnit,
    /// Threads side by side.
    pub starts: u32,
    /// Which way they wind.
    pub hand: Hand,
    /// Advance per turn.
    pub lead_mm: f64,
    /// Along the axis, from face to face.
    pub length_mm: f64,
    /// Diameter of the bore: what stands between the grooves.
    pub bore_diameter_mm: f64,
    /// Diameter over the grooves.
    pub major_diameter_mm: f64,
    /// Angle at which the middle of the groove of start 1 meets the plane of the top face, Z0. The groove of start `j`
    /// (from 1) meets it at `start_angle_deg + 360 (j - 1) / starts`; at height Z the middle of a groove stands at
    /// `that angle + h 360 Z / lead_mm`, with h = +1 for a right-hand thread and -1 for a left-hand one.
    pub start_angle_deg: f64,
    /// The groove in the axial section, from bore to major radius: half its width, along the axis, at each radius.
    pub section: Vec<SectionPoint>,
    /// The cone at the top face, if there is one.
    pub chamfer_top: Option<Cone>,
    /// The cone at the bottom face, if there is one.
    pub chamfer_bottom: Option<Cone>,
    /// What stands after the program that is judged.
    pub done: NutStage,
    /// Differences that pass.
    pub passes: NutTolerances,
}

/// The mouth of a hole: a cone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cone {
    /// Diameter at the face.
    pub face_diameter_mm: f64,
    /// From the face to where the cone meets the bore.
    pub depth_mm: f64,
}

/// What a program leaves behind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NutStage {
    /// The bore, no thread yet.
    Bored,
    /// Bore, thread and chamfers.
    Threaded,
}

/// Differences that pass: the same as in a screw, for the same reasons; see [`super::Tolerances`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NutTolerances {
    /// Of the lead, over the length of the nut, and of any groove's place along the axis.
    pub lead_mm: f64,
    /// Of a start's place round the axis.
    pub index_deg: f64,
    /// Of bore and major radius.
    pub radius_mm: f64,
    /// Of the groove's shape, square to its flank.
    pub form_mm: f64,
    /// Of a chamfer's diameter and depth.
    pub chamfer_mm: f64,
}

impl Default for NutTolerances {
    fn default() -> Self {
        NutTolerances { lead_mm: 0.05, index_deg: 0.25, radius_mm: 0.05, form_mm: 0.08, chamfer_mm: 0.25 }
    }
}
