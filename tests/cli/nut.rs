//! The verb `nut`: sizes for everyone, programs only when they and the screw in them are proved, or with their warning.

use tempfile::TempDir;

use super::*;

#[test]
fn sizes_need_neither_cutter_nor_machine() {
    let output = run(&["nut", &sample("nipping-press.toml")]);
    assert_eq!(code(&output), 0, "{}", stderr(&output));
    let said = stdout(&output);
    assert!(said.contains("test strip") && said.contains("over the grooves"), "{said}");
    let folder = TempDir::new().expect("a folder can be made");
    let job = fs::read_to_string(sample("lying-press.toml")).expect("a sample");
    let by_hand: String = job
        .lines()
        .filter(|line| !line.starts_with("machine") && !line.starts_with("cutter"))
        .take_while(|line| !line.starts_with("boring"))
        .fold(String::new(), |all, line| all + line + "\n");
    let cutter = sample("cutters/v60-flat-1-32in.toml");
    let by_hand = by_hand.replacen("units = \"inch\"", &format!("units = \"inch\"\ncutter = '{cutter}'"), 1);
    fs::write(folder.path().join("by-hand.toml"), by_hand).expect("a file can be written");
    let output = run_in(folder.path(), &["nut", "by-hand.toml"]);
    assert_eq!(code(&output), 0, "{}", stderr(&output));
    assert!(stdout(&output).contains("by hand"));
}

/// Every pair of the samples: the programs are proved, the screw is free in them in every state of the year, and only then
/// there are files. What stands in them is proved again from the files.
#[test]
fn the_nuts_of_the_samples_are_proved_with_their_screws() {
    for (name, programs) in
        [("nipping-press", &["nut.nc"][..]), ("lying-press", &["nut-1-bore.nc", "nut-2-thread.nc"])]
    {
        let folder = TempDir::new().expect("a folder can be made");
        let job = sample(&format!("{name}.toml"));
        let output = run_in(folder.path(), &["nut", &job, "--out", "press.nc"]);
        assert_eq!(code(&output), 0, "{name}: {}", stderr(&output));
        assert!(
            stderr(&output).contains("screw in nut: free in 7 states of the year"),
            "{}",
            stderr(&output)
        );
        assert!(stdout(&output).contains("both wet"), "{}", stdout(&output));
        let files: Vec<String> = programs.iter().map(|part| format!("press-{part}")).collect();
        assert_eq!(fs::read_dir(folder.path()).expect("a folder").count(), files.len());
        let mut arguments = vec!["nut", &job];
        arguments.extend(files.iter().map(String::as_str));
        let again = run_in(folder.path(), &arguments);
        assert_eq!(code(&again), 0, "{name}: {}", stderr(&again));
        let once_more = run_in(folder.path(), &["nut", &job, "--out", "press.nc"]);
        assert!(stderr(&once_more).contains("was up to date"), "{}", stderr(&once_more));
        fs::write(folder.path().join(&files[0]), "something else").expect("a file can be written");
        let refused = run_in(folder.path(), &["nut", &job, "--out", "press.nc"]);
        assert!(code(&refused) == 2 && stderr(&refused).contains("--replace"), "{}", stderr(&refused));
    }
}

/// A program that somebody changed: the slip is told, and where both pieces are right but do not go together, that is.
#[test]
fn a_nut_that_is_wrong_is_told() {
    let folder = TempDir::new().expect("a folder can be made");
    let job = sample("lying-press.toml");
    let output = run_in(folder.path(), &["nut", &job, "--out", "press.nc"]);
    assert_eq!(code(&output), 0, "{}", stderr(&output));
    let thread = folder.path().join("press-nut-2-thread.nc");
    let text = fs::read_to_string(&thread).expect("it is there");
    // The thread goes down where it should climb: the other hand.
    let other = text.replace(" G2 ", " G# ").replace(" G3 ", " G2 ").replace(" G# ", " G3 ");
    assert_ne!(text, other);
    fs::write(&thread, other).expect("it can be written");
    let wrong = run_in(folder.path(), &["nut", &job, "press-nut-1-bore.nc", "press-nut-2-thread.nc"]);
    assert_eq!(code(&wrong), 1, "{}", stderr(&wrong));
    assert!(stderr(&wrong).contains("NOT PROVED, do not cut"), "{}", stderr(&wrong));
    assert!(stderr(&wrong).contains("not looked at, the nut is not right yet"), "{}", stderr(&wrong));
    let many = ["nut", &job, "press-nut-1-bore.nc", "press-nut-1-bore.nc", "press-nut-1-bore.nc"];
    let many = run_in(folder.path(), &many);
    assert!(code(&many) == 2 && stderr(&many).contains("2 programs, and 3 are given"), "{}", stderr(&many));
    let swapped = run_in(folder.path(), &["nut", &job, "press-nut-2-thread.nc", "press-nut-1-bore.nc"]);
    assert!(code(&swapped) == 1 && stderr(&swapped).contains("order-wrong"), "{}", stderr(&swapped));
    let alone = run_in(folder.path(), &["nut", &job, "press-nut-1-bore.nc"]);
    assert!(code(&alone) == 0 && stderr(&alone).contains("not among those given"), "{}", stderr(&alone));
}

/// One decimal of a millimetre does not place a thread: the proof says so. Written all the same, the file warns in its first
/// lines, and where the machine takes no comments, in its name.
#[test]
fn what_fails_its_proof_is_written_only_on_demand_and_warns() {
    for (comments, warns) in [("parentheses", "press-nut.nc"), ("none", "press-nut-NOT-PROVED.nc")] {
        let folder = TempDir::new().expect("a folder can be made");
        let machine = fs::read_to_string(sample("machines/long-bench.toml")).expect("a sample");
        let coarse = machine
            .replace("comments = \"parentheses\"", &format!("comments = \"{comments}\""))
            .replace("decimals = 4", "decimals = 1");
        fs::write(folder.path().join("coarse.toml"), coarse).expect("a file can be written");
        let mut job = fs::read_to_string(sample("nipping-press.toml")).expect("a sample");
        for part in ["cutters/", "jigs/", "nut-cutters/"] {
            job = job.replace(&format!("\"{part}"), &format!("\"{}", sample(part)));
        }
        let job = job.replace("machines/long-bench.toml", "coarse.toml");
        fs::write(folder.path().join("press.toml"), job).expect("a file can be written");
        let output = run_in(folder.path(), &["nut", "press.toml", "--out", "press.nc"]);
        assert_eq!(code(&output), 1, "{}", stderr(&output));
        assert!(stderr(&output).contains("nothing was written"), "{}", stderr(&output));
        assert_eq!(fs::read_dir(folder.path()).expect("a folder").count(), 2);
        let output = run_in(folder.path(), &["nut", "press.toml", "--out", "press.nc", "--insist"]);
        assert_eq!(code(&output), 1, "{}", stderr(&output));
        let text = fs::read_to_string(folder.path().join(warns)).expect("the program is there");
        assert_eq!(
            text.lines().take(2).any(|line| line.contains("NOT PROVED")),
            comments != "none",
            "{text}"
        );
        assert_eq!(fs::read_dir(folder.path()).expect("a folder").count(), 3);
    }
}

#[test]
fn a_nut_without_a_cutter_has_no_program() {
    let output = run(&["nut", &sample("backing-press.toml"), "--out", "x.nc", "--insist"]);
    assert_eq!(code(&output), 2);
    assert!(stderr(&output).contains("names no cutter for its nut"), "{}", stderr(&output));
}

#[test]
fn json_tells_the_same() {
    let output = run(&["nut", &sample("nipping-press.toml"), "--json"]);
    let document = json(&output);
    assert_eq!(document["verb"], "nut");
    let bore = document["nut"]["bore_diameter_mm"].as_f64().expect("a number");
    let fit = json(&run(&["fit", &sample("nipping-press.toml"), "--json"]));
    assert_eq!(fit["fit"]["nut_bore_diameter_mm"].as_f64(), Some(bore), "both verbs size one nut");
    assert_eq!(fit["fit"]["nut_major_diameter_mm"], document["nut"]["major_diameter_mm"]);
    let folder = TempDir::new().expect("a folder can be made");
    let output = run_in(folder.path(), &["nut", &sample("nipping-press.toml"), "--json", "--out", "x.nc"]);
    let document = json(&output);
    assert_eq!((document["proved"].as_bool(), document["written"].as_bool()), (Some(true), Some(true)));
    assert_eq!(document["pair"]["fits"].as_array().map(Vec::len), Some(14), "seven states, either face");
    assert!(document["programs"][0]["measured"]["lead_mm"].as_f64().is_some());
    assert!(output.stderr.is_empty());
}

/// The drawing shows the screw in its nut, once for each season, where the job has a nut that is milled, and nothing of it
/// elsewhere.
#[test]
fn the_pair_is_drawn_where_there_is_one() {
    let folder = TempDir::new().expect("a folder can be made");
    for (name, seasons) in [("standing-press", 3), ("backing-press", 0)] {
        let job = sample(&format!("{name}.toml"));
        let output = run_in(folder.path(), &["draw", &job, "--out", "pair.svg", "--replace"]);
        assert_eq!(code(&output), 0, "{name}: {}", stderr(&output));
        let text = fs::read_to_string(folder.path().join("pair.svg")).expect("it is written");
        assert_eq!(text.matches(">crest ").count(), seasons, "{name}");
    }
}
