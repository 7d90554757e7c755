"""The only place that loads Alembic."""

from alembic import command
from alembic.config import Config
from alembic.script import ScriptDirectory
from sqlalchemy import Connection


def run_migrations(connection: Connection) -> None:
    """Run what is missing up to the newest version, in the caller's transaction."""
    config = _config()
    config.attributes["connection"] = connection
    command.upgrade(config, "head")


def known_versions() -> frozenset[str]:
    """Give every version that this program knows."""
    scripts = ScriptDirectory.from_config(_config())
    return frozenset(script.revision for script in scripts.walk_revisions())


def newest_version() -> str:
    """Give the version at the end of the row; a fork in it is a bug."""
    return str(ScriptDirectory.from_config(_config()).get_current_head())


def _config() -> Config:
    config = Config()
    config.set_main_option("script_location", "fieldapp.store:migrations")
    config.set_main_option("path_separator", "os")
    return config
