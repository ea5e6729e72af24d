"""`wormwright serve`: what it refuses before it opens anything."""

from __future__ import annotations

from pathlib import Path

import pytest

from command_line import run
from served import shelf
from wormwright.web.address import Address


def test_a_folder_without_a_job_is_refused(tmp_path: Path) -> None:
    ran = run("serve", str(tmp_path))
    assert ran.code == 1
    assert "no job.toml there" in ran.err
    assert run("serve", str(tmp_path / "nowhere")).code == 1


@pytest.mark.parametrize("lan", ["0.0.0.0", "::", "shop", "224.0.0.1", "192.168.1.300"])
def test_only_one_address_of_the_network_may_be_opened(tmp_path: Path, lan: str) -> None:
    ran = run("serve", str(shelf(tmp_path)), "--lan", lan)
    assert ran.code == 1
    assert "the one address this computer has" in ran.err


@pytest.mark.parametrize("port", ["0", "80", "70000", "x"])
def test_a_port_that_cannot_be_is_a_wrong_command_line(tmp_path: Path, port: str) -> None:
    assert run("serve", str(shelf(tmp_path)), "--port", port).code == 2


def test_by_default_nobody_else_is_let_in() -> None:
    alone = Address(8417)
    assert not alone.open_to_network
    assert alone.hosts == {"127.0.0.1:8417", "localhost:8417", "[::1]:8417"}
    opened = Address(8417, ("192.168.1.20",))
    assert "http://192.168.1.20:8417" in opened.origins
    assert opened.urls() == ("http://192.168.1.20:8417/",)
