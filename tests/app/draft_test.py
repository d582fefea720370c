"""Drafts briefs with the built program, as its users do. Usage: draft_test.py PATH_OF_trammel"""
import os
import pty
import select
import subprocess
import time
import unittest

from program_case import PROGRAM, Case, environment

ASKED = ("--kind", "trail", "--travel", "150", "--wheels", "29", "--linkage", "four_bar_axle_on_coupler", "--shock",
         "210x55")


class Draft(Case):
    def on_terminal(self, *arguments, answers, stdout=None):
        """Runs it with a terminal on stdin and stderr; what it wrote to the terminal, and its exit code."""
        ours, its = pty.openpty()
        running = subprocess.Popen([PROGRAM, *map(str, arguments)], cwd=self.folder, stdin=its, stderr=its,
                                   stdout=stdout or subprocess.DEVNULL, env=environment())
        os.close(its)
        said = b""
        waiting = [a.encode() for a in answers]
        end = time.monotonic() + 60
        while time.monotonic() < end:
            if select.select([ours], [], [], 0.1)[0]:
                try:
                    new = os.read(ours, 4096)
                except OSError:
                    break
                if not new:
                    break
                said += new
                if said.rstrip(b"\r\n") == said and said.endswith(b": ") and waiting:
                    os.write(ours, waiting.pop(0) + b"\n")
            elif running.poll() is not None:
                break
        running.wait(timeout=10)
        os.close(ours)
        return said.decode(), running.returncode

    def test_from_an_empty_folder_to_a_shortlist(self):
        drafted = self.run_it("draft", *ASKED)
        self.assertEqual(drafted.stderr, "")
        (self.folder / "mine.yaml").write_text(drafted.stdout)
        self.assertIn("✓", self.run_it("check", "mine.yaml").stdout)
        searched = self.run_it("search", "mine.yaml", "--units", "2", "--out", "study")
        self.assertIn("meet every requirement", searched.stdout)
        for words in ["must: true", "common practice without a source", "# main pivot", "vary:", "packaging:"]:
            self.assertIn(words, drafted.stdout)

    def test_what_was_not_said_is_usual_and_told_of(self):
        drafted = self.run_it("draft", "--kind", "kids")
        self.assertIn("not said, so what is usual was taken: --wheels 20, --travel", drafted.stderr)
        self.assertEqual(self.run_it("draft", "--kind", "kids", "--wheels", "20").stdout, drafted.stdout)

    def test_everything_wrong_is_said_at_once(self):
        refused = self.refused("draft", "--kind", "tral", "--travel", "1500", "--wheels", "28", "--linkage", "sixbar",
                               "--shock", "210", "--title", "", "--out", "mine.yaml",
                               says=["did you mean 'trail'?", "from 40 to 300", "29, 27.5, 26, 24, 20",
                                     "did you mean 'six_bar'?", "such as 210x55", "1 to 80 characters"])
        self.assertEqual(len(refused.stderr.splitlines()), 6)
        self.refused("draft", says=["--kind: missing", "cross_country"])

    def test_an_unusual_travel_is_remarked_on(self):
        self.assertIn("which has 110 to 160 mm", self.run_it("draft", "--kind", "trail", "--travel", "190").stderr)

    def test_a_file_that_is_there_is_left_alone(self):
        self.run_it("draft", *ASKED, "--out", "mine.yaml")
        before = (self.folder / "mine.yaml").read_bytes()
        self.assertEqual(before.decode(), self.run_it("draft", *ASKED).stdout)
        self.refused("draft", "--kind", "kids", "--out", "mine.yaml", says="nothing is ever overwritten")
        self.assertEqual((self.folder / "mine.yaml").read_bytes(), before)
        self.refused("draft", *ASKED, "--out", "no/such/folder.yaml", says="--out: no/such is no folder")

    def test_it_asks_on_a_terminal(self):
        with open(self.folder / "mine.yaml", "wb") as out:
            said, code = self.on_terminal("draft", "--linkage", "six_bar", stdout=out,
                                          answers=["mountain", "enduro", "", "170", "230", "230x65"])
        self.assertEqual(code, 0, said)
        self.assertIn("'mountain' was given; allowed: cross_country", said)
        self.assertIn("wheels in inches, or front/rear [29]", said)
        self.assertNotIn("linkage:", said)
        self.assertEqual((self.folder / "mine.yaml").read_text(),
                         self.run_it("draft", "--kind", "enduro", "--wheels", "29", "--travel", "170", "--linkage",
                                     "six_bar", "--shock", "230x65").stdout)

    def test_it_never_asks_into_a_pipe(self):
        reader, pipe = os.pipe()
        self.addCleanup(os.close, reader)
        self.addCleanup(os.close, pipe)
        said, code = self.on_terminal("draft", answers=[], stdout=pipe)
        self.assertEqual(code, 2)
        self.assertIn("--kind: missing", said)


if __name__ == "__main__":
    unittest.main()
