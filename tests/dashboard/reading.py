"""Read a PDF back as a reader, a printer and a screen reader would."""

import io
import math
from dataclasses import dataclass

from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject


@dataclass(frozen=True)
class Tag:
    """One node of a PDF's structure: its kind and its alternative text."""

    kind: str
    alt: str


def open_pdf(content):
    return PdfReader(io.BytesIO(content))


def words_of(content):
    return "\n".join(page.extract_text() for page in open_pdf(content).pages)


def lettering_of(content):
    """Return each stretch of letters with its size in points as printed, those in pictures too."""
    found = []

    def keep(text, page, line, _font, size):
        wide, tall = line[2] * page[0] + line[3] * page[2], line[2] * page[1] + line[3] * page[3]
        if text.strip():
            found.append((text, size * math.hypot(wide, tall)))

    for page in open_pdf(content).pages:
        page.extract_text(visitor_text=keep)
    return found


def page_sizes(content):
    return [tuple(round(float(side)) for side in page.mediabox[2:]) for page in open_pdf(content).pages]


def tags_of(content):
    """Return the tags in reading order."""
    root = open_pdf(content).trailer["/Root"]
    return list(_walk(root["/StructTreeRoot"]))


def _walk(node):
    node = node.get_object() if isinstance(node, IndirectObject) else node
    if isinstance(node, ArrayObject):
        for inner in node:
            yield from _walk(inner)
    elif isinstance(node, DictionaryObject):
        if "/S" in node:
            yield Tag(str(node["/S"]).removeprefix("/"), str(node.get("/Alt", "")))
        if "/K" in node:
            yield from _walk(node["/K"])


def language_of(content):
    return str(open_pdf(content).trailer["/Root"]["/Lang"])


def fonts_of(content):
    """Return name → whether the font's shapes are inside the file."""
    reader = open_pdf(content)
    found = {}
    for number in range(1, int(reader.trailer["/Size"])):
        thing = reader.get_object(number)
        if isinstance(thing, DictionaryObject) and "/FontDescriptor" in thing:
            shapes = thing["/FontDescriptor"]
            name = str(thing["/BaseFont"]).partition("+")[2]
            found[name] = any(f"/FontFile{kind}" in shapes for kind in ("", "2", "3"))
    return found
