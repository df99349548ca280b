//! A test's rows against one source. Each sheet leaves a line in `table.md`: what was checked, against what, how the values
//! are known, how near they came. `RENEW_HANDBOOK=1 cargo test --test handbook` writes the lines anew.

use std::collections::BTreeMap;
use std::fs;
use std::panic::Location;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

/// How the values of a sheet are known.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Known {
    /// Read in the source.
    Seen,
    /// From memory of the source.
    Memory,
    /// Reckoned by another way than the tool's, by hand or by a program of its own.
    Derived,
    /// Some of each; the test says which.
    SeenAndDerived,
    /// Some of each; the test says which.
    SeenAndMemory,
    /// Common practice, no source.
    Practice,
}

impl Known {
    fn words(self) -> &'static str {
        match self {
            Known::Seen => "seen",
            Known::Memory => "from memory",
            Known::Derived => "derived",
            Known::SeenAndDerived => "seen, derived",
            Known::SeenAndMemory => "seen, from memory",
            Known::Practice => "common practice",
        }
    }
}

/// Rows checked so far, with what was wrong in them.
pub(crate) struct Sheet {
    what: &'static str,
    source: &'static str,
    known: Known,
    rows: usize,
    /// Greatest share of what a row may be off that one was off.
    farthest: f64,
    wrong: Vec<String>,
}

/// A row that may be off by less than this is there for rounding alone, and how far it is off says nothing.
const ROUNDING: f64 = 1e-10;

impl Sheet {
    /// An empty sheet: the quantity, where its values stand, how they are known.
    pub(crate) fn of(what: &'static str, source: &'static str, known: Known) -> Self {
        Sheet { what, source, known, rows: 0, farthest: 0.0, wrong: Vec::new() }
    }

    /// Compares one value with the printed one.
    pub(crate) fn row(&mut self, what: &str, got: f64, printed: f64, within: f64) {
        self.rows += 1;
        let off = (got - printed).abs();
        // A NaN is never close.
        let close = off <= within;
        if !close {
            self.wrong.push(format!("{what}: got {got:.7}, printed {printed}, within {within}"));
        }
        if ROUNDING < within {
            self.farthest = self.farthest.max(off / within);
        }
    }

    /// Fails with every wrong row, or when the sheet's line in the table is another.
    #[track_caller]
    pub(crate) fn done(self) {
        assert!(self.rows > 0, "nothing was checked");
        assert!(
            self.wrong.is_empty(),
            "{} of {} rows:\n{}",
            self.wrong.len(),
            self.rows,
            self.wrong.join("\n")
        );
        let file = Path::new(Location::caller().file()).file_stem().and_then(|stem| stem.to_str());
        let line = format!(
            "| {} | {} | {} | {} | {} | {} |",
            file.unwrap_or_default(),
            self.what,
            self.source,
            self.known.words(),
            self.rows,
            near(self.farthest)
        );
        hold(&line);
    }
}

/// How far the farthest row was off, roughly: the last digits of a number differ from one processor to the next.
fn near(share: f64) -> String {
    match (share * 10.0).ceil() {
        0.0 => "nothing".to_owned(),
        tenths => format!("{:.1}", tenths / 10.0),
    }
}

fn table_path() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/handbook/table.md")
}

/// File and quantity of a line.
fn key(line: &str) -> Option<[&str; 2]> {
    let mut cells = line.strip_prefix("| ")?.split(" | ");
    Some([cells.next()?, cells.next()?])
}

/// The lines of the table, without its head.
fn lines(text: &str) -> impl Iterator<Item = &str> {
    text.lines().skip_while(|line| !line.starts_with("| ---")).skip(1)
}

const HEAD: &str = "# What is checked against the outside

Written by the tests of this folder (`RENEW_HANDBOOK=1 cargo test --test handbook`), which hold it. A value may be off by
half of its last printed digit unless its test says why by more; the last column is how far the farthest row was off, as a
share of that.

| test | quantity | source | known | values | farthest |
| --- | --- | --- | --- | --- | --- |
";

/// Holds a line against the table, or puts it there.
fn hold(line: &str) {
    static ONE_WRITER: Mutex<()> = Mutex::new(());
    let path = table_path();
    if std::env::var_os("RENEW_HANDBOOK").is_none() {
        let text = fs::read_to_string(path).expect("the table is there");
        assert!(
            text.lines().any(|kept| kept == line),
            "the table of this folder lacks (RENEW_HANDBOOK=1):\n{line}"
        );
        return;
    }
    let _one = ONE_WRITER.lock().unwrap_or_else(PoisonError::into_inner);
    let text = fs::read_to_string(&path).unwrap_or_default();
    let all = lines(&text).chain([line]).filter_map(|line| Some((key(line)?, line)));
    let all: BTreeMap<_, _> = all.collect();
    let all: Vec<&str> = all.into_values().collect();
    fs::write(path, format!("{HEAD}{}\n", all.join("\n"))).expect("the table can be written");
}

#[test]
fn no_line_of_the_table_is_left_over() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/handbook");
    let text = fs::read_to_string(table_path()).expect("the table is there");
    for line in lines(&text) {
        let [file, what] = key(line).expect("a line of the table");
        let test = fs::read_to_string(folder.join(format!("{file}.rs"))).unwrap_or_default();
        assert!(test.contains(&format!("\"{what}\"")), "no test of {file} checks {what}: take its line out");
    }
}
