"""A shed like the one that the tests of the interface have."""

from tests.api.conftest import app, clock, empty_store, garden, lead

__all__ = ["app", "clock", "empty_store", "garden", "lead"]
