"""What the next crew must be told: missing, unfit, overdue, disputed, unsigned, not arrived, given up."""

from collections.abc import Sequence
from typing import Any

from server.logbook import instant
from server.logbook.fold import Fold
from server.logbook.heads import heads
from server.logbook.held import Held
from server.logbook.steps import sheets
from server.logbook.values import standing
from server.logbook.views.carried import unfit_together
from server.logbook.views.definition import Definition, amended
from server.logbook.views.in_use import used_though
from server.logbook.views.position import given_up, signed_state
from server.logbook.views.reconcile import reconcile
from server.logbook.views.sheet import signatures_on
from server.logbook.views.shown import counting_of, state_of, values_shown

View = dict[str, Any]


def report(fold: Fold, definition: Definition) -> View:
    """The report's view.

    What is missing, extra, away, astray or not counted is as `reconcile` says; `heard` is the latest that each
    device wrote of what is here, by its own clock.
    """
    held = fold.held
    now = amended(fold, definition)
    every = list(sheets(held))
    devices = heads(held.all())
    gone = ((one["id"], given_up(held, one["id"])) for one in now["positions"])
    return {
        **reconcile(held, now),
        "unserviceable": _in_state(held, now["kit"], "unserviceable"),
        "suspect": _in_state(held, now["kit"], "suspect"),
        "used_though": used_though(held, now["kit"]),
        "carried": unfit_together(held, now["kit"]),
        "overdue": [
            {"tag": one["tag"], "due": one["dates"]["due"]}
            for one in now["kit"]
            if (one.get("dates") or {}).get("due") and one["dates"]["due"] < now["ends"]
        ],
        "disputed": [one for one in held.subjects() if standing(held, one).state == "disputed"],
        "unsigned": [one for one in every if not signatures_on(held, one)],
        "changed": [
            {
                "sheet": one,
                "subjects": sorted({s for sign in signatures_on(held, one) for s in sign["subjects"]}),
            }
            for one in every
            if signed_state(held, one)["changed"]
        ],
        "not_arrived": [
            {"key": key, "person": _person(held, key), "gaps": found["gaps"]}
            for key, found in devices.items()
            if found["gaps"]
        ],
        "heard": [{"key": key, "person": _person(held, key), "at": _last_at(held, key)} for key in devices],
        "given_up": [{"position": one, "value": value} for one, value in gone if value is not None],
        "faults": counting_of(held, "fault"),
        "accepted": counting_of(held, "accept"),
    }


def _in_state(held: Held, kit: Sequence[View], state: str) -> list[View]:
    return [
        {"tag": one["tag"], "values": values_shown(held, f"kit/{one['tag']}/state")}
        for one in kit
        if state_of(held, one["tag"]) == state
    ]


def _person(held: Held, key: str) -> str:
    return ", ".join(sorted({card.person for card in held.cards_of_key(key)}))


def _last_at(held: Held, key: str) -> str:
    return max((entry.at for entry in held.of_device(key)), key=instant.parse, default="")
