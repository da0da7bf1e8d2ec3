"""SARIF as the SARIF multitool reads it: sarif.py MULTITOOL FOLDER

The multitool checks a log against the schema of SARIF 2.1.0, its own rules, and the rules
of the host that shows findings beside the code (`GH…`).
"""

import json
import os
import pathlib
import subprocess
import sys

from tally import check

# What its rules report below `error` is advice: snippets of code in the log, names of
# rules in Pascal case.
RULES = "Sarif;Ghas"


def validate(tool, folder, *logs):
    """The results of the multitool, by log, as (rule, level, message's arguments)."""
    output = folder / "multitool.out"
    done = subprocess.run(
        [tool, "validate", "--rule-kind", RULES, "--level", "Error;Warning;Note"]
        + ["--log", "ForceOverwrite", "--output", str(output), *map(str, logs)],
        capture_output=True,
        text=True,
        check=False,
        # Without it, it asks for a library of languages that a small machine lacks.
        env={**os.environ, "DOTNET_SYSTEM_GLOBALIZATION_INVARIANT": "1"},
    )
    # It ends with 1 where it found something; a run that broke off writes no log.
    run = json.loads(output.read_text(encoding="utf-8-sig"))["runs"][0]
    output.unlink()
    if not all(one["executionSuccessful"] for one in run["invocations"]):
        raise RuntimeError(done.stdout + done.stderr)
    found = {log.name: [] for log in logs}
    for result in run.get("results", []):
        place = result["locations"][0]["physicalLocation"]["artifactLocation"]
        index = place.get("index")
        uri = place.get("uri") or run["artifacts"][index]["location"]["uri"]
        rules = run["tool"]["driver"]["rules"]
        rule = rules[result["ruleIndex"]] if "ruleIndex" in result else {}
        usual = rule.get("defaultConfiguration", {}).get("level", "warning")
        entry = (result["ruleId"], result.get("level", usual), result["message"].get("arguments"))
        found[uri.rsplit("/", 1)[-1]].append(entry)
    return found


def main():
    tool, folder = sys.argv[1], pathlib.Path(sys.argv[2])
    logs = sorted(folder.glob("*.sarif"))
    with check("SARIF multitool: no error, with its own rules and the host's") as looked:
        looked.equal("logs", len(logs), 6)
        for name, results in validate(tool, folder, *logs).items():
            errors = [result for result in results if result[1] == "error"]
            looked.equal(name, errors, [])
            # Whoever finds nothing at all may not have looked.
            looked.holds(name, results, "some advice at least", results)
            asks = [result for result in results if "informationUri" in str(result)]
            looked.equal(f"{name}: a page about the tool", asks, [])
    with check("SARIF multitool: its rules are in force") as looked:
        # It passes over what a schema forbids of a value; `schemas.mjs` does not.
        faults = {
            "without-a-place.sarif": ("GH", lambda run: run["results"][0].pop("locations")),
            "without-a-tool.sarif": ("JSON", lambda run: run.pop("tool")),
        }
        for name, (_, spoil) in faults.items():
            log = json.loads(logs[0].read_text(encoding="utf-8"))
            spoil(log["runs"][0])
            (folder / name).write_text(json.dumps(log), encoding="utf-8")
        found = validate(tool, folder, *(folder / name for name in faults))
        for name, (family, _) in faults.items():
            (folder / name).unlink()
            rules = [rule for rule, level, _ in found[name] if level == "error"]
            broken = any(rule.startswith(family) for rule in rules)
            looked.holds(name, broken, f"{family}…", rules)


main()
