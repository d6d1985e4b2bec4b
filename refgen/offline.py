"""What lets a phone keep the whole site: the worker with its list, the pack and the revision.

The list has the hash of every file, so that a phone stores nothing else than what was built,
fetches only what changed, and never mixes two builds. All texts together travel in one pack,
which is far smaller than many small files; later only what changed is fetched, one by one.
"""

from __future__ import annotations

import hashlib
import html
import json
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from refgen.packs import pack
from refgen.remarks import script_without_remarks

WORKER = "sw.js"
"""Stands at the root of the site, because a worker serves only what lies below it."""
PACK = "assets/pack.lzma"
REVISION = "assets/revision.js"

_LETTERS = 16
"""Letters of a file's hash in the list: 64 bits, as no one but the site writes these files."""


def worker_script(theme: Path) -> str:
    """Return the worker's script: how to unpack, and what to keep and serve."""
    parts = ((theme / name).read_text("utf-8") for name in ("unpack.js", "worker.js"))
    return script_without_remarks("".join(parts))


def write_offline(
    site: Path,
    worker: str,
    withdrawn: Mapping[str, str] | None = None,
    not_kept: Collection[str] = (),
    lost: str = "",
) -> str:
    """Write pack, revision and worker of a built site, and return the revision.

    The same files give the same revision, and another file or another byte gives another.

    Args:
        site: Folder of the built site.
        worker: What `worker_script` returns.
        withdrawn: Reasons by the address of a page that must no longer be used; phones tell them
            as soon as they have signal, before anyone agrees to the new revision.
        not_kept: Addresses of files that no phone keeps, and that make no revision.
        lost: What a reader is told where the phone has cleared even the page for such cases.
    """
    for own in (WORKER, PACK, REVISION):
        (site / own).unlink(missing_ok=True)
    files = {address: _File.of(site / address) for address in _addresses(site, not_kept)}
    hashes = {address: file.hash for address, file in files.items()}
    revision = _hash(json.dumps(hashes, sort_keys=True).encode())[:8]
    (site / REVISION).parent.mkdir(exist_ok=True)
    (site / REVISION).write_bytes(f'window.refgenRevision = "{revision}";\n'.encode())
    files = dict(sorted([*files.items(), (REVISION, _File.of(site / REVISION))]))
    # Read anew one by one, so that never all of the site is held beside what the packing takes.
    texts = ((site / address).read_bytes() for address, file in files.items() if file.packed)
    (site / PACK).write_bytes(pack(texts))
    listed = {
        "revision": revision,
        "pack": PACK,
        # By its length the worker finds a file in the pack; 0 is one that is fetched by itself.
        "files": [[address, file.hash, file.packed] for address, file in files.items()],
        "withdrawn": dict(sorted((withdrawn or {}).items())),
        "lost": html.escape(lost),
    }
    # All ASCII and without a tag's beginning, so all of it is plain script.
    known = json.dumps(listed, separators=(",", ":")).replace("<", "\\u003c")
    (site / WORKER).write_text(f"const SITE = {known};\n{worker}", "utf-8")
    return revision


def write_retired(site: Path, worker: str) -> None:
    """Write a worker that takes itself out, for where pages must never be kept.

    While pages are being edited a kept one would be an old one. No page asks for a worker then,
    but a browser may still have one from a site that was looked at under the same address; it
    looks for news of it, and finds this.
    """
    (site / WORKER).write_text(f"const SITE = null;\n{worker}", "utf-8")


@dataclass(frozen=True, slots=True)
class _File:
    """What the list says of a file: its hash, and its length in the pack, 0 outside of it."""

    hash: str
    packed: int

    @classmethod
    def of(cls, path: Path) -> _File:
        content = path.read_bytes()
        return cls(_hash(content), len(content) if _is_text(content) else 0)


def _addresses(site: Path, not_kept: Collection[str]) -> list[str]:
    """Return the addresses of the site's files that phones keep, in order.

    Left out is what begins with a dot or a low line: hosts take such files for instructions to
    them and do not give them out, and one missing file keeps all from being kept.
    """
    found = [path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file()]
    return sorted(
        address
        for address in found
        if address not in not_kept and not any(p[0] in "._" for p in PurePosixPath(address).parts)
    )


def _hash(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()[:_LETTERS]


def _is_text(content: bytes) -> bool:
    """Return whether a file belongs in the pack; pictures are packed already."""
    try:
        content.decode("utf-8")
    except UnicodeDecodeError:
        return False
    return True
