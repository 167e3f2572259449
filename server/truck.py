"""A server on the truck's own network: what phones call it, and how they come to trust it."""

from dataclasses import dataclass
from io import StringIO
from pathlib import Path

import segno

from server.authority import Authority
from server.host import Host
from server.settings import BadSetting, Settings

PAIRS_A_ROW = 8


@dataclass(frozen=True)
class Truck:
    """A host that serves by HTTPS on `port`, and tells phones how to trust it by plain HTTP on `trust_port`."""

    host: Host
    port: int
    trust_port: int
    authority: Authority

    @classmethod
    def at(cls, settings: Settings, host: Host, port: int, trust_port: int) -> "Truck":
        """The truck's server with the authority that its data folder keeps.

        Raises BadSetting, BadHost and NoAuthority.
        """
        if settings.site != host.site(port):
            raise BadSetting(
                f"HANDLINE_SITE: it is {settings.site}, and --site {host.name} makes {host.site(port)}. Unset it, "
                "or leave out --site behind a reverse proxy"
            )
        if trust_port == port:
            raise BadSetting(f"--trust-port: {port} is the port of the app: give another")
        settings.make_folder()
        return cls(host, port, trust_port, Authority(settings.data / "trust", host))

    @property
    def site(self) -> str:
        """The origin that phones know it by."""
        return self.host.site(self.port)

    @property
    def trust_page(self) -> str:
        """Where a phone that does not trust it yet reads how."""
        return f"http://{self.host.in_link}:{self.trust_port}/trust"

    @property
    def certificate(self) -> Path:
        """The file that the server shows to phones."""
        return self.authority.server_file()

    @property
    def fingerprint_rows(self) -> list[str]:
        """The authority's fingerprint in rows that can be read out."""
        pairs = self.authority.fingerprint.split(":")
        return [" ".join(pairs[at : at + PAIRS_A_ROW]) for at in range(0, len(pairs), PAIRS_A_ROW)]

    def said(self) -> str:
        """What is printed at the start: the page's address as text and code, and the fingerprint to compare."""
        code = StringIO()
        segno.make(self.trust_page, error="m").terminal(code, border=2, compact=True)
        rows = "\n".join(f"  {row}" for row in self.fingerprint_rows)
        return (
            f"A new phone opens {self.trust_page} first, and reads there how to trust this server.\n"
            f"What the phone then shows as SHA-256 must be:\n{rows}\n{code.getvalue()}"
        )
