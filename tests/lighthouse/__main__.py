"""A page of every sort as a slow phone shows it: `python -m tests.lighthouse [SORT …] [--runs N]`.

Builds the demonstration, a bare floor and the stock theme, serves each on loopback, gzipped and
with the headers that README gives, and lets Lighthouse measure them as a phone with a weak line
and a slow processor. Prints the median of each figure and ends with 1 if a page is below the gate.
Takes minutes and wants a machine that does nothing else: times four is what it makes of every
millisecond of the processor. Needs npm and Chromium, and once `npm ci --prefix tests/lighthouse`.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

from refgen.project import open_project
from tests.browser.sorts import EACH_SORT
from tests.built import ROOT
from tests.lighthouse.beside import SORTS, build_beside, stock_address
from tests.lighthouse.browse import run, wanting
from tests.lighthouse.host import headers, serving
from tests.lighthouse.readings import Reading, failures, middle, reading, shortcomings

HEAD = (
    "                        of 100: perform. access. practice seo"
    "   LCP s  FCP s TBT ms   CLS    kB asks  speed"
)


def row(name: str, read: Reading) -> str:
    """Return a line of the table."""
    return (
        f"{name:31} {read.performance:8} {read.accessibility:7} {read.best_practices:8} "
        f"{read.seo:3}   {read.largest_paint:5.2f}  {read.first_paint:5.2f} {read.blocked:6.0f} "
        f"{read.shift:5.3f} {read.sent / 1000:5.1f} {read.requests:4} {read.speed:6.0f}"
    )


def measure(url: str, pages: Iterable[tuple[str, str]], runs: int) -> Iterator[tuple[str, Reading]]:
    """Measure pages, print a line for each, and yield its name and what was read."""
    for name, address in pages:
        reports = [run(url + address) for _ in range(runs)]
        read = middle([reading(report) for report in reports])
        print(row(name, read), flush=True)
        for audit in sorted({audit for report in reports for audit in failures(report)}):
            print(f"    {audit}", flush=True)
        yield name, read


def main() -> None:
    """Measure all that was asked for and judge our pages."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    parser.add_argument("sorts", nargs="*", metavar="SORT", help="sorts of pages; all if none")
    parser.add_argument("--runs", type=int, default=3, help="of each page (3)")
    parser.add_argument("--ours", action="store_true", help="neither floor nor stock theme")
    asked = parser.parse_args()
    if unknown := [sort for sort in asked.sorts if sort not in EACH_SORT]:
        parser.error(f"there is no sort '{unknown[0]}'; there are: {', '.join(EACH_SORT)}")
    if missing := wanting():
        raise SystemExit("\n".join(missing))
    pages = {sort: EACH_SORT[sort] for sort in asked.sorts or EACH_SORT}
    faults = []
    with tempfile.TemporaryDirectory() as place:
        config, site = ROOT / "mkdocs.yml", Path(place) / "site"
        replace(open_project(config), site=site).build()
        print(HEAD)
        with serving(site, headers()) as url:
            for name, read in measure(url, pages.items(), asked.runs):
                answers = "?" in pages[name]
                faults += [f"{name}: {fault}" for fault in shortcomings(read, answers)]
        if not asked.ours:
            both = [EACH_SORT[sort] for sort in SORTS]
            floor, stock = build_beside(config, both, Path(place) / "beside")
            kept = {"Cache-Control": headers()["Cache-Control"]}
            with serving(floor, kept) as url:
                named = [(f"bare floor, {sort}", EACH_SORT[sort]) for sort in SORTS]
                list(measure(url, named, asked.runs))
            with serving(stock, kept) as url:
                named = [(f"stock, {sort}", stock_address(EACH_SORT[sort])) for sort in SORTS]
                list(measure(url, named, asked.runs))
    print("\n".join(faults) if faults else "every page is above the gate")
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main()
