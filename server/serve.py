"""The server's process: gunicorn with threads, on one port."""

from pathlib import Path

from flask import Flask
from gunicorn.app.base import BaseApplication

THREADS = 8


class Serving(BaseApplication):  # type: ignore[misc]  # gunicorn carries no types
    """The app on an address, until it is ended; with `certificate` (a PEM of key and chain) by HTTPS."""

    def __init__(self, app: Flask, host: str, port: int, certificate: Path | None = None) -> None:
        self._app = app
        self._options = {
            "bind": f"{host}:{port}",
            "workers": 1,
            "threads": THREADS,
            "worker_class": "gthread",
            "control_socket_disable": True,
            "loglevel": "warning",
        }
        if certificate is not None:
            self._options |= {"certfile": str(certificate), "keyfile": str(certificate)}
        super().__init__()

    def load_config(self) -> None:
        """Tell gunicorn how to serve."""
        for name, value in self._options.items():
            if name in self.cfg.settings:
                self.cfg.set(name, value)

    def load(self) -> Flask:
        """The application."""
        return self._app
