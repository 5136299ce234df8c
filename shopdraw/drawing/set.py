"""The form of a drawing set: everything drawn, on its way to the writers.

In:  `Sheet`s, a bare `Drawing`, `Table`s, a record.   Out: `DrawingSet`.
Frame: each says its own.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from shopdraw.drawing.expected import Expected
from shopdraw.drawing.ink import Drawing
from shopdraw.drawing.page import Page
from shopdraw.drawing.photo import Montage, Photo
from shopdraw.drawing.sheets import Sheet
from shopdraw.drawing.tables import Table
from shopdraw.lengths import Lengths

PAGE = "page"
"""The name by which the page can be asked for."""
PICTURE = "appearance"
"""The name by which the picture can be asked for, and with it its photograph."""
SHOWN = 12
"""So many figures of a digest tell files apart for a person."""


@dataclass(frozen=True)
class DrawnFrom:
    """What a set is drawn from.

    Attributes:
        program: its name and version.
        job_file: the digest of the job file (SHA-256); empty where there was no file.
        photo: the digest of the photograph that is shown; empty where there is none.
    """

    program: str
    job_file: str
    photo: str = ""

    def showing(self, photo: Photo | None) -> DrawnFrom:
        """Return this for a set that shows a photograph too, if there is one."""
        return replace(self, photo="" if photo is None else photo.digest)

    @property
    def mark(self) -> str:
        """The job file's digest as far as it takes to tell files apart."""
        return self.job_file[:SHOWN] or "no file"

    @property
    def words(self) -> str:
        """What every sheet and file says: the program, and which job file."""
        return f"{self.program} / {self.mark}"

    @property
    def words_in_photo(self) -> str:
        """What a file that shows the photograph says: of which file that is, too."""
        photo = f" / photo {self.photo[:SHOWN]}" if self.photo else ""
        return f"{self.words}{photo}"


@dataclass(frozen=True)
class FileForm:
    """How the DXF files are to be written.

    Attributes:
        release: "R2010", or "R2000" for older readers.
        layers: pairs of a layer's name here and what it is to be called.
    """

    release: str = "R2010"
    layers: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Event:
    """A day, and the work that may begin on it.

    Attributes:
        says: how long the wait is, and who says so.
    """

    what: str
    day: date
    says: str


@dataclass(frozen=True)
class DrawingSet:
    """Everything that is to be written.

    Attributes:
        drawn_from: which program and job file.
        title: of the whole set, for the PDF.
        dated: as the job has it, for the PDF.
        lengths: what its drawings are measured in.
        sheets: in order.
        picture: of the finished work; None where it was not asked for.
        montage: the same in a photograph; None where there is none.
        expected: what must be found in each sheet's DXF file, sheet by sheet.
        bare: the drawing without paper, at full size.
        bare_expected: what must be found in its DXF file.
        tables: the ones that are files too, named for them.
        record_json: the solution, as text.
        form: of the DXF files.
        events: days for a calendar.
        papers: further files of pages, by name: the story pole, the review, the ticket.
        kept_back: the papers that the page does not link to: not for whoever reads it.
        page: what is read on a phone; None where it was not asked for.
        on_page: what must be found on it: the ID and the mark of every piece.
        is_whole: whether this is the whole set, not some of its sheets.
    """

    drawn_from: DrawnFrom
    title: str
    dated: date | None
    lengths: Lengths
    sheets: tuple[Sheet, ...]
    picture: Sheet | None
    expected: tuple[Expected, ...]
    bare: Drawing
    bare_expected: Expected
    tables: tuple[Table, ...]
    record_json: str
    form: FileForm = FileForm()
    events: tuple[Event, ...] = ()
    papers: tuple[tuple[str, tuple[Sheet, ...]], ...] = ()
    kept_back: tuple[str, ...] = ()
    page: Page | None = None
    on_page: tuple[tuple[str, str], ...] = ()
    montage: Montage | None = None
    is_whole: bool = True

    def picked(self, names: tuple[str, ...]) -> DrawingSet:
        """Return the set with only the sheets of these names; they keep their numbers.

        A sheet goes by its number, by its file's name, and by what it is for: the last
        takes every sheet for it, `cut-pieces`.
        """
        kept = [
            place for place, sheet in enumerate(self.sheets) if asked_for(sheet, names)
        ]
        part = replace(
            self,
            sheets=tuple(self.sheets[place] for place in kept),
            expected=tuple(self.expected[place] for place in kept),
            picture=self.picture
            if self.picture is not None and asked_for(self.picture, names)
            else None,
            papers=tuple(paper for paper in self.papers if paper[0] in names),
            page=self.page if PAGE in names else None,
            montage=self.montage if PICTURE in names else None,
        )
        return replace(part, is_whole=part == self)

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the sheets, with the pages of one sheet taken together."""
        shown = (name for sheet in self.sheets for name in sheet.shows)
        papers = (name for name, _ in self.papers)
        return (*dict.fromkeys(shown), PICTURE, *papers, PAGE)

    @property
    def numbers(self) -> tuple[str, ...]:
        """The numbers and the files' names of the sheets, the picture among them."""
        pictures = () if self.picture is None else (self.picture,)
        every = (*self.sheets, *pictures)
        return tuple(name for sheet in every for name in (sheet.identity, sheet.name))


def asked_for(sheet: Sheet, names: tuple[str, ...]) -> bool:
    """Whether a sheet is asked for by one of these names."""
    return any(name in (sheet.identity, sheet.name, *sheet.shows) for name in names)
