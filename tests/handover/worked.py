"""The demo's show as phones wrote it from Friday to Monday, with one of everything that the report must tell."""

import json
import struct
import subprocess
import zlib
from dataclasses import dataclass, field
from io import BytesIO
from pathlib import Path
from typing import Any

from flask import Flask
from PIL import Image, ImageDraw

from server.app import create_app
from server.crew import jws
from server.crew.cards import set_up_unit
from server.crew.invite import invite
from server.handover.record import Record, collect, folded
from server.logbook.entry import parse
from server.logbook.values import values
from server.settings import Settings
from server.setup import make_tables
from server.sheets.unit import load
from server.shows import demo, make, plan
from server.store import reading, writing
from server.trade import register
from tests.conftest import SITE, UNIT, Phone

CREW = {
    "Ines": ["chief", "driver", "rigger"],
    "Bram": ["rigger", "driver", "lift-leader"],
    "Lena": ["camera", "sound"],
    "Tomas": ["engineer", "sound"],
}

TRACKING = {
    "image_height_mm": "5.4",
    "active_lines": "1080",
    "f_number": "2",
    "readings": [
        ["8", "7.56486", "10"],
        ["20", "9.43616", "10"],
        ["80", "9.8725", "10"],
        ["400", "9.90759", "10"],
    ],
}


SHORT = {"VF-2": "0", "CLIP-3": "0", "BARS-3": "0", "HELMET": "6"}
"""What was found of it when it was stowed, where that is not what the locker lists."""
LIFT_GEAR = ["BAG-1", "SLING-1", "SHACKLE-1", "BLOCK-1", "BLOCK-2", "ROPE-1"]
LIFTS: dict[str, dict[str, Any]] = {
    "four-point": {"load_kg": "29.5", "u": "0.1", "v": "0", "point_wll_kg": "120", "bag_wll_kg": "150"},
    "sling": {"load_kg": "29.5", "on_date": "2031-05-05",
              "gear": [["BAG-1", "150", "2031-07-20", "the whole load"], ["SLING-1", "1000", "2031-07-20"]]},
    "tackle": {"load_kg": "29.5", "sheaves": "4", "parts": "4", "lead_blocks": "1", "rope_mbs_kn": "21",
               "knot": "figure-eight", "people": "2", "anchor_wll_kn": "5"},
    "carry": {"load_kg": "29.5", "bearers": "2", "u": "0.1", "v": "0"},
}  # fmt: skip
LIFT_FIGURES = {
    "centre": ("four-point", "14.75", "kg"),
    "weakest": ("sling", "29.5", "kg"),
    "pull": ("tackle", "11.0625", "kg"),
    "to-the-foot": ("carry", "16.225", "kg"),
}
"""By step, the computation that opens from it, with the figure that the reading itself states."""


@dataclass
class Show:
    """A show on a server of its own, and the phones of its crew."""

    app: Flask
    log: str
    definition: dict[str, Any]
    phones: dict[str, Phone]
    written: dict[str, list[str]] = field(default_factory=dict)
    clock: str = "2031-05-02T09:00:00+01:00"

    def write(
        self, who: str, subject: str, kind: str = "tick", body: dict[str, Any] | None = None, **more: Any
    ) -> str:
        """Write and hand in an entry, resting on whatever was written here of what its step waits for; its name."""
        phone = self.phones[who]
        more = {"at": self.clock, "rests_on": self._awaited(subject)} | more
        text = phone.write(self.log, subject, kind, body=body or {}, **more)
        assert phone.answers(self.log, [text]) == ["stored"]
        name = parse(text).name
        self.written.setdefault(subject, []).append(name)
        return name

    def _awaited(self, subject: str) -> list[str]:
        steps = {step["subject"]: step for sheet in self.sheets() for step in sheet["steps"]}
        step = steps.get(subject) or steps.get(subject.rpartition("/")[0]) or {"after": []}
        return [
            name
            for awaited in step["after"]
            for there, names in self.written.items()
            if there == awaited or there.startswith(f"{awaited}/")
            for name in names
        ]

    def file(self, who: str, octets: bytes, media_type: str) -> str:
        """Hand in a file; its digest."""
        digest = jws.sha256(octets)
        answer = self.phones[who].web.put(f"/api/files/{digest}", data=octets, content_type=media_type)
        assert answer.status_code in (200, 201, 204), answer.text
        return digest

    def record(self) -> Record:
        """The record as the server holds it now."""
        with self.app.app_context(), reading() as session:
            return collect(session, UNIT, self.log)

    def sheets(self) -> list[dict[str, Any]]:
        """Every sheet as served."""
        return [json.loads(text) for text in self.definition["sheets"]]

    def sheet(self, sheet: str) -> str:
        """A sheet's text as served."""
        return next(text for text in self.definition["sheets"] if f'"id":"{sheet}"' in text)

    def sign(self, who: str, sheet: str, covers: list[str], drawn: str | None = None) -> str:
        """Put a name to a sheet."""
        body = {"sheet": sheet, "digest": jws.sha256(self.sheet(sheet).encode()), "covers": covers}
        return self.write(who, sheet, "sign", body | ({"drawn": drawn} if drawn else {}))

    def hand_over(self, text: str, **more: Any) -> str:
        """Hand over, naming the heads that the server holds."""
        heads = self.phones["Ines"].fetch(self.log)["heads"]
        named = {kid: one["tips"] for kid, one in heads.items()}
        return self.write("Ines", "hand-over", "hand-over", {"text": text, "heads": named}, **more)


def steps_of(sheet: str) -> list[dict[str, Any]]:
    """The steps of a sheet of the demo's show, as served."""
    texts = plan.expand(load(demo.FOLDER), demo.plan())["sheets"]
    found: list[dict[str, Any]] = next(one for one in map(json.loads, texts) if one["id"] == sheet)["steps"]
    return found


def words_of(pdf: bytes) -> list[str]:
    """The words of a file's pages, every run of white space as one blank."""
    said = subprocess.run(
        ["pdftotext", "-layout", "-", "-"], input=pdf, capture_output=True, check=True
    ).stdout
    return [" ".join(page.split()) for page in said.decode().split("\f") if page.strip()]


def begin(data: Path) -> Show:
    """The demo's show on a new server, its crew enrolled and nothing written."""
    app = create_app(Settings(f"sqlite:///{data / 'test.sqlite'}", data, SITE))
    definition = plan.expand(load(demo.FOLDER), demo.plan())
    with app.app_context():
        make_tables()
        with writing() as session:
            set_up_unit(session, UNIT, "Heron unit", demo.FOLDER.name)
            log = make.begin(session, UNIT, definition)
            codes = {name: invite(session, UNIT, name, roles).code for name, roles in CREW.items()}
    phones = {}
    for name, code in codes.items():
        phones[name] = Phone(app)
        phones[name].enrol(code)
    return Show(app, log, definition, phones)


def assessment(name: str, inputs: dict[str, Any]) -> dict[str, Any]:
    """A verdict as a phone keeps it: figures as decimal text."""
    answer = register.assess(name, inputs)
    figures = {
        key: one | ({"value": f"{one['value']:.12f}"} if isinstance(one["value"], int | float) else {})
        for key, one in answer["figures"].items()
    }
    kept = {part: answer[part] for part in ("core", "verdict", "findings")}
    return {"name": name, "inputs": inputs, "figures": figures, **kept}


def work(show: Show) -> None:
    """From packing to the hand-over."""
    _pack(show)
    _plan_a_lift(show)
    _rig(show)
    _line_up(show)
    _stow(show)


def picture(words: str, size: tuple[int, int] = (1600, 1200), form: str = "JPEG") -> bytes:
    """A photo with a place in its metadata."""
    image = Image.new("RGB", size, "#c9b48c")
    draw = ImageDraw.Draw(image)
    draw.rectangle((200, 150, size[0] - 200, size[1] - 150), outline="#15130e", width=24)
    draw.text((260, 240), words, fill="#15130e", font_size=90)
    about = Image.Exif()
    about[0x010E] = "METADATA-OF-THE-PHONE"
    out = BytesIO()
    image.save(out, form, exif=about)
    return out.getvalue()


def name_drawn() -> bytes:
    """A name as a finger draws it."""
    image = Image.new("RGBA", (600, 200), (0, 0, 0, 0))
    ImageDraw.Draw(image).line(
        [(30, 150), (80, 40), (120, 160), (170, 60), (210, 150), (300, 90), (360, 150), (560, 80)], "black", 8
    )
    out = BytesIO()
    image.save(out, "PNG")
    return out.getvalue()


def bomb(width: int, height: int) -> bytes:
    """A PNG of few octets that claims a great many pixels."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    parts = ((b"IHDR", head), (b"IDAT", zlib.compress(b"\0" * 1000)), (b"IEND", b""))
    chunks = (
        struct.pack(">I", len(held)) + kind + held + struct.pack(">I", zlib.crc32(kind + held))
        for kind, held in parts
    )
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunks)


def _pack(show: Show) -> None:
    for locker in show.definition["lockers"]:
        for held in locker["holds"]:
            show.write(
                "Bram", f"locker/{locker['id']}/pack/count/{held['tag']}", "count", {"number": held["number"]}
            )
        show.write("Bram", f"locker/{locker['id']}/pack/seal", at="2031-05-02T15:10:00+01:00")
    covers = [show.write("Bram", f"lifting/pack/{step}") for step in ("marks", "dates", "ropes", "blocks")]
    for tag in LIFT_GEAR:
        show.write("Bram", f"kit/{tag}/pre-use", "choice", {"choice": "passed"})
    show.sign("Bram", "lifting/pack", covers)


def _plan_a_lift(show: Show) -> None:
    """Position 1 goes up a tower: its gear, its figures as a phone works them out, and who passed the plan."""
    friday = "2031-05-02T16:10:00+01:00"

    def write(step: str, kind: str = "tick", body: dict[str, Any] | None = None, **more: Any) -> str:
        return show.write("Bram", f"position/1/lift-plan/{step}", kind, body, at=friday, **more)

    show.write("Bram", "position/1/chain/gear", "assign", {"tags": LIFT_GEAR}, at=friday)
    covers = [write("load", "reading", {"figure": "29.5", "unit": "kg"})]
    for step, (name, figure, unit) in LIFT_FIGURES.items():
        worked = assessment(name, LIFTS[name])
        covers.append(write(step, "reading", {"figure": figure, "unit": unit, "assessment": worked}))
    choices = {"way": "bag", "weakest": "within", "pull": "within"}
    covers += [write(step, "choice", {"choice": choice}) for step, choice in choices.items()]
    covers += [write(step) for step in ("centre", "gear", "to-the-foot")]
    told = {
        "people": "Bram calls, Callum and Mira haul, Yusuf on the tag line",
        "area": "Six metres round the tower's foot, roped; Petra keeps it",
    }
    for step, text in told.items():
        covers.append(write(step, rests_on=[write(step, "remark", {"text": text})]))
    covers.append(write("wind-limit", "reading", {"figure": "9", "unit": "m/s"}))
    covers.append(write("passed", witness="lena"))
    show.sign("Bram", "position/1/lift-plan", covers, show.file("Bram", name_drawn(), "image/png"))


def _rig(show: Show) -> None:
    friday = "2031-05-02T18:30:00+01:00"
    earthed = show.write("Tomas", "truck/rig/earthed", at="2031-05-02T17:00:00+01:00")
    supply = {"figure": "258.4", "unit": "V"}
    show.write(
        "Tomas", "truck/rig/supply", "reading", supply, rests_on=[earthed], at="2031-05-02T17:04:00+01:00"
    )
    legs = show.write("Lena", "position/1/rig/legs", at="2031-05-02T18:02:00+01:00", witness="bram")
    show.write("Bram", "position/1/rig/legs", "witness", {}, rests_on=[legs])
    covers = [legs]
    for position in ("1", "2", "3", "4"):
        for step in ("pads", "head-on", "body-on", "lens-on", "viewfinder"):
            tick = show.write("Lena", f"position/{position}/rig/{step}", at=friday)
            covers += [tick] if position == "1" else []
    show.sign("Lena", "position/1/rig", covers)
    show.write(
        "Tomas", "kit/LENS-4/state", "state", {"state": "suspect", "reason": "Zoom ring stiff when wide"}
    )
    though = [{"tag": "LENS-4", "reason": "No other that long, zoomed by hand", "who": "Tomas"}]
    slot = "position/4/chain/lens"
    planned = [one.name for one in values(folded(show.record()).held, slot)]
    show.write("Lena", slot, "assign", {"tag": "LENS-4", "though": though}, replaces=planned)
    mistaken = show.write("Bram", "position/2/carry/set-down", at=friday)
    show.write(
        "Bram",
        "position/2/carry/set-down",
        "withdraw",
        {"entries": [mistaken], "reason": "Ticked by mistake"},
        at="2031-05-02T18:41:00+01:00",
    )
    crossing = "Crossing by the slipway: ramp borrowed from the club, goes back on Monday."
    show.write("Bram", "run/2/rig/crossings", "remark", {"text": crossing})
    photo = show.file("Bram", picture("Crossing, slipway"), "image/jpeg")
    show.write("Bram", "run/2/rig/crossings", "photo", {"file": photo})
    show.write("Bram", "run/2/rig/crossings", "photo", {"file": jws.sha256(b"a photo that never came")})
    passed = [{"subject": "position/2/carry/set-down", "told_by": "Bram"}]
    show.write("Lena", "position/2/rig/clamp", body={"passed": passed}, at=friday, rests_on=[])
    show.write("Tomas", "position/3/rig/pads", "reopen", {"reason": "Found loose or wrong"}, at=friday)
    show.write("Bram", "position/3/rig/clamp", "tick", {}, at=friday, **{"for": "lena"})


def _line_up(show: Show) -> None:
    show.clock = "2031-05-03T13:30:00+01:00"
    tracking = {"figure": "2.0", "unit": "um", "assessment": assessment("lens-tracking", TRACKING)}
    show.write("Lena", "position/1/lens/quick-look", "reading", tracking)
    told_otherwise = tracking["assessment"] | {"verdict": "beyond limits"}
    show.write("Lena", "position/2/lens/quick-look", "reading", tracking | {"assessment": told_otherwise})
    unreadable = tracking["assessment"] | {"inputs": {"readings": "many"}}
    show.write("Lena", "position/3/lens/quick-look", "reading", tracking | {"assessment": unreadable})
    show.write("Tomas", "run/2/rig/level", "reading", {"figure": "52.0", "unit": "V"})
    saturday = "2031-05-03T07:30:00+01:00"
    warm = show.write(
        "Tomas", "position/1/line-up/warm-sensor", "reading", {"figure": "24", "unit": "min"}, at=saturday
    )
    ticks = [
        show.write("Tomas", f"position/1/line-up/{step}", at=saturday)
        for step in ("power-on", "timing", "black")
    ]
    ticks.append(warm)
    drawn = show.file("Tomas", name_drawn(), "image/png")
    show.sign("Tomas", "position/1/line-up", ticks, drawn)
    show.write("Lena", "position/1", "event", {"event": "knocked", "text": "A rowing club's trailer touched the tower"},
               at="2031-05-03T11:20:00+01:00")  # fmt: skip
    show.write(
        "Lena",
        "position/3",
        "fault",
        {"text": "No picture on air, comes back when the plug is held", "about": "CAB-004"},
    )
    show.write(
        "Lena", "position/3", "photo", {"file": show.file("Lena", picture("Plug of CAB-004"), "image/jpeg")}
    )
    show.write(
        "Ines", "position/4/given-up", "choice", {"choice": "picture only", "told": {"who": "the director"}}
    )


def _stow(show: Show) -> None:
    show.clock = "2031-05-04T22:50:00+01:00"
    show.write("Lena", "position/1/chain/run", "assign", {"tags": ["CAB-009", "CAB-010", "CAB-013"]})
    for locker in show.definition["lockers"][:5]:
        for held in locker["holds"]:
            here = SHORT.get(held["tag"], held["number"])
            show.write("Lena", f"locker/{locker['id']}/stow/count/{held['tag']}", "count", {"number": here})
    for locker in ("L1", "R1"):
        show.write("Lena", f"locker/{locker}/stow/seal", at="2031-05-04T23:40:00+01:00")
    show.write("Lena", "kit/VF-2/place", "place", {"where": "position/2"})
    show.write("Lena", "kit/BARS-3/place", "place", {"where": "locker/L1"})
    show.write(
        "Bram",
        "kit/HELMET/place",
        "place",
        {"where": "away/lent", "text": "two to the tower crew, until Tuesday"},
    )
    show.write("Bram", "locker/L1/stow/seal", "reopen", {"reason": "Found loose or wrong"})
    show.write(
        "Tomas",
        "kit/CAB-014/state",
        "state",
        {"state": "unserviceable", "reason": "Two ways open, 41 m from the truck end"},
    )
    show.write("Tomas", "kit/CAB-014", "test", {"result": "fail", "text": "Cores 17 and 18 open"})
    show.write(
        "Bram", "kit/SHACKLE-2/state", "state", {"state": "suspect", "reason": "Dropped from the tower"}
    )
