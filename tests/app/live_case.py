"""What the tests of computing layout pages share: a study written once a class, its first layout's page, hands on it."""
import pathlib
import shutil
import subprocess
import tempfile
import time

from browser_case import BrowserCase
from program_case import PROGRAM

FIELD = "document.querySelector('#live-points input[aria-label=\"{} {}, mm\"]')"
TABLE = "[...document.querySelectorAll('#live-{} tbody tr')].map(r => [...r.cells].map(c => c.textContent))"


class LiveCase(BrowserCase):
    BRIEF = None  # its path

    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        temporary = tempfile.TemporaryDirectory(prefix="trammel-live-")
        cls.addClassCleanup(temporary.cleanup)
        cls.study = pathlib.Path(temporary.name, "study")
        subprocess.run([PROGRAM, "search", cls.BRIEF, "--units", "1", "--threads", "1", "--out", cls.study], check=True,
                       capture_output=True, timeout=300)
        cls.layout = cls.study / "layouts/01"

    def setUp(self):
        super().setUp()
        self.browser.open(self.layout / "index.html")
        self.wait("!!window.trammelLive")

    def value(self, point, axis):
        return float(self.browser.run(FIELD.format(point, axis) + ".value"))

    def enter(self, point, axis, value):
        field = FIELD.format(point, axis)
        self.browser.run(f"{field}.focus(), {field}.select()")
        self.browser.type(str(value))
        self.browser.key("Enter")

    def press(self, id):
        self.browser.run(f"document.getElementById('{id}').click()")
        self.browser.settle()

    def choose(self, id, words):
        self.browser.run(f"""(() => {{ const box = document.getElementById('{id}');
            box.value = [...box.options].find(o => o.text === '{words}').value;
            box.dispatchEvent(new Event('change')); }})()""")
        self.browser.settle()

    def table(self, name):
        return self.browser.run(TABLE.format(name))

    def ring(self, point):
        """Where a point's ring is on the screen."""
        return self.browser.run(f"""(() => {{
            const ring = [...document.querySelectorAll('.rings *')].find(r => r.textContent.split(',')[0] === '{point}' &&
                r.getAttribute('display') !== 'none');
            ring.scrollIntoView({{block: 'center'}});
            const box = ring.getBoundingClientRect();
            return [box.x + box.width / 2, box.y + box.height / 2]; }})()""")

    def saved(self, button, name):
        """The file that a button saves, taken away from the browser."""
        self.press(button)
        file = self.browser.downloads / name
        for _ in range(100):
            if file.exists() and file.stat().st_size:
                break
            time.sleep(0.05)
        shutil.move(file, self.folder / name)
        return self.folder / name
