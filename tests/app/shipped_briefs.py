"""Every brief in configs/ is found good by `check` and finds layouts that meet its musts within a few units, but for the
impossible ones, of which the search says what conflicts.

Usage: shipped_briefs.py PROGRAM CONFIGS
"""

import csv
import pathlib
import re
import subprocess
import sys
import tempfile

program, configs = sys.argv[1], pathlib.Path(sys.argv[2])
UNITS = "4"
CONFLICTS = {"impossible-160.yaml": {"climbing", "chain"}}  # at least these demands are in the conflict


def run(*arguments):
    return subprocess.run([program, *map(str, arguments)], capture_output=True, text=True, check=False)


failures = []
briefs = sorted(configs.glob("*.yaml"))
for brief in briefs:
    checked = run("check", brief)
    if checked.returncode != 0:
        failures.append(f"{brief.name}: check: {checked.stdout}{checked.stderr}")
        continue
    with tempfile.TemporaryDirectory() as folder:
        out = pathlib.Path(folder) / "study"
        found = run("search", brief, "--units", UNITS, "--out", out)
        if brief.name in CONFLICTS:
            page = (out / "index.html").read_text(encoding="utf-8") if found.returncode == 3 else ""
            named = set(re.findall(r"^  '(.*)': alone, giving ", found.stdout, re.MULTILINE))
            shown = sorted(out.glob("conflict/*/layout.yaml"))
            moves = all(run("curves", layout).returncode == 0 for layout in shown)
            if not CONFLICTS[brief.name] <= named or "These demands conflict" not in page or not shown or not moves:
                failures.append(f"{brief.name}: exit {found.returncode}, conflict {named}, {len(shown)} layouts")
            print(f"{brief.name}: conflict of {sorted(named)}, shown by {len(shown)} layouts")
            continue
        if found.returncode != 0:
            failures.append(f"{brief.name}: search ended with {found.returncode}: {found.stderr}{found.stdout}")
            continue
        with open(out / "shortlist.csv", newline="", encoding="utf-8") as table:
            layouts = list(csv.DictReader(table))
        scores = [float(layout["score"]) for layout in layouts]
        if not layouts or min(scores) > 0.0:
            failures.append(f"{brief.name}: no layout has all that is wished; scores {scores}")
        print(f"{brief.name}: {len(layouts)} layouts, best margin {float(layouts[0]['margin']):.2f}")

if len(briefs) < 5:
    failures.append(f"only {len(briefs)} briefs in {configs}")
print("\n".join(failures))
print(f"{len(briefs) - len(failures)} passed, {len(failures)} failed")
sys.exit(1 if failures else 0)
