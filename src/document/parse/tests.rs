//! What the parser accepts, refuses, and where it says so.

use super::*;

fn faults(text: &str) -> Vec<Fault> {
    match parse(Source::new("test", text)) {
        Ok(_) => Vec::new(),
        Err(invalid_file) => invalid_file.faults(),
    }
}

#[test]
fn a_key_is_given_twice_in_a_large_group_too() {
    for many in [2, 15, 16, 17, 40] {
        let keys: String = (0..many).map(|n| format!("k{n}: {n}\n")).collect();
        for repeated in [0, many - 1] {
            let text = format!("{keys}k{repeated}: again\nk{repeated}: and again\nlast: 1\n");
            let invalid = parse(Source::new("test", text)).expect_err("given three times");
            let found = invalid.faults();
            assert_eq!(found, [Fault::DuplicateKey; 2], "{many} keys, {repeated}");
        }
        assert_eq!(faults(&format!("{keys}last: 1\n")), []);
    }
}

#[test]
fn every_value_knows_its_bytes() {
    let text = "a: 1\nb: { c: \"x\", d: [2, 3] }\ne:\n  f: 4\n";
    let document = parse(Source::new("test", text)).expect("well formed");
    let at = |path: &[&str]| {
        let node = path
            .iter()
            .try_fold(&document.root, |node, key| node.get(key));
        document.source.slice(node.expect("a node").span)
    };
    assert_eq!(at(&["a"]), "1");
    assert_eq!(at(&["b"]), "{ c: \"x\", d: [2, 3] }");
    assert_eq!(at(&["b", "c"]), "\"x\"");
    assert_eq!(at(&["b", "d"]), "[2, 3]");
    assert_eq!(at(&["e"]), "f: 4");
    let four = document
        .root
        .get("e")
        .and_then(|e| e.get("f"))
        .expect("a node");
    assert_eq!(document.pointer(four.span), "/e/f");
}

#[test]
fn what_yaml_programs_disagree_on_is_refused() {
    for text in [
        ".nan", ".inf", "-.INF", "017", "0x1F", "0o17", "1_000", "+1", ".5", "1.", "1e999",
    ] {
        assert_eq!(
            faults(&format!("a: {text}")),
            [Fault::AmbiguousScalar],
            "{text}"
        );
        assert_eq!(faults(&format!("a: \"{text}\"")), [], "{text} in quotes");
    }
    for text in [
        "1",
        "-1.5",
        "0",
        "0.5",
        "1e3",
        "1,5",
        "16 SWG",
        "5/16 in",
        "2026-11-25",
    ] {
        assert_eq!(faults(&format!("a: {text}")), [], "{text}");
    }
}

#[test]
fn what_these_files_do_not_use_is_refused_all_in_one_run() {
    let text = "a: 1\na: 2\n<<: 3\n4: 5\n[b]: 6\nc: !!float 7\nd: .nan\n";
    assert_eq!(
        faults(text),
        [
            Fault::DuplicateKey,
            Fault::KeyNotPlain,
            Fault::KeyNotPlain,
            Fault::KeyNotPlain,
            Fault::Tag,
            Fault::AmbiguousScalar,
        ]
    );
    assert_eq!(faults("a: 1\n---\nb: 2\n"), [Fault::SeveralDocuments]);
    assert_eq!(faults("%YAML 1.2\n---\na: 1\n"), [Fault::Syntax]);
    assert_eq!(faults(""), [Fault::Syntax]);
    assert_eq!(faults("a: [1, 2\n"), [Fault::Syntax]);
}

#[test]
fn hostile_files_meet_the_budgets() {
    let deep = "[".repeat(60) + &"]".repeat(60);
    assert_eq!(faults(&deep), [Fault::TooLarge]);
    let wide = format!("[{}]", "1,".repeat(30_000));
    assert_eq!(faults(&wide), [Fault::TooLarge]);
    let long = format!("a: \"{}\"", "x".repeat(budget::BYTES));
    assert_eq!(faults(&long), [Fault::TooLarge]);
    let mut bomb = "a0: &a0 [1,1,1,1,1,1,1,1,1,1]\n".to_owned();
    for level in 1..9 {
        let alias = format!("*a{},", level - 1).repeat(10);
        bomb = format!("{bomb}a{level}: &a{level} [{alias}]\n");
    }
    assert_eq!(faults(&bomb), [Fault::TooLarge]);
    let heavy = format!(
        "a: &a {}\nb: [{}]\n",
        "x".repeat(50_000),
        "*a,".repeat(10_000)
    );
    assert_eq!(faults(&heavy), [Fault::TooLarge]);
    assert_eq!(faults("a: &a [*a]\n"), [Fault::Syntax]);
}
