//! The crates that are built into the tool and their licences, as `tests/licences.txt` lists them, against what cargo
//! knows of the tree. `RENEW_LICENCES=1 cargo test --test licences` writes the list anew; read what is new in it.

#![cfg(all(target_os = "linux", target_arch = "x86_64"))]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use std::process::Command;

use serde_json::Value;

/// Licences that let anyone use, change and pass on the whole; each crate must offer one of them.
const FREE: [&str; 8] =
    ["MIT", "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "Zlib", "Unlicense", "Unicode-3.0", "0BSD"];

/// The list is that of one platform, so that it does not hang on where it is made; others add crates of their own.
const PLATFORM: &str = "x86_64-unknown-linux-gnu";

/// Crates that are linked into the tool, by name, with their licence. Those that only tests use are not.
fn built_in() -> BTreeMap<String, String> {
    let output = Command::new(env!("CARGO"))
        .args([
            "metadata",
            "--format-version",
            "1",
            "--locked",
            "--offline",
            "--filter-platform",
            PLATFORM,
            "--manifest-path",
        ])
        .arg(Path::new(env!("CARGO_MANIFEST_DIR")).join("Cargo.toml"))
        .output()
        .expect("cargo is there");
    let tree: Value = serde_json::from_slice(&output.stdout).expect("cargo writes JSON");
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let list = |value: &Value| value.as_array().cloned().unwrap_or_default();
    let packages: BTreeMap<String, (String, String)> = list(&tree["packages"])
        .iter()
        .map(|one| (text(&one["id"]), (text(&one["name"]), text(&one["license"]))))
        .collect();
    let needs: BTreeMap<String, Vec<String>> = list(&tree["resolve"]["nodes"])
        .iter()
        .map(|node| {
            let built = |one: &&Value| list(&one["dep_kinds"]).iter().any(|kind| kind["kind"] != "dev");
            let deps = list(&node["deps"]);
            (text(&node["id"]), deps.iter().filter(built).map(|one| text(&one["pkg"])).collect())
        })
        .collect();
    let root = text(&tree["resolve"]["root"]);
    let (mut open, mut seen) = (vec![root.clone()], BTreeSet::new());
    while let Some(id) = open.pop() {
        if seen.insert(id.clone()) {
            open.extend(needs.get(&id).cloned().unwrap_or_default());
        }
    }
    seen.remove(&root);
    seen.iter().filter_map(|id| packages.get(id).cloned()).collect()
}

#[test]
fn every_crate_is_listed_and_free() {
    let crates = built_in();
    assert!(crates.len() > 30, "{crates:?}");
    for (name, licence) in &crates {
        let words = licence.split(['/', ' ', '(', ')']);
        assert!(words.clone().any(|word| FREE.contains(&word)), "{name} is under {licence}");
    }
    let lines: Vec<String> = crates.iter().map(|(name, licence)| format!("{name}: {licence}")).collect();
    let listed = lines.join("\n") + "\n";
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/licences.txt");
    if std::env::var_os("RENEW_LICENCES").is_some() {
        fs::write(&path, listed).expect("the list can be written");
        return;
    }
    let kept = fs::read_to_string(&path).unwrap_or_default();
    assert!(
        kept == listed,
        "tests/licences.txt is of another tree: RENEW_LICENCES=1 writes it anew\n{listed}"
    );
}
