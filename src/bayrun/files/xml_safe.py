"""XML from strangers: no document type, no entities, no deep nesting, no more bytes than a house needs."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree
from xml.parsers import expat

from bayrun.files.shell import ImportRefused

LARGEST_XML_BYTES = 60_000_000
"""A house is under a megabyte of gbXML; a tower is a few dozen."""
_DEEPEST = 60
_MOST_ELEMENTS = 2_000_000


def read_xml(path: Path, expected: str) -> ElementTree.Element:
    """The root of an XML file, its tags without their name space.

    Args:
        path: The file; nothing that it refers to is opened.
        expected: What a person was asked for, such as ``a gbXML file``.
    Raises:
        ImportRefused: Too large, cut off, not XML, or with a document type declaration, which is where
            entities that grow without end are declared.
    """
    size = path.stat().st_size
    if size > LARGEST_XML_BYTES:
        raise ImportRefused(
            f"{path.name}: {size / 1e6:.0f} MB is more than the {LARGEST_XML_BYTES / 1e6:.0f} MB a house may "
            "have; export the house alone"
        )
    builder = ElementTree.TreeBuilder()
    depth = 0
    elements = 0

    def begin(tag: str, attributes: dict[str, str]) -> None:
        nonlocal depth, elements
        depth, elements = depth + 1, elements + 1
        if depth > _DEEPEST or elements > _MOST_ELEMENTS:
            raise ImportRefused(
                f"{path.name}: expected {expected}, got elements nested {_DEEPEST} deep or more than "
                f"{_MOST_ELEMENTS} of them; export it again"
            )
        builder.start(tag.rpartition("}")[2], {k.rpartition("}")[2]: v for k, v in attributes.items()})

    def finish(tag: str) -> None:
        nonlocal depth
        depth -= 1
        builder.end(tag.rpartition("}")[2])

    def doctype(*_: object) -> None:
        raise ImportRefused(
            f"{path.name}: expected {expected} without a document type declaration, got one (it can declare "
            "entities that grow without end); take the <!DOCTYPE …> out or export it again"
        )

    parser = expat.ParserCreate(namespace_separator="}")
    parser.buffer_text = True
    parser.StartElementHandler = begin
    parser.EndElementHandler = finish
    parser.CharacterDataHandler = builder.data
    parser.StartDoctypeDeclHandler = doctype
    try:
        parser.Parse(path.read_bytes(), True)
        return builder.close()
    except expat.ExpatError as error:
        if error.code in _CUT_OFF:
            raise ImportRefused(
                f"{path.name}: expected {expected} to its last tag, got one that stops in the middle "
                f"(line {error.lineno}); copy or export it again"
            ) from None
        raise ImportRefused(
            f"{path.name}: expected {expected}, got XML that is damaged at line {error.lineno}; "
            "export it again"
        ) from None
    except (ValueError, LookupError):
        raise ImportRefused(
            f"{path.name}: expected {expected} in UTF-8, got letters of another code; save it as UTF-8"
        ) from None


_CUT_OFF = frozenset(
    {
        expat.errors.codes[expat.errors.XML_ERROR_NO_ELEMENTS],
        expat.errors.codes[expat.errors.XML_ERROR_UNCLOSED_TOKEN],
        expat.errors.codes[expat.errors.XML_ERROR_PARTIAL_CHAR],
        expat.errors.codes[expat.errors.XML_ERROR_UNCLOSED_CDATA_SECTION],
    }
)


def named(element: ElementTree.Element, tag: str) -> Iterator[ElementTree.Element]:
    """The children of an element with this tag."""
    return (child for child in element if child.tag == tag)


def text_of(element: ElementTree.Element | None, tag: str) -> str:
    """The text of an element's first child with this tag, on one line; empty where there is none."""
    child = None if element is None else next(named(element, tag), None)
    return " ".join((child.text or "").split()) if child is not None else ""
