"""Certificates of the truck's own authority and of the server that phones reach by it, built and asked about.

Made with P-256 and SHA-256. What iOS accepts of a server's certificate (Apple, "Requirements for trusted
certificates in iOS 13": SHA-2, the name as subjectAltName, serverAuth, 825 days at most) is kept with room to
spare. The authority may vouch for private addresses and for the host that it was made for, and for nothing else
(RFC 5280, section 4.2.1.10); not every phone holds an authority that its owner trusted to that.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from ipaddress import IPv4Network, IPv6Network, ip_network

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from server.host import Host

AUTHORITY_LIFE = timedelta(days=3650)
SERVER_LIFE = timedelta(days=397)
CLOCKS_DIFFER = timedelta(days=1)
"""How far a phone's clock may run behind the truck's."""

NETWORKS = (
    *("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16"),  # RFC 1918
    *("169.254.0.0/16", "fe80::/10"),  # link-local: RFC 3927, RFC 4291
    "fc00::/7",  # RFC 4193
    *("127.0.0.0/8", "::1/128"),  # this machine
)
NAMES = ("localhost", "local", "internal", "home.arpa")
"""Endings that no public authority vouches for: RFC 6761, RFC 6762, kept private by ICANN, RFC 8375."""


@dataclass(frozen=True)
class Pair:
    """A key and its certificate."""

    key: ec.EllipticCurvePrivateKey
    certificate: x509.Certificate

    @property
    def pem(self) -> bytes:
        """Both as text."""
        key = self.key.private_bytes(
            serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
        )
        return key + self.certificate.public_bytes(serialization.Encoding.PEM)


def make_authority(host: Host, now: datetime) -> Pair:
    """An authority that may vouch for this host and for private addresses."""
    key = ec.generate_private_key(ec.SECP256R1())
    identifier = x509.SubjectKeyIdentifier.from_public_key(key.public_key())
    name = _called(f"Handline, this truck's authority {identifier.digest[:2].hex().upper()}")
    builder = (
        _begun(name, name, key, now, AUTHORITY_LIFE)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs_certificates=True), critical=True)
        .add_extension(identifier, critical=False)
        .add_extension(x509.NameConstraints(_permitted(host), None), critical=True)
    )
    return Pair(key, builder.sign(key, hashes.SHA256()))


def make_server(authority: Pair, host: Host, now: datetime) -> Pair:
    """The server's pair for a host, vouched for by the authority, ending no later than it."""
    key = ec.generate_private_key(ec.SECP256R1())
    life = min(SERVER_LIFE, authority.certificate.not_valid_after_utc - now)
    builder = (
        _begun(_called("Handline"), authority.certificate.subject, key, now, life)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs_certificates=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName([host.in_certificate]), critical=False)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_public_key(authority.key.public_key()), critical=False
        )
    )
    return Pair(key, builder.sign(authority.key, hashes.SHA256()))


def may_vouch(authority: x509.Certificate, host: Host) -> bool:
    """Whether an authority's constraints permit this host."""
    permitted = (
        authority.extensions.get_extension_for_class(x509.NameConstraints).value.permitted_subtrees or []
    )
    if isinstance(host.name, str):
        endings = [one.value for one in permitted if isinstance(one, x509.DNSName)]
        return any(host.name == ending or host.name.endswith(f".{ending}") for ending in endings)
    networks = [one.value for one in permitted if isinstance(one, x509.IPAddress)]
    return any(host.name in network for network in networks if isinstance(network, IPv4Network | IPv6Network))


def _permitted(host: Host) -> list[x509.GeneralName]:
    own: x509.GeneralName = (
        x509.DNSName(host.name) if isinstance(host.name, str) else x509.IPAddress(ip_network(host.name))
    )
    private = [
        *(x509.DNSName(name) for name in NAMES),
        *(x509.IPAddress(ip_network(one)) for one in NETWORKS),
    ]
    return private if own in private else [own, *private]


def _called(name: str) -> x509.Name:
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)])


def _begun(
    subject: x509.Name, issuer: x509.Name, key: ec.EllipticCurvePrivateKey, now: datetime, life: timedelta
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - CLOCKS_DIFFER)
        .not_valid_after(now - CLOCKS_DIFFER + life)
    )


def _usage(*, signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=signs_certificates,
        crl_sign=signs_certificates,
        encipher_only=False,
        decipher_only=False,
    )
