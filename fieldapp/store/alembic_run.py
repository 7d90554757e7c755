"""The only place that loads Alembic."""

from typing import Final

from alembic import command
from alembic.config import Config
from alembic.script import ScriptDirectory
from sqlalchemy import Connection

TABLETS: Final = "fieldapp.store:migrations"
OFFICES: Final = "fieldapp.store.office:migrations"


def run_migrations(connection: Connection, whose: str = TABLETS) -> None:
    """Run what is missing up to the newest version, in the caller's transaction."""
    config = _config(whose)
    config.attributes["connection"] = connection
    command.upgrade(config, "head")


def known_versions(whose: str = TABLETS) -> frozenset[str]:
    """Give every version that this program knows."""
    scripts = ScriptDirectory.from_config(_config(whose))
    return frozenset(script.revision for script in scripts.walk_revisions())


def newest_version(whose: str = TABLETS) -> str:
    """Give the version at the end of the row; a fork in it is a bug."""
    return str(ScriptDirectory.from_config(_config(whose)).get_current_head())


def _config(whose: str) -> Config:
    config = Config()
    config.set_main_option("script_location", whose)
    config.set_main_option("path_separator", "os")
    return config
