"""Pressing: every joint of the quilt, which of them nest, and the plan by which as many as possible do."""

from patternkit.piecing.pressing.bulk import Layers, Lying, bulk, lying_badly
from patternkit.piecing.pressing.conflicts import Change, Conflict, conflicts, verdict
from patternkit.piecing.pressing.joints import Joint, SeamEnd, Tree, find_joints
from patternkit.piecing.pressing.planner import PressPlan, apply_plan, plan_pressing
from patternkit.piecing.pressing.puzzle import PressOptions
from patternkit.piecing.pressing.statements import apply_press, press_making

__all__ = ["Change", "Conflict", "Joint", "Layers", "Lying", "PressOptions", "PressPlan", "SeamEnd", "Tree",
           "apply_plan", "apply_press", "bulk", "conflicts", "find_joints", "lying_badly", "plan_pressing",
           "press_making", "verdict"]
