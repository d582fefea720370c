"""Settings, sizes and bodies in a layout's page, in Debian's Chromium: a brief that ships, with a tube beside the rocker.
Usage: live_cases_test.py PATH_OF_trammel"""
import csv
import io
import pathlib
import re
import tempfile
import unittest

from live_case import LiveCase
from program_case import TRAIL

BODIES = """
  bodies:
    seat_tube: { from: [40, 30], to: [-50, 396], diameter: 30 }
    rocker_link: { from: rocker, to: tail, diameter: 24 }
    tyre: { part: rear_tyre }
  clearances:
    - { of: tyre, to: [seat_tube], least: 2 }
"""


class Cases(LiveCase):
    @classmethod
    def setUpClass(cls):
        temporary = tempfile.TemporaryDirectory(prefix="trammel-cases-")
        cls.addClassCleanup(temporary.cleanup)
        text = TRAIL.with_name("flip-chip-140.yaml").read_text()
        cls.BRIEF = pathlib.Path(temporary.name, "brief.yaml")
        cls.BRIEF.write_text(text.replace("  least_transmission_angle: 20\n", "  least_transmission_angle: 20" + BODIES))
        super().setUpClass()

    def by_case(self):
        """The report's own tables: the values of the targets in each case, and of all the margins."""
        return self.browser.run("""(() => {
            const table = [...document.querySelectorAll('table')].find(t => t.caption?.textContent.startsWith("A target's value"));
            return [...table.rows].map(r => [...r.cells].map(c => c.textContent)); })()""")

    def test_every_setting_and_size_has_the_verdicts_of_the_report(self):
        heads, *rows = self.by_case()
        for setting in ("high", "low"):
            self.choose("motion-setting", setting)
            for size in ("S", "M", "L"):
                self.choose("motion-size", size)
                case = heads.index(f"{setting}-{size}")
                here = {row[0].removesuffix(" (required)"): row for row in self.table("targets")}
                for row in rows:
                    name, told, shown = row[0], row[case], here[row[0]]
                    if told == "–":
                        self.assertEqual(shown[2:7], ["–"] * 4 + [f"does not hold in {setting}-{size}"])
                        continue
                    self.assertEqual(told.removeprefix("✓ ").removeprefix("✗ "), shown[3], (name, setting, size))
                    self.assertEqual((shown[2], shown[4]), (shown[3], shown[5]), (name, setting, size))
                    self.assertEqual(told[0], shown[6][0])
                self.assertEqual(self.text("live-said"), "As reported.")

    def test_drawing_and_values_are_those_of_the_case_when_moved_too(self):
        self.choose("motion-setting", "low")
        self.choose("motion-size", "L")
        figures = "[...document.querySelectorAll('figure.other .tried polyline')].length"
        drawn = self.browser.run(figures)
        self.assertGreater(drawn, 5)
        self.enter("main", "x", self.value("main", "x") + 2)
        self.assertGreater(self.browser.run(figures), drawn)  # as reported, and as moved
        file = self.saved("live-save", "layout-moved.yaml")
        stations = self.browser.run("trammelMotion.data.travel")
        told = self.run_it("curves", file.name, "--setting", "low", "--size", "L", "--stations", str(len(stations)))
        rows = list(csv.DictReader(io.StringIO(told.stdout, newline="")))
        self.assertEqual([float(row["travel_mm"]) for row in rows], stations)
        at = int(self.browser.run("document.getElementById('motion-travel').value"))
        values = self.browser.run("[...document.querySelector('#motion-values tr').cells].map(c => c.textContent)")
        self.assertEqual(values[1], f"{float(rows[at]['leverage']):.3f}")
        self.press("live-undo")
        self.choose("motion-setting", "high")
        self.choose("motion-size", "S")
        self.assertEqual(self.browser.run("document.querySelectorAll('figure.other, .tried polyline').length"), 0)

    def rule(self, name):
        return next(row for row in self.table("rules") if row[0] == name)

    def test_bodies_are_drawn_and_judged_where_they_are(self):
        strokes = "trammelMotion.data.parts.strokes.filter(s => s.part === 'body').length"
        self.assertEqual(self.browser.run(strokes), 4)  # two sides a tube
        before = self.rule("clearance")
        self.enter("rocker", "x", self.value("rocker", "x") - 2)
        after = self.rule("clearance")
        self.assertNotEqual(before[2], after[2])
        file = self.saved("live-save", "layout-moved.yaml")
        brief = self.run_it("draft", "--from", file.name, "--targets", str(self.BRIEF)).stdout
        (self.folder / "moved-brief.yaml").write_text(brief)
        told = self.run_it("check", "moved-brief.yaml")
        told = told.stdout + told.stderr
        told = float(re.search(r"clearance, tyre – seat_tube\s+([-0-9.]+) mm", told)[1])
        self.assertEqual(after[2], f"{told:.1f} mm")


if __name__ == "__main__":
    unittest.main()
