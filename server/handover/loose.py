"""What stands on no step: remarks, photos and readings at a position, a locker, or anywhere else."""

from collections.abc import Callable, Iterable
from typing import Any

from server.handover import steps
from server.handover.photos import Photos
from server.handover.saying import Saying
from server.logbook import views
from server.logbook.entry import Entry
from server.logbook.fold import Fold
from server.logbook.judge import counts
from server.logbook.positions import is_slot
from server.logbook.steps import step_of
from server.logbook.values import by_name
from server.logbook.views.shown import is_at_or_below

View = dict[str, Any]
TOLD_ELSEWHERE = {
    *("fault", "event", "sign", "withdraw", "witness", "accept", "amend"),
    *("show", "close", "revoke", "admit", "hand-over"),
}
WORDS = {"remark", "photo"}


def under(fold: Fold, tops: Iterable[str], saying: Saying, photos: Photos) -> list[View]:
    """What stands at some subjects and below and on no step there, but what has its own place on these pages."""
    here = tuple(tops)

    def is_here(entry: Entry) -> bool:
        return (
            any(is_at_or_below(entry.subject, top) for top in here)
            and entry.kind not in TOLD_ELSEWHERE
            and not is_slot(entry.subject)
            and not entry.subject.endswith("/given-up")
        )

    found = _counting(fold, is_here)
    told = steps.evidence(found, saying, photos)
    return [_placed(one, of["subject"], here, saying) for one, of in zip(told, found, strict=True)]


def _placed(told: View, subject: str, tops: tuple[str, ...], saying: Saying) -> View:
    """With the subject before its words, where it is not one of those that are named already."""
    return told if subject in tops else told | {"states": f"{saying.place(subject)}: {told['states']}"}


def elsewhere(fold: Fold, tops: Iterable[str], saying: Saying, photos: Photos) -> list[View]:
    """Remarks and photos on no step and at none of these subjects, each with `where`: on kit, on the show."""
    others = tuple(tops)

    def is_elsewhere(entry: Entry) -> bool:
        return entry.kind in WORDS and not any(is_at_or_below(entry.subject, top) for top in others)

    found = _counting(fold, is_elsewhere)
    told = [
        one | {"where": saying.subject(of["subject"])}
        for one, of in zip(steps.evidence(found, saying, photos), found, strict=True)
    ]
    return sorted(told, key=lambda one: (str(one["where"]), str(one["at"])))


def _counting(fold: Fold, picks: Callable[[Entry], bool]) -> list[View]:
    return [
        views.shown(entry) | {"subject": entry.subject}
        for entry in by_name(fold.held.all())
        if picks(entry) and step_of(fold.held, entry.subject) is None and counts(fold.held, entry)
    ]
