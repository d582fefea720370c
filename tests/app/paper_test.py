"""`trammel report --pdf`: what it prints, on what paper, and what it does without a browser. Usage: paper_test.py PATH_OF_trammel"""
import os
import re
import unittest

from program_case import SOURCE, Case, files_of

A4, A3, A2 = (210, 297), (420, 297), (594, 420)  # mm, ISO 216


def sheets(pdf):
    """Width and height of each sheet, mm (ISO 32000-1, 7.7.3.3: MediaBox, in points of 1/72 in)."""
    boxes = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", pdf.read_bytes())
    return [tuple(float(x) * 25.4 / 72 for x in box) for box in boxes]


class Paper(Case):
    def small_study(self):
        """Two settings in three sizes, one layout."""
        text = (SOURCE / "configs/flip-chip-140.yaml").read_text(encoding="utf-8")
        brief = self.folder / "small.yaml"
        brief.write_text(re.sub(r"^search: \{", "search: { shortlist: 1,", text, flags=re.M), encoding="utf-8")
        return self.search("a #1? 50% ü", "--units", "2", brief=brief)

    def check_paper(self, pdf, *papers):
        self.assertGreater(len(sheets(pdf)), 0, pdf)
        for width, height in sheets(pdf):
            self.assertTrue(any(abs(width - w) < 0.5 and abs(height - h) < 0.5 for w, h in papers), (pdf, width, height))

    def with_path(self, name, script=None):
        """An environment in which programs are looked for in one folder alone, which has a browser of this text, or none."""
        place = self.folder / name
        place.mkdir()
        if script:
            (place / "chromium").write_text(script)
            (place / "chromium").chmod(0o755)
        return {"PATH": str(place)}

    def test_every_page_and_drawing_has_its_print_until_the_next_report(self):
        study = self.small_study()
        before = set(files_of(study))
        self.run_it("report", study, "--pdf")
        layout = study / "layouts/01"
        self.assertEqual(len(sheets(layout / "summary.pdf")), 1)
        self.assertGreater(len(sheets(layout / "index.pdf")), 2)
        drawings = sorted(layout.glob("workshop*.svg"))
        self.assertEqual(len(drawings), 6)
        for pdf in (study / "index.pdf", layout / "index.pdf", layout / "summary.pdf"):
            self.check_paper(pdf, A4)
        for drawing in drawings:
            self.assertEqual(len(sheets(drawing.with_suffix(".pdf"))), 1)
            self.check_paper(drawing.with_suffix(".pdf"), A3, A2)
        self.assertEqual(len(set(files_of(study)) - before), 3 + 6)
        self.run_it("report", study)
        self.assertEqual(set(files_of(study)), before)

    def test_without_a_browser_nothing_is_written(self):
        study = self.small_study()
        self.refused("report", study, "--pdf", says=["--pdf", "Chromium"], env=self.with_path("empty"))

    def test_a_browser_that_fails_or_prints_nothing_is_told_of(self):
        study = self.small_study()
        for name, script in (("fails", "#!/bin/sh\nexit 1\n"), ("idle", "#!/bin/sh\nexit 0\n")):
            done = self.run_it("report", study, "--pdf", expect=1, env=self.with_path(name, script))
            self.assertIn("has not printed it", done.stderr)
            self.assertEqual(list(study.rglob("*.pdf")), [])

    def test_nothing_is_written_through_a_link(self):
        study = self.small_study()
        outside = self.folder / "outside"
        outside.write_text("mine")
        os.symlink(outside, study / "index.pdf")
        self.run_it("report", study, "--pdf", expect=1, env=self.with_path("any", "#!/bin/sh\nexit 0\n"))
        self.assertEqual(outside.read_text(), "mine")


if __name__ == "__main__":
    unittest.main()
