"""Briefs as workshops write them (tests/app/briefs/) give layouts that one would build.

Each is checked and searched with its own small budget. What is held of every layout on its shortlist is read from the
curves and pivots that a study writes: whether the musts hold, by another way than the search's (numbers between stations
by straight lines), and whether one would build it. The limits of that are common practice, no source.

Usage: workshop_briefs.py PROGRAM BRIEFS [NAME…]
"""

import csv
import math
import pathlib
import re
import subprocess
import sys
import tempfile

import yaml

program, folder = sys.argv[1], pathlib.Path(sys.argv[2])
only = set(sys.argv[3:])

# Briefs that nothing meets, with demands that must be named when it is said why.
CONFLICTS = {"contradictory": {"never tugs", "climbs without a dip", "moves back"},
             "mid-life-all-kept": {"travel", "climbing", "more progression"}}

# What one would build: over the whole stroke, in every case and gear.
LEVERAGE = (1.2, 4.0)
LEVERAGE_RISE = 0.08  # sum of all rises along the stroke
ANTI = (-50.0, 250.0)  # anti-squat and anti-rise, %
SLACK = -8.0  # chain growth, mm
AXLE = (-60.0, 60.0)  # rearward, mm
TRANSMISSION = 15.0  # at any joint, degrees
PIVOTS = 24.0  # centres of two pivots topped out, mm


def run(*arguments):
    return subprocess.run([program, *map(str, arguments)], capture_output=True, text=True, check=False)


def rows_of(path):
    with open(path, newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def between(xs, ys, x):
    """Read off a curve by a straight line between its stations."""
    for x0, x1, y0, y1 in zip(xs, xs[1:], ys, ys[1:]):
        if x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return ys[-1]


class Curves:
    """One layout in one case."""

    def __init__(self, path):
        rows = rows_of(path)
        self.columns = {key: [float(row[key]) if row[key] else math.nan for row in rows] for key in rows[0]}
        self.travel = self.columns["travel_mm"]
        x = self.columns["axle_x_mm"]
        self.columns["rearward"] = [x[0] - x_i for x_i in x]

    def curve(self, name, gear=None):
        """None for a curve that the file does not have."""
        column = {"anti_squat": "anti_squat_pct", "chain_growth": "chain_growth_mm", "kickback": "kickback_deg",
                  "anti_rise": "anti_rise_pct", "travel": "travel_mm", "bb_height": "bb_height_mm",
                  "head_angle": "head_angle_deg", "chainstay_growth": "chainstay_growth_mm"}.get(name, name)
        return self.columns.get(f"{column}[{gear}]" if gear else column)

    def gears(self):
        return [key.split("[")[1][:-1] for key in self.columns if key.startswith("anti_squat_pct[")]

    def figures(self):
        leverage, rearward = self.columns["leverage"], self.columns["rearward"]
        squat = [y for g in self.gears() for y in self.curve("anti_squat", g)] or [0.0]
        growth = [y for g in self.gears() for y in self.curve("chain_growth", g)] or [0.0]
        rise = self.columns["anti_rise_pct"]
        return {"leverage": (min(leverage), max(leverage)), "anti-squat": (min(squat), max(squat)),
                "anti-rise": (min(rise), max(rise)), "rearward": (min(rearward), max(rearward)),
                "chain growth": (min(growth), max(growth)),
                "leverage rise": (0.0, sum(max(0.0, b - a) for a, b in zip(leverage, leverage[1:])))}


LIMITS = {"leverage": LEVERAGE, "anti-squat": ANTI, "anti-rise": ANTI, "rearward": AXLE, "chain growth": (SLACK, 100.0),
          "leverage rise": (0.0, LEVERAGE_RISE)}


def values(target, curves, brief):
    """What a target looks at, in each of its gears; nothing where the curves do not show it."""
    sag = brief.get("sag", {"fraction": 0.3, "of": "wheel"})
    where = target.get("at")
    gears = curves.gears() if target.get("gears") == "all" else target.get("gears", [target.get("gear")])
    for gear in gears:
        measure = target.get("measure")
        ys = curves.curve(target.get("curve", "leverage" if measure == "progressivity" else ""), gear)
        if ys is None or (where == "sag" and sag.get("of", "wheel") != "wheel"):
            return
        if measure == "progressivity" and "from" not in target and "to" not in target:
            yield (ys[0] - ys[-1]) / ys[0]
        elif measure is None and "over" in target:
            low, high = (f * curves.travel[-1] for f in target["over"])
            inside = [y for z, y in zip(curves.travel, ys) if low <= z <= high]
            yield min(inside)
            yield max(inside)
        elif measure is None:
            fraction = {"sag": sag["fraction"], "topped_out": 0.0, "bottomed": 1.0}.get(where) if isinstance(
                where, str) else where["fraction"]
            yield between(curves.travel, ys, fraction * curves.travel[-1])


def curves_of(path, *arguments):
    """The curves of a layout or brief as drawn, as the program's own table has them."""
    with tempfile.NamedTemporaryFile(suffix=".csv") as file:
        done = run("curves", path, "--stations", 201, "--csv", file.name, *arguments)
        if done.returncode != 0:
            raise RuntimeError(f"curves of {path}: {done.stdout}{done.stderr}")
        return Curves(pathlib.Path(file.name))


def wished(target, brief):
    """What a target allows: as written, or what a layout's file has times so much plus so much."""
    if "of" not in target:
        return target.get("band", (target.get("floor", -math.inf), target.get("ceiling", math.inf)))
    reference = folder / target["of"]
    own = yaml.safe_load(reference.read_text(encoding="utf-8"))
    (found,) = values(target, curves_of(reference), own)
    times, plus = (x if isinstance(x, list) else [x, x] for x in (target.get("times", 1.0), target.get("plus", 0.0)))
    low, high = times[0] * found + plus[0], times[1] * found + plus[1]
    return {"floor": (low, math.inf), "ceiling": (-math.inf, high)}.get(target.get("as"), (low, high))


def missed_differences(brief, layout):
    """Musts on the difference of two settings that a layout misses, in any of its sizes."""
    cases = {path.stem[7:]: Curves(path) for path in layout.glob("curves*.csv")}
    for target in brief["targets"]:
        if not target.get("must") or not isinstance(target.get("between"), list):
            continue
        first, second = target["between"]
        low, high = wished(target, brief)
        pairs = [(case, case.replace(first, second, 1)) for case in cases if first in case.split("-")]
        compared = 0
        for one, other in pairs:
            for a, b in zip(values(target, cases[one], brief), values(target, cases[other], brief)):
                compared += 1
                slack = 0.01 * max(abs(v) for v in (low, high) if math.isfinite(v))
                if not low - slack <= b - a <= high + slack:
                    yield f"{target['name']} {b - a:.4g} from {one} to {other}"
        if compared == 0:
            yield f"{target['name']} was compared in no case"


def missed_musts(brief, curves, case):
    """Requirements that a layout misses by more than what reading between stations leaves open."""
    for target in brief["targets"]:
        if not target.get("must") or target.get("in", case) not in [case, "all", *case.split("-")]:
            continue
        if "between" in target:
            continue
        low, high = wished(target, brief)
        slack = 0.002 * max(abs(v) for v in (low, high) if math.isfinite(v))
        for value in values(target, curves, brief):
            if not low - slack <= value <= high + slack:
                yield f"{target['name']} {value:.4g}"


def nearest_pivots(layout):
    """Least distance of two points of the linkage that are not fixed to one another, nor on one spot."""
    drawn = yaml.safe_load((layout / "layout.yaml").read_text(encoding="utf-8"))
    points, members = drawn["linkage"]["points"], drawn["linkage"]["members"]
    pivots = [p for p in points if sum(p in of for of in members.values()) > 1 or p in drawn["shock"]["between"]]
    gaps = [(math.dist(points[a], points[b]), f"{a}–{b}") for i, a in enumerate(pivots) for b in pivots[:i]]
    return min((gap for gap in gaps if gap[0] > 0.001), default=(math.inf, ""))


def judge_layout(brief, layout):
    """What is wrong with a layout of a shortlist, and its figures in words."""
    wrong, worst = [f"misses {miss}" for miss in missed_differences(brief, layout)], {}
    for path in sorted(layout.glob("curves*.csv")):
        curves, case = Curves(path), path.stem[7:]
        wrong += [f"misses {miss}" for miss in missed_musts(brief, curves, case)]
        for name, (low, high) in curves.figures().items():
            before = worst.get(name, (low, high))
            worst[name] = (min(low, before[0]), max(high, before[1]))
    for name, (low, high) in worst.items():
        # A curve is held to its limits between the stations of curves.csv as well: a hundredth of them is slack.
        slack = 0.01 * max(abs(limit) for limit in LIMITS[name])
        if not (LIMITS[name][0] - slack <= low and high <= LIMITS[name][1] + slack):
            wrong.append(f"{name} {low:.3g} to {high:.3g}")
    said = run("check", layout / "layout.yaml")
    angles = [float(x) for x in re.findall(r"least transmission angle ([\d.]+)°", " ".join(said.stdout.split()))]
    if said.returncode != 0 or not angles or min(angles) < TRANSMISSION:
        wrong.append(f"transmission angles {angles}, check ends with {said.returncode}")
    gap, pair = nearest_pivots(layout)
    if gap < PIVOTS:
        wrong.append(f"{pair} only {gap:.1f} mm apart")
    words = ", ".join(f"{name} {low:.3g} to {high:.3g}" for name, (low, high) in worst.items())
    return wrong, f"{words}, transmission {min(angles, default=0.0):.1f}°, {pair} {gap:.0f} mm"


def judge_conflict(name, found, study):
    if found.returncode != 3:
        return [f"{name}: exit {found.returncode}, though nothing can meet it: {found.stdout}{found.stderr}"]
    page = (study / "index.html").read_text(encoding="utf-8")
    if not CONFLICTS[name] & set(re.findall(r"'([^']+)'", found.stdout)) or "conflict" not in page:
        return [f"{name}: says not why: {found.stdout}"]
    # What is called enough is tried as its reader would: each of these briefs has the named demands loosened so far.
    enough = sorted(study.glob("conflict/*/brief.yaml"))
    failures = [] if enough else [f"{name}: nothing is said to be enough"]
    for number, loosened in enumerate(enough):
        again = run("search", loosened, "--out", study.parent / f"again-{number}")
        if again.returncode != 0:
            failures.append(f"{name}: {loosened.parent.name} is not enough: {again.stdout}{again.stderr}")
    return failures


def judge(path, study):
    """What is wrong with a brief's study."""
    name, brief = path.stem, yaml.safe_load(path.read_text(encoding="utf-8"))
    checked = run("check", path)
    failures = [] if checked.returncode == 0 else [f"{name}: check: {checked.stdout}{checked.stderr}"]
    found = run("search", path, "--out", study)
    if name in CONFLICTS:
        return failures + judge_conflict(name, found, study)
    if found.returncode != 0:
        return failures + [f"{name}: search ends with {found.returncode}: {found.stdout}{found.stderr}"]
    for row in rows_of(study / "shortlist.csv"):
        layout = study / "layouts" / f"{int(row['rank']):02d}"
        wrong, words = judge_layout(brief, layout)
        margin = float(row.get("must_margin", 0.0))
        print(f"{name} {layout.name}: required margin {margin:.3f}, score {float(row['score']):.3g}, {words}")
        if margin < 0.0:
            wrong.append(f"required margin {margin:.3f}")
        failures += [f"{name} {layout.name}: {one}" for one in wrong]
    return failures


def main():
    briefs = [path for path in sorted(folder.glob("*.yaml")) if not only or path.stem in only]
    failures = []
    for path in briefs:
        with tempfile.TemporaryDirectory(prefix="trammel-workshop-") as temporary:
            failures += judge(path, pathlib.Path(temporary) / "study")
    if not only and len(briefs) < 12:
        failures.append(f"only {len(briefs)} briefs in {folder}")
    print("\n".join(failures))
    print(f"{len(briefs)} briefs, {len(failures)} faults")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
