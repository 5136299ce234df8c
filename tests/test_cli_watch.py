"""`watch`: the elevation follows the file; faults, half saves and Ctrl-C do no harm."""

from __future__ import annotations

import json
import re
import socket
import subprocess
import sys
from base64 import b64encode
from hashlib import sha256
from html.parser import HTMLParser
from pathlib import Path
from time import monotonic

import pytest

from shopdraw.errors import BadJob
from shopdraw.job.reading import parse_job
from shopdraw.output.follow import DRAWN, NONE, OLD, Followed, write_follow
from shopdraw.output.svg import draw, frame_of
from shopdraw.pipeline import look, solve
from shopdraw.views.page.troubles import troubles_of
from tests.demos import CONFIGS
from tests.watching import job_text, watching


def front_of(text: str) -> str:
    """Return the elevation of a job as it must stand on the page."""
    _, front = look(solve(parse_job(text, "den.toml")))
    return draw(front, frame_of(front))


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "den.toml"
    path.write_text(job_text())
    return path


def test_the_page_follows_the_file_until_it_is_ended(job: Path) -> None:
    text = job_text()
    line = next(n for n, x in enumerate(text.splitlines(), 1) if x.startswith("width"))
    width = text.splitlines()[line - 1]
    with watching(job) as it:
        assert it.said == f"Following {job} at {it.address}; Ctrl-C ends it.\n"
        page = it.until(DRAWN)
        assert front_of(text) in page
        assert OLD not in page
        assert "data-mark=" in it.page("/page.html")

        job.write_text(text.replace(width, 'width = "abc"', 1))
        page = it.until(f"Line {line}: face.width", "can't be drawn: one fault.", OLD)
        assert "abc" in page
        assert front_of(text) in page
        assert "data-mark=" in it.page("/page.html")

        job.unlink()
        page = it.until("is not there", OLD)
        assert front_of(text) in page

        job.write_text(f"{text}[trim")
        it.until(f"Line {len(text.splitlines()) + 1}", "is not valid TOML", OLD)

        other = text.replace(width, width.replace(" mm", ".5 mm"), 1)
        assert other != text
        job.write_text(other)
        page = it.until(DRAWN)
        assert front_of(other) in page
        assert OLD not in page

        begun = monotonic()
        assert it.end() == (130, "Ended; nothing was written.\n", "")
        assert monotonic() - begun < 5
    assert [path.name for path in job.parent.iterdir()] == [job.name]


def test_a_job_with_a_fault_is_followed_from_the_start(job: Path) -> None:
    job.write_text("[face]\nwide = 3\n")
    with watching(job) as it:
        page = it.until("Line 2: face.wide", NONE)
        assert "There is no such page" in it.page("/page.html")
        assert "<svg" not in page
        job.write_text(job_text())
        assert NONE not in it.until(DRAWN)
        assert it.end()[0] == 130


def test_a_job_that_takes_long_is_ended_at_once(job: Path) -> None:
    job.write_text(job_text("semicircular-dining-room"))
    with watching(job) as it:
        it.page()
        begun = monotonic()
        assert it.end() == (130, "Ended; nothing was written.\n", "")
        assert monotonic() - begun < 5


INTERRUPTED = """
import os, signal, time
from shopdraw.cli import main, watching

def watch(*_, **__):
    exec("os.kill(os.getpid(), signal.SIGINT); time.sleep(20)")

watching._watch = watch
main(["watch", "den.toml"])
"""


def test_it_ends_with_its_own_code_wherever_it_is_broken_off(job: Path) -> None:
    (job.parent / "interrupted.py").write_text(INTERRUPTED)
    done = subprocess.run(
        [sys.executable, "-m", "interrupted"],
        capture_output=True,
        text=True,
        check=False,
        cwd=job.parent,
        timeout=60,
    )
    said = (done.returncode, done.stdout, done.stderr)
    assert said == (130, "Ended; nothing was written.\n", "")


def said_of(*words: str) -> str:
    """Run the command where it can't go on, and return what it says."""
    done = subprocess.run(
        [sys.executable, "-m", "shopdraw", "watch", *words],
        capture_output=True,
        text=True,
        check=False,
        cwd=CONFIGS.parent,
        timeout=60,
    )
    assert (done.returncode, done.stdout) == (2, "")
    return done.stderr


def test_what_can_not_be_followed_is_said() -> None:
    assert said_of("nowhere.toml").startswith("nowhere.toml: does not exist")
    assert said_of("configs").startswith("configs: is a folder")
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        said = said_of("configs/metric-slips.toml", "--port", port)
    assert said.startswith(f"--port: can't listen at 127.0.0.1:{port}: ")
    assert len(said.splitlines()) == 1


LOADED = """
import sys
from shopdraw.cli import main
try:
    main({words})
except SystemExit:
    pass
print([name for name in {names} if name in sys.modules])
"""
OURS = ["watchdog", "shopdraw.serving", "shopdraw.output.follow"]


def loaded(*words: str) -> str:
    done = subprocess.run(
        [sys.executable, "-c", LOADED.format(words=list(words), names=OURS)],
        capture_output=True,
        text=True,
        check=True,
        cwd=CONFIGS.parent,
    )
    return done.stdout.splitlines()[-1]


def test_only_this_command_loads_what_it_serves_with() -> None:
    assert loaded("check", "configs/metric-slips.toml") == "[]"
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        words = ("watch", "configs/metric-slips.toml", "--port", port)
        assert "shopdraw.serving" in loaded(*words)


class Tags(HTMLParser):
    """Every element with its attributes."""

    def __init__(self, page: bytes) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.feed(page.decode())

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))


ATTACK = "<script>hit=1</script><img onerror=hit=1>\"' onload='hit"


def test_what_is_typed_is_escaped_and_runs_nothing() -> None:
    """In the job's name, in a fault's key, in the file's name, in the number."""
    text = job_text()
    named = re.sub(r"(?m)^name = .*$", f"name = {json.dumps(ATTACK)}", text, count=1)
    wrong = f"{named}\n[{json.dumps(ATTACK)}]\n{json.dumps(ATTACK)} = 1\n"
    with pytest.raises(BadJob) as caught:
        parse_job(wrong, ATTACK)
    items = troubles_of(caught.value, wrong)
    drawn = look(solve(parse_job(named, "den.toml")))
    page = write_follow(Followed(ATTACK, drawn, ATTACK, items), ATTACK)
    tags = Tags(page).found
    assert [tag for tag, _ in tags if tag in ("script", "img")] == ["script"]
    assert not [x for _, each in tags for x in each if x.startswith("on")]
    assert page.count(b"&lt;script&gt;hit=1") >= 4
    harmed = Tags(page.replace(b"&lt;", b"<").replace(b"&gt;", b">")).found
    assert "img" in [tag for tag, _ in harmed]


def test_its_policy_names_its_own_script_and_style() -> None:
    page = write_follow(Followed("den.toml"), "1").decode()
    policy = next(
        x["content"] or "" for _, x in Tags(page.encode()).found if "http-equiv" in x
    )
    for name in ("script", "style"):
        (inside,) = re.findall(rf"<{name}>(.*?)</{name}>", page, re.DOTALL)
        digest = b64encode(sha256(inside.encode()).digest()).decode()
        assert f"{name}-src 'sha256-{digest}'" in policy
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
