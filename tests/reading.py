"""What the tests ask of a built page."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path


@dataclass
class ReadPage(HTMLParser):
    """What the tests ask of a page."""

    links: list[str] = field(default_factory=list)
    loads: list[str] = field(default_factory=list)
    ids: list[str] = field(default_factory=list)
    inline_scripts: int = 0
    handlers: list[str] = field(default_factory=list)
    metas: dict[str, str] = field(default_factory=dict)
    text: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = {name: value or "" for name, value in attrs}
        if "id" in found:
            self.ids.append(found["id"])
        if tag == "a" and "href" in found:
            self.links.append(found["href"])
        if tag in ("link", "script", "img", "source", "iframe", "object", "use"):
            self.loads += [found[name] for name in ("href", "src", "data") if name in found]
        if tag == "script" and "src" not in found:
            self.inline_scripts += 1
        if tag == "meta":
            self.metas[found.get("name") or found.get("http-equiv") or ""] = found.get(
                "content", ""
            )
        self.handlers += [name for name in found if name.startswith("on")]

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def read_page(path: Path) -> ReadPage:
    page = ReadPage()
    page.feed(path.read_text("utf-8"))
    return page
