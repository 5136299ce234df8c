"""Spell out the header of a DXF file: every variable, and what it says.

In:  the file's lengths and form, its extents.   Out: groups by a variable's name.
Frame: as in the file.

A file has no other variables than these. `OURS`, and what depends on the file, is how
it is read, seen and plotted. The others say what a program does next with the file: as
the library leaves them, without a time or an identifier of its own. The next free
handle has a rule of its own, in `holding`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from shopdraw.drawing.lettering import Box
from shopdraw.drawing.set import FileForm
from shopdraw.lengths import Lengths
from shopdraw.output.dimensioning import ARCHITECTURAL, DECIMAL, STYLES
from shopdraw.output.groups import Group, Value
from shopdraw.output.spelling_tables import INCHES, MILLIMETRES

Variables = Mapping[str, tuple[Group, ...]]
NEXT_HANDLE = "$HANDSEED"
RELEASES = {"R2000": "AC1015", "R2010": "AC1024"}


def _point(x: float, y: float, z: float) -> tuple[Group, ...]:
    return (10, x), (20, y), (30, z)


def _all(*rows: tuple[int, Value, str]) -> Variables:
    """Return variables by name; of each code and value, those that say it."""
    return {
        f"${name}": ((code, value),)
        for code, value, names in rows
        for name in names.split()
    }


OURS: Variables = {
    **_all(
        (70, 0, "QTEXTMODE AUNITS ANGDIR PLINEGEN UNITMODE LIMCHECK PLIMCHECK"),
        (70, 0, "DIMALT DIMTOL DIMLIM"),
        (70, 1, "FILLMODE ATTMODE PSLTSCALE TILEMODE VISRETAIN WORLDVIEW"),
        (70, 4, "LUPREC"),
        (290, 1, "LWDISPLAY PSTYLEMODE EXTNAMES"),
        (62, 256, "CECOLOR"),
        (370, -1, "CELWEIGHT"),
        (40, 0.0, "ELEVATION PELEVATION THICKNESS PSVPSCALE"),
        (40, 1.0, "LTSCALE CELTSCALE DIMSCALE DIMLFAC"),
        (50, 0.0, "ANGBASE"),
        (8, "0", "CLAYER"),
        (6, "ByLayer", "CELTYPE"),
        (3, "ANSI_1252", "DWGCODEPAGE"),
    ),
    **{
        f"${space}{name}": _point(*axis)
        for space in ("UCS", "PUCS")
        for name, axis in {
            "ORG": (0.0, 0.0, 0.0), "XDIR": (1.0, 0.0, 0.0), "YDIR": (0.0, 1.0, 0.0),
        }.items()
    },
    "$INSBASE": _point(0.0, 0.0, 0.0),
    "$PINSBASE": _point(0.0, 0.0, 0.0),
}  # fmt: skip
"""By what a file is read, seen or plotted (meanings from memory)."""

NO_IDENTIFIER = "{00000000-0000-0000-0000-000000000000}"
NEW_YEAR_2000 = 2451545.0
"""A Julian day that stands for every time there is in the file."""
LIBRARYS: Variables = {
    **_all(
        (1, "", "DIMBLK DIMPOST DIMAPOST DIMBLK1 DIMBLK2 DIMLDRBLK HYPERLINKBASE"),
        (1, "", "STYLESHEET"),
        (1, ".", "MENU"),
        (2, "", "UCSBASE UCSNAME UCSORTHOREF PUCSBASE PUCSNAME PUCSORTHOREF"),
        (2, "Standard", "CMLSTYLE"),
        (2, NO_IDENTIFIER, "FINGERPRINTGUID VERSIONGUID"),
        (7, "Standard", "TEXTSTYLE DIMTXSTY"),
        (40, NEW_YEAR_2000, "TDCREATE TDUCREATE TDUPDATE TDUUPDATE"),
        (40, 0.0, "TDINDWG TDUSRTIMER"),
        (40, 0.0, "DIMRND DIMDLE DIMTP DIMTM DIMTSZ DIMTVP DIMALTRND"),
        (40, 0.0, "CHAMFERA CHAMFERB CHAMFERC CHAMFERD PDSIZE PLINEWID"),
        (40, 0.0, "USERR1 USERR2 USERR3 USERR4 USERR5"),
        (40, 0.0393701, "DIMALTF"),
        (40, 0.625, "DIMEXO DIMGAP"),
        (40, 1.0, "TRACEWID DIMTFAC SKETCHINC"),
        (40, 1.25, "DIMEXE"),
        (40, 2.5, "TEXTSIZE DIMASZ DIMTXT DIMCEN"),
        (40, 3.75, "DIMDLI"),
        (40, 10.0, "FILLETRAD"),
        (40, 20.0, "CMLSCALE"),
        (70, -2, "DIMLWD DIMLWE"),
        (70, 0, "ORTHOMODE DISPSILH DIMTIH DIMTOH DIMSE1 DIMSE2 DIMTIX DIMSOXD DIMSAH"),
        (70, 0, "DIMCLRD DIMCLRE DIMCLRT DIMJUST DIMSD1 DIMSD2 DIMTOLJ DIMALTZ"),
        (70, 0, "DIMALTTZ DIMUPT DIMAUNIT DIMADEC DIMAZIN DIMFRAC DIMTMOVE SKPOLY"),
        (70, 0, "PDMODE SPLFRAME UCSORTHOVIEW PUCSORTHOVIEW CMLJUST"),
        (70, 0, "USERI1 USERI2 USERI3 USERI4 USERI5"),
        (70, 1, "REGENMODE MIRRTEXT DIMTAD DIMASO DIMSHO DIMTOFL USRTIMER"),
        (70, 1, "PROXYGRAPHICS"),
        (70, 2, "DIMDEC DIMTDEC DIMALTU DIMLUNIT AUPREC"),
        (70, 3, "DIMALTD DIMALTTD DIMATFIT SHADEDGE"),
        (70, 6, "ACADMAINTVER SPLINETYPE SURFTAB1 SURFTAB2 SURFTYPE SURFU SURFV"),
        (70, 8, "DIMZIN DIMTZIN SPLINESEGS"),
        (70, 44, "DIMDSEP"),
        (70, 64, "MAXACTVP"),
        (70, 70, "SHADEDIF"),
        (70, 3020, "TREEDEPTH"),
        (280, 0, "ENDCAPS JOINSTYLE"),
        (290, 0, "OLESTARTUP"),
        (290, 1, "XEDIT"),
        (380, 0, "CEPSNTYPE"),
    ),
    **{
        f"${space}{side}": _point(0.0, 0.0, 0.0)
        for space in ("UCSORG", "PUCSORG")
        for side in ("TOP", "BOTTOM", "LEFT", "RIGHT", "FRONT", "BACK")
    },
}
"""By what no file of ours is read, seen or plotted: each dimension has its style."""

SINCE_R2010 = _all(
    (1, "ezdxf", "LASTSAVEDBY"),
    (1, "", "PROJECTNAME"),
    (6, "", "DIMLTYPE DIMLTEX1 DIMLTEX2"),
    (40, 0.0, "CAMERAHEIGHT LOFTMAG1 LOFTMAG2 NORTHDIRECTION SHADOWPLANELOCATION"),
    (40, 0.005, "PSOLWIDTH"),
    (40, 0.08, "PSOLHEIGHT"),
    (40, 0.7853982, "DIMJOGANG"),
    (40, 1.0, "DIMFXL"),
    (40, 1.5707963, "LOFTANG1 LOFTANG2"),
    (40, 2.0, "3DDWFPREC"),
    (40, 24.0, "STEPSPERSEC"),
    (40, 37.795, "LATITUDE"),
    (40, -122.394, "LONGITUDE"),
    (40, 50.0, "LENSLENGTH"),
    (40, 100.0, "STEPSIZE"),
    (62, 256, "INTERFERECOLOR"),
    (70, 0, "DIMFXLON DIMTFILL DIMTFILLCLR DIMARCSYM DIMTXTDIRECTION"),
    (70, 7, "LOFTPARAM"),
    (70, 257, "OBSCOLOR INTERSECTIONCOLOR"),
    (70, -8000, "TIMEZONE"),
    (280, 0, "INDEXCTL HALOGAP OBSLTYPE INTERSECTIONDISPLAY SOLIDHIST CSHADOW"),
    (280, 1, "HIDETEXT XCLIPFRAME LOFTNORMALS LIGHTGLYPHDISPLAY SHOWHIST"),
    (280, 1, "TILEMODELIGHTSYNCH"),
    (280, 2, "DIMASSOC DWFFRAME DGNFRAME"),
    (280, 127, "SORTENTS"),
    (290, 0, "CAMERADISPLAY"),
    (290, 1, "REALWORLDSCALE"),
    (347, "/ACAD_MATERIAL/ByLayer", "CMATERIAL"),
)
"""What an older file does not have: the library's too, the place its own default."""


def spell_header(lengths: Lengths, form: FileForm, box: Box) -> Variables:
    """Spell the header of a file, whose model space fills a box, but for its layout."""
    newer = {} if form.release == "R2000" else SINCE_R2010
    return {**LIBRARYS, **newer, **OURS, **dict(_stated(lengths, form, box))}


def _stated(
    lengths: Lengths, form: FileForm, box: Box
) -> Iterator[tuple[str, tuple[Group, ...]]]:
    """Yield what depends on the file: its release, its units, its extents."""
    is_inch = lengths == "in"
    yield "$ACADVER", ((1, RELEASES[form.release]),)
    yield "$INSUNITS", ((70, INCHES if is_inch else MILLIMETRES),)
    yield "$MEASUREMENT", ((70, 0 if is_inch else 1),)
    yield "$LUNITS", ((70, ARCHITECTURAL if is_inch else DECIMAL),)
    yield "$DIMSTYLE", ((2, STYLES[lengths][0].name),)
    yield from _extents("", box)


def spell_paper(box: Box, extents: Box, height: float = 0.0) -> Variables:
    """Spell what the header says of the layout: its limits, what stands on it."""
    return {**dict(_extents("P", box)), **dict(_pair("$PEXT", extents, height))}


def _extents(space: str, box: Box) -> Iterator[tuple[str, tuple[Group, ...]]]:
    yield from _pair(f"${space}EXT", box, 0.0)
    yield from _pair(f"${space}LIM", box)


def _pair(
    name: str, box: Box, height: float | None = None
) -> Iterator[tuple[str, tuple[Group, ...]]]:
    """Yield two corners; the lower one's height, the other as far below nothing."""
    left, bottom, right, top = box
    lower: tuple[Group, ...] = () if height is None else ((30, height),)
    upper: tuple[Group, ...] = () if height is None else ((30, -height),)
    yield f"{name}MIN", ((10, left), (20, bottom), *lower)
    yield f"{name}MAX", ((10, right), (20, top), *upper)
