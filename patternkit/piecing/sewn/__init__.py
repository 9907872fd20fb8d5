"""Sizes as they are sewn: what is solved is rounded to the ruler once, before anything is made from it."""

from patternkit.piecing.sewn.model import Change, Rounded, RoundingTrouble, SewnSizes

__all__ = ["Change", "Rounded", "RoundingTrouble", "SewnSizes"]
