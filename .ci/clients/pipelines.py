"""The ready pipelines of `specs/ci`: pipelines.py CHECK-JSONSCHEMA PROGRAM, run by a Python that
reads YAML.

They meet their hosts' schemas, and their commands are run as the hosts would run them, in a
repository with boards that are to rule and in one with boards that are not. Only the installing
is left out: the program that is there runs. What the hosts do themselves (actions, tasks,
caches) does not run here; that the files are there which they take is looked at.
"""

import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

import yaml

from tally import check

TOOL, PROGRAM = sys.argv[1], pathlib.Path(sys.argv[2]).resolve()
FOLDER = pathlib.Path("specs/ci")
SCHEMAS = {
    "github.yml": ["--builtin-schema", "vendor.github-workflows"],
    "gitlab.yml": ["--builtin-schema", "vendor.gitlab-ci", "--data-transform", "gitlab-ci"],
    # Its expressions are not all in the stricter language of a newer edition.
    "azure.yml": ["--builtin-schema", "vendor.azure-pipelines", "--data-transform"]
    + ["azure-pipelines", "--regex-variant", "nonunicode"],
}
# A line that no host would take.
SPOILT = {
    "github.yml": ("runs-on:", "runs-at:"),
    "gitlab.yml": ("when: always", "when: ever"),
    "azure.yml": ("- publish: logs", "- publisch: logs"),
}
# Who may be called in a step of the host: the hosts themselves.
FIRST_HAND = ("actions/", "github/")


def plain(steps):
    """Scripts with whether each runs after one that failed, without what installs."""
    for script, always in steps:
        lines = [line for line in script.splitlines() if not line.startswith("cargo install ")]
        if lines:
            yield "\n".join(lines), always


def github(text):
    """Variables, steps, what is taken up, and what stands in the log for a bad board."""
    pipeline = yaml.safe_load(text)
    steps = pipeline["jobs"]["boards"]["steps"]
    scripts = [(step["run"], "!cancelled()" in step.get("if", "")) for step in steps if "run" in step]
    taken = [step["with"]["sarif_file"] for step in steps if "sarif_file" in step.get("with", {})]
    return pipeline["env"], plain(scripts), taken, "::error file=boards/03-narrow-treble.yaml,line="


def gitlab(text):
    pipeline = yaml.safe_load(text)
    job = pipeline["boards"]
    # One shell for all, which ends at the first that fails; what installs comes first.
    lines = [line for line in job["before_script"] + job["script"] if not line.startswith("cargo ")]
    reports = job["artifacts"]["reports"]
    taken = reports["junit"] + reports["codequality"]
    return pipeline["variables"], [("\n".join(lines), True)], taken, "does not conform  FL-03"


def azure(text):
    pipeline = yaml.safe_load(text)
    steps = pipeline["steps"]
    always = "succeededOrFailed()"
    scripts = [(step["bash"], step.get("condition") == always) for step in steps if "bash" in step]
    taken = [step["publish"] for step in steps if "publish" in step]
    taken += ["lint.xml", "validate.xml", "logs/lint.sarif", "logs/validate.sarif"]
    variables = {name.upper(): value for name, value in pipeline["variables"].items()}
    variables["PROGRAM"] = "nowhere"
    return variables, plain(scripts), taken, "sourcepath=boards/03-narrow-treble.yaml;linenumber="


READERS = {"github.yml": github, "gitlab.yml": gitlab, "azure.yml": azure}


def form():
    for name, options in SCHEMAS.items():
        with check(f"check-jsonschema: {name} is a pipeline") as looked, tempfile.TemporaryDirectory() as folder:
            text = (FOLDER / name).read_text(encoding="utf-8")
            line, wrong = SPOILT[name]
            looked.holds("a line to spoil", line in text, line, "none")
            spoilt = pathlib.Path(folder) / name
            spoilt.write_text(text.replace(line, wrong), encoding="utf-8")
            for path, code in ((FOLDER / name, 0), (spoilt, 1)):
                done = subprocess.run(
                    [TOOL, *options, str(path)], capture_output=True, text=True, check=False
                )
                # A traceback ends with 1 as well.
                clean = done.returncode == code and "Traceback" not in done.stderr
                looked.holds(path.parent.name, clean, code, done.stdout + done.stderr)
            used = [line.split("uses:")[1].strip() for line in text.splitlines() if "uses:" in line]
            others = [action for action in used if not action.startswith(FIRST_HAND)]
            looked.equal("somebody else's actions", others, [])


def call(script, top, env):
    shell = ["bash", "-e", "-o", "pipefail", "-c", script]
    done = subprocess.run(shell, cwd=top, env=env, capture_output=True, text=True, check=False)
    return done.returncode, done.stdout + done.stderr


def carry_out(name, top):
    """Runs the commands of a pipeline: whether it passes, its log, what is taken up."""
    variables, scripts, taken, bad = READERS[name]((FOLDER / name).read_text(encoding="utf-8"))
    env = {key: value for key, value in os.environ.items() if key not in ("CI", "COLUMNS")}
    env |= {key: str(value) for key, value in variables.items()}
    env |= {"PATH": f"{top.parent / 'tools'}{os.pathsep}{env['PATH']}", "NO_COLOR": "1"}
    env |= {"GITHUB_PATH": str(top.parent / "path")}
    passes, log = True, ""
    for script, always in scripts:
        if passes or always:
            code, said = call(script, top, env)
            passes, log = passes and code == 0, log + said
    return passes, log, taken, bad


def contents(looked, path, expected):
    """Whether a host can read a file, and finds the bad board where the repository has it."""
    text = path.read_text(encoding="utf-8")
    if path.suffix in (".json", ".sarif"):
        looked.holds(path.name, json.loads(text) is not None, "JSON", text)
    if path.name.startswith("validate") and not expected:
        named = "boards/03-narrow-treble.yaml"
        looked.holds(path.name, named in text, named, text)


def commands():
    demo = pathlib.Path("specs/demo")
    # By what it holds: the boards, and whether the pipeline passes.
    kinds = {
        "boards to rule": (["01-round-to-rule.yaml", "02-strip-to-rule.yaml"], True),
        "a narrow treble": (["01-round-to-rule.yaml", "03-narrow-treble.yaml"], False),
    }
    for name in READERS:
        with check(f"the commands of {name} run") as looked:
            for kind, (boards, expected) in kinds.items():
                with tempfile.TemporaryDirectory(prefix="ringrule-pipeline-") as folder:
                    top = pathlib.Path(folder) / "repository"
                    (top / "boards").mkdir(parents=True)
                    (top.parent / "tools").mkdir()
                    (top.parent / "tools" / "ringrule").symlink_to(PROGRAM)
                    # The settings waive what lint finds in boards that were never measured.
                    for file in [*boards, "ringrule.yaml"]:
                        shutil.copy(demo / file, top / "boards")
                    passes, log, taken, bad = carry_out(name, top)
                    looked.holds(f"{kind}: passes", passes == expected, expected, log)
                    looked.holds(f"{kind}: log", (bad in log) != expected, bad, log)
                    looked.holds("what is taken up", taken, "files", taken)
                    for path in taken:
                        there = (top / path).exists()
                        looked.holds(f"{kind}: {path}", there, "a file", log)
                        if there and "." in path:
                            contents(looked, top / path, expected)


form()
commands()
