"""Random histories of devices that each write from what they hold: forks, gaps, revocations, wrong roles, events.

The same seed gives the same history (signatures differ, names do not). They are our own, beside the shared vectors'.
"""

import json
import random
from typing import Any

from server.crew import jws
from server.logbook.carried import about, is_of_kit
from server.logbook.entry import parse
from tests.logbook.book import Crew, Device, sheet, step

LOG = "show-2"
BEFORE = "show-1"
RIG = "position/2/rig"
LINE_UP = "position/2/line-up"
STOW = "locker/L1/stow"
ROLES = ["rigger", "camera", "engineer", "lift-leader", "sound", "driver"]
TAGS = ["LEN-1", "LEN-2", "CAM-1", "DRM-1", "DRM-2"]
EVENTS = ["hoisted", "knocked", "power-dip", "dusk"]
NOT_HERE = [jws.sha256(f"written elsewhere {n}".encode()) for n in range(4)]

SHEETS = [
    sheet(
        RIG,
        step(f"{RIG}/legs", roles=["rigger"], ended_by=["knocked"]),
        step(f"{RIG}/hoist", roles=["lift-leader"], hazard=True, after=[f"{RIG}/legs"], minutes=30),
        step(f"{RIG}/lens-on", about=["lens"], after=[f"{RIG}/legs"], ended_by=["hoisted"], roles=["camera", "rigger"]),
        step(f"{RIG}/cable", about=["run", "control"], after=[f"{RIG}/lens-on", f"{STOW}/count"], roles=[]),
    ),
    sheet(
        LINE_UP,
        step(
            f"{LINE_UP}/holds",
            asks="choice",
            after=[f"{RIG}/lens-on"],
            about=["lens", "body"],
            choices=[{"id": "holds", "label": "Holds", "done": True}, {"id": "soft", "label": "Soft", "done": False}],
        ),
        step(f"{LINE_UP}/level", asks="reading", minutes=120, ended_by=EVENTS, roles=["engineer"]),
        step(f"{LINE_UP}/chart", asks="photo", after=[f"{LINE_UP}/level"], roles=["engineer", "camera"]),
    ),
    sheet(
        STOW,
        step(f"{STOW}/count", asks="count", items={"LEN-1": "1", "LEN-2": "2.0"}, minutes=60, ended_by=["dusk"]),
        step(f"{STOW}/seal", after=[f"{STOW}/count", "position/9/nowhere"]),
    ),
]  # fmt: skip
STEPS = {one["subject"]: one for text in SHEETS for one in json.loads(text["text"])["steps"]}

DEFINITION = {
    "ends": "2031-05-05",
    "positions": [{"id": "2"}],
    "lockers": [
        {"id": "L1", "vehicle": "VAN", "name": "lenses", "holds": [{"tag": "LEN-1", "number": "1"}]},
        {"id": "R1", "vehicle": "VAN", "name": "drums", "holds": []},
    ],
    "kit": [
        {"tag": tag, "name": tag, "type": "lens", "home": "L1", "dates": {}, "about": {}} for tag in TAGS
    ],
    "people": [],
}
VIEWS = [
    *(["sheet", one["id"]] for one in SHEETS),
    ["locker", "L1"],
    ["locker", "R1"],
    ["position", "2"],
    *(["kit", tag] for tag in TAGS[:3]),
    ["report"],
    ["amended"],
]


class _Maker:
    def __init__(self, seed: int, length: int) -> None:
        self.random = random.Random(seed)  # noqa: S311 - histories, not secrets
        self.crew = Crew(f"histories {seed}")
        self.holds: dict[str, dict[str, list[Any]]] = {}
        self.files: dict[str, str] = {}
        self.people = [f"person-{n}" for n in range(self.random.randint(2, 4))]
        chief = self.crew.device("chief", "chief", *self._some(ROLES, 2))
        self.server = self.crew.device("server", "server")
        self.devices = [chief]
        for n in range(self.random.randint(2, 5)):
            person = self.people[n % len(self.people)]
            self.devices.append(self.crew.device(person, *self._some(ROLES, self.random.randint(2, 4))))
        for _ in range(length):
            log = LOG if self.random.random() < 0.75 else BEFORE
            self.meet(log)
            self.write(self.random.choice(self.devices), log)
        if self.random.random() < 0.3:
            self.write_revocation(self.server, LOG)

    def _some(self, among: list[Any], most: int) -> list[Any]:
        return self.random.sample(among, min(most, len(among)))

    def held(self, device: Device, log: str) -> list[Any]:
        return self.holds.setdefault(log, {}).setdefault(device.kid, [])

    def meet(self, log: str) -> None:
        """Now and then one device hears what another holds, or the beginning of it."""
        if self.random.random() < 0.4:
            one, other = self._some(self.devices, 2) if len(self.devices) > 1 else self.devices * 2
            known = {entry.name for entry in self.held(one, log)}
            heard = [entry for entry in self.held(other, log) if entry.name not in known]
            self.held(one, log).extend(heard[: self.random.randint(0, len(heard))])

    def write(self, device: Device, log: str) -> None:
        chance = self.random.random()
        mine = [entry for entry in self.held(device, log) if entry.kid == device.kid]
        if mine and chance < 0.03:
            back = self.random.choice(mine)
            device.go_back(log, back.number, back.name)
        if chance > 0.985:
            self.write_revocation(device, log)
        elif chance > 0.955:
            self.write_amend(device, log)
        elif chance > 0.89:
            self.write_withdraw(device, log)
        else:
            subject, kind, body = self.stated(device, log)
            self.sign(device, log, subject, kind, body, replaces=self.replaced(device, log, subject))

    def stated(self, device: Device, log: str) -> tuple[str, str, dict[str, Any]]:
        pick = self.random.choice
        subject = pick([*STEPS, f"{RIG}/lens-on", f"{RIG}/legs", f"{LINE_UP}/level"])
        asks = STEPS[subject]["asks"]
        position = pick(["position/2", "position/2/rig", "position/3", "show", "locker/L1", subject])
        slot = pick(["lens", "lens", "body", "run", "control"])
        drums: Any = {"tags": self._some(TAGS[3:], pick([1, 2]))}
        tag = {"tag": pick([*TAGS[:3], None])}
        thing = f"kit/{pick(TAGS)}"
        known = [entry.name for entry in self.held(device, log)]
        item = pick(["LEN-1", "LEN-1", "LEN-2", "DRM-1"])
        figure = pick(["0.70", "0.7", "0.68"])
        by_step = {
            "tick": (subject, "tick", {}),
            "choice": (subject, "choice", {"choice": pick(["holds", "soft", "other"])}),
            "reading": (
                subject,
                "reading",
                {"figure": figure, "unit": "V", "low": "0.68", "high": None, "limit_of": "x"},
            ),
            "photo": (subject, pick(["photo", "tick"]), {"file": NOT_HERE[0]}),
            "count": (f"{subject}/{item}", "count", {"number": pick(["1", "1.0", "2", "0"])}),
        }
        return pick(
            [
                *[by_step[asks]] * 6,
                (subject, "reopen", {"reason": pick(["slipped", "found loose"])}),
                (position, "event", {"event": pick(EVENTS)}),
                (position, "event", {"event": pick(EVENTS)}),
                (f"position/{pick(['22', '3'])}/chain/{slot}", "assign", drums if slot == "run" else tag),
                *[(f"position/2/chain/{slot}", "assign", drums if slot == "run" else tag)] * 2,
                (
                    f"{thing}/state",
                    "state",
                    {"state": pick(["serviceable", "suspect", "unserviceable"])},
                ),
                (f"{thing}/place", "place", {"where": pick(["locker/L1", "locker/R1", "position/2"])}),
                (thing, "record", {"fields": {"mass_kg": pick(["4", "4.1"])}}),
                (thing, "fault", {"text": "soft wide", "about": pick(TAGS)}),
                (f"{subject}", "remark", {"text": "in rain"}),
                (subject, "witness", {}),
                ("position/2/given-up", "choice", {"choice": pick(["out", "restored"])}),
                (subject, "waltz", {"steps": 3}),
                (subject, pick(["choice", "count", "reading"]), {"number": 5}),
                (RIG, "sign", self.signature(known)),
                ("show", "close", {"heads": {}, "given_up": {}}),
            ]
        )

    def signature(self, known: list[str]) -> dict[str, Any]:
        sheet_id = self.random.choice(SHEETS)
        digest = self.random.choice([jws.sha256(sheet_id["text"].encode())] * 4 + NOT_HERE[:1])
        return {"sheet": sheet_id["id"], "digest": digest, "covers": self._some([*known, *NOT_HERE[:1]], 12)}

    def replaced(self, device: Device, log: str, subject: str) -> list[str]:
        """Mostly what this device holds as current; at times nothing, too little, another subject's, or unknown."""
        on_it = [entry for entry in self.held(device, log) if entry.subject == subject]
        gone = {name for entry in on_it for name in entry.replaces}
        current = [entry.name for entry in on_it if entry.name not in gone]
        chance = self.random.random()
        if chance < 0.1:
            return []
        if chance < 0.2:
            return self._some([*current, *NOT_HERE, *(entry.name for entry in self.held(device, log))], 3)
        if log == LOG and subject.startswith("kit/"):
            carried = [entry.name for entry in self.held(device, BEFORE) if entry.subject == subject]
            return [*current, *carried]
        return current

    def assigns(self, held: list[Any]) -> dict[str, Any]:
        """What stands at position 2 as far as a device knows; at times something else."""
        known = [
            entry for entry in held if entry.kind == "assign" and entry.subject.startswith("position/2/")
        ]
        found = {entry.subject.rpartition("/")[2]: entry for entry in known}
        if known and self.random.random() < 0.2:
            one = self.random.choice(known)
            found[one.subject.rpartition("/")[2]] = one
        return found

    def write_withdraw(self, device: Device, log: str) -> None:
        held = self.held(device, log)
        own = [entry for entry in held if entry.by == device.person]
        among = own if own and self.random.random() < 0.7 else held
        named = [entry.name for entry in self._some(among, 2)] or NOT_HERE[:1]
        on = self.random.choice(list(STEPS))
        self.sign(device, log, on, "withdraw", {"entries": named, "reason": "mistyped"})

    def write_revocation(self, device: Device, log: str) -> None:
        other = self.random.choice([*self.devices, self.server])
        theirs = [entry.name for entry in self.held(device, log) if entry.kid == other.kid]
        head = self.random.choice([*theirs[-3:], *NOT_HERE[:1], None])
        kind = self.random.choice(["revoke", "revoke", "admit"])
        body: dict[str, Any] = {"device": other.kid, "head": head}
        if kind == "admit":
            named = {"entries": self._some(theirs, 3) or NOT_HERE[:1]}
            body = {"device": other.kid, **(named if head is None else {"head": head})}
        writer = device if device is self.server or self.random.random() < 0.3 else self.devices[0]
        self.sign(writer, log, f"device/{other.kid}", kind, body)

    def write_amend(self, device: Device, log: str) -> None:
        pick = self.random.choice
        writer = device if self.random.random() < 0.2 else self.devices[0]
        sheet_id = pick(SHEETS)["id"]
        added = step(
            f"{sheet_id}/added-{pick('ab')}",
            asks=pick(["tick", "count", "reading", "choice"]),
            items={"CLIP-1": pick(["2", "4"]), "10": "1", "9": "1"},
            after=self._some(list(STEPS), 1),
        )
        kit = {"tag": pick(["LEN-1", "LEN-9"]), "name": "hired", "type": "lens", "home": "R1"}
        text = json.dumps(
            pick(
                [
                    {"kit": [kit | {"dates": {}, "about": {}}]},
                    {"sheets": [sheet(f"{sheet_id}/more", added)["text"]]},
                    {"sheets": [json.dumps({"id": "odd", "stage": "rig", "steps": [{}]})]},
                ]
            )
        )
        digest = jws.sha256(text.encode())
        if self.random.random() < 0.8:
            self.files[digest] = text
        body = pick(
            [
                {"change": "withdraw-step", "sheet": sheet_id, "step": pick(list(STEPS))},
                {"change": "add-step", "sheet": sheet_id, "added": added},
                {"change": "add-sheets", "digest": digest},
                {"change": "move-end", "ends": pick(["2031-05-04", "2031-05-09"])},
            ]
        )
        self.sign(writer, log, sheet_id, "amend", {**body, "reason": "as it is"})

    def sign(
        self, device: Device, log: str, subject: str, kind: str, body: dict[str, Any], **more: Any
    ) -> None:
        held = self.held(device, log)
        names = [entry.name for entry in held]
        if self.random.random() < 0.7:
            more["rests_on"] = self._some(names[-8:], 6)
        if self.random.random() < 0.1:
            more["rests_on"] = [*more.get("rests_on", []), self.random.choice(NOT_HERE)]
        if self.random.random() < 0.15:
            more["for"] = self.random.choice([*self.people, "nobody"])
        if self.random.random() < 0.1:
            more["witness"] = self.random.choice(self.people)
        if self.random.random() < 0.05:
            more["by"] = self.random.choice([*self.people, "chief"])
        if subject.startswith("position/2") and self.random.random() < 0.6:
            assigns = self.assigns(held)
            more["rests_on"] = [*more.get("rests_on", []), *(one.name for one in assigns.values())]
            more["chain"] = {slot: one.body.get("tag", one.body.get("tags")) for slot, one in assigns.items()}
        if log == LOG and self.random.random() < 0.1:
            carried = [entry.name for entry in self.held(device, BEFORE) if is_of_kit(entry.subject)]
            more["rests_on"] = [*more.get("rests_on", []), *self._some(carried, 1)]
        if kind == "tick" and self.random.random() < 0.1:
            body = {"passed": [{"subject": f"{RIG}/legs", "told_by": "Bram"}]}
        device.write(log, subject, kind, body, **more)
        self.held(device, log).append(parse(device.written[log][-1]))


def history(seed: int, length: int = 110) -> dict[str, Any]:
    """A case of this seed, without its answer; `whole_other_log` is what `carried_over` was taken from."""
    made = _Maker(seed, length)
    pick = made.random
    entries = [text for text in made.crew.entries(LOG) if pick.random() > 0.06]
    other = made.crew.entries(BEFORE)
    cards = [card for card in made.crew.cards if pick.random() > 0.05]
    if entries:
        entries.append(_spoilt(entries[0]))
        entries.append(pick.choice(entries))
    kept = about([parse(text) for text in other], is_of_kit)
    pick.shuffle(entries)
    return {
        "name": f"history-{seed}",
        "log": LOG,
        "unit_key": made.crew.jwk,
        "sheets": SHEETS,
        "files": made.files,
        "cards": cards,
        "entries": entries,
        "carried_over": [{"log": BEFORE, "entries": [entry.jws for entry in kept]}] if kept else [],
        "whole_other_log": other,
        "definition": DEFINITION,
        "views": VIEWS,
    }


def shuffled(case: dict[str, Any], seed: int) -> dict[str, Any]:
    """The same history in another order of arrival."""
    order = random.Random(seed)  # noqa: S311 - an order, not a secret
    return case | {part: order.sample(case[part], len(case[part])) for part in ("cards", "entries")}


def _spoilt(text: str) -> str:
    signed, _, signature = text.rpartition(".")
    octets = bytearray(jws.unb64(signature))
    octets[0] ^= 1
    return f"{signed}.{jws.b64(bytes(octets))}"
