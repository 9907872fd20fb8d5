"""Sizes: equations with causes, solved exactly, and what to say when they do not agree."""

from patternkit.sizes.affine import Affine, NotLinear
from patternkit.sizes.causes import Cause, Var, adds_up, claimed, same, stated, structure
from patternkit.sizes.open_sizes import FreeGroup
from patternkit.sizes.solution import Contradiction, ContradictionTerm, Solution
from patternkit.sizes.system import System

__all__ = [
    "Affine",
    "Cause",
    "Contradiction",
    "ContradictionTerm",
    "FreeGroup",
    "NotLinear",
    "Solution",
    "System",
    "Var",
    "adds_up",
    "claimed",
    "same",
    "stated",
    "structure",
]
