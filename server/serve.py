"""The server's process: gunicorn with threads, on one port; on a truck's network a second one for `/trust`."""

import os
import signal
import socket
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from flask import Flask
from gunicorn.app.base import BaseApplication

from server.truck import Truck
from server.trust import page_of_its_own

THREADS = 8
LOOPBACK = "127.0.0.1"


class PortInUse(Exception):  # noqa: N818 - said to whoever starts the program, by this name
    """Something listens there already; the message names the option to change."""


class Serving(BaseApplication):  # type: ignore[misc]  # gunicorn carries no types
    """The app on an address, until it is ended; with `certificate` (a PEM of key and chain) by HTTPS."""

    def __init__(
        self,
        app: Flask,
        host: str,
        port: int,
        certificate: Path | None = None,
        on_exit: Callable[[object], None] = lambda _: None,
    ) -> None:
        self._app = app
        self._options = {
            "bind": f"{host}:{port}",
            "workers": 1,
            "threads": THREADS,
            "worker_class": "gthread",
            "control_socket_disable": True,
            "loglevel": "warning",
            "on_exit": on_exit,
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


def serve(app: Flask, port: int, truck: Truck | None) -> None:
    """Serve until ended: this machine only, or with `truck` its network, with the page that says how to trust it."""
    if truck is None:
        Serving(app, LOOPBACK, port).run()
        return
    everywhere = truck.host.everywhere
    beside = os.fork()
    if beside == 0:
        Serving(page_of_its_own(truck), everywhere, truck.trust_port).run()

    def end_beside(_arbiter: object) -> None:
        with suppress(ProcessLookupError):
            os.kill(beside, signal.SIGTERM)

    Serving(app, everywhere, port, truck.certificate, end_beside).run()


def check_ports(port: int, truck: Truck | None) -> None:
    """Raises PortInUse where something listens already."""
    if truck is None:
        _check(LOOPBACK, port, "--port")
    else:
        _check(truck.host.everywhere, port, "--port")
        _check(truck.host.everywhere, truck.trust_port, "--trust-port")


def _check(address: str, port: int, option: str) -> None:
    family = socket.AF_INET6 if address.startswith("[") else socket.AF_INET
    with socket.socket(family) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((address.strip("[]"), port))
        except (OSError, OverflowError) as fault:
            raise PortInUse(
                f"{option}: port {port} cannot be used ({fault}): end what listens there, or give another"
            ) from None
