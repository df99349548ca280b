//! Codes of findings in the text of a program, before anything is cut. A code once given is never used for
//! something else.

use super::codes;

codes! {
    FEED_MISSING = "feed-missing", Stop, "A cutting move has no feed that holds for it.";
    NO_END = "no-end", Stop, "The program has no end word (M2 or M30) and no closing percent line.";

    LINE_LONG = "line-long", Stop, "A line is longer than a control has to read.";
    CHARACTER_ODD = "character-odd", Stop, "A character that no program line may hold.";
    LETTER_UNKNOWN = "letter-unknown", Stop, "A word begins with a letter that the standard does not have.";
    LETTER_MISSING = "letter-missing", Stop, "Something stands in the line that belongs to no word.";
    NUMBER_MISSING = "number-missing", Stop, "A letter has no number after it.";
    NUMBER_BAD = "number-bad", Stop, "A number is not written as sign, digits and one point.";
    SIGN_STRAY = "sign-stray", Stop, "A sign stands before something that is not a plain number.";
    LINE_NUMBER_BAD = "line-number-bad", Stop, "A line number is not made of one to five plain digits.";
    LINE_NUMBER_PLACE = "line-number-place", Stop, "A line number stands elsewhere than first in its line.";
    SLASH_PLACE = "slash-place", Stop, "A slash stands elsewhere than first in its line.";
    PERCENT_PLACE = "percent-place", Stop, "A percent sign does not stand alone in its line.";
    PERCENT_OPEN = "percent-open", Stop, "The program opens with a percent line and never closes with one.";
    PERCENT_STRAY = "percent-stray", Stop, "A closing percent line has no opening one.";
    COMMENT_OPEN = "comment-open", Stop, "A comment is not closed on its line.";
    COMMENT_NESTED = "comment-nested", Stop, "A comment stands inside a comment.";
    COMMENT_STRAY = "comment-stray", Stop, "A right parenthesis closes no comment.";
    BRACKET_OPEN = "bracket-open", Stop, "A bracket is not closed.";
    BRACKET_STRAY = "bracket-stray", Stop, "A right bracket closes nothing.";
    BRACKET_MISSING = "bracket-missing", Stop, "A function has no brackets round what it works on.";
    OPERAND_MISSING = "operand-missing", Stop, "A sum has nothing to work on.";
    OPERATOR_OUTSIDE = "operator-outside", Stop, "Something is to be reckoned outside brackets.";
    NAME_UNKNOWN = "name-unknown", Stop, "A function or operator that the standard does not have.";
    SETTING_BAD = "setting-bad", Stop, "The setting of a parameter is not written as #index=value.";
    PARAMETER_BAD = "parameter-bad", Stop, "A parameter has an index that is not a whole number from 1 to 5399.";
    PARAMETER_UNSET = "parameter-unset", Stop, "A parameter is used that the program never set.";
    VALUE_IMPOSSIBLE = "value-impossible", Stop, "A value cannot be worked out.";

    WORD_TWICE = "word-twice", Stop, "A letter stands twice in one line.";
    GROUP_TWICE = "group-twice", Stop, "Two codes in one line exclude each other.";
    M_WORDS_MANY = "m-words-many", Stop, "More than four M words stand in one line.";
    CODE_UNKNOWN = "code-unknown", Stop, "A G or M code that the standard does not have.";
    WORD_UNUSED = "word-unused", Stop, "No code in the line uses this word.";
    WORD_MISSING = "word-missing", Stop, "A code lacks a word that it needs.";
    WORD_OUT_OF_RANGE = "word-out-of-range", Stop, "The number of a word lies outside what its letter may have.";
    AXIS_MISSING = "axis-missing", Stop, "A code that needs an axis word has none.";
    AXIS_UNKNOWN = "axis-unknown", Stop, "A word moves an axis that the machine does not have.";
    AXIS_SHARED = "axis-shared", Stop, "Two codes in one line both want the axis words.";
    MOTION_MISSING = "motion-missing", Stop, "Axis words stand in a line and no motion is in force.";
    ARC_END_MISSING = "arc-end-missing", Stop, "An arc has no end point in its plane.";
    ARC_CENTRE_MISSING = "arc-centre-missing", Stop, "An arc has neither a centre nor a radius.";
    ARC_LETTER_WRONG = "arc-letter-wrong", Stop, "A centre offset lies outside the plane of the arc.";
    ARC_FORMS_MIXED = "arc-forms-mixed", Stop, "An arc has both a radius and a centre.";
    ARC_RADII_DIFFER = "arc-radii-differ", Stop, "Start and end of an arc lie at different distances from its centre.";
    ARC_RADIUS_SMALL = "arc-radius-small", Stop, "The radius of an arc is too small to reach its end.";
    ARC_ENDS_AT_START = "arc-ends-at-start", Stop, "An arc given by its radius ends where it starts.";
    MACHINE_ZERO_WRONG = "machine-zero-wrong", Stop, "G53 stands where it cannot hold.";
    COMPENSATION_WRONG = "compensation-wrong", Stop, "Cutter radius compensation is switched or used where it may not be.";
    PROBE_WRONG = "probe-wrong", Stop, "A probing move is not allowed as written.";
    CYCLE_WRONG = "cycle-wrong", Stop, "A drilling cycle is not allowed as written.";

    COMPENSATION_UNKNOWN = "compensation-unknown", Stop, "The cutter moves off the written path by a radius that the program does not tell.";
    TOOL_LENGTH_UNKNOWN = "tool-length-unknown", Stop, "Z is shifted by a tool length that the program does not tell.";
    ORIGIN_UNKNOWN = "origin-unknown", Stop, "A move depends on an origin kept in the machine.";
    HOME_UNKNOWN = "home-unknown", Stop, "A move goes to a home position kept in the machine.";
    PROBE_UNKNOWN = "probe-unknown", Stop, "A move ends where the probe touches.";
    CYCLE_NOT_FOLLOWED = "cycle-not-followed", Stop, "A drilling cycle is not followed.";

    SPINDLE_LEFT = "spindle-left", Care, "The program starts the spindle and never stops it.";
    DWELL_LONG = "dwell-long", Care, "A dwell lasts so long that its P may count in another unit than the program thinks.";
    DIALECT_USED = "dialect-used", Note, "The program uses a habit outside the standard that the machine file allows.";
    TEXT_AFTER_END = "text-after-end", Note, "Lines after the end of the program are never read.";
    MORE_ALIKE = "more-alike", Note, "Further findings of one kind are counted and not listed.";
}
