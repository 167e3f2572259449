"""A unit as its definitions say: vehicles, lockers, kit, events, sheets and steps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from .lines import Text, Where

Conditions = Mapping[Text, tuple[Text, ...]]


@dataclass(frozen=True)
class Vehicle:
    """A vehicle and, in `about`, its plate and weighbridge figures (kg, m)."""

    id: Text
    name: str
    drawn: str
    about: Mapping[str, str]
    where: Where


@dataclass(frozen=True)
class Held:
    """A line of a locker's list: how many of a tag belong there."""

    tag: Text
    number: str


@dataclass(frozen=True)
class Locker:
    """A locker; `width` is a share of the drawn side, `place` counts from the front."""

    id: Text
    vehicle: Text
    name: str
    side: str
    row: int
    place: int
    width: str
    about: Mapping[str, str]
    holds: tuple[Held, ...]
    where: Where


@dataclass(frozen=True)
class Item:
    """A thing of kit. Decimals and dates are text as written; `about` holds what its type needs."""

    tag: Text
    name: str
    type: str
    number: str
    mass_kg: str | None
    dates: Mapping[str, str]
    about: Mapping[str, str]
    where: Where


@dataclass(frozen=True)
class Event:
    """Something that happens to a subject and ends what was done there."""

    id: Text
    label: str
    ends: str
    where: Where


@dataclass(frozen=True)
class Choice:
    """An answer to a choice step; `done` says whether it counts the step as done."""

    id: Text
    label: str
    done: bool


@dataclass(frozen=True)
class Assess:
    """A computation that a step opens, with what it is filled in from beforehand."""

    name: Text
    prefill: Mapping[str, str]


@dataclass(frozen=True)
class Step:
    """One thing to do, count, read or look at."""

    word: Text
    do: Text
    done: Text
    asks: str
    roles: tuple[Text, ...]
    after: tuple[Text, ...]
    caution: Text | None
    hazard: bool
    second: str | None
    minutes: int | None
    ended_by: tuple[Text, ...]
    about: tuple[Text, ...]
    unit: Text | None
    low: str | None
    high: str | None
    limit_of: str | None
    choices: tuple[Choice, ...]
    count: Text | None
    items: tuple[Held, ...]
    assess: Assess | None
    applies: Conditions
    where: Where


@dataclass(frozen=True)
class Sheet:
    """The steps for one thing at one stage, made once for each locker, position, ..."""

    id: Text
    each: str
    stage: str
    title: Text
    signed_by: tuple[Text, ...]
    statement: Text
    applies: Conditions
    steps: tuple[Step, ...]
    where: Where


@dataclass(frozen=True)
class Unit:
    """All definitions of one unit."""

    id: Text
    name: str
    vehicles: tuple[Vehicle, ...]
    lockers: tuple[Locker, ...]
    kit: tuple[Item, ...]
    events: tuple[Event, ...]
    reasons: Mapping[str, tuple[str, ...]]
    sheets: tuple[Sheet, ...]

    @cached_property
    def items(self) -> Mapping[str, Item]:
        """Kit by tag."""
        return {item.tag: item for item in self.kit}

    @cached_property
    def homes(self) -> Mapping[str, str]:
        """For each tag the first locker whose list holds it."""
        homes: dict[str, str] = {}
        for locker in self.lockers:
            for held in locker.holds:
                homes.setdefault(held.tag, locker.id)
        return homes
