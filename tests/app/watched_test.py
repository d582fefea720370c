"""A run that is watched: reports while it runs, signals, the last line, a command at the end.
Usage: watched_test.py PATH_OF_trammel"""
import json
import os
import pty
import re
import signal
import subprocess
import time
import unittest

from program_case import PROGRAM, SOURCE, TRAIL, Case, committed, environment, files_of

IMPOSSIBLE = SOURCE / "configs" / "impossible-160.yaml"


def last_line(text):
    return json.loads(text.splitlines()[-1])


class Watched(Case):
    def test_a_report_while_the_search_runs(self):
        running = self.begin("study")
        seen = self.run_it("report", "study")
        self.assertIn("report: study/index.html", seen.stdout)
        self.assertTrue((self.folder / "study" / "layouts" / "01" / "layout.yaml").exists())
        self.assertIsNone(running.poll())
        first = committed(self.folder / "study")
        for _ in range(300):
            if committed(self.folder / "study") > first:
                break
            time.sleep(0.1)
        self.assertGreater(committed(self.folder / "study"), first, "the report stopped the search")
        running.send_signal(signal.SIGTERM)
        out, err = running.communicate(timeout=60)
        self.assertEqual(running.returncode, 4, err)
        # What the run leaves is what the same units leave that nobody looked at.
        units = committed(self.folder / "study")
        (self.folder / "plain").mkdir()
        self.run_it("search", TRAIL, "--out", "plain/study", "--units", units)
        self.assertEqual(self.digest("study"), self.digest("plain/study"))

    def test_reports_by_themselves(self):
        done = self.run_it("search", TRAIL, "--out", "study", "--units", "40", "--report-every", "0.2s")
        self.assertIn("report while it runs", (self.folder / "study" / "run.log").read_text() + done.stderr)
        (self.folder / "plain").mkdir()
        self.run_it("search", TRAIL, "--out", "plain/study", "--units", "40")
        self.assertEqual(files_of(self.folder / "study"), files_of(self.folder / "plain" / "study"))
        self.refused("search", TRAIL, "--out", "no", "--report-every", "soon", says="--report-every: 'soon'")

    def test_the_status_names_the_weakest_requirement(self):
        done = self.run_it("search", TRAIL, "--out", "study", "--units", "2")
        status = re.search(r"required margin (-?[\d.]+) in ([^)]+)\)", done.stderr)
        self.assertTrue(status, done.stderr)

    def test_a_terminal_that_hangs_up(self):
        running = self.begin("study")
        for _ in range(3):
            running.send_signal(signal.SIGHUP)
        out, err = running.communicate(timeout=60)
        self.assertEqual(running.returncode, 4, err)
        self.assertTrue((self.folder / "study" / "index.html").exists())
        self.assertEqual(last_line(out)["outcome"], "stopped")

    def test_a_real_terminal_that_hangs_up(self):
        ours, its = pty.openpty()
        running = subprocess.Popen([PROGRAM, "search", str(TRAIL), "--out", "study", "--units", "100000"],
                                   cwd=self.folder, stdin=its, stdout=its, stderr=its, start_new_session=True,
                                   preexec_fn=lambda: __import__("fcntl").ioctl(0, __import__("termios").TIOCSCTTY, 0),
                                   env=environment())
        self.addCleanup(running.kill)
        os.close(its)
        end = time.monotonic() + 30
        said = b""
        while b"unit" not in said and time.monotonic() < end:
            said += os.read(ours, 4096)
        os.close(ours)  # the window is closed
        running.wait(timeout=60)
        self.assertEqual(running.returncode, 4)
        self.assertTrue((self.folder / "study" / "index.html").exists())

    def test_nohup_goes_on(self):
        running = subprocess.Popen(["/usr/bin/nohup", PROGRAM, "search", str(TRAIL), "--out", "study", "--units", "60"],
                                   cwd=self.folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
                                   env=environment())
        for _ in range(200):
            time.sleep(0.05)
            if (self.folder / "study" / "run.log").exists():
                break
        running.send_signal(signal.SIGHUP)
        out, err = running.communicate(timeout=120)
        self.assertEqual(running.returncode, 0, err)
        self.assertEqual(last_line(out)["units"], 60)

    def test_a_reader_that_goes_away(self):
        running = subprocess.Popen([PROGRAM, "search", str(TRAIL), "--out", "study", "--units", "100000"],
                                   cwd=self.folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=environment())
        self.addCleanup(running.kill)
        os.read(running.stderr.fileno(), 1)
        for _ in range(600):
            time.sleep(0.05)
            if (self.folder / "study" / "trammel.study").exists():
                break
        running.stderr.close()
        running.stdout.close()
        # The next line that it writes is a signal; on anything but a terminal that is a minute away at most.
        running.send_signal(signal.SIGPIPE)
        running.wait(timeout=60)
        self.assertEqual(running.returncode, 4)
        self.assertTrue((self.folder / "study" / "index.html").exists())

    def test_the_last_line_is_for_programs(self):
        done = self.run_it("search", TRAIL, "--out", "study", "--units", "2")
        told = last_line(done.stdout)
        self.assertEqual((told["outcome"], told["exit"], told["study"], told["report"], told["units"]),
                         ("done", 0, "study", "study/index.html", 2))
        self.assertEqual(told["meet_every_requirement"], told["shortlisted"])
        with open(self.folder / "study" / "shortlist.csv", newline="", encoding="utf-8") as file:
            first = file.readlines()[1].split(",")
        self.assertEqual(told["best"]["id"], first[1])
        self.assertEqual(told["best"]["score"], float(first[2]))
        self.assertTrue(told["best"]["weakest_requirement"])
        none = last_line(self.run_it("search", IMPOSSIBLE, "--out", "none", "--units", "1", expect=3).stdout)
        self.assertEqual((none["outcome"], none["exit"], none["meet_every_requirement"]), ("nothing_meets", 3, 0))

    def test_a_command_at_the_end(self):
        command = 'printf "%s|%s|%s|%s\\n" "$TRAMMEL_OUTCOME" "$TRAMMEL_EXIT" "$TRAMMEL_STUDY" "$TRAMMEL_REPORT" > told;' \
                  ' printf "%s" "$TRAMMEL_RESULT" > result'
        done = self.run_it("search", TRAIL, "--out", "study", "--units", "1", "--on-done", command)
        study = self.folder.resolve() / "study"
        self.assertEqual((self.folder / "told").read_text(), f"done|0|{study}|{study}/index.html\n")
        self.assertEqual(json.loads((self.folder / "result").read_text()), last_line(done.stdout))
        self.run_it("search", IMPOSSIBLE, "--out", "none", "--units", "1", "--on-done", command, expect=3)
        self.assertTrue((self.folder / "told").read_text().startswith("nothing_meets|3|"))
        failing = self.run_it("resume", "study", "--units", "2", "--on-done", "exit 7")
        self.assertIn("the command ended with 7", failing.stderr)
        self.refused("search", TRAIL, "--out", "no", "--on-done", "", says="--on-done: an empty command")


if __name__ == "__main__":
    unittest.main()
