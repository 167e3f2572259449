"""Files that only their owner reads: keys, and certificates with their keys."""

import os
from pathlib import Path


def write_private(path: Path, octets: bytes) -> None:
    """Write a file whole or not at all, for its owner's eyes only, in a folder of the same sort."""
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    new = path.with_suffix(".new")
    new.unlink(missing_ok=True)
    with os.fdopen(os.open(new, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
        file.write(octets)
        file.flush()
        os.fsync(file.fileno())
    new.rename(path)
