//! Codes of findings in job, machine and cutter files. A code once given is never used for something else.

use super::codes;

codes! {
    FILE_MISSING = "file-missing", Stop, "A file that the job names cannot be read.";
    FILE_SYNTAX = "file-syntax", Stop, "The file is not readable as TOML at this place.";
    KEY_UNKNOWN = "key-unknown", Stop, "A key that means nothing here; most often a slip of the pen.";
    KEY_MISSING = "key-missing", Stop, "A value that cannot be guessed is not given.";
    KIND_WRONG = "kind-wrong", Stop, "The value is of the wrong kind, such as a word where a number belongs.";
    OUT_OF_RANGE = "out-of-range", Stop, "The number lies outside what can be made or run.";
    DISAGREE = "disagree", Stop, "Two values in the job contradict each other.";
}
