"""How long a large site takes to be read, checked and compiled."""

import time
from pathlib import Path

from fieldapp.plan import compile_site, read_site
from tests.plan.sample import copied

PIERS = 16
LIMIT_S = 10.0


def large_site(folder: Path, piers_wanted: int = PIERS) -> Path:
    """Make a site of 320 joints: 16 piers with two arms of ten segments."""
    copied(folder)
    for name in ("duct", "grouting_day", "bars_out"):
        (folder / "plan" / f"{name}.toml").unlink()
    piers, segments, joints = [], [], []
    for pier in range(piers_wanted):
        piers.append(
            f'[[piers]]\nid = "p{pier}"\ntitle = "Pier {pier}"\narms = ["a", "b"]\n'
            f"half_length_m = 2.5\nat_m = {pier * 60}\nlevel_m = 45\n"
        )
        for arm in "ab":
            for order in range(1, 11):
                name = f"{pier}{arm}{order}"
                face = min(order, 9)
                # Neither arm more than one ahead of the other.
                other = "ba"["ab".index(arm)]
                before = f"j{pier}{other}{order - 1}" if order > 1 else ""
                segments.append(
                    f"s{name},Segment {name},p{pier},{arm},{order},3.0,2.5,42,440,1.5"
                )
                joints.append(
                    f"j{name},glued-joint,s{name},face-{face},six-{face},"
                    f"Joint {name},1L 1R,{before},{10 - order},"
                )
    site = (folder / "site.toml").read_text("utf-8")
    head, tail = site[: site.index("[[piers]]")], site[site.index("[item_kinds") :]
    head = "\n".join(row for row in head.splitlines() if not row.startswith("kinds"))
    text = "\n".join([head, *piers, tail])
    (folder / "site.toml").write_text(text, "utf-8")
    _table(folder / "segments.csv", segments)
    _table(folder / "joints.csv", joints)
    return folder


def _table(path: Path, rows: list[str]) -> None:
    head = path.read_text("utf-8").splitlines()[0]
    path.write_text("\n".join([head, *rows]) + "\n", "utf-8")


def test_a_site_of_320_joints_compiles_in_ten_seconds_of_work(
    tmp_path: Path,
) -> None:
    folder = large_site(tmp_path / "site")
    start = time.process_time()
    compiled = compile_site(read_site(folder))
    took_s = time.process_time() - start
    count = len(compiled.sheets)
    print(f"\n{count} joints compiled in {took_s:.2f} s of processor time")
    assert len(compiled.sheets) == 320
    assert took_s < LIMIT_S
