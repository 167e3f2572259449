"""What stands beside every lifting figure, and who passes it."""

from __future__ import annotations

PASSED_BY = "the lift leader"
CAUTIONS = (
    "Keep everybody out from under the load and out of the area round it; guide it with tag lines.",
    "No lifting in lightning, nor in more wind than the maker of the structure allows.",
    "Walk the path of the load and agree the signals first; at height: harness, helmet, rescue plan.",
    "Gear that was dropped, overloaded or damaged stays out of use until it has been examined.",
    "Nothing here lifts persons. Local rules and a competent person plan, inspect and decide.",
)
