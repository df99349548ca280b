//! The verb `nut`: sizes for everyone, programs only for who insists, and never without their warning.

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

#[test]
fn without_a_proof_nothing_is_written_unless_it_is_asked_for() {
    let folder = TempDir::new().expect("a folder can be made");
    let job = sample("lying-press.toml");
    let output = run_in(folder.path(), &["nut", &job, "--out", "press.nc"]);
    assert_eq!(code(&output), 1);
    assert!(stderr(&output).contains("nothing was written: no proof reads the programs of a nut yet"));
    assert_eq!(fs::read_dir(folder.path()).expect("a folder").count(), 0);

    let output = run_in(folder.path(), &["nut", &job, "--out", "press.nc", "--insist"]);
    assert_eq!(code(&output), 1, "written, but not proved");
    for name in ["press-nut-1-bore.nc", "press-nut-2-thread.nc"] {
        let text = fs::read_to_string(folder.path().join(name)).expect("the program is there");
        assert!(text.lines().take(2).any(|line| line.contains("NOT PROVED")), "{name}: {text}");
    }
    let before = fs::read_to_string(folder.path().join("press-nut-2-thread.nc")).expect("it is there");
    let again = run_in(folder.path(), &["nut", &job, "--out", "press.nc", "--insist"]);
    assert!(stderr(&again).contains("was up to date"), "{}", stderr(&again));
    fs::write(folder.path().join("press-nut-1-bore.nc"), "something else").expect("a file can be written");
    let refused = run_in(folder.path(), &["nut", &job, "--out", "press.nc", "--insist"]);
    assert_eq!(code(&refused), 2);
    assert!(stderr(&refused).contains("--replace"));
    assert_eq!(before, fs::read_to_string(folder.path().join("press-nut-2-thread.nc")).expect("it is there"));
}

#[test]
fn a_machine_without_comments_warns_by_the_name() {
    let folder = TempDir::new().expect("a folder can be made");
    let machine = fs::read_to_string(sample("machines/long-bench.toml")).expect("a sample");
    let mute = machine.replace("comments = \"parentheses\"", "comments = \"none\"");
    fs::write(folder.path().join("mute.toml"), mute).expect("a file can be written");
    let mut job = fs::read_to_string(sample("nipping-press.toml")).expect("a sample");
    for part in ["cutters/", "jigs/", "nut-cutters/"] {
        job = job.replace(&format!("\"{part}"), &format!("\"{}", sample(part)));
    }
    let job = job.replace("machines/long-bench.toml", "mute.toml");
    fs::write(folder.path().join("press.toml"), job).expect("a file can be written");
    let output = run_in(folder.path(), &["nut", "press.toml", "--out", "press.nc", "--insist"]);
    assert_eq!(code(&output), 1, "{}", stderr(&output));
    assert!(folder.path().join("press-nut-NOT-PROVED.nc").is_file());
    assert!(!folder.path().join("press-nut.nc").exists());
}

#[test]
fn a_nut_without_a_cutter_has_no_program() {
    let output = run(&["nut", &sample("sewing-frame.toml"), "--out", "x.nc", "--insist"]);
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
    let output = run(&["nut", &sample("nipping-press.toml"), "--json", "--out", "x.nc"]);
    let document = json(&output);
    assert_eq!((document["proved"].as_bool(), document["written"].as_bool()), (Some(false), Some(false)));
    assert!(output.stderr.is_empty());
}
