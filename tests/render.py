"""Render DXF sheets to PNG with ezdxf's drawing add-on: `python -m tests.render A.dxf`.

For the benchmark: what a general renderer takes for the same sheets, at 150 dots an
inch, its settings those that the reference found true (lineweights in mm, page kept).
"""

from __future__ import annotations

import io
import sys

import ezdxf
from ezdxf.addons.drawing import Frontend, RenderContext
from ezdxf.addons.drawing.config import ColorPolicy, Configuration, LinePolicy
from ezdxf.addons.drawing.matplotlib import MatplotlibBackend
from ezdxf.document import Drawing
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

DPI = 150


def picture_of(document: Drawing, lines: LinePolicy = LinePolicy.SOLID) -> bytes:
    """Return a sheet's layout as a picture, its line widths true, the page as it is."""
    layout = next(each for each in document.layouts if each.name != "Model")
    low, high = layout.get_paper_limits()
    inch = 1.0 if document.header["$INSUNITS"] == 1 else 25.4
    figure = Figure(
        figsize=((high[0] - low[0]) / inch, (high[1] - low[1]) / inch), dpi=DPI
    )
    canvas = FigureCanvasAgg(figure)
    axes = figure.add_axes((0, 0, 1, 1))
    config = Configuration(
        color_policy=ColorPolicy.COLOR,
        line_policy=lines,
        lineweight_scaling=72 / 25.4,
        min_lineweight=0.05,
    )
    backend = MatplotlibBackend(axes, adjust_figure=False)
    Frontend(RenderContext(document), backend, config=config).draw_layout(layout)
    axes.set_aspect("auto")
    axes.set_xlim(low[0], high[0])
    axes.set_ylim(low[1], high[1])
    stream = io.BytesIO()
    canvas.print_png(stream)
    return stream.getvalue()


def render(path: str) -> bytes:
    """Return a file's sheet as a picture."""
    return picture_of(ezdxf.readfile(path), LinePolicy.ACCURATE)


if __name__ == "__main__":
    for name in sys.argv[1:]:
        print(name, len(render(name)))
