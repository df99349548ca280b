//! An order: several screws to be made together, each by a job of its own. Every fault at once; opens no files.

use std::sync::Arc;

use schemars::JsonSchema;
use serde::Deserialize;
use toml::Spanned;
use toml::de::DeValue;

use super::desk::Desk;
use super::page;
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

/// The file as its schema tells it.
#[derive(Debug, JsonSchema)]
#[schemars(deny_unknown_fields)]
#[expect(dead_code, reason = "it stands for the shape of the file: the parts below are read one by one")]
pub(super) struct OrderFile {
    /// What the shop calls it.
    title: Option<String>,
    /// Its screws.
    screw: Option<Vec<OrderedFile>>,
}

/// What stands beside the screws.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, expecting = "a table")]
struct HeadFile {
    title: Option<String>,
}

/// `[[screw]]`.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a table")]
struct OrderedFile {
    /// Path of its job, from the folder of the order.
    job: Option<String>,
    /// How many are made; one, if nothing is said.
    pieces: Option<u32>,
}

/// Reads an order file.
pub fn read_order(source: &Arc<Source>) -> (Option<Order>, Vec<Finding>) {
    let mut desk = Desk::default();
    let order = check(source, &mut desk);
    (order.filter(|_| !desk.stops()), desk.findings)
}

fn check(source: &Arc<Source>, desk: &mut Desk) -> Option<Order> {
    let text = page::mend(source, "", desk)?;
    let mut table = page::parse(&text);
    let screws = table.remove("screw");
    if let Some(one) = screws.as_ref().filter(|screws| matches!(screws.get_ref(), DeValue::Table(_))) {
        desk.find(single(source, one));
        return None;
    }
    let head: HeadFile = page::fill(table, source, "", desk);
    let list = match screws.map(Spanned::into_inner) {
        Some(DeValue::Array(list)) => list.into_iter().collect(),
        _ => Vec::new(),
    };
    let mut screws: Vec<Ordered> = Vec::new();
    let count = list.len();
    for (index, one) in list.into_iter().enumerate() {
        let place = Mark::new(source, one.span());
        let DeValue::Table(one) = one.into_inner() else { continue };
        let prefix = format!("screw.{index}");
        let one: OrderedFile = page::fill(one, source, &prefix, desk);
        screws.extend(ordered(one, &prefix, &place, &screws, desk));
    }
    if count == 0 && !desk.stops() {
        desk.find(
            Finding::new(&codes::KEY_MISSING, "the order names no screw")
                .at(Mark::line(source, 1))
                .help("add [[screw]] with job = \"press.toml\" below it"),
        );
    }
    Some(Order { title: head.title.unwrap_or_else(|| "order".to_owned()), screws })
}

/// One screw in single brackets: an order that lacks the others, or a job.
fn single(source: &Arc<Source>, screw: &Spanned<DeValue<'_>>) -> Finding {
    let mark = Mark::new(source, screw.span());
    if screw.get_ref().get("job").is_some() {
        return Finding::new(
            &codes::FILE_SYNTAX,
            "the screws of an order are a list, also when there is one",
        )
        .at(mark)
        .help("write [[screw]], with two brackets on either side");
    }
    Finding::new(&codes::KIND_WRONG, "this is a job, one screw; an order names jobs")
        .at(mark)
        .help("cut it with `threadwright cut`, or name it in an order: [[screw]] with job = \"its path\"")
}

/// One screw of the list, unless something is wrong with it.
fn ordered(
    one: OrderedFile,
    prefix: &str,
    place: &Mark,
    before: &[Ordered],
    desk: &mut Desk,
) -> Option<Ordered> {
    let at = |key: &str, desk: &Desk| desk.marks.get(&format!("{prefix}.{key}")).cloned();
    let Some(job) = one.job else {
        if !desk.is_spoiled(&format!("{prefix}.job")) {
            let finding = Finding::new(&codes::KEY_MISSING, "this screw of the order names no job");
            desk.find(finding.at(place.clone()).help("write job = \"press.toml\" below [[screw]]"));
        }
        return None;
    };
    let mark = at("job", desk).unwrap_or_else(|| place.clone());
    if job.chars().any(char::is_control) {
        let words =
            "a \\ has a meaning of its own between these quotes: this path holds a sign that no file has";
        let finding = Finding::new(&codes::FILE_SYNTAX, words).at(mark);
        desk.find(finding.help("write / between folders, or put the path between single quotes"));
        return None;
    }
    let pieces = one.pieces.unwrap_or(1);
    if !(1..=MOST_PIECES).contains(&pieces) {
        let finding = Finding::new(&codes::OUT_OF_RANGE, format!("{pieces} pieces are ordered"));
        let finding = finding.at(at("pieces", desk).unwrap_or(mark));
        desk.find(finding.help(format!("write a whole number from 1 to {MOST_PIECES}")));
        return None;
    }
    if let Some(first) = before.iter().find(|other| other.job == job) {
        desk.find(
            Finding::new(&codes::DISAGREE, format!("{job} is ordered twice"))
                .at(mark)
                .also_at(Some(&first.mark), "ordered here already")
                .help("name it once and write how many as pieces"),
        );
        return None;
    }
    Some(Ordered { job, pieces, mark })
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
        assert_eq!(said("[[screw]]\nfile = \"a.toml\"\n")[0].0, "key-unknown");
    }
}
