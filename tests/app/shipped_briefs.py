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


# Briefs that name linkages: at least so many of them can, and these were found not to.
LINKAGES = {"which-linkage-150.yaml": (9, 5, {"single_pivot", "linkage_driven_single_pivot", "high_pivot_idler"}),
            "overnight-160.yaml": (5, 4, set())}


def linkages_of(brief, out, layouts):
    """What is wrong with the account that a study gives of its linkages."""
    count, least, cannot = LINKAGES[brief.name]
    with open(out / "linkages.csv", newline="", encoding="utf-8") as table:
        rows = list(csv.DictReader(table))
    can = {row["linkage"] for row in rows if int(row["feasible"]) > 0}
    wrong = []
    if len(rows) != count or len(can) < least or can & cannot:
        wrong.append(f"{brief.name}: {len(rows)} linkages, of which can: {sorted(can)}")
    titles = {row["title"] for row in rows if row["linkage"] in can}
    if {layout["linkage"] for layout in layouts} != titles:
        wrong.append(f"{brief.name}: the shortlist has not each linkage that can, or another")
    if len({(row["units"], row["screened"]) for row in rows}) != 1:
        wrong.append(f"{brief.name}: the linkages were not searched on equal terms")
    page = (out / "index.html").read_text(encoding="utf-8")
    for row in rows:
        alone = out / "linkages" / row["linkage"] / "layout.yaml"
        if run("curves", alone).returncode != 0:
            wrong.append(f"{brief.name}: {alone.name} of {row['linkage']} does not stand alone")
        if (row["linkage"] not in can) != (f"{row['title']}: why not" in page):
            wrong.append(f"{brief.name}: the page does not say of {row['linkage']} why not, or does in vain")
    print(f"{brief.name}: {len(can)} of {len(rows)} linkages can")
    return wrong


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
        units = LINKAGES[brief.name][0] * 2 if brief.name in LINKAGES else UNITS
        found = run("search", brief, "--units", units, "--out", out)
        if brief.name in CONFLICTS:
            page = (out / "index.html").read_text(encoding="utf-8") if found.returncode == 3 else ""
            named = set(re.findall(r"^'([^']*)': (?:giving|no amount)", found.stdout, re.MULTILINE))
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
        if brief.name in LINKAGES:
            failures += linkages_of(brief, out, layouts)
        elif not layouts or min(scores) > 0.0:
            failures.append(f"{brief.name}: no layout has all that is asked for; scores {scores}")
        print(f"{brief.name}: {len(layouts)} layouts, best margin {float(layouts[0]['margin']):.2f}")

if len(briefs) < 10:
    failures.append(f"only {len(briefs)} briefs in {configs}")
print("\n".join(failures))
print(f"{len(briefs) - len(failures)} passed, {len(failures)} failed")
sys.exit(1 if failures else 0)
