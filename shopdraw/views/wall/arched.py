"""Letter the opening on the front elevation, and set out the arch over it.

In:  `Solution`, the scale.   Out: words, ink.
Frame: full size; x from the left end of the front's finished face, y up from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import chain as joined
from itertools import product
from math import cos, dist, radians, sin
from typing import TypeGuard

from shopdraw.drawing import layers
from shopdraw.drawing.bubbles import RADIUS
from shopdraw.drawing.chains import Chain
from shopdraw.drawing.dimensions import StringStyle, string_of_dimensions
from shopdraw.drawing.ink import Drawing, Ink, Measure, Point, Stroke, Words
from shopdraw.drawing.lettering import Box, width_of
from shopdraw.drawing.match_lines import broken
from shopdraw.drawing.sheets import STYLES, PaperStyle
from shopdraw.lengths import Lengths, format_length, settled
from shopdraw.masonry.wall.arch import Arch
from shopdraw.masonry.wall.layout import OF_AN_ARCH
from shopdraw.solution import Solution
from shopdraw.views.brick.leaders import with_led_words
from shopdraw.views.brick.marks import mark_within
from shopdraw.views.parts.aslant import ends_of_jambs

Lines = tuple[str, ...]
ROD_LEANS = 0.6
"""How far the rod is drawn from plumb, of the skewback's angle."""
MOST_LEAN = 40.0
"""But no more than so many degrees."""
ALIKE = 1e-4
"""Joints that differ by less are equal."""
FOOT_SHARES = (0.5, 0.2, 0.8)
"""Where on a voussoir's foot the leader may end that tells of them all."""
CROSS = 0.8
"""Half the cross at the centre, in heights of lettering."""


def arch_words(solution: Solution, arch: Arch) -> Iterator[tuple[Lines, Lines]]:
    """Yield the words to try left and right of the centre line, the fullest first."""
    job = solution.job

    def say(length: Fraction) -> str:
        return format_length(length, job.lengths)

    level = say(solution.coursing.head)
    size = f"{say(job.opening.width)} x {say(job.opening.height)}"
    rise = "CAMBER" if arch.kind == "jack arch" else "RISE"
    springs = ("LEVEL BEDS",) if arch.kind == "semicircular arch" else ()
    first = (f"SPRING LINE {level}", f"{rise} {say(arch.rise)}", *springs)
    opening = ("", "OPENING TO IT", size)
    rod = rod_words(solution, arch)
    yield (*first, "TEMPORARY CENTRE", *opening), rod
    short = tuple(part for line in rod for part in _halves(line))
    yield ("SPRING LINE", level, *first[1:], "", "OPENING", size), short


def voussoir_words(arch: Arch, lengths: Lengths) -> Lines:
    """Return how many voussoirs the first ring has, how wide they and its joints are.

    Both are measured at the soffit, where the centre carries them; a keystone is made
    to its own size and is named by its mark alone.
    """
    feet = [arch.voussoirs[n] for n in arch.feet if n != arch.keystone]
    widths = [dist(ring[0], ring[1]) for ring in feet]
    # The first ring has one joint more than voussoirs; those of the others follow.
    joints = [joint.at_soffit for joint in arch.joints[: arch.counts[0] + 1]]
    key = "" if arch.keystone is None else " + K"
    equal = "EQ " if max(joints) - min(joints) < ALIKE else ""
    said = (
        (f"{len(feet)} VOUSSOIRS{key}", _range(widths, lengths)),
        (f"{len(joints)} {equal}JOINTS", _range(joints, lengths)),
    )
    head = "AT THE SOFFIT:"
    # What they measure stands with their count where the words are no wider for it.
    widest = max(width_of(x, 1.0) for x in (head, *joined.from_iterable(said)))
    together = ((", ".join(pair), pair) for pair in said)
    lines = ((x,) if width_of(x, 1.0) <= widest else pair for x, pair in together)
    return head, *joined.from_iterable(lines)


def _feet_shown(arch: Arch, dx: float) -> Iterator[Point]:
    """Yield spots on voussoirs' feet in the right half of the arch: middles first."""
    feet = [arch.voussoirs[n] for n in arch.feet[len(arch.feet) // 2 + 1 :]]
    for share, (left, right, *_) in product(FOOT_SHARES, feet):
        x, y = (float(left[n] + share * (right[n] - left[n])) for n in (0, 1))
        yield x + dx, y


def _range(widths: list[float], lengths: Lengths) -> str:
    """Return a width, or the least and the most of them."""
    least, most = (
        format_length(settled(x), lengths) for x in (min(widths), max(widths))
    )
    return least if least == most else f"{least} TO {most}"


def _halves(line: str) -> Lines:
    """Return a line in two, broken after its name."""
    names = [name for name in ("ROD", "CENTRE", "POINT") if name in line]
    at = max((line.find(name) + len(name) for name in names), default=0)
    return tuple(part.strip() for part in (line[:at], line[at:]) if part.strip())


def rod_words(solution: Solution, arch: Arch) -> Lines:
    """Return how long the rod is, and where the centre lies that it turns about."""
    lengths = solution.job.lengths
    _, y = arch.centre
    below = format_length(abs(y), lengths)
    at: Lines = ("CENTRE ON THE DATUM",)
    if y:
        # In two lines: beside them there is room for a leader to the arch.
        at = f"CENTRE {below}", f"{'ABOVE' if y > 0 else 'BELOW'} DATUM"
    if arch.kind == "jack arch":
        return "JOINTS POINT TO A", *at
    return f"RADIUS ROD {format_length(rod_of(arch), lengths)}", *at


def rod_of(arch: Arch) -> Fraction:
    """Return the length of the radius rod, from the centre to the soffit."""
    return Fraction(arch.radius).limit_denominator(10**6)


def draw_rod(solution: Solution, dx: float, scale: float) -> Iterator[Ink]:
    """Draw the rod from the soffit to the centre, or as far down as the spring line.

    The centre is marked by a cross where it is above the datum.
    """
    arch = solution.layout.arch
    if arch is None or arch.kind == "jack arch":
        return
    x, y = float(arch.centre[0]) + dx, float(arch.centre[1])
    lean = radians(min(arch.skewback_deg * ROD_LEANS, MOST_LEAN))
    far = x + arch.radius * sin(lean), y + arch.radius * cos(lean)
    # Below the spring line is the lettering.
    share = (float(arch.spring) - y) / (far[1] - y)
    near = x + share * (far[0] - x), float(arch.spring)
    yield Stroke(layers.LEVELS, (near, far))
    if y >= 0:
        half = CROSS * STYLES[solution.lengths].text * scale
        yield Stroke(layers.LEVELS, ((x - half, y), (x + half, y)))
        yield Stroke(layers.LEVELS, ((x, y - half), (x, y + half)))


SPAN_AT = 2.6
"""How far below the spring line the span is dimensioned, in heights of lettering."""
BELOW_SPAN = 0.6
"""How far below the span's line the lettering begins."""
ROW_OF_MARKS = 2.4
"""How much lower all of it stands where marks are led out of the soffit."""
RISE_AT = 3.2
"""How far to the left of the centre line the rise is dimensioned."""
RAY, TURN = 6.5, 5.5
"""How long a skewback's ray is drawn, and the radius that its angle is marked at."""
CHORDS = 8


def draw_setting_out(solution: Solution, dx: float, scale: float) -> Iterator[Ink]:
    """Dimension span and rise, and mark the angle of a skewback with its ray."""
    arch, style = solution.layout.arch, STYLES[solution.lengths]
    if arch is None:
        return
    text = style.text * scale
    middle = arch.centre[0]
    ends = middle - arch.span / 2, middle + arch.span / 2
    left, right = (float(x) + dx for x in ends)
    spring, half = float(arch.spring), float(arch.span) / 2
    line = spring - _span_at(solution, scale) * text
    figure = format_length(arch.span, solution.lengths)
    # Name and figure stand together in the half that the rise is not in; in a narrow
    # one the name stands before the rise.
    wide, named = (width_of(x, style.text) * scale for x in (figure, "SPAN"))
    together = named + text
    first = left + half + max(text, (half - wide - together) / 2)
    if wide + together + 2 * text > half:
        together, first = 0.0, left + half + (half - wide) / 2
    spot = first + together + wide / 2, line + 0.9 * text
    starts = first if together else left + text
    yield Measure(
        layers.DIMENSIONS, (left, spring), (right, spring), "x", line, figure,
        style.text, letter=spot,
    )  # fmt: skip
    if together or half > named + (RISE_AT + 2.0) * text:
        name = layers.NOTES, (starts, spot[1]), "SPAN", style.text
        yield Words(*name, "left", "middle")
    x = left + half
    chain = Chain((arch.spring, arch.spring + arch.rise), "y", solution.lengths)
    if width_of(chain.words()[0], style.text) * scale < float(arch.rise):
        # A camber with no room for its figure is in the string at the left.
        set_out = StringStyle(layers.DIMENSIONS, style.text, scale, outward=-1)
        yield from string_of_dimensions(chain, x - RISE_AT * text, x, set_out)
    if arch.kind == "semicircular arch":
        return
    arc = tuple(_on_ray(arch, dx, text, TURN, step / CHORDS) for step in range(9))
    ray = (right, spring), _on_ray(arch, dx, text, RAY, 1.0)
    yield Stroke(layers.LEVELS, ray)
    yield Stroke(layers.DIMENSIONS, arc)


def _span_at(solution: Solution, scale: float) -> float:
    """Return how far below the spring line the span is dimensioned, in heights.

    Of a flat arch with a voussoir at the soffit that has no room for its mark there is
    a row left free for such marks; under any other they stand in its rise.
    """
    arch, text = solution.layout.arch, STYLES[solution.lengths].text
    if arch is None or arch.rise > SPAN_AT * text * scale:
        return SPAN_AT
    crown = arch.spring + arch.rise
    at_soffit = (
        (piece, piece.outlines[0])
        for piece in solution.layout.pieces
        if piece.kind in OF_AN_ARCH and piece.outlines[0].bottom <= crown
    )
    has_room = all(
        mark_within(piece, outline, 0.0, text, scale) is not None
        for piece, outline in at_soffit
    )
    return SPAN_AT if has_room else SPAN_AT + ROW_OF_MARKS


def _on_ray(arch: Arch, dx: float, text: float, far: float, share: float) -> Point:
    """Return a point below the right spring point, turned by a share of the angle."""
    turn, right = radians(arch.skewback_deg) * share, arch.centre[0] + arch.span / 2
    reach = far * text * sin(turn), far * text * cos(turn)
    return float(right) + dx - reach[0], float(arch.spring) - reach[1]


def skewback_words(arch: Arch, dx: float, text: float) -> tuple[Lines, Point] | None:
    """Return what is lettered at a skewback's angle, and where; None for level beds."""
    if arch.kind == "semicircular arch":
        return None
    spot = _on_ray(arch, dx, text, TURN, 0.5)
    return (f"SKEWBACK {arch.skewback_deg:.1f} DEG",), spot


LEDGER = {"in": 1.5, "mm": 38.0}
"""How deep a ledger is drawn."""
UNDER_MARK = 3.0
"""How far below it words begin that leave no room beside them for the mark of the
section through the head, in radii of its bubble."""


def clear_of_jambs(solution: Solution, dx: float) -> tuple[float, float]:
    """Return where the opening is clear in the face, from left to right."""
    opening = solution.surround.opening
    ends = solution.surround.jamb_folds or (opening.left, opening.right)
    left, right = (float(x) + dx for x in ends)
    return left, right


def letter_arch(solution: Solution, drawing: Drawing, dx: float) -> Drawing:
    """Letter a skewback's angle and what the soffit is made of, each at a leader."""
    arch = solution.layout.arch
    if arch is None:
        return drawing
    text = STYLES[solution.lengths].text
    skewback = skewback_words(arch, dx, text * drawing.scale)
    if skewback is not None:
        drawing = _led(solution, drawing, dx, *skewback)
    made_of = voussoir_words(arch, solution.lengths)
    return _led(solution, drawing, dx, made_of, *_feet_shown(arch, dx))


def _led(
    solution: Solution, drawing: Drawing, dx: float, words: Lines, *spots: Point
) -> Drawing:
    text, pieces = STYLES[solution.lengths].text, solution.layout.pieces
    return with_led_words(words, spots, pieces, {"front"}, dx, text, drawing)


def letter_opening(
    solution: Solution, drawing: Drawing, dx: float, kept: Box
) -> Drawing:
    """Letter the opening's size, its head, and what carries it while it sets.

    It is lettered in the opening beside its centre line; where that is too narrow,
    across it; where that is too small, at the end of a leader, which goes round what is
    kept for the mark of a section.
    """
    style, scale = STYLES[solution.lengths], drawing.scale
    left, right = clear_of_jambs(solution, dx)
    text, head = style.text * scale, float(solution.coursing.head)
    middle, deep = (left + right) / 2, LEDGER[solution.lengths]
    if solution.layout.arch is not None:
        deep = (_span_at(solution, scale) + BELOW_SPAN) * text
    if solution.surround.splay:
        # Words stand clear of the jambs that are seen beyond.
        (left, _), (right, _) = ends_of_jambs(solution)
    room = (right - left) / 2 - 2 * text
    tried = list(_opening_words(solution))
    for columns in tried:
        lines = [line for column in columns for line in column]
        wide = max(width_of(line, style.text) for line in lines) * scale
        rows = max(map(len, columns))
        deep = max(deep, _below_ray(solution, columns[1], (right - left) / 2, text))
        high = deep + (1.8 * rows + 1.5) * text
        if wide < room and high < head:
            ink = [*drawing.ink]
            for column, near in zip(columns, (left, right), strict=True):
                ink += _column(column, (near + middle) / 2, head - deep, scale, style)
            return replace(drawing, ink=tuple(ink))
    if solution.layout.arch is None:
        top = head - deep - UNDER_MARK * RADIUS * text
        for said, _ in tried:
            wide = max(width_of(line, style.text) for line in said) * scale
            # Some of the height is left to what else is led into the opening.
            if wide < right - left - 2 * text and 2.2 * len(said) * text < top:
                across = tuple(_column(said, middle, top, scale, style))
                return _across_centre_line(drawing, across, middle, text)
    words = tuple(line for column in tried[0] for line in column if line)
    # Near what carries the head, which is named first: from there leaders are short.
    ys = head - 0.5 * LEDGER[solution.lengths], 0.75 * head
    xs = 0.75 * left + 0.25 * right, 0.25 * left + 0.75 * right
    pieces = solution.layout.pieces
    given = pieces, {"front"}, dx, style.text, drawing
    return with_led_words(words, tuple(product(xs, ys)), *given, kept=(kept,))


def _across_centre_line(
    drawing: Drawing, column: tuple[Ink, ...], middle: float, text: float
) -> Drawing:
    """Add words across the opening's centre line, which is broken off at them."""
    lettered, ink = replace(drawing, ink=column), list[Ink]()
    for each in drawing.ink:
        if _is_plumb_at(each, middle):
            ends = each.points[0], each.points[-1]
            ink += (Stroke(each.layer, line) for line in broken(lettered, ends, text))
        else:
            ink.append(each)
    return replace(drawing, ink=(*ink, *column))


def _is_plumb_at(ink: Ink, middle: float) -> TypeGuard[Stroke]:
    """Whether it is the opening's centre line."""
    if not isinstance(ink, Stroke) or ink.layer != layers.LEVELS:
        return False
    return {x for x, _ in ink.points} == {middle}


def _below_ray(solution: Solution, lines: Lines, half: float, text: float) -> float:
    """Return how far down lines in the opening's right half begin: below a ray there.

    Where they are clear of the skewback's ray they may begin anywhere.
    """
    arch = solution.layout.arch
    if arch is None or arch.kind == "semicircular arch" or not lines:
        return 0.0
    wide = max(width_of(line, 1.0) for line in lines) * text
    turn = radians(arch.skewback_deg)
    is_clear = (half - wide) / 2 > (RAY * sin(turn) + 0.5) * text
    return 0.0 if is_clear else (RAY * cos(turn) - 0.8) * text


def _column(
    lines: tuple[str, ...], x: float, top: float, scale: float, style: PaperStyle
) -> Iterator[Ink]:
    """Letter lines one under another, below a level."""
    for row, line in enumerate(lines):
        at = (x, top - (1.2 + 1.8 * row) * style.text * scale)
        if line:
            yield Words(layers.NOTES, at, line, style.text, "centre", "top")


def _opening_words(
    solution: Solution,
) -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    """Yield the words to try left and right in the opening, the fullest first."""
    job, arch = solution.job, solution.layout.arch
    if arch is not None:
        yield from arch_words(solution, arch)
        return
    level = format_length(solution.coursing.head, job.lengths)
    size = " x ".join(
        format_length(x, job.lengths) for x in (job.opening.width, job.opening.height)
    )
    measured = "AS MEASURED" if solution.surround.as_built.is_true else "CLEAR"
    top = "TEMPORARY LEDGER", f"TOP AT {level}"
    if solution.surround.splay:
        (left, _), (right, _) = ends_of_jambs(solution)
        back = format_length(Fraction(right - left), job.lengths)
        clear = "CLEAR AT THE BACK", back
        yield (*top, "", f"OPENING {measured}", size, *clear), ()
    yield (*top, "", f"OPENING {measured}", size), ()
    yield ("LEDGER TOP", level, "", "OPENING", size), ()
