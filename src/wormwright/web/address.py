"""Where the page may be reached: names and origins that a request may bear."""

from __future__ import annotations

from dataclasses import dataclass

LOOPBACK = ("127.0.0.1", "localhost", "[::1]")


@dataclass(frozen=True, slots=True)
class Address:
    """The port and, when the page is opened to the shop network, the addresses it has there."""

    port: int
    network: tuple[str, ...] = ()

    @property
    def hosts(self) -> frozenset[str]:
        """Every `Host` that is meant for this page."""
        names = (*LOOPBACK, *self.network)
        bare = names if self.port == 80 else ()
        return frozenset((*(f"{name}:{self.port}" for name in names), *bare))

    @property
    def origins(self) -> frozenset[str]:
        """Every `Origin` from which something may be changed."""
        return frozenset(f"http://{host}" for host in self.hosts)

    @property
    def open_to_network(self) -> bool:
        """Whether other devices may come in."""
        return bool(self.network)

    def urls(self) -> tuple[str, ...]:
        """What to type into a browser."""
        names = self.network or LOOPBACK[:1]
        return tuple(f"http://{name}:{self.port}/" for name in names)
