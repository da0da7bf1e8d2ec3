//! Pages of Markdown as a test needs them: links, headings, blocks, commands.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use crate::common::root;

/// A page, with the way to it from the project's folder.
pub(crate) struct Page {
    pub(crate) name: String,
    pub(crate) text: String,
}

/// A fenced block and the word after its fence.
pub(crate) struct Block {
    pub(crate) kind: String,
    pub(crate) text: String,
}

/// All pages, by name.
pub(crate) fn all() -> Vec<Page> {
    let mut paths = vec![
        root().join("README.md"),
        root().join("specs/season/README.md"),
    ];
    for entry in fs::read_dir(root().join("specs/guide")).expect("a folder") {
        paths.push(entry.expect("an entry").path());
    }
    let mut pages: Vec<_> = paths.iter().map(|path| Page::read(path)).collect();
    pages.sort_by(|a, b| a.name.cmp(&b.name));
    pages
}

impl Page {
    pub(crate) fn read(path: &Path) -> Self {
        let path = path.canonicalize().expect("a path");
        let top = root().canonicalize().expect("a path");
        let name = path.strip_prefix(top).expect("in the project");
        Self {
            name: name.to_string_lossy().replace('\\', "/"),
            text: fs::read_to_string(&path).expect("readable"),
        }
    }

    pub(crate) fn folder(&self) -> PathBuf {
        let path = root().join(&self.name);
        path.parent().expect("a folder").to_owned()
    }

    pub(crate) fn blocks(&self) -> Vec<Block> {
        let mut blocks = Vec::new();
        for (at, part) in self.text.split("\n```").enumerate() {
            let (kind, text) = part.split_once('\n').unwrap_or((part, ""));
            if at % 2 == 1 {
                blocks.push(Block {
                    kind: kind.to_owned(),
                    text: text.to_owned(),
                });
            }
        }
        blocks
    }

    /// What is outside fenced blocks.
    fn prose(&self) -> String {
        let parts = self.text.split("\n```").enumerate();
        let parts = parts.filter(|(at, _)| at % 2 == 0);
        parts.map(|(_, part)| part).collect::<Vec<_>>().join("\n")
    }

    pub(crate) fn links(&self) -> Vec<String> {
        let prose = self.prose();
        let after = prose.split("](").skip(1);
        let links = after.filter_map(|rest| rest.split(')').next());
        links.map(str::to_owned).collect()
    }

    pub(crate) fn pictures(&self) -> Vec<PathBuf> {
        let links = self.links().into_iter();
        let pictures = links.filter(|link| {
            let ending = Path::new(link).extension();
            ending.is_some_and(|ending| ending == "svg" || ending == "png")
        });
        let paths = pictures.map(|link| self.folder().join(link).canonicalize());
        paths.map(|path| path.expect("a picture")).collect()
    }

    /// Headings as hosts of repositories name them in links.
    pub(crate) fn anchors(&self) -> Vec<String> {
        let prose = self.prose();
        let headings = prose.lines().filter(|line| line.starts_with('#'));
        let words = headings.map(|line| line.trim_start_matches('#').trim().to_lowercase());
        let kept = |c: char| c.is_alphanumeric() || c == '-' || c == ' ';
        words
            .map(|words| words.chars().filter(|c| kept(*c)).collect::<String>())
            .map(|words| words.replace(' ', "-"))
            .collect()
    }

    /// Whole commands in the prose. One that serves until it is ended is asked for its help
    /// instead, which its options must fit; `tests/desk` runs it.
    pub(crate) fn inline_commands(&self) -> Vec<String> {
        let prose = self.prose();
        let spans = prose.split('`').skip(1).step_by(2);
        let commands =
            spans.filter(|span| span.starts_with("ringrule ") || span.starts_with("ringrule\n"));
        commands
            .map(|command| command.split_whitespace().collect::<Vec<_>>().join(" "))
            .map(|command| {
                if command.contains(" desk") {
                    format!("{command} --help")
                } else {
                    command
                }
            })
            // A word in capitals stands for what the reader chooses.
            .filter(|command| !command.ends_with(" KIND"))
            .collect()
    }
}

/// The lines of a block of commands, joined where they go on.
pub(crate) fn lines(text: &str) -> Vec<String> {
    let joined = text.replace("\\\n", " ");
    let lines = joined.lines().map(|line| line.trim().to_owned());
    lines
        .filter(|line| !line.is_empty() && !line.starts_with('#'))
        .collect()
}

/// The words of a command, by the quotes that a shell would take away.
fn words(command: &str) -> Vec<String> {
    let mut words = vec![];
    let (mut word, mut quote) = (None::<String>, None);
    for c in command.chars() {
        match (c, quote) {
            ('"' | '\'', None) => {
                quote = Some(c);
                word.get_or_insert_default();
            }
            (c, Some(open)) if c == open => quote = None,
            (c, None) if c.is_whitespace() => words.extend(word.take()),
            (c, _) => word.get_or_insert_default().push(c),
        }
    }
    words.extend(word);
    words
}

/// A folder with what the pages' commands read.
pub(crate) fn copy() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    for name in ["specs", "tolerances"] {
        copied(&root().join(name), &folder.path().join(name));
    }
    folder
}

fn copied(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("a folder");
    for entry in fs::read_dir(from).expect("a folder") {
        let entry = entry.expect("an entry");
        let to = to.join(entry.file_name());
        if entry.file_type().expect("a kind").is_dir() {
            copied(&entry.path(), &to);
        } else {
            fs::copy(entry.path(), to).expect("copied");
        }
    }
}

/// Calls the program as a command says, `cargo run --` being the program, too.
pub(crate) fn call(command: &str, folder: &Path) -> Output {
    let ours = command.strip_prefix("cargo run -- ");
    let ours = ours.or_else(|| command.strip_prefix("ringrule "));
    let arguments = ours.unwrap_or_else(|| panic!("`{command}` is not ours, and not known"));
    Command::new(env!("CARGO_BIN_EXE_ringrule"))
        .args(words(arguments))
        .current_dir(folder)
        .env_remove("CLICOLOR_FORCE")
        .env_remove("COLUMNS")
        .env("NO_COLOR", "1")
        .output()
        .expect("the program starts")
}

/// Runs one line of a page, which ends with 0 or with the code that stands beside it.
pub(crate) fn run(page: &str, line: &str, folder: &Path) -> String {
    let (command, code) = match line.split_once("  # exit code ") {
        Some((command, code)) => (command, code.trim().parse().expect("a number")),
        None => (line, 0),
    };
    let output = call(command, folder);
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(
        output.status.code(),
        Some(code),
        "{page}: {command}\n{said}"
    );
    String::from_utf8(output.stdout).expect("text")
}

/// Whether a block shows what was printed: all of it, but for what `…` stands for.
pub(crate) fn shows(page: &str, block: &str, printed: &str) {
    let mut rest = printed.trim_end();
    let parts: Vec<_> = block.trim_end().split("\n…").collect();
    for (at, part) in parts.iter().enumerate() {
        let found = if at == 0 {
            rest.starts_with(part).then_some(0)
        } else {
            rest.find(part)
        };
        let found = found
            .unwrap_or_else(|| panic!("{page} shows\n{part}\nwhere this was printed:\n{printed}"));
        rest = rest.split_at(found + part.len()).1;
    }
    let whole = rest.is_empty() || block.trim_end().ends_with('…');
    assert!(whole, "{page} leaves out without a …:\n{rest}");
}

/// A file of a page can be used, and so can a part of a board file.
pub(crate) fn reads(page: &str, block: &str) {
    const HEAD: &str = "format: ringrule/board/1\nboard: { id: FL-99 }\nmounting: staples\n\
                        units: mm\nwires: { rings: 16 SWG, sectors: 16 SWG }\n";
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name);
    let file = |text: &str, name: &str| fs::write(path(name), text).expect("written");
    let whole = "specs/demo/01-round-to-rule.yaml";
    fs::copy(root().join("tolerances/wdf.yaml"), path("wdf.yaml")).expect("copied");
    fs::copy(root().join(whole), path("board.yaml")).expect("copied");
    let command = if block.contains("format: ringrule/settings/") {
        file(block, "ringrule.yaml");
        "validate board.yaml"
    } else if block.contains("format: ringrule/table/") {
        file(&block.replace("or { min: …, max: … }", ""), "table.yaml");
        "validate board.yaml --table table.yaml"
    } else if block.contains("format: ringrule/board/") {
        file(block, "board.yaml");
        "validate board.yaml --table wdf.yaml"
    } else if block
        .lines()
        .all(|line| line.is_empty() || line.starts_with("# ringrule: waive"))
    {
        let text = fs::read_to_string(path("board.yaml")).expect("readable");
        file(&format!("{block}\n{text}"), "board.yaml");
        "validate board.yaml --table wdf.yaml"
    } else {
        file(&format!("{HEAD}{block}"), "board.yaml");
        "validate board.yaml --table wdf.yaml"
    };
    let output = call(&format!("ringrule {command}"), folder.path());
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(
        matches!(output.status.code(), Some(0 | 1)),
        "{page}: {block}\n{said}"
    );
}
