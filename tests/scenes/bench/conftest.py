"""What may stand in the log while a bench is tried."""

from __future__ import annotations

import logging

import pytest


@pytest.fixture
def a_log_of_single_lines(caplog):
    caplog.set_level(logging.WARNING)
    yield
    for record in caplog.records:
        assert record.levelno < logging.ERROR and not record.exc_info
        assert len(record.getMessage().splitlines()) == 1 and len(record.getMessage()) < 300
