//! Whole screws, trying, mending, orders and sheets as people meet them.

use super::*;

/// From a sawn octagon: six programs in order, each refused without the ones before it.
#[test]
fn a_whole_screw_is_cut_and_proved_in_its_order() {
    let folder = TempDir::new().expect("a folder can be made");
    let cut = run_in(folder.path(), &["cut", &sample("finishing-press.toml"), "--fine", "0.3"]);
    assert_eq!(code(&cut), 0, "{}", stderr(&cut));
    let parts = ["1-round", "2-relief", "3-thread", "4-chamfer", "5-garter", "6-tenon"];
    let names: Vec<String> = parts.iter().map(|part| format!("finishing-press-{part}.nc")).collect();
    for name in &names {
        let text = fs::read_to_string(folder.path().join(name)).expect("every program is written");
        assert!(text.contains("(job digest ") && text.lines().all(|line| line.len() <= 70), "{name}");
    }
    let prove = |names: &[&String]| {
        let job = sample("finishing-press.toml");
        let mut arguments = vec!["prove", &job, "--fine", "0.3", "--json"];
        arguments.extend(names.iter().map(|name| name.as_str()));
        run_in(folder.path(), &arguments)
    };
    let all: Vec<&String> = names.iter().collect();
    let whole = prove(&all);
    assert_eq!(code(&whole), 0, "{}", stdout(&whole));
    let document = json(&whole);
    assert_eq!(document["programs"].as_array().map(Vec::len), Some(6));
    let tenon = &document["programs"][5]["turned"];
    let across =
        tenon.as_array().expect("a list").iter().find(|part| part["name"] == "tenon").expect("the tenon");
    assert!((across["least_mm"].as_f64().expect("a number") - 28.0).abs() <= 0.02, "{across}");
    let swapped = prove(&[all[1], all[0]]);
    assert_eq!(code(&swapped), 1);
    assert!(stdout(&swapped).contains("order-wrong"), "{}", stdout(&swapped));
    let again = run_in(folder.path(), &["cut", &sample("finishing-press.toml"), "--fine", "0.3"]);
    assert!(code(&again) == 0 && stderr(&again).contains("was up to date"), "the same job, the same bytes");
    // One file that holds something else keeps all six from being written.
    fs::write(folder.path().join(&names[3]), "mine").expect("it can be written");
    fs::remove_file(folder.path().join(&names[0])).expect("it can be removed");
    let kept = run_in(folder.path(), &["cut", &sample("finishing-press.toml"), "--fine", "0.3"]);
    assert_eq!(code(&kept), 2, "{}", stderr(&kept));
    assert!(!folder.path().join(&names[0]).exists(), "all or none");
    let joined = run_in(
        folder.path(),
        &["cut", &sample("finishing-press.toml"), "--join", "--out", "j.nc", "--fine", "0.3"],
    );
    assert_eq!(code(&joined), 0, "{}", stderr(&joined));
    assert!(folder.path().join("j-3-thread-chamfer.nc").exists());
}

/// A program of another version of the job is told so, and the proof of its geometry is not changed by that.
#[test]
fn a_program_of_another_version_of_the_job_is_told_so() {
    let folder = TempDir::new().expect("a folder can be made");
    run_in(folder.path(), &["new", "press.toml"]);
    assert_eq!(code(&run_in(folder.path(), &["cut", "press.toml"])), 0);
    let same = run_in(folder.path(), &["prove", "press.toml", "press.nc"]);
    assert!(code(&same) == 0 && !stderr(&same).contains("job-changed"), "{}", stderr(&same));
    let job = folder.path().join("press.toml");
    let text = fs::read_to_string(&job).expect("the job is there");
    fs::write(&job, text.replace("wood = ", "wood = \"pear\" # ")).expect("it can be changed");
    let other = run_in(folder.path(), &["prove", "press.toml", "press.nc"]);
    assert!(code(&other) == 0 && stderr(&other).contains("care[job-changed]"), "{}", stderr(&other));
}

/// What is tried in the air is proved to touch nothing, a trial piece has the lead and depth of the screw, and a mended
/// thread stands in its own groove wherever A0 lies now.
#[test]
fn trying_and_mending_are_proved() {
    let folder = TempDir::new().expect("a folder can be made");
    let press = sample("nipping-press.toml");
    let done = |arguments: &[&str]| {
        let output = run_in(folder.path(), &[arguments, &["--replace"]].concat());
        assert_eq!(code(&output), 0, "{arguments:?}: {}", stderr(&output));
        output
    };
    done(&["try", &press, "--air"]);
    let air = fs::read_to_string(folder.path().join("nipping-press-air.nc")).expect("it is written");
    assert!(!air.lines().any(|line| line.starts_with("M3")), "the spindle stays off");
    done(&["try", &press, "--extents"]);
    for diameter in [&[][..], &["--diameter", "42"]] {
        let output = done(&[&["try", press.as_str(), "--scrap", "--json"], diameter].concat());
        let measured = &json(&output)["programs"][0]["measured"];
        assert!((measured["lead_mm"].as_f64().expect("a lead") - 20.0).abs() < 0.01);
        let crest = measured["crest_diameter_mm"].as_f64().expect("a crest");
        let depth = (crest - measured["root_diameter_mm"].as_f64().expect("a root")) / 2.0;
        assert!((depth - 6.011).abs() < 0.01, "{depth}");
    }
    for place in [["--pass", "4"], ["--start", "2"], ["--line", "60"]] {
        done(&[&["mend", press.as_str()][..], &place].concat());
    }
    for deeper in ["0", "0.3"] {
        done(&["mend", &press, "--touched", "-100", "1830", "--deeper", deeper]);
    }
    assert_eq!(code(&run_in(folder.path(), &["mend", &press, "--pass", "99"])), 2, "there is no such pass");
    assert_eq!(code(&run_in(folder.path(), &["mend", &press])), 2, "nothing says where");
}

/// One screw that cannot be made does not keep the others from being made.
#[test]
fn an_order_makes_what_can_be_made() {
    let folder = TempDir::new().expect("a folder can be made");
    let text = format!(
        "title = \"two\"\n[[screw]]\njob = {:?}\npieces = 2\n[[screw]]\njob = \"gone.toml\"\n",
        sample("sewing-frame.toml")
    );
    fs::write(folder.path().join("order.toml"), text).expect("it can be written");
    let order = run_in(folder.path(), &["order", "order.toml"]);
    assert_eq!(code(&order), 3, "{}", stderr(&order));
    assert!(folder.path().join("order/sewing-frame/sewing-frame.nc").exists(), "{}", stderr(&order));
    assert!(folder.path().join("order/sewing-frame/sheet.html").exists());
    let blanks = fs::read_to_string(folder.path().join("order/blanks.txt")).expect("the list is written");
    assert_eq!(blanks.matches("sewing frame").count(), 2, "a line for each piece:\n{blanks}");
    assert!(stderr(&order).contains("gone.toml"), "{}", stderr(&order));
}

/// The sheet says how to see that A turns the right way, in both forms, and nothing in it depends on the day.
#[test]
fn the_sheet_tells_zero_hand_check_and_order() {
    let folder = TempDir::new().expect("a folder can be made");
    for (name, top) in [("nipping-press", "FRONT"), ("lying-press", "BACK")] {
        let text =
            run_in(folder.path(), &["sheet", &sample(&format!("{name}.toml")), "--text", "--out", "-"]);
        let words = stdout(&text);
        assert_eq!(code(&text), 0, "{}", stderr(&text));
        assert!(
            words.contains(top) && words.contains("[ ]") && words.lines().all(|line| line.len() <= 78),
            "{words}"
        );
        let page = || run_in(folder.path(), &["sheet", &sample(&format!("{name}.toml")), "--out", "-"]);
        let html = stdout(&page());
        assert!(
            html.starts_with("<!DOCTYPE html>")
                && html.contains("<svg")
                && !html.contains("http://www.w3.org/1999")
        );
        assert!(!html.contains("<script") && !html.contains("src="), "nothing outside itself");
        assert_eq!(html, stdout(&page()), "the same sheet every time");
    }
}
