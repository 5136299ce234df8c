"""What the fabricator makes: counted from the pieces, spares by hand."""

from __future__ import annotations

from fractions import Fraction as F

from shopdraw.quantities.fabricating import list_fabrication
from shopdraw.solution import Solution
from shopdraw.views.words.schedules import fabrication_table, materials_table
from tests.demos import solution_of


def test_every_mark_that_is_made_is_listed_once_with_its_pieces(
    solution: Solution,
) -> None:
    rows = list_fabrication(solution.job, solution.cut_list)
    made = [p for p in solution.pieces if p.is_cut or "corner" in p.kind]
    assert sum(each.row.count for each in rows) == len(made)
    assert {each.row.mark for each in rows} == {piece.mark for piece in made}
    assert len(rows) == len({each.row.mark for each in rows})


def test_spares_are_the_waste_to_the_nearest_piece_and_one_corner_unit_at_least() -> (
    None
):
    # The first demo, 10 % waste: 26 corner units 2.6, 12 of B1 1.2, 14 of B2 and of
    # B3 1.4.
    solution = solution_of("library-hearth")
    rows = list_fabrication(solution.job, solution.cut_list)
    assert [(x.row.mark, x.row.count, x.spares, x.make) for x in rows] == [
        ("C", 26, 3, 29),
        ("B1", 12, 1, 13),
        ("B2", 14, 1, 15),
        ("B3", 14, 1, 15),
    ]
    assert {x.tolerance for x in rows} == {F(1, 32)}
    waste = solution.job.waste.model_copy(
        update={
            "corners": solution.job.waste.corners.model_copy(update={"percent": 0}),
            "flats": solution.job.waste.flats.model_copy(update={"percent": 1}),
        }
    )
    none = list_fabrication(
        solution.job.model_copy(update={"waste": waste}), solution.cut_list
    )
    assert [x.spares for x in none] == [1, 0, 0, 0]


def test_the_table_says_what_the_rows_do(solution: Solution) -> None:
    rows = list_fabrication(solution.job, solution.cut_list)
    table = fabrication_table(solution.job, rows)
    head = [column.head for column in table.columns]
    counts = [int(row[head.index("COUNT")]) for row in table.rows]
    spares = [int(row[head.index("SPARES")]) for row in table.rows]
    make = [int(row[head.index("MAKE")]) for row in table.rows]
    assert make == [a + b for a, b in zip(counts, spares, strict=True)]
    assert counts == [each.row.count for each in rows]


def test_materials_name_brick_mortar_and_woodwork() -> None:
    table = materials_table(solution_of("library-hearth").job)
    assert [row[0] for row in table.rows] == [
        "thin brick",
        "corner unit",
        "setting mortar",
        "pointing mortar",
        "sealant",
        "woodwork",
    ]
    assert table.rows[0][1] == '7 5/8" x 2 1/4" x 5/8"'
