"""Define the job file's table for what the owner may choose from.

In:  as `model`.   Out: frozen records.
Frame: none; what differs is read with the rest of the job, by `options`.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal, get_args

from pydantic import Field

from shopdraw.job.table import Table
from shopdraw.job.values import Text

Differs = dict[Any, Any]
"""The keys of a table that differ, as they are typed: what reads the job reads them."""
HeadKey = Literal[
    "head", "head_courses", "head_over", "head_bears", "head_centre", "head_ends"
]
Look = Literal["brick", "joint", "variation", "seed"]


class OptionTable(Table):
    """`[[option]]`: a name, and the keys in which it differs from the job.

    They are what an owner chooses, and what that changes: nothing that is measured on
    site. An array of tables takes the place of the job's.
    """

    name: Annotated[Text, Field(min_length=1, max_length=40)]
    opening: dict[HeadKey, Any] = {}
    arch: Differs = {}
    brick: Differs = {}
    joints: Differs = {}
    bond: Differs = {}
    courses: Differs = {}
    band: tuple[Differs, ...] = ()
    corbel: tuple[Differs, ...] = ()
    panel: tuple[Differs, ...] = ()
    packs: Differs = {}
    prices: Differs = {}
    labour: Differs = {}
    appearance: dict[Look, Any] = {}


DIFFERING = tuple(name for name in OptionTable.model_fields if name != "name")
"""The tables that an option may have."""
OF_TABLE: dict[str, tuple[str, ...]] = {
    "opening": get_args(HeadKey),
    "appearance": get_args(Look),
}
"""The keys that may differ, of a table of which not all may."""
