"""Modules joined into one script: each once, in order, and the same for everybody."""

from pathlib import Path

import pytest

from fieldapp.web.joined import (
    NotJoined,
    bind,
    holder,
    join,
    join_first,
    reached,
    stand_in,
)
from tests.javascript import JavaScript

START = "/p/screens/main.js"
FIRST, HELD = "/p/screens/first.js", "/p/screens/held.js"
BEHIND = "/p/screens/behind.js"
ENGINE, COUNT = "/p/screens/engine.js", "/p/device/count.js"
LATER = "/p/screens/later.js"
MODULES = {
    START: (
        'import { tell as say } from "./told.js";\n'
        "globalThis.said = say();\n"
        'globalThis.engine = () => import("./engine.js");\n'
    ),
    "/p/screens/told.js": (
        'import {\n  count,\n} from "../device/count.js";\n'
        'import * as signs from "./signs.js";\n'
        'import words from "../device/words.json" with { type: "json" };\n'
        "export function tell() { return `${count()} ${signs.tick} ${words.kept}`; }\n"
        "export { count };\n"
    ),
    "/p/screens/signs.js": 'export const tick = "tick";\n',
    "/p/device/words.json": '{"kept": "kept"}',
    COUNT: (
        "let told = 0;\n"
        "export const count = () => { told += 1; return told; };\n"
        "export class Told {}\n"
    ),
    ENGINE: (
        'import { count } from "../device/count.js";\n'
        'import { own } from "./own.js";\n'
        "export const folded = () => `${own} ${count()}`;\n"
    ),
    "/p/screens/own.js": 'export const own = "own";\n',
    LATER: (
        'import { count } from "../device/count.js";\n'
        'import { Told } from "../device/count.js";\n'
        'import { folded } from "./engine.js";\n'
        "export const again = () => `${count()} ${folded()} ${typeof Told}`;\n"
    ),
}
LOOKS_ON = """
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { constants, Script } from "node:vm";

for (const name of ["$held", "said", "document"]) delete globalThis[name];

export async function onThePage() {
  const filename = fileURLToPath(new URL("./p/screens/first.js", import.meta.url));
  globalThis.document = { currentScript: {} };
  new Script(readFileSync(filename, "utf-8"), { filename,
    importModuleDynamically: constants.USE_MAIN_CONTEXT_DEFAULT_LOADER,
  }).runInThisContext();
  const { folded } = await globalThis.engine();
  const { again } = await import("./p/screens/later.js");
  const { count, Told } = await import("./p/device/count.js");
  return [globalThis.said, folded(), again(), `${count()} ${typeof Told}`];
}
export async function withoutThePage() {
  const { count } = await import("./p/device/count.js");
  const { again } = await import("./p/screens/later.js");
  return [globalThis.said ?? "not begun", again(), `${count()}`];
}
"""


def served() -> dict[str, str]:
    """Give the modules as phones get them, with paths that Node can follow."""
    read = MODULES.__getitem__
    first = reached([START], read)
    homes = dict.fromkeys(first, HELD)
    behind = reached([ENGINE], read, homes)
    homes |= dict.fromkeys(behind, BEHIND)
    texts = {
        FIRST: join_first({one: read(one) for one in first}, START, homes),
        HELD: holder([one for one in first if one != START], FIRST),
        BEHIND: join({one: read(one) for one in behind}, homes),
        LATER: bind(LATER, read(LATER), homes),
        **{one: stand_in(one, read(one), homes) for one in homes},
    }
    return {one: text.replace('"/p/', '"../') for one, text in texts.items()}


@pytest.fixture
def looks_on(tmp_path: Path) -> str:
    for address, text in served().items():
        path = tmp_path / address.lstrip("/")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text)
    (tmp_path / "package.json").write_text('{"type": "module"}')
    (tmp_path / "looks_on.js").write_text(LOOKS_ON)
    return str(tmp_path / "looks_on.js")


def test_what_is_reached_comes_after_what_it_needs() -> None:
    order = reached([START], MODULES.__getitem__)
    assert set(order) == set(MODULES) - {ENGINE, LATER, "/p/screens/own.js"}
    assert order.index(COUNT) < order.index("/p/screens/told.js") < order.index(START)
    assert reached([ENGINE], MODULES.__getitem__, order) == (
        "/p/screens/own.js", ENGINE,
    )  # fmt: skip


def test_everybody_gets_the_same_instance_by_whatever_address(
    javascript: JavaScript, looks_on: str
) -> None:
    found = javascript.call(looks_on, "onThePage")
    assert found == ["1 tick kept", "own 2", "3 own 4 function", "5 function"]


def test_whoever_needs_the_modules_without_the_page_starts_nothing(
    javascript: JavaScript, looks_on: str
) -> None:
    found = javascript.call(looks_on, "withoutThePage")
    assert found == ["not begun", "1 own 2 function", "3"]


def test_the_first_script_needs_no_other() -> None:
    with pytest.raises(NotJoined, match=r"main\.js needs import"):
        join_first({START: MODULES[START]}, START, {})


def test_a_circle_is_told_with_its_way() -> None:
    circle = {
        "/a.js": 'import { b } from "./b.js";\n',
        "/b.js": 'import { a } from "./a.js";\n',
    }
    with pytest.raises(NotJoined, match=r"/a\.js imports /b\.js imports /a\.js"):
        reached(["/a.js"], circle.__getitem__)


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
        join({"/a.js": f"const one = 1;\n{line}\n"}, {})
