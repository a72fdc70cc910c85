"""Alembic's entry: runs on the connection that `shedbook.records.schema` hands over."""

from alembic import context

from shedbook.records.models import Base

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Base.metadata,
    compare_type=True,
    render_as_batch=True,
    # The connection's transaction is already begun; all of a migration or none of it is kept.
    transactional_ddl=True,
)

context.run_migrations()
