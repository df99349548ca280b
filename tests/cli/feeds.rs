//! `feeds` as people and scripts meet it.

use super::*;

#[test]
fn feeds_shows_loads_limits_and_advice() {
    let output = run(&["feeds", &sample("nipping-press.toml"), "--wood", "hard maple", "--edge", "used"]);
    assert_eq!(code(&output), 0, "{}", stderr(&output));
    let said = stdout(&output);
    let flat = said.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "hornbeam",
        "hard maple",
        "used",
        "power on A bends",
        "from half to double",
        "A at its top speed",
        "when it burns",
        "when it chatters",
        "equal steps of depth",
        "from memory",
        "30 N/mm2",
    ] {
        assert!(flat.contains(words), "{words:?} is missing from:\n{said}");
    }
    let longest = said.lines().map(|line| line.chars().count()).max().unwrap_or(0);
    assert!(longest <= 110, "two woods beside each other, a line of {longest} characters:\n{said}");
}

/// A usual terminal shows 80 columns.
#[test]
fn sheets_keep_to_eighty_columns() {
    let samples = ["nipping-press", "finishing-press", "backing-press", "sewing-frame", "lying-press"];
    for name in samples.map(|name| sample(&format!("{name}.toml"))) {
        for verb in ["feeds", "fit", "size"] {
            let said = stdout(&run(&[verb, &name]));
            let wide: Vec<&str> = said.lines().filter(|line| line.chars().count() > 80).collect();
            assert!(wide.is_empty(), "{verb} {name}:\n{}", wide.join("\n"));
        }
    }
    for wood in ["European beech", "ipe", "hard maple", "African blackwood", "hornbeam", "teak"] {
        let card = stdout(&run(&["woods", wood]));
        assert!(card.lines().all(|line| line.chars().count() <= 80), "{card}");
    }
}

/// The starter's plan is the machine's: it says so, advises no feed that differs by nothing, offers no cut in one bite, and
/// says where burning shows first.
#[test]
fn a_starter_is_told_what_its_feeds_hang_on() {
    let folder = TempDir::new().expect("a folder can be made");
    assert_eq!(code(&run_in(folder.path(), &["new", "job.toml"])), 0);
    let said = stdout(&run_in(folder.path(), &["feeds", "job.toml"]));
    let flat = said.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "A at its top speed ends the feed of every pass: any wood of the table may be cut by this plan",
        "the mean chip is held against 0.030 mm; it is thinnest at the crest, where burning shows first: 0.026 mm in pass 4",
        "one feed in as many passes, which the job fixes",
    ] {
        assert!(flat.contains(words), "{words:?} is missing from:\n{said}");
    }
    assert!(!flat.contains("feed it from"), "{said}");
    let cells = said.lines().filter(|line| line.trim_start().starts_with("8000 ")).collect::<Vec<_>>();
    assert!(cells.len() == 1 && cells[0].split_whitespace().nth(1) == Some("-"), "{said}");
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
        .replace("\"nut-cutters/", &format!("\"{at}/nut-cutters/"))
        .replace("\"cutters/", &format!("\"{at}/cutters/"));
    fs::write(folder.path().join("job.toml"), job).expect("the job can be written");
    let output = run_in(folder.path(), &["feeds", "job.toml"]);
    assert_eq!(code(&output), 0, "{}", stderr(&output));
    let said = stdout(&output);
    assert!(stderr(&output).is_empty() || !stderr(&output).contains("plan-without"), "its plan is by hand");
    for words in [
        "as in dense wood: the density is not known",
        "not known: forces are left out",
        "not given (spindle.power",
        "not given (a.holding_torque",
    ] {
        let flat = said.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(words), "{words:?} is missing from:\n{said}");
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

/// On a weak spindle and a weak rotary each pass has a feed of its own. That is proved without a word, and a feed that is none
/// of them is held against all of them.
#[test]
fn passes_with_feeds_of_their_own_prove_and_a_slow_one_is_told_their_range() {
    let folder = TempDir::new().expect("a folder can be made");
    assert_eq!(code(&run_in(folder.path(), &["new", "job.toml"])), 0);
    let at = folder.path().join("job.toml");
    let job = fs::read_to_string(&at).expect("it was written");
    let job = job
        .replace("spindle = {", "spindle = { power = 30,")
        .replace("\na = {", "\na = { holding_torque = 0.5,");
    fs::write(&at, job).expect("the job can be written");
    let cut = run_in(folder.path(), &["cut", "job.toml"]);
    assert_eq!(code(&cut), 0, "{}", stderr(&cut));
    let sizes = json(&run_in(folder.path(), &["size", "job.toml", "--json"]));
    let feeds: Vec<f64> = sizes["sizes"]["pass_feeds_mm_per_min"]
        .as_array()
        .expect("a list")
        .iter()
        .map(|feed| feed.as_f64().expect("a number"))
        .collect();
    let (least, most) = feeds.iter().fold((f64::INFINITY, 0.0_f64), |(a, b), &f| (a.min(f), b.max(f)));
    assert!(least < most, "{feeds:?}");
    let program = fs::read_to_string(folder.path().join("job.nc")).expect("it was written");
    // The first long move turns the blank many times; a hundred times slower, it is far from every feed.
    let line = program.lines().find(|line| line.starts_with("G1 X-250")).expect("a pass along the thread");
    let (words, feed) = line.split_once(" F").expect("it has a feed");
    let slow = feed.parse::<f64>().expect("a number") / 100.0;
    fs::write(folder.path().join("slow.nc"), program.replacen(line, &format!("{words} F{slow:.6}"), 1))
        .expect("the program can be written");
    let proof = run_in(folder.path(), &["prove", "job.toml", "slow.nc"]);
    let said = stderr(&proof);
    let range = format!("the job asks {least:.0} mm/min to {most:.0} mm/min");
    assert!(code(&proof) == 1 && said.contains("stop[feed-off]") && said.contains(&range), "{range}\n{said}");
}
