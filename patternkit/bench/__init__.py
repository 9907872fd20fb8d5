"""Measurements of the planners on published and generated cases."""
