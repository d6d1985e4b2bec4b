"""Folders watched for edits, also while one of them is gone: git and some editors do that."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path

from watchdog.observers.api import BaseObserver
from watchdog.observers.polling import PollingObserverVFS

LOOK_EVERY = 0.2
"""Time [s] between two looks for edits."""


def observer_of(folders: Iterable[Path], every: float = LOOK_EVERY) -> BaseObserver:
    """Return what looks for edits in folders, and again once one that was taken away is back.

    A plain observer gives a folder up for good when it finds it gone. To this one a folder that
    is gone is an empty one.

    Args:
        folders: The folders that may come and go.
        every: Time [s] between two looks.
    """
    lasting = {os.path.abspath(folder) for folder in folders}

    def stat(path: str) -> os.stat_result:
        try:
            return os.stat(path)
        except OSError:
            if path not in lasting:
                raise
            return os.stat(os.sep)

    return PollingObserverVFS(stat, os.scandir, polling_interval=every)
