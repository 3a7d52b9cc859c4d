"""Entries of a revoked key that stand behind its revocation, or not.

What a revocation names existed before it, however late it arrives; what such an entry
names in turn is older still. A revocation of the first versions names nothing: then
the same is asked of every entry from before its place. No time that anybody claims is
looked at.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from fieldapp.lookups.audit.report import Finding, fault, note

_NAMED = re.compile(r'"([0-9a-f]{64})"')


@dataclass(frozen=True, slots=True, kw_only=True)
class Late:
    """An entry of a revoked key: where it stands, whose it is, where the key ended.

    named: what revocations of its key name; empty with those of the first versions.
    """

    id: str
    place: int
    body: str
    who: str
    revoked: int
    named: frozenset[str] = frozenset()


def unwitnessed(late: list[Late], earlier: Iterable[str]) -> Iterator[Finding]:
    """Give the late entries that nothing from before the revocation leads to.

    earlier: the bodies of the entries before the revocation of these entries' key.
    """
    known = [name for body in earlier for name in _NAMED.findall(body)]
    standing = led_to({each.id: each.body for each in late}, known)
    for each in late:
        if each.id not in standing:
            yield _fault(each)


def fallen(
    late: list[Late], device: Mapping[str, str], struck: frozenset[str]
) -> Iterator[Finding]:
    """Give the entries of one key that its revocations do not lead to.

    device: the bodies, by id, of all entries of its device; struck: what is kept as
    not believed, since it came in before the revocation came back.
    """
    standing = led_to(device, late[0].named)
    for each in late:
        where = f"index {each.place}"
        if each.id in standing and each.id in struck:
            yield fault(where, f"{each.who}: is kept as struck, and stands")
        elif each.id not in standing and each.id in struck:
            yield note(where, f"{each.who}: struck, no revocation of its key names it")
        elif each.id not in standing:
            yield _fault(each)


def led_to(bodies: Mapping[str, str], names: Iterable[str]) -> set[str]:
    """Give the ids of those entries (bodies by id) which names lead to."""
    found: set[str] = set()
    known = list(names)
    while known:
        name = known.pop()
        if name in bodies and name not in found:
            found.add(name)
            known += _NAMED.findall(bodies[name])
    return found


def _fault(each: Late) -> Finding:
    told = f"{each.who}: its key was revoked at index {each.revoked}"
    return fault(f"index {each.place}", told)
