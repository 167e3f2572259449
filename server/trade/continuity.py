"""Does every core of this run join the pins it should, and none else?

A reading goes from a pin at this end to a pin at the far end. Expected and low: whole; above the limit: high;
above `open_ohm`: open. Not expected and low: crossed where neither core reaches its own pin, else short. The
limit of a core is IEC 60228's maximum (second-hand) times its length, or as given. The order of measuring is
`measuring_order.py`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from server.trade import copper, measuring_order
from server.trade.answer import Assessment, Figure, Verdict
from server.trade.declare import choice, names, quantity, table_of, text
from server.trade.errors import InputError, quoted
from server.trade.fields import shown
from server.trade.joints import Found, Joint, sort

GROUPS = ("not tested", "all open", "some closed")


@dataclass(frozen=True, kw_only=True)
class Pair:
    """Two pins that one core joins."""

    a: str = text("pin at this end")
    b: str = text("pin at the far end")


@dataclass(frozen=True, kw_only=True)
class Reading:
    """What the meter said between two pins."""

    a: str = text("pin at this end")
    b: str = text("pin at the far end")
    ohm: float | None = quantity(
        "read", "ohm", 0, 1e9, "the leads' own taken off; left empty: over range, open", default=None
    )


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """One run from plug to plug, and what was read on it."""

    pins: dict[str, str] = names("pins", "pin by pin, what it carries")  # noqa: RUF009 - declares only
    expected: tuple[Pair, ...] = table_of(
        Pair, "joined", "left out: every pin to the pin of the same name", least=0, default=()
    )
    measured: tuple[Reading, ...] = table_of(Reading, "readings", least=0, most=10000, default=())
    tied_groups: str = choice(
        "tied groups", *GROUPS, help="what the groups of the order below read", default="not tested"
    )
    length_m: float | None = quantity("length", "m", 0.1, 20000, "of one core, one way", default=None)
    limit_ohm: float | None = quantity(
        "limit of one core", "ohm", 0.001, 100000, "end to end; or give section and length", default=None
    )
    section_mm2: float | None = quantity("section", "mm2", 0.05, 400, "for the limit", default=None)
    conductor_class: str = choice("conductor class", *copper.CLASSES, default="class 5 plain")
    temperature_c: float = quantity("conductor's temperature", "C", -20, 100, default=20)
    open_ohm: float = quantity("open from", "ohm", 1, 1e6, "house limit, editable", default=1000)

    def __post_init__(self) -> None:
        unknown = [
            (
                f"{table}[{number}].{end}",
                f"{quoted(pin)} is not among the pins; give one of {_list(self.pins)}",
            )
            for table, pairs in (
                ("expected", [(pair.a, pair.b) for pair in self.expected]),
                ("measured", [(one.a, one.b) for one in self.measured]),
            )
            for number, pair in enumerate(pairs, start=1)
            for end, pin in zip("ab", pair, strict=True)
            if pin not in self.pins
        ]
        if unknown:
            raise InputError(*unknown)
        if self.section_mm2 is not None and self.length_m is None and self.limit_ohm is None:
            raise InputError(
                ("length_m", "is missing for the limit; give 0.1 to 20000 m, or limit_ohm in ohm")
            )
        limit = limit_ohm(self)
        if limit is not None and limit >= self.open_ohm:
            raise InputError(
                (
                    "open_ohm",
                    f"{shown(self.open_ohm)} ohm is not above the limit of one core, {shown(limit)} ohm",
                )
            )

    def joints(self) -> tuple[Joint, ...]:
        """The pairs that are to be joined, each once."""
        given = tuple((pair.a, pair.b) for pair in self.expected)
        return tuple(dict.fromkeys(given or ((pin, pin) for pin in self.pins)))


def limit_ohm(inputs: Inputs) -> float | None:
    """The most one core may read at its temperature; None where nothing says it."""
    if inputs.limit_ohm is not None:
        return inputs.limit_ohm
    if inputs.section_mm2 is None or inputs.length_m is None:
        return None
    section = inputs.section_mm2
    per_km = copper.class_limit(section, inputs.conductor_class) or copper.by_area(section)
    return per_km * inputs.length_m / 1000 / copper.to_20c(inputs.temperature_c)


def assess(inputs: Inputs) -> Assessment:
    """Open, short, crossed and high, each by pin and by what it carries; then what is left to measure."""
    limit, joints = limit_ohm(inputs), inputs.joints()
    read = {(one.a, one.b): one.ohm for one in inputs.measured}
    found, count = sort(joints, read, limit, inputs.open_ohm), len(joints)
    verdict, findings = _judged(inputs, found, limit)
    figures = {
        name: Figure(_said(getattr(found, name), inputs.pins) or "none", "")
        for name in ("open", "short", "crossed", "high", "not_read")
    }
    return Assessment(
        verdict=verdict,
        figures={
            **figures,
            "limit_ohm": Figure(limit, "ohm"),
            "tests": Figure(measuring_order.few(count), "readings"),
            "tests_one_by_one": Figure(measuring_order.one_by_one(count), "readings"),
        },
        findings=findings,
        advice=(*_mend(inputs, found), *_order(inputs, found)),
        cautions=(
            *copper.DEAD_FIRST,
            "Unplug camera and base station: a meter through them reads their insides, not the cable.",
        ),
        basis=(
            "The limit of one core as given."
            if inputs.limit_ohm is not None
            else "No limit was given, so high is not judged."
            if limit is None
            else "The limit: IEC 60228 maximum, second-hand, at the conductor's temperature; another size by its area.",
            f"Open from {shown(inputs.open_ohm)} ohm: house limit, editable.",
            "Tied groups by the bits of a core's number: arithmetic; they say nothing of open cores: mend those first.",
            "String and groups say whole and not joined; which core reads high needs a reading of each core.",
            "A leak of many ohms is for the insulation test.",
        ),
    )


def _judged(inputs: Inputs, found: Found, limit: float | None) -> tuple[Verdict, tuple[str, ...]]:
    said = [
        f"{word}: {_said(pairs, inputs.pins)}."
        for word, pairs in (
            ("Open", found.open),
            ("Short", found.short),
            ("Crossed", found.crossed),
            ("Joined, short or crossed is not told until their own pins are read", found.undecided),
            (f"High, above {shown(limit or 0)} ohm", found.high),
        )
        if pairs
    ]
    if inputs.tied_groups == "some closed" and not (found.short or found.crossed or found.undecided):
        said.append("A tied group reads closed: two cores are short or crossed; which two is not told yet.")
    if said:
        return Verdict.BEYOND, tuple(said)
    unknown = []
    if found.not_read:
        unknown.append(f"Not read: {_said(found.not_read, inputs.pins)}.")
    if limit is None:
        unknown.append("Whether a core reads high is not told: no limit, and no section with a length.")
    if inputs.tied_groups == "not tested" and not found.every_other_read:
        unknown.append("Shorts are not told: neither the tied groups nor every other pair were read.")
    if unknown:
        return Verdict.CANNOT_TELL, tuple(unknown)
    return Verdict.WITHIN, (f"{len(found.whole)} of {len(found.whole)} cores whole, none joined to another.",)


def _mend(inputs: Inputs, found: Found) -> tuple[str, ...]:
    mend = []
    if found.open:
        mend.append("Open: look at both plugs first, then halve the run at a joint of drums and read again.")
    if found.short or found.undecided:
        mend.append("Short: part the run at a joint of drums; the half that still reads holds it.")
    if found.crossed:
        mend.append("Crossed: open the plug that was last made up, and compare it with the list pin by pin.")
    if found.high:
        mend.append("High: clean and dry both plugs, read again; then read drum by drum.")
    if inputs.tied_groups == "some closed":
        mend.append(
            "In the group that reads closed, untie half at this end, then half at the far end, and so on."
        )
    return tuple(mend)


def _order(inputs: Inputs, found: Found) -> tuple[str, ...]:
    """The string for what is not read, the groups where shorts are not told."""
    joints, steps = inputs.joints(), []
    if len(found.not_read) > 1:
        unread = len(found.not_read)
        steps.append(
            f"String the {unread} cores not read: link far ends and this end's in turn, one reading from first to "
            f"last; where it is open, string half: at most {measuring_order.to_find(unread)} more find one open core."
        )
    if inputs.tied_groups == "not tested" and not found.every_other_read:
        groups = measuring_order.tied_groups(len(joints))
        steps += [
            f"Tied group {number} of {len(groups)}: far end, tie {_list(joints[core][1] for core in far)} to a "
            f"return that was read whole; this end, tie {_list(joints[core][0] for core in near)} and read to the "
            "return: open."
            for number, (near, far) in enumerate(groups, start=1)
        ]
    return tuple(steps)


def _said(pairs: tuple[Joint, ...], pins: Mapping[str, str]) -> str:
    return ", ".join(
        f"{a} ({pins[a]})" if a == b else f"{a} ({pins[a]}) to {b} ({pins[b]})" for a, b in pairs
    )


def _list(pins: Iterable[str]) -> str:
    return ", ".join(pins)
