"""How cloth is cut: the fewest strips and the least length, with a proved bound, on whole numbers only."""

from patternkit.plan.cutting.grid import grid, to_buy
from patternkit.plan.cutting.kits import Kits, kits
from patternkit.plan.cutting.model import Cut, CutPlan, CuttingError, Leftover, Piece, Settings, Strip
from patternkit.plan.cutting.planner import plan

__all__ = [
    "Cut",
    "CutPlan",
    "CuttingError",
    "Kits",
    "Leftover",
    "Piece",
    "Settings",
    "Strip",
    "grid",
    "kits",
    "plan",
    "to_buy",
]
