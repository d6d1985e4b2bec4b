"""A company's own project over the base: brand, lowered limits, hostile text, broken data."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import pytest

from refgen.errors import RefgenError
from refgen.project import open_project
from tests.reading import read_page

HOSTILE = "<script>document.title='x'</script> {{ 7*7 }} {% raw %} <img src=x onerror=alert(1)>"


def write(root: Path, name: str, text: str) -> None:
    path = root / "data" / "ours" / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, "utf-8")


def test_text_that_looks_like_script_or_template_is_shown_as_typed(company: Path) -> None:
    write(
        company,
        "terms/trial.yml",
        f'title: "Trial {HOSTILE}"\nanswer: "Meaning {HOSTILE} [a](javascript:alert(1))"\n'
        f'also_called: ["<b>bold</b>"]\n',
    )
    write(
        company,
        "deposits/trial.yml",
        f'title: "{HOSTILE}"\nanswer: "{HOSTILE}"\nknow_by: ["{HOSTILE}"]\n'
        f'moves:\n  - id: one\n    text: "{HOSTILE}"\n',
    )
    open_project(company / "mkdocs.yml").build()
    for name in ("terms/index.html", "deposits/trial.html", "deposits/index.html", "a-to-z.html"):
        page = read_page(company / "site" / name)
        assert page.inline_scripts == 0, name
        assert page.handlers == [], name
        assert not [link for link in page.links if link.startswith("javascript")], name
        assert "<script>document.title='x'</script> {{ 7*7 }} {% raw %}" in "".join(page.text), name


def test_the_brands_units_come_first_and_its_name_stands_on_the_page(company: Path) -> None:
    open_project(company / "mkdocs.yml").build()
    page = (company / "site" / "materials" / "pvc-solid.html").read_text("utf-8")
    assert "Our reference" in page
    text = "".join(read_page(company / "site" / "materials" / "pvc-solid.html").text)
    # 1740 psi × 0.0689476 bar/psi = 119.97 bar, which the source gives as 120.
    assert "120\u00a0bar (1,740\u00a0psi)" in text


def test_a_lowered_ceiling_is_lowered_in_every_sentence(company: Path) -> None:
    write(
        company,
        "materials/pvc-solid.yml",
        "ceilings:\n  worn: {is: 1000 psi, basis: owner, source: house-rule}\n",
    )
    write(
        company,
        "sources/house-rule.yml",
        "title: House rule\nanswer: Our own rule.\nbody: Ours\nyear: '2026'\nform: guidance\n"
        "read: whole\n",
    )
    open_project(company / "mkdocs.yml").build()
    text = "".join(read_page(company / "site" / "materials" / "pvc-solid.html").text)
    answer = text[text.index("Keep the nozzle moving") :][:120]
    # 1000 psi = 68.95 bar
    assert "68.9\u00a0bar (1,000\u00a0psi)" in answer
    assert "Ours has changed this page. A limit was lowered." in text


def test_without_numbers_the_emergency_page_says_so(company: Path) -> None:
    open_project(company / "mkdocs.yml").build()
    text = "".join(read_page(company / "site" / "emergency.html").text)
    assert "No emergency numbers are set in this copy." in text


def test_broken_data_leave_the_last_good_site_as_it_was(company: Path) -> None:
    project = open_project(company / "mkdocs.yml")
    project.build()
    before = {p: p.read_bytes() for p in (company / "site").rglob("*") if p.is_file()}
    write(company, "terms/trial.yml", "title: Trial\nanswer:\nsee: [terms/nowhere]\n")
    with pytest.raises(RefgenError) as caught:
        project.build()
    assert str(caught.value).startswith(
        "1 problem in the data\n  data/ours/terms/trial.yml:2: answer: is empty\n"
    )
    after = {p: p.read_bytes() for p in (company / "site").rglob("*") if p.is_file()}
    assert before == after
    assert sorted(p.name for p in company.iterdir()) == ["assets", "data", "mkdocs.yml", "site"]


def test_plain_mkdocs_tells_broken_data_before_it_empties_the_site(company: Path) -> None:
    run = [sys.executable, "-m", "mkdocs", "build", "-q"]
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1"}
    subprocess.run(run, cwd=company, check=True, env=environment)
    before = {p.name for p in (company / "site").rglob("*.html")}
    assert "pvc-solid.html" in before
    write(company, "terms/trial.yml", "title: Trial\n")
    failed = subprocess.run(run, cwd=company, capture_output=True, text=True, env=environment)
    assert failed.returncode == 1
    assert "data/ours/terms/trial.yml:1: 'answer' is missing" in failed.stderr
    assert "Traceback" not in failed.stderr
    assert {p.name for p in (company / "site").rglob("*.html")} == before


def test_a_renamed_record_keeps_its_old_address(company: Path) -> None:
    write(company, "terms/trial.yml", "title: Trial\nanswer: Text.\nsee: [deposits/new-name]\n")
    write(
        company,
        "deposits/new-name.yml",
        "title: New\nanswer: Text.\nwas: [old-name]\nknow_by: [x]\n"
        "moves:\n  - id: second\n    was: [first]\n    text: Do it.\n",
    )
    open_project(company / "mkdocs.yml").build()
    old = read_page(company / "site" / "deposits" / "old-name.html")
    assert "new-name.html" in " ".join(old.links)
    new = read_page(company / "site" / "deposits" / "new-name.html")
    assert {"first", "second"} <= set(new.ids)


@pytest.mark.skipif(sys.platform == "win32", reason="signals differ")
def test_serve_survives_a_broken_edit_and_shows_the_mended_one(company: Path) -> None:
    write(company, "terms/trial.yml", "title: Trial\nanswer: First text.\n")
    port = 18000 + os.getpid() % 4000
    log = company / "serve.log"
    with log.open("w") as out:
        server = subprocess.Popen(
            [sys.executable, "-m", "refgen", "serve", "--port", str(port)],
            cwd=company,
            stdout=out,
            stderr=subprocess.STDOUT,
            env={**os.environ, "PYTHONUNBUFFERED": "1"},
        )

    def shows(text: str, address: str = "terms/index.html", seconds: float = 20) -> bool:
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            try:
                url = f"http://127.0.0.1:{port}/{address}"
                with urllib.request.urlopen(url, timeout=5) as answer:
                    if text in answer.read().decode():
                        return True
            except OSError:
                pass
            time.sleep(0.1)
        return False

    try:
        assert shows("First text."), log.read_text()
        write(company, "terms/trial.yml", "title: Trial\nanswer:\n")
        until = time.monotonic() + 20
        while "answer: is empty" not in log.read_text() and time.monotonic() < until:
            time.sleep(0.1)
        assert "data/ours/terms/trial.yml:2: answer: is empty" in log.read_text()
        assert "Showing the last good pages." in log.read_text()
        assert shows("First text.")
        write(company, "terms/trial.yml", "title: Trial\nanswer: Second text.\n")
        assert shows("Second text."), log.read_text()
    finally:
        server.send_signal(signal.SIGINT)
        server.wait(20)
    assert "Traceback" not in re.sub(r"\s+", " ", log.read_text())
