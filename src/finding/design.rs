//! Codes of findings in sizes and in the plan of the cut: what was asked cannot be made, or not like this. A code
//! once given is never used for something else.

use super::codes;

codes! {
    CREST_GONE = "crest-gone", Stop, "The grooves would meet before the thread is that deep: no crest is left.";
    CORE_THIN = "core-thin", Stop, "The thread leaves a smaller core than the job allows.";
    NECK_THIN = "neck-thin", Stop, "A groove or tenon leaves less of the screw than the job allows.";
    CUTTER_SHORT = "cutter-short", Stop, "The cutter's edges are shorter than the thread is deep.";
    CUTTER_NARROW = "cutter-narrow", Stop, "The groove is wider at the crest than the cutter is.";
    STICK_OUT_SHORT = "stick-out-short", Stop, "The collet would rub on the blank before the cutter is at depth.";
    DEPTHS_ODD = "depths-odd", Stop, "The last of the depths listed for the passes is not the depth of the thread.";
    PASSES_DROPPED = "passes-dropped", Note, "Fewer passes than asked: more would cut thinner than the least step.";
    PLAN_OPEN = "plan-open", Stop, "The wood has not decided yet how the thread is cut.";
    PLAN_PINCHED = "plan-pinched", Care, "No feed is right for a pass: slower burns, and faster is past another limit.";
    PLAN_WITHOUT_FORCES = "plan-without-forces", Care, "The plan leaves out forces or bending: too little is known of the wood.";
    LAST_PASS_HEAVY = "last-pass-heavy", Note, "The plan ends without a light pass, whose chips would burn.";
    CENTRE_WIDE = "centre-wide", Stop, "The tail centre stands in the way of the cutter beyond the tail end.";
    CHUCK_NEAR = "chuck-near", Stop, "The chuck stands in the way of the cutter at the end of the run-out.";
    REACH_SHORT = "reach-short", Stop, "The cut needs a place that the machine does not reach.";
    CREST_SHARP = "crest-sharp", Care, "The crest is so narrow that it chips.";
    THREAD_SHALLOW = "thread-shallow", Care, "The thread is shallower than threads in use are, for its pitch.";
    GRIP_LITTLE = "grip-little", Care, "The chuck grips so little of the blank that the cutter may pull it out.";
    TAPER_SHORT = "taper-short", Care, "The nose is tapered over so short a length that the nut catches.";
    PITCH_UNUSUAL = "pitch-unusual", Note, "The pitch is finer or coarser than screws of this size have.";
    CUTTER_WIDE = "cutter-wide", Stop, "The cutter is wider than the groove it should cut.";
    RELIEF_SHALLOW = "relief-shallow", Stop, "The relief groove is shallower than the thread, which would not end in it.";
    CHAMFER_DEEP = "chamfer-deep", Stop, "The cutter would come too near the axis for a chamfer so long.";
    TURNS_SHORT = "turns-short", Stop, "One pass needs more turns than the rotary has.";
}
