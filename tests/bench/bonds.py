"""The bond alone on random walls: how fast, how many to the end, what is held by each.

Each wall is solved, laid, proved, and read again from its pieces alone.
"""

from __future__ import annotations

import time
from collections.abc import Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial
from unittest.mock import patch

from shopdraw.errors import NotLaid, NotProved
from shopdraw.job.model import Job
from shopdraw.masonry.bond.plan import BondPlan
from shopdraw.masonry.bond.solve import SolvedBond, front_of, solve_bond
from shopdraw.masonry.bonding.fronts import Mirrored
from shopdraw.masonry.bonding.legs import Width
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.laying import lay
from shopdraw.masonry.laying.proof import prove_layout
from shopdraw.masonry.rows.merit import FAILS, NOT_MIRRORED
from shopdraw.masonry.wall.layout import Layout
from shopdraw.masonry.wall.surround import trace_surround
from tests.bench.timing import Row
from tests.laid_bond import differences
from tests.masonry.bonding.brute_walls import judged_again
from tests.random_walls import WallKind, job_of

WALLS = 300
UNDER = 4
"""Merits 1 to 4: pieces and laps under the least."""
WIDEST = Width(fine=True, trims=True, cuts=5, ends=True)
PROCESSES = 2


@dataclass(frozen=True)
class Asked:
    """A kind of wall, how many of a hundred are laid, and how fast they should be."""

    kind: WallKind
    share: int
    median: float
    worst: float


KINDS = {
    "half": Asked(WallKind("half"), 100, 0.05, 0.5),
    "third": Asked(WallKind("third"), 100, 0.08, 0.5),
    "quarter": Asked(WallKind("quarter"), 100, 0.08, 0.5),
    "stack": Asked(WallKind("stack"), 100, 0.05, 0.5),
    "English": Asked(WallKind("English"), 100, 0.08, 0.5),
    "Flemish": Asked(WallKind("Flemish"), 100, 0.25, 2.0),
    "common, header every 6th": Asked(WallKind("common"), 100, 0.25, 2.0),
    "common, header every 5th": Asked(
        WallKind("common", header_every=5), 100, 0.25, 2.0
    ),
    "half, unlike legs": Asked(WallKind("half", is_mirrored=False), 100, 0.3, 1.5),
    "third, unlike legs": Asked(WallKind("third", is_mirrored=False), 20, 0.3, 1.5),
    "English, unlike legs": Asked(WallKind("English", is_mirrored=False), 20, 0.3, 1.5),
    "Flemish, unlike legs": Asked(WallKind("Flemish", is_mirrored=False), 20, 0.3, 1.5),
    "common, header every 6th, unlike legs": Asked(
        WallKind("common", is_mirrored=False), 20, 0.3, 1.5
    ),
    "common, header every 5th, unlike legs": Asked(
        WallKind("common", is_mirrored=False, header_every=5), 10, 0.3, 1.5
    ),
}
"""By name; of the slow kinds fewer walls are laid."""


@dataclass(frozen=True)
class Held:
    """One wall, and what was found of it.

    Attributes:
        seed: which one.
        is_metric: whether it is solved in millimetres.
        took: CPU time of the bond alone, in seconds.
        wrong: what the program's own proof, or an error, said.
        not_laid: whether it was told in words that no soldiers fit.
        searched_all: whether every way was looked at, or ruled out.
        given: the lines of the order that count something, by face.
        is_mirror: whether it is laid as a mirror image; None where it can't be.
        mirror_fails: where it is not, whether each way that is fails a line of 1 to 6.
        soldiers: how wide the sawn soldiers are, against the brick's own face.
        differs: what its pieces do not show of what is said of them.
        judged: the faces that the brute force's judge finds another merit for.
    """

    seed: int
    is_metric: bool
    took: float = 0.0
    wrong: str = ""
    not_laid: bool = False
    searched_all: bool = True
    given: frozenset[tuple[str, int]] = frozenset()
    is_mirror: bool | None = None
    mirror_fails: bool | None = None
    soldiers: tuple[float, ...] | None = None
    differs: tuple[str, ...] = ()
    judged: tuple[str, ...] = ()

    def gives_up(self, first: int, last: int) -> bool:
        """Return whether some line of the order from first to last counts something."""
        return any(first <= place <= last for _, place in self.given)


class Solving:
    """The bond's solver, timed where it is called, so that nothing is solved twice."""

    took = 0.0
    solved: SolvedBond | None = None

    def __call__(self, plan: BondPlan) -> SolvedBond:
        """Solve as ever."""
        start = time.process_time()
        solved = solve_bond(plan)
        self.took, self.solved = time.process_time() - start, solved
        return solved


BESIDES = "find_better_widths", "say_corners"
"""What a run adds by solving other walls, which are not asked about here."""


def unsaid(*_: object) -> tuple[str, ...]:
    """Return nothing that is said."""
    return ()


def hold(kind: WallKind, seed: int) -> Held:
    """Solve, lay, prove and read one wall."""
    job, solving = job_of(kind, seed), Solving()
    held = partial(Held, seed, job.lengths == "mm")
    try:
        surround = trace_surround(job)
        coursing = solve_coursing(job, surround)
        with patch.multiple(lay, solve_bond=solving, **dict.fromkeys(BESIDES, unsaid)):
            layout = lay.lay_bond(job, surround, coursing)
        prove_layout(job, surround, coursing, layout)
    except NotLaid:
        return held(not_laid=True)
    except (NotProved, ArithmeticError, LookupError, TypeError, ValueError) as error:
        return held(solving.took, f"{type(error).__name__}: {error}")
    given = frozenset((x.face, x.place) for x in layout.given_up)
    solved = solving.solved
    assert solved is not None
    can_mirror = solved.plan.is_mirrored
    is_mirror = ("front", NOT_MIRRORED) not in given if can_mirror else None
    return held(
        took=solving.took,
        searched_all=layout.searched_all,
        given=given,
        is_mirror=is_mirror,
        mirror_fails=every_fails(solved.plan) if is_mirror is False else None,
        soldiers=sawn_soldiers(job, layout),
        differs=tuple(differences(job, layout, may_mirror=can_mirror)),
        judged=tuple(x for x, ours, theirs in judged_again(solved) if ours != theirs),
    )


def every_fails(plan: BondPlan) -> bool:
    """Return whether the best mirrored way of the widest search fails 1 to 6."""
    found = Mirrored(plan.sizes, front_of(plan), WIDEST).solve()
    return found is None or any(found.merit[:FAILS])


def sawn_soldiers(job: Job, layout: Layout) -> tuple[float, ...] | None:
    """Return how wide each sawn soldier is, as a share of a whole one."""
    wide = [x.length for x in layout.pieces if x.kind == "soldier"]
    face = job.brick.height
    return tuple(float(x / face) for x in wide if x != face) if wide else None


def measure(walls: int = WALLS) -> list[Row]:
    """Solve and prove so many walls a kind, of the slow kinds fewer."""
    return [row for name in KINDS for row in rows_of(name, walls)]


def rows_of(name: str, walls: int) -> list[Row]:
    """Return what was found of one kind of wall."""
    return list(say(name, KINDS[name], held_of(name, walls)))


def held_of(name: str, walls: int) -> list[Held]:
    """Solve and prove so many walls of a kind; of a slow kind fewer."""
    asked = KINDS[name]
    seeds = range(walls * asked.share // 100)
    with ProcessPoolExecutor(PROCESSES) as pool:
        return list(pool.map(partial(hold, asked.kind), seeds, chunksize=4))


def say(name: str, asked: Asked, every: list[Held]) -> Iterator[Row]:
    """Yield a row for each thing that is claimed, and the seeds that are against it."""
    laid = [x for x in every if not x.wrong and not x.not_laid]
    took = sorted(x.took for x in laid)
    metric = sum(x.is_metric for x in laid)
    yield Row(
        f"{name}: {len(laid)} walls, {metric} metric, CPU time of the bond alone, "
        "median and worst",
        f"{1000 * took[len(took) // 2]:.0f} ms, {took[-1]:.2f} s",
        asked=f"{1000 * asked.median:.0f} ms, {asked.worst} s",
    )
    yield count("refused by the program's own proof", (x for x in every if x.wrong))
    yield count("no soldiers fit, told in words", (x for x in every if x.not_laid), "")
    yield count("not searched to the end", (x for x in laid if not x.searched_all))
    under = [x for x in laid if x.gives_up(1, UNDER)]
    yield count(
        "a piece or a lap under the least, searched to the end: no way without one",
        (x for x in under if x.searched_all),
        "",
    )
    cut_short = (x for x in under if not x.searched_all)
    yield count("the same, not searched to the end", cut_short)
    fails = [x for x in laid if x not in under and x.gives_up(UNDER + 1, FAILS)]
    yield count("else unbonded, or a corner that can't be read", fails, "")
    yield from say_mirrors(laid)
    yield from say_soldiers(laid)
    yield count(
        "read from the pieces otherwise than is said", (x for x in laid if x.differs)
    )
    yield count(
        "judged otherwise by the brute force's judge", (x for x in laid if x.judged)
    )


def say_mirrors(laid: list[Held]) -> Iterator[Row]:
    """Yield how many mirror faces are laid so, and whether the others must not be."""
    faces = [x for x in laid if x.is_mirror is not None]
    if not faces:
        return
    others = [x for x in faces if not x.is_mirror]
    yield count(
        f"of {len(faces)} mirror faces laid unmirrored, no mirrored way keeping 1 to 6",
        (x for x in others if x.mirror_fails),
        "",
    )
    needless = (x for x in others if not x.mirror_fails)
    yield count("laid unmirrored without need", needless)


def say_soldiers(laid: list[Held]) -> Iterator[Row]:
    """Yield how many heads have sawn soldiers, and whether any is a sliver."""
    heads = [x for x in laid if x.soldiers is not None]
    sawn = [x for x in heads if x.soldiers]
    yield count(f"of {len(heads)} soldier heads with sawn soldiers", sawn, "")
    yield count("a sawn soldier alone", (x for x in sawn if len(x.soldiers or ()) == 1))
    slivers = (x for x in sawn if min(x.soldiers or (1.0,)) < 0.5)
    yield count("a sawn soldier under half its face", slivers)


def count(what: str, some: Iterable[Held], asked: str = "0") -> Row:
    """Return how many walls there are of a sort, and which."""
    found = list(some)
    seeds = f"seeds {', '.join(str(x.seed) for x in found)}" if found else ""
    return Row(f"  {what}", str(len(found)), seeds, asked=asked)
