"""Invented boards as JSON Lines, one board a line: boards.py COUNT [SEED]

Each line is a board file in JSON. The boards are drawn about the nominal ones of the built-in
table, with the scatter of a careless maker and of one calliper (both invented), so that some
do not conform; every 97th has a fault of form, which its own record must tell.
"""

import json
import random
import sys

FAULT_EVERY = 97
# Millimetres. The nominal lengths are those of the built-in table: from memory.
BULLS = {"inner_bull": 12.7, "outer_bull": 31.8}
OUTER = {"treble": 107.0, "double": 170.0}
# By mounting: the width of a band and the edge to which it is taken.
WIDTHS = {"staples": (8.0, "inside"), "embedded": (9.6, "apex")}
OVERALL = 451.0
# Standard deviations, invented.
MADE, READ = 0.08, 0.01
READINGS = 3


def length(draw, nominal):
    """Three readings of one length of one board."""
    made = draw.gauss(nominal, MADE)
    return {"readings": [round(draw.gauss(made, READ), 2) for _ in range(READINGS)]}


def board(number, draw):
    mounting = draw.choice(["staples", "embedded"])
    wire = "16 SWG" if mounting == "staples" else "0.5 mm"
    rings = {
        name: {"diameter": length(draw, nominal), "edge": "inside"}
        for name, nominal in BULLS.items()
    }
    for band, nominal in OUTER.items():
        rings[f"{band}_outer"] = {"radius": length(draw, nominal), "edge": "outside"}
    width, edge = WIDTHS[mounting]
    file = {
        "format": "ringrule/board/1",
        "board": {"id": f"S-{number:06}", "made": draw.randint(1994, 2026)},
        "inspection": {"date": "2026-11-07", "by": "A. Ashdown"},
        "mounting": mounting,
        "units": "mm",
        "instrument": {"name": "calliper 7", "resolution": 0.01, "max_error": 0.03},
        "wires": {"rings": wire, "sectors": wire},
        "rings": rings,
        "widths": {band: {"width": length(draw, width), "edge": edge} for band in OUTER},
        "overall": {"diameter": length(draw, OVERALL)},
    }
    if number % FAULT_EVERY == 0:
        del file["rings"]["treble_outer"]["edge"]
    return file


def main():
    count = int(sys.argv[1])
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 1
    for number in range(1, count + 1):
        # Each board has a stream of its own: the first ones are the same in every count.
        draw = random.Random(f"{seed}:{number}")
        sys.stdout.write(json.dumps(board(number, draw)) + "\n")


main()
