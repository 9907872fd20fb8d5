"""Sound patterns with everything that the language has, each from a seed.

``pattern(seed)`` is checked, ``write(seed)`` is not; ``python -m tests.generate 100 --out FOLDER`` writes files.
"""

from .sound import pattern, problems
from .strategy import patterns
from .whole import FEATURES, write

__all__ = ["FEATURES", "pattern", "patterns", "problems", "write"]
