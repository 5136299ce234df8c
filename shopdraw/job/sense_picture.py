"""Say in plain words what is wrong with the photograph that the picture is laid into.

In:  `Job`, every key well formed.   Out: `Complaint`s.
Frame: dots of the photograph, right and down from its upper left corner.

Whether the photograph is there, and how large it is, is found out by who reads it.
"""

from __future__ import annotations

from collections.abc import Iterator

from shopdraw.job.complaint import Complaint
from shopdraw.job.model import Job

DRAWN = "room.jpg"
"""The file of a set that shows the photograph, and what is laid into it."""
CORNERS = "upper left, upper right, lower right and lower left corner of the face"
WRITE = f"write four pairs, [right, down], of the {CORNERS}"


def complaints_of_picture(job: Job) -> Iterator[Complaint]:
    """Complain of a photograph's name, and of corners that no face can have in it."""
    photo, corners = job.appearance.photo, job.appearance.photo_corners
    if photo.lower() == DRAWN:
        wanted = "is what the set calls what it draws; give the photograph another name"
        yield Complaint("appearance.photo", wanted)
    key = "appearance.photo_corners"
    if photo and not corners:
        yield Complaint(key, f"is missing; {WRITE}")
    elif corners and not photo:
        wanted = "is missing; write the name of the photograph that has these corners"
        yield Complaint("appearance.photo", wanted)
    elif len(corners) not in (0, 4) or any(len(each) != 2 for each in corners):
        yield Complaint(key, f"has not got four corners; {WRITE}")
    elif corners and not _is_seen(corners):
        wanted = f"is no face seen from before it; {WRITE}, in this order"
        yield Complaint(key, wanted)


def _is_seen(corners: tuple[tuple[float, ...], ...]) -> bool:
    """Whether corners are those of an upright face: convex, and in their order."""
    (a, b, c, d) = corners
    ordered = a[0] < b[0] and d[0] < c[0] and a[1] < d[1] and b[1] < c[1]
    around = zip(corners, (b, c, d, a), (c, d, a, b), strict=True)
    return ordered and all(
        (q[0] - p[0]) * (r[1] - q[1]) > (q[1] - p[1]) * (r[0] - q[0])
        for p, q, r in around
    )
