"""What several faces are tried on."""

import pytest

from tests.builders import RACK


@pytest.fixture
def rack(tmp_path):
    path = tmp_path / "rack.yaml"
    path.write_text(RACK)
    return path
