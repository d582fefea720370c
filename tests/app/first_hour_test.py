"""Runs every command of docs/first-hour.md in an empty folder, in order. Usage: first_hour_test.py PATH_OF_trammel"""
import os
import re
import subprocess
import unittest

from program_case import PROGRAM, SOURCE, Case, environment

PAGE = SOURCE / "docs" / "first-hour.md"


class FirstHour(Case):
    def test_every_command(self):
        (self.folder / "bin").mkdir()
        (self.folder / "bin" / "trammel").symlink_to(PROGRAM)
        empty = self.folder / "empty"
        empty.mkdir()
        path = f"{self.folder / 'bin'}{os.pathsep}{os.environ['PATH']}"
        commands = [line for block in re.findall(r"```sh\n(.*?)```", PAGE.read_text(encoding="utf-8"), re.DOTALL)
                    for line in block.splitlines()]
        self.assertGreaterEqual(len(commands), 10)
        said = ""
        for command in commands:
            done = subprocess.run(["/bin/sh", "-c", command], cwd=empty, capture_output=True, text=True, timeout=300,
                                  env={**environment(), "PATH": path})
            self.assertEqual(done.returncode, 0, f"{command}\n{done.stdout}\n{done.stderr}")
            said += done.stdout + done.stderr
        for words in ["moved: tail by", "curves, each layout at its own places", "targets: those of the study in"]:
            self.assertIn(words, said)
        for name in re.findall(r"`((?:first|second|third)/[^`]+)`", PAGE.read_text(encoding="utf-8")):
            self.assertTrue((empty / name).exists(), name)


if __name__ == "__main__":
    unittest.main()
