"""Writes into a folder what the checks hand to other programs: outputs.py PROGRAM FOLDER

The boards are the invented ones of `specs`.
"""

import pathlib
import subprocess
import sys

from tally import check

TABLE = ("--table", "wdf")
PLACES = ("--table", "tolerances/fenwick-lane-places.yaml")
STRIP = "specs/demo/02-strip-to-rule.yaml"
ROUND = "specs/demo/01-round-to-rule.yaml"
FINDINGS = ("json", "sarif", "junit")
# By name: the exit code, the formats, the command.
COMMANDS = {
    "lint": (2, FINDINGS, ["lint", "specs/demo", "specs/broken", "tolerances"]),
    # What is found below the level that fails a run, and what is not.
    "lint-notes": (1, FINDINGS, ["lint", "tests/fixtures/board-r.yaml", "--fail-at", "note"]),
    "lint-errors": (0, FINDINGS, ["lint", "tests/fixtures/board-r.yaml", "--fail-at", "error"]),
    "validate": (1, FINDINGS, ["validate", "specs/demo", *TABLE]),
    "validate-places": (1, FINDINGS, ["validate", "specs/demo", *PLACES]),
    "validate-broken": (2, FINDINGS, ["validate", "specs/demo", "specs/broken", *TABLE]),
    "report": (0, ["json"], ["report", "specs/demo", *TABLE]),
    "report-event": (
        0,
        ["json"],
        ["report", "specs/demo", *PLACES, "--event", "specs/events/fenwick-lane-autumn.yaml"],
    ),
    "compare": (0, ["json"], ["compare", STRIP, ROUND]),
    "compare-areas": (0, ["json"], ["compare", STRIP, "specs/areas/fl-31.yaml"]),
    "compare-ratios": (0, ["json"], ["compare", STRIP, "--ratio", "treble=1.16±0.01"]),
    "leg": (0, ["json"], ["leg", "nominal:embedded", *TABLE, "--spread", "12"]),
    "history": (1, ["json"], ["history", "specs/season", "--on", "2026-11-01"]),
}


# Records of a stream, by lines that name files: one that conforms, one that does not, no board.
STREAM = f"{ROUND}\nspecs/demo/03-narrow-treble.yaml\nspecs/broken/unknown-key.yaml\n"


def run(program, arguments, output="/dev/null", lines=""):
    """Runs the program; its exit code and what it said beside its output."""
    with open(output, "wb") as file:
        done = subprocess.run(
            [program, "--quiet", *arguments],
            input=lines.encode(),
            stdout=file,
            stderr=subprocess.PIPE,
            check=False,
        )
    return done.returncode, done.stderr.decode()


def main():
    program, folder = sys.argv[1], pathlib.Path(sys.argv[2])
    with check("outputs for other programs are written") as looked:
        for name, (code, formats, command) in COMMANDS.items():
            for kind in formats:
                ending = "xml" if kind == "junit" else kind
                path = folder / f"{name}.{ending}"
                found, said = run(program, [*command, "--format", kind], path)
                looked.holds(f"{path.name}: its exit code", found == code, code, f"{found}: {said}")
                looked.holds(path.name, path.stat().st_size > 0, "something in it", said)
        # A production run is many files: they are made first.
        made = folder / "made"
        code, said = run(program, ["intake", "specs/lot/run.csv", "--into", str(made)])
        looked.holds("the production run is taken in", code == 0, 0, said)
        lot = ["lot", str(made), *TABLE, "--format", "json"]
        code, said = run(program, lot, folder / "lot.json")
        looked.holds("lot.json: its exit code", code == 1, 1, f"{code}: {said}")
        records = folder / "records.jsonl"
        code, said = run(program, ["validate", "--records", *TABLE], records, STREAM)
        looked.holds("records.jsonl: its exit code", code == 2, 2, f"{code}: {said}")
        looked.equal("records.jsonl: lines", len(records.read_bytes().splitlines()), 3)


main()
