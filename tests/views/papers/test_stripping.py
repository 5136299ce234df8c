"""The page for old work: what is reckoned, what is asked first, places to fill in."""

from __future__ import annotations

from shopdraw.views.papers.asked import DRAWN, papers_asked
from tests.demos import solution_of
from tests.odd_jobs import odd_solution
from tests.views.papers.reading import dining, lines_on, lines_to_write_on, text_of


def test_each_thing_is_a_row_and_together_they_add_up_as_printed() -> None:
    (page,) = DRAWN["stripping"](dining())
    rows = {x.split(" | ")[0]: x.split(" | ")[1:] for x in lines_on((page,))}
    assert rows["stone veneer"][:4] == ["21.50 sq ft", "3 in", "5.38 cu ft", "779 lb"]
    assert rows["board behind it"][:4] == [
        "21.50 sq ft",
        "1/2 in",
        "0.90 cu ft",
        "43 lb",
    ]
    assert rows["all of it"] == ["6.28 cu ft", "822 lb"]
    assert rows["painted plaster"][0] == "5 sq ft"


def test_what_to_look_for_first_stands_first_as_the_review_says_it() -> None:
    solution = dining()
    said = text_of(DRAWN["stripping"](solution))
    first = said.partition("FOR THE SKIP")[0]
    for key in ("stripping-behind", "stripping-paint", "lead", "asbestos", "smoke"):
        finding = solution.finding(key)
        assert finding is not None
        assert finding.rule.words in first
    assert "Common practice, no published source." in said
    assert "Technical Note 28C" in said


def test_a_job_that_says_nothing_of_old_work_gets_a_form_to_fill_in() -> None:
    solution = odd_solution("small on letter")
    assert "stripping" not in papers_asked(solution.job)
    (page,) = DRAWN["stripping"](solution)
    assert lines_to_write_on(page) > 20
    assert "0.00" not in text_of((page,))


def test_the_quote_names_the_old_work_and_the_hours_for_it() -> None:
    solution = dining()
    said = text_of(DRAWN["quote"](solution))
    assert "Take the old work off (stone veneer, board behind it, painted" in said
    assert "take the old work off" in text_of(DRAWN["costs"](solution))


def test_each_job_is_told_how_flat_the_wall_must_be_in_its_own_measure() -> None:
    """Technical Note 28C: not more than 1/4 in in 10 ft, 6 mm in 3.05 m."""
    said = text_of(DRAWN["stripping"](dining()))
    assert "bulge or hollow, most in 10 ft" in said
    assert "no more than 1/4 in: Technical Note 28C" in said
    said = text_of(DRAWN["stripping"](solution_of("metric-slips")))
    assert "bulge or hollow, most in 3.05 m" in said
    assert "no more than 6 mm: Technical Note 28C" in said
    assert "10 ft" not in said


def test_what_the_user_typed_is_not_given_a_source_twice() -> None:
    said = text_of(DRAWN["stripping"](solution_of("library-hearth")))
    assert "there are none, as typed." in said
    assert "typed by the user" not in said
    assert "Source: US EPA, 40 CFR 745 (read in the source)." in said
    said = text_of(DRAWN["stripping"](solution_of("cannot-land")))
    assert "Source: common practice, no published source." in said
