//! An order: several screws to be made together, each by a job of its own. Every fault at once; opens no files.

use std::ops::Range;
use std::sync::Arc;

use schemars::JsonSchema;
use serde::Deserialize;
use toml::Spanned;

use crate::finding::{Finding, job as codes};
use crate::source::{Mark, Source};

/// Most pieces of one screw in an order.
const MOST_PIECES: u32 = 1000;

/// A checked order.
#[derive(Clone, Debug)]
pub struct Order {
    /// What the shop calls it.
    pub title: String,
    /// Its screws.
    pub screws: Vec<Ordered>,
}

/// One screw of an order.
#[derive(Clone, Debug)]
pub struct Ordered {
    /// Path of its job, from the folder of the order.
    pub job: String,
    /// How many are made.
    pub pieces: u32,
    /// Where its job was named.
    pub mark: Mark,
}

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct OrderFile {
    /// What the shop calls it.
    title: Option<String>,
    /// Its screws.
    screw: Option<Vec<OrderedFile>>,
}

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct OrderedFile {
    /// Path of its job, from the folder of the order.
    #[schemars(with = "String")]
    job: Spanned<String>,
    /// How many are made; one, if nothing is said.
    #[schemars(with = "Option<u32>")]
    pieces: Option<Spanned<i64>>,
}

/// Reads an order file.
pub fn read_order(source: &Arc<Source>) -> (Option<Order>, Vec<Finding>) {
    let file: OrderFile = match toml::from_str(source.text()) {
        Ok(file) => file,
        Err(error) => {
            let span: Range<usize> = error.span().unwrap_or(0..0);
            // A job has one table for its screw, an order a list of them.
            let is_job = source.text().lines().any(|line| line.trim() == "[screw]");
            if is_job {
                let finding = Finding::new(&codes::FILE_SYNTAX, "this is a job, one screw; an order names jobs")
                    .at(Mark::new(source, span))
                    .help("cut it with `threadwright cut`, or name it in an order: [[screw]] with job = \"its path\"");
                return (None, vec![finding]);
            }
            let finding = Finding::new(&codes::FILE_SYNTAX, error.message().replace('\n', ", "))
                .at(Mark::new(source, span))
                .help("an order has a title and one [[screw]] for each job, with job = \"path.toml\" and pieces = 1");
            return (None, vec![finding]);
        }
    };
    let mut findings = Vec::new();
    let mut screws: Vec<Ordered> = Vec::new();
    for one in file.screw.unwrap_or_default() {
        let mark = Mark::new(source, one.job.span());
        let pieces = one.pieces.as_ref().map_or(1, |pieces| *pieces.get_ref());
        if let Some(written) = one.pieces.filter(|_| !(1..=i64::from(MOST_PIECES)).contains(&pieces)) {
            findings.push(
                Finding::new(&codes::OUT_OF_RANGE, format!("{pieces} pieces are ordered"))
                    .at(Mark::new(source, written.span()))
                    .help(format!("write a whole number from 1 to {MOST_PIECES}")),
            );
            continue;
        }
        let job = one.job.into_inner();
        if let Some(first) = screws.iter().find(|other| other.job == job) {
            findings.push(
                Finding::new(&codes::DISAGREE, format!("{job} is ordered twice"))
                    .at(mark)
                    .also_at(Some(&first.mark), "ordered here already")
                    .help("name it once and write how many as pieces"),
            );
            continue;
        }
        screws.push(Ordered { job, pieces: pieces as u32, mark });
    }
    if screws.is_empty() && findings.is_empty() {
        findings.push(
            Finding::new(&codes::KEY_MISSING, "the order names no screw")
                .at(Mark::line(source, 1))
                .help("add [[screw]] with job = \"press.toml\" below it"),
        );
    }
    let order = Order { title: file.title.unwrap_or_else(|| "order".to_owned()), screws };
    (findings.is_empty().then_some(order), findings)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(text: &str) -> Vec<(&'static str, String)> {
        let (order, findings) = read_order(&Source::new("order.toml", text));
        assert_eq!(order.is_none(), !findings.is_empty());
        findings.into_iter().map(|finding| (finding.code.name, finding.message)).collect()
    }

    #[test]
    fn orders_are_read_and_every_fault_is_told() {
        let good =
            "title = \"spring\"\n[[screw]]\njob = \"a.toml\"\npieces = 2\n[[screw]]\njob = \"b.toml\"\n";
        let order = read_order(&Source::new("order.toml", good)).0.expect("a good order");
        let pieces: Vec<u32> = order.screws.iter().map(|one| one.pieces).collect();
        assert_eq!((order.title.as_str(), pieces), ("spring", vec![2, 1]));
        let bad = "[[screw]]\njob = \"a.toml\"\npieces = 0\n[[screw]]\njob = \"b.toml\"\n[[screw]]\njob = \"b.toml\"\n";
        let codes: Vec<&str> = said(bad).into_iter().map(|(code, _)| code).collect();
        assert_eq!(codes, ["out-of-range", "disagree"]);
        assert_eq!(said("")[0].0, "key-missing");
        assert_eq!(said("[[screw]]\nfile = \"a.toml\"\n")[0].0, "file-syntax");
    }
}
