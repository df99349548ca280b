//! The house rules that a scan of the sources can hold: layers, file heads, top level, naked tolerances, words.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Every file below a folder, sorted; hidden and built ones left out.
fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut open = vec![folder.to_path_buf()];
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(&folder).expect("a folder of the project can be listed") {
            let path = entry.expect("its entries can be read").path();
            if path.is_dir() && !path.ends_with("target") {
                open.push(path);
            } else if path.is_file() {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

fn rust_files(folder: &str) -> Vec<(String, String)> {
    files(&root().join(folder))
        .into_iter()
        .filter(|path| path.extension().is_some_and(|ending| ending == "rs"))
        .map(|path| {
            let name = path.strip_prefix(root()).expect("it lies below the root").display().to_string();
            (name, fs::read_to_string(&path).expect("sources are text"))
        })
        .collect()
}

/// The room of a source file: its folder under `src`, or its own name for a file directly there.
fn room(name: &str) -> &str {
    let below = name.strip_prefix("src/").expect("sources lie in src");
    below.split('/').next().map_or(below, |part| part.trim_end_matches(".rs"))
}

const COMMON: &[&str] = &["units", "source", "finding", "setup", "drawing", "pressure", "stiffness"];

/// What each room may import besides itself.
fn allowed(room: &str) -> Vec<&'static str> {
    let more: &[&str] = match room {
        "units" | "source" => return vec![],
        "setup" | "drawing" => return vec!["units"],
        "finding" => return vec!["source"],
        "pressure" | "stiffness" => return vec!["setup"],
        "wood" | "rs274" => &[],
        "job" => &["wood"],
        "design" => &["wood", "job"],
        "press" => &["wood", "job", "design"],
        "feeds" | "gears" => &["job", "design"],
        "toolpath" => &["job", "design", "feeds"],
        "post" => &["wood", "job", "design", "feeds", "toolpath"],
        "stock" => &["rs274"],
        "proof" => &["rs274", "stock"],
        "report" => &["wood", "job", "design", "feeds", "gears", "press", "rs274", "stock", "proof"],
        "cli" => &[
            "wood", "job", "design", "feeds", "gears", "press", "toolpath", "post", "rs274", "stock",
            "proof", "report",
        ],
        "lib" | "main" => &["cli"],
        other => panic!("room {other} is not on the map: give it its arrows here and in DEVELOPERS.md"),
    };
    COMMON.iter().chain(more).copied().collect()
}

#[test]
fn rooms_import_only_what_the_map_allows() {
    let mut wrong = Vec::new();
    for (name, text) in rust_files("src") {
        let here = room(&name);
        let allowed = allowed(here);
        for (number, line) in text.lines().enumerate() {
            let code = line.split("//").next().unwrap_or("");
            if code.contains("use crate::{") {
                wrong.push(format!(
                    "{name}:{}: a grouped `use crate::{{` hides arrows from this scan",
                    number + 1
                ));
            }
            for (at, _) in code.match_indices("crate::") {
                let rest = &code[at + "crate::".len()..];
                let target: String = rest.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
                if !target.is_empty() && target != here && !allowed.contains(&target.as_str()) {
                    wrong.push(format!("{name}:{}: {here} must not know {target}", number + 1));
                }
            }
            if code.contains("super::super::super") {
                wrong.push(format!(
                    "{name}:{}: a path that climbs three times may leave its room",
                    number + 1
                ));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The proof must not know how programs are made: that is what makes it a proof.
#[test]
fn the_two_halves_never_meet() {
    let making = ["wood", "job", "design", "feeds", "gears", "press", "toolpath", "post"];
    for proving in ["rs274", "stock", "proof"] {
        for maker in making {
            assert!(!allowed(proving).contains(&maker), "{proving} may import {maker}");
            assert!(!allowed(maker).contains(&proving), "{maker} may import {proving}");
        }
    }
}

#[test]
fn every_file_says_what_it_is_for() {
    let missing: Vec<String> = ["src", "tests", "benches"]
        .into_iter()
        .flat_map(rust_files)
        .filter(|(_, text)| !text.starts_with("//! "))
        .map(|(name, _)| name)
        .collect();
    assert!(missing.is_empty(), "no //! head: {missing:?}");
}

#[test]
fn files_can_be_read_in_one_sitting() {
    let long: Vec<String> = rust_files("src")
        .into_iter()
        .filter(|(_, text)| text.lines().count() > 520)
        .map(|(name, text)| format!("{name}: {} lines", text.lines().count()))
        .collect();
    assert!(long.is_empty(), "split these: {long:?}");
}

#[test]
fn the_top_level_holds_what_was_agreed() {
    let agreed: BTreeSet<&str> = [
        "Cargo.toml",
        "Cargo.lock",
        "README.md",
        "DEVELOPERS.md",
        "safety.md",
        "LICENSE-MIT",
        "LICENSE-APACHE",
        "src",
        "tests",
        "samples",
        "benches",
        "target",
    ]
    .into();
    let extra: Vec<String> = fs::read_dir(root())
        .expect("the root can be listed")
        .map(|entry| entry.expect("its entries can be read").file_name().to_string_lossy().into_owned())
        .filter(|name| !name.starts_with('.') && !agreed.contains(name.as_str()))
        // Programs that the README's commands write beside it.
        .filter(|name| Path::new(name).extension().is_none_or(|ending| ending != "nc"))
        .collect();
    assert!(extra.is_empty(), "{extra:?}");
}

/// Tolerances have names: a bare `1e-6` in a comparison tells nobody why.
#[test]
fn no_naked_tolerances() {
    let mut naked = Vec::new();
    for (name, text) in rust_files("src") {
        if name.ends_with("tests.rs") {
            continue;
        }
        let body = text.split("#[cfg(test)]").next().unwrap_or("");
        for (number, line) in body.lines().enumerate() {
            let code = line.split("//").next().unwrap_or("");
            let bare = code.contains("e-")
                && code.split("e-").skip(1).any(|rest| rest.starts_with(|c: char| c.is_ascii_digit()));
            let digit_before = code.match_indices("e-").any(|(at, _)| {
                code[..at].ends_with(|c: char| c.is_ascii_digit())
                    && code[at + 2..].starts_with(|c: char| c.is_ascii_digit())
            });
            if bare && digit_before && !code.trim_start().starts_with("const ") && !code.contains("const ") {
                naked.push(format!("{name}:{}: {}", number + 1, line.trim()));
            }
        }
    }
    assert!(naked.is_empty(), "{}", naked.join("\n"));
}

#[test]
fn every_room_is_on_the_map() {
    let map = fs::read_to_string(root().join("DEVELOPERS.md")).expect("DEVELOPERS.md can be read");
    assert!(map.lines().count() <= 150, "DEVELOPERS.md has grown past 150 lines");
    for (name, _) in rust_files("src") {
        let here = room(&name);
        assert!(map.contains(&format!("src/{here}")), "DEVELOPERS.md does not name src/{here}");
    }
}
