"""Files and schemas as check-jsonschema reads them: json_schema.py CHECK-JSONSCHEMA"""

import pathlib
import subprocess
import sys

from tally import check

BOARDS = ("specs/demo/*-*.yaml", "specs/areas/*.yaml", "specs/season/20*/*.yaml")
# By schema: the files that meet it, and one that does not.
FILES = {
    "specs/board.schema.json": (BOARDS, "specs/broken/unknown-word.yaml"),
    "tolerances/table.schema.json": (("tolerances/*.yaml",), "specs/broken/tables/no-source.yaml"),
    "specs/event.schema.json": (("specs/events/*.yaml",), "specs/broken/events/unknown-key.yaml"),
    "specs/settings.schema.json": (("specs/*/ringrule.yaml",), "specs/areas/fl-31.yaml"),
}


def main():
    tool = sys.argv[1]

    def call(*arguments):
        done = subprocess.run([tool, *arguments], capture_output=True, text=True, check=False)
        return done.returncode, done.stdout + done.stderr

    with check("check-jsonschema: the schemas are schemas") as looked:
        paths = {*map(str, pathlib.Path("specs").glob("*.schema.json")), *FILES}
        code, said = call("--check-metaschema", *sorted(paths))
        looked.holds("all of them", code == 0, 0, said)
    for schema, (patterns, broken) in FILES.items():
        with check(f"check-jsonschema: files meet {schema}") as looked:
            paths = [path for pattern in patterns for path in sorted(pathlib.Path().glob(pattern))]
            looked.holds("files", paths, "at least one", 0)
            code, said = call("--schemafile", schema, *map(str, paths))
            looked.holds(f"{len(paths)} files", code == 0, 0, said)
            code, said = call("--schemafile", schema, broken)
            looked.holds(broken, code == 1, 1, said)


main()
