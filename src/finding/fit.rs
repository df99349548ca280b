//! Codes of findings about a screw in its nut through the year. A code once given is never used for something else.

use super::codes;

codes! {
    MOVEMENT_UNKNOWN = "movement-unknown", Stop, "How this wood moves is not known, so its fit cannot be told.";
    FIT_BINDS = "fit-binds", Stop, "Screw and nut bind in some season, even if their boards move no more than usual.";
    FIT_TIGHT = "fit-tight", Care, "Screw and nut bind in some season if their boards move more than usual.";
    FIT_LOOSE = "fit-loose", Care, "The nut has more play than the seasons ask for.";
    CRESTS_CARRY = "crests-carry", Care, "The crests touch the nut before the flanks do.";
    OVERLAP_SMALL = "overlap-small", Care, "The threads of screw and nut overlap by little of their depth.";
    MOISTURE_FAR = "moisture-far", Note, "The wood gets drier or wetter than where its movement is in proportion.";
    CUT_OUTSIDE = "cut-outside", Care, "The wood is cut drier or wetter than it will ever be in use.";
}
