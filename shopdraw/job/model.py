"""Define the job file's keys as frozen records: types and ranges, nothing derived.

In:  one job's tables, the default values filled in; its lengths in the context.
Out: `Job`, every length an exact `Fraction` in the job's lengths.
Frame: as the person measured; left and right as seen standing before the fireplace.

What a job leaves out is filled in from `catalog/usual.toml` before it gets here. A
field without a default of its own is always given by the catalog or by the person.
"""

from __future__ import annotations

from fractions import Fraction
from hashlib import sha256
from typing import Annotated, Literal

from pydantic import Field, PrivateAttr

from shopdraw.catalog.rows import sheet_size
from shopdraw.job.arching import jack_reach
from shopdraw.job.model_around import (
    AppearanceTable,
    ApplianceTable,
    HearthTable,
    LabelsTable,
    LayersTable,
    OrderTable,
    PacksTable,
    PricesTable,
    RevisionTable,
    SawTable,
    SheetTable,
    TrimTable,
    WasteTable,
)
from shopdraw.job.model_bands import BandTable, CorbelTable
from shopdraw.job.model_brick import BondTable, BrickTable
from shopdraw.job.model_existing import ExistingBrickTable
from shopdraw.job.model_face import FaceTable, Meets, Side
from shopdraw.job.model_head import ArchTable
from shopdraw.job.model_labour import LabourTable, Paper
from shopdraw.job.model_laid import LaidTable, RuleMarkTable, UsedTable
from shopdraw.job.model_opening import OpeningTable
from shopdraw.job.model_option import OptionTable
from shopdraw.job.model_panel import PanelTable
from shopdraw.job.model_review import (
    BesideTable,
    DataSheetTable,
    FittingTable,
    HouseTable,
    RulesTable,
    ScheduleTable,
    SubstrateTable,
)
from shopdraw.job.model_stripping import StrippingTable
from shopdraw.job.table import Table
from shopdraw.job.values import (
    Day,
    Length,
    Line,
    Name,
    Revision,
    Size,
    Text,
    TitleLine,
    Width,
)
from shopdraw.lengths import Lengths

EdgeKind = Literal["bare", "mortar", "soft", "gap"]
Fit = Literal["best", "sawn", "scribed on the wall"]
EndShows = Literal["returned", "pointed", "covered", "sawn"]


class About(Table):
    """`[job]`: what the title block says."""

    name: Annotated[Text, Field(min_length=1, max_length=80)]
    lengths: Lengths
    number: TitleLine = ""
    date: Day | None = None
    revision: Revision = ""
    status: TitleLine = ""
    drawn_by: TitleLine = ""
    checked_by: TitleLine = ""
    for_whom: TitleLine = ""
    site: Annotated[Text, Field(max_length=80)] = ""
    firm: TitleLine = ""
    licence: TitleLine = ""
    architect: TitleLine = ""
    permit: TitleLine = ""
    submittal: TitleLine = ""
    spec_section: TitleLine = ""
    department: TitleLine = ""
    reference: TitleLine = ""
    key_words: TitleLine = ""
    measured_by: TitleLine = ""
    measured_on: Day | None = None
    units_lot: Line = ""
    notes: tuple[Annotated[Text, Field(max_length=500)], ...] = ()


class SettingBedTable(Table):
    """`[setting_bed]`: the mortar behind the brick.

    Attributes:
        least, most: its thickness over the highest and the lowest spot of the wall.
        back_butter: mortar spread on the back of the brick and pressed into the bed; it
            adds to the mortar to order, not to the thickness.
        uneven: what an uneven wall takes on average; it adds to the mortar likewise.
    """

    least: Size
    most: Size
    back_butter: Width = Fraction(0)
    uneven: Width = Fraction(0)

    @property
    def mean(self) -> Fraction:
        """The thickness that the drawings and the mortar are reckoned with."""
        return (self.least + self.most) / 2


class JointTable(Table):
    """A joint that may vary: the width wanted, the least and the most."""

    preferred: Size
    least: Size
    most: Size


class BottomJointTable(Table):
    """The joint between the hearth and the first course."""

    kind: Literal["mortar", "soft", "none"] = "mortar"
    least: Width
    most: Width
    hidden: bool = False


class JointsTable(Table):
    """`[joints]`: how wide each joint may be, and the step that all are set in."""

    bed: JointTable
    bottom: BottomJointTable
    head: JointTable
    step: Size
    depth: Size
    profile: Name = "concave"


class EdgeTable(Table):
    """One edge of the brick: what lies next to it, how wide, and how the end shows.

    Attributes:
        lean: for the left or the right end, how far its top lies to the right of its
            foot; negative where it lies to the left.
    """

    kind: EdgeKind = "bare"
    width: Width = Fraction(0)
    shows: EndShows = "pointed"
    lean: Length = Fraction(0)


class EdgesTable(Table):
    """`[edges]`: left, right and jambs lie in the width, the top above the height.

    Attributes:
        fit: how brick meets what is out of true: each piece sawn to its own size, or
            left long and scribed on the wall.
    """

    fit: Fit = "best"
    left: EdgeTable = EdgeTable()
    right: EdgeTable = EdgeTable()
    top: EdgeTable = EdgeTable()
    jambs: EdgeTable = EdgeTable()


class CoursesTable(Table):
    """`[courses]`: the heights that whole courses are sawn to."""

    bottom_height: Size | None = None
    top_height: Size | None = None
    soldier_height: Size | None = None
    rowlock_height: Size | None = None


class TargetTable(Table):
    """`[[target]]`: a further level to land a course on, measured up from the datum."""

    name: Name
    level: Size
    meets: Meets = "underside"
    tolerance: Width | None = None


UPRIGHT: dict[Lengths, int] = {"in": 10, "mm": 250}
"""A sheet whose short side is less than this stands upright, its title block at the
foot, as a letter does (A4: ISO 5457, from memory; else common practice)."""


class Job(Table):
    """One surround, as the person asked for it."""

    job: About
    face: FaceTable
    opening: OpeningTable
    arch: ArchTable = ArchTable()
    brick: BrickTable
    setting_bed: SettingBedTable
    joints: JointsTable
    edges: EdgesTable = EdgesTable()
    bond: BondTable
    courses: CoursesTable = CoursesTable()
    target: tuple[TargetTable, ...] = ()
    existing_brick: tuple[ExistingBrickTable, ...] = ()
    band: tuple[BandTable, ...] = ()
    corbel: tuple[CorbelTable, ...] = ()
    panel: tuple[PanelTable, ...] = ()
    revision: tuple[RevisionTable, ...] = ()
    laid: tuple[LaidTable, ...] = ()
    used: UsedTable = UsedTable()
    rule_marks: tuple[RuleMarkTable, ...] = ()
    hearth: HearthTable | None = None
    appliance: ApplianceTable = ApplianceTable()
    rules: RulesTable = RulesTable()
    trim: tuple[TrimTable, ...] = ()
    beside: tuple[BesideTable, ...] = ()
    fitting: tuple[FittingTable, ...] = ()
    substrate: SubstrateTable = SubstrateTable()
    data_sheet: tuple[DataSheetTable, ...] = ()
    house: HouseTable = HouseTable()
    stripping: StrippingTable | None = None
    schedule: ScheduleTable = ScheduleTable()
    waste: WasteTable
    saw: SawTable
    packs: PacksTable = PacksTable()
    order: OrderTable = OrderTable()
    prices: PricesTable = PricesTable()
    labour: LabourTable | None = None
    sheet: SheetTable
    labels: LabelsTable | None = None
    layers: LayersTable = LayersTable()
    appearance: AppearanceTable
    option: tuple[OptionTable, ...] = ()
    _digest: str = PrivateAttr("")
    _assumed: frozenset[str] = PrivateAttr(frozenset())
    _options: tuple[tuple[str, Job], ...] = PrivateAttr(())

    def read_from(self, text: str, options: tuple[tuple[str, Job], ...] = ()) -> Job:
        """Return the job marked with the text it was read from, with its options."""
        job = self.model_copy()
        job._digest = sha256(text.encode("utf-8")).hexdigest()
        job._options = tuple((name, each.read_from(text)) for name, each in options)
        return job

    @property
    def options(self) -> tuple[tuple[str, Job], ...]:
        """What the owner may choose from: each by its name, as a job of its own."""
        return self._options

    @property
    def digest(self) -> str:
        """The SHA-256 of the job file as UTF-8; empty for a job from no file."""
        return self._digest

    def asking_for(self, papers: tuple[Paper, ...]) -> Job:
        """Return the job asking for further papers; it is still from the same file."""
        more = tuple(name for name in papers if name not in self.sheet.papers)
        return self.edited("sheet.papers", (*self.sheet.papers, *more))

    def having_assumed(self, key: str) -> Job:
        """Return the job marked with a key that it left out and that was filled in."""
        job = self.model_copy()
        job._assumed = self._assumed | {key}
        return job

    def has_assumed(self, key: str) -> bool:
        """Whether what it has at a key is the usual value, which nobody measured."""
        return key in self._assumed

    @property
    def lengths(self) -> Lengths:
        """The unit of every length of the job: inches or millimetres."""
        return self.job.lengths

    @property
    def scales(self) -> Literal["us", "iso"]:
        """Whose scales the drawings have: the profile's, or what suits the lengths."""
        return self.sheet.profile or ("us" if self.lengths == "in" else "iso")

    @property
    def paper(self) -> tuple[Fraction, Fraction]:
        """The width and height of a sheet: lying, or upright if it is a small one."""
        long, short = sheet_size(self.sheet.size, self.lengths)
        return (short, long) if short < UPRIGHT[self.lengths] else (long, short)

    @property
    def page(self) -> tuple[Fraction, Fraction]:
        """The width and height of a page for the printer, portrait."""
        long, short = sheet_size(self.sheet.page, self.lengths)
        return short, long

    @property
    def arch_depth(self) -> Fraction:
        """How deep an arch is to be: what the job says, or one brick deep.

        A jack arch is then as deep as one brick reaches at the skewback, where it
        leans; rowlocks are as deep as their rings.
        """
        arch, brick = self.arch, self.brick
        if arch.depth is not None:
            return arch.depth
        if arch.made_of == "rowlocks":
            each, joint = self.rowlock_height, self.joints.bed.preferred
            return arch.rings * each + (arch.rings - 1) * joint
        if self.opening.head != "jack arch":
            return brick.length
        return jack_reach(self.arch_span, brick.length, brick.height, self.lengths)

    @property
    def arch_span(self) -> Fraction:
        """How far an arch spans as asked: the opening and the joints at its jambs."""
        return self.opening.width + 2 * self.edges.jambs.width

    @property
    def arch_rise(self) -> Fraction:
        """How far the soffit of a segmental or semicircular arch rises, as asked."""
        if self.opening.head == "semicircular arch":
            return self.arch_span / 2
        return self.arch.rise or Fraction(0)

    def edge(self, side: Side) -> EdgeTable:
        """Return what the job says of the brick's end on a side."""
        return self.edges.left if side == "left" else self.edges.right

    @property
    def saw_tolerance(self) -> Fraction:
        """How far a sawn size may be off, either way: half a joint step."""
        return self.joints.step / 2

    @property
    def layer_naming(self) -> str:
        """Which naming the layers of the DXF files follow."""
        usual = "ISO 13567" if self.sheet.profile == "iso" else "NCS"
        return self.layers.names or usual

    @property
    def header_length(self) -> Fraction:
        """How long a header shows: half a brick less a joint, unless the job says."""
        half = (self.brick.length - self.joints.head.preferred) / 2
        return self.brick.header or half

    @property
    def rowlock_height(self) -> Fraction:
        """How tall a rowlock stands: the brick's width, unless the job says more."""
        return self.courses.rowlock_height or self.header_length

    @property
    def soldier_height(self) -> Fraction:
        """How tall one soldier or rowlock over the opening stands, sawn or not."""
        is_rowlock = self.opening.head == "rowlock"
        return self.standing_height("rowlock" if is_rowlock else "soldier")

    def standing_height(
        self, kind: Literal["soldier", "rowlock", "header"]
    ) -> Fraction:
        """Return how tall a course of soldiers, rowlocks or headers stands."""
        if kind == "rowlock":
            return self.rowlock_height
        if kind == "header":
            return self.brick.height
        return self.courses.soldier_height or self.brick.length

    @property
    def head_height(self) -> Fraction:
        """How tall the head's soldiers or rowlocks stand, with joints between them."""
        count = self.opening.head_courses
        return count * self.soldier_height + (count - 1) * self.joints.bed.preferred
