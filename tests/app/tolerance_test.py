"""Frames built by the program against frames built by numpy: a single pivot in closed form."""
import math
import unittest

import numpy
import yaml
from scipy.stats import binomtest

from program_case import Case, rows_of

SAMPLES = 20000
# An invented single pivot. The axle's range is a thousandth of a millimetre wide, so that one layout is studied.
BRIEF = f"""trammel: 1
title: Single pivot with tolerances
bike:
  wheels: {{ rear: {{ radius: 350 }}, front: {{ radius: 371 }} }}
  front: {{ axle: [790, 30], head_angle: 66, travel: 0 }}
  cg: {{ x: 20, height: 1100 }}
linkage:
  points: {{ pivot: [10, 60], axle: [-435, 30], eye: [-150, 140], mount: [10, 260] }}
  members: {{ frame: [pivot, mount], swingarm: [pivot, axle, eye] }}
  axle: {{ point: axle, member: swingarm }}
shock: {{ between: [mount, eye], length: 200, stroke: 52 }}
vary: {{ axle: {{ x: [-435.001, -435] }} }}
targets:
  - {{ name: travel, curve: travel, at: bottomed, band: [137.8, 138.6], tolerance: 1, must: true }}
  - {{ name: lever, curve: leverage, at: bottomed, ceiling: 2.515, tolerance: 0.05, must: true }}
  - {{ name: height, curve: bb_height, at: topped_out, band: [320, 360], tolerance: 2 }}
  - {{ name: progress, measure: progressivity, band: [-1, 1] }}
tolerances: {{ points: 0.4, of: {{ axle: [0.2, 0.6] }}, shock_length: 0.8, rear_wheel: 3, front_wheel: 2, samples: {SAMPLES}%s }}
sound: any
search: {{ units: 1, samples: 4, refine: 1, evaluations: 5, shortlist: 1 }}
"""
NAMES = ["travel", "lever", "height", "progress"]


def built(points, length, rear, front, stroke=52.0, front_axle=(790.0, 30.0)):
    """Travel, leverage bottomed, bottom-bracket height and progressivity of frames side by side, by the cosine rule.

    The eye turns about the pivot until it is as far from the mount as the shock is long: settled, then bottomed.
    """
    pivot, axle, eye, mount = (points[:, i] for i in range(4))
    to_eye, to_mount, to_axle = eye - pivot, mount - pivot, axle - pivot
    a, b = numpy.hypot(*to_eye.T), numpy.hypot(*to_mount.T)
    side = numpy.sign(to_eye[:, 0] * to_mount[:, 1] - to_eye[:, 1] * to_mount[:, 0])

    def inner(shock):  # angle at the pivot between eye and mount
        return numpy.arccos((a * a + b * b - shock * shock) / (2 * a * b))

    drawn = numpy.arccos((to_eye * to_mount).sum(axis=1) / (a * b))

    def axle_at(shock):
        turn = (drawn - inner(shock)) * side
        x, y = to_axle.T
        return numpy.stack([x * numpy.cos(turn) - y * numpy.sin(turn), x * numpy.sin(turn) + y * numpy.cos(turn)], 1)

    def leverage(shock):
        # d(angle)/d(shock) = shock/(a·b·sin angle); the axle's rise is its x times the turn.
        return axle_at(shock)[:, 0] * side * shock / (a * b * numpy.sin(inner(shock)))

    top, bottom = axle_at(length), axle_at(length - stroke)
    lever_top, lever_bottom = leverage(length), leverage(length - stroke)
    # The line that touches both wheels from below.
    rear_axle = pivot + top
    d = numpy.array(front_axle) - rear_axle
    slope = numpy.arctan2(d[:, 1], d[:, 0]) - numpy.arcsin((front - rear) / numpy.hypot(*d.T))
    normal = numpy.stack([-numpy.sin(slope), numpy.cos(slope)], 1)
    contact = rear_axle - normal * rear[:, None]
    height = -(normal * contact).sum(axis=1)
    return numpy.stack([bottom[:, 1] - top[:, 1], lever_bottom, height, (lever_top - lever_bottom) / lever_top], 1)


class Tolerances(Case):
    def study(self, law, *flags, name="study"):
        brief = self.folder / "tolerances.yaml"
        brief.write_text(BRIEF % law)
        # Exit code 3 when the layout as drawn misses a must; it is studied all the same.
        return self.search(name, *flags, brief=brief)

    def compare(self, law, errors):
        study = self.study(law)
        rows = rows_of((study / "layouts" / "01" / "tolerances.csv").read_text())
        table = {row[0]: dict(zip(rows[0], row)) for row in rows[1:]}
        drawn = yaml.safe_load((study / "layouts" / "01" / "layout.yaml").read_text())["linkage"]["points"]
        drawn = numpy.array([drawn[p] for p in ("pivot", "axle", "eye", "mount")], dtype=float)
        n = 400000
        plus_minus = numpy.array([[0.4, 0.4], [0.2, 0.6], [0.4, 0.4], [0.4, 0.4]])
        found = built(drawn + errors((n, 4, 2)) * plus_minus, 200 + 0.8 * errors(n), 350 + 3 * errors(n),
                      371 + 2 * errors(n))
        one = numpy.zeros(1)
        nominal = built(drawn[None], 200 + one, 350 + one, 371 + one)[0]
        for i, name in enumerate(NAMES):
            mean, deviation = found[:, i].mean(), found[:, i].std()
            row = table[name]
            with self.subTest(name):
                self.assertAlmostEqual(float(row["as_drawn"]), nominal[i], delta=1e-6 * abs(nominal[i]) + 1e-9)
                # Five standard errors of the program's sample.
                self.assertAlmostEqual(float(row["mean"]), mean, delta=5 * deviation / math.sqrt(SAMPLES))
                self.assertAlmostEqual(float(row["standard_deviation"]) / deviation, 1, delta=5 / math.sqrt(2 * SAMPLES))
                for column, q in (("percentile_5", 0.05), ("percentile_95", 0.95)):
                    # √(q(1 − q)/n) over a normal density of 0.103/σ at the quantile is 2.1 σ/√n.
                    self.assertAlmostEqual(float(row[column]), numpy.quantile(found[:, i], q),
                                           delta=5 * 2.2 * deviation / math.sqrt(SAMPLES))
        kept = ((found[:, 0] >= 137.8) & (found[:, 0] <= 138.6) & (found[:, 1] <= 2.515)).mean()
        row = table["every requirement"]
        self.assertEqual(int(row["frames"]), SAMPLES)
        share = int(row["frames_met"]) / SAMPLES
        self.assertTrue(0.05 < kept < 0.95, f"the limits do not cut the sample: {kept}")
        self.assertAlmostEqual(share, kept, delta=5 * math.sqrt(kept * (1 - kept) / SAMPLES))
        interval = binomtest(int(row["frames_met"]), SAMPLES).proportion_ci(0.95, "wilson")
        self.assertAlmostEqual(float(row["met_from"]), interval.low, delta=1e-12)
        self.assertAlmostEqual(float(row["met_to"]), interval.high, delta=1e-12)

    def test_even_errors(self):
        random = numpy.random.default_rng(1)
        self.compare("", lambda shape: random.uniform(-1, 1, shape))

    def test_normal_errors(self):
        random = numpy.random.default_rng(2)
        self.compare(", sigmas: 2", lambda shape: random.normal(0, 0.5, shape))

    def test_the_same_on_any_number_of_threads(self):
        one, two = self.study("", "--threads", "1", name="one"), self.study("", "--threads", "2", name="two")
        for name in ("tolerances.csv", "sensitivity.csv", "bands.csv"):
            self.assertEqual((one / "layouts/01" / name).read_bytes(), (two / "layouts/01" / name).read_bytes())

    def test_check_and_report_tell_the_yield(self):
        study = self.study("")
        header, row = rows_of((study / "shortlist.csv").read_text())[:2]
        row = dict(zip(header, row))
        self.assertLess(float(row["yield_from"]), float(row["yield"]))
        page = (study / "layouts/01/index.html").read_text()
        for words in ("Tolerances", "Sensitivity", "5 to 95 % of built frames", "shock length"):
            self.assertIn(words, page)
        told = self.run_it("check", "tolerances.yaml").stdout
        self.assertRegex(told, rf"tolerances: 11 coordinates; of {SAMPLES} frames built as drawn \d+\.\d % ")
        self.assertRegex(told, r"travel +138, standard deviation 0\.\d+ \(to first order 0\.\d+\)")
        self.assertIn(f"{100 * float(row['yield']):.1f} % (", (study / "index.html").read_text())


if __name__ == "__main__":
    unittest.main()
