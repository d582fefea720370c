"""Files that somebody else has made: study files that were changed, links and pipes where files should be, names that
aim at terminals, tables and folders. Usage: stranger_test.py PATH_OF_trammel"""
import os
import pathlib
import random
import re
import resource
import shutil
import sqlite3
import subprocess
import unittest

from program_case import LAYOUTS, PROGRAM, SOURCE, TRAIL, Case, environment, rows_of

# A small search: a single pivot, of which a unit takes some milliseconds.
BRIEF = """trammel: 1
title: A pivot to try
bike:
  wheels: { rear: { radius: 371 }, front: { radius: 371 } }
  front: { axle: [806, 30], head_angle: 64.8, travel: 160 }
  cg: { x: 20, height: 1120 }
linkage:
  points: { pivot: [10, 70], axle: [-437, 30], eye: [-50, 232], mount: [176.5, 271.9] }
  members: { frame: [pivot, mount], swingarm: [pivot, axle, eye] }
  axle: { point: axle, member: swingarm }
shock: { between: [mount, eye], length: 230, stroke: 57.5 }
sound: any
vary:
  pivot: { x: [-20, 40], y: [50, 90] }
targets:
  - { curve: travel, at: bottomed, floor: 90, must: true }
  - { curve: anti_rise, at: sag, band: [40, 90] }
search: { units: 3, samples: 64, refine: 2, evaluations: 30, shortlist: 2 }
"""


def contents(folder):
    """Every file with its bytes, every link with what it leads to."""
    def of(path):
        if path.is_symlink():
            return "→ " + os.readlink(path)
        return path.read_bytes() if path.is_file() else "folder" if path.is_dir() else "pipe"
    return {p.relative_to(folder).as_posix(): of(p) for p in sorted(folder.rglob("*"))
            if p.name not in ("trammel.study-wal", "trammel.study-shm")}


class StrangerCase(Case):
    def setUp(self):
        super().setUp()
        (self.folder / "brief.yaml").write_text(BRIEF)

    def study(self, name="study", *flags):
        return self.search(name, *flags, brief="brief.yaml")

    def run_raw(self, *arguments, timeout=60):
        return subprocess.run([PROGRAM, *map(str, arguments)], cwd=self.folder, capture_output=True, timeout=timeout,
                              env=environment(), stdin=subprocess.DEVNULL)


class Studies(StrangerCase):
    """Each verb that opens a study, on studies that were changed with an SQL tool or a hex editor."""
    ALTERED = {
        "delete from layout_design where unit = 1": "table layout_design, unit 1, place 0: 0 rows",
        "delete from layout_achieved where unit = 1": "table layout_achieved, unit 1, place 0: 0 rows",
        "update head set slices = 0": "table head: slices is 0",
        "update layout_design set value = 1e308 where unit = 1": "table layout_design, unit 1, place 0, variable 0",
        "update layout_design set value = 9e999 where unit = 1": "value is inf",
        "update layout set choice = 99 where unit = 1": "table layout, unit 1, place 0: choice is 99",
        "update unit set linkage = 99 where unit = 1": "table unit, unit 1: linkage is 99",
        "update layout set musts = -1 where unit = 1": "table layout, unit 1, place 0: musts is -1",
        "update unit set unit = 4000000000000 where unit = 1": "table unit, unit 4000000000000",
        "insert into failure values (1, 'invented', 99999)": "table failure, unit 1: count is 99999",
        "update head set brief_text = replace(brief_text, 'floor: 90', 'floor: 91')": "table head: brief_text is not the text",
        "update head set brief_hash = 'x'": "table head: brief_text is not the text",
        "update head set brief_text = 'trammel: 1'": "table head: brief_text is no brief",
        "update head set brief_text = ''": "table head: brief_text is no brief",
        # A brief that reads files of whoever opens the study.
        "update head set brief_file = '/etc/brief.yaml', brief_text = replace(brief_text, 'at: sag, band: [40, 90]',"
        " 'over: [0, 1], follow_file: passwd, tolerance: 5')": "the brief of a study names no file",
        "create view more as select 1": "its tables are not those of a study",
    }

    def refused_alike(self, study, says):
        """By every verb, with one message; and nothing has changed."""
        before = contents(self.folder)
        for verb in (["report", study], ["resume", study, "--units", 5], ["digest", study],
                     ["gather", study, "--out", "all"], ["gather", "other", study, "--out", "all"]):
            done = self.run_it(*verb, expect=1)
            self.assertIn(says, done.stderr, verb)
            self.assertIn(f"{study}/trammel.study: ", done.stderr)
            self.assertEqual(done.stdout, "", verb)
            # One message; where it says what is wrong with a brief, that stands below, each with its line and column.
            for line in done.stderr.splitlines()[1:]:
                self.assertRegex(line, r"^[^ :]+:\d+:\d+: ")
        self.assertEqual(contents(self.folder), before)

    def test_altered_rows(self):
        sound = self.study("sound")
        self.study("other")
        for number, (sql, says) in enumerate(self.ALTERED.items()):
            with self.subTest(sql):
                name = f"altered{number}"
                shutil.copytree(sound, self.folder / name)
                with sqlite3.connect(self.folder / name / "trammel.study") as database:
                    database.execute("pragma ignore_check_constraints = on")
                    database.execute(sql)
                database.close()
                self.refused_alike(name, says)
                shutil.rmtree(self.folder / name)

    def any_verb(self, chance):
        return chance.choice([["report", "study"], ["resume", "study", "--units", "4", "--threads", "1"],
                              ["gather", "study", "--out", "all"]])

    def survives(self, chance, what):
        """The digest, and one of the verbs that write: no crash, no hang, and of both the same verdict."""
        codes = []
        for verb in (["digest", "study"], self.any_verb(chance)):
            done = self.run_raw(*verb)
            err = done.stderr.decode()
            self.assertIn(done.returncode, (0, 1, 2, 3, 4), f"{what}: {verb}: {err}")
            self.assertNotIn("terminate called", err)
            another_engine = "is not resumed, as these keys differ:\n  engine: " in err
            if done.returncode in (1, 2) and not another_engine:
                self.assertTrue(err.startswith("error: study/trammel.study"), f"{what}: {err}")
            codes.append(done.returncode in (1, 2) and not another_engine)
        self.assertEqual(codes[0], codes[1], what)
        shutil.rmtree(self.folder / "all", ignore_errors=True)
        return codes[0]

    def test_random_bytes(self):
        sound = self.study("sound")
        chance, refused, rounds = random.Random(17), 0, 150
        raw = (sound / "trammel.study").read_bytes()
        for number in range(rounds):
            shutil.rmtree(self.folder / "study", ignore_errors=True)
            (self.folder / "study").mkdir()
            data = bytearray(raw)
            for _ in range(chance.randint(1, 6)):
                data[chance.randrange(len(data))] = chance.randrange(256)
            if chance.random() < 0.1:
                del data[chance.randrange(len(data)):]
            (self.folder / "study" / "trammel.study").write_bytes(data)
            refused += self.survives(chance, f"round {number}")
        self.assertGreater(refused, rounds // 10)
        self.assertLess(refused, rounds)

    def test_random_rows(self):
        sound = self.study("sound")
        chance, refused, rounds = random.Random(18), 0, 150
        values = ["0", "-1", "1", "0.5", "99", "1e300", "-9e999", "9e999", "''", "'x'", "x'00ff'", "null",
                  "9223372036854775807", "-9223372036854775808", "2147483648", "'\x1b[31m'", "1e-320", "zeroblob(1000)"]
        with sqlite3.connect(f"file:{sound / 'trammel.study'}?mode=ro", uri=True) as database:
            columns = [(table, column) for (table,) in database.execute("select name from sqlite_schema").fetchall()
                       for (column,) in database.execute("select name from pragma_table_info(?)", [table]).fetchall()]
        database.close()
        for number in range(rounds):
            shutil.rmtree(self.folder / "study", ignore_errors=True)
            shutil.copytree(sound, self.folder / "study")
            done = []
            with sqlite3.connect(self.folder / "study" / "trammel.study") as database:
                database.execute("pragma ignore_check_constraints = on")
                for _ in range(chance.randint(1, 3)):
                    table, column = chance.choice(columns)
                    some = f"where abs(random()) % {chance.choice([1, 4])} = 0"
                    sql = chance.choice([f"update {table} set {column} = {chance.choice(values)} {some}",
                                         f"update or ignore {table} set {column} = {chance.choice(values)} {some}",
                                         f"delete from {table} {some}"])
                    try:
                        database.execute(sql)
                        done.append(sql)
                    except sqlite3.Error:
                        pass
            database.close()
            refused += self.survives(chance, f"round {number}: {done}")
        self.assertGreater(refused, rounds // 3)

    def test_another_engine_may_mean_something_else(self):
        """Its hash is not held against ours; who reads it learns whose it was when it does not fit."""
        study = self.study()
        with sqlite3.connect(study / "trammel.study") as file:
            file.execute("update head set engine_version = 'trammel 0.0.1', brief_hash = 'other'")
        file.close()
        self.run_it("report", study)
        with sqlite3.connect(study / "trammel.study") as file:
            file.execute("update head set brief_text = 'trammel: 9'")
        file.close()
        self.assertIn("(the study was made by trammel 0.0.1)", self.run_it("report", study, expect=1).stderr)


class Gathering(StrangerCase):
    def test_two_copies_that_differ(self):
        one, two = self.study("one"), self.study("two")
        self.run_it("gather", "one", "two", "--out", "same")  # a unit that comes twice alike is harmless
        with sqlite3.connect(two / "trammel.study") as file:
            file.execute("update layout set score = score + 0.001 where unit = 2 and place = 0")
        file.close()
        for order in (["one", "two"], ["two", "one"]):
            self.refused("gather", *order, "--out", "all", says=["unit 2 is another in", "one of the two was changed"])
        self.assertTrue((one / "trammel.study").exists())

    def test_slices_that_are_missing(self):
        for i in (1, 2, 3):
            self.study(f"part{i}", "--units", 6, "--slice", f"{i}/3")
        done = self.run_it("gather", "part1", "part3", "--out", "most", expect=4)
        self.assertIn("2 of 6 units are still missing; not named were the slices 2/3", done.stderr)
        self.assertIn("`trammel resume most`", done.stderr)
        self.assertTrue((self.folder / "most" / "index.html").exists())
        self.run_it("resume", "most")
        self.run_it("gather", "part1", "part2", "part3", "--out", "all")
        self.assertEqual(self.digest("most"), self.digest("all"))

    def test_slices_without_an_end(self):
        for i in (1, 2):
            self.study(f"part{i}", "--time", "0.1s", "--slice", f"{i}/3")
        done = self.run_it("gather", "part1", "part2", "--out", "most", expect=4)
        self.assertIn("not named were the slices 3/3", done.stderr)


class Places(StrangerCase):
    """Nothing is written behind a link out of a study's folder, nor waited for at a pipe."""

    def test_links_in_a_study(self):
        study = self.study()
        outside = self.folder / "mine"
        outside.mkdir()
        (outside / "file").write_text("mine")
        for name in ("index.html", "shortlist.csv", "run.log", "trammel.study.lock", "assets", "layouts",
                     "layouts/01", "layouts/01/curves.csv", "assets/NOTICE", "conflict", "linkages", "trade_offs",
                     "references"):
            for target in (outside / "file", outside, outside / "nothing"):
                with self.subTest(name, target=target.name):
                    place = study / name
                    kept = self.folder / "kept"
                    if place.exists():
                        shutil.move(place, kept)
                    place.symlink_to(target)
                    before = contents(self.folder)
                    for verb in (["report", "study"], ["resume", "study", "--units", 9]):
                        if name == "trammel.study.lock" and verb[0] == "report":
                            continue  # which takes no lock
                        done = self.run_it(*verb, expect=1)
                        self.assertIn(f"study/{name}", done.stderr)
                        self.assertIn("is a symbolic link", done.stderr)
                    self.assertEqual(contents(self.folder), before)
                    place.unlink()
                    if kept.exists():
                        shutil.move(kept, place)
        self.run_it("report", "study")

    def test_pipes_in_a_study(self):
        study = self.study()
        for name in ("index.html", "run.log", "trammel.study.lock", "layouts", "trammel.study", "trammel.study-wal"):
            with self.subTest(name):
                place, kept = study / name, self.folder / "kept"
                if place.exists():
                    shutil.move(place, kept)
                os.mkfifo(place)
                done = self.run_it("resume", "study", "--units", 9, expect=1)
                self.assertIn("is a named pipe", done.stderr)
                place.unlink()
                if kept.exists():
                    shutil.move(kept, place)

    def test_a_link_to_a_whole_study_is_its_owners_matter(self):
        self.study()
        (self.folder / "short").symlink_to("study")
        self.run_it("report", "short")
        self.run_it("resume", "short", "--units", 4)


class SideFiles(StrangerCase):
    """Files that a brief names: one that is none is named by its kind, at the place that names it."""
    ODD = {"pipe": "is a named pipe", "folder": "is a folder", "endless": "is a device", "device": "is a device",
           "nothing": "is not there", "dangling": "cannot be read", "large": "holds more than"}

    def setUp(self):
        super().setUp()
        for ending in ("csv", "yaml"):
            os.mkfifo(self.folder / f"pipe.{ending}")
            (self.folder / f"folder.{ending}").mkdir()
            (self.folder / f"endless.{ending}").symlink_to("/dev/zero")
            (self.folder / f"device.{ending}").symlink_to("/dev/null")
            (self.folder / f"dangling.{ending}").symlink_to("no-such-place")
            (self.folder / f"large.{ending}").write_bytes(b"#" * 300_000)

    def refused_at(self, text, name, ending, says):
        file = f"{name}.{ending}"
        line = next(i for i, row in enumerate(text.splitlines(), 1) if file in row)
        column = text.splitlines()[line - 1].index(file) + 1
        (self.folder / "brief.yaml").write_text(text)
        for verb in (["check", "brief.yaml"], ["search", "brief.yaml", "--out", "new"]):
            self.refused(*verb, says=[f"brief.yaml:{line}:{column}: ", says])

    def test_curve_and_spring_files(self):
        for name, says in self.ODD.items():
            with self.subTest(name):
                self.refused_at(BRIEF.replace("band: [40, 90]", f"follow_file: {name}.csv, tolerance: 5")
                                .replace("at: sag, follow", "over: [0, 1], follow"), name, "csv", says)
                self.refused_at(BRIEF.replace("stroke: 57.5", f"stroke: 57.5, spring: {{ table: {{ file: {name}.csv }} }}"),
                                name, "csv", says)

    def test_template_files(self):
        source = (SOURCE / "configs" / "which-linkage-150.yaml").read_text()
        for name, says in self.ODD.items():
            with self.subTest(name):
                self.refused_at(source.replace("linkages: all", f"linkages: [ {name}.yaml ]"), name, "yaml", says)

    def test_many_template_files(self):
        """Together they are as large as a brief may be: twenty thousand of them are not all held in memory."""
        source = (SOURCE / "configs" / "which-linkage-150.yaml").read_text()
        template = (SOURCE / "configs" / "linkages" / "six_bar.yaml").read_text()
        names = [f"own{i}.yaml" for i in range(12)]
        for name in names:
            (self.folder / name).write_text(template + "# " + "x" * 40_000 + "\n")
        (self.folder / "brief.yaml").write_text(source.replace("linkages: all", f"linkages: [ {', '.join(names)} ]"))
        self.refused("check", "brief.yaml", says=["brief.yaml:", "the linkage templates hold more than 262144 bytes"])

    def test_the_brief_itself_and_references(self):
        for name in ("pipe", "folder", "endless", "device"):
            self.refused("check", f"{name}.yaml", says=[f"{name}.yaml:1:1: file: cannot be read, as it {self.ODD[name]}"])
        (self.folder / "shed").mkdir()
        os.mkfifo(self.folder / "shed" / "pipe.yaml")
        (self.folder / "brief.yaml").write_text(BRIEF + "references: { folder: shed }\n")
        self.refused("search", "brief.yaml", "--out", "new", says="shed/pipe.yaml:1:1: file: cannot be read, as it is a named pipe")


class Words(StrangerCase):
    """What a stranger may write into a brief, a study or a file's name reaches terminal, log and tables as text."""
    EVIL = "\x1b]0;owned\x07\u202eevil\u2066\x9b31m"

    def steers(self, data):
        return re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]", data.decode())

    def brief_with(self, title):
        quoted = '"' + "".join(f"\\u{ord(c):04x}" for c in title) + '"'
        (self.folder / "brief.yaml").write_text(BRIEF.replace("A pivot to try", quoted)
                                                .replace("{ curve: anti_rise", f"{{ name: {quoted}, curve: anti_rise"))

    def test_titles_and_names(self):
        self.brief_with(self.EVIL)
        for verb in (["check", "brief.yaml"], ["search", "brief.yaml", "--out", "study"], ["report", "study"],
                     ["resume", "study", "--units", 4], ["gather", "study", "--out", "all"],
                     ["compare", "study/layouts/01/layout.yaml", LAYOUTS[0], "--out", "page"]):
            done = self.run_raw(*verb)
            self.assertIn(done.returncode, (0, 3), done.stderr)
            for stream in (done.stdout, done.stderr):
                self.assertFalse(self.steers(stream), (verb, stream))
        log = (self.folder / "study" / "run.log").read_bytes()
        self.assertFalse(self.steers(log), log)
        self.assertIn(b"\\x1b]0;owned\\x07\\u202eevil", log)

    def test_a_line_of_the_log_is_one(self):
        self.brief_with("Trail\n2026-01-01 00:00:00.000 info: all is well")
        self.run_it("search", "brief.yaml", "--out", "study")
        for line in (self.folder / "study" / "run.log").read_text().splitlines():
            self.assertNotRegex(line, "^2026-01-01 00:00:00.000")

    def test_files_and_arguments(self):
        name = "a\x1b[2Jb\u202e.yaml"
        (self.folder / name).write_text("trammel: 9\n")
        for verb in (["check", name], ["check", "no\x1b[2J.yaml"], ["digest", "none\x1b[2J"], ["\x1b[2J"],
                     ["search", "brief.yaml", "--\x1b[2J"], ["curves", LAYOUTS[0], "--setting", "\x1b[2J"],
                     ["search", "brief.yaml", "--out", "x", "--seed", "\x1b[2J"]):
            done = self.run_raw(*verb)
            self.assertEqual(done.returncode, 2, verb)
            self.assertFalse(self.steers(done.stderr + done.stdout), (verb, done.stderr))

    def test_a_study(self):
        study = self.study()
        with sqlite3.connect(study / "trammel.study") as file:
            file.execute("update head set engine_version = ?", ["\x1b[2J\u202e"])
            file.execute("update failure set cause = ?", ["\x1b[2Jlost"])
        file.close()
        for verb in (["report", "study"], ["resume", "study", "--units", 4]):
            done = self.run_raw(*verb)
            self.assertFalse(self.steers(done.stderr + done.stdout), (verb, done.stderr))

    def test_no_cell_is_a_formula(self):
        for title in ("=HYPERLINK(1)", "+1+1", "-1+1", "@SUM(1)", "\tx", " =1", "x;=1+1;y"):
            with self.subTest(title):
                shutil.rmtree(self.folder / "study", ignore_errors=True)
                self.brief_with(title)
                self.run_raw("search", "brief.yaml", "--out", "study")
                tables = list((self.folder / "study").rglob("*.csv"))
                self.assertGreater(len(tables), 3)
                texts = 0
                for table in tables:
                    for row in rows_of(table.read_bytes().decode()):
                        for cell in (part for whole in row for part in whole.split(";")):
                            texts += title.strip().split(";")[0] in cell
                            try:
                                float(cell)
                            except ValueError:
                                self.assertNotRegex(cell, r"^[ ]*[=+\-@\t\r\x00-\x1f]", table)
                self.assertGreater(texts, 0)


class LittleOfEverything(StrangerCase):
    """Little memory, few threads, few open files: an end with a message or the same results, never a hang or an abort."""

    def limited(self, limits, *arguments):
        def limit():
            for what, most in limits.items():
                resource.setrlimit(what, (most, most))
        done = subprocess.run([PROGRAM, *map(str, arguments)], cwd=self.folder, capture_output=True, timeout=120,
                              env=environment(), preexec_fn=limit, stdin=subprocess.DEVNULL)
        self.assertIn(done.returncode, (0, 1, 127), (limits, arguments, done.stderr))  # 127: its libraries do not load
        if done.returncode == 1:
            self.assertIn(b"error: ", done.stderr)
            self.assertNotIn(b"terminate called", done.stderr)
        return done

    def test_memory(self):
        sound = self.study("sound")
        digest, ends = self.digest("sound"), {0: 0, 1: 0, 127: 0}
        for megabytes in range(16, 68, 4):
            for verb in (["check", "brief.yaml"], ["digest", "sound"], ["report", "sound"],
                         ["search", "brief.yaml", "--threads", 2, "--out", "new"],
                         ["gather", "sound", "--out", "all"]):
                with self.subTest(f"{megabytes} MB, {verb[0]}"):
                    ends[self.limited({resource.RLIMIT_AS: megabytes << 20}, *verb).returncode] += 1
                for left in ("new", "all"):
                    shutil.rmtree(self.folder / left, ignore_errors=True)
        self.run_it("report", sound)
        self.assertEqual(self.digest("sound"), digest)
        self.assertGreater(ends[0], 10)
        self.assertGreater(ends[1] + ends[127], 0)
        print("ends with little memory, by exit code:", ends)

    def test_threads(self):
        """Each takes 8 MB of addresses for its stack: of 200 some are refused, and it goes on with the others."""
        one = self.study("one", "--units", 40, "--threads", 1)
        done = self.limited({resource.RLIMIT_AS: 400 << 20}, "search", "brief.yaml", "--units", 40, "--threads", 200, "--out", "many")
        self.assertEqual(done.returncode, 0, done.stderr)
        granted = re.search(rb"the system grants (\d+) of the 200 threads", done.stderr)
        self.assertIsNotNone(granted, done.stderr)
        self.assertLess(int(granted[1]), 200)
        self.assertEqual(self.digest("many"), self.digest(one))

    def test_open_files(self):
        sound = self.study("sound")
        for most in range(3, 14):
            for verb in (["check", "brief.yaml"], ["report", "sound"], ["search", "brief.yaml", "--out", "new"]):
                done = subprocess.run([PROGRAM, *verb], cwd=self.folder, capture_output=True, timeout=60, env=environment(),
                                      preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_NOFILE, (most, most)))
                self.assertIn(done.returncode, (0, 1, 2, 127), (most, verb, done.stderr))
                shutil.rmtree(self.folder / "new", ignore_errors=True)
        self.run_it("report", sound)

    def test_layouts_to_compile(self):
        text = BRIEF.replace("vary:", "choose: { shock: standard, chainring: [RINGS] }\nvary:")
        text = text.replace("sound: any", "drivetrain: { chainring: 32, gears: [18] }\nsound: any")
        text = text.replace("  pivot: { x: [-20, 40], y: [50, 90] }", "  mount: { from: eye, length: shock, angle: [0, 30] }")
        (self.folder / "brief.yaml").write_text(text.replace("RINGS", ", ".join(map(str, range(6, 121)))))
        self.refused("check", "brief.yaml", says=["brief.yaml:", "layouts to compile; at most 2000 are allowed"])


if __name__ == "__main__":
    unittest.main(verbosity=2)
