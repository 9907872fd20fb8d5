"""Flipped corners: squares over some or all corners of a rectangle."""

from __future__ import annotations

from patternkit.piecing.sewing.flips import flips as batches

__all__ = ["batches"]
