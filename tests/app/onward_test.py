"""Goes on from layouts with the built program. Usage: onward_test.py PATH_OF_trammel

A CAD program is stood in for by ezdxf, which reads the drawing, moves points, and saves it in another release's form.
"""
import csv
import io
import re
import sqlite3
import unittest

import ezdxf
import yaml
from ezdxf.addons.importer import Importer

from program_case import SOURCE, TRAIL, Case, state_of

KIDS = SOURCE / "configs" / "kids-100.yaml"
SINGLE = SOURCE / "configs" / "layouts" / "single-pivot.yaml"


def points_of(brief):
    """Points of a brief's text, in order."""
    group = re.search(r"\n  points:\n((?:    .*\n)+)", brief).group(1)
    return {name: (float(x), float(y)) for name, x, y in re.findall(r"(\S+): \[(\S+), (\S+)\]", group)}


def vary_of(brief):
    return dict(re.findall(r"^  (\S+): \{ (.*) \}$", brief.split("\nvary:\n")[1].split("\n\n")[0], re.MULTILINE))


class Onward(Case):
    def setUp(self):
        super().setUp()
        self.search("one", "--units", "2")
        self.layout = self.folder / "one" / "layouts" / "01" / "layout.yaml"

    def test_a_layout_of_a_study_goes_on_with_its_wishes(self):
        before = state_of(self.folder / "one")
        drafted = self.run_it("draft", "--from", self.layout, "--keep", "main,rocker", "--within", "4")
        self.assertIn("targets: those of the study in", drafted.stderr)
        self.assertEqual(state_of(self.folder / "one"), before)
        brief = drafted.stdout
        self.assertEqual(points_of(brief), points_of(self.layout.read_text()))
        # What the study's brief wishes stands there as written, comments included.
        for group in ["targets:\n", "packaging:\n", "search: "]:
            written = group + TRAIL.read_text().split("\n" + group)[1].split("\n\n")[0].rstrip("\n")
            self.assertIn(written, brief)
        vary = vary_of(brief)
        self.assertEqual(list(vary), ["stay", "tail", "eye", "mount"])
        self.assertIn("length: shock", vary["mount"])
        x, y = points_of(brief)["tail"]
        low, high = map(float, re.search(r"x: \[(\S+), (\S+)\]", vary["tail"]).groups())
        self.assertGreaterEqual(low, -180)  # the brief's own range ends there
        self.assertTrue(low <= x <= high and high - low <= 8.1, (low, x, high))
        (self.folder / "next.yaml").write_text(brief)
        self.search("two", "--units", "1", brief="next.yaml")
        again = self.run_it("draft", "--from", self.folder / "two" / "layouts" / "01" / "layout.yaml").stdout
        self.assertIn('title: "Workshop trail bike, 150 mm"', again)

    def test_a_member_that_keeps_its_shape_goes_on_keeping_it(self):
        text = TRAIL.read_text(encoding="utf-8")
        text = re.sub(r"\n  tail: \{[^\n]*", "", text, count=1)
        text = re.sub(r"\n  eye: \{[^\n]*", "\n  eye: { from: rocker, angle: [15, 110] }", text, count=1)
        brief = self.folder / "kept.yaml"
        brief.write_text(text.replace("\nsearch:", "\nkeep: [rocker]\n\nsearch:"), encoding="utf-8")
        self.run_it("search", brief, "--units", "2", "--out", "kept")
        drafted = self.folder / "onward.yaml"
        drafted.write_text(self.run_it("draft", "--from", "kept/layouts/01/layout.yaml").stdout, encoding="utf-8")
        whole = yaml.safe_load(drafted.read_text(encoding="utf-8"))
        self.assertEqual(whole["keep"], ["rocker"])
        self.assertEqual(set(whole["vary"]), {"main", "stay", "rocker", "eye", "mount"})
        self.assertEqual(set(whole["vary"]["eye"]), {"from", "angle"})
        self.run_it("check", drafted)

    def test_a_kept_eye_turns_the_shock_round(self):
        vary = vary_of(self.run_it("draft", "--from", self.layout, "--keep", "mount").stdout)
        self.assertTrue(vary["eye"].startswith("from: mount, length: shock, angle: "), vary)
        both = vary_of(self.run_it("draft", "--from", self.layout, "--keep", "mount", "eye").stdout)
        self.assertEqual(list(both), ["main", "stay", "tail", "rocker"])

    def test_wishes_told_by_the_drawn_layout_stay_what_they_were(self):
        told = TRAIL.read_text().replace("targets:\n", "targets:\n"
            "  - { name: less growth, curve: chain_growth, gear: 32x24, at: bottomed, of: drawn, times: 0.9, as: ceiling }\n"
            "  - { name: its curve, curve: leverage, of: drawn, tolerance: 1 }\n", 1)
        (self.folder / "told.yaml").write_text(told)
        self.search("told", "--units", "1", brief="told.yaml")
        (self.folder / "next.yaml").write_text(
            self.run_it("draft", "--from", self.folder / "told" / "layouts" / "01" / "layout.yaml").stdout)
        # What is asked for, whatever it is called that told it.
        asked = [re.findall(r"less growth.*?\n.*?at most ([\d.]+)", self.run_it("check", brief).stdout, re.DOTALL)
                 for brief in ("told.yaml", "next.yaml")]
        self.assertEqual(asked[0], asked[1])
        self.assertEqual(len(asked[0]), 1, asked)
        self.assertIn("first-drawing", (self.folder / "next.yaml").read_text())
        self.assertNotIn("of: drawn", (self.folder / "next.yaml").read_text())

    def test_a_chosen_chainring_names_the_gears(self):
        self.search("kids", "--units", "3", brief=KIDS)
        layout = self.folder / "kids" / "layouts" / "01" / "layout.yaml"
        ring = re.search(r"chainring: (\d+)", layout.read_text()).group(1)
        brief = self.run_it("draft", "--from", layout).stdout
        self.assertIn(f"gear: {ring}x46", brief)
        self.assertNotIn("choose:", brief)
        (self.folder / "next.yaml").write_text(brief)
        self.search("on", "--units", "1", brief="next.yaml")

    def test_plain_layouts(self):
        drafted = self.run_it("draft", "--from", SINGLE)
        self.assertIn("only its travel is put in", drafted.stderr)
        brief = drafted.stdout
        self.assertNotIn("axle", vary_of(brief))
        kind = self.run_it("draft", "--from", SINGLE, "--kind", "trail")
        self.assertIn("those usual for its kind are put in", kind.stderr)
        self.assertIn("name: climbing", kind.stdout)
        wishes = self.run_it("draft", "--from", SINGLE, "--targets", KIDS, expect=2)
        self.assertIn("targets[1].gear", wishes.stderr)
        # A mechanism without a shock, moved by its travel.
        bare = re.sub(r"shock:.*", "drive: { travel: 140 }\nsag: { fraction: 0.3, of: wheel }",
                      SINGLE.read_text(), flags=re.DOTALL)
        (self.folder / "bare.yaml").write_text(bare)
        brief = self.run_it("draft", "--from", "bare.yaml").stdout
        self.assertIn("drive: { travel: 140 }", brief)
        self.assertNotIn("shock", str(vary_of(brief)))
        (self.folder / "next.yaml").write_text(brief)
        self.run_it("check", "next.yaml")

    def test_an_older_study_still_gives_its_layout(self):
        with sqlite3.connect(self.folder / "one" / "trammel.study") as study:
            study.execute("pragma user_version = 1")
        drafted = self.run_it("draft", "--from", self.layout)
        self.assertIn("warning: ", drafted.stderr)
        self.assertIn("those usual for its kind are put in", drafted.stderr)
        self.assertEqual(points_of(drafted.stdout), points_of(self.layout.read_text()))

    def test_refused(self):
        self.refused("draft", "--from", self.layout, "--keep", "rockre", "spoke",
                     says=["'rockre' is no point of the linkage", "did you mean 'rocker'?", "'spoke'"])
        self.refused("draft", "--from", self.layout, "--keep", *points_of(self.layout.read_text()),
                     says="nothing is left to move")
        self.refused("draft", "--from", "none.yaml", says="cannot be read")
        self.refused("draft", "--from", self.layout, "--travel", "150", "--shock", "210x55", says=["--travel", "--shock"])
        self.refused("draft", "--kind", "trail", "--keep", "main", "--within", "5", says=["--keep", "--within"])
        self.refused("draft", "--from", self.layout, "--within", "0", says="--within")
        self.refused("draft", "--from", SOURCE / "configs" / "which-linkage-150.yaml", says="names linkages")


class FromCad(Case):
    def setUp(self):
        super().setUp()
        self.search("one", "--units", "2")
        self.place = self.folder / "one" / "layouts" / "01"
        self.points = points_of((self.place / "layout.yaml").read_text())

    def moved(self, file, expect=0):
        return self.run_it("draft", "--from", self.place / "layout.yaml", "--points", file, expect=expect)

    def check_moved(self, done, by):
        now = points_of(done.stdout)
        self.assertEqual(list(now), list(self.points))
        for name, (x, y) in self.points.items():
            dx, dy = by.get(name, (0, 0))
            self.assertAlmostEqual(now[name][0], x + dx, places=6, msg=name)
            self.assertAlmostEqual(now[name][1], y + dy, places=6, msg=name)

    def test_what_was_written_comes_back_unchanged(self):
        for file in ["pivots.csv", "drawing_mm.dxf"]:
            done = self.moved(self.place / file)
            self.assertIn("moved: no point", done.stderr)
            self.assertIn("all that held still holds", done.stderr)
            self.check_moved(done, {})

    def test_with_decimal_commas(self):
        """Every table says the same in either form, and one with decimal commas comes back."""
        folder = self.folder / "one"
        before = {file: list(csv.reader(io.StringIO(file.read_text(encoding="utf-8"), newline="")))
                  for file in folder.rglob("*.csv")}
        self.assertGreater(len(before), 5)
        self.run_it("report", folder, "--tables", "semicolons")
        numbers = 0
        for file, rows in before.items():
            after = list(csv.reader(io.StringIO(file.read_text(encoding="utf-8"), newline=""), delimiter=";"))
            self.assertEqual(len(after), len(rows), file)
            for old, new in zip(rows, after):
                self.assertEqual(len(new), len(old), (file, new))
                for a, b in zip(old, new):
                    is_number = re.fullmatch(r"-?\d+(\.\d+)?(e[+-]?\d+)?", a)
                    self.assertEqual(b, a.replace(".", ",") if is_number else a)
                    numbers += bool(is_number)
        self.assertGreater(numbers, 1000)
        done = self.moved(self.place / "pivots.csv")
        self.assertIn("moved: no point", done.stderr)
        self.check_moved(done, {})
        printed = self.run_it("curves", TRAIL, "--stations", "3", "--tables", "semicolons").stdout
        self.assertRegex(printed.splitlines()[1], r"^0;0;-\d+,?\d*;")

    def table(self, change, **form):
        rows = list(csv.DictReader(io.StringIO((self.place / "pivots.csv").read_text(), newline="")))
        change(rows)
        with open(self.folder / "moved.csv", "w", newline="", encoding="utf-8-sig") as file:
            writer = csv.DictWriter(file, rows[0].keys(), **form)
            writer.writeheader()
            writer.writerows(rows)
        return "moved.csv"

    def test_moved_in_a_spreadsheet(self):
        def change(rows):
            for row in rows:
                if row["point"] == "stay":
                    row["x_topped_out_mm"] = str(float(row["x_topped_out_mm"]) + 1.5)
        self.check_moved(self.moved(self.table(change)), {"stay": (1.5, 0)})

        def commas(rows):
            change(rows)
            for row in rows:
                for key in row:
                    if key.endswith("_mm"):
                        row[key] = row[key].replace(".", ",")
        self.check_moved(self.moved(self.table(commas, delimiter=";")), {"stay": (1.5, 0)})
        short = self.folder / "short.csv"
        short.write_text("point,x,y\nstay,-390,-12\n")
        done = self.moved(short)
        self.assertIn("left where they were", done.stderr)
        self.assertEqual(points_of(done.stdout)["stay"], (-390, -12))

    def test_all_that_no_longer_holds_is_said_at_once(self):
        far = self.folder / "far.csv"
        far.write_text("point,x,y\nmain,40,20\nmount,150,215\naxle,-437,50\n")
        done = self.moved(far)
        for words in ["no longer holds:", "the shock's eyes are", "no longer level", "main.x is 40 mm, and the brief "
                      "lets it be -25 to 20", "climbing (required):", "asked for 96 to 108 %, was"]:
            self.assertIn(words, done.stderr)
        (self.folder / "next.yaml").write_text(done.stdout)
        self.run_it("check", "next.yaml")
        apart = self.folder / "apart.csv"
        apart.write_text("point,x,y\nmain,-380,-10\n")
        self.assertIn("does not assemble", self.moved(apart).stderr)

    def test_flawed_tables(self):
        flawed = self.folder / "flawed.csv"
        layout = self.place / "layout.yaml"
        flawed.write_text("point,x,y\nstya,1,2\nmain,1\nrocker,nan,3\ntail,a,b\nstay,1,2\nstay,1,2\naxle,1e9,0\n")
        self.refused("draft", "--from", layout, "--points", flawed,
                     says=["flawed.csv:2: 'stya'", "did you mean 'stay'?", ":3: too few columns", ":4: rocker is at 'nan'",
                           ":5: tail is at 'a', 'b'", ":7: stay is there twice", ":8: axle"])
        for text, says in [("", "is empty"), ("point,x,y\n", "names no point"), ("a,b,c\n1,2,3\n", "must name the columns"),
                           ("point\n", "must name the columns")]:
            flawed.write_text(text)
            self.refused("draft", "--from", layout, "--points", flawed, says=says)
        self.refused("draft", "--from", layout, "--points", "none.csv", says="cannot be read")
        self.refused("draft", "--from", layout, "--points", layout, says="ends in .csv or .dxf")

    def drawing(self):
        return ezdxf.readfile(self.place / "drawing_mm.dxf")

    def entities(self, drawing, name):
        """Point, circle and name of a point of the linkage."""
        at = ezdxf.math.Vec3(*self.points[name])
        out = []
        for entity in drawing.modelspace():
            if entity.dxf.layer == "PIVOTS":
                place = entity.dxf.location if entity.dxftype() == "POINT" else entity.dxf.center
                if place.isclose(at, abs_tol=1e-6):
                    out.append(entity)
            elif entity.dxftype() == "TEXT" and entity.dxf.layer == "NAMES" and entity.dxf.text == name:
                out.append(entity)
        self.assertGreaterEqual(len(out), 2, name)
        return out

    def save(self, drawing, name="moved.dxf"):
        drawing.saveas(self.folder / name)
        return name

    def test_moved_in_cad(self):
        by = {"stay": (2.25, -3.5), "eye": (-1.0, 4.0)}
        # Names moved along, and left where they were.
        for with_names in [True, False]:
            drawing = self.drawing()
            for name, (dx, dy) in by.items():
                for entity in self.entities(drawing, name):
                    if with_names or entity.dxftype() != "TEXT":
                        entity.translate(dx, dy, 0)
            done = self.moved(self.save(drawing))
            self.check_moved(done, by)
            self.assertIn("stay by 2.250, -3.500", done.stderr)

    def test_points_that_change_places_are_told_by_their_names(self):
        drawing = self.drawing()
        a, b = (ezdxf.math.Vec3(*self.points[name]) for name in ("tail", "eye"))
        moves = [(self.entities(drawing, "tail"), b - a), (self.entities(drawing, "eye"), a - b)]
        for entities, by in moves:
            for entity in entities:
                entity.translate(*by)
        self.check_moved(self.moved(self.save(drawing)), {"tail": tuple(b - a)[:2], "eye": tuple(a - b)[:2]})

    def test_a_newer_form_and_a_drawing_put_elsewhere(self):
        old = self.drawing()
        new = ezdxf.new("R2010", units=ezdxf.units.MM)
        importer = Importer(old, new)
        importer.import_modelspace()
        importer.finalize()
        for entity in new.modelspace():
            entity.translate(1000, 500, 0)
        done = self.moved(self.save(new))
        self.assertIn("bottom bracket lies at 1000, 500", done.stderr)
        self.check_moved(done, {})
        new.units = ezdxf.units.IN
        self.refused("draft", "--from", self.place / "layout.yaml", "--points", self.save(new),
                     says="allowed: millimetres (4) or none (0)")

    def test_drawings_that_cannot_be_read_back(self):
        layout = self.place / "layout.yaml"
        drawing = self.drawing()
        for entity in self.entities(drawing, "stay"):
            if entity.dxftype() == "CIRCLE":
                entity.translate(5, 5, 0)
        self.refused("draft", "--from", layout, "--points", self.save(drawing), says="move a pivot's circle and point together")
        drawing = self.drawing()
        for entity in self.entities(drawing, "stay"):
            drawing.modelspace().delete_entity(entity)
        self.refused("draft", "--from", layout, "--points", self.save(drawing), says="the layout has 7: main, stay")
        drawing = self.drawing()
        # Two points moved far, their names left behind: nobody can tell which is which.
        for name, by in (("tail", (100, 0)), ("rocker", (0, 80))):
            for entity in self.entities(drawing, name):
                if entity.dxftype() != "TEXT":
                    entity.translate(*by, 0)
        self.refused("draft", "--from", layout, "--points", self.save(drawing), says="move its name along with it")
        binary = self.folder / "binary.dxf"
        binary.write_bytes(bytes(range(256)) * 4)
        self.refused("draft", "--from", layout, "--points", binary, says="is no group code")
        empty = self.folder / "empty.dxf"
        empty.write_bytes(b"")
        self.refused("draft", "--from", layout, "--points", empty, says="0 points lie on the layer PIVOTS")


if __name__ == "__main__":
    unittest.main()
