"""Checks a proof in fractions.

    python tests/proof PROOF BRIEF [HOUSE]

Exit status 0: every leaf is closed, and nothing is said of the brief that it does not say; 1: not so.
"""
import pathlib
import sys

from plain import holds

try:
    found = holds(*(pathlib.Path(path).read_text() for path in sys.argv[1:4]))
    print("%s: holds, %d leaves, %d figures of the brief compared" % (sys.argv[1], *found))
except Exception as why:
    # Whatever goes wrong, nothing is proved.
    sys.exit(f"{sys.argv[1]}: refused: {why!r}")
