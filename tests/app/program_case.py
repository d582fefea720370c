"""What the tests that drive the built program share: a folder of their own, and ways to run, refuse, interrupt."""
import csv
import hashlib
import io
import os
import pathlib
import sqlite3
import subprocess
import sys
import tempfile
import time
import unittest

PROGRAM = str(pathlib.Path(sys.argv.pop(1)).resolve())
SOURCE = pathlib.Path(__file__).resolve().parents[2]
TRAIL = SOURCE / "configs" / "trail-150.yaml"
LAYOUTS = sorted((SOURCE / "configs" / "layouts").glob("*.yaml"))
# What may differ between two studies that hold the same: the log has times, the database its pages' history.
UNEQUAL = {"run.log", "trammel.study", "trammel.study.lock", "trammel.study-wal", "trammel.study-shm"}


def environment():
    """This one's, without what would set the number of threads."""
    return {k: v for k, v in os.environ.items() if k not in ("TRAMMEL_THREADS", "SLURM_CPUS_PER_TASK")}


def readers_trace(path):
    """Files that a reader of an SQLite database in write-ahead mode leaves beside it; they hold no results."""
    return path.name in ("trammel.study-wal", "trammel.study-shm")


def files_of(folder):
    return {p.relative_to(folder).as_posix(): p.read_bytes()
            for p in sorted(folder.rglob("*")) if p.is_file() and p.name not in UNEQUAL}


def state_of(folder):
    return {p.relative_to(folder).as_posix(): (p.stat().st_mtime_ns, hashlib.sha256(p.read_bytes()).hexdigest())
            for p in sorted(folder.rglob("*")) if p.is_file() and not readers_trace(p)}


def committed(folder):
    """Units in a study, by any SQL reader."""
    with sqlite3.connect(f"file:{folder / 'trammel.study'}?mode=ro", uri=True) as study:
        return study.execute("select count(*) from unit").fetchone()[0]


def rows_of(text):
    return list(csv.reader(io.StringIO(text, newline=""), strict=True))


class Case(unittest.TestCase):
    def setUp(self):
        temporary = tempfile.TemporaryDirectory(prefix="trammel-program-")
        self.addCleanup(temporary.cleanup)
        self.folder = pathlib.Path(temporary.name)

    def run_it(self, *arguments, expect=0, env=None):
        done = subprocess.run([PROGRAM, *map(str, arguments)], cwd=self.folder, capture_output=True, text=True,
                              timeout=120, env={**environment(), **(env or {})})
        self.assertEqual(done.returncode, expect, f"{arguments}\n{done.stdout}\n{done.stderr}")
        return done

    def refused(self, *arguments, says, env=None):
        """Bad input: exit 2, a message on stderr, nothing on stdout, nothing written."""
        before = sorted(p for p in self.folder.rglob("*") if not readers_trace(p))
        done = self.run_it(*arguments, expect=2, env=env)
        self.assertEqual(done.stdout, "", arguments)
        for word in [says] if isinstance(says, str) else says:
            self.assertIn(word, done.stderr, arguments)
        for line in done.stderr.splitlines():
            self.assertTrue(line.strip(), f"an empty line among the messages of {arguments}")
        self.assertEqual(sorted(p for p in self.folder.rglob("*") if not readers_trace(p)), before, arguments)
        return done

    def digest(self, folder):
        text = self.run_it("digest", folder).stdout
        self.assertRegex(text, r"\A[0-9a-f]{64}\n\Z")
        return text

    def search(self, name, *flags, brief=TRAIL, expect=0):
        self.run_it("search", brief, "--out", name, *flags, expect=expect)
        return self.folder / name

    def begin(self, name):
        """A long run, once it has committed something."""
        running = subprocess.Popen([PROGRAM, "search", str(TRAIL), "--out", name, "--units", "100000"], cwd=self.folder,
                                   stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=environment())
        self.addCleanup(running.stdout.close)
        self.addCleanup(running.stderr.close)
        self.addCleanup(running.kill)
        for _ in range(600):
            time.sleep(0.05)
            try:
                if committed(self.folder / name) >= 2:
                    return running
            except sqlite3.Error:
                pass
        self.fail("a run commits nothing in 30 s")
