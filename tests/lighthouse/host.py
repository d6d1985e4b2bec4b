"""A host on loopback that answers as README tells a host to: gzipped, with its headers."""

from __future__ import annotations

import gzip
import re
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache, partial
from http.server import SimpleHTTPRequestHandler
from pathlib import Path
from typing import Any

from tests.benchmark_install import PACKED, Host

README = Path(__file__).resolve().parents[2] / "README.md"
NOT_FOUND = "404.html"


def headers() -> dict[str, str]:
    """Return the headers that README has a host send, by name."""
    return dict(re.findall(r'add_header ([\w-]+) "([^"]+)"', README.read_text("utf-8")))


@contextmanager
def serving(folder: Path, sent: dict[str, str]) -> Iterator[str]:
    """Serve a folder with such headers and give the address of its root."""
    host = Host(("127.0.0.1", 0), partial(_Handler, folder, sent))
    threading.Thread(target=host.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{host.server_address[1]}/"
    finally:
        host.shutdown()
        host.server_close()


@cache
def _packed(path: Path) -> bytes:
    """Return what is sent of a file; packed once, so that no run pays for it."""
    body = path.read_bytes()
    return gzip.compress(body, 6, mtime=0) if path.suffix in PACKED else body


class _Handler(SimpleHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    extensions_map = {  # noqa: RUF012  # as the class it extends has it
        **SimpleHTTPRequestHandler.extensions_map,
        ".html": "text/html; charset=utf-8",
        ".webmanifest": "application/manifest+json",
    }

    def __init__(self, folder: Path, sent: dict[str, str], *arguments: Any) -> None:
        self.sent = sent
        super().__init__(*arguments, directory=str(folder))

    def do_GET(self) -> None:
        path = Path(self.translate_path(self.path))
        path = path / "index.html" if path.is_dir() else path
        found = path.is_file()
        if not found:
            path = Path(self.directory) / NOT_FOUND
        body = _packed(path) if path.is_file() else b""
        self.send_response(200 if found else 404)
        self.send_header("Content-Type", self.guess_type(str(path)))
        self.send_header("Content-Length", str(len(body)))
        if path.suffix in PACKED and body:
            self.send_header("Content-Encoding", "gzip")
        for name, value in self.sent.items():
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, *_: Any) -> None:
        """Keep quiet."""
