"""All texts of a site in one file, each line written once.

Pages share their frame, their rows of links, and whole steps with the machines' handbooks; but
they lie further apart than a host's gzip looks back (32 kB). So a line that has been written is
pointed at, and gzip does the rest. Short lines are written again: pointing at them costs as much.
"""

from __future__ import annotations

import json
from collections.abc import Mapping

_LEAST = 20
"""Letters of a line from which pointing at it is cheaper than writing it again."""


def pack_texts(texts: Mapping[str, str]) -> bytes:
    """Return texts by address as one file of JSON, `{"lines": …, "files": {address: runs}}`.

    `lines` is divided by line ends. A text is some of them joined by line ends, in runs: pairs of
    a step from the end of the run before (or the beginning) to this one's start, and its length.
    """
    lines: list[str] = []
    first: dict[str, int] = {}
    files = {address: _runs(texts[address], lines, first) for address in sorted(texts)}
    whole = {"lines": "\n".join(lines), "files": files}
    return json.dumps(whole, ensure_ascii=False, separators=(",", ":")).encode()


def _runs(text: str, lines: list[str], first: dict[str, int]) -> list[int]:
    """Return the runs of a text, and add to `lines` what they lack; `first` is where each is."""
    runs: list[int] = []
    end = 0
    for line in text.split("\n"):
        if runs and end < len(lines) and lines[end] == line:
            runs[-1] += 1
            end += 1
            continue
        place = first.get(line, len(lines))
        if place == len(lines):
            lines.append(line)
            if len(line) >= _LEAST:
                first[line] = place
        if runs and place == end:
            runs[-1] += 1
        else:
            runs += [place - end, 1]
        end = place + 1
    return runs
