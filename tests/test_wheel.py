"""A wheel carries the package with its pages and scripts, and nothing else."""

import zipfile
from pathlib import Path

from hatchling.builders.wheel import WheelBuilder

from tests.sources import ROOT, name_of, project_files

VENDOR = ROOT / "static" / "vendor"
CARRIED = {"fieldapp": "", "static": "fieldapp/", "templates": "fieldapp/"}


def test_a_wheel_carries_the_package_its_pages_and_its_scripts(tmp_path: Path) -> None:
    wheel = next(WheelBuilder(str(ROOT)).build(directory=str(tmp_path)))
    with zipfile.ZipFile(wheel) as opened:
        found = {name for name in opened.namelist() if ".dist-info/" not in name}
    own = {
        CARRIED[top] + name_of(path)
        for path in project_files()
        if (top := path.relative_to(ROOT).parts[0]) in CARRIED
    }
    # Scripts of others are no files of the project, but a phone needs them.
    brought = {f"fieldapp/{name_of(path)}" for path in VENDOR.glob("*.js")}
    assert found == own | brought


def test_the_command_is_declared(tmp_path: Path) -> None:
    wheel = next(WheelBuilder(str(ROOT)).build(directory=str(tmp_path)))
    with zipfile.ZipFile(wheel) as opened:
        (declared,) = (n for n in opened.namelist() if n.endswith("entry_points.txt"))
        assert "fieldapp = fieldapp.cli:main" in opened.read(declared).decode()
