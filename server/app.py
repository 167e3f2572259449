"""The server: settings read, the database opened, each room's routes mounted, nothing else."""

from flask import Flask, Response
from flask_migrate import Migrate  # type: ignore[import-untyped]
from flask_smorest import Api

import server.kit.index
import server.logbook.revoked
import server.shows.index  # noqa: F401 - all listen to what is stored
from server import migrations, problem, shell, trust
from server.crew import api as crew
from server.crew.sessions import check_origin
from server.handover import api as handover
from server.kit import api as kit
from server.kit.calendar import api as calendar
from server.logbook import api as logbook
from server.settings import Settings
from server.shows import api as shows
from server.store import db

LARGEST_BODY = 17 * 1024 * 1024


def create_app(settings: Settings) -> Flask:
    """The WSGI application for these settings. Raises BadSetting where the data folder cannot be used."""
    settings.make_folder()
    app = Flask(__name__, static_folder=None)
    app.config.update(
        SQLALCHEMY_DATABASE_URI=settings.database,
        HANDLINE_DATA=settings.data,
        HANDLINE_SITE=settings.site,
        API_TITLE="Handline",
        API_VERSION="1",
        OPENAPI_VERSION="3.1.0",
        OPENAPI_URL_PREFIX="/api",
        OPENAPI_JSON_PATH="openapi.json",
        MAX_CONTENT_LENGTH=LARGEST_BODY,
    )
    db.init_app(app)
    Migrate(app, db, directory=migrations.FOLDER, render_as_batch=True)
    api = Api(app)
    problem.say_all_as_problems(app)
    for room in (crew, logbook, kit, calendar, shows, handover):
        api.register_blueprint(room.routes)
    app.register_blueprint(shell.shell)
    app.register_blueprint(trust.pages)
    app.before_request(check_origin)
    app.after_request(_guard)
    return app


def _guard(response: Response) -> Response:
    response.headers.setdefault("X-Content-Type-Options", "nosniff")
    response.headers.setdefault("Referrer-Policy", "no-referrer")
    response.headers.setdefault("Cache-Control", "no-store")
    return response
