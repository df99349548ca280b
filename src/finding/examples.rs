//! One example for each code: what was really said of a case under tests/. The text is written and held by those tests.

/// All of them, a block for each code.
const EXAMPLES: &str = include_str!("examples.txt");

/// What was said of a case that raises this code: weight, sentence, place and way out. `None` if no case does.
pub fn example(code: &str) -> Option<&'static str> {
    let blocks = EXAMPLES.split("\n# ").map(|block| block.strip_prefix("# ").unwrap_or(block));
    blocks.filter_map(|block| block.split_once('\n')).find(|(name, _)| *name == code).map(|(_, text)| text)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::registry;

    #[test]
    fn every_code_has_an_example() {
        let without: Vec<&str> =
            registry().map(|code| code.name).filter(|name| example(name).is_none()).collect();
        assert!(without.is_empty(), "no example of {without:?}");
        let blocks = EXAMPLES.lines().filter(|line| line.starts_with("# ")).count();
        assert_eq!(blocks, registry().count(), "an example of a code that is no more");
    }
}
