"""The second mark: on another phone, as far as an entry of that phone proves it.

The phones are the program's own modules in Node.
"""

from tests.javascript import JavaScript
from tests.people import INSPECTOR
from tests.simulation.house import House
from tests.simulation.test_lost import note, phone_of, show


def test_what_another_phone_has_read_is_marked_once_an_entry_of_it_says_so(
    house: House, javascript: JavaScript
) -> None:
    gang = phone_of(house, javascript, "gang")
    other = phone_of(house, javascript, "other", INSPECTOR)
    gang.sync()
    first, second = note(gang, "one"), note(gang, "two")
    third = note(gang, "three, shown to nobody")
    show(gang, other, first, second)
    assert gang.elsewhere() == set(), "shown is not read"
    answer = note(other, "seen", INSPECTOR)
    assert show(other, gang, answer)["fresh"] == 1
    assert gang.elsewhere() == {first, second}
    assert gang.waiting() >= {first, second, third}
    gang.sync()
    assert gang.waiting() == set()


def test_an_entry_that_is_not_believed_proves_nothing(
    house: House, javascript: JavaScript
) -> None:
    gang = phone_of(house, javascript, "gang")
    # Enrolled after the gang last heard of the office: nobody it knows.
    other = phone_of(house, javascript, "other", INSPECTOR)
    first = note(gang, "one")
    show(gang, other, first)
    answer = note(other, "seen", INSPECTOR)
    assert show(other, gang, answer)["apart"] == 1
    assert gang.elsewhere() == set()
