"""The coursing problem as constraints, for a general solver to answer.

The model knows nothing of the product's way to the answer: joints and planes are its
variables, and the solver finds the least of each objective in turn. It is written from
the problem as stated, in the words of `Merit`.

Most constraints hold one way only: a miss is at least the distance of some plane, a
jump at least that of every joint. The least that there is then is the true one.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise
from math import ceil, floor, lcm, log10

from ortools.sat.python import cp_model

from shopdraw.masonry.coursing.form import Coursing
from shopdraw.masonry.wall.surround import trace_surround

OBJECTIVES = ("jump", "departure", "narrow", "changes", "bottom_departure",
              "total_departure")  # fmt: skip
"""Beneath the misses, in the order of merit."""
Solver = Callable[[cp_model.CpModel], list[int]]
"""Finds the least of a model's objective: the value of each variable, in order."""


def by_cp_sat(model: cp_model.CpModel) -> list[int]:
    """Find the least of a model's objective with OR-tools' CP-SAT, on one thread."""
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    # Models as small as these are solved before they are made much simpler.
    solver.parameters.max_presolve_iterations = 1
    status = solver.solve(model)
    assert status == cp_model.OPTIMAL, solver.status_name(status)
    return list(solver.response_proto.solution)


class Model:
    """One job's coursing as constraints, with the number of courses left open."""

    def __init__(self, job, solver: Solver = by_cp_sat):
        self.job, self.solver = job, solver
        self.surround = trace_surround(job)
        self.model = cp_model.CpModel()
        self.found: list[int] = []
        self.unseen = Fraction(1, 8) if job.lengths == "in" else Fraction(3)
        further = [x for t in job.target for x in (t.level, t.tolerance or 0)]
        sawn = (
            job.courses.bottom_height or 0,
            job.courses.top_height or 0,
            job.brick.height / 2,
            job.hearth.fall if job.hearth else 0,
        )
        self.bands = [(job.standing_height(band.kind), band) for band in job.band]
        further += [x for b in job.band for x in (b.level or 0, b.tolerance or 0)]
        further += [x for c in job.corbel for x in (c.top or 0, c.tolerance or 0)]
        further += [height for height, _ in self.bands]
        lengths = [job.joints.step / 2, job.joints.bed.preferred, self.unseen,
                   job.brick.height, job.brick.length, self.surround.height,
                   self.surround.opening.height, *further, *sawn]  # fmt: skip
        self.grid = lcm(*(Fraction(x).denominator for x in lengths))
        self.step = self.whole(job.joints.step)
        self.over_face = self.surround.opening.head == "soldier over the face"
        self.beside = self.surround.opening.head == "soldier over the opening"
        self.extra = int(job.face.top_meets == "underside")
        least = job.brick.height + job.joints.bed.least
        high = max(self.surround.height, self.surround.opening.height)
        self.most_courses = int(high / least) + 2
        self._joints_and_courses()
        self._planes()
        self._misses()

    def whole(self, length) -> int:
        on_grid = Fraction(length) * self.grid
        assert on_grid.denominator == 1
        return int(on_grid)

    def _number(self, most, least=0):
        return self.model.new_int_var(least, most, "")

    def _flags(self, count):
        return [self.model.new_bool_var("") for _ in range(count)]

    def _joints_and_courses(self):
        job, model, slots = self.job, self.model, self.most_courses
        step = job.joints.step
        fall = job.hearth.fall if job.hearth else Fraction(0)
        bottom, bed = job.joints.bottom, job.joints.bed
        first = ceil(bottom.least / step)
        # A fall beyond the joint's range is sawn off the first course, to its half.
        self.first_height = job.courses.bottom_height or job.brick.height
        in_joint = fall
        if fall and first * step + fall > bottom.most:
            stock = job.brick.height
            self.first_height = min(self.first_height, max(stock - fall, stock / 2))
            in_joint = max(Fraction(0), fall - stock + self.first_height)
        ranges = [(first, max(first, floor((bottom.most - in_joint) / step)))]
        ranges += [(ceil(bed.least / step), floor(bed.most / step))] * slots
        # The slot after the last course holds the joint under a last underside.
        self.joint = [self._number(most, least) for least, most in ranges]
        self.widest = max(most for _, most in ranges)
        self.range_of = ranges
        # The joints up to each, in steps.
        self.sums = self.joint[:1]
        low, high = ranges[0]
        for joint, (least, most) in zip(self.joint[1:], ranges[1:], strict=True):
            low, high = low + least, high + most
            total = self._number(high, low)
            model.add(total == self.sums[-1] + joint)
            self.sums.append(total)
        self.there = self._flags(slots)
        model.add(self.there[0] == 1)
        for lower, upper in pairwise(self.there):
            model.add_implication(upper, lower)
        self.is_last = self._flags(slots)
        for i, (here, above) in enumerate(pairwise([*self.there, 0])):
            model.add(self.is_last[i] == here - above)
        # Whether each joint is laid: under a course, or under the last underside.
        self.laid = self.there[:]
        if self.extra:
            self.laid = [self.there[0], *self.there]

    def _planes(self):
        """Give each slot its underside and its top, on the grid."""
        job, model, slots = self.job, self.model, self.most_courses
        brick, soldier = self.whole(job.brick.height), self.whole(job.brick.length)
        heights = [brick] * slots
        self.is_soldier = []
        if self.over_face:
            self.is_soldier = self._flags(slots)
            model.add_exactly_one(self.is_soldier)
            for is_soldier, there in zip(self.is_soldier, self.there, strict=True):
                model.add_implication(is_soldier, there)
            heights = [brick + (soldier - brick) * each for each in self.is_soldier]
        for i, bands in enumerate(self._bands()):
            for height, is_band in bands:
                heights[i] = heights[i] + (self.whole(height) - brick) * is_band
        if self.first_height != job.brick.height:
            heights[0] = self.whole(self.first_height)
        if job.courses.top_height is not None:
            top = self.whole(job.courses.top_height)
            for i, usual in enumerate(heights):
                tallest = [self.whole(height) for height, _ in self.bands]
                height = self._number(max(brick, soldier, top, *tallest))
                model.add(height == usual).only_enforce_if(~self.is_last[i])
                model.add(height == top).only_enforce_if(self.is_last[i])
                heights[i] = height
        self.underside, self.top = [], []
        brickwork = 0
        for height, total in zip([*heights, 0], self.sums, strict=True):
            self.underside.append(brickwork + self.step * total)
            brickwork = brickwork + height
            self.top.append(brickwork + self.step * total)
        self._bands_near(heights)

    def _bands(self):
        """Say of each slot which bands it may be: their heights, and whether it is.

        A band with a level may begin in any slot with a course, one with a number in
        that one; it comes again as often as asked. No slot is two bands.
        """
        model, slots = self.model, self.most_courses
        self.begins, slot_bands = [], [[] for _ in range(slots)]
        for height, band in self.bands:
            begins = [int(i + 1 == band.course) for i in range(slots)]
            if band.level is not None:
                begins = self._flags(slots)
                model.add_exactly_one(begins)
                for flag, there in zip(begins, self.there, strict=True):
                    model.add_implication(flag, there)
            self.begins.append(begins)
            times = (band.times or slots) if band.every else 1
            for i in range(slots):
                starts = [i - n * (band.every or 1) for n in range(times)]
                is_band = sum(begins[start] for start in starts if start >= 0)
                slot_bands[i].append((height, is_band))
        for i, bands in enumerate(slot_bands):
            soldier = self.is_soldier[i] if self.is_soldier else 0
            if bands:
                model.add(sum(is_band for _, is_band in bands) + soldier <= 1)
        return slot_bands

    def _bands_near(self, heights):
        """Let a band with a level be a course that can come near enough to it."""
        job, model = self.job, self.model
        near = self.whole(job.brick.height) + self.step * floor(
            job.joints.bed.most / job.joints.step
        )
        for (_, band), begins in zip(self.bands, self.begins, strict=True):
            if band.level is None:
                continue
            tolerance = band.tolerance
            tolerance = job.joints.step / 2 if tolerance is None else tolerance
            room = near + self.whole(tolerance)
            level, brickwork, least, most = self.whole(band.level), 0, 0, 0
            for i, flag in enumerate(begins):
                low, high = self.range_of[i]
                least, most = least + low, most + high
                below = brickwork + (heights[i] if band.meets == "top" else 0)
                apart = below + self.step * least - level
                model.add(apart <= room).only_enforce_if(flag)
                apart = level - below - self.step * most
                model.add(apart <= room).only_enforce_if(flag)
                brickwork = brickwork + heights[i]

    def _misses(self):
        """Count the misses by rank: head, top, soldiers' top, the file's order."""
        job, model = self.job, self.model
        half = self.whole(job.joints.step / 2)
        opening = self.whole(self.surround.opening.height)
        self.furthest = self.whole(
            (self.most_courses + 2) * (job.brick.height + job.joints.bed.most)
            + job.brick.length
            + job.joints.bottom.most
            + max((target.level for target in job.target), default=0)
            + sum(height for height, _ in self.bands) * self.most_courses
        )
        self.raw, self.counted = [], []
        # A head has a course above it: the joint under the top leads to none.
        is_head = self._flags(self.most_courses)
        for head, there in zip(is_head, self.there, strict=True):
            model.add_implication(head, there)
        self._miss(self.underside[:-1], is_head, opening, half)
        if self.over_face or self.beside:
            self._nearest(is_head, opening)
        last = self.underside[1:] if self.extra else self.top[:-1]
        self._miss(last, self.is_last, self.whole(self.surround.height), half)
        wanted = []
        if self.beside:
            got = self._number(self.furthest)
            for head, plane in zip(is_head, self.underside, strict=False):
                model.add(got == plane).only_enforce_if(head)
            level = got + self.whole(job.brick.length)
            sawn = ("top", level, self.whole(job.joints.step), True)
            wanted.append(sawn)
        for further in job.target:
            tolerance = further.tolerance
            tolerance = half if tolerance is None else self.whole(tolerance)
            wanted.append((further.meets, self.whole(further.level), tolerance, False))
        for (_, band), begins in zip(self.bands, self.begins, strict=True):
            if band.level is not None:
                tolerance = band.tolerance
                tolerance = half if tolerance is None else self.whole(tolerance)
                planes = self.top if band.meets == "top" else self.underside
                level = self.whole(band.level)
                wanted.append((band.meets, level, tolerance, False, planes, begins))
        for corbel in job.corbel:
            if corbel.top is not None:
                tolerance = corbel.tolerance
                tolerance = half if tolerance is None else self.whole(tolerance)
                wanted.append(("top", self.whole(corbel.top), tolerance, False))
        for meets, level, tolerance, is_sawn_to, *only in wanted:
            if only:
                self._miss(*only, level, tolerance)
                continue
            planes, there = self.top, self.there
            if meets == "underside":
                planes, there = self.underside, self.laid
            taken = self._flags(len(there))
            for flag, is_there in zip(taken, there, strict=True):
                model.add_implication(flag, is_there)
            self._miss(planes, taken, level, tolerance, is_sawn_to=is_sawn_to)

    def _miss(self, planes, taken, level, tolerance, *, is_sawn_to=False):
        """Have one of the planes taken, and count how far it is from its level.

        What is sawn to its level counts one, however far off the plane is.
        """
        model = self.model
        miss, counted = self._number(self.furthest), self._number(self.furthest)
        model.add_exactly_one(taken)
        for flag, plane in zip(taken, planes, strict=False):
            model.add(plane - level <= miss).only_enforce_if(flag)
            model.add(level - plane <= miss).only_enforce_if(flag)
        (counts,) = self._flags(1)
        model.add(miss <= tolerance).only_enforce_if(~counts)
        counts_as = self.grid if is_sawn_to else miss
        model.add(counted >= counts_as).only_enforce_if(counts)
        self.raw.append(miss)
        self.counted.append(counted)

    def _nearest(self, is_head, opening):
        """Have the head on its nearest plane, the lower of two equally near.

        Then the middle between it and the plane below is under the level, and that
        between it and the plane above is not.
        """
        model, planes = self.model, self.underside
        for i, head in enumerate(is_head):
            if i:
                middle = planes[i - 1] + planes[i]
                model.add(middle <= 2 * opening - 1).only_enforce_if(head)
            if i + 1 < self.most_courses:
                middle = planes[i] + planes[i + 1]
                above = self.there[i + 1]
                model.add(middle >= 2 * opening).only_enforce_if(head, above)
            if self.over_face:
                model.add(head == self.is_soldier[i])

    def _merits(self):
        """State the objectives beneath the misses, but for the narrow joint."""
        model, step, laid = self.model, self.step, self.laid
        preferred = self.whole(self.job.joints.bed.preferred)
        most = step * self.widest + preferred
        self.jump, self.departure = self._number(most), self._number(most)
        (self.narrow,) = self._flags(1)
        differs = self._flags(len(laid) - 2)
        away = [self._number(most) for _ in laid]
        for i, (joint, there) in enumerate(zip(self.joint, laid, strict=False)):
            off = step * joint - preferred
            for each in [away[i], self.departure][: i + 1]:
                model.add(off <= each).only_enforce_if(there)
                model.add(-off <= each).only_enforce_if(there)
            if i > 1:
                same = joint == self.joint[i - 1]
                model.add(same).only_enforce_if(there, ~differs[i - 2])
            if i > 1 or (i and not self.job.joints.bottom.hidden):
                seen = self.jump + (step if i > 1 else self.whole(self.unseen))
                jump = step * (joint - self.joint[i - 1])
                model.add(jump <= seen).only_enforce_if(there)
                model.add(-jump <= seen).only_enforce_if(there)
        self.changes = sum(differs)
        self.bottom_departure, self.total_departure = away[0], sum(away)

    def _narrow(self, departure):
        """Tell a joint that is narrower by the departure, where that is known."""
        if not departure:
            return
        least = self.whole(self.job.joints.bed.preferred) - departure
        self.found = []
        for joint, there in zip(self.joint[1:], self.laid[1:], strict=False):
            wider = self.step * joint >= least + 1
            self.model.add(wider).only_enforce_if(there, ~self.narrow)

    def least(self, objective):
        """Find the least of an objective and keep it from here on."""
        model = self.model
        model.minimize(objective)
        aim, variables = model.proto.objective, model.proto.variables
        terms = list(zip(aim.coeffs, aim.vars, strict=True))
        lowest = sum(c * variables[v].domain[0 if c > 0 else 1] for c, v in terms)

        def value():
            return sum(c * self.found[v] for c, v in terms)

        # What was found before may already be as little as can be.
        if len(self.found) < len(variables) or value() > lowest:
            self.found = self.solver(model)
        least = value() + round(aim.offset)
        model.add(objective == least)
        return least

    def answer(self):
        """Return the least of each objective, in the order of merit, on the grid."""
        misses = tuple(self.least(counted) for counted in self.counted)
        self._merits()
        found = {"misses": misses, "jump": self.least(self.jump)}
        found["departure"] = self.least(self.departure)
        self._narrow(found["departure"])
        for name in OBJECTIVES[2:]:
            found[name] = self.least(getattr(self, name))
        return found

    def joints_laid(self):
        """Return the joints, in steps, of those that are best by every objective.

        The smaller misses within tolerance, then wider first from the bottom up. Where
        one stack ends first, that one, so a joint not laid is wider than any.
        """
        for raw in self.raw:
            self.least(raw)
        base = self.widest + 2
        at_once = int(15 / log10(base))
        for start in range(0, len(self.laid), at_once):
            wide = 0
            for i in range(start, min(start + at_once, len(self.laid))):
                width = self._number(self.widest + 1)
                self.model.add(width <= self.joint[i]).only_enforce_if(self.laid[i])
                wide = base * wide - width
            self.least(wide)
        laid = sum(self.found[each.index] for each in self.laid)
        return tuple(self.found[joint.index] for joint in self.joint[:laid])


def any_job(stack_job, seed, courses=(3, 9)):
    """A job of about so many courses, three in four laid out so that it can land.

    Of the rest, the levels are anywhere: nothing lands, and the least misses are asked.
    """
    pick = random.Random(seed)
    step = pick.choice([Fraction(1, 16)] * 4 + [Fraction(1, 8), Fraction(3, 32)])
    height = pick.choice([Fraction(9, 4)] * 3 + [Fraction(11, 4), Fraction(29, 8),
                          Fraction(71, 32), Fraction(13, 8)])  # fmt: skip
    least, most = pick.choice([(4, 8), (4, 8), (5, 7), (4, 10), (6, 6), (2, 9)])
    bottom_least = pick.choice([0, 4, 4, 6])
    bottom_most = bottom_least + pick.randint(0, 10)
    levels, level = [], Fraction(0)
    for number in range(pick.randint(*courses)):
        joint = pick.randint(ceil(least / step / 16), floor(most / step / 16)) * step
        if number == 0:
            joint = Fraction(pick.randint(bottom_least, bottom_most), 16)
        levels.append({"underside": level + joint, "top": level + joint + height})
        level = levels[-1]["top"]
    if pick.random() < 0.25:
        levels = [
            {meets: Fraction(pick.randint(16, int(level * 16)), 16) for meets in plane}
            for plane in levels
        ]
        levels.sort(key=lambda plane: plane["top"])
    top_meets = pick.choice(["top", "underside"])
    head = pick.choice(["running", "running", "soldier"])
    at = pick.randrange(1, len(levels))
    soldier = pick.choice([Fraction(61, 8), Fraction(15, 2), Fraction(53, 10)])
    if pick.random() < 0.6:
        soldier = max(height, levels[-1]["top"] - levels[at]["underside"])
    changes = {
        "joints__step": f"{step} in",
        "joints__bed": {
            "preferred": pick.choice(["3/8 in", "3/8 in", "7/16 in", "11/32 in"]),
            "least": f"{least}/16 in",
            "most": f"{most}/16 in",
        },
        "joints__bottom": {
            "kind": "mortar",
            "least": f"{bottom_least}/16 in",
            "most": f"{bottom_most}/16 in",
            "hidden": pick.random() < 0.3,
        },
        "brick__height": f"{height} in",
        "brick__length": f"{soldier} in",
        "face__height": f"{levels[-1][top_meets]} in",
        "face__top_meets": top_meets,
        "opening__height": f"{levels[at]['underside']} in",
        "opening__head": head,
        "opening__head_over": pick.choice(["opening", "opening", "face"]),
    }
    if pick.random() < 0.2:
        changes["hearth"] = {"fall": f"{pick.randint(0, 8)}/16 in"}
    for place in ("bottom", "top"):
        if pick.random() < 0.1:
            changes[f"courses__{place}_height"] = pick.choice(["2 in", "1 13/16 in"])
    changes["target"] = []
    for number in range(pick.choice([0, 0, 1, 2])):
        meets = pick.choice(["top", "underside"])
        level = pick.choice(levels)[meets] + Fraction(pick.choice([0, 0, 1, -2]), 32)
        tolerance = pick.choice(
            [{}, {}, {"tolerance": "1/8 in"}, {"tolerance": "0 in"}]
        )
        line = {"name": f"line {number}", "level": f"{max(level, Fraction(1, 8))} in"}
        changes["target"].append({**line, "meets": meets, **tolerance})
    return stack_job(**changes)


def compare(
    job, coursing: Coursing, solver: Solver = by_cp_sat, *, with_joints: bool = True
):
    """Name everything in which the coursing and the general solver disagree."""
    model = Model(job, solver)
    theirs, merit, grid = model.answer(), coursing.merit, model.grid
    ours: dict = {"misses": tuple(miss * grid for miss in merit.misses)}
    for name in OBJECTIVES:
        value = getattr(merit, name)
        ours[name] = value if name in ("narrow", "changes") else value * grid
    if with_joints:
        theirs["joints"] = model.joints_laid()
        ours["joints"] = tuple(joint / job.joints.step for joint in coursing.joints)
    return [name for name in ours if theirs[name] != ours[name]]
