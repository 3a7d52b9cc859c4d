"""Modules joined into one script: each once, in order, and the same for everybody."""

from pathlib import Path

import pytest

from fieldapp.web.joined import NotJoined, bind, join, reached, stand_in
from tests.javascript import JavaScript

START = "/p/screens/main.js"
JOINED = "/p/screens/first.js"
APART = "/p/device/apart.js"
MODULES = {
    START: 'import { tell as say } from "./told.js";\nexport const said = say();\n',
    "/p/screens/told.js": (
        'import {\n  count,\n} from "../device/count.js";\n'
        'import * as apart from "../device/apart.js";\n'
        "export function tell() { return `${count()} ${apart.kept}`; }\n"
        "export { count };\n"
    ),
    "/p/device/count.js": (
        "let told = 0;\n"
        "export const count = () => { told += 1; return told; };\n"
        "export class Told {}\n"
    ),
    APART: 'export const kept = "kept";\n',
}
LATER = (
    'import { count } from "../device/count.js";\n'
    'import { Told } from "../device/count.js";\n'
    'import { kept } from "../device/apart.js";\n'
    "export const again = `${count()} ${kept} ${typeof Told}`;\n"
)


def test_what_is_reached_comes_after_what_it_needs() -> None:
    order = reached(START, MODULES.__getitem__)
    assert set(order) == set(MODULES) - {START}
    assert order.index("/p/device/count.js") < order.index("/p/screens/told.js")


def test_everybody_gets_the_same_instance_by_whatever_address(
    javascript: JavaScript, tmp_path: Path
) -> None:
    order = [one for one in reached(START, MODULES.__getitem__) if one != APART]
    inside = {address: MODULES[address] for address in order}
    served = {
        JOINED: join(inside).replace('"/p/', '"../'),
        APART: MODULES[APART],
        START: bind(START, MODULES[START], inside, JOINED),
        "/p/screens/later.js": bind("/p/screens/later.js", LATER, inside, JOINED),
        **{each: stand_in(each, text, JOINED) for each, text in inside.items()},
    }
    for address, text in served.items():
        path = tmp_path / address.lstrip("/")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text)
    (tmp_path / "package.json").write_text('{"type": "module"}')
    (tmp_path / "told.js").write_text(
        'import { said } from "./p/screens/main.js";\n'
        'import { again } from "./p/screens/later.js";\n'
        'import { count, Told } from "./p/device/count.js";\n'
        "export const all = () => `${said}, ${again}, ${count()} ${typeof Told}`;\n"
    )
    found = javascript.call(str(tmp_path / "told.js"), "all")
    assert found == "1 kept, 2 kept function, 3 function"


def test_a_circle_is_told_with_its_way() -> None:
    circle = {
        "/a.js": 'import { b } from "./b.js";\n',
        "/b.js": 'import { a } from "./a.js";\n',
    }
    with pytest.raises(NotJoined, match=r"/a\.js imports /b\.js imports /a\.js"):
        reached("/a.js", circle.__getitem__)


@pytest.mark.parametrize(
    "line",
    [
        "export default function () {}",
        "export let changing = 1;",
        'export * from "./b.js";',
        'import "./b.js";',
    ],
)
def test_a_form_that_is_not_understood_is_refused(line: str) -> None:
    with pytest.raises(NotJoined, match=r"^/a\.js: "):
        join({"/a.js": f"const one = 1;\n{line}\n"})
