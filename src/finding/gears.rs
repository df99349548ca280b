//! Codes of findings in the gears of a hand jig. A code once given is never used for something else.

use super::codes;

codes! {
    JIG_MISSING = "jig-missing", Stop, "Gears are asked for, and the job names no jig to put them on.";
    NO_TRAIN = "no-train", Stop, "No train of gears from the box can be set up on the jig for this lead and hand.";
    LEAD_FAR = "lead-far", Stop, "The nearest lead that the gears cut is off by more over the thread than the fit bears.";
    LEAD_NEAR = "lead-near", Care, "No train cuts the lead exactly; the nearest is off by less than the fit bears.";
    SHEET_WRONG = "sheet-wrong", Stop, "The set-up sheet, read back, does not say what the drawing wants.";
}
