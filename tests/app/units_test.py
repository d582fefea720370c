"""Briefs in inches against the same in mm: the same layouts, and reports that give both."""
import csv
import pathlib
import re
import sys
import unittest

import yaml

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "brief"))
from in_inches import MM_PER_INCH, in_inches
from program_case import Case, SOURCE

CONFIGS = SOURCE / "configs"
SHORT = ["--units", "2", "--threads", "2"]


class Inches(Case):
    def twin(self, name):
        """A shipped brief in inches, in the folder."""
        tree = in_inches(yaml.safe_load((CONFIGS / name).read_text(encoding="utf-8")))
        path = self.folder / name
        path.write_text(yaml.safe_dump(tree, sort_keys=False, allow_unicode=True), encoding="utf-8")
        return path

    def search(self, brief, out):
        """The shortlist as found: the table, and each layout without the line that names the study."""
        self.run_it("search", brief, "--out", out, *SHORT)
        layouts = sorted((self.folder / out / "layouts").glob("*/layout.yaml"))
        self.assertTrue(layouts)
        return [(self.folder / out / "shortlist.csv").read_text()] + [p.read_text().split("\n", 1)[1] for p in layouts]

    def test_same_search(self):
        for name in ["trail-150.yaml", "flip-chip-140.yaml"]:
            with self.subTest(name):
                twin = self.twin(name)
                self.assertIn("units: inch", twin.read_text())
                self.assertEqual(self.search(twin, "inch" + name), self.search(CONFIGS / name, "mm" + name))

    def test_report_gives_both(self):
        self.search(self.twin("trail-150.yaml"), "study")
        layout = self.folder / "study" / "layouts" / "01"
        for page in [self.folder / "study" / "index.html", layout / "index.html", layout / "summary.html"]:
            words = re.sub(r"<(script|style|pre)\b.*?</\1>|<[^>]*>", "\n", page.read_text(encoding="utf-8"), flags=re.S)
            told = re.findall(r"(-?[\d.]+) mm \((-?[\d.]+) in\)", words)
            self.assertGreater(len(told), 2, page)
            for mm, inches in told:
                half = 0.5 * 10.0 ** -len(inches.partition(".")[2])
                slack = 0.5 * 10.0 ** -len(mm.partition(".")[2]) / MM_PER_INCH
                self.assertAlmostEqual(float(inches), float(mm) / MM_PER_INCH, delta=half + slack, msg=str(page))
            self.assertEqual(re.findall(r"\d mm(?! \(| per mm|[²³/\w])", words), [], page)
        with open(layout / "pivots.csv", newline="", encoding="utf-8") as table:
            for row in csv.DictReader(table):
                for place in ["x_topped_out", "y_sag", "x_bottomed"]:
                    self.assertAlmostEqual(float(row[place + "_in"]) * MM_PER_INCH, float(row[place + "_mm"]), delta=1e-6)
        self.assertIn("in inches, for reference", (layout / "workshop.svg").read_text(encoding="utf-8"))

    def test_going_on(self):
        """A next brief is in mm and reports both; moved points come back from a table that has both."""
        self.search(self.twin("trail-150.yaml"), "study")
        next_brief = self.run_it("draft", "--from", "study/layouts/01/layout.yaml").stdout
        self.assertIn("\nunits: mm_and_inch\n", next_brief)
        (self.folder / "next.yaml").write_text(next_brief, encoding="utf-8")
        self.assertIn(" in)", self.run_it("check", "next.yaml").stdout)
        self.run_it("draft", "--from", "study/layouts/01/layout.yaml", "--points", "study/layouts/01/pivots.csv")

    def test_mm_says_nothing_of_inches(self):
        self.search(CONFIGS / "trail-150.yaml", "study")
        for page in (self.folder / "study").rglob("*.html"):
            self.assertNotIn(" in)", re.sub(r"<(script|style)\b.*?</\1>", "", page.read_text(encoding="utf-8"), flags=re.S))


if __name__ == "__main__":
    unittest.main()
