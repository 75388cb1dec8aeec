"""The shop's own network: which address the hub is reached at, and who may reach it."""

from __future__ import annotations

import ipaddress
import socket

from partsbench.core.outcomes import Refused

PORT = 8467
LOOPBACK = "127.0.0.1"


def own_address() -> str:
    """This machine's address on the network it is in; the loopback where there is none.

    A datagram socket that is connected sends nothing: the system only says which way it would go.
    (192.0.2.1 is an address for documentation, RFC 5737.)
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        try:
            asked.connect(("192.0.2.1", 9))
            found = str(asked.getsockname()[0])
        except OSError:
            return LOOPBACK
    return found if is_near(found) else LOOPBACK


def is_near(address: str) -> bool:
    """Whether an address is one of a private network, of the link, or of this machine."""
    try:
        found = ipaddress.ip_address(address.partition("%")[0])
    except ValueError:
        return False
    mapped = getattr(found, "ipv4_mapped", None)
    found = mapped or found
    return (found.is_private or found.is_link_local or found.is_loopback) and not (
        found.is_unspecified
    )


def host_fault(host: str) -> Refused | None:
    """Why the hub may not listen there; None when it may."""
    if is_near(host):
        return None
    return Refused(
        f"“{host}” is no address of a private network; give the one that this computer has in "
        "the shop."
    )


def names_of(host: str, port: int) -> frozenset[str]:
    """What a browser may call the hub: nothing else is answered."""
    names = {host, "localhost", LOOPBACK} if is_near(host) else {host}
    return frozenset(f"{name}:{port}" for name in names) | (names if port == 443 else frozenset())
