"""How a build grows: `python -m tests.growth [RECORDS …] [--stock-up-to N]`.

Of synthetic references of each size, in processes of their own: processor time and time on the
clock of `refgen build`, most memory held, bytes of the site, of the search index and of what a
phone takes to keep it (as gzip sends them), and how long after an edit `refgen serve` shows it.
Beside it the stock theme, all at its defaults, with the same finished pages as Markdown, tables
and all. Not collected by pytest and not part of the checks: it takes minutes.
"""

from __future__ import annotations

import argparse
import gzip
import os
import shutil
import socket
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from urllib.error import URLError
from urllib.request import urlopen

from refgen.offline import PACK, WORKER
from refgen.search import ADDRESS as INDEX
from tests.synthetic import write_reference

SIZES = (300, 1000, 3000, 10_000)
EDITS = 3
PATIENCE = 120
"""Time [s] after which an edit counts as lost."""


@dataclass(frozen=True)
class Run:
    """What one process took."""

    processor: float
    """Its own and the system's time for it [s]."""
    clock: float
    memory: float
    """Most that it held [MB]."""


def run(*command: str) -> Run:
    """Run a command in a process of its own and return what it took."""
    start = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, env=_environment())
    _, status, used = os.wait4(process.pid, 0)
    if status:
        raise SystemExit(f"{' '.join(command)} ended with {status}")
    taken = time.perf_counter() - start
    return Run(used.ru_utime + used.ru_stime, taken, used.ru_maxrss / 1024)


def _environment() -> dict[str, str]:
    return {**os.environ, "NO_MKDOCS_2_WARNING": "1"}


def sent(path: Path) -> int:
    """Return the bytes of a file as a host sends it."""
    return len(gzip.compress(path.read_bytes(), 6))


def first_install(site: Path) -> int:
    """Return the bytes a phone takes to keep the site: worker, pack and what is no text."""
    pictures = sum(path.stat().st_size for path in site.rglob("*.png"))
    return sent(site / WORKER) + (site / PACK).stat().st_size + pictures


def seconds_until_shown(config: Path) -> float:
    """Return the longest of a few times from an edit while serving to its being shown."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    serve = [sys.executable, "-m", "refgen", "serve", "-f", str(config), "--port", str(port)]
    quiet = subprocess.DEVNULL
    server = subprocess.Popen(serve, stdout=quiet, stderr=quiet, env=_environment())
    try:
        edited = sorted((config.parent / "data" / "symptoms").glob("*.yml"))[:EDITS]
        address = f"http://127.0.0.1:{port}/symptoms/{{}}.html"
        _wait_for("<h1>", address.format(edited[0].stem))
        time.sleep(2)
        waited = []
        for number, path in enumerate(edited):
            said = f"Edit number {number} stands here"
            lines = path.read_text("utf-8").split("\n")
            lines = [f"answer: {said}." if line.startswith("answer:") else line for line in lines]
            start = time.perf_counter()
            path.write_text("\n".join(lines), "utf-8")
            _wait_for(said, address.format(path.stem))
            waited.append(time.perf_counter() - start)
            time.sleep(1)
        return max(waited)
    finally:
        server.terminate()
        server.wait()


def _wait_for(text: str, address: str) -> None:
    end = time.perf_counter() + PATIENCE
    while time.perf_counter() < end:
        try:
            with urlopen(address, timeout=PATIENCE) as answer:
                if text in answer.read().decode():
                    return
        except (URLError, OSError):
            pass
        time.sleep(0.02)
    raise SystemExit(f"{address} never showed '{text}'")


def stock_build(config: Path, folder: Path) -> Run:
    """Return what the stock theme takes to build the same pages, given as finished Markdown."""
    export, docs = folder / "export", folder / "docs"
    run(sys.executable, "-m", "refgen", "export", str(export), "-f", str(config))
    shutil.copytree(export / "markdown", docs)
    settings = folder / "mkdocs.yml"
    settings.write_text("site_name: Stock\ntheme:\n  name: material\n", "utf-8")
    return run(sys.executable, "-m", "mkdocs", "build", "-q", "-f", str(settings))


def measure(records: int, with_stock: bool) -> str:
    """Return a row of figures for one size."""
    with TemporaryDirectory() as place:
        config = write_reference(Path(place) / "ours", records)
        build = (sys.executable, "-m", "refgen", "build", "-f", str(config))
        best = min((run(*build) for _ in range(2)), key=lambda one: one.processor)
        site = config.parent / "site"
        files = [path for path in site.rglob("*") if path.is_file()]
        pages = sum(path.suffix == ".html" for path in files)
        size = sum(path.stat().st_size for path in files) / 1e6
        figures = [
            f"{records:6} {pages:6} {best.processor:7.1f} {best.clock:7.1f} {best.memory:6.0f}",
            f"{size:7.1f} {sent(site / INDEX) / 1e3:7.0f} {first_install(site) / 1e3:8.0f}",
        ]
        shutil.rmtree(site)
        figures.append(f"{seconds_until_shown(config):6.1f}")
        if with_stock:
            (Path(place) / "stock").mkdir()
            stock = stock_build(config, Path(place) / "stock")
            times = stock.processor / best.processor
            figures.append(f"{stock.processor:7.1f} {stock.memory:6.0f} {times:5.1f}")
        return " ".join(figures)


def main() -> None:
    """Print a table, a row for each size."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("records", nargs="*", type=int, default=SIZES)
    parser.add_argument("--stock-up-to", type=int, default=1000, metavar="RECORDS")
    asked = parser.parse_args()
    print("                build                  site  index  install   edit  stock theme")
    print(" number pages   cpu s clock s     MB      MB  gz kB    gz kB      s   cpu s    MB times")
    for records in asked.records or SIZES:
        print(measure(records, records <= asked.stock_up_to), flush=True)


if __name__ == "__main__":
    main()
