"""Pressing: every joint of the quilt, which of them nest, and the plan by which as many as possible do."""

from patternkit.piecing.pressing.conflicts import Change, Conflict, conflicts, verdict
from patternkit.piecing.pressing.joints import Joint, SeamEnd, Tree, find_joints
from patternkit.piecing.pressing.statements import apply_press, press_making

__all__ = ["Change", "Conflict", "Joint", "SeamEnd", "Tree", "apply_press", "conflicts", "find_joints", "press_making", "verdict"]
