"""Lay the hearth that a job asks for: border, field, strip between the jambs, riser.

In:  `Job`, `Surround`, the face's `Layout`.   Out: `BrickHearth`; the face's layout
with the marks that both share.
Frame: the hearth's plan; a riser's own.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from shopdraw.job.model import Job
from shopdraw.lengths import format_length
from shopdraw.masonry.hearth.border import lay_border
from shopdraw.masonry.hearth.field import FieldLaid, lay_field, lay_strip
from shopdraw.masonry.hearth.form import BrickHearth, HearthGround, Riser
from shopdraw.masonry.hearth.ground import trace_ground
from shopdraw.masonry.hearth.proof import prove_hearth
from shopdraw.masonry.hearth.riser import lay_riser
from shopdraw.masonry.laying.pieces import mark_pieces
from shopdraw.masonry.wall.form import Surround
from shopdraw.masonry.wall.layout import Layout

HEARTH_FACES = ("hearth", "left riser", "riser", "right riser")


def lay_hearth(
    job: Job, surround: Surround, face: Layout
) -> tuple[Layout, BrickHearth | None]:
    """Lay the hearth a job asks for, and mark its pieces together with the face's.

    Args:
        job: what was asked.
        surround: the faces, for where they stand.
        face: what is laid on them.

    Returns:
        The face's layout, with marks that both share, and the hearth; None where the
        job asks for none.

    Raises:
        NotLaid: it can't be laid as it is asked for.
        NotProved: what was laid is not as it must be.
    """
    if job.hearth is None or job.hearth.brick is None:
        return face, None
    brick = job.hearth.brick
    ground = trace_ground(job, surround)
    border, inner = lay_border(job, ground)
    field = lay_field(job, brick, inner)
    fields = [field]
    if ground.between is not None:
        fields.append(lay_strip(job, ground.between, field.field.panel.brick.joint))
    riser: Riser | None = None
    below: Layout | None = None
    if brick.riser is not None:
        riser, below = lay_riser(job, ground)
    laid = (*border, *(x for each in fields for x in each.pieces))
    pieces = (*laid, *(below.pieces if below else ()))
    named = mark_pieces((*face.pieces, *pieces), job)
    hearth = BrickHearth(
        ground=ground,
        joint=field.field.panel.brick.joint,
        fields=tuple(each.field for each in fields),
        left_out=tuple(x for each in fields for x in each.left_out),
        layout=Layout(
            pieces=tuple(x for x in named if x.place in HEARTH_FACES),
            stops=below.stops if below else (),
            broken=below.broken if below else (),
            least_piece=below.least_piece if below else face.least_piece,
            least_lap=below.least_lap if below else None,
            reasons=tuple(_say(job, ground, fields, riser)),
        ),
        riser=riser,
    )
    on_faces = tuple(x for x in named if x.place not in HEARTH_FACES)
    return replace(face, pieces=on_faces), prove_hearth(job, hearth)


def _say(
    job: Job, ground: HearthGround, fields: list[FieldLaid], riser: Riser | None
) -> list[str]:
    """Say what was decided of the hearth, a sentence each."""

    def say(length: Fraction) -> str:
        return format_length(length, job.lengths)

    panel = fields[0].field.panel
    evenly = ", the same on either side of its middle" if panel.is_symmetric else ""
    said = [
        f"Hearth: {panel.pattern} with joints of {say(panel.brick.joint)}; of "
        f"{panel.phases_tried} places for the pattern this one leaves the widest "
        f"pieces at the edge{evenly} (common practice, no published source).",
        f"The hearth's brick lie on a bed of {say(ground.bed)}, {say(ground.drop)} "
        "below the datum, which is their top.",
    ]
    out = sum(len(each.left_out) for each in fields)
    if out:
        places = "place is" if out == 1 else "places are"
        said.append(f"{out} {places} too narrow for a piece: mortar takes them.")
    if ground.firebox is None:
        said.append(
            "The hearth's brick stop at the wall as found, under the face: where the "
            "firebox begins was not given."
        )
    else:
        left = say(ground.firebox - ground.back)
        said.append(
            f"The hearth's brick stop {left} before the line where the firebox "
            "begins; its floor and walls are firebrick, by others."
        )
    if riser is not None:
        count = len(riser.coursing.courses)
        said.append(
            f"The riser has {count} course{'s' if count > 1 else ''} from the floor to "
            f"{say(riser.coursing.top)}"
            f"{', the last a nosing of rowlocks' if riser.has_nosing else ''}."
        )
    return said
