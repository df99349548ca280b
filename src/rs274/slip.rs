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
    Semicolon,
    CharacterOdd,
    Exponent,
    ProgramNumber,
    LetterUnknown,
    LetterMissing,
    NumberMissing,
    NumberBad,
    DecimalComma,
    /// The letter O among digits.
    LetterForZero,
    /// A dash that only looks like a minus.
    DashForMinus,
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
}

impl What {
    /// Whether the whole word is shown, not only the place where reading failed.
    pub(super) fn shows_word(self) -> bool {
        matches!(
            self,
            What::NumberMissing
                | What::NumberBad
                | What::DecimalComma
                | What::LetterForZero
                | What::DashForMinus
                | What::SignStray
                | What::LetterUnknown
                | What::Exponent
                | What::ProgramNumber
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

    /// The code of its finding.
    pub(super) fn code(self) -> &'static Code {
        match self {
            What::NoRule | What::LetterMissing => &program::LETTER_MISSING,
            What::Semicolon | What::CharacterOdd | What::CommentCharacter => &program::CHARACTER_ODD,
            What::Exponent | What::ProgramNumber | What::LetterUnknown => &program::LETTER_UNKNOWN,
            What::NumberMissing => &program::NUMBER_MISSING,
            What::NumberBad | What::DecimalComma | What::LetterForZero | What::DashForMinus => {
                &program::NUMBER_BAD
            }
            What::SignStray => &program::SIGN_STRAY,
            What::LineNumberBad => &program::LINE_NUMBER_BAD,
            What::LineNumberPlace => &program::LINE_NUMBER_PLACE,
            What::SlashPlace => &program::SLASH_PLACE,
            What::PercentPlace => &program::PERCENT_PLACE,
            What::CommentOpen => &program::COMMENT_OPEN,
            What::CommentNested => &program::COMMENT_NESTED,
            What::CommentStray => &program::COMMENT_STRAY,
            What::BracketOpen => &program::BRACKET_OPEN,
            What::BracketStray => &program::BRACKET_STRAY,
            What::BracketMissing | What::AtanParts => &program::BRACKET_MISSING,
            What::OperandMissing => &program::OPERAND_MISSING,
            What::OperatorOutside => &program::OPERATOR_OUTSIDE,
            What::NameUnknown => &program::NAME_UNKNOWN,
            What::SettingBad => &program::SETTING_BAD,
        }
    }

    /// What is wrong; `text` is what the finding points at.
    pub(super) fn message(self, text: &str) -> String {
        let text = visible(&shortened(text));
        match self {
            What::NoRule | What::LetterMissing => {
                format!("{text} belongs to no word: every number follows its letter")
            }
            What::Semicolon => "a semicolon begins no comment in the standard".to_owned(),
            What::CharacterOdd => format!("{text} has no meaning in a program line"),
            What::CommentCharacter => format!("{text} cannot be printed, so no comment may hold it"),
            What::Exponent => {
                format!("{text} is no word: numbers have no exponent and no word begins with E")
            }
            What::ProgramNumber => format!("{text} is a program number, which the standard does not have"),
            What::LetterUnknown => format!("{text} begins with a letter that no word has"),
            What::NumberMissing => format!("{text} has no number"),
            What::NumberBad => format!("the number in {text} cannot be read"),
            What::DecimalComma => format!("the number in {text} has a comma"),
            What::LetterForZero => format!("the number in {text} has the letter O for a zero"),
            What::DashForMinus => format!("the dash in {text} is no minus sign"),
            What::SignStray => {
                format!("the sign in {text} stands before something that is not a plain number")
            }
            What::LineNumberBad => format!("{text} is no line number"),
            What::LineNumberPlace => format!("the line number {text} is not the first word of its line"),
            What::SlashPlace => "a slash stands inside the line".to_owned(),
            What::PercentPlace => "a percent sign stands beside other text".to_owned(),
            What::CommentOpen => "this comment is not closed on its line".to_owned(),
            What::CommentNested => "a comment cannot hold parentheses of its own".to_owned(),
            What::CommentStray => "this parenthesis closes no comment".to_owned(),
            What::BracketOpen => "this bracket is not closed".to_owned(),
            What::BracketStray => "this bracket closes nothing".to_owned(),
            What::BracketMissing => format!("the function in {text} has no brackets round what it works on"),
            What::AtanParts => format!("ATAN in {text} needs two values in brackets"),
            What::OperandMissing => "a value is missing here".to_owned(),
            What::OperatorOutside => format!("{text} reckons outside brackets"),
            What::NameUnknown => format!("{text} holds no function or operator of the standard"),
            What::SettingBad => format!("{text} is not the setting of a parameter"),
        }
    }

    /// The way out, with the section of the standard that asks for it.
    pub(super) fn help(self) -> &'static str {
        match self {
            What::NoRule | What::LetterMissing => {
                "put the letter before it, or take it out (NISTIR 6556 section 3.3.2)"
            }
            What::Semicolon => {
                "write the comment in parentheses, or allow `semicolon_comments` in the machine file if \
                 its control takes them (NISTIR 6556 section 3.3.4)"
            }
            What::CharacterOdd => {
                "use letters, digits, signs and brackets only; put remarks in parentheses (NISTIR 6556 \
                 section 3.3)"
            }
            What::CommentCharacter => "retype the comment (NISTIR 6556 section 3.3.4)",
            What::Exponent => {
                "write the number out in plain digits, 1000 for 1e3 (NISTIR 6556 table 3 and section \
                 3.3.2.1)"
            }
            What::ProgramNumber => {
                "take it out, or allow `program_name` in the machine file if it follows the opening \
                 percent line (NISTIR 6556 table 3)"
            }
            What::LetterUnknown => {
                "words begin with A B C D F G H I J K L M P Q R S T X Y or Z (NISTIR 6556 table 3)"
            }
            What::NumberMissing => {
                "write the number after the letter, or take the letter out (NISTIR 6556 section 3.3.2)"
            }
            What::NumberBad => {
                "write one sign at most, digits, and one point at most, such as -12.5 (NISTIR 6556 \
                 section 3.3.2.1)"
            }
            What::DecimalComma => "write a point: 12.5 for 12,5 (NISTIR 6556 section 3.3.2.1)",
            What::LetterForZero => "write the digit 0 in its place (NISTIR 6556 section 3.3.2.1)",
            What::DashForMinus => {
                "type the minus of the keyboard in its place: - (NISTIR 6556 section 3.3.2.1)"
            }
            What::SignStray => {
                "take it away from zero inside brackets, such as X[0-#1] (NISTIR 6556 appendix E.2)"
            }
            What::LineNumberBad => {
                "write N and one to five plain digits (NISTIR 6556 section 3.3.1); `long_line_numbers` in \
                 the machine file allows more"
            }
            What::LineNumberPlace => {
                "put it first, after the slash if there is one (NISTIR 6556 section 3.3.1)"
            }
            What::SlashPlace => {
                "a slash that lets the operator skip a line is its very first character (NISTIR 6556 \
                 section 3.3)"
            }
            What::PercentPlace => {
                "put % alone on its line, before and after the program (NISTIR 6556 section 3.1)"
            }
            What::CommentOpen => "close it with ) before the line ends (NISTIR 6556 section 3.3.4)",
            What::CommentNested => "take the inner parentheses out (NISTIR 6556 section 3.3.4)",
            What::CommentStray => {
                "take it out, or open the comment with ( before it (NISTIR 6556 section 3.3.4)"
            }
            What::BracketOpen => "close it with ] on the same line (NISTIR 6556 section 3.3.2.3)",
            What::BracketStray => "take it out, or open it with [ before (NISTIR 6556 section 3.3.2.3)",
            What::BracketMissing => "write square brackets, such as SIN[30] (NISTIR 6556 section 3.3.2.4)",
            What::AtanParts => "write ATAN[rise]/[run] (NISTIR 6556 section 3.3.2.4)",
            What::OperandMissing => {
                "every operator stands between two values, and brackets hold at least one (NISTIR 6556 \
                 section 3.3.2.3)"
            }
            What::OperatorOutside => {
                "put the sum in square brackets, such as X[1+2] (NISTIR 6556 section 3.3.2.3)"
            }
            What::NameUnknown => {
                "operators are + - * / ** MOD AND OR XOR; functions ABS ACOS ASIN ATAN COS EXP FIX FUP LN \
                 ROUND SIN SQRT TAN (NISTIR 6556 section 3.3.2)"
            }
            What::SettingBad => {
                "write #, the index, =, and the value, such as #1=12.5 (NISTIR 6556 section 3.3.3)"
            }
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
