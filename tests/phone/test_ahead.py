"""The phone says since when and until when the other arm may be a segment ahead."""

from tests.phone.gang import Gang

OTHER = "Other arm one segment ahead"


def test_the_arm_behind_sees_the_limit_and_an_unheard_arm_allows_nothing(
    gang: Gang,
) -> None:
    phone = gang.phone
    # W1 hangs and E1 does not: E1 is what the limit is about.
    phone.page.evaluate("location.hash = '#/joint/j-e1'")
    phone.sees("Joint E1", "#head")
    phone.sees(OTHER, "#minutes")
    phone.sees("Hang here by", "#minutes")
    # Of W2 and E2 neither is known to hang, which does not say that none does.
    phone.page.evaluate("location.hash = '#/joint/j-e2'")
    phone.sees("Joint E2", "#head")
    phone.sees("nobody recorded it, as heard", "#minutes")
    phone.sees("It may be so all the same.", "#minutes")
    # W1 itself hangs: there is nothing to say of an arm that is not behind.
    gang.open_joint()
    assert OTHER not in phone.page.inner_text("#screen")
