"""Visitors without a browser: they speak with the server as a browser does, by Streamlit's own messages."""

from __future__ import annotations

import asyncio
import re
import time
import urllib.request
from dataclasses import dataclass, field
from typing import Any

from streamlit.proto.BackMsg_pb2 import BackMsg
from streamlit.proto.ForwardMsg_pb2 import ForwardMsg
from websockets.asyncio.client import connect

MOST_BYTES = 64 << 20
CHANGED_TO = re.compile(r"\u2192 ([\d.]+)")


@dataclass
class Visitor:
    """One tab: a connection, the widgets on its page, and everything that it was told."""

    address: str
    name: str
    pages: dict[str, str] = field(default_factory=dict)
    sliders: dict[str, str] = field(default_factory=dict)
    buttons: dict[str, str] = field(default_factory=dict)
    files: dict[str, str] = field(default_factory=dict)
    told: list[str] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)
    session: str = ""
    _line: Any = None
    _query: str = ""
    _page: str = ""
    _asked: int = 0

    async def __aenter__(self) -> Visitor:
        stream = f"{self.address.replace('http', 'ws', 1)}/_stcore/stream"
        self._line = await connect(
            stream, origin=self.address, subprotocols=["streamlit"], max_size=MOST_BYTES, open_timeout=60
        )
        return self

    async def __aexit__(self, *_: object) -> None:
        await self._line.close()

    async def open(self, page: str, query: str = "") -> float:
        """Open a page by the words of its address and return the seconds until it stands there whole."""
        self._query = query
        self._page = self.pages.get(page, "")
        began = time.monotonic()
        await self._send({}, page_name="" if self._page else page)
        await self._until_finished()
        return time.monotonic() - began

    async def move(self, label: str, value: float) -> float:
        """Let go of a slider at a value and return the seconds until its first answer is there."""
        began = time.monotonic()
        await self._send({self._known(self.sliders, label): ("double_array_value", value)})
        await self._until(lambda text: CHANGED_TO.findall(text)[-1:] == [f"{value:g}"])
        return time.monotonic() - began

    async def press(self, label: str) -> None:
        """Press a button and wait for the page."""
        await self._send({self._known(self.buttons, label): ("trigger_value", True)})
        await self._until_finished()

    async def fetch(self, label: str) -> bytes:
        """Ask for a file that is made when it is asked for, and return it."""
        self._asked += 1
        wanted = f"{self.name} {self._asked}"
        message = BackMsg()
        message.backend_operation_request.request_id = wanted
        message.backend_operation_request.session_id = self.session
        message.backend_operation_request.deferred_file.file_id = self._known(self.files, label)
        await self._line.send(message.SerializeToString())
        while True:
            answer = await self._next()
            if answer.WhichOneof("type") == "backend_operation_response":
                told = answer.backend_operation_response
                if told.request_id == wanted:
                    assert not told.error_msg, told.error_msg
                    url = f"{self.address}{told.deferred_file.url}"
                    return await asyncio.to_thread(_read, url)

    async def listen(self, seconds: float) -> None:
        """Read on for a while, as a visitor who looks at the page."""
        deadline = time.monotonic() + seconds
        while (left := deadline - time.monotonic()) > 0:
            try:
                await asyncio.wait_for(self._next(), left)
            except TimeoutError:
                return

    @property
    def values_told(self) -> set[str]:
        """Every value of a changed setting that this visitor was told of."""
        return {value for text in self.told for value in CHANGED_TO.findall(text)}

    async def _send(self, widgets: dict[str, tuple[str, Any]], page_name: str = "") -> None:
        message = BackMsg()
        state = message.rerun_script
        state.query_string = self._query
        state.page_script_hash = self._page
        state.page_name = page_name
        state.widget_states.SetInParent()
        for name, (kind, value) in widgets.items():
            widget = state.widget_states.widgets.add()
            widget.id = name
            if kind == "double_array_value":
                widget.double_array_value.data.append(value)
            else:
                setattr(widget, kind, value)
        await self._line.send(message.SerializeToString())

    async def _until_finished(self) -> None:
        """Wait for the end of a run; one that was stopped for a newer one does not count."""
        while True:
            message = await self._next()
            if message.WhichOneof("type") == "script_finished" and message.script_finished == 0:
                return

    async def _until(self, condition: Any) -> None:
        while True:
            message = await self._next()
            if message.WhichOneof("type") == "delta" and condition(_text_of(message)):
                return

    async def _next(self) -> ForwardMsg:
        message = ForwardMsg()
        message.ParseFromString(await self._line.recv())
        self._take(message)
        return message

    def _take(self, message: ForwardMsg) -> None:
        kind = message.WhichOneof("type")
        if kind == "new_session":
            self.session = message.new_session.initialize.session_id or self.session
        elif kind == "navigation":
            self.pages = {page.url_pathname: page.page_script_hash for page in message.navigation.app_pages}
            self._page = message.navigation.page_script_hash
        elif kind == "page_info_changed":
            self._query = message.page_info_changed.query_string
        elif kind == "delta":
            self._take_element(message.delta.new_element)
            text = _text_of(message)
            if text:
                self.told.append(text)

    def _take_element(self, element: Any) -> None:
        kind = element.WhichOneof("type")
        if kind == "slider":
            self.sliders[element.slider.label] = element.slider.id
        elif kind == "button":
            self.buttons[element.button.label] = element.button.id
        elif kind == "download_button":
            self.files[element.download_button.label] = element.download_button.deferred_file_id
        elif kind == "exception":
            self.faults.append(f"{element.exception.type}: {element.exception.message}")

    @staticmethod
    def _known(widgets: dict[str, str], label: str) -> str:
        found = [name for words, name in widgets.items() if words.startswith(label)]
        assert found, f"no '{label}' among {list(widgets)}"
        return found[-1]


def _read(url: str) -> bytes:
    with urllib.request.urlopen(url, timeout=60) as answer:
        return bytes(answer.read())


def _text_of(message: ForwardMsg) -> str:
    element = message.delta.new_element
    kind = element.WhichOneof("type")
    if kind in ("markdown", "heading", "alert", "text"):
        return str(getattr(element, kind).body)
    return ""
