"""The class follows along: an endpoint for others on the network, and the sentence that announces it."""

from __future__ import annotations

import socket

from scenes.bench.tally import OF_ONE_ADDRESS
from visual.host.access.doors import SecretWord
from visual.host.endpoints import Endpoint
from visual.host.messages import Code
from visual.host.server import Host
from visual.paper.qr_code import outline, qr_code, with_quiet_zone

FOLLOWERS = 100  # at once
USUAL_PORT = 8643


def share(host: Host) -> list[str]:
    """Let a class in on every network of this machine; the addresses to type, with the secret word in them."""
    return opened(host, Endpoint({"": "follow.html"}, "class", SecretWord(), FOLLOWERS, OF_ONE_ADDRESS))[1]


def opened(host: Host, endpoint: Endpoint, port: int = USUAL_PORT) -> tuple[int, list[str]]:
    """Open an endpoint behind a secret word on every network of this machine, and show where; the port, another one if that is
    taken, and the addresses to type."""
    assert isinstance(endpoint.door, SecretWord)
    port = _listen(host, endpoint, port)
    addresses = [f"http://{name}:{port}/{endpoint.door.word}" for name in network_addresses()]
    host.publish(share={"addresses": addresses[:2], "code": as_code(addresses[0]) if addresses else None})
    return port, addresses


def as_code(address: str) -> Code:
    """An address as the page draws it for telephones."""
    dark = with_quiet_zone(qr_code(address))
    return {"size": len(dark), "path": outline(dark)}


def _listen(host: Host, endpoint: Endpoint, port: int) -> int:
    try:
        return host.listen(port, "0.0.0.0", endpoint)
    except OSError:
        return host.listen(0, "0.0.0.0", endpoint)


def what_it_opens(addresses: list[str]) -> str:
    """The sentence for whoever shares, with the address that others type."""
    if not addresses:
        return "No network was found, so nobody can follow; connect this machine and start again."
    return (
        f"Others on your network may follow at {' or '.join(addresses)} : they see this bench and may answer its question,"
        " but change nothing."
    )


def network_addresses() -> list[str]:
    """This machine's IPv4 addresses on its networks, the one of the default route first."""
    found = [_address_towards("192.0.2.1")]  # a documentation address (RFC 5737): nothing is sent to it
    try:
        found += [str(entry[4][0]) for entry in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)]
    except OSError:
        pass  # the machine cannot look up its own name
    return [name for name in dict.fromkeys(found) if name and not name.startswith(("127.", "0."))]


def _address_towards(other: str) -> str | None:
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as line:
        try:
            line.connect((other, 9))
            return line.getsockname()[0]
        except OSError:
            return None
