"""Drives the built program as its users do. Usage: program_test.py PATH_OF_trammel"""
import math
import pathlib
import re
import signal
import subprocess
import time
import unittest

from program_case import LAYOUTS, PROGRAM, SOURCE, TRAIL, Case, committed, files_of, rows_of, state_of

VERBS = ["draft", "picture", "curves", "check", "prove", "search", "resume", "gather", "report", "digest", "compare", "linkages", "schema", "manual",
         "completions"]
PLAIN = ("shock_mm,travel_mm,axle_x_mm,axle_y_mm,leverage,chainstay_mm,chainstay_growth_mm,ic_x_mm,ic_y_mm,pitch_deg,"
         "wheelbase_mm,bb_height_mm,cg_height_mm,anti_rise_pct").split(",")
SPRING = ["shock_force_n", "wheel_force_n", "wheel_rate_n_mm"]

SINGLE_PIVOT = """trammel: 1
title: Single pivot of a test
bike:
  wheels: {{ rear: {{ radius: 371 }}, front: {{ radius: 371 }} }}
  front: {{ axle: [806, 30], head_angle: 64.8, travel: 160 }}
  cg: {{ x: 20, height: 1120 }}
linkage:
  points: {{ pivot: [{pivot[0]}, {pivot[1]}], axle: [{axle[0]}, {axle[1]}], eye: [{eye[0]}, {eye[1]}], mount: [{mount[0]}, {mount[1]}] }}
  members: {{ frame: [pivot, mount], swingarm: [pivot, axle, eye] }}
  axle: {{ point: axle, member: swingarm }}
shock: {{ between: [mount, eye], length: {length}, stroke: {stroke} }}
"""


class Help(Case):
    def test_help_of_every_verb(self):
        text = self.run_it("--help").stdout
        for verb in VERBS:
            self.assertIn(verb, text)
            of_verb = self.run_it(verb, "--help")
            self.assertIn("Usage:", of_verb.stdout)
            self.assertEqual(of_verb.stderr, "")
        for flag in ["--out", "--seed", "--threads", "--units", "--time", "--settled", "--slice", "--keep-free"]:
            self.assertIn(flag, self.run_it("search", "--help").stdout)
        for flag in ["--stations", "--csv"]:
            self.assertIn(flag, self.run_it("curves", "--help").stdout)
        self.assertRegex(self.run_it("--version").stdout, r"\Atrammel \d+\.\d+\.\d+\n")


class Cases(Case):
    LAYOUT = (SINGLE_PIVOT.format(pivot=(10, 70), axle=(-437, 30), eye=(-50, 232), mount=(176.5, 271.9), length=230,
                                  stroke=57.5)
              + "settings: [ { name: low, move: { axle: [4, -7] } }, { name: high } ]\n"
              + "sizes: [ { name: M }, { name: L, front: { axle: [850, 30] } } ]\n")

    def test_curves_of_a_setting_and_a_size_are_those_of_layouts_drawn_so(self):
        cased, moved, longer = (self.folder / f"{name}.yaml" for name in ("cased", "moved", "longer"))
        cased.write_text(self.LAYOUT)
        moved.write_text(self.LAYOUT.replace("axle: [-437, 30]", "axle: [-433, 23]"))
        longer.write_text(moved.read_text().replace("axle: [806, 30]", "axle: [850, 30]"))
        drawn = self.run_it("curves", cased).stdout
        self.assertEqual(self.run_it("curves", cased, "--setting", "high").stdout, drawn)
        low = self.run_it("curves", cased, "--setting", "low").stdout
        self.assertEqual(low, self.run_it("curves", moved).stdout)
        self.assertNotEqual(low, drawn)
        self.assertEqual(self.run_it("curves", cased, "--setting", "low", "--size", "L").stdout,
                         self.run_it("curves", longer).stdout)
        checked = self.run_it("check", cased).stdout
        for name in ["low-M", "low-L", "high-M", "high-L"]:
            self.assertIn(f"  {name}: ", checked)

    def test_a_comparison_shows_each(self):
        cased = self.folder / "cased.yaml"
        cased.write_text(self.LAYOUT)
        self.run_it("compare", cased, "--out", "page")
        page = (self.folder / "page" / "index.html").read_text(encoding="utf-8")
        for name in ["cased low-M", "cased low-L", "cased high-M", "cased high-L"]:
            self.assertIn(name, page)
        self.refused("compare", *[cased] * 4, "--out", "many", says="from 2 to 12 go on a page")

    def test_a_name_that_is_none(self):
        cased = self.folder / "cased.yaml"
        cased.write_text(self.LAYOUT)
        refused = self.run_it("curves", cased, "--setting", "hihg", expect=2)
        self.assertIn("did you mean 'high'?", refused.stderr)
        refused = self.run_it("curves", LAYOUTS[0], "--size", "M", expect=2)
        self.assertIn("the layout has none", refused.stderr)


class References(Case):
    """Existing layouts that a brief names: read before anything is written, kept with the study, judged in its report."""

    def brief(self):
        (self.folder / "shed").mkdir()
        for name in ["workshop-trail", "linkage-single-pivot"]:
            text = next(p for p in LAYOUTS if p.stem == name).read_text(encoding="utf-8")
            (self.folder / "shed" / f"{name}.yaml").write_text(text, encoding="utf-8")
        brief = self.folder / "brief.yaml"
        brief.write_text(TRAIL.read_text(encoding="utf-8") + "references: { folder: shed }\n", encoding="utf-8")
        return brief

    def test_a_study_keeps_and_judges_them(self):
        brief = self.brief()
        self.assertIn("references: 2 layouts", self.run_it("check", brief).stdout)
        study = self.search("study", "--units", "2", brief=brief)
        self.assertEqual(sorted(p.name for p in (study / "references").iterdir()),
                         ["linkage-single-pivot.yaml", "workshop-trail.yaml"])
        rows = rows_of((study / "references.csv").read_text(encoding="utf-8"))
        self.assertEqual([r[0] for r in rows[1:]], ["linkage-single-pivot", "workshop-trail"])
        leverage = {r[0]: float(r[rows[0].index("travel")]) for r in rows[1:]}
        curves = rows_of(self.run_it("curves", self.folder / "shed" / "workshop-trail.yaml").stdout)
        self.assertAlmostEqual(leverage["workshop-trail"], float(curves[-1][curves[0].index("travel_mm")]), places=6)
        # The study goes on without the folder that the brief named.
        before = files_of(study)
        for p in (self.folder / "shed").iterdir():
            p.unlink()
        self.run_it("report", study)
        self.assertEqual(files_of(study), before)
        gathered = self.folder / "joined"
        self.run_it("gather", study, "--out", gathered)
        self.assertEqual((gathered / "references.csv").read_bytes(), (study / "references.csv").read_bytes())
        self.assertIn("Against the references", (study / "index.html").read_text(encoding="utf-8"))

    def test_what_is_wrong_with_them_is_told_before_anything_is_written(self):
        brief = self.brief()
        bad = self.folder / "shed" / "bad.yaml"
        bad.write_text("trammel: 1\nbkie: {}\n")
        self.refused("search", brief, "--out", "study", says=["bad.yaml:2:1", "bike"])
        bad.write_text(TRAIL.read_text(encoding="utf-8"))
        self.refused("search", brief, "--out", "study", says="a reference is a layout")
        for p in (self.folder / "shed").iterdir():
            p.unlink()
        self.refused("search", brief, "--out", "study", says="holds no layout")
        (self.folder / "shed").rmdir()
        self.refused("search", brief, "--out", "study", says="references.folder")


class Curves(Case):
    def test_header_rows_and_digits(self):
        self.assertGreaterEqual(len(LAYOUTS), 3)
        with_spring = 0
        for layout in LAYOUTS:
            source = layout.read_text()
            cogs = re.search(r"gears: \[(.*)\]", source).group(1).split(", ")
            rings = re.search(r"chainrings?: \[?([\d, ]+)", source).group(1).split(", ")
            gears = [f"{ring}x{cog}" for ring in rings for cog in cogs]
            header = PLAIN + [f"{c}[{g}]" for g in gears for c in ("chain_growth_mm", "kickback_deg", "anti_squat_pct")]
            if "spring:" in source:
                header += SPRING
                with_spring += 1
            stroke = float(re.search(r"stroke: ([\d.]+)", source).group(1))
            for stations in (None, 2, 17):
                flags = [] if stations is None else ["--stations", stations]
                rows = rows_of(self.run_it("curves", layout, *flags).stdout)
                self.assertEqual(rows[0], header, layout)
                self.assertEqual(len(rows) - 1, stations or 41)
                self.assertTrue(all(len(row) == len(header) for row in rows))
                numbers = [[float(cell) for cell in row] for row in rows[1:]]
                self.assertTrue(all(math.isfinite(x) for row in numbers for x in row))
                for i, row in enumerate(numbers):
                    self.assertAlmostEqual(row[0], stroke * i / (len(numbers) - 1), delta=1e-12)
                self.assertEqual(numbers[0][0:2] + [numbers[0][6]], [0.0, 0.0, 0.0])
                self.assertEqual(numbers[-1][0], stroke)
                # At a place without round numbers every curve has at least 9 significant digits.
                if stations is None:
                    for name, cell in list(zip(header, rows[18]))[1:]:
                        digits = re.sub(r"e.*", "", cell).replace("-", "").replace(".", "").lstrip("0")
                        steady = name == "cg_height_mm" and "follows: ground" in source
                        if not steady and name != "shock_force_n":  # rate × compression is short by itself
                            self.assertGreaterEqual(len(digits), 9, f"{layout.name} {name} {cell}")
        self.assertGreaterEqual(with_spring, 1)

    def test_against_the_law_of_cosines(self):
        pivot, axle, eye, mount, stroke = (10, 80), (-435, 20), (-60, 190), (140, 230), 55.0
        length = math.dist(eye, mount)
        (self.folder / "bike.yaml").write_text(SINGLE_PIVOT.format(
            pivot=pivot, axle=axle, eye=eye, mount=mount, length=f"{length:.4f}", stroke=stroke))
        rows = rows_of(self.run_it("curves", "bike.yaml").stdout)
        arm, base, reach = math.dist(pivot, eye), math.dist(pivot, mount), math.dist(pivot, axle)
        level = math.atan2(axle[1] - pivot[1], axle[0] - pivot[0])

        def opening(c):
            return math.acos((arm**2 + base**2 - (length - c)**2) / (2 * arm * base))

        for row in rows[1:]:
            c = float(row[0])
            angle = level + opening(c) - opening(0)
            leverage = reach * math.cos(angle) * -(length - c) / (arm * base * math.sin(opening(c)))
            found = {name: float(cell) for name, cell in zip(rows[0], row)}
            self.assertAlmostEqual(found["travel_mm"], reach * (math.sin(angle) - math.sin(level)), delta=1e-9)
            self.assertAlmostEqual(found["axle_x_mm"], pivot[0] + reach * math.cos(angle), delta=1e-9)
            self.assertAlmostEqual(found["leverage"], leverage, delta=1e-9)
            self.assertAlmostEqual(found["ic_x_mm"], pivot[0], delta=1e-7)
            self.assertAlmostEqual(found["ic_y_mm"], pivot[1], delta=1e-7)

    def test_csv_file_is_what_is_printed(self):
        printed = subprocess.run([PROGRAM, "curves", str(LAYOUTS[0]), "--stations", "9"], capture_output=True).stdout
        done = self.run_it("curves", LAYOUTS[0], "--stations", 9, "--csv", "out.csv")
        self.assertEqual(done.stdout, "")
        self.assertEqual((self.folder / "out.csv").read_bytes(), printed)
        self.assertEqual(printed.count(b"\r\n"), 10)  # RFC 4180

    def test_output_that_cannot_be_written_is_no_success(self):
        with open("/dev/full", "w") as full:
            done = subprocess.run([PROGRAM, "curves", str(LAYOUTS[0])], stdout=full, stderr=subprocess.PIPE, text=True)
        self.assertEqual(done.returncode, 1)
        self.assertIn("cannot be written", done.stderr)
        self.run_it("curves", LAYOUTS[0], "--csv", "no/such/folder.csv", expect=1)

    def test_dead_point(self):
        # The eye's arm (150) and the frame's side (300) of the triangle lie in line after 20° of turn.
        pivot, axle = (10.0, 70.0), (-437.0, 30.0)
        at = lambda r, degrees: (round(pivot[0] + r * math.cos(math.radians(degrees)), 4),
                                 round(pivot[1] + r * math.sin(math.radians(degrees)), 4))
        eye, mount = at(150, 120), at(300, 100)
        (self.folder / "dead.yaml").write_text(SINGLE_PIVOT.format(
            pivot=pivot, axle=axle, eye=eye, mount=mount, length=round(math.dist(eye, mount), 4), stroke=40))
        done = self.refused("curves", "dead.yaml", "--csv", "out.csv", says=["dead.yaml", "dead point at eye"])
        travel = float(re.search(r"at ([\d.]+) mm of wheel travel", done.stderr).group(1))
        x, y, turn = axle[0] - pivot[0], axle[1] - pivot[1], math.radians(-20)
        in_line = x * math.sin(turn) + y * math.cos(turn) - y
        self.assertAlmostEqual(travel, in_line, delta=3.0)  # it is called dead within 0.6° of it
        self.assertLess(travel, in_line)
        self.refused("compare", "dead.yaml", LAYOUTS[0], "--out", "page", says="dead point at eye")
        self.refused("check", "dead.yaml", says="dead point at eye")


class Check(Case):
    def test_layouts_and_brief(self):
        for layout in LAYOUTS:
            text = self.run_it("check", layout).stdout
            self.assertIn("mm of wheel travel", text)
            self.assertNotIn("search:", text)
        text = self.run_it("check", TRAIL).stdout
        self.assertIn("11 variables", text)
        for name in ["main.x", "eye.angle", "climbing", "braking"]:
            self.assertIn(name, text)
        self.assertEqual(list(self.folder.iterdir()), [])

    def test_each_of_several_linkages(self):
        text = self.run_it("check", SOURCE / "configs" / "which-linkage-150.yaml").stdout
        told = {name: (int(variables), float(travel)) for name, variables, travel in
                re.findall(r"^  (\w+): (\d+) variables\n  every range in its middle: ([\d.]+) mm of wheel travel", text, re.M)}
        files = {file.stem: file.read_text() for file in (SOURCE / "configs" / "linkages").glob("*.yaml")}
        self.assertEqual(set(told), set(files))
        for name, (variables, travel) in told.items():
            points = re.search(r"^points:\n((?:  .*\n)+)", files[name], re.M).group(1)
            self.assertEqual(variables, len(re.findall(r"\b(?:x|y|length|angle): \[", points)), name)
            self.assertTrue(125 < travel < 175, name)  # the brief asks for 150 mm

    PIVOT = dict(pivot=(10, 70), axle=(-437, 30), eye=(-50, 232), mount=(176.5, 271.9), length=230, stroke=57.5)

    def turned(self, degrees):
        """A level single pivot, the whole drawing turned about the bottom bracket, counter-clockwise = front up."""
        c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
        turn = lambda p: (round(c * p[0] - s * p[1], 4), round(s * p[0] + c * p[1], 4))
        text = SINGLE_PIVOT.format(**{k: turn(v) if isinstance(v, tuple) else v for k, v in self.PIVOT.items()})
        front = turn((806, 30))
        return text.replace("axle: [806, 30]", f"axle: [{front[0]}, {front[1]}]").replace(
            "head_angle: 64.8", f"head_angle: {round(64.8 - degrees, 4)}")

    def said(self, *arguments, expect=0):
        """What `check` prints: no line is longer than a hundred letters; lines folded together again."""
        text = self.run_it("check", *arguments, expect=expect).stdout
        for line in text.splitlines():
            self.assertLessEqual(len(line), 100, line)
        return " ".join(text.split())

    def test_level(self):
        bike = self.folder / "bike.yaml"
        for degrees in (0, -1.8, 0.6):
            bike.write_text(self.turned(degrees))
            text = self.said(bike)
            if degrees == 0:
                self.assertIn("level as drawn: the front tyre stands 0.0 mm above the rear one", text)
                self.assertNotIn("NOT LEVEL", text)
                continue
            self.assertIn(f"drawn {abs(degrees):.2f}° front {'down' if degrees < 0 else 'up'}", text)
            self.assertIn(f"every point by {-degrees:.2f}° about the bottom bracket and the head angle to 64.80°", text)
            off = 1243 * math.sin(math.radians(degrees))
            self.assertIn(f"stands {abs(off):.1f} mm {'below' if off < 0 else 'above'} the rear one", text)
            # On the ground it is the bike that it is without the turn.
            self.assertRegex(text, r"drawn layout topped out 64\.80 1243\.0 438\.0 341\.0")
            # What is said of the front axle makes it level.
            said = re.search(r"the front axle [\d.]+ mm (?:higher|lower) \(y (-?[\d.]+)\)", text)[1]
            level = re.sub(r"front: \{ axle: \[(-?[\d.]+), -?[\d.]+\]", rf"front: {{ axle: [\1, {said}]", bike.read_text())
            self.assertNotEqual(level, bike.read_text())
            bike.write_text(level)
            self.assertNotIn("NOT LEVEL", self.said(bike))

    def test_levels_of_sizes(self):
        bike = self.folder / "bike.yaml"
        bike.write_text(self.turned(0) + "settings: [ { name: high }, { name: low, move: { axle: [0, 12] } } ]\n"
                        "sizes: [ { name: M }, { name: L, front: { axle: [830, 44] } } ]\n")
        text = self.said(bike)
        self.assertIn("level as drawn, M: the front tyre", text)
        self.assertIn("NOT LEVEL as drawn, L: the front tyre stands 14.0 mm above", text)
        self.assertEqual(text.count("LEVEL as drawn"), 1)  # a setting may pitch the bike
        for case in ("high-M", "high-L", "low-M", "low-L"):
            self.assertRegex(text, rf"{case} topped out [\d. ]+ at sag [\d. ]+")

    def test_facing_left(self):
        bike = self.folder / "bike.yaml"
        flipped = {k: (-v[0], v[1]) if isinstance(v, tuple) else v for k, v in self.PIVOT.items()}
        bike.write_text(SINGLE_PIVOT.format(**flipped))
        text = self.said(bike)
        self.assertIn("FACES LEFT as drawn: the rear axle lies 437.0 mm ahead of the bottom bracket", text)
        self.assertIn("TYRES OVERLAP as drawn: by 373.0 mm", text)  # 742 less 806 − 437
        bike.write_text(bike.read_text().replace("axle: [806, 30]", "axle: [-806, 30]"))
        self.refused("check", bike, says="bikes are drawn facing right")

    def test_head_angle_that_leans_the_wrong_way(self):
        bike = self.folder / "bike.yaml"
        bike.write_text(self.turned(0).replace("axle: [806.0, 30.0]", "axle: [806, 30], reach: 470, stack: 630"))
        self.assertIn("reach stack", self.said(bike))
        self.assertNotIn("FORK DOES NOT FIT", self.said(bike))
        bike.write_text(bike.read_text().replace("reach: 470", "reach: 990"))
        self.assertIn("FORK DOES NOT FIT as drawn: the axle lies", self.said(bike))

    def test_a_brief_is_judged_as_drawn(self):
        text = self.run_it("check", TRAIL).stdout
        curves = rows_of(self.run_it("curves", TRAIL, "--stations", 401).stdout)
        column = lambda name: [float(row[curves[0].index(name)]) for row in curves[1:]]
        travel, squat = column("travel_mm"), column("anti_squat_pct[32x50]")
        found = re.search(r"([✓✗]) travel +([\d.]+) mm +148 to 152 mm +(-?[\d.]+) +at ([\d.]+) mm$", text, re.MULTILINE)
        self.assertAlmostEqual(float(found[2]), travel[-1], delta=0.051)
        self.assertAlmostEqual(float(found[3]), 1 - abs(travel[-1] - 150) / 2, delta=0.03)  # 1 in the middle of a band
        self.assertEqual(found[1], "✓" if 148 <= travel[-1] <= 152 else "✗")
        at_sag = next(i for i, z in enumerate(travel) if z >= 0.3 * travel[-1])
        found = re.search(r"([✓✗]) climbing +([\d.]+) % +96 to 108 %", text)
        self.assertAlmostEqual(float(found[2]), squat[at_sag], delta=0.3)
        for rule in ("least transmission angle", "least pivot distance", "shock eye to eye"):
            self.assertRegex(text, rf"[✓✗] {rule}, .+ +[\d.]+")
        self.assertRegex(" ".join(text.split()), r"the drawn layout meets \d+ of \d+ requirements, the least margin of which is -[\d.]+; that of the preferences is -[\d.]+")
        one = self.said(TRAIL)
        self.assertRegex(one, r"moved most by travel [\d.]+ mm [a-z]+\.[a-z]+ [+-][\d.]+, ")
        self.assertIn("stay hardly moves 'axle path at the end'", one)
        self.assertRegex(one, r"main\.x -25 to 20 mm drawn -8\.00")

    def test_a_point_drawn_outside_of_its_range(self):
        brief = self.folder / "brief.yaml"
        brief.write_text(TRAIL.read_text().replace("main: { x: [-25, 20]", "main: { x: [-5, 20]"))
        self.assertIn("note: main.x is drawn at -8.00, outside of its range -5 to 20 mm", self.said(brief))

    def test_a_brief_whose_drawing_does_not_move(self):
        brief = self.folder / "brief.yaml"
        brief.write_text(TRAIL.read_text().replace("stroke: 57.5", "stroke: 62"))
        text = self.said(brief)
        self.assertRegex(text, r"DOES NOT MOVE through its stroke as drawn: .* at [\d.]+ mm of (wheel )?travel")
        self.assertIn("head angle wheelbase chainstay BB height", text)
        self.assertIn("climbing required 96 to 108 %, at sag", text)
        self.assertNotIn("moved most by", text)

    def test_all_that_ships_fits_a_terminal(self):
        for file in sorted((SOURCE / "configs").glob("*.yaml")) + LAYOUTS:
            text = self.said(file)
            self.assertIn("level as drawn", text, file)
            self.assertNotIn("NOT LEVEL", text, file)

    def test_guidance_speaks_of_what_is_unusual_for_the_kind(self):
        bike = self.folder / "bike.yaml"
        plain = SINGLE_PIVOT.format(**self.PIVOT)
        bike.write_text(plain)
        self.assertNotIn("Wheel travel is", self.said(bike))  # said of kinds only
        travel = float(re.search(r"([\d.]+) mm of wheel travel", self.said(bike))[1])
        self.assertLess(travel, 180.0)
        bike.write_text(plain.replace("bike:\n", "bike:\n  kind: downhill\n", 1))
        found = re.search(r"guidance: Wheel travel is ([\d.]+) mm; usual is 180 to 220 mm\. Less travel than is usual", self.said(bike))
        self.assertAlmostEqual(float(found[1]), travel, delta=0.06)  # printed with one decimal and four digits

    def test_guidance_names_the_cases_where_they_differ(self):
        bike = self.folder / "bike.yaml"
        bike.write_text(SINGLE_PIVOT.format(**self.PIVOT).replace("bike:\n", "bike:\n  kind: downhill\n", 1) +
                        "settings: [ { name: long }, { name: short, shock: { length: 230, stroke: 45 } } ]\n")
        text = self.said(bike)
        travels = [float(x) for x in re.findall(r"([\d.]+) mm of wheel travel", text)]
        self.assertEqual(len(travels), 2)
        found = re.findall(r"guidance: Wheel travel is ([\d.]+) to ([\d.]+) mm; usual is 180 to 220 mm\. Less travel", text)
        self.assertEqual(len(found), 1)  # said once of both
        for printed, travel in zip(found[0], sorted(travels)):
            self.assertAlmostEqual(float(printed), travel, delta=0.06)
        bike.write_text(bike.read_text().replace("kind: downhill", "kind: cross_country"))
        text = self.said(bike)
        self.assertRegex(text, r"guidance: Wheel travel is [\d.]+ mm in long; usual is 80 to 130 mm\. More")

    def test_gradient(self):
        text = self.said(TRAIL, "--gradient", 20)
        found = re.search(r"gradient: (\d+) entries at 20 layouts; the worst is off by (\S+) of", text)
        self.assertEqual(found[1], str(20 * 11))
        self.assertLess(float(found[2]), 1e-5)
        self.refused("check", LAYOUTS[0], "--gradient", 5, says="varies nothing")

    def test_all_errors_at_once(self):
        text = TRAIL.read_text()
        for old, new in [("chainring: 32", "chainrng: 32"), ("curve: kickback", "curve: kickbak"),
                         ("head_angle: 64.8", "head_angle: 164.8"), ("stay: { x: [-405, -365]", "stay: { x: [-365, -405]")]:
            self.assertEqual(text.count(old), 1)
            text = text.replace(old, new)
        (self.folder / "bad.yaml").write_text(text)
        for verb in ("check", "curves", "search"):
            done = self.refused(verb, "bad.yaml", says=["chainring", "kickback", "164.8", "-405"])
            lines = done.stderr.splitlines()
            self.assertGreaterEqual(len(lines), 4)
            places = [re.match(r"bad\.yaml:(\d+):(\d+): ", line) for line in lines]
            self.assertTrue(all(places), done.stderr)
            numbers = [(int(p.group(1)), int(p.group(2))) for p in places]
            self.assertEqual(numbers, sorted(numbers))

    def test_hostile_files(self):
        for name, data in {"empty.yaml": b"", "binary.yaml": bytes(range(256)) * 40, "list.yaml": b"[1, 2, 3]\n",
                           "loop.yaml": b"a: &a [*a]\n", "open.yaml": b"trammel: {\n"}.items():
            (self.folder / name).write_bytes(data)
            for verb in ("check", "curves", "search"):
                self.refused(verb, name, says=name)


class Refusals(Case):
    def test_command_line(self):
        for arguments, says in [
            ([], "required"), (["steer"], "'steer'"), (["search"], "brief"), (["curves"], "layout"),
            (["search", TRAIL, "--fast"], "--fast"),
            (["curves", LAYOUTS[0], "--stations", 1], "--stations"), (["curves", LAYOUTS[0], "--stations", "x"], "--stations"),
            (["compare", LAYOUTS[0], "--out", "page"], "layouts"), (["compare", *LAYOUTS[:3]], "--out"),
            (["gather", "--out", "all"], "folders"),
        ]:
            self.refused(*arguments, says=says)

    def test_values(self):
        for flag, values in {
            "--units": ["0", "-3", "abc", "1.5", "1e3", "99999999999999999999", ""],
            "--threads": ["0", "-1", "two", "5000", "99999999999"],
            "--time": ["", "0", "-5", "5x", "h", "1h-3m", "nan", "inf", "1e400"],
            "--slice": ["", "3", "0/3", "4/3", "1/0", "-1/3", "a/b", "1/3x", "1/3/5"],
            "--seed": ["-1", "1.5", "x", "99999999999999999999999"],
        }.items():
            for value in values:
                self.refused("search", TRAIL, "--out", "new", f"{flag}={value}", says=flag)
        self.refused("search", TRAIL, "--out", "new", says="TRAMMEL_THREADS", env={"TRAMMEL_THREADS": "lots"})

    def test_paths(self):
        (self.folder / "file").write_text("")
        (self.folder / "folder").mkdir()
        for verb in ("search", "curves", "check"):
            self.refused(verb, "missing.yaml", says="missing.yaml")
            self.refused(verb, "folder", says="folder")
        for verb in ("resume", "report", "digest"):
            self.refused(verb, "missing", says="no study in missing")
            self.refused(verb, "folder", says="no study in folder")
        self.refused("gather", "folder", "--out", "all", says="no study in folder")
        for out in ("file", "file/below"):
            self.refused("search", TRAIL, "--units", 1, "--out", out, says="--out")
            self.refused("compare", LAYOUTS[0], LAYOUTS[1], "--out", out, says="--out")
        self.refused("search", LAYOUTS[0], "--out", "new", says="nothing to search")
        (self.folder / "folder" / "trammel.study").write_text("not a study")
        for verb in ("resume", "report", "digest"):
            done = self.run_it(verb, "folder", expect=1)
            self.assertIn("trammel.study", done.stderr)
            self.assertEqual((self.folder / "folder" / "trammel.study").read_text(), "not a study")


class Search(Case):
    def test_files_and_streams(self):
        done = self.run_it("search", TRAIL, "--units", 2, "--out", "study")
        study = self.folder / "study"
        self.assertIn("study/index.html", done.stdout)
        self.assertNotIn("layouts screened", done.stdout)
        self.assertIn("2 units", done.stderr)
        self.assertNotIn("index.html", done.stderr)
        for name in ["trammel.study", "index.html", "shortlist.csv", "run.log"]:
            self.assertGreater((study / name).stat().st_size, 0, name)
        rows = rows_of((study / "shortlist.csv").read_bytes().decode())
        header = rows[0]
        self.assertEqual(header[:5], ["rank", "id", "score", "margin", "musts_met"])
        targets = re.findall(r"- \{ name: ([^,]+),", TRAIL.read_text())
        self.assertEqual([re.sub(r" \[.*", "", h) for h in header[5:5 + len(targets)]], targets)
        # Then what is sound by default.
        rest = [h for h in header[5 + len(targets):] if not h.startswith("sound: ")]
        self.assertEqual(len(header) - 5 - len(targets) - len(rest), 7)
        self.assertEqual([re.sub(r" \[.*", "", h) for h in rest],
                         ["main.x", "main.y", "stay.x", "stay.y", "tail.x", "tail.y", "rocker.x", "rocker.y",
                          "eye.length", "eye.angle", "mount.angle", "must_margin", "wish_margin", "remarks", "summary"])
        self.assertEqual([row[0] for row in rows[1:]], [str(i) for i in range(1, len(rows))])
        self.assertTrue(2 <= len(rows) <= 9)
        for i, row in enumerate(rows[1:], 1):
            self.assertEqual(len(row), len(header))
            values = dict(zip(header, row))
            # The musts hold in the printed numbers.
            self.assertTrue(148 <= float(values["travel [mm]"]) <= 152)
            self.assertTrue(96 <= float(values["climbing [%]"]) <= 108)
            self.assertTrue(40 <= float(values["braking [%]"]) <= 70)
            self.assertTrue(-25 <= float(values["main.x [mm]"]) <= 20)
            folder = study / "layouts" / f"{i:02}"
            for name in ["layout.yaml", "curves.csv", "pivots.csv", "index.html", "drawing.svg", "drawing_mm.dxf"]:
                self.assertGreater((folder / name).stat().st_size, 0, name)
        self.assertEqual(len(list((study / "layouts").iterdir())), len(rows) - 1)

        # A shortlisted layout by itself: the same curves at the same 101 stations, to the last digit.
        reported = rows_of((study / "layouts" / "01" / "curves.csv").read_bytes().decode())
        again = rows_of(self.run_it("curves", study / "layouts" / "01" / "layout.yaml", "--stations", 101).stdout)
        self.assertEqual(len(reported), 102)
        for name in again[0]:
            column = reported[0].index(name), again[0].index(name)
            self.assertEqual([row[column[0]] for row in reported], [row[column[1]] for row in again], name)
        self.assertEqual(float(rows[1][header.index("travel [mm]")]), float(again[-1][1]))
        self.run_it("check", study / "layouts" / "01" / "layout.yaml")

        # Nothing is overwritten.
        before = state_of(study)
        done = self.run_it("search", TRAIL, "--units", 2, "--out", "study", expect=2)
        self.assertIn("a study is there already in study", done.stderr)
        self.run_it("compare", LAYOUTS[0], LAYOUTS[1], "--out", "study", expect=2)
        self.run_it("gather", "study", "--out", "study", expect=2)
        self.assertEqual(state_of(study), before)

        # Reports are written again as they were.
        expected = files_of(study)
        (study / "shortlist.csv").unlink()
        (study / "index.html").write_text("gone")
        (study / "layouts" / "01" / "layout.yaml").unlink()
        self.run_it("report", "study")
        self.assertEqual(files_of(study), expected)

        # Nothing is left to do.
        self.run_it("resume", "study")
        self.assertEqual(files_of(study), expected)

    def test_threads_do_not_matter(self):
        (self.folder / "one").mkdir()
        (self.folder / "two").mkdir()
        one = self.search("one/study", "--units", 4, "--threads", 1)
        two = self.search("two/study", "--units", 4, "--threads", 2)
        self.assertEqual(self.digest(one), self.digest(two))
        self.assertEqual((one / "shortlist.csv").read_bytes(), (two / "shortlist.csv").read_bytes())
        self.assertEqual(files_of(one), files_of(two))
        other = self.search("other", "--units", 4, "--seed", 7)
        self.assertNotEqual(self.digest(one), self.digest(other))

    def test_instruction_sets_do_not_matter(self):
        digests = set()
        for name in ("baseline", "avx2", "avx512"):
            flags = pathlib.Path("/proc/cpuinfo").read_text()
            if name != "baseline" and (name if name == "avx2" else "avx512dq") not in flags:
                continue
            study = self.search(name, "--units", 2, "--instructions", name)
            log = (study / "run.log").read_text()
            self.assertIn(f"instruction set {name}", log)
            self.assertNotIn("the system grants", log)  # every thread that was asked for works
            digests.add(self.digest(study))
        self.assertEqual(len(digests), 1)
        self.refused("search", TRAIL, "--out", "none", "--instructions", "fastest", says="baseline")

    def test_slices(self):
        whole = self.search("whole", "--units", 5)
        for i in (1, 2, 3):
            self.search(f"part{i}", "--units", 5, "--slice", f"{i}/3")
        self.run_it("gather", "part3", "part1", "part2", "--out", "all")
        self.assertEqual(self.digest("all"), self.digest("whole"))
        self.assertEqual((self.folder / "all" / "shortlist.csv").read_bytes(), (whole / "shortlist.csv").read_bytes())
        # A slice that comes twice is harmless; one that is missing is named, and can be run in the joined study.
        done = self.run_it("gather", "part1", "part1", "part3", "--out", "most", expect=4)
        self.assertIn("2 of 5 units are still missing", done.stderr)
        self.run_it("resume", "most")
        self.assertEqual(self.digest("most"), self.digest("whole"))
        self.search("stranger", "--units", 1, "--seed", 3)
        self.refused("gather", "part1", "stranger", "--out", "mixed", says=["stranger", "seed"])

    def test_default_folder(self):
        for number in (1, 2):
            self.run_it("search", TRAIL, "--units", 1)
            self.assertTrue((self.folder / "results" / f"trail-150-{number}" / "index.html").exists())

    def test_impossible_brief(self):
        text = TRAIL.read_text()
        must = "curve: travel, at: bottomed, band: [148, 152], must: true"
        self.assertEqual(text.count(must), 1)
        (self.folder / "never.yaml").write_text(text.replace(must, "curve: travel, at: bottomed, ceiling: 0, must: true"))
        study = self.search("study", "--units", 2, brief="never.yaml", expect=3)
        rows = rows_of((study / "shortlist.csv").read_bytes().decode())
        self.assertGreater(len(rows), 1)
        musts = [int(row[rows[0].index("musts_met")]) for row in rows[1:]]
        met = int(rows_of(self.search("fine", "--units", 1).joinpath("shortlist.csv").read_text())[1][4])
        self.assertTrue(all(m < met for m in musts))
        self.assertTrue((study / "index.html").exists())
        self.run_it("report", "study", expect=3)

    def test_clock(self):
        done = self.run_it("search", TRAIL, "--units", 100000, "--time", "0.5s", "--out", "plan", expect=4)
        self.assertIn("trammel resume plan", done.stderr)
        self.assertTrue((self.folder / "plan" / "index.html").exists())
        self.run_it("search", TRAIL, "--time", "0.5", "--out", "clock")
        self.refused("resume", "clock", says=["--units", "--time"])
        self.run_it("resume", "clock", "--units", committed(self.folder / "clock") + 1)


class Compare(Case):
    def test_page(self):
        done = self.run_it("compare", *LAYOUTS, "--out", "page")
        self.assertIn("page/index.html", done.stdout)
        text = (self.folder / "page" / "index.html").read_text()
        for layout in LAYOUTS:
            self.assertIn(re.search(r"title: (.*)", layout.read_text()).group(1), text)


class Interruption(Case):
    def as_if_never_stopped(self, name):
        """Runs two units more, and holds the study against one of as many units that ran straight through."""
        units = committed(self.folder / name) + 2
        self.run_it("resume", name, "--units", units)
        self.assertEqual(committed(self.folder / name), units)
        (self.folder / "straight").mkdir()
        straight = self.search(f"straight/{name}", "--units", units)
        self.assertEqual(self.digest(name), self.digest(straight))
        self.assertEqual(files_of(self.folder / name), files_of(straight))

    def test_ctrl_c(self):
        running = self.begin("study")
        # Meanwhile nobody else can write, and the digest can be read.
        taken = self.run_it("resume", "study", expect=1)
        self.assertIn("study", taken.stderr)
        self.digest("study")
        running.send_signal(signal.SIGINT)
        out, err = running.communicate(timeout=60)
        self.assertEqual(running.returncode, 4, err)
        self.assertIn("trammel resume study", err)
        self.assertTrue((self.folder / "study" / "index.html").exists(), out)
        # A plan that is already through is done at once.
        before = committed(self.folder / "study")
        self.run_it("resume", "study", "--units", 2)
        self.assertEqual(committed(self.folder / "study"), before)
        self.as_if_never_stopped("study")

    def test_ctrl_c_twice(self):
        running = self.begin("study")
        running.send_signal(signal.SIGINT)
        time.sleep(0.001)
        running.send_signal(signal.SIGINT)
        running.communicate(timeout=60)
        self.assertEqual(running.returncode, 4)
        self.as_if_never_stopped("study")

    def test_kill(self):
        running = self.begin("study")
        running.kill()
        running.communicate(timeout=60)
        self.assertEqual(running.returncode, -signal.SIGKILL)
        self.assertGreaterEqual(committed(self.folder / "study"), 2)
        self.as_if_never_stopped("study")


if __name__ == "__main__":
    unittest.main(verbosity=2)
