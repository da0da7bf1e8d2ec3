//! Completions and manual pages have every command and every long option, and what the
//! environment says holds.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::collections::BTreeSet;
use std::process::{Command, Output};

use common::{printed, ringrule, root};
use ringrule::document::Fault;
use ringrule::lint::Rule;
use ringrule::table::BuiltIn;

/// The commands that the help lists.
fn commands() -> Vec<String> {
    let help = printed(&["--help"]);
    let listed = help.split("Commands:\n").nth(1).expect("commands");
    let listed = listed.split("\n\n").next().expect("a list");
    let name = |line: &str| {
        let name = line.strip_prefix("  ")?.split([' ', ',']).next()?;
        (!name.is_empty() && name != "help").then(|| name.to_owned())
    };
    let names: Vec<String> = listed.lines().filter_map(name).collect();
    assert!(names.len() > 15, "{names:?}");
    names
}

/// The long options that a help text explains.
fn options(help: &str) -> BTreeSet<String> {
    let lines = help.lines().map(str::trim_start);
    let explained = lines.filter(|line| line.starts_with('-'));
    let words = explained.flat_map(|line| line.split([' ', ',', '=']));
    words
        .filter(|word| word.len() > 2 && word.starts_with("--"))
        // The rest of a line above is none.
        .filter(|word| word.chars().all(|c| c.is_ascii_lowercase() || c == '-'))
        .map(str::to_owned)
        .collect()
}

#[test]
fn completions_know_every_command_option_and_name() {
    for shell in ["bash", "zsh", "fish", "powershell"] {
        let script = printed(&["completions", shell]);
        for command in commands() {
            assert!(script.contains(&command), "{shell}: {command}");
            for option in options(&printed(&[&command, "--help"])) {
                let name = option.trim_start_matches("--");
                let known = script.contains(&option) || script.contains(&format!("-l {name}"));
                assert!(known, "{shell}: {command} {option}");
            }
        }
        let rules = Rule::ALL.iter().map(|rule| rule.code);
        let faults = Fault::ALL.into_iter().map(Fault::code);
        let tables = BuiltIn::ALL.iter().map(|table| table.name);
        let names: Vec<&str> = rules.chain(faults).chain(tables).collect();
        for name in &names {
            assert!(script.contains(name), "{shell}: {name}");
        }
        assert!(script.contains("missing-date=ignore"), "{shell}");
        let table = match shell {
            "zsh" => "--table=",
            "fish" => "using_subcommand validate\" -s t -l table -r -F -a \"wdf",
            "powershell" => "'ringrule;validate' {\n            [CompletionResult]::new('wdf'",
            _ => "wdf",
        };
        assert!(script.contains(table), "{shell}: tables beside files");
        if shell == "zsh" {
            assert!(
                script.contains(":TABLE:{ compadd -- wdf"),
                "tables beside files"
            );
            assert!(!script.contains(":TABLE:_files"), "tables beside files");
        }
    }
}

#[test]
fn the_manual_has_a_page_for_each_command() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().to_str().expect("a plain path");
    assert!(ringrule(&["manual", path]).status.success());
    // A hyphen that stands for itself is written with a backslash.
    let page = |name: &str| {
        let text = std::fs::read_to_string(folder.path().join(name)).expect("a page");
        assert!(text.contains(".TH "), "{name}");
        text.replace("\\-", "-")
    };
    let program = page("ringrule.1");
    for command in commands() {
        assert!(
            program.contains(&format!("ringrule-{command}(1)")),
            "{command}"
        );
        let own = page(&format!("ringrule-{command}.1"));
        for option in options(&printed(&[&command, "--help"])) {
            assert!(own.contains(&option), "{command} {option}");
        }
    }
    let pages = std::fs::read_dir(folder.path()).expect("a folder").count();
    assert_eq!(pages, commands().len() + 1);
    // What is there already stays, unless it is to be replaced.
    let again = ringrule(&["manual", path]);
    assert_eq!(again.status.code(), Some(2));
    assert!(ringrule(&["manual", path, "--overwrite"]).status.success());
}

fn with(variable: &str, value: &str, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_ringrule"))
        .args(arguments)
        .current_dir(root())
        .env(variable, value)
        .output()
        .expect("the program runs")
}

#[test]
fn the_environment_names_the_settings_of_every_command() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("ours.yaml");
    let settings = "format: ringrule/settings/1\ntable: wdf\nlevels: { missing-date: error }\n";
    std::fs::write(&path, settings).expect("written");
    let named = path.to_str().expect("a plain path");
    let board = "specs/areas/fl-31.yaml";
    let found = |output: &Output| String::from_utf8_lossy(&output.stdout).into_owned();
    let set = |arguments: &[&str]| with("RINGRULE_SETTINGS", named, arguments);
    assert!(found(&set(&["lint", board])).contains("error missing-date"));
    // The command line counts before it.
    let without = set(&["lint", board, "--no-settings"]);
    assert!(found(&without).contains("warning missing-date"));
    // Other commands take the table that it names: this one would ask for one.
    let judged = ["validate", "specs/demo/01-round-to-rule.yaml"];
    assert_eq!(ringrule(&judged).status.code(), Some(2));
    assert_eq!(set(&judged).status.code(), Some(0));
    let missing = with("RINGRULE_SETTINGS", "nowhere.yaml", &judged);
    assert_eq!(missing.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&missing.stderr).contains("nowhere.yaml"));
    // What needs no settings does not ask for them.
    let tables = with("RINGRULE_SETTINGS", "nowhere.yaml", &["tables"]);
    assert_eq!(tables.status.code(), Some(0));
}

#[test]
fn the_environment_says_when_to_use_colours() {
    let arguments = ["lint", "specs/areas/fl-31.yaml"];
    let coloured = |output: Output| output.stdout.contains(&0x1b);
    assert!(!coloured(ringrule(&arguments)));
    assert!(coloured(with("RINGRULE_COLOR", "always", &arguments)));
    let said = [&arguments[..], &["--colour", "never"]].concat();
    assert!(!coloured(with("RINGRULE_COLOR", "always", &said)));
    assert_eq!(
        with("RINGRULE_COLOR", "loud", &arguments).status.code(),
        Some(2)
    );
    let help = printed(&["lint", "--help"]);
    for variable in ["RINGRULE_SETTINGS", "RINGRULE_COLOR"] {
        assert!(help.contains(variable), "{variable}");
    }
}
