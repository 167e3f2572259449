"""What counts: each entry judged in the order of section 7, in which nothing is circular.

This and the sheets ask each other: an amend is judged without a look at any step, all else by the steps that
amends leave.
"""

from server.logbook import steps
from server.logbook.entry import Entry
from server.logbook.held import Held
from server.logbook.kinds import fits, statement

NOT_WITHDRAWN = {"revoke", "admit", "withdraw"}
BY_ROLE_OF_STEP = {"reading", "test"}


def why_not(held: Held, entry: Entry) -> str | None:
    """Why an entry that has a card does not count, the first reason; None where it counts."""
    return held.memo.answer(f"why {entry.name}", lambda: _why_not(held, entry))


def counts(held: Held, entry: Entry) -> bool:
    """Whether an entry counts."""
    return why_not(held, entry) is None


def is_state(held: Held, entry: Entry) -> bool:
    """Whether an entry is of a kind that states, known here."""
    return entry.kind in held.kinds and held.kinds[entry.kind]["does"] == "states"


def is_well_formed(held: Held, entry: Entry) -> bool:
    """Whether an entry is of a kind known here, with a body as that kind asks."""
    return entry.kind in held.kinds and fits(entry.body, held.kinds[entry.kind]["schema"])


def says(held: Held, entry: Entry) -> str:
    """What an entry of a known kind states; two agree where these are equal."""
    rule = held.kinds.get(entry.kind)
    if rule is None:
        return entry.kind
    return held.memo.answer(f"says {entry.name}", lambda: statement(entry.kind, rule, entry.body))


def roles_of(held: Held, kid: str, person: str) -> set[str]:
    """The roles of a person on a key: the union over its cards for them."""
    return {role for card in held.cards_of_key(kid) if card.person == person for role in card.roles}


def ancestors(held: Held, head: object, kid: str) -> frozenset[str]:
    """An entry of a device and what its own `previous` lead back to; none where it is another's or not here."""
    return held.memo.answer(f"ancestors {head} {kid}", lambda: _ancestors(held, head, kid))


def _ancestors(held: Held, head: object, kid: str) -> frozenset[str]:
    line: set[str] = set()
    name = head
    while isinstance(name, str):
        entry = held.entry(name)
        if entry is None or entry.kid != kid:
            break
        line.add(name)
        name = entry.previous
    return frozenset(line)


def _why_not(held: Held, entry: Entry) -> str | None:
    if not any(card.person == entry.by for card in held.cards_of_key(entry.kid)):
        return "person"
    if _is_revoked(held, entry):
        return "revoked"
    if _is_withdrawn(held, entry):
        return "withdrawn"
    if entry.kind not in held.kinds:
        return "unknown-kind"
    if not _has_role(held, entry):
        return "role"
    return None if is_well_formed(held, entry) else "body"


def _is_revoked(held: Held, entry: Entry) -> bool:
    if entry.kind == "revoke":
        return False
    if all(
        entry.name in ancestors(held, revoke.body["head"], entry.kid)
        for revoke in _revocations(held, entry.kid)
    ):
        return False
    return entry.kind == "admit" or not _is_admitted(held, entry)


def _revocations(held: Held, kid: str) -> list[Entry]:
    """The revocations of a device that count and act: the server's own device cannot be revoked."""

    def found() -> list[Entry]:
        if any("server" in card.roles for card in held.cards_of_key(kid)):
            return []
        return [one for one in held.of_kind("revoke") if one.body.get("device") == kid and counts(held, one)]

    return held.memo.answer(f"revocations {kid}", found)


def _is_admitted(held: Held, entry: Entry) -> bool:
    def found() -> list[Entry]:
        of_device = (one for one in held.of_kind("admit") if one.body.get("device") == entry.kid)
        return [one for one in of_device if one.kid != entry.kid and counts(held, one)]

    for admit in held.memo.answer(f"admissions {entry.kid}", found):
        named = admit.body.get("entries")
        line = named if isinstance(named, list) else ancestors(held, admit.body["head"], entry.kid)
        if entry.name in line:
            return True
    return False


def _is_withdrawn(held: Held, entry: Entry) -> bool:
    if entry.kind in NOT_WITHDRAWN:
        return False
    return any(
        counts(held, one) and (one.by == entry.by or "chief" in roles_of(held, one.kid, one.by))
        for one in held.withdraws_of(entry.name)
    )


def _has_role(held: Held, entry: Entry) -> bool:
    own = roles_of(held, entry.kid, entry.by)
    of_kind = held.kinds[entry.kind].get("roles")
    if of_kind is not None and not own & set(of_kind):
        return False
    if not is_state(held, entry) and entry.kind not in BY_ROLE_OF_STEP:
        return True
    place = steps.step_of(held, entry.subject)
    if place is None or not place.step["roles"]:
        return True
    wanted = set(place.step["roles"])
    if own & wanted:
        return True
    if entry.for_ is None or place.step["hazard"]:
        return False
    return bool(_lent_roles(held, entry.for_) & wanted)


def _lent_roles(held: Held, person: str) -> set[str]:
    """The roles that may be lent on a person's word: of their cards on keys that no acting revocation names."""
    cards = (card for card in held.cards_of_person(person) if not _revocations(held, card.kid))
    return {role for card in cards for role in card.roles}
