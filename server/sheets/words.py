"""The closed lists of words that definitions may use."""

ROLES = ("rigger", "camera", "engineer", "sound", "driver", "lift-leader", "chief")
SIGNERS = ("engineer", "camera", "rigger", "lift-leader", "chief")

STAGES = ("pack", "travel", "rig", "line-up", "on-air", "de-rig", "stow")
ASKS = ("tick", "count", "reading", "choice", "photo", "remark")
LINKS = ("lens", "body", "run", "control")

# What a step may be about: the links, and the lifting gear chosen for its position.
ABOUT = (*LINKS, "gear")

CAMERAS = ("four-tube", "three-tube", "three-sensor")
WAYS_UP = ("carried", "hoisted", "stretcher", "stairs", "ground")

SIDES = ("left", "right", "rear")
DRAWN = ("van", "tender", "truck")

# What a sheet is made once for, and the placeholders it may use.
EACH = {
    "show": (),
    "vehicle": ("vehicle",),
    "locker": ("locker", "vehicle"),
    "position": ("position", "tower"),
    "run": ("position", "tower"),
    "tower": ("tower",),
}

# What a `for:` may ask of the thing a sheet is made for.
CONDITIONS = {
    "show": (),
    "vehicle": ("vehicle", "drawn"),
    "locker": ("locker", "vehicle", "holds"),
    "position": ("camera", "cable", "way_up", "column", "legs", "tower"),
    "run": ("camera", "cable", "way_up", "column", "legs", "tower"),
    "tower": (),
}

# What a count step counts: the locker's list, or all that stands at the position.
COUNTS = ("list", "position")

UNITS = (
    "V", "A", "mA", "ohm", "Mohm", "dB", "dBm", "m", "mm", "m/s", "kg", "bar",
    "°C", "%", "min", "ms", "ns", "lines", "lux", "stops", "Hz",
)  # fmt: skip

TYPES = (
    "body", "lens", "viewfinder", "pan-head", "legs", "column", "wedge-plate", "pan-bar", "control",
    "drum", "control-unit", "lifting-gear", "stretcher", "board", "headset", "chart", "rain-cover",
    "extinguisher", "electrical", "test-gear", "protective", "cable-care", "carrying", "consumable",
    "pressure-vessel",
)  # fmt: skip

REASONS = ("take-back", "reopen")

# What a condition may be; cables, vehicles and lockers are the unit's own.
FACTS = {
    "camera": CAMERAS,
    "way_up": WAYS_UP,
    "column": ("yes", "no"),
    "legs": ("yes", "no"),
    "tower": ("yes", "no"),
    "drawn": DRAWN,
    "holds": TYPES,
}
