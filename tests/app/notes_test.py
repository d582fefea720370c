"""Notes of a brief and of its targets: kept through search, report, draft and compare, computed with by nothing.
Usage: notes_test.py PATH_OF_trammel"""
import json
import re
import unittest

import yaml

from program_case import LAYOUTS, TRAIL, Case

LINES = "Fits the jig; ask the welder first.\nSecond line: <b>not bold</b> & \"quoted\", ünder \x1b[31m."
TARGET = "The last one squatted on the\nsteep bit."


class Notes(Case):
    def brief(self, name="noted.yaml", notes=LINES, target=TARGET):
        text = TRAIL.read_text(encoding="utf-8")
        found = re.search(r"^title: .*\n", text, re.MULTILINE)[0]
        text = text.replace(found, found + f"notes: {json.dumps(notes)}\n")
        self.assertIn("{ name: climbing, ", text)
        text = text.replace("{ name: climbing, ", f"{{ name: climbing, notes: {json.dumps(target)}, ")
        (self.folder / name).write_text(text, encoding="utf-8")
        return name

    def test_a_study_keeps_and_shows_them_and_finds_the_same(self):
        study = self.search("noted", "--units", 2, brief=self.brief())
        plain = self.search("plain", "--units", 2)
        self.assertEqual((study / "shortlist.csv").read_text(), (plain / "shortlist.csv").read_text())
        shown = "Second line: &lt;b&gt;not bold&lt;/b&gt; &amp; &quot;quoted&quot;, ünder "
        for page in ["index.html", "layouts/01/index.html", "layouts/01/summary.html"]:
            text = (study / page).read_text(encoding="utf-8")
            self.assertIn("Fits the jig; ask the welder first.", text, page)
            self.assertIn(shown, text, page)
            self.assertNotIn("<b>not bold", text, page)
            self.assertNotIn("\x1b", text, page)
            self.assertNotIn("Notes</h2>", (plain / page).read_text(encoding="utf-8"), page)
        for page in ["index.html", "layouts/01/index.html"]:
            self.assertIn("<b>climbing: </b>The last one squatted on the\nsteep bit.", (study / page).read_text(encoding="utf-8"))
        layout = yaml.safe_load((study / "layouts" / "01" / "layout.yaml").read_text(encoding="utf-8"))
        self.assertEqual(layout["notes"], LINES)
        found = json.loads(self.run_it("report", study, "--json").stdout)["result"]
        self.assertEqual(found["notes"], {"layout": LINES, "targets": {"climbing": TARGET}})

    def test_another_note_is_no_other_brief(self):
        study = self.search("noted", "--units", 1, brief=self.brief())
        self.run_it("resume", study, self.brief("later.yaml", "Something else."), "--units", 2)
        self.run_it("resume", study, TRAIL, "--units", 3)

    def test_going_on_carries_them(self):
        study = self.search("noted", "--units", 1, brief=self.brief())
        layout = study / "layouts" / "01" / "layout.yaml"
        drafted = yaml.safe_load(self.run_it("draft", "--from", layout).stdout)
        self.assertEqual(drafted["notes"], LINES)
        self.assertEqual(next(t for t in drafted["targets"] if t.get("name") == "climbing")["notes"], TARGET)
        layout.write_text(re.sub(r"^notes: .*$", "notes: Own words.", layout.read_text(encoding="utf-8"), flags=re.MULTILINE),
                          encoding="utf-8")
        self.assertEqual(yaml.safe_load(self.run_it("draft", "--from", layout).stdout)["notes"], "Own words.")

    def test_what_a_terminal_shows(self):
        said = self.run_it("check", self.brief()).stdout
        self.assertIn("  notes: Fits the jig; ask the welder first.\n    Second line: <b>not bold</b> & \"quoted\", ünder \\x1b[31m.\n",
                      said)
        self.assertIn("  note on climbing: The last one squatted on the\n    steep bit.\n", said)
        # A stranger's note does not stand where the program's own words do.
        said = self.run_it("check", self.brief("sly.yaml", "a\nsearch: 1 variables\n\n  drawn layout: 1 mm")).stdout
        self.assertEqual(len(re.findall(r"^  (?:search|drawn layout): ", said, re.MULTILINE)), 2)
        said = self.run_it("check", TRAIL).stdout
        self.assertNotRegex(said, r"notes? on|  notes:")

    def test_compare(self):
        a, b = self.brief("a.yaml", "Old.", "Same."), self.brief("b.yaml", "New.", "Same.")
        said = self.run_it("compare", a, b).stdout
        self.assertIn("  notes in A: Old.\n  notes in B: New.\n", said)
        self.assertIn("written: the same", said)
        self.assertIn("  note on climbing: Same.\n", said)
        found = json.loads(self.run_it("compare", a, b, "--json").stdout)["result"]
        self.assertEqual([found[side]["notes"]["layout"] for side in "ab"], ["Old.", "New."])
        self.run_it("compare", a, b, LAYOUTS[0], "--out", "page")
        page = (self.folder / "page" / "index.html").read_text(encoding="utf-8")
        self.assertIn("Old.</p>", page)
        self.assertIn("New.</p>", page)

    def test_lengths(self):
        self.run_it("check", self.brief("most.yaml", "ü" * 1000, "x" * 1000))
        for notes in ["x" * 1001, ""]:
            self.refused("check", self.brief("bad.yaml", notes), says=["bad.yaml:", ": notes: ", "text of 1 to 1000 characters"])
        (self.folder / "block.yaml").write_text(
            TRAIL.read_text(encoding="utf-8").replace("title: ", "notes: |\n  One.\n  Two.\n\ntitle: "), encoding="utf-8")
        self.assertIn("  notes: One.\n    Two.\n", self.run_it("check", "block.yaml").stdout)
        number = self.refused("check", self.brief("number.yaml", 12), says="put it in quotes")
        self.assertIn(": notes: ", number.stderr)


if __name__ == "__main__":
    unittest.main()
