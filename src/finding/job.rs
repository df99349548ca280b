//! Codes of findings in job, machine and cutter files. A code once given is never used for something else.

use super::codes;

codes! {
    FILE_MISSING = "file-missing", Stop, "A file that the job names cannot be read.";
    FILE_SYNTAX = "file-syntax", Stop, "The file is not readable as TOML at this place.";
    KEY_UNKNOWN = "key-unknown", Stop, "A key that means nothing here; most often a slip of the pen.";
    KEY_MISSING = "key-missing", Stop, "A value that cannot be guessed is not given.";
    KIND_WRONG = "kind-wrong", Stop, "The value is of the wrong kind, such as a word where a number belongs.";
    OUT_OF_RANGE = "out-of-range", Stop, "The number lies outside what can be made or run.";
    UNITS_UNLIKELY = "units-unlikely", Stop, "The sizes fit the other unit of length, not the one that the file names.";
    DISAGREE = "disagree", Stop, "Two values in the job contradict each other.";
    BLANK_TOO_SMALL = "blank-too-small", Stop, "The blank is thinner than the screw.";
    BLANK_TO_TURN = "blank-to-turn", Care, "Wood stands beyond the crests, and the program cuts only the thread: the blank has to be turned first.";
    GRIP_SHORT = "grip-short", Stop, "The chuck would grip the screw itself: the waste at the head is too short.";
    RPM_PAST_SPINDLE = "rpm-past-spindle", Stop, "The spindle does not have the speed asked for.";
    FEED_PAST_AXIS = "feed-past-axis", Stop, "At this feed the thread needs more speed of A or X than the machine has.";
    BLANK_SCANT = "blank-scant", Care, "The stick is so thin that a little off centre it leaves a flat on the screw.";
    HABIT_REFUSED = "habit-refused", Stop, "The control has a habit under which no screw can be cut safely.";
    CUTTER_KIND = "cutter-kind", Stop, "The operation needs a cutter of another shape.";
    DECIMALS_FEW = "decimals-few", Care, "The program's numbers have so few decimals that their rounding shows in the thread.";
    SHRINK_SWAPPED = "shrink-swapped", Care, "A wood of your own moves more square to its rings than along them.";
    WOOD_UNKNOWN = "wood-unknown", Care, "No table has a wood of this name: what depends on the wood cannot be told.";
}
