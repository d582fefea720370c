"""Runs what docs/scripting.md shows, from top to bottom in one folder, and holds what it prints against the files.
Usage: scripting_test.py PATH_OF_trammel"""
import importlib.util
import os
import re
import subprocess
import unittest

from program_case import PROGRAM, SOURCE, Case, environment, rows_of

PAGE = (SOURCE / "docs" / "scripting.md").read_text(encoding="utf-8")


class Page(Case):
    def run_block(self, kind, text):
        command = ["/bin/sh", "-ec", text] if kind == "sh" else ["/usr/bin/python3", "-c", text]
        done = subprocess.run(command, cwd=self.folder, capture_output=True, text=True, timeout=300, env=self.env)
        self.assertEqual(done.returncode, 0, f"{text}\n{done.stdout}\n{done.stderr}")
        return done.stdout

    def test_from_top_to_bottom(self):
        programs = self.folder / "bin"
        programs.mkdir()
        (programs / "trammel").symlink_to(PROGRAM)
        self.env = {**environment(), "PATH": f"{programs}{os.pathsep}{os.environ['PATH']}"}
        blocks = re.findall(r"```(sh|python)\n(.*?)```", PAGE, re.DOTALL)
        self.assertEqual([kind for kind, _ in blocks], ["sh", "python", "python", "python", "python", "python"])
        with_pandas = [i for i, (_, text) in enumerate(blocks) if "pandas" in text]
        self.assertEqual(with_pandas, [5])
        said = [self.run_block(*block) for block in blocks[:5]]

        rows = rows_of((self.folder / "study" / "shortlist.csv").read_text(encoding="utf-8"))
        shortlist = [dict(zip(rows[0], row)) for row in rows[1:]]
        self.assertTrue(shortlist)
        for line, row in zip(said[1].splitlines(), shortlist, strict=True):
            rank, name, margin, folder, _ = line.split(" ", 4)
            self.assertEqual((rank, name, float(margin)), (row["rank"], row["id"], float(row["must_margin"])))
            self.assertTrue((self.folder / folder / "index.html").exists())
        travel = [float(line.split()[0]) for line in said[2].splitlines()]
        self.assertEqual(len(travel), 21)
        self.assertEqual((travel[0], travel), (0.0, sorted(travel)))
        for line, row in zip(said[4].splitlines(), shortlist, strict=True):
            self.assertTrue(line.startswith(f"{row['rank']} {row['id']} "))

        # The database's best, by names: the value of each target and variable is that of its row in the shortlist.
        held = 0
        for part in re.split(r"^(?=\S)", said[3], flags=re.MULTILINE)[1:]:
            row = next((r for r in shortlist if r["id"] == part.partition(":")[0]), None)
            for line in part.splitlines()[1:] if row else []:
                name, value, unit = re.fullmatch(r"  (.*?) (-?[\d.]+(?:e-?\d+)?)(?: (\S*))?", line.rstrip()).groups()
                self.assertAlmostEqual(float(row[f"{name} [{unit}]" if unit else name]), float(value), delta=2e-3)
                held += 1
        self.assertGreater(held, 20)

        if importlib.util.find_spec("pandas") is None:
            self.skipTest("python3-pandas is not installed: the page's part on pandas was not run")
        text = self.run_block(*blocks[5])
        for row in shortlist:
            self.assertIn(row["id"], text)
        self.assertIn("max", text)


if __name__ == "__main__":
    unittest.main()
