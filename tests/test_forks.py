"""Work shared out over forks comes back whole and in order, whatever becomes of a fork."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading

import pytest

from refgen.forks import processors, shared_out

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="forks are taken on Linux alone")

HERE = os.getpid()


def test_parts_come_back_in_order_and_from_processes_of_their_own() -> None:
    made = shared_out(lambda part: (part, os.getpid()), 4)
    assert [part for part, _ in made] == [0, 1, 2, 3]
    assert made[0][1] == HERE
    assert len({process for _, process in made}) == 4


def test_a_part_larger_than_a_pipe_holds_comes_back_whole() -> None:
    assert shared_out(lambda part: bytes([part]) * 3_000_000, 2)[1] == b"\1" * 3_000_000


def test_what_a_fork_cannot_do_or_hand_back_is_made_here() -> None:
    def killed(part: int) -> int:
        if os.getpid() != HERE:
            os.kill(os.getpid(), signal.SIGKILL)
        return part

    assert shared_out(killed, 3) == [0, 1, 2]
    assert shared_out(lambda part: [lambda: part], 2)[1][0]() == 1


def test_an_error_in_any_part_is_raised_and_leaves_no_process_behind() -> None:
    def wrong(part: int) -> int:
        if part == bad:
            raise ValueError(f"part {part}")
        return part

    for bad in (0, 1, 2):
        with pytest.raises(ValueError, match=f"part {bad}"):
            shared_out(wrong, 3)
    with pytest.raises(ChildProcessError):
        os.waitpid(-1, os.WNOHANG)


def test_where_threads_run_nothing_is_forked() -> None:
    over = threading.Event()
    thread = threading.Thread(target=over.wait)
    thread.start()
    try:
        assert processors() == 1
    finally:
        over.set()
        thread.join()


def test_a_process_of_its_own_uses_the_processors_it_may() -> None:
    may = os.sched_getaffinity(0)
    for allowed in ({min(may)}, may):
        asked = (
            f"import os; os.sched_setaffinity(0, {allowed}); "
            "from refgen.forks import processors; print(processors())"
        )
        told = subprocess.check_output([sys.executable, "-c", asked])
        assert int(told) == min(len(allowed), 4)
