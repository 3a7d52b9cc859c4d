"""The large site that the benchmark compiles is a site by the sample's tables too."""

from pathlib import Path

from fieldapp.plan import compile_site, read_site
from tests.bench.test_plan import large_site


def test_a_pier_of_the_large_site_compiles(tmp_path: Path) -> None:
    compiled = compile_site(read_site(large_site(tmp_path / "site", piers_wanted=1)))
    assert len(compiled.sheets) == 20
    waits = [each["subject"] for each in compiled.sheets["j0b2"]["prerequisites"]]
    assert set(waits) == {"j0b1", "j0a1"}
