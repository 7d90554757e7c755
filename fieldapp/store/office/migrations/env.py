"""Alembic's way in: runs migrations on the connection that `upgrade` gives it."""

from alembic import context

from fieldapp.store.office.migrations import VERSION_TABLE

context.configure(
    connection=context.config.attributes["connection"],
    version_table=VERSION_TABLE,
    render_as_batch=True,
    transactional_ddl=True,
    transaction_per_migration=True,
)
with context.begin_transaction():
    context.run_migrations()
