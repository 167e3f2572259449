"""The truck's own certificate authority in the data folder: made once, and the server's certificate by it."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec

from server.certificates import Pair, make_authority, make_server, may_vouch
from server.host import BadHost, Host
from server.private_file import write_private

RENEWED_BEFORE = timedelta(days=90)


class NoAuthority(Exception):  # noqa: N818 - said to whoever runs the server, by this name
    """A file of the authority cannot be used; the message names it and says what to do."""


class Authority:
    """The authority kept in a folder, for a host; made where there is none, and never replaced.

    Raises NoAuthority, and BadHost where the one that is there may not vouch for this host.
    """

    def __init__(self, folder: Path, host: Host, now: datetime | None = None) -> None:
        self._now = now or datetime.now(UTC)
        self._host = host
        self._server = folder / "server.pem"
        path = folder / "authority.pem"
        if not path.exists():
            write_private(path, make_authority(host, self._now).pem)
        self._pair = _read(path)
        ends = self.certificate.not_valid_after_utc
        again = "move that file away to have a new authority made, which every phone has to be told to trust"
        if ends < self._now + RENEWED_BEFORE:
            raise NoAuthority(f"{path} ends on {ends.date()}: {again}")
        if not may_vouch(self.certificate, host):
            raise BadHost(
                f"the authority in {path} may not vouch for {host.name}: give an address of a private network or "
                f"a name that ends in .local, or {again}"
            )

    @property
    def certificate(self) -> x509.Certificate:
        """What phones are told to trust."""
        return self._pair.certificate

    @property
    def fingerprint(self) -> str:
        """The SHA-256 of the authority's certificate as phones show it: `AB:CD:...`."""
        return self.certificate.fingerprint(hashes.SHA256()).hex(":").upper()

    def server_file(self) -> Path:
        """The server's key and chain as PEM; made anew when it ends soon or is for another host."""
        if not self._server.exists() or not self._serves(_read(self._server).certificate):
            chain = self.certificate.public_bytes(serialization.Encoding.PEM)
            write_private(self._server, make_server(self._pair, self._host, self._now).pem + chain)
        return self._server

    def _serves(self, server: x509.Certificate) -> bool:
        named = server.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
        if server.not_valid_after_utc < self._now + RENEWED_BEFORE or list(named) != [
            self._host.in_certificate
        ]:
            return False
        try:
            server.verify_directly_issued_by(self.certificate)
        except (InvalidSignature, ValueError):
            return False
        return True


def _read(path: Path) -> Pair:
    try:
        octets = path.read_bytes()
        key = serialization.load_pem_private_key(octets, None)
        certificate = x509.load_pem_x509_certificate(octets)
    except (OSError, ValueError) as fault:
        raise NoAuthority(f"{path} cannot be used: {fault}. Put it back from a backup") from None
    if not isinstance(key, ec.EllipticCurvePrivateKey) or key.public_key() != certificate.public_key():
        raise NoAuthority(
            f"{path} cannot be used: its key is not its certificate's. Put it back from a backup"
        )
    return Pair(key, certificate)
