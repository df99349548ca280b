//! The examples that `explain` shows: one for each code, as a case under tests/ really raised it. They stand in
//! `src/finding/examples.txt`, a block for each code, and are held by the test that raises them.
//!
//! `RENEW_EXAMPLES=1 cargo test` writes them anew.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::fs;
use std::sync::{Mutex, PoisonError};

use threadwright::finding::{Finding, registry};

/// What a finding says, in a few plain lines.
fn rendered(finding: &Finding) -> String {
    let weight = format!("{:?}", finding.severity).to_lowercase();
    let mut text = format!("{weight}[{}]: {}\n", finding.code.name, finding.message);
    if let Some(mark) = &finding.mark {
        let (line, column) = mark.line_column();
        // A long text is shortened; what is missing is no secret.
        let marked: String = mark.text().lines().next().unwrap_or_default().chars().take(60).collect();
        let _ = writeln!(text, "  at {}:{line}:{column} `{marked}`", mark.source.name());
    }
    if let Some(help) = &finding.help {
        let _ = writeln!(text, "  help: {help}");
    }
    text
}

fn stored(text: &str) -> BTreeMap<String, String> {
    let blocks = text.split("\n# ").map(|block| block.strip_prefix("# ").unwrap_or(block));
    blocks
        .filter_map(|block| block.split_once('\n'))
        .map(|(code, text)| (code.to_owned(), text.to_owned()))
        .collect()
}

/// Holds the examples of the codes that a test owns against what it raised: each must be one of them.
pub(crate) fn hold<'f>(owns: impl Fn(&str) -> bool, raised: impl IntoIterator<Item = &'f Finding>) {
    hold_texts(owns, raised.into_iter().map(|finding| (finding.code.name.to_owned(), rendered(finding))));
}

/// The same of codes and what was said.
pub(crate) fn hold_texts(owns: impl Fn(&str) -> bool, raised: impl IntoIterator<Item = (String, String)>) {
    // Tests of one binary run side by side.
    static ONE_AT_A_TIME: Mutex<()> = Mutex::new(());
    let _turn = ONE_AT_A_TIME.lock().unwrap_or_else(PoisonError::into_inner);
    let path = super::root().join("src/finding/examples.txt");
    let mut blocks = stored(&fs::read_to_string(&path).unwrap_or_default());
    let mut mine: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (code, text) in raised.into_iter().filter(|(code, _)| owns(code)) {
        mine.entry(code).or_default().push(text);
    }
    if std::env::var_os("RENEW_EXAMPLES").is_some() {
        for (code, examples) in &mine {
            if !blocks.get(code).is_some_and(|block| examples.contains(block)) {
                blocks.insert(code.clone(), examples[0].clone());
            }
        }
        let all = registry().filter_map(|code| Some((code.name, blocks.get(code.name)?)));
        let text = all.map(|(code, block)| format!("# {code}\n{block}")).collect::<Vec<_>>().join("\n");
        fs::write(&path, text).expect("the examples can be written");
        return;
    }
    for (code, examples) in &mine {
        let block = blocks.get(code).map_or("nothing", String::as_str);
        assert!(
            examples.iter().any(|example| example == block),
            "the example of {code} is not said any more (RENEW_EXAMPLES=1):\n{block}\nbut:\n{}",
            examples[0]
        );
    }
}
