"""Hostile texts, every free-text field of a job file, and jobs that have them all."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any, get_args

from annotated_types import MaxLen
from pydantic import BaseModel

from shopdraw.job.model import Job
from shopdraw.job.values import Text

JOB = """
[job]
name = "Snug"
lengths = "in"
notes = ["dry"]

[face]
measured_to = "finish"
width = "39 5/8 in"
height = "21 in"

[opening]
width = "24 3/8 in"
height = "13 1/2 in"

[brick]
size = "modular"
thickness = "5/8 in"

[setting_bed]
thickness = "3/8 in"

[joints]
profile = "concave"

[[panel]]
name = "inset"
left = "8 1/8 in"
bottom = "16 1/8 in"
width = "23 3/8 in"
height = "4 7/8 in"
pattern = "stack"
border = "none"

[[target]]
name = "shelf line"
level = "18 3/4 in"

[[existing_brick]]
name = "old pier"
where = "right"
tops = ["2 5/8 in", "5 1/4 in"]

[hearth]
front = "22 in"
left = "14 in"
right = "14 in"
thickness = "3 in"
material = "noncombustible"

[appliance]
kind = "masonry"

[rules]
set = "irc-2015"
area = "found"
area_agreed = "the reviewer"

[[rules.own]]
figure = "throat"
value = "7 in"
reason = "as agreed"

[[trim]]
name = "shelf"
left = "0 in"
bottom = "22 in"
width = "39 5/8 in"
height = "3 in"
projection = "1 in"

[[beside]]
name = "stud"
kind = "framing"
to_masonry = "3 in"

[[fitting]]
name = "handle"
left = "1 in"
bottom = "1 in"
width = "1 in"
height = "1 in"

[stripping]
old = [{ kind = "tile", name = "old tile" }]

[labour]
excludes = ["painting"]

[substrate]
kind = "masonry"
condition = ["old mortar"]
prepared = "cleaned"

[[data_sheet]]
item = "setting mortar"
document = "sheet of the maker"
page = "3"
service_c = 90
expected_c = 60

[house]
year = 1926
asbestos = "looked for, none found"

[schedule]
set_on = 2026-03-09

[packs]
flats = 40

[prices]
currency = "EUR"
flats = 31

[[rule_marks]]
mark = "4"
height = "2 5/8 in"

[[revision]]
mark = "A"
says = "taller"
courses = [2]

[labels]
columns = 2
rows = 5
width = "4 in"
height = "2 in"
left = "1/4 in"
top = "1/2 in"

[layers]
names = "NCS"

[sheet]
size = "ARCH C"

[[option]]
name = "stack bond"
bond = { pattern = "stack" }
"""
"""A small surround with a table of every kind that holds free text."""
GAS = (
    ('kind = "masonry"\n\n[rules]', 'kind = "gas"\n\n[appliance.manual]\n'
     'document = "manual"\npage = "14"\nhearth_front = "12 in"\n'
     'combustibles = "6 in"\n\n[rules]'),
    ('\n[[rules.own]]\nfigure = "throat"\nvalue = "7 in"\nreason = "as agreed"\n', ""),
)  # fmt: skip
"""What is otherwise about a gas unit, which is held to its manual."""


def tables_of(*, gas: bool = False) -> dict[str, Any]:
    """Return the small surround's tables, to be changed."""
    text = JOB
    for old, new in GAS if gas else ():
        assert old in text
        text = text.replace(old, new)
    return tomllib.loads(text)


REFUSED = (
    # Control characters: of ASCII, deletion, the second set; parted lines.
    *("a\0b", "a\ab", "\x1b[31mred\x1b[0m", "a\nb", "a\rb", "\ta", "a\x7fb"),
    *("a\x9bb", "a\u0085b", "a\u2028b", "a\u2029b"),
    # Codes in the text of a DXF file (DXF reference, TEXT and MTEXT).
    *("%%c", "%%d", "%%u", "%%123", "100%%", r"a\Pb", r"\U+2205", r"\M+18140"),
    *(r"{\fArial;x}", r"\S1/2;", "^J", "^I", "a\\", r"C:\x"),
    # Right to left: letters, a mark, an override, an isolate.
    *("\u05d0\u05d1", "\u0627", "a\u200fb", "a\u202eb", "a\u2067b\u2069"),
    # Signs that combine with nothing, or more of them than a letter bears.
    *("\u0301a", "q\u0301", "e\u0301\u0301\u0316", "a\u20dd", "\u2260"),
    # Nothing to see.
    *("a\u200bb", "a\u200db", "\ufeffa", "a\u00adb", "\U000e0041", " ", "\u00a0"),
    # Pictures, other scripts, what has no plain sign, private signs and no signs.
    *("\U0001f525", "\u2615\ufe0f", "\u706b", "\u042f", "\uff1d1", "n\u00b0 5"),
    *("2\u00bd", "m\u00b2", "\u20ac", "\ue000", "\U0010ffff", "\ufffd"),
)
"""What would not be lettered as it is typed."""
KEPT = (
    # What a spreadsheet runs (OWASP, CSV injection).
    *("=1+cmd|' /C calc'!A0", "+1", "-1+x", "@SUM(A1)", "a;=1;+1"),
    # Pieces of paths, markup, records, calendars and PDF files; quotes.
    "../x /etc/x a/b CON NUL.txt <b>&amp;</b> <!-- -->",
    '{"a": [1]}, }{ 5% % END:VEVENT n; DTSTART:1',
    "(a) )b( << /X >> endobj \"a\", 'b' `c` #$_~",
)
"""What is printed as it is typed."""
PLAINLY = {
    "Ch\u00e2teau, L\u00f3d\u017a": "Chateau, Lodz",
    "Bibliothe\u0300que": "Bibliotheque",
    "\u201ca\u201d \u2018b\u2019 \u2013\u2014": "\"a\" 'b' --",
    "2\u00a0\u00d7 3\u2033 5\u2032\u2026": "2 x 3\" 5'...",
}
"""What is lettered in plain signs that say the same."""
CHOICES = {
    *("brick.size", "rules.set", "sheet.size", "sheet.page"),
    "layers.names",
}
"""Keys that take only what the catalog has."""

(DOOR,) = Text.__metadata__
"""What every free text is read by."""


@dataclass(frozen=True)
class TextField:
    """A key of a job file that takes free text, at most so many signs of it."""

    keys: tuple[str, ...]
    most: int

    @property
    def key(self) -> str:
        """The key, without places in lists."""
        return ".".join(self.keys)


def _said_of(annotation: object) -> Iterator[object]:
    """Yield what an annotation says, at any depth: types, validators, limits."""
    yield annotation
    for part in (*getattr(annotation, "__metadata__", ()), *get_args(annotation)):
        yield from _said_of(part)


def _words_of(
    model: type[BaseModel], before: tuple[str, ...] = ()
) -> Iterator[tuple[tuple[str, ...], list[object]]]:
    """Yield every key that takes words, with all that is said of it."""
    for name, field in model.model_fields.items():
        said = [*_said_of(field.annotation), *field.metadata]
        if str in said:
            yield (*before, name), said
        for part in said:
            if isinstance(part, type) and issubclass(part, BaseModel):
                yield from _words_of(part, (*before, name))


def _limits(said: list[object]) -> Iterator[int]:
    for part in said:
        yield from _limits(getattr(part, "metadata", []))
        if isinstance(part, MaxLen):
            yield part.max_length


def free_text(model: type[BaseModel] = Job) -> tuple[TextField, ...]:
    """Return every key of free text; one without a limit has none here."""
    return tuple(
        TextField(keys, min(_limits(said), default=0))
        for keys, said in _words_of(model)
        if DOOR in said
    )


def unguarded(model: type[BaseModel] = Job) -> list[str]:
    """Return every key of words that no reader of the job's values looks at."""
    return [
        ".".join(keys)
        for keys, said in _words_of(model)
        if not any(hasattr(part, "func") for part in said)
    ]


def put(tables: dict[str, Any], field: TextField, text: str) -> bool:
    """Put a text at a key, first in each list; False where the job lacks its table."""
    *way, last = field.keys
    place: Any = tables
    for name in way:
        place = place.get(name)
        if place is None:
            return False
        place = place[0] if isinstance(place, list) else place
    place[last] = [text] if isinstance(place.get(last), list) else text
    return True


def toml_of(value: object) -> str:
    """Write tables as TOML, every sign that needs it escaped."""
    if isinstance(value, dict):
        pairs = (f"{toml_of(key)} = {toml_of(each)}" for key, each in value.items())
        return f"{{{', '.join(pairs)}}}"
    if isinstance(value, list):
        return f"[{', '.join(map(toml_of, value))}]"
    if isinstance(value, date):
        return value.isoformat()
    # JSON leaves the sign for deletion as it is, which TOML does not take.
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


def job_text(tables: dict[str, Any]) -> str:
    """Write a whole job file, a line a table."""
    lines = (f"{toml_of(name)} = {toml_of(value)}" for name, value in tables.items())
    return "\n".join(lines) + "\n"
