"""The three settings, all from the environment."""

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

CHECKLISTS = Path(__file__).parent.parent / "checklists"
"""The folder of unit definitions that comes with the program."""

DEFAULT_SITE = "http://127.0.0.1:8000"


class BadSetting(ValueError):  # noqa: N818 - said to whoever starts the program, by this name
    """A setting that cannot be used; the message names it and says what to do."""


@dataclass(frozen=True)
class Settings:
    """Where things are kept and under which origin phones know this server.

    `database` is an SQLAlchemy URL, `data` the folder of keys and photos, `site` an origin without a slash at
    its end: it is part of every link and label, and what a phone holds belongs to it for life.
    """

    database: str
    data: Path
    site: str

    @classmethod
    def read(cls, environ: Mapping[str, str] = os.environ, site: str | None = None) -> "Settings":
        """The settings of this environment; `site` is used where HANDLINE_SITE is not set.

        Without either it is the site that was served last from this data folder. Raises BadSetting.
        """
        data = Path(environ.get("HANDLINE_DATA") or ".handline").absolute()
        database = environ.get("HANDLINE_DATABASE") or f"sqlite:///{data / 'handline.sqlite'}"
        named = environ.get("HANDLINE_SITE") or site or served_last(data) or DEFAULT_SITE
        return cls(_database(database), data, _origin(named))

    @property
    def secure(self) -> bool:
        """Whether phones reach this server by HTTPS."""
        return self.site.startswith("https://")

    def make_folder(self) -> None:
        """Make the data folder, open to its owner only.

        Raises BadSetting where it cannot be made or written.
        """
        try:
            self.data.mkdir(mode=0o700, parents=True, exist_ok=True)
        except OSError as fault:
            raise BadSetting(
                f"HANDLINE_DATA: the folder {self.data} cannot be made: {fault.strerror}"
            ) from None
        if not os.access(self.data, os.R_OK | os.W_OK | os.X_OK):
            raise BadSetting(f"HANDLINE_DATA: the folder {self.data} cannot be read and written by this user")

    def remember_site(self) -> None:
        """Keep the site that is served now, for the commands that make links while it is."""
        (self.data / "site").write_text(f"{self.site}\n")


def served_last(data: Path) -> str | None:
    """The site that was served last from this data folder, if one was."""
    kept = data / "site"
    return kept.read_text().strip() if kept.is_file() else None


def _database(url: str) -> str:
    if url.startswith(("postgresql://", "postgres://")):
        return "postgresql+psycopg://" + url.partition("://")[2]
    if not url.startswith(("sqlite:///", "postgresql+psycopg://")):
        raise BadSetting("HANDLINE_DATABASE: give sqlite:///FILE or postgresql://USER@HOST/NAME")
    return url


def _origin(site: str) -> str:
    parts = urlsplit(site)
    if parts.scheme not in {"http", "https"} or not parts.hostname:
        raise BadSetting(f"HANDLINE_SITE: {site} is not an address like https://handline.example")
    if parts.path.strip("/") or parts.query or parts.fragment:
        raise BadSetting(f"HANDLINE_SITE: {site} has more than scheme, name and port")
    return f"{parts.scheme}://{parts.netloc}".lower()
