//! Prose and tables for a terminal of 80 columns: the one place where lines are broken.

use comfy_table::{ColumnConstraint, ContentArrangement, Table, presets};

/// Width that prose is wrapped to, and that tables keep to where their last column holds words.
pub(super) const WIDTH: usize = 80;

/// Units that stay on the line of their number.
const UNITS: [&str; 9] = ["%", "mm", "N", "W", "deg", "degrees", "rev/min", "mm/min", "min"];

/// Words of a text, a number and its unit as one.
fn words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let bare = word.trim_end_matches([',', ';', ':', '.', ')']);
        let after_number = |last: &&mut String| last.ends_with(|c: char| c.is_ascii_digit());
        match words.last_mut().filter(|_| UNITS.contains(&bare)).filter(after_number) {
            Some(number) => {
                number.push(' ');
                number.push_str(word);
            }
            None => words.push(word.to_owned()),
        }
    }
    words
}

/// Breaks a paragraph into lines, all but the first indented by two. A word longer than a line stays whole, and a number is
/// not parted from its unit.
pub(super) fn wrapped(text: &str) -> String {
    let mut lines = vec![String::new()];
    for word in words(text) {
        let at = lines.len() - 1;
        let long = lines[at].chars().count() + 1 + word.chars().count() > WIDTH;
        if long && !lines[at].is_empty() {
            lines.push(format!("  {word}"));
        } else {
            if !lines[at].is_empty() {
                lines[at].push(' ');
            }
            lines[at].push_str(&word);
        }
    }
    lines.join("\n")
}

/// A table without lines. Words in its last column are broken where the line ends, if `last_breaks`.
pub(super) fn plain(mut table: Table, last_breaks: bool) -> String {
    table.load_style(presets::NOTHING);
    if last_breaks {
        let last = table.column_count().saturating_sub(1);
        for column in table.column_iter_mut().take(last) {
            column.set_constraint(ColumnConstraint::ContentWidth);
        }
        table.set_content_arrangement(ContentArrangement::Dynamic);
        table.set_width(WIDTH as u16 + 1);
    }
    table.trim_fmt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_longer_than_the_terminal_and_no_word_is_lost() {
        let words = "shear strength of hornbeam along the grain of a board that nobody measured ".repeat(5);
        let text = wrapped(&words);
        assert!(text.lines().all(|line| line.chars().count() <= WIDTH), "{text}");
        assert!(text.lines().skip(1).all(|line| line.starts_with("  ")), "{text}");
        assert_eq!(text.split_whitespace().collect::<Vec<_>>(), words.split_whitespace().collect::<Vec<_>>());
        assert_eq!(wrapped(&"x".repeat(100)), "x".repeat(100));
        let parted = format!("{} 35 %), wet", "x".repeat(WIDTH - 4));
        assert!(wrapped(&parted).contains("\n  35 %), wet"), "{}", wrapped(&parted));
    }

    #[test]
    fn the_last_column_is_broken_and_the_others_are_not() {
        let mut table = Table::new();
        table.add_row(["stick", "448.00 mm", &"one saw cut and what the chuck holds ".repeat(4)]);
        table.add_row(["a long name of something", "5.00 mm", ""]);
        let text = plain(table, true);
        assert!(text.lines().count() > 2 && text.lines().all(|line| line.chars().count() <= WIDTH), "{text}");
        assert!(
            text.contains("448.00 mm  one saw cut") && text.contains("a long name of something"),
            "{text}"
        );
    }
}
