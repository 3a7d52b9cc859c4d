"""The size of sheet a site prints on: named in site.toml, A4 where it is not."""

from pathlib import Path

from fieldapp.plan import compile_site, read_site
from tests.plan.sample import compiled, copied, faults_of, spoil


def test_a_site_prints_on_a4_unless_it_says_otherwise(tmp_path: Path) -> None:
    assert compiled().picture["paper"] == "a4"
    folder = copied(tmp_path / "site")
    spoil(folder, "site.toml", "revision = 1\n", 'revision = 1\npaper = "letter"\n')
    assert compile_site(read_site(folder)).picture["paper"] == "letter"


def test_a_size_that_is_not_known_is_a_fault_with_those_that_are(
    tmp_path: Path,
) -> None:
    folder = copied(tmp_path / "site")
    line = spoil(folder, "site.toml", "revision = 1\n", 'paper = "a3"\nrevision = 1\n')
    (fault,) = faults_of(folder)
    assert fault.line == line
    assert "a4, letter" in str(fault)
