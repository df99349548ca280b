//! What can be wrong with the writing of a line, and how it is told. Knows the rules of writing only, not what the
//! codes do.

use nom::error::{ErrorKind, ParseError};

use crate::finding::{Code, program};

/// A fault in the writing, at a distance from the end of the text being read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Slip {
    /// Its kind.
    pub(super) what: What,
    /// Bytes from its start to the end of the text.
    pub(super) bytes_left: usize,
}

/// Kinds of faults.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum What {
    /// No rule fits here; a later reading finds out why.
    NoRule,
    CharacterOdd,
    LetterUnknown,
    LetterMissing,
    NumberMissing,
    NumberBad,
    DecimalComma,
    SignStray,
    LineNumberBad,
    LineNumberPlace,
    SlashPlace,
    PercentPlace,
    CommentOpen,
    CommentNested,
    CommentCharacter,
    CommentStray,
    BracketOpen,
    BracketStray,
    BracketMissing,
    AtanParts,
    OperandMissing,
    OperatorOutside,
    NameUnknown,
    SettingBad,
}

impl Slip {
    pub(super) fn at(what: What, rest: &[u8]) -> Self {
        Slip { what, bytes_left: rest.len() }
    }

    /// The fault as a nom error that no other rule may try to get round.
    pub(super) fn failure(what: What, rest: &[u8]) -> nom::Err<Self> {
        nom::Err::Failure(Slip::at(what, rest))
    }

    /// The fault as a nom error after which other rules may be tried.
    pub(super) fn error(rest: &[u8]) -> nom::Err<Self> {
        nom::Err::Error(Slip::at(What::NoRule, rest))
    }
}

impl<'a> ParseError<&'a [u8]> for Slip {
    fn from_error_kind(rest: &'a [u8], _kind: ErrorKind) -> Self {
        Slip::at(What::NoRule, rest)
    }

    fn append(_rest: &'a [u8], _kind: ErrorKind, other: Self) -> Self {
        other
    }

    fn or(self, other: Self) -> Self {
        if other.bytes_left < self.bytes_left { other } else { self }
    }
}

impl What {
    /// Whether the whole word is shown, not only the place where reading failed.
    pub(super) fn shows_word(self) -> bool {
        matches!(
            self,
            What::NumberMissing
                | What::NumberBad
                | What::DecimalComma
                | What::SignStray
                | What::LetterUnknown
                | What::LineNumberBad
                | What::LineNumberPlace
                | What::SettingBad
                | What::BracketMissing
                | What::AtanParts
                | What::OperatorOutside
        )
    }

    /// Whether only the one character at the fault is shown.
    pub(super) fn shows_character(self) -> bool {
        matches!(self, What::BracketOpen | What::OperandMissing)
    }

    /// Code, sentence and way out; `text` is what the finding points at.
    pub(super) fn told(self, text: &str) -> (&'static Code, String, &'static str) {
        let text = &shortened(text);
        match self {
            What::NoRule | What::LetterMissing => (
                &program::LETTER_MISSING,
                format!("{text} belongs to no word: every number follows its letter"),
                "put the letter before it, or take it out (NISTIR 6556 section 3.3.2)",
            ),
            What::CharacterOdd if text.starts_with(';') => (
                &program::CHARACTER_ODD,
                "a semicolon begins no comment in the standard".to_owned(),
                "write the comment in parentheses, or set `semicolon_comments` in the machine file if this control \
                 takes them (NISTIR 6556 section 3.3.4)",
            ),
            What::CharacterOdd => (
                &program::CHARACTER_ODD,
                format!("{} has no meaning in a program line", visible(text)),
                "use letters, digits, signs and brackets only; put remarks in parentheses (NISTIR 6556 section 3.3)",
            ),
            What::CommentCharacter => (
                &program::CHARACTER_ODD,
                format!("{} cannot be printed, so no comment may hold it", visible(text)),
                "retype the comment (NISTIR 6556 section 3.3.4)",
            ),
            What::LetterUnknown if text.starts_with(['E', 'e']) => (
                &program::LETTER_UNKNOWN,
                format!("{text} is no word: numbers have no exponent here and no word begins with E"),
                "write the number out in plain digits, 1000 for 1e3 (NISTIR 6556 table 3 and section 3.3.2.1)",
            ),
            What::LetterUnknown if text.starts_with(['O', 'o']) => (
                &program::LETTER_UNKNOWN,
                format!("{text} is a program number, which the standard does not have"),
                "take it out, or set `program_name` in the machine file if it follows the opening percent line \
                 (NISTIR 6556 table 3)",
            ),
            What::LetterUnknown => (
                &program::LETTER_UNKNOWN,
                format!("{text} begins with a letter that no word has"),
                "words begin with A B C D F G H I J K L M P Q R S T X Y or Z (NISTIR 6556 table 3)",
            ),
            What::NumberMissing => (
                &program::NUMBER_MISSING,
                format!("{text} has no number"),
                "write the number after the letter, or take the letter out (NISTIR 6556 section 3.3.2)",
            ),
            What::NumberBad => (
                &program::NUMBER_BAD,
                format!("the number in {text} cannot be read"),
                "write one sign at most, digits, and one point at most, such as -12.5 (NISTIR 6556 section 3.3.2.1)",
            ),
            What::DecimalComma => (
                &program::NUMBER_BAD,
                format!("the number in {text} has a comma"),
                "write a point: 12.5 for 12,5 (NISTIR 6556 section 3.3.2.1)",
            ),
            What::SignStray => (
                &program::SIGN_STRAY,
                format!("the sign in {text} stands before something that is not a plain number"),
                "take it away from zero inside brackets, such as X[0-#1] (NISTIR 6556 appendix E.2)",
            ),
            _ => self.told_of_signs(text),
        }
    }

    /// The rest of [`What::told`]: places, comments and sums.
    fn told_of_signs(self, text: &str) -> (&'static Code, String, &'static str) {
        match self {
            What::LineNumberBad => (
                &program::LINE_NUMBER_BAD,
                format!("{text} is no line number"),
                "write N and one to five plain digits (NISTIR 6556 section 3.3.1); `long_line_numbers` in the machine \
                 file allows more digits",
            ),
            What::LineNumberPlace => (
                &program::LINE_NUMBER_PLACE,
                format!("the line number {text} is not the first word of its line"),
                "put it first, after the slash if there is one (NISTIR 6556 section 3.3.1)",
            ),
            What::SlashPlace => (
                &program::SLASH_PLACE,
                "a slash stands inside the line".to_owned(),
                "a slash that lets the operator skip a line is its very first character (NISTIR 6556 section 3.3)",
            ),
            What::PercentPlace => (
                &program::PERCENT_PLACE,
                "a percent sign stands beside other text".to_owned(),
                "put % alone on its line, before and after the program (NISTIR 6556 section 3.1)",
            ),
            What::CommentOpen => (
                &program::COMMENT_OPEN,
                "this comment is not closed on its line".to_owned(),
                "close it with ) before the line ends (NISTIR 6556 section 3.3.4)",
            ),
            What::CommentNested => (
                &program::COMMENT_NESTED,
                "a comment cannot hold parentheses of its own".to_owned(),
                "take the inner parentheses out (NISTIR 6556 section 3.3.4)",
            ),
            What::CommentStray => (
                &program::COMMENT_STRAY,
                "this parenthesis closes no comment".to_owned(),
                "take it out, or open the comment with ( before it (NISTIR 6556 section 3.3.4)",
            ),
            What::BracketOpen => (
                &program::BRACKET_OPEN,
                "this bracket is not closed".to_owned(),
                "close it with ] on the same line (NISTIR 6556 section 3.3.2.3)",
            ),
            What::BracketStray => (
                &program::BRACKET_STRAY,
                "this bracket closes nothing".to_owned(),
                "take it out, or open it with [ before (NISTIR 6556 section 3.3.2.3)",
            ),
            What::BracketMissing => (
                &program::BRACKET_MISSING,
                format!("the function in {text} has no brackets round what it works on"),
                "write square brackets, such as SIN[30] (NISTIR 6556 section 3.3.2.4)",
            ),
            What::AtanParts => (
                &program::BRACKET_MISSING,
                format!("ATAN in {text} needs two values in brackets"),
                "write ATAN[rise]/[run] (NISTIR 6556 section 3.3.2.4)",
            ),
            What::OperandMissing => (
                &program::OPERAND_MISSING,
                "a value is missing here".to_owned(),
                "every operator stands between two values, and brackets hold at least one (NISTIR 6556 section \
                 3.3.2.3)",
            ),
            What::OperatorOutside => (
                &program::OPERATOR_OUTSIDE,
                format!("{text} reckons outside brackets"),
                "put the sum in square brackets, such as X[1+2] (NISTIR 6556 section 3.3.2.3)",
            ),
            What::NameUnknown => (
                &program::NAME_UNKNOWN,
                format!("{text} holds no function or operator of the standard"),
                "operators are + - * / ** MOD AND OR XOR; functions ABS ACOS ASIN ATAN COS EXP FIX FUP LN ROUND SIN \
                 SQRT TAN (NISTIR 6556 section 3.3.2)",
            ),
            // Every other kind has its arm in `told`.
            _ => (
                &program::SETTING_BAD,
                format!("{text} is not the setting of a parameter"),
                "write #, the index, =, and the value, such as #1=12.5 (NISTIR 6556 section 3.3.3)",
            ),
        }
    }
}

/// The most characters of a program that a message repeats.
const SHOWN: usize = 40;

/// The start of a text that is too long to be repeated.
pub(super) fn shortened(text: &str) -> String {
    match text.char_indices().nth(SHOWN) {
        Some((end, _)) => format!("{}...", &text[..end]),
        None => text.to_owned(),
    }
}

/// Text with what cannot be printed written out, so that it can be seen.
fn visible(text: &str) -> String {
    text.chars()
        .map(|c| {
            if c.is_control() || c == '\u{feff}' || (c.is_whitespace() && c != ' ') {
                format!("<U+{:04X}>", u32::from(c))
            } else {
                c.to_string()
            }
        })
        .collect()
}
