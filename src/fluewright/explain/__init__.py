"""What a requirement asks and why, how to see it, its limits in each edition, and who mends it.

The prose is data (``data/rules``), in plain words and without a figure of any edition; the
figures come from the editions, so that the two cannot contradict each other.
"""

from fluewright.explain.out import explain_json, explain_text, place_text
from fluewright.explain.prose import Prose, prose_from
from fluewright.explain.tree import Explanation, explanation

__all__ = [
    "Explanation",
    "Prose",
    "explain_json",
    "explain_text",
    "explanation",
    "place_text",
    "prose_from",
]
