"""What a recipe would build: every voicing put on the neck in every key, every card dealt and ordered.

Nothing is drawn and nothing is written here.
"""

from __future__ import annotations

from drills.plan.deck import CAUTION, LEGEND, Plan, plan
from drills.plan.unreached import Unreached

__all__ = ("CAUTION", "LEGEND", "Plan", "Unreached", "plan")
