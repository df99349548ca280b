//! Codes of findings in what a screw will hold. A code once given is never used for something else.

use super::codes;

codes! {
    BACKS_OFF = "backs-off", Care, "With this friction the load may turn the screw back by itself.";
    OVERLOADED = "overloaded", Care, "The hand can load the screw beyond what its timber bears.";
    STRENGTH_UNKNOWN = "strength-unknown", Note, "No table has a strength that would be needed, so nothing is said there.";
}
