"""What has changed since the revision before, in a crew's words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from refgen.addresses import record_address
from refgen.catalog import Entry
from refgen.layers import Key
from refgen.model.base import Ref
from refgen.model.figure import Ceiling, Figure
from refgen.references import FigureKey
from refgen.revisions import (
    KeptFigure,
    KeptRecord,
    Revision,
    Size,
    figure_value,
    sizes_of,
)
from refgen.texts import Shown
from refgen.views import Link, View

Part = Literal["figures", "gone", "moved", "new", "texts"]
# The words for sizes whose fields are called otherwise.
_SIZES = {"unloader": "unloader_set_to", "warmest": "warmest_water"}
MOST_PARTS = 4
"""Of one page told one by one; of more, one fewer, and how many others."""


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that changed: where it stands now, if anywhere, and what about it."""

    part: Part
    title: str
    said: tuple[str, ...]
    address: str = ""
    """From the site's root; '' for what is gone."""
    link: Link | None = None


def changes(view: View, before: Revision | None) -> list[Change]:
    """Return what changed, what limits first, then what is gone, moved, new and reworded."""
    if before is None:
        return []
    return [
        *sorted(
            [*_figures(view, before), *_sizes(view, before)],
            key=lambda c: (not c.address.startswith("materials/"), c.title),
        ),
        *_gone_or_moved(view, before),
        *_new(view, before),
        *_reworded(view, before),
    ]


def told(found: list[Change]) -> str:
    """Return changes as lines for a terminal."""
    if not found:
        return "Nothing has changed since that revision."
    lines = ["Changed since that revision:"]
    for change in found:
        lines.append(f"  {change.title}" + (f" ({change.address})" if change.address else ""))
        lines += [f"    {said}" for said in change.said]
    return "\n".join(lines)


def figure_names(view: View) -> dict[FigureKey, str]:
    """Return the name under which each figure is shown."""
    return {
        (kind, name, figure_id): str(figure.label or view.figure_name(kind, figure_id))
        for (kind, name, figure_id), figure in view.catalog.figures.items()
    }


def _now(view: View, key: Key) -> Key:
    """Return the present key of a record that an earlier revision had."""
    return view.catalog.moved.get(key, key)


def _figures(view: View, before: Revision) -> Iterator[Change]:
    seen: set[FigureKey] = set()
    for (kind, name, old), kept in before.figures.items():
        key = _now(view, (kind, name))
        entry = view.catalog.entries.get(key)
        figure_id = entry.moved.get(old, old) if entry else old
        now = (*key, figure_id)
        seen.add(now)
        figure = view.catalog.figures.get(now)
        was = _shown_before(view, kept)
        if figure is None:
            if entry is not None:
                said = view.w["figure_gone"].format(was=was)
                title = f"{entry.record.title}: {_small(kept.label)}"
                yield Change("figures", title, (said,), record_address(*key), view.link(key))
        elif figure_value(figure) != kept.value:
            said = view.w["figure_was_now"].format(was=was, now=view.shown(figure))
            told = [said, *_direction(view, figure, kept)]
            yield _of_figure(view, now, tuple(told))
    known = {_now(view, key) for key in before.records}
    for now in view.catalog.figures:
        if now not in seen and now[:2] in known:
            shown = view.shown(view.catalog.figures[now])
            yield _of_figure(view, now, (view.w["figure_new"].format(now=shown),))


def _sizes(view: View, before: Revision) -> Iterator[Change]:
    """Yield what plates, tags and the like say otherwise now."""
    for old, kept in before.records.items():
        key = _now(view, old)
        entry = view.catalog.entries.get(key)
        now = sizes_of(entry) if entry is not None else {}
        for name in dict.fromkeys((*kept.sizes, *now)) if entry is not None else ():
            was, size = kept.sizes.get(name), now.get(name)
            if was is not None and size is not None and was[-1] == size[-1]:
                continue
            if was is None:
                said = view.w["figure_new"].format(now=_size(view, size))
            elif size is None:
                said = view.w["figure_gone"].format(was=_size(view, was))
            else:
                said = view.w["figure_was_now"].format(was=_size(view, was), now=_size(view, size))
            label = view.w.get(_SIZES.get(name, name), name.replace("_", " "))
            title = f"{view.catalog.entries[key].record.title}: {_small(label)}"
            yield Change("figures", title, (said,), record_address(*key), view.link(key))


def _size(view: View, size: Size | None) -> str:
    us, metric, _ = size or ["", "", ""]
    if us == metric:
        return us
    return str(Shown(us, metric) if view.brand.units_first == "us" else Shown(metric, us))


def _of_figure(view: View, key: FigureKey, said: tuple[str, ...]) -> Change:
    kind, name, figure_id = key
    figure = view.catalog.figures[key]
    label = str(figure.label or view.figure_name(kind, figure_id))
    title = f"{view.catalog.entries[kind, name].record.title}: {_small(label)}"
    ref = Ref(kind, name, figure_id)
    return Change("figures", title, said, record_address(kind, name, figure_id), view.link(ref))


def _small(label: str) -> str:
    return f"{label[:1].lower()}{label[1:]}"


def _shown_before(view: View, kept: KeptFigure) -> str:
    one, other = (
        (kept.us, kept.metric) if view.brand.units_first == "us" else (kept.metric, kept.us)
    )
    if one == other:
        return view.w["no_jet"] if one == "no" else one
    return str(Shown(one, other))


def _direction(view: View, figure: Figure, kept: KeptFigure) -> Iterator[str]:
    """Say of a ceiling whether it came down or went up, where both can be compared."""
    if not isinstance(figure, Ceiling):
        return
    was, now = kept.value.split("|"), figure_value(figure).split("|")
    try:
        lower = float(now[0]) < float(was[0])
    except ValueError:
        return
    if now[0] != was[0]:
        yield view.w["ceiling_lowered" if lower else "ceiling_raised"]


def _gone_or_moved(view: View, before: Revision) -> Iterator[Change]:
    for key, kept in sorted(before.records.items()):
        if key in view.catalog.entries:
            continue
        now = _now(view, key)
        if now in view.catalog.entries:
            title = str(view.catalog.entries[now].record.title)
            said = view.w["page_moved"].format(was=kept.title)
            yield Change("moved", title, (said,), record_address(*now), view.link(now))
        else:
            yield Change("gone", kept.title, (view.w["page_gone"],))


def _new(view: View, before: Revision) -> Iterator[Change]:
    known = {_now(view, key) for key in before.records}
    for key, entry in view.catalog.entries.items():
        if key[0] == "terms" and before.terms and key[1] not in before.terms:
            if not before.terms & set(entry.record.was):
                yield _page("new", view, key, view.plain(entry.record.answer))
        elif key[0] not in ("terms", "sources") and key not in known:
            yield _page("new", view, key, view.setter.plain(entry.record.answer, key))


def _reworded(view: View, before: Revision) -> Iterator[Change]:
    for old, kept in sorted(before.records.items()):
        key = _now(view, old)
        entry = view.catalog.entries.get(key)
        if entry is None:
            continue
        said = [*_parts(view, entry, kept)]
        if len(said) > MOST_PARTS:
            shown = MOST_PARTS - 1
            said[shown:] = [view.w["parts_more"].format(count=len(said) - shown)]
        if entry.rest != kept.says:
            said.insert(0, view.w["text_changed"])
        if said:
            yield _page("texts", view, key, *said)


def _parts(view: View, entry: Entry, before: KeptRecord) -> Iterator[str]:
    kept = {entry.moved.get(old, old): (old, mark) for old, mark in before.parts.items()}
    now = entry.parts
    for name, mark in now.items():
        if name not in kept:
            yield view.w["part_new"].format(part=_part(view, entry, name))
        elif kept[name][1] != mark:
            yield view.w["part_changed"].format(part=_part(view, entry, name))
    for name, (old, _) in kept.items():
        if name not in now:
            yield view.w["part_gone"].format(part=before.titles.get(old) or old.replace("-", " "))


def _part(view: View, entry: Entry, name: str) -> str:
    return view.item_title(*entry.key, name) or name.replace("-", " ")


def _page(part: Part, view: View, key: Key, *said: str) -> Change:
    title = str(view.catalog.entries[key].record.title)
    return Change(part, title, said, record_address(*key), view.link(key))
