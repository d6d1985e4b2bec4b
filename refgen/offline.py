"""What lets a phone keep the whole site: the worker with its list, the pack and the revision.

The list has the hash of every file, so that a phone stores nothing else than what was built,
fetches only what changed, and never mixes two builds. All pages together travel in one pack,
which compresses far better than many small files; later only what changed is fetched, one by one.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from pathlib import Path, PurePosixPath

from refgen.packs import pack_texts

WORKER = "sw.js"
"""Stands at the root of the site, because a worker serves only what lies below it."""
PACK = "assets/pack.json"
REVISION = "assets/revision.js"

_LETTERS = 16
"""Letters of a file's hash in the list: 64 bits, as no one but the site writes these files."""


def write_offline(site: Path, worker: str, withdrawn: Mapping[str, str] | None = None) -> str:
    """Write pack, revision and worker of a built site, and return the revision.

    The same files give the same revision, and another file or another byte gives another.

    Args:
        site: Folder of the built site.
        worker: Text of `worker.js`.
        withdrawn: Reasons by the address of a page that must no longer be used; phones tell them
            as soon as they have signal, before anyone agrees to the new revision.
    """
    for own in (WORKER, PACK, REVISION):
        (site / own).unlink(missing_ok=True)
    files = _files(site)
    hashes = {address: _hash(content) for address, content in files.items()}
    revision = _hash(json.dumps(hashes, sort_keys=True).encode())[:8]
    script = f'window.refgenRevision = "{revision}";\n'.encode()
    files[REVISION], hashes[REVISION] = script, _hash(script)
    (site / REVISION).parent.mkdir(exist_ok=True)
    (site / REVISION).write_bytes(script)
    (site / PACK).write_bytes(_pack(files))
    listed = {
        "revision": revision,
        "pack": PACK,
        "files": sorted(hashes.items()),
        "withdrawn": dict(sorted((withdrawn or {}).items())),
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


def _pack(files: Mapping[str, bytes]) -> bytes:
    """Return all files that are text in one; pictures and the like are fetched by themselves."""
    texts = {}
    for address, content in files.items():
        try:
            texts[address] = content.decode("utf-8")
        except UnicodeDecodeError:
            continue
    return pack_texts(texts)
