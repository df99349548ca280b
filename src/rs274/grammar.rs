//! The grammar of one line without blanks: what may stand in it and how each part is written (NISTIR 6556 section
//! 3.3 and appendix E). Knows nothing of codes, of repeats, or of other lines.

use nom::branch::alt;
use nom::character::complete::{char as one, digit1, one_of, satisfy};
use nom::combinator::{map, opt};
use nom::sequence::preceded;
use nom::{IResult, Parser};

use super::formula::{Formula, Parsed, value};
use super::number::read_number;
use super::slip::{Slip, What};

/// What may stand in a line after its number.
#[derive(Debug, PartialEq)]
pub(super) enum Item<'a> {
    /// A letter, in capitals, and its value.
    Word(u8, Formula),
    /// Index and value of a parameter.
    Setting(Formula, Formula),
    /// What stands between the parentheses.
    Comment(&'a [u8]),
}

/// How a line begins.
#[derive(Debug, PartialEq)]
pub(super) struct Head {
    /// A slash: the operator may have the line skipped.
    pub(super) slash: bool,
    /// Digits of the line number; zero where there is none.
    pub(super) number_digits: usize,
}

/// The letters of words, `N` left out because it may stand in one place only (NISTIR 6556 table 3).
fn is_word_letter(letter: u8) -> bool {
    matches!(letter, b'A'..=b'D' | b'F'..=b'M' | b'P'..=b'T' | b'X'..=b'Z')
}

/// Slash and line number, if they are there.
pub(super) fn head(text: &[u8]) -> Parsed<'_, Head> {
    map((opt(one('/')), opt(line_number)), |(slash, digits)| Head {
        slash: slash.is_some(),
        number_digits: digits.unwrap_or(0),
    })
    .parse(text)
}

/// `N` and its digits: how many there are.
fn line_number(text: &[u8]) -> Parsed<'_, usize> {
    let (rest, _) = one_of("Nn").parse(text)?;
    let digits: IResult<&[u8], &[u8], Slip> = digit1.parse(rest);
    match digits {
        Ok((rest, digits)) if !rest.starts_with(b".") => Ok((rest, digits.len())),
        _ => Err(Slip::failure(What::LineNumberBad, text)),
    }
}

/// A word whose value is a plain number: nearly all there are. Not written with nom's parts, since programs have
/// millions; `None` for all that is anything else or wrong.
#[inline]
pub(super) fn plain_word(text: &[u8]) -> Option<(u8, f64, usize)> {
    let letter = text.first()?.to_ascii_uppercase();
    if !is_word_letter(letter) {
        return None;
    }
    let (number, length) = read_number(&text[1..])?;
    match text.get(1 + length) {
        Some(b'.' | b',') => None,
        _ => Some((letter, number, 1 + length)),
    }
}

/// Any word, setting or comment.
pub(super) fn item(text: &[u8]) -> Parsed<'_, Item<'_>> {
    alt((word, setting, map(comment, Item::Comment), no_item)).parse(text)
}

fn word(text: &[u8]) -> Parsed<'_, Item<'_>> {
    let (rest, letter) = satisfy(|letter| letter.is_ascii_uppercase()).parse(text)?;
    if letter == 'N' {
        return Err(Slip::failure(What::LineNumberPlace, text));
    }
    if !is_word_letter(letter as u8) {
        let what = match letter {
            'E' => What::Exponent,
            'O' => What::ProgramNumber,
            _ => What::LetterUnknown,
        };
        return Err(Slip::failure(what, text));
    }
    let (rest, value) = value(rest)?;
    Ok((not_reckoned(rest)?, Item::Word(letter as u8, value)))
}

fn setting(text: &[u8]) -> Parsed<'_, Item<'_>> {
    let bad = |error| match error {
        nom::Err::Failure(Slip { what: What::NumberMissing, .. }) => Slip::failure(What::SettingBad, text),
        other => other,
    };
    let (rest, index) = preceded(one('#'), value).parse(text).map_err(bad)?;
    let Some(b'=') = rest.first() else { return Err(Slip::failure(What::SettingBad, text)) };
    let (rest, value) = value(&rest[1..]).map_err(bad)?;
    Ok((not_reckoned(rest)?, Item::Setting(index, value)))
}

/// Refuses an operator after a value: sums belong in brackets.
fn not_reckoned(rest: &[u8]) -> Result<&[u8], nom::Err<Slip>> {
    match rest {
        [b'/'] => Err(Slip::failure(What::SlashPlace, rest)),
        [b'/', letter, ..] if letter.is_ascii_uppercase() => Err(Slip::failure(What::SlashPlace, rest)),
        [b'+' | b'-' | b'*' | b'/' | b'^', ..] => Err(Slip::failure(What::OperatorOutside, rest)),
        _ => Ok(rest),
    }
}

/// A comment: it closes on its line, holds no parentheses and nothing that cannot be printed (NISTIR 6556 section
/// 3.3.4). Letters beyond ASCII can be printed.
pub(super) fn comment(text: &[u8]) -> Parsed<'_, &[u8]> {
    let (inside, _) = one('(').parse(text)?;
    let Some(end) = memchr::memchr2(b'(', b')', inside) else {
        return Err(Slip::failure(What::CommentOpen, text));
    };
    if inside[end] == b'(' {
        return Err(Slip::failure(What::CommentNested, text));
    }
    match inside[..end].iter().position(|byte| byte.is_ascii_control() && *byte != b'\t') {
        Some(odd) => Err(Slip::failure(What::CommentCharacter, &inside[odd..])),
        None => Ok((&inside[end + 1..], &inside[..end])),
    }
}

/// Says why nothing can begin here.
fn no_item(text: &[u8]) -> Parsed<'_, Item<'_>> {
    let what = match text.first() {
        Some(b')') => What::CommentStray,
        Some(b']') => What::BracketStray,
        Some(b'/') => What::SlashPlace,
        Some(b'%') => What::PercentPlace,
        Some(b';') => What::Semicolon,
        Some(b'0'..=b'9' | b'.' | b'+' | b'-' | b'*' | b'=' | b'[') => What::LetterMissing,
        _ => What::CharacterOdd,
    };
    Err(Slip::failure(what, text))
}

/// The text of a message to the operator, when a comment is one: its first printed characters are `MSG,` in any case,
/// with or without blanks between (NISTIR 6556 section 3.3.4).
pub(super) fn message(comment: &[u8]) -> Option<&[u8]> {
    let mut rest = comment;
    for wanted in b"MSG," {
        rest = rest.trim_ascii_start();
        let (first, after) = rest.split_first()?;
        if first.to_ascii_uppercase() != *wanted {
            return None;
        }
        rest = after;
    }
    Some(rest)
}
