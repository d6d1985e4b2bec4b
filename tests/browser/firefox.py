"""A Firefox without a window, spoken to by WebDriver BiDi over its own websocket.

Only what the tests ask of it: pages opened at a phone's size, scripts, a pointer and keys.
Source: W3C, WebDriver BiDi; W3C, WebDriver 2, 17.4.2 (code points of keys).
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from websockets.sync.client import ClientConnection, connect

KEYS = {"Enter": "\ue007", "Tab": "\ue004", "Escape": "\ue00c", "ArrowDown": "\ue015"}
ANSWERS_WITHIN = 30.0  # s


def installed() -> str | None:
    """Return the program of a Firefox, if there is one."""
    return shutil.which("firefox-esr") or shutil.which("firefox")


class Firefox:
    """A session with a running Firefox."""

    def __init__(self, socket: ClientConnection) -> None:
        self.socket = socket
        self.asked = 0
        self.events: list[dict[str, Any]] = []
        self.ask("session.new", capabilities={})
        self.ask("session.subscribe", events=["log.entryAdded", "network.beforeRequestSent"])

    def ask(self, method: str, **params: Any) -> Any:
        """Send one command and return its result; events that come between are kept."""
        self.asked += 1
        self.socket.send(json.dumps({"id": self.asked, "method": method, "params": params}))
        while True:
            answer = json.loads(self.socket.recv(timeout=ANSWERS_WITHIN))
            if answer["type"] == "event":
                self.events.append(answer)
            elif answer["id"] == self.asked:
                assert answer["type"] == "success", f"{method}: {answer.get('message')}"
                return answer["result"]


@contextmanager
def running(program: str, folder: Path) -> Iterator[Firefox]:
    """Run one Firefox with `folder` as its profile, and end it."""
    command = [program, "--headless", "--no-remote", "--profile", str(folder)]
    with subprocess.Popen(
        [*command, "--remote-debugging-port=0"],
        stderr=subprocess.PIPE,
        stdout=subprocess.DEVNULL,
        text=True,
        env={**os.environ, "HOME": str(folder)},
    ) as process:
        try:
            assert process.stderr
            told = (re.search(r"BiDi listening on (ws://\S+)", line) for line in process.stderr)
            address = next(found[1] for found in told if found)
            with connect(f"{address}/session", max_size=None) as socket:
                yield Firefox(socket)
        finally:
            process.terminate()


class Phone:
    """A window of phone size that remembers nothing of another one."""

    def __init__(self, browser: Firefox, size: tuple[int, int] = (390, 844)) -> None:
        self.browser = browser
        self.user = browser.ask("browser.createUserContext")["userContext"]
        self.size = size
        browser.events.clear()
        self.open_window()

    def open_window(self) -> None:
        """Open a fresh window; what is kept stays, as on a phone that has put the first away."""
        made = self.browser.ask("browsingContext.create", type="tab", userContext=self.user)
        self.context = made["context"]
        width, height = self.size
        self.browser.ask(
            "browsingContext.setViewport",
            context=self.context,
            viewport={"width": width, "height": height},
        )

    def close_window(self) -> None:
        """Put the window away."""
        self.browser.ask("browsingContext.close", context=self.context)

    def close(self) -> None:
        """Forget everything."""
        self.browser.ask("browser.removeUserContext", userContext=self.user)

    def goto(self, url: str) -> None:
        """Open an address and wait until it is loaded."""
        self.browser.ask("browsingContext.navigate", context=self.context, url=url, wait="complete")

    def run(self, expression: str) -> Any:
        """Return the value of an expression of JavaScript, a promise's when it has come."""
        got = self.browser.ask(
            "script.evaluate",
            expression=f"(async () => JSON.stringify(await ({expression})))()",
            target={"context": self.context},
            awaitPromise=True,
        )
        assert got["type"] == "success", got.get("exceptionDetails", {}).get("text")
        return json.loads(got["result"].get("value", "null"))

    def press(self, selector: str) -> None:
        """Press the middle of what the selector finds, which must not lie under anything else."""
        place = self.run(
            f"""(() => {{ const e = document.querySelector({json.dumps(selector)});
                e.scrollIntoView({{block: "center"}});
                const b = e.getBoundingClientRect();
                const x = Math.round(b.x + b.width / 2), y = Math.round(b.y + b.height / 2);
                const top = document.elementFromPoint(x, y);
                return [x, y, e.contains(top) || top.contains(e)]; }})()"""
        )
        x, y, free = place
        assert free, f"{selector} is covered"
        finger = {"type": "pointer", "id": "finger", "parameters": {"pointerType": "mouse"}}
        moves = [
            {"type": "pointerMove", "x": x, "y": y},
            {"type": "pointerDown", "button": 0},
            {"type": "pointerUp", "button": 0},
        ]
        self.browser.ask(
            "input.performActions", context=self.context, actions=[{**finger, "actions": moves}]
        )

    def type(self, text: str) -> None:
        """Press the keys of a text, or one key by its name, one after the other."""
        keys = [KEYS[text]] if text in KEYS else list(text)
        strokes = [{"type": way, "value": key} for key in keys for way in ("keyDown", "keyUp")]
        self.browser.ask(
            "input.performActions",
            context=self.context,
            actions=[{"type": "key", "id": "keys", "actions": strokes}],
        )

    def wrong(self) -> list[str]:
        """Return every error told on the console, and every address asked for outside a folder."""
        told = [
            event["params"]["text"]
            for event in self.browser.events
            if event["method"] == "log.entryAdded" and event["params"]["level"] == "error"
        ]
        asked = [
            event["params"]["request"]["url"]
            for event in self.browser.events
            if event["method"] == "network.beforeRequestSent"
        ]
        return told + [url for url in asked if not url.startswith(("file:", "data:", "about:"))]
