"""Spell out what a DXF file lists beside its drawing: classes, objects, table heads.

In:  the file's form, its layouts.   Out: `Record`s; objects by their path.
Frame: none.

An object's path is the names by which dictionaries lead to it: `/ACAD_LAYOUT/Model`.
No drawing of ours uses any but the layouts; all stand as the library leaves them, the
days in `/EZDXF_META` fixed (meanings from memory).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from shopdraw.drawing.set import FileForm
from shopdraw.output.groups import Group
from shopdraw.output.records import Record, record

TABLES = (
    *("VPORT", "LTYPE", "LAYER", "STYLE", "VIEW", "UCS", "APPID", "DIMSTYLE"),
    "BLOCK_RECORD",
)
"""A file's tables, in its order; nothing stands in those of views and of axes."""
ROOT = "/"
LAYOUTS = "/ACAD_LAYOUT"


def spell_head(table: str, count: int) -> Record:
    """Spell the head of a table of so many entries."""
    groups: list[Group] = [(2, table), (330, "0"), (100, "AcDbSymbolTable")]
    if table == "DIMSTYLE":
        groups.append((100, "AcDbDimStyleTable"))
    return record("TABLE", (*groups, (70, count)))


# ----------------------------------------------------------------- the classes

OWN = "ObjectDBX Classes"
CLASSES = (
    ("ACDBDETAILVIEWSTYLE", "AcDbDetailViewStyle", OWN, 1025),
    ("ACDBDICTIONARYWDFLT", "AcDbDictionaryWithDefault", OWN, 0),
    ("ACDBPLACEHOLDER", "AcDbPlaceHolder", OWN, 0),
    ("ACDBSECTIONVIEWSTYLE", "AcDbSectionViewStyle", OWN, 1025),
    ("CELLSTYLEMAP", "AcDbCellStyleMap", OWN, 1152),
    ("DICTIONARYVAR", "AcDbDictionaryVar", OWN, 0),
    ("LAYOUT", "AcDbLayout", OWN, 0),
    ("MATERIAL", "AcDbMaterial", OWN, 1153),
    ("MENTALRAYRENDERSETTINGS", "AcDbMentalRayRenderSettings", "SCENEOE", 1024),
    ("MLEADERSTYLE", "AcDbMLeaderStyle", "ACDB_MLEADERSTYLE_CLASS", 4095),
    ("RASTERVARIABLES", "AcDbRasterVariables", "ISM", 0),
    ("SCALE", "AcDbScale", OWN, 1153),
    ("SUN", "AcDbSun", "SCENEOE", 1153),
    ("TABLESTYLE", "AcDbTableStyle", OWN, 4095),
    ("VISUALSTYLE", "AcDbVisualStyle", OWN, 4095),
)
"""Kinds of objects by their names in the file and in programs, whose they are, and what
a program without them may do; those that the library has in every file."""


def spell_classes(form: FileForm) -> Iterator[Record]:
    """Spell the class table; an older file does not say how many there are of each."""
    counted: tuple[Group, ...] = () if form.release == "R2000" else ((91, 0),)
    for name, called, whose, allowed in CLASSES:
        said = ((1, name), (2, called), (3, whose), (90, allowed), (280, 0), (281, 0))
        yield record("CLASS", (*said, *counted))


# ----------------------------------------------------------------- the objects


def spell_objects(layouts: Mapping[str, Record]) -> dict[str, Record]:
    """Spell every object of a file, the root dictionary first.

    Args:
        layouts: by name.
    """
    objects = {ROOT: _dictionary(ROOT)}
    for name in DICTIONARIES:
        objects[f"{ROOT}{name}"] = _dictionary(f"{ROOT}{name}")
    objects |= {f"{LAYOUTS}/{name}": layout for name, layout in layouts.items()}
    objects |= {path: _material(path) for path in MATERIALS}
    return objects | PLOT_STYLES | STYLES | META


def place_of(path: str) -> str:
    """Return the path of the dictionary that lists an object; `0`: none does."""
    return "0" if path == ROOT else path.rpartition("/")[0] or ROOT


DICTIONARIES = (
    *("ACAD_COLOR", "ACAD_GROUP", "ACAD_LAYOUT", "ACAD_MATERIAL", "ACAD_MLEADERSTYLE"),
    *("ACAD_MLINESTYLE", "ACAD_PLOTSETTINGS", "ACAD_SCALELIST", "ACAD_TABLESTYLE"),
    "ACAD_VISUALSTYLE",
)
MATERIALS = tuple(f"/ACAD_MATERIAL/{x}" for x in ("ByBlock", "ByLayer", "Global"))


def _dictionary(path: str, *groups: Group) -> Record:
    kept = ((330, place_of(path)), (100, "AcDbDictionary"), (281, 1))
    return record("DICTIONARY", (*kept, *groups))


def _reacting(path: str) -> tuple[Group, ...]:
    """Spell whose an object is: its dictionary also asks to be told of changes."""
    whose = (330, place_of(path))
    return whose, (102, "{ACAD_REACTORS"), whose, (102, "}")


def _of_each(value: float, *codes: int) -> Iterator[Group]:
    return ((code, value) for code in codes)


def _material(path: str) -> Record:
    groups = (
        *_reacting(path),
        *((1, path.rpartition("/")[2]), (100, "AcDbMaterial")),
        *((code, "") for code in (2, 3, 3, 4, 6, 7, 8, 9)),
        *_of_each(1.0, 40, 41, 42, 42, 45, 46, 48, 140, 141, 143, 145, 146),
        *((44, 0.5), (91, -1023410177), (94, 63), (73, 1), (73, 0), (73, 1), (70, 0)),
        *_of_each(1, 71, 72, 72, 74, 74, 75, 75, 77, 78, 79),
        *_of_each(1, *range(170, 180), *range(270, 277)),
    )
    return record("MATERIAL", groups)


_PLOT_STYLES = "/ACAD_PLOTSTYLENAME"
PLOT_STYLES = {
    _PLOT_STYLES: record(
        "ACDBDICTIONARYWDFLT",
        (
            *((330, ROOT), (100, "AcDbDictionary"), (281, 1)),
            *((100, "AcDbDictionaryWithDefault"), (340, f"{_PLOT_STYLES}/Normal")),
        ),
    ),
    f"{_PLOT_STYLES}/Normal": record("ACDBPLACEHOLDER", ((330, _PLOT_STYLES),)),
}
STYLES = {
    "/ACAD_MLINESTYLE/Standard": record(
        "MLINESTYLE",
        (
            *_reacting("/ACAD_MLINESTYLE/Standard"),
            *((100, "AcDbMlineStyle"), (2, "Standard"), (3, ""), (70, 0), (71, 2)),
            *((51, 90.0), (52, 90.0), (62, 256)),
            *((49, 0.5), (62, 256), (6, "BYLAYER")),
            *((49, -0.5), (62, 256), (6, "BYLAYER")),
        ),
    ),
    "/ACAD_MLEADERSTYLE/Standard": record(
        "MLEADERSTYLE",
        (
            *_reacting("/ACAD_MLEADERSTYLE/Standard"),
            *((100, "AcDbMLeaderStyle"), (3, "Standard"), (300, "")),
            *_of_each(0.0, 40, 41, 141),
            *_of_each(1.0, 47, 49, 140, 142),
            *((42, 2.0), (43, 8.0), (44, 4.0), (45, 4.0), (46, 4.0), (143, 3.75)),
            *_of_each(-1056964608, 91, 93, 94),
            *((90, 2), (92, -2), (170, 2), (179, 2), (272, 9), (273, 9)),
            *_of_each(0, 172, 176, 177, 271, 292, 295, 296, 297),
            *_of_each(1, 171, 173, 174, 175, 178, 290, 291, 294),
            (342, "STYLE Standard"),
        ),
    ),
}


def _day(name: str) -> tuple[str, Record]:
    said = "0.0 @ 2000-01-01T00:00:00.000000+00:00"
    groups = ((330, _META), (100, "DictionaryVariables"), (280, 0), (1, said))
    return f"{_META}/{name}", record("DICTIONARYVAR", groups)


_META = "/EZDXF_META"
META = {
    _META: _dictionary(_META, (280, 1)),
    **dict(map(_day, ("CREATED_BY_EZDXF", "WRITTEN_BY_EZDXF"))),
}


def spell_applications() -> Iterator[Record]:
    """Spell the names under which entities have further data."""
    marks = ((100, "AcDbSymbolTableRecord"), (100, "AcDbRegAppTableRecord"))
    names = ("ACAD", "AcAecLayerStandard", "HATCHBACKGROUNDCOLOR", "EZDXF")
    return (record("APPID", (*marks, (2, name), (70, 0))) for name in names)
