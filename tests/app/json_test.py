"""What every verb answers with --json, held against docs/output.schema.json by jsonschema, a validator from outside the
project, and against the same verb's words and CSV. Usage: json_test.py PATH_OF_trammel"""
import json
import os
import re
import subprocess
import unittest

import jsonschema

from program_case import LAYOUTS, PROGRAM, SOURCE, TRAIL, Case, environment, files_of, rows_of

SCHEMA = json.loads((SOURCE / "docs" / "output.schema.json").read_text(encoding="utf-8"))
VALIDATOR = jsonschema.Draft7Validator(SCHEMA)
WORKSHOP = next(p for p in LAYOUTS if p.stem == "workshop-trail")
IMPOSSIBLE = SOURCE / "configs" / "impossible-160.yaml"


def no_constant(name):
    raise ValueError(f"{name} is no JSON")


class Answers(Case):
    def document(self, *arguments, expect=0, digits=False):
        """The one document of a call, valid; with `digits` its numbers as they are written."""
        done = self.run_it(*arguments, "--json", expect=expect)
        self.assertEqual(done.stdout.count("\n"), 1, arguments)
        self.assertTrue(done.stdout.isascii() and done.stdout.strip().isprintable(), arguments)
        found = json.loads(done.stdout, parse_constant=no_constant)
        problems = [f"{list(e.absolute_path)}: {e.message[:300]}" for e in self.leaves(VALIDATOR.iter_errors(found))]
        self.assertEqual(problems, [], arguments)
        self.assertEqual(found["exit"], expect)
        return json.loads(done.stdout, parse_float=str, parse_int=str) if digits else found

    def leaves(self, errors):
        """Of an "any of" what is wrong with each, which says more than that none fits."""
        for error in errors:
            yield from (self.leaves(error.context) if error.context else [error])

    def test_every_verb_is_tried_here(self):
        text = self.run_it("completions", "bash").stdout
        verbs = re.findall(r"^      ([a-z]+)\) words=", text, re.MULTILINE)
        self.assertGreaterEqual(len(verbs), 13)
        known = SCHEMA["properties"]["command"]["enum"]
        self.assertEqual(sorted(verbs), sorted(k for k in known if k is not None))
        for verb in verbs:
            self.assertIn("--json", self.run_it(verb, "--help").stdout)
            self.assertIn(f'"{verb}"', "".join(p.read_text(encoding="utf-8") for p in [SOURCE / "tests/app/json_test.py"]))

    def test_texts(self):
        self.assertEqual(self.document("manual")["result"]["text"], self.run_it("manual").stdout)
        self.assertEqual(self.document("completions", "zsh")["result"]["text"], self.run_it("completions", "zsh").stdout)
        self.assertEqual(self.document("schema")["result"]["schema"], json.loads(self.run_it("schema").stdout))
        names = [one["name"] for one in self.document("linkages")["result"]["linkages"]]
        self.assertEqual(names, [line.split()[0] for line in self.run_it("linkages").stdout.splitlines()])
        self.assertEqual(self.document("linkages", names[0])["result"]["text"], self.run_it("linkages", names[0]).stdout)
        version = self.document("--version")["result"]
        self.assertEqual(self.run_it("--version").stdout.splitlines()[0], version["version"])
        self.assertIn("Usage:", self.run_it("check", "--help", "--json").stdout)

    def test_curves_have_the_digits_of_the_file(self):
        for layout in LAYOUTS:
            rows = rows_of(self.run_it("curves", layout, "--stations", 9).stdout)
            columns = self.document("curves", layout, "--stations", 9, digits=True)["result"]["columns"]
            self.assertEqual([c["name"] for c in columns], rows[0])
            for number, column in enumerate(columns):
                self.assertEqual([v or "" for v in column["values"]], [row[number] for row in rows[1:]], column["name"])
        found = self.document("curves", WORKSHOP, "--csv", "curves.csv")["result"]
        self.assertEqual(found["file"], "curves.csv")
        self.assertEqual(rows_of((self.folder / "curves.csv").read_text())[0], [c["name"] for c in found["columns"]])

    def test_draft(self):
        arguments = ["draft", "--kind", "trail"]
        said = self.run_it(*arguments)
        found = self.document(*arguments)["result"]
        self.assertEqual(found["text"], said.stdout)
        self.assertEqual("".join(line + "\n" for line in found["messages"]), said.stderr)
        found = self.document(*arguments, "--out", "mine.yaml")["result"]
        self.assertEqual(found["text"], (self.folder / "mine.yaml").read_text(encoding="utf-8"))
        found = self.document("draft", "--from", WORKSHOP, "--kind", "trail")["result"]
        self.assertTrue(any("lies in no study" in line for line in found["messages"]))

    def test_check_says_the_same_numbers(self):
        said = self.run_it("check", TRAIL).stdout
        found = self.document("check", TRAIL, "--gradient", 2)["result"]
        (only,) = found["layouts"]
        (case,) = only["cases"]
        self.assertIn(f"drawn layout: {case['travel_mm']:.1f} mm of wheel travel", said)
        self.assertIn(f"from {case['stroke_mm']:g} mm of shock stroke", said)
        at = case["topped_out"]
        self.assertRegex(said, rf"topped out +{at['head_angle_deg']:.2f} .*{at['bb_height_mm']:.1f}\n")
        judged = only["judged"]
        words = " ".join(said.split())
        self.assertIn(f"meets {judged['requirements_met']} of {judged['requirements']} requirements", words)
        self.assertIn(f"the least margin of which is {judged['required_margin']:.2f}", words)
        met = [t for t in judged["targets"] if t["required"]] + judged["rules"]
        self.assertEqual(sum(v["met"] for v in met), judged["requirements_met"])
        self.assertEqual(len(met), judged["requirements"])
        for target in judged["targets"]:
            line = re.search(rf"([✓✗]) {re.escape(target['name'])}(?: ×\S+)?  +(-?[\d.]+)\D.*", said)
            self.assertEqual(line[1] == "✓", target["met"], target)
            decimals = len(line[2].partition(".")[2])
            self.assertAlmostEqual(float(line[2]), target["achieved"], delta=0.501 * 10**-decimals)
        search = only["search"]
        self.assertIn(f"search: {len(search['variables'])} variables", said)
        for variable in search["variables"]:
            self.assertRegex(said, rf"{re.escape(variable['name'])} +{variable['least']:g} to {variable['greatest']:g} ")
            self.assertIn(f"drawn {variable['drawn']:.2f}", said)
        self.assertLess(search["gradient"]["worst_off"], search["gradient"]["tolerance"])
        for reach in search["influence"]:
            self.assertEqual(list(reach["effects"]), [v["name"] for v in search["variables"]])

    def test_prove_says_the_same_numbers(self):
        said = " ".join(self.run_it("prove", TRAIL, "--boxes", 300, "--threads", 1).stdout.split())
        found = self.document("prove", TRAIL, "--boxes", 300, "--threads", 2)["result"]
        (part,) = found["parts"]
        self.assertFalse(found["proven_empty"])
        self.assertLess(part["share_left"], 1.0)
        self.assertIn(f"{100 * part['share_left']:.4g} % of the ranges' volume may hold layouts", said)
        self.assertIn(f"({part['boxes']} boxes judged, {part['boxes_left']} left)", said)
        self.assertAlmostEqual(sum(one["share"] for one in part["dropped_for"]), 1.0 - part["share_left"], places=9)
        self.assertEqual(len(part["ranges_left"]), 11)

    def test_check_of_everything_that_ships(self):
        for file in [*LAYOUTS, *sorted((SOURCE / "configs").glob("*.yaml"))]:
            with self.subTest(file.name):
                code = subprocess.run([PROGRAM, "check", file], capture_output=True, env=environment()).returncode
                found = self.document("check", file, expect=code)["result"]
                self.assertTrue(all(one["search"] is None for one in found["layouts"]) == ("layouts" in file.parts))

    def test_a_study(self):
        found = self.document("search", TRAIL, "--units", 2, "--out", "one")["result"]
        self.assertEqual(files_of(self.search("two", "--units", 2)).keys(), files_of(self.folder / "one").keys())
        rows = rows_of((self.folder / "one" / "shortlist.csv").read_text(encoding="utf-8"))
        shortlist = [dict(zip(rows[0], row)) for row in rows[1:]]
        self.assertEqual(len(shortlist), found["shortlisted"])
        self.assertGreater(found["shortlisted"], 0)
        for row, layout in zip(shortlist, found["shortlist"]):
            self.assertEqual(row["id"], layout["id"])
            self.assertEqual(row["summary"], layout["summary"])
            for column, key in [("score", "score"), ("must_margin", "required_margin"), ("wish_margin", "preferred_margin")]:
                self.assertEqual(float(row[column]), layout[key])
            for target in layout["targets"]:
                name = f"{target['name']} [{target['unit']}]" if target["unit"] else target["name"]
                self.assertEqual(float(row[name]), target["achieved"])
            for varied in layout["varied"]:
                self.assertEqual(float(row[f"{varied['name']} [{varied['unit']}]"]), varied["value"])
            self.assertTrue((self.folder / layout["folder"] / "layout.yaml").exists())
        self.assertEqual(found["best"]["id"], found["shortlist"][0]["id"])
        self.assertEqual(found["digest"] + "\n", self.digest(self.folder / "one"))
        self.assertEqual(self.document("digest", "one")["result"]["digest"], found["digest"])
        again = self.document("report", "one")["result"]
        self.assertEqual(again["shortlist"], found["shortlist"])
        further = self.document("resume", "one", "--units", 3)["result"]
        self.assertEqual(further["units"], 3)

    def test_slices(self):
        for slice_ in ("1/2", "2/2"):
            self.document("search", TRAIL, "--units", 2, "--slice", slice_, "--out", slice_[0])
        whole = self.document("gather", "1", "2", "--out", "both")["result"]
        self.assertEqual((whole["units"], whole["exit"], whole["outcome"]), (2, 0, "done"))
        part = self.document("gather", "1", "--out", "half", expect=4)["result"]
        self.assertEqual((part["units"], part["exit"], part["outcome"]), (1, 4, "stopped"))

    def test_why_nothing_meets_every_requirement(self):
        said = self.search("said", "--units", 1, brief=IMPOSSIBLE, expect=3)
        done = self.run_it("report", said, expect=3).stdout
        found = self.document("search", IMPOSSIBLE, "--units", 1, "--out", "study", expect=3)["result"]
        self.assertEqual((found["outcome"], found["meet_every_requirement"]), ("nothing_meets", 0))
        self.assertIn(found["conflict"]["nearest"], done)
        self.assertTrue(found["conflict"]["sentences"])
        for sentence in found["conflict"]["sentences"]:
            self.assertIn(sentence["words"], done)
            if sentence["brief"]:
                self.assertTrue((self.folder / sentence["brief"]).exists())

    def test_a_command_at_the_end_does_not_mix_in(self):
        found = self.document("search", TRAIL, "--units", 1, "--out", "study", "--on-done", "echo mixed in")
        self.assertEqual(found["result"]["units"], 1)

    def test_compare(self):
        text = WORKSHOP.read_text(encoding="utf-8")
        x, y = re.search(r"rocker: \[(\S+), (\S+)\]\n", text).groups()
        (self.folder / "after.yaml").write_text(text.replace(f"rocker: [{x}, {y}]\n", f"rocker: [{float(x) + 2:g}, {y}]\n"))
        said = self.run_it("compare", WORKSHOP, "after.yaml").stdout
        found = self.document("compare", WORKSHOP, "after.yaml")["result"]
        moved = {p["name"]: p["b"]["x_mm"] - p["a"]["x_mm"] for p in found["points"]}
        self.assertEqual({n: d for n, d in moved.items() if d}, {"rocker": 2.0})
        leverage = next(c for c in found["curves"] if c["curve"] == "leverage")
        for value in leverage["values"]:
            self.assertRegex(said, rf"{value['place']} +{value['a']:.3f} +{value['b']:.3f} ")
        wished = self.document("compare", TRAIL, IMPOSSIBLE)["result"]
        self.assertTrue(wished["targets"] and wished["written"])
        self.assertFalse(self.document("compare", SOURCE / "configs/which-linkage-150.yaml", TRAIL)["result"]["points"])
        page = self.document("compare", *LAYOUTS[:3], "--out", "page")["result"]
        self.assertTrue((self.folder / page["page"]).exists())

    def test_picture(self):
        page = self.document("picture", "--out", "points")["result"]
        self.assertEqual(page, {"page": "points/index.html"})
        self.assertTrue((self.folder / page["page"]).exists())
        self.assertIsNone(self.document("picture", TRAIL, "--out", "more", expect=2)["result"])

    def test_refusals_have_places(self):
        brief = self.folder / "bad.yaml"
        brief.write_text(TRAIL.read_text(encoding="utf-8").replace("band: [96, 108]", "bnad: [96, 108]")
                         .replace("head_angle: ", "head_angel: "), encoding="utf-8")
        said = self.run_it("check", brief, expect=2).stderr.splitlines()
        found = self.document("check", brief, expect=2)
        self.assertIsNone(found["result"])
        self.assertGreaterEqual(len(found["problems"]), 2)
        for line, p in zip(said, found["problems"], strict=True):
            self.assertEqual(line, f"{p['file']}:{p['line']}:{p['column']}: {p['where']}: {p['message']}")
        for arguments in [("search", brief), ("curves", brief), ("compare", brief, TRAIL), ("draft", "--from", brief)]:
            self.assertEqual(self.document(*arguments, expect=2)["problems"], found["problems"], arguments)

    def test_refusals_of_the_command_line(self):
        for arguments, words in [(("chekc", TRAIL), "is no command"), (("check",), "required"), ((), "required"),
                                 (("check", TRAIL, "--gradeint", 3), "gradeint"), (("digest", "nowhere"), "no study in"),
                                 (("search", TRAIL, "--seed", "none"), "--seed")]:
            found = self.document(*arguments, expect=2)
            self.assertEqual(len(found["problems"]), 1)
            self.assertIn(words, found["problems"][0]["message"])
            self.assertIsNone(found["problems"][0]["line"])
        both = self.document("draft", "--kind", "tral", "--travel", "many", expect=2)["problems"]
        self.assertEqual([p["where"] for p in both], ["--kind", "--travel"])
        self.assertEqual(os.listdir(self.folder), [])

    def test_failures(self):
        (self.folder / "study").mkdir()
        (self.folder / "study" / "trammel.study").write_text("no database")
        found = self.document("digest", "study", expect=1)
        self.assertIn("trammel.study", found["problems"][0]["message"])

    def test_names_that_would_steer_a_terminal(self):
        text = re.sub(r"^title: .*$", 'title: "\\\\e[31m \\\\u202e ü"', TRAIL.read_text(encoding="utf-8"), flags=re.MULTILINE)
        (self.folder / "odd.yaml").write_text(text, encoding="utf-8")
        done = subprocess.run([PROGRAM, "check", "odd.yaml", "--json"], cwd=self.folder, capture_output=True, text=True)
        if done.returncode == 2:  # refused by the reader: then by place
            self.assertTrue(json.loads(done.stdout)["problems"][0]["line"])
        else:
            self.assertEqual(json.loads(done.stdout)["result"]["title"], "\x1b[31m \u202e ü")
        self.assertTrue(done.stdout.strip().isprintable() and done.stdout.isascii())


if __name__ == "__main__":
    unittest.main()
