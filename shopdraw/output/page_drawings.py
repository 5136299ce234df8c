"""Lay out the drawings of the page: those that are tapped, sketches, the sheets.

In:  `Page`, `Drawing`s, `Sheet`s.   Out: `Html`.
Frame: see `svg`. A drawing that is tapped is drawn once, from the upper left corner of
its window; its sheet uses it again.
"""

from __future__ import annotations

from shopdraw.drawing.ink import Drawing
from shopdraw.drawing.lettering import Box
from shopdraw.drawing.page import Page, PieceView
from shopdraw.drawing.sheets import PlacedDrawing, Sheet
from shopdraw.lengths import Lengths
from shopdraw.output import svg
from shopdraw.output.markup import Html, join, say, tag

AROUND = 0.01
"""How much is shown round what is shown first, in parts of its width."""
PICTURE = "appearance"
"""The name of the sheet that is the picture."""
TAP = (
    "Tap a piece for its card. To look closer pinch, or click and turn the wheel; then "
    "drag. By keyboard the arrows go from piece to piece, Enter opens its card, plus "
    "and minus go closer and further, 0 shows the whole."
)


def draw_small(
    drawing: Drawing, lengths: Lengths, title: str, class_: str = "sketch"
) -> Html:
    """Return a drawing by itself, to be looked at and not tapped."""
    sheet = svg.alone(drawing, lengths)
    frame = svg.frame_of(sheet)
    box = 0.0, 0.0, sheet.width, sheet.height
    return tag(
        "svg",
        Html(svg.draw(sheet, frame)),
        viewBox=svg.view_box(frame, svg.widened(box, lengths)),
        role="img",
        aria_label=title,
        class_=class_,
    )


def draw_views(page: Page) -> Html:
    """Return the drawings whose pieces lead to their cards."""
    views = (_view(view, place, page.lengths) for place, view in enumerate(page.views))
    return tag(
        "section",
        tag("h2", say("Face"), id="views"),
        *views,
        tag("p", say(page.views_say)),
        tag("p", say(TAP), class_="tapping"),
        aria_labelledby="views",
    )


def _view(view: PieceView, place: int, lengths: Lengths) -> Html:
    placed = view.placed
    sheet, large = (
        svg.only(placed.with_ink(ink), lengths) for ink in (view.rest, view.large)
    )
    window = placed.placement.window
    frame = svg.frame_of(sheet, window)
    left, low = placed.placement.to_paper(view.work[:2])
    right, top = placed.placement.to_paper(view.work[2:])
    more = AROUND * (right - left)
    first = left - more, low - more, right + more, top + more
    spots = (
        tag(
            "a",
            Html(f'<path d="{_ring(placed, spot.points, frame)}"/>'),
            href=f"#{spot.card}",
            aria_label=spot.says,
        )
        for spot in view.spots
    )
    drawn = tag(
        "svg",
        tag("g", Html(svg.draw(sheet, frame)), id=f"view-{place}"),
        Html(svg.draw(large, frame)),
        tag("g", *spots, class_="spots"),
        viewBox=svg.view_box(frame, svg.widened(window, lengths)),
        data_first=svg.view_box(frame, first),
        role="group",
        aria_label=view.title,
    )
    return tag(
        "figure",
        tag("figcaption", say(view.title)),
        tag(
            "div",
            drawn,
            class_="look",
            tabindex="0",
            role="region",
            aria_label=f"{view.title}, to look at closely",
        ),
        class_="view",
    )


def _ring(
    placed: PlacedDrawing, points: tuple[tuple[float, float], ...], frame: svg.Frame
) -> str:
    move = placed.placement.to_paper
    return svg.path((move(point) for point in points), frame, closed=True)


def draw_sheets(page: Page, sheets: tuple[Sheet, ...]) -> Html:
    """Return the sheets, each shown when it is asked for; the picture is open."""
    drawn = {id(each.placed.drawing): place for place, each in enumerate(page.views)}
    return tag(
        "section",
        tag("h2", say("Sheets"), id="sheets"),
        tag("p", say("The picture, then the sheets: the same ink as on paper.")),
        *(
            _sheet(sheet, drawn, page.views)
            for sheet in sorted(sheets, key=_is_drawing)
        ),
        aria_labelledby="sheets",
    )


def _is_drawing(sheet: Sheet) -> bool:
    """Whether a sheet is one of the drawings, and not the picture."""
    return PICTURE not in sheet.shows


def _sheet(sheet: Sheet, drawn: dict[int, int], views: tuple[PieceView, ...]) -> Html:
    frame = svg.frame_of(sheet)
    elsewhere = [x for x in sheet.drawings if id(x.drawing) in drawn]
    used = (
        _use(placed.placement.window, drawn[id(placed.drawing)], frame)
        for placed in elsewhere
    )
    small = [x.with_ink(views[drawn[id(x.drawing)]].small) for x in elsewhere]
    rest = svg.without(sheet, frozenset(id(x.drawing) for x in elsewhere), small)
    box = 0.0, 0.0, sheet.width, sheet.height
    title = f"{sheet.identity} {sheet.title.capitalize()}".strip()
    picture = tag(
        "svg",
        Html(svg.draw(rest, frame)),
        join(used),
        viewBox=svg.view_box(frame, box),
        role="img",
        aria_label=title,
        class_="sheet" if _is_drawing(sheet) else "picture",
    )
    return tag(
        "details",
        tag("summary", say(title)),
        tag(
            "div",
            picture,
            class_="wide",
            tabindex="0",
            role="region",
            aria_label=f"{title}, drawn",
        ),
        open=not _is_drawing(sheet),
    )


def _use(window: Box, place: int, frame: svg.Frame) -> Html:
    """Draw again what stands in its own window elsewhere on the page."""
    x, y = frame.at((window[0], window[3]))
    return tag("use", href=f"#view-{place}", x=str(x), y=str(y))
