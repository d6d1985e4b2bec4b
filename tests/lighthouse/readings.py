"""What Lighthouse read off a page, the middle of several readings, and what is too little."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from statistics import median_low
from typing import Any

CATEGORIES = ("performance", "accessibility", "best-practices", "seo")
GATE = 97
"""Least of each category, of 100."""
LARGEST_PAINT = 0.95
"""Latest largest paint [s]."""
FIRST_VIEW = 36_000
"""Most bytes until a page has loaded, as sent."""
REQUESTS = 4
"""Most requests until then."""
LOADED = ("/assets/offline.js", "/assets/print.css", "/assets/worksheet.js")
"""What a page of ours asks for once it stands: from then on nothing counts to its first view."""


@dataclass(frozen=True)
class Reading:
    """What one run read, or the middle of several."""

    performance: int
    accessibility: int
    best_practices: int
    seo: int
    largest_paint: float
    """[s]"""
    first_paint: float
    """[s]"""
    blocked: float
    """Total blocking time [ms]."""
    shift: float
    """Cumulative layout shift."""
    sent: int
    """Bytes of all that was asked for until the page had loaded, heads and all."""
    requests: int
    fonts: int
    """Fonts asked for, at any time."""
    speed: float
    """Lighthouse's own mark for the machine; a low one tells that others were at work."""


def reading(report: Mapping[str, Any]) -> Reading:
    """Return what a report of Lighthouse says.

    Raises:
        ValueError: If the page could not be measured.
    """
    if "runtimeError" in report:
        raise ValueError(report["runtimeError"]["message"])
    scores = [report["categories"][name]["score"] for name in CATEGORIES]
    if None in scores:
        raise ValueError("Lighthouse gave no score")
    took = report["audits"]["metrics"]["details"]["items"][0]
    asked = report["audits"]["network-requests"]["details"]["items"]
    loaded = [one["networkRequestTime"] for one in asked if one["url"].endswith(LOADED)]
    end = min([took["observedLoad"], *loaded])
    first = [
        one for one in asked if one["networkRequestTime"] < end and one["url"].startswith("http")
    ]
    return Reading(
        *(round(100 * score) for score in scores),
        largest_paint=took["largestContentfulPaint"] / 1000,
        first_paint=took["firstContentfulPaint"] / 1000,
        blocked=took["totalBlockingTime"],
        shift=took["cumulativeLayoutShift"],
        sent=sum(one["transferSize"] for one in first),
        requests=len(first),
        fonts=sum(one["resourceType"] == "Font" for one in asked),
        speed=report["environment"]["benchmarkIndex"],
    )


def failures(report: Mapping[str, Any]) -> list[str]:
    """Return what costs a page points outside of performance, a name of an audit each."""
    audits = report["audits"]
    return [
        one["id"]
        for name in CATEGORIES[1:]
        for one in report["categories"][name]["auditRefs"]
        if one["weight"] and audits[one["id"]]["score"] not in (None, 1)
    ]


def middle(readings: Sequence[Reading]) -> Reading:
    """Return the median of each figure; of two middle ones the lower."""
    return Reading(
        **{
            one.name: median_low([getattr(r, one.name) for r in readings])
            for one in fields(Reading)
        }
    )


def shortcomings(read: Reading, answers: bool = False) -> list[str]:
    """Return what keeps a page below the gate, a sentence each.

    Args:
        read: Of the page.
        answers: Whether its address asks for something, so that its largest paint is the answer,
            which is fetched for it: then only what Lighthouse itself weighs is.
    """
    found = [
        f"{name} {value}, below {GATE}"
        for name in CATEGORIES
        if (value := getattr(read, name.replace("-", "_"))) < GATE
    ]
    if read.fonts:
        found.append("a font is loaded")
    if answers:
        return found
    if read.largest_paint > LARGEST_PAINT:
        found.append(f"largest paint at {read.largest_paint:.2f} s, later than {LARGEST_PAINT} s")
    if read.sent > FIRST_VIEW:
        found.append(f"first view of {read.sent / 1000:.1f} kB, more than {FIRST_VIEW // 1000} kB")
    if read.requests > REQUESTS:
        found.append(f"{read.requests} requests for the first view, more than {REQUESTS}")
    return found
