"""A side view of an invented bike as a PNG, in which every point lies where it was put: the picture that
picture_test.py reads. Written with numpy and zlib alone (PNG: ISO/IEC 15948)."""
import math
import struct
import zlib

import numpy

# Frame axes, mm: a four-bar with the axle on the coupler, topped out.
WHEEL = 371.0
POINTS = {
    "axle": (-438.0, 30.0), "main": (-8.0, 55.0), "stay": (-391.0, 21.0), "rocker": (-62.0, 318.0), "tail": (-140.0, 335.0),
    "eye": (-32.0, 362.0), "mount": (93.0, 193.5),
}
BRACKET, FRONT = (0.0, 0.0), (806.0, 30.0)
SHOCK = math.hypot(93.0 + 32.0, 193.5 - 362.0)
# Each point's mark has a colour that nothing else in the picture has.
MARKS = {"bottom bracket": BRACKET, "front axle": FRONT, **POINTS}
COLOURS = {name: (255, 40 * (i % 5), 60 * (i // 5) + 60) if i % 2 else (40 * (i % 5), 255, 60 * (i // 5) + 60)
           for i, name in enumerate(MARKS)}
LINES = [("main", "stay"), ("stay", "axle"), ("axle", "tail"), ("rocker", "tail"), ("rocker", "eye"), ("eye", "mount")]


class View:
    """How it was taken: `scale` px a millimetre, turned by `turn` rad counter-clockwise, the bottom bracket at `centre`."""

    def __init__(self, width=1600, height=1000, scale=0.78, turn=0.02, centre=(655.25, 640.75), left=False):
        self.width, self.height, self.scale, self.turn, self.centre, self.left = width, height, scale, turn, centre, left

    def pixel(self, point):
        x, y = (-point[0] if self.left else point[0]), point[1]
        across = x * math.cos(self.turn) - y * math.sin(self.turn)
        up = x * math.sin(self.turn) + y * math.cos(self.turn)
        return self.centre[0] + self.scale * across, self.centre[1] - self.scale * up  # rows are counted downwards

    def png(self):
        # A pixel is coloured by its middle: the middle of the first one is at [0.5, 0.5].
        y, x = numpy.mgrid[0:self.height, 0:self.width] + 0.5
        out = numpy.empty((self.height, self.width, 3), numpy.uint8)
        out[:] = 235
        for wheel in ("axle", "front axle"):
            cx, cy = self.pixel(MARKS[wheel])
            out[abs(numpy.hypot(x - cx, y - cy) - WHEEL * self.scale) < 2.5] = 90
        for a, b in LINES:
            (ax, ay), (bx, by) = self.pixel(MARKS[a]), self.pixel(MARKS[b])
            along = numpy.clip(((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2), 0, 1)
            out[numpy.hypot(x - ax - along * (bx - ax), y - ay - along * (by - ay)) < 2.0] = 130
        for name, place in MARKS.items():
            cx, cy = self.pixel(place)
            out[numpy.hypot(x - cx, y - cy) < 5.0] = COLOURS[name]
        return png_of(out)


def png_of(rows):
    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
    height, width = rows.shape[:2]
    raw = b"".join(b"\0" + rows[y].tobytes() for y in range(height))
    return (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)) +
            chunk(b"IDAT", zlib.compress(raw, 1)) + chunk(b"IEND", b""))
