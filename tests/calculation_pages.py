"""What the tests of the calculation pages share: pressing buttons, reading pages."""

import re
from html.parser import HTMLParser
from typing import Any

from tests.desk import Desk

UNSAFE = re.compile(r"<script(?![^>]*\bsrc=)|\son\w+=|\sstyle=|<style|javascript:")
FIRST = re.compile(r'<div class="first"><dt>(.*?)</dt><dd>(.*?)</dd>', re.DOTALL)
SHEET = ("Inputs", "Sketch", "Calculation", "Result", "Range of validity", "Sources",
         "Version", "Prepared", "Checked", "Signature")  # fmt: skip
SHIM = {"thickness_mm": "1.6", "depth_m": "2.5", "tip_distance_m": "36"}


def press(page: Desk, name: str, fields: dict[str, str], **more: str) -> Any:
    """Press a button of a calculation's form; follows to the address it leads to."""
    path = f"/calculations/{name}"
    answer = page.post(path, {**fields, **more}, form=path)
    return page.client.get(answer.location) if answer.status_code == 303 else answer


def first(text: str) -> str:
    """The largest figure of a page, with its label and unit."""
    found = FIRST.search(text)
    assert found is not None
    plain = re.sub(r"<[^>]+>", "", " ".join(found.groups()))
    return " ".join(plain.split())


def field(text: str, name: str) -> str:
    """What stands in a field."""
    found = re.search(rf'<input name="{re.escape(name)}"[^>]*?value="([^"]*)"', text)
    assert found is not None, name
    return found[1]


class Names(HTMLParser):
    """Ids, labels and controls of a page."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.ids: list[str] = []
        self.named: list[str] = []
        self.pointed: list[str] = []
        self.controls: list[dict[str, str | None]] = []
        self.feed(text)

    def handle_starttag(self, tag: str, pairs: list[tuple[str, str | None]]) -> None:
        given = dict(pairs)
        if given.get("id"):
            self.ids.append(given["id"] or "")
        if tag == "label":
            self.named.append(given.get("for") or "")
        for key in ("aria-describedby", "aria-labelledby"):
            self.pointed += (given.get(key) or "").split()
        if tag in ("input", "select", "textarea") and given.get("type") != "hidden":
            self.controls.append(given)
