"""The desk tells a rule by the words of the rule that was broken, no namesake."""

from fieldapp.web.wording import wording
from tests.plan.sample import compiled


def test_a_clock_that_ran_out_is_told_by_its_own_words_though_names_are_alike() -> None:
    duct = compiled().sheets["t-2L"]
    told = wording(duct, {"steps": {}, "nonconformances": []}, people={}, zone=0)
    by = {
        clock["id"]: told.fault(
            {"id": "f", "code": "clock_over", "step": clock["start"], "check": "by"}
        )
        for clock in duct["clocks"]
        if any(ratio["id"] == "by" for ratio in clock["ratios"])
    }
    assert len(by) == len(set(by.values())) > 1
    assert "strand" in by["in-duct"].lower()
    assert "batch" in by["pumpable"].lower()
