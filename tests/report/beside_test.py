"""Another layout beside that of a page, in Debian's Chromium. Usage: beside_test.py PATH_OF_test_report"""
import csv
import re

from pages_case import Case, main

PLACES = ("Topped out", "At sag", "Bottomed out", "Greatest difference at the same travel")


class Beside(Case):
    def choose(self, words):
        self.run_in(f"""(() => {{ const s = document.getElementById('motion-beside');
            s.value = [...s.options].find(o => o.textContent.includes({words!r})).value; s.dispatchEvent(new Event('change')); }})()""")
        for _ in range(100):
            if self.run_in("!document.getElementById('motion-against').hidden"):
                break
            self.run_in("new Promise(done => setTimeout(done, 20))")

    def rows(self):
        return {row[0]: row[1:] for row in self.run_in(
            "[...document.querySelectorAll('#motion-against tbody tr')].map(r => [...r.cells].map(c => c.textContent))")}

    def curves(self, layout):
        with open(self.folder / f"study/layouts/{layout}/curves.csv", encoding="utf-8", newline="") as file:
            return list(csv.DictReader(file))

    def test_differences_are_those_of_the_tables_beside_the_pages(self):
        self.open("study/layouts/01/index.html")
        self.assertEqual(self.run_in("[...document.getElementById('motion-beside').options].map(o => o.textContent)"),
                         ["nothing", "rank 2, layout 14-1", "rank 3, layout 25-2", "rank 4, layout 36-0"])
        self.choose("14-1")
        self.assertEqual(self.run_in("[...document.querySelectorAll('#motion-against thead th')].map(h => h.textContent)"),
                         ["Curve", *PLACES])
        self.assertRegex(self.run_in("document.getElementById('motion-against-name').textContent"), "rank 2, layout 14-1")
        here, there = self.curves("01"), self.curves("02")
        row = self.rows()["Leverage ratio"]
        for cell, station in ((row[0], 0), (row[2], -1)):
            a, b, by = re.fullmatch(r"([\d.]+) / ([\d.]+) \(([+−±][\d.]+)\)", cell).groups()
            self.assertAlmostEqual(float(a), float(here[station]["leverage"]), delta=6e-4)
            self.assertAlmostEqual(float(b), float(there[station]["leverage"]), delta=6e-4)
            by = float(by.replace("−", "-").replace("±", ""))
            self.assertAlmostEqual(by, float(here[station]["leverage"]) - float(there[station]["leverage"]), delta=6e-4)
        self.assertRegex(row[3], r"^[+−±][\d.]+ at \d+ mm$")
        most = float(re.match(r"[+−±]([\d.]+)", row[3]).group(1))
        self.assertGreaterEqual(most + 1e-3, abs(float(here[0]["leverage"]) - float(there[0]["leverage"])))

    def test_its_linkage_and_curves_come_and_go(self):
        self.open("study/layouts/01/index.html")
        ghosts = "[...document.querySelectorAll('#motion-drawing [stroke=\"#8a5a00\"]')]"
        dotted = "[...document.querySelectorAll('figure[data-columns] .tried polyline[stroke-dasharray=\"1 3\"]')].filter(p => p.getAttribute('points'))"
        self.assertEqual((self.run_in(f"{ghosts}.length"), self.run_in(f"{dotted}.length")), (0, 0))
        self.choose("36-0")
        self.assertGreater(self.run_in(f"{ghosts}.length"), 5)
        self.assertGreater(self.run_in(f"{dotted}.length"), 5)
        shapes = f"{ghosts}.map(n => n.getAttribute('points')).join('|')"
        before = self.run_in(shapes)
        self.assertNotIn("NaN", before)
        self.focus("document.getElementById('motion-travel')")
        for _ in range(12):
            self.browser.key("ArrowRight")
        self.assertNotEqual(self.run_in(shapes), before)
        self.choose("nothing")
        self.run_in("new Promise(done => setTimeout(done, 50))")
        self.assertTrue(self.run_in("document.getElementById('motion-against').hidden"))
        self.assertEqual((self.run_in(f"{ghosts}.length"), self.run_in(f"{dotted}.length")), (0, 0))

    def test_a_page_alone_says_what_is_missing(self):
        alone = self.folder / "study/layouts/alone"
        alone.mkdir()
        text = (self.folder / "study/layouts/01/index.html").read_bytes()
        (alone / "index.html").write_bytes(text.replace(b"/layouts/02/beside.js", b"/layouts/99/beside.js"))
        self.open("study/layouts/alone/index.html")
        self.choose("14-1")
        self.assertRegex(self.run_in("document.getElementById('motion-against-name').textContent"), "99/beside.js .*is not there")
        self.assertEqual(len(self.browser.complaints()), 1)  # the browser's own line on the file
        self.browser.events.clear()

    def test_hostile_names_are_text(self):
        self.open("hostile/layouts/01/index.html")
        for name in self.run_in("[...document.getElementById('motion-beside').options].map(o => o.textContent)")[1:]:
            self.choose(name)
            self.assertEqual(self.run_in("document.querySelectorAll('#motion-against b, #motion-against img').length"), 0)
            self.assertGreater(len(self.rows()), 3)


if __name__ == "__main__":
    main("[.pages]")
