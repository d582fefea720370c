"""Reports in Debian's Chromium, looked at for faults of accessibility by axe-core (WCAG 2.1 A and AA, WAI-ARIA), for their
weight, with two hundred layouts, and with a front whose points lead to pages. Usage: faults_test.py PATH_OF_test_report"""
import pathlib

from pages_case import TABLE, WIDTHS, Case, main

AXE = pathlib.Path(__file__).resolve().parents[2] / "third_party" / "axe.min.js"


class Faults(Case):
    def faults(self):
        """What axe finds on the open page: rule, how bad, and where."""
        self.run_in(AXE.read_text(encoding="utf-8") + "; 0")
        return self.run_in("""axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'best-practice']}).then(r =>
            r.violations.map(v => [v.id, v.impact, v.nodes.slice(0, 3).map(n => n.target.join(' '))]))""")

    def test_no_page_has_one(self):
        for page in (*self.pages(), "front/index.html", "front/trade_offs/1/02/index.html",
                     "compare/index.html"):
            self.open(page)
            for width in (390, 1280):
                self.browser.resize(width, 900)
                self.browser.settle()
                self.assertEqual(self.faults(), [], (page, width))

    def test_it_finds_what_is_wrong(self):
        self.open("one/index.html")
        self.run_in("""document.querySelector('main').insertAdjacentHTML('beforeend',
            '<input type=text><img src="data:,"><p style="color: #bbb; background: #fff">words</p>')""")
        self.assertLessEqual({"label", "image-alt", "color-contrast"}, {rule for rule, _, _ in self.faults()})


class Front(Case):
    def test_a_ring_of_the_plot_opens_its_layout_by_mouse_and_by_keys(self):
        page = self.folder / "front/trade_offs/1/02/index.html"
        for how in ("mouse", "keys"):
            self.open("front/index.html")
            ring = "document.querySelectorAll('svg a')[1]"
            self.run_in(f"{ring}.scrollIntoView({{block: 'center'}})")
            self.browser.events.clear()
            if how == "mouse":
                x, y = self.run_in(f"(() => {{ const r = {ring}.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; }})()")
                self.browser.mouse("mousePressed", x, y, button="left", clickCount=1)
                self.browser.mouse("mouseReleased", x, y, button="left", clickCount=1)
            else:
                self.focus(ring)
                self.browser.key("Enter")
            self.browser.wait_for("Page.loadEventFired")
            self.assertEqual(self.run_in("location.href"), page.as_uri())
        self.assertEqual(self.run_in("document.querySelector('h1').textContent"), "Trade-off 1, point 2")
        links = self.run_in("[...document.querySelectorAll('nav a')].map(a => a.getAttribute('href'))")
        self.assertEqual(links, ["../../../index.html", "../01/index.html", "../03/index.html"])
        for link in links:
            self.assertTrue((page.parent / link).resolve().is_file(), link)


class Crowd(Case):
    def test_two_hundred_layouts(self):
        self.open("crowd/index.html")
        self.assertEqual(len(self.column("Rank")), 200)
        for width in WIDTHS:
            self.browser.resize(width, 800)
            self.browser.settle()
            self.assertLessEqual(self.run_in("document.documentElement.scrollWidth"), width)
        self.focus(f"[...{TABLE}.tHead.querySelectorAll('button')].find(b => b.textContent.startsWith('Layout'))")
        self.browser.key("Enter")
        self.browser.key("Enter")
        self.assertEqual([int(words.split("-")[0]) for words in self.column("Layout")], list(range(200, 0, -1)))
        last = self.run_in(f"{TABLE}.tBodies[0].rows[0].querySelector('a').getAttribute('href')")
        self.open("crowd/" + last)
        self.assertEqual(self.run_in("document.querySelector('h1').textContent"), "Layout 200-0")

    def test_weight(self):
        """So light that it can be sent by post: a layout's page with the kernel in it, and the first page with all layouts."""
        for page, most in (("crowd/layouts/01/index.html", 800e3), ("crowd/layouts/01/summary.html", 200e3),
                           ("study/index.html", 400e3), ("crowd/index.html", 8e6)):
            self.assertLess((self.folder / page).stat().st_size, most, page)


if __name__ == "__main__":
    main("[.pages],[.crowd]")
