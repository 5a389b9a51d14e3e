"""What is believed and judged before any grade: materials, causes, kinds, and how words are matched."""

from __future__ import annotations

import math

import pytest

from tests.risk.museums import one_element
from triage.records import Material
from triage.risk import risk_values
from triage.risk.materials import prior_of
from triage.risk.tables import packaged
from triage.risk.values import kind_known, values_of


def material(name: str, **more: object) -> Material:
    return Material.model_validate(
        {"material": name, "years_1_to_2": 3, "years_2_to_3": 4, "years_3_to_4": 5, "spread": 2.0, **more}
    )


@pytest.mark.parametrize("row", packaged("kinds.csv"), ids=lambda r: str(r["kind"]))
def test_lost_substance_rises_with_the_grade(row: dict[str, str]) -> None:
    """Nothing lost at grade 1, more at each worse grade, never all, and who judged so."""
    values = values_of(row["kind"])
    assert values.lost[0] == 0.0
    assert list(values.lost) == sorted(set(values.lost))
    assert values.lost[3] < 1.0
    assert 0 < values.original_kept_pct <= 100
    assert "value judgement" in values.source


@pytest.mark.parametrize("row", packaged("materials.csv"), ids=lambda r: str(r["material"]))
def test_every_built_in_material_says_where_it_comes_from(row: dict[str, str]) -> None:
    """A median for each step, a spread above 1, no cause that protects, shares within 0..1, a source."""
    prior = prior_of(row["material"])
    assert min(prior.years) > 0
    assert prior.spread > 1
    assert min(prior.factors.values()) >= 1
    shares = (prior.responses.light, prior.responses.heat, prior.responses.humidity, prior.responses.swing)
    assert all(0 <= s <= 1 for s in shares)
    assert "memory" in prior.source


def test_words_match_as_people_write_them() -> None:
    """Case, spaces, hyphens and other names lead to the same row."""
    assert prior_of("Doped_Linen ").years == prior_of("doped fabric").years
    assert values_of("Wing Covering").kind == "covering"
    assert not kind_known("sundry")
    assert values_of("sundry").kind == "other"


def test_an_unknown_material_takes_a_wide_range() -> None:
    """A material nobody knows: times or divided by 5."""
    assert prior_of("unheard of").spread == 5.0


def test_the_museums_table_overrides_row_by_row() -> None:
    """Its years and spread replace the built-in ones, its factors only the causes it names."""
    own = prior_of("wood", [material("Wood", factors={"leak": 4.0}), material("steel")])
    assert own.years == (3.0, 4.0, 5.0)
    assert own.factors["leak"] == 4.0
    assert own.factors["pests"] == prior_of("wood").factors["pests"]
    assert prior_of("rubber", [material("wood")]) == prior_of("rubber")


def test_a_museums_row_other_serves_what_no_table_names() -> None:
    """Its own 'other' row comes before the built-in one, for unknown materials only."""
    rows = [material("other")]
    assert prior_of("unheard of", rows).years == (3.0, 4.0, 5.0)
    assert prior_of("wood", rows).years == prior_of("wood").years


def test_the_spread_is_a_90_percent_range() -> None:
    """years / spread .. years * spread lies 1.645 standard deviations of the log median about it."""
    prior = prior_of("wood")
    assert prior.log_sd * 1.6448536 == pytest.approx(math.log(prior.spread))


def test_a_cause_is_found_by_its_other_names() -> None:
    """A finding's 'oil leak' uses the column x_leak; an unknown cause takes the row 'other'."""
    own = prior_of("wood", [material("wood", factors={"leak": 4.0, "gremlins": 2.0})])
    assert own.log_factor("Oil leak") == pytest.approx(math.log(4.0))
    assert own.log_factor("gremlins", 1) == pytest.approx(math.log(2.0) / 2)
    assert own.log_factor("never heard of") == pytest.approx(math.log(1.4))


def test_every_table_is_shown_to_its_users() -> None:
    """The museum's materials come first, the built-in ones follow, and kinds are all there."""
    shown = risk_values(one_element([], material="dragon hide"))
    assert shown.materials[0].material == "dragon hide"
    assert {m.material for m in shown.materials} >= {r["material"] for r in packaged("materials.csv")}
    assert len(shown.kinds) == len(packaged("kinds.csv"))
