"""Lessons as published: what the learner sees, what only the trainer sees, what is printed."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from refgen.errors import DataError
from refgen.project import open_project
from tests.reading import ReadPage, read_page

NOTES = [
    "Have them touch each control.",
    "The face turns away.",
    "Both machines, with the drive off",
]


@pytest.fixture(scope="module")
def lesson(quillfen: Path) -> dict[str, ReadPage]:
    names = {"learner": "cart-hour", "trainer": "cart-hour-trainer", "sheets": "cart-hour-sheets"}
    return {view: read_page(quillfen / "lessons" / f"{name}.html") for view, name in names.items()}


def text_of(page: ReadPage) -> str:
    return re.sub(r"\s+", " ", "".join(page.text))


def test_the_trainers_notes_stand_in_the_trainers_view_alone(lesson: dict[str, ReadPage]) -> None:
    for note in NOTES:
        assert note in text_of(lesson["trainer"])
        assert note not in text_of(lesson["learner"])


def test_the_plan_runs_by_the_clock(lesson: dict[str, ReadPage]) -> None:
    # 15 minutes, then 30: from 0:00 to 0:15, from there to 0:45.
    text = text_of(lesson["trainer"])
    assert "0:00 to 0:15" in text
    assert "0:15 to 0:45" in text


def test_each_step_and_question_has_the_same_address_in_both_views(
    lesson: dict[str, ReadPage],
) -> None:
    for item in ("names", "stops", "both-signs", "pulse", "bleed"):
        assert item in lesson["learner"].ids
        assert item in lesson["trainer"].ids


def test_without_script_every_answer_is_folded_under_its_question(quillfen: Path) -> None:
    html = (quillfen / "lessons" / "cart-hour.html").read_text("utf-8")
    for question in html.split('<div class="cause question"')[1:]:
        folded = question[question.index("<details>") : question.index("</details>")]
        assert "<b>Right:</b>" in folded
        assert "<b>Right:</b>" not in question[: question.index("<details>")]


def test_rows_say_which_machines_they_are_for(quillfen: Path) -> None:
    html = (quillfen / "lessons" / "cart-hour-trainer.html").read_text("utf-8")

    def row(address: str) -> str:
        found = re.search(rf"<li([^>]*)><a href=\"\.\./{address}\">(.*?)</li>", html, re.DOTALL)
        assert found, address
        return f"{found[1]} {found[2]}"

    # As the two machines' records say: dump pedal and pulse valve on the cart, the other pedal on
    # the truck, a jet valve on both.
    assert 'data-machines="rush-cart"' in row("parts/dump-pedal.html#test")
    assert "Only: Rush cart" in row("parts/dump-pedal.html#test")
    assert 'data-machines="sedge-truck"' in row("parts/shut-off-pedal.html#bleed")
    assert 'data-machines="rush-cart"' in row("machines/rush-cart.html")
    assert "data-machines" not in row("parts/jet-valve.html")


def test_the_sheets_have_a_place_for_every_observation_and_signature(
    lesson: dict[str, ReadPage], quillfen: Path
) -> None:
    text = text_of(lesson["sheets"])
    for said in (
        "Stop the jet by every control.",
        "The face turns away.",
        "Questions right, of 3:",
    ):
        assert said in text
    assert {"_handout", "_assessment", "_register"} <= set(lesson["sheets"].ids)
    html = (quillfen / "lessons" / "cart-hour-sheets.html").read_text("utf-8")
    assert html.count("<tr><td>The ") == 3  # one observation of the first step, two of the second
    # Nothing to type into: what is personal stands on paper only.
    assert set(re.findall(r"<input type=\"(\w+)\"", html)) == {"checkbox"}
    assert "<form" not in html


def test_machines_stand_side_by_side_with_what_differs(quillfen: Path) -> None:
    html = (quillfen / "machines" / "compare.html").read_text("utf-8")
    rows = {
        re.sub(r"<[^>]+>|differs", "", head).strip(): head + rest
        for head, rest in re.findall(
            r"<div class=\"beside\" data-row[^>]*><h3>(.*?)</h3>(.*?)</p></div>", html, re.DOTALL
        )
    }
    hidden = 'differs-here" hidden'
    assert hidden not in rows["Flow"]
    assert hidden in rows["Plungers"]  # three on each
    assert hidden not in rows["Dump pedal"]
    assert "Plunger pump" not in rows  # on both, and no part that machines are asked for
    cell = '<div data-column="{}" data-value="{}"><dt>{}</dt><dd>{}</dd></div>'
    assert cell.format("rush-cart", "true", "Rush cart", "Has it") in rows["Dump pedal"]
    assert (
        cell.format("sedge-truck", "false", "Sedge truck", "Does not have it") in rows["Dump pedal"]
    )
    # With each, why it matters.
    assert "the pressure in the hose falls away" in rows["Dump pedal"]
    assert "More flow needs larger jets" in rows["Flow"]
    assert "Accumulator" not in rows  # on neither


def test_no_two_rows_of_a_step_go_by_the_same_name(quillfen: Path) -> None:
    for path in sorted((quillfen / "lessons").glob("*-trainer.html")):
        for rows in re.findall(r'<ul class="rows">(.*?)</ul>', path.read_text("utf-8"), re.DOTALL):
            names = re.findall(r"<span>(.*?)</span>", rows)
            assert len(names) == len(set(names)), (path.name, names)


def test_steps_that_are_done_differently_stand_side_by_side(quillfen: Path) -> None:
    html = (quillfen / "machines" / "compare.html").read_text("utf-8")
    part = html[html.index("Stop and bleed</a></h3>") :]
    part = re.sub(r"<[^>]+>", " ", part[: part.index("</section>")])
    # As the machines' records and the procedure say: pedal and drive differ, the remote is on the
    # truck alone, and both have a pedal, so putting the jet off is no difference.
    assert "Stop the engine. Take the key out." in part
    assert "Switch the motor off. Pull the plug with dry hands." in part
    assert "Press the pedal, hold it a moment, and let go." in part
    assert "hold it until the hose is limp on both sides of it." in part
    assert "Switch the remote off" in part
    assert "Not done on this machine" in part
    assert "Take your foot off the pedal." not in part


def test_a_question_must_have_a_right_and_a_wrong_answer(company: Path) -> None:
    write_lesson(
        company,
        answers="[{id: a, text: A, right: true, because: B},"
        " {id: c, text: C, right: true, because: D}]",
    )
    with pytest.raises(DataError, match="cannot be answered right and wrong"):
        open_project(company / "mkdocs.yml").catalog()


def test_the_steps_of_a_lesson_must_fit_into_its_time(company: Path) -> None:
    write_lesson(company, step="31 min")
    with pytest.raises(DataError, match="time: its steps take 31 min, more than 30 min"):
        open_project(company / "mkdocs.yml").catalog()


def test_a_page_of_a_records_name_never_replaces_another(company: Path) -> None:
    write_lesson(company)
    first = company / "data" / "ours" / "lessons" / "one.yml"
    first.with_name("one-trainer.yml").write_text(first.read_text("utf-8"), "utf-8")
    with pytest.raises(DataError, match="'one-trainer' would stand where the trainer of 'one'"):
        open_project(company / "mkdocs.yml").build()


def write_lesson(
    company: Path,
    step: str = "30 min",
    answers: str = "[{id: a, text: A, right: true, because: B}, {id: c, text: C, because: D}]",
) -> None:
    path = company / "data" / "ours" / "lessons" / "one.yml"
    path.parent.mkdir(parents=True)
    path.write_text(
        "title: One\nanswer: Text.\ntime: 30 min\naims: [A.]\n"
        f"steps: [{{id: s, title: S, time: {step}}}]\n"
        f"questions: [{{id: q, ask: Q, answers: {answers}, proof: hazards/injection}}]\n",
        "utf-8",
    )
