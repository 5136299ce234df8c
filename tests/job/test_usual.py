"""What a job gets where it leaves a value out, and that whoever writes it is obeyed."""

from fractions import Fraction as F

import pytest

from shopdraw.errors import BadJob
from shopdraw.job.reading import parse_job
from shopdraw.pipeline import solve


def wall(
    lengths="in", *, returns=True, head="running", size="standard", more="", brick=""
):
    """Return a job that leaves out all that it can."""
    unit = lengths

    def said(inches, mm):
        return f'"{inches if unit == "in" else mm} {unit}"'

    turns = f"left_return = {said(13, 330)}" if returns else ""
    return parse_job(
        f"""
[job]
name = "Wall"
lengths = "{unit}"
[face]
width = {said(55, 1400)}
height = {said(39, 990)}
{turns}
[opening]
width = {said(34, 860)}
height = {said(27, 686)}
head = "{head}"
[brick]
{brick or f'size = "{size}"'}
{more}
""",
        "wall.toml",
    )


@pytest.mark.parametrize(("lengths", "width"), [("in", F(3, 8)), ("mm", 10)])
def test_brick_against_a_wall_has_a_soft_joint(lengths, width):
    size = "standard" if lengths == "in" else "uk-65"
    edges = wall(lengths, size=size).edges
    assert (edges.left.kind, edges.left.width) == ("soft", width)
    # The right end has no return: it is a free edge, with nothing beside it.
    assert (edges.right.kind, edges.right.width) == ("bare", 0)


@pytest.mark.parametrize(
    ("typed", "kind", "width"),
    [
        ('left = { kind = "bare" }', "bare", F(0)),
        ('left = { kind = "mortar", width = "1/4 in" }', "mortar", F(1, 4)),
        ('left = { shows = "covered" }', "soft", F(3, 8)),
        ('right = { kind = "gap", width = "1/2 in" }', "soft", F(3, 8)),
    ],
)
def test_whoever_says_what_lies_at_the_wall_says_all_of_it(typed, kind, width):
    edge = wall(more=f"[edges]\n{typed}").edges.left
    assert (edge.kind, edge.width) == (kind, width)


def test_the_brick_stops_short_of_the_wall_by_that_joint():
    surround = solve(wall()).surround
    assert surround.left_edge.x == 0
    assert surround.left_edge.brick_x == F(3, 8)


# Standard brick, 8 in long and 3 5/8 in wide: standard nomenclature, October 1993. Half
# its length less a joint would be 3 13/16.
def test_a_corner_unit_turns_by_the_width_of_the_brick():
    corner = wall().brick.corner
    assert (corner.long_leg, corner.short_leg) == (8, F(29, 8))


def test_a_brick_as_thick_as_its_corner_unit_s_width_is_refused():
    with pytest.raises(BadJob) as refused:
        wall(brick='size = "standard"\nthickness = "3 5/8 in"')
    (fault,) = refused.value.faults
    assert fault.key == "brick.thickness"
    assert "is no less than the short leg of corner units, 3 5/8 in" in fault.wanted
    # Half this brick less a joint is 2 5/16 in, but a header shows its width.
    short = wall(brick='size = "standard"\nlength = "5 in"\nthickness = "2 1/2 in"')
    assert short.brick.corner.short_leg == F(29, 8)


def test_a_rowlock_is_as_high_as_the_brick_is_wide():
    assert wall(head="rowlock").soldier_height == F(29, 8)
    typed = wall(head="rowlock", more='[courses]\nrowlock_height = "3 1/2 in"')
    assert typed.soldier_height == F(7, 2)


def test_what_was_assumed_is_said_where_it_is_ordered():
    says = solve(wall(head="rowlock")).takeoff
    assert says.row("corner units").note.startswith(
        'legs assumed, 8" and 3 5/8": measure one before you order; '
    )
    assert says.row("cut units").note.endswith(
        '; rowlocks taken 3 5/8" high, the width of the brick'
    )
    given = 'corner = { long_leg = "8 in", short_leg = "3 5/8 in" }'
    high = '[courses]\nrowlock_height = "3 5/8 in"'
    typed = solve(wall(head="rowlock", more=f"{given}\n{high}")).takeoff
    for item in ("corner units", "cut units"):
        assert "assumed" not in typed.row(item).note
        assert "taken" not in typed.row(item).note
    flat = solve(wall(returns=False)).takeoff
    assert "assumed" not in flat.row("corner units").note


def test_woodwork_may_hang_past_a_corner_and_is_reviewed_there():
    # A shelf that hangs 6 in past the left outside corner, 3 in over the opening.
    shelf = """
[[trim]]
name = "old shelf"
material = "oak"
left = "-6 in"
bottom = "30 in"
width = "70 in"
height = "2 in"
projection = "7 in"
[rules]
set = "irc-2018"
[appliance]
kind = "masonry"
"""
    findings = solve(wall(more=shelf)).findings
    distance = next(f for f in findings if f.rule.key == "trim-distance")
    assert (distance.status, distance.measured) == ("failed", 3)


def test_an_arch_of_rowlocks_is_as_deep_as_its_rings_and_the_joints_between():
    """Rowlocks of 3 5/8 in and a joint of 3/8 in between two rings."""
    for rings, depth in ((1, "29/8"), (2, "61/8")):
        arch = f'[arch]\nrise = "4 in"\nmade_of = "rowlocks"\nrings = {rings}\n'
        text = f"""
[job]
name = "Snug"
lengths = "in"
[face]
width = "60 in"
height = "50 in"
[opening]
width = "34 in"
height = "20 in"
head = "segmental arch"
[brick]
size = "modular"
{arch}"""
        assert parse_job(text, "snug.toml").arch_depth == F(depth)


@pytest.mark.parametrize("key", ["least_piece", "least_lap"])
@pytest.mark.parametrize(
    ("brick", "short", "lengths", "usual", "quarter"),
    [
        ('"4 3/8 in"', '"4 1/4 in"', "in", 2, F(17, 16)),
        ('"110 mm"', '"109 mm"', "mm", 50, F(109, 4)),
    ],
)
def test_a_default_that_half_a_brick_just_keeps_stays(
    key, brick, short, lengths, usual, quarter
):
    """Two halves and the joint between them, 3/8 in or 10 mm, are as long as one."""

    def least(length):
        high = '"2 1/4 in"' if lengths == "in" else '"65 mm"'
        tables = f"length = {length}\nheight = {high}"
        whole = wall(lengths, returns=False, brick=tables)
        return getattr(whole.bond, key)

    assert least(brick) == usual
    assert least(short) == quarter
