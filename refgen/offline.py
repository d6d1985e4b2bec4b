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
from pathlib import Path, PurePosixPath

from refgen.packs import pack

WORKER = "sw.js"
"""Stands at the root of the site, because a worker serves only what lies below it."""
PACK = "assets/pack.lzma"
REVISION = "assets/revision.js"

_LETTERS = 16
"""Letters of a file's hash in the list: 64 bits, as no one but the site writes these files."""


def worker_script(theme: Path) -> str:
    """Return the worker's script: how to unpack, and what to keep and serve."""
    return "".join((theme / name).read_text("utf-8") for name in ("unpack.js", "worker.js"))


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
    files = {a: content for a, content in _files(site).items() if a not in not_kept}
    hashes = {address: _hash(content) for address, content in files.items()}
    revision = _hash(json.dumps(hashes, sort_keys=True).encode())[:8]
    script = f'window.refgenRevision = "{revision}";\n'.encode()
    files[REVISION], hashes[REVISION] = script, _hash(script)
    (site / REVISION).parent.mkdir(exist_ok=True)
    (site / REVISION).write_bytes(script)
    files = dict(sorted(files.items()))
    packed = {address for address, content in files.items() if _is_text(content)}
    (site / PACK).write_bytes(pack(files[address] for address in files if address in packed))
    listed = {
        "revision": revision,
        "pack": PACK,
        # By its length the worker finds a file in the pack; 0 is one that is fetched by itself.
        "files": [[a, hashes[a], len(files[a]) if a in packed else 0] for a in files],
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


def _files(site: Path) -> dict[str, bytes]:
    """Return the site's files by address, in order.

    Left out is what begins with a dot or a low line: hosts take such files for instructions to
    them and do not give them out, and one missing file keeps all from being kept.
    """
    found = {}
    for path in site.rglob("*"):
        address = path.relative_to(site).as_posix()
        if path.is_file() and not any(p[0] in "._" for p in PurePosixPath(address).parts):
            found[address] = path.read_bytes()
    return dict(sorted(found.items()))


def _hash(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()[:_LETTERS]


def _is_text(content: bytes) -> bool:
    """Return whether a file belongs in the pack; pictures are packed already."""
    try:
        content.decode("utf-8")
    except UnicodeDecodeError:
        return False
    return True
