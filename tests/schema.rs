//! The JSON Schemas of the files, held by a validator from the registry (the `jsonschema` crate, draft 2020-12): every sample
//! passes, every misspelt key and every wrong kind fails, as in the reader.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::{Value, json};
use threadwright::finding::job as codes;
use threadwright::job::{self, FileKind, LIMITS, schema};
use threadwright::source::Source;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The TOML files of a folder, as JSON has them.
fn files(folder: &str) -> Vec<(PathBuf, Value)> {
    let entries = fs::read_dir(root().join(folder)).expect("the folder is there");
    let mut paths: Vec<PathBuf> = entries.map(|entry| entry.expect("an entry").path()).collect();
    paths.retain(|path| path.extension().is_some_and(|end| end == "toml"));
    paths.sort();
    assert!(!paths.is_empty(), "{folder} is empty");
    let read = |path: PathBuf| {
        let text = fs::read_to_string(&path).expect("it is text");
        let value: toml::Value =
            toml::from_str(&text).unwrap_or_else(|why| panic!("{}: {why}", path.display()));
        (path, serde_json::to_value(value).expect("TOML fits into JSON"))
    };
    paths.into_iter().map(read).collect()
}

#[test]
fn good_files_pass_their_schema() {
    let mut checked = 0;
    for (kind, folders) in [
        (FileKind::Job, &["samples", "tests/jobs/version-1"][..]),
        (FileKind::Machine, &["samples/machines"]),
        (FileKind::Cutter, &["samples/cutters"]),
        (FileKind::ThreadMill, &["samples/nut-cutters"]),
        (FileKind::Jig, &["samples/jigs"]),
        (FileKind::Order, &["samples/orders"]),
    ] {
        let validator = jsonschema::validator_for(&schema(kind)).expect("it is a schema");
        for (path, file) in folders.iter().flat_map(|folder| files(folder)) {
            let wrong: Vec<String> = validator
                .iter_errors(&file)
                .map(|error| format!("{error} at {}", error.instance_path()))
                .collect();
            assert_eq!(wrong, Vec::<String>::new(), "{}", path.display());
            checked += 1;
        }
    }
    assert!(checked > 20, "only {checked} files");
}

/// What the reader calls an unknown key or a wrong kind, the schema refuses too.
#[test]
fn slips_of_key_and_kind_are_refused_as_the_reader_refuses_them() {
    let validator = jsonschema::validator_for(&schema(FileKind::Job)).expect("it is a schema");
    let mut refused = 0;
    let entries = fs::read_dir(root().join("tests/jobs/bad")).expect("the folder is there");
    for path in entries.map(|entry| entry.expect("an entry").path()) {
        let Ok(text) = fs::read_to_string(&path) else { continue };
        let Ok(value) = toml::from_str::<toml::Value>(&text) else { continue };
        let beside = root().join("tests/jobs/bad");
        let (_, findings) = job::read(&Source::new("bad.toml", text), &mut |name| {
            let text = fs::read_to_string(beside.join(name)).map_err(|why| why.to_string())?;
            Ok(Source::new(name, text))
        });
        // The slip must stand in the job itself.
        let own = |finding: &threadwright::finding::Finding| {
            finding.code == &codes::KEY_UNKNOWN
                && finding.mark.as_ref().is_some_and(|mark| mark.source.name() == "bad.toml")
        };
        if findings.iter().any(own) {
            let file = serde_json::to_value(value).expect("TOML fits into JSON");
            assert!(!validator.is_valid(&file), "{} passes the schema", path.display());
            refused += 1;
        }
    }
    assert!(refused > 5, "only {refused} bad jobs have an unknown key");
}

/// Every number that has a range has its words in the schema: none is left behind when a key is added.
#[test]
fn every_number_with_a_range_is_told() {
    let all: Vec<(String, Value)> =
        FileKind::ALL.map(|kind| (kind.name().replace('-', "_"), schema(kind))).to_vec();
    for limit in LIMITS {
        let found = all.iter().any(|(name, schema)| {
            let (table, rest) = limit.key.split_once('.').expect("a dotted key");
            let path = if table == name { rest } else { limit.key };
            let start = if name == "woods" { &schema["additionalProperties"] } else { schema };
            let path = if name == "woods" { path.trim_start_matches("wood.") } else { path };
            let property = path.split('.').fold(start, |at, key| &at["properties"][key]);
            property["description"].is_string()
        });
        assert!(found, "{} has no words in any schema", limit.key);
    }
}

/// Files of older days are still read: those of version 1 as they were when they were kept.
#[test]
fn files_of_version_1_are_still_read() {
    assert_eq!(job::FILES_VERSION, 1);
    let folder = root().join("tests/jobs/version-1");
    for (path, _) in files("tests/jobs/version-1") {
        let source = Source::new("old.toml", fs::read_to_string(&path).expect("it is text"));
        let (job, findings) = job::read(&source, &mut |name| {
            let text = fs::read_to_string(folder.join(name)).map_err(|why| why.to_string())?;
            Ok(Source::new(name, text))
        });
        let said: Vec<&str> = findings.iter().map(|finding| finding.message.as_str()).collect();
        assert!(job.is_some() && said.is_empty(), "{}: {said:?}", path.display());
    }
    assert_eq!(schema(FileKind::Order)["properties"]["title"]["type"], json!(["string", "null"]));
}
