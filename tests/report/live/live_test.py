"""The kernel as pages carry it, under Node.js and in Debian's Chromium, against `trammel curves`: every column of every shipped
layout, in every setting and size, to the last bit; and why a layout does not move, word for word.
Usage: live_test.py trammel trammel_record kernel.wasm CONFIGS"""
import base64
import csv
import io
import os
import pathlib
import struct
import subprocess
import sys
import tempfile
import unittest

import yaml

TRAMMEL, RECORD, MODULE, CONFIGS = sys.argv[1:5]
HERE = pathlib.Path(__file__).parent
STATIONS = 41
sys.path.insert(0, str(HERE.parents[1] / "app"))
from browser import Browser  # noqa: E402


def run(*command):
    return subprocess.run([str(part) for part in command], capture_output=True, check=False)


def cases(file):
    """Options of `trammel curves` with what the module is asked for instead: linkage, setting, size."""
    brief = yaml.safe_load(file.read_text())
    probe = run(TRAMMEL, "curves", file).stderr.decode()
    linkages = probe.split("--linkage:")[1].strip().split(", ") if "--linkage:" in probe else []
    for number, name in enumerate(linkages):
        yield ["--linkage", name], [str(number)], -1, -1
    if linkages:
        return
    yield [], [], -1, -1
    for i, one in enumerate(brief.get("settings", {})):
        for j, size in enumerate(brief.get("sizes", {})):
            yield ["--setting", one["name"], "--size", size["name"]], [], i, j


class Node:
    """Columns of a record, or why there are none."""
    def columns(self, record, setting, size):
        with tempfile.TemporaryDirectory() as folder:
            file = pathlib.Path(folder, "record")
            file.write_bytes(record)
            done = run("node", HERE / "run.mjs", MODULE, file, setting, size, STATIONS)
        if done.returncode != 0:
            return None, done.stderr.decode().split("Error: ", 1)[1].splitlines()[0]
        return done.stdout.decode().split(), ""

    def close(self):
        pass


class Chromium:
    """The same in a page."""
    def __init__(self):
        self.browser = Browser()
        self.browser.run((HERE / "columns.js").read_text(encoding="utf-8") + f"""
            function bytes(text) {{ return Uint8Array.from(atob(text), c => c.charCodeAt(0)); }}
            window.module = bytes("{base64.b64encode(pathlib.Path(MODULE).read_bytes()).decode()}"); 0""")

    def columns(self, record, setting, size):
        found, words = self.browser.run(f"""columns(window.module, bytes("{base64.b64encode(record).decode()}"), {setting}, {size},
            {STATIONS}).then(found => [found, ""], failure => [null, failure.message])""")
        return found, words

    def close(self):
        self.browser.close()


class Kernel(unittest.TestCase):
    def test_every_shipped_layout_has_the_digits_of_the_program(self):
        for kind in (Node, Chromium):
            self.hold(kind())

    def hold(self, machine):
        self.addCleanup(machine.close)
        files = sorted(pathlib.Path(CONFIGS).glob("*.yaml")) + sorted(pathlib.Path(CONFIGS, "layouts").glob("*.yaml"))
        self.assertGreater(len(files), 10)
        values = still = 0
        for file in files:
            for options, linkage, setting, size in cases(file):
                with self.subTest(machine=type(machine).__name__, file=file.name, options=options):
                    asked = run(TRAMMEL, "curves", file, *options, "--stations", STATIONS)
                    got, words = machine.columns(run(RECORD, file, *linkage).stdout, setting, size)
                    if asked.returncode != 0:
                        self.assertIsNone(got)
                        self.assertIn(words, asked.stderr.decode())
                        still += 1
                        continue
                    self.assertIsNotNone(got, words)
                    rows = list(csv.reader(io.StringIO(asked.stdout.decode(), newline="")))
                    # The table's order is not that of the file: columns are matched by what is in them.
                    expected = sorted(["" if cell == "" else float(cell).hex() for cell in column]
                                      for column in zip(*rows[1:]))
                    found = sorted(["" if x != x else x.hex() for x in struct.unpack(f"<{STATIONS}d", bytes.fromhex(line))]
                                   for line in got)
                    self.assertEqual(found, expected)
                    values += len(expected) * STATIONS
        self.assertGreater(values, 20000)
        print(f"{type(machine).__name__}: {values} values equal, {still} layouts refused in the same words")

    def test_it_is_small_enough_for_every_page(self):
        self.assertLessEqual(os.path.getsize(MODULE), 400_000)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
