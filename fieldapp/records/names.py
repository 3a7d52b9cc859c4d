"""What paper that rests on no evidence calls people's parts: by the site in force.

A thing without a name is printed by its id, never left out.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from fieldapp.records.figures import span


@dataclass(frozen=True, slots=True, kw_only=True)
class Names:
    """A site's picture, asked by id."""

    site: Mapping[str, Any]

    @property
    def title(self) -> str:
        """Give what the site is called."""
        return str(self.site.get("title", ""))

    @property
    def zone(self) -> int:
        """Give the site's zone, minutes east of UTC."""
        return int(self.site.get("zone", 0))

    def kind(self, kind: str) -> str:
        """Give what a kind of subject is called."""
        return self._titled("kinds", kind)

    def subject(self, subject: str) -> str:
        """Give what a subject is called."""
        return self._titled("subjects", subject)

    def item_kind(self, kind: str) -> str:
        """Give what a kind of item is called."""
        return self._titled("item_kinds", kind)

    def is_planned(self, kind: str) -> bool:
        """Say whether the last day of a kind of item is a day of the programme."""
        known = self.site.get("item_kinds", ())
        return any(each["id"] == kind and each.get("planned") for each in known)

    def roles(self, roles: Iterable[str]) -> str:
        """Give the titles of roles."""
        known = self.site.get("roles", {})
        return ", ".join(str(known.get(each, each)) for each in roles)

    def organisation(self, organisation: str) -> str:
        """Give what an organisation is called."""
        known = self.site.get("organisations", ())
        named = {each["id"]: str(each["name"]) for each in known}
        return named.get(organisation, organisation)

    def signer(self, wanted: Mapping[str, Any]) -> str:
        """Say who may sign: role, organisations, deputies in their turn."""
        said = [self._role(wanted)]
        said += [
            f"{span(each['after_ms'])} after the call {self._role(each)}"
            for each in wanted.get("deputies", ())
        ]
        return "; ".join(said)

    def _role(self, wanted: Mapping[str, Any]) -> str:
        role, bodies = self.roles([wanted["role"]]), wanted.get("organisation", ())
        told = " or ".join(self.organisation(each) for each in bodies)
        return f"{role} ({told})" if told else role

    def _titled(self, sort: str, wanted: str) -> str:
        titles = {each["id"]: str(each["title"]) for each in self.site.get(sort, ())}
        return titles.get(wanted, wanted)
