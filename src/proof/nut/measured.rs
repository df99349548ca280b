//! The figures of a nut's proof, and how sure each of them is. Names only grow: they are the ones of the `--json` document.

use serde::Serialize;

use crate::drawing::Hand;

/// Figures measured from the carved wood and from the motions; `None` means not measured. Lengths in mm.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct NutMeasured {
    /// Threads side by side.
    pub starts: Option<u32>,
    /// Which way they wind.
    pub hand: Option<Hand>,
    /// Advance per turn.
    pub lead_mm: Option<f64>,
    /// Largest distance of a groove from the helix of its start, along the axis.
    pub lead_error_max_mm: Option<f64>,
    /// Largest difference of a start from its place among the starts.
    pub index_error_max_deg: Option<f64>,
    /// Angle at which the groove of start 1 meets the top face, from 0 to 360.
    pub start_angle_deg: Option<f64>,
    /// Least diameter of the hole between the grooves.
    pub bore_least_mm: Option<f64>,
    /// Greatest.
    pub bore_greatest_mm: Option<f64>,
    /// Least diameter over the grooves.
    pub thread_least_mm: Option<f64>,
    /// Greatest.
    pub thread_greatest_mm: Option<f64>,
    /// Largest deviation from the drawn section, square to it.
    pub form_error_max_mm: Option<f64>,
    /// Angle of the lower flank against the radius, mean over the thread.
    pub flank_low_deg: Option<f64>,
    /// Angle of the upper flank.
    pub flank_high_deg: Option<f64>,
    /// Length of the shortest groove at full depth, along the axis.
    pub thread_length_mm: Option<f64>,
    /// Diameter of the cone at the top face, and its depth.
    pub chamfer_top_mm: Option<[f64; 2]>,
    /// The same at the bottom face.
    pub chamfer_bottom_mm: Option<[f64; 2]>,
    /// Least gap between cutter and wood in a rapid move.
    pub rapid_clearance_min_mm: Option<f64>,
    /// Least height of the cutter's end above the bed.
    pub bed_clearance_min_mm: Option<f64>,
    /// Wood removed.
    pub removed_mm3: Option<f64>,
    /// Running time.
    pub minutes: Option<f64>,
    /// Least speed of the cutter's edge along the wall.
    pub feed_min_mm_per_min: Option<f64>,
    /// Greatest.
    pub feed_max_mm_per_min: Option<f64>,
}

/// How far each figure may be off, in its own unit. `None` where the figure is exact or was not measured.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct NutUncertainty {
    /// Of the lead.
    pub lead_mm: Option<f64>,
    /// Of the place of a groove.
    pub lead_error_max_mm: Option<f64>,
    /// Of a start's place round the axis, and of the start angle.
    pub index_error_max_deg: Option<f64>,
    /// Of the hole's diameter.
    pub bore_mm: Option<f64>,
    /// Of the diameter over the grooves.
    pub thread_mm: Option<f64>,
    /// Of the groove's shape.
    pub form_error_max_mm: Option<f64>,
    /// Of a flank.
    pub flank_deg: Option<f64>,
    /// Of the thread's length.
    pub thread_length_mm: Option<f64>,
    /// Of a cone's diameter and depth.
    pub chamfer_mm: Option<f64>,
    /// Of the wood removed.
    pub removed_mm3: Option<f64>,
    /// Of the running time.
    pub minutes: Option<f64>,
}
