"""The pages of a report in Debian's Chromium, of invented studies: nothing asked of the network, nothing logged, every
width, every control by keys and by name, paper. Usage: pages_test.py PATH_OF_test_report"""
import base64
import csv
import re

from pages_case import TABLE, WIDTHS, Case, main

A4_UPRIGHT = 703  # CSS pixels between margins of 12 mm: (210 - 24) mm · 96 px/in ÷ 25.4 mm/in


class Shortlist(Case):
    def sort_by(self, name):
        self.focus(f"[...{TABLE}.tHead.querySelectorAll('button')].find(b => b.textContent.trim().startsWith({name!r}))")
        self.browser.key("Enter")

    def order(self):
        return self.run_in(f"[...{TABLE}.tHead.querySelectorAll('[aria-sort]')]"
                           ".filter(h => h.ariaSort !== 'none').map(h => [h.textContent.trim(), h.ariaSort])")

    def test_sorted_by_any_column_with_the_keyboard(self):
        self.open("study/index.html")
        self.assertEqual(self.order(), [["Rank", "ascending"]])
        heads = self.run_in(f"[...{TABLE}.tHead.rows[0].cells].map(h => h.textContent.trim())")
        self.assertEqual(len(heads), 8 + 6)
        numbers = lambda words: [float(re.search(r"-?[\d.]+", w).group()) for w in words]
        for name in ("Score", "Required margin", "climbing", "static height"):
            self.sort_by(name)
            up = numbers(self.column(name))
            self.assertEqual(up, sorted(up), name)
            self.assertEqual([a for _, a in self.order()], ["ascending"])
            self.sort_by(name)
            self.assertEqual(numbers(self.column(name)), sorted(up, reverse=True), name)
            self.assertEqual([a for _, a in self.order()], ["descending"])
        self.assertGreater(len(set(numbers(self.column("climbing")))), 1)
        self.sort_by("Rank")
        self.assertEqual(self.column("Rank"), ["1", "2", "3", "4"])
        self.assertEqual(self.column("Layout"), ["3-0", "14-1", "25-2", "36-0"])
        self.sort_by("Layout")  # by number, not by sign: 3 before 14
        self.assertEqual(self.column("Layout"), ["3-0", "14-1", "25-2", "36-0"])

    def test_filtered(self):
        self.open("study/index.html")
        whole = self.column("Rank")
        with open(self.folder / "study/shortlist.csv", encoding="utf-8", newline="") as file:
            met = [row["rank"] for row in csv.DictReader(file) if row["musts_met"] == "4"]  # two targets, two rules
        self.assertTrue(0 < len(met) < len(whole))
        self.focus("[...document.querySelectorAll('label')].find(l => l.textContent.includes('every requirement')).control")
        self.browser.key(" ")
        self.assertEqual(self.column("Rank"), met)
        self.assertFalse(any("✗" in words for words in self.column("Requirements met")))
        self.assertEqual(self.run_in("document.querySelector('[role=status]').textContent"), f"{len(met)} of 4 shown.")
        self.assertEqual(self.run_in("[...document.querySelectorAll('ol.accounts > li')].filter(l => !l.hidden).length"), len(met))
        self.browser.key(" ")
        self.assertEqual(self.column("Rank"), whole)

    def test_by_linkage(self):
        choice = "[...document.querySelectorAll('label')].find(l => l.textContent.startsWith('of '))"
        self.open("linkages/index.html")
        self.assertFalse(self.run_in(f"!!{choice}"))  # all four are of one linkage: nothing to choose
        self.open("two/index.html")
        wanted = [name for name in self.column("Linkage") if name.startswith("Single")]
        self.assertTrue(0 < len(wanted) < 4)
        self.run_in(f"{choice}.control.value = {wanted[0]!r}; {choice}.control.dispatchEvent(new Event('change'))")
        self.assertEqual(self.column("Linkage"), wanted)

    def test_the_same_table_without_scripts(self):
        self.open("study/index.html")
        cells = f"[...{TABLE}.tBodies[0].rows].map(r => [...r.cells].map(c => c.textContent))"
        with_scripts = self.run_in(cells)
        self.browser.ask("Emulation.setScriptExecutionDisabled", value=True)
        self.browser.ask("Page.reload")
        self.browser.wait_for("Page.loadEventFired")
        self.assertEqual(self.run_in(cells), with_scripts)
        self.assertEqual(self.run_in(f"document.querySelectorAll('main button, .preview').length"), 0)

    def test_a_layout_moves_while_its_link_is_pointed_at(self):
        self.open("study/index.html")
        card = "document.querySelector('.preview')"
        self.assertTrue(self.run_in(f"{card}.hidden"))
        self.run_in(f"{TABLE}.scrollIntoView()")
        self.browser.settle()  # whatever scrolls hides it, also when the page hears of that late
        x, y = self.run_in(f"""(() => {{ const r = {TABLE}.tBodies[0].rows[1].cells[1].firstChild.getBoundingClientRect();
            return [r.x + r.width / 2, r.y + r.height / 2]; }})()""")
        self.browser.mouse("mouseMoved", x, y)
        self.browser.settle()
        self.assertFalse(self.run_in(f"{card}.hidden"))
        self.assertRegex(self.run_in(f"{card}.textContent"), r"^Layout 14-1, wheel travel \d+ mm$")
        shapes = f"[...{card}.querySelectorAll('polygon, polyline')].map(n => n.getAttribute('points')).join('|')"
        before = self.run_in(shapes)
        self.assertNotIn("NaN", before)
        self.run_in("new Promise(done => setTimeout(done, 700))")
        self.assertNotEqual(self.run_in(shapes), before)
        self.browser.key("Escape")
        self.assertTrue(self.run_in(f"{card}.hidden"))
        for width in WIDTHS:  # within the window, and not over the link
            self.browser.resize(width, 700)
            self.focus(f"{TABLE}.tBodies[0].rows[2].cells[0].querySelector('a')")
            self.browser.settle()
            self.run_in("document.activeElement.blur()")
            self.focus(f"{TABLE}.tBodies[0].rows[2].cells[0].querySelector('a')")
            own, link = self.run_in(f"""[{card}, document.activeElement].map(n => {{ const r = n.getBoundingClientRect();
                return [r.left, r.top, r.right, r.bottom]; }})""")
            self.assertTrue(0 <= own[0] and own[2] <= width and 0 <= own[1] and own[3] <= 700, (width, own))
            apart = own[0] >= link[2] or own[1] >= link[3] or own[3] <= link[1] or own[2] <= link[0]
            self.assertTrue(apart, (width, own, link))

    def test_it_stands_still_for_who_asks_for_that(self):
        self.browser.ask("Emulation.setEmulatedMedia", features=[{"name": "prefers-reduced-motion", "value": "reduce"}])
        self.open("study/index.html")
        self.focus(f"{TABLE}.tBodies[0].rows[0].cells[0].querySelector('a')")
        words = self.run_in("document.querySelector('.preview').textContent")
        self.run_in("new Promise(done => setTimeout(done, 500))")
        self.assertEqual(self.run_in("document.querySelector('.preview').textContent"), words)


class Layout(Case):
    def test_slider_keys_and_wheel(self):
        self.open("study/layouts/01/index.html")
        slider, place = "document.getElementById('motion-travel')", "document.getElementById('motion-place').textContent"
        shapes = "[...document.querySelectorAll('#motion-drawing polygon')].map(n => n.getAttribute('points')).join('|')"
        at_sag, before = float(self.run_in(f"{slider}.value")), self.run_in(shapes)
        self.focus(slider)
        self.browser.key("ArrowRight")
        self.assertEqual(float(self.run_in(f"{slider}.value")), at_sag + 1)
        self.assertNotEqual(self.run_in(shapes), before)
        self.assertEqual(self.run_in(f"{slider}.getAttribute('aria-valuetext')"), self.run_in(place))
        self.browser.key("ArrowLeft")
        self.assertEqual(self.run_in(shapes), before)
        last = self.run_in(f"{slider}.max")
        self.run_in(f"{slider}.value = {last}; {slider}.dispatchEvent(new Event('input'))")
        travel = float(re.match(r"[\d.]+", self.run_in(place)).group())
        rows = (self.folder / "study/layouts/01/curves.csv").read_text().splitlines()
        column = rows[0].split(",").index("travel_mm")
        self.assertAlmostEqual(travel, float(rows[-1].split(",")[column]), delta=0.051)
        # The rear wheel follows the mouse.
        self.run_in("document.getElementById('motion-drawing').scrollIntoView({block: 'center'})")
        x, y, scale = self.run_in("""(() => { const s = document.querySelector('#motion-drawing svg'), m = s.getScreenCTM();
            const d = JSON.parse(document.getElementById('motion-data').textContent), j = d.parts.joints;
            const at = d.stations[d.stations.length - 1], k = at.length - 2 * (j.length - j.findIndex(n => n.name === d.axle));
            const p = new DOMPoint(at[k], -at[k + 1]).matrixTransform(m); return [p.x, p.y, m.d]; })()""")
        self.browser.drag((x, y), (x, y + 60 * scale))
        self.assertLess(float(re.match(r"[\d.]+", self.run_in(place)).group()), travel - 40)

    def test_lines_of_forces_are_shown_when_asked_for_and_are_in_the_picture_then(self):
        self.open("study/layouts/01/index.html")
        box = "document.querySelector('[data-show=forces]')"
        shown = """[...document.querySelectorAll('#motion-drawing polyline.force, #motion-drawing circle.force')]
            .filter(n => n.checkVisibility({visibilityProperty: true}))"""
        self.assertEqual(self.run_in(f"{shown}.length"), 0)
        self.focus(box)
        self.browser.key(" ")
        self.assertEqual(self.run_in(f"{shown}.length"), 4)  # load transfer, braking, driving in one gear, centre of gravity
        edge = "document.querySelector('#motion-drawing svg').getBoundingClientRect()"
        self.assertTrue(self.run_in(f"{shown}.every(n => {{ const r = n.getBoundingClientRect(), e = {edge};"
                                    "return r.left >= e.left && r.right <= e.right && r.top >= e.top && r.bottom <= e.bottom; })"))
        self.browser.key(" ")
        self.assertEqual(self.run_in(f"{shown}.length"), 0)

    def test_play_and_pause(self):
        self.open("study/layouts/01/index.html")
        self.focus("document.getElementById('motion-play')")
        values = set()
        self.browser.key("Enter")
        for _ in range(5):
            self.run_in("new Promise(done => setTimeout(done, 150))")
            values.add(self.run_in("document.getElementById('motion-travel').value"))
        self.assertGreater(len(values), 2)
        self.browser.key("Enter")
        self.assertEqual(self.run_in("document.getElementById('motion-play').textContent"), "Play")


class Everyone(Case):
    def test_no_page_is_wider_than_the_window(self):
        for page in self.pages():
            self.open(page)
            for width in WIDTHS:
                self.browser.resize(width, 800)
                self.browser.settle()
                self.assertLessEqual(self.run_in("document.documentElement.scrollWidth"), width, (page, width))

    def test_the_first_columns_stay(self):
        self.open("many/index.html")
        for width in WIDTHS:
            self.browser.resize(width, 800)
            self.browser.settle()
            box = f"{TABLE}.parentNode"
            self.run_in(f"{box}.scrollLeft = 0")
            before = self.run_in(f"[...{TABLE}.tBodies[0].rows[0].cells].slice(0, 2).map(c => c.getBoundingClientRect().left)")
            self.run_in(f"{box}.scrollLeft = 1e6")
            self.assertGreater(self.run_in(f"{box}.scrollLeft"), 100)
            after = self.run_in(f"[...{TABLE}.tBodies[0].rows[0].cells].slice(0, 2).map(c => c.getBoundingClientRect().left)")
            for a, b in zip(before, after):
                self.assertAlmostEqual(a, b, delta=1.0)
            # Its last column can be seen whole.
            edge, last = self.run_in(f"[{box}, {TABLE}.tBodies[0].rows[0].lastElementChild].map(n => n.getBoundingClientRect().right)")
            self.assertLessEqual(last, edge + 1.0)
            self.assertLessEqual(edge, width)

    def test_controls_have_names_and_all_are_reached_by_tab(self):
        for page in ("hostile/index.html", "hostile/layouts/01/index.html"):
            self.open(page)
            for node in self.browser.ask("Accessibility.getFullAXTree")["nodes"]:
                if node.get("role", {}).get("value") in ("button", "textbox", "combobox", "checkbox", "slider", "link", "region"):
                    self.assertTrue(node.get("name", {}).get("value"), (page, node))
            wanted = self.run_in("""[...document.querySelectorAll('a[href], button, input, select, summary, [tabindex="0"]')]
                .filter(n => !n.disabled && n.checkVisibility({visibilityProperty: true})).map((n, i) => n.dataset.i = i).length""")
            self.assertGreater(wanted, 15)
            reached = []
            for _ in range(wanted + 8):
                self.browser.key("Tab")
                reached.append(self.run_in("document.activeElement.dataset.i"))
            seen = [int(i) for i in reached if i is not None]
            self.assertEqual(set(seen), set(range(wanted)), page)
            self.assertEqual(seen[:wanted], sorted(seen[:wanted]), f"{page}: the order of focus is not that of the page")

    def test_contrast(self):
        """WCAG 2.1, success criterion 1.4.3, by its own formula: 4.5 for text. Words in drawings stand on white."""
        for page in ("linkages/index.html", "study/layouts/03/index.html", "study/layouts/03/summary.html"):
            self.open(page)
            poor = self.run_in("""(() => {
                const rgb = c => c.match(/[\\d.]+/g).map(Number);
                const linear = v => v / 255 <= 0.03928 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4;
                const light = c => { const [r, g, b] = rgb(c).map(linear); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
                const ground = n => { for (; n; n = n.parentElement) { const c = getComputedStyle(n).backgroundColor;
                  if (rgb(c)[3] !== 0) return c; } return 'rgb(255, 255, 255)'; };
                const poor = [];
                document.querySelectorAll('body *').forEach(n => {
                  const own = n.matches('input, select') || [...n.childNodes].some(c => c.nodeType === 3 && c.textContent.trim());
                  if (!own || n.matches('script, option, noscript, [type=range], [type=checkbox]') || !n.checkVisibility() || n.closest('#charts')) return;
                  const style = getComputedStyle(n), svg = n.closest('svg');
                  const a = light(svg ? style.fill : style.color), b = light(svg ? 'rgb(255, 255, 255)' : ground(n));
                  const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
                  if (ratio < 4.5) poor.push([n.outerHTML.slice(0, 100), ratio]);
                });
                return poor; })()""")
            self.assertEqual(poor, [], page)

    def test_structure(self):
        """What WAI-ARIA 1.2 and HTML ask for: one main, headings without a level left out, labels, no id twice."""
        for page in self.pages():
            self.open(page)
            found = self.run_in("""({
                language: document.documentElement.lang, title: document.title.trim().length > 0,
                mains: document.querySelectorAll('main').length, firsts: document.querySelectorAll('h1').length,
                levels: [...document.querySelectorAll('h1, h2, h3, h4')].filter(h => h.checkVisibility()).map(h => +h.tagName[1]),
                ids: [...document.querySelectorAll('[id]')].map(n => n.id),
                pictures: [...document.querySelectorAll('svg[role=img]')].filter(n => !n.getAttribute('aria-label') && !n.querySelector('title')).length,
                heads: [...document.querySelectorAll('thead th')].filter(h => h.scope !== 'col').length })""")
            self.assertEqual(found["language"], "en-GB")
            self.assertTrue(found["title"])
            self.assertEqual((found["mains"], found["firsts"], found["pictures"], found["heads"]), (1, 1, 0, 0), page)
            for a, b in zip(found["levels"], found["levels"][1:]):
                self.assertLessEqual(b, a + 1, (page, found["levels"]))
            self.assertEqual(len(found["ids"]), len(set(found["ids"])), page)


class Paper(Case):
    def pages_of_print(self):
        data = base64.b64decode(self.browser.ask("Page.printToPDF", printBackground=True, preferCSSPageSize=True,
                                                 paperWidth=210 / 25.4, paperHeight=297 / 25.4)["data"])
        # The root of the page tree counts them all, its nodes fewer (ISO 32000-1, 7.7.3.2).
        return max(int(n) for n in re.findall(rb"/Type\s*/Pages\b[^>]*?/Count\s+(\d+)", data))

    def test_no_table_is_cut_and_no_control_printed(self):
        for page in self.pages():
            self.open(page)
            self.browser.ask("Emulation.setEmulatedMedia", media="print")
            self.browser.resize(A4_UPRIGHT, 1000)
            self.browser.settle()
            cut = self.run_in(f"""[...document.querySelectorAll('table, table *, pre, figure, svg')].filter(n => n.checkVisibility()
                && (n.getBoundingClientRect().right > {A4_UPRIGHT} + 1)).map(n => n.outerHTML.slice(0, 120)).slice(0, 5)""")
            self.assertEqual(cut, [], page)
            self.assertEqual(self.run_in("""[...document.querySelectorAll('input, select, .preview, nav')]
                .filter(n => n.checkVisibility()).map(n => n.outerHTML.slice(0, 80))"""), [], page)
            self.browser.ask("Emulation.setEmulatedMedia", media="")

    def test_every_value_of_a_wide_shortlist_is_on_paper_under_its_name(self):
        self.open("many/index.html")
        self.browser.ask("Emulation.setEmulatedMedia", media="print")
        self.browser.resize(A4_UPRIGHT, 1000)
        names = self.run_in(f"[...{TABLE}.tBodies[0].rows[0].cells].map(c => [getComputedStyle(c, '::before').content, c.getBoundingClientRect().width > 20])")
        self.assertEqual(len(names), 8 + 20)
        self.assertIn('"climbing"', [name for name, _ in names])
        self.assertTrue(all(name.startswith('"') and len(name) > 2 and wide for name, wide in names), names)

    def test_pages_of_a_print(self):
        for path, least, most in (("study/index.html", 1, 4), ("many/index.html", 2, 5), ("none/index.html", 1, 2),
                                  ("study/layouts/01/index.html", 3, 7), ("study/layouts/01/summary.html", 1, 1)):
            self.open(path)
            count = self.pages_of_print()
            self.assertTrue(least <= count <= most, f"{path}: {count} pages")


class Names(Case):
    def test_hostile_names_are_text(self):
        for page in ("hostile/index.html", "hostile/layouts/01/index.html", "hostile/layouts/01/summary.html"):
            self.open(page)
            self.assertIn("<script>alert('x')</script>", self.run_in("document.body.innerText"))
            self.assertEqual(self.run_in("[...document.querySelectorAll('b, img')].length"), 0)
        self.open("hostile/index.html")
        self.assertIn("<b>bold</b>", self.run_in(f"{TABLE}.tHead.textContent"))
        self.assertIn("<b>bold</b>", self.run_in(f"[...{TABLE}.tBodies[0].rows[0].cells].map(c => c.dataset.of).join()"))

    def test_no_and_one_layout(self):
        self.open("none/index.html")
        self.assertIn("No layout came far enough", self.run_in("document.querySelector('main').innerText"))
        self.open("one/index.html")
        self.assertEqual(self.column("Rank"), ["1"])
        self.assertEqual(self.run_in("document.querySelectorAll('main input[type=checkbox]').length"
                                     " - document.querySelectorAll('#charts input').length"), 0)


if __name__ == "__main__":
    main("[.pages]")
