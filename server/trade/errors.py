"""What is said when input cannot be read."""

from __future__ import annotations


class InputError(ValueError):
    """Input that cannot be read: one (field, sentence) for each thing that is wrong.

    A row of a table is named by its number, counted from one: `readings[2].focus_mark_m`.
    """

    def __init__(self, *problems: tuple[str, str]) -> None:
        self.problems = problems
        super().__init__("\n".join(f"{field}: {sentence}" for field, sentence in problems))

    def within(self, prefix: str) -> InputError:
        """The same problems, named as parts of `prefix`."""
        return InputError(*((prefix + field, sentence) for field, sentence in self.problems))


def quoted(raw: object) -> str:
    """What was given, short enough for a sentence."""
    text = f'"{raw}"' if isinstance(raw, str) else f"{raw}"
    return text if len(text) <= 40 else text[:39] + "…"
