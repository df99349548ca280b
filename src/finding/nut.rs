//! Codes of findings about a nut: its sizes, its cutter, its block on the bed. A code once given is never used for something
//! else.

use super::codes;

codes! {
    MILL_MISSING = "mill-missing", Stop, "The machine file does not say that the machine mills flat work.";
    NUT_CUTTER_WIDE = "nut-cutter-wide", Stop, "The cutter does not pass the bore of the nut.";
    NUT_NECK_RUBS = "nut-neck-rubs", Stop, "The neck of the cutter rubs on the bore before the thread has its depth.";
    NUT_REACH_SHORT = "nut-reach-short", Stop, "The cutter does not reach through the block.";
    NUT_LEAD_STEEP = "nut-lead-steep", Stop, "The lead is too steep for this cutter: its back would cut the thread away.";
    NUT_ROWS_OFF = "nut-rows-off", Stop, "The rows of teeth do not stand in the pitch of the thread.";
    NUT_TOOTH_NARROW = "nut-tooth-narrow", Stop, "The tooth is too narrow for the groove: passes beside each other would leave a ridge.";
    NUT_TOOTH_WIDE = "nut-tooth-wide", Care, "The groove comes out wider than the screw needs.";
    NUT_CREST_GONE = "nut-crest-gone", Stop, "The grooves of the nut would meet: no thread is left at the bore.";
    NUT_ANGLE_FAR = "nut-angle-far", Care, "The flanks of screw and nut stand at different angles and bear on an edge.";
    NUT_BED_NEAR = "nut-bed-near", Stop, "The cutter would run into the bed below the block.";
    NUT_PACKING_NEAR = "nut-packing-near", Stop, "The hole in the packing is too narrow for the cutter.";
    NUT_CLAMP_NEAR = "nut-clamp-near", Stop, "The collet would run into a clamp.";
    NUT_BLOCK_SMALL = "nut-block-small", Stop, "The block is too small to hold the thread.";
    NUT_WALL_THIN = "nut-wall-thin", Care, "Little wood is left beside the thread.";
    BORER_WIDE = "borer-wide", Stop, "The cutter for the bore is too wide for it.";
    BORER_SHORT = "borer-short", Stop, "The cutter for the bore does not reach through the block.";
    NUT_CHAMFER_WIDE = "nut-chamfer-wide", Stop, "The cutter cannot make a chamfer so wide.";
    NUT_CHAMFER_LEFT = "nut-chamfer-left", Note, "A chamfer is left for the hand.";
}
