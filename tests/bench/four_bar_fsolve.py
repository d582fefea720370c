"""Positions and curves of the four-bar as a script with SciPy would find them: fsolve at each station.

Three equations for the angles of rocker, lower link and coupler; velocities from one 3×3 system a station, which also
carry the guess on to the next station. Usage: four_bar_fsolve.py LAYOUTS.json OUT.json
"""

import json
import math
import sys
import time
import warnings

import numpy as np
import scipy
from scipy.optimize import fsolve

TOLERANCE = 1e-6  # of a curve's greatest value: fsolve stops at 1.5e-8 of its unknowns
LAYOUTS = 20


def curves(bike, pivots, stations):
    main, stay, axle, tail, rocker, eye, mount = (complex(x, y) for x, y in pivots)
    length = abs(mount - eye)
    lower, upper, coupler, arm, to_axle = stay - main, tail - rocker, tail - stay, eye - rocker, axle - stay

    def turned(u):
        return [complex(math.cos(a), math.sin(a)) for a in u]

    def loop(u, shock):
        r, low, c = turned(u)
        gap = main + lower * low + coupler * c - rocker - upper * r
        return [gap.real, gap.imag, abs(mount - rocker - arm * r) - shock]

    u, ends, stretch = np.zeros(3), [], bike["stroke"] / (stations - 1)
    for i in range(stations):
        shock = length - stretch * i
        u = fsolve(loop, u, args=(shock,))
        r, low, c = turned(u)
        span = mount - rocker - arm * r
        a, b, d = -1j * upper * r, 1j * lower * low, 1j * coupler * c
        pull = -(span.conjugate() * 1j * arm * r).real / shock
        rates = np.linalg.solve([[a.real, b.real, d.real], [a.imag, b.imag, d.imag], [pull, 0, 0]], [0, 0, -1])
        u = u + rates * stretch
        velocity = b * rates[1] + 1j * to_axle * c * rates[2]
        ends.append((main + lower * low + to_axle * c, velocity, rates[2]))

    whole = ends[-1][0].imag - axle.imag
    steer = complex(bike["steer_x"], bike["steer_y"])
    difference, radius = bike["front_radius"] - bike["rear_radius"], bike["rear_radius"]
    rows, cg, drawn = [], None, None
    for p, v, rate in ends:
        travel = p.imag - axle.imag
        axles = complex(bike["front_x"], bike["front_y"]) + steer * (bike["fork_travel"] * travel / whole) - p
        wheelbase = math.sqrt(abs(axles) ** 2 - difference**2)
        t = axles / complex(wheelbase, difference)
        t /= abs(t)
        if cg is None:
            y = p.imag + (bike["cg_height"] - radius + t.imag * (bike["cg_x"] - p.real)) / t.real
            cg = complex(bike["cg_x"], y)
        height = ((cg - p) * t.conjugate()).imag + radius
        speed = v * t.conjugate()
        chain = []
        for cog, ring in zip(bike["cog"], bike["ring"]):
            step = cog - ring
            span = math.sqrt(abs(p) ** 2 - step**2)
            chain.append((span, -p / complex(span, step)))
        drawn = drawn or chain
        squats = [
            -100 * (speed.real + (v * u.conjugate()).real * radius / cog) * wheelbase / (speed.imag * height)
            for (_, u), cog in zip(chain, bike["cog"])
        ]
        growths = [
            s - s0 + (ring - cog) * math.atan2((u * u0.conjugate()).imag, (u * u0.conjugate()).real)
            for (s, u), (s0, u0), cog, ring in zip(chain, drawn, bike["cog"], bike["ring"])
        ]
        rise = -100 * (speed.real + rate * radius) * wheelbase / (speed.imag * height)
        rows.append([travel, v.imag, p.real, p.imag, rise, *squats, *growths])
    return np.array(rows).T


def main():
    # It starts on the root and says that it gets no further; the check below holds it to its curves.
    warnings.filterwarnings("ignore", message="The iteration is not making good progress")
    with open(sys.argv[1], encoding="utf-8") as file:
        data = json.load(file)
    worst, start = 0.0, time.process_time_ns()
    got = [curves(data["bike"], pivots, data["stations"]) for pivots in data["pivots"][:LAYOUTS]]
    spent = (time.process_time_ns() - start) / LAYOUTS
    for g, want in zip(got, data["curves"]):
        want = np.array(want)
        worst = max(worst, float((np.abs(g - want).max(axis=1) / np.abs(want).max(axis=1)).max()))
    if not worst <= TOLERANCE:
        sys.exit(f"SciPy's curves differ from the engine's by {worst:.2e} of their greatest value")
    with open(sys.argv[2], "w", encoding="utf-8") as file:
        json.dump({"ns": spent, "worst_difference": worst, "version": scipy.__version__}, file)


main()
