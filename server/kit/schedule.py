"""The fields of a report of thorough examination, after the schedule of the statute, and which of them one lacks.

LOLER 1998 (SI 1998/2307), Schedule 1, by its paragraphs. 1 to 8(c) were read in a faithful copy (published), the rest
is from memory. Its words are for guidance: the statute itself, local rules and the competent person come first.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from server.kit.due import Piece


@dataclass(frozen=True)
class Field:
    """One thing that the report must say: the paragraph, where it stands in a piece, its words, how sure that is."""

    paragraph: str
    at: str
    words: str
    status: str


SCHEDULE = Path(__file__).parents[2] / "static" / "kit" / "schedule.json"
FIELDS = tuple(Field(**row) for row in json.loads(SCHEDULE.read_text()))
"""As phones have them too."""

NONE = "none"


def lacking(piece: Piece) -> Sequence[Field]:
    """The fields that the report of a piece's last thorough examination lacks, in the order of the schedule.

    Paragraph 6 is asked for where `about.first_after_installation` is yes, and 7 where it is not; 8(b) and (c) where
    there is a defect. A report that lacks one is incomplete.
    """
    about = piece["about"]
    first, defect = about.get("first_after_installation") == "yes", about.get("defect", NONE) != NONE
    asked = {"6": first, "7": not first, "8(b), (c)": defect}
    return [field for field in FIELDS if asked.get(field.paragraph, True) and not _of(piece, field.at)]


def _of(piece: Piece, at: str) -> object:
    group, key = at.split(".")
    return piece[group].get(key)
