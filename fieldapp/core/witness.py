"""Which entries were there before a key was revoked, said by hashes and not by clocks.

An entry whose id stands in the bytes of an older one existed before that: nobody can
name a hash that is still to be made. What it names in turn is older still.
"""

import re
from collections.abc import Iterable, Mapping

_NAMED = re.compile(r'"([0-9a-f]{64})"')


def witnessed(late: Mapping[str, str], earlier: Iterable[str]) -> list[str]:
    """Give the ids, sorted, of late entries which earlier ones lead to.

    late: bodies by id, entries that came after the revocation; earlier: bodies of
    entries from before it.
    """
    return led_to(late, (name for body in earlier for name in _named_in(body)))


def led_to(bodies: Mapping[str, str], names: Iterable[str]) -> list[str]:
    """Give the ids, sorted, of those entries (bodies by id) which names lead to."""
    found = {name for name in names if name in bodies}
    queue = sorted(found)
    for each in queue:
        for name in _named_in(bodies[each]):
            if name in bodies and name not in found:
                found.add(name)
                queue.append(name)
    return sorted(found)


def _named_in(body: str) -> list[str]:
    """Give every hash that stands in the bytes of an entry."""
    return _NAMED.findall(body)
