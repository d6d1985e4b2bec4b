"""One page of every sort the demonstration has; a sort is what one template makes.

`tests/browser/test_sorts_browser.py` compares the list with the site: a new sort of page fails
there until it is named here.
"""

from __future__ import annotations

import re

EACH_SORT = {
    "home": "index.html",
    "search": "search.html",
    "search with results": "search.html?q=rootes",
    "emergency": "emergency.html",
    "my machine": "my-machine.html",
    "A to Z": "a-to-z.html",
    "worksheet": "worksheet.html",
    "worksheet filled in": "worksheet.html#machine=rowan-trailer&nozzle=half-thruster"
    "&material=pvc-solid/worn&pipe=6in",
    "marks": "marks.html",
    "changes": "changes.html",
    "unsure figures": "unsure-figures.html",
    "not found": "404.html",
    "index of a kind": "symptoms/index.html",
    "terms": "terms/index.html",
    "sources": "sources/index.html",
    "symptom": "symptoms/gauge-low-steady.html",
    "path": "paths/gauge-and-nozzle.html",
    "procedure": "procedures/start-machine.html",
    "material": "materials/pvc-solid.html",
    "deposit": "deposits/sand-gravel.html",
    "pattern": "patterns/flusher.html",
    "nozzle": "nozzles/quarter-flusher.html",
    "hose": "hoses/quarter-line.html",
    "machine": "machines/alder-barrow.html",
    "handbook": "machines/alder-barrow-handbook.html",
    "comparison": "machines/compare.html",
    "part": "parts/unloader.html",
    "computed table": "tables/nozzle-size.html",
    "table by pipe": "tables/ceilings.html",
    "given table": "tables/pressure-by-pipe.html",
    "hazard": "hazards/injection.html",
    "checklist": "checklists/before-job.html",
    "lesson": "lessons/first-day.html",
    "lesson for the trainer": "lessons/first-day-trainer.html",
    "lesson on paper": "lessons/first-day-sheets.html",
}
ADDRESSES = list(EACH_SORT.values())


def sort_of(address: str) -> str:
    """Return what makes a page, from its address alone: folder and ending, or its own name."""
    address = re.sub(r"[?#].*", "", address)
    folder, _, name = address.rpartition("/")
    if name == "index.html" and folder not in ("", "terms", "sources"):
        return "*/index.html"
    if not folder or name in ("index.html", "compare.html"):
        return address
    ending = re.search(r"-(handbook|trainer|sheets)\.html$", name)
    return f"{folder}/*{ending[0] if ending else '.html'}"
