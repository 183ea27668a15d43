"""What a practice sets about its dispensary: supply, and to what amounts are rounded."""

from __future__ import annotations

from dataclasses import dataclass

from sennight.domain.dispensary.preparing import USUAL_ROUNDING, Rounding
from sennight.domain.supply.settings import USUAL_SUPPLY, SupplySettings


@dataclass(frozen=True, slots=True)
class DispensarySettings:
    """How supply is reckoned, and the smallest steps that are weighed and measured."""

    supply: SupplySettings = USUAL_SUPPLY
    rounding: Rounding = USUAL_ROUNDING
