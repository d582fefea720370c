"""Reads written reports with readers that are not ours: Python's csv, json and html.parser, PyYAML, ezdxf, and an XML
parser. Usage: report_check.py PATH_OF_test_report"""
import csv
import html.parser
import io
import json
import math
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree

import ezdxf
import yaml

FOLDER = None
POSES = {"": "topped_out", "_SAG": "sag", "_BOTTOMED": "bottomed"}


def read(path):
    return (FOLDER / path).read_bytes().decode("utf-8")


def layouts(study="study"):
    return sorted((FOLDER / study / "layouts").iterdir())


def csv_rows(path):
    text = path.read_bytes().decode("utf-8")
    return text, list(csv.reader(io.StringIO(text, newline=""), strict=True))


class Page(html.parser.HTMLParser):
    """Checks nesting, and collects ids, what is fetched, and what scripts hold."""

    VOID = {"meta", "br", "hr", "img", "input", "link"}

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.open, self.faults, self.ids, self.addresses, self.scripts = [], [], [], [], []
        self.events = []
        self.feed(text)
        self.close()
        if self.open:
            self.faults.append(f"left open: {self.open}")

    def handle_starttag(self, tag, attrs):
        self.handle_startendtag(tag, attrs)
        if tag not in self.VOID:
            self.open.append(tag)
        if tag == "script":
            self.scripts.append((dict(attrs), []))

    def handle_startendtag(self, tag, attrs):
        if len({key for key, _ in attrs}) != len(attrs):
            self.faults.append(f"attribute twice in {tag}: {attrs}")
        for key, value in attrs:
            if key == "id":
                self.ids.append(value)
            if key in ("src", "href", "xlink:href", "data", "action", "srcset"):
                self.addresses.append(value)
            if key.startswith("on"):
                self.events.append((tag, key))

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"</{tag}> does not close what is open, line {self.getpos()[0]}")

    def handle_data(self, data):
        if self.open and self.open[-1] == "script":
            self.scripts[-1][1].append(data)


class Csv(unittest.TestCase):
    def check_shape(self, path):
        text, rows = csv_rows(path)
        self.assertTrue(text.endswith("\r\n"))
        self.assertNotIn("\n", re.sub('"(?:[^"]|"")*"', "", text).replace("\r\n", ""))
        self.assertEqual(len({len(row) for row in rows}), 1, path)
        self.assertEqual(len(set(rows[0])), len(rows[0]), "a header is there twice")
        return rows

    def test_curves(self):
        for layout in layouts():
            rows = self.check_shape(layout / "curves.csv")
            self.assertEqual(len(rows), 102)
            for row in rows[1:]:
                for cell in row:
                    self.assertTrue(cell == "" or math.isfinite(float(cell)))
            shock = [float(row[0]) for row in rows[1:]]
            self.assertEqual(shock[0], 0.0)
            self.assertEqual(shock[-1], 57.5)

    def test_pivots_and_shortlist(self):
        for study in ("study", "hostile"):
            rows = self.check_shape(FOLDER / study / "shortlist.csv")
            self.assertEqual(rows[0][:5], ["rank", "id", "score", "margin", "musts_met"])
            self.assertEqual([row[0] for row in rows[1:]], ["1", "2", "3", "4"])
            for layout in layouts(study):
                self.assertEqual(len(self.check_shape(layout / "pivots.csv")), 8)

    def test_what_is_not_a_number_is_empty(self):
        _, rows = csv_rows(FOLDER / "hostile" / "shortlist.csv")
        self.assertEqual(rows[2][5], "")
        self.assertNotEqual(rows[1][5], "")


class Yaml(unittest.TestCase):
    def test_same_numbers_as_the_other_files(self):
        for layout in layouts():
            loaded = yaml.safe_load((layout / "layout.yaml").read_text(encoding="utf-8"))
            self.assertEqual(loaded["trammel"], 1)
            _, rows = csv_rows(layout / "pivots.csv")
            points = loaded["linkage"]["points"]
            self.assertEqual(len(points), len(rows) - 1)
            for row in rows[1:]:
                self.assertEqual([float(v) for v in points[row[0]]], [float(row[2]), float(row[3])])
                carriers = [m for m, on in loaded["linkage"]["members"].items() if row[0] in on]
                self.assertEqual(" ".join(carriers), row[1])
            self.assertEqual(loaded["drivetrain"], {"chainring": 32, "gears": [18, 28, 50]})
            self.assertEqual(loaded["sag"], {"fraction": 0.3, "of": "wheel"})

    def test_text_that_could_break_it(self):
        for layout in layouts("hostile"):
            text = (layout / "layout.yaml").read_text(encoding="utf-8")
            loaded = yaml.safe_load(text)
            self.assertIn("</script><script>alert('x')</script> \"quoted\"", loaded["title"])
            self.assertTrue(loaded["title"].endswith("\n# \t\\"))


class Dxf(unittest.TestCase):
    def test_audit_and_coordinates(self):
        for layout in layouts() + layouts("hostile"):
            path = layout / "drawing_mm.dxf"
            path.read_bytes().decode("ascii")
            document = ezdxf.readfile(path)
            self.assertEqual(document.dxfversion, "AC1009")
            audit = document.audit()
            self.assertEqual((audit.errors, audit.fixes), ([], []))
            space = document.modelspace()
            layers = {entity.dxf.layer for entity in space}
            for layer in layers:
                self.assertIn(layer, document.layers)
            _, rows = csv_rows(layout / "pivots.csv")
            for at, suffix in enumerate(POSES):
                wanted = [(float(row[2 + 2 * at]), float(row[3 + 2 * at])) for row in rows[1:]]
                found = [tuple(p.dxf.location)[:2] for p in space.query(f'POINT[layer=="PIVOTS{suffix}"]')]
                self.assertEqual(found, wanted)
                shock = space.query(f'LINE[layer=="SHOCK{suffix}"]')
                self.assertEqual(len(shock), 1)
                ends = [tuple(shock[0].dxf.start)[:2], tuple(shock[0].dxf.end)[:2]]
                self.assertEqual(ends, [wanted[5], wanted[6]])
                # chainstay 1 line, seatstay and rocker 3 each
                self.assertEqual(len(space.query(f'LINE[layer=="LINKS{suffix}"]')), 7)
                wheels = space.query(f'CIRCLE[layer=="WHEELS{suffix}"]')
                self.assertEqual([w.dxf.radius for w in wheels], [371.0, 371.0])
                self.assertEqual(tuple(wheels[0].dxf.center)[:2], wanted[2])
                self.assertEqual(len(space.query(f'LINE[layer=="GROUND{suffix}"]')), 1)
            texts = [t.dxf.text for t in space.query("TEXT")]
            self.assertIn("UNITS MM", texts)
            self.assertIn("axle", texts)
            # every pivot is marked but the axle, which no second member carries
            self.assertEqual(len(space.query('CIRCLE[layer=="PIVOTS"]')), 6)

    def test_workshop_drawing(self):
        for layout in layouts() + layouts("hostile"):
            path = layout / "workshop_mm.dxf"
            path.read_bytes().decode("ascii")
            document = ezdxf.readfile(path)
            audit = document.audit()
            self.assertEqual((audit.errors, audit.fixes), ([], []))
            space = document.modelspace()
            _, rows = csv_rows(layout / "pivots.csv")
            texts = [t.dxf.text for t in space.query("TEXT")]
            marks = [tuple(c.dxf.center)[:2] for c in space.query('CIRCLE[layer=="OUTLINE"]')]
            self.assertEqual(len(marks), len(rows) - 1)
            for name, _, x, y, *_ in rows[1:]:
                self.assertTrue(any(abs(a - float(x)) < 1e-9 and abs(b - float(y)) < 1e-9 for a, b in marks), name)
                self.assertIn(name, texts)
                for number in (x, y):  # in the table of holes, and as a dimension; the last digit may be a tie
                    found = sum(abs(float(t) - float(number)) <= 0.005 + 1e-9 for t in texts
                                if re.fullmatch(r"-?\d+\.\d\d", t))
                    self.assertGreaterEqual(found, 2, (name, number))
            # The frame of the sheet, enlarged by the scale that the title block states, is that of the named paper.
            reduction = float(next(t for t in texts if t.startswith("1 : "))[4:])
            paper = {"A3": (420.0, 297.0), "A2": (594.0, 420.0)}[next(t for t in texts if t in ("A3", "A2"))]
            border = [p for line in space.query('LINE[layer=="BORDER"]') for p in (line.dxf.start, line.dxf.end)]
            for axis, size in enumerate((paper[0] - 30.0, paper[1] - 20.0)):
                span = max(p[axis] for p in border) - min(p[axis] for p in border)
                self.assertAlmostEqual(span, size * reduction, places=6)
                everything = [p[axis] for line in space.query("LINE") for p in (line.dxf.start, line.dxf.end)]
                self.assertLessEqual(max(everything), max(p[axis] for p in border) + 1e-9)
                self.assertGreaterEqual(min(everything), min(p[axis] for p in border) - 1e-9)
            # As SVG it prints true to size.
            drawing = xml.etree.ElementTree.parse(layout / "workshop.svg").getroot()
            self.assertEqual((drawing.get("width"), drawing.get("height")), tuple(f"{n:.2f}mm" for n in paper))
            self.assertEqual(drawing.get("viewBox"), f"0 0 {paper[0]:.2f} {paper[1]:.2f}")


class Pages(unittest.TestCase):
    def pages(self):
        found = sorted(FOLDER.rglob("*.html"))
        self.assertEqual(len(found), 1 + 3 * (1 + 4 * 2))
        return found

    def test_well_formed(self):
        for path in self.pages():
            page = Page(path.read_text(encoding="utf-8"))
            self.assertEqual(page.faults, [], path)
            self.assertEqual(len(set(page.ids)), len(page.ids), f"an id is there twice in {path}")
            self.assertEqual(page.events, [])

    def test_offline_and_all_links_lead_somewhere(self):
        for path in self.pages():
            text = path.read_text(encoding="utf-8")
            page = Page(text)
            if path.parent.name != "compare" and path.name != "summary.html":
                self.assertGreaterEqual(len(page.addresses), 6)
            for address in page.addresses:
                self.assertNotRegex(address, r"^[a-zA-Z]+:|^//")
                self.assertTrue((path.parent / address).exists(), f"{address} in {path}")
            self.assertNotRegex(text, r"https?://")
            self.assertNotRegex(text, r"url\((?!#)|@import")
        for path in FOLDER.rglob("*.svg"):
            self.assertEqual(re.findall(r"https?://[^\"]*", path.read_text(encoding="utf-8")), ["http://www.w3.org/2000/svg"])

    def test_scripts_are_ours_whatever_the_text(self):
        for study in ("study", "hostile"):
            page = Page(read(f"{study}/index.html"))
            kinds = [(attrs.get("type"), attrs.get("src")) for attrs, _ in page.scripts]
            self.assertEqual(kinds, [("application/json", None), (None, "assets/echarts.min.js"), (None, None), (None, None),
                                     ("application/json", None), (None, None), (None, None)])
            for layout in layouts(study):
                page = Page((layout / "index.html").read_text(encoding="utf-8"))
                data = [("application/json", None)]
                with_kernel = any(attrs.get("id") == "live-data" for attrs, _ in page.scripts)  # if the build has made one
                self.assertEqual([(attrs.get("type"), attrs.get("src")) for attrs, _ in page.scripts],
                                 data * 2 + [(None, None)] * 3 if with_kernel else data + [(None, None)] * 2)
                self.assertEqual(Page((layout / "summary.html").read_text(encoding="utf-8")).scripts, [])
        for page, number in (("index.html", 2), ("index.html", 3), ("index.html", 5), ("index.html", 6),
                             ("layouts/01/index.html", -1), ("layouts/01/index.html", -2), ("layouts/01/index.html", -3)):
            if number == -3 and len(Page(read(f"study/{page}")).scripts) < 5:
                continue
            ours = ["".join(Page(read(f"{study}/{page}")).scripts[number][1]) for study in ("study", "hostile")]
            self.assertEqual(ours[0], ours[1])

    def test_chart_data(self):
        def refuse(word):
            raise ValueError(word)  # JSON has no NaN and no Infinity

        for study in ("study", "hostile"):
            text = "".join(Page(read(f"{study}/index.html")).scripts[0][1])
            self.assertNotIn("<", text)
            data = json.loads(text, parse_constant=refuse)
            self.assertEqual(data["total"], 48312)
            self.assertEqual(len(data["rows"]), 200)
            self.assertEqual([a["kind"] for a in data["axes"]], ["result"] * 2 + ["target"] * 6 + ["varied"] * 4)
            for row in data["rows"]:
                self.assertEqual(len(row["values"]), len(data["axes"]))
        self.assertIsNone(data["rows"][7]["values"][2])
        self.assertIsNone(data["rows"][8]["values"][1])
        self.assertIn("</script>", data["axes"][2]["label"])

    def test_no_broken_numbers(self):
        for path in self.pages() + sorted(FOLDER.rglob("*.svg")):
            text = path.read_text(encoding="utf-8")
            markup = re.sub(r"<script.*?</script>|<style.*?</style>", "", text, flags=re.S)
            self.assertNotRegex(markup, r"(?i)\bnan\b|\binf\b|\binfinity\b(?! or more)", path)

    def test_every_page_states_conventions_and_cautions(self):
        for path in self.pages():
            text = path.read_text(encoding="utf-8")
            self.assertIn("ISO 4210", text, path)
            if path.name == "summary.html":
                continue  # the page that it leads to states the conventions
            for phrase in ("The fork follows: matched", "The centre of gravity follows: frame", "Sag is 30 % of wheel travel",
                           "wheel and crank are both held to the frame", "only rear-wheel braking is considered",
                           "Rotating inertia and unsprung mass are neglected"):
                self.assertIn(phrase, text, path)

    def test_unmet_targets_are_marked_by_a_sign(self):
        text = read("study/index.html")
        rows = re.findall(r"<tr><th scope=\"row\">.*?</tr>", text, flags=re.S)[:4]
        _, table = csv_rows(FOLDER / "study" / "shortlist.csv")
        for row, record in zip(rows, table[1:]):
            climbing = float(record[5])
            cell = re.findall(r"<td class=\"n(?: missed)?\">([✓✗])", row)[0]
            self.assertEqual(cell, "✓" if 95.0 <= climbing <= 115.0 else "✗")


class Linkages(unittest.TestCase):
    def test_table(self):
        text, rows = csv_rows(FOLDER / "linkages" / "linkages.csv")
        self.assertEqual([row[0] for row in rows], ["linkage", "four_bar", "single_pivot", "rail"])
        self.assertEqual(len({len(row) for row in rows}), 1)
        column = {name: i for i, name in enumerate(rows[0])}
        self.assertEqual([row[column["feasible"]] for row in rows[1:]], ["3", "0", "0"])
        _, shortlist = csv_rows(FOLDER / "linkages" / "shortlist.csv")
        first = dict(zip(shortlist[0], shortlist[1]))
        best = dict(zip(rows[0], rows[1]))
        for name in set(first) & set(best) - {"linkage"}:
            self.assertEqual(first[name], best[name], name)
        self.assertEqual(rows[3][column["best_id"]:], [""] * (len(rows[0]) - column["best_id"]))

    def test_shortlist_has_the_linkage_and_every_varied_value(self):
        _, rows = csv_rows(FOLDER / "linkages" / "shortlist.csv")
        self.assertEqual(rows[0][:6], ["rank", "id", "score", "margin", "musts_met", "linkage"])
        self.assertEqual({row[5] for row in rows[1:]}, {"Four-bar"})
        first, other = rows[0].index("main.x [mm]"), rows[0].index("low.x [mm]")
        self.assertEqual([bool(row[first]) for row in rows[1:]], [True, False, True, True])
        self.assertEqual([bool(row[other]) for row in rows[1:]], [False, True, False, False])

    def test_page(self):
        text = read("linkages/index.html")
        section = text[text.index("<h2>Linkages</h2>"):text.index("<h2>Shortlist</h2>")]
        self.assertIn("1 of 3 linkages were found to meet every requirement", section)
        self.assertNotIn("Four-bar: why not", section)
        self.assertIn("Single &lt;pivot&gt;: why not", section)
        self.assertIn("Rail: why not", section)
        self.assertIn("100.0 % does not assemble at shoe", section)
        self.assertIn("&#39;climbing&#39; &amp; nothing else fits." if "&#39;" in section else "climbing", section)
        # The best of the one that can is shortlisted and has a page; the other's nearest layout has a file.
        self.assertIn('href="layouts/01/index.html"', section)
        self.assertIn('href="linkages/single_pivot/layout.yaml"', section)
        missed = section[section.index("misses:"):section.index("Rail: why not")]
        self.assertRegex(missed, r"<li>[^<]*climbing: [0-9.]+ % \(out by [0-9.]+\), demanded 95 to 115 % at sag")
        self.assertNotIn("Linkages</h2>", read("study/index.html"))

    def test_best_layouts_stand_alone(self):
        for name in ("four_bar", "single_pivot"):
            loaded = yaml.safe_load(read(f"linkages/linkages/{name}/layout.yaml"))
            self.assertEqual(set(loaded) & {"linkages", "templates"}, set())
            self.assertIn("points", loaded["linkage"])
        self.assertFalse((FOLDER / "linkages" / "linkages" / "rail").exists())

    def test_charts_leave_out_values_of_single_linkages(self):
        data = json.loads("".join(Page(read("linkages/index.html")).scripts[0][1]))
        self.assertEqual({axis["kind"] for axis in data["axes"]}, {"result", "target"})
        self.assertEqual({row["linkage"] for row in data["rows"]}, {"Four-bar"})


class Drawings(unittest.TestCase):
    def test_svg_file_has_true_lengths(self):
        for layout in layouts() + layouts("hostile"):
            root = xml.etree.ElementTree.parse(layout / "drawing.svg").getroot()
            width, height = (float(root.get(key).removesuffix("mm")) for key in ("width", "height"))
            _, _, px_width, px_height = (float(v) for v in root.get("viewBox").split())
            self.assertAlmostEqual(width / px_width, height / px_height, places=3)
            # Wheels of 371 mm: the largest circles; their radius on paper is the radius in mm.
            radii = sorted(float(c.get("r")) for c in root.iter("{http://www.w3.org/2000/svg}circle"))
            self.assertAlmostEqual(radii[-1] * width / px_width, 371.0, delta=0.02)

    def test_licences_lie_beside_the_chart_library(self):
        assets = FOLDER / "study" / "assets"
        self.assertEqual({p.name for p in assets.iterdir()},
                         {"echarts.min.js", "LICENSE", "LICENSE.zrender", "LICENSE.d3", "NOTICE"})
        self.assertIn("Apache License", (assets / "LICENSE").read_text())
        self.assertIn("Apache ECharts", (assets / "NOTICE").read_text())


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place:
        FOLDER = pathlib.Path(place)
        subprocess.run([sys.argv.pop(1), "[.folder]"], check=True, stdout=subprocess.DEVNULL,
                       env={**os.environ, "TRAMMEL_REPORT_FOLDER": place})
        unittest.main()
