"""Turn an arch into a plain record.

In:  `Arch`.   Out: `ArchRecord`.
Frame: as `record`.
"""

from __future__ import annotations

from shopdraw.masonry.wall.arch import Arch
from shopdraw.views.words import record_wall
from shopdraw.views.words.numbers import number


def arch_record(arch: Arch) -> record_wall.ArchRecord:
    """Return the record of an arch."""
    x, y = arch.centre
    return {
        "kind": arch.kind,
        "span": number(arch.span),
        "spring": number(arch.spring),
        "rise": number(arch.rise),
        "depth": number(arch.depth),
        "radius": arch.radius,
        "skewback_deg": arch.skewback_deg,
        "centre": (number(x), number(y)),
        "are_whole": arch.are_whole,
        "counts": list(arch.counts),
        "has_keystone": arch.keystone is not None,
        "over": number(arch.over),
        "strip": number(arch.strip),
        "joints": [(joint.at_soffit, joint.at_back) for joint in arch.joints],
    }
