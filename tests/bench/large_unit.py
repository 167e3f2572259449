"""A unit of twelve vehicles and a thousand kinds of kit, grown from the demo's: the same sheets, the same positions."""

import shutil
from pathlib import Path

import yaml

VEHICLES = 12
ITEMS = 1000
LOCKERS_EACH = 8


def grow(demo: Path, folder: Path) -> None:
    """Write into `folder` the demo's definitions with further vehicles, lockers and headsets, up to those numbers."""
    shutil.copytree(demo, folder)
    unit = yaml.load((demo / "unit.yaml").read_text(), yaml.BaseLoader)  # noqa: S506 - it makes text of everything, nothing else
    kit = yaml.load((demo / "kit.yaml").read_text(), yaml.BaseLoader)  # noqa: S506 - it makes text of everything, nothing else
    more = [f"V{number:02}" for number in range(len(unit["vehicles"]) + 1, VEHICLES + 1)]
    tender = next(one for one in unit["vehicles"] if one["drawn"] == "tender")
    unit["vehicles"] += [{**tender, "id": vehicle, "name": f"Vehicle {vehicle}"} for vehicle in more]
    doors = [(vehicle, place) for vehicle in more for place in range(LOCKERS_EACH)]
    tags = [f"SET-{number:04}" for number in range(ITEMS - len(kit["kit"]))]
    kit["kit"] += [
        {"tag": tag, "name": f"Headset {tag}", "type": "headset", "mass_kg": "0.4"} for tag in tags
    ]
    unit["lockers"] += [
        {
            "id": f"{vehicle}{place}",
            "vehicle": vehicle,
            "name": "Headsets",
            "side": "left" if place % 2 else "right",
            "row": "1",
            "place": str(place // 2 + 1),
            "width": "1",
            "holds": dict.fromkeys(tags[number :: len(doors)], "1"),
        }
        for number, (vehicle, place) in enumerate(doors)
    ]
    (folder / "unit.yaml").write_text(yaml.safe_dump(unit, sort_keys=False))
    (folder / "kit.yaml").write_text(yaml.safe_dump(kit, sort_keys=False))
