"""Puts the figures of one run of scripts/bench into one table and one JSON file. Usage: table.py FOLDER OUT.json"""

import json
import os
import platform
import sys
from datetime import datetime, timezone
from pathlib import Path


def load(folder, name):
    return json.loads((folder / name).read_text(encoding="utf-8"))


def processor():
    for line in Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines():
        if line.startswith("model name"):
            return line.split(":", 1)[1].strip()
    return platform.machine()


def kernel(folder):
    """Median time in ns, and median rate of operations in 1/ns where it is one, of each benchmark."""
    times, rates = {}, {}
    for run in load(folder, "kernel.json")["benchmarks"] + load(folder, "packs.json")["benchmarks"]:
        if run["aggregate_name"] != "median":
            continue
        times[run["run_name"]] = run["cpu_time"] / run.get("layouts", 1.0)
        if "operations" in run:
            rates[run["run_name"]] = run["operations"] * 1e-9
    return times, rates


def searches(folder):
    """Shortest wall and processor time of the search in seconds, by units and way of running."""
    best = {}
    for line in (folder / "searches").read_text(encoding="utf-8").splitlines():
        units, name, wall, user, system = line.split()
        of = best.setdefault(units, {}).setdefault(name, {"wall": float("inf"), "cpu": float("inf")})
        of["wall"] = min(of["wall"], float(wall))
        of["cpu"] = min(of["cpu"], float(user) + float(system))
    return best


def limits(rates, operations):
    """Least time in ns that one layout's operations take: divider (÷ and √ share it), and adder and multiplier."""
    found = {}
    for width in ("scalar", "widest"):
        divider = operations["divisions"] / rates[f"throughput/divide/{width}"]
        divider += operations["roots"] / rates[f"throughput/root/{width}"]
        sums = (operations["sums"] + operations["products"]) / rates[f"throughput/multiply_add/{width}"]
        found[width] = {"divider": divider, "multiply_add": sums}
    return found


def main():
    folder, out = Path(sys.argv[1]), Path(sys.argv[2])
    times, rates = kernel(folder)
    layouts = load(folder, "layouts.json")
    operations = layouts["operations"]
    numpy, fsolve, search = load(folder, "numpy.json"), load(folder, "fsolve.json"), searches(folder)
    limit = limits(rates, operations)
    plain, hand = times["kernel_curves"], times["by_hand_curves"]
    templates, hand_packs = times["packs/kernel_curves"], times["packs/by_hand_curves"]
    best = times["packs/tape_curves"]
    rows = []

    def row(what, ns, compared=""):
        rows.append((what, f"{ns:,.0f}", f"{1e9 / ns:,.0f}", compared))

    def against(ns, other, name):
        return f"{ns / other:.2f} × {name}" if ns < 100 * other else f"{ns / other:,.0f} × {name}"

    def section(title):
        rows.append((title,))

    section("Workshop trail brief, as the search calls it: screening of a unit's samples, value of its best 96")
    row(f"screen, full ({layouts['assembling']:.0%} assemble)", times["screen_full"])
    row("screen, staged", times["screen_staged"], against(times["screen_staged"], times["screen_full"], "full"))
    row("value", times["value"])
    row("value and 11 partials", times["value_gradient"], against(times["value_gradient"], times["value"], "value"))
    for name, what in (("value_target_rows", "the targets' values"), ("value_all_rows", "values and rules")):
        row(f"value and slopes of {what}, one by one", times[name], against(times[name], times["value"], "value"))
    section("The same four-bar, 41 stations of 11 curves")
    row("general kernel as machine code, eight side by side", best, against(best, hand_packs, "by hand"))
    row("general kernel's templates, eight side by side", templates, against(templates, hand_packs, "by hand"))
    row("written by hand for this linkage, eight side by side", hand_packs)
    row("general kernel, one by one", plain, against(plain, hand, "by hand"))
    march = times["kernel_march_and_curves"]
    row("general kernel, one by one, march and then stations", march, against(march, hand, "by hand"))
    row("written by hand for this linkage, one by one", hand)
    row(f"NumPy {numpy['version']}, blocks of {numpy['block']}", numpy["ns"], against(numpy["ns"], best, "kernel"))
    row(f"SciPy {fsolve['version']}, fsolve", fsolve["ns"], against(fsolve["ns"], best, "kernel"))
    section("Arithmetic limit of the routine written by hand")
    for width, name in (("scalar", "one number at a time"), ("widest", "widest registers")):
        for unit, title in (("divider", "÷ and √"), ("multiply_add", "+ − ×")):
            ns = limit[width][unit]
            binding = "binds; " if ns == max(limit[width].values()) else ""
            of_kernel, of_hand = (plain, hand) if width == "scalar" else (best, hand_packs)
            row(f"{title}, {name}", ns, f"{binding}kernel reaches {ns / of_kernel:.0%}, by hand {ns / of_hand:.0%}")
    section("Every topology, 41 stations of all curves, as the search goes: eight side by side")
    for name, ns in sorted(times.items()):
        if name.startswith("packs/topology/"):
            topology = name.removeprefix("packs/topology/")
            code = times.get(f"packs/tapes/{topology}")
            if code is None:
                row(topology, ns, "by templates, with Newton's method")
            else:
                row(topology, code, against(code, ns, "templates"))
    section("Every topology, march and then 41 stations of all curves: one by one")
    for name, ns in sorted(times.items()):
        if name.startswith("topology/"):
            row(name.removeprefix("topology/"), ns)

    headings = ("", "ns/layout", "layouts/s", "")
    widths = [max(len(r[i]) for r in [headings, *rows] if len(r) == 4) for i in range(4)]
    for r in [headings, *rows]:
        if len(r) == 1:
            print(f"-- {r[0]}")
        else:
            print(f"{r[0]:<{widths[0]}}  {r[1]:>{widths[1]}}  {r[2]:>{widths[2]}}  {r[3]}".rstrip())
    print("-- Whole search with its report, one and two threads")
    for units, of in search.items():
        one, two, twice = of["one"], of["two"], of["twice"]
        print(
            f"{units} units: {one['wall']:.2f} s and {two['wall']:.2f} s, {one['wall'] / two['wall']:.2f} × faster, where "
            f"two searches at once get {2 * one['wall'] / twice['wall']:.2f} × as much done; "
            f"processor time {one['cpu']:.2f} s and {two['cpu']:.2f} s"
        )

    out.parent.mkdir(parents=True, exist_ok=True)
    compiler = (folder / "compiler").read_text(encoding="utf-8").strip()
    record = {
        "date": datetime.now(timezone.utc).isoformat(timespec="seconds"),
        "processor": processor(),
        "processors": os.cpu_count(),
        "load": os.getloadavg()[0],
        "compiler": compiler,
        "ns_per_layout": times,
        "operations_per_ns": rates,
        "operations": operations,
        "limits_ns": limit,
        "numpy": numpy,
        "fsolve": fsolve,
        "search_seconds": search,
    }
    out.write_text(json.dumps(record, indent=2) + "\n", encoding="utf-8")
    print(f"{record['processor']}, {record['processors']} processors, load {record['load']:.1f}; {compiler}")


main()
