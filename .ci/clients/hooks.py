"""The hooks in a real repository: hooks.py PROGRAM, run by the Python that has pre-commit.

The hooks are those of `.pre-commit-hooks.yaml`, with one change: `language: system`, so that
the program that is there already runs and none is built.
"""

import contextlib
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

import yaml

from tally import check

PROGRAM = pathlib.Path(sys.argv[1]).resolve()
PRE_COMMIT = [sys.executable, "-m", "pre_commit"]
# All invented.
FOREIGN = {
    "compose.yaml": "services: { web: { image: x } }\n",
    "several.yaml": "a: 1\n---\nb: 2\n",
    "prices.csv": "item,price\nflights,3\n",
    "prices.tsv": "item\tprice\nflights\t3\n",
    # A template of another program, which is no YAML at all.
    "chart/values.yaml": "{{- if .Values.on }}\nname: x\n{{- end }}\n",
}
ARGS = {
    "ringrule-lint": ["--fail-at", "warning"],
    "ringrule-validate": ["--table", "wdf"],
}
BOARD = pathlib.Path("specs/demo/01-round-to-rule.yaml").read_text(encoding="utf-8")
# A demo board has no day, and every length as in the rules: both are warnings.
DATED = BOARD.replace("mounting:", 'inspection: { date: "2026-11-07" }\nmounting:', 1)
DATED = DATED.replace("diameter: 12.70", "diameter: 12.72")
TIDY, UNTIDY = "{ rings: 16 SWG,", "{ rings: 16swg,"
# More names than one call of a program takes, if each were a call's share on two cores.
MANY = 60


class Repository:
    """A repository with the hooks, in which a file's name says what it holds."""

    def __init__(self, folder):
        self.folder = folder
        self.env = {key: value for key, value in os.environ.items() if not key.startswith("GIT_")}
        tools = folder / "tools"
        tools.mkdir()
        (tools / "ringrule").symlink_to(PROGRAM)
        self.env |= {
            "PATH": f"{tools}{os.pathsep}{os.environ['PATH']}",
            "PRE_COMMIT_HOME": str(folder / "cache"),
            "GIT_CONFIG_GLOBAL": os.devnull,
            "GIT_CONFIG_SYSTEM": os.devnull,
            "NO_COLOR": "1",
        }
        for person in ("AUTHOR", "COMMITTER"):
            self.env |= {f"GIT_{person}_NAME": "A. Ashdown", f"GIT_{person}_EMAIL": "a@example.org"}
        self.top = folder / "boards"
        self.top.mkdir()
        self.git("init", "--quiet")
        hooks = yaml.safe_load(pathlib.Path(".pre-commit-hooks.yaml").read_text(encoding="utf-8"))
        for hook in hooks:
            hook |= {"language": "system", "args": ARGS.get(hook["id"], [])}
        config = {"repos": [{"repo": "local", "hooks": hooks}]}
        self.write(".pre-commit-config.yaml", yaml.safe_dump(config))

    def call(self, *command):
        done = subprocess.run(
            command, cwd=self.top, env=self.env, capture_output=True, text=True, check=False
        )
        return done.returncode, done.stdout + done.stderr

    def git(self, *arguments):
        return self.call("git", *arguments)

    def write(self, name, text):
        path = self.top / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
        self.git("add", "--all")

    def hook(self, name):
        """Runs one hook on everything, as a server would."""
        return self.call(*PRE_COMMIT, "run", f"ringrule-{name}", "--all-files", "--verbose")


@contextlib.contextmanager
def repository(**files):
    with tempfile.TemporaryDirectory(prefix="ringrule-hooks-") as folder:
        repository = Repository(pathlib.Path(folder))
        for name, text in FOREIGN.items():
            repository.write(name, text)
        yield repository


def manifest():
    with check("pre-commit: takes the manifest") as looked:
        done = subprocess.run(
            [*PRE_COMMIT, "validate-manifest", ".pre-commit-hooks.yaml"],
            capture_output=True,
            text=True,
            check=False,
        )
        looked.holds("exit code", done.returncode == 0, 0, done.stdout + done.stderr)


def foreign():
    with check("pre-commit: files of others are passed over") as looked, repository() as ours:
        for hook, files in (("lint", 6), ("tidy", 4), ("validate", 4)):
            code, said = ours.hook(hook)
            looked.holds(hook, code == 0, 0, said)
            told = f"{files} files are passed over" in said
            looked.holds(hook, told, f"{files} files are passed over", said)
        ours.write("slip.yaml", "format: ringrule/bord/1\n")
        for hook in ("lint", "validate"):
            code, said = ours.hook(hook)
            told = code == 1 and "slip.yaml" in said
            looked.holds(f"{hook}: a slip in the format line", told, "slip.yaml", said)


def lint():
    with check("pre-commit: lint sees boards and sheets") as looked, repository() as ours:
        ours.write("good.yaml", DATED)
        code, said = ours.hook("lint")
        looked.holds("a board without fault", code == 0, 0, said)
        ours.write("undated.yaml", BOARD.replace("id: FL-01", "id: FL-99"))
        code, said = ours.hook("lint")
        told = code == 1 and "missing-date" in said and "undated.yaml:" in said
        looked.holds("a board without a day", told, "missing-date", said)
        ours.git("rm", "--force", "--quiet", "undated.yaml")
        # A sheet in which one reading stands apart.
        sheet = pathlib.Path("specs/demo/sheets/fl-12-birch.csv")
        ours.write("sheet.csv", sheet.read_text(encoding="utf-8"))
        code, said = ours.hook("lint")
        told = code == 1 and "reading-apart" in said and "sheet.csv:16" in said
        looked.holds("a sheet", told, "reading-apart at sheet.csv:16", said)


def repeated():
    with check("pre-commit: ids are compared across all files, once") as looked, repository() as ours:
        for number in range(MANY):
            ours.write(f"b{number:03}.yaml", DATED.replace("id: FL-01", f"id: N-{number % (MANY - 1)}"))
        code, said = ours.hook("lint")
        looked.holds("exit code", code == 1, 1, said)
        found = said.count("warning id-repeated")
        looked.equal("findings, one at each of the two files", found, 2)
        looked.equal("runs of the program", said.count(" files: "), 1)


def tidy():
    with check("pre-commit: tidy changes a file, and then no more") as looked, repository() as ours:
        ours.write("board.yaml", DATED.replace(TIDY, UNTIDY))
        code, said = ours.hook("tidy")
        changed = code == 1 and "files were modified by this hook" in said
        looked.holds("first run", changed, "files were modified by this hook", said)
        found = (ours.top / "board.yaml").read_text(encoding="utf-8")
        looked.equal("board.yaml", found, DATED)
        others = {name: (ours.top / name).read_text(encoding="utf-8") for name in FOREIGN}
        looked.equal("files of others", others, FOREIGN)
        code, said = ours.hook("tidy")
        looked.holds("second run", code == 0, 0, said)


def commit():
    with check("pre-commit: a commit waits until the boards are to rule") as looked:
        with repository() as ours:
            ours.call(*PRE_COMMIT, "install")
            board = DATED.replace("radius: 97.374", "radius: 97.874")
            ours.write("board.yaml", board)
            code, said = ours.git("commit", "--quiet", "--message", "A narrow treble")
            told = code != 0 and "does not conform  FL-01" in said
            looked.holds("a narrow treble", told, "a commit that is refused", said)
            ours.write("board.yaml", DATED)
            code, said = ours.git("commit", "--quiet", "--message", "A board to rule")
            looked.holds("a board to rule", code == 0, 0, said)
            looked.equal("commits", ours.git("rev-list", "--count", "HEAD")[1].strip(), "1")


def main():
    if not shutil.which("git"):
        sys.exit("git is needed")
    for part in (manifest, foreign, lint, repeated, tidy, commit):
        part()


main()
