//! How much of a line a fault in its writing takes along: what the finding points at, and where reading goes on.

use std::ops::Range;

use super::slip::What;
use super::squeeze::Squeezed;

/// The stretch of squeezed bytes that shows a fault found at `at` in the item that starts at `item_at`, and where the
/// next item may begin: at the next letter that stands after a blank, since people put blanks between words.
pub(super) fn extent(squeezed: &Squeezed, what: What, item_at: usize, at: usize) -> (Range<usize>, usize) {
    let bytes = squeezed.text();
    // A letter without a number may be followed by a good word; other faults take what they stand on along.
    let from = if what == What::NumberMissing { at.max(item_at + 1) } else { at + 1 };
    let next_word = (from..bytes.len())
        .find(|&next| {
            let begins = bytes[next].is_ascii_uppercase() || matches!(bytes[next], b'#' | b'(');
            bytes[next] == b';' || (begins && squeezed.blank_before(next))
        })
        .unwrap_or(bytes.len());
    match what {
        What::CommentOpen => (at..bytes.len(), bytes.len()),
        What::CommentNested => {
            let end = end_of_nested(bytes, at);
            (at..end, end)
        }
        What::CommentCharacter => {
            let end = memchr::memchr(b')', &bytes[at..]).map_or(bytes.len(), |more| at + more + 1);
            (at..at + 1, end)
        }
        // What follows is a name or a remark in its writer's mind.
        What::PercentPlace | What::Semicolon => (at..at + 1, bytes.len()),
        What::CommentStray | What::BracketStray | What::SlashPlace => (at..at + 1, at + 1),
        What::CharacterOdd => {
            let odd = bytes[at..].iter().take_while(|byte| is_odd(**byte)).count().max(1);
            (at..at + odd, next_word.max(at + odd))
        }
        what if what.shows_word() => (item_at..next_word, next_word),
        what if what.shows_character() => (at..at + character_width(bytes, at), next_word),
        _ => (at..next_word, next_word),
    }
}

/// What was typed for something else: the letter O for a zero, a dash for a minus. `items` is where the item before
/// the fault and the one with it begin; the result is the fault and where the item to be shown begins.
pub(super) fn typed_for(squeezed: &Squeezed, what: What, items: Range<usize>, at: usize) -> (What, usize) {
    let bytes = squeezed.text();
    let number_before = at.checked_sub(1).is_some_and(|last| matches!(bytes[last], b'0'..=b'9' | b'.'));
    match what {
        What::ProgramNumber if number_before && !squeezed.blank_before(at) => {
            (What::LetterForZero, items.start)
        }
        What::NumberMissing | What::NumberBad => {
            let mut place = items.end + 1;
            let value = bytes.get(place..).unwrap_or_default();
            if DASHES.iter().any(|dash| value.starts_with(dash.as_bytes())) {
                return (What::DashForMinus, items.end);
            }
            place += value.iter().take_while(|byte| matches!(byte, b'+' | b'-' | b'.')).count();
            let letter = bytes.get(place) == Some(&b'O') && !squeezed.blank_before(place);
            (if letter { What::LetterForZero } else { what }, items.end)
        }
        // After G or M a run of letters is read as the name of a function.
        What::NameUnknown if at == items.end + 1 && bytes[at] == b'O' && !squeezed.blank_before(at) => {
            (What::LetterForZero, items.end)
        }
        _ => (what, items.end),
    }
}

/// Dashes that word processors and web pages make of a minus.
const DASHES: [&str; 4] = ["\u{2212}", "\u{2013}", "\u{2014}", "\u{2010}"];

/// The end of a comment that holds parentheses of its own: where as many close as were opened.
fn end_of_nested(bytes: &[u8], at: usize) -> usize {
    let mut open = 0_usize;
    for (more, byte) in bytes[at..].iter().enumerate() {
        match byte {
            b'(' => open += 1,
            b')' => open -= 1,
            _ => continue,
        }
        if open == 0 {
            return at + more + 1;
        }
    }
    bytes.len()
}

/// Bytes of the character at a place; at least one, also past the end.
fn character_width(bytes: &[u8], at: usize) -> usize {
    1 + bytes.iter().skip(at + 1).take_while(|byte| (**byte & 0b1100_0000) == 0b1000_0000).count()
}

/// Whether a byte can be no part of any line outside comments.
fn is_odd(byte: u8) -> bool {
    !byte.is_ascii_alphanumeric() && !b"()[]#=+-*/.%".contains(&byte)
}
