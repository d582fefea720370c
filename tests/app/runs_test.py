"""What a long run promises: kills, signals, full disks, slices, changed briefs, little memory. Usage:
runs_test.py PATH_OF_trammel"""
import html
import pathlib
import random
import re
import signal
import sqlite3
import subprocess
import time
import unittest

from program_case import PROGRAM, SOURCE, TRAIL, Case, committed, environment, files_of, rows_of

CHANGES = {"units: 48": "units: 48, samples: 256, refine: 2, evaluations: 60"}  # a unit takes some ten milliseconds


def changed(text, changes):
    for old, new in changes.items():
        if text.count(old) != 1:
            raise ValueError(old)
        text = text.replace(old, new)
    return text


class RunCase(Case):
    def setUp(self):
        super().setUp()
        self.brief = self.folder / "quick.yaml"
        self.brief.write_text(changed(TRAIL.read_text(), CHANGES))

    def start(self, *arguments):
        running = subprocess.Popen([PROGRAM, *map(str, arguments)], cwd=self.folder, stdout=subprocess.PIPE,
                                   stderr=subprocess.PIPE, text=True, env=environment())
        self.addCleanup(running.stdout.close)
        self.addCleanup(running.stderr.close)
        self.addCleanup(running.kill)
        return running

    def wait_for(self, what, condition):
        for _ in range(3000):
            try:
                if condition():
                    return
            except (OSError, sqlite3.Error):
                pass
            time.sleep(0.01)
        self.fail(f"in vain for 30 s: {what}")

    def straight(self, name, units):
        (self.folder / "straight").mkdir(exist_ok=True)
        if (self.folder / "straight" / name).exists():
            return self.folder / "straight" / name
        return self.search(f"straight/{name}", "--units", units, brief=self.brief)

    def same_as_straight(self, name, folder=None):
        folder = folder or self.folder / name
        straight = self.straight(name, committed(folder))
        self.assertEqual(self.digest(folder), self.digest(straight))
        self.assertEqual((folder / "shortlist.csv").read_bytes(), (straight / "shortlist.csv").read_bytes())
        self.assertEqual(files_of(folder), files_of(straight))


class Kills(RunCase):
    def test_many_kills(self):
        """kill -9 at random moments, the writing of the report among them; resumed, it is as if nothing had been."""
        moments = random.Random(20261)
        study = self.folder / "study"
        running = self.start("search", self.brief, "--units", 100000, "--out", "study")
        self.wait_for("first units", lambda: committed(study) >= 1)
        kills = 0
        for _ in range(16):
            time.sleep(moments.uniform(0.0, 0.15))
            running.kill()
            running.communicate(timeout=60)
            kills += running.returncode == -signal.SIGKILL
            threads = moments.choice([1, 2, 3])
            running = self.start("resume", "study", "--units", 100000, "--threads", threads)
        running.kill()
        running.communicate(timeout=60)
        self.assertEqual(kills, 16)
        # A plan that is through: what is killed now is the writing of the report.
        units = committed(study) + 1
        for _ in range(4):
            running = self.start("resume", "study", "--units", units)
            time.sleep(moments.uniform(0.01, 0.25))
            running.kill()
            running.communicate(timeout=60)
        self.run_it("resume", "study", "--units", units)
        self.assertEqual(committed(study), units)
        self.same_as_straight("study")


class Signals(RunCase):
    def test_terminate_is_ctrl_c(self):
        study = self.folder / "study"
        running = self.start("search", self.brief, "--units", 100000, "--out", "study")
        self.wait_for("first units", lambda: committed(study) >= 1)
        running.send_signal(signal.SIGTERM)
        _, err = running.communicate(timeout=60)
        self.assertEqual(running.returncode, 4, err)
        self.assertIn("interrupted; `trammel resume study` goes on", err)
        self.same_as_straight("study")

    def long_report(self):
        """A run that is through its plan and at its report, which is a long one."""
        self.brief.write_text(changed(TRAIL.read_text(), {
            "units: 48, shortlist: 8": "units: 60, samples: 256, refine: 4, evaluations: 30, shortlist: 200, distinct: 0, distinct_curves: 0"}))
        running = self.start("search", self.brief, "--out", "study")
        log = self.folder / "study" / "run.log"
        self.wait_for("the end of the run", lambda: "60 units, " in log.read_text())
        return running

    def test_once_while_the_report_is_written(self):
        running = self.long_report()
        running.send_signal(signal.SIGINT)
        out, err = running.communicate(timeout=60)
        self.assertIn(running.returncode, (0, 3), err)
        self.assertIn("report: study/index.html", out)
        self.same_as_straight("study")

    def test_twice_while_the_report_is_written(self):
        running = self.long_report()
        running.send_signal(signal.SIGINT)
        time.sleep(0.002)
        running.send_signal(signal.SIGINT)
        out, err = running.communicate(timeout=60)
        if running.returncode == 4:  # else the second came when the report was there
            self.assertIn("`trammel report study` writes it", err)
            self.assertNotIn("report:", out)
            self.assertFalse((self.folder / "study" / "index.html").exists())
        else:
            self.assertIn(running.returncode, (0, 3), err)
        done = subprocess.run([PROGRAM, "report", "study"], cwd=self.folder, capture_output=True, text=True)
        self.assertIn(done.returncode, (0, 3), done.stderr)
        self.same_as_straight("study")


class Disk(RunCase):
    def small_disk(self, size):
        disk = self.folder / "disk"
        disk.mkdir()
        mounted = subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={size}", "tmpfs", str(disk)], capture_output=True,
                                 text=True)
        if mounted.returncode != 0:
            self.skipTest(f"SKIP: this user may not mount a small disk: {mounted.stderr.strip()}")
        self.addCleanup(subprocess.run, ["umount", "--lazy", str(disk)])
        return disk

    def more_room(self, disk):
        subprocess.run(["mount", "-o", "remount,size=64m", str(disk)], check=True)

    def test_low_water(self):
        self.brief.write_text(changed(self.brief.read_text(), {"shortlist: 8": "shortlist: 2"}))
        disk = self.small_disk("6m")
        done = self.run_it("search", self.brief, "--units", 100000, "--out", "disk/study", "--keep-free", "5M", expect=4)
        self.assertRegex(done.stderr, r"warning: \d\.\d MB are free on the disk, and 5\.0 MB are to be kept")
        self.assertIn("nearly full", done.stderr)
        self.assertIn("`trammel resume disk/study` goes on", done.stderr)
        study = disk / "study"
        units = committed(study)
        self.assertGreater(units, 10)
        self.assertTrue((study / "index.html").exists())  # the room that was kept is enough for it
        self.assertEqual(sorted(p.name for p in study.glob("trammel.study*")), ["trammel.study", "trammel.study.lock"])
        # Nothing has changed: it stops at once.
        self.run_it("resume", "disk/study", "--units", 100000, "--keep-free", "5M", expect=4)
        self.assertEqual(committed(study), units)
        self.more_room(disk)
        self.run_it("resume", "disk/study", "--units", units + 3, "--keep-free", "5M")
        self.assertEqual(committed(study), units + 3)
        self.same_as_straight("study", study)

    def test_full(self):
        disk = self.small_disk("400k")
        done = self.run_it("search", self.brief, "--units", 100000, "--out", "disk/study", "--keep-free", "0", expect=4)
        self.assertIn("no report was written", done.stderr)
        self.assertIn("Once there is room; `trammel resume disk/study` goes on", done.stderr)
        study = disk / "study"
        units = committed(study)
        self.assertGreater(units, 10)
        self.more_room(disk)
        self.run_it("resume", "disk/study", "--units", units + 3, "--keep-free", "0")
        self.same_as_straight("study", study)

    def test_sizes(self):
        for size in ("", "M", "-1", "5T", "1.5M", "64 M", "99999999999G"):
            self.refused("search", self.brief, "--out", "new", f"--keep-free={size}", says="--keep-free")


class Sql(RunCase):
    def test_read_while_running(self):
        """Another program's SQL reader sees whole units, more and more of them, and keeps nobody from writing."""
        study = self.folder / "study"
        running = self.start("search", self.brief, "--units", 100000, "--out", "study")
        self.wait_for("first units", lambda: committed(study) >= 1)
        queries = re.findall(r"```sql\n(.*?)```", (SOURCE / "docs" / "study-file.md").read_text(), re.DOTALL)
        self.assertGreaterEqual(len(queries), 4)
        seen = []
        for _ in range(20):
            with sqlite3.connect(f"file:{study / 'trammel.study'}?mode=ro", uri=True) as reader:
                reader.execute("begin")
                seen.append(reader.execute("select count(*) from unit").fetchone()[0])
                for table in ("failure", "layout", "layout_design", "layout_achieved"):
                    self.assertEqual(reader.execute(f"select count(*) from {table} where unit not in "
                                                    "(select unit from unit)").fetchone()[0], 0)
                for part, entries in (("layout_design", 11), ("layout_achieved", 11 + 7)):
                    self.assertEqual(reader.execute(f"select count(*) from {part}").fetchone()[0],
                                     entries * reader.execute("select count(*) from layout").fetchone()[0])
                for query in queries:
                    reader.execute(query).fetchall()
            reader.close()
            shell = subprocess.run(["sqlite3", "-readonly", str(study / "trammel.study"), queries[0]],
                                   capture_output=True, text=True)
            self.assertEqual(shell.returncode, 0, shell.stderr)
            time.sleep(0.03)
        self.assertEqual(seen, sorted(seen))
        self.assertGreater(seen[-1], seen[0])
        self.assertIsNone(running.poll())
        running.send_signal(signal.SIGINT)
        running.communicate(timeout=60)
        self.assertEqual(running.returncode, 4)
        self.same_as_straight("study")


class ChangedBrief(RunCase):
    def test_refused_with_the_keys(self):
        self.search("study", "--units", 1, brief=self.brief)
        text = self.brief.read_text()
        other = self.folder / "other.yaml"
        # Comments, order of keys, ways to write a number, and defaults that are spelt out say nothing new.
        other.write_text("# a note\n" + changed(text, {
            "head_angle: 64.8, travel: 160, follows: matched": "travel: 160.0, head_angle: 6.48e1",
            "cg: { x: 25, height: 1110, follows: frame }": "cg: { height: 1110, x: 25 }",
            "seed: 150": "algorithm: LD_LBFGS, seed: 150"}))
        self.run_it("resume", "study", "other.yaml", "--units", 2)
        self.assertEqual(committed(self.folder / "study"), 2)
        other.write_text(changed(text, {"band: [96, 108]": "band: [90, 108]", "units: 48": "units: 64",
                                        "least_pivot_distance: 32": "least_pivot_distance: 33",
                                        ", must: true }\n  - { name: pedalling": " }\n  - { name: pedalling",
                                        "brake: { member: seatstay }": ""}))
        done = self.refused("resume", "study", "other.yaml", "--units", 3, says="these keys differ")
        for line in ["  linkage.brake.member: \"seatstay\" → left out", "  packaging.least_pivot_distance: 32 → 33",
                     "  search.units: 48 → 64", "  targets[1].band: [96, 108] → [90, 108]",
                     "  targets[1].must: true → left out"]:
            self.assertIn(line, done.stderr.splitlines())
        self.assertEqual(sum(line.startswith("  ") for line in done.stderr.splitlines()), 5)
        self.assertEqual(committed(self.folder / "study"), 2)
        other.write_text("trammel: 1\n")
        self.refused("resume", "study", "other.yaml", says="other.yaml:1:1")
        done = self.refused("search", self.brief, "--out", "study", says=["a study is there already", "trammel resume"])

    def test_order_that_numbers_results(self):
        self.search("study", "--units", 1, brief=self.brief)
        lines = self.brief.read_text().splitlines(keepends=True)
        main, stay = (next(i for i, line in enumerate(lines) if line.startswith(f"  {p}: {{ x:")) for p in ("main", "stay"))
        lines[main], lines[stay] = lines[stay], lines[main]
        self.brief.write_text("".join(lines))
        self.refused("resume", "study", self.brief, "--units", 2, says="vary: in this order: main, stay")

    def test_another_engine(self):
        study = self.search("study", "--units", 1, brief=self.brief)
        with sqlite3.connect(study / "trammel.study") as file:
            file.execute("update head set engine_version = 'trammel 0.0.1'")
        file.close()
        version = self.run_it("--version").stdout.splitlines()[0]
        for brief in ([], [self.brief]):
            self.refused("resume", "study", *brief, "--units", 2, says=f"engine: trammel 0.0.1 → {version}")
        self.run_it("report", "study")  # reading is another matter

    def test_slices_of_different_briefs(self):
        self.search("one", "--units", 2, "--slice", "1/2", brief=self.brief)
        self.brief.write_text("# the same, with a note\n" + self.brief.read_text())
        self.search("two", "--units", 2, "--slice", "2/2", brief=self.brief)
        self.run_it("gather", "one", "two", "--out", "all")
        self.assertEqual(self.digest("all"), self.digest(self.straight("whole", 2)))
        self.brief.write_text(changed(self.brief.read_text(), {"seed: 150": "seed: 151"}))
        self.search("three", "--units", 2, "--slice", "2/2", brief=self.brief)
        self.refused("gather", "one", "three", "--out", "mixed", says=["three", "search.seed: 150 → 151"])


class Slices(RunCase):
    def test_more_slices_than_units(self):
        for i in range(1, 5):
            self.search(f"part{i}", "--units", 3, "--slice", f"{i}/4", brief=self.brief)
        self.assertEqual(committed(self.folder / "part4"), 0)
        self.run_it("gather", *(f"part{i}" for i in range(1, 5)), "--out", "all")
        self.assertEqual(self.digest("all"), self.digest(self.straight("whole", 3)))
        self.assertEqual((self.folder / "all" / "shortlist.csv").read_bytes(),
                         (self.folder / "straight" / "whole" / "shortlist.csv").read_bytes())

    def test_a_slice_does_not_judge_the_study(self):
        self.brief.write_text(changed(self.brief.read_text(), {"band: [148, 152], must": "ceiling: 0, must"}))
        self.search("part1", "--units", 2, "--slice", "1/2", brief=self.brief)
        self.search("part2", "--units", 2, "--slice", "2/2", brief=self.brief)
        self.run_it("gather", "part1", "part2", "--out", "all", expect=3)


class Linkages(RunCase):
    """A study of several linkages is as deterministic as one of its own."""
    UNITS = 10

    def setUp(self):
        super().setUp()
        source = (SOURCE / "configs" / "which-linkage-150.yaml").read_text()
        template = (SOURCE / "configs" / "linkages" / "six_bar.yaml").read_text()
        (self.folder / "own.yaml").write_text(changed(template, {"title: Six-bar": "title: Own six-bar"}))
        self.brief.write_text(changed(source, {
            "linkages: all": "linkages: [four_bar_axle_on_coupler, high_pivot_idler, own.yaml]",
            "units: 8": "units: 8, samples: 256, refine: 2, evaluations: 60"}))

    def test_threads_slices_and_gather(self):
        for threads in (1, 3):
            self.search(f"threads{threads}", "--units", self.UNITS, "--threads", threads, brief=self.brief)
            self.same_as_straight(f"threads{threads}", self.named(f"threads{threads}"))
        for i in (1, 2):
            self.search(f"part{i}", "--units", self.UNITS, "--slice", f"{i}/2", brief=self.brief)
        (self.folder / "gathered").mkdir()
        self.run_it("gather", "part1", "part2", "--out", "gathered/straight")
        self.same_as_straight("straight", self.folder / "gathered" / "straight")

    def named(self, name):
        """A study's report has its folder's name: written again under the name of the other."""
        folder = self.folder / f"as-{name}" / "straight"
        folder.parent.mkdir()
        (self.folder / name).rename(folder)
        self.run_it("report", folder)
        return folder

    def same_as_straight(self, name, folder):
        straight = self.straight("straight", self.UNITS)
        self.assertEqual(self.digest(folder), self.digest(straight))
        self.assertEqual(files_of(folder), files_of(straight))

    def test_a_killed_study_goes_on_without_the_template_file(self):
        straight = self.straight("straight", self.UNITS)
        study = self.folder / "killed" / "straight"
        study.parent.mkdir()
        running = self.start("search", self.brief, "--units", self.UNITS, "--threads", 1, "--out", study)
        self.wait_for("first units", lambda: committed(study) >= 2)
        running.kill()
        running.communicate(timeout=60)
        (self.folder / "own.yaml").unlink()
        self.run_it("resume", study, "--units", self.UNITS)
        self.assertEqual(self.digest(study), self.digest(straight))
        self.assertEqual(files_of(study), files_of(straight))

    def test_another_template_is_another_brief(self):
        self.search("study", "--units", 3, brief=self.brief)
        template = self.folder / "own.yaml"
        template.write_text(changed(template.read_text(), {"angle: [40, 100]": "angle: [40, 101]"}))
        self.refused("resume", "study", self.brief, says="templates.own.points.eye.angle: [40, 100] → [40, 101]")

    def test_units_are_for_each_linkage(self):
        self.brief.write_text(changed(self.brief.read_text(), {"units: 8": "units: 2"}))
        study = self.search("study", brief=self.brief)
        self.assertEqual(committed(study), 6)
        with sqlite3.connect(f"file:{study / 'trammel.study'}?mode=ro", uri=True) as database:
            rows = database.execute("select linkage, count(*) from unit group by linkage").fetchall()
        self.assertEqual(rows, [(0, 2), (1, 2), (2, 2)])

    def test_curves_of_a_linkage(self):
        self.refused("curves", self.brief, says=["--linkage", "four_bar_axle_on_coupler, high_pivot_idler, own"])
        self.refused("curves", self.brief, "--linkage", "ow", says="did you mean 'own'?")
        rows = rows_of(self.run_it("curves", self.brief, "--linkage", "own", "--stations", 3).stdout)
        self.assertEqual(len(rows), 4)
        self.refused("curves", TRAIL, "--linkage", "own", says="the layout has none")

    def test_check_tells_of_each(self):
        said = self.run_it("check", self.brief).stdout
        for name in ("four_bar_axle_on_coupler", "high_pivot_idler", "own"):
            self.assertRegex(said, rf"(?m)^  {name}: [0-9]+ variables$")
        self.assertEqual(len(re.findall(r"\(mean\s+leverage", said)), 3)


class Settled(RunCase):
    def test_ends_when_nothing_new_appears(self):
        self.brief.write_text(changed(self.brief.read_text(), {"shortlist: 8": "shortlist: 2"}))
        ends = []
        for threads in (1, 3):
            done = self.run_it("search", self.brief, "--settled", 3, "--threads", threads, "--out", f"study{threads}")
            self.assertIn("settled: the last 3 units put nothing new on the shortlist", done.stderr)
            ends.append((committed(self.folder / f"study{threads}"), self.digest(f"study{threads}")))
        self.assertEqual(ends[0], ends[1])
        units = ends[0][0]
        self.assertEqual(units % 3, 0)

        def shortlist(n):
            return [row[1] for row in rows_of(self.straight(f"first{n}", n).joinpath("shortlist.csv").read_text())]
        self.assertEqual(shortlist(units), shortlist(units - 3))
        for earlier in range(6, units, 3):
            self.assertNotEqual(shortlist(earlier), shortlist(earlier - 3))
        # Interrupted and resumed, it ends at the same unit.
        self.run_it("search", self.brief, "--units", units - 4, "--out", "again")
        self.run_it("resume", "again", "--units", 100000, "--settled", 3)
        self.assertEqual((committed(self.folder / "again"), self.digest("again")), ends[0])
        self.refused("search", self.brief, "--settled", 3, "--slice", "1/2", "--out", "new", says="--settled")


class Progress(RunCase):
    def test_status_on_a_pipe_and_log(self):
        done = self.run_it("search", self.brief, "--units", 30, "--out", "study")
        lines = done.stderr.splitlines()
        self.assertNotIn("\x1b", done.stderr)
        status = [line for line in lines if line.startswith("unit ")]
        self.assertEqual(len(status), 1)  # one a minute, and this took less
        self.assertRegex(status[0], r"^unit \d+ of 30 · \d+ layouts/s · \d+ meet every requirement · best \d+-\d+ "
                                    r"\(score [^ ]+, required margin [^ ]+ in [^)]+\) · about .* left · lost: \d+ % .*")
        log = (self.folder / "study" / "run.log").read_text().splitlines()
        self.assertTrue(all(re.match(r"\d{4}-\d\d-\d\d \d\d:\d\d:\d\d\.\d{3} (info|warning): ", line) for line in log))
        self.assertRegex(log[0], "seed 150")
        self.assertRegex(log[-1], r"30 units, 7680 layouts screened, \d+ meet every requirement, in .* · lost: ")


class NothingMeets(RunCase):
    IMPOSSIBLE = SOURCE / "configs" / "impossible-160.yaml"

    def test_report(self):
        done = self.run_it("search", self.IMPOSSIBLE, "--units", 2, "--out", "study", expect=3)
        study = self.folder / "study"
        self.assertRegex(done.stdout, r"layout \d+-\d+ comes nearest; it misses .*'chain' by ")
        self.assertRegex(done.stdout, r"These demands conflict.*'climbing'.*'chain'")
        named = re.findall(r"^'([^']*)': (?:giving|no amount)", done.stdout, re.MULTILINE)
        self.assertLessEqual({"climbing", "chain"}, set(named))
        self.assertRegex(done.stdout, r"(?m)^'.*': giving .* is enough alone: .*: study/conflict/\d\d/brief.yaml$")
        page = (study / "index.html").read_text()
        plain = html.unescape(re.sub(r"<[^>]*>", "\n", page))
        self.assertIn("Why nothing meets every requirement", plain)
        self.assertIn("a finding and not a proof", plain)
        # What the nearest layout misses: the numbers of the shortlist, held against the demand.
        rows = rows_of((study / "shortlist.csv").read_bytes().decode())
        best = dict(zip(rows[0], rows[1]))
        over = float(best["chain [mm]"]) - 6
        self.assertGreater(over, 0)
        missed = [line.strip() for line in plain.splitlines() if line.strip()]
        at = missed.index("Missed by")
        demand = missed.index("chain", at)
        self.assertEqual(missed[demand - 1], best["id"])
        self.assertEqual(missed[demand + 1], "at most 6 mm bottomed")
        self.assertEqual(missed[demand + 2], f"{over + 6:.2f} mm")
        self.assertEqual(missed[demand + 3], f"{over:.2f} mm")
        self.assertEqual(float(missed[demand + 4].split()[0]), round(float(best["travel [mm]"]), 1))
        for table in re.findall(r"<table.*?</table>", page, re.DOTALL):
            cells = {len(re.findall(r"<t[dh][ >]", row)) for row in re.findall(r"<tr.*?</tr>", table, re.DOTALL)}
            self.assertEqual(len(cells), 1, table)
            self.assertNotIn("<tr><a", table)
        # The terminal says what the page says.
        for line in done.stdout.splitlines():
            if line.startswith(("These demands", "'")):
                self.assertIn(re.sub(r": study/conflict.*", "", line), plain)
        # What is called enough is: each brief, as it is written, is one that a search meets; so is the layout beside it.
        shown = sorted((study / "conflict").glob("*/layout.yaml"))
        self.assertGreaterEqual(len(shown), 2)
        for layout in shown:
            brief = layout.parent / "brief.yaml"
            for file in (layout, brief):
                self.assertIn(f'"{file.relative_to(study).as_posix()}"', page)
            self.run_it("curves", layout)
            said = [line[2:] for line in brief.read_text().splitlines() if line.startswith("# ")]
            self.assertIn(self.IMPOSSIBLE.read_text().splitlines()[0][2:], said)  # comments are kept
            self.run_it("search", brief, "--out", self.folder / f"tried-{layout.parent.name}", expect=0)
        before = files_of(study)
        self.run_it("report", "study", expect=3)
        self.assertEqual(files_of(study), before)

    def test_proven_before_the_search(self):
        self.brief.write_text(changed(self.brief.read_text(), {
            "targets:\n": "targets:\n  - { name: eager, curve: anti_squat, gear: 32x50, at: sag, floor: 120, must: true }\n"}))
        done = self.run_it("check", self.brief, expect=3)
        sentence = "'eager' and 'climbing' exclude each other at 30 % of wheel travel: at least 120 % against 96 to 108 %."
        self.assertIn(f"cannot be met: {sentence}", " ".join(done.stdout.split()))  # it is folded
        done = self.run_it("search", self.brief, "--units", 1, "--out", "study", expect=3)
        self.assertIn(f"warning: nothing can meet every requirement: {sentence}", done.stderr)
        self.assertIn(f"proven: {sentence}", done.stdout)
        page = html.unescape((self.folder / "study" / "index.html").read_text())
        self.assertIn("Proven from the brief alone", page)
        self.assertIn(sentence, page)

    def test_gone_when_something_meets(self):
        """A study that comes to layouts that meet every requirement loses the section and its layouts."""
        self.search("study", "--units", 1, brief=self.brief)
        (self.folder / "study" / "conflict" / "01").mkdir(parents=True)
        (self.folder / "study" / "conflict" / "01" / "layout.yaml").write_text("of an earlier report")
        self.run_it("report", "study")
        self.assertFalse((self.folder / "study" / "conflict").exists())
        self.assertNotIn("Why nothing", (self.folder / "study" / "index.html").read_text())


class Memory(RunCase):
    def peak(self, *arguments):
        """Most memory that the program held, MB."""
        process = subprocess.Popen([PROGRAM, *map(str, arguments)], cwd=self.folder, stdout=subprocess.DEVNULL,
                                   stderr=subprocess.DEVNULL, env=environment())
        peak = 0
        # Looked at again and again, as what the kernel says at the end counts this test's own memory at the fork too.
        while process.poll() is None:
            found = re.search(r"VmHWM:\s*(\d+) kB", pathlib.Path(f"/proc/{process.pid}/status").read_text())
            peak = int(found.group(1)) if found else peak
            time.sleep(0.002)
        self.assertEqual(process.returncode, 0, arguments)
        return peak / 1024

    def test_bounded(self):
        """Reported, digested, gathered and resumed with 60,000 units it needs hardly more than with one."""
        units = 60000
        study = self.search("study", "--units", 1, "--threads", 1, brief=self.brief)
        small = {"report": self.peak("report", "study"), "digest": self.peak("digest", "study"),
                 "gather": self.peak("gather", "study", "--out", "gathered-one"),
                 "resume": self.peak("resume", "study", "--units", 2, "--threads", 1)}
        counts = f"with recursive n(i) as (select 2 union all select i + 1 from n where i + 1 < {units})"
        with sqlite3.connect(study / "trammel.study") as file:
            file.execute(f"{counts} insert into unit select i, 256, 2, 100, 0 from n")
            file.execute(f"{counts} insert into failure select i, 'invented', i % 7 + 1 from n")
            # One design over and over: the shortlist never fills, so every layout is looked at.
            file.execute(f"{counts} insert into layout select i, 0, 0, musts, musts, 1.0 / i, 0.1, 0.1, 0.1, 0.1 from n, layout "
                         "where layout.unit = 0 and layout.place = 0")
            for table, number in (("layout_design", "variable"), ("layout_achieved", "target")):
                file.execute(f"{counts} insert into {table} select i, 0, {number}, value from n, {table} as t "
                             "where t.unit = 0 and t.place = 0")
        file.close()
        self.assertEqual(committed(study), units)
        large = {"report": self.peak("report", "study"), "digest": self.peak("digest", "study"),
                 "gather": self.peak("gather", "study", "--out", "gathered"),
                 "resume": self.peak("resume", "study", "--units", units + 1, "--threads", 1)}
        print({verb: f"{small[verb]:.0f} MB → {large[verb]:.0f} MB" for verb in small})
        for verb in small:
            # 60,000 units in memory would be 40 MB and more; SQLite's caches grow to some MB.
            self.assertLess(large[verb] - small[verb], 20, verb)


if __name__ == "__main__":
    unittest.main(verbosity=2)
