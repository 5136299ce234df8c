"""A strip says that it is sawn along the brick, on its detail and in the cut list."""

from shopdraw.views.making.cut_pieces import draw_cut
from tests.demos import solution_of
from tests.views.making.rebuilt import words_of

ALONG, NOTE = "SAW ALONG THE BRICK AT THE CUT LINE", "sawn along its length"


def test_a_strip_is_sawn_along_and_not_to_length() -> None:
    solution = solution_of("banded-breast")
    for row in solution.cut_list:
        if row.kind not in ("soldier", "rowlock") or not row.is_cut:
            continue
        is_strip = row.length < solution.job.brick.height
        said = " ".join(words_of(draw_cut(solution.job, row, 4.0).lettered()))
        assert (ALONG in said) == is_strip, row.mark
        assert (NOTE in row.note) == is_strip, row.mark
        assert "SAW TO LENGTH" not in said, row.mark


def test_a_piece_that_lies_is_sawn_to_length_and_along_to_its_height() -> None:
    solution = solution_of("crooked-study")
    (row,) = [x for x in solution.cut_list if x.mark == "B3"]
    said = " ".join(words_of(draw_cut(solution.job, row, 4.0).lettered()))
    assert "SAW TO LENGTH AT THE CUT LINE" in said
    assert ALONG in said
