//! What the README tells people to type.

use super::*;

/// Every command of the README that begins with the tool's name runs as it stands there, one after the other in one folder
/// beside the samples, and ends well.
#[test]
fn every_command_of_the_readme_runs() {
    let folder = TempDir::new().expect("a folder can be made");
    std::os::unix::fs::symlink(root().join("samples"), folder.path().join("samples"))
        .expect("the samples can be linked");
    let readme = fs::read_to_string(root().join("README.md")).expect("it is there");
    let mut shell = false;
    let mut count = 0;
    for line in readme.lines() {
        if line.starts_with("```") {
            shell = line == "```sh";
        } else if let (true, Some(command)) = (shell, line.strip_prefix("threadwright ")) {
            let arguments: Vec<&str> = command.split_whitespace().collect();
            let output = run_in(folder.path(), &arguments);
            assert_eq!(code(&output), 0, "{line}: {}", stderr(&output));
            count += 1;
        }
    }
    assert!(count > 10, "only {count} commands");
}

/// What the guide quotes is what the tool says.
#[test]
fn the_guide_quotes_what_is_said() {
    let readme = fs::read_to_string(root().join("README.md")).expect("it is there");
    let guide = readme.split("## From a stick to a press").nth(1).expect("there is a guide");
    let guide = guide.split("\n## ").next().expect("it ends");
    assert!(guide.lines().count() < 300, "the guide has grown past 300 lines");
    let said = stdout(&run(&["size", &sample("finishing-press.toml")]));
    let quoted =
        guide.split("```text\n").nth(1).and_then(|rest| rest.split("```").next()).expect("a quotation");
    for line in quoted.lines() {
        assert!(said.contains(line), "{line} is not said any more");
    }
}
