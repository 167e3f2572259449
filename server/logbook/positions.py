"""What stands at the positions: the links of each chain, by the assigns of their slots."""

import json
import re

from server.logbook.held import Held
from server.logbook.judge import counts
from server.logbook.steps import Step
from server.logbook.values import settled

_SLOT = re.compile(r"position/[^/]+/chain/[^/]+")


def is_slot(subject: str) -> bool:
    """Whether a subject is a slot of a chain."""
    return _SLOT.fullmatch(subject) is not None


def slot_for(subject: str, link: str) -> str | None:
    """The slot of a link at the position that a subject belongs to; None where it belongs to none."""
    kind, _, rest = subject.partition("/")
    return f"position/{rest.partition('/')[0]}/chain/{link}" if kind == "position" and rest else None


def tags_in(held: Held, slot: str) -> list[str] | None:
    """The tags that stand in a slot, in order; None where it is unset or disputed."""

    def found() -> list[str] | None:
        assign = settled(held, slot)
        if assign is None or assign.kind != "assign":
            return None
        tag = assign.body.get("tag")
        return tags_of(assign.body.get("tags") if tag is None else tag)

    return held.memo.answer(f"tags {slot}", found)


def is_in_two_places(held: Held, step: Step) -> bool:
    """Whether a tag that a step is about stands in another slot too."""
    slots = (slot_for(step["subject"], link) for link in step["about"])
    tags = [tag for slot in slots if slot is not None for tag in tags_in(held, slot) or ()]
    return any(len(slots_of_tag(held, tag)) > 1 for tag in tags)


def slots_of_tag(held: Held, tag: str) -> set[str]:
    """The slots in which a tag stands, at all positions."""
    return _slots_of_tags(held).get(tag, set())


def tags_of(stated: object) -> list[str] | None:
    """Tags as a list, from a chain or an assign: one tag, or those of a run in order; None where none is named."""
    if stated is None:
        return None
    tags = stated if isinstance(stated, list) else [stated]
    return [tag if isinstance(tag, str) else json.dumps(tag) for tag in tags]


def _slots_of_tags(held: Held) -> dict[str, set[str]]:
    def found() -> dict[str, set[str]]:
        slots: dict[str, set[str]] = {}
        for entry in held.of_kind("assign"):
            if is_slot(entry.subject) and counts(held, entry):
                for tag in tags_in(held, entry.subject) or ():
                    slots.setdefault(tag, set()).add(entry.subject)
        return slots

    return held.memo.answer("slots of tags", found)
