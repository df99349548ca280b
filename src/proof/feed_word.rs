//! The F word that would do: what a person writes in place of one that makes an axis run too fast, or the cutter too slow.

use crate::rs274::{FeedMode, Motion};
use crate::setup::FeedConvention;

use super::{Case, sign};

/// Digits of an F word that is proposed.
const DIGITS: i32 = 4;

/// What to write at a motion whose speed should be so many times what it is, never more; else where to look.
pub(super) fn help(case: &Case<'_>, motion: &Motion, times: f64) -> String {
    let per_minute = motion.feed_mode == FeedMode::PerMinute;
    if per_minute && case.setup.machine.feed == FeedConvention::InverseTime {
        return "the machine is said to read F as one over minutes (feed.convention): write G93 before the first feed move, or \
                correct the machine file"
            .to_owned();
    }
    let look = "check what F means on this machine (feed.convention)";
    let own = sign::own_word(case, motion, b'F').map(|span| &case.program.text()[span]);
    // One that holds for other lines too is theirs to choose.
    match own.filter(|_| !per_minute).and_then(|word| Some((word, word[1..].parse::<f64>().ok()?))) {
        Some((word, number)) => {
            format!("write F{} for {word} on this line, or {look}", rounded_down(number * times))
        }
        None => format!("run this line at {} % of its F, and {look}", rounded_down(100.0 * times)),
    }
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
