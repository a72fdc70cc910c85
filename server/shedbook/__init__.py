"""Shedbook: a field logbook for peppers and the crops that share their beds."""
