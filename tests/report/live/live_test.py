"""The kernel as pages carry it, under Node.js, against `trammel curves`: every column of every shipped layout, in every
setting and size, to the last bit; and why a layout does not move, word for word.
Usage: live_test.py trammel trammel_record kernel.wasm CONFIGS"""
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


class Kernel(unittest.TestCase):
    def module(self, file, linkage, setting, size):
        with tempfile.TemporaryDirectory() as folder:
            record = pathlib.Path(folder, "record")
            record.write_bytes(run(RECORD, file, *linkage).stdout)
            return run("node", HERE / "run.mjs", MODULE, record, setting, size, STATIONS)

    def test_every_shipped_layout_has_the_digits_of_the_program(self):
        files = sorted(pathlib.Path(CONFIGS).glob("*.yaml")) + sorted(pathlib.Path(CONFIGS, "layouts").glob("*.yaml"))
        self.assertGreater(len(files), 10)
        values = still = 0
        for file in files:
            for options, linkage, setting, size in cases(file):
                with self.subTest(file=file.name, options=options):
                    asked = run(TRAMMEL, "curves", file, *options, "--stations", STATIONS)
                    got = self.module(file, linkage, setting, size)
                    if asked.returncode != 0:
                        words = got.stderr.decode().split("Error: ", 1)[1].splitlines()[0]
                        self.assertIn(words, asked.stderr.decode())
                        still += 1
                        continue
                    self.assertEqual(got.returncode, 0, got.stderr)
                    rows = list(csv.reader(io.StringIO(asked.stdout.decode(), newline="")))
                    # The table's order is not that of the file: columns are matched by what is in them.
                    expected = sorted(["" if cell == "" else float(cell).hex() for cell in column]
                                      for column in zip(*rows[1:]))
                    found = sorted(["" if x != x else x.hex() for x in struct.unpack(f"<{STATIONS}d", bytes.fromhex(line))]
                                   for line in got.stdout.decode().split())
                    self.assertEqual(found, expected)
                    values += len(expected) * STATIONS
        self.assertGreater(values, 20000)
        print(f"{values} values equal, {still} layouts refused in the same words")

    def test_it_is_small_enough_for_every_page(self):
        self.assertLessEqual(os.path.getsize(MODULE), 400_000)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
