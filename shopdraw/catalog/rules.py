"""Read the figures of `rules.toml` into exact lengths, each with its source.

In:  `rules.toml` and what the job's lengths are.   Out: `Rules`.
Frame: the job's lengths, areas in their square; a rule written in the other lengths
is converted exactly.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from math import ceil
from typing import Any

from shopdraw.catalog.rows import catalog_tables
from shopdraw.lengths import Lengths, foot_in, parse_length


@dataclass(frozen=True)
class HearthSize:
    """The least hearth extension for an opening of `from_area` or more."""

    from_area: Fraction
    front: Fraction
    sides: Fraction


@dataclass(frozen=True)
class RaisedRule:
    """How much a fire floor raised above the extension adds to the extension in front.

    Attributes:
        from_, adds: from the height `from_` on, it adds `adds`.
        beyond, each, adds_each: past the height `beyond`, it adds `adds_each` more for
            every `each` begun.
    """

    from_: Fraction
    adds: Fraction
    beyond: Fraction
    each: Fraction
    adds_each: Fraction

    def more(self, raised: Fraction) -> Fraction:
        """Return what a fire floor that high above the extension adds."""
        if raised < self.from_:
            return Fraction(0)
        steps = max(0, ceil((raised - self.beyond) / self.each))
        return self.adds + steps * self.adds_each


@dataclass(frozen=True)
class HearthRule:
    """The least hearth extension, by the area of the opening, least area first."""

    section: str
    source: str
    source_status: str
    sizes: tuple[HearthSize, ...]
    raised: RaisedRule | None

    def size_for(self, area: Fraction) -> HearthSize:
        """Return the size for an opening; an area on the line takes the larger one."""
        return [size for size in self.sizes if size.from_area <= area][-1]


@dataclass(frozen=True)
class ProjectionRule:
    """How far combustible trim may stand out from the face, by its distance.

    Attributes:
        within: trim nearer to the opening than this is limited.
        limited_at_the_line: whether trim at exactly that distance is limited too.
        per_distance: how much is allowed for each length of distance; None if `most`.
        most: how much is allowed at any distance within; None if `per_distance`.
        only_above: whether the rule is only for trim above the opening, by its height
            above it; otherwise it is for all trim, by the shortest distance.
    """

    within: Fraction
    limited_at_the_line: bool
    per_distance: Fraction | None
    most: Fraction | None
    only_above: bool

    def allowed(self, distance: Fraction) -> Fraction | None:
        """Return the most that may project at a distance; None without a limit."""
        if distance > self.within:
            return None
        if distance == self.within and not self.limited_at_the_line:
            return None
        return self.most if self.per_distance is None else self.per_distance * distance


@dataclass(frozen=True)
class TrimRule:
    """The least distance of combustible trim from the opening, and its projection."""

    section: str
    source: str
    source_status: str
    least_distance: Fraction
    projection: ProjectionRule


@dataclass(frozen=True)
class FigureRule:
    """A rule with one figure: at least so much.

    Attributes:
        raised: (from, least): a fire floor raised so far needs only this least.
    """

    section: str
    source: str
    source_status: str
    least: Fraction
    raised: tuple[Fraction, Fraction] | None = None


@dataclass(frozen=True)
class RuleSet:
    """One edition of one code; a rule whose text was not read is None.

    Attributes:
        figures: pairs of a name, such as "hearth thickness", and its rule.
    """

    name: str
    title: str
    scope: str
    hearth: HearthRule | None = None
    trim: TrimRule | None = None
    figures: tuple[tuple[str, FigureRule], ...] = ()

    def figure(self, name: str) -> FigureRule | None:
        """Return the rule of that name; None where it was not read."""
        return dict(self.figures).get(name)


@dataclass(frozen=True)
class VeneerWeight:
    """What brick weighs, and how heavy, thick and large adhered veneer may be."""

    density_lb_per_cu_ft: Fraction
    most_lb_per_sq_ft: Fraction
    most_thickness: Fraction
    most_dimension: Fraction
    most_area: Fraction
    source: str
    source_status: str


@dataclass(frozen=True)
class CorbelRule:
    """How far one course may project past the one below.

    Attributes:
        most_of_height, most_of_thickness: shares of the unit's; the lesser holds.
    """

    most_of_height: Fraction
    most_of_thickness: Fraction
    source: str
    source_status: str

    def most(self, height: Fraction, thickness: Fraction) -> Fraction:
        """Return the furthest that a unit may project past the one below."""
        return min(height * self.most_of_height, thickness * self.most_of_thickness)


@dataclass(frozen=True)
class Bound:
    """A figure that belongs to no code set, with where it was read.

    Attributes:
        says: the length that it is measured over.
    """

    figure: Fraction
    source: str
    source_status: str
    says: str = ""


@dataclass(frozen=True)
class Lead:
    """The year before which paint may hold lead, and how much may be disturbed."""

    before: int
    most_sq_ft: float
    source: str
    source_status: str


@dataclass(frozen=True)
class UsualDays:
    """The waits that mortar usually needs, where its maker says nothing."""

    ledger_days: int
    wait_days: int
    cure_weeks: int
    source_status: str


@dataclass(frozen=True)
class Question:
    """What no drawing can show: a question to the reader, never passed.

    Attributes:
        kinds: the kinds of appliance that the question is for; empty for all.
    """

    rule: str
    says: str
    source: str
    source_status: str
    kinds: tuple[str, ...]


@dataclass(frozen=True)
class Rules:
    """All that the review holds a job against, save the job's own figures."""

    sets: tuple[RuleSet, ...]
    noncombustible: tuple[str, ...]
    wood: tuple[str, ...]
    veneer: VeneerWeight
    corbel: CorbelRule
    plane: Bound
    deflection: Bound
    lead: Lead
    days: UsualDays
    questions: tuple[Question, ...]

    def set_named(self, name: str) -> RuleSet | None:
        """Return the rule set of that name; None where the catalog has none."""
        return next((each for each in self.sets if each.name == name), None)


def rule_set_names() -> tuple[str, ...]:
    """Return the names that `[rules] set` may take, in the catalog's order."""
    return tuple(catalog_tables("rules.toml")["set"])


@cache
def load_rules(lengths: Lengths) -> Rules:
    """Read every rule in the catalog, in the job's lengths."""
    catalog = catalog_tables("rules.toml")
    veneer = catalog["veneer"]
    return Rules(
        sets=tuple(
            _rule_set(name, row, lengths) for name, row in catalog["set"].items()
        ),
        noncombustible=tuple(catalog["materials"]["noncombustible"]),
        wood=tuple(catalog["materials"]["wood"]),
        veneer=VeneerWeight(
            density_lb_per_cu_ft=Fraction(veneer["density_lb_per_cu_ft"]),
            most_lb_per_sq_ft=Fraction(veneer["most_lb_per_sq_ft"]),
            most_thickness=parse_length(veneer["most_thickness"], lengths),
            most_dimension=parse_length(veneer["most_dimension"], lengths),
            most_area=veneer["most_area_sq_ft"] * foot_in(lengths) ** 2,
            source=veneer["source"],
            source_status=veneer["source_status"],
        ),
        corbel=CorbelRule(
            most_of_height=Fraction(catalog["corbel"]["most_of_height"]),
            most_of_thickness=Fraction(catalog["corbel"]["most_of_thickness"]),
            source=catalog["corbel"]["source"],
            source_status=catalog["corbel"]["source_status"],
        ),
        plane=Bound(
            parse_length(catalog["plane"]["most"], lengths),
            catalog["plane"]["source"],
            catalog["plane"]["source_status"],
            catalog["plane"]["over"],
        ),
        deflection=Bound(
            Fraction(catalog["deflection"]["least"]),
            catalog["deflection"]["source"],
            catalog["deflection"]["source_status"],
        ),
        lead=Lead(**catalog["lead"]),
        days=UsualDays(**catalog["schedule"]),
        questions=tuple(
            Question(
                rule=row["rule"],
                says=row["says"],
                source=row["source"],
                source_status=row["source_status"],
                kinds=tuple(row.get("kinds", ())),
            )
            for row in catalog["question"]
        ),
    )


def _rule_set(name: str, row: dict[str, Any], lengths: Lengths) -> RuleSet:
    return RuleSet(
        name=name,
        title=row["title"],
        scope=row["scope"],
        hearth=_hearth(row["hearth"], lengths) if "hearth" in row else None,
        trim=_trim(row["trim"], lengths) if "trim" in row else None,
        figures=tuple(
            (figure.replace("-", " "), _figure(rule, lengths))
            for figure, rule in row.get("figures", {}).items()
        ),
    )


def _figure(row: dict[str, Any], lengths: Lengths) -> FigureRule:
    raised = row.get("raised")
    return FigureRule(
        section=row["section"],
        source=row["source"],
        source_status=row["source_status"],
        least=parse_length(row["least"], lengths),
        raised=raised
        and (
            parse_length(raised["from"], lengths),
            parse_length(raised["least"], lengths),
        ),
    )


def _hearth(row: dict[str, Any], lengths: Lengths) -> HearthRule:
    foot = foot_in(lengths)
    sizes = tuple(
        HearthSize(
            from_area=size["from_area_sq_ft"] * foot**2,
            front=parse_length(size["front"], lengths),
            sides=parse_length(size["sides"], lengths),
        )
        for size in row["sizes"]
    )
    return HearthRule(
        section=row["section"],
        source=row["source"],
        source_status=row["source_status"],
        sizes=sizes,
        raised=_raised(row["raised"], lengths) if "raised" in row else None,
    )


def _raised(row: dict[str, Any], lengths: Lengths) -> RaisedRule:
    return RaisedRule(
        from_=parse_length(row["from"], lengths),
        adds=parse_length(row["adds"], lengths),
        beyond=parse_length(row["beyond"], lengths),
        each=parse_length(row["each"], lengths),
        adds_each=parse_length(row["adds_each"], lengths),
    )


def _trim(row: dict[str, Any], lengths: Lengths) -> TrimRule:
    projection = row["projection"]
    per_distance, most = projection.get("per_distance"), projection.get("most")
    return TrimRule(
        section=row["section"],
        source=row["source"],
        source_status=row["source_status"],
        least_distance=parse_length(row["least_distance"], lengths),
        projection=ProjectionRule(
            within=parse_length(projection["within"], lengths),
            limited_at_the_line=projection["limited_at_the_line"],
            per_distance=None if per_distance is None else Fraction(per_distance),
            most=None if most is None else parse_length(most, lengths),
            only_above=projection.get("only_above", False),
        ),
    )
