"""The tree of tags as it is written into a file, and what a file says of itself (PDF/UA-1).

ISO 14289-1 asks for the tree, for the title in the file's metadata, and for the mark that says
which standard it follows; ISO 32000-1, 14.7 and 14.8 say how the tree is written.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from html import escape
from typing import Any

from reportlab.pdfbase.pdfdoc import XMP, PDFArray, PDFDictionary, PDFName, PDFString

Box = tuple[float, float, float, float]
Piece = tuple[int, int]
"""A page, from 0, and the number of a piece of its content."""

_XMP = """<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/"
 xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>
<dc:language><rdf:Bag><rdf:li>{language}</rdf:li></rdf:Bag></dc:language>
<pdfuaid:part>1</pdfuaid:part>
</rdf:Description>
</rdf:RDF>
</x:xmpmeta>
<?xpacket end="w"?>
"""


@dataclass(eq=False)
class Element:
    """A place in the tree: its tag, and the pieces and elements in it, in reading order.

    `alt` says in words what a picture shows, `box` is where that is on its page, `scope` of
    which cells a table's head is the head; parts on further pages are `of` the same object.
    """

    tag: str
    of: object = None
    alt: str = ""
    box: Box | None = None
    scope: str = ""
    kids: list[Element | Piece] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Link:
    """A link on a page, from 0: its annotation, under a name, and the element that it is of."""

    name: str
    annotation: PDFDictionary
    element: Element
    page: int


@dataclass
class _Writer:
    document: Any
    pages: Sequence[Any]
    links: Sequence[Link]
    references: dict[int, Any] = field(default_factory=dict)
    """Where the elements are, by their identity."""

    def write(self, element: Element, parent: object) -> object:
        """Write an element and all below it; the reference to it."""
        entries = {"S": PDFName(element.tag), "P": parent}
        if element.alt:
            entries["Alt"] = PDFString(element.alt)
        attributes = _attributes(element)
        if attributes:
            entries["A"] = attributes
        dictionary = PDFDictionary(entries)
        reference = self.document.Reference(dictionary)
        self.references[id(element)] = reference
        kids = [self._kid(kid, reference) for kid in element.kids]
        kids += [self._annotation(link) for link in self.links if link.element is element]
        dictionary["K"] = PDFArray(kids)
        return reference

    def _kid(self, kid: Element | Piece, parent: object) -> object:
        if isinstance(kid, Element):
            return self.write(kid, parent)
        page, mcid = kid
        entries = {"Type": PDFName("MCR"), "Pg": self.pages[page], "MCID": mcid}
        return PDFDictionary(entries)

    def _annotation(self, link: Link) -> PDFDictionary:
        annotation = self.document.refAnnotation(link.name)
        return PDFDictionary(
            {"Type": PDFName("OBJR"), "Obj": annotation, "Pg": self.pages[link.page]}
        )


def _attributes(element: Element) -> PDFDictionary | None:
    if element.scope:
        return PDFDictionary({"O": PDFName("Table"), "Scope": PDFName(element.scope)})
    if element.box:
        box = PDFArray([round(at, 2) for at in element.box])
        return PDFDictionary({"O": PDFName("Layout"), "BBox": box})
    return None


def write_tree(
    document: Any,  # noqa: ANN401 - the library's
    root: Element,
    marked: Sequence[Sequence[Element]],
    links: Sequence[Link],
) -> None:
    """Write the tree, what leads back to it from pages and links, and the file's metadata.

    `marked` has, for each page, the element of each piece of its content.
    """
    pages = document.Pages.pages
    top = PDFDictionary({"Type": PDFName("StructTreeRoot")})
    reference = document.Reference(top)
    writer = _Writer(document, [document.Reference(page) for page in pages], links)
    top["K"] = PDFArray([writer.write(root, reference)])
    parents: list[object] = []
    for number, page in enumerate(pages):
        page.__NoDefault__ = [*page.__NoDefault__, "StructParents", "Tabs"]
        page.StructParents, page.Tabs = number, PDFName("S")
        owners = [writer.references[id(element)] for element in marked[number]]
        parents += [number, document.Reference(PDFArray(owners))]
    for number, link in enumerate(links, start=len(pages)):
        link.annotation["StructParent"] = number
        parents += [number, writer.references[id(link.element)]]
    top["ParentTree"] = document.Reference(PDFDictionary({"Nums": PDFArray(parents)}))
    top["ParentTreeNextKey"] = len(pages) + len(links)
    _describe(document, reference)


def _describe(document: Any, tree: object) -> None:  # noqa: ANN401 - the library's
    """Say in the catalogue that the file is tagged, and what it is."""
    catalog = document.Catalog
    catalog.StructTreeRoot = tree
    catalog.MarkInfo = PDFDictionary({"Marked": "true"})
    catalog.ViewerPreferences = PDFDictionary({"DisplayDocTitle": "true"})
    catalog.Metadata = XMP(creator=_metadata)


def _metadata(document: Any) -> bytes:  # noqa: ANN401 - the library's
    title = escape(document.info.title, quote=False)
    return _XMP.format(title=title, language="en-GB").encode()
