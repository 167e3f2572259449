"""The unit's key and the server's own device's key, in files that only their owner reads."""

from pathlib import Path

from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric import ec

from server.crew import jws
from server.private_file import write_private


class NoKey(Exception):  # noqa: N818 - said to whoever runs the server, by this name
    """A key's file is missing or holds no key; the message names the file."""


class UnitKeyFiles:
    """The two keys under `data`/keys/`unit`: `unit` signs cards, `device` writes the server's entries."""

    def __init__(self, data: Path, unit: str) -> None:
        self._folder = data / "keys" / unit

    def make(self) -> None:
        """Make what is missing; a key that is there is never replaced."""
        self._folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        for name in ("unit", "device"):
            if not (self._folder / f"{name}.pem").exists():
                _write(self._folder / f"{name}.pem", ec.generate_private_key(ec.SECP256R1()))

    @property
    def unit(self) -> ec.EllipticCurvePrivateKey:
        """The key that signs cards. Raises NoKey."""
        return _read(self._folder / "unit.pem")

    @property
    def device(self) -> ec.EllipticCurvePrivateKey:
        """The key of the server's own device. Raises NoKey."""
        return _read(self._folder / "device.pem")

    @property
    def device_kid(self) -> str:
        """Thumbprint of the server's own device's key."""
        return jws.thumbprint(jws.public_jwk(self.device))


def _write(path: Path, key: ec.EllipticCurvePrivateKey) -> None:
    pem = key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )
    write_private(path, pem)


def _read(path: Path) -> ec.EllipticCurvePrivateKey:
    try:
        key = serialization.load_pem_private_key(path.read_bytes(), password=None)
    except (OSError, ValueError) as fault:
        raise NoKey(f"{path} holds no key that can be read: {fault}") from None
    if not isinstance(key, ec.EllipticCurvePrivateKey):
        raise NoKey(f"{path} holds a key of another sort than P-256")
    return key
