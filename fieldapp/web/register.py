"""The register's pages: every item by kind, and one item traced to its readings.

Items are registered on a phone, since only a person's own key can sign; what the
site's files name is registered by the office when they are loaded.
"""

from flask import Blueprint, abort, request

from fieldapp.lookups.register import never_counted, register_of
from fieldapp.store.register import roles_that_register
from fieldapp.web.access import Answer, signed_in
from fieldapp.web.desk import desk, front, page
from fieldapp.web.reading import once_read
from fieldapp.web.register_page import item_page, register_page

LONGEST_SEARCH = 64
register = Blueprint("register", __name__, url_prefix="/register")


@register.get("/")
@signed_in
@once_read
def item_list() -> Answer:
    """List the register by kind: expiry, uses, what ends this week; `q` narrows it."""
    here = front()
    items, refused = register_of(here.reader), never_counted(here.reader)
    roles = roles_that_register(here.reader.store)
    told = ", ".join(here.names.roles.get(role, role) for role in roles)
    wanted = request.args.get("q", "").strip()[:LONGEST_SEARCH]
    shown = register_page(here, items, refused, wanted)
    return page("register.html", here, may_register=told, **shown)


@register.get("/<item>")
@signed_in
@once_read
def one_item(item: str) -> Answer:
    """Show one item: its certificates, and every subject and reading that used it."""
    here = desk()
    found = next((i for i in register_of(here.reader) if i.id == item), None)
    if found is None:
        abort(404)
    return page("item.html", here, **item_page(here, found))
