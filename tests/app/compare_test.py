"""What changed between two files, by the built program. Usage: compare_test.py PATH_OF_trammel"""
import csv
import io
import re
import unittest

from program_case import SOURCE, TRAIL, Case

WORKSHOP = SOURCE / "configs" / "layouts" / "workshop-trail.yaml"


class Changes(Case):
    def revision(self, text, name, *changes):
        for old, new in changes:
            self.assertIn(old, text)
            text = text.replace(old, new)
        (self.folder / name).write_text(text)
        return name

    def row(self, text, *start):
        found = re.search(r"^\s*" + r"\s\s+".join(map(re.escape, start)) + r"\s\s+(.*)$", text, re.MULTILINE)
        self.assertTrue(found, (start, text))
        return re.split(r"\s\s+", found.group(1))

    def test_two_revisions_of_a_layout(self):
        before = WORKSHOP.read_text()
        x, y = re.search(r"rocker: \[(\S+), (\S+)\]\n", before).groups()
        after = self.revision(before, "after.yaml", (f"rocker: [{x}, {y}]\n", f"rocker: [{float(x) + 2:g}, {y}]\n"))
        said = self.run_it("compare", WORKSHOP, after, "--at", "60,120").stdout
        self.assertIn("written: the same", said)
        self.assertEqual(self.row(said, "rocker")[-3:], ["+2.000", "0", "2.000"])
        self.assertEqual(self.row(said, "main")[-3:], ["0", "0", "0"])
        self.assertIn("at 60.0 mm", said)
        # The numbers are those of the curves as printed; B less A.
        ends = []
        for file in [WORKSHOP, after]:
            rows = list(csv.DictReader(io.StringIO(self.run_it("curves", file).stdout, newline="")))
            ends.append(rows[-1])
        a, b = (float(end["travel_mm"]) for end in ends)
        bottomed = re.search(r"Wheel travel, mm.*\n\s+bottomed\s+(\S+)\s+(\S+)\s+(\S+)", said).groups()
        self.assertEqual(bottomed, (f"{a:.1f}", f"{b:.1f}", f"{b - a:+.1f}"))
        leverage = re.search(r"Leverage ratio(?:.*\n)+?\s+bottomed\s+(\S+)\s+(\S+)\s+(\S+)", said).groups()
        a, b = (float(end["leverage"]) for end in ends)
        self.assertEqual(leverage[:2], (f"{a:.3f}", f"{b:.3f}"))
        self.assertAlmostEqual(float(leverage[2]), b - a, delta=0.0011)

    def test_a_file_with_itself(self):
        said = self.run_it("compare", TRAIL, TRAIL).stdout
        self.assertIn("written: the same", said)
        self.assertIn("points, mm: all the same", said)
        for line in said.splitlines():
            self.assertNotRegex(line, r"[+-]\d[\d.]*$|only in")

    def test_two_briefs(self):
        after = self.revision(TRAIL.read_text(), "after.yaml", ("band: [96, 108]", "band: [90, 108]"),
                              ("    tail: [-140, 335]", "    tail: [-140, 333.5]"),
                              ("  - { name: braking, curve: anti_rise, at: sag, band: [40, 70], must: true }\n", ""))
        said = self.run_it("compare", TRAIL, after).stdout
        self.assertEqual(self.row(said, "targets[1].band"), ["[96, 108]", "[90, 108]"])
        self.assertEqual(self.row(said, "tail")[-3:], ["0", "-1.500", "1.500"])
        self.assertIn("96 to 108 % → 90 to 108 %", said)
        # A wish that only one has is judged of both.
        self.assertEqual(len(self.row(said, "braking", "required", "40 to 70 %")), 3)
        for line in said.splitlines():
            self.assertLessEqual(len(line), 130, line)

    def test_a_layout_of_a_study_is_judged_by_its_wishes(self):
        self.search("one", "--units", "2")
        layouts = sorted((self.folder / "one" / "layouts").glob("*/layout.yaml"))
        said = self.run_it("compare", layouts[0], layouts[1]).stdout
        self.assertIn("climbing", said)
        drawn = self.run_it("compare", TRAIL, layouts[0]).stdout
        self.assertIn("only A has: ", drawn)
        self.assertEqual(len(self.row(drawn, "climbing", "required", "96 to 108 %")), 3)

    def test_members_that_differ(self):
        said = self.run_it("compare", WORKSHOP, SOURCE / "configs" / "layouts" / "single-pivot.yaml").stdout
        self.assertIn("only in A", said)
        self.assertIn("linkage.members", said)

    def test_one_that_does_not_move(self):
        stuck = self.revision(TRAIL.read_text(), "stuck.yaml", ("main: [-8, 55]", "main: [-391, 21]"))
        said = self.run_it("compare", TRAIL, stuck).stdout
        self.assertIn("B reaches a dead point at stay", said)
        self.assertNotIn("Leverage ratio", said)

    def test_refused(self):
        self.refused("compare", TRAIL, says="two files")
        self.refused("compare", TRAIL, TRAIL, TRAIL, says="--out DIR")
        self.refused("compare", "none.yaml", "nor.yaml", says=["none.yaml", "nor.yaml"])
        self.refused("compare", TRAIL, TRAIL, "--at", "60", "--out", "page", says="--at")
        self.refused("compare", TRAIL, TRAIL, "--at", "sixty", says="--at")
        said = self.run_it("compare", SOURCE / "configs" / "which-linkage-150.yaml", TRAIL).stdout
        self.assertIn("names linkages draws none", said)


if __name__ == "__main__":
    unittest.main()
