"""Answers that are kept until something that they were computed from changes."""

from collections.abc import Callable
from typing import TypeVar, cast

T = TypeVar("T")


class Memo:
    """Kept answers, each by its key.

    While one is computed, every key that is asked for is noted as something that it rests on; to forget a key
    forgets, through any chain, all that rests on it and nothing else. That is what makes an entry cost its subject
    and not the log.
    """

    def __init__(self) -> None:
        self._answers: dict[str, object] = {}
        self._resting_on: dict[str, set[str]] = {}
        self._asking: list[str] = []

    def answer(self, key: str, compute: Callable[[], T]) -> T:
        """The answer of this key, computed where it is not kept."""
        self.rests_on(key)
        if key in self._answers:
            return cast(T, self._answers[key])
        self._asking.append(key)
        try:
            found = compute()
        finally:
            self._asking.pop()
        self._answers[key] = found
        return found

    def rests_on(self, key: str) -> None:
        """Note that what is being computed rests on this key."""
        if self._asking:
            self._resting_on.setdefault(key, set()).add(self._asking[-1])

    def forget(self, key: str) -> None:
        """Forget this key and all that rests on it."""
        queue = [key]
        for one in queue:
            self._answers.pop(one, None)
            queue.extend(self._resting_on.pop(one, ()))
