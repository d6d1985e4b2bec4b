"""The built site in one file, for a stick or for handing over: the same site, the same bytes."""

from __future__ import annotations

import zipfile
from pathlib import Path

from refgen.errors import RefgenError

_EARLIEST = (1980, 1, 1, 0, 0, 0)
"""The first day a ZIP can name; the true one would make each file different."""
_UNIX = 3
_READABLE = 0o100644 << 16


def write_zip(site: Path, archive: Path) -> int:
    """Write a built site as ZIP, sorted by address; return how many files it holds.

    The file is put in place when it is whole.

    Raises:
        RefgenError: If there is no built site.
    """
    if not (site / "index.html").is_file():
        raise RefgenError(f"{site}: there is no built site. Run 'refgen build' first.")
    files = sorted(
        (path.relative_to(site).as_posix(), path) for path in site.rglob("*") if path.is_file()
    )
    for _, path in files:
        if not path.resolve().is_relative_to(site.resolve()):
            raise RefgenError(f"{path}: leads out of the site. Run 'refgen build' anew.")
    beside = archive.with_name(f".{archive.name}.writing")
    beside.unlink(missing_ok=True)  # never through a link that someone left there
    try:
        with zipfile.ZipFile(beside, "x") as written:
            for address, path in files:
                info = zipfile.ZipInfo(address, _EARLIEST)
                info.create_system, info.external_attr = _UNIX, _READABLE
                info.compress_type = zipfile.ZIP_DEFLATED
                written.writestr(info, path.read_bytes(), compresslevel=9)
        beside.replace(archive)
    finally:
        beside.unlink(missing_ok=True)
    return len(files)
