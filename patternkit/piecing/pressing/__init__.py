"""Pressing: every joint of the quilt, which of them nest, and the plan by which as many as possible do."""

from patternkit.piecing.pressing.conflicts import Change, Conflict, conflicts, verdict
from patternkit.piecing.pressing.joints import Joint, SeamEnd, Tree, find_joints

__all__ = ["Change", "Conflict", "Joint", "SeamEnd", "Tree", "conflicts", "find_joints", "verdict"]
