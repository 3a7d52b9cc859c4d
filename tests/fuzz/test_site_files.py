"""A site's files and stories, spoiled: read, or refused with file, line and reason.

A whole site is read each time, so the quick run has few cases; the long one has many.
"""

from contextlib import suppress
from pathlib import Path
from random import Random

import pytest

from fieldapp.plan import SiteFaults, read_site
from fieldapp.plan.faults import Fault
from fieldapp.play.story import read_story
from fieldapp.play.world import PlayFault
from tests.fuzz.spoil import bounded, seeds, spoiled_bytes
from tests.plan.sample import SAMPLE, copied

FILES = sorted(
    str(path.relative_to(SAMPLE))
    for path in SAMPLE.rglob("*")
    if path.suffix in (".csv", ".toml") and path.parent.name in ("sample_site", "plan")
)
STORIES = sorted(
    str(path.relative_to(SAMPLE)) for path in SAMPLE.rglob("*/*.toml")
    if path.parent.name != "plan"
)  # fmt: skip


@pytest.fixture
def site(tmp_path: Path) -> Path:
    return copied(tmp_path / "site")


def test_a_spoiled_file_of_a_site_is_read_or_told_with_its_place(site: Path) -> None:
    for seed in seeds(15):
        rng = Random(seed)
        name = rng.choice(FILES)
        good = (site / name).read_bytes()
        (site / name).write_bytes(spoiled_bytes(good, rng))
        with bounded():
            faults = faults_in(site)
        assert all(each.file and each.line and each.allowed for each in faults)
        assert max((len(str(each)) for each in faults), default=0) < 5_000
        (site / name).write_bytes(good)


def faults_in(site: Path) -> tuple[Fault, ...]:
    """Read a site; gives what is wrong with it."""
    try:
        read_site(site)
    except SiteFaults as found:
        return found.faults
    return ()


@pytest.mark.parametrize("value", ["9" * 5_000, "[" * 5_000, '"x"\n' + "k" * 5_000])
def test_a_number_a_depth_and_a_name_without_end_are_told(
    site: Path, value: str
) -> None:
    with (site / "site.toml").open("a") as file:
        file.write(f"\nodd = {value}\n")
    told = [str(each) for each in faults_in(site)]
    assert any("site.toml" in each for each in told)
    assert max(map(len, told)) < 1_000
    with (site / "story.toml").open("w") as file:
        file.write(f"title = {value}\n")
    with pytest.raises(PlayFault):
        read_story(site / "story.toml")


def test_a_spoiled_story_is_read_or_told(site: Path) -> None:
    for seed in seeds(200):
        rng = Random(seed)
        story = site / rng.choice(STORIES)
        good = story.read_bytes()
        story.write_bytes(spoiled_bytes(good, rng))
        with bounded(), suppress(PlayFault):
            read_story(story)
        story.write_bytes(good)
