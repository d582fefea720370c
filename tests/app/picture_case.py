"""What the tests of the page of `trammel picture` share: the page in a browser, and what hands do on it."""
import math
import re
import shutil
import time

import numpy

from browser import pixels_of
from browser_case import BrowserCase
from side_view import COLOURS, MARKS, WHEEL

ORDER = ["bottom bracket", "axle", "front axle", "main", "stay", "rocker", "tail", "eye", "mount"]
LINKAGE = "Four-bar, axle on the coupler"
NUMBERS = {"rear_radius": WHEEL, "front_radius": WHEEL, "head_angle": 65, "fork_travel": 150, "shock_length": 210,
           "shock_stroke": 55, "cg_x": 20, "cg_height": 1110, "chainring": 32}
WHEELBASE, CHAINSTAY = 806 + 438, math.hypot(438, 30)
ROW = "[...document.querySelectorAll('#points tr')].find(r => r.querySelector('input[type=radio]').ariaLabel.includes({}))"


class PageCase(BrowserCase):
    def page(self, view=None, name="side.png", out="page"):
        if view is not None:
            (self.folder / name).write_bytes(view.png())
        said = self.run_it("picture", *([name] if view is not None else []), "--out", out).stdout
        self.assertEqual(said, f"page: {out}/index.html\n")
        self.assertEqual([p.name for p in (self.folder / out).iterdir()], ["index.html"])
        self.browser.open(self.folder / out / "index.html")
        if view is not None:
            self.wait("document.getElementById('photo-name').textContent")

    def enter(self, selector, text):
        """Types into a field, and leaves it."""
        self.browser.run(f"var field = {selector}; field.focus(); field.select()")
        self.browser.type(str(text)) if text != "" else self.browser.key("Delete")
        self.browser.key("Tab")

    def enter_number(self, key, value):
        self.enter(f"document.getElementById('number-{key}')", value)

    def choose(self, id, words):
        self.browser.run(f"""(() => {{ const s = document.getElementById('{id}');
            s.value = [...s.options].find(o => o.textContent === {words!r}).value; s.dispatchEvent(new Event('change')); }})()""")

    def press(self, id):
        """A real click on a button, wherever it is on the page."""
        x, y = self.browser.run(f"""(() => {{ const b = document.getElementById('{id}'); b.scrollIntoView({{block: 'center'}});
            const r = b.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; }})()""")
        self.browser.click(x, y)

    def field(self, point, axis):
        return f"{ROW.format(repr(point))}.querySelectorAll('input.number')[{'xy'.index(axis)}]"

    def typed(self, point):
        values = [self.browser.run(self.field(point, axis) + ".value") for axis in "xy"]
        return tuple(float(v) if v else None for v in values)

    def millimetres(self, point):
        words = self.browser.run(ROW.format(repr(point)) + ".querySelector('td.n').textContent")
        return tuple(float(v) for v in words.split(", "))

    def stage(self):
        return self.browser.run("""(() => { scrollTo(0, 0); const r = document.getElementById('view').getBoundingClientRect();
            return [r.x, r.y, r.width, r.height]; })()""")

    whole_view = None

    def part(self, x, y, width, height):
        """A part of the window as it is on the screen: its corner, pixels a CSS pixel, and the pixels."""
        rows = pixels_of(self.browser.screenshot(x, y, width, height)).astype(int)
        return x, y, rows.shape[1] / width, rows

    def seen(self, colour, x, y, density, rows):
        """Middle of what has this colour there."""
        at = numpy.argwhere(abs(rows - colour).max(axis=2) <= 12)
        self.assertGreater(len(at), 0, f"nothing of the colour {colour} is in sight")
        # A blended pixel at the edge of another mark may have it, too.
        at = at[abs(at - numpy.median(at, axis=0)).max(axis=1) < 20 * density]
        middle = (at.mean(axis=0) + 0.5) / density
        return x + middle[1], y + middle[0]

    def click_mark(self, name):
        """As someone does who sees the mark: turns the wheel over it, and clicks its middle."""
        self.press("fit")
        x, y, width, height = self.stage()
        if self.whole_view is None:  # the view is the same each time, and a large picture takes its time to decode
            self.whole_view = self.part(x, y, width, height)
        at = tuple(round(v) for v in self.seen(COLOURS[name], *self.whole_view))
        for _ in range(12):  # how far one notch goes is the browser's to say
            self.browser.wheel(*at, 1)
            if float(re.search(r"(\d+) %", self.text("place")).group(1)) > 200:
                break
        near = self.seen(COLOURS[name], *self.part(at[0] - 60, at[1] - 60, 120, 120))
        self.browser.click(*(round(v) for v in near))

    def fill_in(self):
        """All that is not on the picture."""
        for key, value in NUMBERS.items():
            self.enter_number(key, value)
        self.enter("document.getElementById('cogs')", "18, 50")
        for row, value in enumerate([WHEELBASE, round(CHAINSTAY, 2)]):
            self.enter_length(row, value)

    def enter_length(self, row, value):
        self.enter(f"document.querySelectorAll('#lengths tr')[{row}].querySelector('input')", value)

    def type_points(self, view, digits=2):
        """For tests of what comes after: pixels typed, not clicked."""
        for name in ORDER:
            for axis, value in zip("xy", view.pixel(MARKS[name])):
                self.enter(self.field(name, axis), round(value, digits))

    def whole(self, view):
        self.page(view)
        self.choose("template", LINKAGE)
        self.press("take")
        self.type_points(view)
        self.fill_in()

    def save(self):
        for old in self.browser.downloads.iterdir():
            old.unlink()
        self.press("save")
        for _ in range(100):
            found = [p for p in self.browser.downloads.iterdir() if p.suffix == ".yaml"]
            if found and found[0].stat().st_size:
                file = self.folder / found[0].name
                shutil.copy(found[0], file)
                self.assertEqual(file.read_text(), self.text("yaml"))
                return file
            time.sleep(0.05)
        self.fail("nothing was saved")
