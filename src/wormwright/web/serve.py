"""Serving the page: on this computer alone, or on one address of the shop network."""

from __future__ import annotations

import ipaddress
import sys
from collections.abc import Callable
from pathlib import Path
from threading import Thread

from wormwright.app.refused import refused
from wormwright.web.address import Address
from wormwright.web.pairing import Pairing
from wormwright.web.reckoner import Call

Say = Callable[[str], None]
SWITCH_S = 0.001
"""How long one answer may keep the others from going on."""


def serve(root: Path, *, port: int, lan: str, say: Say, exposes: str) -> None:
    """Serve until stopped.

    Raises:
        Refused: there is no job at `root`, or `lan` is no address that can be served.
    """
    import uvicorn  # noqa: PLC0415  (late: costs start-up)

    from wormwright.web.second_process import SecondProcess  # noqa: PLC0415
    from wormwright.web.server import application  # noqa: PLC0415

    network = (_checked(lan),) if lan else ()
    address = Address(port, network)
    pairing = Pairing(lambda code: say(f"Code for the next device: {code}")) if lan else None
    sys.setswitchinterval(SWITCH_S)
    elsewhere = SecondProcess()
    app = application(root, address, pairing, call=elsewhere.call)
    Thread(target=_made_ready, args=(elsewhere.call,), daemon=True).start()
    if lan:
        say(exposes)
    say(f"The bench page: {' or '.join(address.urls())}   (stop with Ctrl-C)")
    uvicorn.run(
        app,
        host=network[0].strip("[]") if network else "127.0.0.1",
        port=port,
        log_level="warning",
        access_log=False,
        server_header=False,
        lifespan="off",
        timeout_graceful_shutdown=2,
    )


def _made_ready(call: Call) -> None:
    """Fetch what the first plan and the first trial need, while nobody waits for it yet."""
    from wormwright.web.second_process import loaded  # noqa: PLC0415

    call(loaded)
    import wormwright.app.tried  # noqa: F401, PLC0415  (late: costs start-up)


def _checked(lan: str) -> str:
    """An address of this computer, as it stands in a browser's address line."""
    try:
        found = ipaddress.ip_address(lan.strip("[]"))
    except ValueError:
        found = None
    if found is None or found.is_unspecified or found.is_multicast:
        raise refused(
            "--lan",
            expected="the one address this computer has in the shop network, like 192.168.1.20",
            got=repr(lan),
            do="look it up in the network settings",
        )
    return f"[{found}]" if found.version == 6 else str(found)
