"""Debian's Chromium without a window, driven over a pipe in the Chrome DevTools Protocol: real mouse and key events, what
a page asks for, what it logs. Needs nothing but Python with numpy and the browser."""
import base64
import fcntl
import json
import os
import pathlib
import select
import shutil
import struct
import subprocess
import tempfile
import time
import zlib

import numpy

KEYS = {"ArrowLeft": 37, "ArrowUp": 38, "ArrowRight": 39, "ArrowDown": 40, "Enter": 13, "Delete": 46, "Tab": 9, "Escape": 27}
ALT, CONTROL, SHIFT = 1, 2, 8


def pixels_of(png):
    """Red, green and blue, row by row, of a PNG with 8 bits a channel, as the browser takes its screenshots."""
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    at, data, head = 8, b"", None
    while at < len(png):
        length, kind = struct.unpack(">I4s", png[at:at + 8])
        content = png[at + 8:at + 8 + length]
        head = struct.unpack(">IIBBBBB", content) if kind == b"IHDR" else head
        data += content if kind == b"IDAT" else b""
        at += 12 + length
    width, height, depth, colour, _, _, interlaced = head
    assert depth == 8 and colour in (2, 6) and not interlaced
    size = 3 if colour == 2 else 4
    raw, stride = numpy.frombuffer(zlib.decompress(data), numpy.uint8), width * size
    lines = raw.reshape(height, stride + 1)
    out, above = numpy.empty((height, stride), numpy.uint8), numpy.zeros(stride, numpy.uint8)
    for y in range(height):
        out[y] = above = unfiltered(int(lines[y, 0]), lines[y, 1:], above, size)
    return out.reshape(height, width, size)[:, :, :3]


def unfiltered(kind, line, above, size):
    """A row without its filter (ISO/IEC 15948, 9.2)."""
    if kind == 0:
        return line
    if kind == 1:
        return numpy.cumsum(line.reshape(-1, size), axis=0, dtype=numpy.uint8).reshape(-1)
    if kind == 2:
        return line + above
    done, over = line.tolist(), above.tolist()
    for x in range(len(done)):
        left, corner = (done[x - size], over[x - size]) if x >= size else (0, 0)
        if kind == 3:
            guess = (left + over[x]) // 2
        else:
            steps = abs(over[x] - corner), abs(left - corner), abs(left + over[x] - 2 * corner)
            guess = left if steps[0] <= steps[1] and steps[0] <= steps[2] else over[x] if steps[1] <= steps[2] else corner
        done[x] = (done[x] + guess) & 255
    return numpy.array(done, numpy.uint8)


class Browser:
    """One window, and one page in it at a time. `close` ends it."""

    def __init__(self, width=1280, height=900):
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="trammel-browser-"))
        self.downloads = self.folder / "downloads"
        self.downloads.mkdir()
        # What the browser reads and writes are its descriptors 3 and 4; ours are kept clear of these.
        ends = []
        for _ in range(2):
            pair = os.pipe()
            ends.append([fcntl.fcntl(end, fcntl.F_DUPFD_CLOEXEC, 20) for end in pair])
            for end in pair:
                os.close(end)
        (theirs_in, self.to), (self.back, theirs_out) = ends
        command = [shutil.which("chromium") or "chromium", "--headless=new", "--remote-debugging-pipe", "--disable-gpu",
                   "--no-first-run", "--disable-dev-shm-usage", "--hide-scrollbars", "--disable-background-networking",
                   f"--user-data-dir={self.folder / 'profile'}", f"--window-size={width},{height}"]
        if os.geteuid() == 0:
            command.append("--no-sandbox")  # it refuses to start as root otherwise
        self.process = subprocess.Popen(
            ["bash", "-c", f'exec "$@" 3<&{theirs_in} 4>&{theirs_out} {theirs_in}<&- {theirs_out}>&-', "bash", *command,
             "about:blank"],
            pass_fds=(theirs_in, theirs_out), stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL, env={**os.environ, "HOME": str(self.folder)})
        os.close(theirs_in)
        os.close(theirs_out)
        self.number, self.rest, self.events, self.session = 0, b"", [], None
        try:
            self.attach(width, height)
        except BaseException:
            self.close()
            raise

    def attach(self, width, height):
        target = self.ask("Target.createTarget", url="about:blank")["targetId"]
        self.session = self.ask("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        for domain in ("Page", "Runtime", "Network", "Log"):
            self.ask(domain + ".enable")
        self.ask("Browser.setDownloadBehavior", behavior="allow", downloadPath=str(self.downloads), browser=True)
        self.resize(width, height)

    def close(self):
        try:
            self.ask("Browser.close", browser=True)
            self.process.wait(10)
        except (OSError, RuntimeError, subprocess.TimeoutExpired):
            self.process.kill()
            self.process.wait()
        for end in (self.to, self.back):
            os.close(end)
        shutil.rmtree(self.folder, ignore_errors=True)

    def receive(self, until):
        """The next message, or None when none comes in time."""
        while b"\0" not in self.rest:
            if not select.select([self.back], [], [], max(0.0, until - time.monotonic()))[0]:
                return None
            more = os.read(self.back, 1 << 20)
            if not more:
                raise RuntimeError("the browser has ended")
            self.rest += more
        message, self.rest = self.rest.split(b"\0", 1)
        return json.loads(message)

    def send(self, method, browser=False, **parameters):
        self.number += 1
        message = {"id": self.number, "method": method, "params": parameters}
        if self.session and not browser:
            message["sessionId"] = self.session
        data = json.dumps(message).encode() + b"\0"
        while data:
            data = data[os.write(self.to, data):]
        return self.number

    def note(self, message):
        """Keeps an event. A page that asks whether to leave it is left."""
        if "method" in message:
            self.events.append(message)
        if message.get("method") == "Page.javascriptDialogOpening":
            self.send("Page.handleJavaScriptDialog", accept=True)

    def ask(self, method, browser=False, **parameters):
        number = self.send(method, browser, **parameters)
        until = time.monotonic() + 60
        while True:
            answer = self.receive(until)
            if answer is None:
                raise RuntimeError(f"{method}: no answer in a minute")
            if answer.get("id") == number:
                if "error" in answer:
                    raise RuntimeError(f"{method}: {answer['error']}")
                return answer["result"]
            self.note(answer)

    def wait_for(self, method, seconds=30):
        until = time.monotonic() + seconds
        while True:
            for event in self.events:
                if event["method"] == method:
                    self.events.remove(event)
                    return event["params"]
            message = self.receive(until)
            if message is None:
                raise RuntimeError(f"{method} did not come in {seconds} s")
            self.note(message)

    def resize(self, width, height, density=1.0):
        self.ask("Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=density, mobile=False)

    def open(self, path):
        self.ask("Page.navigate", url=pathlib.Path(path).resolve().as_uri())
        self.wait_for("Page.loadEventFired")
        self.run("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")

    def run(self, expression):
        """The value of an expression in the page, after promises."""
        answer = self.ask("Runtime.evaluate", expression=expression, awaitPromise=True, returnByValue=True)
        if "exceptionDetails" in answer:
            raise RuntimeError(f"{expression}: {answer['exceptionDetails']}")
        return answer["result"].get("value")

    def complaints(self):
        """What the page has logged and thrown so far."""
        self.run("0")
        bad = ("Runtime.exceptionThrown", "Runtime.consoleAPICalled", "Log.entryAdded")
        return [event["params"] for event in self.events if event["method"] in bad]

    def requests(self):
        """Addresses that the page asked for."""
        return [event["params"]["request"]["url"] for event in self.events
                if event["method"] == "Network.requestWillBeSent"]

    def screenshot(self, x=None, y=None, width=None, height=None):
        """A PNG of the window, or of a part of it."""
        part = {} if x is None else {"clip": {"x": x, "y": y, "width": width, "height": height, "scale": 1}}
        return base64.b64decode(self.ask("Page.captureScreenshot", format="png", **part)["data"])

    def set_files(self, selector, *paths):
        """As if chosen in the window that a file field opens."""
        root = self.ask("DOM.getDocument")["root"]["nodeId"]
        node = self.ask("DOM.querySelector", nodeId=root, selector=selector)["nodeId"]
        self.ask("DOM.setFileInputFiles", nodeId=node, files=[str(path) for path in paths])

    def settle(self):
        self.run("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")

    def mouse(self, kind, x, y, **more):
        self.ask("Input.dispatchMouseEvent", type=kind, x=x, y=y, **more)

    def click(self, x, y, modifiers=0):
        self.drag((x, y), (x, y), modifiers)

    def drag(self, start, end, modifiers=0):
        pressed = {"button": "left", "clickCount": 1, "modifiers": modifiers}
        self.mouse("mouseMoved", *start)
        self.mouse("mousePressed", *start, **pressed)
        if end != start:
            for share in (0.3, 0.7, 1.0):
                self.mouse("mouseMoved", *(a + share * (b - a) for a, b in zip(start, end)), buttons=1, **pressed)
        self.mouse("mouseReleased", *end, **pressed)
        self.settle()

    def wheel(self, x, y, notches):
        """Away from the user is positive."""
        for _ in range(abs(notches)):
            self.mouse("mouseWheel", x, y, deltaX=0, deltaY=-120 if notches > 0 else 120)
        self.settle()

    def key(self, name, modifiers=0):
        code = KEYS.get(name, ord(name.upper()) if len(name) == 1 else 0)
        what = {"key": name, "modifiers": modifiers, "windowsVirtualKeyCode": code}
        if len(name) == 1 and not modifiers & (ALT | CONTROL):
            what["text"] = name
        if name == "Enter":
            what["text"] = "\r"
        self.ask("Input.dispatchKeyEvent", type="keyDown", **what)
        self.ask("Input.dispatchKeyEvent", type="keyUp", key=name, modifiers=modifiers, windowsVirtualKeyCode=code)
        self.settle()

    def type(self, text):
        self.ask("Input.insertText", text=text)
