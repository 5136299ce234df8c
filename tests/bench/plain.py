"""The least a set takes: its libraries loaded, its files made, nothing worked out.

A program of its own: `python tests/bench/plain.py RECORD [FOLDER]`. The record (see
`floor`) is pickled beforehand, of built-in types alone: modules to import, and files by
name with what stands in them. Nothing of ours is loaded. Ink is in inches; a document's
is as it was found. Cycles are not collected, as the command does not either.
"""

from __future__ import annotations

import gc
import pickle
import sys
from functools import cache
from importlib import import_module
from math import cos, radians, sin
from pathlib import Path
from typing import Any

DPI, POINTS = 150, 72
COMPRESSION = 3
"""Of a picture: quicker than the library's usual 6, and than less of it."""
Record = dict[str, Any]


def main(record_file: str, folder: str = "") -> None:
    """Import what the record names, and make the files that it holds."""
    gc.disable()
    record: Record = pickle.loads(Path(record_file).read_bytes())
    for name in record["imports"]:
        import_module(name)
    for kind, write in WRITERS.items():
        for name, content in record.get(kind, {}).items():
            write(content, Path(folder) / name)
    gc.freeze()


def save_document(record: Record, path: Path) -> None:
    """Build a DXF document of its entities, and save it."""
    import ezdxf

    document = ezdxf.new(record["release"], units=record["units"])
    for name, pattern in record["linetypes"]:
        document.linetypes.add(name, pattern)
    for name, attributes in record["layers"]:
        document.layers.new(name, attributes)
    for name, font in record["styles"]:
        document.styles.add(name, font=font)
    for name, attributes in record["dimension_styles"]:
        document.dimstyles.new(name, attributes)
    for name, entities in record["blocks"]:
        fill(document.blocks.new(name), entities)
    fill(document.modelspace(), record["model"])
    for name, size, units, entities in record["layouts"]:
        layout = document.layouts.new(name)
        layout.page_setup(size=size, margins=(0, 0, 0, 0), units=units, device="None")
        fill(layout, entities)
        document.layouts.set_active_layout(name)
        document.layouts.delete("Layout1")
    document.saveas(path)


def fill(space: Any, entities: list[tuple[Any, ...]]) -> None:
    """Add entities to model space, a layout or a block, each kind by its own call."""
    for kind, attributes, *rest in entities:
        if kind == "LWPOLYLINE":
            points, closed = rest
            space.add_lwpolyline(points, close=closed, dxfattribs=attributes)
        elif kind == "TEXT":
            space.add_text(*rest, dxfattribs=attributes)
        elif kind == "HATCH":
            points, transparency, pattern = rest
            hatch = space.add_hatch(dxfattribs=attributes)
            if pattern:
                name = attributes["pattern_name"]
                hatch.set_pattern_fill(name, definition=pattern)
            else:
                hatch.transparency = transparency
            hatch.paths.add_polyline_path(points, is_closed=True)
        elif kind == "INSERT":
            block, at, tags = rest
            insert = space.add_blockref(block, at, attributes)
            for tag, text, its_attributes in tags:
                insert.add_attrib(tag, text, dxfattribs=its_attributes)
        elif kind == "ATTDEF":
            space.add_attdef(*rest, dxfattribs=attributes)
        elif kind == "VIEWPORT":
            space.add_viewport(*rest, dxfattribs=attributes)
        else:
            base, start, end, angle, words, style, scale = rest
            space.add_linear_dim(
                base,
                start,
                end,
                angle=angle,
                text=words,
                dimstyle=style,
                override={"dimscale": scale},
                dxfattribs=attributes,
            ).render()


def save_picture(page: Record, path: Path) -> None:
    """Draw a page as a picture, in greys of eight bits."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from PIL import Image

    figure = figure_of(page, [letters_of(page)] if page["letters"] else [])
    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    size, pixels = canvas.get_width_height(), canvas.buffer_rgba()
    picture = Image.frombuffer("RGBA", size, pixels, "raw", "RGBA", 0, 1).convert("L")
    picture.save(path, dpi=(DPI, DPI), compress_level=COMPRESSION)


def figure_of(page: Record, over: list[Any]) -> Any:
    """Return a page with its areas, a collection of lines a pen, and what is over."""
    from matplotlib.collections import LineCollection, PolyCollection
    from matplotlib.figure import Figure

    put: list[Any] = [
        PolyCollection(rings, facecolors=colours, alpha=alpha, linewidths=0)
        for colours, alpha, rings in page["areas"]
    ]
    for colour, width, dashes, lines in page["lines"]:
        style = (0, tuple(x / width for x in dashes)) if dashes else "solid"
        pen = {"colors": colour, "linewidths": width, "linestyles": [style]}
        put.append(LineCollection(lines, capstyle="butt", joinstyle="miter", **pen))
    figure = Figure(figsize=page["size"], dpi=DPI)
    for order, artist in enumerate([*put, *over]):
        artist.set(transform=figure.dpi_scale_trans, zorder=order)
        figure.add_artist(artist)
    return figure


def letters_of(page: Record) -> Any:
    """Return all lettering as one collection of outlines, each glyph's made once."""
    import numpy as np
    from matplotlib.collections import PathCollection
    from matplotlib.path import Path as Outline
    from matplotlib.transforms import IdentityTransform

    paths, colours = [], []
    for text, foot, em, angle_deg, colour in page["letters"]:
        points, codes = outline_of(text)
        if angle_deg:
            cosine, sine = cos(radians(angle_deg)), sin(radians(angle_deg))
            points = points @ np.array(((cosine, sine), (-sine, cosine)))
        paths.append(Outline(points * em + foot, codes))
        colours.append(colour)
    unmoved = IdentityTransform()
    return PathCollection(
        paths, facecolors=colours, linewidths=0, offset_transform=unmoved
    )


@cache
def outline_of(text: str) -> tuple[Any, Any]:
    """Return the points and codes of a line of text, an em being one."""
    import numpy as np

    points, codes, x = [], [], 0.0
    for sign in text:
        its_points, its_codes, advance = glyph(sign)
        points.append(np.add(its_points, (x, 0.0)))
        codes.append(its_codes)
        x += advance
    return np.concatenate(points), np.concatenate(codes)


@cache
def glyph(sign: str) -> tuple[Any, Any, float]:
    """Return a sign's points, codes and advance, an em being one."""
    from matplotlib.font_manager import get_font
    from matplotlib.ft2font import LoadFlags

    em = 100.0
    font = get_font(font_file())
    font.set_size(em, POINTS)
    advance = font.load_char(ord(sign), flags=LoadFlags.NO_HINTING).linearHoriAdvance
    points, codes = font.get_path()
    return points.reshape(-1, 2) / em, codes, advance / 0x10000 / em


@cache
def font_file() -> str:
    """Return the font that matplotlib ships."""
    import matplotlib

    return f"{matplotlib.get_data_path()}/fonts/ttf/DejaVuSans.ttf"


def save_plotted_pages(pages: list[Record], path: Path) -> None:
    """Write pages as PDF by matplotlib, the lettering of each by one artist."""
    from matplotlib.artist import Artist
    from matplotlib.backends.backend_pdf import PdfPages
    from matplotlib.font_manager import FontProperties

    properties = cache(lambda size: FontProperties(fname=font_file(), size=size))

    class Lettering(Artist):
        def __init__(self, letters: list[tuple[Any, ...]]) -> None:
            super().__init__()
            self.letters = letters

        def draw(self, renderer: Any) -> None:
            context = renderer.new_gc()
            for text, (x, y), em, angle_deg, colour in self.letters:
                context.set_foreground(colour)
                size, foot = properties(em * POINTS), (x * POINTS, y * POINTS)
                renderer.draw_text(context, *foot, text, size, angle_deg)
            context.restore()

    with PdfPages(path) as file:
        for page in pages:
            file.savefig(figure_of(page, [Lettering(page["letters"])]))


def save_pages(pages: list[Record], path: Path) -> None:
    """Write pages as PDF by reportlab."""
    from reportlab.lib.colors import Color, HexColor
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

    if "letters" not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(TTFont("letters", font_file()))
    colour_of = cache(HexColor)
    canvas = Canvas(str(path), pageCompression=1)
    for page in pages:
        wide, high = page["size"]
        canvas.setPageSize((wide * POINTS, high * POINTS))
        for colours, alpha, rings in page["areas"]:
            each = [colours] * len(rings) if isinstance(colours, str) else colours
            for colour, ring in zip(each, rings, strict=True):
                canvas.setFillColor(Color(*colour_of(colour).rgb(), alpha=alpha or 1))
                trace(canvas, [[*ring, ring[0]]], stroke=0, fill=1)
        for colour, width, dashes, lines in page["lines"]:
            canvas.setStrokeColor(colour_of(colour))
            canvas.setLineWidth(width)
            canvas.setDash(dashes)
            trace(canvas, lines)
        words = canvas.beginText()
        for text, (x, y), em, angle_deg, colour in page["letters"]:
            cosine, sine = cos(radians(angle_deg)), sin(radians(angle_deg))
            words.setFillColor(colour_of(colour))
            words.setFont("letters", em * POINTS)
            words.setTextTransform(cosine, sine, -sine, cosine, x * POINTS, y * POINTS)
            words.textOut(text)
        canvas.drawText(words)
        canvas.showPage()
    canvas.save()


def trace(canvas: Any, lines: list[Any], **how: int) -> None:
    """Draw lines as one path."""
    path = canvas.beginPath()
    for (x, y), *rest in lines:
        path.moveTo(x * POINTS, y * POINTS)
        for x, y in rest:
            path.lineTo(x * POINTS, y * POINTS)
    canvas.drawPath(path, **how)


WRITERS = {
    "documents": save_document,
    "pictures": save_picture,
    "plotted pages": save_plotted_pages,
    "pages": save_pages,
}
"""What makes the files of each of a record's kinds, in this order."""


if __name__ == "__main__":
    main(*sys.argv[1:])
