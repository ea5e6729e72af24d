"""web: the whole job on a tablet at the bench, offline; pages and JSON over the use cases."""

from wormwright.web.address import Address
from wormwright.web.server import application

__all__ = ["Address", "application"]
