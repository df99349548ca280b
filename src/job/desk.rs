//! The checker's desk: where each key was written, which keys are already spoiled by a reported fault, and what has
//! been found. Turns written numbers into held ones and keeps them in range. Knows no relation between two keys.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::Marks;
use super::amount::Amount;
use super::limits::{self, Limit, Quantity, tidy};
use crate::finding::{Code, Finding, Severity, job as codes};
use crate::source::{Mark, Source};
use crate::units::LengthUnit;

/// Two lengths that are to agree may differ by this: less than a wooden screw shows, more than the rounding of
/// a length written with two decimals.
pub(super) const AGREE_MM: f64 = 0.01;

/// A key that must be given: its dotted key, and what to write for example in mm and in inches.
pub(super) type Required = (&'static str, &'static str, &'static str);

/// What is known while a job is checked.
#[derive(Debug, Default)]
pub(super) struct Desk {
    /// Where each key was written.
    pub(super) marks: Marks,
    /// What has been found.
    pub(super) findings: Vec<Finding>,
    /// Keys and tables about which a fault was already reported: their absence is no news.
    spoiled: BTreeSet<String>,
    /// First line of each file by the prefix of its keys: empty for the job, `machine` or `cutter` for a file of
    /// its own, whose tables are then shown without that prefix.
    heads: BTreeMap<String, Mark>,
}

impl Desk {
    /// Keeps a finding.
    pub(super) fn find(&mut self, finding: Finding) {
        self.findings.push(finding);
    }

    /// Reports a finding at a key, and perhaps with the key that speaks against it.
    pub(super) fn complain(
        &mut self,
        code: &'static Code,
        key: &str,
        message: impl Into<String>,
        also: Option<(&str, String)>,
        help: impl Into<String>,
    ) {
        let mut finding = Finding::new(code, message).at_some(self.marks.get(key)).help(help);
        if let Some((other, words)) = also {
            finding = finding.also_at(self.marks.get(other), words);
        }
        self.find(finding);
    }

    /// Notes that a fault about this key or table was reported.
    pub(super) fn spoil(&mut self, key: impl Into<String>) {
        self.spoiled.insert(key.into());
    }

    /// Notes that the keys with this prefix stand in a file of their own.
    pub(super) fn own_file(&mut self, prefix: &str, source: &Arc<Source>) {
        self.heads.insert(prefix.to_owned(), Mark::line(source, 1));
    }

    /// Whether the key was written, well or badly.
    pub(super) fn given(&self, key: &str) -> bool {
        self.marks.get(key).is_some() || self.is_spoiled(key)
    }

    /// Whether anything found so far forbids cutting.
    pub(super) fn stops(&self) -> bool {
        self.findings.iter().any(|finding| finding.severity == Severity::Stop)
    }

    /// Whether a fault about this key, or a table that holds it, was reported.
    pub(super) fn is_spoiled(&self, key: &str) -> bool {
        let mut tables = key.match_indices('.').map(|(at, _)| &key[..at]);
        // The empty key stands for a whole file.
        self.spoiled.contains("")
            || self.spoiled.contains(key)
            || tables.any(|table| self.spoiled.contains(table))
    }

    /// A dotted table as its file writes it, in brackets; empty for the top of a file.
    pub(super) fn table_name(&self, table: &str) -> String {
        let root = table.split('.').next().unwrap_or("");
        let shown = if self.heads.contains_key(root) {
            table.strip_prefix(root).unwrap_or(table).trim_start_matches('.')
        } else {
            table
        };
        let in_list = shown.rsplit_once('.').filter(|(_, at)| at.bytes().all(|b| b.is_ascii_digit()));
        if shown.is_empty() {
            String::new()
        } else if let Some((list, _)) = in_list {
            format!("[[{list}]]")
        } else if shown.contains(' ') {
            format!("[\"{shown}\"]")
        } else {
            format!("[{shown}]")
        }
    }

    /// Reports every required key that was not written; a table that is missing as a whole is reported once.
    pub(super) fn require(&mut self, required: &[Required], unit: LengthUnit) {
        let mut absent_tables: Vec<&str> = Vec::new();
        for &(key, in_mm, in_inch) in required {
            if self.given(key) {
                continue;
            }
            let (table, leaf) = key.rsplit_once('.').unwrap_or(("", key));
            let has_table = self.heads.contains_key(table) || self.marks.get(table).is_some();
            if !has_table {
                if !absent_tables.contains(&table) {
                    absent_tables.push(table);
                }
                continue;
            }
            let shown = self.table_name(table);
            let example = if unit == LengthUnit::Mm { in_mm } else { in_inch };
            let how = how_to_find(leaf);
            let (message, help) = if shown.is_empty() {
                (
                    format!("`{leaf}` is missing"),
                    format!("add a line such as {example} above the first [table]{how}"),
                )
            } else {
                (
                    format!("`{leaf}` is missing in {shown}"),
                    format!("add a line such as {example} below {shown}{how}"),
                )
            };
            self.missing(table, message, help);
        }
        for table in absent_tables {
            let shown = self.table_name(table);
            let below = required.iter().filter_map(|row| row.0.strip_prefix(table)?.strip_prefix('.'));
            let keys = below.filter(|leaf| !leaf.contains('.')).collect::<Vec<_>>().join(", ");
            let above = table.rsplit_once('.').map_or("", |(above, _)| above);
            self.missing(above, format!("the table {shown} is missing"), format!("add {shown} with {keys}"));
        }
    }

    /// Reports a key of a table that was not written.
    pub(super) fn require_at(&mut self, table: &str, leaf: &str, example: &str) {
        if !self.given(&format!("{table}.{leaf}")) {
            let shown = self.table_name(table);
            let message = format!("`{leaf}` is missing in {shown}");
            self.missing(table, message, format!("add a line such as {example} below {shown}"));
        }
    }

    /// A missing key is shown at the head of its table, or at the head of its file.
    fn missing(&mut self, table: &str, message: String, help: String) {
        let mark = self.heads.get(table).or_else(|| self.marks.get(table)).cloned();
        self.find(Finding::new(&codes::KEY_MISSING, message).at_some(mark.as_ref()).help(help));
    }

    /// A written number as it is held (lengths in mm), if it lies in its range; otherwise reports it.
    pub(super) fn number(
        &mut self,
        key: &str,
        written: Option<impl Into<Amount>>,
        unit: LengthUnit,
    ) -> Option<f64> {
        let written: Amount = written?.into();
        let row =
            limits::limit(key).expect("a test of the limits finds a row for every key that is asked for");
        if written.unit.is_some() && !matches!(row.quantity, Quantity::Length | Quantity::Temperature) {
            let help = format!("write {} = {}", leaf(key), tidy(written.number, 4));
            let message = format!("`{}` is no length and takes no unit", leaf(key));
            self.find(Finding::new(&codes::KIND_WRONG, message).at_some(self.marks.get(key)).help(help));
            return None;
        }
        let unit = written.unit.unwrap_or(unit);
        let held = row.quantity.hold(written.number, unit);
        if held >= row.least && held <= row.most {
            return Some(held);
        }
        self.out_of_range(key, row, written, unit);
        None
    }

    /// A written count as a whole number, if it lies in its range.
    pub(super) fn count(&mut self, key: &str, written: Option<u32>) -> Option<u32> {
        self.number(key, written, LengthUnit::Mm).and(written)
    }

    fn out_of_range(&mut self, key: &str, row: &Limit, written: Amount, unit: LengthUnit) {
        // The greatest numbers of all leave the range of numbers when inches become mm.
        let held = row.quantity.hold(written.number, unit).clamp(f64::MIN, f64::MAX);
        let nearest = held.clamp(row.least, row.most);
        let wanted = if held < row.least {
            format!("the least is {}: {}", row.quantity.say(row.least, unit), row.why_least)
        } else {
            format!("the most is {}: {}", row.quantity.say(row.most, unit), row.why_most)
        };
        let leaf = leaf(key);
        let in_list = leaf != key.rsplit('.').next().unwrap_or(key);
        let is = if in_list { "holds" } else { "is" };
        let message = format!("`{leaf}` {is} {}; {wanted}", row.quantity.say_written(written.number, unit));
        let help = if held < 0.0 && matches!(key, "screw.pitch" | "screw.lead") {
            "for a left-hand screw write hand = \"left\" and leave the minus sign out".to_owned()
        } else if let Some(meant) = self.thousands(key, row, held) {
            format!("a point is the decimal point: if thousands are meant, write {leaf} = {meant}")
        } else if let Some(help) = other_unit(leaf, row, written, unit) {
            help
        } else if let Some(meant) = in_hundredths(row, held) {
            format!("write {leaf} = {}", tidy(meant, WRITTEN_DECIMALS))
        } else {
            let (least, most) = (row.quantity.say(row.least, unit), row.quantity.say(row.most, unit));
            let comma = if in_list { "; a decimal takes a point: 1.5, not 1,5" } else { "" };
            format!("write a value from {least} to {most}{comma}")
        };
        let finding = Finding::new(&codes::OUT_OF_RANGE, message).at_some(self.marks.get(key));
        self.find(finding.help(help).values(held, nearest));
    }

    /// `16.000` as sixteen thousand, if that is in range.
    fn thousands(&self, key: &str, row: &Limit, held: f64) -> Option<String> {
        let text = self.marks.get(key)?.text();
        let (whole, part) = text.split_once('.')?;
        let in_range = held * 1000.0 >= row.least && held * 1000.0 <= row.most;
        (part.len() == 3 && whole != "0" && in_range).then(|| format!("{whole}{part}"))
    }
}

/// How a value is found that stands in no manual.
fn how_to_find(leaf: &str) -> &'static str {
    match leaf {
        "backlash" => "; measure it with a dial gauge; 0 only if you know it is none",
        "alike_cuts" => {
            "; turn blank and lead screw the same way, and look which way a pencil in place of the cutter winds"
        }
        _ => "",
    }
}

/// Decimals of a share or a percentage that was written as the other.
const WRITTEN_DECIMALS: usize = 4;

/// A percentage written as a share, or a share as a percentage: the number that was meant, if it is in range.
fn in_hundredths(row: &Limit, held: f64) -> Option<f64> {
    let meant = match row.quantity {
        Quantity::Percent => held * 100.0,
        Quantity::Share => held / 100.0,
        _ => return None,
    };
    (row.least..=row.most).contains(&meant).then_some(meant)
}

/// The help for a number that would be sensible in the other unit.
fn other_unit(leaf: &str, row: &Limit, written: Amount, unit: LengthUnit) -> Option<String> {
    let (other, word, name) = match unit {
        LengthUnit::Mm => (LengthUnit::Inch, "inch", "in"),
        LengthUnit::Inch => (LengthUnit::Mm, "mm", "mm"),
    };
    let held = row.quantity.hold(written.number, other);
    let would_do = held != row.quantity.hold(written.number, unit) && held >= row.least && held <= row.most;
    if !would_do || written.unit.is_some() {
        return None;
    }
    let plural = if other == LengthUnit::Inch { "inches" } else { word };
    let number = tidy(written.number, 4);
    Some(if row.quantity == Quantity::Temperature {
        let scale = if other == LengthUnit::Inch { "F" } else { "C" };
        format!("if degrees {scale} are meant, write {leaf} = \"{number} {scale}\"")
    } else if row.quantity == Quantity::Length {
        format!("if {number} {name} is meant, write units = \"{word}\", or {leaf} = \"{number} {name}\"")
    } else {
        format!("if it is meant in {plural}, write units = \"{word}\"")
    })
}

/// The last part of a dotted key; an element of a list is named by its list.
pub(super) fn leaf(key: &str) -> &str {
    key.rsplit('.').find(|part| !part.bytes().all(|b| b.is_ascii_digit())).unwrap_or(key)
}
