"""Random jobs with bands and corbels, for the coursing."""

from __future__ import annotations

import random
from fractions import Fraction

from tests.masonry.coursing.general_solver import any_job


def any_banded_job(stack_job, seed):
    """A job as `any_job` has it, with a band or two, and now and then a corbel.

    One band in two has a level. Bands stand apart, so that no two are the same course.
    """
    pick = random.Random(seed)
    changes = any_job(dict, seed, (5, 12))
    job = stack_job(**changes)
    changes["band"] = []
    height = job.face.height
    # A band's top lies no lower than a band is high.
    level, course = job.brick.length - job.brick.height, 1
    for _ in range(pick.choice([1, 1, 2])):
        kind = pick.choice(["soldier", "rowlock", "header"])
        band = {"kind": kind}
        if pick.random() < 0.5:
            level += Fraction(pick.randint(40, 120), 16)
            level += pick.choice([job.brick.height, job.brick.length])
            if level > height * 2 / 3:
                break
            band["level"] = f"{level} in"
            band["meets"] = pick.choice(["underside", "top"])
            if pick.random() < 0.3:
                band["tolerance"] = pick.choice(["1/8 in", "0 in"])
            level += job.brick.length
        else:
            course += pick.randint(0, 3)
            band["course"] = course
            if pick.random() < 0.3:
                band["every"] = pick.randint(2, 4)
                band["times"] = pick.randint(1, 2)
            course += 8
        changes["band"].append(band)
    if pick.random() < 0.3:
        corbel = {"courses": 1, "step": "1/8 in"}
        corbel["top"] = f"{max(height - Fraction(pick.randint(0, 60), 16), 2)} in"
        changes["corbel"] = [corbel]
    return stack_job(**changes)
