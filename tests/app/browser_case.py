"""What the tests of pages that the program writes share: the program, a browser, and that a page asks for and logs nothing."""
import time

from browser import Browser
from program_case import Case


class BrowserCase(Case):
    @classmethod
    def setUpClass(cls):
        cls.browser = Browser()
        cls.addClassCleanup(cls.browser.close)

    def setUp(self):
        super().setUp()
        self.browser.resize(1280, 900)
        self.browser.events.clear()

    def tearDown(self):
        """Whatever was done: nothing thrown, nothing logged, nothing asked for but the page itself."""
        self.assertEqual(self.browser.complaints(), [])
        for address in self.browser.requests():
            self.assertRegex(address, r"^(file:///.*/index\.html|data:image/|blob:)")

    def wait(self, expression):
        for _ in range(200):
            value = self.browser.run(expression)
            if value:
                return value
            time.sleep(0.05)
        self.fail(f"never came true: {expression}")

    def text(self, id):
        return self.browser.run(f"document.getElementById('{id}').textContent")
