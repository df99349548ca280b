//! The F word that would do: what a person writes in place of one that makes an axis run too fast, or the cutter too slow.

use crate::rs274::{FeedMode, Motion};
use crate::setup::FeedConvention;

use super::Case;

/// Digits of an F word that is proposed.
const DIGITS: i32 = 4;

/// What to write at a motion whose speed should be so many times what it is, never more; else where to look.
pub(super) fn help(case: &Case<'_>, motion: &Motion, times: f64) -> String {
    let inverse = case.setup.machine.feed == FeedConvention::InverseTime;
    let look = match (inverse, motion.feed_mode) {
        (true, FeedMode::PerMinute) => {
            return "the machine is said to read F as one over minutes (feed.convention): write G93 before the first feed \
                    move, or correct the machine file"
                .to_owned();
        }
        _ => "check what F means on this machine (feed.convention)",
    };
    // One that holds for other lines too is theirs to choose.
    match own_word(case, motion).filter(|_| motion.feed_mode == FeedMode::InverseTime) {
        Some((word, number)) => {
            format!("write F{} for {word} on this line, or {look}", rounded_down(number * times))
        }
        None => format!("run this line at {:.0} % of its F, and {look}", (100.0 * times).floor()),
    }
}

/// The F word of a motion's own line, with its number.
fn own_word<'a>(case: &Case<'a>, motion: &Motion) -> Option<(&'a str, f64)> {
    let line: &'a str = &case.program.text()[motion.span.clone()];
    let start = line.rfind('F')?;
    let length =
        line[start + 1..].find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(line.len() - start - 1);
    let word = &line[start..start + 1 + length];
    Some((word, word[1..].parse().ok()?))
}

/// A number with few digits, no greater than it is.
fn rounded_down(number: f64) -> String {
    if number <= 0.0 {
        return "0".to_owned();
    }
    let decimals = (DIGITS - 1 - number.log10().floor() as i32).max(0);
    let scale = 10_f64.powi(decimals);
    let down = format!("{:.*}", decimals as usize, (number * scale).floor() / scale);
    if down.contains('.') { down.trim_end_matches('0').trim_end_matches('.').to_owned() } else { down }
}

#[cfg(test)]
mod tests {
    use super::rounded_down;

    #[test]
    fn a_proposed_number_is_short_and_never_too_great() {
        for (number, word) in
            [(1.186_504, "1.186"), (0.058_993, "0.05899"), (12_345.6, "12345"), (80.0, "80"), (7.25, "7.25")]
        {
            assert_eq!(rounded_down(number), word);
        }
    }
}
