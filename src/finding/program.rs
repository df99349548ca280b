//! Codes of findings in the text of a program, before anything is cut. A code once given is never used for
//! something else.

use super::codes;

codes! {
    FEED_MISSING = "feed-missing", Stop, "A cutting move has no feed that holds for it.";
    NO_END = "no-end", Stop, "The program has no end word (M2 or M30) and no closing percent line.";
}
