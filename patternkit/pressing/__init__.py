"""Pressing: every joint of the quilt, which of them nest, and the plan by which as many as possible do.

`joints` finds them, `conflicts` judges them, `bulk` counts layers, `statements` applies the writer's words, `planner`
finds the best plan. Nothing is imported here: a check needs no planner.
"""
