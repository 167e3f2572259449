"""The truck's authority: made once, kept from others, and what it vouches for by another verifier's rules."""

import hashlib
import stat
from datetime import UTC, datetime, timedelta
from ipaddress import ip_address
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import serialization
from cryptography.x509.verification import PolicyBuilder, Store, VerificationError

from server.authority import Authority, NoAuthority
from server.certificates import make_server
from server.host import BadHost, Host

NOW = datetime(2031, 5, 2, 9, tzinfo=UTC)
HOSTS = ["192.168.10.5", "10.0.0.1", "fd12:3456::7", "203.0.113.9", "truck.local", "heron", "ob.example"]


def authority(folder: Path, host: str, now: datetime = NOW) -> Authority:
    return Authority(folder / "trust", Host.read(host), now)


def chain(path: Path) -> list[x509.Certificate]:
    return x509.load_pem_x509_certificates(path.read_bytes())


def verify(made: Authority, leaf: x509.Certificate, host: str, now: datetime = NOW) -> None:
    """By cryptography's own verifier of web certificates (RFC 5280 and CA/Browser Forum's profile)."""
    name = Host.read(host).name
    subject = x509.DNSName(name) if isinstance(name, str) else x509.IPAddress(ip_address(name))
    verifier = PolicyBuilder().store(Store([made.certificate])).time(now).build_server_verifier(subject)
    verifier.verify(leaf, [])


@pytest.mark.parametrize("host", HOSTS)
def test_the_servers_certificate_verifies_for_its_host_and_for_no_other(host: str, tmp_path: Path) -> None:
    made = authority(tmp_path, host)
    leaf, issuer = chain(made.server_file())
    assert issuer == made.certificate
    verify(made, leaf, host)
    for other in HOSTS:
        if other != host:
            with pytest.raises(VerificationError):
                verify(made, leaf, other)


def test_the_certificate_is_within_what_ios_accepts(tmp_path: Path) -> None:
    # Apple, "Requirements for trusted certificates in iOS 13": 825 days, subjectAltName, serverAuth, SHA-2.
    leaf, _ = chain(authority(tmp_path, "192.168.10.5").server_file())
    assert leaf.not_valid_after_utc - leaf.not_valid_before_utc <= timedelta(days=825)
    names = leaf.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    assert names.get_values_for_type(x509.IPAddress) == [ip_address("192.168.10.5")]
    usage = leaf.extensions.get_extension_for_class(x509.ExtendedKeyUsage).value
    assert [one.dotted_string for one in usage] == ["1.3.6.1.5.5.7.3.1"]
    assert leaf.signature_hash_algorithm is not None
    assert leaf.signature_hash_algorithm.name == "sha256"


def test_the_authority_may_not_vouch_for_the_rest_of_the_world(tmp_path: Path) -> None:
    made = authority(tmp_path, "truck.local")
    pair = made._pair
    for host in ("bank.example", "203.0.113.9", "2001:db8::1"):
        stolen = make_server(pair, Host.read(host), NOW).certificate
        with pytest.raises(VerificationError):
            verify(made, stolen, host)


def test_it_is_made_once_and_the_certificate_renewed_only_when_it_is_time(tmp_path: Path) -> None:
    first = authority(tmp_path, "192.168.10.5")
    leaf = first.server_file().read_bytes()
    again = authority(tmp_path, "192.168.10.5", NOW + timedelta(days=200))
    assert again.fingerprint == first.fingerprint
    assert again.server_file().read_bytes() == leaf
    later = NOW + timedelta(days=310)
    renewed = authority(tmp_path, "192.168.10.5", later)
    fresh, _ = chain(renewed.server_file())
    assert renewed.fingerprint == first.fingerprint
    assert fresh.not_valid_after_utc > later + timedelta(days=365)
    verify(renewed, fresh, "192.168.10.5", later)


def test_another_host_gets_another_certificate_by_the_same_authority(tmp_path: Path) -> None:
    first = authority(tmp_path, "192.168.10.5")
    first.server_file()
    moved = authority(tmp_path, "10.1.2.3")
    leaf, _ = chain(moved.server_file())
    assert moved.fingerprint == first.fingerprint
    verify(moved, leaf, "10.1.2.3")


def test_only_the_owner_reads_what_is_kept(tmp_path: Path) -> None:
    authority(tmp_path, "truck.local").server_file()
    folder = tmp_path / "trust"
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    assert {path.name: stat.S_IMODE(path.stat().st_mode) for path in folder.iterdir()} == {
        "authority.pem": 0o600,
        "server.pem": 0o600,
    }


def test_the_fingerprint_is_that_of_the_file_that_phones_fetch(tmp_path: Path) -> None:
    made = authority(tmp_path, "truck.local")
    der = made.certificate.public_bytes(serialization.Encoding.DER)
    assert made.fingerprint.replace(":", "").lower() == hashlib.sha256(der).hexdigest()
    assert made.fingerprint.count(":") == 31


def test_a_host_that_it_was_not_made_for_is_refused_in_words(tmp_path: Path) -> None:
    authority(tmp_path, "192.168.10.5")
    with pytest.raises(BadHost, match=r"may not vouch for ob\.example: .* told to trust"):
        authority(tmp_path, "ob.example")


def test_a_spoilt_file_and_an_ending_authority_are_named(tmp_path: Path) -> None:
    authority(tmp_path, "truck.local")
    with pytest.raises(NoAuthority, match=r"authority\.pem ends on 2041-04-28: move that file away"):
        authority(tmp_path, "truck.local", NOW + timedelta(days=3600))
    kept = tmp_path / "trust" / "authority.pem"
    kept.write_bytes(kept.read_bytes()[:300])
    with pytest.raises(NoAuthority, match=r"authority\.pem cannot be used: .* backup"):
        authority(tmp_path, "truck.local")
    other = authority(tmp_path / "other", "truck.local").certificate.public_bytes(serialization.Encoding.PEM)
    mine = authority(tmp_path / "mine", "truck.local")._pair.pem
    kept.write_bytes(mine[: mine.index(b"-----BEGIN CERT")] + other)
    with pytest.raises(NoAuthority, match="its key is not its certificate's"):
        authority(tmp_path, "truck.local")


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("https://truck.local", "name or address alone"),
        ("truck.local:8000", "name or address alone"),
        ("192.168.10", "four numbers from 0 to 255"),
        ("192.168.10.256", "four numbers from 0 to 255"),
        ("0.0.0.0", "no address that a phone can open"),  # noqa: S104 - refused is what it must be
        ("224.0.0.1", "no address that a phone can open"),
        ("fe80::1%eth0", "no address that a phone can open"),
        ("", "nothing is neither"),
        ("*.local", "neither an address"),
        ("truck_1.local", "neither an address"),
        ("-truck.local", "neither an address"),
        ("lkw-ü.local", "neither an address"),
        ("a" * 64 + ".local", "neither an address"),
        (".".join(["a" * 60] * 5), "neither an address"),
    ],
)
def test_no_host_is_said_to_be_none(typed: str, says: str) -> None:
    with pytest.raises(BadHost, match=says):
        Host.read(typed)


@pytest.mark.parametrize(
    ("typed", "port", "site"),
    [
        (" Truck.LOCAL. ", 8000, "https://truck.local:8000"),
        ("192.168.10.5", 443, "https://192.168.10.5"),
        ("[FD12::7]", 8443, "https://[fd12::7]:8443"),
    ],
)
def test_the_site_is_an_origin_as_browsers_write_it(typed: str, port: int, site: str) -> None:
    # RFC 6454, section 6.2: no port where it is the scheme's own; lower case.
    assert Host.read(typed).site(port) == site
