//! `feeds` as people and scripts meet it.

use super::*;

#[test]
fn feeds_shows_loads_limits_and_advice() {
    let output = run(&["feeds", &sample("nipping-press.toml"), "--wood", "hard maple", "--edge", "used"]);
    assert_eq!(code(&output), 0, "{}", stderr(&output));
    let said = stdout(&output);
    for words in [
        "hornbeam",
        "hard maple",
        "used",
        "torque on A",
        "from half to double",
        "A at its top speed",
        "when it burns",
        "when it chatters",
        "equal steps of depth",
        "from memory",
        "30 N/mm2",
    ] {
        assert!(said.contains(words), "{words:?} is missing from:\n{said}");
    }
    let longest = said.lines().map(|line| line.chars().count()).max().unwrap_or(0);
    assert!(longest <= 130, "a line of {longest} characters:\n{said}");
}

#[test]
fn feeds_as_json_has_a_sheet_for_each_wood() {
    let output = run(&["feeds", &sample("backing-press.toml"), "--wood", "black cherry", "--json"]);
    let sheets = json(&output);
    let sheets = sheets["feeds"].as_array().expect("a list of sheets");
    assert_eq!(sheets.len(), 2);
    let [beech, cherry] = [&sheets[0], &sheets[1]];
    assert_eq!(cherry["wood"], "black cherry");
    assert_eq!(beech["planned_by_wood"], true);
    let power = |sheet: &Value| {
        sheet["passes"][0]["loads"]["strain"]["push"]["power_w"].as_f64().expect("it is known")
    };
    assert!(power(beech) > power(cherry), "beech is the denser wood");
    let kinds: Vec<&str> = beech["passes"]
        .as_array()
        .expect("passes")
        .iter()
        .map(|row| row["trip"]["kind"].as_str().expect("a pass has a kind"))
        .collect();
    assert_eq!(kinds.last(), Some(&"flank"), "{kinds:?}");
}

#[test]
fn feeds_names_what_is_not_known() {
    let folder = TempDir::new().expect("a folder can be made");
    let job = fs::read_to_string(sample("sewing-frame.toml")).expect("the sample is there");
    let at = root().join("samples").display().to_string();
    let job = job
        .replace("European beech", "the hedge's own")
        .replace("\"machines/", &format!("\"{at}/machines/"))
        .replace("\"cutters/", &format!("\"{at}/cutters/"));
    fs::write(folder.path().join("job.toml"), job).expect("the job can be written");
    let output = run_in(folder.path(), &["feeds", "job.toml"]);
    assert_eq!(code(&output), 0, "{}", stderr(&output));
    let said = stdout(&output);
    for words in ["not known: forces are left out", "not given (spindle.power", "not given (a.holding_torque"]
    {
        assert!(said.contains(words), "{words:?} is missing from:\n{said}");
    }
    let unknown = run(&["feeds", &sample("sewing-frame.toml"), "--wood", "hornbeem"]);
    assert_eq!(code(&unknown), 2);
    assert!(stderr(&unknown).contains("\"hornbeam\" may be meant"), "{}", stderr(&unknown));
}

/// On a quick and weak machine the wood decides how deep a pass goes, and the sheet says what stops it.
#[test]
fn denser_wood_gets_shallower_first_passes() {
    let sheets = |wood: &str| {
        let output = run(&["feeds", &sample("backing-press.toml"), "--wood", wood, "--json"]);
        json(&output)["feeds"][1]["by_wood"]["passes"][0]["trip"]["depth_mm"].as_f64().expect("a depth")
    };
    let depths = ["black cherry", "greenheart", "ipe"].map(sheets);
    assert!(depths[0] > depths[1] && depths[1] > depths[2], "{depths:?}");
    let folder = TempDir::new().expect("a folder can be made");
    let at = root().join("samples").display().to_string();
    let job = fs::read_to_string(sample("backing-press.toml")).expect("the sample is there");
    let job = job
        .replace("European beech", "ipe")
        .replace("\"machines/", &format!("\"{at}/machines/"))
        .replace("\"cutters/", &format!("\"{at}/cutters/"));
    fs::write(folder.path().join("job.toml"), job).expect("the job can be written");
    let output = run_in(folder.path(), &["feeds", "job.toml"]);
    let said = stdout(&output);
    assert!(said.contains("pass 1 can go no deeper at this feed: torque that A holds"), "{said}");
}
