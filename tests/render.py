"""Render DXF sheets to PNG with ezdxf's drawing add-on: `python -m tests.render A.dxf`.

For the benchmark: what a general renderer takes for the same sheets, at 150 dots an
inch, its settings those that the reference found true (lineweights in mm, page kept).
"""

from __future__ import annotations

import io
import sys

import ezdxf
from ezdxf.addons.drawing import Frontend, RenderContext
from ezdxf.addons.drawing.config import ColorPolicy, Configuration
from ezdxf.addons.drawing.matplotlib import MatplotlibBackend
from ezdxf.document import Drawing
from ezdxf.layouts import Layout
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

DPI = 150


def draw_on(
    axes: Axes, document: Drawing, layout: Layout, colours: ColorPolicy
) -> None:
    """Draw a layout of a document, its line widths true and the page as it is."""
    config = Configuration(
        color_policy=colours, lineweight_scaling=72 / 25.4, min_lineweight=0.05
    )
    backend = MatplotlibBackend(axes, adjust_figure=False)
    Frontend(RenderContext(document), backend, config=config).draw_layout(layout)
    axes.set_aspect("auto")


def render(path: str) -> bytes:
    """Return a sheet's layout as a picture."""
    document = ezdxf.readfile(path)
    layout = next(each for each in document.layouts if each.name != "Model")
    low, high = layout.get_paper_limits()
    inch = 1.0 if document.header["$INSUNITS"] == 1 else 25.4
    figure = Figure(
        figsize=((high[0] - low[0]) / inch, (high[1] - low[1]) / inch), dpi=DPI
    )
    canvas = FigureCanvasAgg(figure)
    axes = figure.add_axes((0, 0, 1, 1))
    draw_on(axes, document, layout, ColorPolicy.COLOR)
    axes.set_xlim(low[0], high[0])
    axes.set_ylim(low[1], high[1])
    stream = io.BytesIO()
    canvas.print_png(stream)
    return stream.getvalue()


if __name__ == "__main__":
    for name in sys.argv[1:]:
        print(name, len(render(name)))
