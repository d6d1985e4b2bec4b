"""What is left of a page once a machine is chosen: without the elements it has no parts for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser

Lines = list[tuple[str, str]]


@dataclass
class Node:
    tag: str
    attributes: dict[str, str] = field(default_factory=dict)
    inside: list[Node | str] = field(default_factory=list)

    @property
    def kind(self) -> str:
        """First of its classes."""
        return self.attributes.get("class", "").split(" ")[0]

    def walk(self) -> Iterator[Node]:
        yield self
        for node in self.inside:
            if isinstance(node, Node):
                yield from node.walk()

    def text(self) -> str:
        """What it says, without labels, marks of figures and words on what is fitted."""
        said = ""
        for node in self.inside:
            if isinstance(node, str):
                said += node
            elif node.kind not in ("mark", "fit", "num", "sig") and node.tag != "b":
                said += node.text()
        return " ".join(said.split())


class Tree(HTMLParser):
    def __init__(self, html: str) -> None:
        super().__init__()
        self.open = [Node("html")]
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        node = Node(tag, {name: value or "" for name, value in attrs})
        self.open[-1].inside.append(node)
        if tag not in ("input", "br", "hr", "img", "use"):
            self.open.append(node)

    def handle_endtag(self, tag: str) -> None:
        while self.open[-1].tag != tag:
            self.open.pop()
        self.open.pop()

    def handle_data(self, data: str) -> None:
        self.open[-1].inside.append(data)


def applies(node: Node, fitted: frozenset[str]) -> bool:
    """Whether the page's script leaves an element standing: the rule of `site.js`."""

    def parts(name: str) -> set[str]:
        return set(node.attributes.get(name, "").split())

    every, some = parts("data-needs"), parts("data-needs-any")
    if not every <= fitted or (some and not some & fitted):
        return False
    every, some = parts("data-unless"), parts("data-unless-any")
    return not (every or some) or not (every <= fitted and (not some or some & fitted))


def left_standing(node: Node, fitted: frozenset[str]) -> Node:
    inside = [
        child if isinstance(child, str) else left_standing(child, fitted)
        for child in node.inside
        if isinstance(child, str) or applies(child, fitted)
    ]
    return Node(node.tag, node.attributes, inside)


def lines_of(step: Node) -> Lines:
    """Return what stands in a step, in order: cautions, what to do, right and wrong."""
    found = []
    for node in step.walk():
        if node.kind == "caution":
            texts = [n.text() for n in node.inside if isinstance(n, Node) and n.tag == "span"]
            found += [("caution", text) for text in texts]
        elif node.kind in ("do", "good", "bad"):
            found.append((node.kind, node.text()))
    return found


def steps_on(page: Node) -> dict[str, Lines]:
    return {n.attributes["id"]: lines_of(n) for n in page.walk() if n.kind == "step"}


def ticks_on(page: Node) -> dict[str, str]:
    lists = [node for node in page.walk() if node.kind == "ticks"]
    items = [node for ticks in lists for node in ticks.walk() if node.tag == "li"]
    return {node.attributes["id"]: node.text() for node in items}


def lines_on(node: Node) -> Iterator[str]:
    """Yield every line a page says of its own: all but rows to other pages and its figures."""
    if node.kind in ("links", "grounds", "rows", "fit"):
        return
    inner = [child for child in node.inside if isinstance(child, Node)]
    blocks = [child for child in inner if child.tag in ("p", "li", "div", "ul", "ol", "dl", "h2")]
    if node.tag in ("p", "li", "h1", "h2", "h3", "dt", "dd", "span") and not blocks:
        if text := node.text():
            yield text
        return
    for child in inner:
        yield from lines_on(child)
