//! The one document that `--json` prints, whatever the verb and whether it went well or not. Names only grow; a null
//! says "not measured" or "not known".

use serde::Serialize;
use serde_json::{Map, Value, json};

use crate::finding::{Finding, Severity};
use crate::proof::Proof;

/// Version of the document's shape. A name is never taken away or given another meaning without a new number.
pub const SCHEMA: u32 = 1;

/// A document being put together.
#[derive(Clone, Debug)]
pub struct Document(Map<String, Value>);

impl Document {
    /// The head that every document has.
    pub fn new(verb: &str) -> Self {
        let mut map = Map::new();
        map.insert("schema".into(), json!(SCHEMA));
        map.insert("tool".into(), json!(concat!("threadwright ", env!("CARGO_PKG_VERSION"))));
        map.insert("verb".into(), json!(verb));
        Document(map)
    }

    /// The beginning of one program's part in a document of several.
    pub fn part(program: &str) -> Self {
        let mut map = Map::new();
        map.insert("program".into(), json!(program));
        Document(map)
    }

    /// The beginning of a part of its own.
    pub fn section() -> Self {
        Document(Map::new())
    }

    /// Adds such a part under a name.
    #[must_use]
    pub fn with_section(mut self, name: &str, section: Document) -> Self {
        self.0.insert(name.into(), Value::Object(section.0));
        self
    }

    /// Adds a list of parts.
    #[must_use]
    pub fn parts(self, name: &str, parts: Vec<Document>) -> Self {
        let list: Vec<Value> = parts.into_iter().map(|part| Value::Object(part.0)).collect();
        self.with(name, list)
    }

    /// Adds a named part. A part that cannot be told as JSON (a number that is none) becomes null.
    #[must_use]
    pub fn with(mut self, name: &str, value: impl Serialize) -> Self {
        self.0.insert(name.into(), serde_json::to_value(value).unwrap_or(Value::Null));
        self
    }

    /// Adds findings.
    #[must_use]
    pub fn findings(self, findings: &[Finding]) -> Self {
        let list: Vec<Value> = findings.iter().map(finding).collect();
        self.with("findings", list)
    }

    /// Adds a proof: verdict, figures, their uncertainty, and findings, put after those given.
    #[must_use]
    pub fn proof(self, proof: &Proof, before: &[Finding]) -> Self {
        let mut findings = before.to_vec();
        findings.extend(proof.findings.iter().cloned());
        self.with("proved", proof.proved())
            .with("measured", proof.measured)
            .with("uncertainty", proof.uncertainty)
            .with("turned", &proof.turned)
            .with("loads", &proof.loads)
            .findings(&findings)
    }

    /// The document as text, ending in a line end.
    pub fn text(&self) -> String {
        serde_json::to_string_pretty(&self.0).unwrap_or_default() + "\n"
    }
}

fn finding(finding: &Finding) -> Value {
    let place = finding.mark.as_ref().map(|mark| (mark.source.name().to_owned(), mark.line_column()));
    let severity = match finding.severity {
        Severity::Stop => "stop",
        Severity::Care => "care",
        Severity::Note => "note",
    };
    let spot = &finding.spot;
    json!({
        "code": finding.code.name,
        "severity": severity,
        "file": place.as_ref().map(|(file, _)| file),
        "line": place.as_ref().map(|(_, (line, _))| line),
        "column": place.as_ref().map(|(_, (_, column))| column),
        "message": finding.message,
        "help": finding.help,
        "x_mm": spot.x_mm,
        "z_mm": spot.z_mm,
        "a_deg": spot.a_deg,
        "s_mm": spot.s_mm,
        "theta_deg": spot.theta_deg,
        "angle_deg": spot.angle_deg,
        "r_mm": spot.r_mm,
        "value": finding.value,
        "wanted": finding.wanted,
        "follows": finding.follows.map(|code| code.name),
        "also": finding.also.iter().map(|(mark, words)| {
            let (line, column) = mark.line_column();
            json!({"file": mark.source.name(), "line": line, "column": column, "message": words})
        }).collect::<Vec<_>>(),
    })
}
