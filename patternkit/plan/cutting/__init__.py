"""How cloth is cut: the fewest strips and the least length, with a proved bound, on whole numbers only."""

from patternkit.plan.cutting.grid import grid, to_buy
from patternkit.plan.cutting.kits import Kits, kits
from patternkit.plan.cutting.model import (
    CrossCut,
    CutPlan,
    CuttingError,
    CuttingSettings,
    Leftover,
    PieceDemand,
    Strip,
    StripRow,
    StripSegment,
)
from patternkit.plan.cutting.planner import plan
from patternkit.plan.cutting.stock import plan_stock
from patternkit.plan.cutting.stock_model import CutSheet, SheetStrip, StockCloth, StockPlan

__all__ = [
    "CrossCut",
    "CutPlan",
    "CutSheet",
    "CuttingError",
    "CuttingSettings",
    "Kits",
    "Leftover",
    "PieceDemand",
    "SheetStrip",
    "StockCloth",
    "StockPlan",
    "Strip",
    "StripRow",
    "StripSegment",
    "grid",
    "kits",
    "plan",
    "plan_stock",
    "to_buy",
]
