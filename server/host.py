"""The name or address by which phones reach a server on the truck's own network."""

import re
from dataclasses import dataclass
from ipaddress import IPv4Address, IPv6Address, ip_address

from cryptography import x509

LABEL = re.compile(r"[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?")
"""One part of a host's name: RFC 1123, section 2.1, with the length of RFC 1035, section 2.3.4."""
LONGEST = 253
HTTPS_PORT = 443


class BadHost(ValueError):  # noqa: N818 - said to whoever starts the program, by this name
    """No host that a certificate can be made for; the message says what to give."""


@dataclass(frozen=True)
class Host:
    """A host's name in lower case, or its address."""

    name: str | IPv4Address | IPv6Address

    @classmethod
    def read(cls, text: str) -> "Host":
        """The host of a name or an address as typed. Raises BadHost."""
        text = text.strip().lower().removesuffix(".")
        try:
            address = ip_address(text.removeprefix("[").removesuffix("]"))
        except ValueError:
            return cls(_name(text))
        if address.is_unspecified or address.is_multicast or getattr(address, "scope_id", None):
            raise BadHost(
                f"{text} is no address that a phone can open: give the truck's own, as phones see it"
            )
        return cls(address)

    @property
    def in_link(self) -> str:
        """As it stands in a link."""
        return f"[{self.name}]" if isinstance(self.name, IPv6Address) else str(self.name)

    @property
    def in_certificate(self) -> x509.GeneralName:
        """As it stands in a certificate."""
        return x509.DNSName(self.name) if isinstance(self.name, str) else x509.IPAddress(self.name)

    @property
    def everywhere(self) -> str:
        """What to listen on so that phones on every network of this machine get through."""
        return "[::]" if isinstance(self.name, IPv6Address) else "0.0.0.0"  # noqa: S104 - that is what is meant

    def site(self, port: int) -> str:
        """The origin that phones know a server there by."""
        return f"https://{self.in_link}" + ("" if port == HTTPS_PORT else f":{port}")


def _name(text: str) -> str:
    if "/" in text or ":" in text:
        raise BadHost(
            f"{text} is more than a host: give the name or address alone, without https:// and port"
        )
    labels = text.split(".")
    if not all(LABEL.fullmatch(label) for label in labels) or len(text) > LONGEST:
        raise BadHost(
            f"{text or 'nothing'} is neither an address like 192.168.10.5 nor a name like truck.local: "
            "letters a to z, digits and hyphens, with dots between"
        )
    if labels[-1].isdigit():
        raise BadHost(f"{text} is no address: four numbers from 0 to 255, as in 192.168.10.5")
    return text
