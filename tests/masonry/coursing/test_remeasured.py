"""The rest of a wall above laid courses, against every way that there is to lay it.

The search below knows nothing of the product's way to the answer: it lays every number
of courses with every joint, weighs each as the order of merit says, and keeps the best.
"""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction as F
from itertools import pairwise, product
from math import ceil, floor, lcm

import pytest

from shopdraw.errors import NotLaid
from shopdraw.job.model_laid import LaidTable
from shopdraw.job.sense import complaints_of
from shopdraw.masonry.coursing.solve import solve_coursing
from shopdraw.masonry.wall.surround import trace_surround
from tests.longer import mostly_long
from tests.masonry.coursing.band_jobs import any_banded_job
from tests.masonry.coursing.test_against_solver import any_job

CASES = 160
MOST_WAYS = 5000
"""A case with more ways than this to lay the rest is left to the others."""
WIDER = 1000
"""Than any joint: where one stack ends first, it is the wider."""


@pytest.fixture
def solve(stack_job):
    """Solve a stack whose table changes are written with two underscores."""

    def solved(**changes):
        job = stack_job("in", **changes)
        return solve_coursing(job, trace_surround(job))

    return solved


def with_laid(job, *laid):
    return job.model_copy(update={"laid": laid})


def plan_of(job):
    return solve_coursing(job, trace_surround(job))


def laid_case(stack_job, seed):
    """A job of a few courses, some of them laid near where the plan has them."""
    pick = random.Random(seed)
    job = any_job(stack_job, pick.randrange(10**6))
    plan = plan_of(job)
    count = max(1, len(plan.courses) - pick.randint(1, 4))
    top = plan.courses[min(count, len(plan.courses)) - 1].top
    top += F(pick.randint(-12, 12), pick.choice([32, 96]))
    laid = [LaidTable(course=count, top=top)]
    if pick.random() < 0.3:
        off = F(pick.randint(1, 8), 32)
        laid = [LaidTable(course=count, left=top, right=top - off)]
    if count > 2 and pick.random() < 0.3:
        lower = pick.randrange(1, count - 1)
        there = plan.courses[lower - 1].top + F(pick.randint(-2, 2), 32)
        laid.insert(0, LaidTable(course=lower, top=there))
    job = with_laid(job, *laid)
    if complaints_of(job) or EveryWay(job).count_ways() > MOST_WAYS:
        return None
    return job


def joints_of(job):
    bed, step = job.joints.bed, job.joints.step
    return ceil(bed.least / step), floor(bed.most / step)


class EveryWay:
    """Every way to lay the rest, weighed one by one."""

    def __init__(self, job):
        self.job = job
        self.plan = plan_of(job.model_copy(update={"laid": ()}))
        self.surround = trace_surround(job)
        last = max(job.laid, key=lambda laid: laid.course)
        self.count = last.course
        self.start = last.highest
        self.taper = last.taper
        self.brick = job.brick.height
        head = self.surround.opening.head
        self.over_face = head == "soldier over the face"
        self.beside = head == "soldier over the opening"
        self.extra = int(job.face.top_meets == "underside")
        self.head_laid = self.plan.courses_below_head < self.count
        below = self.plan.courses[: self.count]
        self.last_height = below[-1].top - below[-1].bottom
        self.tops, self.bottoms = self._as_laid(below)

    def _as_laid(self, below):
        """Levels of the laid courses: what is off is shared by the joints below it."""
        tops, bottoms, level, at = [], [], F(0), 0
        for laid in sorted(self.job.laid, key=lambda laid: laid.course):
            group = below[at : laid.course]
            grown = sum(c.bed_joint + c.height for c in group)
            share = (laid.highest - level - grown) / len(group)
            for course in group:
                bottoms.append(level + course.bed_joint + share)
                level = bottoms[-1] + course.height
                tops.append(level)
            at = laid.course
        return tops, bottoms

    def ways(self):
        """Yield (joints in steps, the new course that is of soldiers)."""
        for courses, ranges, soldiers in self._stacks():
            for soldier in range(courses) if soldiers else [-1]:
                for joints in product(*ranges):
                    yield joints, courses, soldier

    def count_ways(self):
        ways = 0
        for courses, ranges, soldiers in self._stacks():
            of_joints = 1
            for each in ranges:
                of_joints *= len(each)
            ways += of_joints * (courses if soldiers else 1)
        return ways

    def _stacks(self):
        """Yield every number of courses worth a look, and what each joint may be."""
        least, most = joints_of(self.job)
        step = self.job.joints.step
        first_most = max(least, most - ceil(self.taper / step))
        room = self.surround.height - self.start
        highest = max([room, *(self._ahead(level) for level in self._levels())])
        enough = int(highest / (self.brick + least * step)) + 2
        for courses in range(enough + 1):
            count = courses + self.extra
            ranges = [range(least, most + 1)] * count
            if count:
                ranges[0] = range(least, first_most + 1)
            yield courses, ranges, self.over_face and not self.head_laid

    def _levels(self):
        return [self.surround.opening.height, *(t.level for t in self.job.target)]

    def _ahead(self, level):
        return level - self.start

    def best(self):
        """Weigh every way in whole numbers of one grid, and give the best back."""
        self._to_grid()
        weighed = (self.weigh(*way) for way in self.ways_on_grid)
        return min(each for each in weighed if each is not None)

    def _to_grid(self):
        job, step = self.job, self.job.joints.step
        self.ways_on_grid = list(self.ways())
        opening = self.surround.opening.height
        self.further = []
        for target in job.target:
            tolerance = step / 2 if target.tolerance is None else target.tolerance
            self.further.append((target.meets, target.level, tolerance))
        lengths = [
            *(step / 2, job.joints.bed.preferred, self.start, self.last_height / 2),
            *(self.brick, job.brick.length, self.surround.height, opening),
            *(job.courses.top_height or 0, *self.tops, *self.bottoms),
            *(x for _, *pair in self.further for x in pair),
        ]
        self.grid = lcm(*(F(x).denominator for x in lengths))

        def whole(length):
            return int(length * self.grid)

        self.step, self.preferred = whole(step), whole(job.joints.bed.preferred)
        self.half, self.at, self.high = (
            self.step // 2,
            whole(self.start),
            whole(self.brick),
        )
        self.soldier, self.opening = whole(job.brick.length), whole(opening)
        self.face, self.last_half = (
            whole(self.surround.height),
            whole(self.last_height / 2),
        )
        sawn = job.courses.top_height
        self.sawn = None if sawn is None else whole(sawn)
        self.laid_tops = [whole(x) for x in self.tops]
        self.laid_bottoms = [whole(x) for x in self.bottoms]
        self.further = [(m, whole(a), whole(b)) for m, a, b in self.further]

    def weigh(self, joints, courses, soldier):
        undersides, tops, level = [], [self.at], self.at
        for place, joint in enumerate(joints):
            level += joint * self.step
            undersides.append(level)
            if place < courses:
                height = self.soldier if place == soldier else self.high
                if place == courses - 1 and self.sawn is not None:
                    height = self.sawn
                level += height
                tops.append(level)
        misses = self._misses(undersides, tops, courses, soldier)
        if misses is None:
            return None
        raw, counted = misses
        apart = [abs(b - a) * self.step for a, b in pairwise(joints)]
        away = [abs(joint * self.step - self.preferred) for joint in joints]
        most = max(away, default=0)
        narrow = [joint * self.step for joint in joints if most]
        return (
            counted,
            max([0, *(x - self.step for x in apart)]),
            most,
            int(self.preferred - most in narrow),
            sum(x > 0 for x in apart),
            sum(away),
            raw,
            tuple(-x for x in (*joints, *[WIDER] * (12 - len(joints)))),
            joints,
        )

    def _misses(self, undersides, tops, courses, soldier):
        raw, counted = [], []

        def count(wanted, planes, tolerance, laid_planes, passed, sawn=False):
            taken = laid_planes if passed else planes
            if not taken:
                return None
            got = min(taken, key=lambda plane: (abs(plane - wanted), plane))
            miss = abs(got - wanted)
            if not passed:
                raw.append(miss)
                counts_as = self.grid if sawn else miss
                counted.append(0 if miss <= tolerance else counts_as)
            return got

        over = []
        if self.head_laid:
            over = [self.laid_bottoms[self.plan.courses_below_head]]
        planes = [undersides[soldier]] if soldier >= 0 else undersides[:courses]
        head = count(self.opening, planes, self.half, over, self.head_laid)
        if head is None or (self.extra and not undersides):
            return None
        top = undersides[-1] if self.extra else tops[-1]
        count(self.face, [top], self.half, [], passed=False)
        further = [(*target, True) for target in self.further]
        if self.beside:
            level = head + self.soldier
            further.insert(0, ("top", level, self.step, self.head_laid))
        for place, (meets, level, tolerance, may_be_passed) in enumerate(further):
            done_at = self.at - (self.last_half if meets == "underside" else 0)
            passed = may_be_passed and level <= done_at
            planes = tops if meets == "top" else undersides
            laid = self.laid_tops if meets == "top" else self.laid_bottoms
            sawn = self.beside and place == 0
            if count(level, planes, tolerance, laid, passed, sawn) is None:
                return None
        return tuple(raw), tuple(counted)


def compare(job, coursing):
    """Name everything in which the coursing and the search disagree."""
    search = EveryWay(job)
    counted, jump, departure, narrow, changes, total, _, _, joints = search.best()
    merit, grid = coursing.merit, search.grid
    ahead = [
        0 if t.lands else 1 if t.name == "soldier top" else t.miss
        for rank, t in enumerate(coursing.targets)
        if not passed(coursing, rank)
    ]
    step, laid = job.joints.step, len(coursing.laid.courses)
    pairs = {
        "misses": (tuple(x * grid for x in ahead), counted),
        "jump": (merit.jump * grid, jump),
        "departure": (merit.departure * grid, departure),
        "narrow": (merit.narrow, narrow),
        "changes": (merit.changes, changes),
        "total departure": (merit.total_departure * grid, total),
        "joints": (tuple(x / step for x in coursing.joints[laid:]), joints),
    }
    return [name for name, (ours, theirs) in pairs.items() if ours != theirs]


def passed(coursing, rank):
    """Whether a target lies on what is laid and not on the rest."""
    target, laid = coursing.targets[rank], coursing.laid
    if rank == 1:
        return False
    if rank == 0:
        return laid.head is not None
    if target.name == "soldier top" and laid.head is None:
        return False
    return laid.has_passed(target.meets, target.wanted)


@pytest.mark.parametrize("first", mostly_long(range(0, CASES, 20), 0, 20, 40))
def test_the_rest_is_the_best_of_every_way_to_lay_it(stack_job, first):
    done, seed = 0, first * 1000
    while done < 20:
        seed += 1
        job = laid_case(stack_job, seed)
        if job is None:
            continue
        coursing = solve_coursing(job, trace_surround(job))
        assert compare(job, coursing) == [], f"seed {seed}"
        done += 1


def test_a_joint_that_is_moved_is_noticed(stack_job):
    seen = 0
    for seed in range(40):
        job = laid_case(stack_job, seed)
        if job is None:
            continue
        coursing = solve_coursing(job, trace_surround(job))
        laid = len(coursing.laid.courses)
        if len(coursing.joints) <= laid:
            continue
        joints = list(coursing.joints)
        joints[-1] += job.joints.step
        moved = coursing.__class__(**{**vars(coursing), "joints": tuple(joints)})
        assert "joints" in compare(job, moved)
        seen += 1
    assert seen > 5


def test_what_is_laid_as_planned_changes_nothing(stack_job):
    for seed in range(60):
        job = any_job(stack_job, seed)
        plan = plan_of(job)
        for course in plan.courses[:-1]:
            laid = with_laid(job, LaidTable(course=course.number, top=course.top))
            if complaints_of(laid):
                continue
            again = solve_coursing(laid, trace_surround(laid))
            # What lands still lands, and no worse: less is left to choose from.
            assert again.courses[: course.number] == tuple(
                replace(
                    c,
                    is_laid=True,
                    is_reckoned=c.number < course.number,
                    is_joint_reckoned=course.number > 1,
                )
                for c in plan.courses[: course.number]
            )
            assert [t.counted for t in again.targets] == [
                t.counted for t in plan.targets
            ]


def test_three_sixteenths_high_at_course_7_is_taken_back_by_three_joints(solve):
    # 7 courses at 18 11/16 instead of 18 1/2: three joints of 3/8 instead of 7/16
    # up to the head at 27: 18 11/16 + 3 x (3/8 + 2 1/4) + 7/16 = 27.
    plan = solve(opening__head="soldier", face__height="34 5/8 in")
    coursing = solve(
        opening__head="soldier",
        face__height="34 5/8 in",
        laid=[{"course": 7, "top": "18 11/16 in"}],
    )
    assert coursing.lands
    assert coursing.joints[7:10] == (F(3, 8), F(3, 8), F(3, 8))
    assert coursing.head == 27
    changes = {change.course: change for change in coursing.changes_from(plan.courses)}
    assert changes[7].top == F(3, 16)
    assert changes[8].joint == F(-1, 16)
    assert changes[10].top == 0


def test_a_course_out_of_level_leaves_room_for_its_taper(solve):
    # 1/8 out of level: the joint over it may be 3/8 at the higher end, 1/2 at most.
    coursing = solve(laid=[{"course": 3, "left": "7 3/4 in", "right": "7 7/8 in"}])
    assert coursing.laid.taper == F(1, 8)
    assert coursing.courses[2].top == F(63, 8)
    assert coursing.joints[3] + F(1, 8) <= F(1, 2)


def test_above_a_laid_head_the_joints_still_bring_a_course_to_the_soldiers_top(solve):
    # Course 11 is laid 1/8 high: the soldiers stand on 27 1/8, and end at 34 3/4. Two
    # joints of 7/16 come to it from 29 3/8, then three of 1/2 to the top; the top alone
    # would have the three first.
    coursing = solve(
        opening__head="soldier",
        face__height="43 in",
        laid=[{"course": 11, "top": "29 3/8 in"}],
    )
    assert coursing.head == F(217, 8)
    assert coursing.joints[11:] == (*2 * [F(7, 16)], *3 * [F(1, 2)])
    met = coursing.targets[2]
    assert (met.wanted, met.got) == (F(139, 4), F(139, 4))
    assert coursing.soldier_top == met.got


def test_bands_stay_where_they_are_while_what_is_laid_is_as_planned(stack_job):
    seen = set()
    # In the last one no course comes near the band's level once two are laid.
    for seed in (*range(40), 94):
        job = any_banded_job(stack_job, seed)
        try:
            plan = plan_of(job)
        except NotLaid:
            continue
        bands = {(x.number, x.kind) for x in plan.bands()}
        for course in plan.courses[:-1]:
            laid = with_laid(job, LaidTable(course=course.number, top=course.top))
            if complaints_of(laid):
                continue
            again = solve_coursing(laid, trace_surround(laid))
            assert {(x.number, x.kind) for x in again.bands()} == bands, seed
            met, planned = ([x.counted for x in y.targets] for y in (again, plan))
            assert met == planned, seed
            seen |= {
                course.number >= number
                for number, _ in bands
                if any(table.level is not None for table in job.band)
            }
    # With the band laid already, and with it still to come.
    assert seen == {True, False}


def test_a_band_that_comes_again_stays_whichever_course_is_laid(solve):
    band = [{"kind": "header", "course": 3, "every": 2}]
    plan = solve(band=band)
    wanted = [n for n in range(3, len(plan.courses) + 1) if n % 2]
    assert [x.number for x in plan.bands()] == wanted
    for course in plan.courses[:-1]:
        laid = [{"course": course.number, "top": f"{course.top} in"}]
        again = solve(band=band, laid=laid)
        assert [x.number for x in again.bands()] == wanted, course.number
