"""The demo's show as phones wrote it from Friday to Monday, with one of everything that the report must tell."""

import json
import struct
import subprocess
import zlib
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import Any

from flask import Flask
from PIL import Image, ImageDraw

from server.app import create_app
from server.crew import jws
from server.crew.cards import set_up_unit
from server.crew.invite import invite
from server.handover.record import Record, collect
from server.logbook.entry import parse
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


@dataclass
class Show:
    """A show on a server of its own, and the phones of its crew."""

    app: Flask
    log: str
    definition: dict[str, Any]
    phones: dict[str, Phone]

    def write(
        self, who: str, subject: str, kind: str = "tick", body: dict[str, Any] | None = None, **more: Any
    ) -> str:
        """Write and hand in an entry; its name."""
        phone = self.phones[who]
        text = phone.write(self.log, subject, kind, body=body or {}, **more)
        assert phone.answers(self.log, [text]) == ["stored"]
        return parse(text).name

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

    def hand_over(self, text: str) -> str:
        """Hand over, naming the heads that the server holds."""
        heads = self.phones["Ines"].fetch(self.log)["heads"]
        named = {kid: one["tips"] for kid, one in heads.items()}
        return self.write("Ines", "hand-over", "hand-over", {"text": text, "heads": named})


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
        key: {"value": f"{one['value']:.12f}", "unit": one["unit"]} for key, one in answer["figures"].items()
    }
    kept = {part: answer[part] for part in ("core", "verdict", "findings")}
    return {"name": name, "inputs": inputs, "figures": figures, **kept}


def work(show: Show) -> None:
    """From packing to the hand-over."""
    _pack(show)
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
    show.sign("Bram", "lifting/pack", covers)


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
    show.write("Lena", "position/2/rig/clamp", body={"passed": passed}, at=friday)
    show.write("Tomas", "position/3/rig/pads", "reopen", {"reason": "Found loose or wrong"}, at=friday)
    show.write("Bram", "position/3/rig/clamp", "tick", {}, at=friday, **{"for": "lena"})


def _line_up(show: Show) -> None:
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
    show.write("Lena", "position/1/chain/run", "assign", {"tags": ["CAB-009", "CAB-010", "CAB-013"]})
    for locker in show.definition["lockers"][:5]:
        for held in locker["holds"]:
            here = "0" if held["tag"] in ("VF-2", "CLIP-3") else held["number"]
            show.write("Lena", f"locker/{locker['id']}/stow/count/{held['tag']}", "count", {"number": here})
    for locker in ("L1", "R1"):
        show.write("Lena", f"locker/{locker}/stow/seal", at="2031-05-04T23:40:00+01:00")
    show.write("Lena", "kit/VF-2/place", "place", {"where": "position/2"})
    show.write("Lena", "kit/BARS-3/place", "place", {"where": "locker/L1"})
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
