"""The index of many sets: what it says, escaped, alike each time, and settled."""

from __future__ import annotations

import os
from html.parser import HTMLParser
from pathlib import Path

import pytest

from shopdraw.drawing.page import Glance, PageItem, TickList
from shopdraw.errors import NotPublished
from shopdraw.output.index import NAME, Listing, is_unchanged, write_index
from shopdraw.output.publish import publish_file

ATTACK = "<script>hit=1</script><img src=x onerror=hit=1>\"' onload='hit=1"


def glance(title: str) -> Glance:
    failed = PageItem(f"lap of {title}", (("measured", "1 in"),))
    unknown = PageItem(f"floor of {title}")
    return Glance(
        title,
        "0123456789ab",
        "B",
        (f"1 ITEM FAILED in {title}",),
        (PageItem(f"head of {title}", (("got", "2'-3\""),)),),
        (
            TickList("failed", "What failed", (failed,)),
            TickList("find-out", "Still to find out", (unknown,), "Find out."),
        ),
    )


def listings(title: str = "Den") -> tuple[Listing, ...]:
    picture = "sheets/08-appearance.png"
    return (
        Listing("a.toml", "a", glance(title), "page.html", picture),
        Listing("b.toml", "b", says=(f"b.toml: {title} is wrong",)),
    )


class Read(HTMLParser):
    """Every element with its attributes, and all words."""

    def __init__(self, page: bytes) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.words = ""
        self.feed(page.decode())

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.words += data


def test_it_says_of_each_what_landed_failed_and_is_not_checked() -> None:
    read = Read(write_index(listings()))
    for words in (
        *("2 jobs", "a.toml", "0123456789ab", "revision B", "1 ITEM FAILED in Den"),
        *("head of Den", "2'-3\"", "What failed", "lap of Den", "1 in"),
        *("Still to find out", "floor of Den", "b.toml: not drawn", "Den is wrong"),
    ):
        assert words in read.words
    leads = [
        x.get("href") or x.get("src") for _, x in read.tags if "href" in x or "src" in x
    ]
    assert leads == ["./a/sheets/08-appearance.png", "./a/page.html"]


def test_a_set_without_page_or_picture_leads_to_none() -> None:
    page = write_index((Listing("a.toml", "a", glance("Den")),))
    assert not [x for _, x in Read(page).tags if "href" in x or "src" in x]


def test_a_folder_of_any_name_stays_beside_the_index() -> None:
    for name in ("javascript:hit=1", "//elsewhere", 'a"b', "a b?c#d", "\u00e4"):
        page = write_index((Listing("a.toml", name, glance("Den"), "page.html"),))
        (href,) = (x["href"] for _, x in Read(page).tags if "href" in x)
        assert href is not None
        assert href.startswith("./")
        assert href.isascii()
        assert not set(' :?#"') & set(href)


def test_what_is_typed_is_escaped_and_runs_nothing() -> None:
    page = write_index((*listings(ATTACK), Listing(ATTACK, ATTACK, says=(ATTACK,))))
    read = Read(page)
    assert "script" not in {tag for tag, _ in read.tags}
    assert [x["src"] for tag, x in read.tags if tag == "img"] == [
        "./a/sheets/08-appearance.png"
    ]
    assert not [x for _, each in read.tags for x in each if x.startswith("on")]
    assert read.words.count(ATTACK) >= 6
    (policy,) = (x["content"] for _, x in read.tags if "http-equiv" in x)
    assert policy is not None
    assert policy.startswith("default-src 'none'; ")
    assert "script-src" not in policy
    assert "http" not in policy


def test_it_knows_itself_and_notices_every_change() -> None:
    page = write_index(listings())
    assert page == write_index(listings())
    assert is_unchanged(page)
    for place in range(0, len(page), 997):
        changed = bytearray(page)
        changed[place] ^= 1
        assert not is_unchanged(bytes(changed)), place
    assert not is_unchanged(page + b" ")
    assert not is_unchanged(b"<p>mine")
    assert not is_unchanged(b"")


def put(folder: Path, data: bytes) -> str:
    return publish_file(NAME, data, folder, is_unchanged)


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_an_earlier_one_gives_way_and_a_changed_one_is_set_aside(
    tmp_path: Path,
) -> None:
    first, second = write_index(listings()), write_index(listings("Study"))
    assert put(tmp_path, first) == ""
    assert put(tmp_path, second) == ""
    assert (tmp_path / NAME).read_bytes() == second
    assert names(tmp_path) == [NAME]
    for number, mine in enumerate((b"mine", second + b"!"), 1):
        (tmp_path / NAME).write_bytes(mine)
        aside = put(tmp_path, first)
        assert aside == ("index.changed.html", "index.changed-2.html")[number - 1]
        assert (tmp_path / aside).read_bytes() == mine
        assert (tmp_path / NAME).read_bytes() == first


def test_a_link_gives_way_and_what_it_leads_to_stays(tmp_path: Path) -> None:
    letter = tmp_path / "letter.txt"
    letter.write_bytes(b"mine")
    (tmp_path / NAME).symlink_to(letter)
    assert put(tmp_path, b"page") == ""
    assert letter.read_bytes() == b"mine"
    assert not (tmp_path / NAME).is_symlink()


def test_what_can_not_be_written_leaves_the_earlier_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = write_index(listings())
    put(tmp_path, first)

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", full)
        with pytest.raises(NotPublished, match="No space left"):
            put(tmp_path, b"another")
    assert (tmp_path / NAME).read_bytes() == first
    put(tmp_path, b"another")
    assert names(tmp_path) == [NAME]

    (tmp_path / NAME).unlink()
    (tmp_path / NAME).mkdir()
    with pytest.raises(NotPublished, match="is a folder"):
        put(tmp_path, first)
