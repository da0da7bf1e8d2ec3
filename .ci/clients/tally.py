"""Counts checks, and says of each that fails what was expected and found.

Every check ends in one line, `ok`, `FAIL` or `skip`, which `.ci/clients/run` counts.
"""

import contextlib
import json
import traceback

SHOWN = 8
LONGEST = 400


def short(value):
    text = value if isinstance(value, str) else json.dumps(value, ensure_ascii=False, default=str)
    return text if len(text) <= LONGEST else f"{text[:LONGEST]}… ({len(text)} characters)"


class Looked:
    """What one check has looked at, and what was wrong."""

    def __init__(self):
        self.seen = 0
        self.faults = []

    def fail(self, where, expected, found):
        self.seen += 1
        self.faults.append(f"{where}: expected {short(expected)}, found {short(found)}")

    def holds(self, where, condition, expected, found):
        if condition:
            self.seen += 1
        else:
            self.fail(where, expected, found)

    def equal(self, where, found, expected):
        self.holds(where, found == expected, expected, found)


@contextlib.contextmanager
def check(name):
    """One check. One that looked at nothing has failed: otherwise an output that is
    missing would pass every check of what is in it."""
    looked = Looked()
    try:
        yield looked
        if looked.seen == 0:
            looked.fail("the check itself", "something to look at", "nothing")
    except Exception:  # whatever it is, the other checks still run
        looked.fail("the check itself", "to run to its end", traceback.format_exc())
    if not looked.faults:
        print(f"ok    {name} ({looked.seen})", flush=True)
        return
    print(f"FAIL  {name}: {len(looked.faults)} of {looked.seen}")
    for fault in looked.faults[:SHOWN]:
        print("      - " + fault.replace("\n", "\n        "))
    if len(looked.faults) > SHOWN:
        print(f"      - and {len(looked.faults) - SHOWN} more like these", flush=True)
