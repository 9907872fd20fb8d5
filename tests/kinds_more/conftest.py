"""The helpers of these tests are found from the folder above, however the tests are collected."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))
