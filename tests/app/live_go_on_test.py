"""The brief that a layout's page saves to go on from, held against what `trammel draft --from` writes, in Debian's Chromium.
Usage: live_go_on_test.py PATH_OF_trammel"""
import unittest

import yaml

from live_case import LiveCase
from program_case import SOURCE, TRAIL


def body(text):
    """Without its head, which says where a brief comes from."""
    return "\n".join(line for line in text.splitlines() if not line.startswith("#"))


class GoOn(LiveCase):
    BRIEF = TRAIL

    def drafted(self, moved, *arguments):
        """What the program drafts from the same layout, laid beside the page so that it is known whose it is."""
        place = self.layout / "moved.yaml"
        place.write_bytes(moved.read_bytes())
        self.addCleanup(place.unlink)
        return self.run_it("draft", "--from", place, *arguments).stdout

    def test_as_reported_it_is_what_draft_writes(self):
        brief = self.saved("live-go-on", "go-on.yaml").read_text()
        self.assertEqual(body(brief), body(self.run_it("draft", "--from", self.layout / "layout.yaml").stdout))

    def test_moved_and_frozen_points_are_where_they_are_and_it_is_read(self):
        self.enter("main", "x", self.value("main", "x") + 1.5)
        self.enter("rocker", "y", self.value("rocker", "y") - 0.8)
        for point in ("stay", "tail"):
            self.browser.run(f"document.getElementById('live-frozen-{point}').click()")
        self.browser.run("document.getElementById('live-within').value = 4")
        moved = self.saved("live-save", "layout-moved.yaml")
        brief = self.saved("live-go-on", "go-on.yaml")
        text = brief.read_text()
        self.assertIn("may move by up to 4 mm", text)
        self.assertEqual(body(text), body(self.drafted(moved, "--keep", "stay", "tail", "--within", "4")))
        varied = yaml.safe_load(text)["vary"]
        self.assertEqual(set(varied), {"main", "rocker", "eye", "mount"})
        self.run_it("check", brief)
        self.run_it("search", brief, "--units", "1", "--out", "on")

    def test_with_everything_frozen_nothing_is_left(self):
        self.browser.run("document.querySelectorAll('#live-points input[type=checkbox]').forEach(b => b.click())")
        self.press("live-go-on")
        self.assertEqual(self.text("live-said"), "Every point that may move is frozen: nothing is left to search.")
        self.browser.run("document.getElementById('live-within').value = 0")
        self.press("live-go-on")
        self.assertEqual(self.text("live-said"), "Points may move by 0.1 to 200 mm.")


class Cases(LiveCase):
    """A brief with settings and sizes."""
    BRIEF = SOURCE / "configs" / "flip-chip-140.yaml"

    def test_as_reported_it_is_what_draft_writes(self):
        brief = self.saved("live-go-on", "go-on.yaml").read_text()
        self.assertEqual(body(brief), body(self.run_it("draft", "--from", self.layout / "layout.yaml").stdout))


if __name__ == "__main__":
    unittest.main()
