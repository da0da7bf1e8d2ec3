"""JUnit XML as others read it: junit.py FOLDER, with junitparser.

What junitparser adds up is what the JSON of the same run says.
"""

import json
import pathlib
import sys

import junitparser

from tally import check

LEVELS = ["note", "warning", "error"]


def validated(found):
    """Tests and failures by suite, as the JSON of `validate` has them; nothing is skipped."""
    suites = {}
    for board in found["boards"]:
        counts = board["checks"]
        suites[board["file"]] = (sum(counts.values()), sum(counts.values()) - counts["conform"], 0)
    for file in found["invalid_files"]:
        problems = len(file["problems"])
        suites[file["file"]] = (problems, problems, 0)
    return suites


def linted(found):
    """Failures and skipped tests by suite, as the JSON of `lint` has them. It does not say
    which rules found nothing, so that tests cannot be told from it."""
    suites = {file["file"]: (None, 0, 0) for file in found["files"]}
    for finding in found["findings"]:
        counts = LEVELS.index(finding["level"]) >= LEVELS.index(found["fail_at"])
        fails = counts and "waived" not in finding
        _, failures, skipped = suites[finding["place"]["file"]]
        suites[finding["place"]["file"]] = (None, failures + fails, skipped + (not fails))
    return suites


def compare(path):
    with check(f"junitparser: {path.name} counts what the JSON counts") as looked:
        found = json.loads(path.with_suffix(".json").read_text(encoding="utf-8"))
        expected = validated(found) if "boards" in found else linted(found)
        report = junitparser.JUnitXml.fromfile(str(path))
        stated = (report.tests, report.failures, report.errors)
        suites = {}
        for suite in report:
            cases = list(suite)
            kinds = [{type(result) for result in case.result} for case in cases]
            failures = sum(junitparser.Failure in kind for kind in kinds)
            skipped = sum(junitparser.Skipped in kind for kind in kinds)
            looked.equal(f"{suite.name}: tests", suite.tests, len(cases))
            looked.equal(f"{suite.name}: failures", suite.failures, failures)
            looked.equal(f"{suite.name}: skipped", suite.skipped, skipped)
            # Hosts take a suite without a test for a run that broke off.
            looked.holds(f"{suite.name}: tests", cases, "at least one", 0)
            tests = expected.get(suite.name, (None,))[0]
            suites[suite.name] = (tests and len(cases), failures, skipped)
        looked.equal("suites", suites, expected)
        report.update_statistics()
        looked.equal("totals", stated, (report.tests, report.failures, report.errors))
        looked.equal("errors", report.errors, 0)


def main():
    paths = sorted(pathlib.Path(sys.argv[1]).glob("*.xml"))
    with check("junitparser: all reports are there") as looked:
        looked.equal("reports", len(paths), 6)
    for path in paths:
        compare(path)


main()
