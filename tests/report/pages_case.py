"""What the tests of a report's pages share: reports of invented studies, a browser, and that nothing is logged or asked for."""
import os
import pathlib
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "app"))
from browser import Browser

WIDTHS = (360, 768, 1280, 1920)
STUDIES = ("study", "hostile", "linkages", "many", "one", "none")
TABLE = "document.querySelector('table.shortlist')"


class Case(unittest.TestCase):
    folder = None  # of the reports, a folder each

    @classmethod
    def setUpClass(cls):
        cls.browser = Browser()
        cls.addClassCleanup(cls.browser.close)

    def setUp(self):
        self.browser.ask("Emulation.setEmulatedMedia", media="", features=[])
        self.browser.ask("Emulation.setScriptExecutionDisabled", value=False)
        self.browser.resize(1280, 900)
        self.browser.events.clear()

    def tearDown(self):
        """Whatever was done: nothing thrown, nothing logged, and nothing asked for but the report's own files."""
        self.assertEqual(self.browser.complaints(), [])
        for address in self.browser.requests():
            self.assertTrue(address.startswith(self.folder.as_uri() + "/"), address)

    def run_in(self, expression):
        return self.browser.run(expression)

    def open(self, page):
        self.browser.open(self.folder / page)

    def pages(self):
        for study in STUDIES:
            yield f"{study}/index.html"
            if study in ("hostile", "many"):
                yield f"{study}/layouts/01/index.html"
                yield f"{study}/layouts/01/summary.html"

    def column(self, name, shown_only=True):
        """What the shortlist shows under a heading, from the top."""
        return self.run_in(f"""(() => {{ const t = {TABLE};
            const c = [...t.tHead.rows[0].cells].findIndex(h => h.textContent.trim().startsWith({name!r}));
            return [...t.tBodies[0].rows].filter(r => !{str(shown_only).lower()} || !r.hidden)
              .map(r => r.cells[c].textContent.trim()); }})()""")

    def focus(self, selector):
        self.run_in(f"{selector}.focus()")


def main(which):
    """Writes the reports with the program named on the command line, those of its hidden test `which`, and runs the tests."""
    with tempfile.TemporaryDirectory(prefix="trammel-pages-") as place:
        Case.folder = pathlib.Path(place).resolve()
        subprocess.run([sys.argv.pop(1), which], check=True, stdout=subprocess.DEVNULL,
                       env={**os.environ, "TRAMMEL_REPORT_FOLDER": str(Case.folder)})
        unittest.main()
