"""Shapes of a picture, and how they become SVG text or PNG octets."""
import struct
import sys
import zlib
from html import escape
from typing import NamedTuple

import cairo
import numpy as np

WIDTH, HEIGHT, SIZE, INK = 1180, 750, 13, "#222222"
PIXELS_PER_UNIT = 2
RADIUS, THICK = 4, 2


class Line(NamedTuple):
    x: float
    y: float
    to_x: float
    to_y: float
    colour: str

    def svg(self):
        return f'<path d="M{self.x:.1f} {self.y:.1f}L{self.to_x:.1f} {self.to_y:.1f}" stroke="{self.colour}"/>'

    def draw(self, to):
        to.move_to(self.x, self.y)
        to.line_to(self.to_x, self.to_y)
        to.stroke()


class Frame(NamedTuple):
    x: float
    y: float
    width: float
    height: float
    colour: str

    def svg(self):
        size = f'width="{self.width}" height="{self.height}"'
        return f'<rect x="{self.x}" y="{self.y}" {size} fill="none" stroke="{self.colour}"/>'

    def draw(self, to):
        to.rectangle(self.x, self.y, self.width, self.height)
        to.stroke()


class Square(NamedTuple):
    x: float
    y: float
    side: float
    colour: str

    def svg(self):
        return f'<rect x="{self.x}" y="{self.y}" width="{self.side}" height="{self.side}" fill="{self.colour}"/>'

    def draw(self, to):
        to.rectangle(self.x, self.y, self.side, self.side)
        to.fill()


class Circle(NamedTuple):
    x: float
    y: float
    colour: str

    def svg(self):
        return f'<circle cx="{self.x:.1f}" cy="{self.y:.1f}" r="{RADIUS}" fill="{self.colour}"/>'

    def draw(self, to):
        to.arc(self.x, self.y, RADIUS, 0, 6.2832)
        to.fill()


class Curve(NamedTuple):
    points: list
    colour: str

    def svg(self):
        return f'<polyline points="{listed(self.points)}" fill="none" stroke="{self.colour}" stroke-width="{THICK}"/>'

    def draw(self, to):
        for point in self.points:
            to.line_to(*point)
        to.set_line_width(THICK)
        to.stroke()
        to.set_line_width(1)


class Area(NamedTuple):
    points: list
    colour: str

    def svg(self):
        return f'<polygon points="{listed(self.points)}" fill="{self.colour}"/>'

    def draw(self, to):
        for point in self.points:
            to.line_to(*point)
        to.fill()


class Text(NamedTuple):
    x: float
    y: float
    content: str
    anchor: str = "start"
    colour: str = INK

    def svg(self):
        return f'<text x="{self.x:.1f}" y="{self.y:.1f}" text-anchor="{self.anchor}">{escape(self.content)}</text>'

    def draw(self, to):
        share = {"start": 0, "middle": 0.5, "end": 1}[self.anchor]
        to.move_to(self.x - share * (to.text_extents(self.content).x_advance if share else 0), self.y)
        to.show_text(self.content)


def listed(points):
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in points)


def svg(shapes):
    size = f'width="{WIDTH}" height="{HEIGHT}"'
    head = (f'<svg xmlns="http://www.w3.org/2000/svg" {size} font-family="sans-serif" font-size="{SIZE}" fill="{INK}">'
            f'<rect {size} fill="white"/>')
    return "\n".join([head, *(shape.svg() for shape in shapes), "</svg>\n"])


def png(shapes):
    """Eight bits each of red, green and blue, two pixels per unit."""
    surface = cairo.ImageSurface(cairo.FORMAT_RGB24, WIDTH * PIXELS_PER_UNIT, HEIGHT * PIXELS_PER_UNIT)
    to = cairo.Context(surface)
    to.scale(PIXELS_PER_UNIT, PIXELS_PER_UNIT)
    to.set_source_rgb(1, 1, 1)
    to.paint()
    to.select_font_face("sans-serif")
    to.set_font_size(SIZE)
    to.set_line_width(1)
    for shape in shapes:
        to.new_path()
        to.set_source_rgb(*(int(shape.colour[i : i + 2], 16) / 255 for i in (1, 3, 5)))
        shape.draw(to)
    pixels = np.frombuffer(surface.get_data(), np.uint8).reshape(surface.get_height(), surface.get_width(), 4)
    return encoded(pixels[:, :, 2::-1] if sys.byteorder == "little" else pixels[:, :, 1:])


def encoded(pixels):
    """PNG (ISO/IEC 15948) of an array of shape (height, width, 3): each row as its difference from the one above."""
    height, width, _ = pixels.shape
    rows = np.empty((height, 1 + 3 * width), np.uint8)
    rows[:, 0] = 2
    rows[0, 1:] = pixels[0].ravel()
    rows[1:, 1:] = (pixels[1:] - pixels[:-1]).reshape(height - 1, -1)
    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    chunks = (b"IHDR", header), (b"IDAT", zlib.compress(rows, 1)), (b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data)) for name, data in chunks)
