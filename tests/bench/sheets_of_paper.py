#!/usr/bin/env python3
"""How many sheets of paper the templates of plans take.

    sheets_of_paper.py PROGRAM [--each] [PLAN...]
    sheets_of_paper.py PROGRAM --against OTHER [PLAN...]

Exports the templates of each plan (the three demo plans where none is named) on A4 and on Letter with PROGRAM, a built
`jigless`, and prints files and sheets. `--each` also prints what is on every sheet, and how high each template on it is
in millimetres. `--against` prints the seconds of the processor that PROGRAM and OTHER take for the templates of each plan
on A4, the best of seven runs in turn, and their ratio. Works with versions that write a file for each part, too. Needs pikepdf.
"""

import resource
import subprocess
import sys
import tempfile
from pathlib import Path

import pikepdf

DEMO = ("glaze-cabinet", "glazing-trolley", "thread-organiser")
FIXTURES = Path(__file__).resolve().parents[2] / "fixtures"
MM = 25.4 / 72


def exported(program, plan, paper, out):
    command = [program, "export", str(plan), "--to", "pdf-template", "--quiet", "--out", out]
    subprocess.run([*command, "--set", f"pdf-template.paper={paper}"], check=True)
    return sorted(Path(out).rglob("*.pdf"))


def print_each(pdf):
    for number, page in enumerate(pdf.pages, 1):
        boxes = [(str(v["/Name"]), [float(x) * MM for x in v["/BBox"]]) for v in page.get("/VP", [])]
        shown = ", ".join(f"{name} {box[3] - box[1]:.0f}" for name, box in boxes)
        print(f"    {number}: {shown or 'words'}")


def seconds(program, plan):
    """Seconds of the processor for one export."""
    with tempfile.TemporaryDirectory() as out:
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        exported(program, plan, "a4", out)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def compare(program, other, plans):
    for plan in plans:
        runs = [(seconds(program, plan), seconds(other, plan)) for _ in range(7)]
        new, old = min(run[0] for run in runs), min(run[1] for run in runs)
        print(f"{plan.name}: {new:.3f} s against {old:.3f} s, {new / old:.2f} times")


def main():
    arguments = [a for a in sys.argv[1:] if a != "--each"]
    other = None
    if "--against" in arguments:
        at = arguments.index("--against")
        other = arguments[at + 1]
        del arguments[at : at + 2]
    if not arguments or arguments[0] in ("-h", "--help"):
        print(__doc__)
        return 2
    program, *plans = arguments
    plans = [Path(plan) for plan in plans] or [FIXTURES / plan for plan in DEMO]
    if other:
        compare(program, other, plans)
        return 0
    for paper in ("a4", "letter"):
        total = [0, 0]
        for plan in plans:
            with tempfile.TemporaryDirectory() as out:
                files = exported(program, plan, paper, out)
                sheets = 0
                for file in files:
                    with pikepdf.open(file) as pdf:
                        sheets += len(pdf.pages)
                        if "--each" in sys.argv:
                            print_each(pdf)
            print(f"{paper} {plan.name}: {len(files)} files, {sheets} sheets")
            total = [total[0] + len(files), total[1] + sheets]
        print(f"{paper} together: {total[0]} files, {total[1]} sheets")
    return 0


if __name__ == "__main__":
    sys.exit(main())
