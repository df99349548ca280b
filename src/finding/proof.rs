//! Codes of findings of the proof: what the program would cut, touch or ask of the machine. A code once given is
//! never used for something else.

use super::codes;

codes! {
    UNITS_ODD = "units-odd", Stop, "The program's unit of length does not fit the job: everything is 25.4 times too large or small.";
    DISTANCE_ODD = "distance-odd", Stop, "The program's X, Z and A are read as steps where they are places, or the other way round (G90, G91).";
    HAND_WRONG = "hand-wrong", Stop, "The thread winds the wrong way.";
    BESIDE_AXIS = "beside-axis", Stop, "The cutter stands beside the axis of the blank while it should cut.";
    STARTS_WRONG = "starts-wrong", Stop, "The number of threads side by side is not the one asked for.";
    LEAD_OFF = "lead-off", Stop, "The advance per turn differs from the drawing.";
    INDEX_OFF = "index-off", Stop, "A start does not stand at its place round the blank.";
    DEPTH_OFF = "depth-off", Stop, "The groove is cut deeper than the drawing.";
    BLANK_UNTURNED = "blank-unturned", Stop, "The thread is cut into a blank that still stands over the crests: it was not turned first.";
    WOOD_LEFT = "wood-left", Stop, "Wood stands where the drawing has none: a pass is missing, too shallow or beside its place, or the blank was not brought to size first.";
    FORM_OFF = "form-off", Stop, "The groove has another shape than the drawing.";
    CREST_THIN = "crest-thin", Stop, "The crest is cut narrower than the drawing.";
    RAPID_IN_WOOD = "rapid-in-wood", Stop, "A rapid move runs through wood.";
    RAPID_GRAZES = "rapid-grazes", Stop, "A rapid move drags the cutter along wood that it touches.";
    RAPID_NEAR = "rapid-near", Care, "A rapid move runs so near above wood that play in the axes or a bent blank may bring them together.";
    RAPID_APART = "rapid-apart", Stop, "A rapid move drives several axes at once on a machine whose axes then run apart, so nobody knows its way.";
    BLANK_PARTED = "blank-parted", Stop, "The blank is cut thinner than the core of the thread and may come free.";
    PLUNGE_IN_WOOD = "plunge-in-wood", Stop, "The cutter is pushed straight into standing wood.";
    SPINDLE_OFF = "spindle-off", Stop, "Wood is cut with a spindle that does not turn.";
    SPINDLE_BACKWARDS = "spindle-backwards", Stop, "Wood is cut with the spindle turning the wrong way.";
    SPINDLE_SPEED = "spindle-speed", Stop, "Wood is cut at a spindle speed that the machine does not have, or the job does not ask.";
    START_IN_WOOD = "start-in-wood", Stop, "The spindle is started while the cutter stands in the wood.";
    WAIT_IN_WOOD = "wait-in-wood", Care, "The cutter stands still in the wood, at a dwell or a stop of the program.";
    RUN_UP_SHORT = "run-up-short", Stop, "The cutter meets wood before the spindle has had time to reach its speed.";
    CUTTER_CHANGED = "cutter-changed", Stop, "The program changes the cutter, but the proof knows one cutter only.";
    PATH_ANGULAR = "path-angular", Stop, "The cutter's path has too many corners to be carved: each begins a cut of its own.";
    PAST_TRAVEL = "past-travel", Stop, "A move goes where the machine cannot follow.";
    AXIS_TOO_FAST = "axis-too-fast", Stop, "A move asks an axis for more speed than it has: its F is too high, F means something else on this machine, or a line is missing before it, so that the move goes too far in its time.";
    HITS_CHUCK = "hits-chuck", Stop, "Cutter, shank or collet touches the chuck.";
    HITS_CENTER = "hits-center", Stop, "Cutter, shank or collet touches the tail centre.";
    COLLET_RUBS = "collet-rubs", Stop, "Collet or shank touches wood.";
    LENGTH_OFF = "length-off", Stop, "The full thread ends at another place than the drawing.";
    RUN_OUT_OFF = "run-out-off", Stop, "The groove ends in a wall instead of climbing out over its run-out.";
    WOOD_GONE = "wood-gone", Stop, "Wood is cut away where the drawing keeps it.";
    BORE_OFF = "bore-off", Stop, "The hole of the nut has another diameter than the drawing.";
    NUT_THREAD_SHORT = "nut-thread-short", Stop, "A groove of the nut does not go through from face to face at its full depth.";
    CHAMFER_OFF = "chamfer-off", Stop, "The mouth of the nut's hole is not the cone of the drawing.";
    HITS_BED = "hits-bed", Stop, "The cutter reaches into the bed of the machine, or into what the block lies on.";
    HITS_CLAMP = "hits-clamp", Stop, "Cutter, shank or collet may touch a clamp.";
    BLOCK_BROKEN = "block-broken", Stop, "The cutter breaks out of the side of the block.";
    CUT_BURIED = "cut-buried", Stop, "The cutter cuts in the wood beside the hole instead of widening the hole.";
    PAIR_UNLIKE = "pair-unlike", Stop, "Screw and nut do not bear the same thread.";
    PAIR_BINDS = "pair-binds", Stop, "Screw and nut touch where there must be a gap.";
    NOTHING_CUT = "nothing-cut", Stop, "The program removes no wood at all.";
    AIR_TOUCHES = "air-touches", Stop, "A program that is to run in the air touches wood, or starts the spindle.";
    PASSES_FEW = "passes-few", Care, "A pass of the thread takes more wood at once than the job's passes do, or the whole depth of the thread.";
    ORDER_WRONG = "order-wrong", Stop, "The programs of a job are given in another order than the one in which they are run.";
    JOB_CHANGED = "job-changed", Care, "The program was written for another version of the job.";
    LINE_OPTIONAL = "line-optional", Care, "A line that begins with a slash is left out when the operator's switch is on.";
    START_OPEN = "start-open", Care, "The program relies on where an axis happens to stand when it starts.";
    MODE_OPEN = "mode-open", Care, "The program relies on a mode that the last program may have left otherwise.";
    FEED_OFF = "feed-off", Care, "The cutter moves along the wood at another speed than the job asks.";
    CHIP_THIN = "chip-thin", Care, "The chips are so thin that the edge rubs and burns.";
    CHIP_THICK = "chip-thick", Care, "The chips are so thick that the wood tears.";
    POWER_HIGH = "power-high", Care, "The cut may take more power than the spindle gives.";
    TORQUE_HIGH = "torque-high", Care, "The cut may turn the blank with more torque than A holds.";
    BLANK_BENDS = "blank-bends", Care, "The cut may bend the blank by more than a thread bears.";
    CUTTER_BENDS = "cutter-bends", Care, "The cut may bend the cutter until it chatters.";
    BACKLASH_SHOWS = "backlash-shows", Care, "The cut runs both ways, so the play of X and A shows in the thread.";
    FEED_READING = "feed-reading", Note, "A control that reads F another way would run an axis past its top speed.";
}
