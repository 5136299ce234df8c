"""Say of a PDF what its pages are called, and that it is printed as large as it is.

In:  a PDF's bytes, the names of its pages.   Out: its bytes.
Frame: none.

A reader shows the names as bookmarks and as page labels; print scaling is off, so that
the scales hold. The same input gives the same bytes.
"""

from __future__ import annotations

import io


def name_pages(data: bytes, names: tuple[str, ...]) -> bytes:
    """Return the PDF with a bookmark and a label a page, to be printed unscaled.

    Raises:
        ValueError: there are not as many names as pages.
    """
    from pypdf import PdfReader, PdfWriter
    from pypdf.generic import (
        ArrayObject,
        BooleanObject,
        DictionaryObject,
        NameObject,
        NumberObject,
        TextStringObject,
    )

    reader = PdfReader(io.BytesIO(data))
    if len(names) != len(reader.pages):
        message = f"{len(names)} names for {len(reader.pages)} pages"
        raise ValueError(message)
    writer = PdfWriter(clone_from=reader)
    labels = ArrayObject()
    for number, name in enumerate(names):
        writer.add_outline_item(title=name, page_number=number)
        label = DictionaryObject({NameObject("/P"): TextStringObject(name)})
        labels += [NumberObject(number), label]
    root = writer.root_object
    root[NameObject("/PageLabels")] = DictionaryObject({NameObject("/Nums"): labels})
    root[NameObject("/PageMode")] = NameObject("/UseOutlines")
    root[NameObject("/ViewerPreferences")] = DictionaryObject(
        {
            NameObject("/PrintScaling"): NameObject("/None"),
            NameObject("/DisplayDocTitle"): BooleanObject(value=True),
        }
    )
    stream = io.BytesIO()
    writer.write(stream)
    return stream.getvalue()
