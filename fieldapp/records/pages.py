"""Templates and styles of paper, and the sizes of sheets it is set on.

One set of templates serves every paper. A template may loop, choose and format; it
computes nothing.
"""

from functools import lru_cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from fieldapp.core.canonical import sha256_hex
from fieldapp.records.figures import grouped, short
from fieldapp.records.pictures.svg import name_of

SIZES = {"a4": "A4", "letter": "Letter"}
DEFAULT_SIZE = "a4"
SHARED_STYLE = "paper.css"


class UnknownSize(ValueError):
    """A size of paper that is not known; the text says which are."""


def page_size(name: str) -> str:
    """Give the size of sheet of a name, any case. Errors: `UnknownSize`."""
    if name.casefold() not in SIZES:
        raise UnknownSize(f"paper {name}: allowed: {', '.join(SIZES)}")
    return SIZES[name.casefold()]


def page_html(template: str, **parts: Any) -> str:
    """Give pages as HTML, for setting and for tests."""
    return _environment().get_template(template).render(**parts)


def style(name: str) -> str:
    """Give the style shared by all paper with one paper's own after it."""
    return "".join(
        (folder() / each).read_text("utf-8") for each in (SHARED_STYLE, name)
    )


FILLING = ("core", "calc", "records")
"""Parts of the package that a record's words, figures and pictures come from."""


@lru_cache(maxsize=1)
def look() -> str:
    """Give a short hash of every template and style, and of the code that fills them.

    Without the code, a record kept from before some wording of it was mended would
    come out otherwise and count as altered.
    """
    files = sorted(each for each in folder().iterdir() if each.is_file())
    package = Path(__file__).resolve().parent.parent
    for part in FILLING:
        files += sorted((package / part).rglob("*.py"))
        files += sorted((package / part).rglob("*.json"))
    return short(sha256_hex(b"".join(each.read_bytes() for each in files)))


def folder() -> Path:
    """Give the folder of paper's templates, in the package or beside it."""
    package = Path(__file__).resolve().parent.parent
    inside = package / "templates" / "records"
    return inside if inside.is_dir() else package.parent / "templates" / "records"


@lru_cache(maxsize=1)
def _environment() -> Environment:
    made = Environment(
        loader=FileSystemLoader(folder()),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["named"] = name_of
    made.filters["wrapped"] = _wrapped
    return made


def _wrapped(digest: str) -> str:
    """Give a hash in lines of a narrow column."""
    return grouped(digest, 22)
