//! The figures of a proof, and how sure each of them is. Names only grow: they are the ones of the `--json` document.

use serde::Serialize;

use crate::drawing::Hand;

/// Figures measured from the carved wood and from the motions; `None` means not measured.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Measured {
    /// Threads side by side.
    pub starts: Option<u32>,
    /// Which way they wind.
    pub hand: Option<Hand>,
    /// Advance per turn.
    pub lead_mm: Option<f64>,
    /// Largest distance of a stretch of groove, a quarter turn long, from the drawn helix of its start.
    pub lead_error_max_mm: Option<f64>,
    /// Largest difference between the places of two starts round the screw.
    pub index_error_max_deg: Option<f64>,
    /// Least diameter in the roots.
    pub root_diameter_mm: Option<f64>,
    /// Diameter over the crests.
    pub crest_diameter_mm: Option<f64>,
    /// Narrowest flat on the crest, along the axis.
    pub crest_flat_mm: Option<f64>,
    /// Length of the full thread.
    pub thread_length_mm: Option<f64>,
    /// From the end of the full thread to the last cut towards the head.
    pub run_out_length_mm: Option<f64>,
    /// Angle of the flank towards the nose against the radius, mean over the full thread.
    pub flank_nose_deg: Option<f64>,
    /// Angle of the flank towards the head.
    pub flank_head_deg: Option<f64>,
    /// Largest less least radius in the roots: how far the thread runs out of true about the axis.
    pub root_variation_mm: Option<f64>,
    /// Largest deviation from the drawn section, square to it.
    pub form_error_max_mm: Option<f64>,
    /// Least gap between cutter and wood in a rapid move that does more than lift the cutter.
    pub rapid_clearance_min_mm: Option<f64>,
    /// Least gap between cutter, shank or collet and the chuck.
    pub chuck_clearance_min_mm: Option<f64>,
    /// Least gap between cutter, shank or collet and the tail centre.
    pub center_clearance_min_mm: Option<f64>,
    /// Wood removed.
    pub removed_mm3: Option<f64>,
    /// Running time.
    pub minutes: Option<f64>,
    /// Fastest turning of A in a feed move.
    pub a_rate_max_rpm: Option<f64>,
    /// Fastest X in a feed move.
    pub x_rate_max_mm_per_min: Option<f64>,
    /// Least and greatest speed of cutter against wood, at the crest, while cutting along the thread.
    pub feed_min_mm_per_min: Option<f64>,
    /// The greatest.
    pub feed_max_mm_per_min: Option<f64>,
    /// Fastest turning of A if a control read the same F words by the worst of the other conventions that it may have.
    pub a_rate_if_misread_rpm: Option<f64>,
    /// Thinnest mean chip of a motion that takes off wood worth a word.
    pub chip_min_mm: Option<f64>,
    /// Thickest.
    pub chip_max_mm: Option<f64>,
    /// Greatest force that may push blank or cutter aside: the middle of a band from half to double, from memory. So are
    /// the figures that follow from it.
    pub side_force_max_n: Option<f64>,
    /// Greatest power at the cutter.
    pub power_max_w: Option<f64>,
    /// Greatest torque on A.
    pub torque_max_nm: Option<f64>,
    /// Farthest that the blank bends.
    pub bend_max_mm: Option<f64>,
}

/// How far each figure may be off, in its own unit: from the grid, from reading the grooves, and from the looks that
/// were spread over the blank. `None` where the figure is exact or was not measured.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Uncertainty {
    /// Of the lead.
    pub lead_mm: Option<f64>,
    /// Of the place of a stretch of groove.
    pub lead_error_max_mm: Option<f64>,
    /// Of a start's place round the screw.
    pub index_error_max_deg: Option<f64>,
    /// Of the root diameter.
    pub root_diameter_mm: Option<f64>,
    /// Of the crest diameter.
    pub crest_diameter_mm: Option<f64>,
    /// Of the flat on the crest: two edges.
    pub crest_flat_mm: Option<f64>,
    /// Of the end of the full thread, which lies between two rows that were read.
    pub thread_length_mm: Option<f64>,
    /// Of the end of the run-out, likewise.
    pub run_out_length_mm: Option<f64>,
    /// Of the flank towards the nose.
    pub flank_nose_deg: Option<f64>,
    /// Of the flank towards the head.
    pub flank_head_deg: Option<f64>,
    /// Of the difference of two roots.
    pub root_variation_mm: Option<f64>,
    /// Of the groove's shape.
    pub form_error_max_mm: Option<f64>,
    /// How much nearer wood may be than where it was looked at.
    pub rapid_clearance_min_mm: Option<f64>,
    /// Of the wood removed.
    pub removed_mm3: Option<f64>,
    /// Of the running time.
    pub minutes: Option<f64>,
}
