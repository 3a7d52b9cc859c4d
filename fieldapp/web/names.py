"""What the site calls its people, roles, organisations, subjects and kinds.

Ids come from the plan; what has no name here is shown as it is.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fieldapp.lookups import Reader, people_of_plan, roster_of, site_picture
from fieldapp.records.certificates import quantities_of
from fieldapp.web.display import figure, lasting

Names = Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteNames:
    """Names by id, the site's own title, and its minutes east of UTC.

    quantities: unit and places of a certificate's number, by `kind/number`; a title
    where its id is no word for a person; planned: kinds of item whose last day is a day
    of the programme.
    """

    site: str
    zone: int
    people: Names
    roles: Names
    organisations: Names
    subjects: Names
    kinds: Names
    item_kinds: Names
    quantities: Mapping[str, Mapping[str, Any]]
    planned: frozenset[str]

    def person(self, person: str) -> str:
        """Give a person's name."""
        return self.people.get(person, person)

    def subject(self, subject: str) -> str:
        """Give a subject's title."""
        return self.subjects.get(subject, subject)

    def kind(self, kind: str) -> str:
        """Give what a kind of subject is called."""
        return self.kinds.get(kind, kind)

    def item_kind(self, kind: str) -> str:
        """Give what a kind of item is called."""
        return self.item_kinds.get(kind, kind)

    def number(self, kind: str, name: str, value: int) -> str:
        """Give a number of an item's certificate with its unit, where it has one."""
        known = self.quantities.get(f"{kind}/{name}", {})
        return figure(value, known.get("places", 0), known.get("unit", ""))

    def number_title(self, kind: str, name: str) -> str:
        """Give what a number of an item's certificate is called."""
        return str(self.quantities.get(f"{kind}/{name}", {}).get("title", name))

    def signer(self, wanted: Mapping[str, Any]) -> str:
        """Say who may give a release: role, organisation, deputies in their turn."""
        text = self.role(wanted)
        for deputy in wanted.get("deputies", ()):
            text += (
                f"; {lasting(deputy['after_ms'])} after the call {self.role(deputy)}"
            )
        return text

    def signers(self, wanted: list[dict[str, Any]], joined: str = " and ") -> str:
        """Say who must (or, joined by `or`, may) sign."""
        return joined.join(self.signer(each) for each in wanted)

    def role(self, wanted: Mapping[str, Any]) -> str:
        """Say a role with the organisations it must belong to."""
        role = self.roles.get(wanted["role"], wanted["role"])
        named = wanted.get("organisation", ())
        of = [named] if isinstance(named, str) else named
        told = ", ".join(self.organisations.get(each, each) for each in of)
        return f"{role} ({told})" if told else role


def site_names(reader: Reader) -> SiteNames:
    """Gather what the site in force calls everything."""
    picture = site_picture(reader.store) or {}
    people = {each["id"]: each["name"] for each in people_of_plan(reader.store)}
    enrolled = {p: known.get("name", p) for p, known in roster_of(reader).items()}
    return SiteNames(
        site=picture.get("title", ""),
        zone=picture.get("zone", 0),
        people=people | enrolled,
        roles=picture.get("roles", {}),
        organisations={o["id"]: o["name"] for o in picture.get("organisations", ())},
        subjects={each["id"]: each["title"] for each in picture.get("subjects", ())},
        kinds={each["id"]: each["title"] for each in picture.get("kinds", ())},
        item_kinds={k["id"]: k["title"] for k in picture.get("item_kinds", ())},
        quantities=quantities_of(picture),
        planned=frozenset(
            k["id"] for k in picture.get("item_kinds", ()) if k.get("planned")
        ),
    )
