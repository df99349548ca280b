//! The files as JSON Schema, for editors that complete and check while one types. Made from the very types that the files
//! are read into, so no key can be in one and not in the other; the ranges come from the table of limits.

use schemars::{JsonSchema, SchemaGenerator, generate::SchemaSettings};
use serde_json::{Map, Value, json};

use super::file::{CutterFile, JigFile, JobFile, MachineFile, ThreadMillFile, WoodFile};
use super::limits::{LIMITS, Limit};
use super::order::OrderFile;
use crate::units::LengthUnit;

/// Version of the files' shape: within one, keys are added and none is taken away or given another meaning, so that files of
/// older days are still read.
pub const FILES_VERSION: u32 = 1;

/// A kind of file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileKind {
    /// A job, its machine and cutter as paths or tables.
    Job,
    /// A machine.
    Machine,
    /// A cutter.
    Cutter,
    /// A thread mill for nuts.
    ThreadMill,
    /// A hand jig.
    Jig,
    /// A file of woods.
    Woods,
    /// An order.
    Order,
}

impl FileKind {
    /// Every kind.
    pub const ALL: [FileKind; 7] = [
        FileKind::Job,
        FileKind::Machine,
        FileKind::Cutter,
        FileKind::ThreadMill,
        FileKind::Jig,
        FileKind::Woods,
        FileKind::Order,
    ];

    /// Its name: `job`, `thread-mill`.
    pub fn name(self) -> &'static str {
        match self {
            FileKind::Job => "job",
            FileKind::Machine => "machine",
            FileKind::Cutter => "cutter",
            FileKind::ThreadMill => "thread-mill",
            FileKind::Jig => "jig",
            FileKind::Woods => "woods",
            FileKind::Order => "order",
        }
    }
}

/// The schema of a kind of file, as draft 2020-12 has it. Keys that a file must have are not told: an editor checks what is
/// there, the reader says what is missing and why. Words are told in small letters; the reader takes capitals and other
/// usual words as well.
pub fn schema(kind: FileKind) -> Value {
    let mut value = match kind {
        FileKind::Job => job(),
        FileKind::Machine => of::<MachineFile>("machine"),
        FileKind::Cutter => of::<CutterFile>("cutter"),
        FileKind::ThreadMill => of::<ThreadMillFile>("thread_mill"),
        FileKind::Jig => of::<JigFile>("jig"),
        FileKind::Woods => json!({ "type": "object", "additionalProperties": of::<WoodFile>("wood") }),
        FileKind::Order => of::<OrderFile>("order"),
    };
    if let Some(map) = value.as_object_mut() {
        let title = format!("threadwright: {} file, version {FILES_VERSION}", kind.name());
        map.insert("$schema".to_owned(), json!("https://json-schema.org/draft/2020-12/schema"));
        map.insert("title".to_owned(), json!(title));
    }
    value
}

/// A job: its tables, and what may be a path or a table.
fn job() -> Value {
    let mut value = of::<JobFile>("");
    let parts = [
        ("machine", of::<MachineFile>("machine")),
        ("cutter", of::<CutterFile>("cutter")),
        ("jig", of::<JigFile>("jig")),
    ];
    if let Some(properties) = value.get_mut("properties").and_then(Value::as_object_mut) {
        for (name, table) in parts {
            let either = json!({
                "description": "path of a file, from the folder of the job, or the table itself",
                "anyOf": [{ "type": "string" }, table],
            });
            properties.insert(name.to_owned(), either);
        }
    }
    value
}

/// A table that stands under a key, everything in it written out.
fn of<T: JsonSchema>(key: &str) -> Value {
    let settings = SchemaSettings::draft2020_12().with(|settings| settings.inline_subschemas = true);
    let mut value = SchemaGenerator::new(settings).into_root_schema_for::<T>().to_value();
    if let Some(map) = value.as_object_mut() {
        map.remove("$schema");
        map.remove("title");
        describe(map, key);
    }
    value
}

/// Puts to every number what it measures and how far it may go. A length may be written in another unit, so its bounds are
/// told and not enforced.
fn describe(table: &mut Map<String, Value>, key: &str) {
    let Some(properties) = table.get_mut("properties").and_then(Value::as_object_mut) else { return };
    for (name, property) in properties {
        let path = if key.is_empty() { name.clone() } else { format!("{key}.{name}") };
        let Some(map) = property.as_object_mut() else { continue };
        if let Some(limit) = LIMITS.iter().find(|limit| limit.key == path) {
            map.insert("description".to_owned(), json!(words(limit)));
        }
        describe(map, &path);
    }
}

fn words(limit: &Limit) -> String {
    let say = |held: f64| limit.quantity.say(held, LengthUnit::Mm);
    format!("{} to {}", say(limit.least), say(limit.most))
}
