"""What a layer of a report showed."""

from dataclasses import dataclass, field


class Broken(Exception):  # noqa: N818 - said of a layer
    """A layer does not hold; the message says how."""


@dataclass(frozen=True)
class Finding:
    """What one layer showed: its name, whether it holds, and a sentence."""

    layer: str
    holds: bool
    says: str


@dataclass
class Findings:
    """All layers, in the order they were looked at."""

    layers: list[Finding] = field(default_factory=list)

    @property
    def hold(self) -> bool:
        """Whether every layer holds."""
        return all(finding.holds for finding in self.layers)

    def note(self, layer: str, says: str, *, holds: bool = True) -> None:
        """Add what a layer showed."""
        self.layers.append(Finding(layer, holds, says))
