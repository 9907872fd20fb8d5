"""Patterns with groups of prints, for the tests of this folder."""

from __future__ import annotations

from patternkit.project import Project

HEAD = """units inches
seam 1/4
usable width 40
squaring 0
fabric cream "Cream" light
"""
MILL = """
unit corner(print)
    half-square cream, print

block mill(print) "Mill"
    rows
        corner(print)            | cream | corner(print) turned 90
        cream                    | print | cream
        corner(print) turned 270 | cream | corner(print) turned 180
    finished 9
"""
FAT = """fabrics shore "Shore prints" 12 medium
    sold as fat-quarters 18 x 21
"""


def pattern(body: str, groups: str = FAT, head: str = HEAD) -> Project:
    """A project of a head, its groups, and what is made of them."""
    lines = (
        head.replace("\nseam", "\n    seam").replace("\nusable", "\n    usable").replace("\nsquaring", "\n    squaring")
    )
    return Project("groups.pattern", 'pattern "Groups"\n    ' + lines + groups + body)


def mills(quilt: str, groups: str = FAT) -> Project:
    """Blocks of one print each in a quilt."""
    return pattern(MILL + "\nquilt\n" + quilt, groups)
