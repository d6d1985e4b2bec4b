"""Edits are seen, also after a watched folder was away for a while."""

from __future__ import annotations

import shutil
import time
from collections.abc import Callable
from pathlib import Path

from watchdog.events import FileSystemEvent, FileSystemEventHandler

from refgen.watching import observer_of


class Seen(FileSystemEventHandler):
    """Keeps which files were told of."""

    def __init__(self) -> None:
        self.files: list[str] = []

    def on_any_event(self, event: FileSystemEvent) -> None:
        if not event.is_directory:
            self.files.append(Path(str(event.src_path)).name)


def soon(true: Callable[[], bool]) -> bool:
    """Tell whether something comes true within some seconds."""
    end = time.monotonic() + 20
    while not true() and time.monotonic() < end:
        time.sleep(0.01)
    return true()


def test_a_folder_that_was_taken_away_is_looked_into_again_once_it_is_back(tmp_path: Path) -> None:
    layer = tmp_path / "ours"
    (layer / "terms").mkdir(parents=True)
    (layer / "terms" / "skid.yml").write_text("title: Skid\n")
    seen = Seen()
    observer = observer_of([layer], every=0.02)
    observer.schedule(seen, str(layer), recursive=True)
    observer.start()
    try:
        shutil.rmtree(layer)
        assert soon(lambda: "skid.yml" in seen.files)
        (layer / "terms").mkdir(parents=True)
        (layer / "terms" / "sled.yml").write_text("title: Sled\n")
        assert soon(lambda: "sled.yml" in seen.files)
    finally:
        observer.stop()
        observer.join()
