"""A record with where its values were written, and what can be linked in it."""

from __future__ import annotations

from refgen.entries import Entry, forget, read_entry
from refgen.nodes import Node, read_text

SKID = "title: Skid\nanswer: A runner.\n"
LOUD = "title: Loud\nanswer: Stop.\nfirst: Stop.\nstop: [{id: bang, text: A bang.}]\n"
CAUSE = "causes: [{id: worn, title: Valve, check: Listen., fix: Mend it.}]\n"


def node_of(text: str, file: str = "a.yml") -> Node:
    node, problems = read_text(text, file)
    assert node is not None, problems
    return node


def entry_of(text: str, kind: str = "terms") -> Entry:
    entry, problems = read_entry((kind, "trial"), node_of(text))
    assert entry is not None, problems
    return entry


def told(text: str) -> list[str]:
    return [str(problem) for problem in read_entry(("symptoms", "loud"), node_of(text))[1]]


def test_a_record_that_is_the_same_again_is_not_read_again_until_it_is_forgotten() -> None:
    node = node_of(SKID)
    first, _ = read_entry(("terms", "skid"), node)
    assert read_entry(("terms", "skid"), node) == (first, [])
    assert read_entry(("terms", "skid"), node)[0] is first
    forget()
    assert read_entry(("terms", "skid"), node)[0] is not first
    assert node_of(SKID) is not node


def test_a_record_written_elsewhere_is_read_though_it_says_the_same() -> None:
    for file in ("a.yml", "b.yml"):
        entry, _ = read_entry(("terms", "skid"), node_of(SKID, file))
        assert entry is not None
        assert entry.at(("answer",))[0].file == file


def test_what_is_wrong_with_a_record_is_told_each_time() -> None:
    text = LOUD + CAUSE.replace("worn", "bang")
    problem = (
        "a.yml:5: causes.bang: the id 'bang' stands twice in this record\n"
        "    It also names stop.bang; give one of them another id."
    )
    assert told(text) == told(text) == [problem]


def test_an_item_cannot_stand_here_and_lead_on() -> None:
    text = LOUD + CAUSE + "moved:\n  worn: symptoms/weak#worn\n  gone: symptoms/weak#gone\n"
    assert told(text) == [
        "a.yml:7: moved.worn: 'worn' still stands in causes.worn\n"
        "    It cannot lead on to symptoms/weak#worn as well."
    ]


def test_an_id_may_stand_in_two_lists_of_which_none_can_be_linked() -> None:
    choice = "{id: %s, ask: So?, choices: [{id: yes, text: Yes, go: x}, {id: no, text: No, go: x}]}"
    path = "title: T\nanswer: A\nquestions: [%s]\nends: [{id: x, text: X., to: [terms/bypass]}]\n"
    two = path % ", ".join(choice % name for name in "ab")
    assert read_entry(("paths", "trial"), node_of(two))[1] == []


def test_former_ids_lead_to_the_item_they_became() -> None:
    entry = entry_of(LOUD + CAUSE.replace("id: worn", "id: worn, was: [old, older]"), "symptoms")
    assert entry.moved == {"old": "worn", "older": "worn"}
    assert entry.anchors == ("bang", "worn")


def test_once_settled_an_entry_knows_the_place_of_the_record_alone() -> None:
    entry = entry_of(SKID).settled()
    assert entry.node == Node(None, node_of(SKID).place)
    assert (entry.record.title, entry.key) == ("Skid", ("terms", "trial"))
    assert entry.at(("answer",))[0].line == 1
