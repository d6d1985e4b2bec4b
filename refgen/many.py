"""Many companies at once: each project built in a process of its own, all cores used."""

from __future__ import annotations

import os
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import dataclass
from multiprocessing import get_context
from pathlib import Path

from refgen.errors import RefgenError
from refgen.project import open_project


@dataclass(frozen=True, slots=True)
class Built:
    """What came of one project: how many pages, or why there are none."""

    project: Path
    pages: int
    wrong: str = ""


def build_all(folder: Path, strict: bool = False, jobs: int | None = None) -> Iterator[Built]:
    """Build every project in a folder, and yield what came of each as it ends.

    A project is a folder with an mkdocs.yml. One that is wrong keeps its last good site and does
    not hold up the others.

    Raises:
        RefgenError: If the folder holds no project.
    """
    projects = sorted(folder.glob("*/mkdocs.yml"))
    if not projects:
        raise RefgenError(f"{folder}: holds no project. One is a folder with an mkdocs.yml.")
    workers = min(jobs or os.cpu_count() or 1, len(projects))
    # Fresh processes: a fork would carry along whatever the caller's has open.
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn")) as pool:
        for done in as_completed([pool.submit(_build, path, strict) for path in projects]):
            yield done.result()


def _build(config_file: Path, strict: bool) -> Built:
    os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")
    try:
        _, pages = open_project(config_file).build(strict)
    except RefgenError as error:
        return Built(config_file.parent, 0, str(error))
    return Built(config_file.parent, pages)
