"""Define the job file's tables about what is near the brick, bought and drawn.

In:  as `model`.   Out: frozen records.
Frame: as `model`.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Literal

from pydantic import Field

from shopdraw.job.model_hearth import HearthBrickTable
from shopdraw.job.model_labour import Paper
from shopdraw.job.table import Table
from shopdraw.job.values import (
    Colour,
    Day,
    LayerName,
    Length,
    Line,
    Name,
    PhotoName,
    Revision,
    Scale,
    Size,
    Spot,
    Text,
    TitleLine,
    Volume,
    Width,
)


class HearthTable(Table):
    """`[hearth]`: the hearth as found, before the new face is added.

    Attributes:
        fall: from the highest to the lowest point under the brick, sloping evenly from
            one end of the face to the other; where there are points, they give it.
        points: along the face, each from its left end, and up from one level line.
        later: the thickness of a finish still to be laid on it.
        raised: how far the floor of the fire lies above the hearth extension.
        thickness: of the hearth extension.
        brick: the extension laid in brick; front, left and right are then what the
            brick is laid on, and all levels are from the top of the brick.
    """

    front: Width | None = None
    left: Width | None = None
    right: Width | None = None
    fall: Width = Fraction(0)
    falls_to: Literal["left", "right"] = "right"
    points: tuple[Spot, ...] = ()
    later: Width = Fraction(0)
    raised: Width | None = None
    thickness: Size | None = None
    material: Literal["noncombustible", "combustible", "unknown"] = "unknown"
    brick: HearthBrickTable | None = None


class MantelFigure(Table):
    """One line of a manual's mantel table: the projection it allows at a distance."""

    distance: Width
    projection: Width


class ManualTable(Table):
    """`[appliance.manual]`: the figures in a listed unit's manual, and their page."""

    document: Line = ""
    page: Line = ""
    hearth_front: Width | None = None
    hearth_sides: Width | None = None
    combustibles: Width | None = None
    mantel: tuple[MantelFigure, ...] = ()
    facing_most: Size | None = None
    proud_most: Width | None = None
    example: bool = False


class ApplianceTable(Table):
    """`[appliance]`: what burns there; no kind is assumed.

    Attributes:
        flange: how far the finishing flange stands out from the wall as found.
        flange_width: how far it reaches past the edge of the opening as found, over the
            wall, at both sides and above.
    """

    kind: Literal["masonry", "factory-built", "gas"] | None = None
    flange: Width | None = None
    flange_width: Size | None = None
    manual: ManualTable | None = None


class TrimStep(Table):
    """One step of a profile: how much of the piece it takes, how far it stands out."""

    reach: Size
    projection: Width


class TrimTable(Table):
    """`[[trim]]`: woodwork to be fixed later, a rectangle on the finished face.

    Attributes:
        covers_brick: whether it is meant to hang over brick that is laid behind it.
    """

    name: Name
    material: Line = "wood"
    combustible: bool | None = None
    left: Length
    bottom: Length
    width: Size
    height: Size
    projection: Width | None = None
    covers_brick: bool = False
    steps: tuple[TrimStep, ...] = ()

    @property
    def furthest(self) -> Fraction:
        """How far it stands out at its furthest."""
        steps = (step.projection for step in self.steps)
        return max([self.projection or Fraction(0), *steps])


class WasteRule(Table):
    """What is ordered beyond the net: the greater of a percentage and a number."""

    percent: Annotated[float, Field(ge=0, le=100)]
    least: Annotated[int, Field(ge=0, le=10_000)] = 0


class WasteTable(Table):
    """`[waste]`: what is ordered beyond the net, item by item."""

    flats: WasteRule
    corners: WasteRule
    setting_mortar: WasteRule
    pointing_mortar: WasteRule


class SawTable(Table):
    """`[saw]`: how wide a cut the blade makes."""

    kerf: Size


class PacksTable(Table):
    """`[packs]`: how much a bag of mortar makes, and what a box and a pallet hold.

    Attributes:
        sealant: how much a tube of it holds.
    """

    setting_mortar: Volume | None = None
    pointing_mortar: Volume | None = None
    sealant: Volume | None = None
    flats: Annotated[int, Field(gt=0, le=100_000)] | None = None
    corners: Annotated[int, Field(gt=0, le=100_000)] | None = None
    pallet: Annotated[int, Field(gt=0, le=100_000)] | None = None


class OrderTable(Table):
    """`[order]`: what else the takeoff is to list.

    Attributes:
        ledger: how high the timber of the temporary ledger stands; the takeoff does not
            ask, but props are cut to it.
    """

    board: bool = False
    primer: bool = False
    sealer: bool = False
    spacers: bool = False
    ledger: Size | None = None


Price = Annotated[float, Field(ge=0, le=1_000_000)]


class PricesTable(Table):
    """`[prices]`: by the box or bag if `[packs]` has one, else by piece or volume.

    Attributes:
        sundries: all else that the takeoff lists, together.
    """

    currency: Annotated[Text, Field(max_length=12)] = ""
    flats: Price | None = None
    corners: Price | None = None
    setting_mortar: Price | None = None
    pointing_mortar: Price | None = None
    sundries: Price | None = None

    @property
    def given(self) -> dict[str, str]:
        """The prices that are given, as typed."""
        names = (
            *("flats", "corners", "setting_mortar", "pointing_mortar"),
            "sundries",
        )
        prices = ((name, getattr(self, name)) for name in names)
        return {name: str(price) for name, price in prices if price is not None}


class SheetTable(Table):
    """`[sheet]`: the paper that the drawings are laid out on.

    Attributes:
        profile: whose practice the drawings follow: sheet sizes, scales, the ends of
            dimension lines, the title block's fields and layer names, all together.
        scale: full-size lengths to one on paper; None for the largest that fits.
        page: the size of the pages, upright, that the story pole is printed on.
        dxf: the release of DXF; the older one has no tinted areas.
        papers: further papers that are wanted, besides those that other tables ask for.
    """

    profile: Literal["us", "iso"] | None = None
    size: Line
    scale: Scale = None
    page: Line
    dxf: Literal["R2010", "R2000"] = "R2010"
    papers: tuple[Paper, ...] = ()


class LabelsTable(Table):
    """`[labels]`: how the labels lie on a sheet of labels, of the size `[sheet] page`.

    Attributes:
        columns, rows: how many labels lie across and down the page.
        width, height: of one label.
        left, top: from the edges of the page to the first label.
        across, down: from the edge of one label to the same edge of the next; where
            they are left out, the labels touch.
    """

    columns: Annotated[int, Field(ge=1, le=20)]
    rows: Annotated[int, Field(ge=1, le=60)]
    width: Size
    height: Size
    left: Width
    top: Width
    across: Size | None = None
    down: Size | None = None


class LayersTable(Table):
    """`[layers]`: what the layers of the DXF files are called.

    Attributes:
        names: the naming to follow, of those in the catalog; the profile's where it is
            left out.
        own: an office's own name for a layer, by the drawings' name; it wins.
    """

    names: Line | None = None
    own: dict[str, LayerName] = {}


class RevisionTable(Table):
    """`[[revision]]`: what changed; the newest stands last.

    Attributes:
        courses: the numbers of the courses to draw a cloud round.
    """

    mark: Annotated[Revision, Field(min_length=1)]
    date: Day | None = None
    by: TitleLine = ""
    says: Line
    courses: tuple[Annotated[int, Field(ge=1, le=10_000)], ...] = ()


Dots = Annotated[float, Field(ge=0, le=100_000)]
"""Dots of a photograph."""


class AppearanceTable(Table):
    """`[appearance]`: the picture for the owner; no figure depends on it.

    Attributes:
        variation: how far the tone of one brick may differ, in percent.
        seed: any number; another one mixes the same brick differently.
        photo: a photograph of the fireplace, a file beside the job file.
        photo_corners: where the corners of the face lie in it, in dots to the right
            and down: upper left, upper right, lower right, lower left.
    """

    brick: Colour
    joint: Colour
    variation: Annotated[float, Field(ge=0, le=50)]
    seed: Annotated[int, Field(ge=0, le=1_000_000)] = 1
    photo: PhotoName = ""
    photo_corners: tuple[tuple[Dots, ...], ...] = ()
