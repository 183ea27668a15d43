"""A printed paper held against what ISO 14289-1 (PDF/UA-1) asks for and a machine can see.

Read with a library that has no part in writing. The numbers are those of the checkpoints of the
Matterhorn Protocol 1.1, which splits the standard into conditions of failure.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from io import BytesIO
from itertools import pairwise
from typing import Any

import pikepdf

BLOCKS = {"H1", "H2", "H3", "P", "L", "Table", "Figure"}
ALLOWED = {
    "Document": BLOCKS,
    "L": {"LI"},
    "LI": {"Lbl", "LBody"},
    "Table": {"TR"},
    "TR": {"TH", "TD"},
    "TH": BLOCKS,
    "TD": BLOCKS,
    "P": {"Link"},
}
"""What may stand in what (ISO 32000-1, 14.8.4)."""
_PAINTING = {"f", "F", "f*", "B", "B*", "b", "b*", "S", "s", "Do", "sh", "Tj", "TJ", "'", '"'}


@dataclass
class _Tree:
    problems: list[str] = field(default_factory=list)
    pieces: list[tuple[int, int]] = field(default_factory=list)
    headings: list[int] = field(default_factory=list)
    linked: set[tuple[int, int]] = field(default_factory=set)
    pages: list[tuple[int, int]] = field(default_factory=list)

    def walk(self, element: Any) -> None:  # noqa: ANN401 - the library's
        tag = str(element.S)[1:]
        getattr(self, f"_see_{tag.lower()}", lambda _: None)(element)
        if tag[0] == "H" and tag[1:].isdigit():
            self.headings.append(int(tag[1:]))
        for kid in _elements(element):
            if str(kid.S)[1:] not in ALLOWED.get(tag, set()):
                self.problems.append(f"09: {kid.S} in {tag}")
            self.walk(kid)
        for kid in element.K:
            if kid.get("/Type") == "/MCR":
                self.pieces.append((self.pages.index(kid.Pg.objgen), int(kid.MCID)))
            elif kid.get("/Type") == "/OBJR":
                self.linked.add(kid.Obj.objgen)

    def _see_figure(self, element: Any) -> None:  # noqa: ANN401 - the library's
        if not str(element.get("/Alt", "")).strip():
            self.problems.append("13-004: a figure without words")
        box = [float(at) for at in element.get("/A", {}).get("/BBox", ())]
        if len(box) != 4 or box[0] >= box[2] or box[1] >= box[3]:
            self.problems.append("a figure without its place")

    def _see_table(self, element: Any) -> None:  # noqa: ANN401 - the library's
        rows = [list(_elements(row)) for row in _elements(element)]
        if len({len(row) for row in rows}) != 1:
            self.problems.append("15: rows of different length")
        heads = [cell for row in rows for cell in row if cell.S == "/TH"]
        if not heads:
            self.problems.append("15: a table without heads")
        if any(cell.get("/A", {}).get("/Scope") not in ("/Row", "/Column") for cell in heads):
            self.problems.append("15-003: a head without scope")

    def _see_li(self, element: Any) -> None:  # noqa: ANN401 - the library's
        if [str(kid.S) for kid in _elements(element)] != ["/Lbl", "/LBody"]:
            self.problems.append("16: an item that is not label and body")


def _elements(element: Any) -> Iterator[Any]:  # noqa: ANN401 - the library's
    return (kid for kid in element.K if "/S" in kid)


def problems_of(data: bytes) -> list[str]:
    """What keeps a paper from being PDF/UA-1, each told once; empty where nothing was seen."""
    with pikepdf.open(BytesIO(data)) as pdf:
        tree = _Tree(pages=[page.obj.objgen for page in pdf.pages])
        tree.walk(pdf.Root.StructTreeRoot.K[0])
        found = [*tree.problems, *_described(pdf), *_headings(tree.headings), *_fonts(pdf)]
        marked: list[tuple[int, int]] = []
        for number, page in enumerate(pdf.pages):
            found += _content(page, number, marked)
            found += _links(page, tree)
        if sorted(tree.pieces) != sorted(marked) or len(set(marked)) != len(marked):
            found.append("01: pieces of content that are not in the tree, or twice")
        found += _parents(pdf, marked)
    return list(dict.fromkeys(found))


def _described(pdf: pikepdf.Pdf) -> Iterator[str]:
    with pdf.open_metadata() as metadata:
        if metadata.get("pdfuaid:part") != "1":
            yield "06: no identifier of PDF/UA"
        if not str(metadata.get("dc:title", "")).strip():
            yield "06: no title"
    if str(pdf.Root.get("/Lang", "")) != "en-GB":
        yield "11: no language"
    if not pdf.Root.MarkInfo.Marked or not pdf.Root.ViewerPreferences.DisplayDocTitle:
        yield "06, 07: neither marked nor its title shown"
    if "/Outlines" not in pdf.Root:
        yield "no bookmarks"


def _headings(levels: list[int]) -> Iterator[str]:
    if levels[:1] != [1]:
        yield "14-002: the first heading is not of the first level"
    if any(after > before + 1 for before, after in pairwise(levels)):
        yield "14-003: a level of headings is left out"


def _fonts(pdf: pikepdf.Pdf) -> Iterator[str]:
    for found in pdf.objects:
        if isinstance(found, pikepdf.Dictionary) and found.get("/Type") == "/Font":
            described = found.get("/FontDescriptor")
            if described is None or "/FontFile2" not in described or "/ToUnicode" not in found:
                yield f"31: {found.get('/BaseFont')} is not in the file, or without letters"


def _content(page: Any, number: int, marked: list[tuple[int, int]]) -> Iterator[str]:  # noqa: ANN401 - the library's
    """Whatever is painted is a piece in the tree or decoration, and neither within the other."""
    depth = 0
    for instruction in pikepdf.parse_content_stream(page):
        operands: Any = instruction.operands
        name = str(instruction.operator)
        if name in ("BDC", "BMC"):
            if depth:
                yield "01: marked within marked"
            depth += 1
            if name == "BDC" and "/MCID" in operands[1]:
                marked.append((number, int(operands[1]["/MCID"])))
        elif name == "EMC":
            depth -= 1
        elif name in _PAINTING and not depth:
            yield f"01-005: page {number + 1} has content that is neither tagged nor decoration"
    if page.get("/Tabs") != "/S":
        yield "28: tabs not in the order of the tree"


def _links(page: Any, tree: _Tree) -> Iterator[str]:  # noqa: ANN401 - the library's
    for annotation in page.get("/Annots", ()):
        if annotation.objgen not in tree.linked:
            yield "28-011: a link outside the tree"
        if not str(annotation.get("/Contents", "")) or "/StructParent" not in annotation:
            yield "28-012: a link without words"


def _parents(pdf: pikepdf.Pdf, marked: list[tuple[int, int]]) -> Iterator[str]:
    numbers = pdf.Root.StructTreeRoot.ParentTree.Nums
    parents = {int(numbers[n]): numbers[n + 1] for n in range(0, len(numbers), 2)}
    if list(parents) != sorted(parents):
        yield "the way back to the tree is not in order"
    for number, page in enumerate(pdf.pages):
        owners = parents[int(page.StructParents)]
        if len(owners) != sum(1 for where, _ in marked if where == number):
            yield "a page whose pieces do not lead back to the tree"
