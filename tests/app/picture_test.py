"""Points off a picture: the page, in Debian's Chromium, on a drawing whose points are known.
Usage: picture_test.py PATH_OF_trammel"""
import base64
import csv
import io
import math
import os
import re
import unittest

import numpy
import yaml

from browser import ALT, CONTROL, SHIFT
from picture_case import CHAINSTAY, LINKAGE, ORDER, ROW, WHEELBASE, PageCase
from side_view import MARKS, POINTS, SHOCK, View


class Reading(PageCase):
    def read_and_check(self, view):
        self.page(view)
        self.choose("template", LINKAGE)
        self.press("take")
        self.press("names")
        for name in ORDER:
            self.assertIn(name, self.text("said"))
            self.click_mark(name)
        self.fill_in()
        self.enter("document.getElementById('title')", "Read by hand: \"9\" — Größe")
        self.assertEqual(self.text("verdict"), "Nothing is missing: `trammel curves` reads this file.")
        file = self.save()
        self.assertEqual(file.name, "read-by-hand-9-gr-e.yaml")
        loaded = yaml.safe_load(file.read_text())
        self.assertEqual(loaded["title"], "Read by hand: \"9\" — Größe")
        picture = loaded["linkage"]["picture"]
        read = {**picture["points"], "bottom bracket": picture["bottom_bracket"], "front axle": picture["level"][1]}
        self.assertEqual(set(read), set(ORDER))
        errors = {name: math.dist(read[name], view.pixel(MARKS[name])) for name in ORDER}
        self.assertLess(max(errors.values()), 1.0, errors)
        return file, picture

    def test_every_point_within_a_pixel(self):
        view = View()
        file, picture = self.read_and_check(view)
        self.assertEqual(picture["faces"], "right")
        # The curves begin where the bike was drawn, within the pixel.
        rows = list(csv.DictReader(io.StringIO(self.run_it("curves", file.name).stdout, newline="")))
        for column, value in zip(("axle_x_mm", "axle_y_mm"), MARKS["axle"]):
            self.assertAlmostEqual(float(rows[0][column]), value, delta=2 / view.scale)
        self.assertIn("leverage", rows[0])
        self.assertIn("anti_squat_pct[32x18]", rows[0])
        self.assertIn("level as drawn", self.run_it("check", file.name).stdout)

    def test_a_bike_that_faces_left_on_a_dense_screen(self):
        view = View(left=True, centre=(950.5, 600.25), turn=-0.03)
        self.browser.resize(1280, 900, density=2.0)
        file, picture = self.read_and_check(view)
        self.assertEqual(picture["faces"], "left")
        self.run_it("curves", file.name)


class SameLaw(PageCase):
    """What the page shows against what the brief's reader makes of the file, and against general-purpose least squares."""

    def test_scale_residuals_and_millimetres(self):
        view = View(turn=-0.05)
        self.whole(view)
        self.enter_length(0, WHEELBASE + 9)  # so that the two lengths differ
        self.enter_number("reading", 3)
        file = self.save()
        picture = yaml.safe_load(file.read_text())["linkage"]["picture"]
        pixels = [math.dist(one["from"], one["to"]) for one in picture["lengths"]]
        lengths = [one["length"] for one in picture["lengths"]]
        scale = numpy.linalg.lstsq(numpy.array(pixels)[:, None], numpy.array(lengths), rcond=None)[0][0]
        self.assertAlmostEqual(float(self.text("scale").split()[0]), scale, delta=1e-5)
        for row, (p, l) in enumerate(zip(pixels, lengths)):
            said = self.browser.run(f"document.querySelectorAll('#lengths tr')[{row}].querySelectorAll('td.n')[1].textContent")
            mm, px = re.match(r"([+-]?[\d.]+) mm, ([+-]?[\d.]+) px", said).groups()
            self.assertAlmostEqual(float(mm), p * scale - l, delta=0.0051)
            self.assertAlmostEqual(float(px), (p * scale - l) / scale, delta=0.0051)
        # `draft --from` prints the reader's points, in millimetres.
        shown = {name: self.millimetres(name) for name in POINTS}
        read = yaml.safe_load(self.run_it("draft", "--from", file.name, "--kind", "trail").stdout)["linkage"]["points"]
        self.assertEqual(set(read), set(shown))
        for name, place in shown.items():
            if name != "mount":  # the reader moves the shock's eye on the frame
                self.assertLessEqual(max(abs(a - b) for a, b in zip(place, read[name])), 0.0501, name)
        self.assertLess(math.dist(shown["mount"], read["mount"]), 3 * 2 * math.sqrt(2) * scale)
        error = float(re.search(r"= ± ([\d.]+) mm", self.text("error")).group(1))
        said = re.search(r"each point within ([\d.]+) mm", self.run_it("check", file.name).stdout).group(1)
        self.assertEqual(f"{error:.2g}", said)

    def verdicts(self, says):
        """Whether the page and the reader agree that the file is sound."""
        file = self.save()
        missing = [line for line in self.text("missing").split(".") if says in line]
        if missing:
            self.assertIn("mm", self.refused("curves", file.name, says=says).stderr)
        else:
            self.run_it("curves", file.name)
        file.unlink()
        return bool(missing)

    def test_refusals_on_either_side_of_the_limit(self):
        view = View(turn=0.0)
        self.whole(view)
        self.enter_number("reading", 8)
        # A wheelbase alone makes the scale; the chainstay may then contradict it by 5 % of what both together say.
        ends = ("axle", "front axle"), ("bottom bracket", "axle")
        p = [math.dist(view.pixel(MARKS[a]), view.pixel(MARKS[b])) for a, b in ends]
        share = lambda short: abs(short / p[1] / ((WHEELBASE * p[0] + short * p[1]) / (p[0] ** 2 + p[1] ** 2)) - 1)
        limit = next(v / 100 for v in range(43900, 60000) if share(v / 100) > 0.05)
        for short, refused in ((limit - 0.2, False), (limit + 0.2, True)):
            self.enter_length(1, round(short, 2))
            self.assertEqual(self.verdicts("they must agree within"), refused, short)
        self.enter_length(1, round(CHAINSTAY, 2))
        self.enter_number("reading", 1)
        slack = 2 * math.sqrt(2) / view.scale + 0.5
        for off, refused in ((slack - 0.1, False), (slack + 0.1, True)):
            self.enter_number("shock_length", round(SHOCK + off, 2))
            self.assertEqual(self.verdicts("within the error of reading they must agree"), refused, off)


class Hands(PageCase):
    def canvas(self):
        self.browser.run("document.getElementById('view').focus()")

    def test_keys_alone(self):
        view = View()
        self.page(view)
        self.canvas()
        self.assertEqual(self.typed("bottom bracket"), (None, None))
        self.browser.key("Enter")
        x, y = self.typed("bottom bracket")
        self.assertLess(math.dist((x, y), (view.width / 2, view.height / 2)), 0.02)
        self.assertIn("Next: rear axle", self.text("said"))
        self.browser.key("PageUp")
        for key, modifiers, dx, dy in [("ArrowRight", 0, 1, 0), ("ArrowLeft", SHIFT, -10, 0), ("ArrowDown", ALT, 0, 0.1),
                                       ("ArrowUp", CONTROL, 0, -0.1), ("ArrowUp", SHIFT, 0, -10), ("ArrowDown", 0, 0, 1)]:
            self.browser.key(key, modifiers)
            x, y = x + dx, y + dy
            self.assertLess(math.dist(self.typed("bottom bracket"), (x, y)), 0.011, key)
        self.assertIn("bottom bracket at", self.text("said"))
        self.browser.key("z", CONTROL)
        self.assertLess(math.dist(self.typed("bottom bracket"), (x, y - 1)), 0.011)
        self.browser.key("y", CONTROL)
        self.assertLess(math.dist(self.typed("bottom bracket"), (x, y)), 0.011)
        self.browser.key("Delete")
        self.assertEqual(self.typed("bottom bracket"), (None, None))
        self.browser.key("z", CONTROL)
        self.assertLess(math.dist(self.typed("bottom bracket"), (x, y)), 0.011)
        self.browser.key("z", CONTROL | SHIFT)
        self.assertEqual(self.typed("bottom bracket"), (None, None))
        # Without a chosen point in place the arrows move the view, and Enter takes its middle.
        self.browser.key("0")
        self.browser.key("+")
        self.browser.key("ArrowRight")
        self.browser.key("Enter")
        self.assertGreater(self.typed("bottom bracket")[0], view.width / 2 + 10)

    def test_mouse_moves_points_and_picture(self):
        self.page(View())
        x, y, width, height = self.stage()
        middle = round(x + width / 2), round(y + height / 2)
        self.browser.click(*middle)
        before = self.typed("bottom bracket")
        scale = self.browser.run("Number(document.getElementById('place').textContent.match(/(\\d+) %/)[1]) / 100")
        self.browser.drag(middle, (middle[0] + 50, middle[1] - 30))
        after = self.typed("bottom bracket")
        self.assertAlmostEqual(after[0] - before[0], 50 / scale, delta=2)
        self.assertAlmostEqual(after[1] - before[1], -30 / scale, delta=2)
        # Dragging elsewhere moves the picture and no point.
        self.browser.drag((middle[0] - 120, middle[1] + 120), (middle[0] - 60, middle[1] + 160))
        self.assertEqual(self.typed("bottom bracket"), after)
        self.assertEqual(self.typed("axle"), (None, None))
        self.press("undo")  # the whole drag is one step
        self.assertEqual(self.typed("bottom bracket"), before)
        self.press("redo")
        self.assertEqual(self.typed("bottom bracket"), after)
        self.browser.run(ROW.format("'bottom bracket'") + ".querySelector('input[type=radio]').click()")
        self.stage()
        self.browser.click(middle[0] - 100, middle[1], SHIFT)
        self.assertLess(self.typed("bottom bracket")[0], before[0])

    def test_names_members_and_ways_back(self):
        view = View()
        self.whole(view)
        sound = self.text("yaml")
        self.enter(f"{ROW.format(repr('tail'))}.querySelector('th input')", "top-end")
        self.assertIn("      top-end: [", self.text("yaml"))
        self.assertIn("[rocker, top-end, eye]", self.text("yaml"))
        self.run_it("curves", self.save())
        for name, says in [("9lives", "is no name"), ("rocker", "is there twice"), ("", "is no name"), ("on", "is no name")]:
            self.enter(f"{ROW.format(repr('top-end'))}.querySelector('th input')", name)
            self.assertIn(says, self.text("missing"))
            self.press("undo")
        self.press("undo")
        self.assertEqual(self.text("yaml"), sound)
        self.browser.run(ROW.format("'tail'") + ".querySelector('button').click()")
        self.assertNotIn("tail", self.text("yaml"))
        self.press("undo")
        self.assertEqual(self.text("yaml"), sound)
        self.browser.run("document.querySelectorAll('#members fieldset')[2].querySelector('button').click()")
        for words in ["Say which member carries the rear axle", "No member carries rear axle"]:
            self.assertIn(words, self.text("missing"))
        self.press("undo")
        self.press("add-level")
        self.assertIn("Not placed yet: level-a, level-b.", self.text("missing"))
        for end, place in (("level-a", (-438, -341)), ("level-b", (806, -341))):
            for axis, value in zip("xy", view.pixel(place)):
                self.enter(self.field(end, axis), round(value, 2))
        self.assertEqual(self.text("missing"), "")
        self.run_it("curves", self.save())
        self.choose("brake-member", "chainstay")
        self.assertIn("brake: { member: chainstay }", self.text("yaml"))
        self.run_it("check", self.save())

    def test_what_is_missing_is_said(self):
        self.page()
        for words in ["Not placed yet: bottom bracket, rear axle, front axle.", "No known length", "at least two members",
                      "Say which member carries the rear axle.", "Say between which two points the shock is.",
                      "Enter the head angle."]:
            self.assertIn(words, self.text("missing"))
        # The text is there all the same, and the reader says what it lacks.
        file = self.save()
        yaml.safe_load(file.read_text())
        self.refused("curves", file.name, says="nothing was given")
        self.enter_number("head_angle", "sixty")
        self.assertEqual(self.browser.run("document.getElementById('number-head_angle').ariaInvalid"), "true")
        self.enter_number("head_angle", "6,5")
        self.assertIn("The head angle must be from 30 to 90 °.", self.text("missing"))
        self.enter_number("head_angle", "65")
        self.assertNotIn("head angle", self.text("missing"))

    def test_every_linkage_that_ships(self):
        self.page()
        titles = self.browser.run("[...document.getElementById('template').options].slice(1).map(o => o.textContent)")
        names = [line.split()[0] for line in self.run_it("linkages").stdout.splitlines()]
        self.assertEqual(len(titles), len(names))
        for title, name in zip(titles, names):
            self.choose("template", title)
            self.press("take")
            wanted = yaml.safe_load(self.run_it("linkages", name).stdout)
            loaded = yaml.safe_load(self.text("yaml"))
            self.assertEqual(wanted["title"], title)
            self.assertEqual(set(loaded["linkage"]["picture"]["points"]), set(wanted["points"]))
            for key in ("members", "axle", "sliders", "brake"):
                self.assertEqual(loaded["linkage"].get(key), wanted.get(key), (name, key))
            self.assertEqual(loaded["shock"]["between"], wanted["shock"]["between"])
            self.assertEqual(self.text("hints"), "", name)


class Everyone(PageCase):
    def test_names_for_a_reader_of_screens(self):
        self.page(View())
        self.choose("template", LINKAGE)
        self.press("take")
        controls = 0
        for node in self.browser.ask("Accessibility.getFullAXTree")["nodes"]:
            role = node.get("role", {}).get("value")
            if role in ("button", "textbox", "combobox", "checkbox", "radio", "link", "application"):
                controls += 1
                self.assertTrue(node.get("name", {}).get("value"), node)
        self.assertGreater(controls, 80)

    def test_all_is_reached_by_tab(self):
        self.page(View())
        wanted = self.browser.run("""
            [...document.querySelectorAll('a, button:enabled, input:not([type=radio]), select, canvas[tabindex]')].filter(n => n.offsetParent).map((n, i) => n.dataset.i = i).length""")
        reached = set()
        for _ in range(wanted + 10):
            self.browser.key("Tab")
            reached.add(self.browser.run("document.activeElement.dataset.i"))
        self.assertEqual(reached - {None}, {str(i) for i in range(wanted)})

    def test_contrast_and_width(self):
        """WCAG 2.1, success criterion 1.4.3, by its own formula: 4.5 for text; and nothing is wider than the window."""
        self.page(View())
        self.choose("template", LINKAGE)
        self.press("take")
        poor = self.browser.run("""(() => {
            const rgb = c => c.match(/[\\d.]+/g).map(Number);
            const linear = v => v / 255 <= 0.03928 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4;
            const light = c => { const [r, g, b] = rgb(c).map(linear);
              return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
            const ground = n => { for (; n; n = n.parentElement) { const c = getComputedStyle(n).backgroundColor;
              if (!(rgb(c)[3] === 0)) return c; } return 'rgb(255, 255, 255)'; };
            const poor = [];
            document.querySelectorAll('body *').forEach(n => {
              const own = n.matches('input, select') || [...n.childNodes].some(c => c.nodeType === 3 && c.textContent.trim());
              if (!own || n.matches('script, option') || !n.offsetParent) return;
              const a = light(getComputedStyle(n).color), b = light(ground(n));
              const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
              if (ratio < 4.5) poor.push([n.outerHTML.slice(0, 80), ratio]);
            });
            return poor; })()""")
        self.assertEqual(poor, [])
        for width in (360, 480, 768, 1000, 1280, 1920):
            self.browser.resize(width, 800)
            self.browser.settle()
            self.assertLessEqual(self.browser.run("document.documentElement.scrollWidth"), width)
            self.assertGreaterEqual(self.stage()[2], min(300, width - 40))


class Files(PageCase):
    def jpeg(self, view):
        """The drawing as JPEG, made by the browser."""
        (self.folder / "plain.html").write_text("<!DOCTYPE html><link rel=icon href=data:,><img id=i src=data:image/png;base64," +
                                                base64.b64encode(view.png()).decode() + ">")
        self.browser.open(self.folder / "plain.html")
        data = self.browser.run("""(() => { const i = document.getElementById('i'), c = document.createElement('canvas');
            c.width = i.naturalWidth; c.height = i.naturalHeight; c.getContext('2d').drawImage(i, 0, 0);
            return c.toDataURL('image/jpeg', 0.95); })()""")
        self.browser.events.clear()
        return base64.b64decode(data.split(",")[1])

    def test_jpeg(self):
        (self.folder / "side.jpg").write_bytes(self.jpeg(View()))
        self.run_it("picture", "side.jpg", "--out", "page")
        self.browser.open(self.folder / "page" / "index.html")
        self.assertEqual(self.wait("document.getElementById('photo-name').textContent"), "side.jpg, 1600 × 1000 px")

    def test_a_name_that_would_be_markup(self):
        name = "<img src=x onerror=alert(1)><script>'\"&\u202e\x1b[31m\n- a: b.png"
        self.page(View(), name=name)
        shown = self.text("photo-name")
        self.assertIn("<img src=x onerror=alert(1)>", shown)
        for sign in "\u202e\x1b\n":
            self.assertNotIn(sign, shown)
        self.assertEqual(len(self.browser.run("[...document.images].map(i => i.id)")), 1)
        self.assertEqual(self.text("yaml").split("\n")[1], "trammel: 1")
        raw = os.fsencode(str(self.folder)) + b"/\xff\xfe.png"
        with open(raw, "wb") as file:
            file.write(View().png())
        self.run_it("picture", os.fsdecode(raw), "--out", "raw")
        self.browser.open(self.folder / "raw" / "index.html")
        self.assertIn("\\xff\\xfe.png", self.wait("document.getElementById('photo-name').textContent"))

    def test_a_picture_loaded_in_the_page(self):
        self.page()
        (self.folder / "a #1.png").write_bytes(View(width=900, height=700).png())
        self.browser.set_files("#file", self.folder / "a #1.png")
        self.assertEqual(self.wait("document.getElementById('photo-name').textContent"), "a #1.png, 900 × 700 px")
        self.assertIn("# Read off a picture: a #1.png, 900 x 700 px", self.text("yaml"))
        (self.folder / "no.png").write_text("no picture")
        self.browser.set_files("#file", self.folder / "no.png")
        self.wait("document.getElementById('said').textContent === 'no.png cannot be read as a picture.'")
        self.assertIn("a #1.png", self.text("photo-name"))

    def test_nothing_can_be_loaded(self):
        """Even what somebody put into the page: its policy forbids every address and every other script."""
        self.page(View())
        policy = self.browser.run("document.querySelector('meta[http-equiv]').content")
        self.assertRegex(policy, r"^default-src 'none'; img-src data: blob:; style-src 'unsafe-inline'; "
                                 r"script-src 'sha256-[\w+/=]+'$")
        refused = self.browser.run("fetch('http://127.0.0.1:9/').then(() => 'loaded', () => 'refused')")
        self.assertEqual(refused, "refused")
        ran = self.browser.run("""(() => { const s = document.createElement('script'); s.textContent = 'window.other = 1';
            document.body.append(s); return window.other === 1; })()""")
        self.assertFalse(ran)
        # Those two were the test's own.
        said = [str(c) for c in self.browser.complaints()]
        self.assertTrue(said and all("Content Security Policy" in words or "Refused" in words for words in said), said)
        self.browser.events.clear()

    def test_refused(self):
        good = View(width=60, height=40).png()
        (self.folder / "good.png").write_bytes(good)
        (self.folder / "words.png").write_text("trammel: 1\n")
        (self.folder / "old.gif").write_bytes(b"GIF89a" + bytes(40))
        (self.folder / "drawing.svg").write_text("<svg xmlns='http://www.w3.org/2000/svg'/>")
        (self.folder / "empty.png").write_bytes(b"")
        (self.folder / "short.png").write_bytes(good[:20])
        (self.folder / "short.jpg").write_bytes(b"\xff\xd8\xff\xe0\x00\x10JFIF")
        (self.folder / "none.png").write_bytes(good[:16] + bytes(8) + good[24:])
        (self.folder / "wide.png").write_bytes(good[:16] + (20001).to_bytes(4, "big") + good[20:])
        (self.folder / "folder.png").mkdir()
        (self.folder / "full").mkdir()
        (self.folder / "full" / "mine.txt").write_text("mine")
        os.mkfifo(self.folder / "pipe.png")
        os.symlink("good.png", self.folder / "link")
        with open(self.folder / "large.png", "wb") as file:
            file.write(good)
            file.truncate((40 << 20) + 1)
        other = "allowed: PNG or JPEG"
        for name, says in {
            "gone.png": "gone.png is not there", "words.png": other, "old.gif": other, "drawing.svg": other,
            "empty.png": "is empty", "short.png": "cut short", "short.jpg": "cut short", "none.png": "cut short",
            "wide.png": "20001 x 40 pixels; at most 20000", "folder.png": "is a folder", "pipe.png": "is a named pipe",
            "large.png": "more than 41943040 bytes",
        }.items():
            done = self.refused("picture", name, "--out", "page", says=says)
            self.assertEqual(len(done.stderr.splitlines()), 1)
        for out in ("full", "good.png", "link", "good.png/below"):
            self.refused("picture", "good.png", "--out", out, says="--out")
        self.refused("picture", "good.png", says="--out")
        self.refused("picture", "good.png", "more.png", "--out", "page", says="more.png")
        self.assertEqual((self.folder / "full" / "mine.txt").read_text(), "mine")
        self.assertEqual((self.folder / "good.png").read_bytes(), good)


if __name__ == "__main__":
    unittest.main()
