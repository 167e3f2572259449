"""The fields of a report of thorough examination, after the schedule of the statute, and which of them one lacks.

LOLER 1998 (SI 1998/2307), Schedule 1, by its paragraphs. 1 to 8(c) were read in a faithful copy (published), the rest
is from memory. Its words are for guidance: the statute itself, local rules and the competent person come first.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from server.kit.due import Piece

PUBLISHED, MEMORY = "published", "memory"


@dataclass(frozen=True)
class Field:
    """One thing that the report must say: the paragraph, where it stands in a piece, its words, how sure that is."""

    paragraph: str
    at: str
    words: str
    status: str


FIELDS = (
    Field("1", "about.employer", "employer for whom it was examined, name and address", PUBLISHED),
    Field("2", "about.premises", "address of the premises where it was examined", PUBLISHED),
    Field("3", "about.identity", "identity of the piece", PUBLISHED),
    Field("4", "about.last_examined", "date of the thorough examination before it, or that there was none", PUBLISHED),
    Field("5", "about.wll_kg", "safe working load", PUBLISHED),
    Field("5", "about.configuration", "configuration for which the safe working load holds", PUBLISHED),
    Field("6", "about.installed_rightly", "whether it was installed rightly (first after installation)", PUBLISHED),
    Field("7", "about.limb", "limb: 6 months, 12 months, scheme, or exceptional", PUBLISHED),
    Field("7", "about.safe_to_operate", "whether the examiner finds it safe to operate: yes or no", PUBLISHED),
    Field("8(a)", "about.defect", "defects that are or could become a danger, or none", PUBLISHED),
    Field("8(b), (c)", "about.repair", "repair that a defect needs, and by when", PUBLISHED),
    Field("8(d)", "dates.due", "latest date of the next thorough examination", MEMORY),
    Field("8(e)", "about.test", "particulars of a test that was part of it, or none", MEMORY),
    Field("8(f)", "dates.examined", "date of the examination", MEMORY),
    Field("9", "about.examiner", "name, address and qualifications of the examiner", MEMORY),
    Field("9", "about.examiner_employer", "examiner's employer, or self-employed", MEMORY),
    Field("10", "about.authenticated_by", "name of the person who authenticates the report", MEMORY),
    Field("11", "about.report_date", "date of the report", MEMORY),
)  # fmt: skip

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
