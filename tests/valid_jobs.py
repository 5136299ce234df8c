"""Jobs made from a seed, with every optional table left out, ordinary or extreme.

In:  a seed.   Out: the text of a job file.
Frame: made in sixteenths of an inch; one in four is typed in whole millimetres.

Each value by itself is one that the job file takes. What is refused, in words on a key,
because it makes no sense beside another is left out, until the whole is taken.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from typing import Any

from shopdraw.errors import BadJob
from shopdraw.job.model import Job
from shopdraw.job.model_brick import PATTERNS
from shopdraw.job.model_head import STANDING
from shopdraw.job.model_labour import LINES, PAPERS
from shopdraw.job.model_review import OwnFigure
from shopdraw.job.model_stripping import OldWorkTable
from shopdraw.job.reading import parse_job
from tests.old_houses import length

MM = 25.4 / 16
SIZES = {
    "in": ("modular", "standard", "roman", "norman", "utility", "queen", "english-us"),
    "mm": ("uk-65", "australian", "modular"),
}
PAPER = {"in": ("ARCH C", "ANSI B", "ARCH E", "ANSI A"), "mm": ("A2", "A3", "A0", "A4")}
Value = Any


class Maker:
    """Make the tables of one job, each value by chance."""

    def __init__(self, seed: int, *, is_small: bool = False) -> None:
        self.chance = random.Random(f"valid {seed}")
        self.lengths = "mm" if self.chance.random() < 0.25 else "in"
        widths, heights = ((40, 72), (24, 100)), ((36, 50), (24, 80))
        if is_small:
            widths, heights = ((30, 40),), ((26, 32),)
        self.width = self.near(*self.chance.choice(widths))
        self.height = self.near(*self.chance.choice(heights))
        self.opening = min(self.near(20, 44), self.width - 96)
        self.head = min(self.near(16, 36), self.height - 64)
        # A corbel or a panel may ask for more: a small face has no room for one.
        self.top = self.height

    def near(self, low: float, high: float) -> int:
        """Return a length between two in inches, in sixteenths."""
        return self.chance.randint(round(low * 16), round(high * 16))

    def said(self, sixteenths: int) -> str:
        """Return a length as it is typed."""
        if self.lengths == "in":
            return length(sixteenths)
        return f"{round(sixteenths * MM)} mm"

    def some(self, low: float, high: float, *extremes: float) -> str:
        """Return a length between two in inches; one in six is an extreme."""
        if extremes and self.chance.random() < 1 / 6:
            return self.said(round(self.chance.choice(extremes) * 16))
        return self.said(self.near(low, high))

    def one(self, *choices: Value) -> Value:
        return self.chance.choice(choices)

    def number(self, low: int, high: int, *extremes: int) -> int:
        if extremes and self.chance.random() < 1 / 6:
            return self.chance.choice(extremes)
        return self.chance.randint(low, high)

    def maybe(self, **keys: Callable[[], Value]) -> dict[str, Value]:
        """Return some of the keys; one time in eight all of them, or none."""
        share = self.one(0, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 1)
        return {k: make() for k, make in keys.items() if self.chance.random() < share}

    def many(self, make: Callable[[int], Value], usual: int, most: int) -> list[Value]:
        """Return several of one kind; one time in twelve as many as there may be."""
        count = most if self.chance.random() < 1 / 12 else self.number(1, usual)
        return [make(place) for place in range(1, count + 1)]

    def words(self, usual: str, most: int) -> str:
        longest = ("a line as long as it may be, " * most)[:most].strip(" ,")
        return self.one(usual, usual, usual[:3], longest)

    def day(self) -> str:
        return self.one("2026-03-02", "2026-12-31", "1900-01-01", "2199-12-31")

    def box(self, name: str, place: int) -> dict[str, Value]:
        """Return a named rectangle somewhere on the face."""
        return {
            "name": self.words(f"{name} {place}", 60),
            "left": self.said(self.chance.randint(-32, self.width)),
            "bottom": self.said(self.chance.randint(0, self.height + 32)),
            "width": self.some(1, 20, 1 / 16, 60),
            "height": self.some(1, 8, 1 / 16, 40),
        }


def _job(m: Maker) -> dict[str, Value]:
    line = lambda: m.words("the mason", 60)  # noqa: E731
    titles = (
        *("number", "status", "drawn_by", "checked_by", "for_whom", "firm", "licence"),
        *("architect", "permit", "submittal", "spec_section", "department"),
        *("reference", "key_words", "measured_by"),
    )
    return {
        "name": m.words("A room", 80),
        "lengths": m.lengths,
        **m.maybe(
            **dict.fromkeys(titles, line),
            date=m.day,
            measured_on=m.day,
            revision=lambda: m.one("A", "12", "x" * 12),
            site=lambda: m.words("the mill house", 80),
            units_lot=lambda: m.words("lot 7", 200),
            notes=lambda: m.many(
                lambda _: m.words("Keep the joints clean.", 500), 2, 9
            ),
        ),
    }


def _face(m: Maker) -> dict[str, Value]:
    face = {"width": m.said(m.width), "height": m.said(m.height)}
    face |= m.maybe(
        top_meets=lambda: m.one("underside", "top"),
        measured_to=lambda: m.one("substrate", "finish"),
    )
    back = m.some(8, 20, 3, 60)
    for side in m.one((), (), ("left",), ("left", "right"), ("left", "right")):
        face[f"{side}_return"] = back
    return face


def _opening(m: Maker) -> dict[str, Value]:
    head = m.one(
        *("running", "running", "soldier", "soldier", "rowlock", "jack arch"),
        *("segmental arch", "semicircular arch"),
    )
    standing = {
        "head_courses": lambda: m.one(1, 1, 2),
        "head_over": lambda: m.one("opening", "opening", "face"),
        "head_bears": lambda: m.one("best", "no", m.some(1, 8)),
        "head_centre": lambda: m.one("best", "unit", "joint"),
    }
    return {
        "width": m.said(m.opening),
        "height": m.said(m.head),
        "head": head,
        **m.maybe(
            from_left=lambda: m.said((m.width - m.opening) // 2 + m.near(-2, 2)),
            throat=lambda: m.some(4, 12, 0, 40),
            lintel_bearing=lambda: m.some(3, 6, 0, 30),
            **(standing if head in STANDING else {}),
        ),
        **(_turned(m) if m.chance.random() < 0.15 else {}),
    }


def _turned(m: Maker) -> dict[str, Value]:
    return {"jamb_return": m.some(2, 4)} | m.maybe(firebox=lambda: m.some(4, 8, 30))


def _arch(m: Maker) -> dict[str, Value]:
    return m.maybe(
        rise=lambda: m.some(2, 6, 1 / 2, 12),
        camber=lambda: m.some(0, 1, 0),
        made_of=lambda: m.one("stretchers on end", "rowlocks"),
        rings=lambda: m.one(1, 2),
        number=lambda: m.one("odd", "even"),
        voussoirs=lambda: m.one("best", "whole", "cut"),
    )


def _brick(m: Maker) -> dict[str, Value]:
    brick: dict[str, Value] = {"size": m.one(*SIZES[m.lengths])}
    if m.chance.random() < 0.2:
        brick |= {"length": m.some(5, 14, 1 / 2), "height": m.some(1, 5, 1 / 2)}
    brick |= m.maybe(
        thickness=lambda: m.some(1 / 2, 1, 1 / 16, 4),
        at_fold=lambda: m.one("mitre", "butt", "stop short"),
    )
    return brick


def _joints(m: Maker) -> dict[str, Value]:
    def joint(low: float, mid: float, high: float) -> dict[str, str]:
        three = [m.said(round(x * 16)) for x in (mid, low, high)]
        return dict(zip(("preferred", "least", "most"), three, strict=True))

    def any_joint() -> dict[str, str]:
        usual = joint(0.25, 0.375, 0.5)
        return m.one(usual, usual, joint(0.375, 0.375, 0.375), joint(0.125, 0.5, 2))

    return m.maybe(
        bed=any_joint,
        head=any_joint,
        bottom=lambda: {
            "kind": m.one("mortar", "soft", "none"),
            "least": m.some(0, 0.25, 0),
            "most": m.some(0.5, 1, 6),
            "hidden": m.one(True, False),
        },
        depth=lambda: m.some(1 / 4, 1 / 2, 1 / 16, 6),
        profile=lambda: m.words("raked", 60),
    )


def _edges(m: Maker) -> dict[str, Value]:
    def edge() -> dict[str, Value]:
        return {
            "kind": m.one("bare", "mortar", "soft", "gap"),
            "width": m.some(0, 0.5, 0, 2),
            "shows": m.one("returned", "pointed", "covered", "sawn"),
        }

    return m.maybe(left=edge, right=edge, top=edge, jambs=edge)


def _bond(m: Maker) -> dict[str, Value]:
    return {
        "pattern": m.one("half", *PATTERNS),
        **m.maybe(
            least_piece=lambda: m.some(1, 3, 1 / 16, 8),
            least_lap=lambda: m.some(1, 2, 0, 8),
            least_area=lambda: m.number(10, 40, 1, 100),
            least_corner=lambda: m.number(20, 40, 1, 89),
        ),
    }


def _courses(m: Maker) -> dict[str, Value]:
    low = lambda: m.some(1, 2, 1 / 16, 1 / 160)  # noqa: E731
    tall = lambda: m.some(5, 8, 1, 1 / 2, 20)  # noqa: E731
    return m.maybe(
        bottom_height=low, top_height=low, soldier_height=tall, rowlock_height=tall
    )


def _target(m: Maker) -> list[Value]:
    return m.many(
        lambda place: {
            "name": m.words(f"line {place}", 60),
            "level": m.said(m.chance.randint(32, m.height)),
            **m.maybe(
                meets=lambda: m.one("underside", "top"), tolerance=lambda: m.some(0, 1)
            ),
        },
        *(1, 4),
    )


def _existing_brick(m: Maker) -> list[Value]:
    return m.many(
        lambda place: {
            "name": m.words(f"old brick {place}", 60),
            "where": m.one("left", "right", "above"),
            "first_top": m.some(2, 4, m.height / 16 + 4),
            "gauge": m.some(2.5, 3.25),
            "courses": m.number(1, 12),
            **m.maybe(height=lambda: m.some(2, 3), tolerance=lambda: m.some(0, 1)),
        },
        *(1, 2),
    )


def _band(m: Maker) -> list[Value]:
    return m.many(
        lambda _: {
            "kind": m.one("soldier", "rowlock", "header"),
            "course": m.number(1, 14),
            **m.maybe(every=lambda: m.number(3, 8), times=lambda: m.number(1, 4)),
        },
        *(1, 2),
    )


def _corbel(m: Maker) -> list[Value]:
    corbel = {"courses": m.number(1, 4, 12), "step": m.some(1 / 4, 1, 1 / 16, 3)}
    m.top = max(m.top, m.head + m.near(16, 28))
    return [corbel | m.maybe(top=lambda: m.said(m.top))]


def _panel(m: Maker) -> list[Value]:
    wide, high = min(m.near(14, 26), m.width - 64), m.near(14, 26)
    bottom = m.head + m.near(8, 16)
    m.top = max(m.top, bottom + high + m.near(4, 10))
    return [
        {
            "name": m.words("panel", 60),
            "left": m.said((m.width - wide) // 2),
            "bottom": m.said(bottom),
            "width": m.said(wide),
            "height": m.some(high / 16, high / 16, 3),
            "pattern": m.one(
                *("herringbone 45", "herringbone 90", "basket weave", "stack"),
                "soldier",
            ),
            "border": m.one("rowlock", "header", "none"),
        }
    ]


def _revision(m: Maker) -> list[Value]:
    return m.many(
        lambda place: {
            "mark": str(place),
            "says": m.words("a course moved", 200),
            **m.maybe(
                date=m.day,
                by=lambda: m.words("the mason", 60),
                courses=lambda: sorted({m.number(1, 12) for _ in range(3)}),
            ),
        },
        *(2, 12),
    )


def _rule_marks(m: Maker) -> list[Value]:
    return [
        {"mark": str(place), "height": m.said(40 + place)}
        for place in range(1, m.number(2, 9, 30))
    ]


def _hearth(m: Maker) -> dict[str, Value]:
    side = lambda: m.some(6, 20, 0, 100)  # noqa: E731
    found = m.maybe(
        front=lambda: m.some(12, 24, 0, 100),
        left=side,
        right=side,
        fall=lambda: m.some(0, 1 / 2, 0, 3),
        falls_to=lambda: m.one("left", "right"),
        later=lambda: m.some(0, 1, 6),
        raised=lambda: m.some(0, 4, 8, 30),
        thickness=lambda: m.some(1, 4, 1 / 16, 20),
        material=lambda: m.one("noncombustible", "combustible", "unknown"),
    )
    if m.chance.random() < 0.15:
        found |= {"front": m.some(16, 24), "left": side(), "right": side()}
        found["brick"] = m.maybe(
            pattern=lambda: m.one("running", "stack", "herringbone 45", "basket weave"),
            border=lambda: m.one("rowlock", "header", "none"),
            corners=lambda: m.one("butted", "mitred"),
            slab=lambda: m.some(1, 3),
            back=lambda: m.some(0, 6),
            riser=lambda: m.some(6, 14),
        )
    return found


def _appliance(m: Maker) -> dict[str, Value]:
    kind = m.one("masonry", "factory-built", "gas")
    unit = {"kind": kind} | m.maybe(
        flange=lambda: m.some(0, 1, 3), flange_width=lambda: m.some(1, 3, 12)
    )
    if kind != "masonry" and m.chance.random() < 0.7:
        unit["manual"] = m.maybe(
            document=lambda: m.words("the manual", 200),
            page=lambda: m.words("14", 200),
            hearth_front=lambda: m.some(8, 20, 0, 60),
            hearth_sides=lambda: m.some(6, 12, 0, 60),
            combustibles=lambda: m.some(4, 12, 0, 60),
            mantel=lambda: m.many(
                lambda place: {
                    "distance": m.said(64 * place),
                    "projection": m.said(24 * place),
                },
                *(3, 12),
            ),
            facing_most=lambda: m.some(1, 2, 1 / 16),
            proud_most=lambda: m.some(0, 2),
            example=lambda: m.one(True, False),
        )
    return unit


def _rules(m: Maker) -> dict[str, Value]:
    names = OwnFigure.model_fields["figure"].annotation.__args__  # type: ignore[union-attr]
    return m.maybe(
        set=lambda: m.one("irc-2015", "irc-2015", "own figures"),
        own=lambda: [
            {
                "figure": name,
                "value": m.some(1, 20, 0, 90),
                "reason": m.words("why so", 120),
            }
            for name in m.chance.sample(names, m.number(1, 3, len(names)))
        ],
        area=lambda: m.one("stricter", "found", "finished"),
        area_agreed=lambda: m.words("the reviewer, 2 March", 200),
    )


def _trim(m: Maker) -> list[Value]:
    return m.many(
        lambda place: (
            m.box("shelf", place)
            | m.maybe(
                material=lambda: m.words("oak", 200),
                combustible=lambda: m.one(True, False),
                covers_brick=lambda: m.one(True, False),
            )
            | m.one(
                {"projection": m.some(0, 6, 40)},
                {"projection": m.some(0, 6, 40)},
                {"steps": m.many(lambda _: _step(m), 1, 4)},
            )
        ),
        *(3, 10),
    )


def _step(m: Maker) -> dict[str, Value]:
    return {"reach": m.some(1 / 2, 1, 1 / 16), "projection": m.some(0, 4, 30)}


def _beside(m: Maker) -> list[Value]:
    return m.many(
        lambda place: {
            "name": m.words(f"stud {place}", 60),
            "kind": m.one("framing", "sheathing", "wall finish", "flooring"),
            **m.maybe(
                combustible=lambda: m.one(True, False),
                to_masonry=lambda: m.some(0, 4, 0, 90),
                to_lining=lambda: m.some(4, 16, 0, 90),
            ),
        },
        *(2, 8),
    )


def _fitting(m: Maker) -> list[Value]:
    return m.many(
        lambda place: (
            m.box("socket", place)
            | m.maybe(wants=lambda: m.one("clear", "cut round", "may be covered"))
        ),
        *(2, 8),
    )


def _substrate(m: Maker) -> dict[str, Value]:
    return m.maybe(
        kind=lambda: m.one("masonry", "concrete", "board", "unknown"),
        condition=lambda: m.one(["sound"], ["painted", "sooted"], []),
        prepared=lambda: m.words("ground down", 200),
        plane=lambda: m.some(0, 1, 0, 12),
        deflection=lambda: m.number(240, 720, 1, 10_000),
    )


def _data_sheet(m: Maker) -> list[Value]:
    return m.many(
        lambda place: {
            "item": ("setting mortar", "pointing mortar", "sealant")[place - 1],
            "document": m.words("the sheet", 120),
            **m.maybe(
                page=lambda: m.words("2", 200),
                service_c=lambda: m.number(50, 200, -50, 2000),
                expected_c=lambda: m.number(50, 200, -50, 2000),
            ),
        },
        *(2, 3),
    )


def _house(m: Maker) -> dict[str, Value]:
    return m.maybe(
        year=lambda: m.number(1850, 2020, 1000, 3000),
        painted_sq_ft=lambda: m.number(0, 30, 100_000),
        smoke_stains=lambda: m.one(True, False),
        asbestos=lambda: m.words("none found", 200),
    )


def _stripping(m: Maker) -> dict[str, Value]:
    kinds = OldWorkTable.model_fields["kind"].annotation.__args__  # type: ignore[union-attr]
    return m.maybe(
        old=lambda: m.many(
            lambda place: {
                "kind": m.one(*kinds),
                "name": m.words(f"old work {place}", 60),
                **m.maybe(
                    area=lambda: m.number(1, 40, 100_000),
                    thickness=lambda: m.some(1 / 2, 4, 1 / 16, 60),
                    density=lambda: m.number(50, 150, 10_000),
                ),
            },
            *(2, 12),
        ),
        patching=lambda: m.number(1, 30, 100_000),
    )


def _schedule(m: Maker) -> dict[str, Value]:
    return m.maybe(
        set_on=m.day,
        pointed_on=m.day,
        ledger_days=lambda: m.number(1, 9, 0, 3650),
        wait_days=lambda: m.number(1, 9, 0, 3650),
        cure_weeks=lambda: m.number(1, 9, 0, 520),
    )


def _waste(m: Maker) -> dict[str, Value]:
    rule = lambda: {"percent": m.number(0, 20, 0, 100), "least": m.number(0, 9, 10_000)}  # noqa: E731
    names = ("flats", "corners", "setting_mortar", "pointing_mortar")
    return m.maybe(**dict.fromkeys(names, rule))


def _saw(m: Maker) -> dict[str, Value]:
    return {"kerf": m.some(1 / 16, 1 / 4, 1)}


def _packs(m: Maker) -> dict[str, Value]:
    volume = lambda: m.one("0.5 cu ft", "12 litres", "0.001 litres", "1000 cu ft")  # noqa: E731
    count = lambda: m.number(4, 100, 1, 100_000)  # noqa: E731
    return m.maybe(
        **dict.fromkeys(("setting_mortar", "pointing_mortar", "sealant"), volume),
        **dict.fromkeys(("flats", "corners", "pallet"), count),
    )


def _order(m: Maker) -> dict[str, Value]:
    yes = lambda: m.one(True, False)  # noqa: E731
    names = ("board", "primer", "sealer", "spacers")
    return m.maybe(**dict.fromkeys(names, yes), ledger=lambda: m.some(2, 8, 1 / 16, 90))


def _prices(m: Maker) -> dict[str, Value]:
    price = lambda: m.number(1, 90, 0, 1_000_000)  # noqa: E731
    names = ("flats", "corners", "setting_mortar", "pointing_mortar", "sundries")
    return m.maybe(**dict.fromkeys(names, price), currency=lambda: m.one("USD", "EUR"))


def _labour(m: Maker) -> dict[str, Value]:
    figure = lambda: m.number(1, 9, 0, 1_000_000)  # noqa: E731
    names = (
        *("rate", "once", "stripping", "patching", "setting", "cutting", "corners"),
        *("arch", "panels", "pointing", "travel"),
    )
    lines = lambda: m.chance.sample(LINES, 3)  # noqa: E731
    return m.maybe(
        **dict.fromkeys(names, figure),
        trips=lambda: m.number(1, 5, 0, 1_000),
        markup=lambda: dict.fromkeys(lines(), m.number(1, 30, 0, 1_000)),
        tax=lambda: {"percent": m.number(1, 20, 0, 100), "on": lines()},
        deposit=lambda: m.number(10, 50, 0, 100),
        valid_days=lambda: m.number(10, 90, 1, 3_650),
        excludes=lambda: m.many(lambda _: m.words("the flue", 120), 2, 12),
    )


def _sheet(m: Maker) -> dict[str, Value]:
    return m.maybe(
        profile=lambda: m.one("us", "iso"),
        size=lambda: m.one(*PAPER[m.lengths]),
        page=lambda: "ANSI A" if m.lengths == "in" else "A4",
        dxf=lambda: m.one("R2010", "R2000"),
        papers=lambda: m.chance.sample(PAPERS, m.number(1, len(PAPERS))),
    )


def _labels(m: Maker) -> dict[str, Value]:
    return {
        "columns": m.number(1, 3),
        "rows": m.number(1, 10),
        "width": m.some(2, 2.5),
        "height": m.some(0.9, 1),
        "left": m.some(0, 0.5),
        "top": m.some(0, 0.5),
    }


def _layers(m: Maker) -> dict[str, Value]:
    return m.maybe(names=lambda: m.one("NCS", "ISO 13567"))


def _appearance(m: Maker) -> dict[str, Value]:
    return m.maybe(
        brick=lambda: m.one("#000000", "#ffffff", "#9c5344"),
        joint=lambda: m.one("#000000", "#ffffff"),
        variation=lambda: m.number(0, 30, 50),
        seed=lambda: m.number(0, 9, 1_000_000),
    )


def _used(m: Maker) -> dict[str, Value]:
    return m.maybe(flats=lambda: m.number(0, 400), corners=lambda: m.number(0, 90))


NEEDED = {"job": _job, "face": _face, "opening": _opening, "brick": _brick}
OFTEN: dict[str, Callable[[Maker], Value]] = {
    "joints": _joints, "edges": _edges, "bond": _bond, "hearth": _hearth,
    "appliance": _appliance, "rules": _rules, "trim": _trim, "beside": _beside,
    "fitting": _fitting, "substrate": _substrate, "data_sheet": _data_sheet,
    "house": _house, "stripping": _stripping, "schedule": _schedule, "waste": _waste,
    "saw": _saw, "packs": _packs, "order": _order, "prices": _prices,
    "labour": _labour, "sheet": _sheet, "labels": _labels, "layers": _layers,
    "appearance": _appearance, "revision": _revision, "rule_marks": _rule_marks,
}  # fmt: skip
"""There in every second job."""
SELDOM: dict[str, Callable[[Maker], Value]] = {
    "arch": _arch, "courses": _courses, "target": _target, "band": _band,
    "existing_brick": _existing_brick, "corbel": _corbel, "panel": _panel,
    "used": _used,
}  # fmt: skip
"""There in every eighth: what often makes no sense beside what else is there."""
KEPT = {(name,) for name in NEEDED} | {
    *(("face", "width"), ("face", "height"), ("opening", "width")),
    *(("opening", "height"), ("job", "name"), ("job", "lengths"), ("brick", "size")),
}
"""What no job can do without."""
LEFT_OUT = ("setting_bed", "laid", "option")
"""Its least and most hang together; no course is laid yet; an option is a job of its
own, which draws nothing of this one."""


def valid_tables(seed: int, *, is_small: bool = False) -> dict[str, Value]:
    """Return the tables of a job; of a small one, which is drawn quickly."""
    m = Maker(seed, is_small=is_small)
    tables = {name: make(m) for name, make in NEEDED.items()}
    head = tables["opening"]["head"]
    for name, make in {**OFTEN, **SELDOM}.items():
        share = 1 / 2 if name in OFTEN else 1 / 8
        if m.chance.random() < share:
            tables[name] = make(m)
    if head == "segmental arch":
        tables["arch"] = {"rise": m.some(3, 6)} | tables.get("arch", {})
    if m.top > m.height:
        tables["face"]["height"] = m.said(m.top)
    if tables["job"].get("revision"):
        tables.get("revision", [{}])[-1]["mark"] = tables["job"]["revision"]
    return tables


def valid_job(seed: int, *, is_small: bool = False) -> str:
    """Return the text of a job file, without what is refused beside what else it has.

    Each fault names a key, or the table of one that is missing; that is left out, and
    so is what is refused next. A few are refused all the same.
    """
    tables = valid_tables(seed, is_small=is_small)
    while True:
        text = "\n".join(_written(tables))
        try:
            parse_job(text, "job.toml")
        except BadJob as error:
            keys = [fault.key for fault in error.faults]
            # From the last of several on, so that those before keep their places.
            dropped = [_drop(tables, key) for key in reversed(keys)]
            if any(dropped) or _made_plain(tables):
                continue
        return text


def _made_plain(tables: dict[str, Value]) -> bool:
    """Leave out what often makes no sense with a wall; False where nothing is left."""
    for name in ("arch", "band", "joints", "bond", "courses"):
        if tables.pop(name, None) is not None:
            return True
    opening = tables["opening"]
    is_plain = opening["head"] == "running"
    tables["opening"] = {key: opening[key] for key in ("width", "height")}
    tables["opening"]["head"] = "running"
    return not is_plain


def _drop(tables: dict[str, Value], key: str) -> bool:
    """Leave out a key, or the nearest table above it; False where a job needs that."""
    parts = [
        int(part[1:-1]) - 1 if part.startswith("[") else part
        for part in re.findall(r"\[\d+\]|[^.\[\]]+", key)
    ]
    while parts:
        table: Value = tables
        try:
            for part in parts[:-1]:
                table = table[part]
            if tuple(parts) not in KEPT:
                del table[parts[-1]]
                return True
        except (KeyError, IndexError, TypeError):
            pass
        parts.pop()
    return False


def _written(tables: dict[str, Value]) -> list[str]:
    lines = []
    for name, table in tables.items():
        several = table if isinstance(table, list) else [table]
        heading = f"[[{name}]]" if isinstance(table, list) else f"[{name}]"
        for each in several:
            lines += [heading, *(f"{k} = {_toml(v)}" for k, v in each.items()), ""]
    return lines


def _toml(value: Value) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        inner = ", ".join(f'"{k}" = {_toml(v)}' for k, v in value.items())
        return f"{{ {inner} }}"
    if isinstance(value, list | tuple):
        return f"[{', '.join(map(_toml, value))}]"
    return f'"{value}"' if isinstance(value, str) else str(value)


def tables_missing() -> set[str]:
    """Return the tables of the job file that no job made here can have."""
    return set(Job.model_fields) - {*NEEDED, *OFTEN, *SELDOM, *LEFT_OUT}
