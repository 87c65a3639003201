//! What README shows is what the program prints; what the list of commands names is there.

use std::collections::BTreeSet;
use std::path::Path;

use crate::program::runproof;

#[test]
fn the_example_is_the_programs_output() {
    let readme = Path::new(env!("CARGO_MANIFEST_DIR")).join("../README.md");
    let readme = std::fs::read_to_string(readme).expect("README.md");
    let ran = runproof(&["check", "--simulate", "crossed-supply"]);
    let told = but_the_id(&ran.out);
    let example = format!("$ runproof check --simulate crossed-supply\n{told}```");
    assert!(but_the_id(&readme).contains(&example), "README.md does not show this:\n{}", ran.out);
}

/// Each record's id is its own.
fn but_the_id(text: &str) -> String {
    const LABEL: &str = "  record         1 here, id ";
    let mut parts = text.split(LABEL);
    let mut told = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let id = part.lines().next().unwrap_or_default();
        assert!(id.len() == 36 && id.matches('-').count() == 4, "{id}");
        told += LABEL;
        told += &part[id.len()..];
    }
    assert!(told.contains(LABEL), "no record is told of:\n{text}");
    told
}

/// Every command, and what options all of them take.
fn commands_below(path: &[&str]) -> (Vec<String>, BTreeSet<String>) {
    let help = runproof(&[path, &["--help"]].concat()).out;
    let options =
        help.lines().filter(|line| line.trim_start().starts_with('-')).filter_map(|line| {
            let words = line.trim_start().split([',', ' ']);
            words.take(3).find(|word| word.starts_with("--")).map(str::to_owned)
        });
    let mut options: BTreeSet<String> = options.collect();
    let names = help.split_once("\nCommands:\n").map_or("", |(_, below)| below);
    let names = names.lines().take_while(|line| !line.is_empty());
    // What goes on from a line above is further in.
    let names =
        names.filter_map(|line| line.strip_prefix("  ").filter(|name| !name.starts_with(' ')));
    let names: Vec<&str> = names.filter_map(|name| name.split_whitespace().next()).collect();
    let mut commands = vec![path.join(" ")];
    for name in names.into_iter().filter(|name| *name != "help") {
        let (below, taken) = commands_below(&[path, &[name]].concat());
        commands.extend(below);
        options.extend(taken);
    }
    (commands, options)
}

#[test]
fn the_list_of_commands_names_each_and_no_option_that_there_is_not() {
    let list = Path::new(env!("CARGO_MANIFEST_DIR")).join("commands.md");
    let list = std::fs::read_to_string(list).expect("commands.md");
    let (commands, options) = commands_below(&[]);
    assert!(commands.len() > 25 && options.len() > 60, "{commands:?} {options:?}");
    for command in commands.iter().skip(1) {
        assert!(list.contains(&format!("`runproof {command}")), "{command} is missing");
    }
    let named = list.split(|letter: char| !(letter.is_ascii_lowercase() || letter == '-'));
    // An option of cargo's.
    let named = named.filter(|word| word.starts_with("--") && *word != "--all-features");
    let named: BTreeSet<&str> = named.filter(|word| word.len() > 3).collect();
    for option in &named {
        assert!(options.contains(*option), "there is no {option}");
    }
    for option in options.iter().filter(|one| !["--help", "--version"].contains(&one.as_str())) {
        assert!(named.contains(option.as_str()), "{option} is missing");
    }
}
