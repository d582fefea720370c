"""Moving pivots in a layout's page, in Debian's Chromium.
Usage: live_page_test.py PATH_OF_trammel"""
import csv
import io
import unittest

import yaml

from live_case import FIELD, LiveCase
from program_case import TRAIL


class Page(LiveCase):
    BRIEF = TRAIL

    def now(self):
        return self.browser.run("[...document.querySelectorAll('#live-targets tbody tr')].map(r => r.cells[3].textContent)")

    def margins(self):
        return self.browser.run(
            "[...document.querySelectorAll('#live-targets tbody tr')].map(r => [r.cells[4].textContent, r.cells[5].textContent])")

    def test_it_opens_with_the_verdicts_of_the_report(self):
        for then, here in self.margins():
            self.assertEqual(then, here)
        self.assertEqual(self.text("live-said"), "As reported.")

    def test_typing_stepping_undoing_saving(self):
        drawn = yaml.safe_load((self.layout / "layout.yaml").read_text())["linkage"]["points"]["main"]
        before = self.now()
        self.enter("main", "x", drawn[0] + 2)
        self.assertEqual(self.value("main", "x"), drawn[0] + 2)
        after = self.now()
        self.assertNotEqual(before, after)
        self.assertRegex(self.text("live-said"), "of the targets better")
        self.assertTrue(self.browser.run("document.querySelector('figure.moved .tried polyline') !== null"))
        self.browser.run(FIELD.format("main", "y") + ".focus()")
        self.browser.key("ArrowUp")
        self.assertAlmostEqual(self.value("main", "y"), drawn[1] + 0.1, delta=1e-6)
        self.press("live-undo")
        self.assertEqual([self.value("main", "x"), self.value("main", "y")], [drawn[0] + 2, drawn[1]])
        self.assertEqual(self.now(), after)
        # The saved file is a layout, and the program computes for it what the page shows.
        self.saved("live-save", "layout-moved.yaml").rename(self.folder / "moved.yaml")
        rows = list(csv.DictReader(io.StringIO(self.run_it("curves", "moved.yaml").stdout, newline="")))
        shown = self.browser.run("trammelLive.compute(trammelLive.points()).travel")
        self.assertEqual(shown, self.browser.run("trammelMotion.data.travel"))
        told = self.run_it("curves", "moved.yaml", "--stations", str(len(shown)))
        told = list(csv.DictReader(io.StringIO(told.stdout, newline="")))
        self.assertEqual([float(row["travel_mm"]) for row in told], shown)
        station = int(self.browser.run("document.getElementById('motion-travel').value"))
        name, value, change = self.browser.run("[...document.querySelectorAll('#motion-values tr')[0].cells].map(c => c.textContent)")
        self.assertEqual((name, value), ("Leverage ratio", f"{float(told[station]['leverage']):.3f}"))
        self.assertRegex(change, r"^[+−]0\.\d\d\d$")
        self.assertEqual(len(rows), 41)
        self.assertIn("main", self.run_it("draft", "--from", "moved.yaml").stdout)
        self.press("live-undo")
        self.assertEqual(self.now(), before)
        self.press("live-redo")
        self.assertEqual(self.now(), after)
        self.press("live-back")
        self.assertEqual(self.text("live-said"), "As reported.")

    def test_a_place_that_cannot_be_is_said_and_the_last_stays(self):
        x, rocker = self.value("main", "x"), self.value("rocker", "x")
        self.enter("rocker", "x", 300)
        self.assertRegex(self.text("live-said"), "^Not there: the layout .*The last place that works stays")
        self.assertRegex(self.text("live-said"), "a dead point at eye, where rocker and the shock are in line")
        self.assertEqual((self.value("main", "x"), self.value("rocker", "x")), (x, rocker))
        self.enter("main", "x", x + 1)
        self.assertEqual(self.value("main", "x"), x + 1)

    def test_eyes_too_far_apart_are_said_and_not_saved(self):
        x = self.value("mount", "x")
        self.enter("mount", "x", x + 4)
        self.assertRegex(self.text("live-said"), r"The shock's eyes are 23\d\.\d\d mm apart, and it is 230 mm long")
        self.assertTrue(self.browser.run("document.getElementById('live-save').disabled"))
        self.press("live-undo")
        self.assertEqual(self.text("live-said"), "As reported.")
        self.assertFalse(self.browser.run("document.getElementById('live-save').disabled"))

    def test_dragging_a_ring(self):
        place = self.ring("main")
        before = self.value("main", "x"), self.value("main", "y")
        self.browser.drag(place, (place[0] + 3, place[1] - 2))
        after = self.value("main", "x"), self.value("main", "y")
        self.assertGreater(after[0], before[0])
        self.assertGreater(after[1], before[1])
        self.press("live-undo")
        self.assertEqual((self.value("main", "x"), self.value("main", "y")), before)

    def test_the_drawing_takes_keys_and_the_wheel_while_it_has_the_focus(self):
        self.browser.run("document.getElementById('motion-drawing').scrollIntoView({block: 'center'})")
        self.browser.settle()
        x, y, width, height = self.browser.run(
            "(({x, y, width, height}) => [x, y, width, height])(document.getElementById('motion-drawing').getBoundingClientRect())")
        over = x + width / 2, y + 20
        station = "Number(document.getElementById('motion-travel').value)"
        scrolled = "new Promise(done => setTimeout(() => done(scrollY), 400))"
        before, top = self.browser.run(station), self.browser.run("scrollY")
        self.browser.wheel(*over, -1)
        self.assertGreater(self.browser.run(scrolled), top)
        self.assertEqual(self.browser.run(station), before)
        self.browser.run("document.getElementById('motion-drawing').focus()")
        self.browser.settle()
        top = self.browser.run(scrolled)
        self.browser.wheel(over[0], self.browser.run("document.getElementById('motion-drawing').getBoundingClientRect().y") + 40, 1)
        self.wait(f"{station} === {before + 3}")  # a notch is 120 px, a step 40
        self.assertEqual(self.browser.run(scrolled), top)
        for key, by in (("ArrowLeft", 2), ("ArrowUp", 3)):
            self.browser.key(key)
            self.assertEqual(self.browser.run(station), before + by)
        self.assertEqual(self.browser.run("document.getElementById('motion-drawing').getAttribute('aria-valuetext')"),
                         self.text("motion-place"))
        self.browser.key("Escape")
        self.assertEqual(self.browser.run("document.activeElement === document.body"), True)

    def test_a_frozen_point_stays(self):
        x, y = self.value("main", "x"), self.value("main", "y")
        self.press("live-frozen-main")
        self.enter("main", "x", x + 2)
        self.browser.run(FIELD.format("main", "y") + ".focus()")
        self.browser.key("ArrowUp")
        place = self.ring("main")
        self.browser.drag(place, (place[0] + 3, place[1] - 2))
        self.assertEqual((self.value("main", "x"), self.value("main", "y")), (x, y))
        marks = self.browser.run("""[...document.querySelectorAll('.rings *')].filter(m => m.textContent.startsWith('main') &&
            m.tagName !== 'title' && m.getAttribute('display') !== 'none').map(m => [m.tagName, m.textContent])""")
        self.assertEqual(marks, [["rect", "main, frozen"]])
        frozen = "document.getElementById('live-frozen-main').checked"
        self.press("live-undo")
        self.assertFalse(self.browser.run(frozen))
        self.press("live-redo")
        self.assertTrue(self.browser.run(frozen))
        self.press("live-undo")
        self.enter("main", "x", x + 2)
        self.assertEqual(self.value("main", "x"), x + 2)

    def test_widths(self):
        for width in (360, 768, 1400, 1920):
            self.browser.resize(width, 900)
            self.browser.settle()
            self.assertLessEqual(self.browser.run("document.documentElement.scrollWidth"), width)


if __name__ == "__main__":
    unittest.main()
