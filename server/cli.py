"""`handline`: the program's commands. Each is thin: it reads its arguments and calls its room."""

import json
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, BinaryIO, TextIO

import click
from flask import Flask

from server.app import create_app
from server.authority import NoAuthority
from server.crew.invite import CannotInvite, invite
from server.host import BadHost, Host
from server.settings import CHECKLISTS, BadSetting, Settings, served_last
from server.setup import NoUnit, begin_unit, make_tables, only_unit, seed_demo
from server.store import reading, writing
from server.truck import Truck
from server.trust import TRUCK

PORT = 8000


@click.group()
def main() -> None:
    """Handline: the whole job of an outside-broadcast crew, on phones with no signal."""


def _serves(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the options that say where it serves."""
    for option in (
        click.option("--trust-port", type=int, help="Where /trust is by plain HTTP; the port after --port."),
        click.option(
            "--site", metavar="HOST", help="Serve the truck's network by HTTPS as this name or address."
        ),
        click.option("--port", default=PORT, help="Where to listen."),
    ):
        command = option(command)
    return command


@main.command()
@_serves
def demo(port: int, site: str | None, trust_port: int | None) -> None:
    """Seed the demo's unit and show where they are missing, print invitations, and serve."""
    app = _app_at(port, site, trust_port)
    with _inside(app):
        invitations = seed_demo()
    click.echo("Open an invitation, each on a phone or in a browser profile of its own:")
    for one in invitations:
        click.echo(f"  {one.name} ({', '.join(one.roles)})\n    link {one.link}\n    code {one.code}")
    _serve(app, port)


@main.command()
@_serves
def serve(port: int, site: str | None, trust_port: int | None) -> None:
    """Serve what is there."""
    app = _app_at(port, site, trust_port)
    with _inside(app):
        _serve(app, port)


@main.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--chief", required=True, help="Who invites everybody else.")
@click.option("--roles", default="chief", show_default=True, help="Their roles, with commas between.")
def begin(folder: Path, chief: str, roles: str) -> None:
    """Set up your own unit from its folder of checklists/, and invite its first chief."""
    with _inside(_app()):
        made = begin_unit(folder, chief, _roles(roles))
    click.echo(f"link {made.link}\ncode {made.code}")


@main.command()
@click.argument("folder", type=click.Path(path_type=Path), default=CHECKLISTS / "demo-unit")
def check(folder: Path) -> None:
    """Read a folder of definitions and name every fault with file and line."""
    from server.sheets.check import print_faults

    sys.exit(print_faults(folder))


@main.command("invite")
@click.argument("name")
@click.option("--roles", required=True, help="Roles, with commas between: engineer,lift-leader.")
@click.option("--person", help="Id of somebody known already, for another phone of theirs.")
@click.option("--json", "as_json", is_flag=True, help="Print {code, link} as JSON.")
def invite_person(name: str, roles: str, person: str | None, *, as_json: bool) -> None:
    """Invite somebody to this server's unit."""
    with _inside(_app()), writing() as session:
        made = invite(session, only_unit(session), name, _roles(roles), person)
    click.echo(
        json.dumps({"code": made.code, "link": made.link})
        if as_json
        else f"link {made.link}\ncode {made.code}"
    )


@main.command()
@click.argument("device")
def revoke(device: str) -> None:
    """Revoke a device by its key's thumbprint: what it wrote until now stands, later entries do not count."""
    from server.revoke import revoke_device

    with _inside(_app()), writing() as session:
        click.echo(revoke_device(session, only_unit(session), device))


@main.command("hand-in")
@click.argument("file", type=click.File("rb"))
def hand_in_saved(file: BinaryIO) -> None:
    """Take in a file that a phone saved: its entries, cards and photos."""
    from server.logbook.saved import hand_in

    with _inside(_app()), writing() as session:
        click.echo(hand_in(session, only_unit(session), file.read()))


@main.command("import")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--dry-run", is_flag=True, help="Say what it would do, and do nothing.")
def import_list(file: Path, *, dry_run: bool) -> None:
    """Take a kit list (CSV) in: all of it, or none where a row is bad."""
    from server.kit.commands import import_kit

    with _inside(_app()), writing() as session:
        click.echo(import_kit(session, only_unit(session), file, dry_run=dry_run))


@main.command("export")
@click.argument("out", type=click.Path(path_type=Path))
def export_list(out: Path) -> None:
    """Write the kit as it stands to OUT.csv or OUT.json."""
    from server.kit.commands import export_kit

    with _inside(_app()), reading() as session:
        click.echo(export_kit(session, only_unit(session), out))


@main.command()
@click.argument("out", type=click.Path(path_type=Path))
@click.option("--lockers", is_flag=True, help="Lockers.")
@click.option("--kit", is_flag=True, help="Kit but drums.")
@click.option("--drums", is_flag=True, help="Drums. With none of the three: all.")
@click.option("--tag", "tags", multiple=True, help="This tag only; may be given again.")
@click.option(
    "--paper", default="a4-70x37", show_default=True, help="A grid of A4 or a roll, such as roll-60x30."
)
@click.option("--skip", default=0, help="How many labels of the first sheet are used already.")
def labels(out: Path, tags: tuple[str, ...], paper: str, skip: int, **kinds: bool) -> None:
    """Print labels to a PDF: a code that opens the thing in the app, its tag in large letters."""
    from server.kit.commands import label_kit

    app = _app()
    what = [kind for kind, wanted in kinds.items() if wanted]
    with _inside(app), reading() as session:
        site = app.config["HANDLINE_SITE"]
        click.echo(label_kit(session, only_unit(session), out, what, paper, tags, skip, site))


@main.command("rebuild")
def rebuild_kit() -> None:
    """Make the index of the kit again from the entries."""
    from server.kit.commands import rebuild_index

    with _inside(_app()), writing() as session:
        click.echo(rebuild_index(session, only_unit(session)))


@main.command()
@click.argument("show")
@click.argument("out", type=click.Path(path_type=Path))
def handover(show: str, out: Path) -> None:
    """Write the sealed report of a show; a draft until somebody hands over."""
    from server.handover.record import NoShow
    from server.handover.render import CannotPrint
    from server.handover.report import report
    from server.handover.seal import NoCertificate

    app = _app()
    with _inside(app), reading() as session:
        try:
            octets = report(session, only_unit(session), show, app.config["HANDLINE_DATA"])
            out.write_bytes(octets)
        except (NoShow, CannotPrint, NoCertificate, OSError) as fault:
            raise click.ClickException(str(fault)) from None
    click.echo(f"Wrote {out}, {len(octets)} bytes.")


@main.command()
@click.argument("file", type=click.File("rb"))
@click.option("--certificate", type=click.File("rb"), help="The unit's certificate, PEM or DER.")
def verify(file: BinaryIO, certificate: BinaryIO | None) -> None:
    """Prove a report from its file alone: 0 where every layer holds, 1 where one does not."""
    from server.handover.verify import as_lines
    from server.handover.verify import verify as look_at

    found = look_at(file.read(), certificate.read() if certificate else None)
    click.echo("\n".join(as_lines(found)))
    sys.exit(0 if found.hold else 1)


@main.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--phone", is_flag=True, help="Answer with the phone's fold, under Node.")
def fold(file: Path, *, phone: bool) -> None:
    """Print the fold's answers to a file of cases as a JSON array."""
    from server.logbook import cases

    try:
        answers = cases.phone_answers(file) if phone else cases.answers(file)
    except (OSError, ValueError) as fault:
        raise click.ClickException(str(fault)) from None
    click.echo(json.dumps(answers, ensure_ascii=False, sort_keys=True, separators=(",", ":")))


@main.command()
@click.argument("name", required=False)
@click.argument("file", type=click.File("r", encoding="utf-8"), default="-")
@click.option("--list", "wants_list", is_flag=True, help="List the computations.")
@click.option("--figure", type=click.Path(path_type=Path), help="Write the figure to this SVG file.")
def assess(name: str | None, file: TextIO, figure: Path | None, *, wants_list: bool) -> None:
    """Compute: 0 within, 1 not within, 2 input that cannot be read."""
    from server import prompt

    if wants_list or name is None:
        sys.exit(prompt.list_all(sys.stdout))
    sys.exit(prompt.run(name, file, sys.stdout, sys.stderr, figure))


def _roles(text: str) -> list[str]:
    return [role.strip() for role in text.split(",")]


def _app() -> Flask:
    try:
        return create_app(Settings.read())
    except BadSetting as fault:
        raise click.ClickException(str(fault)) from None


def _app_at(port: int, site: str | None, trust_port: int | None) -> Flask:
    """The app that is served at a port, on the truck's network if a host is given; what it is called is said."""
    from server.serve import PortInUse, check_ports

    try:
        host = Host.read(site) if site is not None else None
        settings = Settings.read(site=host.site(port) if host else f"http://127.0.0.1:{port}")
        truck = Truck.at(settings, host, port, trust_port or port + 1) if host else None
        check_ports(port, truck)
        app = create_app(settings)
    except BadHost as fault:
        raise click.ClickException(f"--site: {fault}") from None
    except (BadSetting, NoAuthority, PortInUse) as fault:
        raise click.ClickException(str(fault)) from None
    app.config[TRUCK] = truck
    before = served_last(settings.data)
    if before not in {None, settings.site}:
        click.echo(
            f"It was at {before} before: phones that enrolled there do not know it by its new address."
        )
    settings.remember_site()
    click.echo(f"Handline is at {settings.site}")
    if truck:
        click.echo(truck.said())
    return app


@contextmanager
def _inside(app: Flask) -> Iterator[None]:
    """In the app, its tables as they should be; what may go wrong is said in one line."""
    with app.app_context():
        try:
            make_tables()
            yield
        except (NoUnit, CannotInvite, ValueError) as fault:
            raise click.ClickException(str(fault)) from None


def _serve(app: Flask, port: int) -> None:
    from server import serve as serving

    serving.serve(app, port, app.config[TRUCK])
