"""A workbook's round: blank, filled in, taken in, validated, results read back.

Everything that is filled in is invented.
"""

import datetime
import json
import pathlib
import subprocess
import sys
import tempfile

import openpyxl

PROGRAM = str(pathlib.Path(sys.argv[1]).resolve())
DAY = datetime.date(2026, 10, 3)
FACTS = {
    "mounting": "staples",
    "profile": "round",
    "date": DAY,
    "instrument": "league calliper 3",
    "resolution": 0.01,
    "max error": 0.03,
    "calibrated": datetime.date(2026, 5, 2),
}
LENGTHS = {
    "inner bull diameter": 12.70,
    "outer bull diameter": 31.80,
    "treble width": 8.00,
    "treble outer radius": 107.00,
    "double width": 8.00,
    "double outer radius": 170.00,
    "overall diameter": 451.00,
    "ring wires": 1.56,
    "sector wires": 1.56,
}
PEOPLE = ["A. Ashdown", "B. Birch"]
BOARDS = 14
checks = 0


def same(found, expected, what):
    """One thing that must hold."""
    global checks
    checks += 1
    if found != expected:
        sys.exit(f"{what}: {found!r} is not {expected!r}")


def run(folder, *arguments, code=0):
    """Runs the program as a user does."""
    done = subprocess.run(
        [PROGRAM, *arguments], cwd=folder, capture_output=True, text=True, check=False
    )
    if done.returncode != code:
        sys.exit(f"{arguments}: exit code {done.returncode}\n{done.stdout}{done.stderr}")
    return done


def fill(path):
    """Fills in the blank workbook: a row for each board and person."""
    book = openpyxl.load_workbook(path)
    sheet = book["boards"]
    same(sheet.freeze_panes is not None, True, "frozen heads")
    same(len(sheet.data_validations.dataValidation) > 0, True, "lists of words")
    same("explanations" in book.sheetnames, True, "a sheet of explanations")
    columns = {cell.value.split(" (")[0]: cell.column for cell in sheet[1] if cell.value}
    row = sheet.max_row
    for board in range(BOARDS):
        for person, name in enumerate(PEOPLE):
            row += 1
            facts = {"board": f"W-{board + 1:02}", "inspected by": name, **FACTS}
            # Halls, one after the other.
            facts["venue"] = ["Reading room", "Ferry house", "Mill"][board % 3]
            for head, value in facts.items():
                sheet.cell(row, columns[head]).value = value
            for length, value in LENGTHS.items():
                # One board has a treble that is too narrow.
                less = 0.5 if (board, length) == (4, "treble width") else 0.0
                for reading in range(3):
                    step = 0.01 * ((board + 2 * person + reading + len(length)) % 3 - 1)
                    cell = sheet.cell(row, columns[f"{length} {reading + 1}"])
                    cell.value = round(value - less + step, 2)
    book.save(path)


def rows(sheet):
    """The rows of a sheet as dictionaries."""
    heads, *rest = sheet.iter_rows(values_only=True)
    return [dict(zip(heads, row)) for row in rest]


def compare(book, found):
    """Whether the workbook of results says what the JSON says."""
    checked = iter(rows(book["checks"]))
    for board in found["boards"]:
        named = [(limit, limit["limit"], "value", "uncertainty") for limit in board["limits"]]
        named += [
            (band, band["band"] + ".area", "deviation", "deviation_uncertainty")
            for band in board["bands"]
        ]
        for check, name, value, uncertainty in named:
            row = next(checked)
            what = f"{board['id']} {name}"
            same(row["id"], board["id"], what)
            same(row["check"], name, what)
            same(row["verdict"], check.get("verdict"), what)
            same(row["venue"], board.get("venue"), what)
            same(row["inspected"].date(), DAY, what)
            same(row["value"], check.get(value), what)
            expanded = check.get(uncertainty, {}).get("expanded")
            same(row["expanded_uncertainty"], expanded, what)
            for key in ("lower", "upper", "probability_of_conformity"):
                same(row[key], check.get(key), f"{what} {key}")
    same(next(checked, None), None, "no more rows")
    used = {row["id"]: row["use"] for row in rows(book["boards"])}
    same(len(used), BOARDS, "a row for each board")
    same(used["W-05"], "may not be used", "the narrow treble")
    venues = rows(book["venues"])
    same(sum(row["boards"] for row in venues), BOARDS, "every board has its venue")
    same(sum(row["may_not_be_used"] for row in venues), 1, "one board fails")


def main():
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder)
        # Four commands, from a blank workbook to the PDF.
        run(path, "intake", "--blank", "boards.xlsx", "--table", "wdf", "--mounting", "staples")
        fill(path / "boards.xlsx")
        run(path, "intake", "boards.xlsx", "--into", "boards", "--table", "wdf")
        outputs = ["--also", "results.xlsx", "--also", "results.json"]
        run(path, "validate", "boards", "--table", "wdf", *outputs, code=1)
        run(path, "report", "boards", "--table", "wdf", "-o", "report.pdf", "-o", "report.xlsx")
        found = json.loads((path / "results.json").read_text(encoding="utf-8"))
        same(len(found["boards"]), BOARDS, "every board was taken in")
        results = openpyxl.load_workbook(path / "results.xlsx")
        compare(results, found)
        compare(openpyxl.load_workbook(path / "report.xlsx"), found)
        same((path / "report.pdf").read_bytes()[:5], b"%PDF-", "a PDF")
    print(f"workbooks: {checks} checks")


main()
