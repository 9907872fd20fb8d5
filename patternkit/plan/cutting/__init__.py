"""How cloth is cut: the fewest strips and the least length, with a proved bound, on whole numbers only."""

from patternkit.plan.cutting.grid import grid, to_buy
from patternkit.plan.cutting.kits import Kits, kits
from patternkit.plan.cutting.model import Cut, CutPlan, CuttingError, Leftover, Piece, Settings, Strip
from patternkit.plan.cutting.planner import plan
from patternkit.plan.cutting.stock import plan_stock
from patternkit.plan.cutting.stock_model import Sheet, SheetStrip, Stock, StockPlan

__all__ = [
    "Cut",
    "CutPlan",
    "CuttingError",
    "Kits",
    "Leftover",
    "Piece",
    "Settings",
    "Sheet",
    "SheetStrip",
    "Stock",
    "StockPlan",
    "Strip",
    "grid",
    "kits",
    "plan",
    "plan_stock",
    "to_buy",
]
