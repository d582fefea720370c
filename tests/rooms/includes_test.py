"""Rooms include only downwards: the tree obeys, the scan sees each way of breaking the rule, the compiler refuses too.

Usage: includes_test.py SOURCE_TREE BUILD_FOLDER
"""

import json
import shlex
import shutil
import subprocess
import sys
import tempfile
import unittest
from pathlib import Path

import includes

TREE = Path(sys.argv[1])
BUILD = Path(sys.argv[2])


class TheTree(unittest.TestCase):
    def test_all_rooms_are_read(self):
        # Each call of room() is one line that starts with it: were one not understood, the scan would skip its sources.
        calls = [line for line in (TREE / "CMakeLists.txt").read_text().splitlines() if line.startswith("room(")]
        self.assertEqual(len(includes.read_rooms(TREE)), len(calls))
        self.assertGreaterEqual(len(calls), 10)

    def test_obeys(self):
        self.assertEqual(includes.check_tree(TREE), [])


class TheScan(unittest.TestCase):
    """On a copy of the room declarations, with invented sources."""

    def setUp(self):
        folder = tempfile.TemporaryDirectory(prefix="rooms ")
        self.addCleanup(folder.cleanup)
        self.tree = Path(folder.name)
        shutil.copy(TREE / "CMakeLists.txt", self.tree)
        for room in includes.read_rooms(self.tree).values():
            room.folder.mkdir(parents=True)

    def write(self, path, text):
        target = self.tree / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text)

    def assert_one_problem(self, *parts):
        problems = includes.check_tree(self.tree)
        self.assertEqual(len(problems), 1, problems)
        for part in parts:
            self.assertIn(part, problems[0])

    def test_accepts_downward_includes(self):
        self.write("engine/bike/a.cpp", '#include "bike/a.hpp"\n#include "math/vec2.hpp"\n#include <vector>\n')
        self.assertEqual(includes.check_tree(self.tree), [])

    def test_reports_a_climb_with_file_and_line(self):
        self.write("engine/math/a.cpp", '#include <cmath>\n#include "report/write.hpp"\n')
        self.assert_one_problem("engine/math/a.cpp:2:", "report/write.hpp")

    def test_reports_a_climb_from_the_objectives(self):
        self.write("objectives/a.hpp", '#include "search/sheet.hpp"\n')
        self.assert_one_problem("objectives/a.hpp:1:", "search/sheet.hpp")

    def test_reports_a_climb_in_angle_brackets(self):
        self.write("engine/spring/a.hpp", "  # include <bike/layout.hpp>\n")
        self.assert_one_problem("engine/spring/a.hpp:1:", "bike/layout.hpp")

    def test_reports_relative_paths(self):
        for path in ("../report/write.hpp", "./a.hpp", "math/../report/write.hpp"):
            with self.subTest(path):
                self.write("engine/math/a.hpp", f'#include "{path}"\n')
                self.assert_one_problem("engine/math/a.hpp:1:", "climbs")

    def test_reports_a_bare_file_name(self):
        self.write("engine/math/a.cpp", '#include "vec2.hpp"\n')
        self.assert_one_problem("engine/math/a.cpp:1:", "names no room")

    def test_reports_a_path_hidden_in_a_macro(self):
        self.write("engine/math/a.cpp", "#include HEADER\n")
        self.assert_one_problem("engine/math/a.cpp:1:", "not a literal path")

    def test_reports_a_room_allowed_to_climb(self):
        listing = self.tree / "CMakeLists.txt"
        listing.write_text(listing.read_text().replace("MAY_INCLUDE math)", "MAY_INCLUDE math report)", 1))
        self.assert_one_problem("CMakeLists.txt:", "report")

    def test_reports_a_folder_that_is_no_room(self):
        self.write("engine/attic/a.cpp", '#include "report/write.hpp"\n')
        self.assert_one_problem("engine/attic", "not a room")


class TheCompiler(unittest.TestCase):
    """With each room's own flags, as CMake gives them to the target rooms_probe_<room>."""

    @classmethod
    def setUpClass(cls):
        cls.rooms = includes.read_rooms(TREE)
        cls.headers = {
            room.name: f"{room.name}/{header.relative_to(room.folder)}"
            for room in cls.rooms.values()
            for header in sorted(room.folder.glob("*.hpp"))[:1]
        }
        cls.commands = {}
        for entry in json.loads((BUILD / "compile_commands.json").read_text()):
            words = shlex.split(entry["command"])
            target = next((part for word in words for part in Path(word).parts if part.startswith("rooms_probe_")), None)
            if target:
                words[words.index("-o") + 1] = "/dev/null"
                words.remove(entry["file"])
                cls.commands[target.removeprefix("rooms_probe_").removesuffix(".dir")] = (words, entry["directory"])

    def compile(self, room, *headers):
        """Compiler's exit code and messages for a source in `room` that includes `headers`."""
        words, directory = self.commands[room]
        text = "".join(f'#include "{header}"\n' for header in headers)
        run = subprocess.run(
            [*words, "-fsyntax-only", "-x", "c++", "-"], cwd=directory, input=text, capture_output=True, text=True
        )
        return run.returncode, run.stderr

    def test_every_room_has_its_flags(self):
        self.assertEqual(set(self.commands), set(self.rooms))

    def test_math_cannot_see_the_report(self):
        code, messages = self.compile("math", "report/write.hpp")
        self.assertNotEqual(code, 0)
        self.assertIn("report/write.hpp: No such file or directory", messages)

    def test_no_room_sees_what_it_does_not_name(self):
        for room in self.rooms.values():
            for other, header in self.headers.items():
                if other == room.name or other in room.may_include:
                    continue
                with self.subTest(room=room.name, header=header):
                    code, messages = self.compile(room.name, header)
                    self.assertNotEqual(code, 0)
                    self.assertIn(f"{header}: No such file or directory", messages)

    def test_every_room_sees_itself_and_what_it_names(self):
        # Without this, a broken command would make the checks above pass.
        for room in self.rooms.values():
            visible = [self.headers[name] for name in (room.name, *room.may_include) if name in self.headers]
            with self.subTest(room=room.name):
                code, messages = self.compile(room.name, *visible)
                self.assertEqual(code, 0, messages)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
