"""A build that is put in place only when it is whole."""

from __future__ import annotations

import ctypes
import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

_AT_FDCWD = -100
_RENAME_EXCHANGE = 2


@contextmanager
def built_beside(site: Path) -> Iterator[Path]:
    """Give a folder to build in; when the block ends well, it takes the place of `site`.

    If the block raises, or the process is killed, `site` is what it was. Folders that a killed
    build left behind are removed by the next one.
    """
    site = site.resolve()  # what a link leads to is replaced, not the link
    site.parent.mkdir(parents=True, exist_ok=True)
    building = site.with_name(f".{site.name}.building")
    former = site.with_name(f".{site.name}.former")
    if former.exists() and not site.exists():
        former.rename(site)  # a build was killed between the two renames below
    _clear(building, former)
    building.mkdir()
    try:
        yield building
        if not site.exists():
            building.rename(site)
        elif not _exchange(building, site):
            site.rename(former)
            building.rename(site)
    finally:
        _clear(building, former)


def _clear(*leftovers: Path) -> None:
    """Take away what a killed build left; of a link only the link."""
    for leftover in leftovers:
        if leftover.is_symlink() or leftover.is_file():
            leftover.unlink()
        shutil.rmtree(leftover, ignore_errors=True)


def _exchange(one: Path, other: Path) -> bool:
    """Swap two folders in one step, where the system can; say whether it did."""
    try:
        call = ctypes.CDLL(None, use_errno=True).renameat2
    except (AttributeError, OSError, TypeError):
        return False
    names = os.fsencode(one), os.fsencode(other)
    return bool(call(_AT_FDCWD, names[0], _AT_FDCWD, names[1], _RENAME_EXCHANGE) == 0)
