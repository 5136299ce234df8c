"""Drawing scales, as they are lettered on sheets."""

from fractions import Fraction as F

import pytest

from shopdraw.errors import BadLength
from shopdraw.job.scale import parse_scale


@pytest.mark.parametrize(
    ("text", "scale"),
    [
        ("fit", None),
        ("1:10", F(10)),
        ("1 : 5", F(5)),
        ("1 1/2 in = 1 ft", F(8)),
        ('3/4" = 1\'-0"', F(16)),
        ("1 in = 1 in", F(1)),
    ],
)
def test_a_scale_is_read(text: str, scale: F | None) -> None:
    assert parse_scale(text) == scale


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("big", "is not a scale"),
        ("1:0", "makes the wall smaller"),
        ("2 ft = 1 ft", "makes the wall smaller"),
        ("0 in = 1 ft", "makes the wall smaller"),
        ("3 = 1 ft", "is not a scale"),
        ("1 in = 1 yard", "is not a scale"),
        ("=1+cmd|' /C calc'!A0", "is not a scale"),
        ("../x", "is not a scale"),
        ("1:10\0", "is not a scale"),
    ],
)
def test_what_is_no_scale_is_refused(text: str, complaint: str) -> None:
    with pytest.raises(BadLength, match=complaint):
        parse_scale(text)
