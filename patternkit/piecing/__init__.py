"""Piecing: sized units as exact polygons, with their seams in sewing order and what is cut for them."""
